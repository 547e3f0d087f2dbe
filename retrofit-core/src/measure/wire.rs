//! The serde and JSON-schema form of every measure: its text, and only that.

use std::{fmt, marker::PhantomData, str::FromStr};

use serde::de;

use super::error::{Fault, MeasureError, Quantity};

/// A measure that travels as text.
pub(super) trait AsText: FromStr<Err = MeasureError> {
    const QUANTITY: Quantity;
}

/// Reads the text form, and answers a number with the same advice that the bare
/// number gets as text.
pub(super) struct TextVisitor<T>(pub(super) PhantomData<T>);

impl<T: AsText> TextVisitor<T> {
    fn refuse<E: de::Error>(number: impl fmt::Display) -> Result<T, E> {
        let number = number.to_string();
        Err(E::custom(MeasureError::new(
            T::QUANTITY,
            Fault::BareNumber,
            &number,
        )))
    }
}

impl<T: AsText> de::Visitor<'_> for TextVisitor<T> {
    type Value = T;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(T::QUANTITY.expected())
    }

    fn visit_str<E: de::Error>(self, text: &str) -> Result<T, E> {
        text.parse().map_err(E::custom)
    }

    fn visit_i64<E: de::Error>(self, number: i64) -> Result<T, E> {
        Self::refuse(number)
    }

    fn visit_u64<E: de::Error>(self, number: u64) -> Result<T, E> {
        Self::refuse(number)
    }

    fn visit_f64<E: de::Error>(self, number: f64) -> Result<T, E> {
        Self::refuse(number)
    }
}

/// Gives a measure its serde and schema implementations, all of them the text
/// form. The pattern is permissive: it requires a unit and leaves the rest to
/// the parser, whose messages are better than a schema checker's.
macro_rules! travels_as_text {
    (
        $measure:ident,
        description: $description:literal,
        examples: $examples:tt,
        pattern: $pattern:literal $(,)?
    ) => {
        impl $crate::measure::wire::AsText for $measure {
            const QUANTITY: $crate::measure::error::Quantity =
                $crate::measure::error::Quantity::$measure;
        }

        impl serde::Serialize for $measure {
            fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
                serializer.collect_str(self)
            }
        }

        impl<'de> serde::Deserialize<'de> for $measure {
            fn deserialize<D: serde::Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
                let visitor = $crate::measure::wire::TextVisitor(std::marker::PhantomData);
                // Asking a readable format for a string would hide a number
                // from the visitor, and with it the hint to write a unit.
                if deserializer.is_human_readable() {
                    deserializer.deserialize_any(visitor)
                } else {
                    deserializer.deserialize_str(visitor)
                }
            }
        }

        impl schemars::JsonSchema for $measure {
            fn schema_name() -> std::borrow::Cow<'static, str> {
                stringify!($measure).into()
            }

            fn schema_id() -> std::borrow::Cow<'static, str> {
                concat!(module_path!(), "::", stringify!($measure)).into()
            }

            fn json_schema(_: &mut schemars::SchemaGenerator) -> schemars::Schema {
                schemars::json_schema!({
                    "type": "string",
                    "description": $description,
                    "examples": $examples,
                    "pattern": $pattern,
                })
            }
        }
    };
}

pub(super) use travels_as_text;
