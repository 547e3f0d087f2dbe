//! The sill: its thickness, its wood, and whether it is sound.

use typenum::{N2, P1};

use super::{Around, Number, Size, framing_gravity, least, size};
use crate::house::{SillPiece, SillSoundness, SillSpecies, WallLine};
use crate::observation::Basis;
use crate::screen::input::{Input, UnknownKind};
use crate::screen::nds::Wood;
use crate::screen::unit::PLAIN;

/// The sill of a line.
#[derive(Clone, Debug)]
pub(in crate::screen) struct Sill {
    pub(in crate::screen) thickness: Size,
    pub(in crate::screen) gravity: Number,
    /// Strength across the grain, where the tables have it for the wood.
    pub(in crate::screen) compression: Option<Input<P1, N2>>,
    pub(in crate::screen) works: Number,
}
pub(super) fn sill(around: &Around<'_>, wall: &WallLine, at: &dyn Fn(&str) -> String) -> Sill {
    let existing = around.existing;
    let pieces: &[SillPiece] = wall.sill.listed();
    let field = |name: &'static str| move |item: usize| at(&format!("sill[{item}].{name}"));
    let species = pieces
        .iter()
        .map(|piece| piece.species.value().copied())
        .reduce(|a, b| if a == b { a } else { None })
        .flatten();
    let woods: Vec<Wood> = match species {
        Some(species) => vec![species.into()],
        None => [
            SillSpecies::Redwood,
            SillSpecies::Cedar,
            SillSpecies::DouglasFir,
            SillSpecies::HemFir,
        ]
        .map(Wood::from)
        .to_vec(),
    };
    let species = || woods.iter().map(|wood| around.nds.species(*wood));
    let kind = UnknownKind::Species;
    let gravity = Input::any_of(
        "G",
        "specific gravity of the sill",
        species().map(|species| &species.specific_gravity),
        kind,
    )
    .unwrap_or_else(|| framing_gravity(around));
    let compression = Input::any_of(
        "F_c⊥",
        "strength of the sill across the grain",
        species().filter_map(|species| species.compression_perpendicular.as_ref()),
        kind,
    );
    let soundness = pieces.iter().map(|piece| piece.soundness.value().copied());
    let is_decayed = soundness
        .clone()
        .any(|found| found.is_some_and(|found| found != SillSoundness::Sound));
    let is_seen = !pieces.is_empty() && soundness.clone().all(|found| found.is_some());
    let works = if is_decayed {
        Input::seen(
            "c",
            "share of the sill that is sound: decayed",
            PLAIN,
            0.0,
            &at("sill"),
            Basis::Seen,
        )
    } else {
        around.works(
            "share of the sill that is sound",
            UnknownKind::SillSoundness,
            is_seen,
            &at("sill"),
        )
    };
    Sill {
        thickness: least(
            &size("l_s", "thickness of the sill", UnknownKind::SillSize),
            pieces,
            |piece| &piece.thickness,
            field("thickness"),
            &existing.sill_thickness,
        ),
        gravity,
        compression,
        works,
    }
}
