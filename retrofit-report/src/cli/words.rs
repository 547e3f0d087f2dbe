//! Text for a terminal of eighty columns and more.

use std::fmt::Write;

const COLUMNS: usize = 96;

/// Breaks a text into lines with the same indent.
pub(super) fn paragraph(indent: usize, text: &str) -> String {
    let mut lines = String::new();
    let mut width = 0;
    for word in text.split_whitespace() {
        let columns = word.chars().count();
        if width > 0 && width + 1 + columns <= COLUMNS.saturating_sub(indent) {
            lines.push(' ');
            width += 1 + columns;
        } else {
            if width > 0 {
                lines.push('\n');
            }
            lines.extend(std::iter::repeat_n(' ', indent));
            width = columns;
        }
        lines.push_str(word);
    }
    lines.push('\n');
    lines
}

/// Adds a heading and a text under it.
pub(super) fn section(page: &mut String, heading: &str, text: &str) {
    // Writing to a string cannot fail.
    let _ = write!(page, "\n{heading}\n{}", paragraph(2, text));
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lines_are_broken_between_words_and_no_word_is_lost() {
        let text = "word ".repeat(100);
        let lines = paragraph(4, &text);
        assert!(
            lines
                .lines()
                .all(|line| line.len() <= COLUMNS && line.starts_with("    word"))
        );
        assert_eq!(lines.split_whitespace().count(), 100);
    }
}
