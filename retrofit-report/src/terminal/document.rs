//! A page put together from its parts, on a terminal.

use retrofit_core::check::Ruling;

use super::{COLUMNS, Page, shown_width};
use crate::document::{Cell, Document, FilledTable, Part};

/// Renders a page; with styles, it carries codes for bold and color.
pub fn render_document(document: &Document, styled: bool) -> String {
    let mut page = Page::new(styled);
    page.line(&page.bold(&document.house));
    page.wrapped("", &format!("{}.", document.kind));
    for (label, fact) in &document.head {
        page.wrapped(&format!("{label}: "), fact);
    }
    page.blank();
    let headline = page.ruling(document.answer.mark, &document.answer.headline, 0);
    page.line(&headline);
    page.wrapped("", &document.answer.meaning);
    for warning in &document.warnings {
        page.wrapped("Note: ", warning);
    }
    for section in &document.sections {
        // A section of drawings has nothing that a terminal can show.
        if section.parts.iter().all(|part| matches!(part, Part::Drawing(_))) {
            continue;
        }
        page.heading(&section.heading);
        for part in &section.parts {
            page.part(part);
        }
    }
    page.blank();
    page.wrapped("", document.deferral);
    page.text
}

impl Page {
    fn part(&mut self, part: &Part) {
        match part {
            Part::Heading { words } => self.line(&format!("  {words}")),
            Part::Words { words } => self.wrapped("  ", words),
            Part::Warning { words } => self.wrapped("  Note: ", words),
            Part::List { items } => {
                for item in items {
                    self.wrapped("  - ", item);
                }
            }
            Part::Table(table) => self.table(table),
            Part::Drawing(_) | Part::Chart { .. } => {}
        }
    }

    /// A table in columns where it fits; otherwise row by row, each cell with the head of its column.
    fn table(&mut self, table: &FilledTable) {
        self.wrapped("  ", &format!("{}:", table.caption));
        let widths: Vec<usize> = (0..table.columns.len())
            .map(|column| {
                let cells = table.rows.iter().filter_map(|row| row.get(column));
                let head = table.columns.get(column).map_or(0, |head| shown_width(head));
                cells
                    .map(|cell| shown_width(&whole(cell)))
                    .max()
                    .unwrap_or(0)
                    .max(head)
            })
            .collect();
        let fits = 4 + widths.iter().map(|width| width + 2).sum::<usize>() <= COLUMNS;
        if fits {
            let head = table.columns.iter().zip(&widths);
            let head: Vec<String> = head.map(|(head, width)| filled(head, *width)).collect();
            self.line(format!("    {}", head.join("  ")).trim_end());
            for row in &table.rows {
                let cells: Vec<String> = row
                    .iter()
                    .zip(&widths)
                    .map(|(cell, width)| filled(&whole(cell), *width))
                    .collect();
                self.line(format!("    {}", cells.join("  ")).trim_end());
            }
            return;
        }
        for row in &table.rows {
            let mut cells = table.columns.iter().zip(row);
            if let Some((_, name)) = cells.next() {
                self.wrapped("    ", &whole(name));
            }
            for (head, cell) in cells.filter(|(_, cell)| !cell.words.is_empty()) {
                self.wrapped(&format!("      {head}: "), &whole(cell));
            }
        }
    }
}

fn filled(words: &str, width: usize) -> String {
    format!("{words}{}", " ".repeat(width.saturating_sub(shown_width(words))))
}

/// Everything in a cell, with a mark where it is a ruling against something.
fn whole(cell: &Cell) -> String {
    let mark = match cell.mark {
        Some(Ruling::NotMet) => "■ ",
        Some(Ruling::Outside) => "◆ ",
        Some(Ruling::NotDetermined) => "○ ",
        _ => "",
    };
    if cell.small.is_empty() {
        format!("{mark}{}", cell.words)
    } else {
        format!("{mark}{} ({})", cell.words, cell.small)
    }
}
