//! Running every check over a house.

use super::context::{Line, Whole, tallest_stud};
use super::finding::{Finding, Findings};
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
    findings: Findings,
    ends: Vec<usize>,
}

impl Assessor {
    /// Runs every check; the findings stay until the next run.
    pub fn run(&mut self, house: &AsBuilt, provisions: &Provisions) -> &[Finding] {
        self.findings.clear();
        let possible = Possible::of(&house.building);

        let mut wholes = possible
            .requirements(provisions, (0, 0))
            .map(|requirement| Whole { house, requirement });
        if let Some(first) = wholes.next() {
            // Nearly always there is one case; only where something is open are there more, and memory for them.
            let others: Vec<Whole<'_>> = wholes.collect();
            let [stories, exterior, roof] = possible.looks;
            for id in CheckId::ALL {
                if let Run::House(run) = id.check().run {
                    self.findings.at(id, None);
                    self.under_each(&first, &others, [stories, exterior, roof, None], run);
                }
            }
        }
        for (number, wall) in house.wall_lines.iter().enumerate() {
            self.run_wall_line(house, number, wall, provisions, possible);
        }
        self.findings.as_slice()
    }

    fn run_wall_line(
        &mut self,
        house: &AsBuilt,
        number: usize,
        wall: &WallLine,
        provisions: &Provisions,
        possible: Possible,
    ) {
        let (one, other) = provisions.bands_of(&tallest_stud(wall));
        let bands = (one.min(other), one.max(other));
        let mut requirements = possible.requirements(provisions, bands);
        let Some(first) = requirements.next() else { return };
        let line = Line::new(house, wall, first);
        let others: Vec<Line<'_>> = requirements
            .map(|requirement| Line::new(house, wall, requirement))
            .collect();
        let band = (bands.0 != bands.1).then_some(LookAt::TallestStud);
        let [stories, exterior, roof] = possible.looks;
        let open = [stories, exterior, roof, band];
        let start = self.findings.as_slice().len();
        for id in CheckId::ALL {
            match id.check().run {
                Run::House(_) => {}
                Run::Line(run) => {
                    self.findings.at(id, Some(number));
                    self.under_each(&line, &others, open, run);
                }
                Run::Audit(run) => {
                    self.findings.at(id, Some(number));
                    let judgment = run(&line, self.findings.as_slice().get(start..).unwrap_or_default());
                    self.findings.add(judgment);
                }
            }
        }
    }

    /// Runs one check under each possible requirement and brings the findings together.
    fn under_each<T>(
        &mut self,
        first: &T,
        others: &[T],
        open: [Option<LookAt>; 4],
        run: fn(&T, &mut Findings),
    ) {
        let start = self.findings.as_slice().len();
        run(first, &mut self.findings);
        if others.is_empty() {
            return;
        }
        self.ends.clear();
        self.ends.push(self.findings.as_slice().len());
        for other in others {
            run(other, &mut self.findings);
            self.ends.push(self.findings.as_slice().len());
        }
        self.findings.reconcile(start, &self.ends, open);
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

/// The cases a house can fall in, as far as stories and weight are known.
#[derive(Clone, Copy)]
struct Possible {
    stories: (u8, u8),
    heavy: Truth,
    looks: [Option<LookAt>; 3],
}

impl Possible {
    fn of(building: &Building) -> Self {
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

    /// The requirements of every case, from the mildest to the strictest.
    fn requirements(
        self,
        provisions: &Provisions,
        bands: (usize, usize),
    ) -> impl Iterator<Item = &Requirement> {
        let most = *provisions.stories().end();
        let stories = self.stories.0.clamp(1, most)..=self.stories.1.clamp(1, most);
        let weights = [WeightCase::Other, WeightCase::Heavy]
            .into_iter()
            .filter(move |weight| match self.heavy {
                Truth::True => *weight == WeightCase::Heavy,
                Truth::False => *weight == WeightCase::Other,
                Truth::Maybe => true,
            });
        stories.flat_map(move |stories| {
            weights.clone().flat_map(move |weight| {
                (bands.0..=bands.1).filter_map(move |band| provisions.requirement(stories, weight, band))
            })
        })
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
