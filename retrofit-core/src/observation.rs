//! A value together with how it is known, and what an unknown does to a comparison.
//!
//! Nothing under a house is seen completely. An [`Observed`] value is known (and how), known to lie between
//! bounds, or unknown (and why). A comparison over it gives a [`Truth`]: *maybe* unless every value it could
//! have gives the same answer. No default ever turns an unknown into a number.
//!
//! In a house file an observation is written in one of these ways; a bare value is short for `seen`:
//!
//! ```json
//! "joists": "parallel"
//! "stem_height": {"measured": "1'-6\""}
//! "footing_depth": {"reported": "12 in"}
//! "embedment": {"inferred": {"at_least": "4 in"}}
//! "reinforcing": {"unknown": "below grade"}
//! ```

use std::borrow::Cow;
use std::fmt;
use std::marker::PhantomData;

use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};
use serde::de::value::SeqAccessDeserializer;
use serde::de::{Deserialize, Deserializer, Error as _, IntoDeserializer, MapAccess, SeqAccess, Visitor};
use serde::ser::{Serialize, SerializeMap, Serializer};

use crate::by_name::NamedItems;
use crate::measure::{Area, Force, Length, Pressure, Slope};

/// How a value is known, from the strongest to the weakest.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Basis {
    /// With a tape, a gauge or a level.
    Measured,
    /// Looked at, not measured.
    Seen,
    /// Told by an owner, a permit or an earlier report.
    Reported,
    /// Concluded from something else.
    Inferred,
}

impl Basis {
    /// All of them, from the strongest to the weakest.
    pub const ALL: [Self; 4] = [Self::Measured, Self::Seen, Self::Reported, Self::Inferred];

    /// The word for a sentence, which is also the key in a house file.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Measured => "measured",
            Self::Seen => "seen",
            Self::Reported => "reported",
            Self::Inferred => "inferred",
        }
    }

    /// The weaker of two: what a conclusion drawn from both rests on.
    #[must_use]
    pub fn weaker(self, other: Self) -> Self {
        self.max(other)
    }
}

impl fmt::Display for Basis {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(self.word())
    }
}

/// Why a value is not known.
#[derive(Clone, Debug, Default, PartialEq, Eq, Hash)]
pub enum Reason {
    /// The record says nothing about it.
    #[default]
    NotRecorded,
    /// The observer says why.
    Stated(Box<str>),
}

impl Reason {
    /// The reason in words.
    pub fn words(&self) -> &str {
        match self {
            Self::NotRecorded => "not recorded",
            Self::Stated(words) => words,
        }
    }
}

/// A value with how it is known.
///
/// ```
/// use retrofit_core::measure::Length;
/// use retrofit_core::observation::{Basis, Observed, Truth};
///
/// let stud_height = Observed::measured(Length::inches(48));
/// assert_eq!(stud_height.at_most(Length::feet(4)), Truth::True);
///
/// let hidden: Observed<Length> = Observed::unknown("finished wall");
/// assert_eq!(hidden.at_most(Length::feet(4)), Truth::Maybe);
///
/// let embedment = Observed::bounded(Some(Length::inches(4)), None, Basis::Inferred);
/// assert_eq!(embedment.at_least(Length::inches(4)), Truth::True);
/// assert_eq!(embedment.at_least(Length::inches(7)), Truth::Maybe);
/// ```
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub enum Observed<T> {
    /// One value.
    Known {
        /// The value.
        value: T,
        /// How it is known.
        basis: Basis,
    },
    /// Some value within bounds, both included; a missing bound is open.
    Between {
        /// The least it can be.
        at_least: Option<T>,
        /// The most it can be.
        at_most: Option<T>,
        /// How the bounds are known.
        basis: Basis,
    },
    /// Nothing is known of the value.
    Unknown(Reason),
}

impl<T> Default for Observed<T> {
    fn default() -> Self {
        Self::Unknown(Reason::NotRecorded)
    }
}

impl<T> Observed<T> {
    /// A value taken with an instrument.
    pub const fn measured(value: T) -> Self {
        Self::Known {
            value,
            basis: Basis::Measured,
        }
    }

    /// A value looked at.
    pub const fn seen(value: T) -> Self {
        Self::Known {
            value,
            basis: Basis::Seen,
        }
    }

    /// A value somebody told.
    pub const fn reported(value: T) -> Self {
        Self::Known {
            value,
            basis: Basis::Reported,
        }
    }

    /// A value concluded from something else.
    pub const fn inferred(value: T) -> Self {
        Self::Known {
            value,
            basis: Basis::Inferred,
        }
    }

    /// A value known only within bounds.
    pub const fn bounded(at_least: Option<T>, at_most: Option<T>, basis: Basis) -> Self {
        Self::Between {
            at_least,
            at_most,
            basis,
        }
    }

    /// No value, and why not.
    pub fn unknown(why: &str) -> Self {
        Self::Unknown(Reason::Stated(why.into()))
    }

    /// The value, when there is exactly one.
    pub const fn value(&self) -> Option<&T> {
        match self {
            Self::Known { value, .. } => Some(value),
            _ => None,
        }
    }

    /// How the value or its bounds are known.
    pub const fn basis(&self) -> Option<Basis> {
        match self {
            Self::Known { basis, .. } | Self::Between { basis, .. } => Some(*basis),
            Self::Unknown(_) => None,
        }
    }

    /// The least and the most the value can be; `None` where there is no bound.
    pub const fn bounds(&self) -> (Option<&T>, Option<&T>) {
        match self {
            Self::Known { value, .. } => (Some(value), Some(value)),
            Self::Between {
                at_least, at_most, ..
            } => (at_least.as_ref(), at_most.as_ref()),
            Self::Unknown(_) => (None, None),
        }
    }

    /// Why nothing is known, when nothing is.
    pub const fn reason(&self) -> Option<&Reason> {
        match self {
            Self::Unknown(reason) => Some(reason),
            _ => None,
        }
    }

    /// Whether exactly one value is known.
    pub const fn is_known(&self) -> bool {
        matches!(self, Self::Known { .. })
    }

    /// Whether the record says nothing at all: such a field is left out when a house is written.
    pub const fn is_not_recorded(&self) -> bool {
        matches!(self, Self::Unknown(Reason::NotRecorded))
    }
}

impl<T> Observed<Vec<T>> {
    /// The items of a list that is known. Where the list is not known there are none to go by, which does not
    /// say that there are none: whoever asks has to look at [`Observed::value`] as well.
    ///
    /// ```
    /// use retrofit_core::observation::Observed;
    /// assert_eq!(Observed::seen(vec!["sill"]).listed(), ["sill"]);
    /// assert!(Observed::<Vec<&str>>::unknown("too low to crawl").listed().is_empty());
    /// ```
    pub fn listed(&self) -> &[T] {
        self.value().map(Vec::as_slice).unwrap_or_default()
    }
}

/// A kind of value that can be observed.
///
/// Lengths and counts lie on a scale and can be known within bounds; a list, a yes or no, or a term of the
/// trade is known or it is not.
pub trait Observable: Sized {
    /// Whether one value is at most another, where the values lie on a scale.
    const AT_MOST: Option<fn(&Self, &Self) -> bool> = None;
}

impl Observable for bool {}
impl<T> Observable for Vec<T> {}

impl<T: Observable> Observed<T> {
    /// Whether the bounds are in order; a value and an unknown always are.
    pub fn is_in_order(&self) -> bool {
        match (T::AT_MOST, self) {
            (
                Some(at_most),
                Self::Between {
                    at_least: Some(least),
                    at_most: Some(most),
                    ..
                },
            ) => at_most(least, most),
            _ => true,
        }
    }
}

/// Makes the values of some types known to lie on a scale.
macro_rules! on_a_scale {
    ($($scale:ty),+) => {$(
        impl $crate::observation::Observable for $scale {
            const AT_MOST: Option<fn(&Self, &Self) -> bool> = Some(|a, b| a <= b);
        }
    )+};
}
pub(crate) use on_a_scale;

on_a_scale!(u16, Length, Area, Slope, Force, Pressure);

impl<T: Copy + Ord> Observed<T> {
    /// Whether the value is at most the limit.
    pub fn at_most(&self, limit: T) -> Truth {
        let (least, most) = self.bounds();
        Truth::between(
            least.map(|least| *least <= limit),
            most.map(|most| *most <= limit),
        )
    }

    /// Whether the value is less than the limit.
    pub fn less_than(&self, limit: T) -> Truth {
        let (least, most) = self.bounds();
        Truth::between(least.map(|least| *least < limit), most.map(|most| *most < limit))
    }

    /// Whether the value is at least the limit.
    pub fn at_least(&self, limit: T) -> Truth {
        !self.less_than(limit)
    }
}

impl<T: Copy> Observed<T> {
    /// Whether the value has a property.
    pub fn satisfies(&self, property: impl FnOnce(T) -> bool) -> Truth {
        match self {
            Self::Known { value, .. } => property(*value).into(),
            _ => Truth::Maybe,
        }
    }
}

/// The answer of a comparison over what is known.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Truth {
    /// Whatever the unknowns are.
    True,
    /// Whatever the unknowns are, no.
    False,
    /// It depends on an unknown.
    Maybe,
}

impl Truth {
    /// The answer, given the answer for the least value and for the most (`None`: that bound is open).
    fn between(for_least: Option<bool>, for_most: Option<bool>) -> Self {
        // "At most" holds for all values if it holds for the greatest, and for none if it fails for the least.
        match (for_least, for_most) {
            (_, Some(true)) => Self::True,
            (Some(false), _) => Self::False,
            _ => Self::Maybe,
        }
    }

    /// Both must hold.
    #[must_use]
    pub const fn and(self, other: Self) -> Self {
        match (self, other) {
            (Self::False, _) | (_, Self::False) => Self::False,
            (Self::True, Self::True) => Self::True,
            _ => Self::Maybe,
        }
    }

    /// Either is enough.
    #[must_use]
    pub const fn or(self, other: Self) -> Self {
        match (self, other) {
            (Self::True, _) | (_, Self::True) => Self::True,
            (Self::False, Self::False) => Self::False,
            _ => Self::Maybe,
        }
    }

    /// Whether it holds in the best case.
    pub const fn possible(self) -> bool {
        !matches!(self, Self::False)
    }

    /// Whether it holds in the worst case.
    pub const fn certain(self) -> bool {
        matches!(self, Self::True)
    }

    /// The answer from a best and a worst case.
    pub const fn from_cases(best: bool, worst: bool) -> Self {
        match (best, worst) {
            (_, true) => Self::True,
            (true, false) => Self::Maybe,
            (false, false) => Self::False,
        }
    }
}

impl From<bool> for Truth {
    fn from(answer: bool) -> Self {
        if answer { Self::True } else { Self::False }
    }
}

impl std::ops::Not for Truth {
    type Output = Self;
    fn not(self) -> Self {
        match self {
            Self::True => Self::False,
            Self::False => Self::True,
            Self::Maybe => Self::Maybe,
        }
    }
}

// ---- The written form ----------------------------------------------------------------------------------

/// A value or its bounds, as they stand behind `measured`, `seen`, `reported` or `inferred`.
enum Reading<T> {
    Value(T),
    Between { at_least: Option<T>, at_most: Option<T> },
}

impl<T> Reading<T> {
    fn known(self, basis: Basis) -> Observed<T> {
        match self {
            Self::Value(value) => Observed::Known { value, basis },
            Self::Between { at_least, at_most } => Observed::Between {
                at_least,
                at_most,
                basis,
            },
        }
    }
}

const KEYS: [&str; 5] = ["measured", "seen", "reported", "inferred", "unknown"];
const BOUND_KEYS: [&str; 2] = ["at_least", "at_most"];

/// Hands a bare value on to `T`; the two visitors below differ only in what they make of a map.
macro_rules! forward_bare_values {
    ($wrap:expr) => {
        fn visit_bool<E: serde::de::Error>(self, value: bool) -> Result<Self::Value, E> {
            T::deserialize(value.into_deserializer()).map($wrap)
        }
        fn visit_i64<E: serde::de::Error>(self, value: i64) -> Result<Self::Value, E> {
            T::deserialize(value.into_deserializer()).map($wrap)
        }
        fn visit_u64<E: serde::de::Error>(self, value: u64) -> Result<Self::Value, E> {
            T::deserialize(value.into_deserializer()).map($wrap)
        }
        fn visit_f64<E: serde::de::Error>(self, value: f64) -> Result<Self::Value, E> {
            T::deserialize(value.into_deserializer()).map($wrap)
        }
        fn visit_str<E: serde::de::Error>(self, value: &str) -> Result<Self::Value, E> {
            T::deserialize(value.into_deserializer()).map($wrap)
        }
        fn visit_seq<A: SeqAccess<'de>>(self, values: A) -> Result<Self::Value, A::Error> {
            T::deserialize(SeqAccessDeserializer::new(NamedItems(values))).map($wrap)
        }
        fn visit_unit<E: serde::de::Error>(self) -> Result<Self::Value, E> {
            Err(E::custom(
                "found null; leave the field out, or say why it is not known: {\"unknown\": \"…\"}",
            ))
        }
    };
}

struct ReadingVisitor<T>(PhantomData<T>);

impl<'de, T: Deserialize<'de> + Observable> Visitor<'de> for ReadingVisitor<T> {
    type Value = Reading<T>;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("a value, or {\"at_least\": …, \"at_most\": …}")
    }

    forward_bare_values!(Reading::Value);

    fn visit_map<A: MapAccess<'de>>(self, mut map: A) -> Result<Self::Value, A::Error> {
        let Some(is_at_most) = T::AT_MOST else {
            return Err(A::Error::custom(
                "found an object; expected the value itself, which cannot lie within bounds",
            ));
        };
        let (mut at_least, mut at_most) = (None, None);
        while let Some(key) = map.next_key::<Cow<'de, str>>()? {
            let slot = match &*key {
                "at_least" => &mut at_least,
                "at_most" => &mut at_most,
                other => return Err(A::Error::unknown_field(other, &BOUND_KEYS)),
            };
            if slot.replace(map.next_value()?).is_some() {
                return Err(A::Error::custom(format!("the key {key:?} stands twice")));
            }
        }
        if at_least.is_none() && at_most.is_none() {
            return Err(A::Error::custom("found {}; expected at_least, at_most or both"));
        }
        if let (Some(least), Some(most)) = (&at_least, &at_most)
            && !is_at_most(least, most)
        {
            return Err(A::Error::custom(
                "found at_least above at_most; expected bounds in order",
            ));
        }
        Ok(Reading::Between { at_least, at_most })
    }
}

impl<'de, T: Deserialize<'de> + Observable> Deserialize<'de> for Reading<T> {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        deserializer.deserialize_any(ReadingVisitor(PhantomData))
    }
}

struct ObservedVisitor<T>(PhantomData<T>);

impl<'de, T: Deserialize<'de> + Observable> Visitor<'de> for ObservedVisitor<T> {
    type Value = Observed<T>;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(
            "a value, {\"measured\": …}, {\"reported\": …}, {\"inferred\": …} or {\"unknown\": \"why\"}",
        )
    }

    forward_bare_values!(Observed::seen);

    fn visit_map<A: MapAccess<'de>>(self, mut map: A) -> Result<Self::Value, A::Error> {
        let Some(key) = map.next_key::<Cow<'de, str>>()? else {
            return Err(A::Error::custom(
                "found {}; expected measured, seen, reported, inferred or unknown",
            ));
        };
        let observed = match &*key {
            "measured" => map.next_value::<Reading<T>>()?.known(Basis::Measured),
            "seen" => map.next_value::<Reading<T>>()?.known(Basis::Seen),
            "reported" => map.next_value::<Reading<T>>()?.known(Basis::Reported),
            "inferred" => map.next_value::<Reading<T>>()?.known(Basis::Inferred),
            "unknown" => {
                let why = map.next_value::<Cow<'de, str>>()?;
                if why.trim().is_empty() {
                    return Err(A::Error::custom("found no reason; say why it is not known"));
                }
                Observed::unknown(&why)
            }
            other => return Err(A::Error::unknown_field(other, &KEYS)),
        };
        match map.next_key::<Cow<'de, str>>()? {
            None => Ok(observed),
            Some(second) => Err(A::Error::custom(format!(
                "found a second key {second:?}; expected only {key:?}"
            ))),
        }
    }
}

impl<'de, T: Deserialize<'de> + Observable> Deserialize<'de> for Observed<T> {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        deserializer.deserialize_any(ObservedVisitor(PhantomData))
    }
}

impl<T: Serialize> Serialize for Observed<T> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        struct Bounds<'a, T>(&'a Option<T>, &'a Option<T>);
        impl<T: Serialize> Serialize for Bounds<'_, T> {
            fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
                let mut map = serializer.serialize_map(None)?;
                if let Some(at_least) = self.0 {
                    map.serialize_entry("at_least", at_least)?;
                }
                if let Some(at_most) = self.1 {
                    map.serialize_entry("at_most", at_most)?;
                }
                map.end()
            }
        }
        match self {
            Self::Known {
                value,
                basis: Basis::Seen,
            } => value.serialize(serializer),
            Self::Known { value, basis } => {
                let mut map = serializer.serialize_map(Some(1))?;
                map.serialize_entry(basis.word(), value)?;
                map.end()
            }
            Self::Between {
                at_least,
                at_most,
                basis,
            } => {
                let mut map = serializer.serialize_map(Some(1))?;
                map.serialize_entry(basis.word(), &Bounds(at_least, at_most))?;
                map.end()
            }
            Self::Unknown(reason) => {
                let mut map = serializer.serialize_map(Some(1))?;
                map.serialize_entry("unknown", reason.words())?;
                map.end()
            }
        }
    }
}

impl<T: JsonSchema + Observable> JsonSchema for Observed<T> {
    fn schema_name() -> Cow<'static, str> {
        format!("Observed_{}", T::schema_name()).into()
    }

    fn json_schema(generator: &mut SchemaGenerator) -> Schema {
        let value = generator.subschema_for::<T>();
        if T::AT_MOST.is_some() {
            schema_between(&value, &value, &value)
        } else {
            schema_of(&value, &value)
        }
    }
}

/// The schema of a whole number that is from `least` to `most` where it is known; a bound may lie beyond.
pub(crate) fn schema_of_number(least: u16, most: u16) -> Schema {
    let number = |least: u16, most: u16| json_schema!({ "type": "integer", "format": "uint16", "minimum": least, "maximum": most });
    schema_between(&number(least, most), &number(0, most), &number(least, u16::MAX))
}

/// The schema of an observation of a value that may be known within bounds only.
fn schema_between(value: &Schema, at_least: &Schema, at_most: &Schema) -> Schema {
    let reading = json_schema!({
        "anyOf": [
            value,
            {
                "type": "object",
                "properties": { "at_least": at_least, "at_most": at_most },
                "additionalProperties": false,
                "minProperties": 1
            }
        ]
    });
    schema_of(value, &reading)
}

/// The schema of an observation: the bare value, or a reading with how it is known.
fn schema_of(value: &Schema, reading: &Schema) -> Schema {
    let known = |key: &str| {
        json_schema!({
            "type": "object",
            "properties": { key: reading },
            "required": [key],
            "additionalProperties": false
        })
    };
    json_schema!({
        "description": "A value with how it is known. A bare value is short for seen; leave the field out when nothing was recorded.",
        "anyOf": [
            value,
            known("measured"),
            known("seen"),
            known("reported"),
            known("inferred"),
            {
                "type": "object",
                "properties": { "unknown": { "type": "string", "description": "Why it is not known.", "pattern": "\\S" } },
                "required": ["unknown"],
                "additionalProperties": false
            }
        ]
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use rstest::rstest;

    #[rstest]
    #[case(r#""1'-6\"""#, Observed::seen(Length::inches(18)))]
    #[case(r#"{"seen": "18 in"}"#, Observed::seen(Length::inches(18)))]
    #[case(r#"{"measured": "18 in"}"#, Observed::measured(Length::inches(18)))]
    #[case(r#"{"reported": "18 in"}"#, Observed::reported(Length::inches(18)))]
    #[case(
        r#"{"inferred": {"at_least": "18 in"}}"#,
        Observed::bounded(Some(Length::inches(18)), None, Basis::Inferred)
    )]
    #[case(r#"{"unknown": "below grade"}"#, Observed::unknown("below grade"))]
    fn every_written_form_is_read_and_written_back(#[case] text: &str, #[case] expected: Observed<Length>) {
        let read: Observed<Length> = serde_json::from_str(text).unwrap();
        assert_eq!(read, expected);
        let again: Observed<Length> = serde_json::from_str(&serde_json::to_string(&read).unwrap()).unwrap();
        assert_eq!(again, expected);
    }

    #[rstest]
    #[case("null", "leave the field out")]
    #[case("18", "bare number")]
    #[case(r#"{"guessed": "18 in"}"#, "guessed")]
    #[case(r#"{"unknown": " "}"#, "say why")]
    #[case(r#"{"seen": "18 in", "measured": "18 in"}"#, "second key")]
    #[case("{}", "expected measured")]
    fn a_form_that_says_nothing_is_refused(#[case] text: &str, #[case] says: &str) {
        let error = serde_json::from_str::<Observed<Length>>(text)
            .unwrap_err()
            .to_string();
        assert!(error.contains(says), "{error}");
    }

    #[test]
    fn bounds_out_of_order_are_refused() {
        let text = r#"{"seen": {"at_least": "2 ft", "at_most": "1 ft"}}"#;
        let error = serde_json::from_str::<Observed<Length>>(text)
            .unwrap_err()
            .to_string();
        assert!(error.contains("bounds in order"), "{error}");
    }

    #[rstest]
    #[case::list(serde_json::from_str::<Observed<Vec<Length>>>(r#"{"seen": {"at_least": []}}"#).map(drop))]
    #[case::yes_or_no(serde_json::from_str::<Observed<bool>>(r#"{"seen": {"at_least": true}}"#).map(drop))]
    #[case::term(serde_json::from_str::<Observed<crate::house::Roof>>(r#"{"seen": {"at_most": "tile"}}"#).map(drop))]
    fn what_lies_on_no_scale_has_no_bounds(#[case] read: Result<(), serde_json::Error>) {
        let error = read.unwrap_err().to_string();
        assert!(error.contains("cannot lie within bounds"), "{error}");
    }

    #[test]
    fn an_unknown_compares_as_maybe_and_a_bound_decides_when_it_can() {
        let limit = Length::feet(4);
        let under = Observed::bounded(None, Some(Length::inches(47)), Basis::Seen);
        let over = Observed::bounded(Some(Length::inches(49)), None, Basis::Seen);
        assert_eq!(Observed::<Length>::default().at_most(limit), Truth::Maybe);
        assert_eq!(under.at_most(limit), Truth::True);
        assert_eq!(over.at_most(limit), Truth::False);
        assert_eq!(under.at_least(limit), Truth::False);
        assert_eq!(over.at_least(limit), Truth::True);
        assert_eq!(Observed::seen(limit).less_than(limit), Truth::False);
    }
}
