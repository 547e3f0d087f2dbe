//! Numbers as people write them into tables: with thousands set apart, with half stories, with a dollar sign.

use serde::{Deserialize, Serialize};

/// What stands before the decimals of a number.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum DecimalMark {
    /// `1,234.5`
    #[default]
    Point,
    /// `1.234,5`
    Comma,
}

/// Writes a number plainly: digits, and a point with decimals where it has any. False, and nothing written, where the
/// text is no number.
///
/// Thousands are set apart in threes or not at all, so that a list such as `1,2` is not taken for twelve. Zeros after
/// the decimals say nothing here (`1926.0` is a year that went through a spreadsheet) and are left away.
///
/// ```
/// use retrofit_core::portfolio::{DecimalMark, plain_number};
///
/// let plain = |text: &str, mark| {
///     let mut plain = String::new();
///     plain_number(text, mark, &mut plain).then_some(plain)
/// };
/// assert_eq!(plain("$1,234.50", DecimalMark::Point).as_deref(), Some("1234.5"));
/// assert_eq!(plain("1.234,5", DecimalMark::Comma).as_deref(), Some("1234.5"));
/// assert_eq!(plain("1 1/2", DecimalMark::Point).as_deref(), Some("1.5"));
/// assert_eq!(plain("2½", DecimalMark::Point).as_deref(), Some("2.5"));
/// assert_eq!(plain("1,2", DecimalMark::Point), None);
/// assert_eq!(plain("6'-0\"", DecimalMark::Point), None);
/// ```
pub fn plain_number(text: &str, mark: DecimalMark, out: &mut String) -> bool {
    out.clear();
    let text = text.trim();
    let (minus, text) = match text.strip_prefix('-') {
        Some(rest) => ("-", rest),
        None => ("", text),
    };
    let text = text.strip_prefix('$').map_or(text, str::trim_start);
    out.push_str(minus);
    let is_number = mixed(text, out) || grouped(text, mark, out);
    if !is_number {
        out.clear();
    }
    is_number
}

/// A whole number and a fraction of halves or quarters, or such a fraction alone: `1 1/2`, `1-1/2`, `2½`, `1/2`.
fn mixed(text: &str, out: &mut String) -> bool {
    const FRACTIONS: [(&str, &str); 6] = [
        ("1/2", ".5"),
        ("½", ".5"),
        ("1/4", ".25"),
        ("¼", ".25"),
        ("3/4", ".75"),
        ("¾", ".75"),
    ];
    let Some((whole, decimals)) = FRACTIONS
        .iter()
        .find_map(|(fraction, decimals)| Some((text.strip_suffix(fraction)?, decimals)))
    else {
        return false;
    };
    // "11/2" is no one and a half: digits need a gap before a fraction of digits.
    let digits = whole.trim_end_matches([' ', '-']);
    let needs_gap = text.ends_with('2') || text.ends_with('4');
    if needs_gap && !digits.is_empty() && digits.len() == whole.len() {
        return false;
    }
    if !digits.bytes().all(|byte| byte.is_ascii_digit()) || (digits.is_empty() && !whole.is_empty()) {
        return false;
    }
    out.push_str(if digits.is_empty() { "0" } else { digits });
    out.push_str(decimals);
    true
}

fn grouped(text: &str, mark: DecimalMark, out: &mut String) -> bool {
    let (point, apart) = match mark {
        DecimalMark::Point => ('.', ','),
        DecimalMark::Comma => (',', '.'),
    };
    let (whole, decimals) = text.split_once(point).unwrap_or((text, ""));
    let is_digits = |text: &str| text.bytes().all(|byte| byte.is_ascii_digit());
    if !is_digits(decimals) || (whole.is_empty() && decimals.is_empty()) {
        return false;
    }
    let is_set_apart = whole.contains(apart);
    for (position, group) in whole.split(apart).enumerate() {
        let length = group.len();
        let fits = !is_set_apart || length == 3 || (position == 0 && (1..=3).contains(&length));
        if !fits || !is_digits(group) {
            return false;
        }
        out.push_str(group);
    }
    if whole.is_empty() {
        out.push('0');
    }
    let decimals = decimals.trim_end_matches('0');
    if !decimals.is_empty() {
        out.push('.');
        out.push_str(decimals);
    }
    true
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;
    use rstest::rstest;

    fn plain(text: &str, mark: DecimalMark) -> Option<String> {
        let mut out = String::from("left over");
        plain_number(text, mark, &mut out).then_some(out)
    }

    #[rstest]
    #[case("1926.0", "1926")]
    #[case("0012", "0012")]
    #[case(".5", "0.5")]
    #[case("-1,000", "-1000")]
    #[case("$ 412,300", "412300")]
    #[case("1-1/2", "1.5")]
    #[case("½", "0.5")]
    #[case("1 3/4", "1.75")]
    fn numbers_are_written_plainly(#[case] text: &str, #[case] expected: &str) {
        assert_eq!(plain(text, DecimalMark::Point).as_deref(), Some(expected));
    }

    #[rstest]
    #[case("")]
    #[case(".")]
    #[case("-")]
    #[case("1,23")]
    #[case("1,2345")]
    #[case(",123")]
    #[case("1234,567")]
    #[case("11/2")]
    #[case("-- 1/2")]
    #[case("1e3")]
    #[case("1.5.2")]
    #[case("12 ft")]
    #[case("NaN")]
    fn what_is_no_number_is_left_alone(#[case] text: &str) {
        assert_eq!(plain(text, DecimalMark::Point), None);
    }

    proptest! {
        /// Against the standard library: what it reads as digits with decimals comes to the same value.
        #[test]
        fn plain_decimals_keep_their_value(text in "-?[0-9]{1,9}(\\.[0-9]{0,4})?") {
            let value: f64 = plain(&text, DecimalMark::Point).unwrap().parse().unwrap();
            prop_assert_eq!(value.to_bits(), text.parse::<f64>().unwrap().to_bits());
        }

        #[test]
        fn thousands_set_apart_make_no_difference(number in 0u32..) {
            let digits = number.to_string();
            let mut apart = String::new();
            for (position, digit) in digits.chars().enumerate() {
                if position > 0 && (digits.len() - position) % 3 == 0 {
                    apart.push(',');
                }
                apart.push(digit);
            }
            prop_assert_eq!(plain(&apart, DecimalMark::Point), Some(digits.clone()));
            prop_assert_eq!(plain(&apart.replace(',', "."), DecimalMark::Comma), Some(digits));
        }

        #[test]
        fn any_text_can_be_asked(text in ".{0,20}") {
            for mark in [DecimalMark::Point, DecimalMark::Comma] {
                if let Some(plain) = plain(&text, mark) {
                    prop_assert!(plain.parse::<f64>().is_ok(), "{}", plain);
                }
            }
        }
    }
}
