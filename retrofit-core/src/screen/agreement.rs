//! The prescriptive verdict and the screened load path of a wall line, side by side: whether they agree, and which
//! link or gap they differ over.
//!
//! The two ask different questions. Prescriptive provisions count pieces by stories and weight case, whatever the
//! shaking; a screen computes what this shaking asks and what each link gives. Neither is the judge of the other, so
//! that a disagreement is no error of one of them but something for an engineer to weigh.

use super::input::UnknownKind;
use super::link::LinkKind;
use super::result::{LineScreen, LinkScreen, Path, Screen};
use crate::check::{Assessment, Ruling};

/// How verdict and screen stand to each other.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Agreement {
    /// The provisions are met, and every link reaches its demand.
    BothReach,
    /// The provisions are not met, and a link surely falls short.
    BothShort,
    /// The provisions are met, and a link surely falls short all the same.
    MetYetShort,
    /// The provisions are met, and a link falls short at the worse end of what is not known.
    MetYetMayBeShort,
    /// The provisions are not met, and every link reaches its demand all the same.
    NotMetYetReaches,
    /// The provisions are not met, and a link falls short at the worse end of what is not known.
    NotMetAndMayBeShort,
    /// The verdict hangs on something that was not seen, and a link surely falls short.
    OpenYetShort,
    /// The verdict hangs on something that was not seen, and so does the path.
    OpenAndMayBeShort,
    /// The verdict hangs on something that was not seen, and every link reaches its demand all the same.
    OpenYetReaches,
    /// The provisions are not written for the house or the wall line; the screen computes it nevertheless.
    OutsideYetComputed,
    /// The provisions ask nothing here.
    NothingAsked,
    /// The path was not determined, so that there is nothing to set beside the verdict.
    NotScreened,
}

impl Agreement {
    /// Whether both say the same, as far as each says anything.
    pub const fn is_one(self) -> bool {
        matches!(
            self,
            Self::BothReach | Self::BothShort | Self::NotMetAndMayBeShort | Self::OpenAndMayBeShort
        )
    }

    const fn of(ruling: Ruling, path: Path) -> Self {
        match (ruling, path) {
            (Ruling::NotApplicable, _) => Self::NothingAsked,
            (_, Path::NotDetermined) => Self::NotScreened,
            (Ruling::Outside, _) => Self::OutsideYetComputed,
            (Ruling::Met, Path::Reaches) => Self::BothReach,
            (Ruling::Met, Path::MayBeShort) => Self::MetYetMayBeShort,
            (Ruling::Met, Path::Short) => Self::MetYetShort,
            (Ruling::NotMet, Path::Reaches) => Self::NotMetYetReaches,
            (Ruling::NotMet, Path::MayBeShort) => Self::NotMetAndMayBeShort,
            (Ruling::NotMet, Path::Short) => Self::BothShort,
            (Ruling::NotDetermined, Path::Reaches) => Self::OpenYetReaches,
            (Ruling::NotDetermined, Path::MayBeShort) => Self::OpenAndMayBeShort,
            (Ruling::NotDetermined, Path::Short) => Self::OpenYetShort,
        }
    }
}

/// A wall line by both.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LineAgreement {
    /// Its place among the wall lines of the house.
    pub wall: usize,
    /// The prescriptive verdict on it.
    pub ruling: Ruling,
    /// Whether the house as a whole lies outside the provisions, whatever the verdict on the line.
    pub is_house_outside: bool,
    /// How its load path stands.
    pub path: Path,
    /// How they stand to each other.
    pub agreement: Agreement,
    /// The link it turns on: the weakest of those that surely fall short, the weakest where none does, or the first that
    /// is not determined; `None` where every link reaches its demand, or where the shaking of the site is not known.
    pub cause: Option<LinkKind>,
    /// The unknown that widens the range of that link most.
    pub widest: Option<UnknownKind>,
}

/// The prescriptive verdict and the screen of each wall line, in the order of the screen.
pub fn agreement(assessment: &Assessment<'_>, screen: &Screen) -> Vec<LineAgreement> {
    let is_house_outside = assessment
        .findings_at(None)
        .any(|finding| finding.outcomes.ruling() == Ruling::Outside);
    screen
        .lines
        .iter()
        .filter_map(|line| {
            let ruling = assessment.wall_lines.get(line.wall)?.ruling();
            Some(of_line(line, ruling, is_house_outside, screen.shaking.is_ok()))
        })
        .collect()
}

fn of_line(
    line: &LineScreen,
    ruling: Ruling,
    is_house_outside: bool,
    is_shaking_known: bool,
) -> LineAgreement {
    let by_provisions = if is_house_outside { Ruling::Outside } else { ruling };
    let cause = match line.path {
        Path::Short => line.surely_short().or(line.weakest),
        Path::MayBeShort => line.weakest,
        // Without the shaking no link is the one that leaves it open.
        Path::NotDetermined if !is_shaking_known => None,
        Path::NotDetermined => line
            .links
            .iter()
            .find(|(_, link)| matches!(link, LinkScreen::NotDetermined(_)))
            .map(|(kind, _)| *kind),
        Path::Reaches => None,
    };
    let of_cause = line.links.iter().find(|(kind, _)| Some(*kind) == cause);
    LineAgreement {
        wall: line.wall,
        ruling,
        is_house_outside,
        path: line.path,
        agreement: Agreement::of(by_provisions, line.path),
        cause,
        widest: of_cause.and_then(|(_, link)| match link {
            LinkScreen::Computed(computed) => computed.widest,
            _ => None,
        }),
    }
}

#[cfg(test)]
mod tests {
    use super::super::{Options, Standards, screen};
    use super::*;
    use crate::check::assess;
    use crate::house::{AsBuilt, House};
    use crate::provisions::Library;

    const RULINGS: [Ruling; 5] = [
        Ruling::NotApplicable,
        Ruling::Met,
        Ruling::NotDetermined,
        Ruling::NotMet,
        Ruling::Outside,
    ];
    const PATHS: [Path; 4] = [Path::Short, Path::MayBeShort, Path::NotDetermined, Path::Reaches];

    #[test]
    fn both_agree_only_where_neither_praises_what_the_other_faults() {
        for ruling in RULINGS {
            for path in PATHS {
                let agreement = Agreement::of(ruling, path);
                let is_praised = ruling == Ruling::Met || path == Path::Reaches;
                let is_faulted =
                    matches!(ruling, Ruling::NotMet) || matches!(path, Path::Short | Path::MayBeShort);
                if is_praised && is_faulted {
                    assert!(!agreement.is_one(), "{ruling:?} {path:?}");
                }
                if ruling == Ruling::Outside || path == Path::NotDetermined {
                    assert!(!agreement.is_one(), "{ruling:?} {path:?}");
                }
            }
        }
        assert!(Agreement::of(Ruling::Met, Path::Reaches).is_one());
        assert!(Agreement::of(Ruling::NotMet, Path::Short).is_one());
    }

    fn house(text: &str) -> AsBuilt {
        let house: House = serde_json::from_str(text).unwrap();
        AsBuilt::new(house).unwrap()
    }

    fn of(text: &str) -> (Vec<LineAgreement>, Screen) {
        let house = house(text);
        let set = Library::shipped().set(Library::DEFAULT_SET).unwrap();
        let screened = screen(&house, Standards::shipped().unwrap(), Options::default()).unwrap();
        (agreement(&assess(&house, &set), &screened), screened)
    }

    #[test]
    fn a_house_with_neither_anchors_nor_panels_falls_short_by_both_over_its_weakest_link() {
        let (lines, screened) = of(include_str!("../../../examples/quince-lantern-way.json"));
        assert_eq!(lines.len(), screened.lines.len());
        for (line, of_screen) in lines.iter().zip(&screened.lines) {
            assert_eq!(line.agreement, Agreement::BothShort);
            assert_eq!(line.wall, of_screen.wall);
            assert_eq!(line.cause, of_screen.weakest);
        }
        assert_eq!(lines[0].cause, Some(LinkKind::Sheathing));
    }

    /// A link that is weaker at its worse end, but may reach its demand, is not what makes a path fall short for sure.
    #[test]
    fn a_path_that_surely_falls_short_turns_on_a_link_that_surely_does() {
        let (lines, screened) = of(include_str!("../../../examples/glacier-thimble-drive.json"));
        let mut others = 0;
        let short = |(line, _): &(&LineAgreement, &LineScreen)| line.path == Path::Short;
        for (line, of_screen) in lines.iter().zip(&screened.lines).filter(short) {
            let cause = of_screen.links.iter().find(|(kind, _)| Some(*kind) == line.cause);
            assert!(cause.unwrap().1.surely_falls_short());
            others += usize::from(line.cause != of_screen.weakest);
        }
        assert!(
            others > 0,
            "in this house one line has a weaker link that may reach its demand"
        );
    }

    #[test]
    fn without_the_shaking_of_the_site_no_link_is_blamed_for_what_is_open() {
        let (lines, screened) = of(include_str!("../../../examples/wren-cellar-close.json"));
        assert!(screened.shaking.is_err());
        for line in lines.iter().filter(|line| line.path == Path::NotDetermined) {
            assert_eq!(line.cause, None);
            assert_eq!(line.agreement, Agreement::NotScreened);
        }
    }

    /// The same provisions, and shaking that is hardly there: what is missing by the provisions is not needed.
    #[test]
    fn the_verdict_stays_where_shaking_fades_and_the_path_does_not() {
        let text = include_str!("../../../examples/bramble-kiln-court.json");
        let mut record: serde_json::Value = serde_json::from_str(text).unwrap();
        let (strong, _) = of(text);
        let site = record["site"].as_object_mut().unwrap();
        for key in ["s_s", "s_1", "s_d1", "site_class"] {
            site.remove(key);
        }
        site.insert("s_ds".to_owned(), serde_json::json!({"reported": 0.02}));
        let (faint, _) = of(&record.to_string());
        for (strong, faint) in strong.iter().zip(&faint) {
            assert_eq!(strong.ruling, faint.ruling);
        }
        let reaching =
            |lines: &[LineAgreement]| lines.iter().filter(|line| line.path == Path::Reaches).count();
        assert!(reaching(&faint) > reaching(&strong));
    }

    #[test]
    fn a_house_outside_the_provisions_is_computed_and_said_to_be_outside() {
        let text = include_str!("../../../examples/quince-lantern-way.json");
        let mut record: serde_json::Value = serde_json::from_str(text).unwrap();
        record["building"]["exterior"] = "masonry".into();
        record["building"]["stories"] = 4.into();
        let (lines, _) = of(&record.to_string());
        assert!(lines.iter().all(|line| line.is_house_outside));
        assert!(
            lines
                .iter()
                .all(|line| line.agreement == Agreement::OutsideYetComputed)
        );
    }
}
