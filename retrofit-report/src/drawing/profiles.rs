//! Profiles of a floor, one below the other, with heights drawn larger than lengths.

use retrofit_core::measure::Length;

use super::drafting::{Drafting, Nm, Title, at, lettered};
use super::sheet::{Anchor, Layer, Point, Scale, Shape, Sheet};
use super::words;

/// How wide the longest profile stands on paper, in thousandths of an inch.
const WIDE: i64 = 12_500;
/// The room that the heights of a profile take of the room it has, in tenths.
const HEIGHTS: i64 = 6;
/// The least range of heights that is drawn large, in inches: what is flat looks flat.
const LEAST_RANGE: f64 = 0.25;

/// One place in the stack: lines over the same stretch, as station and height in inches.
pub(super) struct Stacked<'a> {
    /// What they run along.
    pub(super) name: &'a str,
    /// The lines, each on its layer.
    pub(super) lines: Vec<(Layer, Vec<(f64, f64)>)>,
    /// Whether the points of the last line are marked and told their heights.
    pub(super) is_labeled: bool,
}

impl Stacked<'_> {
    fn ends(&self, of: fn(&(f64, f64)) -> f64) -> (f64, f64) {
        let points = self.lines.iter().flat_map(|(_, points)| points);
        points
            .map(of)
            .fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), value| {
                (low.min(value), high.max(value))
            })
    }
}

#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_precision_loss,
    reason = "drawn to the micrometer"
)]
fn nanometers(inches: f64) -> Nm {
    (inches * Length::inches(1).nanometers() as f64) as Nm
}

/// A sheet of profiles, each place `high` thousandths of an inch on paper, with notes under it. The notes and the
/// description of the sheet are told how many times as large as lengths the heights are.
pub(super) fn sheet(
    places: &[Stacked<'_>],
    high: i64,
    tell: impl FnOnce(i64) -> (Vec<String>, String),
    title: &Title<'_>,
    name: String,
) -> Sheet {
    let (mut draft, larger) = stack(places, high);
    let (notes, description) = tell(larger);
    let drawn = draft.reach(0).unwrap_or_default();
    let (left, foot) = (drawn.low.x.nanometers(), drawn.low.y.nanometers());
    let below = draft.column(left, foot - draft.paper(200), draft.paper(9_500), "NOTES", &notes);
    let middle = drawn.middle().x.nanometers();
    let top = drawn.high.y.nanometers() + draft.paper(250);
    let low = below - draft.paper(120);
    draft.finish(title, name, &description, middle, top, low)
}

/// Draws the stack, each place `high` thousandths of an inch on paper; gives how many times as large as lengths the
/// heights are: a whole number, so that a reader can take a height off with a scale.
fn stack(places: &[Stacked<'_>], high: i64) -> (Drafting, i64) {
    let size = |of: fn(&(f64, f64)) -> f64, least: f64| {
        let ends = places.iter().map(|place| place.ends(of));
        ends.map(|(low, high)| high - low).fold(least, f64::max)
    };
    let longest = Length::from_nanometers(nanometers(size(|point| point.0, 1.0)));
    let room = Length::from_nanometers(WIDE * 25_400);
    let mut draft = Drafting::new(Scale::to_fit(&[(longest, room)], Scale::HALF_INCH));
    let range = nanometers(size(|point| point.1, LEAST_RANGE)).max(1);
    let larger = (draft.paper(high) * HEIGHTS / 10 / range).clamp(1, 96);
    let mut top = 0;
    for place in places {
        draw(&mut draft, place, top, high, larger);
        top -= draft.paper(high + 250);
    }
    (draft, larger)
}

fn draw(draft: &mut Drafting, stacked: &Stacked<'_>, top: Nm, high: i64, larger: i64) {
    let base = top - draft.paper(high);
    let foot = base + draft.paper(350);
    let (first, _) = stacked.ends(|point| point.0);
    let (lowest, _) = stacked.ends(|point| point.1);
    let place = |(station, height): (f64, f64)| {
        at(
            nanometers(station - first),
            foot + nanometers(height - lowest) * larger,
        )
    };
    draft.heading(
        at(0, top - draft.paper(40)),
        lettered::NOTE,
        Anchor::Start,
        &format!("Along {}", stacked.name),
    );
    for (layer, points) in &stacked.lines {
        let points: Vec<Point> = points.iter().map(|point| place(*point)).collect();
        draft.add(
            *layer,
            Shape::Polyline {
                points,
                is_closed: false,
            },
        );
    }
    if !stacked.is_labeled {
        return;
    }
    let mut clear_from = Nm::MIN;
    for point in stacked.lines.last().into_iter().flat_map(|(_, points)| points) {
        let center = place(*point);
        let radius = Length::from_nanometers(draft.paper(22));
        draft.add(Layer::New, Shape::Disk { center, radius });
        let words = words::height(point.1);
        let half = draft.width(&words, lettered::DIMENSION) / 2;
        let x = center.x.nanometers();
        if x - half > clear_from {
            draft.text(
                at(x, base + draft.paper(60)),
                lettered::DIMENSION,
                Anchor::Middle,
                &words,
            );
            clear_from = x + half + draft.paper(40);
        }
    }
}
