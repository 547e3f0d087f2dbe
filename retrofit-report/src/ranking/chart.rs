//! The charts of a portfolio page, as pictures of our own: what a budget avoids, and where the houses stand.
//!
//! A picture keeps its shape and takes the width it is given; its colors are those of the page. What color tells, form
//! tells too.

use std::fmt::Write;

use retrofit_core::ranking::BudgetPoint;

use super::amount::{count, money};
use super::map::{MapCell, PortfolioMap, Tier};

/// The size that a picture is drawn at; on a page it is as wide as there is room, up to half as large again.
const WIDTH: f64 = 360.0;

/// Room at the left and at the foot for the figures of an axis.
const LEFT: f64 = 48.0;
const FOOT: f64 = 34.0;

/// Kilometers in a degree of latitude, by the mean radius of the earth of 6,371 km (Moritz, Geodetic Reference System
/// 1980, *Journal of Geodesy* 74, 2000, p. 128: 6371.0088 km).
const KILOMETERS_A_DEGREE: f64 = 6371.0088 * std::f64::consts::PI / 180.0;
/// Kilometers in a mile: exactly, by the international foot of 0.3048 m.
const KILOMETERS_A_MILE: f64 = 1.609_344;

/// What a budget avoids: dollars of loss over dollars paid, from the top of the list to its end, with the point where
/// the money is gone.
pub(super) fn curve(points: &[BudgetPoint], paid: f64, avoided: f64) -> Option<String> {
    const HEIGHT: f64 = 230.0;
    const TOP: f64 = 28.0;
    /// The last figure of the axis stands half beyond its end.
    const RIGHT: f64 = 24.0;
    let last = points
        .last()
        .filter(|last| last.paid > 0.0 && last.benefit > 0.0)?;
    let (across, up) = (Axis::to(last.paid), Axis::to(last.benefit));
    let x = |dollars: f64| LEFT + (WIDTH - LEFT - RIGHT) * dollars / across.end();
    let y = |dollars: f64| HEIGHT - FOOT - (HEIGHT - FOOT - TOP) * dollars / up.end();
    let mut svg = open(
        HEIGHT,
        "curve",
        "What a budget avoids",
        &format!(
            "A curve from nothing to {} avoided for {} paid, steep at first and flatter to the end; the money reaches {} \
             avoided for {}.",
            money(last.benefit),
            money(last.paid),
            money(avoided),
            money(paid)
        ),
    );
    for step in across.steps() {
        line(&mut svg, "grid", (x(step), TOP), (x(step), HEIGHT - FOOT));
        // Nothing is told once, beside the other axis.
        if step > 0.0 {
            let words = across.label(step);
            text(&mut svg, (x(step), HEIGHT - FOOT + 14.0), "middle", &words);
        }
    }
    for step in up.steps() {
        line(&mut svg, "grid", (LEFT, y(step)), (WIDTH - RIGHT, y(step)));
        text(&mut svg, (LEFT - 5.0, y(step) + 3.5), "end", &up.label(step));
    }
    let mut path = String::new();
    for (number, point) in points.iter().enumerate() {
        let command = if number == 0 { 'M' } else { 'L' };
        push(
            &mut path,
            format_args!("{command}{:.1} {:.1}", x(point.paid), y(point.benefit)),
        );
    }
    push(&mut svg, format_args!("<path class=\"run\" d=\"{path}\"/>\n"));
    let (at, height) = (x(paid.min(last.paid)), y(avoided.min(last.benefit)));
    line(&mut svg, "reach", (at, height), (at, HEIGHT - FOOT));
    push(
        &mut svg,
        format_args!("<circle class=\"funded\" cx=\"{at:.1}\" cy=\"{height:.1}\" r=\"4.5\"/>\n"),
    );
    text(
        &mut svg,
        (LEFT + (WIDTH - LEFT) / 2.0, HEIGHT - 4.0),
        "middle",
        "Dollars paid",
    );
    text(&mut svg, (2.0, 13.0), "start", "Dollars of loss avoided");
    Some(close(svg))
}

/// Where the houses stand: a mark for each place, or for all houses of a cell of the grid; its form and color tell
/// what most of them come to, its size how many they are.
pub(super) fn map(map: &PortfolioMap) -> Option<String> {
    const MARGIN: f64 = 14.0;
    const SCALE_ROOM: f64 = 26.0;
    let view = View::of(&map.cells)?;
    let (width, height) = (view.width * view.shrink, view.height);
    let factor = ((WIDTH - 2.0 * MARGIN) / width).min(400.0 / height);
    let tall = (height * factor + 2.0 * MARGIN + SCALE_ROOM).max(120.0);
    let x =
        |cell: &MapCell| WIDTH / 2.0 + (cell.longitude - view.west - view.width / 2.0) * view.shrink * factor;
    let y = |cell: &MapCell| MARGIN + (view.south + view.height - cell.latitude) * factor;
    let most = map.cells.iter().map(houses).max().unwrap_or(1);
    let houses_of = |tier: Tier| map.cells.iter().map(|cell| of(cell, tier)).sum::<u64>();
    let mut svg = open(
        tall,
        "map",
        "Where the houses stand",
        &format!(
            "A map without streets. The budget reaches {}; {} are beyond it; at {} nothing was found short.",
            count(houses_of(Tier::Funded), "house"),
            houses_of(Tier::BeyondBudget),
            houses_of(Tier::NothingShort)
        ),
    );
    // The weightiest on top.
    for tier in [Tier::NothingShort, Tier::BeyondBudget, Tier::Funded] {
        push(&mut svg, format_args!("<g class=\"{}\">\n", class(tier)));
        for cell in map.cells.iter().filter(|cell| most_of(cell) == tier) {
            mark(&mut svg, tier, (x(cell), y(cell)), radius(houses(cell), most));
        }
        svg.push_str("</g>\n");
    }
    scale(&mut svg, factor, tall - 8.0);
    Some(close(svg))
}

/// The key of the map: each mark with its words.
pub(super) fn key(tier: Tier) -> String {
    let mut svg = format!(
        "<svg class=\"key\" viewBox=\"0 0 14 14\" width=\"14\" height=\"14\" aria-hidden=\"true\"><g class=\"{}\">",
        class(tier)
    );
    mark(&mut svg, tier, (7.0, 7.0), 5.0);
    svg.push_str("</g></svg>");
    svg
}

/// What stands in a map.
struct View {
    west: f64,
    south: f64,
    width: f64,
    height: f64,
    /// How long a degree of longitude is in degrees of latitude.
    shrink: f64,
}

impl View {
    fn of(cells: &[MapCell]) -> Option<Self> {
        /// What stands at one place still has some room around it.
        const LEAST: f64 = 0.002;
        let ends = |of: fn(&MapCell) -> f64| {
            cells
                .iter()
                .map(of)
                .fold(None, |ends: Option<(f64, f64)>, value| match ends {
                    None => Some((value, value)),
                    Some((low, high)) => Some((low.min(value), high.max(value))),
                })
        };
        let ((west, east), (south, north)) = (ends(|cell| cell.longitude)?, ends(|cell| cell.latitude)?);
        let (width, height) = ((east - west).max(LEAST), (north - south).max(LEAST));
        Some(Self {
            west: f64::midpoint(west, east) - width / 2.0,
            south: f64::midpoint(south, north) - height / 2.0,
            width,
            height,
            shrink: f64::midpoint(south, north).to_radians().cos().max(0.05),
        })
    }
}

/// A bar that tells how long a mile, or so many miles, are.
fn scale(svg: &mut String, factor: f64, foot: f64) {
    let a_mile = factor / KILOMETERS_A_DEGREE * KILOMETERS_A_MILE;
    let miles = [
        0.05, 0.1, 0.25, 0.5, 1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0, 200.0, 500.0, 1000.0,
    ]
    .into_iter()
    .rfind(|miles| miles * a_mile <= WIDTH / 3.0);
    let Some(miles) = miles else { return };
    let end = 14.0 + miles * a_mile;
    line(svg, "axis", (14.0, foot), (end, foot));
    for at in [14.0, end] {
        line(svg, "axis", (at, foot - 3.0), (at, foot + 3.0));
    }
    let unit = if miles > 1.0 { "miles" } else { "mile" };
    text(svg, (end + 6.0, foot + 3.5), "start", &format!("{miles} {unit}"));
    text(svg, (WIDTH - 14.0, foot + 3.5), "end", "north is up");
}

const fn houses(cell: &MapCell) -> u64 {
    cell.funded + cell.beyond_budget + cell.nothing_short
}

const fn of(cell: &MapCell, tier: Tier) -> u64 {
    match tier {
        Tier::Funded => cell.funded,
        Tier::BeyondBudget => cell.beyond_budget,
        Tier::NothingShort => cell.nothing_short,
    }
}

/// What most houses of a cell come to; of equals, the weightier.
const fn most_of(cell: &MapCell) -> Tier {
    if cell.funded >= cell.beyond_budget && cell.funded >= cell.nothing_short {
        Tier::Funded
    } else if cell.beyond_budget >= cell.nothing_short {
        Tier::BeyondBudget
    } else {
        Tier::NothingShort
    }
}

const fn class(tier: Tier) -> &'static str {
    match tier {
        Tier::Funded => "funded",
        Tier::BeyondBudget => "beyond",
        Tier::NothingShort => "nothing-short",
    }
}

/// The area of a mark goes with the houses it stands for.
#[expect(clippy::cast_precision_loss, reason = "the size of a mark")]
fn radius(houses: u64, most: u64) -> f64 {
    const LEAST: f64 = 1.8;
    const MOST: f64 = 7.0;
    if most <= 1 {
        return 2.4;
    }
    (MOST * (houses as f64 / most as f64).sqrt()).max(LEAST)
}

/// A disk, a triangle that stands open, or a small cross: told apart without color.
fn mark(svg: &mut String, tier: Tier, (x, y): (f64, f64), radius: f64) {
    let r = radius;
    match tier {
        Tier::Funded => push(
            svg,
            format_args!("<circle cx=\"{x:.1}\" cy=\"{y:.1}\" r=\"{r:.1}\"/>\n"),
        ),
        Tier::BeyondBudget => push(
            svg,
            format_args!(
                "<path d=\"M{:.1} {:.1}l{:.1} {:.1}h{:.1}z\"/>\n",
                x,
                y - r,
                r,
                1.7 * r,
                -2.0 * r
            ),
        ),
        Tier::NothingShort => push(
            svg,
            format_args!(
                "<path d=\"M{:.1} {:.1}h{:.1}M{:.1} {:.1}v{:.1}\"/>\n",
                x - 0.8 * r,
                y,
                1.6 * r,
                x,
                y - 0.8 * r,
                1.6 * r
            ),
        ),
    }
}

/// An axis from nothing, in steps of one, two or five and zeros.
struct Axis {
    step: f64,
    steps: u8,
}

impl Axis {
    fn to(end: f64) -> Self {
        let rough = end / 4.0;
        let decade = 10f64.powf(rough.log10().floor());
        let step = [1.0, 2.0, 5.0, 10.0]
            .into_iter()
            .map(|step| step * decade)
            .find(|step| *step >= rough)
            .unwrap_or(rough);
        let steps = (1..=5).find(|steps| f64::from(*steps) * step >= end).unwrap_or(5);
        Self { step, steps }
    }

    fn end(&self) -> f64 {
        self.step * f64::from(self.steps)
    }

    fn steps(&self) -> impl Iterator<Item = f64> {
        let step = self.step;
        (0..=self.steps).map(move |number| f64::from(number) * step)
    }

    /// In thousands, millions or billions, as the axis needs.
    fn label(&self, dollars: f64) -> String {
        let (unit, name) = match self.end() {
            end if end >= 2e9 => (1e9, "B"),
            end if end >= 2e6 => (1e6, "M"),
            end if end >= 2e3 => (1e3, "K"),
            _ => (1.0, ""),
        };
        if dollars == 0.0 {
            return "$0".to_owned();
        }
        let decimals = usize::from(self.step / unit < 1.0);
        format!("${:.decimals$}{name}", dollars / unit)
    }
}

fn open(height: f64, name: &str, title: &str, description: &str) -> String {
    format!(
        "<svg class=\"{name}\" viewBox=\"0 0 {WIDTH} {height:.0}\" role=\"img\" aria-labelledby=\"{name}-title {name}-desc\">\n\
         <title id=\"{name}-title\">{title}</title>\n<desc id=\"{name}-desc\">{description}</desc>\n"
    )
}

fn close(mut svg: String) -> String {
    svg.push_str("</svg>");
    svg
}

fn line(svg: &mut String, class: &str, from: (f64, f64), to: (f64, f64)) {
    push(
        svg,
        format_args!(
            "<path class=\"{class}\" d=\"M{:.1} {:.1}L{:.1} {:.1}\"/>\n",
            from.0, from.1, to.0, to.1
        ),
    );
}

fn text(svg: &mut String, at: (f64, f64), anchor: &str, words: &str) {
    push(
        svg,
        format_args!(
            "<text x=\"{:.1}\" y=\"{:.1}\" text-anchor=\"{anchor}\">{words}</text>\n",
            at.0, at.1
        ),
    );
}

fn push(svg: &mut String, what: std::fmt::Arguments<'_>) {
    // A string takes whatever is written to it.
    let _ = svg.write_fmt(what);
}

#[cfg(test)]
mod tests {
    use super::*;
    use rstest::rstest;

    #[rstest]
    #[case(1_000.0, 500.0, 1_000.0)]
    #[case(2_340_000.0, 1_000_000.0, 3_000_000.0)]
    #[case(41.0, 20.0, 60.0)]
    fn an_axis_ends_beyond_what_it_holds(#[case] end: f64, #[case] step: f64, #[case] to: f64) {
        let axis = Axis::to(end);
        assert_eq!((axis.step, axis.end()), (step, to));
    }

    #[test]
    fn figures_of_an_axis_are_short() {
        let labels = |end: f64| {
            let axis = Axis::to(end);
            axis.steps().map(|step| axis.label(step)).collect::<Vec<_>>()
        };
        assert_eq!(labels(2_340_000.0), ["$0", "$1M", "$2M", "$3M"]);
        assert_eq!(labels(9_000.0), ["$0", "$5K", "$10K"]);
    }

    #[test]
    fn nothing_to_show_is_no_picture() {
        assert_eq!(curve(&[], 0.0, 0.0), None);
        let nowhere = PortfolioMap {
            cell_degrees: 0.0,
            cells: Vec::new(),
            without_place: 7,
        };
        assert_eq!(map(&nowhere), None);
    }

    /// A mile on the map is a mile on the earth: two places one minute of latitude apart are a nautical mile apart,
    /// 1.15 statute miles.
    #[test]
    fn a_minute_of_latitude_is_a_nautical_mile() {
        let nautical = KILOMETERS_A_DEGREE / 60.0 / KILOMETERS_A_MILE;
        approx::assert_relative_eq!(nautical, 1.852 / 1.609_344, max_relative = 0.001);
    }
}
