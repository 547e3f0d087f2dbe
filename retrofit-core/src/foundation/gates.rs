//! What has to be so before a step of the work begins: gates that are data, printed before the step they guard.
//!
//! A gate applies always, or to houses built before a year, to digs of a depth, and so on. Where the record does
//! not say, it *may* apply and is shown all the same: an unknown year counts as an old house. The list is not
//! complete, and each gate names who is to be asked.
//!
//! ```
//! use retrofit_core::foundation::gates::{Gates, Step};
//! use retrofit_core::house::House;
//! use retrofit_core::observation::{Observed, Truth};
//!
//! let mut house = House::default();
//! let lead = |house: &House| {
//!     let gates = Gates::shipped().guarding(Step::Demolition, house);
//!     gates.iter().find(|found| found.gate.name == "lead-inside").map(|found| found.applies)
//! };
//! assert_eq!(lead(&house), Some(Truth::Maybe), "nobody knows how old the house is");
//! house.building.year_built = Observed::reported(1926);
//! assert_eq!(lead(&house), Some(Truth::True));
//! house.building.year_built = Observed::reported(1985);
//! assert_eq!(lead(&house), None);
//! ```

use std::sync::LazyLock;

use super::survey::{Documents, origin, read_sources};
use crate::choice::{Allowed, Choice, choices, parse_choice};
use crate::house::{House, OutsideAccess};
use crate::measure::{Area, Length};
use crate::observation::{Observed, Truth};
use crate::provisions::{Standing, TableError, TableFile};
use crate::table::{Row, each_row};

const GATES: &str = include_str!("../../../tables/safety-gates/gates.csv");
const SOURCES: &str = include_str!("../../../tables/safety-gates/sources.csv");

const COLUMNS: [&str; 10] = [
    "gate",
    "guards",
    "words",
    "figure",
    "applies_when",
    "threshold",
    "defer_to",
    "source",
    "section",
    "standing",
];

choices! {
    /// A step of the work that gates are printed before.
    pub enum Step: "step" {
        /// Going under the house to look.
        Survey = "survey", "survey under the house";
        /// Taking down or breaking out.
        Demolition = "demolition", "taking down and breaking out";
        /// Digging.
        Excavation = "excavation", "digging";
        /// Taking the ground from under a footing.
        Undermining = "undermining", "digging under a footing";
        /// Setting temporary supports.
        Shoring = "shoring", "temporary supports";
        /// Raising.
        Jacking = "jacking", "raising the house";
        /// Drilling for anchors and dowels.
        Drilling = "drilling", "drilling";
        /// Placing concrete.
        Pour = "pour", "placing concrete";
        /// Letting the house down on its new foundation.
        Lowering = "lowering", "lowering the house";
    }
}

/// When a gate applies.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum AppliesWhen {
    /// To every house.
    Always,
    /// To houses built before a year.
    BuiltBefore(u16),
    /// To digs of this depth or deeper.
    DugTo(Length),
    /// Where the crawl space is somewhere lower than this.
    ClearHeightUnder(Length),
    /// Where water stands.
    StandingWater,
    /// Where a neighbor's house, wall or lot line is near a length of the foundation.
    Neighbor,
}

choices! {
    /// The fact that a gate hangs on, as the table spells it.
    pub enum GateFact: "applies_when" {
        /// Always.
        Always = "always", "always";
        /// Built before a year.
        BuiltBefore = "built_before", "built before";
        /// Dug to a depth.
        DugTo = "dug_to", "dug to";
        /// A low crawl space.
        ClearHeightUnder = "clear_height_under", "clear height under";
        /// Standing water.
        StandingWater = "standing_water", "standing water";
        /// A neighbor.
        Neighbor = "neighbor", "a neighbor near";
    }
}

/// One gate.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Gate {
    /// Its name in the table.
    pub name: String,
    /// The steps it guards.
    pub guards: Allowed<Step>,
    /// What has to be so.
    pub words: String,
    /// The length or area in its words, as the table spells it, where there is one besides its threshold.
    pub figure: Option<String>,
    /// When it applies.
    pub applies_when: AppliesWhen,
    /// Who is to be asked.
    pub defer_to: String,
    /// The document, with its edition.
    pub document: String,
    /// Where in the document.
    pub section: String,
    /// How well it was seen.
    pub standing: Standing,
}

/// A gate before a step.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct GateFinding<'a> {
    /// The gate.
    pub gate: &'a Gate,
    /// Whether it applies: true, or *maybe* where the record does not say.
    pub applies: Truth,
}

/// All gates.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Gates(Vec<Gate>);

impl Gates {
    /// The shipped table.
    pub fn shipped() -> &'static Self {
        // A test holds that the shipped table reads.
        static SHIPPED: LazyLock<Gates> = LazyLock::new(|| Gates::parse(GATES, SOURCES).unwrap_or_default());
        &SHIPPED
    }

    /// Reads the two files of the folder; the error lists every fault with file, line and column.
    pub fn parse(gates: &str, sources: &str) -> Result<Self, Vec<TableError>> {
        let file = |name: &str, text: &str| TableFile {
            path: format!("tables/safety-gates/{name}"),
            name: name.to_owned(),
            text: text.to_owned(),
        };
        let mut faults = Vec::new();
        let documents = read_sources(&file("sources.csv", sources), &mut faults);
        let gates_file = file("gates.csv", gates);
        let mut found: Vec<Gate> = Vec::new();
        each_row(&gates_file, &COLUMNS, &mut faults, |row| {
            let gate = read_gate(row, &documents)?;
            if found.iter().any(|other| other.name == gate.name) {
                return Err(row.fault("gate", format!("found {:?} a second time", gate.name)));
            }
            found.push(gate);
            Ok(())
        });
        for step in Step::ALL {
            if !found.iter().any(|gate| gate.guards.contains(*step)) {
                let fault = format!("nothing guards {:?}; expected a gate that does", step.spelling());
                faults.push(TableError::column(&gates_file, "guards", fault));
            }
        }
        if faults.is_empty() {
            Ok(Self(found))
        } else {
            Err(faults)
        }
    }

    /// Every gate, in the order of the table.
    pub fn all(&self) -> &[Gate] {
        &self.0
    }

    /// The gates to print before a step, in order, where nothing has been planned of how deep it digs: the
    /// footings on record say the least depth it can come to.
    pub fn guarding(&self, step: Step, house: &House) -> Vec<GateFinding<'_>> {
        let footings = house.wall_lines.iter().flat_map(|wall| wall.foundation.listed());
        let deepest = footings
            .filter_map(|stretch| stretch.footing_depth.bounds().0)
            .max();
        let depth = deepest.map_or_else(Observed::default, |depth| {
            Observed::bounded(Some(*depth), None, crate::observation::Basis::Inferred)
        });
        self.guarding_dug_to(step, house, &depth)
    }

    /// The gates to print before a step that digs to a depth below the ground.
    pub fn guarding_dug_to(
        &self,
        step: Step,
        house: &House,
        depth: &Observed<Length>,
    ) -> Vec<GateFinding<'_>> {
        let guards = self.0.iter().filter(|gate| gate.guards.contains(step));
        guards
            .map(|gate| GateFinding {
                gate,
                applies: applies(gate.applies_when, house, depth),
            })
            .filter(|found| found.applies.possible())
            .collect()
    }
}

fn applies(when: AppliesWhen, house: &House, depth: &Observed<Length>) -> Truth {
    match when {
        AppliesWhen::Always => Truth::True,
        AppliesWhen::BuiltBefore(year) => house.building.year_built.less_than(year),
        AppliesWhen::DugTo(limit) => depth.at_least(limit),
        AppliesWhen::ClearHeightUnder(limit) => house.inspection.clear_height.less_than(limit),
        AppliesWhen::StandingWater => house.surroundings.standing_water.satisfies(|there| there),
        AppliesWhen::Neighbor => {
            // Where some length was not described, a neighbor may be near that one.
            let near = |outside: &Observed<OutsideAccess>| {
                outside.satisfies(|outside| outside == OutsideAccess::Neighbor)
            };
            house
                .wall_lines
                .iter()
                .flat_map(|wall| wall.foundation.listed())
                .map(|stretch| near(&stretch.outside))
                .fold(Truth::Maybe, Truth::or)
        }
    }
}

fn read_gate(row: &Row<'_>, documents: &Documents) -> Result<Gate, TableError> {
    let guards = row.required("guards")?;
    let figure = row.optional("figure", |text| {
        let is_read = text.parse::<Length>().is_ok() || text.parse::<Area>().is_ok();
        is_read
            .then(|| text.to_owned())
            .ok_or_else(|| format!("found {text:?}; expected a length or an area"))
    })?;
    let applies_when = read_when(row)?;
    let mut words = row.required("words")?.to_owned();
    for (mark, value) in [
        ("{figure}", row.get("figure")),
        ("{threshold}", row.get("threshold")),
    ] {
        if words.contains(mark) && value.is_empty() {
            return Err(row.fault(
                "words",
                format!("found {mark} where there is none to put in its place"),
            ));
        }
        words = words.replace(mark, value);
    }
    if let Some(figure) = figure.as_deref().filter(|figure| !words.contains(*figure)) {
        let fault = format!("found no {{figure}}; expected it to stand for {figure:?}");
        return Err(row.fault("words", fault));
    }
    let (document, section, standing) = origin(row, documents)?;
    Ok(Gate {
        name: row.required("gate")?.to_owned(),
        guards: guards.parse().map_err(|error| row.fault("guards", error))?,
        words,
        figure,
        applies_when,
        defer_to: row.required("defer_to")?.to_owned(),
        document,
        section,
        standing,
    })
}

fn read_when(row: &Row<'_>) -> Result<AppliesWhen, TableError> {
    let fact: GateFact =
        parse_choice(row.required("applies_when")?).map_err(|error| row.fault("applies_when", error))?;
    let length = || {
        let text = row.required("threshold")?;
        text.parse::<Length>()
            .map_err(|error| row.fault("threshold", error))
    };
    let without = |when: AppliesWhen| match row.get("threshold") {
        "" => Ok(when),
        text => Err(row.fault("threshold", format!("found {text:?}; expected nothing here"))),
    };
    match fact {
        GateFact::Always => without(AppliesWhen::Always),
        GateFact::StandingWater => without(AppliesWhen::StandingWater),
        GateFact::Neighbor => without(AppliesWhen::Neighbor),
        GateFact::DugTo => length().map(AppliesWhen::DugTo),
        GateFact::ClearHeightUnder => length().map(AppliesWhen::ClearHeightUnder),
        GateFact::BuiltBefore => {
            let text = row.required("threshold")?;
            let year = text.parse().map_err(|_| {
                row.fault(
                    "threshold",
                    format!("found {text:?}; expected a year, such as 1978"),
                )
            })?;
            Ok(AppliesWhen::BuiltBefore(year))
        }
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;
    use rstest::rstest;
    use serde_json::{Value, json};

    use super::*;

    fn house(part: Value) -> House {
        let mut house = json!({"format": "house-1", "name": "trial", "wall_lines": [{"name": "north"}]});
        house
            .as_object_mut()
            .unwrap()
            .extend(part.as_object().unwrap().clone());
        serde_json::from_value(house).unwrap()
    }

    fn named<'a>(found: &[GateFinding<'a>], name: &str) -> Option<GateFinding<'a>> {
        found.iter().find(|found| found.gate.name == name).copied()
    }

    #[test]
    fn the_shipped_table_reads_and_guards_every_step() {
        let gates = Gates::parse(GATES, SOURCES).unwrap();
        assert_eq!(&gates, Gates::shipped());
        for step in Step::ALL {
            assert!(!gates.guarding(*step, &house(json!({}))).is_empty(), "{step}");
        }
        for fact in GateFact::ALL {
            let spelling = format!(",{},", fact.spelling());
            assert!(GATES.contains(&spelling), "{fact} is used by no gate");
        }
        for gate in gates.all() {
            let words = gate.words.to_lowercase();
            assert!(!words.contains("safe") && !words.contains("adequate"), "{words}");
            assert!(!words.contains('{'), "{words}");
        }
    }

    /// Figures as accounts of the rules print them: 29 CFR 1926 Subpart P by a contractors' association (5 ft, 4
    /// ft, 25 ft, 2 ft); 40 CFR 745.83 in an answer of the agency (6 and 20 sq ft). Secondary.
    #[rstest]
    #[case(Step::Excavation, "cave-in", "5 ft")]
    #[case(Step::Excavation, "egress", "4 ft")]
    #[case(Step::Excavation, "egress", "25 ft")]
    #[case(Step::Undermining, "spoil", "2 ft")]
    #[case(Step::Demolition, "lead-inside", "6 sq ft")]
    #[case(Step::Demolition, "lead-outside", "20 sq ft")]
    #[case(Step::Drilling, "lead-inside", "1978")]
    fn figures_are_those_of_the_accounts(#[case] step: Step, #[case] name: &str, #[case] figure: &str) {
        let house = house(json!({}));
        let gates = Gates::shipped().guarding(step, &house);
        let gate = named(&gates, name).unwrap().gate;
        assert!(gate.words.contains(figure), "{}", gate.words);
        assert_eq!(gate.standing, Standing::Secondary);
    }

    #[rstest]
    #[case(json!({}), Some(Truth::Maybe))]
    #[case(json!({"building": {"year_built": 1977}}), Some(Truth::True))]
    #[case(json!({"building": {"year_built": 1978}}), None)]
    #[case(json!({"building": {"year_built": {"reported": {"at_most": 1950}}}}), Some(Truth::True))]
    #[case(json!({"building": {"year_built": {"reported": {"at_least": 1950}}}}), Some(Truth::Maybe))]
    fn a_house_of_unknown_age_counts_as_old(#[case] part: Value, #[case] applies: Option<Truth>) {
        let house = house(part);
        let found = Gates::shipped().guarding(Step::Demolition, &house);
        assert_eq!(named(&found, "lead-inside").map(|found| found.applies), applies);
    }

    #[rstest]
    #[case::unknown(None, None, Some(Truth::Maybe))]
    #[case::shallow_footings(None, Some("18 in"), Some(Truth::Maybe))]
    #[case::deep_footings(None, Some("5 ft"), Some(Truth::True))]
    #[case::planned_at_the_limit(Some("5 ft"), Some("18 in"), Some(Truth::True))]
    #[case::planned_under_it(Some("4'-11 63/64\""), Some("18 in"), None)]
    fn a_dig_is_guarded_by_its_depth(
        #[case] planned: Option<&str>,
        #[case] footing: Option<&str>,
        #[case] applies: Option<Truth>,
    ) {
        let stretch = footing.map_or(json!({}), |depth| json!({"footing_depth": depth}));
        let house = house(json!({"wall_lines": [{"name": "north", "foundation": [stretch]}]}));
        let gates = Gates::shipped();
        let found = match planned {
            Some(depth) => {
                let depth = Observed::measured(depth.parse().unwrap());
                gates.guarding_dug_to(Step::Excavation, &house, &depth)
            }
            None => gates.guarding(Step::Excavation, &house),
        };
        assert_eq!(named(&found, "cave-in").map(|found| found.applies), applies);
    }

    #[test]
    fn nobody_goes_under_a_load_on_jacks_alone_before_raising_and_lowering() {
        let house = house(json!({}));
        for step in [Step::Jacking, Step::Lowering] {
            let found = Gates::shipped().guarding(step, &house);
            for name in [
                "jack-rating",
                "jack-stop",
                "jack-base",
                "crib-at-once",
                "nobody-under",
                "lines-after",
            ] {
                assert!(named(&found, name).unwrap().applies.certain(), "{name}");
            }
        }
    }

    #[rstest]
    #[case::step("survey | shoring", "survey | shorring", "guards")]
    #[case::fact(",always,", ",allways,", "applies_when")]
    #[case::threshold("dug_to,5 ft", "dug_to,5", "threshold")]
    #[case::no_threshold("dug_to,5 ft", "dug_to,", "threshold")]
    #[case::needless_threshold("neighbor,,", "neighbor,5 ft,", "threshold")]
    #[case::year("built_before,1981", "built_before,old", "threshold")]
    #[case::figure("6 sq ft", "6 square", "figure")]
    #[case::figure_unsaid("{figure} or more back", "a little back", "words")]
    #[case::nothing_to_say("cribbed or blocked at once", "cribbed by {figure}", "words")]
    #[case::twice("jack-stop", "jack-rating", "gate")]
    #[case::standing("none,,common practice", "none,,verified", "standing")]
    fn a_fault_is_named_with_its_place(#[case] from: &str, #[case] to: &str, #[case] column: &str) {
        let gates = GATES.replacen(from, to, 1);
        assert_ne!(gates, GATES);
        let said = Gates::parse(&gates, SOURCES).unwrap_err()[0].to_string();
        assert!(
            said.contains("gates.csv, line ") && said.contains(&format!("column {column:?}")),
            "{said}"
        );
    }

    proptest! {
        /// Leaving something out of the record never takes a gate away.
        #[test]
        fn forgetting_hides_no_gate(
            year in 1880_u16..2020,
            height in 6_i64..60,
            water in any::<bool>(),
            neighbor in any::<bool>(),
            depth in 6_i64..90,
            forgotten in 0..5_usize,
        ) {
            let mut full = house(json!({"wall_lines": [{"name": "north", "foundation": [{}]}]}));
            full.building.year_built = Observed::seen(year);
            full.inspection.clear_height = Observed::seen(Length::inches(height));
            full.surroundings.standing_water = Observed::seen(water);
            let mut stretch = full.wall_lines[0].foundation.listed()[0].clone();
            let outside = if neighbor { OutsideAccess::Neighbor } else { OutsideAccess::Open };
            stretch.outside = Observed::seen(outside);
            stretch.footing_depth = Observed::seen(Length::inches(depth));
            full.wall_lines[0].foundation = Observed::seen(vec![stretch.clone()]);
            let mut less = full.clone();
            match forgotten {
                0 => less.building.year_built = Observed::default(),
                1 => less.inspection.clear_height = Observed::default(),
                2 => less.surroundings.standing_water = Observed::default(),
                3 => stretch.outside = Observed::default(),
                _ => stretch.footing_depth = Observed::default(),
            }
            less.wall_lines[0].foundation = Observed::seen(vec![stretch]);
            for step in Step::ALL {
                let before = Gates::shipped().guarding(*step, &less);
                for found in Gates::shipped().guarding(*step, &full) {
                    prop_assert!(named(&before, &found.gate.name).is_some(), "{}", found.gate.name);
                }
            }
        }
    }
}
