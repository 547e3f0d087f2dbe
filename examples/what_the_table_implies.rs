//! What shaking the bracing and anchor table of the provisions is good for, by the engineering screen.
//!
//! ```text
//! cargo run --example what_the_table_implies > docs/what-the-table-implies.md
//! ```
//!
//! The table of the model code could only be recalled. So it is held against statics: over a grid of houses, the screen
//! computes what an earthquake asks of each wall line, and this program what the table's shares and spacings give.
//! A slip of memory by a row would stand out, because rows of more stories would suddenly be good for more shaking.
#![expect(clippy::print_stdout, reason = "an example that is run to see what it prints")]

use std::error::Error;
use std::fmt::Write as _;

use retrofit_core::house::{AsBuilt, House, Nail, Shank, Sheathing};
use retrofit_core::measure::Length;
use retrofit_core::provisions::{Figure, FigureName, Library, Provisions, Value};
use retrofit_core::screen::nds::{Concrete, Duration, SillAnchor, Wood};
use retrofit_core::screen::{
    Bare, INCH, Method, Options, PLF, PanelGrade, Panelling, Screen, Standards, screen,
};
use serde_json::json;

fn main() -> Result<(), Box<dyn Error>> {
    print!("{}", study()?);
    Ok(())
}

/// The sets of which the table is tried: one seen in its document, one recalled.
const SETS: [&str; 2] = ["cebc-a3-2013", "iebc-a3-2021"];
/// Plans, in feet.
const PLANS: [(u32, u32); 3] = [(24, 36), (28, 44), (36, 60)];
/// A house of these stories in this weight case is asked for so much by the table.
const CASES: [(u8, &str, &str, &str); 6] = [
    (1, "other", "wood", "light"),
    (1, "heavy", "stucco", "tile"),
    (2, "other", "wood", "light"),
    (2, "heavy", "stucco", "tile"),
    (3, "other", "wood", "light"),
    (3, "heavy", "stucco", "tile"),
];

/// What sites where such houses are strengthened are designed for, in units of gravity.
const DESIGNED_FOR: Span = Span {
    least: 0.5,
    most: 2.0,
};
/// By what factor a story more raises the weight on a wall line of a one-story house, about.
const STORY_MORE: f64 = 1.6;

/// The least and the greatest of some values.
#[derive(Clone, Copy)]
struct Span {
    least: f64,
    most: f64,
}

impl Span {
    const NONE: Self = Self {
        least: f64::INFINITY,
        most: 0.0,
    };

    fn with(self, value: f64) -> Self {
        Self {
            least: self.least.min(value),
            most: self.most.max(value),
        }
    }

    fn words(self) -> String {
        format!("{:.2} to {:.2} g", self.least, self.most)
    }
}

/// The study as a page.
pub(crate) fn study() -> Result<String, Box<dyn Error>> {
    let mut page = String::from(HEAD);
    let standards = Standards::shipped().map_err(|faults| format!("{faults:?}"))?;
    let mut all = Vec::new();
    for id in SETS {
        let set = Library::shipped()
            .set(id)
            .map_err(|faults| format!("{faults:?}"))?;
        let standing = figures(&set, FigureName::BracedShare)
            .filter_map(Figure::standing)
            .max()
            .ok_or("no standing")?;
        write!(
            page,
            "\n## {} ({id})\n\nBracing and anchor rows: {}.\n\n",
            set.title,
            standing.words()
        )?;
        page.push_str("| Stories | Weight | Braced share | Panels reach capacity at S_DS | Anchors | Anchors reach capacity at S_DS |\n");
        page.push_str("| --- | --- | --- | --- | --- | --- |\n");
        let mut rows = Vec::new();
        for (stories, weight, exterior, roof) in CASES {
            let share = share(&set, stories, weight)?;
            let mut panels = Span::NONE;
            let screens: Vec<Screen> = PLANS
                .iter()
                .map(|plan| screened(standards, *plan, stories, exterior, roof))
                .collect::<Result<_, _>>()?;
            for (screen, plan) in screens.iter().zip(PLANS) {
                for (wall, asked) in per_gravity(screen, plan) {
                    for gravity in [0.43, 0.5] {
                        let strength = panel_strength(standards, gravity)? * share * wall;
                        panels = panels.with(strength / asked.0).with(strength / asked.1);
                    }
                }
            }
            let anchors = anchors(&set, stories);
            let mut spans = Vec::new();
            for (diameter, spacing) in &anchors {
                let mut span = Span::NONE;
                for (screen, plan) in screens.iter().zip(PLANS) {
                    for (wall, asked) in per_gravity(screen, plan) {
                        for wood in [Wood::Redwood, Wood::DouglasFir] {
                            // The first and the last stand 12 in from the ends.
                            let count = ((wall - 2.0) / spacing).ceil() + 1.0;
                            let strength = anchor_strength(standards, *diameter, wood)? * count;
                            span = span.with(strength / asked.0).with(strength / asked.1);
                        }
                    }
                }
                spans.push(span);
            }
            let (kinds, reached): (Vec<String>, Vec<String>) = anchors
                .iter()
                .zip(&spans)
                .map(|((diameter, spacing), span)| (format!("{diameter} in at {spacing} ft"), span.words()))
                .unzip();
            writeln!(
                page,
                "| {stories} | {weight} | {:.0}% | {} | {} | {} |",
                share * 100.0,
                panels.words(),
                kinds.join("; "),
                reached.join("; ")
            )?;
            rows.push((panels, spans));
        }
        all.push(rows);
    }
    page.push_str(&conclusion(&all));
    Ok(page)
}

const HEAD: &str = "\
# What the bracing and anchor table implies

This page is written by `cargo run --example what_the_table_implies`; a test holds it to what that prints.

The prescriptive provisions give, by stories and weight, a share of each wall line to be braced and a spacing of sill
anchors. For the model code they could only be recalled. Here the engineering screen tells at which design acceleration
S_DS a wall line that is built just so reaches its capacity, by allowable stress design, over rectangular houses of 24 by
36, 28 by 44 and 36 by 60 ft with cripple walls 3 ft high: panels of 15/32 in sheathing with 8d nails at 4 in on framing
of hem-fir to Douglas fir, sills of 1-1/2 in redwood to Douglas fir, every weight at either end of what it can be. The
redundancy factor is 1.0 and the full force of a new building is taken. Where three quarters of it are allowed, every
figure may be divided by 0.75. It is a plausibility check of a table, and says nothing of any one house.
";

fn conclusion(all: &[Vec<(Span, Vec<Span>)>]) -> String {
    let mut words = String::from("\n## What that says\n\n");
    let same = all.windows(2).all(|pair| match pair {
        [a, b] => a.iter().zip(b).all(|(a, b)| {
            a.0.words() == b.0.words()
                && a.1.len() == b.1.len()
                && a.1.iter().zip(&b.1).all(|(a, b)| a.words() == b.words())
        }),
        _ => true,
    });
    words.push_str(if same {
        "- The recalled rows give the same shaking as the rows that were seen in the 2013 California text, row by row.\n"
    } else {
        "- The recalled rows do **not** give the same shaking as the rows that were seen in the 2013 California text.\n"
    });
    let rows = || all.iter().flatten();
    let of = |spans: &mut dyn Iterator<Item = Span>| {
        spans.fold(Span::NONE, |all, span| all.with(span.least).with(span.most))
    };
    let panels = of(&mut rows().map(|(panels, _)| *panels));
    let anchors = of(&mut rows().flat_map(|(_, anchors)| anchors.iter().copied()));
    let overlaps = |span: Span| span.least < DESIGNED_FOR.most && span.most > DESIGNED_FOR.least;
    let ratio = |rows: &[(Span, Vec<Span>)]| {
        let middle = |span: &Span| f64::midpoint(span.least, span.most);
        let middles: Vec<f64> = rows.iter().map(|(panels, _)| middle(panels)).collect();
        let most = middles.iter().copied().fold(0.0, f64::max);
        most / middles.iter().copied().fold(f64::INFINITY, f64::min)
    };
    let is_plausible = rows()
        .all(|(panels, anchors)| overlaps(*panels) && anchors.iter().all(|span| overlaps(*span)))
        && all.iter().all(|rows| ratio(rows) < STORY_MORE);
    let _ = write!(
        words,
        "- Over the grid, panels by the table reach their capacity at {} and anchors at {}.\n\
         - {}\n",
        panels.words(),
        anchors.words(),
        if is_plausible {
            "The remembered figures are plausible: every row is good for shaking that sites in question are designed\n  \
             for (0.5 to 2 g), and shares and spacings rise with the stories about as the weight does."
        } else {
            "The remembered figures are **not** plausible: some row is good for shaking that no such site is designed for,\n  \
             or out of step with the others. Look the table up before leaning on it."
        },
    );
    if let Some(rows) = all.first() {
        let _ = writeln!(
            words,
            "- The middles of the ranges of the panels differ by a factor of {:.1} from the weakest to the strongest row. A row\n  \
             recalled for the wrong number of stories would differ by more.",
            ratio(rows)
        );
    }
    let short = rows().filter(|(panels, _)| panels.least < 1.0).count();
    let _ = writeln!(
        words,
        "- In {short} of {} rows some house of the grid falls short at 1 g: the table does not ask for more where the\n  \
         shaking or the depth of the house is greater. That is the disagreement that reports explain.",
        rows().count()
    );
    words
}

fn figures(set: &Provisions, name: FigureName) -> impl Iterator<Item = &Figure> {
    set.figures().iter().filter(move |figure| figure.name == name)
}

/// The share of a wall line to be braced.
fn share(set: &Provisions, stories: u8, weight: &str) -> Result<f64, Box<dyn Error>> {
    let row = figures(set, FigureName::BracedShare).find(|figure| {
        figure.case.stories == Some(stories) && figure.case.weight.is_some_and(|case| case.word() == weight)
    });
    match row.and_then(Figure::value) {
        Some(Value::Percent(percent)) => Ok(f64::from(percent.hundredths()) / 10_000.0),
        other => Err(format!("found {other:?}; expected a share").into()),
    }
}

/// Diameters in inches and spacings in feet.
fn anchors(set: &Provisions, stories: u8) -> Vec<(f64, f64)> {
    figures(set, FigureName::AnchorSpacing)
        .filter(|figure| figure.case.stories == Some(stories))
        .filter_map(|figure| match figure.value()? {
            Value::Length(spacing) => Some((figure.case.diameter?.as_inches_f64(), spacing.as_feet_f64())),
            _ => None,
        })
        .collect()
}

/// Allowable unit shear of the provisions' panel, in pounds per foot.
fn panel_strength(standards: &Standards, gravity: f64) -> Result<f64, Box<dyn Error>> {
    let row = standards.sdpws.panel(&Panelling {
        grade: PanelGrade::Sheathing,
        sheathing: Sheathing::Plywood,
        thickness: "15/32 in".parse()?,
        nail: Nail {
            penny: 8,
            shank: Shank::Common,
        },
        edge_spacing: Length::inches(4),
    })?;
    let factor = standards
        .sdpws
        .species_factor(retrofit_core::screen::PLAIN.of(gravity))?
        .value();
    Ok(standards
        .sdpws
        .design(Bare, row.nominal(Bare), Method::Asd)?
        .to(PLF)
        * factor)
}

/// Allowable shear of one anchor along a sill of 1-1/2 in, in pounds.
fn anchor_strength(standards: &Standards, diameter: f64, wood: Wood) -> Result<f64, Box<dyn Error>> {
    let nds = &standards.nds;
    let anchor = SillAnchor {
        diameter: INCH.of(diameter),
        sill_thickness: INCH.of(1.5),
        embedment: INCH.of(6.0),
        specific_gravity: nds
            .species(wood)
            .specific_gravity
            .given(Bare, "G", wood_words(wood)),
        concrete: Concrete::JudgedSound,
        angle_degrees: 0.0,
    };
    let z = nds.sill_anchor(Bare, &anchor)?.z;
    Ok(nds.adjusted(Bare, z, Method::Asd, Duration::Earthquake).value())
}

fn wood_words(wood: Wood) -> &'static str {
    retrofit_core::choice::Choice::words(wood)
}

/// For each wall line its length in feet, and what it is asked for at 1 g at least and at most, in pounds.
fn per_gravity(screen: &Screen, (width, length): (u32, u32)) -> impl Iterator<Item = (f64, (f64, f64))> {
    let lengths = [length, width, length, width].map(f64::from);
    lengths.into_iter().zip(&screen.lines).map(|(wall, line)| {
        let range = line.shear.factored.range;
        (wall, (range.low, range.high))
    })
}

fn screened(
    standards: &Standards,
    (width, length): (u32, u32),
    stories: u8,
    exterior: &str,
    roof: &str,
) -> Result<Screen, Box<dyn Error>> {
    let point = |x: u32, y: u32| json!({"x": format!("{x} ft"), "y": format!("{y} ft")});
    let corners = [
        point(0, 0),
        point(length, 0),
        point(length, width),
        point(0, width),
    ];
    let [a, b, c, d] = &corners;
    let wall = |name: &str, from, to, long: u32| {
        json!({
            "name": name, "length": {"measured": format!("{long} ft")}, "plan": [from, to],
            "cripple_wall": [{"height": {"measured": "3 ft"}}]
        })
    };
    let house: House = serde_json::from_value(json!({
        "format": "house-1",
        "name": "a house of the grid",
        "site": {"slope": "flat", "s_ds": {"measured": 1.0}},
        "building": {
            "stories": stories, "outline": corners, "exterior": exterior, "roof": roof,
            "interior_plaster": false, "floors_at_one_level": true, "masonry_chimneys": 0
        },
        "wall_lines": [
            wall("south", a, b, length), wall("east", b, c, width), wall("north", c, d, length), wall("west", d, a, width)
        ]
    }))?;
    let house = AsBuilt::new(house).map_err(|problems| format!("{problems:?}"))?;
    let options = Options {
        redundancy: Some(1.0),
        ..Options::default()
    };
    Ok(screen(&house, standards, options)?)
}
