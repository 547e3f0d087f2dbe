//! Checks one house under several sets of provisions, side by side.
//!
//! ```text
//! cargo run --example compare_provisions -- examples/glacier-thimble-drive.json
//! ```
//!
//! A set of provisions is a value like any other, and so the same house can be held against as many as there
//! are. Where they disagree, the disagreement is the output: a short wall of exactly 4 ft is allowed by one
//! document and not by another, and a figure that nobody has seen leaves a question open.
#![expect(clippy::print_stdout, reason = "an example that is run to see what it prints")]

use std::error::Error;

use retrofit_core::check::assess;
use retrofit_core::house::{AsBuilt, House};
use retrofit_core::provisions::Library;

const SETS: [&str; 4] = [
    "cebc-a3-2013",
    "iebc-a3-2021",
    "la-division-92-2018",
    "bay-area-plan-set-a-2008",
];

fn main() -> Result<(), Box<dyn Error>> {
    let path = std::env::args().nth(1).unwrap_or_else(|| {
        concat!(
            env!("CARGO_MANIFEST_DIR"),
            "/../examples/glacier-thimble-drive.json"
        )
        .into()
    });
    let house: House = serde_json::from_str(&std::fs::read_to_string(&path)?)?;
    let house = AsBuilt::new(house).map_err(|problems| format!("{problems:?}"))?;

    println!("{}", house.name);
    for id in SETS {
        let provisions = Library::shipped()
            .set(id)
            .map_err(|faults| format!("{faults:?}"))?;
        let assessment = assess(&house, &provisions);
        println!("\n{} ({id})", provisions.title);
        println!("  {:<16}{}", "house", assessment.verdict.words());
        for (line, verdict) in house.wall_lines.iter().zip(&assessment.wall_lines) {
            // Best and worst case: what the verdict could still become once the unknowns are known.
            let open = if verdict.outcomes.is_determined() {
                String::new()
            } else {
                format!(" (between {:?} and {:?})", verdict.best(), verdict.worst())
            };
            println!("  {:<16}{}{open}", line.name, verdict.words());
        }
        // A verdict is as good as the figures it rests on; these would have to be confirmed in the document.
        let to_confirm = assessment.verdict.rests.to_confirm.len();
        if to_confirm > 0 {
            println!("  rests on figures that nobody has seen in their document: {to_confirm}");
        }
    }
    Ok(())
}
