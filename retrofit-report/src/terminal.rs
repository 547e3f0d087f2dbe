//! The report on a terminal: the answer first, one line for each wall line, then what to do about it.

use std::fmt::Write;

use anstyle::{AnsiColor, Style};
use retrofit_core::check::Ruling;
use unicode_width::UnicodeWidthStr;

use crate::result::figures::NOT_SEEN;
use crate::result::wording::sentence_case;
use crate::result::{Comparison, Place, Report, Trust, Verdict};

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

    let amiss = std::iter::once(("the house as a whole", &report.whole_house)).chain(
        report
            .wall_lines
            .iter()
            .map(|line| (line.name.as_str(), &line.findings)),
    );
    let mut is_first = true;
    for (name, place) in amiss {
        page.amiss(name, place, &mut is_first);
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
        page.heading("Figures to confirm before acting on this");
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

    fn amiss(&mut self, name: &str, place: &Place, is_first: &mut bool) {
        let falling_short = |ruling: Ruling| matches!(ruling, Ruling::NotMet | Ruling::Outside);
        for (index, row) in place
            .rows
            .iter()
            .filter(|row| falling_short(row.ruling))
            .enumerate()
        {
            if std::mem::take(is_first) {
                self.heading("What falls short");
            }
            if index == 0 {
                self.line(&format!("  {}", self.bold(name)));
            }
            let mut text = row.title.clone();
            if let Some(measured) = &row.measured {
                let _ = write!(text, ": {} found", measured.shown);
                if let Some(required) = &row.required {
                    let _ = write!(text, ", {} asked for", required.shown);
                }
            }
            if let Some(margin) = &row.margin {
                let _ = write!(text, ", {}", margin.shown);
            }
            if let Some(clause) = row.clauses.first() {
                let confirm = if clause.confirm { ", to confirm" } else { "" };
                let _ = write!(text, " ({}{confirm})", clause.section);
            }
            if let Some(help) = &row.help {
                let _ = write!(text, ". {}", help.fix);
            }
            self.wrapped("    - ", &text);
        }
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
