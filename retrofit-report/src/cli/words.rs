//! Pages of text for a terminal.

use std::fmt;

const COLUMNS: usize = 96;

/// A page that is put together line by line.
#[derive(Debug, Default)]
pub(super) struct Page(String);

impl Page {
    /// Adds a line as it stands.
    pub(super) fn line(&mut self, text: fmt::Arguments<'_>) {
        self.0.push_str(&text.to_string());
        self.0.push('\n');
    }

    /// Adds a text, broken between words, with an indent.
    pub(super) fn paragraph(&mut self, indent: usize, text: &str) {
        let mut width = 0;
        for word in text.split_whitespace() {
            let columns = word.chars().count();
            if width > 0 && width + 1 + columns <= COLUMNS.saturating_sub(indent) {
                self.0.push(' ');
                width += 1 + columns;
            } else {
                if width > 0 {
                    self.0.push('\n');
                }
                self.0.extend(std::iter::repeat_n(' ', indent));
                width = columns;
            }
            self.0.push_str(word);
        }
        self.0.push('\n');
    }

    /// Adds a heading after an empty line.
    pub(super) fn heading(&mut self, heading: &str) {
        self.line(format_args!("\n{heading}"));
    }

    /// Adds a heading and a text under it.
    pub(super) fn section(&mut self, heading: &str, text: &str) {
        self.heading(heading);
        self.paragraph(2, text);
    }

    /// The page.
    pub(super) fn into_text(self) -> String {
        self.0
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lines_are_broken_between_words_and_no_word_is_lost() {
        let mut page = Page::default();
        page.paragraph(4, &"word ".repeat(100));
        let lines = page.into_text();
        assert!(
            lines
                .lines()
                .all(|line| line.len() <= COLUMNS && line.starts_with("    word"))
        );
        assert_eq!(lines.split_whitespace().count(), 100);
    }
}
