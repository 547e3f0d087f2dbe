//! Slopes, deflections and tilts against worked examples of several public pages, each named in its row.

use crate::published::{Outcome, Row, every_row};
use retrofit_core::foundation::survey::{Limits, SurveyFindings};
use retrofit_core::house::{House, Survey};
use retrofit_core::measure::Length;
use retrofit_core::observation::Truth;
use serde_json::{Value, json};

fn length(row: &Row, name: &str) -> Length {
    row.text(name).parse().unwrap()
}

/// A survey without reading error, over bare floor: heights at places in inches.
fn survey(readings: &[(Length, Length, Length)]) -> Survey {
    let readings: Vec<Value> = readings
        .iter()
        .map(|(x, y, height)| json!({"at": {"x": x, "y": y}, "height": height, "finish": "bare"}))
        .collect();
    serde_json::from_value(json!({
        "date": "2026-11-25", "instrument": {"reading_error": "0 in"}, "readings": readings,
    }))
    .unwrap()
}

fn compute(row: &Row) -> Outcome {
    let house = House::default();
    let zero = Length::ZERO;
    match row.check.as_str() {
        "one in" => {
            let survey = survey(&[
                (zero, zero, length(row, "a")),
                (length(row, "run"), zero, length(row, "b")),
            ]);
            let findings = SurveyFindings::of(&house, &survey, Limits::shipped());
            Outcome::Number(1.0 / findings.slope_between(0, 1).unwrap().likely)
        }
        "deflection one in" => {
            let (whole, sag) = (length(row, "length"), length(row, "departure"));
            let half = Length::from_nanometers(whole.nanometers() / 2);
            let down = zero.saturating_sub(sag);
            let survey = survey(&[(zero, zero, zero), (half, zero, down), (whole, zero, zero)]);
            let findings = SurveyFindings::of(&house, &survey, Limits::shipped());
            let points = findings.points();
            let line = findings.line("line", points[0].at, points[2].at);
            Outcome::Number(-1.0 / line.profile.unwrap().deflection().unwrap().ratio.likely)
        }
        "tilt" | "tilt in degrees" => {
            let run = Length::inches(row.text("one_in").parse().unwrap());
            let survey = survey(&[
                (zero, zero, zero),
                (run, zero, Length::inches(1)),
                (zero, run, zero),
            ]);
            let findings = SurveyFindings::of(&house, &survey, Limits::shipped());
            let tilt = findings.plane.unwrap().tilt().likely;
            let degrees = tilt.atan().to_degrees();
            Outcome::Number(if row.check == "tilt" { tilt } else { degrees })
        }
        "level" => {
            // An even slope, read every 4 in.
            let (rise, run) = (length(row, "difference"), length(row, "run"));
            let steps = run.nanometers() / Length::inches(4).nanometers();
            let readings: Vec<_> = (0..=steps)
                .map(|step| {
                    let height = Length::from_nanometers(rise.nanometers() * step / steps);
                    (Length::inches(4 * step), zero, height)
                })
                .collect();
            let survey = survey(&readings);
            let findings = SurveyFindings::of(&house, &survey, Limits::shipped());
            let name = row.text("limit");
            let found = findings.levels.iter().find(|level| level.limit.name == name);
            Outcome::Word(match found.unwrap().kept {
                Truth::True => "kept".to_owned(),
                Truth::False => "exceeded".to_owned(),
                Truth::Maybe => "open".to_owned(),
            })
        }
        other => panic!("no such check: {other}"),
    }
}

#[test]
fn every_printed_value() {
    every_row(include_str!("published/settlement-examples.csv"), 10, compute);
}
