//! How much of what was judged somebody saw.

use super::{Assessment, Counts, Ruling};
use crate::choice::choices;
use crate::observation::Basis;

choices! {
    /// How much of what was judged rests on what somebody measured or saw.
    pub enum EvidenceGrade: "grade of evidence" {
        /// At least three quarters.
        Most = "most", "most of it was seen";
        /// At least half.
        Some = "some", "some of it was seen";
        /// Less than half.
        Little = "little", "little of it was seen";
    }
}

/// The findings on a house by how what they rest on is known. What the provisions ask nothing of is left out.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Evidence {
    /// Judged by something measured.
    pub measured: u32,
    /// Judged by something seen.
    pub seen: u32,
    /// Judged by what somebody said.
    pub reported: u32,
    /// Judged by a conclusion.
    pub inferred: u32,
    /// Judged although no single observation tells how it is known, such as by a list with gaps.
    pub unsaid: u32,
    /// Left open.
    pub open: u32,
}

impl Evidence {
    /// Counts the findings of an assessment.
    ///
    /// ```
    /// use retrofit_core::check::{Evidence, EvidenceGrade, assess};
    /// use retrofit_core::house::{AsBuilt, House};
    /// use retrofit_core::provisions::Library;
    /// let house: House = serde_json::from_str(
    ///     r#"{"format": "house-1", "name": "Quince Lantern Way", "wall_lines": [{"name": "north"}]}"#,
    /// )?;
    /// let house = AsBuilt::new(house).expect("a record may say next to nothing");
    /// let provisions = Library::shipped().set(Library::DEFAULT_SET).expect("the shipped tables are in order");
    /// let evidence = Evidence::of(&assess(&house, &provisions));
    /// // Nobody has looked.
    /// assert_eq!(evidence.open, evidence.all());
    /// assert_eq!(evidence.grade(), EvidenceGrade::Little);
    /// # Ok::<(), serde_json::Error>(())
    /// ```
    pub fn of(assessment: &Assessment<'_>) -> Self {
        let mut evidence = Self::default();
        for finding in &assessment.findings {
            let slot = match (finding.outcomes.ruling(), finding.basis) {
                (Ruling::NotApplicable, _) => continue,
                (Ruling::NotDetermined, _) => &mut evidence.open,
                (_, Some(Basis::Measured)) => &mut evidence.measured,
                (_, Some(Basis::Seen)) => &mut evidence.seen,
                (_, Some(Basis::Reported)) => &mut evidence.reported,
                (_, Some(Basis::Inferred)) => &mut evidence.inferred,
                (_, None) => &mut evidence.unsaid,
            };
            *slot = slot.saturating_add(1);
        }
        evidence
    }

    /// All of them.
    pub fn all(&self) -> u32 {
        [
            self.measured,
            self.seen,
            self.reported,
            self.inferred,
            self.unsaid,
            self.open,
        ]
        .into_iter()
        .fold(0, u32::saturating_add)
    }

    /// Those that rest on what somebody measured or saw.
    pub const fn witnessed(&self) -> u32 {
        self.measured.saturating_add(self.seen)
    }

    /// Those that rest on what somebody said or concluded.
    pub const fn told(&self) -> u32 {
        self.reported.saturating_add(self.inferred)
    }

    /// The grade: common practice of this program and of no document. A house of which nothing was judged is at the
    /// lowest one.
    pub fn grade(&self) -> EvidenceGrade {
        let (all, witnessed) = (u64::from(self.all()), u64::from(self.witnessed()));
        if all > 0 && 4 * witnessed >= 3 * all {
            EvidenceGrade::Most
        } else if all > 0 && 2 * witnessed >= all {
            EvidenceGrade::Some
        } else {
            EvidenceGrade::Little
        }
    }
}

/// How many wall lines came to each ruling.
pub fn wall_lines_by_ruling(assessment: &Assessment<'_>) -> Counts {
    let mut counts = Counts::default();
    for verdict in &assessment.wall_lines {
        counts.add(verdict.ruling());
    }
    counts
}

#[cfg(test)]
mod tests {
    use rstest::rstest;

    use super::*;

    #[rstest]
    #[case(0, 0, EvidenceGrade::Little)]
    #[case(3, 1, EvidenceGrade::Most)]
    #[case(299, 101, EvidenceGrade::Some)]
    #[case(1, 1, EvidenceGrade::Some)]
    #[case(99, 101, EvidenceGrade::Little)]
    fn the_grade_goes_by_what_was_measured_or_seen(
        #[case] seen: u32,
        #[case] open: u32,
        #[case] expected: EvidenceGrade,
    ) {
        let evidence = Evidence {
            measured: seen,
            open,
            ..Evidence::default()
        };
        assert_eq!(evidence.grade(), expected);
        let told = Evidence {
            reported: seen,
            ..Evidence::default()
        };
        assert_eq!(told.grade(), EvidenceGrade::Little);
    }
}
