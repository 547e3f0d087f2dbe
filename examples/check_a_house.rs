//! Checks one house file and lists what falls short.
//!
//! ```text
//! cargo run --example check_a_house -- examples/tern-ladder-lane.json
//! ```
//!
//! This is the whole of what the program does for one house: text in, an as-built description, a set of
//! provisions, findings out. The core reads no files and prints nothing; that is left to the caller.
#![expect(clippy::print_stdout, reason = "an example that is run to see what it prints")]

use std::error::Error;

use retrofit_core::check::{Ruling, assess};
use retrofit_core::choice::Choice;
use retrofit_core::house::{AsBuilt, House};
use retrofit_core::provisions::Library;

fn main() -> Result<(), Box<dyn Error>> {
    let path = std::env::args().nth(1).unwrap_or_else(|| {
        concat!(env!("CARGO_MANIFEST_DIR"), "/../examples/quince-lantern-way.json").into()
    });

    // A record is first read as it was written down, then looked over: panels that overlap or an anchor
    // beyond the end of its wall are not something to check. Every such problem is named with its place in the file.
    let house: House = serde_json::from_str(&std::fs::read_to_string(&path)?)?;
    let house = AsBuilt::new(house).map_err(|problems| lines(&problems))?;

    // The default set is the one whose key table was read in the code's own text.
    let provisions = Library::shipped()
        .set(Library::DEFAULT_SET)
        .map_err(|faults| lines(&faults))?;
    let assessment = assess(&house, &provisions);

    println!("{}, by {}:", house.name, provisions.title);
    println!("the house as a whole: {}", assessment.verdict.words());

    // Findings come in the order of a report: the house as a whole first, then wall line by wall line. A
    // finding holds facts (what was measured, what is asked for, which figures say so), not sentences.
    let places = std::iter::once(None).chain((0..house.wall_lines.len()).map(Some));
    for place in places {
        let name = place
            .and_then(|line| house.wall_lines.get(line))
            .map(|line| line.name.as_str());
        let verdict = place.and_then(|line| assessment.wall_lines.get(line));
        if let (Some(name), Some(verdict)) = (name, verdict) {
            println!("\n{name}: {}", verdict.words());
        }
        let deficiencies = assessment
            .findings_at(place)
            .filter(|finding| matches!(finding.outcomes.ruling(), Ruling::NotMet | Ruling::Outside));
        for finding in deficiencies {
            let check = finding.check();
            println!(
                "  {} ({}): {}",
                check.title,
                finding.outcomes.ruling().words(),
                finding.fact
            );
            println!("    found {}, asked for {}", finding.measured, finding.required);
            for figure in finding.figures.iter().filter_map(|id| provisions.figure(id)) {
                // Where a figure comes from, and how well that source was seen, go with it everywhere.
                let standing = figure
                    .standing()
                    .map_or("no figure seen", |standing| standing.words());
                println!("    {}: {} [{standing}]", figure.title(), figure.clause());
            }
            println!("    {}", check.explanation.fix);
        }
    }

    // What was not seen is part of the answer: these looks would narrow it most, in the order of a crawl.
    for next in &assessment.next {
        println!(
            "\nlook next at {} ({} open findings)",
            next.look_at.words(),
            next.decides
        );
    }
    println!("\nA record against published figures: the local code official and a licensed engineer decide.");
    Ok(())
}

fn lines(faults: &[impl ToString]) -> String {
    faults
        .iter()
        .map(ToString::to_string)
        .collect::<Vec<_>>()
        .join("\n")
}
