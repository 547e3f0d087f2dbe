//! A link of the load path as a row of a table.

use retrofit_core::choice::Choice;
use retrofit_core::screen::{LinkKind, LinkResult, LinkScreen, Range, STRONGEST};
use schemars::JsonSchema;
use serde::Serialize;

use super::amount::{Amount, Units, gravities, ratio};
use super::title;
use super::working::Workings;

/// One link: what it is asked for and what it can give, from the best to the worst that it can be.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct LinkRow {
    /// The link.
    pub link: &'static str,
    /// The link in words.
    pub title: String,
    /// What became of it.
    pub state: LinkState,
    /// Whether it falls short: surely, at one end of what it can be, or at none; null where it was not computed.
    pub falls_short: Option<FallsShort>,
    /// Why it has no capacity, has no part in the path, or could not be computed; empty for a link that was computed.
    pub why: String,
    /// What it is asked for.
    pub demand: Option<Amount>,
    /// What it can give.
    pub capacity: Option<Amount>,
    /// Whether more may be there than was seen, so that its better end is open.
    pub is_open: bool,
    /// Demand over capacity.
    pub ratio: Option<RatioRange>,
    /// Capacity less demand: a reserve, or a shortfall.
    pub margin: Option<Margin>,
    /// The shaking at which it reaches its capacity.
    pub shaking: Option<ShakingRange>,
    /// What governs its capacity at the worse end.
    pub governs: &'static str,
    /// The unknown that widens its range most, as the program spells it; null where nothing does.
    pub widest: Option<&'static str>,
    /// The same in words.
    pub widest_words: Option<&'static str>,
    /// The weakest standing of a figure or an equation behind it; null where it was not computed.
    pub standing: Option<&'static str>,
    /// The same in words.
    pub standing_words: Option<&'static str>,
    /// The line of the derivation of its worse end; null where there is none.
    pub work: Option<usize>,
    /// The derivation as a web page shows it there.
    #[serde(skip_serializing_if = "String::is_empty")]
    #[schemars(skip)]
    pub(crate) derivation: String,
}

/// What became of a link.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum LinkState {
    /// It was computed.
    Computed,
    /// Nothing on record carries it.
    NoCapacity,
    /// The house has no such link.
    NotApplicable,
    /// It could not be computed.
    NotDetermined,
}

/// Whether a link falls short.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum FallsShort {
    /// At both ends.
    Surely,
    /// At the worse end only.
    Perhaps,
    /// At no end.
    No,
}

/// Demand over capacity, at both ends.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct RatioRange {
    /// The better end; null where there is no capacity.
    pub best: Option<f64>,
    /// The worse end; null where there is no capacity.
    pub worst: Option<f64>,
    /// Both for a reader.
    pub shown: String,
}

/// Capacity less demand, at both ends.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct Margin {
    /// From the worse end to the better, in U.S. and SI units; a shortfall is negative.
    #[serde(flatten)]
    pub amount: Amount,
    /// For a reader: what is short, or what is to spare.
    pub words: String,
}

/// Shaking at which a link reaches its capacity, at both ends.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct ShakingRange {
    /// The worse end in units of gravity; null where no shaking up to 3 g brings the link to its capacity.
    pub worst: Option<f64>,
    /// The better end; null where no shaking up to 3 g brings the link to its capacity.
    pub best: Option<f64>,
    /// Whether more may be there than was seen, so that the better end is open.
    pub is_open: bool,
    /// Whether there is no capacity at all.
    pub has_no_capacity: bool,
    /// Both for a reader.
    pub shown: String,
}

impl ShakingRange {
    /// Of a link that has any: one that was computed, or that has no capacity.
    pub(super) fn of(link: &LinkScreen) -> Option<Self> {
        match link {
            LinkScreen::Computed(link) => Some(Self::of_result(link)),
            LinkScreen::NoCapacity(_) => Some(Self {
                worst: Some(0.0),
                best: Some(0.0),
                is_open: false,
                has_no_capacity: true,
                shown: "no capacity".to_owned(),
            }),
            LinkScreen::NotApplicable(_) | LinkScreen::NotDetermined(_) => None,
        }
    }

    fn of_result(link: &LinkResult) -> Self {
        let (worst, best) = (link.worst.shaking, link.best.shaking);
        let one = |shaking: Option<f64>| match shaking {
            Some(0.0) => "0 g".to_owned(),
            Some(shaking) => gravities(shaking),
            None => format!("beyond {STRONGEST} g"),
        };
        let (low, high) = (one(worst), one(best));
        let open = if link.may_hold_more { " or more" } else { "" };
        let shown = match (worst, best) {
            (None, None) => format!("no shaking up to {STRONGEST} g"),
            _ if low == high => format!("{low}{open}"),
            (Some(_), Some(_)) => format!("{} to {high}{open}", low.trim_end_matches(" g")),
            _ => format!("{} to {high}", low.trim_end_matches(" g")),
        };
        Self {
            worst,
            best,
            is_open: link.may_hold_more,
            has_no_capacity: false,
            shown,
        }
    }
}

impl RatioRange {
    fn of(link: &LinkResult) -> Self {
        let finite = |ratio: f64| ratio.is_finite().then_some(ratio);
        let (best, worst) = (ratio(link.best.ratio), ratio(link.worst.ratio));
        let open = if link.may_hold_more { " or less" } else { "" };
        Self {
            best: finite(link.best.ratio),
            worst: finite(link.worst.ratio),
            shown: if best == worst {
                format!("{best}{open}")
            } else {
                format!("{best}{open} to {worst}")
            },
        }
    }
}

impl Margin {
    fn of(link: &LinkResult, units: Units) -> Self {
        let (worst, best) = (link.worst.margin(), link.best.margin());
        let (low, high) = (worst.min(best), worst.max(best));
        let amount = |low, high| Amount::of(Range { low, high }, link.unit, units);
        let one = |value: f64| amount(value.abs(), value.abs()).shown;
        let open = if link.may_hold_more { " or more" } else { "" };
        let words = if high < 0.0 {
            let perhaps = if link.may_hold_more {
                ", or less short: more may be there than was seen"
            } else {
                ""
            };
            format!("short by {}{perhaps}", amount(-high, -low).shown)
        } else if low >= 0.0 {
            format!("{}{open} to spare", amount(low, high).shown)
        } else {
            format!("from {} short to {}{open} to spare", one(low), one(high))
        };
        Self {
            amount: amount(low, high),
            words,
        }
    }
}

impl LinkRow {
    /// Demand over capacity for a reader, or what became of the link instead.
    pub fn ratio_words(&self) -> String {
        match (&self.ratio, self.state) {
            (Some(ratio), _) => ratio.shown.clone(),
            (None, LinkState::NoCapacity) => "no capacity".to_owned(),
            (None, LinkState::NotApplicable) => "no part in the path".to_owned(),
            (None, LinkState::NotDetermined | LinkState::Computed) => "not determined".to_owned(),
        }
    }

    pub(super) fn new(kind: LinkKind, link: &LinkScreen, units: Units, workings: &Workings) -> Self {
        let bare = |state, why: &str| Self {
            link: kind.spelling(),
            title: title(kind.words()),
            state,
            falls_short: None,
            why: why.to_owned(),
            demand: None,
            capacity: None,
            is_open: false,
            ratio: None,
            margin: None,
            shaking: ShakingRange::of(link),
            governs: "",
            widest: None,
            widest_words: None,
            standing: None,
            standing_words: None,
            work: None,
            derivation: String::new(),
        };
        match link {
            LinkScreen::NoCapacity(why) => Self {
                falls_short: Some(FallsShort::Surely),
                ..bare(LinkState::NoCapacity, why)
            },
            LinkScreen::NotApplicable(why) => bare(LinkState::NotApplicable, why),
            LinkScreen::NotDetermined(why) => bare(LinkState::NotDetermined, &super::plain(why)),
            LinkScreen::Computed(result) => {
                let surely = link.surely_falls_short();
                let link = result;
                let of = |a: f64, b: f64| {
                    let range = Range {
                        low: a.min(b),
                        high: a.max(b),
                    };
                    Amount::of(range, link.unit, units)
                };
                let mut capacity = of(link.best.capacity, link.worst.capacity);
                if link.may_hold_more {
                    capacity.shown.push_str(" or more");
                }
                Self {
                    falls_short: Some(if surely {
                        FallsShort::Surely
                    } else if link.worst.ratio > 1.0 {
                        FallsShort::Perhaps
                    } else {
                        FallsShort::No
                    }),
                    demand: Some(of(link.best.demand, link.worst.demand)),
                    capacity: Some(capacity),
                    is_open: link.may_hold_more,
                    ratio: Some(RatioRange::of(link)),
                    margin: Some(Margin::of(link, units)),
                    governs: link.governs,
                    widest: link.widest.map(Choice::spelling),
                    widest_words: link.widest.map(Choice::words),
                    standing: Some(link.standing.spelling()),
                    standing_words: Some(link.standing.words()),
                    work: workings.place(link.line),
                    ..bare(LinkState::Computed, "")
                }
            }
        }
    }
}
