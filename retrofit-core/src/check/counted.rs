//! What the design of a remedy asks of the checks: whether an anchor or a panel counts, and what it lacks if not.
//!
//! A remedy credits what the checks credit, by the same code, so that a layout drawn with it is met when it is
//! checked again.

use super::LookAt;
use super::anchor_washer;
use super::anchorage;
use super::bracing;
use super::context::{Line, WorkedOut};
use super::stud_bay_vents;
use crate::house::{Anchor, House, Panel, WallLine, Washer};
use crate::measure::Length;
use crate::observation::Truth;
use crate::provisions::{Requirement, Rule};

/// A wall line as the checks see it.
pub(crate) struct Counted<'a> {
    house: &'a House,
    wall: &'a WallLine,
    requirement: &'a Requirement,
    worked_out: WorkedOut,
}

/// The panels of a wall line that surely count, taken together.
pub(crate) struct Braced {
    /// The length that the share is taken of.
    pub(crate) base: Option<Length>,
    /// The length of the panels that count.
    pub(crate) length: Length,
}

impl<'a> Counted<'a> {
    pub(crate) fn new(house: &'a House, wall: &'a WallLine, requirement: &'a Requirement) -> Self {
        Self {
            house,
            wall,
            requirement,
            worked_out: WorkedOut::default(),
        }
    }

    fn line(&self) -> Line<'_> {
        Line::new(self.house, self.wall, self.requirement, &self.worked_out)
    }

    /// Whether an anchor counts, and the first property it lacks or that was not seen.
    pub(crate) fn anchor(&self, anchor: &Anchor) -> (Truth, Option<LookAt>) {
        first_lack(
            anchorage::PROPERTIES
                .iter()
                .map(|(property, look_at)| (property(anchor, self.requirement), *look_at)),
        )
    }

    /// Whether an anchor answers to a row for anchors of a diameter or stouter.
    pub(crate) fn is_stout(anchor: &Anchor, diameter: Length) -> Truth {
        anchorage::is_stout(anchor, diameter)
    }

    /// The washer asked for under the nut of an anchor of a diameter.
    pub(crate) fn washer(&self, diameter: Length) -> Rule<Washer> {
        anchor_washer::row_for(diameter, self.requirement)
    }

    /// The number of anchors asked for in a sill piece of a length.
    pub(crate) fn anchors_in_piece(&self, length: Length) -> Rule<u32> {
        anchorage::anchors_required_of(self.requirement, length)
    }

    /// Whether a panel counts, and the first property it lacks or that was not seen.
    pub(crate) fn panel(&self, panel: &Panel) -> (Truth, Option<LookAt>) {
        let line = self.line();
        first_lack(
            bracing::PROPERTIES
                .iter()
                .map(|(property, look_at)| (property(panel, &line), *look_at)),
        )
    }

    /// Whether a panel closes no stud bays, or has the ventilation holes asked for in them.
    pub(crate) fn is_ventilated(&self, panel: &Panel) -> Truth {
        stud_bay_vents::is_ventilated(panel, &self.line())
    }

    pub(crate) fn braced(&self) -> Braced {
        let line = self.line();
        let bracing = line.bracing();
        Braced {
            base: bracing.base,
            length: bracing.length.0,
        }
    }
}

fn first_lack(properties: impl Iterator<Item = (Truth, LookAt)> + Clone) -> (Truth, Option<LookAt>) {
    let first = |answer: Truth| {
        let mut of = properties.clone();
        of.find(|(truth, _)| *truth == answer).map(|(_, look_at)| look_at)
    };
    match (first(Truth::False), first(Truth::Maybe)) {
        (Some(lacks), _) => (Truth::False, Some(lacks)),
        (None, Some(open)) => (Truth::Maybe, Some(open)),
        (None, None) => (Truth::True, None),
    }
}
