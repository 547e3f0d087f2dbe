//! A worksheet on a terminal: the answer, then wall line by wall line what is added and where.

use super::{NAME, Page, padded, shown_width};
use crate::worksheet::{AnchorRow, LineWork, SideBySide, Worksheet};

/// Renders a worksheet; with styles, it carries codes for bold.
pub fn render_worksheet(worksheet: &Worksheet, styled: bool) -> String {
    let mut page = Page::new(styled);
    page.line(&page.bold(&worksheet.house));
    page.wrapped("work laid out by ", &worksheet.provisions.title);
    page.blank();
    page.wrapped("", &worksheet.answer);
    if !worksheet.outcome.is_empty() {
        page.wrapped("", &worksheet.outcome);
    }
    for warning in &worksheet.warnings {
        page.wrapped("Note: ", warning);
    }
    page.heading("Wall lines");
    let widths = worksheet.wall_lines.iter().map(|line| shown_width(&line.name));
    let width = widths.max().unwrap_or(0).min(NAME);
    for line in &worksheet.wall_lines {
        page.line(&format!("  {}  {}", padded(&line.name, width), line.summary));
    }
    for line in worksheet
        .wall_lines
        .iter()
        .filter(|line| line.has_anything_to_say())
    {
        page.work(line);
    }
    if !worksheet.to_verify.is_empty() {
        page.heading("Taken as given: verify on site before anything is ordered");
        for item in &worksheet.to_verify {
            let place = item.places.words();
            let text = format!(
                "{place}: {}, taken as {}. {}",
                item.what, item.taken_as, item.because
            );
            page.wrapped("  - ", &text);
        }
    }
    page.remaining("Still falls short once the work is done", &worksheet.remaining);
    page.remaining("Stays open once the work is done", &worksheet.hidden);
    page.heading("Likely cost");
    page.wrapped(
        "  ",
        &format!("{}. {}", worksheet.cost.likely, worksheet.cost.note),
    );
    page.blank();
    page.wrapped("", &worksheet.deferral);
    page.text
}

/// Renders the work by several sets of provisions side by side: what each adds, wall line by wall line.
pub fn render_worksheets(worksheets: &SideBySide, styled: bool) -> String {
    let mut page = Page::new(styled);
    page.line(&page.bold(&worksheets.house));
    page.line(&format!(
        "the work by {} sets of provisions, side by side",
        worksheets.sets.len()
    ));
    for line in &worksheets.wall_lines {
        let differ = if line.differ { "  ≠ the sets differ" } else { "" };
        page.heading(&format!("{}{differ}", line.wall_line));
        for (set, work) in worksheets.sets.iter().zip(&line.by_set) {
            page.wrapped(&format!("  {}: ", set.id), work);
        }
    }
    page.heading("All wall lines");
    for set in &worksheets.sets {
        page.wrapped(
            &format!("  {}: ", set.id),
            &format!("likely {}. {}", set.cost, set.answer),
        );
    }
    page.blank();
    page.wrapped(
        "",
        "Each set by itself, with -p, gives the stations. None of them is taken to be the right one.",
    );
    page.wrapped("", &worksheets.deferral);
    page.text
}

impl LineWork {
    fn has_anything_to_say(&self) -> bool {
        !(self.declined.is_empty()
            && self.anchors.is_empty()
            && self.panels.is_empty()
            && self.existing_anchors.is_empty()
            && self.existing_panels.is_empty()
            && self.connections.is_empty()
            && self.framing.is_empty())
    }
}

impl Page {
    fn work(&mut self, line: &LineWork) {
        self.heading(&format!("{}, {} long", line.name, line.length));
        for declined in &line.declined {
            self.wrapped(
                "  - ",
                &format!("No layout for {}: {}", declined.part, declined.why),
            );
        }
        if !line.anchors.is_empty() {
            let spacing = line
                .anchor_spacing
                .as_ref()
                .map_or_else(String::new, |spacing| format!(", no more than {spacing} apart"));
            self.wrapped("  ", &format!("New anchors{spacing}, by station:"));
            for anchors in &line.anchors {
                self.wrapped("    - ", &anchor_words(anchors));
            }
        }
        for anchor in &line.existing_anchors {
            self.wrapped(
                "  Existing anchor ",
                &format!("{}: {}", anchor.stations, anchor.credit),
            );
        }
        if let Some(bracing) = &line.bracing {
            self.wrapped("  Bracing: ", bracing);
        }
        for panel in &line.panels {
            let text = format!(
                "{} to {}, {} long, {} high; {}",
                panel.from, panel.to, panel.length, panel.height, panel.foot
            );
            self.wrapped("    - ", &text);
        }
        if let Some(make) = &line.panel_make {
            self.wrapped("  Panels of ", make);
        }
        for panel in &line.existing_panels {
            self.wrapped(
                "  Existing panel ",
                &format!("{}: {}", panel.stations, panel.credit),
            );
        }
        for text in line.vents.iter().chain(&line.connections).chain(&line.framing) {
            self.wrapped("  ", text);
        }
    }

    fn remaining(&mut self, heading: &str, list: &[crate::worksheet::Remaining]) {
        if list.is_empty() {
            return;
        }
        self.heading(heading);
        for one in list {
            self.wrapped(
                "  - ",
                &format!("{}: {} ({})", one.title, one.fact, one.places.words()),
            );
        }
    }
}

/// Anchors that are the same but for where they stand: what they are, then where.
fn anchor_words(anchors: &AnchorRow) -> String {
    let mut text = anchors.kind.clone();
    if anchors.diameter != "–" {
        let AnchorRow {
            diameter,
            embedment,
            washer,
            ..
        } = anchors;
        text = format!("{text} {diameter}, embedment {embedment}, washer {washer}");
    }
    if !anchors.note.is_empty() {
        text.push_str("; ");
        text.push_str(&anchors.note);
    }
    let stations: Vec<&str> = anchors.placed.iter().map(|placed| placed.at.as_str()).collect();
    format!("{text}: {}", stations.join(", "))
}
