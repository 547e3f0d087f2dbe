//! Counts and money, as a page says them.

/// A count with separators, and what is counted.
pub fn count(number: u64, what: &str) -> String {
    let s = if number == 1 { "" } else { "s" };
    format!("{} {what}{s}", separated(&number.to_string()))
}

/// A count with separators.
pub fn number(number: u64) -> String {
    separated(&number.to_string())
}

/// Whole dollars with separators.
pub fn money(dollars: f64) -> String {
    let digits = format!("{:.0}", dollars.abs());
    let sign = if dollars < 0.0 && digits != "0" { "–" } else { "" };
    format!("{sign}${}", separated(&digits))
}

fn separated(digits: &str) -> String {
    let mut text = String::with_capacity(digits.len() + digits.len() / 3);
    for (position, digit) in digits.chars().enumerate() {
        if position > 0 && (digits.len() - position).is_multiple_of(3) {
            text.push(',');
        }
        text.push(digit);
    }
    text
}

#[cfg(test)]
mod tests {
    use super::*;
    use rstest::rstest;

    #[rstest]
    #[case(0.0, "$0")]
    #[case(999.4, "$999")]
    #[case(1000.0, "$1,000")]
    #[case(2_500_000.0, "$2,500,000")]
    #[case(-1234.0, "–$1,234")]
    #[case(-0.2, "$0")]
    fn money_is_whole_dollars(#[case] dollars: f64, #[case] text: &str) {
        assert_eq!(money(dollars), text);
    }

    #[test]
    fn one_house_is_no_houses() {
        assert_eq!(count(1, "house"), "1 house");
        assert_eq!(count(12_345, "house"), "12,345 houses");
    }
}
