//! What the findings of a wall line or a house come to together, and what to look at next.

use std::cmp::Reverse;

use serde::Serialize;

use super::finding::Finding;
use super::look_at::LookAt;
use super::outcome::{Outcome, Outcomes, Ruling};
use crate::choice::Choice;
use crate::provisions::{Figure, FigureId, Provisions, Standing};

/// The verdict on a wall line or a house: the strictest of its findings, with its best and worst case.
#[derive(Clone, Debug, PartialEq)]
pub struct Verdict {
    /// What is possible, given what is not known.
    pub outcomes: Outcomes,
    /// What the verdict rests on.
    pub rests: Rests,
    /// How many findings came to each ruling.
    pub counts: Counts,
}

/// Numbers of findings by ruling.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, schemars::JsonSchema)]
pub struct Counts {
    /// Met.
    pub met: u32,
    /// Not met.
    pub not_met: u32,
    /// Not determined.
    pub not_determined: u32,
    /// Not applicable.
    pub not_applicable: u32,
    /// Outside the prescriptive provisions.
    pub outside: u32,
}

impl Counts {
    pub(super) fn add(&mut self, ruling: Ruling) {
        let slot = match ruling {
            Ruling::Met => &mut self.met,
            Ruling::NotMet => &mut self.not_met,
            Ruling::NotDetermined => &mut self.not_determined,
            Ruling::NotApplicable => &mut self.not_applicable,
            Ruling::Outside => &mut self.outside,
        };
        *slot += 1;
    }
}

/// What a verdict rests on.
#[derive(Clone, Debug, PartialEq)]
pub struct Rests {
    /// The weakest figure that the verdict needs; `None` when it rests on no figure.
    pub standing: Option<Standing>,
    /// The figures to confirm: of those the verdict rests on, the ones that nobody has seen in their document.
    /// Empty where figures that were seen are enough for the verdict.
    pub to_confirm: Vec<FigureId>,
}

impl Verdict {
    /// The verdict in one word.
    pub fn ruling(&self) -> Ruling {
        self.outcomes.ruling()
    }

    /// The best case.
    pub fn best(&self) -> Outcome {
        self.outcomes.best()
    }

    /// The worst case.
    pub fn worst(&self) -> Outcome {
        self.outcomes.worst()
    }

    /// The verdict as a report says it: `not met, by a remembered figure`.
    pub fn words(&self) -> String {
        let caveat = self.rests.standing.map_or("", Standing::caveat);
        match self.ruling() {
            ruling @ (Ruling::Met | Ruling::NotMet | Ruling::Outside) if !caveat.is_empty() => {
                format!("{}, {caveat}", ruling.words())
            }
            ruling => ruling.words().to_owned(),
        }
    }

    pub(super) fn of<'a>(
        findings: impl Iterator<Item = &'a Finding> + Clone,
        provisions: &Provisions,
    ) -> Self {
        let mut outcomes = Outcomes::only(Outcome::NotApplicable);
        let mut counts = Counts::default();
        for finding in findings.clone() {
            outcomes = outcomes.strictest(finding.outcomes);
            counts.add(finding.outcomes.ruling());
        }
        let ruling = outcomes.ruling();
        let weakest = |finding: &Finding| {
            finding
                .figures
                .iter()
                .filter_map(|id| provisions.figure(id)?.standing())
                .max()
                .unwrap_or(Standing::Verified)
        };
        let deciding = findings.filter(|finding| match ruling {
            // What is met rests on everything that is met; what falls short rests on what falls short.
            Ruling::NotDetermined => matches!(finding.outcomes.ruling(), Ruling::NotDetermined | Ruling::Met),
            ruling => finding.outcomes.ruling() == ruling,
        });
        let standing = match ruling {
            Ruling::NotMet | Ruling::Outside => deciding.clone().map(weakest).min(),
            _ => deciding.clone().map(weakest).max(),
        };
        // One shortfall is enough: where some of them rest on better figures, the others add nothing.
        let rests_on = deciding.filter(|finding| match ruling {
            Ruling::NotMet | Ruling::Outside => Some(weakest(finding)) == standing,
            Ruling::NotDetermined => true,
            Ruling::Met | Ruling::NotApplicable => standing > Some(Standing::Attested),
        });
        let mut to_confirm: Vec<FigureId> = rests_on
            .flat_map(|finding| finding.figures.iter().collect::<Vec<_>>())
            .filter(|id| provisions.figure(*id).is_some_and(Figure::is_to_confirm))
            .collect();
        to_confirm.sort_unstable();
        to_confirm.dedup();
        Self {
            outcomes,
            rests: Rests { standing, to_confirm },
            counts,
        }
    }
}

/// An observation that would narrow the verdict.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct NextLook {
    /// What to look at.
    pub look_at: LookAt,
    /// The wall lines where it is open, by position; empty for the house as a whole.
    pub wall_lines: Vec<u16>,
    /// How many open findings it has a part in.
    pub decides: u32,
}

/// How many observations are named at most.
const MOST_LOOKS: usize = 8;

/// The observations that would narrow the verdict most, in the order of a crawl: those that decide whether the
/// house is outside the provisions before all others, since the worst case hangs on them, and among equals those
/// with a part in the most open findings.
pub(super) fn next_looks(findings: &[Finding]) -> Vec<NextLook> {
    let mut looks: Vec<(Outcome, NextLook)> = Vec::new();
    for finding in findings
        .iter()
        .filter(|finding| finding.outcomes.ruling() == Ruling::NotDetermined)
    {
        for look_at in finding.deciding.iter() {
            let line = finding.wall_line.filter(|_| look_at.is_along_a_wall_line());
            let known = looks.iter().position(|(_, look)| look.look_at == look_at);
            let at = known.unwrap_or(looks.len());
            if known.is_none() {
                let look = NextLook {
                    look_at,
                    wall_lines: Vec::new(),
                    decides: 0,
                };
                looks.push((Outcome::NotApplicable, look));
            }
            let Some((worst, look)) = looks.get_mut(at) else {
                continue;
            };
            *worst = finding.outcomes.worst().max(*worst);
            look.decides += 1;
            if let Some(line) = line
                && !look.wall_lines.contains(&line)
            {
                look.wall_lines.push(line);
            }
        }
    }
    looks.sort_by_key(|(worst, look)| (Reverse(*worst), Reverse(look.decides), look.look_at.index()));
    looks.truncate(MOST_LOOKS);
    let mut looks: Vec<NextLook> = looks.into_iter().map(|(_, look)| look).collect();
    looks.sort_by_key(|look| look.look_at.index());
    looks
}

#[cfg(test)]
mod tests {
    use rstest::rstest;
    use serde_json::json;

    use crate::check::trial::*;
    use crate::check::{LookAt, Outcome, assess};
    use crate::house::{AsBuilt, House};
    use crate::provisions::{Library, Standing};

    /// What falls short by a figure seen in the document rests on that, whatever else falls short; what falls
    /// short only by a remembered number of anchors says so.
    #[rstest]
    #[case(&[], Standing::Verified, "not met")]
    #[case(&["10 in", "134 in"], Standing::Memory, "not met, by a remembered figure")]
    fn a_verdict_rests_on_the_strongest_shortfall(
        #[case] stations: &[&str],
        #[case] standing: Standing,
        #[case] words: &str,
    ) {
        let wall = wall_with(&json!({
            "name": "north", "length": "144 in", "anchors": anchors(stations, &json!({})),
            "cripple_wall": [], "panels": null
        }));
        let house: House = serde_json::from_value(json!({
            "format": "house-1", "name": "trial", "building": {"stories": 1}, "wall_lines": [wall],
        }))
        .unwrap();
        let (house, set) = (
            AsBuilt::new(house).unwrap(),
            Library::shipped().set(CEBC).unwrap(),
        );
        let assessment = assess(&house, &set);
        // The wall line is judged here by its anchors alone.
        let shortfalls = assessment
            .findings
            .iter()
            .filter(|finding| finding.check().name.starts_with("anchor"));
        let verdict = super::Verdict::of(shortfalls, &set);
        assert_eq!(verdict.rests.standing, Some(standing));
        assert_eq!(verdict.words(), words);
        // The figures to confirm are those of the shortfall that the verdict rests on, and no others.
        let to_confirm: Vec<_> = (verdict.rests.to_confirm.iter())
            .map(|id| set.figure(*id).unwrap().standing())
            .collect();
        assert_eq!(
            to_confirm.is_empty(),
            standing == Standing::Verified,
            "{to_confirm:?}"
        );
        assert!(
            to_confirm.iter().all(|one| *one == Some(standing)),
            "{to_confirm:?}"
        );
    }

    /// However much else is open, what decides whether the house is outside the provisions is named.
    #[test]
    fn what_the_worst_case_hangs_on_is_looked_at_first() {
        let wall = |name: &str| json!({"name": name, "length": {"measured": "24'-0\""}});
        let house: House = serde_json::from_value(json!({
            "format": "house-1", "name": "trial", "building": {"stories": 1},
            "wall_lines": [wall("north"), wall("east"), wall("south"), wall("west")],
        }))
        .unwrap();
        let (house, set) = (
            AsBuilt::new(house).unwrap(),
            Library::shipped().set(CEBC).unwrap(),
        );
        let assessment = assess(&house, &set);
        assert_eq!(assessment.verdict.worst(), Outcome::Outside);
        let looks: Vec<LookAt> = assessment.next.iter().map(|next| next.look_at).collect();
        let limits = assessment
            .findings
            .iter()
            .filter(|finding| finding.wall_line.is_none() && finding.outcomes.worst() == Outcome::Outside);
        let deciding: Vec<LookAt> = limits
            .flat_map(|finding| finding.deciding.iter().collect::<Vec<_>>())
            .collect();
        assert!(deciding.contains(&LookAt::SlabOrPoles), "{deciding:?}");
        for look_at in deciding {
            assert!(looks.contains(&look_at), "{look_at:?} is not among {looks:?}");
        }
        // What is looked at next still goes by the number of open findings where the limits leave room.
        assert!(looks.contains(&LookAt::Panels), "{looks:?}");
    }
}
