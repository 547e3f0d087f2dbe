//! A house with everything in place, of which a test changes one thing.
//!
//! Its one wall line is 30 ft long and braced from end to end, with stout anchors 4 ft apart. So whatever a
//! published figure says, the house meets it with room to spare until a test puts one dimension at that
//! figure, or just beyond it. The house goes in as a house file would: as JSON.

// Each test file takes the changes it needs.
#![allow(dead_code)]

use retrofit_core::check::{Finding, Outcome, Outcomes, Ruling, assess, check_named};
use retrofit_core::house::{AsBuilt, House};
use retrofit_core::measure::Length;
use retrofit_core::provisions::{Figure, FigureName, Library, Provisions, Standing};
use serde_json::{Value, json};

/// Reads a length that a test writes as a book does.
pub(crate) fn length(text: &str) -> Length {
    text.parse()
        .unwrap_or_else(|error| panic!("{text:?} in a test: {error}"))
}

/// A shipped set of provisions.
pub(crate) fn provisions(set: &str) -> Provisions {
    Library::shipped()
        .set(set)
        .unwrap_or_else(|faults| panic!("{set}: {faults:?}"))
}

/// A house file, with everything in place until a test changes something.
#[derive(Clone, Debug)]
pub(crate) struct SoundHouse(Value);

impl SoundHouse {
    pub(crate) fn of_stories(stories: u8) -> Self {
        Self(json!({
            "format": "house-1",
            "name": "everything in place",
            "inspection": {"access": "entered"},
            "site": {"slope": "flat"},
            "building": {
                "stories": stories,
                "units": 1,
                "year_built": 1938,
                "exterior": "wood",
                "interior_plaster": false,
                "roof": "light",
                "veneer_height": "0 in",
                "floors_at_one_level": true,
                "rooms_over_garage": false,
                "slab_or_pole_portion": false,
                "untied_chimney": false
            },
            "wall_lines": [{
                "name": "north",
                "joists": "perpendicular",
                "rim": "continuous",
                "foundation": [{
                    "kind": "concrete",
                    "condition": "sound",
                    "stem_height": "18 in",
                    "stem_thickness": "8 in",
                    "footing_width": "24 in",
                    "footing_thickness": "12 in",
                    "footing_depth": "24 in",
                    "reinforcing": "top_and_bottom"
                }],
                "sill": [{
                    "thickness": "1-1/2 in",
                    "width": "5-1/2 in",
                    "against_studs": "flush",
                    "treatment": "treated",
                    "soundness": "sound",
                    "embedded": false,
                    "installed": "original"
                }],
                "cripple_wall": [{
                    "height": "18-1/2 in",
                    "shortest_stud": "14 in",
                    "tallest_stud": "14 in",
                    "stud_depth": "3-1/2 in",
                    "stud_thickness": "1-1/2 in",
                    "stud_spacing": "16 in",
                    "top_plate": "double",
                    "plate_splices_tied": true,
                    "balloon_framed": false,
                    "solid_blocked": false
                }],
                "connections": [{"kind": "toenails", "spacing": "6 in", "nails_per_block": 3}],
                "openings": []
            }],
            "continuous_perimeter": true,
            "crawl_space_area": "600 sq ft",
            "vent_area": "6 sq ft",
            "posts": [{"top": "connected", "base": "connected", "sound_and_plumb": true}],
            "earlier_retrofit": false
        }))
        .wall_length("30 ft")
        .anchors_four_feet_apart()
        .panels_at(&[("0 ft", "30 ft")])
    }

    /// The same with cement plaster walls and a tile roof.
    pub(crate) fn heavy(self) -> Self {
        self.with("building/exterior", "stucco")
            .with("building/roof", "tile")
    }

    /// The same with one thing changed: a path into the house file, such as `building/units`.
    pub(crate) fn with(mut self, path: &str, value: impl Into<Value>) -> Self {
        let (parent, key) = path.rsplit_once('/').unwrap_or(("", path));
        let pointer = if parent.is_empty() {
            String::new()
        } else {
            format!("/{parent}")
        };
        match self.0.pointer_mut(&pointer) {
            Some(Value::Object(fields)) => fields.insert(key.to_owned(), value.into()),
            _ => panic!("{parent:?} is no object of the house file"),
        };
        self
    }

    /// The same with one thing changed along the wall line: `cripple_wall/0/height`.
    pub(crate) fn wall(self, path: &str, value: impl Into<Value>) -> Self {
        self.with(&format!("wall_lines/0/{path}"), value)
    }

    /// A cripple wall this high, plates included, on studs this tall.
    pub(crate) fn cripple_wall(self, height: &str, studs: &str) -> Self {
        self.wall("cripple_wall/0/height", height)
            .wall("cripple_wall/0/shortest_stud", studs)
            .wall("cripple_wall/0/tallest_stud", studs)
    }

    pub(crate) fn wall_length(self, length: &str) -> Self {
        self.wall("length", json!({"measured": length}))
    }

    /// Stout anchors at these stations and nowhere else.
    pub(crate) fn anchors_at(self, stations: &[&str]) -> Self {
        let anchor = |at: &&str| {
            json!({
                "at": at,
                "kind": "adhesive",
                "diameter": "5/8 in",
                "embedment": "7 in",
                "edge_distance": "3 in",
                "washer": "3 in x 3 in x 0.229 in",
                "tightness": "snug",
                "corrosion": "light",
                "installed": "added"
            })
        };
        self.wall("anchors", stations.iter().map(anchor).collect::<Value>())
    }

    /// Four anchors at this spacing, the first and last 12 in from the ends of a wall as long as that makes
    /// it.
    pub(crate) fn anchored_every(self, spacing: &str) -> Self {
        let spacing = length(spacing);
        let from_end = Length::inches(12);
        let station = |number: i64| from_end.saturating_add(spacing.times(number).unwrap_or(Length::LIMIT));
        let stations: Vec<String> = (0..4).map(|number| station(number).to_string()).collect();
        let stations: Vec<&str> = stations.iter().map(String::as_str).collect();
        let end = station(3).saturating_add(from_end).to_string();
        self.wall_length(&end)
            .anchors_at(&stations)
            .panels_at(&[("0 ft", &end)])
    }

    /// Anchors 4 ft apart and nearer, the first and last 12 in from the ends of the wall.
    pub(crate) fn anchors_four_feet_apart(self) -> Self {
        let end = length(
            self.0["wall_lines"][0]["length"]["measured"]
                .as_str()
                .unwrap_or_default(),
        );
        let last = end.saturating_sub(Length::feet(1));
        let stations = (0..).map(|number| Length::feet(1 + 4 * number));
        let stations = stations.take_while(|at| *at < last).chain([last]);
        let stations: Vec<String> = stations.map(|at| at.to_string()).collect();
        self.anchors_at(&stations.iter().map(String::as_str).collect::<Vec<_>>())
    }

    /// Anchors this far from each end of the 30 ft sill, and plenty between.
    pub(crate) fn end_anchors_at(self, distance: &str) -> Self {
        let last = Length::feet(30).saturating_sub(length(distance)).to_string();
        self.anchors_at(&[
            distance, "5 ft", "9 ft", "13 ft", "17 ft", "21 ft", "25 ft", &last,
        ])
    }

    /// The same with one thing changed on every anchor.
    pub(crate) fn every_anchor(mut self, field: &str, value: impl Into<Value>) -> Self {
        self.every("anchors", field, &value.into());
        self
    }

    /// Braced panels at these stations and nowhere else.
    pub(crate) fn panels_at(self, stations: &[(&str, &str)]) -> Self {
        let panel = |(from, to): &(&str, &str)| {
            json!({
                "from": from,
                "to": to,
                "sheathing": "plywood",
                "thickness": "3/4 in",
                "nail": "10d common",
                "edge_nailing": "3 in",
                "field_nailing": "6 in",
                "nails_flush": true,
                "joints_blocked": true,
                "foot": "sill",
                "cut_through": false,
                "vent_holes": "2-1/2 in",
                "closes_stud_bays": true
            })
        };
        self.wall("panels", stations.iter().map(panel).collect::<Value>())
    }

    /// A panel at each end of the wall, together as long as this, and none between.
    pub(crate) fn braced_for(self, wall: &str, bracing: &str) -> Self {
        let (wall, bracing) = (length(wall), length(bracing));
        let first = Length::from_nanometers(bracing.nanometers() / 2);
        let second = wall.saturating_sub(bracing.saturating_sub(first));
        let (wall, first, second) = (wall.to_string(), first.to_string(), second.to_string());
        self.wall_length(&wall)
            .panels_at(&[("0 ft", &first), (&second, &wall)])
    }

    /// The same with one thing changed on every panel.
    pub(crate) fn every_panel(mut self, field: &str, value: impl Into<Value>) -> Self {
        self.every("panels", field, &value.into());
        self
    }

    fn every(&mut self, list: &str, field: &str, value: &Value) {
        let items = self.0.pointer_mut(&format!("/wall_lines/0/{list}"));
        for item in items.and_then(Value::as_array_mut).into_iter().flatten() {
            item[field] = value.clone();
        }
    }

    /// What checking it under a shipped set comes to.
    pub(crate) fn judged_by(&self, set: &str) -> Judged {
        self.judged_under(provisions(set))
    }

    pub(crate) fn judged_under(&self, provisions: Provisions) -> Judged {
        let house: House = serde_json::from_value(self.0.clone())
            .unwrap_or_else(|error| panic!("the house file of a test: {error}"));
        let house =
            AsBuilt::new(house).unwrap_or_else(|problems| panic!("the house of a test: {problems:?}"));
        let assessment = assess(&house, &provisions);
        let (house, words) = (assessment.verdict.ruling(), assessment.verdict.words());
        let findings = assessment.findings.clone();
        Judged {
            house,
            words,
            findings,
            provisions,
        }
    }
}

/// What checking a house came to.
#[derive(Debug)]
pub(crate) struct Judged {
    /// The verdict on the house.
    pub(crate) house: Ruling,
    /// The verdict in the words of a report.
    pub(crate) words: String,
    findings: Vec<Finding>,
    provisions: Provisions,
}

impl Judged {
    /// What a check said.
    pub(crate) fn findings(&self, check: &str) -> Vec<&Finding> {
        assert!(check_named(check).is_ok(), "no check is called {check:?}");
        let findings: Vec<&Finding> = self
            .findings
            .iter()
            .filter(|finding| finding.check().name == check)
            .collect();
        assert!(!findings.is_empty(), "{check} said nothing");
        findings
    }

    /// What a check came to: the strictest of what it said.
    pub(crate) fn ruling(&self, check: &str) -> Ruling {
        self.findings(check)
            .iter()
            .fold(Outcomes::only(Outcome::NotApplicable), |outcomes, finding| {
                outcomes.strictest(finding.outcomes)
            })
            .ruling()
    }

    /// What the checks came to in which a figure had a part, whichever they are.
    pub(crate) fn ruling_on(&self, name: FigureName) -> Ruling {
        self.outcomes_on(name).ruling()
    }

    /// The best that the checks can come to in which a figure had a part.
    pub(crate) fn best_on(&self, name: FigureName) -> Outcome {
        self.outcomes_on(name).best()
    }

    fn outcomes_on(&self, name: FigureName) -> Outcomes {
        let mut rested = false;
        let mut outcomes = Outcomes::only(Outcome::NotApplicable);
        for finding in &self.findings {
            let figures = finding.figures.iter().filter_map(|id| self.provisions.figure(id));
            if figures.into_iter().any(|figure| figure.name == name) {
                rested = true;
                outcomes = outcomes.strictest(finding.outcomes);
            }
        }
        assert!(rested, "no check rested on {name}");
        outcomes
    }

    /// Makes sure that what was found about a figure came to this, and cites this place, known this well.
    #[track_caller]
    pub(crate) fn assert_on(&self, name: FigureName, expected: Ruling, section: &str, standing: Standing) {
        assert_eq!(self.ruling_on(name), expected, "{name}");
        let cited = self
            .findings
            .iter()
            .flat_map(|finding| finding.figures.iter().collect::<Vec<_>>())
            .filter_map(|id| self.provisions.figure(id))
            .find(|figure| figure.name == name)
            .map(|figure| (figure.section.as_str(), figure.standing()));
        let (found, known) = cited.unwrap_or_default();
        assert!(
            found.contains(section),
            "{name}: cites {found:?}; expected {section:?}"
        );
        assert_eq!(known, Some(standing), "standing of {name}");
    }

    /// The best a check can come to. Where a document was seen only in part, a check over the figures that
    /// were seen stays open on those that were not: the best case is then what the seen figures allow.
    pub(crate) fn best(&self, check: &str) -> Outcome {
        self.findings(check)
            .iter()
            .fold(Outcomes::only(Outcome::NotApplicable), |outcomes, finding| {
                outcomes.strictest(finding.outcomes)
            })
            .best()
    }

    /// The figure of this name that a check rested on.
    pub(crate) fn figure(&self, check: &str, name: FigureName) -> &Figure {
        self.findings(check)
            .into_iter()
            .flat_map(|finding| finding.figures.iter().collect::<Vec<_>>())
            .filter_map(|id| self.provisions.figure(id))
            .find(|figure| figure.name == name)
            .unwrap_or_else(|| panic!("{check} did not rest on {name}"))
    }

    /// Makes sure that a check cites this place of the document, known this well.
    #[track_caller]
    pub(crate) fn assert_cites(&self, check: &str, name: FigureName, section: &str, standing: Standing) {
        let figure = self.figure(check, name);
        assert!(
            figure.section.contains(section),
            "{check} cites {:?}; expected {section:?}",
            figure.section
        );
        assert_eq!(figure.standing(), Some(standing), "standing of {name}");
    }

    /// Makes sure that the house as a whole came to this.
    #[track_caller]
    pub(crate) fn assert_house(&self, expected: Ruling) {
        let not_met: Vec<(&str, &str)> = self
            .findings
            .iter()
            .filter(|finding| !matches!(finding.outcomes.ruling(), Ruling::Met | Ruling::NotApplicable))
            .map(|finding| (finding.check().name, finding.fact))
            .collect();
        assert_eq!(self.house, expected, "the house: {not_met:#?}");
    }

    /// Makes sure that a check, and the house with it, came to this.
    #[track_caller]
    pub(crate) fn assert_decides(&self, check: &str, expected: Ruling) {
        assert_eq!(
            self.ruling(check),
            expected,
            "{check}: {:#?}",
            self.findings(check)
        );
        self.assert_house(expected);
    }
}
