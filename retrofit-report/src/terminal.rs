//! The report on a terminal: the answer first, one line for each wall line, then what to do about it.

mod before_after;
mod document;
mod screen;
mod worksheet;

use std::fmt::Write;

use anstyle::{AnsiColor, Style};
use retrofit_core::check::Ruling;
use unicode_width::UnicodeWidthStr;

use crate::result::figures::NOT_SEEN;
use crate::result::wording::sentence_case;
use crate::result::{Comparison, Explained, FallsShort, Report, Trust, Verdict};

pub use before_after::render_before_after;
pub use document::render_document;
pub use screen::{render_screen, render_screens};
pub use worksheet::{render_worksheet, render_worksheets};

/// The most columns a line takes, where its words can be broken.
const COLUMNS: usize = 98;
/// The most columns a name takes in a list.
const NAME: usize = 30;

/// Renders a report; with styles, it carries codes for bold and color.
pub fn render(report: &Report, styled: bool) -> String {
    let mut page = Page::new(styled);
    page.line(&page.bold(&report.house));
    page.wrapped("checked against ", &report.provisions.title);
    page.blank();
    page.headline(&report.verdict);
    for warning in &report.warnings {
        page.wrapped("Note: ", warning);
    }
    page.wrapped("", &report.meaning);
    page.wrapped("", &report.verdict.range);

    page.heading("Wall lines");
    let width = report
        .wall_lines
        .iter()
        .map(|line| shown_width(&line.name))
        .max()
        .unwrap_or(0);
    for line in &report.wall_lines {
        let short = report
            .shortfalls
            .iter()
            .find(|short| short.number.as_ref() == Some(&line.number));
        let ruling = page.ruling(line.verdict.ruling, line.verdict.ruling.words(), 14);
        let name = padded(&line.name, width);
        let detail = match short {
            Some(short) => match &short.margin {
                Some(margin) => format!("{}, {margin}", short.title.to_lowercase()),
                None => short.title.to_lowercase(),
            },
            None => tally(&line.verdict),
        };
        page.line(&format!("  {name}  {ruling}  {detail}"));
    }

    if !report.explained.is_empty() {
        page.heading("What falls short");
        for check in &report.explained {
            page.falls_short(check);
        }
    }

    if let Some(screen) = &report.screen {
        page.heading("Engineering screen");
        page.wrapped("  ", &screen.about);
        for row in &screen.rows {
            let path = page.ruling(row.path_mark, row.path_words, 0);
            page.line(&format!(
                "  {}: provisions {}, screen {path}",
                row.wall_lines.join(", "),
                row.ruling_words
            ));
            page.wrapped("      ", &row.why);
        }
    }

    if !report.next.is_empty() {
        page.heading("Look at next, in the order of a crawl");
        for look in &report.next {
            let places = if look.places.is_empty() {
                String::new()
            } else {
                format!(": {}", look.places.join(", "))
            };
            page.wrapped("  - ", &format!("{}{places}", look.what));
        }
    }
    let to_confirm = || {
        let figures = report.figures.iter();
        figures.filter(|figure| figure.trust == Trust::Confirm)
    };
    if to_confirm().next().is_some() {
        page.heading(&report.to_confirm_heading);
        page.wrapped("  ", "Confirm before acting on a finding that applies them.");
        for figure in to_confirm() {
            // The document stands at the top; it is named again only where the figure comes from another.
            let document = Some(&figure.document).filter(|document| **document != report.provisions.document);
            let place = [document, Some(&figure.section)].into_iter().flatten();
            let place: Vec<&str> = place
                .map(String::as_str)
                .filter(|part| !part.is_empty())
                .collect();
            let mut text = format!("{}: {}", figure.title, figure.value);
            if !place.is_empty() {
                let _ = write!(text, ", {}", place.join(", "));
            }
            if figure.value != NOT_SEEN {
                let _ = write!(text, " ({})", figure.standing);
            }
            if figure.decides {
                text.push_str(" – a verdict above rests on it");
            }
            page.wrapped("  - ", &text);
        }
    }
    page.blank();
    page.wrapped(
        "",
        "Not a design or a permit: the local code official and a licensed engineer decide.",
    );
    page.text
}

/// Renders a comparison.
pub fn render_comparison(comparison: &Comparison, styled: bool) -> String {
    let mut page = Page::new(styled);
    page.line(&page.bold(&comparison.house));
    page.wrapped("", &comparison.answer);
    page.heading("Verdicts");
    for place in &comparison.places {
        let mark = if place.disagree {
            "  ≠ the sets differ"
        } else {
            ""
        };
        page.line(&format!("  {}{mark}", page.bold(&place.name)));
        for (set, verdict) in comparison.sets.iter().zip(&place.verdicts) {
            let ruling = page.ruling(verdict.ruling, &verdict.words, 0);
            page.line(&format!("    {}  {ruling}", padded(&set.id, NAME)));
        }
        if let Some(screen) = place.screen {
            page.line(&format!("    {}  {screen}", padded("engineering screen", NAME)));
        }
    }
    if !comparison.limits.is_empty() {
        page.heading("Limits that differ");
        for limit in &comparison.limits {
            let places = if limit.places.is_empty() {
                "the house".to_owned()
            } else {
                limit.places.join(", ")
            };
            page.wrapped("  ", &format!("{} ({places})", limit.title));
            for (set, one) in comparison.sets.iter().zip(&limit.limits) {
                let confirm = if one.confirm { ", to confirm" } else { "" };
                let text = format!("{}{confirm}", one.shown);
                page.wrapped(&format!("    {}  ", padded(&set.id, NAME)), &text);
            }
        }
    }
    if let Some(screen) = &comparison.screen {
        page.heading("Engineering screen");
        page.wrapped("  ", screen);
    }
    page.blank();
    page.wrapped(
        "",
        "No set is taken to be the right one: the local code official decides which applies.",
    );
    page.text
}

struct Page {
    text: String,
    styled: bool,
}

impl Page {
    const fn new(styled: bool) -> Self {
        Self {
            text: String::new(),
            styled,
        }
    }

    fn line(&mut self, line: &str) {
        self.text.push_str(line.trim_end());
        self.text.push('\n');
    }

    fn blank(&mut self) {
        self.text.push('\n');
    }

    fn heading(&mut self, words: &str) {
        self.blank();
        self.line(&self.bold(words));
    }

    fn headline(&mut self, verdict: &Verdict) {
        let line = self.ruling(verdict.ruling, &verdict.headline, 0);
        self.line(&line);
    }

    /// One check, the places where it falls short, and the direction of a fix; places of which the same is
    /// to be said stand together.
    fn falls_short(&mut self, check: &Explained) {
        let mut sections: Vec<String> = Vec::new();
        for clause in check.places.iter().filter_map(|place| place.clauses.first()) {
            let confirm = if clause.confirm { ", to confirm" } else { "" };
            let section = format!("{}{confirm}", clause.section);
            if !sections.contains(&section) {
                sections.push(section);
            }
        }
        let title = self.bold(&check.title);
        let sections = sections.join("; ");
        // The widths of the spaces and the brackets are part of the line.
        let is_short = shown_width(&check.title) + shown_width(&sections) + 5 <= COLUMNS;
        match (sections.is_empty(), is_short) {
            (true, _) => self.line(&format!("  {title}")),
            (false, true) => self.line(&format!("  {title} ({sections})")),
            (false, false) => {
                self.line(&format!("  {title}"));
                self.wrapped("    ", &format!("({sections})"));
            }
        }
        let mut said: Vec<(String, Vec<&str>)> = Vec::new();
        for place in &check.places {
            let what = amounts(place);
            let name = place.wall_line.as_deref().unwrap_or("the house");
            match said.iter_mut().find(|(other, _)| *other == what) {
                Some((_, names)) if names.contains(&name) => {}
                Some((_, names)) => names.push(name),
                None => said.push((what, vec![name])),
            }
        }
        for (what, names) in said {
            self.wrapped("    - ", &format!("{}: {what}", names.join(", ")));
        }
        self.wrapped("    ", &check.help.fix);
    }

    /// Words broken at spaces; lines after the first stand under the first word.
    fn wrapped(&mut self, lead: &str, text: &str) {
        let indent = " ".repeat(shown_width(lead));
        let mut line = lead.to_owned();
        let mut is_empty = true;
        for word in text.split(' ') {
            if !is_empty && shown_width(&line) + 1 + shown_width(word) > COLUMNS {
                self.line(&line);
                line.clone_from(&indent);
                is_empty = true;
            }
            if !is_empty {
                line.push(' ');
            }
            line.push_str(word);
            is_empty = false;
        }
        self.line(&line);
    }

    fn bold(&self, text: &str) -> String {
        self.dressed(Style::new().bold(), text)
    }

    /// A ruling with its mark, padded to a number of columns.
    fn ruling(&self, ruling: Ruling, words: &str, columns: usize) -> String {
        let (mark, style) = match ruling {
            Ruling::NotMet => ("■", Style::new().bold().fg_color(Some(AnsiColor::Red.into()))),
            Ruling::Outside => ("◆", Style::new().bold().fg_color(Some(AnsiColor::Magenta.into()))),
            Ruling::NotDetermined => ("○", Style::new().bold().fg_color(Some(AnsiColor::Blue.into()))),
            Ruling::Met | Ruling::NotApplicable => ("–", Style::new()),
        };
        // Where a column is kept, the long name of a ruling would burst it.
        let words = match ruling {
            Ruling::Outside if columns > 0 => "outside",
            _ => words,
        };
        self.dressed(style, &format!("{mark} {}", padded(words, columns)))
    }

    fn dressed(&self, style: Style, text: &str) -> String {
        if self.styled && style != Style::new() {
            format!("{style}{text}{style:#}")
        } else {
            text.to_owned()
        }
    }
}

/// What was found and asked for, or the fact where there are no amounts.
fn amounts(place: &FallsShort) -> String {
    let mut text = match (&place.measured, &place.required) {
        (Some(measured), Some(required)) => {
            format!("{} found, {} asked for", measured.shown, required.shown)
        }
        _ => place.fact.trim_end_matches('.').to_owned(),
    };
    if let Some(margin) = &place.margin {
        let _ = write!(text, ", {}", margin.shown);
    }
    if let Some(station) = &place.station {
        let _ = write!(text, " (station {station})");
    }
    text
}

/// What a wall line without a shortfall came to.
fn tally(verdict: &Verdict) -> String {
    match (verdict.counts.not_determined, verdict.counts.met) {
        (0, _) => sentence_case(&verdict.words).to_lowercase(),
        (1, met) => format!("1 check left open, {met} met"),
        (open, met) => format!("{open} checks left open, {met} met"),
    }
}

fn shown_width(text: &str) -> usize {
    UnicodeWidthStr::width(text)
}

/// A text cut and filled up to a number of columns, [`NAME`] at most; zero columns leave it as it is.
fn padded(text: &str, columns: usize) -> String {
    if columns == 0 {
        return text.to_owned();
    }
    let columns = columns.min(NAME);
    let mut cut = text.to_owned();
    if shown_width(&cut) > columns {
        while shown_width(&cut) + 1 > columns {
            cut.pop();
        }
        cut.push('…');
    }
    let missing = columns.saturating_sub(shown_width(&cut));
    format!("{cut}{}", " ".repeat(missing))
}
