//! The screen in every format, and its derivations computed anew from what a reader sees.

use std::collections::HashMap;
use std::fmt::Write;

use insta::assert_snapshot;
use retrofit_core::house::AsBuilt;
use retrofit_core::screen::{Method, Options, Standards, Unit, screen};
use rstest::rstest;

use super::{Asked, ExplainError, Found, ScreenReport, ScreensReport, Units, explain, explainable};
use crate::look::Look;
use crate::result::{ReportInfo, wording};
use crate::{html, json, markdown, terminal};

const DEMO: &str = include_str!("../../../examples/quince-lantern-way.json");
/// Braced and anchored, with the longest derivations.
const BRACED: &str = include_str!("../../../examples/larch-harbor-way.json");
/// Its site has no shaking on record.
const NO_SITE: &str = include_str!("../../../examples/wren-cellar-close.json");
/// Its floors lie at more than one level.
const DECLINED: &str = include_str!("../../../examples/cinder-alder-terrace.json");

fn house(text: &str) -> AsBuilt {
    crate::input::parse_house(text).unwrap()
}

fn report_by(text: &str, ids: &[&str], units: Units, method: Method) -> ScreenReport {
    let house = house(text);
    let standards = Standards::choose(ids).unwrap();
    let options = Options {
        method,
        derivations: true,
        ..Options::default()
    };
    let info = ReportInfo::of_input("0.0.0", "house.json", text.as_bytes());
    let screened = screen(&house, &standards, options);
    ScreenReport::new(&house, &screened, &standards.editions(), options, units, &info)
}

fn report(text: &str) -> ScreenReport {
    report_by(text, &[], Units::Both, Method::Asd)
}

fn found(report: &ScreenReport) -> &Found {
    report.found.as_ref().unwrap()
}

fn asked(name: &str, wall: Option<&str>) -> Asked {
    Asked {
        name: name.to_owned(),
        wall: wall.map(str::to_owned),
        direction: None,
    }
}

/// The same without the derivations, which would fill books.
fn bare(mut report: ScreenReport) -> ScreenReport {
    if let Some(found) = &mut report.found {
        found.derivations.clear();
    }
    report
}

/// A page without its style, which is that of every page.
fn without_style(page: &str) -> String {
    let (head, rest) = page.split_once("<style>").unwrap();
    let (_, body) = rest.split_once("</style>").unwrap();
    format!("{head}<style></style>{body}")
}

#[test]
fn the_screen_of_the_demo_reads_like_this() {
    let report = report(DEMO);
    assert_snapshot!("demo_screen_terminal", terminal::render_screen(&report, false));
    assert_snapshot!(
        "demo_screen_markdown",
        markdown::render_screen(&report, Look::shipped()).unwrap()
    );
    let bare = bare(report);
    assert_snapshot!(
        "demo_screen_html",
        without_style(&html::render_screen(&bare, Look::shipped()).unwrap())
    );
    assert_snapshot!("demo_screen_json", json::render_screen(&bare));
}

#[test]
fn a_number_with_everything_behind_it_reads_like_this() {
    let report = report(DEMO);
    let explanation = explain(&report, &asked("floor_connection", Some("north"))).unwrap();
    assert_snapshot!("demo_explained", explanation.text(110));
    let mut found = found(&report).clone();
    found.unfold();
    assert_snapshot!(
        "demo_weight_unfolded",
        found.weight.derivation.replace("<li>", "\n<li>")
    );
}

#[test]
fn by_two_editions_side_by_side_it_reads_like_this() {
    let by = |ids: &[&str]| report_by(BRACED, ids, Units::Us, Method::Asd);
    let both = ScreensReport::new(vec![
        by(&["asce7-10", "sdpws-2008"]),
        by(&["asce7-22", "sdpws-2021"]),
    ]);
    assert_eq!(both.columns, ["ASCE 7-10, SDPWS-2008", "ASCE 7-22, SDPWS-2021"]);
    assert_snapshot!("two_editions_terminal", terminal::render_screens(&both, false));
    assert_snapshot!(
        "two_editions_markdown",
        markdown::render_screens(&both, Look::shipped()).unwrap()
    );
}

fn every_format(report: &ScreenReport) -> Vec<(&'static str, String)> {
    let both = ScreensReport::new(vec![report.clone(), report.clone()]);
    vec![
        ("html", html::render_screen(report, Look::shipped()).unwrap()),
        (
            "markdown",
            markdown::render_screen(report, Look::shipped()).unwrap(),
        ),
        ("terminal", terminal::render_screen(report, false)),
        ("json", json::render_screen(report)),
        (
            "html, side by side",
            html::render_screens(&both, Look::shipped()).unwrap(),
        ),
        (
            "markdown, side by side",
            markdown::render_screens(&both, Look::shipped()).unwrap(),
        ),
        ("terminal, side by side", terminal::render_screens(&both, false)),
    ]
}

#[rstest]
#[case(DEMO)]
#[case(BRACED)]
#[case(NO_SITE)]
#[case(DECLINED)]
fn no_screen_says_safe_and_every_one_says_what_it_is_not(#[case] text: &str) {
    for (format, text) in every_format(&report(text)) {
        for word in text.split(|c: char| !c.is_alphabetic()).map(str::to_lowercase) {
            let is_claim = ["safe", "safely", "safer", "safest", "compliant", "complies"].contains(&&*word);
            assert!(!is_claim, "{format} says {word:?}");
        }
        let flowing = text.split_whitespace().collect::<Vec<_>>().join(" ");
        for words in ["not a design", "licensed engineer", "local code official"] {
            assert!(flowing.contains(words), "{format}: {words}");
        }
    }
}

#[test]
fn without_shaking_the_ladder_stands_and_the_page_says_why() {
    let report = report(NO_SITE);
    let found = found(&report);
    assert!(found.shaking.is_none() && !found.shaking_unknown.is_empty());
    assert!(!found.ladder.is_empty());
    assert!(
        report
            .warnings
            .iter()
            .any(|warning| warning.contains("only the ladder"))
    );
}

#[test]
fn a_declined_house_has_no_numbers_and_a_reason() {
    let report = report(DECLINED);
    assert!(report.found.is_none());
    for (format, text) in every_format(&report) {
        let flowing = text.split_whitespace().collect::<Vec<_>>().join(" ");
        if !format.contains("side by side") {
            assert!(flowing.contains("more than one level"), "{format}");
        }
    }
    let explained = explain(&report, &asked("weight", None));
    assert!(matches!(explained, Err(ExplainError::Declined(_))));
}

#[test]
fn open_ends_and_missing_capacity_are_said_in_words() {
    let mut record: serde_json::Value = serde_json::from_str(BRACED).unwrap();
    record["wall_lines"][0]["unseen"] = serde_json::json!([{"from": "0 ft", "to": "8 ft", "parts": ["anchors", "panels"], "why": "behind the water heater"}]);
    let open = report(&record.to_string());
    let line = &found(&open).lines[0];
    let row = line.links.iter().find(|link| link.link == "sheathing").unwrap();
    assert!(row.is_open);
    let shown = &row.ratio.as_ref().unwrap().shown;
    assert!(shown.contains("or less"), "{shown}");
    assert!(row.capacity.as_ref().unwrap().shown.ends_with("or more"));
    for (format, text) in every_format(&report(DEMO)) {
        if format != "json" && !format.contains("side by side") {
            assert!(text.contains("no capacity"), "{format}");
        }
        let mut words = text.split(|c: char| !c.is_alphanumeric());
        assert!(
            !words.any(|word| ["inf", "NaN", "nan"].contains(&word)),
            "{format}"
        );
    }
}

// ---- Names -----------------------------------------------------------------------------------------------

const HOSTILE: &str = "</title><script>alert(1)</script> \"quoted\" 'single' a|b **bold** [x](javascript:y) \u{202e}\u{1b}[31m\n# head";

fn hostile() -> (ScreenReport, ScreenReport) {
    let of = |name: &str| {
        let mut record: serde_json::Value = serde_json::from_str(DEMO).unwrap();
        record["name"] = name.into();
        for (number, wall) in record["wall_lines"]
            .as_array_mut()
            .unwrap()
            .iter_mut()
            .enumerate()
        {
            wall["name"] = format!("{name} {number}").into();
        }
        report(&record.to_string())
    };
    (of(HOSTILE), of("harmless"))
}

#[test]
fn a_hostile_name_is_only_text_in_every_format() {
    let (hostile, harmless) = hostile();
    let tags = |page: &str| page.matches('<').count();
    for (format, text) in every_format(&hostile) {
        assert!(!text.contains('\u{202e}') && !text.contains('\u{1b}'), "{format}");
        if format.starts_with("html") {
            assert!(!text.contains("<script"), "{format}");
            let (_, same) = every_format(&harmless)
                .into_iter()
                .find(|(other, _)| *other == format)
                .unwrap();
            assert_eq!(tags(&text), tags(&same), "{format}");
        }
        if format.starts_with("markdown") {
            let structure = |text: &str| -> Vec<String> {
                pulldown_cmark::Parser::new_ext(text, pulldown_cmark::Options::ENABLE_TABLES)
                    .filter(|event| !matches!(event, pulldown_cmark::Event::Text(_)))
                    .map(|event| format!("{event:?}"))
                    .collect()
            };
            let (_, same) = every_format(&harmless)
                .into_iter()
                .find(|(other, _)| *other == format)
                .unwrap();
            assert_eq!(structure(&text), structure(&same), "{format}");
        }
    }
    let wall = wording::plain(&format!("{HOSTILE} 0"));
    let explained = explain(&hostile, &asked("shear", Some(&wall))).unwrap();
    assert!(explained.text(110).chars().all(|c| c == '\n' || !c.is_control()));
}

// ---- Derivations -----------------------------------------------------------------------------------------

#[rstest]
#[case(DEMO, Units::Both)]
#[case(DEMO, Units::Si)]
#[case(BRACED, Units::Both)]
#[case(BRACED, Units::Si)]
#[case(NO_SITE, Units::Us)]
fn every_number_of_the_page_recomputes_from_the_inputs_it_shows(#[case] text: &str, #[case] units: Units) {
    for method in [Method::Asd, Method::Lrfd] {
        let page = html::render_screen(&report_by(text, &[], units, method), Look::shipped()).unwrap();
        let mut close = 0;
        let mut all = 0;
        for equation in page.split("<p class=\"eq\">").skip(1) {
            let (equation, _) = equation.split_once("</p>").unwrap();
            let (_, numbers) = equation.split_once("<span class=\"numbers\">").unwrap();
            let (numbers, rest) = numbers.split_once("</span>").unwrap();
            let (_, shown) = rest.split_once("<b>").unwrap();
            let (shown, _) = shown.split_once("</b>").unwrap();
            if numbers.contains("no limit") || shown.contains("no limit") {
                continue;
            }
            let computed = Reader::read(numbers);
            let shown_value = Reader::read(shown.split(" (").next().unwrap());
            assert!(
                computed.low <= shown_value.high && shown_value.low <= computed.high,
                "{numbers} is between {} and {}, and not {shown}: {equation}",
                computed.low,
                computed.high
            );
            all += 1;
            close += usize::from((computed.high - computed.low).abs() < 2e-3 * computed.high.abs());
        }
        // Where numbers cancel out, rounding leaves little; of nearly all it leaves enough to tell a slip.
        assert!(all > 50 && close * 10 > all * 9, "{close} of {all}");
    }
}

/// Exactly, by the expressions themselves.
#[test]
fn every_line_is_what_its_expression_comes_to() {
    for text in [DEMO, BRACED, NO_SITE] {
        let report = report(text);
        let lines: Vec<_> = found(&report)
            .derivations
            .iter()
            .map(|line| line.line.clone())
            .collect();
        for line in &found(&report).derivations {
            if let Some(expression) = line.expression() {
                let (value, again) = (line.line.value, expression.evaluate(&lines));
                let same = value.to_bits() == again.to_bits() || (value - again).abs() <= 1e-12 * value.abs();
                assert!(same, "{}: {value} and {again}", line.title());
            }
        }
    }
}

/// Every derivation ends in what was recorded, tabulated, bounded or asked for.
#[test]
fn every_step_stands_once_and_every_input_names_its_source() {
    let report = report(BRACED);
    let page = html::render_screen(&report, Look::shipped()).unwrap();
    let mut seen = HashMap::new();
    for id in page.split("id=\"w").skip(1) {
        let (id, _) = id.split_once('"').unwrap();
        if id.parse::<usize>().is_err() {
            continue;
        }
        *seen.entry(id.to_owned()).or_insert(0) += 1;
    }
    let steps = found(&report)
        .derivations
        .iter()
        .filter(|line| line.expression().is_some())
        .count();
    assert_eq!(seen.len(), steps, "every step stands on the page");
    assert!(seen.values().all(|count| *count == 1), "and only once");
    for link in page.split("href=\"#w").skip(1) {
        let (id, _) = link.split_once('"').unwrap();
        assert!(seen.contains_key(id), "{id}");
    }
    for line in &found(&report).derivations {
        assert!(!line.source.words().is_empty(), "{}", line.title());
    }
}

#[test]
fn what_can_be_explained_is_explained_or_says_why_not() {
    for text in [DEMO, BRACED, NO_SITE] {
        let report = report(text);
        for (name, _, with) in explainable(&report) {
            let mut asked = asked(name, None);
            match with {
                "--wall" => asked.wall = Some(found(&report).lines[0].name.clone()),
                "--direction" => asked.direction = Some(retrofit_core::screen::Direction::NorthSouth),
                _ => {}
            }
            match explain(&report, &asked) {
                Ok(explanation) => {
                    assert!(!explanation.lines.is_empty(), "{name}");
                    for (place, line) in explanation.lines.iter().enumerate() {
                        assert!(line.inputs.iter().all(|input| *input < place), "{name}");
                    }
                }
                Err(ExplainError::NotComputed { .. }) => {}
                Err(error) => panic!("{name}: {error}"),
            }
        }
        assert!(matches!(
            explain(&report, &asked("shear", None)),
            Err(ExplainError::Wall { .. })
        ));
        assert!(matches!(
            explain(&report, &asked("coefficient", None)),
            Err(ExplainError::Direction { .. })
        ));
        assert!(matches!(
            explain(&report, &asked("weight", Some("north"))),
            Err(ExplainError::NotOf { .. })
        ));
        assert!(matches!(
            explain(&report, &asked("shear", Some("nowhere"))),
            Err(ExplainError::NoWall { .. })
        ));
        let misspelled = explain(&report, &asked("sill-anchor", None))
            .unwrap_err()
            .to_string();
        assert!(misspelled.contains("sill_anchors"), "{misspelled}");
    }
}

/// What an equation in rounded numbers can come to.
#[derive(Clone, Copy, Debug)]
struct Between {
    low: f64,
    high: f64,
}

impl Between {
    fn of(ends: [f64; 4]) -> Self {
        Self {
            low: ends.into_iter().fold(f64::INFINITY, f64::min),
            high: ends.into_iter().fold(f64::NEG_INFINITY, f64::max),
        }
    }

    fn each(self, other: Self, of: impl Fn(f64, f64) -> f64) -> Self {
        Self::of([
            of(self.low, other.low),
            of(self.low, other.high),
            of(self.high, other.low),
            of(self.high, other.high),
        ])
    }

    fn divided_by(self, other: Self) -> Self {
        if other.low <= 0.0 && other.high >= 0.0 {
            return Self {
                low: f64::NEG_INFINITY,
                high: f64::INFINITY,
            };
        }
        self.each(other, |a, b| a / b)
    }
}

/// Reads an equation in numbers as a reader with a calculator does, in pounds and inches.
struct Reader {
    rest: Vec<char>,
    at: usize,
}

impl Reader {
    fn read(html: &str) -> Between {
        let text = html
            .replace("<sup>", "^")
            .replace("</sup>", "")
            .replace("&#39;", "'");
        let mut reader = Self {
            rest: text.chars().collect(),
            at: 0,
        };
        let sum = reader.sum();
        reader.skip();
        assert_eq!(
            reader.at,
            reader.rest.len(),
            "what is left of {text}: {}",
            reader.left()
        );
        sum
    }

    fn left(&self) -> String {
        self.rest[self.at..].iter().collect()
    }

    fn skip(&mut self) {
        while self.rest.get(self.at) == Some(&' ') {
            self.at += 1;
        }
    }

    fn take(&mut self, sign: &str) -> bool {
        self.skip();
        let is_there = self.left().starts_with(sign);
        if is_there {
            self.at += sign.chars().count();
        }
        is_there
    }

    fn sum(&mut self) -> Between {
        let mut sum = self.product();
        loop {
            if self.take("+") {
                sum = sum.each(self.product(), |a, b| a + b);
            } else if self.take("−") {
                sum = sum.each(self.product(), |a, b| a - b);
            } else {
                return sum;
            }
        }
    }

    fn product(&mut self) -> Between {
        let mut product = self.power();
        loop {
            if self.take("×") {
                product = product.each(self.power(), |a, b| a * b);
            } else if self.take("/") {
                product = product.divided_by(self.power());
            } else {
                return product;
            }
        }
    }

    fn power(&mut self) -> Between {
        let base = self.value();
        if self.take("^") {
            let is_negative = self.take("−");
            let exponent = self.number().0 * if is_negative { -1.0 } else { 1.0 };
            return Between::of([
                base.low.powf(exponent),
                base.high.powf(exponent),
                base.low.powf(exponent),
                base.high.powf(exponent),
            ]);
        }
        base
    }

    fn list(&mut self, of: fn(f64, f64) -> f64) -> Between {
        let mut all = self.sum();
        while self.take(",") {
            let next = self.sum();
            all = Between {
                low: of(all.low, next.low),
                high: of(all.high, next.high),
            };
        }
        assert!(self.take(")"), "{}", self.left());
        all
    }

    fn value(&mut self) -> Between {
        if self.take("−") {
            let value = self.value();
            return Between {
                low: -value.high,
                high: -value.low,
            };
        }
        if self.take("min(") {
            return self.list(f64::min);
        }
        if self.take("max(") {
            return self.list(f64::max);
        }
        if self.take("√(") {
            let inside = self.list(f64::max);
            return Between {
                low: inside.low.max(0.0).sqrt(),
                high: inside.high.max(0.0).sqrt(),
            };
        }
        if self.take("(") {
            return self.list(f64::max);
        }
        let (number, unit) = self.number();
        // Five digits are shown, and the fifth is rounded.
        let half = if number == 0.0 {
            0.0
        } else {
            0.5 * 10_f64.powf(number.abs().log10().floor() - 4.0) * 1.000_001
        };
        Between {
            low: (number - half) * unit,
            high: (number + half) * unit,
        }
    }

    /// A number, and how many pounds and inches its unit is.
    fn number(&mut self) -> (f64, f64) {
        self.skip();
        let mut digits = String::new();
        while let Some(c) = self.rest.get(self.at) {
            let next_is_digit = self.rest.get(self.at + 1).is_some_and(char::is_ascii_digit);
            match c {
                '0'..='9' | '.' => digits.push(*c),
                ',' if next_is_digit => {}
                'e' if self.rest.get(self.at + 1) == Some(&'-') => {
                    let _ = write!(digits, "e-");
                    self.at += 1;
                }
                _ => break,
            }
            self.at += 1;
        }
        let number = digits
            .parse()
            .unwrap_or_else(|_| panic!("found {:?} for a number", self.left()));
        let mut signs: Vec<(&str, f64)> = Unit::ALL
            .iter()
            .flat_map(|unit| [(unit.sign(), unit.factor()), (unit.si_sign(), unit.si_factor())])
            .filter(|(sign, _)| !sign.is_empty())
            .collect();
        signs.sort_by_key(|(sign, _)| std::cmp::Reverse(sign.len()));
        let left = self.left();
        let unit = signs.into_iter().find(|(sign, _)| {
            left.strip_prefix(' ')
                .and_then(|left| left.strip_prefix(sign))
                .is_some_and(|after| !after.starts_with(|c: char| c.is_alphanumeric() || c == '-'))
        });
        match unit {
            Some((sign, factor)) => {
                self.at += 1 + sign.chars().count();
                (number, factor)
            }
            None => (number, 1.0),
        }
    }
}

#[test]
fn the_reader_of_equations_reads_as_written() {
    let of = |text: &str| {
        let between = Reader::read(text);
        assert!(between.high - between.low <= 1e-3 * between.high.abs(), "{text}");
        f64::midpoint(between.low, between.high)
    };
    for (text, value) in [
        ("2 × 3 + 4", 10.0),
        ("10 − 2 − 3", 5.0),
        ("12 / 2 / 3", 2.0),
        ("2 ft × 3", 72.0),
        ("1,200 lb / (10 in)", 120.0),
        ("(3 psi / (1 psi))<sup>2</sup>", 9.0),
        ("max(1, min(5, 3), 2)", 3.0),
        ("√(16)", 4.0),
        ("4<sup>−0.5</sup>", 0.5),
        ("1 kN", 224.808_943),
    ] {
        assert!((of(text) - value).abs() < 1e-3 * value, "{text}: {}", of(text));
    }
}
