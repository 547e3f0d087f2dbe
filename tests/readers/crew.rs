//! The crew's sheets hold every piece of the layout, and the print of all pages holds each of them.

use std::collections::BTreeSet;

use retrofit_report::language::{Language, Words};
use retrofit_report::look::Look;
use retrofit_report::readers::{CrewSheets, Reader};

use super::{each_page_of, result, visible};

/// Every new anchor, panel, block and clip of the layout stands on the sheet of its wall line, at its station.
#[test]
fn every_piece_of_the_layout_is_on_the_sheet_of_its_wall_line() {
    let mut pieces = 0;
    each_page_of(&[Reader::Crew], |name, result, _, words| {
        let sheets = CrewSheets::new(result, words).unwrap();
        assert_eq!(sheets.lines.len(), result.remedy.lines.len(), "{name}");
        for (sheet, line) in sheets.lines.iter().zip(&result.remedy.lines) {
            let marks: Vec<&str> = sheet
                .parts
                .iter()
                .flat_map(|part| &part.marks)
                .map(|mark| mark.at.as_str())
                .collect();
            let anchors = line.anchors.work().into_iter().flat_map(|work| &work.added);
            let panels = line.panels.work().into_iter().flat_map(|work| &work.added);
            let floors = || line.floor.work().into_iter();
            let blocks = floors()
                .filter_map(|floor| floor.rim.as_ref())
                .flat_map(|rim| &rim.blocks);
            let clips = floors().flat_map(|floor| &floor.clips);
            let expected: Vec<String> = anchors
                .map(|anchor| anchor.at)
                .chain(panels.map(|panel| panel.from))
                .chain(blocks.copied())
                .chain(clips.copied())
                .map(|at| words.length_to_act_on(at).unwrap())
                .collect();
            for station in &expected {
                let on_sheet = marks.iter().filter(|mark| *mark == station).count();
                let in_layout = expected.iter().filter(|other| *other == station).count();
                assert!(on_sheet >= in_layout, "{name}, {}: {station}", sheet.name);
            }
            let declined = [
                line.anchors.declined().is_some(),
                line.panels.declined().is_some(),
                line.floor.declined().is_some(),
            ];
            let declined = declined.into_iter().filter(|declined| *declined).count();
            assert_eq!(sheet.no_layout.len(), declined, "{name}, {}", sheet.name);
            pieces += expected.len();
        }
        let cut: usize = sheets.cutting.sheets.iter().map(|sheet| sheet.pieces.len()).sum();
        let placed = result.pieces.sheets.iter().flat_map(|list| &list.cutting.sheets);
        assert_eq!(
            cut,
            placed.map(|sheet| sheet.pieces.len()).sum::<usize>(),
            "{name}"
        );
    });
    assert!(pieces > 500, "{pieces}");
}

/// Work stops before it is covered, and nothing is promised.
#[test]
fn the_crew_is_told_where_to_stop() {
    for words in super::every_language() {
        let result = result("quince-lantern-way");
        let sheets = CrewSheets::new(&result, &words).unwrap();
        assert!(sheets.order.steps.len() >= 5);
        let cover = words.term("crew-hold-cover").unwrap();
        assert!(sheets.order.steps.iter().any(|step| step.hold == cover));
        let html = result
            .page_for(Reader::Crew, &words, Look::shipped())
            .unwrap()
            .html;
        assert!(html.contains(&words.term("crew-before-permit").unwrap()));
        assert!(!visible::text(&html).to_lowercase().contains("will survive"));
    }
}

/// All pages in one: each whole, every name in it once, every link led somewhere.
#[test]
fn the_print_of_all_pages_holds_each_of_them() {
    let result = result("quince-lantern-way");
    for language in Language::all() {
        let words = Words::of(language).unwrap();
        let print = result.in_one_file(&words, Look::shipped()).unwrap();
        let printed = visible::text(&print);
        for reader in Reader::ALL {
            let page = result.page_for(reader, &words, Look::shipped()).unwrap().html;
            let skips = [
                words.term("skip-to-answer").unwrap(),
                "Skip to the answer".to_owned(),
            ];
            for line in visible::text(&page).lines() {
                // What skips to the answer of a page is not printed.
                let line = skips
                    .iter()
                    .find_map(|skip| line.strip_prefix(skip))
                    .unwrap_or(line);
                assert!(printed.contains(line), "{language}, {}: {line}", reader.name());
            }
        }
        let names: Vec<&str> = print
            .split(" id=\"")
            .skip(1)
            .filter_map(|rest| rest.split('"').next())
            .collect();
        let once: BTreeSet<&str> = names.iter().copied().collect();
        assert_eq!(names.len(), once.len(), "a name stands twice");
        for target in print
            .split(" href=\"#")
            .skip(1)
            .filter_map(|rest| rest.split('"').next())
        {
            assert!(once.contains(target), "{target} leads nowhere");
        }
        assert_eq!(print.matches("<main").count(), 1);
        assert!(!print.contains("<script"));
    }
}

#[test]
fn one_file_is_for_all_pages() {
    use std::process::Command;
    let folder = tempfile::tempdir().unwrap();
    let run = |arguments: &[&str]| {
        Command::new(env!("CARGO_BIN_EXE_retrofit"))
            .args([
                "report",
                "quince-lantern-way.json",
                "--out",
                folder.path().to_str().unwrap(),
            ])
            .args(arguments)
            .current_dir(super::examples())
            .output()
            .unwrap()
    };
    assert_eq!(run(&["--for", "all", "--one-file"]).status.code(), Some(1));
    assert!(folder.path().join("quince-lantern-way.all.html").exists());
    assert_eq!(std::fs::read_dir(folder.path()).unwrap().count(), 1);
    let refused = run(&["--for", "crew", "--one-file"]);
    assert_eq!(refused.status.code(), Some(3));
    assert!(String::from_utf8_lossy(&refused.stderr).contains("expected --for all"));
}
