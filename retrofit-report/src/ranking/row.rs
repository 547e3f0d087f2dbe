//! One house of the list, as it is written.

use std::io::Write;

use retrofit_core::check::{LookAt, REGISTRY, Ruling};
use retrofit_core::choice::Choice;
use retrofit_core::provisions::Provisions;
use retrofit_core::ranking::{
    CostFrom, Evidence, EvidenceGrade, Places, Prospect, Reason, Score, ShakingFrom, Unknown,
};
use serde::{Serialize, Serializer};

use super::ListFormat;
use super::ids::Repeats;
use crate::triage::cell;

/// The columns of the list besides those handed on from the input.
const COLUMNS: [&str; 29] = [
    "basis",
    "evidence",
    "verdict",
    "deficiency",
    "reasons",
    "funded",
    "funded_in_draws",
    "rank_from",
    "rank_to",
    "avoided_per_dollar",
    "avoided",
    "paid",
    "work",
    "cost_low",
    "cost_likely",
    "cost_high",
    "cost_from",
    "crawl_space_chance",
    "need_chance",
    "shaking",
    "shaking_from",
    "value",
    "loss_before_proxy",
    "loss_after_proxy",
    "look_next",
    "look_worth",
    "begin_with",
    "note",
    "provisions",
];

/// What is known of a house once the list is in order.
#[derive(Clone, Copy, Debug)]
pub(super) struct Place<'a> {
    pub(super) rank: u64,
    pub(super) id: &'a str,
    /// The cells that are handed on.
    pub(super) cells: &'a [&'a str],
    pub(super) evidence: &'a Evidence,
    pub(super) prospect: &'a Prospect<'a>,
    pub(super) score: Score,
    pub(super) zone_is_known: bool,
    pub(super) is_funded: bool,
    /// How it repeats the id of a row higher in the list, where it does.
    pub(super) repeats: Option<Repeats>,
    /// What is worth knowing most, and what it is worth.
    pub(super) look: Option<(Unknown, f64)>,
    pub(super) among: Places,
}

impl Place<'_> {
    pub(super) fn ruling(&self) -> Option<Ruling> {
        self.evidence.verdict.map(|verdict| verdict.ruling)
    }

    /// The deficiency to begin with, by the name of its check.
    pub(super) fn deficiency(&self) -> Option<&'static str> {
        let check = self.evidence.verdict?.governing?;
        Some(REGISTRY.get(usize::from(check))?.name)
    }

    pub(super) fn grade(&self) -> EvidenceGrade {
        self.evidence.grade(self.zone_is_known)
    }

    /// The first observation to make under a house whose verdict is open.
    fn begin_with(&self) -> Option<LookAt> {
        self.evidence.verdict?.next()
    }

    fn basis(&self) -> &'static str {
        if self.evidence.is_inferred() {
            "inferred"
        } else {
            "observed"
        }
    }

    const fn note(&self) -> &'static str {
        match self.repeats {
            Some(Repeats::Alike) => "its id and score stand higher in the list; paid for once, there",
            Some(Repeats::Differing) => {
                "its id stands higher in the list with another score; paid for once, there"
            }
            None => "",
        }
    }
}

const fn shaking_from(from: ShakingFrom) -> &'static str {
    match from {
        ShakingFrom::Assumption => "assumption",
        ShakingFrom::Column => "column",
        ShakingFrom::Grid => "grid",
    }
}

/// Writes the list in one format.
#[derive(Debug)]
pub(super) struct RowWriter<'a> {
    format: ListFormat,
    provisions: &'a Provisions,
    passed: &'a [(usize, String)],
    reasons: String,
}

impl<'a> RowWriter<'a> {
    pub(super) const fn new(
        format: ListFormat,
        provisions: &'a Provisions,
        passed: &'a [(usize, String)],
    ) -> Self {
        Self {
            format,
            provisions,
            passed,
            reasons: String::new(),
        }
    }

    /// What stands before the first house.
    pub(super) fn header(&self) -> Vec<u8> {
        let mut out = Vec::new();
        if self.format == ListFormat::Csv {
            out.extend_from_slice(b"rank,id");
            for name in self.passed.iter().map(|(_, name)| name.as_str()).chain(COLUMNS) {
                out.push(b',');
                cell(name, &mut out);
            }
            out.push(b'\n');
        }
        out
    }

    pub(super) fn write(&mut self, place: &Place<'_>, out: &mut Vec<u8>) {
        match self.format {
            ListFormat::Csv => self.write_csv(place, out),
            ListFormat::JsonLines => self.write_json(place, out),
        }
    }

    fn write_csv(&mut self, place: &Place<'_>, out: &mut Vec<u8>) {
        let (evidence, prospect) = (place.evidence, place.prospect);
        number(out, format_args!("{}", place.rank));
        cell(place.id, out);
        for text in place.cells {
            out.push(b',');
            cell(text, out);
        }
        self.reasons.clear();
        for reason in evidence.reasons(place.zone_is_known).iter() {
            if !self.reasons.is_empty() {
                self.reasons.push_str("; ");
            }
            self.reasons.push_str(reason.spelling());
        }
        let words = [
            place.basis(),
            place.grade().spelling(),
            place.ruling().map_or("", Ruling::words),
            place.deficiency().unwrap_or_default(),
            &self.reasons,
            if place.is_funded { "yes" } else { "no" },
        ];
        for word in words {
            out.push(b',');
            cell(word, out);
        }
        out.push(b',');
        number(out, format_args!("{:.2}", place.among.funded));
        number(out, format_args!("{}", place.among.between.0));
        number(out, format_args!("{}", place.among.between.1));
        number(out, format_args!("{:.3}", place.score.per_dollar()));
        number(out, format_args!("{:.0}", place.score.benefit));
        number(out, format_args!("{:.0}", place.score.paid));
        out.extend_from_slice(evidence.work.spelling().as_bytes());
        out.push(b',');
        number(out, format_args!("{:.0}", prospect.cost.low));
        number(out, format_args!("{:.0}", prospect.cost.likely));
        number(out, format_args!("{:.0}", prospect.cost.high));
        out.extend_from_slice(prospect.cost_from.spelling().as_bytes());
        out.push(b',');
        number(out, format_args!("{:.3}", prospect.crawl_space()));
        number(out, format_args!("{:.3}", prospect.need()));
        match evidence.shaking {
            Some(shaking) => number(out, format_args!("{shaking:.3}")),
            None => out.push(b','),
        }
        out.extend_from_slice(shaking_from(evidence.shaking_from).as_bytes());
        out.push(b',');
        match evidence.replacement_value {
            Some(value) => number(out, format_args!("{value:.0}")),
            None => out.push(b','),
        }
        number(out, format_args!("{:.3}", prospect.loss_before));
        number(out, format_args!("{:.3}", prospect.loss_after));
        let look = place.look.map_or("", |(unknown, _)| unknown.spelling());
        out.extend_from_slice(look.as_bytes());
        out.push(b',');
        match place.look {
            Some((_, worth)) => number(out, format_args!("{worth:.0}")),
            None => out.push(b','),
        }
        cell(place.begin_with().map_or("", LookAt::words), out);
        out.push(b',');
        cell(place.note(), out);
        out.push(b',');
        cell(&self.provisions.id, out);
        out.push(b'\n');
    }

    fn write_json(&self, place: &Place<'_>, out: &mut Vec<u8>) {
        let (evidence, prospect) = (place.evidence, place.prospect);
        let cost = prospect.cost;
        let row = JsonRow {
            rank: place.rank,
            id: place.id,
            passed: Passed(self.passed, place.cells),
            basis: place.basis(),
            evidence: place.grade(),
            verdict: place.ruling(),
            deficiency: place.deficiency(),
            reasons: evidence.reasons(place.zone_is_known).iter().collect(),
            funded: place.is_funded,
            funded_in_draws: rounded(place.among.funded, 100.0),
            rank_between: [place.among.between.0, place.among.between.1],
            avoided_per_dollar: rounded(place.score.per_dollar(), 1000.0),
            avoided: rounded(place.score.benefit, 1.0),
            paid: rounded(place.score.paid, 1.0),
            work: evidence.work.spelling(),
            cost: [cost.low, cost.likely, cost.high].map(|cost| rounded(cost, 1.0)),
            cost_from: prospect.cost_from,
            crawl_space_chance: rounded(prospect.crawl_space(), 1000.0),
            need_chance: rounded(prospect.need(), 1000.0),
            shaking: evidence.shaking.map(|shaking| rounded(shaking, 1000.0)),
            shaking_from: shaking_from(evidence.shaking_from),
            value: evidence.replacement_value.map(|value| rounded(value, 1.0)),
            loss_before_proxy: rounded(prospect.loss_before, 1000.0),
            loss_after_proxy: rounded(prospect.loss_after, 1000.0),
            look_next: place.look.map(|(unknown, _)| unknown),
            look_worth: place.look.map(|(_, worth)| rounded(worth, 1.0)),
            begin_with: place.begin_with().map(LookAt::spelling),
            note: place.note(),
            provisions: &self.provisions.id,
        };
        // Nothing in the row can fail to be written: every number is finite and every key is text.
        if serde_json::to_writer(&mut *out, &row).is_ok() {
            out.push(b'\n');
        }
    }
}

/// Writes a number and the comma after it.
fn number(out: &mut Vec<u8>, text: std::fmt::Arguments<'_>) {
    // A vector takes whatever is written to it.
    let _ = out.write_fmt(text);
    out.push(b',');
}

/// A number to so many parts of one.
pub(super) fn rounded(number: f64, parts: f64) -> f64 {
    (number * parts).round() / parts
}

#[derive(Serialize)]
struct JsonRow<'a> {
    rank: u64,
    id: &'a str,
    passed: Passed<'a>,
    basis: &'static str,
    evidence: EvidenceGrade,
    verdict: Option<Ruling>,
    deficiency: Option<&'static str>,
    reasons: Vec<Reason>,
    funded: bool,
    funded_in_draws: f64,
    rank_between: [u64; 2],
    avoided_per_dollar: f64,
    avoided: f64,
    paid: f64,
    work: &'static str,
    cost: [f64; 3],
    cost_from: CostFrom,
    crawl_space_chance: f64,
    need_chance: f64,
    shaking: Option<f64>,
    shaking_from: &'static str,
    value: Option<f64>,
    loss_before_proxy: f64,
    loss_after_proxy: f64,
    look_next: Option<Unknown>,
    look_worth: Option<f64>,
    begin_with: Option<&'static str>,
    note: &'static str,
    provisions: &'a str,
}

struct Passed<'a>(&'a [(usize, String)], &'a [&'a str]);

impl Serialize for Passed<'_> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_map(self.0.iter().map(|(_, name)| name).zip(self.1))
    }
}
