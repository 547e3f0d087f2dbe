//! What a schedule keeps to: published practice as data, and the settings of one job.

use std::sync::LazyLock;

use thiserror::Error;
use typenum::{P1, Z0};

use crate::choice::{Choice, choices};
use crate::foundation::earthwork::{Earthwork, SolidVolume};
use crate::house::CheckedOn;
use crate::measure::{Length, Percent};
use crate::screen::{COUNT, Edition, FOOT, Figure, PLAIN, StandardTable};
use crate::table::TableError;

choices! {
    /// One step of the work in a bay, in the order in which the steps follow each other.
    pub enum Activity: "activity" {
        /// The old foundation broken out and the bay dug.
        Dig = "dig", "break out and dig";
        /// Dowels, bars and forms.
        BarsAndForms = "bars_and_forms", "bars and forms";
        /// Excavation and bars inspected: nothing is poured before.
        FoundationInspection = "foundation_inspection", "inspection before the pour";
        /// The pour.
        Pour = "pour", "pour";
        /// Forms stripped.
        Strip = "strip", "strip forms";
        /// Sill and anchors set and the wall packed tight on them.
        SillAndAnchors = "sill_and_anchors", "sill and anchors";
        /// What will be hidden inspected: nothing is covered before.
        CoverInspection = "cover_inspection", "inspection before cover";
        /// Backfill, and the wall closed.
        Cover = "cover", "backfill and cover";
    }
}

impl Activity {
    /// Whether a crew is at work: an inspection is waited for.
    pub const fn takes_a_crew(self) -> bool {
        !matches!(self, Self::FoundationInspection | Self::CoverInspection)
    }
}

/// Work days that the activities of one bay take; a pour is done in a day.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Durations {
    /// Break out and dig.
    pub dig: u16,
    /// Bars and forms.
    pub bars_and_forms: u16,
    /// From ready to inspected.
    pub foundation_inspection: u16,
    /// Strip forms.
    pub strip: u16,
    /// Sill and anchors.
    pub sill_and_anchors: u16,
    /// From ready to inspected.
    pub cover_inspection: u16,
    /// Backfill and cover.
    pub cover: u16,
}

impl Durations {
    /// The work days of an activity.
    pub const fn of(&self, activity: Activity) -> u16 {
        match activity {
            Activity::Dig => self.dig,
            Activity::BarsAndForms => self.bars_and_forms,
            Activity::FoundationInspection => self.foundation_inspection,
            Activity::Pour => 1,
            Activity::Strip => self.strip,
            Activity::SillAndAnchors => self.sill_and_anchors,
            Activity::CoverInspection => self.cover_inspection,
            Activity::Cover => self.cover,
        }
    }
}

/// What one job keeps to.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Settings {
    /// The longest bay.
    pub largest_open: Length,
    /// Untouched bays between two open ones, at least one.
    pub least_between: u32,
    /// The share of the perimeter that may be open at once.
    pub share_open: Percent,
    /// The perimeter. Where it is not known the share is taken of the lengths to be worked on, which are no longer;
    /// one bay may be open in any case.
    pub perimeter: Option<Length>,
    /// The length that may be open at once, where the engineer names one.
    pub most_open: Option<Length>,
    /// Days from the pour until forms may be stripped.
    pub strip_cure: u16,
    /// Days from the pour until the new foundation may carry the wall. Poured on a Monday, three days are over on
    /// Thursday.
    pub load_cure: u16,
    /// Days from the pour until a neighbor may open; its sill has to be set as well.
    pub neighbor_cure: u16,
    /// Work days of each activity.
    pub durations: Durations,
    /// Crews at work at the same time.
    pub crews: u16,
    /// Bays that one crew works in on the same day.
    pub bays_a_crew: u16,
    /// Concrete trucks in one day.
    pub trucks_a_day: u16,
    /// What one concrete truck brings.
    pub truck: SolidVolume,
    /// Concrete ordered above what the drawing holds.
    pub concrete_waste: Percent,
    /// Whether there is work on Saturdays and Sundays. Concrete cures on them in any case.
    pub works_weekends: bool,
    /// The first day; left out, days are counted from a Monday.
    pub start: Option<CheckedOn>,
    /// How far the search for the shortest schedule may go: states looked at, times the bays in each.
    pub search_budget: u32,
}

/// Why there is no division into bays, or no schedule.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
pub enum SequenceError {
    /// The tables are at fault.
    #[error("the table of foundation sequences is at fault: {0}")]
    Table(String),
    /// A setting that no job has.
    #[error("{setting}: found {found}; expected {expected}")]
    Setting {
        /// Its name.
        setting: &'static str,
        /// What was found.
        found: String,
        /// What was expected.
        expected: &'static str,
    },
    /// A length that ends before it begins, or begins before its wall line.
    #[error(
        "the work on {name:?} runs from {from} to {to}; expected stations from 0 upward, the second the larger"
    )]
    Stations {
        /// The wall line.
        name: String,
        /// Where it begins.
        from: Length,
        /// Where it ends.
        to: Length,
    },
    /// Two lengths of work on the same place.
    #[error("two lengths of work on {name:?} overlap at {at}; expected each place once")]
    Overlap {
        /// The wall line.
        name: String,
        /// Where the second begins.
        at: Length,
    },
    /// More bays than a house has.
    #[error("found {found} bays; expected no more than {most}")]
    TooMany {
        /// How many.
        found: usize,
        /// How many may be.
        most: usize,
    },
    /// A bay that is longer than may be open at all.
    #[error("bay {bay} is {length} long; no more than {limit} may be open at once")]
    BayTooLong {
        /// Its place in the list.
        bay: usize,
        /// Its length.
        length: Length,
        /// The limit.
        limit: Length,
    },
    /// A bay that takes more concrete than a day's trucks bring.
    #[error("bay {bay} takes {ordered} cubic yards; the trucks of a day bring {limit}")]
    TooMuchConcrete {
        /// Its place in the list.
        bay: usize,
        /// What is ordered for it.
        ordered: Yards,
        /// What a day brings.
        limit: Yards,
    },
}

/// Cubic yards in hundredths, for a message.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Yards(pub(super) i64);

impl std::fmt::Display for Yards {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{}.{:02}", self.0 / 100, self.0 % 100)
    }
}

/// No wait and no duration is longer than this; a number beyond it is a slip of the pen.
const MOST_DAYS: u16 = 60;

impl Settings {
    /// The settings that the tables name as used, on a work week of five days, with nothing known of the house.
    pub fn of(practice: &Practice) -> Self {
        practice.settings.clone()
    }

    /// Whether every number is one that a job can have; the error is [`SequenceError::Setting`].
    pub fn check(&self) -> Result<(), SequenceError> {
        let refuse = |setting, found: &dyn ToString, expected| SequenceError::Setting {
            setting,
            found: found.to_string(),
            expected,
        };
        if self.largest_open < Length::inches(6) || self.largest_open > Length::feet(1_000) {
            return Err(refuse("largest_open", &self.largest_open, "6 in to 1,000 ft"));
        }
        if !(1..=100).contains(&self.least_between) {
            return Err(refuse("least_between", &self.least_between, "1 to 100 bays"));
        }
        if self.share_open == Percent::ZERO || self.share_open > Percent::WHOLE {
            return Err(refuse(
                "share_open",
                &self.share_open,
                "more than 0% and no more than 100%",
            ));
        }
        if let Some(perimeter) = self.perimeter.filter(|perimeter| *perimeter <= Length::ZERO) {
            return Err(refuse("perimeter", &perimeter, "a length above 0"));
        }
        for (setting, days) in [
            ("strip_cure", self.strip_cure),
            ("load_cure", self.load_cure),
            ("neighbor_cure", self.neighbor_cure),
        ] {
            if days > MOST_DAYS {
                return Err(refuse(setting, &days, "0 to 60 days"));
            }
        }
        for activity in Activity::ALL {
            let days = self.durations.of(*activity);
            if !(1..=MOST_DAYS).contains(&days) {
                return Err(refuse(activity.spelling(), &days, "1 to 60 work days"));
            }
        }
        for (setting, count) in [
            ("crews", self.crews),
            ("bays_a_crew", self.bays_a_crew),
            ("trucks_a_day", self.trucks_a_day),
        ] {
            if !(1..=100).contains(&count) {
                return Err(refuse(setting, &count, "1 to 100"));
            }
        }
        if self.truck <= SolidVolume::ZERO {
            return Err(refuse("truck", &self.truck, "a volume above 0"));
        }
        Ok(())
    }

    /// The bays in which crews are at work at the same time, at most.
    pub(super) fn bays_at_work(&self) -> u16 {
        self.crews.saturating_mul(self.bays_a_crew)
    }

    /// The concrete that the trucks of a day bring.
    pub(super) fn a_days_concrete(&self) -> SolidVolume {
        self.truck.times(self.trucks_a_day.into())
    }

    /// Days from Monday to the first day.
    pub(super) fn first_weekday(&self) -> u32 {
        self.start.map_or(0, |start| start.weekday().into())
    }

    /// Whether there is work on a day, counted from the first.
    pub(super) fn is_work_day(&self, day: u32) -> bool {
        self.works_weekends || (u64::from(self.first_weekday()) + u64::from(day)) % 7 < 5
    }
}

/// A published figure with whose practice it is.
pub type Other<F, L> = (String, Figure<F, L>);

/// What a table holds of one figure: what is used, and everything published beside it.
#[derive(Clone, Debug, PartialEq)]
pub struct Published<F, L> {
    /// The figure that is used where nothing else is chosen.
    pub used: Figure<F, L>,
    /// Every other row, with whose practice it is.
    pub others: Vec<Other<F, L>>,
}

type Days = Published<Z0, Z0>;

/// Published practice, every row of it.
#[derive(Clone, Debug)]
pub struct Practice {
    /// The edition of the table.
    pub edition: Edition,
    /// The longest bay.
    pub largest_open: Published<Z0, P1>,
    /// Clear or center distances that some practices name in place of a count of bays; none is used.
    pub clear_distance: Vec<Other<Z0, P1>>,
    /// Untouched bays between two open ones.
    pub least_between: Days,
    /// Percent of the perimeter open at once.
    pub share_open: Days,
    /// Days from the pour until forms are stripped.
    pub cure_before_strip: Days,
    /// Days from the pour until the new foundation may carry.
    pub cure_before_load: Days,
    /// Days from the pour until a neighbor opens.
    pub cure_before_neighbor: Days,
    /// Work days of each activity but the pour.
    pub durations: Vec<(Activity, Figure<Z0, Z0>)>,
    /// How long whole jobs were seen to take, in days: not used, to hold a schedule against.
    pub seen: Vec<Other<Z0, Z0>>,
    /// Crews at work.
    pub crews: Days,
    /// Bays that one crew works in on the same day.
    pub bays_a_crew: Days,
    /// Concrete trucks in a day.
    pub trucks_a_day: Days,
    settings: Settings,
}

impl Practice {
    /// The shipped table.
    pub fn shipped() -> Result<&'static Self, &'static [TableError]> {
        static PRACTICE: LazyLock<Result<Practice, Vec<TableError>>> = LazyLock::new(|| {
            let table = StandardTable::shipped("foundation-sequence")?;
            let earthwork = Earthwork::shipped().map_err(<[TableError]>::to_vec)?;
            Practice::parse(&table, earthwork)
        });
        PRACTICE.as_ref().map_err(Vec::as_slice)
    }

    /// Reads the practice from its table; the volume of a truck and the waste come from that of the earthwork.
    pub fn parse(table: &StandardTable, earthwork: &Earthwork) -> Result<Self, Vec<TableError>> {
        Self::read(table, earthwork).map_err(|fault| vec![fault])
    }

    fn read(table: &StandardTable, earthwork: &Earthwork) -> Result<Self, TableError> {
        let days = |figure: &str| published::<Z0, Z0>(table, figure);
        let durations = Activity::ALL
            .iter()
            .filter(|activity| **activity != Activity::Pour)
            .map(|activity| Ok((*activity, table.figure("duration", activity.spelling())?)))
            .collect::<Result<Vec<(Activity, Figure<Z0, Z0>)>, TableError>>()?;
        let clear_distance = others(table, "clear-distance")?;
        let mut seen = others(table, "one-side")?;
        seen.extend(others(table, "whole-house")?);
        let largest_open = published::<Z0, P1>(table, "largest-open")?;
        let (least_between, share_open) = (days("least-between")?, days("share-open")?);
        let cure_before_strip = days("cure-before-strip")?;
        let cure_before_load = days("cure-before-load")?;
        let cure_before_neighbor = days("cure-before-neighbor")?;
        let (crews, bays_a_crew) = (days("crews")?, days("bays-a-crew")?);
        let trucks_a_day = days("trucks-a-day")?;
        if let Some(fault) = table.unread() {
            return Err(fault);
        }
        let of = |activity: Activity| {
            let found = durations.iter().find(|(other, _)| *other == activity);
            found.map_or(1, |(_, figure)| whole(figure))
        };
        let settings = Settings {
            largest_open: length(&largest_open.used),
            least_between: whole(&least_between.used).into(),
            share_open: percent(&share_open.used),
            perimeter: None,
            most_open: None,
            strip_cure: whole(&cure_before_strip.used),
            load_cure: whole(&cure_before_load.used),
            neighbor_cure: whole(&cure_before_neighbor.used),
            durations: Durations {
                dig: of(Activity::Dig),
                bars_and_forms: of(Activity::BarsAndForms),
                foundation_inspection: of(Activity::FoundationInspection),
                strip: of(Activity::Strip),
                sill_and_anchors: of(Activity::SillAndAnchors),
                cover_inspection: of(Activity::CoverInspection),
                cover: of(Activity::Cover),
            },
            crews: whole(&crews.used),
            bays_a_crew: whole(&bays_a_crew.used),
            trucks_a_day: whole(&trucks_a_day.used),
            truck: SolidVolume::from_cubic_yards(earthwork.concrete_truck.to(PLAIN)),
            concrete_waste: percent(&earthwork.concrete_waste.used),
            works_weekends: false,
            start: None,
            search_budget: 200_000,
        };
        settings
            .check()
            .map_err(|fault| TableError::set(&table.edition.id, fault.to_string()))?;
        Ok(Self {
            edition: table.edition.clone(),
            clear_distance,
            largest_open,
            least_between,
            share_open,
            cure_before_strip,
            cure_before_load,
            cure_before_neighbor,
            durations,
            seen,
            crews,
            bays_a_crew,
            trucks_a_day,
            settings,
        })
    }
}

/// The word of the row that is used.
const USED: &str = "used";

pub(crate) fn published<F: typenum::Integer, L: typenum::Integer>(
    table: &StandardTable,
    figure: &str,
) -> Result<Published<F, L>, TableError> {
    Ok(Published {
        used: table.figure(figure, USED)?,
        others: others(table, figure)?,
    })
}

/// The rows of a figure but the one that is used.
fn others<F: typenum::Integer, L: typenum::Integer>(
    table: &StandardTable,
    figure: &str,
) -> Result<Vec<Other<F, L>>, TableError> {
    let rows = table.rows(figure).filter(|cell| cell.of.as_ref() != USED);
    rows.map(|cell| {
        let figure = table.read_cell(cell)?;
        let figure = figure.ok_or_else(|| table.fault(cell, "found \"study\"; expected a number"))?;
        Ok((cell.of.to_string(), figure))
    })
    .collect()
}

#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "a table holds no number below 0, and the cast keeps to the range"
)]
pub(super) fn whole(figure: &Figure<Z0, Z0>) -> u16 {
    figure.to(COUNT).round() as u16
}

#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "a table holds no number below 0, and the cast keeps to the range"
)]
pub(crate) fn percent(figure: &Figure<Z0, Z0>) -> Percent {
    Percent::from_hundredths((figure.high * 100.0).round() as u32).unwrap_or(Percent::WHOLE)
}

/// A length of a table, to the sixty-fourth of an inch.
#[expect(clippy::cast_possible_truncation, reason = "the cast keeps to the range")]
pub(crate) fn length(figure: &Figure<Z0, P1>) -> Length {
    Length::sixty_fourths((figure.to(FOOT) * 768.0).round() as i64)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::provisions::Standing;
    use rstest::rstest;

    #[test]
    fn the_shipped_practice_keeps_every_published_row_and_names_the_one_it_uses() {
        let practice = Practice::shipped().unwrap();
        let settings = Settings::of(practice);
        assert_eq!(settings.largest_open, Length::feet(4));
        assert_eq!(settings.least_between, 2);
        assert_eq!(settings.share_open, Percent::from_hundredths(2_500).unwrap());
        assert_eq!(practice.largest_open.used.standing, Standing::CommonPractice);
        // Bays of no more than 1 m without an expert: seen on the page of the association of building control bodies.
        let uk = practice
            .largest_open
            .others
            .iter()
            .find(|(of, _)| of.starts_with("bays without"));
        let (_, uk) = uk.unwrap();
        assert_eq!(uk.standing, Standing::Verified);
        assert!((uk.to(FOOT) - 3.281).abs() < 0.001);
        let longest = practice.largest_open.others.iter().map(|(_, other)| other.high);
        assert!(
            longest.fold(0.0, f64::max) < practice.largest_open.used.high,
            "the note says so"
        );
        assert!(practice.cure_before_load.others.len() >= 4);
    }

    #[rstest]
    #[case::no_crew(|settings: &mut Settings| settings.crews = 0, "crews")]
    #[case::no_bays_between(|settings: &mut Settings| settings.least_between = 0, "least_between")]
    #[case::nothing_open(|settings: &mut Settings| settings.share_open = Percent::ZERO, "share_open")]
    #[case::no_time(|settings: &mut Settings| settings.durations.strip = 0, "strip")]
    #[case::a_year_of_cure(|settings: &mut Settings| settings.load_cure = 365, "load_cure")]
    #[case::an_empty_truck(|settings: &mut Settings| settings.truck = SolidVolume::ZERO, "truck")]
    #[case::no_bay(|settings: &mut Settings| settings.largest_open = Length::ZERO, "largest_open")]
    fn a_setting_that_no_job_has_is_refused_by_name(#[case] change: fn(&mut Settings), #[case] name: &str) {
        let mut settings = Settings::of(Practice::shipped().unwrap());
        change(&mut settings);
        let told = settings.check().unwrap_err().to_string();
        assert!(told.starts_with(name) && told.contains("expected"), "{told}");
    }
}
