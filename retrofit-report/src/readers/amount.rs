//! Amounts in the words of a language.

use retrofit_core::check::{Limit, Quantity, Ruling};

use crate::language::{LanguageError, Words};
use crate::result::Amounts;

/// What was found and what is asked for, where both can be said with no term of the trade.
pub(super) fn found_and_asked(
    amounts: Amounts,
    words: &Words,
) -> Result<Option<(String, String)>, LanguageError> {
    let found = said(amounts.measured, Limit::None, words)?;
    let asked = said(amounts.required, amounts.limit, words)?;
    Ok(found.zip(asked))
}

/// A quantity; `None` where there is nothing to show or only a term of the trade.
fn said(quantity: Quantity, limit: Limit, words: &Words) -> Result<Option<String>, LanguageError> {
    let length = |length| words.length_to_act_on(length);
    let between = |least: String, most: String| {
        words.say(
            "amount-between",
            &[("least", least.into()), ("most", most.into())],
        )
    };
    let of_one = |key: &str, amount: String| words.say(key, &[("amount", amount.into())]);
    let plain = match quantity {
        Quantity::Length(only) => length(only)?,
        Quantity::LessThan(most) => return of_one("amount-less-than", length(most)?).map(Some),
        Quantity::LengthBetween(Some(least), Some(most)) | Quantity::LengthRange(least, most) => {
            return between(length(least)?, length(most)?).map(Some);
        }
        Quantity::LengthBetween(Some(least), None) => {
            return of_one("amount-at-least", length(least)?).map(Some);
        }
        Quantity::LengthBetween(None, Some(most)) => {
            return of_one("amount-at-most", length(most)?).map(Some);
        }
        Quantity::CountBetween(least, most) => {
            return between(least.to_string(), most.to_string()).map(Some);
        }
        Quantity::Share(share, whole) => words.say(
            "amount-share",
            &[
                ("share", share.to_string().into()),
                ("length", length(whole)?.into()),
            ],
        )?,
        Quantity::OutOf(some, all) => {
            words.say("amount-out-of", &[("some", some.into()), ("all", all.into())])?
        }
        Quantity::Stories(stories) if stories.to_string() == stories.counted().to_string() => {
            words.say("amount-stories", &[("count", stories.counted().into())])?
        }
        Quantity::Count(count) => count.to_string(),
        Quantity::Percent(percent) => percent.to_string(),
        Quantity::Slope(slope) => slope.to_string(),
        Quantity::None
        | Quantity::LengthBetween(None, None)
        | Quantity::Stories(_)
        | Quantity::Area(_)
        | Quantity::Nail(_)
        | Quantity::Washer(_)
        | Quantity::Word(_)
        | Quantity::Figure(_) => return Ok(None),
    };
    match limit {
        Limit::None => Ok(Some(plain)),
        Limit::AtMost => of_one("amount-at-most", plain).map(Some),
        Limit::AtLeast => of_one("amount-at-least", plain).map(Some),
    }
}

/// A ruling in the words for readers who know nothing of the trade.
pub(super) fn ruling(ruling: Ruling, words: &Words) -> Result<String, LanguageError> {
    words.term(&format!("ruling-{}", key_of(ruling)))
}

/// The part of the keys of messages that tells a ruling.
pub(super) const fn key_of(ruling: Ruling) -> &'static str {
    match ruling {
        Ruling::Met => "met",
        Ruling::NotMet => "not-met",
        Ruling::NotDetermined => "not-determined",
        Ruling::Outside => "outside",
        Ruling::NotApplicable => "not-applicable",
    }
}

/// An amount of whole dollars from the text of a takeoff, such as `4800.00`, as a reader writes it: `$4,800`.
pub(super) fn dollars(plain: &str) -> String {
    let whole = plain.strip_suffix(".00").unwrap_or(plain);
    let (whole, cents) = whole.split_once('.').unwrap_or((whole, ""));
    let mut shown = String::from("$");
    for (position, digit) in whole.chars().enumerate() {
        if position > 0 && (whole.len() - position).is_multiple_of(3) {
            shown.push(',');
        }
        shown.push(digit);
    }
    if !cents.is_empty() {
        shown.push('.');
        shown.push_str(cents);
    }
    shown
}

/// The name of a side: one that many records use is said in the language, any other stands as it was written.
pub(super) fn side_name(name: &str, words: &Words) -> Result<String, LanguageError> {
    let key = format!("side-name-{name}");
    if words.has(&key) {
        words.term(&key)
    } else {
        Ok(name.to_owned())
    }
}

#[cfg(test)]
mod tests {
    use rstest::rstest;

    use super::*;

    #[rstest]
    #[case("0.00", "$0")]
    #[case("900.00", "$900")]
    #[case("4800.00", "$4,800")]
    #[case("1234567.00", "$1,234,567")]
    #[case("4800.50", "$4,800.50")]
    fn dollars_are_written_as_readers_write_them(#[case] plain: &str, #[case] expected: &str) {
        assert_eq!(dollars(plain), expected);
    }
}
