//! Before and after, and as built against what was designed: its laws over random houses, an example pair,
//! and the command line.
#![cfg(test)]

#[path = "laws/change.rs"]
#[expect(dead_code, reason = "the laws of the checks use the rest")]
mod change;
#[path = "laws/houses.rs"]
#[expect(dead_code, reason = "the laws of the checks use the rest")]
mod houses;

use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};
use std::sync::LazyLock;

use change::{blanked, with_hidden_stretch};
use houses::{Dice, few_rolls, house, rolls};
use proptest::prelude::*;
use retrofit_core::before_after::{Became, BeforeAfter, Place, compare};
use retrofit_core::check::{Group, Ruling};
use retrofit_core::house::{AsBuilt, FoundationCondition, FoundationKind, House, Stories};
use retrofit_core::observation::Observed;
use retrofit_core::prices::UnitPrices;
use retrofit_core::provisions::{Library, Provisions};
use retrofit_core::remedy::{Proof, design};
use retrofit_core::sign_off::{Built, Designed, Status, sign_off};
use serde_json::{Value, json};

static DEFAULT: LazyLock<Provisions> = LazyLock::new(|| {
    Library::shipped()
        .set(Library::DEFAULT_SET)
        .expect("the shipped tables are in order")
});

/// Every set at hand: with clips and without, with other nails, with figures that nobody has seen.
static ALL: LazyLock<Vec<Provisions>> = LazyLock::new(|| {
    let sets = Library::shipped().ids().into_iter();
    sets.map(|id| {
        Library::shipped()
            .set(id)
            .expect("the shipped tables are in order")
    })
    .collect()
});

fn config(cases: u32) -> ProptestConfig {
    ProptestConfig {
        cases,
        failure_persistence: None,
        max_shrink_iters: 300,
        ..ProptestConfig::default()
    }
}

fn as_built(house: House) -> AsBuilt {
    AsBuilt::new(house).expect("the random record makes sense")
}

/// The same house where work is designed: low enough, on concrete that holds.
fn on_sound_concrete(mut house: House) -> House {
    house.building.slab_or_pole_portion = Observed::measured(false);
    house.continuous_perimeter = Observed::measured(true);
    house.building.stories = Observed::measured(Stories::from_halves(2));
    for wall in &mut house.wall_lines {
        if let Observed::Known { value, .. } = &mut wall.foundation {
            for stretch in value {
                stretch.kind = Observed::measured(FoundationKind::Concrete);
                stretch.condition = Observed::measured(FoundationCondition::Sound);
            }
        }
    }
    house
}

fn fell_short(ruling: Option<Ruling>) -> bool {
    matches!(ruling, Some(Ruling::NotMet | Ruling::Outside))
}

/// What became of each check, by where it is; wall lines by name, so that both directions tell the same.
fn became(compared: &BeforeAfter<'_>) -> Vec<(Option<String>, &'static str, Became, bool)> {
    let changes = compared.changes.iter().map(|change| {
        let name = match change.place {
            Place::House => None,
            Place::WallLine { after, .. } | Place::OnlyAfter(after) => {
                Some(compared.after.house.wall_lines[after].name.clone())
            }
            Place::OnlyBefore(before) => Some(compared.before.house.wall_lines[before].name.clone()),
        };
        let was_short = fell_short(change.before.map(|came| came.ruling));
        (name, change.check.name, change.became, was_short)
    });
    let mut changes: Vec<_> = changes.collect();
    changes.sort();
    changes
}

proptest! {
    #![proptest_config(config(1_000))]

    #[test]
    fn a_house_compared_with_itself_differs_in_nothing(h in rolls(), b in few_rolls()) {
        for house in [house(&h), blanked(&house(&h), &mut Dice::new(&b))] {
            let house = as_built(house);
            let compared = compare(&house, &house, &DEFAULT);
            for change in &compared.changes {
                prop_assert!(!change.became.is_a_change(), "{change:?}");
                prop_assert_eq!(change.before, change.after);
            }
            prop_assert_eq!(&compared.less_said, &[]);
            prop_assert_eq!(compared.ruling(), compared.before.verdict.ruling());
        }
    }

    /// What closes one way is newly short the other way, in any two records.
    #[test]
    fn swapping_before_and_after_swaps_closed_and_newly_short(h in rolls(), g in rolls()) {
        let (one, other) = (as_built(house(&h)), as_built(house(&g)));
        let (there, back) = (compare(&one, &other, &DEFAULT), compare(&other, &one, &DEFAULT));
        let (there, back) = (became(&there), became(&back));
        prop_assert_eq!(there.len(), back.len());
        for ((place, check, one, was_short), (place_again, check_again, other, _)) in there.iter().zip(&back) {
            prop_assert_eq!((place, check), (place_again, check_again));
            let closes = *one == Became::Closed || (*one == Became::NoLongerAsked && *was_short);
            prop_assert_eq!(closes, *other == Became::NewlyShort, "{:?} {:?}", one, other);
            prop_assert_eq!(*one == Became::OnlyBefore, *other == Became::OnlyAfter);
            prop_assert_eq!(*one == Became::StillShort, *other == Became::StillShort);
            prop_assert_eq!(*one == Became::FoundShort, *other == Became::NoLongerDetermined && !closes && fell_back(&back, place.as_ref(), check));
        }
    }

    /// A record that says less closes nothing, and where it leaves something open, it is told what it no
    /// longer says.
    #[test]
    fn an_observation_lost_is_never_closed(h in rolls(), b in few_rolls()) {
        let whole = house(&h);
        let before = as_built(whole.clone());
        for less in [blanked(&whole, &mut Dice::new(&b)), with_hidden_stretch(&whole, &mut Dice::new(&b))] {
            let after = as_built(less);
            let compared = compare(&before, &after, &DEFAULT);
            let mut opened = 0;
            for change in &compared.changes {
                let was_short = fell_short(change.before.map(|came| came.ruling));
                let is_fine = matches!(change.after.map(|came| came.ruling), Some(Ruling::Met | Ruling::NotApplicable));
                prop_assert!(!(was_short && is_fine) || change.became == Became::NoLongerDetermined, "{change:?}");
                opened += usize::from(change.became == Became::NoLongerDetermined);
            }
            prop_assert!(opened == 0 || !compared.less_said.is_empty(), "{opened} opened");
        }
    }
}

/// Whether a check fell short before, in a comparison the other way.
fn fell_back(
    changes: &[(Option<String>, &'static str, Became, bool)],
    place: Option<&String>,
    check: &str,
) -> bool {
    changes
        .iter()
        .any(|(at, name, _, was_short)| at.as_ref() == place && *name == check && *was_short)
}

proptest! {
    #![proptest_config(config(3_000))]

    /// Built as designed: every piece is found, nothing else is, and every check that the proof holds for is
    /// closed.
    #[test]
    fn what_is_built_as_designed_closes_what_the_proof_holds_for(h in rolls(), b in few_rolls(), open in any::<bool>(), s in any::<usize>()) {
        let set = &ALL[s % ALL.len()];
        let mut house = on_sound_concrete(house(&h));
        if open {
            house = blanked(&house, &mut Dice::new(&b));
        }
        let found = as_built(house);
        let remedy = design(&found, set, UnitPrices::placeholder());
        let compared = compare(&found, &remedy.after, set);
        for change in &compared.changes {
            let Place::WallLine { after: line, .. } = change.place else { continue };
            let proofs = remedy.proof.iter();
            let mut proofs = proofs
                .filter(|proof| (proof.wall_line, proof.check) == (line, change.check.name))
                .peekable();
            let was_short = fell_short(change.before.map(|came| came.ruling));
            // A check has a proof for each of its findings; all of them have to hold.
            if proofs.peek().is_none() || !was_short || !proofs.all(Proof::holds) {
                continue;
            }
            let is_closed = matches!(change.became, Became::Closed | Became::NoLongerAsked);
            // Beside a piece or stretch that is mended, another may stay open; the proof leaves it out.
            let is_of_another = matches!(change.check.group, Group::Sill | Group::Framing)
                && change.became == Became::NoLongerDetermined;
            prop_assert!(is_closed || is_of_another, "{change:?}");
        }
        for line in sign_off(&remedy, &remedy.after) {
            for piece in &line.pieces {
                prop_assert_eq!(piece.built.status(), Status::AsDesigned, "{:?}", piece);
            }
            prop_assert_eq!(&line.not_designed, &[]);
        }
        // And where nothing was done, no new work is taken for built.
        for line in sign_off(&remedy, &remedy.taken_as) {
            for piece in &line.pieces {
                let status = piece.built.status();
                match piece.what {
                    Designed::KeptAnchor | Designed::KeptPanel(None) => prop_assert_eq!(status, Status::AsDesigned),
                    Designed::MendedAnchor { .. } | Designed::KeptPanel(Some(_)) | Designed::Sill(_) => {
                        prop_assert_ne!(status, Status::AsDesigned, "{:?}", piece);
                    }
                    _ => prop_assert!(matches!(status, Status::NotBuilt | Status::NotSeen), "{:?}", piece),
                }
            }
        }
    }
}

// ---- The example pair ------------------------------------------------------------------------------------

fn example(which: &str) -> PathBuf {
    let name = format!("../examples/before-after/nettle-weir-row.{which}.json");
    Path::new(env!("CARGO_MANIFEST_DIR")).join(name)
}

fn read(which: &str) -> AsBuilt {
    let text = fs::read_to_string(example(which)).unwrap();
    AsBuilt::new(serde_json::from_str(&text).unwrap()).unwrap()
}

/// Two departures: an anchor 8 in off, a panel one stud bay short. All else is as designed.
#[test]
fn the_example_has_two_departures_and_both_matter() {
    let (found, built) = (read("found"), read("built"));
    let compared = compare(&found, &built, &DEFAULT);
    assert_eq!(compared.ruling(), Ruling::NotMet);
    assert_eq!(compared.less_said, []);
    let of_line: Vec<Ruling> = compared
        .after
        .wall_lines
        .iter()
        .map(retrofit_core::check::Verdict::ruling)
        .collect();
    assert_eq!(
        of_line,
        [Ruling::NotMet, Ruling::Met, Ruling::NotMet, Ruling::Met]
    );
    let at = |became: Became| -> Vec<(Place, &str)> {
        let changes = compared.changes.iter().filter(|change| change.became == became);
        changes.map(|change| (change.place, change.check.name)).collect()
    };
    let line = |index| Place::WallLine {
        before: index,
        after: index,
    };
    // 7'-0" to 13'-8" is more than 6 ft; 5'-4" and 6'-8" are less than two fifths of 32 ft.
    assert_eq!(
        at(Became::StillShort),
        [(line(0), "anchor-spacing"), (line(2), "bracing-length")]
    );
    assert_eq!(at(Became::Closed).len(), 14);
    assert_eq!(at(Became::NewlyShort), []);

    let remedy = design(&found, &DEFAULT, UnitPrices::placeholder());
    assert!(remedy.is_proved() && remedy.assumptions.is_empty());
    let mut departures = Vec::new();
    for line in sign_off(&remedy, &built) {
        assert_eq!(line.not_designed, []);
        for piece in line.pieces {
            if piece.built.status() != Status::AsDesigned {
                let Built::There(there) = &piece.built else {
                    panic!("{piece:?}")
                };
                assert_eq!(there.differences, []);
                departures.push((
                    line.wall_line,
                    piece.built.status(),
                    there.off_at_beginning.to_string(),
                    there.off_at_end.to_string(),
                ));
            }
        }
    }
    assert_eq!(
        departures,
        [
            (0, Status::Elsewhere, "8\"".to_owned(), "8\"".to_owned()),
            (2, Status::Differently, "0\"".to_owned(), "-1'-4\"".to_owned()),
        ]
    );
}

// ---- The command line ------------------------------------------------------------------------------------

fn run(args: &[&str]) -> Output {
    let mut command = Command::new(env!("CARGO_BIN_EXE_retrofit"));
    command
        .arg("compare")
        .args(args)
        .stdin(Stdio::null())
        .output()
        .unwrap()
}

fn printed(args: &[&str], exit_code: i32) -> String {
    let output = run(args);
    let told = String::from_utf8_lossy(&output.stderr);
    assert_eq!(output.status.code(), Some(exit_code), "{args:?}: {told}");
    String::from_utf8(output.stdout).unwrap()
}

/// A folder with the house built exactly as designed, and with one wall line left out of that record.
fn folder() -> (tempfile::TempDir, String, String) {
    let remedy = design(&read("found"), &DEFAULT, UnitPrices::placeholder());
    let folder = tempfile::tempdir().unwrap();
    let write = |name: &str, house: &House| {
        let path = folder.path().join(name);
        fs::write(&path, serde_json::to_string(house).unwrap()).unwrap();
        path.to_str().unwrap().to_owned()
    };
    let as_designed = write("as-designed.json", &remedy.after);
    let mut short = remedy.after.clone().into_inner();
    short.wall_lines.truncate(3);
    let without_west = write("without-west.json", &short);
    (folder, as_designed, without_west)
}

#[test]
fn the_exit_code_is_that_of_the_later_record() {
    let (found, built) = (example("found"), example("built"));
    let (found, built) = (found.to_str().unwrap(), built.to_str().unwrap());
    let (_folder, as_designed, without_west) = folder();
    assert!(printed(&[found, &as_designed], 0).contains("met now"));
    assert!(printed(&[found, built], 1).contains("still short"));
    printed(&[&as_designed, found], 1);
    // What is left out of the later record is open, however good the rest is.
    let text = printed(&[found, &without_west], 2);
    assert!(text.contains("not in the later record"), "{text}");
    printed(&[found, "no-such-file.json"], 3);
    printed(&["-", "-"], 3);
    printed(&[found, built, "-p", "cebc-a3-2013,iebc-a3-2021"], 3);
    printed(&[found], 3);
}

#[test]
fn the_text_tells_both_departures_and_never_says_safe() {
    let (found, built) = (example("found"), example("built"));
    let text = printed(
        &[found.to_str().unwrap(), built.to_str().unwrap(), "--designed"],
        1,
    );
    for said in [
        "built elsewhere, 8\" farther along",
        "built differently, 1'-4\" shorter",
        "With what was built, not met: anchor spacing.",
        "With what was built, not met: length of bracing.",
        "With what was built, every check of this wall line is met.",
        "[ ]",
    ] {
        assert!(text.contains(said), "{said}: {text}");
    }
    assert!(!text.to_lowercase().contains("safe"));
    let quiet = [found.to_str().unwrap(), built.to_str().unwrap(), "--quiet"];
    assert_eq!(printed(&quiet, 1), "");
}

#[test]
fn the_json_is_what_its_schema_says() {
    let schema = Command::new(env!("CARGO_BIN_EXE_retrofit"))
        .args(["schema", "before-after"])
        .output()
        .unwrap();
    let schema: Value = serde_json::from_slice(&schema.stdout).unwrap();
    assert_eq!(schema["$id"], "before-after-1");
    let validator = jsonschema::validator_for(&schema).unwrap();
    let (found, built) = (example("found"), example("built"));
    let (found, built) = (found.to_str().unwrap(), built.to_str().unwrap());
    let (_folder, as_designed, without_west) = folder();
    for (args, code) in [
        (vec![found, built], 1),
        (vec![found, built, "--designed"], 1),
        (vec![found, &as_designed, "--designed"], 0),
        (vec![found, &without_west, "--designed"], 2),
    ] {
        let result: Value =
            serde_json::from_str(&printed(&[&args[..], &["--format", "json"]].concat(), code)).unwrap();
        let faults: Vec<String> = validator
            .iter_errors(&result)
            .map(|fault| fault.to_string())
            .collect();
        assert!(faults.is_empty(), "{faults:?}");
        assert_eq!(result["format"], "before-after-1");
        assert_eq!(result["designed"].is_null(), args.len() == 2);
    }
    let mut wrong = json!({"format": "before-after-1"});
    assert!(!validator.is_valid(&wrong));
    wrong["format"] = json!("result-1");
    assert!(!validator.is_valid(&wrong));
}

#[test]
fn files_are_written_and_an_input_is_never_written_over() {
    let (found, built) = (example("found"), example("built"));
    let (found, built) = (found.to_str().unwrap(), built.to_str().unwrap());
    let (folder, as_designed, _) = folder();
    let path = |name: &str| folder.path().join(name).to_str().unwrap().to_owned();
    let (html, markdown) = (path("sign-off.html"), path("sign-off.md"));
    let files = ["--designed", "--html", &html, "--markdown", &markdown];
    printed(&[&[found, built][..], &files].concat(), 1);
    let markdown = fs::read_to_string(markdown).unwrap();
    assert!(markdown.contains("| ☐ | 13'-0\" |"), "{markdown}");
    assert!(markdown.contains("**built elsewhere, 8\" farther along**"));
    let html = fs::read_to_string(html).unwrap();
    assert!(html.contains("8&quot; farther along") || html.contains("8\" farther along"));
    for page in [&markdown, &html] {
        // The style sheet has a word of its own for this.
        let body = page.split("</style>").last().unwrap();
        assert!(!body.to_lowercase().contains("safe"));
        assert!(page.contains("licensed engineer"));
    }
    let before = fs::read(&as_designed).unwrap();
    printed(&[found, &as_designed, "--html", &as_designed], 3);
    printed(&[&as_designed, built, "--html", &as_designed], 3);
    assert_eq!(fs::read(&as_designed).unwrap(), before);
}
