//! Laws of the floor level survey, over surveys that nobody made up by hand.

use proptest::prelude::*;
use retrofit_core::foundation::causes::{CauseRules, Fit, Signs};
use retrofit_core::foundation::survey::{
    Corrected, Limits, Movement, Plane, Point, Profile, Surface, SurveyFindings,
};
use retrofit_core::house::{House, PlanPoint, Survey};
use retrofit_core::measure::Length;
use retrofit_core::observation::Truth;
use serde_json::{Value, json};

/// A length of so many inches, to the nanometer.
#[allow(clippy::cast_possible_truncation)]
pub(crate) fn length(inches: f64) -> Length {
    Length::from_nanometers((inches * 25_400_000.0).round() as i64)
}

pub(crate) fn survey(readings: &[[f64; 3]]) -> Survey {
    let readings: Vec<Value> = readings
        .iter()
        .map(|[x, y, height]| {
            json!({"at": {"x": length(*x), "y": length(*y)}, "height": length(*height), "finish": "bare"})
        })
        .collect();
    serde_json::from_value(json!({"date": "2026-05-04", "base": {"place": "hearth"}, "readings": readings}))
        .unwrap()
}

fn points(readings: &[[f64; 3]]) -> Vec<Point> {
    Corrected::of(&survey(readings), Limits::shipped())
        .unwrap()
        .points
}

/// Places on a jittered grid of 8 ft: as a crew would read a floor.
pub(crate) fn places() -> impl Strategy<Value = Vec<[f64; 2]>> {
    (3_usize..6, 3_usize..6).prop_flat_map(|(across, along)| {
        prop::collection::vec((-20.0..20.0, -20.0..20.0), across * along).prop_map(move |shifts| {
            let number = |it: usize| f64::from(u32::try_from(it).unwrap());
            let place = |(it, (x, y)): (usize, (f64, f64))| {
                [96.0 * number(it % across) + x, 96.0 * number(it / across) + y]
            };
            shifts.into_iter().enumerate().map(place).collect()
        })
    })
}

/// The places with heights that a smooth floor and a rough hand give.
pub(crate) fn floor() -> impl Strategy<Value = Vec<[f64; 3]>> {
    places().prop_flat_map(|places| {
        prop::collection::vec(-0.06..0.06, places.len()).prop_map(move |rough| {
            let heights = places.iter().zip(rough);
            heights
                .map(|([x, y], rough)| [*x, *y, 0.004 * x - 0.002 * y + rough])
                .collect()
        })
    })
}

/// The places with any heights.
pub(crate) fn any_floor() -> impl Strategy<Value = Vec<[f64; 3]>> {
    places().prop_flat_map(|places| {
        prop::collection::vec(-3.0..3.0, places.len()).prop_map(move |heights| {
            let both = places.iter().zip(heights);
            both.map(|([x, y], height)| [*x, *y, height]).collect()
        })
    })
}

pub(crate) fn moved(readings: &[[f64; 3]], move_one: impl Fn([f64; 3]) -> [f64; 3]) -> Vec<[f64; 3]> {
    readings.iter().map(|reading| move_one(*reading)).collect()
}

const NANOMETER: f64 = 1.0 / 25_400_000.0;

proptest! {
    #![proptest_config(ProptestConfig { cases: 64, failure_persistence: None, ..ProptestConfig::default() })]

    /// A floor that is a plane has no distortion, whatever its tilt: no residual, no rotation, no deflection.
    #[test]
    fn a_rigid_tilt_distorts_nothing(places in places(), east in -0.02..0.02_f64, north in -0.02..0.02_f64) {
        let tilted: Vec<[f64; 3]> = places.iter().map(|[x, y]| [*x, *y, east * x + north * y]).collect();
        let points = points(&tilted);
        let plane = Plane::fit(&points).unwrap();
        prop_assert!(plane.apart.is_empty());
        prop_assert!((plane.east.likely - east).abs() < 1e-9 && (plane.north.likely - north).abs() < 1e-9);
        prop_assert!(plane.residuals.iter().all(|residual| residual.abs() < 2.0 * NANOMETER));
        let surface = Surface::of(&points).unwrap();
        let at = |x: f64, y: f64| PlanPoint { x: length(x), y: length(y) };
        let profile = Profile::along(&points, Some(&plane), Some(&surface), at(0.0, 40.0), at(190.0, 150.0)).unwrap();
        for distortion in profile.distortions(Some(&plane)) {
            // A stretch may be short, and a nanometer counts there.
            let run = distortion.stretch.1 - distortion.stretch.0;
            prop_assert!(distortion.rotation.likely.abs() * run < 1e-5, "{distortion:?}");
        }
        if let Some(deflection) = profile.deflection() {
            prop_assert!(deflection.departure.likely.abs() < 1e-6);
        }
    }

    /// Adding the same to all heights changes the heights and nothing else.
    #[test]
    fn a_shift_changes_nothing_but_heights(floor in any_floor(), shift in -20.0..20.0_f64) {
        let shift = length(shift).as_inches_f64();
        let (before, after) = (points(&floor), points(&moved(&floor, |[x, y, h]| [x, y, h + shift])));
        let (low, high) = (Plane::fit(&before).unwrap(), Plane::fit(&after).unwrap());
        prop_assert!((high.height - low.height - shift).abs() < 1e-6);
        prop_assert!((high.tilt().likely - low.tilt().likely).abs() < 1e-8);
        let apart = |plane: &Plane| plane.apart.iter().map(|apart| apart.point).collect::<Vec<_>>();
        prop_assert_eq!(apart(&low), apart(&high));
        for (a, b) in low.residuals.iter().zip(&high.residuals) {
            prop_assert!((a - b).abs() < 1e-6);
        }
        let triangles = |points: &[Point]| Surface::of(points).unwrap().triangles().to_vec();
        prop_assert_eq!(triangles(&before), triangles(&after));
    }

    /// Turning the plan turns the tilt with it and leaves its size and the residuals alone.
    #[test]
    fn turning_the_plan_turns_the_tilt(floor in floor(), degrees in 1.0..359.0_f64) {
        let (sin, cos) = degrees.to_radians().sin_cos();
        let turned = moved(&floor, |[x, y, h]| [cos * x - sin * y, sin * x + cos * y, h]);
        let before = Plane::fit(&points(&floor)).unwrap();
        let after = Plane::fit(&points(&turned)).unwrap();
        prop_assert!((before.tilt().likely - after.tilt().likely).abs() < 1e-7);
        // Turned counterclockwise, a direction counted from north toward the east gets less.
        let turn = (before.falls_toward().unwrap() - after.falls_toward().unwrap()).rem_euclid(360.0);
        prop_assert!((turn - degrees).abs() < 1e-2, "{turn}, {degrees}");
        for (a, b) in before.residuals.iter().zip(&after.residuals) {
            prop_assert!((a - b).abs() < 1e-6);
        }
    }

    /// One blunder, however large, moves the fit by less than half an inch anywhere; a large one is named,
    /// with its size, and moves it not at all.
    #[test]
    fn a_blunder_does_not_move_the_fit(floor in floor(), which in any::<prop::sample::Index>(), size in -100.0..100.0_f64) {
        let which = which.index(floor.len());
        let mut wrong = floor.clone();
        wrong[which][2] += size;
        let (right, fitted) = (Plane::fit(&points(&floor)).unwrap(), Plane::fit(&points(&wrong)).unwrap());
        for [x, y, _] in &floor {
            prop_assert!((right.height_at([*x, *y]) - fitted.height_at([*x, *y])).abs() < 0.5);
        }
        if f64::abs(size) > 2.0 {
            prop_assert_eq!(fitted.apart.len(), 1);
            prop_assert_eq!(fitted.apart[0].point, which);
            prop_assert!((fitted.apart[0].from_plane - size).abs() < 0.5);
            let mut without = floor.clone();
            without.remove(which);
            let without = Plane::fit(&points(&without)).unwrap();
            prop_assert!((without.tilt().likely - fitted.tilt().likely).abs() < 1e-12);
        }
    }

    /// Every point of a contour is at its level on the surface, lines do not end inside the readings, and
    /// labels lie on their line.
    #[test]
    fn contours_lie_on_the_surface(floor in any_floor()) {
        let points = points(&floor);
        let surface = Surface::of(&points).unwrap();
        let contours = surface.contours("1/2 in".parse().unwrap()).unwrap();
        for contour in &contours {
            for point in contour.line.iter().chain([&contour.label]) {
                // Rounded to the nanometer, a point on the edge may lie outside by that much.
                if let Some(height) = surface.height_at(*point) {
                    prop_assert!((height - contour.level.as_inches_f64()).abs() < 1e-5);
                }
            }
            prop_assert_eq!(contour.closed, contour.line.first() == contour.line.last());
        }
        let (low, high) = floor.iter().fold((f64::MAX, f64::MIN), |(low, high), reading| {
            (low.min(reading[2]), high.max(reading[2]))
        });
        // Any level strictly between the lowest and the highest reading is drawn.
        let levels: std::collections::BTreeSet<Length> = contours.iter().map(|contour| contour.level).collect();
        let mut half = (low * 2.0).ceil() / 2.0;
        while half < high - 1e-6 {
            if half > low + 1e-6 {
                prop_assert!(levels.contains(&length(half)), "{half}");
            }
            half += 0.5;
        }
    }

    /// A section passes through the floor: at each of its points the height is that of the surface.
    #[test]
    fn a_section_is_the_surface(floor in any_floor(), ends in prop::array::uniform4(-50.0..450.0)) {
        let surface = Surface::of(&points(&floor)).unwrap();
        let [ax, ay, bx, by] = ends;
        let (from, to) = (PlanPoint { x: length(ax), y: length(ay) }, PlanPoint { x: length(bx), y: length(by) });
        let run = f64::hypot(bx - ax, by - ay);
        for part in surface.section(from, to) {
            prop_assert!(part.points.len() >= 2);
            for pair in part.points.windows(2) {
                prop_assert!(pair[0].station < pair[1].station);
                // Between two points the floor is flat, so the middle is the mean.
                let middle = f64::midpoint(pair[0].station, pair[1].station) / run;
                let at = PlanPoint { x: length(ax + middle * (bx - ax)), y: length(ay + middle * (by - ay)) };
                if let Some(height) = surface.height_at(at) {
                    prop_assert!((height - f64::midpoint(pair[0].height, pair[1].height)).abs() < 1e-5);
                }
            }
        }
    }

    /// A reading that is not known cannot make a limit kept that was exceeded, nor the other way round.
    #[test]
    fn an_unknown_finish_opens_and_never_turns(floor in any_floor(), which in any::<prop::sample::Index>()) {
        let house: House = serde_json::from_value(json!({
            "format": "house-1", "name": "trial",
            "wall_lines": [{"name": "south", "plan": [{"x": "0 ft", "y": "0 ft"}, {"x": "16 ft", "y": "0 ft"}]}],
        })).unwrap();
        let known = survey(&floor);
        let mut open = serde_json::to_value(&known).unwrap();
        let list = if open["readings"].is_array() { &mut open["readings"] } else { &mut open["readings"]["seen"] };
        list[which.index(floor.len())]["finish"] = json!("carpet");
        let open: Survey = serde_json::from_value(open).unwrap();
        let limits = Limits::shipped();
        let (sure, unsure) = (SurveyFindings::of(&house, &known, limits), SurveyFindings::of(&house, &open, limits));
        for (a, b) in sure.levels.iter().zip(&unsure.levels) {
            prop_assert!(b.kept == a.kept || b.kept == Truth::Maybe);
        }
    }

    /// The same floor surveyed twice has not moved, and a floor that sank evenly keeps its shape.
    #[test]
    fn what_did_not_move_is_within_error(floor in any_floor(), sunk in 1.0..5.0_f64) {
        let first = Corrected::of(&survey(&floor), Limits::shipped()).unwrap();
        let mut later = survey(&moved(&floor, |[x, y, h]| [x, y, h - sunk]));
        later.date = "2027-05-04".parse().unwrap();
        let later = Corrected::of(&later, Limits::shipped()).unwrap();
        let movement = Movement::between(&first, &later).unwrap();
        prop_assert_eq!(movement.places.len(), floor.len());
        prop_assert!(!movement.is_within_error());
        prop_assert!(movement.plane.unwrap().tilt().likely < 1e-8);
        let mut same = first.clone();
        same.date = "2027-05-04".parse().unwrap();
        prop_assert!(Movement::between(&first, &same).unwrap().is_within_error());
        // Without a common base an even sinking cannot be told from none.
        let mut elsewhere = later;
        elsewhere.base = "porch".to_owned();
        prop_assert!(Movement::between(&first, &elsewhere).unwrap().is_within_error());
    }

    /// No survey, however strange, makes anything panic; and without surroundings on record, no cause is
    /// ruled in.
    #[test]
    fn nothing_panics(readings in prop::collection::vec(prop::array::uniform3(-12_000.0..12_000.0), 0..12), same in 0..4) {
        let readings = moved(&readings, |[x, y, h]| match same {
            0 => [x, 0.0, h],
            1 => [x, x, 0.0],
            2 => [0.0, 0.0, h],
            _ => [x, y, h],
        });
        let house: House = serde_json::from_value(json!({
            "format": "house-1", "name": "trial", "surveys": [survey(&readings)],
            "wall_lines": [{"name": "south", "plan": [{"x": "0 ft", "y": "0 ft"}, {"x": "16 ft", "y": "0 ft"}]}],
        })).unwrap();
        let findings = SurveyFindings::of(&house, &house.surveys[0], Limits::shipped());
        if let Ok(surface) = &findings.surface {
            let _ = surface.contours(Length::feet(20));
        }
        for cause in CauseRules::shipped().judge(&Signs::of(&house, Limits::shipped())) {
            prop_assert!(cause.fit != Fit::Consistent, "{}", cause.cause.name);
        }
    }
}
