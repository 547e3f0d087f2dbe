//! Checks one at a time.
//!
//! A portfolio remembers what a check found for the few observations and figures it hangs on. What it does not
//! remember it asks here, check by check, of the same code that goes over a whole house.

use super::assess::{Assessor, Bands, Possible, lines};
use super::earlier_retrofit::{self, Chain};
use super::finding::Finding;
use super::registry::{CheckId, Run};
use super::shared::{Shared, Telling};
use crate::house::AsBuilt;
use crate::observation::Truth;
use crate::provisions::{FigureName, Provisions};

/// A house whose cases are found, so that single checks can be run over it and over its first wall line.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Begun {
    pub(super) possible: Possible,
    pub(super) bands: Bands,
}

impl Assessor {
    /// Finds the cases of a house and of its first wall line, and forgets the house before.
    pub(crate) fn begin(&mut self, house: &AsBuilt, provisions: &Provisions) -> Begun {
        self.findings.clear();
        let possible = Possible::of(&house.building);
        possible.cases(provisions, (0, 0), &mut self.house_cases);
        let bands = house
            .wall_lines
            .first()
            .map_or((0, 0), |wall| self.begin_wall_line(wall, provisions, possible));
        Begun { possible, bands }
    }

    /// Runs one check; not one that goes over the findings of others.
    pub(crate) fn findings_of(
        &mut self,
        id: CheckId,
        house: &AsBuilt,
        provisions: &Provisions,
        Begun { possible, bands }: Begun,
    ) -> &[Finding] {
        self.findings.clear();
        match (id.check().run, house.wall_lines.first()) {
            (Run::House(run), _) => self.run_on_house(id, run, house, provisions, possible),
            (Run::Line(run), Some(wall)) => {
                self.run_on_line(id, run, (house, 0, wall), provisions, possible, bands);
            }
            _ => {}
        }
        self.findings.as_slice()
    }

    /// Goes over the three links of an earlier strengthening.
    pub(crate) fn over_links(&mut self, done: Truth, chain: &Chain) -> &[Finding] {
        self.findings.clear();
        self.findings.at(CheckId::EarlierRetrofit, Some(0));
        self.findings.add(earlier_retrofit::judge(done, chain));
        self.findings.as_slice()
    }

    /// What is asked by some figures of the house, or of its wall line: alike where the same rows of the tables
    /// apply in every case.
    pub(crate) fn asked(
        &self,
        of_house: bool,
        figures: &[FigureName],
        provisions: &Provisions,
        Begun { possible, bands }: Begun,
        codes: &mut Vec<i64>,
    ) {
        let cases = if of_house { &self.house_cases } else { &self.cases };
        let bands = if of_house { (0, 0) } else { bands };
        by_case(Begun { possible, bands }, cases, codes, |case, codes| {
            for name in figures {
                let rows = case.requirement(provisions).map(|asks| asks.rows_of(*name));
                codes.extend(rows.into_iter().flatten().map(|row| i64::from(row.number())));
                codes.push(END);
            }
        });
    }

    /// Tells something shared in codes that are alike where it is. The answer is whether there is nothing to it:
    /// no anchor or panel that could count, or none without its holes.
    pub(crate) fn codes_of(
        &self,
        shared: Shared,
        house: &AsBuilt,
        provisions: &Provisions,
        begun: Begun,
        codes: &mut Vec<i64>,
    ) -> bool {
        let Some(wall) = house.wall_lines.first() else {
            return false;
        };
        let lines = lines(&self.cases, &self.worked_out, (house, wall), provisions);
        Telling {
            wall,
            lines,
            begun,
            codes,
        }
        .tell(shared)
    }
}

/// Stands after what has no fixed length.
pub(super) const END: i64 = -1;

/// Adds codes case by case; once, where they are alike in all cases. Where they differ, the observations that would tell
/// the cases apart are named among what decides; so they are added too.
pub(super) fn by_case<C>(
    Begun { possible, bands }: Begun,
    cases: impl IntoIterator<Item = C>,
    codes: &mut Vec<i64>,
    mut add: impl FnMut(C, &mut Vec<i64>),
) {
    let start = codes.len();
    let mut first = None;
    let mut are_alike = true;
    for case in cases {
        let from = codes.len();
        add(case, codes);
        let first = first.get_or_insert(start..codes.len()).clone();
        are_alike &= codes.get(first) == codes.get(from..);
    }
    if are_alike {
        codes.truncate(first.map_or(start, |first| first.end));
    } else {
        codes.push(END);
        codes.extend(possible.looks.map(|look| i64::from(look.is_some())));
        codes.push(i64::from(bands.0 != bands.1));
    }
}
