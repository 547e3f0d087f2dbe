//! Seismic coefficients, units and level surveys against general reference libraries from a package registry: asce7-16
//! computes the coefficients, pint the units, numpy and scipy what is fitted to readings and spanned between them.
//!
//! It needs a Python that has the libraries of `tests/reference_library/requirements.txt`, and so runs only
//! when it is asked for: `PYTHON=… cargo test -p retrofit-report --test reference_library -- --ignored`.

#![cfg(test)]

use std::fmt::Write as _;
use std::io::Write as _;
use std::process::{Command, Stdio};

use retrofit_core::foundation::survey::{Limits, Plane, Point, Surface, SurveyFindings};
use retrofit_core::house::{House, PlanPoint, Survey};
use retrofit_core::measure::Length;
use retrofit_core::screen::{Asce7, Demand, FOOT, KIP, Level, PLAIN, StandardTable, Unit};

/// What the libraries answer, question by question.
fn answers(questions: &[String]) -> Vec<f64> {
    let python =
        std::env::var("PYTHON").expect("PYTHON names an interpreter that has the reference libraries");
    let script = concat!(
        env!("CARGO_MANIFEST_DIR"),
        "/../tests/reference_library/answers.py"
    );
    let mut child = Command::new(python)
        .arg(script)
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()
        .unwrap();
    let mut stdin = child.stdin.take().unwrap();
    let asked = questions.iter().fold(String::new(), |mut text, question| {
        writeln!(text, "{question}").unwrap();
        text
    });
    let writer = std::thread::spawn(move || stdin.write_all(asked.as_bytes()));
    let output = child.wait_with_output().unwrap();
    writer.join().unwrap().unwrap();
    assert!(output.status.success(), "the reference libraries did not answer");
    let text = String::from_utf8(output.stdout).unwrap();
    let answers: Vec<f64> = text.lines().map(|line| line.parse().unwrap()).collect();
    assert_eq!(answers.len(), questions.len());
    answers
}

/// Compares every number with the answer to its question, and lists all that differ.
fn compare(asked: Vec<(String, f64)>, least: usize) {
    compare_beyond(asked, least, 0.0);
}

/// The same, where numbers that differ by no more than the rounding of what they are differences of are alike; where
/// there is no answer, there has to be no number either.
fn compare_beyond(asked: Vec<(String, f64)>, least: usize, rounding: f64) {
    let is_alike = |computed: f64, answer: f64| {
        (computed.is_nan() && answer.is_nan())
            || (computed - answer).abs() <= rounding.max(1e-9 * answer.abs())
    };
    assert!(asked.len() >= least, "{} questions", asked.len());
    let (questions, computed): (Vec<String>, Vec<f64>) = asked.into_iter().unzip();
    let answers = answers(&questions);
    let differing: Vec<String> = questions
        .iter()
        .zip(computed.iter().zip(&answers))
        .filter(|(_, (computed, answer))| !is_alike(**computed, **answer))
        .map(|(question, (computed, answer))| {
            format!("{question}: computed {computed}, the library {answer}")
        })
        .collect();
    assert!(differing.is_empty(), "{}", differing.join("\n"));
}

fn asce7() -> Asce7 {
    Asce7::parse(&StandardTable::shipped("asce7-16").unwrap()).unwrap()
}

#[test]
#[ignore = "needs a Python with the reference libraries"]
fn coefficients_over_a_grid() {
    const LONG_PERIOD: f64 = 4.0;
    let asce7 = asce7();
    let mut asked = Vec::new();
    for r in [2.0, 6.5] {
        for ie in [1.0, 1.25, 1.5] {
            for sds in [0.05, 0.33, 1.0, 1.6, 2.4] {
                for sd1 in [0.05, 0.3, 0.9] {
                    for s1 in [0.05, 0.4, 0.599, 0.6, 1.1] {
                        // From the shortest house to far beyond any, so that every limit governs somewhere.
                        for period in [0.05, 0.22, 0.5, 1.5, 3.9, 4.0, 4.1, 9.0] {
                            let demand = Demand {
                                sds: PLAIN.of(sds),
                                sd1: Some(PLAIN.of(sd1)),
                                s1: Some(PLAIN.of(s1)),
                                r: PLAIN.of(r),
                                ie: PLAIN.of(ie),
                                period: PLAIN.of(period),
                                long_period: Some(PLAIN.of(LONG_PERIOD)),
                            };
                            let computed = asce7.response_coefficient(&demand).unwrap().value();
                            let question =
                                format!("coefficient {r} {ie} {sds} {sd1} {s1} {period} {LONG_PERIOD}");
                            asked.push((question, computed));
                        }
                    }
                }
            }
        }
    }
    compare(asked, 3600);
}

#[test]
#[ignore = "needs a Python with the reference libraries"]
fn periods_of_houses_of_every_height() {
    let asce7 = asce7();
    let period = |feet: u8| {
        let period = asce7.period(retrofit_core::screen::Bare, FOOT.of(f64::from(feet)));
        (format!("period {feet}"), period.unwrap().value())
    };
    compare((1..=80).map(period).collect(), 80);
}

#[test]
#[ignore = "needs a Python with the reference libraries"]
fn shares_of_levels_over_a_grid() {
    let asce7 = asce7();
    let houses: [(&[f64], &[f64]); 4] = [
        (&[24.0, 18.0], &[10.0, 19.0]),
        (&[30.0, 28.0, 16.0], &[4.0, 13.0, 22.5]),
        (&[12.0], &[9.0]),
        (
            &[50.0, 40.0, 30.0, 20.0, 10.0, 5.0],
            &[8.0, 17.0, 26.0, 35.0, 44.0, 53.0],
        ),
    ];
    let mut asked = Vec::new();
    for (weights, heights) in houses {
        let list = |numbers: &[f64]| {
            let texts: Vec<String> = numbers.iter().map(f64::to_string).collect();
            texts.join(",")
        };
        let levels: Vec<Level<f64>> = weights
            .iter()
            .zip(heights)
            .map(|(weight, height)| Level {
                weight: KIP.of(*weight),
                height: FOOT.of(*height),
            })
            .collect();
        for period in [0.1, 0.5, 0.51, 1.0, 1.7, 2.5, 3.0] {
            let forces = asce7
                .vertical_distribution(KIP.of(1.0), PLAIN.of(period), &levels)
                .unwrap();
            for (level, force) in forces.iter().flatten().enumerate() {
                let question = format!("share {level} {period} {} {}", list(weights), list(heights));
                asked.push((question, force.to(KIP)));
            }
        }
    }
    compare(asked, 84);
}

#[test]
#[ignore = "needs a Python with the reference libraries"]
fn every_unit_and_its_companion() {
    let has_dimension = |unit: &&Unit| unit.dimension() != (0, 0);
    let asked: Vec<(String, f64)> = Unit::ALL
        .iter()
        .filter(has_dimension)
        .map(|unit| {
            let question = format!("unit '{}' '{}'", unit.sign(), unit.si_sign());
            (question, unit.factor() / unit.si_factor())
        })
        .collect();
    compare(asked, 14);
}

/// Heights of a floor are differences of numbers of some hundreds of inches, in binary.
const ROUNDING: f64 = 1e-11;

/// Surveys of a random floor, tilted, rough, and now and then with a blunder; in sixty-fourths of an inch, which are
/// exact in binary.
fn surveys() -> Vec<Survey> {
    let mut dice = oorandom::Rand32::new(1906);
    let mut between = |least: i32, most: i32| {
        let sides = u32::try_from(most - least).unwrap();
        least + i32::try_from(dice.rand_range(0..sides)).unwrap()
    };
    let sixty_fourths = |count: i32| Length::sixty_fourths(count.into());
    let mut survey = || -> Survey {
        let (east, north) = (between(-300, 300), between(-300, 300));
        let readings: Vec<serde_json::Value> = (0..between(6, 40))
            .map(|_| {
                let (x, y) = (between(0, 30_000), between(0, 24_000));
                let blunder = if between(0, 20) == 0 { 300 } else { 0 };
                let height = (x / 100 * east + y / 100 * north) / 300 + between(-12, 12) + blunder;
                serde_json::json!({
                    "at": {"x": sixty_fourths(x), "y": sixty_fourths(y)},
                    "height": sixty_fourths(height), "finish": "bare",
                })
            })
            .collect();
        serde_json::from_value(serde_json::json!({"date": "2026-05-04", "readings": readings})).unwrap()
    };
    (0..60).map(|_| survey()).collect()
}

/// Points as the questions give them.
fn spelled<'a>(points: impl Iterator<Item = &'a Point>) -> String {
    let spots: Vec<String> = points
        .map(|point| {
            format!(
                "{:?},{:?},{:?}",
                point.at.x.as_inches_f64(),
                point.at.y.as_inches_f64(),
                point.height.as_inches_f64()
            )
        })
        .collect();
    spots.join(";")
}

#[test]
#[ignore = "needs a Python with the reference libraries"]
fn planes_of_random_floors() {
    let (house, mut asked, mut blunders) = (House::default(), Vec::new(), 0);
    for survey in &surveys() {
        let findings = SurveyFindings::of(&house, survey, Limits::shipped());
        let plane: &Plane = findings.plane.as_ref().unwrap();
        let fitted: Vec<usize> = (0..findings.points().len())
            .filter(|point| !plane.is_apart(*point))
            .collect();
        blunders += plane.apart.len();
        let points = spelled(fitted.iter().map(|point| &findings.points()[*point]));
        let mut ask =
            |what: String, computed: f64| asked.push((format!("plane {what} '{points}'"), computed));
        ask("east".into(), plane.east.likely);
        ask("north".into(), plane.north.likely);
        ask("spread".into(), plane.spread.unwrap());
        for (number, point) in fitted.iter().enumerate() {
            ask(number.to_string(), plane.residuals[*point]);
        }
    }
    assert!(blunders > 20, "{blunders} readings stand apart");
    compare_beyond(asked, 1000, ROUNDING);
}

#[test]
#[ignore = "needs a Python with the reference libraries"]
fn floors_between_random_readings() {
    let (house, mut asked, mut inside) = (House::default(), Vec::new(), 0);
    for survey in &surveys() {
        let findings = SurveyFindings::of(&house, survey, Limits::shipped());
        let surface: &Surface = findings.surface.as_ref().unwrap();
        let (all, places) = (spelled(findings.points().iter()), findings.points());
        let xy = |number: usize| {
            [
                places[number].at.x.as_inches_f64(),
                places[number].at.y.as_inches_f64(),
            ]
        };
        let areas = surface.triangles().iter().map(|triangle| {
            let [a, b, c] = triangle.map(xy);
            ((b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])) / 2.0
        });
        asked.push((format!("hull '{all}'"), areas.sum()));
        for x in 0..9 {
            for y in 0..7 {
                // Off the grid of the readings, so that no place lies on a side.
                let at = PlanPoint {
                    x: Length::sixty_fourths(3_407 * x + 13),
                    y: Length::sixty_fourths(3_511 * y + 17),
                };
                let height = surface.height_at(at);
                inside += usize::from(height.is_some());
                let place = format!("{:?} {:?}", at.x.as_inches_f64(), at.y.as_inches_f64());
                asked.push((format!("height {place} '{all}'"), height.unwrap_or(f64::NAN)));
            }
        }
    }
    assert!(
        inside > 1000 && inside + 500 < asked.len(),
        "{inside} places lie inside"
    );
    compare_beyond(asked, 3000, ROUNDING);
}

#[test]
#[ignore = "needs a Python with the reference libraries"]
fn slopes_between_random_readings() {
    let (house, mut asked) = (House::default(), Vec::new());
    for survey in &surveys() {
        let findings = SurveyFindings::of(&house, survey, Limits::shipped());
        let count = findings.points().len();
        let pairs = (0..count).flat_map(|from| (from + 1..count).map(move |to| (from, to)));
        let slopes: Vec<f64> = pairs
            .map(|(from, to)| findings.slope_between(from, to).unwrap().likely.abs())
            .collect();
        let all = spelled(findings.points().iter());
        asked.push((
            format!("slopes greatest '{all}'"),
            slopes.iter().copied().fold(0.0, f64::max),
        ));
        #[expect(clippy::cast_precision_loss, reason = "some hundreds of pairs")]
        let mean = slopes.iter().sum::<f64>() / slopes.len() as f64;
        asked.push((format!("slopes mean '{all}'"), mean));
    }
    compare(asked, 120);
}
