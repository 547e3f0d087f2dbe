//! Remedies: where each new anchor, panel and clip goes, and the proof that they will do.
//!
//! [`design`] takes a house and a set of provisions and lays out the added work by station along every wall line:
//! the cheapest that satisfies the provisions, found by exact programs. It credits what the checks credit. What the
//! record leaves open is taken as given and listed as an [`Assumption`]; what no layout can do without, or cannot
//! meet, is a [`Decline`] with its reason. Then the work is applied to the record and the checks run again: the
//! [`Proof`] is what they found.
//!
//! ```
//! use retrofit_core::house::{AsBuilt, House};
//! use retrofit_core::prices::UnitPrices;
//! use retrofit_core::provisions::Library;
//! use retrofit_core::remedy::design;
//!
//! let house: House = serde_json::from_str(r#"{
//!     "format": "house-1", "name": "Quince Lantern Way",
//!     "building": {"stories": 1, "exterior": "wood", "roof": "light"},
//!     "wall_lines": [{
//!         "name": "north", "length": {"measured": "52'-0\""},
//!         "foundation": [{"kind": "concrete", "condition": "sound"}],
//!         "anchors": [], "panels": [],
//!         "cripple_wall": [{"height": {"measured": "2'-0\""}, "stud_spacing": "16 in"}]
//!     }]
//! }"#)?;
//! let house = AsBuilt::new(house).expect("the record makes sense");
//! let provisions = Library::shipped().set(Library::DEFAULT_SET).expect("the shipped tables are in order");
//! let remedy = design(&house, &provisions, UnitPrices::placeholder());
//!
//! let north = &remedy.lines[0];
//! // 52 ft at no more than 6 ft, with an anchor within 12 in of each end.
//! assert_eq!(north.anchors.work().map(|work| work.added.len()), Some(10));
//! assert!(remedy.is_proved());
//! # Ok::<(), serde_json::Error>(())
//! ```

mod anchor_stations;
mod anchors;
mod apply;
mod floor;
mod framing;
mod given;
mod layout;
mod line;
mod panel_bays;
mod panels;

pub use layout::{
    AnchorLayout, Assumption, Credit, Decline, ExistingAnchor, ExistingPanel, FloorLayout, Framing,
    FramingWork, Holes, LineRemedy, MovedVent, NewAnchor, NewPanel, PanelLayout, PanelMake, Part, RimWork,
    Shortfall, SillWork,
};

use crate::check::{Finding, Group, LookAt, Outcome, Outcomes, Ruling, assess};
use crate::house::{AsBuilt, WallLine, WeightCase};
use crate::measure::Length;
use crate::observation::{Observed, Truth};
use crate::prices::{Cents, UnitPrices};
use crate::provisions::{Provisions, Requirement};
pub use line::studs;

use line::Line;

/// The added work on a house under one set of provisions.
#[derive(Clone, Debug)]
pub struct Remedy {
    /// The record with its gaps filled: what the layouts were drawn for.
    pub taken_as: AsBuilt,
    /// What was filled, to be verified on site before anything is ordered.
    pub assumptions: Vec<Assumption>,
    /// The work, wall line by wall line, in the order of the house.
    pub lines: Vec<LineRemedy>,
    /// The house with the work done.
    pub after: AsBuilt,
    /// What the checks that the work touches came to when they were run again.
    pub proof: Vec<Proof>,
}

/// What one check came to on a wall line once the work is done.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Proof {
    /// The wall line.
    pub wall_line: usize,
    /// Name of the check.
    pub check: &'static str,
    /// What it came to.
    pub ruling: Ruling,
}

impl Proof {
    /// Whether the work does what it is for.
    pub const fn holds(&self) -> bool {
        matches!(self.ruling, Ruling::Met | Ruling::NotApplicable)
    }
}

impl Remedy {
    /// Whether every check that the work touches is met once it is done.
    pub fn is_proved(&self) -> bool {
        self.proof.iter().all(Proof::holds)
    }

    /// Whether every wall line has a layout for everything that it lacks.
    pub fn is_complete(&self) -> bool {
        self.lines.iter().all(|line| line.declined().is_none())
    }

    /// What all of the work likely costs.
    pub fn cost(&self) -> Cents {
        self.lines
            .iter()
            .fold(Cents::ZERO, |sum, line| sum.plus(line.cost))
    }
}

impl LineRemedy {
    /// The first reason for which some part of this wall line has no layout.
    pub fn declined(&self) -> Option<&Decline> {
        let of_parts = [
            self.anchors.declined(),
            self.panels.declined(),
            self.floor.declined(),
        ];
        of_parts.into_iter().flatten().next()
    }

    /// Whether the checks of a group bear on work done here.
    fn touches(&self, group: Group, check: &str) -> bool {
        match group {
            Group::Sill => !self.sill.is_empty(),
            Group::Anchorage => self.anchors.work().is_some(),
            Group::Bracing => self.panels.work().is_some(),
            Group::Ventilation => check == "stud-bay-vents" && self.panels.work().is_some(),
            Group::Framing => self.framing.iter().any(|work| {
                check
                    == match work.what {
                        Framing::NailTopPlates | Framing::AddTopPlate => "top-plate",
                        Framing::TieSplices => "plate-splices",
                        Framing::SolidBlocking => "short-studs",
                    }
            }),
            Group::Floor => self.floor.work().is_some_and(|work| match check {
                "rim-or-blocking" => work.rim.is_some(),
                _ => !work.clips.is_empty(),
            }),
            Group::Applicability | Group::Foundation | Group::Posts | Group::Retrofit => false,
        }
    }
}

/// Lays out the added work of a house by a set of provisions, at the lowest likely cost.
pub fn design(house: &AsBuilt, provisions: &Provisions, prices: &UnitPrices) -> Remedy {
    let (filled, mut assumptions) = given::fill(house);
    // What is filled in keeps to the bounds on record; were a record to contradict itself even so, it is taken as it is.
    let taken_as = AsBuilt::new(filled).unwrap_or_else(|_| house.clone());
    let before = assess(&taken_as, provisions);
    let of_house = outside(before.findings_at(None));
    // Opposite walls of a plain house are often the same on record but for their names, and are laid out once.
    let unnamed = taken_as.wall_lines.iter().map(|wall| WallLine {
        name: String::new(),
        ..wall.clone()
    });
    let unnamed: Vec<WallLine> = unnamed.collect();
    let mut lines: Vec<LineRemedy> = Vec::with_capacity(unnamed.len());
    for (index, (wall, on_record)) in taken_as.wall_lines.iter().zip(&unnamed).enumerate() {
        let mut before_it = unnamed.iter().zip(&lines);
        if let Some((_, line)) = before_it.find(|(other, _)| *other == on_record) {
            let line = LineRemedy {
                wall_line: index,
                ..line.clone()
            };
            lines.push(line);
            continue;
        }
        let findings: Vec<&Finding> = before.findings_at(Some(index)).collect();
        let outside = of_house.or_else(|| outside(findings.iter().copied()));
        lines.push(match ready(&taken_as, wall, provisions, outside) {
            Ok((length, requirement)) => design_line(
                index,
                &Line {
                    house: &taken_as,
                    wall,
                    length,
                    requirement,
                    prices,
                    findings,
                },
            ),
            Err(decline) => without_layout(index, decline),
        });
    }
    assumptions.extend(given::of_the_work(&taken_as, &lines));
    let after = AsBuilt::new(apply::apply(&taken_as, &lines)).unwrap_or_else(|_| taken_as.clone());
    let proof = prove(&after, provisions, &lines);
    Remedy {
        taken_as,
        assumptions,
        lines,
        after,
        proof,
    }
}

/// The check by which something lies outside the provisions, whatever the unknowns are.
fn outside<'f>(findings: impl Iterator<Item = &'f Finding>) -> Option<Decline> {
    let mut certain = findings.filter(|finding| finding.outcomes == Outcomes::only(Outcome::Outside));
    certain.next().map(|finding| Decline::Outside {
        check: finding.check().name,
        figure: finding.figures.iter().next(),
    })
}

/// What a layout cannot do without: a length, and one set of requirements.
fn ready<'p>(
    house: &AsBuilt,
    wall: &WallLine,
    provisions: &'p Provisions,
    outside: Option<Decline>,
) -> Result<(Length, &'p Requirement), Decline> {
    if let Some(decline) = outside {
        return Err(decline);
    }
    let length = wall
        .length
        .value()
        .copied()
        .ok_or(Decline::NotObserved(LookAt::WallLength))?;
    let stories = house
        .building
        .stories
        .value()
        .ok_or(Decline::NotObserved(LookAt::Stories))?;
    let weight = match house.building.is_heavy() {
        Truth::False => WeightCase::Other,
        Truth::True | Truth::Maybe => WeightCase::Heavy,
    };
    let stretches = wall.cripple_wall.listed().iter();
    let tallest = stretches
        .filter_map(|stretch| stretch.tallest_stud.bounds().1.copied())
        .max();
    let (_, band) = provisions.bands_of(&tallest.map_or_else(Observed::default, Observed::inferred));
    let stories = stories
        .counted()
        .clamp(*provisions.stories().start(), *provisions.stories().end());
    let requirement = provisions.requirement(stories, weight, band);
    Ok((length, requirement.ok_or(Decline::NotObserved(LookAt::Stories))?))
}

fn without_layout(wall_line: usize, decline: Decline) -> LineRemedy {
    LineRemedy {
        wall_line,
        sill: Vec::new(),
        anchors: Part::Declined(decline),
        panels: Part::Declined(decline),
        framing: Vec::new(),
        floor: Part::Declined(decline),
        cost: Cents::ZERO,
    }
}

fn design_line(wall_line: usize, line: &Line<'_>) -> LineRemedy {
    let (sill, sill_cost) = framing::sill(line);
    let (anchors, anchor_cost) = anchors::design(line);
    let (panels, panel_cost) = panels::design(line);
    let (framing, framing_cost) = framing::framing(line);
    let (floor, floor_cost) = floor::design(line, &panels);
    let costs = [sill_cost, anchor_cost, panel_cost, framing_cost, floor_cost];
    LineRemedy {
        wall_line,
        sill,
        anchors,
        panels,
        framing,
        floor,
        cost: costs.into_iter().fold(Cents::ZERO, Cents::plus),
    }
}

/// Runs the checks again and keeps what they found where work was done.
fn prove(after: &AsBuilt, provisions: &Provisions, lines: &[LineRemedy]) -> Vec<Proof> {
    let assessment = assess(after, provisions);
    let mut proof: Vec<Proof> = Vec::new();
    for line in lines {
        for finding in assessment.findings_at(Some(line.wall_line)) {
            let check = finding.check();
            let ruling = finding.outcomes.ruling();
            // Beside a piece or stretch that is mended, another may stay open: a sill that is split, a plate not seen.
            let is_of_another =
                matches!(check.group, Group::Sill | Group::Framing) && ruling == Ruling::NotDetermined;
            if line.touches(check.group, check.name) && !is_of_another {
                proof.push(Proof {
                    wall_line: line.wall_line,
                    check: check.name,
                    ruling,
                });
            }
        }
    }
    proof
}
