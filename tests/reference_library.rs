//! Seismic coefficients and units against general reference libraries from a package registry: asce7-16
//! computes the coefficients, pint the units.
//!
//! It needs a Python that has the libraries of `tests/reference_library/requirements.txt`, and so runs only
//! when it is asked for: `PYTHON=… cargo test -p retrofit-report --test reference_library -- --ignored`.

#![cfg(test)]

use std::fmt::Write as _;
use std::io::Write as _;
use std::process::{Command, Stdio};

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
    assert!(asked.len() >= least, "{} questions", asked.len());
    let (questions, computed): (Vec<String>, Vec<f64>) = asked.into_iter().unzip();
    let answers = answers(&questions);
    let differing: Vec<String> = questions
        .iter()
        .zip(computed.iter().zip(&answers))
        .filter(|(_, (computed, answer))| (*computed - *answer).abs() > 1e-9 * answer.abs())
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
