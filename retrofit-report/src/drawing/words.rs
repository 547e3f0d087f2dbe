//! What the sheets say of the work in words: notes, schedules, reasons.

use retrofit_core::choice::Choice;
use retrofit_core::house::{AnchorKind, OpeningKind, PanelFoot, Rim, WallLine};
use retrofit_core::measure::Length;
use retrofit_core::provisions::{Provisions, Standing};
use retrofit_core::remedy::{
    AnchorLayout, Credit, Decline, FloorLayout, Framing, LineRemedy, NewAnchor, PanelLayout, Part, Remedy,
    Shortfall,
};

use crate::result::wording;

/// How a size that nobody took is called.
pub(super) const TO_BE_VERIFIED: &str = "size to be verified";

/// The number by which the sheets call a wall line.
pub(super) const fn number(wall_line: usize) -> usize {
    wall_line.saturating_add(1)
}

/// The notes on one wall line: what is added, of what, and what has to be verified.
pub(super) fn notes(
    remedy: &Remedy,
    provisions: &Provisions,
    line: &LineRemedy,
    wall: &WallLine,
) -> Vec<String> {
    let mut notes = Vec::new();
    match &line.anchors {
        Part::NothingToAdd => notes.push("Anchors: nothing to add.".to_owned()),
        Part::Work(work) => notes.extend(anchors(work)),
        Part::Declined(decline) => notes.push(format!("NO ANCHOR LAYOUT: {}", reason(decline, provisions))),
    }
    match &line.panels {
        Part::NothingToAdd => notes.push("Braced panels: nothing to add.".to_owned()),
        Part::Work(work) => notes.extend(panels(work)),
        Part::Declined(decline) if line.anchors.declined() == Some(decline) => {
            notes.push("NO PANEL LAYOUT: for the same reason.".to_owned());
        }
        Part::Declined(decline) => notes.push(format!("NO PANEL LAYOUT: {}", reason(decline, provisions))),
    }
    match &line.floor {
        Part::NothingToAdd => notes.push("Floor connection: nothing to add.".to_owned()),
        Part::Work(work) => notes.extend(floor(work)),
        Part::Declined(decline) if line.anchors.declined() == Some(decline) => {
            notes.push("NO FLOOR CONNECTION LAYOUT: for the same reason.".to_owned());
        }
        Part::Declined(decline) => {
            notes.push(format!(
                "NO FLOOR CONNECTION LAYOUT: {}",
                reason(decline, provisions)
            ));
        }
    }
    for work in &line.sill {
        notes.push(format!(
            "Replace the sill from {} to {}, new piece at least {} thick, preservative-treated.",
            length(work.from),
            length(work.to),
            length(work.thickness)
        ));
    }
    for work in &line.framing {
        let what = match work.what {
            Framing::NailTopPlates => "nail the two top plates together",
            Framing::AddTopPlate => "add a top plate",
            Framing::TieSplices => "tie every break in the top plate; count them on site",
            Framing::SolidBlocking => "replace the short studs by solid blocking",
        };
        notes.push(format!(
            "From {} to {}: {what}.",
            length(work.from),
            length(work.to)
        ));
    }
    if let Some(work) = line.panels.work() {
        notes.extend(vents(work, wall));
    }
    let taken: Vec<String> = remedy
        .assumptions
        .iter()
        .filter(|assumption| assumption.wall_line == Some(line.wall_line))
        .filter_map(|assumption| {
            let taken_as = wording::quantity(assumption.taken_as, provisions)?;
            Some(format!("{}: {taken_as}", assumption.look_at.words()))
        })
        .collect();
    if !taken.is_empty() {
        notes.push(format!("VERIFY ON SITE, taken as given: {}.", taken.join("; ")));
    }
    notes
}

fn anchors(work: &AnchorLayout) -> Vec<String> {
    let mut notes = Vec::new();
    let mut kinds: Vec<(NewAnchor, usize)> = Vec::new();
    for anchor in &work.added {
        let like = |held: &NewAnchor| {
            NewAnchor {
                at: anchor.at,
                ..*held
            } == *anchor
        };
        match kinds.iter_mut().find(|(held, _)| like(held)) {
            Some((_, count)) => *count += 1,
            None => kinds.push((*anchor, 1)),
        }
    }
    for (anchor, count) in kinds {
        notes.push(format!("New anchors, {count}: {}.", anchor_words(&anchor)));
    }
    if let Some(spacing) = work.spacing {
        notes.push(format!("Largest anchor spacing kept to: {}.", length(spacing)));
    }
    for existing in &work.existing {
        let place = match existing.stations.as_slice() {
            [] => "Existing anchors, stations not on record".to_owned(),
            [at] => format!("Existing anchor at {}", length(*at)),
            [first, .., last] => format!(
                "{} existing anchors from {} to {}",
                existing.stations.len(),
                length(*first),
                length(*last)
            ),
        };
        match existing.credit {
            Credit::Counts => {}
            Credit::Mended { washer, tighten } => {
                let mut work: Vec<String> = washer
                    .map(|washer| format!("new plate washer {washer}"))
                    .into_iter()
                    .collect();
                work.extend(tighten.then(|| "tighten the nut".to_owned()));
                notes.push(format!("{place}: {}.", work.join(", ")));
            }
            Credit::Lacks(look_at) => notes.push(format!("{place}: not counted for {}.", look_at.words())),
            Credit::NotSeen(look_at) => {
                notes.push(format!("{place}: not counted until seen: {}.", look_at.words()));
            }
            Credit::NotPlaced => notes.push(format!("{place}: not counted.")),
        }
    }
    notes
}

/// An anchor in words.
pub(super) fn anchor_words(anchor: &NewAnchor) -> String {
    let mut parts = vec![match anchor.diameter {
        Some(diameter) => format!("{} {}", length(diameter), anchor.kind.words()),
        None => anchor.kind.words().to_owned(),
    }];
    match anchor.embedment {
        Some(embedment) => parts.push(format!("at least {} embedment", length(embedment))),
        None => parts.push("to the maker's instructions".to_owned()),
    }
    parts.extend(anchor.washer.map(|washer| format!("plate washer {washer}")));
    parts.extend(
        anchor
            .edge_distance
            .map(|edge| format!("at least {} to the face of the foundation", length(edge))),
    );
    if anchor.tight_drilling {
        parts.push("too low for a hammer drill".to_owned());
    }
    parts.join(", ")
}

fn panels(work: &PanelLayout) -> Vec<String> {
    let mut notes = vec![
        format!("New panels, {}: {}.", work.added.len(), make_words(work)),
        format!(
            "Bracing asked for: {}; existing panels that count: {}.",
            length(work.needed),
            length(work.credited)
        ),
    ];
    let blocks: u32 = work.added.iter().map(|panel| panel.sill_blocks).sum();
    if blocks > 0 {
        notes.push(format!("Blocks on the sill, {blocks}: {}.", block_words(work)));
    }
    let removed = work.existing.iter().filter(|panel| panel.is_removed).count();
    if removed > 0 {
        notes.push(format!(
            "Take off {} where new ones go.",
            counted(removed, "existing panel")
        ));
    }
    notes
}

/// What new panels are made of and how they are nailed, in words.
pub(super) fn make_words(work: &PanelLayout) -> String {
    let make = &work.make;
    let mut parts = vec![match make.thickness {
        Some(thickness) => format!("{} {}", length(thickness), make.sheathing.words()),
        None => make.sheathing.words().to_owned(),
    }];
    let nails = make
        .nail
        .map_or_else(|| "nails".to_owned(), |nail| format!("{nail} nails"));
    match (make.edge_nailing, make.field_nailing) {
        (Some(edge), Some(field)) => parts.push(format!(
            "{nails} at {} along all edges and {} between",
            inches(edge),
            inches(field)
        )),
        (Some(edge), None) => parts.push(format!("{nails} at {} along all edges", inches(edge))),
        _ => parts.push(nails),
    }
    if let Some(hole) = make.vent_holes {
        parts.push(format!(
            "a {} vent hole at top and bottom of each stud bay",
            length(hole)
        ));
    }
    parts.join(", ")
}

/// How blocks on the sill are fastened, in words.
pub(super) fn block_words(work: &PanelLayout) -> String {
    match work.make.nails_per_sill_block {
        Some(nails) => format!("{nails} nails each into the sill, panel edge nailed to the blocks"),
        None => "nailed to the sill, panel edge nailed to the blocks".to_owned(),
    }
}

fn floor(work: &FloorLayout) -> Vec<String> {
    let mut notes = Vec::new();
    if let Some(rim) = &work.rim {
        notes.push(match rim.pattern {
            Rim::Continuous => "Floor: put in an end joist along the wall line.".to_owned(),
            pattern => format!(
                "Floor: {} between joists, so that there are {}.",
                counted(rim.blocks.len(), "new block"),
                pattern.words()
            ),
        });
    }
    if let Some(spacing) = work.clip_spacing {
        notes.push(format!(
            "Framing clips, {} at {} on center, floor to wall.",
            work.clips.len(),
            spacing.in_feet_inches()
        ));
    }
    notes
}

fn vents(work: &PanelLayout, wall: &WallLine) -> Vec<String> {
    let openings = wall.openings.listed();
    let moved = work.moved_vents.iter().filter_map(|vent| {
        let from = openings.get(vent.opening)?.from;
        Some(match vent.to {
            Some((to, _)) => format!("Move the vent at {} to {}.", length(from), length(to)),
            None => format!(
                "Close the vent at {}; no stud bay here is left for it. Check the vent area of the house.",
                length(from)
            ),
        })
    });
    moved.collect()
}

/// The parts of the work along a wall line for which there is no layout.
pub(super) fn declined_parts(line: &LineRemedy) -> Vec<&'static str> {
    let parts = [
        ("anchors", line.anchors.declined()),
        ("panels", line.panels.declined()),
        ("floor", line.floor.declined()),
    ];
    parts
        .into_iter()
        .filter(|(_, decline)| decline.is_some())
        .map(|(part, _)| part)
        .collect()
}

/// Why there is no layout, in words.
pub(super) fn reason(decline: &Decline, provisions: &Provisions) -> String {
    match decline {
        Decline::Outside { check, .. } => {
            format!(
                "outside these provisions by the check {check}. An engineer or architect has to design it."
            )
        }
        Decline::NotObserved(look_at) => format!("observe first: {}.", look_at.words()),
        Decline::FigureNotSeen(id) => format!(
            "nobody has seen the figure \"{}\" of these provisions.",
            provisions
                .figure(*id)
                .map(retrofit_core::provisions::Figure::title)
                .unwrap_or_default()
        ),
        Decline::FoundationKind { kind, from } => format!(
            "from {} on the foundation is {}, into which nothing is drilled. Replace it first.",
            length(*from),
            kind.words()
        ),
        Decline::FoundationCondition { condition, from } => format!(
            "from {} on the foundation is {}. Repair it first.",
            length(*from),
            condition.words()
        ),
        Decline::StudsTooClose { spacing, thickness } => format!(
            "measure again: studs {} thick cannot stand {} apart.",
            length(*thickness),
            length(*spacing)
        ),
        Decline::TooManyStudBays { bays, most } => {
            format!("measure again: {bays} stud bays, and no more than {most} are laid out.")
        }
        Decline::NoKindOfAnchor { at } => {
            format!(
                "no anchor that these provisions name can be installed at {}.",
                length(*at)
            )
        }
        Decline::NoWayToTieTheFloor => {
            "these provisions name no way of tying this floor. For an engineer or the code official."
                .to_owned()
        }
        Decline::Unmet(shortfall) => format!("{} An engineer must design this wall line.", unmet(shortfall)),
    }
}

fn unmet(shortfall: &Shortfall) -> String {
    match shortfall {
        Shortfall::NoAnchorNearEnd { from, to } => {
            format!(
                "no anchor can stand between {} and {}.",
                length(*from),
                length(*to)
            )
        }
        Shortfall::AnchorsTooFarApart { from, to, allowed } => format!(
            "no anchor can stand between {} and {}, which is more than {}.",
            length(*from),
            length(*to),
            length(*allowed)
        ),
        Shortfall::TooFewAnchorsInPiece {
            from,
            to,
            needed,
            possible,
        } => format!(
            "the sill piece from {} to {} needs {needed} anchors and has room for {possible}.",
            length(*from),
            length(*to)
        ),
        Shortfall::AnchorsTogether => "the anchors cannot all stand at the least spacing.".to_owned(),
        Shortfall::BracingTooShort { needed, possible } => format!(
            "{} of bracing is asked for and there is room for {}.",
            length(*needed),
            length(*possible)
        ),
        Shortfall::NoPanelAtEnd { end, room, shortest } => format!(
            "no panel can stand at the end of the cripple wall at {}: room for {}, and {} is the shortest allowed.",
            length(*end),
            length(*room),
            length(*shortest)
        ),
        Shortfall::PanelGapTooLarge { from, to, allowed } => format!(
            "no panel can stand between {} and {}, which is more than {}.",
            length(*from),
            length(*to),
            length(*allowed)
        ),
    }
}

/// What the sheets say of the figures that nobody has seen in their document; `None` where all were.
pub(super) fn standing(provisions: &Provisions) -> Option<String> {
    let unseen = provisions
        .figures()
        .iter()
        .filter(|figure| {
            figure
                .standing()
                .is_some_and(|standing| standing > Standing::Attested)
        })
        .count();
    (unseen > 0).then(|| {
        format!(
            "FIGURES: {unseen} figures of this set were not seen in the document itself. The report names those \
             that this house rests on; confirm them before this layout is used."
        )
    })
}

/// Openings in words.
pub(super) const fn opening_mark(kind: OpeningKind) -> &'static str {
    match kind {
        OpeningKind::Vent => "vent",
        OpeningKind::Access => "access",
        OpeningKind::Pipe => "pipe",
        OpeningKind::Blocked => "blocked",
    }
}

/// Whether an anchor is a plate rather than a rod.
pub(super) fn is_plate(anchor: &NewAnchor) -> bool {
    matches!(anchor.kind, AnchorKind::SidePlate)
}

/// How the foot of a panel is fastened, in words for a schedule.
pub(super) fn foot_words(foot: PanelFoot) -> &'static str {
    foot.words()
}

/// A length for a reader: exact, or rounded and marked so.
pub(super) fn length(length: Length) -> String {
    wording::length(length)
}

/// A spacing of nails or studs, which the trade calls in inches even beyond a foot.
pub(super) fn inches(spacing: Length) -> String {
    let inch = Length::inches(1).nanometers();
    if spacing.nanometers() % inch == 0 {
        format!("{}\"", spacing.nanometers() / inch)
    } else {
        length(spacing)
    }
}

fn counted(count: usize, what: &str) -> String {
    if count == 1 {
        format!("1 {what}")
    } else {
        format!("{count} {what}s")
    }
}

/// A height over the base point in inches, to the hundredth, signed where it is not nothing.
pub(super) fn height(inches: f64) -> String {
    let hundredths = (inches * 100.0).round();
    if hundredths == 0.0 {
        "0.00".to_owned()
    } else {
        format!("{:+.2}", hundredths / 100.0)
    }
}
