//! What a cell may hold, and how its text becomes an observation.

use std::fmt;

use crate::choice::Choice;
use crate::house::{Nail, Stories, Washer};
use crate::measure::{Area, Length, Slope};
use crate::observation::{Basis, Observed};

/// What the cells of a column hold.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Holds {
    /// Any text.
    Text,
    /// A length with its unit.
    Length,
    /// An area with its unit.
    Area,
    /// A slope.
    Slope,
    /// A number of stories.
    Stories,
    /// A whole number.
    Count,
    /// Yes or no.
    YesOrNo,
    /// A washer.
    Washer,
    /// A nail.
    Nail,
    /// One term of a closed list, by its spelling.
    OneOf(Vec<&'static str>),
}

impl fmt::Display for Holds {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Text => f.write_str("text"),
            Self::Length => f.write_str("a length with its unit, such as 4 ft, 6'-0\", 15/32 in or 1.83 m"),
            Self::Area => f.write_str("an area with its unit, such as 1200 sq ft"),
            Self::Slope => f.write_str("a slope, such as 3H:1V, 20% or flat"),
            Self::Stories => f.write_str("a number of stories, such as 1, 1.5 or 2"),
            Self::Count => f.write_str("a whole number"),
            Self::YesOrNo => f.write_str("yes or no"),
            Self::Washer => f.write_str("none, cut, or a plate such as 3 in x 3 in x 0.229 in"),
            Self::Nail => f.write_str("a nail by penny size and shank, such as 8d common"),
            Self::OneOf(terms) => write!(f, "one of {}", terms.join(", ")),
        }
    }
}

/// A cell once read: small enough to be remembered by its text.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub(super) enum Value {
    Length(Length),
    Area(Area),
    Slope(Slope),
    Stories(Stories),
    Count(u16),
    YesOrNo(bool),
    Washer(Washer),
    Nail(Nail),
    Term(u32),
}

/// A type that cells can hold.
pub(super) trait Readable: Copy {
    fn holds() -> Holds;
    /// Reads a cell that is not blank; the error says what was found and what was expected.
    fn read(text: &str) -> Result<Self, String>;
    fn into_value(self) -> Value;
    fn from_value(value: Value) -> Option<Self>;
}

/// A type that reads itself and has a variant of its own.
macro_rules! readable {
    ($($type:ty: $variant:ident,)+) => {$(
        impl Readable for $type {
            fn holds() -> Holds {
                Holds::$variant
            }
            fn read(text: &str) -> Result<Self, String> {
                text.parse().map_err(|error| format!("{error}"))
            }
            fn into_value(self) -> Value {
                Value::$variant(self)
            }
            fn from_value(value: Value) -> Option<Self> {
                match value {
                    Value::$variant(value) => Some(value),
                    _ => None,
                }
            }
        }
    )+};
}

readable! {
    Length: Length,
    Area: Area,
    Slope: Slope,
    Stories: Stories,
    Washer: Washer,
    Nail: Nail,
}

impl Readable for u16 {
    fn holds() -> Holds {
        Holds::Count
    }
    fn read(text: &str) -> Result<Self, String> {
        // The standard parser takes a plus sign, which no count in a table has.
        let is_number = text.bytes().all(|byte| byte.is_ascii_digit());
        text.parse()
            .ok()
            .filter(|_| is_number)
            .ok_or_else(|| format!("found {}; expected a whole number from 0 to 65535", shown(text)))
    }
    fn into_value(self) -> Value {
        Value::Count(self)
    }
    fn from_value(value: Value) -> Option<Self> {
        match value {
            Value::Count(count) => Some(count),
            _ => None,
        }
    }
}

impl Readable for bool {
    fn holds() -> Holds {
        Holds::YesOrNo
    }
    fn read(text: &str) -> Result<Self, String> {
        match text {
            "yes" => Ok(true),
            "no" => Ok(false),
            _ => Err(format!(
                "found {}; expected yes, no, or nothing where it is not known",
                shown(text)
            )),
        }
    }
    fn into_value(self) -> Value {
        Value::YesOrNo(self)
    }
    fn from_value(value: Value) -> Option<Self> {
        match value {
            Value::YesOrNo(answer) => Some(answer),
            _ => None,
        }
    }
}

impl<T: Choice> Readable for T {
    fn holds() -> Holds {
        Holds::OneOf(T::ALL.iter().map(|term| term.spelling()).collect())
    }
    fn read(text: &str) -> Result<Self, String> {
        crate::choice::parse_choice(text).map_err(|error| error.to_string())
    }
    fn into_value(self) -> Value {
        Value::Term(self.index())
    }
    fn from_value(value: Value) -> Option<Self> {
        match value {
            Value::Term(index) => T::ALL.get(index as usize).copied(),
            _ => None,
        }
    }
}

/// The place of one observation in a house, whatever its type.
pub(super) trait Slot {
    fn holds(&self) -> Holds;
    fn read(&self, text: &str) -> Result<Value, String>;
    fn put(&mut self, value: Value, basis: Basis);
    fn clear(&mut self);
}

impl<T: Readable> Slot for Observed<T> {
    fn holds(&self) -> Holds {
        T::holds()
    }

    fn read(&self, text: &str) -> Result<Value, String> {
        T::read(text).map(T::into_value)
    }

    fn put(&mut self, value: Value, basis: Basis) {
        // A value comes from `read` of the same slot, so that the types always agree.
        *self = match T::from_value(value) {
            Some(value) => Self::Known { value, basis },
            None => Self::default(),
        };
    }

    fn clear(&mut self) {
        *self = Self::default();
    }
}

/// A cell as an error quotes it: not longer than a line has room for.
pub(super) fn shown(text: &str) -> String {
    let short: String = text.chars().take(60).collect();
    format!("{short:?}")
}
