//! How a level survey is said.

use retrofit_core::choice::Choice;
use retrofit_core::foundation::survey::{
    Corrected, CrackFinding, Damage, Deflection, DoorFinding, Plane, PlumbFinding, SurveyFindings, Uncertain,
};
use retrofit_core::house::{LevelInstrument, PlanPoint};
use retrofit_core::measure::Length;
use retrofit_core::observation::Observed;
use retrofit_core::provisions::cited;

use super::ConditionRow;
use crate::result::wording::{length, plain, sentence_case, sourced};

/// What has to stand beside every comparison with a limit.
pub(crate) const LIMITS_DIFFER: &str = "Published limits disagree, and none of them was made for an old raised-floor \
    wood house. All that are known here are shown, each with what it was made for.";

/// Inches to the hundredth, signed.
pub(crate) fn inches(value: f64) -> String {
    let rounded = (value * 100.0).round() / 100.0;
    if rounded == 0.0 {
        "0 in".to_owned()
    } else {
        format!("{}{:.2} in", if rounded < 0.0 { "−" } else { "+" }, rounded.abs())
    }
}

/// Inches with what they can be off.
pub(super) fn uncertain_inches(value: Uncertain) -> String {
    if value.off.is_finite() {
        format!("{} ± {:.2} in", inches(value.likely), value.off)
    } else {
        format!("{}, give or take what a floor finish hides", inches(value.likely))
    }
}

/// A slope as one in so many, with the ends that the readings leave open.
pub(crate) fn slope(value: Uncertain) -> String {
    let one_in = |ratio: f64| {
        if ratio < 1e-5 {
            "level".to_owned()
        } else {
            format!("1/{:.0}", 1.0 / ratio)
        }
    };
    let likely = one_in(value.likely.abs());
    if !value.off.is_finite() {
        return format!("{likely}, give or take what a floor finish hides");
    }
    let (least, most) = (
        one_in((value.likely.abs() - value.off).max(0.0)),
        one_in(value.likely.abs() + value.off),
    );
    if least == most {
        likely
    } else {
        format!("{likely} ({least} to {most})")
    }
}

/// A length with its sign where it is below nothing.
pub(crate) fn signed(value: Length) -> String {
    if value >= Length::ZERO {
        return length(value);
    }
    let below = length(Length::ZERO.saturating_sub(value));
    match below.strip_prefix("≈ ") {
        Some(near) => format!("≈ −{near}"),
        None => format!("−{below}"),
    }
}

/// A line by its ends.
pub(super) fn line_name(from: PlanPoint, to: PlanPoint) -> String {
    let at = |point: PlanPoint| format!("{} east, {} north", signed(point.x), signed(point.y));
    format!("from {} to {}", at(from), at(to))
}

pub(super) fn instrument(instrument: &LevelInstrument) -> String {
    instrument
        .kind
        .value()
        .map_or_else(|| "not recorded".to_owned(), |kind| kind.words().to_owned())
}

pub(super) fn reading_error(corrected: &Corrected) -> String {
    let error = length(corrected.reading_error);
    match &corrected.reading_error_from {
        None => format!("{error}, by the record"),
        Some(limit) => format!(
            "{error}, taken because the record does not say ({})",
            sourced(&limit.document, &limit.section, limit.standing)
        ),
    }
}

pub(super) fn closure(corrected: &Corrected) -> String {
    let closure = &corrected.closure;
    if closure.legs.is_empty() {
        return "The base point was not read again, so nothing tells whether the instrument drifted."
            .to_owned();
    }
    let read = format!(
        "The base point was read again {}; the error of each loop was shared out over {}.",
        match closure.legs.len() {
            1 => "once".to_owned(),
            legs => format!("{legs} times"),
        },
        if closure.by_minutes {
            "the minutes"
        } else {
            "the order of readings"
        }
    );
    let kept = if closure.is_kept() {
        format!("Every loop closes within {}.", closure.tolerance.value)
    } else {
        format!(
            "A loop is off by more than {} ({}): read it again before anything rests on it.",
            closure.tolerance.value, closure.tolerance.document
        )
    };
    let open = match closure.open_readings {
        0 => String::new(),
        count => format!(
            " {count} readings came after the last reading of the base; for those the last drift was carried on."
        ),
    };
    format!("{read} {kept}{open}")
}

/// Why a reading stands apart.
pub(super) fn apart(plane: &Plane, number: usize) -> String {
    let found = plane.apart.iter().find(|apart| apart.point == number);
    found.map_or_else(String::new, |apart| {
        format!(
            "stands apart: {} from the plane and {} from its neighbors, none of which bears it out; read it again, or \
             one place has moved",
            inches(apart.from_plane),
            inches(apart.from_neighbors)
        )
    })
}

pub(super) fn compass(degrees: f64) -> &'static str {
    const POINTS: [&str; 8] = [
        "north",
        "the northeast",
        "east",
        "the southeast",
        "south",
        "the southwest",
        "west",
        "the northwest",
    ];
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "a compass has eight points here"
    )]
    let point = ((degrees.rem_euclid(360.0) + 22.5) / 45.0) as usize % POINTS.len();
    POINTS.get(point).copied().unwrap_or_default()
}

pub(super) fn departure(deflection: &Deflection) -> String {
    let way = if deflection.departure.likely < 0.0 {
        "below"
    } else {
        "above"
    };
    format!(
        "{} {way} the chord of its ends, {:.1} ft along; {} of its length",
        uncertain_inches(deflection.departure.size()).trim_start_matches('+'),
        deflection.station / 12.0,
        slope(deflection.ratio)
    )
}

/// Cracks, doors and walls, classed.
pub(super) fn conditions(findings: &SurveyFindings<'_>) -> Vec<ConditionRow> {
    let cracks = findings.cracks.iter().map(crack).enumerate();
    let doors = findings.doors.iter().map(door).enumerate();
    let walls = findings.plumb.iter().map(wall).enumerate();
    let marked = |letter: char| {
        move |(number, row): (usize, ConditionRow)| ConditionRow {
            mark: format!("{letter}{}", number + 1),
            ..row
        }
    };
    cracks
        .map(marked('C'))
        .chain(doors.map(marked('D')))
        .chain(walls.map(marked('W')))
        .collect()
}

fn recorded<T: Choice>(part: &Observed<T>) -> Option<String> {
    part.value().map(|part| part.words().to_owned())
}

fn measured(words: &str, value: &Observed<Length>) -> String {
    match value.bounds() {
        (Some(low), Some(high)) if low == high => format!("{words} {}", length(*low)),
        (Some(low), Some(high)) => format!("{words} {} to {}", length(*low), length(*high)),
        (Some(low), None) => format!("{words} at least {}", length(*low)),
        (None, Some(high)) => format!("{words} at most {}", length(*high)),
        (None, None) => format!("{words} not known"),
    }
}

fn place(what: &str, place: &str) -> String {
    if place.trim().is_empty() {
        sentence_case(what)
    } else {
        format!("{}: {}", sentence_case(what), plain(place))
    }
}

fn crack(found: &CrackFinding<'_>) -> ConditionRow {
    let crack = found.crack;
    let mut facts = vec![measured("width", &crack.width)];
    facts.extend(recorded(&crack.pattern));
    facts.extend(recorded(&crack.wider));
    if crack.offset.value().is_some() {
        facts.push(measured("offset", &crack.offset));
    }
    let part = recorded(&crack.part).map_or_else(|| "crack".to_owned(), |part| format!("crack in {part}"));
    let (class, source) = match found.damage {
        Some(damage) => (
            category(damage),
            cited(&damage.most.document, &damage.most.section),
        ),
        None => ("not determined: its width is not known".to_owned(), String::new()),
    };
    ConditionRow {
        mark: String::new(),
        what: place(&part, &crack.place),
        recorded: facts.join(", "),
        class,
        source,
    }
}

fn category(damage: Damage<'_>) -> String {
    let (least, most) = (damage.least, damage.most);
    if least == most {
        format!("category {}, {}: {}", least.number, least.name, least.words)
    } else {
        format!(
            "category {} to {}, {} to {}",
            least.number, most.number, least.name, most.name
        )
    }
}

fn beside(compared: &[retrofit_core::foundation::survey::Compared<'_>]) -> (String, String) {
    let class = compared
        .iter()
        .map(|compared| {
            let found = if compared.limit.value.ratio().is_some() {
                slope(compared.value)
            } else {
                uncertain_inches(compared.value)
            };
            format!("{found} beside at most {}", compared.limit.value)
        })
        .collect::<Vec<_>>()
        .join("; ");
    let mut sources: Vec<String> = compared
        .iter()
        .map(|compared| cited(&compared.limit.document, &compared.limit.section))
        .collect();
    sources.dedup();
    (class, sources.join("; "))
}

fn door(found: &DoorFinding<'_>) -> ConditionRow {
    let door = found.door;
    let mut facts: Vec<String> = recorded(&door.action).into_iter().collect();
    facts.push(measured("out of square", &door.out_of_square));
    let (mut class, mut from) = beside(&found.squareness);
    if let Some(damage) = found.damage {
        let words = format!("category {}, {}", damage.number, damage.name);
        class = if class.is_empty() {
            words
        } else {
            format!("{words}; {class}")
        };
        let document = cited(&damage.document, &damage.section);
        from = if from.is_empty() {
            document
        } else {
            format!("{document}; {from}")
        };
    }
    ConditionRow {
        mark: String::new(),
        what: place("door", &door.place),
        recorded: facts.join(", "),
        class: if class.is_empty() {
            "no published scale applies".to_owned()
        } else {
            class
        },
        source: from,
    }
}

fn wall(found: &PlumbFinding<'_>) -> ConditionRow {
    let wall = found.wall;
    let kind = recorded(&wall.kind).unwrap_or_else(|| "wall".to_owned());
    let (class, source) = beside(&found.plumb);
    ConditionRow {
        mark: String::new(),
        what: place(&kind, &wall.place),
        recorded: [
            measured("out of plumb", &wall.out_of_plumb),
            measured("over", &wall.over),
        ]
        .join(", "),
        class: if class.is_empty() {
            "no published tolerance applies".to_owned()
        } else {
            class
        },
        source,
    }
}
