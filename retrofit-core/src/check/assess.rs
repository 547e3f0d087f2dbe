//! Running every check over a house.

use super::context::{Line, Whole, WorkedOut, tallest_stud};
use super::finding::{Finding, Findings, Judgment};
use super::look_at::LookAt;
use super::outcome::{Outcome, Outcomes};
use super::registry::{CheckId, Run};
use super::verdict::{Counts, NextLook, Verdict, next_looks};
use crate::house::{AsBuilt, Building, WallLine, WeightCase};
use crate::observation::Truth;
use crate::provisions::{Provisions, Requirement};

/// Checks a house against a set of provisions.
///
/// ```
/// use retrofit_core::check::{Ruling, assess};
/// use retrofit_core::house::{AsBuilt, House};
/// use retrofit_core::provisions::Library;
///
/// let provisions = Library::shipped().set(Library::DEFAULT_SET).expect("the shipped tables are in order");
/// let house: House = serde_json::from_str(r#"{
///     "format": "house-1", "name": "no anchors at all", "building": {"stories": 1},
///     "wall_lines": [{"name": "north", "length": {"measured": "24'-0\""}, "anchors": []}]
/// }"#)?;
/// let house = AsBuilt::new(house).expect("the record makes sense");
/// let assessment = assess(&house, &provisions);
/// assert_eq!(assessment.verdict.ruling(), Ruling::NotMet);
/// # Ok::<(), serde_json::Error>(())
/// ```
pub fn assess<'a>(house: &'a AsBuilt, provisions: &'a Provisions) -> Assessment<'a> {
    let mut assessor = Assessor::default();
    assessor.run(house, provisions);
    let findings = assessor.findings.as_slice().to_vec();
    let of_line = |line: usize| {
        findings
            .iter()
            .filter(move |finding| finding.wall_line.map(usize::from) == Some(line))
    };
    let wall_lines = (0..house.wall_lines.len())
        .map(|line| Verdict::of(of_line(line), provisions))
        .collect();
    let verdict = Verdict::of(findings.iter(), provisions);
    let next = next_looks(&findings);
    Assessment {
        house,
        provisions,
        verdict,
        wall_lines,
        next,
        findings,
    }
}

/// What checking a house against a set of provisions came to.
#[derive(Clone, Debug)]
pub struct Assessment<'a> {
    /// The house.
    pub house: &'a AsBuilt,
    /// The set of provisions.
    pub provisions: &'a Provisions,
    /// The verdict on the house: the strictest of everything found.
    pub verdict: Verdict,
    /// The verdict on each wall line.
    pub wall_lines: Vec<Verdict>,
    /// What would narrow the verdict most, in the order of a crawl.
    pub next: Vec<NextLook>,
    /// Everything found: the house as a whole first, then wall line by wall line.
    pub findings: Vec<Finding>,
}

impl Assessment<'_> {
    /// The findings on one wall line, or on the house as a whole.
    pub fn findings_at(&self, wall_line: Option<usize>) -> impl Iterator<Item = &Finding> + Clone {
        self.findings
            .iter()
            .filter(move |finding| finding.wall_line.map(usize::from) == wall_line)
    }
}

/// Checks many houses one after another without taking new memory for each.
#[derive(Clone, Debug, Default)]
pub struct Assessor {
    pub(super) findings: Findings,
    /// The cases in which the house can fall. Nearly always there is one.
    pub(super) house_cases: Vec<Case>,
    /// The cases in which a wall line can fall.
    pub(super) cases: Vec<Case>,
    /// What is shared between the checks on a wall line, case by case.
    pub(super) worked_out: Vec<WorkedOut>,
    /// Where the findings of one check end, case by case.
    ends: Vec<usize>,
}

impl Assessor {
    /// Runs every check; the findings stay until the next run.
    pub fn run(&mut self, house: &AsBuilt, provisions: &Provisions) -> &[Finding] {
        self.findings.clear();
        let possible = Possible::of(&house.building);
        possible.cases(provisions, (0, 0), &mut self.house_cases);
        for id in CheckId::ALL {
            if let Run::House(run) = id.check().run {
                self.run_on_house(id, run, house, provisions, possible);
            }
        }
        for (number, wall) in house.wall_lines.iter().enumerate() {
            let bands = self.begin_wall_line(wall, provisions, possible);
            let start = self.findings.as_slice().len();
            for id in CheckId::ALL {
                let place = (house, number, wall);
                match id.check().run {
                    Run::House(_) => {}
                    Run::Line(run) => self.run_on_line(id, run, place, provisions, possible, bands),
                    Run::Audit(run) => self.audit(id, run, place, provisions, start),
                }
            }
        }
        self.findings.as_slice()
    }

    pub(super) fn run_on_house(
        &mut self,
        id: CheckId,
        run: fn(&Whole<'_>, &mut Findings),
        house: &AsBuilt,
        provisions: &Provisions,
        possible: Possible,
    ) {
        let [stories, exterior, roof] = possible.looks;
        let open = [stories, exterior, roof, None];
        let wholes = self.house_cases.iter().filter_map(|case| {
            let requirement = case.requirement(provisions)?;
            Some(Whole { house, requirement })
        });
        self.findings.at(id, None);
        under_each(&mut self.findings, &mut self.ends, wholes, open, run);
    }

    /// Finds the cases in which a wall line can fall, and forgets what was worked out for the one before. Says
    /// which stud height bands they are.
    pub(super) fn begin_wall_line(
        &mut self,
        wall: &WallLine,
        provisions: &Provisions,
        possible: Possible,
    ) -> Bands {
        let (one, other) = provisions.bands_of(&tallest_stud(wall));
        let bands = (one.min(other), one.max(other));
        possible.cases(provisions, bands, &mut self.cases);
        self.worked_out.clear();
        self.worked_out.resize_with(self.cases.len(), WorkedOut::default);
        bands
    }

    pub(super) fn run_on_line(
        &mut self,
        id: CheckId,
        run: fn(&Line<'_>, &mut Findings),
        (house, number, wall): Place<'_>,
        provisions: &Provisions,
        possible: Possible,
        bands: Bands,
    ) {
        let lines = lines(&self.cases, &self.worked_out, (house, wall), provisions);
        let band = (bands.0 != bands.1).then_some(LookAt::TallestStud);
        let [stories, exterior, roof] = possible.looks;
        let open = [stories, exterior, roof, band];
        self.findings.at(id, Some(number));
        under_each(&mut self.findings, &mut self.ends, lines, open, run);
    }

    /// Runs a check over what the others found on a wall line: the findings from `start` on.
    fn audit(
        &mut self,
        id: CheckId,
        run: fn(&Line<'_>, &[Finding]) -> Judgment,
        (house, number, wall): Place<'_>,
        provisions: &Provisions,
        start: usize,
    ) {
        let line = lines(&self.cases, &self.worked_out, (house, wall), provisions).next();
        let Some(line) = line else { return };
        let judgment = run(&line, self.findings.as_slice().get(start..).unwrap_or_default());
        self.findings.at(id, Some(number));
        self.findings.add(judgment);
    }

    /// The outcomes and counts of the last run: what a portfolio row needs.
    pub fn summary(&self) -> (Outcomes, Counts) {
        let mut outcomes = Outcomes::only(Outcome::NotApplicable);
        let mut counts = Counts::default();
        for finding in self.findings.as_slice() {
            outcomes = outcomes.strictest(finding.outcomes);
            counts.add(finding.outcomes.ruling());
        }
        (outcomes, counts)
    }
}

/// A wall line of a house, and its number.
type Place<'a> = (&'a AsBuilt, usize, &'a WallLine);

/// The stud height bands in which a wall line can fall: the first and the last.
pub(super) type Bands = (usize, usize);

/// A wall line under each requirement that may apply to it.
pub(super) fn lines<'a>(
    cases: &'a [Case],
    worked_out: &'a [WorkedOut],
    (house, wall): (&'a AsBuilt, &'a WallLine),
    provisions: &'a Provisions,
) -> impl Iterator<Item = Line<'a>> + Clone + 'a {
    cases
        .iter()
        .zip(worked_out)
        .filter_map(move |(case, worked_out)| {
            let requirement = case.requirement(provisions)?;
            Some(Line::new(house, wall, requirement, worked_out))
        })
}

/// Runs one check under each possible requirement and brings the findings together.
fn under_each<T>(
    findings: &mut Findings,
    ends: &mut Vec<usize>,
    places: impl Iterator<Item = T>,
    open: [Option<LookAt>; 4],
    run: fn(&T, &mut Findings),
) {
    let start = findings.as_slice().len();
    ends.clear();
    for place in places {
        run(&place, findings);
        ends.push(findings.as_slice().len());
    }
    if ends.len() > 1 {
        findings.reconcile(start, ends, open);
    }
}

/// A case for which a set of provisions has figures.
#[derive(Clone, Copy, Debug)]
pub(super) struct Case {
    stories: u8,
    weight: WeightCase,
    band: usize,
}

impl Case {
    pub(super) fn requirement(self, provisions: &Provisions) -> Option<&Requirement> {
        provisions.requirement(self.stories, self.weight, self.band)
    }
}

/// The cases a house can fall in, as far as stories and weight are known.
#[derive(Clone, Copy, Debug)]
pub(super) struct Possible {
    pub(super) stories: (u8, u8),
    pub(super) heavy: Truth,
    pub(super) looks: [Option<LookAt>; 3],
}

impl Possible {
    pub(super) fn of(building: &Building) -> Self {
        let (least, most) = building.stories.bounds();
        let stories = (
            least.map_or(1, |s| s.counted()),
            most.map_or(u8::MAX, |s| s.counted()),
        );
        let stories = (stories.0.min(stories.1), stories.0.max(stories.1));
        let heavy = building.is_heavy();
        let weigh = |open: bool, look_at: LookAt| (heavy == Truth::Maybe && open).then_some(look_at);
        let looks = [
            (stories.0 != stories.1).then_some(LookAt::Stories),
            weigh(!building.exterior.is_known(), LookAt::Exterior),
            weigh(!building.roof.is_known(), LookAt::Roof),
        ];
        Self {
            stories,
            heavy,
            looks,
        }
    }

    /// Lists the cases, from the mildest to the strictest.
    pub(super) fn cases(self, provisions: &Provisions, bands: (usize, usize), list: &mut Vec<Case>) {
        list.clear();
        let most = *provisions.stories().end();
        for stories in self.stories.0.clamp(1, most)..=self.stories.1.clamp(1, most) {
            for (weight, may_be) in [
                (WeightCase::Other, self.heavy != Truth::True),
                (WeightCase::Heavy, self.heavy != Truth::False),
            ] {
                for band in bands.0..=bands.1 {
                    if may_be {
                        list.push(Case {
                            stories,
                            weight,
                            band,
                        });
                    }
                }
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use rstest::rstest;
    use serde_json::{Value, json};

    use super::super::trial::*;
    use super::*;

    /// 8 ft of 20 ft are braced: enough behind low studs, too little behind tall ones.
    #[rstest]
    #[case(json!("20 in"), "met")]
    #[case(json!("20 1/64 in"), "not met")]
    #[case(json!({"unknown": "closed"}), "not determined")]
    #[case(json!({"seen": {"at_most": "20 in"}}), "met")]
    #[case(json!({"seen": {"at_least": "21 in"}}), "not met")]
    fn stud_heights_choose_the_row(#[case] stud: Value, #[case] expected: &str) {
        let set = own_set(&[
            ("braced-share,,,,,,,20 in,", "40 %"),
            ("braced-share,,,,,,20 in,,", "60 %"),
        ]);
        let wall = wall_with(&json!({"cripple_wall": [{"height": "40 in", "tallest_stud": stud}]}));
        let said = ask_by("bracing-length", &set, &json!({"stories": 1}), &wall);
        assert_eq!(said.ruling, expected);
        assert_eq!(
            said.deciding.contains(&LookAt::TallestStud),
            expected == "not determined"
        );
    }
}
