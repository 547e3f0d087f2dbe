//! Comments in a house file.

use std::borrow::Cow;

/// The text with a space for every byte of a comment, so that everything else stays where it is. A comment begins
/// with `//` and ends with its line, or stands between `/*` and `*/`; one that is not closed is left as it is, for the
/// reader to complain of.
///
/// ```
/// use retrofit_report::input::without_comments;
/// assert_eq!(without_comments("{} // none"), "{}        ");
/// assert_eq!(without_comments(r#"{"name": "a // b"}"#), r#"{"name": "a // b"}"#);
/// ```
pub fn without_comments(text: &str) -> Cow<'_, str> {
    // Most files have none, and what has no slash is looked through only once.
    if memchr::memchr(b'/', text.as_bytes()).is_none() {
        return Cow::Borrowed(text);
    }
    let mut plain = String::with_capacity(text.len());
    let mut rest = text;
    let mut in_quotes = false;
    while let Some(at) = rest.find(['"', '\\', '/']) {
        let (before, from) = rest.split_at(at);
        plain.push_str(before);
        let comment = if in_quotes { None } else { comment_at(from) };
        let taken = if let Some(length) = comment {
            let (comment, _) = from.split_at(length);
            let blank = |byte| {
                if matches!(byte, b'\n' | b'\r') {
                    char::from(byte)
                } else {
                    ' '
                }
            };
            plain.extend(comment.bytes().map(blank));
            length
        } else {
            let escaped = in_quotes && from.starts_with('\\');
            let kept = from
                .chars()
                .take(1 + usize::from(escaped))
                .map(char::len_utf8)
                .sum();
            in_quotes ^= from.starts_with('"');
            plain.push_str(from.get(..kept).unwrap_or_default());
            kept
        };
        rest = from.get(taken..).unwrap_or_default();
    }
    plain.push_str(rest);
    Cow::Owned(plain)
}

/// The length of the comment that a text begins with.
fn comment_at(text: &str) -> Option<usize> {
    if text.starts_with("//") {
        return Some(text.find('\n').unwrap_or(text.len()));
    }
    let inside = text.strip_prefix("/*")?;
    inside.find("*/").map(|end| end + 4)
}

#[cfg(test)]
mod tests {
    use super::*;
    use rstest::rstest;

    #[rstest]
    #[case("{} // a", "{}     ")]
    #[case("{// é\n}", "{     \n}")]
    #[case("{/* a\r\n*/}", "{    \r\n  }")]
    #[case(
        r#"{"a": "\"// no comment", "b": "/* nor */"}"#,
        r#"{"a": "\"// no comment", "b": "/* nor */"}"#
    )]
    #[case(r#""\\"//x"#, r#""\\"   "#)]
    #[case("{/* open", "{/* open")]
    #[case("/", "/")]
    fn a_comment_becomes_blank_and_nothing_moves(#[case] text: &str, #[case] plain: &str) {
        assert_eq!(without_comments(text), plain);
        assert_eq!(plain.len(), text.len());
    }
}
