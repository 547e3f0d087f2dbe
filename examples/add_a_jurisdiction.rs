//! Adds a jurisdiction of one's own, without touching the program or a file on disk.
//!
//! ```text
//! cargo run --example add_a_jurisdiction
//! ```
//!
//! Requirements are rows of small tables, so a city is added by writing down what it says. The city here is
//! invented: it takes over Appendix Chapter A3 as it stands and adds a limit on the slope of the ground,
//! which the chapter does not have. The texts could as well come from a folder (`--tables` on the command line).
#![expect(clippy::print_stdout, reason = "an example that is run to see what it prints")]

use std::error::Error;

use retrofit_core::check::assess;
use retrofit_core::house::{AsBuilt, House};
use retrofit_core::provisions::{Library, TableFile};

/// The head of the set. `extends` names the set whose rows it starts from.
const HEAD: &str = r#"{
  "id": "lantern-bay-2026",
  "title": "Lantern Bay strengthening ordinance (2026, invented)",
  "document": "Lantern Bay Ordinance 12",
  "edition": "2026",
  "jurisdiction": "Lantern Bay",
  "summary": "Appendix Chapter A3 with a limit on slope.",
  "comparison_only": false,
  "extends": "cebc-a3-2013",
  "notes": ["An invented city, to show how one is added."]
}"#;

/// Where its figures come from. A figure without a source is refused.
const SOURCES: &str = "\
source,document,edition,publisher,where,seen_on,note
lantern-bay,Lantern Bay Ordinance 12,2026,City of Lantern Bay (invented),not seen,,
";

/// The rows in which it differs; all others are inherited with their own source and standing. The ordinance
/// was not read for this example, so the standing says so, and so will every verdict that rests on it.
const SCOPE: &str = "\
figure,stories,weight,diameter,piece_over,piece_up_to,stud_over,stud_up_to,\
compare,value,source,section,standing,note
max-slope,,,,,,,,,20H:1V,lantern-bay,Section 2,memory,
";

/// The same with a slip in it: the limit was written as a bare number.
const SCOPE_WITH_A_SLIP: &str = "\
figure,stories,weight,diameter,piece_over,piece_up_to,stud_over,stud_up_to,\
compare,value,source,section,standing,note
max-slope,,,,,,,,,10,lantern-bay,Section 2,memory,
";

fn main() -> Result<(), Box<dyn Error>> {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/../examples/larch-harbor-way.json");
    let house: House = serde_json::from_str(&std::fs::read_to_string(path)?)?;
    let house = AsBuilt::new(house).map_err(|problems| format!("{problems:?}"))?;

    // A library of one's own: a copy of the shipped one, with the folder added.
    let mut library = Library::shipped().clone();
    library.add_folder("lantern-bay-2026", folder(SCOPE));

    for id in ["cebc-a3-2013", "lantern-bay-2026"] {
        let provisions = library.set(id).map_err(|faults| format!("{faults:?}"))?;
        let assessment = assess(&house, &provisions);
        println!("{}: {}", provisions.title, assessment.verdict.words());
        // The row that is new is a finding like any other; under the chapter alone it does not apply.
        let slope = assessment
            .findings_at(None)
            .filter(|finding| finding.check().name == "ground-slope");
        for finding in slope {
            println!(
                "  {}: {} (found {}, asked for {})",
                finding.check().title,
                finding.outcomes.ruling().words(),
                finding.measured,
                finding.required
            );
        }
    }

    // A set is checked when it is asked for. What is wrong is said with file, line and column.
    library.add_folder("lantern-bay-2026", folder(SCOPE_WITH_A_SLIP));
    match library.set("lantern-bay-2026") {
        Ok(_) => println!("the slip was not noticed"),
        Err(faults) => faults.iter().for_each(|fault| println!("refused: {fault}")),
    }
    Ok(())
}

/// The files of a folder, as the core takes them: name, text, and a path for error messages.
fn folder(scope: &str) -> Vec<TableFile> {
    [("set.json", HEAD), ("sources.csv", SOURCES), ("scope.csv", scope)]
        .into_iter()
        .map(|(name, text)| TableFile {
            path: format!("lantern-bay-2026/{name}"),
            name: name.to_owned(),
            text: text.to_owned(),
        })
        .collect()
}
