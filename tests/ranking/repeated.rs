//! Ids that stand in more than one row: told, and neither merged nor dropped.

use super::*;

const TABLE: &str = "id,year_built,climate_zone,replacement_value,peak_ground_acceleration,x_tract\n\
                     one,1926,3C,400000,0.5,a\n\
                     twice,1926,3C,300000,0.5,a\n\
                     differs,1926,3C,200000,0.5,a\n\
                     twice,1926,3C,300000,0.5,b\n\
                     differs,1926,3C,900000,0.5,b\n\
                     differs,1926,3C,900000,0.5,c\n";

#[test]
fn repeated_ids_are_told_and_paid_for_once() {
    let desk = Desk::new();
    let houses = desk.put("houses.csv", TABLE);
    let options = RankOptions {
        budget: Some(1e9),
        money: Money::default(),
        ..desk.options(Path::new(&houses))
    };
    let (summary, list) = Desk::ranked(&options);
    let list = rows(&list);
    assert_eq!(list.len(), 6, "no row is dropped");
    let repeated = &summary.data_quality.repeated_ids;
    assert_eq!(
        (repeated.ids, repeated.further_rows, repeated.ids_that_differ),
        (2, 3, 1)
    );
    let named: Vec<_> = repeated
        .named
        .iter()
        .map(|id| (id.id.as_str(), id.rows, id.differs, id.lines.clone()))
        .collect();
    // The lines stand in the order of the list: the best place first.
    assert_eq!(
        named,
        [
            ("differs", 3, true, vec![6, 7, 4]),
            ("twice", 2, false, vec![3, 5])
        ]
    );
    let of = |id: &str, tract: &str| {
        list.iter()
            .find(|row| row["id"] == id && row["passed"]["x_tract"] == tract)
            .unwrap()
    };
    for (id, tract, funded, note) in [
        ("one", "a", true, ""),
        ("twice", "a", true, ""),
        (
            "twice",
            "b",
            false,
            "its id and score stand higher in the list; paid for once, there",
        ),
        ("differs", "b", true, ""),
        (
            "differs",
            "c",
            false,
            "its id and score stand higher in the list; paid for once, there",
        ),
        (
            "differs",
            "a",
            false,
            "its id stands higher in the list with another score; paid for once, there",
        ),
    ] {
        assert_eq!(of(id, tract)["funded"], funded, "{id} {tract}");
        assert_eq!(of(id, tract)["note"], note, "{id} {tract}");
    }
    assert_eq!((summary.all.houses, summary.all.funded), (6, 3));
    let page =
        retrofit_report::html::render_document(&summary.document(), &retrofit_report::look::Look::default());
    let page = page.unwrap();
    for words in [
        "2 ids stand in more than one row",
        "The rows of 1 id come to different scores",
        "differ",
        "6, 7, 4",
        "are alike",
    ] {
        assert!(page.contains(words), "{words}");
    }
}

/// Against counting the ids of the table in a map.
#[test]
fn the_portfolio_has_the_repeated_ids_that_a_map_finds() {
    let mut reader = csv::Reader::from_path(portfolio()).unwrap();
    let mut lines: BTreeMap<String, Vec<u64>> = BTreeMap::new();
    for row in reader.records() {
        let row = row.unwrap();
        let line = row.position().unwrap().line();
        lines.entry(row[0].to_owned()).or_default().push(line);
    }
    lines.retain(|_, lines| lines.len() > 1);
    let repeated = &ranked().0.data_quality.repeated_ids;
    assert_eq!(repeated.ids, lines.len() as u64);
    assert_eq!(repeated.named.len(), 25);
    for named in &repeated.named {
        let mut told = named.lines.clone();
        told.sort_unstable();
        assert_eq!(told, lines[&named.id], "{}", named.id);
        assert_eq!(named.rows, told.len() as u64);
    }
}

/// Text of a user is text, in the page too.
#[test]
fn a_repeated_id_is_escaped() {
    let desk = Desk::new();
    let row = "<script>alert(1)</script>,1926,3C,400000,0.5";
    let header = "id,year_built,climate_zone,replacement_value,peak_ground_acceleration";
    let houses = desk.put("houses.csv", format!("{header}\n{row}\n{row}\n"));
    let (out, page) = (desk.path("out.csv"), desk.path("page.html"));
    printed(
        &[
            "rank",
            &houses,
            "--out",
            out.to_str().unwrap(),
            "--page",
            page.to_str().unwrap(),
        ],
        0,
    );
    let page = fs::read_to_string(page).unwrap();
    assert!(!page.contains("<script>alert"), "escaped");
    assert!(page.contains("&lt;script&gt;alert(1)"), "named");
}
