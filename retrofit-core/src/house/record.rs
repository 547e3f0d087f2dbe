//! When, how and by whom a house was looked at, and the signs of trouble that were noted.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::choice::choices;
use crate::measure::Length;
use crate::observation::Observed;

/// The circumstances of the inspection.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub struct Inspection {
    /// The day, as year-month-day.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub date: Option<CheckedOn>,
    /// The observer's role, such as assessor or estimator.
    #[serde(skip_serializing_if = "String::is_empty")]
    pub observer: String,
    /// How far the crawl space was entered.
    #[serde(skip_serializing_if = "Observed::is_not_recorded")]
    pub access: Observed<Access>,
    /// Width of the opening through which the crawl space is entered.
    #[serde(skip_serializing_if = "Observed::is_not_recorded")]
    pub access_width: Observed<Length>,
    /// Height of that opening; of a hatch in a floor, its other side.
    #[serde(skip_serializing_if = "Observed::is_not_recorded")]
    pub access_height: Observed<Length>,
    /// Least clear height in the crawl space.
    #[serde(skip_serializing_if = "Observed::is_not_recorded")]
    pub clear_height: Observed<Length>,
}

choices! {
    /// How far a crawl space was entered.
    pub enum Access: "crawl-space access" {
        /// The whole crawl space was entered.
        Entered = "entered", "entered";
        /// Part of it was entered.
        Partly = "partly", "partly entered";
        /// Looked into with head and shoulders.
        HeadAndShoulders = "head_and_shoulders", "looked into from the opening";
        /// Not looked into.
        None = "none", "not entered";
    }
}

/// A calendar day, written as year-month-day (ISO 8601).
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct CheckedOn {
    year: u16,
    month: u8,
    day: u8,
}

impl CheckedOn {
    /// The days from another day to this one; negative when this one is earlier.
    ///
    /// ```
    /// use retrofit_core::house::CheckedOn;
    /// let day = |text: &str| text.parse::<CheckedOn>().unwrap();
    /// assert_eq!(day("2024-03-01").days_since(day("2024-02-28")), 2);
    /// assert_eq!(day("2026-05-04").days_since(day("2025-05-04")), 365);
    /// ```
    pub const fn days_since(self, other: Self) -> i32 {
        self.day_number() - other.day_number()
    }

    /// The day so many days later, or earlier; `None` before the year 1 and after the year 9999.
    ///
    /// ```
    /// use retrofit_core::house::CheckedOn;
    /// let day = |text: &str| text.parse::<CheckedOn>().unwrap();
    /// assert_eq!(day("2024-02-28").plus_days(2), Some(day("2024-03-01")));
    /// assert_eq!(day("2026-01-01").plus_days(-1), Some(day("2025-12-31")));
    /// assert_eq!(day("9999-12-31").plus_days(1), None);
    /// ```
    pub fn plus_days(self, days: i32) -> Option<Self> {
        let number = self.day_number().checked_add(days)?;
        // 146,097 days are four hundred years, after which the calendar repeats itself.
        let (cycle, in_cycle) = (number.div_euclid(146_097), number.rem_euclid(146_097));
        let leap_days = in_cycle / 1_460 - in_cycle / 36_524 + in_cycle / 146_096;
        let year = (in_cycle - leap_days) / 365;
        let in_year = in_cycle - (365 * year + year / 4 - year / 100);
        let month = (5 * in_year + 2) / 153;
        let day = in_year - (153 * month + 2) / 5 + 1;
        let after_december = month >= 10;
        let year = year + 400 * cycle + i32::from(after_december);
        Some(Self {
            year: u16::try_from(year)
                .ok()
                .filter(|year| (1..=9999).contains(year))?,
            month: u8::try_from(month + 3 - 12 * i32::from(after_december)).ok()?,
            day: u8::try_from(day).ok()?,
        })
    }

    /// The day of the week, counted from Monday, which is 0.
    ///
    /// ```
    /// use retrofit_core::house::CheckedOn;
    /// let day = |text: &str| text.parse::<CheckedOn>().unwrap();
    /// assert_eq!(day("2000-01-01").weekday(), 5, "a Saturday");
    /// assert_eq!(day("2026-11-25").weekday(), 2, "a Wednesday");
    /// ```
    pub const fn weekday(self) -> u8 {
        // The first of March of the year 0 is a Wednesday.
        #[expect(clippy::cast_possible_truncation, reason = "0 to 6")]
        let weekday = (self.day_number() + 2).rem_euclid(7) as u8;
        weekday
    }

    /// Days since the first of March of the year 0: a year that begins in March ends with its leap day.
    const fn day_number(self) -> i32 {
        let before_march = (self.month < 3) as i32;
        let year = self.year as i32 - before_march;
        let month = self.month as i32 + 12 * before_march - 3;
        365 * year + year.div_euclid(4) - year.div_euclid(100)
            + year.div_euclid(400)
            + (153 * month + 2) / 5
            + self.day as i32
            - 1
    }
}

impl std::str::FromStr for CheckedOn {
    type Err = String;
    fn from_str(text: &str) -> Result<Self, String> {
        let refuse = || {
            let found: String = text.chars().take(40).collect();
            format!("found {found:?}; expected a day as year-month-day, such as 2026-03-14")
        };
        let mut parts = text.split('-');
        let (Some(year), Some(month), Some(day), None) =
            (parts.next(), parts.next(), parts.next(), parts.next())
        else {
            return Err(refuse());
        };
        if year.len() != 4 || month.len() != 2 || day.len() != 2 {
            return Err(refuse());
        }
        let number = |part: &str| part.parse::<u16>().map_err(|_| refuse());
        let (year, month, day) = (number(year)?, number(month)?, number(day)?);
        let leap = year % 4 == 0 && (year % 100 != 0 || year % 400 == 0);
        let days = match month {
            1 | 3 | 5 | 7 | 8 | 10 | 12 => 31,
            4 | 6 | 9 | 11 => 30,
            2 if leap => 29,
            2 => 28,
            _ => return Err(refuse()),
        };
        if !(1..=days).contains(&day) {
            return Err(refuse());
        }
        #[expect(clippy::cast_possible_truncation, reason = "at most 12 and 31")]
        Ok(Self {
            year,
            month: month as u8,
            day: day as u8,
        })
    }
}

impl std::fmt::Display for CheckedOn {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{:04}-{:02}-{:02}", self.year, self.month, self.day)
    }
}

impl Serialize for CheckedOn {
    fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_str(self)
    }
}

impl<'de> Deserialize<'de> for CheckedOn {
    fn deserialize<D: serde::Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let text = std::borrow::Cow::<'de, str>::deserialize(deserializer)?;
        text.parse().map_err(serde::de::Error::custom)
    }
}

impl JsonSchema for CheckedOn {
    fn schema_name() -> std::borrow::Cow<'static, str> {
        "Day".into()
    }
    fn json_schema(_: &mut schemars::SchemaGenerator) -> schemars::Schema {
        schemars::json_schema!({
            "type": "string", "format": "date", "pattern": "^[0-9]{4}-[0-9]{2}-[0-9]{2}$", "description": "A calendar day as year-month-day.",
            "examples": ["2026-03-14"]
        })
    }
}

/// A sign of trouble. It is listed in the report and has no part in the seismic verdict.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Distress {
    /// What kind of sign.
    pub kind: DistressKind,
    /// Where, in the observer's words.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub place: String,
    /// Its size: width of a crack, difference of level, gap at a door.
    #[serde(default, skip_serializing_if = "Observed::is_not_recorded")]
    pub size: Observed<Length>,
    /// Anything else.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub note: String,
}

/// A photograph that belongs to the record. It shows what was found and proves nothing: no check reads it.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Photo {
    /// Its file, PNG or JPEG, as a path below the folder of the house file.
    #[schemars(regex(pattern = r"\S"))]
    pub file: String,
    /// What it shows, in the observer's words.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub caption: String,
    /// The name of the wall line it shows; left out, it shows the house.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub wall_line: Option<String>,
    /// The station it shows; only beside a wall line.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub station: Option<Length>,
}

choices! {
    /// A kind of distress.
    pub enum DistressKind: "distress" {
        /// Crack in the foundation.
        FoundationCrack = "foundation_crack", "crack in the foundation";
        /// Crack in a wall or ceiling.
        WallCrack = "wall_crack", "crack in a wall or ceiling";
        /// Sloping floor.
        SlopingFloor = "sloping_floor", "sloping floor";
        /// Door or window out of square.
        StickingDoor = "sticking_door", "door or window out of square";
        /// Wall out of plumb.
        LeaningWall = "leaning_wall", "wall out of plumb";
        /// Standing water, damp or poor drainage.
        Damp = "damp", "standing water or damp";
        /// Wood in contact with soil.
        WoodOnSoil = "wood_on_soil", "wood in contact with soil";
        /// Anything else.
        Other = "other", "other";
    }
}
