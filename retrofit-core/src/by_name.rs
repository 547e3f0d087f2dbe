//! Records are read by the names of their fields, never by position.
//!
//! The reader that serde derives for a record would also take a list of values in the order of the fields:
//! `["0 ft", "1 ft"]` for a point in plan. Such a list says nothing of what its values are, and it would
//! change its meaning when a field is added, so it is refused.

use std::fmt;

use serde::de::{Deserialize, DeserializeSeed, Deserializer, Error, MapAccess, SeqAccess, Visitor};
use serde::forward_to_deserialize_any;

/// Reads a record, a list of records or an optional record by name: for `#[serde(deserialize_with)]`.
pub(crate) fn by_name<'de, T: Deserialize<'de>, D: Deserializer<'de>>(
    deserializer: D,
) -> Result<T, D::Error> {
    T::deserialize(ByName(deserializer))
}

struct ByName<D>(D);

impl<'de, D: Deserializer<'de>> Deserializer<'de> for ByName<D> {
    type Error = D::Error;

    fn deserialize_struct<V: Visitor<'de>>(
        self,
        name: &'static str,
        fields: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, D::Error> {
        self.0.deserialize_struct(name, fields, Named(visitor))
    }

    fn deserialize_seq<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, D::Error> {
        self.0.deserialize_seq(EachNamed(visitor))
    }

    fn deserialize_tuple<V: Visitor<'de>>(self, len: usize, visitor: V) -> Result<V::Value, D::Error> {
        self.0.deserialize_tuple(len, EachNamed(visitor))
    }

    fn deserialize_option<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, D::Error> {
        self.0.deserialize_option(EachNamed(visitor))
    }

    fn deserialize_any<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, D::Error> {
        self.0.deserialize_any(visitor)
    }

    forward_to_deserialize_any! {
        bool i8 i16 i32 i64 i128 u8 u16 u32 u64 u128 f32 f64 char str string bytes byte_buf unit
        unit_struct newtype_struct tuple_struct map enum identifier ignored_any
    }
}

/// A visitor of a record that takes a map and nothing else.
struct Named<V>(V);

impl<'de, V: Visitor<'de>> Visitor<'de> for Named<V> {
    type Value = V::Value;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.expecting(f)
    }

    fn visit_map<A: MapAccess<'de>>(self, map: A) -> Result<V::Value, A::Error> {
        self.0.visit_map(map)
    }
}

/// A visitor of a list of records, or of a record that may be left out.
struct EachNamed<V>(V);

impl<'de, V: Visitor<'de>> Visitor<'de> for EachNamed<V> {
    type Value = V::Value;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.expecting(f)
    }

    fn visit_seq<A: SeqAccess<'de>>(self, items: A) -> Result<V::Value, A::Error> {
        self.0.visit_seq(NamedItems(items))
    }

    fn visit_none<E: Error>(self) -> Result<V::Value, E> {
        self.0.visit_none()
    }

    fn visit_unit<E: Error>(self) -> Result<V::Value, E> {
        self.0.visit_unit()
    }

    fn visit_some<D: Deserializer<'de>>(self, deserializer: D) -> Result<V::Value, D::Error> {
        self.0.visit_some(ByName(deserializer))
    }
}

/// The items of a list, each of them read by name where it is a record.
pub(crate) struct NamedItems<A>(pub(crate) A);

impl<'de, A: SeqAccess<'de>> SeqAccess<'de> for NamedItems<A> {
    type Error = A::Error;

    fn next_element_seed<S: DeserializeSeed<'de>>(&mut self, seed: S) -> Result<Option<S::Value>, A::Error> {
        self.0.next_element_seed(NamedItem(seed))
    }

    fn size_hint(&self) -> Option<usize> {
        self.0.size_hint()
    }
}

struct NamedItem<S>(S);

impl<'de, S: DeserializeSeed<'de>> DeserializeSeed<'de> for NamedItem<S> {
    type Value = S::Value;

    fn deserialize<D: Deserializer<'de>>(self, deserializer: D) -> Result<S::Value, D::Error> {
        self.0.deserialize(ByName(deserializer))
    }
}

#[cfg(test)]
mod tests {
    use rstest::rstest;
    use serde_json::{Value, json};

    use crate::house::House;

    #[rstest]
    #[case::record(json!({"building": [2, 1, 1926]}))]
    #[case::empty_record(json!({"inspection": []}))]
    #[case::list_of_records(json!({"distress": [["damp", "north corner"]]}))]
    #[case::points(json!({"building": {"outline": [["0 ft", "0 ft"], ["9 ft", "0 ft"], ["9 ft", "9 ft"]]}}))]
    #[case::observed_list(json!({"posts": [[3]]}))]
    #[case::observed_list_with_basis(json!({"posts": {"measured": [[3]]}}))]
    #[case::optional_record(json!({"posts": [{"at": ["1 ft", "2 ft"]}]}))]
    #[case::wall_line(json!({"wall_lines": [["north", "20 ft"]]}))]
    #[case::pair_of_points(json!({"wall_lines": [{"name": "north", "plan": [["0 ft", "0 ft"], ["9 ft", "0 ft"]]}]}))]
    #[case::anchor(json!({"wall_lines": [{"name": "north", "anchors": [["1 ft"]]}]}))]
    #[case::unseen(json!({"wall_lines": [{"name": "north", "unseen": [["1 ft", "2 ft", [], "dark"]]}]}))]
    fn a_list_is_not_taken_for_a_record(#[case] part: Value) {
        let mut house = json!({"format": "house-1", "name": "trial", "wall_lines": [{"name": "north"}]});
        house
            .as_object_mut()
            .unwrap()
            .extend(part.as_object().unwrap().clone());
        let error = serde_json::from_str::<House>(&house.to_string())
            .unwrap_err()
            .to_string();
        assert!(
            error.contains("invalid type: sequence, expected struct"),
            "{error}"
        );
    }

    #[test]
    fn records_are_read_in_any_order_of_their_fields() {
        let read = |point: &str| {
            let text = format!(
                r#"{{"format": "house-1", "name": "trial", "wall_lines": [], "posts": [{{"at": {point}}}]}}"#
            );
            serde_json::from_str::<House>(&text).unwrap()
        };
        assert_eq!(
            read(r#"{"x": "1 ft", "y": "2 ft"}"#),
            read(r#"{"y": "2 ft", "x": "1 ft"}"#)
        );
    }
}
