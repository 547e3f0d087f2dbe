use std::collections::{BTreeMap, BTreeSet};

use fluent_syntax::ast::{Entry, Expression, InlineExpression, Pattern, PatternElement};
use fluent_syntax::parser::parse;
use rstest::rstest;

use super::*;

/// Every message and attribute of a language, with the variables it speaks of.
fn messages(language: Language) -> BTreeMap<String, BTreeSet<String>> {
    let mut all = BTreeMap::new();
    for (file, text) in language.files() {
        let resource = parse(text.expect("UTF-8")).unwrap_or_else(|(_, errors)| panic!("{file}: {errors:?}"));
        for entry in resource.body {
            let Entry::Message(message) = entry else {
                assert!(!matches!(entry, Entry::Junk { .. }), "{file}: {entry:?}");
                continue;
            };
            let key = message.id.name.to_owned();
            let mut keep = |key: String, pattern: &Pattern<&str>| {
                let mut variables = BTreeSet::new();
                of_pattern(pattern, &mut variables);
                assert!(
                    all.insert(key.clone(), variables).is_none(),
                    "{file}: {key} is said twice"
                );
            };
            for attribute in &message.attributes {
                keep(format!("{key}.{}", attribute.id.name), &attribute.value);
            }
            if let Some(value) = &message.value {
                keep(key, value);
            }
        }
    }
    all
}

fn of_pattern(pattern: &Pattern<&str>, variables: &mut BTreeSet<String>) {
    for element in &pattern.elements {
        if let PatternElement::Placeable { expression } = element {
            of_expression(expression, variables);
        }
    }
}

fn of_expression(expression: &Expression<&str>, variables: &mut BTreeSet<String>) {
    match expression {
        Expression::Inline(inline) => of_inline(inline, variables),
        Expression::Select { selector, variants } => {
            of_inline(selector, variables);
            for variant in variants {
                of_pattern(&variant.value, variables);
            }
        }
    }
}

fn of_inline(inline: &InlineExpression<&str>, variables: &mut BTreeSet<String>) {
    match inline {
        InlineExpression::VariableReference { id } => {
            variables.insert(id.name.to_owned());
        }
        InlineExpression::Placeable { expression } => of_expression(expression, variables),
        // Whatever a message refers to is a message itself and stands in the list.
        _ => {}
    }
}

#[test]
fn every_language_says_the_same_messages_of_the_same_things() {
    let english = messages(Language::ENGLISH);
    assert!(!english.is_empty());
    let languages = Language::all();
    assert!(languages.len() > 1, "{languages:?}");
    for language in languages {
        let other = messages(language);
        let missing: Vec<&String> = english.keys().filter(|key| !other.contains_key(*key)).collect();
        let left_over: Vec<&String> = other.keys().filter(|key| !english.contains_key(*key)).collect();
        assert!(missing.is_empty(), "{language} lacks {missing:?}");
        assert!(left_over.is_empty(), "only {language} has {left_over:?}");
        for (key, variables) in &english {
            assert_eq!(Some(variables), other.get(key), "{language}: {key}");
        }
    }
}

#[test]
fn every_language_can_be_spoken() {
    for language in Language::all() {
        let words = Words::of(language).expect("every file is in order");
        for (key, variables) in messages(language) {
            let with: Vec<(&str, Value<'_>)> = variables
                .iter()
                .map(|name| (name.as_str(), Value::from("seven")))
                .collect();
            let said = words
                .say(&key, &with)
                .unwrap_or_else(|error| panic!("{language}: {error}"));
            assert!(!said.trim().is_empty(), "{language}: {key}");
        }
    }
}

#[rstest]
#[case("en", 1, "1 side")]
#[case("en", 3, "3 sides")]
#[case("es", 1, "1 lado")]
#[case("es", 3, "3 lados")]
fn a_number_chooses_its_plural(#[case] tag: &str, #[case] count: usize, #[case] expected: &str) {
    let words = Words::of(Language::named(tag).unwrap()).unwrap();
    assert_eq!(
        words.say("sides-counted", &[("count", count.into())]).unwrap(),
        expected
    );
}

#[test]
fn what_a_language_does_not_have_is_an_error_with_its_name() {
    let words = Words::of(Language::ENGLISH).unwrap();
    assert_eq!(
        words.term("no-such-message").unwrap_err().to_string(),
        "locales/en: found no message `no-such-message`; expected one in every language"
    );
    let unsaid = words.term("sides-counted").unwrap_err().to_string();
    assert!(
        unsaid.starts_with("locales/en: message `sides-counted`: "),
        "{unsaid}"
    );
    let error = Language::named("ess").unwrap_err().to_string();
    assert_eq!(
        error,
        "language: found `ess`; expected one of en, es; did you mean `es`?"
    );
}

#[rstest]
#[case(Length::feet(6), "1.83")]
#[case(Length::inches(32), "0.81")]
#[case(Length::millimeters(1825), "1.83")]
#[case(Length::millimeters(1824), "1.82")]
#[case(Length::ZERO, "0.00")]
#[case(Length::millimeters(-1825), "-1.83")]
fn a_length_in_meters_is_rounded_to_the_centimeter(#[case] length: Length, #[case] expected: &str) {
    assert_eq!(in_meters(length), expected);
}

#[test]
fn a_reader_of_spanish_is_shown_meters_beside_feet_and_inches() {
    let said = |tag: &str| {
        let words = Words::of(Language::named(tag).unwrap()).unwrap();
        words.length_to_act_on(Length::feet(6)).unwrap()
    };
    assert_eq!(said("en"), "6'-0\"");
    assert_eq!(said("es"), "6'-0\" (1.83 m)");
}
