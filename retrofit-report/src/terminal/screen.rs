//! The engineering screen on a terminal: the answer, then each wall line with its links, then the ladder.

use crate::result::wording::sentence_case;
use crate::screen::{FallsShort, Found, LinePart, LinkRow, LinkState, ScreenReport, ScreensReport};
use retrofit_core::check::Ruling;

use super::{NAME, Page, padded, shown_width};

/// Renders an engineering screen; with styles, it carries codes for bold and color.
pub fn render_screen(report: &ScreenReport, styled: bool) -> String {
    let mut page = Page::new(styled);
    page.line(&page.bold(&report.house));
    page.wrapped("", &format!("{}.", report.title));
    let by: Vec<&str> = report
        .editions
        .iter()
        .map(|edition| edition.name.as_str())
        .collect();
    page.wrapped("by ", &format!("{}; {}", by.join("; "), report.method.words));
    page.blank();
    let headline = page.ruling(report.standing.mark, &report.standing.headline, 0);
    page.line(&headline);
    page.wrapped("", &report.standing.meaning);
    for warning in &report.warnings {
        page.wrapped("Note: ", warning);
    }
    let Some(found) = &report.found else {
        page.blank();
        page.wrapped("", report.deferral);
        return page.text;
    };

    page.demand(found);
    for line in &found.lines {
        page.wall_line(line);
    }
    page.heading("The house as a whole");
    page.links(&found.of_house);
    page.ladder(found);

    page.heading("Figures and equations, by how well they were seen");
    for count in &found.standings {
        page.wrapped("  - ", &format!("{}: {}", count.words, count.count));
    }
    page.blank();
    page.wrapped("", report.deferral);
    page.wrapped(
        "",
        "`retrofit explain --house FILE` prints any number with everything behind it.",
    );
    page.text
}

/// Renders screens side by side.
pub fn render_screens(screens: &ScreensReport, styled: bool) -> String {
    let mut page = Page::new(styled);
    page.line(&page.bold(&screens.house));
    page.wrapped("", &format!("{}.", screens.title));
    page.blank();
    page.wrapped("", &screens.answer);
    let by_each = |page: &mut Page, what: &str, shown: &[String], differ: bool| {
        let mark = if differ { "  ≠ they differ" } else { "" };
        page.line(&format!("  {what}{mark}"));
        for (column, shown) in screens.columns.iter().zip(shown) {
            page.wrapped(&format!("    {}  ", padded(column, NAME)), shown);
        }
    };
    page.heading("The house");
    by_each(&mut page, "Load path", &screens.headlines, false);
    for number in &screens.numbers {
        by_each(&mut page, &number.what, &number.by, number.differ);
    }
    for line in &screens.lines {
        page.heading(&format!(
            "Wall line {}: {}, demand over capacity",
            line.number, line.name
        ));
        by_each(&mut page, "Load path", &line.path_words, false);
        by_each(&mut page, "Weakest link", &line.weakest, line.differ);
        for link in line
            .links
            .iter()
            .filter(|link| link.ratios.iter().any(|ratio| ratio != "no part in the path"))
        {
            by_each(&mut page, &link.title, &link.ratios, link.differ);
        }
    }
    page.blank();
    page.wrapped("", screens.deferral);
    page.wrapped(
        "",
        "No edition is taken to be the right one: the local code official decides which applies.",
    );
    page.text
}

/// Filled up to a number of columns; a longer text stays whole.
fn wide(text: &str, columns: usize) -> String {
    format!("{text}{}", " ".repeat(columns.saturating_sub(shown_width(text))))
}

impl Page {
    /// Site, weight and base shears.
    fn demand(&mut self, found: &Found) {
        self.heading("Site, and what was taken for granted");
        match &found.shaking {
            Some(shaking) => self.wrapped("  ", &format!("Design acceleration {}", shaking.amount.shown)),
            None => self.wrapped("  ", &format!("Shaking not known: {}", found.shaking_unknown)),
        }
        for what in &found.granted {
            self.wrapped("  - ", &format!("taken for granted: {what}"));
        }
        if !found.unknowns.is_empty() {
            self.wrapped("  Not known: ", &found.unknowns.join("; "));
        }

        self.heading("Weight");
        let widest = found
            .weights
            .iter()
            .map(|part| shown_width(part.what))
            .max()
            .unwrap_or(0);
        for part in &found.weights {
            self.line(&format!(
                "  {}  {}  {}",
                wide(&sentence_case(part.what), widest),
                wide(&part.at, 12),
                part.weight.shown
            ));
        }
        self.line(&format!(
            "  {}  {}  {}",
            wide("Together", widest),
            wide("", 12),
            self.bold(&found.weight.amount.shown)
        ));

        self.heading("Base shear, and the forces at the levels");
        for direction in &found.directions {
            self.line(&format!("  Shaking {}", direction.direction));
            let simplified = direction
                .simplified
                .as_ref()
                .map_or("does not apply", |shown| shown.amount.shown.as_str());
            for (what, shown) in [
                (
                    "Seismic response coefficient",
                    direction.coefficient.amount.shown.as_str(),
                ),
                (
                    "Base shear, equivalent lateral force",
                    &direction.base_shear.amount.shown,
                ),
                ("Base shear, simplified procedure", simplified),
            ] {
                self.line(&format!("    {}  {shown}", wide(what, 38)));
            }
            for level in &direction.levels {
                let what = format!("Force at the {}", level.at);
                self.line(&format!("    {}  {}", wide(&what, 38), level.force.amount.shown));
            }
        }
    }

    fn wall_line(&mut self, line: &LinePart) {
        self.heading(&format!("Wall line {}: {}", line.number, line.name));
        let standing = self.ruling(line.mark, line.path_words, 0);
        self.line(&format!("  {standing}"));
        self.wrapped("  ", &line.sentence);
        let rigid = line
            .rigid
            .as_ref()
            .map_or("not computed", |shown| shown.amount.shown.as_str());
        self.wrapped(
            "  ",
            &format!(
                "Shear from {} shaking: flexible floor {}; rigid floor {rigid}; the greater {}; every link has to \
                 carry {}.",
                line.direction, line.flexible.amount.shown, line.envelope.amount.shown, line.factored.amount.shown
            ),
        );
        if let Some(drag) = &line.drag {
            self.wrapped(
                "  ",
                &format!(
                    "Floor beyond its ends, {} long, has to be dragged into it.",
                    drag.shown
                ),
            );
        }
        if let Some(uplift) = &line.uplift {
            let uplift = &uplift.amount.shown;
            self.wrapped(
                "  ",
                &format!(
                    "Uplift at the end of its worst panel, which a hold-down would have to hold: {uplift}."
                ),
            );
        }
        self.links(&line.links);
    }

    fn ladder(&mut self, found: &Found) {
        self.heading("The ladder: what goes first, by the shaking at capacity");
        let widest = found
            .ladder
            .iter()
            .map(|rung| shown_width(&rung.shaking.shown))
            .max()
            .unwrap_or(0);
        let names = found
            .ladder
            .iter()
            .map(|rung| shown_width(&rung.wall_line))
            .max()
            .unwrap_or(0);
        for rung in &found.ladder {
            self.line(&format!(
                "  {}  {}  {}",
                wide(&rung.shaking.shown, widest),
                padded(&rung.wall_line, names),
                rung.words
            ));
        }
    }

    fn links(&mut self, links: &[LinkRow]) {
        for link in links {
            let (ruling, words) = match (link.state, link.falls_short) {
                (LinkState::NotApplicable, _) => continue,
                (LinkState::NotDetermined, _) => (Ruling::NotDetermined, "not determined".to_owned()),
                (LinkState::NoCapacity, _) => (Ruling::NotMet, "no capacity".to_owned()),
                (LinkState::Computed, falls_short) => {
                    let ruling = match falls_short {
                        Some(FallsShort::Surely) => Ruling::NotMet,
                        Some(FallsShort::Perhaps) => Ruling::NotDetermined,
                        Some(FallsShort::No) | None => Ruling::Met,
                    };
                    (ruling, format!("demand over capacity {}", link.ratio_words()))
                }
            };
            let ruling = self.ruling(ruling, &words, 0);
            self.line(&format!("  {}: {ruling}", self.bold(&link.title)));
            if !link.why.is_empty() {
                self.wrapped("      ", &link.why);
            }
            if let (Some(demand), Some(capacity), Some(margin), Some(shaking)) =
                (&link.demand, &link.capacity, &link.margin, &link.shaking)
            {
                self.wrapped(
                    "      ",
                    &format!(
                        "demand {}; capacity {}; {}",
                        demand.shown, capacity.shown, margin.words
                    ),
                );
                let mut behind = format!("capacity reached at {}", shaking.shown);
                if !link.governs.is_empty() {
                    behind.push_str("; governed by ");
                    behind.push_str(link.governs);
                }
                if let Some(widest) = link.widest_words {
                    behind.push_str("; widened most by ");
                    behind.push_str(widest);
                }
                if let Some(standing) = link.standing_words {
                    behind.push_str("; weakest source: ");
                    behind.push_str(standing);
                }
                self.wrapped("      ", &behind);
            }
        }
        let none: Vec<&str> = links
            .iter()
            .filter(|link| link.state == LinkState::NotApplicable)
            .map(|link| link.title.as_str())
            .collect();
        if !none.is_empty() {
            self.wrapped("  No part in the path: ", &none.join("; "));
        }
    }
}
