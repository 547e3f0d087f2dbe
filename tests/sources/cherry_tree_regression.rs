//! The best-fit plane against a regression printed by a general statistics library.
//!
//! Girth, height and volume of 31 black cherry trees (Ryan, Joiner and Ryan, Minitab Student Handbook, 1976,
//! and since then with every copy of R). The coefficients of volume on girth and height, the residual
//! standard error and the extreme residuals are those printed by R 4 in a public notebook
//! (rstudio-pubs-static.s3.amazonaws.com/1379164_5ebf4010b4104d9381968ba55a8a244f.html, seen 2026-11-25). The
//! data themselves are recalled; that all six printed numbers come out says that they are right.

use retrofit_core::foundation::survey::{Corrected, Limits, Plane};
use retrofit_core::house::Survey;
use serde_json::{Value, json};

const GIRTH: [&str; 31] = [
    "8.3", "8.6", "8.8", "10.5", "10.7", "10.8", "11.0", "11.0", "11.1", "11.2", "11.3", "11.4", "11.4",
    "11.7", "12.0", "12.9", "12.9", "13.3", "13.7", "13.8", "14.0", "14.2", "14.5", "16.0", "16.3", "17.3",
    "17.5", "17.9", "18.0", "18.0", "20.6",
];
const HEIGHT: [u8; 31] = [
    70, 65, 63, 72, 81, 83, 66, 75, 80, 75, 79, 76, 76, 69, 75, 74, 85, 86, 71, 64, 78, 80, 74, 72, 77, 81,
    82, 80, 80, 80, 87,
];
const VOLUME: [&str; 31] = [
    "10.3", "10.3", "10.2", "16.4", "18.8", "19.7", "15.6", "18.2", "22.6", "19.9", "24.2", "21.0", "21.4",
    "21.3", "19.1", "22.2", "33.8", "27.4", "25.7", "24.9", "34.5", "31.7", "36.3", "38.3", "42.6", "55.4",
    "55.7", "58.3", "51.5", "51.0", "77.0",
];

#[test]
fn the_plane_is_the_regression() {
    let readings: Vec<Value> = (0..31)
        .map(|tree| {
            json!({
                "at": {"x": format!("{} in", GIRTH[tree]), "y": format!("{} in", HEIGHT[tree])},
                "height": format!("{} in", VOLUME[tree]), "finish": "bare",
            })
        })
        .collect();
    // A reading error of a foot: no tree stands apart.
    let survey: Survey = serde_json::from_value(json!({
        "date": "2026-11-25", "instrument": {"reading_error": "12 in"}, "readings": readings,
    }))
    .unwrap();
    let points = Corrected::of(&survey, Limits::shipped()).unwrap().points;
    let plane = Plane::fit(&points).unwrap();
    assert!(plane.apart.is_empty());

    let printed =
        |computed: f64, printed: f64| assert!((computed - printed).abs() <= 5e-5, "{computed}, {printed}");
    printed(plane.east.likely, 4.7082);
    printed(plane.north.likely, 0.3393);
    printed(plane.height_at([0.0, 0.0]), -57.9877);
    assert!((plane.spread.unwrap() - 3.882).abs() <= 5e-4);
    printed(
        plane.residuals.iter().copied().fold(f64::INFINITY, f64::min),
        -6.4065,
    );
    printed(
        plane.residuals.iter().copied().fold(f64::NEG_INFINITY, f64::max),
        8.4847,
    );
}
