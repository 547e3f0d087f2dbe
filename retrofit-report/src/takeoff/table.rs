//! A takeoff to read: on a terminal, and as Markdown.

use std::fmt::Write;

use unicode_width::UnicodeWidthStr;

use super::{TakeoffReport, TakeoffRow};
use crate::markdown::escape;

/// The most columns a line of the terminal takes, where its words can be broken.
const COLUMNS: usize = 98;

/// What is said of totals that leave something out.
const NOT_ALL: &str = "Not the whole of the work: what has no layout is not in it, and is listed below.";

/// What is said of totals that rest on prices without a source.
const PLACEHOLDER: &str = "Rests on placeholder prices: put in your own before you rely on a total.";

/// Renders a takeoff for a terminal, without color.
pub fn terminal(report: &TakeoffReport) -> String {
    let mut page = String::new();
    wrapped(&mut page, "", &report.house);
    wrapped(&mut page, "takeoff by ", &report.provisions);
    let total = &report.total;
    page.push_str("\nCost\n");
    let range = format!("${} likely, from ${} to ${}", total.likely, total.low, total.high);
    wrapped(&mut page, "  ", &range);
    wrapped(&mut page, "  ", &years(report));
    if !report.not_counted.is_empty() {
        wrapped(&mut page, "  ", NOT_ALL);
    }
    if !report.placeholders.is_empty() {
        wrapped(&mut page, "  ", PLACEHOLDER);
    }
    for driver in &report.drivers {
        let mark = if driver.is_placeholder {
            ", placeholder"
        } else {
            ""
        };
        let text = format!(
            "{}: ${} likely, spread ${}{mark}",
            driver.item, driver.cost.likely, driver.spread
        );
        wrapped(&mut page, "  - ", &text);
    }
    if !report.whole_house.is_empty() {
        page.push_str("\nThe whole house\n");
    }
    for row in &report.whole_house {
        wrapped(
            &mut page,
            "  ",
            &format!("{}: {}{}", row.article, row.shown, likely(row)),
        );
    }
    for list in &report.sheets {
        let _ = writeln!(page, "\nSheets of {}", list.sheathing);
        for size in &list.to_buy {
            let _ = writeln!(page, "  {} of {}", size.count, size.size);
        }
        wrapped(&mut page, "  ", &waste(list));
    }
    let mut wall_line = "";
    for row in &report.rows {
        if row.wall_line != wall_line {
            wall_line = &row.wall_line;
            let _ = writeln!(page, "\n{wall_line}");
        }
        wrapped(&mut page, "  ", &format!("{}: {}", row.article, row.shown));
        wrapped(&mut page, "      ", &said_of(row));
        if !row.places.is_empty() {
            wrapped(&mut page, "      at ", &row.places.join("; "));
        }
    }
    if !report.not_counted.is_empty() {
        page.push_str("\nNot counted, because there is no layout\n");
        for gap in &report.not_counted {
            wrapped(&mut page, "  - ", &format!("{}: {}", gap.wall_line, gap.part));
        }
    }
    page.push('\n');
    for note in &report.notes {
        wrapped(&mut page, "Note: ", note);
    }
    wrapped(&mut page, "", &report.meaning);
    page
}

/// Renders a takeoff as Markdown.
pub fn markdown(report: &TakeoffReport) -> String {
    let mut page = String::new();
    let _ = writeln!(page, "# Takeoff: {}\n", safe(&report.house));
    let _ = writeln!(page, "By {}.\n", safe(&report.provisions));
    let total = &report.total;
    let [low, likely, high] = [&total.low, &total.likely, &total.high].map(|cost| money(cost));
    let _ = writeln!(page, "**{likely} likely, from {low} to {high}.**\n");
    let _ = writeln!(page, "{}\n", safe(&years(report)));
    if !report.not_counted.is_empty() {
        let _ = writeln!(page, "**{NOT_ALL}**\n");
    }
    if !report.placeholders.is_empty() {
        let _ = writeln!(page, "**{PLACEHOLDER}**\n");
    }
    page.push_str(
        "## The whole house\n\n| Article | Amount | Low | Likely | High |\n|---|---|--:|--:|--:|\n",
    );
    for row in &report.whole_house {
        let [low, likely, high] = costs(row);
        let _ = writeln!(
            page,
            "| {} | {} | {low} | {likely} | {high} |",
            safe(&row.article),
            safe(&row.shown),
        );
    }
    page.push('\n');
    page.push_str(
        "## What drives the spread\n\n| Item | Likely | High less low | Placeholder |\n|---|--:|--:|---|\n",
    );
    for driver in &report.drivers {
        let mark = if driver.is_placeholder { "yes" } else { "no" };
        let _ = writeln!(
            page,
            "| {} | {} | {} | {mark} |",
            safe(&driver.item),
            money(&driver.cost.likely),
            money(&driver.spread),
        );
    }
    for list in &report.sheets {
        let _ = writeln!(page, "\n## Cutting list: {}\n", safe(&list.sheathing));
        for size in &list.to_buy {
            let _ = writeln!(page, "- {} of {}", size.count, safe(&size.size));
        }
        let _ = writeln!(page, "\n{}\n", safe(&waste(list)));
        page.push_str("| Sheet | Size | Cut | For | Stations |\n|--:|---|---|---|---|\n");
        for cut in &list.cuts {
            let _ = writeln!(
                page,
                "| {} | {} | {} | {} | {} |",
                cut.sheet,
                safe(&cut.size),
                safe(&format!("{} x {}", cut.cut_width, cut.cut_length)),
                safe(cut.wall_line.as_deref().unwrap_or("left over")),
                safe(cut.stations.as_deref().unwrap_or("")),
            );
        }
    }
    page.push_str("\n## Wall line by wall line\n\n");
    page.push_str("| Wall line | Article | Amount | Stations | Low | Likely | High | Why |\n");
    page.push_str("|---|---|---|---|--:|--:|--:|---|\n");
    for row in &report.rows {
        let [low, likely, high] = costs(row);
        let _ = writeln!(
            page,
            "| {} | {} | {} | {} | {low} | {likely} | {high} | {} |",
            safe(&row.wall_line),
            safe(&row.article),
            safe(&row.shown),
            safe(&row.places.join("; ")),
            safe(&row.because),
        );
    }
    let _ = writeln!(page, "| | Total | | | {low} | {likely} | {high} | |");
    if !report.not_counted.is_empty() {
        page.push_str("\n## Not counted, because there is no layout\n\n");
        for gap in &report.not_counted {
            let _ = writeln!(page, "- {}: {}", safe(&gap.wall_line), safe(&gap.part));
        }
    }
    page.push_str("\n## Notes\n\n");
    for note in report.notes.iter().chain([&report.meaning]) {
        let _ = writeln!(page, "- {}", safe(note));
    }
    page
}

/// The cost of a row in three cells, empty where it lies in that of another.
fn costs(row: &TakeoffRow) -> [String; 3] {
    row.cost.as_ref().map_or_else(Default::default, |cost| {
        [&cost.low, &cost.likely, &cost.high].map(|cost| money(cost))
    })
}

fn likely(row: &TakeoffRow) -> String {
    row.cost
        .as_ref()
        .map_or_else(String::new, |cost| format!(", ${} likely", cost.likely))
}

fn said_of(row: &TakeoffRow) -> String {
    match (&row.cost, &row.cost_lies_in) {
        (Some(cost), _) => format!(
            "${} likely, ${} to ${}. {}",
            cost.likely, cost.low, cost.high, row.because
        ),
        (None, _) => row.because.clone(),
    }
}

/// The years of the prices, and how the ends of the range are to be read.
fn years(report: &TakeoffReport) -> String {
    let years: Vec<String> = report.price_years.iter().map(ToString::to_string).collect();
    format!(
        "Prices of {}, in dollars. The ends are those of everything being cheap and everything being dear at once.",
        years.join(" and ")
    )
}

fn waste(list: &super::SheetRow) -> String {
    let bound = if list.is_least {
        "no other way of cutting these pieces takes less".to_owned()
    } else {
        format!("no way takes less than {} sq ft", list.least_sq_ft)
    };
    format!(
        "{} sq ft bought, {} sq ft used; {} sq ft, {} %, left over or sawn away; {bound}.",
        list.bought_sq_ft, list.used_sq_ft, list.waste_sq_ft, list.waste_percent
    )
}

fn money(text: &str) -> String {
    format!("\\${text}")
}

/// Text of which Markdown takes nothing for a mark.
fn safe(text: &str) -> String {
    let mut out = Vec::with_capacity(text.len());
    // Writing to memory does not fail.
    let _ = escape(text, &mut out);
    String::from_utf8(out).unwrap_or_default()
}

/// Words broken at spaces; lines after the first stand under the first word.
fn wrapped(page: &mut String, lead: &str, text: &str) {
    let indent = " ".repeat(lead.width());
    let mut line = lead.to_owned();
    let mut is_empty = true;
    for word in text.split(' ') {
        if !is_empty && line.width() + 1 + word.width() > COLUMNS {
            page.push_str(&line);
            page.push('\n');
            line.clone_from(&indent);
            is_empty = true;
        }
        if !is_empty {
            line.push(' ');
        }
        line.push_str(word);
        is_empty = false;
    }
    page.push_str(&line);
    page.push('\n');
}
