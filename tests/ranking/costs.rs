//! What the work costs, beside what the verb for a single house says of the same house.

use retrofit_core::choice::Choice;

use super::*;

const COLUMNS: &str = "id,stories,exterior,roof,floor_area,wall_length,foundation_kind,foundation_condition,sill_pieces,\
                       sill_soundness,anchors,cripple_wall,cripple_wall_height,panels,replacement_value,\
                       peak_ground_acceleration";

/// The same house as a row and as a file: a rectangle of 24 by 48 ft on sound concrete, with nothing on it.
fn as_row(height: &str, stories: u32) -> String {
    let area = 24 * 48 * stories;
    format!(
        "Q-1,{stories},wood,light,{area} sq ft,48 ft,concrete,sound,1,sound,no,yes,{height},no,500000,0.6"
    )
}

fn as_file(height: &str, stories: u32) -> String {
    let wall = |name: &str, feet: u32| {
        serde_json::json!({
            "name": name, "length": {"measured": format!("{feet} ft")},
            "foundation": [{"kind": "concrete", "condition": "sound"}],
            "sill": [{"soundness": "sound"}],
            "anchors": [], "panels": [], "cripple_wall": [{"height": {"measured": height}}],
        })
    };
    serde_json::json!({
        "format": "house-1", "name": "Q-1",
        "building": {"stories": stories, "exterior": "wood", "roof": "light"},
        "wall_lines": [wall("north", 48), wall("east", 24), wall("south", 48), wall("west", 24)],
    })
    .to_string()
}

/// Low, likely and high, as the verb for a single house prints them.
fn taken_off(desk: &Desk, house: &str, prices: &[&str]) -> [f64; 3] {
    let house = desk.put("house.json", house);
    let told = printed(&[&["takeoff", &*house, "--format", "json"], prices].concat(), 0);
    let told: Value = serde_json::from_str(&told).unwrap();
    ["low", "likely", "high"].map(|end| told["total"][end].as_str().unwrap().parse().unwrap())
}

/// The cost in the list is that of the takeoff of the same house, to the dollar that the list is rounded to.
#[rstest]
#[case("2 ft", 1)]
#[case("12 in", 1)]
#[case("3'-6\"", 1)]
#[case("2 ft", 2)]
fn a_house_costs_what_its_takeoff_says(#[case] height: &str, #[case] stories: u32) {
    let desk = Desk::new();
    let quoted = height.replace('"', "\"\"");
    let list = desk.list(&format!(
        "{COLUMNS}\n{}\n",
        as_row(&format!("\"{quoted}\""), stories)
    ));
    let told: [f64; 3] = serde_json::from_value(list[0]["cost"].clone()).unwrap();
    assert_eq!(list[0]["cost_from"], "size_on_record");
    let expected = taken_off(&desk, &as_file(height, stories), &[]);
    for (told, expected) in told.iter().zip(expected) {
        assert!((told - expected).abs() <= 0.5, "{told}, {expected}");
    }
}

/// Prices of one's own price the list and the single house alike.
#[test]
fn own_prices_move_both_alike() {
    let desk = Desk::new();
    let shipped = root().join("tables/unit-prices-placeholder/prices.csv");
    let own = fs::read_to_string(shipped)
        .unwrap()
        .replace("_anchor,each,60,72,84", "_anchor,each,100,120,140");
    let own = desk.put("our-prices.csv", own);
    let prices = ["--prices", &*own];
    let houses = desk.put("houses.csv", format!("{COLUMNS}\n{}\n", as_row("2 ft", 1)));
    let list = rows(&printed(
        &[&["rank", &*houses, "--format", "jsonl"], &prices[..]].concat(),
        0,
    ));
    let told: [f64; 3] = serde_json::from_value(list[0]["cost"].clone()).unwrap();
    let expected = taken_off(&desk, &as_file("2 ft", 1), &prices);
    for (told, expected) in told.iter().zip(expected) {
        assert!((told - expected).abs() <= 0.5, "{told}, {expected}");
    }
    let shipped = taken_off(&desk, &as_file("2 ft", 1), &[]);
    assert!(expected[1] > shipped[1]);
}

/// Every row says where its cost comes from, and what it says is so.
#[test]
fn every_row_says_where_its_cost_comes_from() {
    let (summary, list) = ranked();
    let whole = |work: &str| {
        let rows = table("costs.csv");
        let row = rows.iter().find(|row| row["work"] == work).unwrap();
        vec![figure(row, "low"), figure(row, "high")]
    };
    for row in list {
        let [low, likely, high]: [f64; 3] = serde_json::from_value(row["cost"].clone()).unwrap();
        assert!(low <= likely && likely <= high, "{row}");
        let work = row["work"].as_str().unwrap();
        match row["cost_from"].as_str().unwrap() {
            "whole_jobs" => assert_eq!(
                serde_json::json!([low, high]),
                serde_json::json!(whole(work)),
                "{row}"
            ),
            "no_work" => {
                assert_eq!(row["cost"], serde_json::json!([0.0, 0.0, 0.0]));
                assert!(
                    row["reasons"]
                        .as_array()
                        .unwrap()
                        .contains(&"nothing_short".into()),
                    "{row}"
                );
            }
            "size_on_record" => assert_eq!(row["basis"], "observed", "{row}"),
            "size_assumed" => assert!(low > 0.0),
            other => panic!("{other}"),
        }
        if matches!(work, "engineered" | "new_foundation") {
            assert_eq!(row["cost_from"], "whole_jobs", "no layout is drawn for it: {row}");
        }
    }
    let costs = &summary.costs;
    assert!(costs.prices_are_placeholders);
    let sources: BTreeSet<_> = costs.by_source.iter().map(|row| row.from).collect();
    assert_eq!(sources.len(), 4, "the portfolio has houses of each");
    for source in &costs.by_source {
        let name = serde_json::to_value(source.from).unwrap();
        let those: Vec<f64> = list
            .iter()
            .filter(|row| row["cost_from"] == name)
            .filter(|row| source.work.is_none_or(|work| row["work"] == work.spelling()))
            .map(|row| row["cost"][1].as_f64().unwrap())
            .collect();
        assert_eq!(source.houses, those.len() as u64);
        let count = f64::from(u32::try_from(those.len()).unwrap());
        let mean = those.iter().sum::<f64>() / count;
        assert!((source.mean_cost[1] - mean).abs() <= 1.0);
    }
}

/// Nobody is to take a placeholder for a price.
#[test]
fn placeholders_are_told_wherever_costs_are() {
    let desk = Desk::new();
    let houses = desk.put("houses.csv", format!("{COLUMNS}\n{}\n", as_row("2 ft", 1)));
    let (out, page) = (desk.path("out.csv"), desk.path("page.html"));
    let words = [
        "rank",
        &houses,
        "--out",
        out.to_str().unwrap(),
        "--page",
        page.to_str().unwrap(),
    ];
    let told = printed(&words, 0);
    let page = fs::read_to_string(&page).unwrap();
    for text in [&told, &page] {
        let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(
            text.contains("Every unit price behind the costs is a placeholder"),
            "{text}"
        );
        assert!(text.contains("Takeoff of a bare house like it"), "{text}");
        assert!(text.contains("are no offer"), "{text}");
    }
    for source in [
        "guide-1990s, in the table of unit prices",
        "placeholder, in the table of unit prices",
    ] {
        assert!(page.contains(source), "{source}");
    }
    let told = printed(&[&words[..], &["--whole-jobs"]].concat(), 0);
    assert!(!told.contains("placeholder"), "{told}");
    let told = refused(&[&words[..], &["--prices", &houses]].concat());
    assert!(told.contains("found the same file twice"), "{told}");
    let told = refused(&[&words[..], &["--prices", "nowhere.csv"]].concat());
    assert!(told.contains("nowhere.csv: cannot be read"), "{told}");
}
