//! How quantities, rulings and unknowns are said.

use retrofit_core::check::{Limit, Margin, Outcome, Outcomes, Quantity, Ruling, Spare, Verdict};
use retrofit_core::house::{Span, Washer};
use retrofit_core::measure::Length;
use retrofit_core::provisions::{Provisions, Standing, cited};

/// To whom the reader has to turn.
pub const DEFERRAL: &str = "This report compares what was recorded under one house with one published set of \
    prescriptive provisions. It is not a design, a permit or an engineer's opinion. The local code official \
    decides what applies to the house and what is accepted; a licensed engineer decides where the provisions \
    do not reach, and wherever this report leaves a question open. Ask both before work begins.";

/// To whom the reader of a comparison has to turn.
pub const DEFERRAL_COMPARED: &str = "This report compares what was recorded under one house with several \
    published sets of prescriptive provisions; none of them is taken to be the right one. It is not a design, \
    a permit or an engineer's opinion. The local code official decides which provisions apply to the house, if \
    any of these; a licensed engineer decides where they do not reach. Ask both before work begins.";

/// To whom the reader of a comparison of two records has to turn.
pub const DEFERRAL_BEFORE_AFTER: &str = "This report compares two records of one house under one published set of \
    prescriptive provisions. It tells what was recorded, not what is there, and nothing of what the provisions do not \
    cover. It is not a permit, an approval or an engineer's opinion. The local code official decides what is accepted; \
    a licensed engineer decides where the provisions do not reach, and where what was built is not what was designed.";

/// What to mind in a crawl space.
pub const CAUTIONS: [&str; 7] = [
    "Do not go in alone. Tell somebody outside when you enter and when you mean to be out; a crawl space is a \
     confined space, and air, heat and room to turn can run out.",
    "Never work or lie under a beam, post or floor whose support is missing, moved or being replaced.",
    "Treat every wire as live and every pipe as carrying gas. At a smell of gas, touch no switch, leave, and \
     call the gas company from outside.",
    "Keep off wet ground near wiring, and stay out of standing water.",
    "Old pipe and duct wrapping, flooring and plaster may hold asbestos, and old paint lead. Do not break, \
     scrape or sweep what may hold either; have it tested first.",
    "Wear a fitted respirator, eye protection, gloves and long sleeves: soil, droppings, fibers and rusty \
     nails are the usual company.",
    "Look for animals, insects and their nests before you reach or crawl.",
];

/// Text that a user wrote, made printable: line ends and tabs become spaces; other control characters, and
/// characters that reorder the text around them, become the sign for a character that cannot be shown.
pub fn plain(text: &str) -> String {
    let is_plain = |byte: u8| byte == b' ' || byte.is_ascii_graphic();
    if text.bytes().all(is_plain) && !text.contains("  ") {
        return text.trim().to_owned(); // as nearly every text is
    }
    let shown = text.chars().map(|c| match c {
        '\n' | '\r' | '\t' | '\u{b}' | '\u{c}' | '\u{85}' | '\u{2028}' | '\u{2029}' => ' ',
        c if c.is_control() => '\u{fffd}',
        '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}' | '\u{200e}' | '\u{200f}' | '\u{61c}'
        // XML knows no such characters.
        | '\u{fffe}' | '\u{ffff}' => '\u{fffd}',
        c => c,
    });
    let mut plain = String::with_capacity(text.len());
    for c in shown {
        if c != ' ' || !plain.ends_with(' ') {
            plain.push(c);
        }
    }
    plain.trim().to_owned()
}

/// The same words with a capital at the beginning.
pub fn sentence_case(words: &str) -> String {
    let mut chars = words.chars();
    chars
        .next()
        .map_or_else(String::new, |first| first.to_uppercase().chain(chars).collect())
}

/// A source with how well it was seen.
pub fn sourced(document: &str, section: &str, standing: Standing) -> String {
    match cited(document, section) {
        place if place.is_empty() => standing.words().to_owned(),
        place => format!("{place}; {}", standing.words()),
    }
}

/// A single outcome as a ruling, which has words.
pub fn ruling_of(outcome: Outcome) -> Ruling {
    Outcomes::only(outcome).ruling()
}

/// What a verdict on the house means for the reader.
pub fn meaning(verdict: &Verdict) -> String {
    let mut meaning = match verdict.ruling() {
        Ruling::Met => {
            "Everything that was checked is what these provisions ask for, or better. That says nothing of \
             what they do not cover, and nothing of how the house will fare in a given earthquake."
        }
        Ruling::NotMet => {
            "At least one thing that these provisions ask for is missing or too little. The list below says \
             which, where, and by how much."
        }
        Ruling::NotDetermined => {
            "Something that was not seen, under the house or in the document, decides it. Until it is looked at, \
             take the worst case as possible."
        }
        Ruling::Outside => {
            "These provisions are not written for a house like this one. Its strengthening has to be designed \
             by a licensed engineer or architect; the findings below are for them to weigh."
        }
        Ruling::NotApplicable => "These provisions ask nothing of what was recorded.",
    }
    .to_owned();
    let leans_on = match verdict.rests.standing {
        _ if verdict.ruling() == Ruling::NotDetermined => "",
        Some(Standing::Memory) => "a figure that is remembered and was not seen in any source",
        Some(Standing::CommonPractice) => "what is commonly done, for which there is no source",
        Some(Standing::Secondary) => "a figure seen in an account of the document, not in the document",
        Some(Standing::Attested) => "a figure confirmed by a user of these tables, named below",
        Some(Standing::Verified) | None => "",
    };
    if !leans_on.is_empty() {
        meaning.push_str(" It leans on ");
        meaning.push_str(leans_on);
        meaning.push_str(match verdict.rests.standing {
            Some(Standing::Attested) => ".",
            _ => "; confirm it before acting on this.",
        });
    }
    meaning
}

/// Best and worst case in a sentence.
pub fn range(verdict: &Verdict) -> String {
    let (best, worst) = (
        ruling_of(verdict.best()).words(),
        ruling_of(verdict.worst()).words(),
    );
    if verdict.best() != verdict.worst() {
        format!("Best case over what was not seen: {best}. Worst case: {worst}.")
    } else if verdict.counts.not_determined > 0 {
        format!("Best and worst case over what was not seen: {best} either way.")
    } else {
        "No check was left open; best and worst case are the same.".to_owned()
    }
}

/// A length for a reader: exactly where a tape shows it, that is in sixty-fourths of an inch or coarser;
/// anything finer to the nearest 1/16 in, and marked. Panels come in 15/32 in, so that sixteenths will not do.
pub fn length(length: Length) -> String {
    let exact = length.to_string();
    if exact.ends_with('"') {
        exact
    } else {
        length.in_feet_inches().to_string()
    }
}

/// A stretch of a wall line.
pub fn span(span: Span) -> String {
    match span.to {
        Some(to) if to == span.from => length(to),
        Some(to) => format!("{} to {}", length(span.from), length(to)),
        None => format!("{} to the end", length(span.from)),
    }
}

/// Something measured or required, for a reader; `None` when there is nothing to show.
pub fn quantity(quantity: Quantity, provisions: &Provisions) -> Option<String> {
    match quantity {
        Quantity::None | Quantity::LengthBetween(None, None) => None,
        Quantity::Figure(id) => provisions
            .figure(id)?
            .value()
            .map(|value| plain(&value.to_string())),
        Quantity::Stories(stories) if stories.counted() == 1 && stories.to_string() == "1" => {
            Some("1 story".to_owned())
        }
        Quantity::Stories(stories) => Some(format!("{stories} stories")),
        Quantity::Length(only) => Some(length(only)),
        Quantity::LessThan(limit) => Some(format!("less than {}", length(limit))),
        Quantity::LengthBetween(Some(least), Some(most)) | Quantity::LengthRange(least, most) => {
            Some(format!("{} to {}", length(least), length(most)))
        }
        Quantity::LengthBetween(Some(least), None) => Some(format!("at least {}", length(least))),
        Quantity::LengthBetween(None, Some(most)) => Some(format!("at most {}", length(most))),
        Quantity::Share(share, whole) => Some(format!("{share} of {}", length(whole))),
        other => Some(other.to_string()),
    }
}

/// The same exactly, where a reader is shown a rounded length.
pub fn exact(quantity: Quantity, provisions: &Provisions) -> Option<String> {
    match quantity {
        Quantity::Length(length) | Quantity::LessThan(length) => Some(length.to_string()),
        Quantity::LengthBetween(Some(least), Some(most)) | Quantity::LengthRange(least, most) => {
            Some(format!("{least} to {most}"))
        }
        Quantity::LengthBetween(Some(least), None) => Some(format!("at least {least}")),
        Quantity::LengthBetween(None, Some(most)) => Some(format!("at most {most}")),
        Quantity::Share(share, whole) => Some(share.of(whole).to_string()),
        other => self::quantity(other, provisions),
    }
}

/// What is asked for: at least or at most so much, or a property as it stands.
pub fn required(quantity: Quantity, limit: Limit, provisions: &Provisions) -> Option<String> {
    let shown = match quantity {
        Quantity::LengthRange(least, most) => {
            return Some(format!("at least {}, at most {}", length(least), length(most)));
        }
        // This one says its direction itself.
        Quantity::LessThan(_) => return self::quantity(quantity, provisions),
        Quantity::Washer(Washer::Cut) => "a cut washer".to_owned(),
        _ => self::quantity(quantity, provisions)?,
    };
    let direction = match limit {
        Limit::AtMost => "at most ",
        Limit::AtLeast => "at least ",
        Limit::None => "",
    };
    let amount = match quantity {
        Quantity::Share(share, whole) => format!(" ({})", length(share.of(whole))),
        _ => String::new(),
    };
    Some(format!("{direction}{shown}{amount}"))
}

/// What is to spare or missing.
pub fn margin(margin: Margin) -> String {
    let missing = match (margin.limit, margin.is_bound) {
        (Limit::AtMost, false) => "over by",
        (Limit::AtMost, true) => "over by at least",
        (_, false) => "short by",
        (_, true) => "short by at least",
    };
    match margin.spare {
        Spare::Length(amount) if amount < Length::ZERO => {
            format!("{missing} {}", length(Length::ZERO.saturating_sub(amount)))
        }
        Spare::Length(Length::ZERO) | Spare::Count(0) => "none to spare".to_owned(),
        Spare::Length(amount) => format!("{} to spare", length(amount)),
        Spare::Count(count) if count < 0 => format!("{missing} {}", count.unsigned_abs()),
        Spare::Count(count) => format!("{count} to spare"),
    }
}

/// The margin exactly, negative where something is missing.
pub fn exact_margin(margin: Margin) -> String {
    match margin.spare {
        Spare::Length(amount) => amount.to_string(),
        Spare::Count(count) => count.to_string(),
    }
}
