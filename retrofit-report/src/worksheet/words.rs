//! How a remedy is said.

use retrofit_core::choice::Choice;
use retrofit_core::house::{PanelFoot, WallLine};
use retrofit_core::measure::Length;
use retrofit_core::provisions::{FigureId, Provisions, Standing};
use retrofit_core::remedy::{
    Credit, Decline, ExistingPanel, FloorLayout, Framing, LineRemedy, NewAnchor, NewPanel, PanelLayout,
    PanelMake, Remedy, Shortfall,
};

use crate::result::wording::{length, plain};

/// To whom the reader has to turn.
pub(super) const DEFERRAL: &str = "This worksheet lays out work that would bring what was recorded under one house up \
    to one published set of prescriptive provisions, as far as they reach. It is not a permit, a design by an \
    engineer or an offer. The local code official decides what applies to the house and what is accepted; a licensed \
    engineer or architect designs what has no layout here. Verify on site what was taken as given, and ask both \
    before anything is ordered.";

/// When somebody has to look before work goes on.
pub(super) const INSPECTIONS: [(&str, &str, Standing); 5] = [
    (
        "Before anything is ordered",
        "Everything taken as given above, seen on site by whoever does the work.",
        Standing::CommonPractice,
    ),
    (
        "While adhesive anchors are set",
        "Holes drilled to depth, brushed and blown out, adhesive in date: many code officials ask for special \
         inspection of adhesive anchors. Ask first.",
        Standing::Memory,
    ),
    (
        "Before anything is covered",
        "Anchors, blocks, panels, nailing and framing clips, all of them in sight.",
        Standing::Secondary,
    ),
    (
        "Before a vent is closed",
        "Its new place is cut, and the net area below is not less than asked for.",
        Standing::CommonPractice,
    ),
    (
        "At the end",
        "The final inspection by the code official, with this sheet as the list.",
        Standing::Secondary,
    ),
];

fn counted(count: usize, one: &str, many: &str) -> String {
    format!("{count} {}", if count == 1 { one } else { many })
}

fn has_work(remedy: &Remedy) -> bool {
    remedy.lines.iter().any(|line| summary_parts(line).is_some())
}

/// On how many wall lines something has no layout.
fn declined(remedy: &Remedy) -> usize {
    let lines = remedy.lines.iter();
    lines.filter(|line| line.declined().is_some()).count()
}

/// The answer in a sentence.
pub(super) fn answer(remedy: &Remedy) -> String {
    let anchors: usize = remedy
        .lines
        .iter()
        .filter_map(|line| line.anchors.work())
        .map(|work| work.added.len())
        .sum();
    let panels: usize = remedy
        .lines
        .iter()
        .filter_map(|line| line.panels.work())
        .map(|work| work.added.len())
        .sum();
    let clips: usize = remedy
        .lines
        .iter()
        .filter_map(|line| line.floor.work())
        .map(|work| work.clips.len())
        .sum();
    if has_work(remedy) {
        let parts: Vec<String> = [
            (anchors, "anchor", "anchors"),
            (panels, "braced panel", "braced panels"),
            (clips, "framing clip", "framing clips"),
        ]
        .into_iter()
        .filter(|(count, ..)| *count > 0)
        .map(|(count, one, many)| counted(count, one, many))
        .collect();
        match parts.as_slice() {
            [] => "The layout mends what is there.".to_owned(),
            [one] => format!("The layout adds {one}."),
            [first @ .., last] => format!("The layout adds {} and {last}.", first.join(", ")),
        }
    } else if declined(remedy) == 0 {
        "These provisions ask for nothing more along the wall lines, as far as was recorded.".to_owned()
    } else {
        "No wall line has a layout.".to_owned()
    }
}

/// What has no layout, and what the house comes to when it is checked again with the work done.
pub(super) fn outcome(remedy: &Remedy) -> String {
    let rest = match declined(remedy) {
        0 => None,
        _ if !has_work(remedy) => Some("The reasons stand at each of them.".to_owned()),
        1 => Some("On one wall line something has no layout; the reason stands there.".to_owned()),
        many => Some(format!(
            "On {many} wall lines something has no layout; the reasons stand there."
        )),
    };
    let proof = match (has_work(remedy), remedy.is_proved()) {
        (false, _) => None,
        (true, true) => {
            Some("Checked again with the work done, every check that it touches is met.".to_owned())
        }
        (true, false) => Some(
            "Checked again with the work done, not every check that it touches is met: see below.".to_owned(),
        ),
    };
    let told: Vec<String> = rest.into_iter().chain(proof).collect();
    told.join(" ")
}

fn summary_parts(line: &LineRemedy) -> Option<String> {
    let mut parts = Vec::new();
    if let Some(work) = line.anchors.work() {
        let mended = work
            .existing
            .iter()
            .filter(|one| matches!(one.credit, Credit::Mended { .. }))
            .map(|one| one.stations.len())
            .sum();
        if !work.added.is_empty() {
            parts.push(counted(work.added.len(), "new anchor", "new anchors"));
        }
        if mended > 0 {
            parts.push(counted(mended, "anchor mended", "anchors mended"));
        }
    }
    if let Some(work) = line.panels.work() {
        let drilled = work
            .existing
            .iter()
            .filter(|panel| panel.gets_holes.is_some())
            .count();
        if !work.added.is_empty() {
            parts.push(counted(work.added.len(), "new panel", "new panels"));
        }
        if drilled > 0 {
            parts.push(counted(
                drilled,
                "old panel drilled for air",
                "old panels drilled for air",
            ));
        }
    }
    if let Some(work) = line.floor.work() {
        if work.rim.is_some() {
            parts.push("joist bays closed".to_owned());
        }
        if !work.clips.is_empty() {
            parts.push(counted(work.clips.len(), "framing clip", "framing clips"));
        }
    }
    if !line.sill.is_empty() {
        parts.push(counted(
            line.sill.len(),
            "sill piece replaced",
            "sill pieces replaced",
        ));
    }
    if !line.framing.is_empty() {
        parts.push("framing mended".to_owned());
    }
    (!parts.is_empty()).then(|| parts.join(", "))
}

/// What is done along a wall line, in short.
pub(super) fn summary(line: &LineRemedy) -> String {
    match (summary_parts(line), line.declined()) {
        (Some(parts), None) => parts,
        (Some(parts), Some(_)) => format!("{parts}; the rest has no layout"),
        (None, Some(_)) => "no layout".to_owned(),
        (None, None) => "nothing to add".to_owned(),
    }
}

fn figure(id: FigureId, provisions: &Provisions) -> String {
    provisions.figure(id).map_or_else(String::new, |figure| {
        format!("{} ({})", plain(&figure.title()), plain(&figure.clause()))
    })
}

/// Why there is no layout, and who decides.
pub(super) fn decline(decline: &Decline, provisions: &Provisions) -> String {
    const ENGINEER: &str = "A licensed engineer or architect has to design it.";
    match decline {
        Decline::Outside { check, figure: limit } => {
            let title = retrofit_core::check::check_named(check).map_or(*check, |check| check.title);
            let limit = limit.map_or_else(String::new, |id| format!(": {}", figure(id, provisions)));
            format!("Outside the prescriptive provisions by the check \"{title}\"{limit}. {ENGINEER}")
        }
        Decline::NotObserved(look_at) => {
            format!(
                "No layout can be drawn before somebody has seen {}.",
                look_at.words()
            )
        }
        Decline::FigureNotSeen(id) => format!(
            "The provisions are believed to give a figure that nobody has seen: {}. Look it up and attest it in a \
             table folder of your own.",
            figure(*id, provisions)
        ),
        Decline::FoundationKind { kind, from } => format!(
            "From station {} the foundation is {}: nothing is drilled into it. The foundation has to be replaced or \
             capped first. {ENGINEER}",
            length(*from),
            kind.words()
        ),
        Decline::FoundationCondition { condition, from } => format!(
            "From station {} the concrete is {}: no anchor holds in it. It has to be repaired or replaced first.",
            length(*from),
            condition.words()
        ),
        Decline::StudsTooClose { spacing, thickness } => format!(
            "The stud spacing on record, {}, leaves no room between studs {} thick. Measure both again.",
            length(*spacing),
            length(*thickness)
        ),
        Decline::TooManyStudBays { bays, most } => format!(
            "The record makes {bays} stud bays along this wall line, and no more than {most} are laid out. Measure \
             its length and the stud spacing again."
        ),
        Decline::NoKindOfAnchor { at } => format!(
            "None of the kinds of anchor that the provisions name can be installed, at station {} for one. {ENGINEER}",
            length(*at)
        ),
        Decline::NoWayToTieTheFloor => {
            format!("The provisions name no way of tying the floor that could be added here. {ENGINEER}")
        }
        Decline::Unmet(shortfall) => format!("{} {ENGINEER}", unmet(*shortfall)),
    }
}

fn unmet(shortfall: Shortfall) -> String {
    match shortfall {
        Shortfall::NoAnchorNearEnd { from, to } => format!(
            "No anchor can stand between stations {} and {}, where the end of a sill piece needs one.",
            length(from),
            length(to)
        ),
        Shortfall::AnchorsTooFarApart { from, to, allowed } => format!(
            "No anchor can stand between stations {} and {}: {} apart where {} is the most allowed.",
            length(from),
            length(to),
            length(to.saturating_sub(from)),
            length(allowed)
        ),
        Shortfall::TooFewAnchorsInPiece {
            from,
            to,
            needed,
            possible,
        } => format!(
            "The sill piece from {} to {} has room for {possible} anchors where {needed} are asked for.",
            length(from),
            length(to)
        ),
        Shortfall::AnchorsTogether => {
            "At the least spacing between anchors there is no room for all that are asked for.".to_owned()
        }
        Shortfall::BracingTooShort { needed, possible } => format!(
            "There is room for {} of bracing where {} is asked for: {} too little.",
            length(possible),
            length(needed),
            length(needed.saturating_sub(possible))
        ),
        Shortfall::NoPanelAtEnd { end, room, shortest } => format!(
            "No panel can stand at the end of the cripple wall at station {}: there is room for {} where the \
             shortest panel allowed is {}, {} too little.",
            length(end),
            length(room),
            length(shortest),
            length(shortest.saturating_sub(room))
        ),
        Shortfall::PanelGapTooLarge { from, to, allowed } => format!(
            "No panel can stand between stations {} and {}: a gap of {} where {} is the most allowed.",
            length(from),
            length(to),
            length(to.saturating_sub(from)),
            length(allowed)
        ),
    }
}

/// Whether something that is there is credited, and why not.
pub(super) fn credit(credit: Credit) -> String {
    match credit {
        Credit::Counts => "credited".to_owned(),
        Credit::Mended { washer, tighten } => {
            let washer = washer.map(|washer| format!("plate washer {washer}"));
            let tighten = tighten.then(|| "nut made snug-tight".to_owned());
            let work: Vec<String> = washer.into_iter().chain(tighten).collect();
            format!("credited once mended: {}", work.join(", "))
        }
        Credit::Lacks(look_at) => format!("not credited: it falls short in {}", look_at.words()),
        Credit::NotSeen(look_at) => format!(
            "not credited until somebody has seen {}; then less may have to be added",
            look_at.words()
        ),
        Credit::NotPlaced => "not credited: where it stands was not found".to_owned(),
    }
}

/// The same of a panel.
pub(super) fn panel_credit(panel: &ExistingPanel) -> String {
    let drilled = panel.gets_holes.map(|holes| {
        let count = counted(holes.count as usize, "hole", "holes");
        format!(
            "; {count} of {} drilled, at top and bottom of each bay",
            length(holes.diameter)
        )
    });
    let removed = panel.is_removed.then(|| "; taken off for a new panel".to_owned());
    let parts = [drilled, removed];
    parts
        .into_iter()
        .flatten()
        .fold(credit(panel.credit), |words, part| words + &part)
}

/// What to mind with a new anchor.
pub(super) fn anchor_note(anchor: &NewAnchor) -> String {
    let edge = anchor
        .edge_distance
        .map(|edge| format!("at least {} from the face of the foundation", length(edge)));
    let tight = anchor
        .tight_drilling
        .then(|| "too low for a hammer drill: right-angle drill".to_owned());
    let notes: Vec<String> = edge.into_iter().chain(tight).collect();
    notes.join("; ")
}

/// How the foot of a new panel is fastened.
pub(super) fn foot(panel: &NewPanel) -> String {
    match panel.foot {
        PanelFoot::SillBlocks => {
            format!(
                "{} on the sill, between the studs",
                counted(panel.sill_blocks as usize, "block", "blocks")
            )
        }
        foot => foot.words().to_owned(),
    }
}

/// What new panels are made of.
pub(super) fn make(make: &PanelMake) -> String {
    let sheathing = match make.thickness {
        Some(thickness) => format!("{} {} or thicker", length(thickness), make.sheathing.words()),
        None => make.sheathing.words().to_owned(),
    };
    let nail = make.nail.map(|nail| format!(", {nail} nails"));
    let edge = make
        .edge_nailing
        .map(|edge| format!(" at {} along all edges", length(edge)));
    let field = make
        .field_nailing
        .map(|field| format!(", {} on the studs between", length(field)));
    let blocks = make
        .nails_per_sill_block
        .map(|nails| format!("; {nails} nails in each block on the sill"));
    let holes = make
        .vent_holes
        .map(|holes| format!("; a hole of {} at top and bottom of each bay", length(holes)));
    let flush = Some("; heads flush, level joints over blocking".to_owned());
    let parts = [nail, edge, field, flush, blocks, holes];
    parts
        .into_iter()
        .flatten()
        .fold(sheathing, |words, part| words + &part)
}

/// Bracing asked for, credited and added.
pub(super) fn bracing(work: &PanelLayout) -> String {
    let added = work.added.iter().fold(Length::ZERO, |sum, panel| {
        sum.saturating_add(panel.to.saturating_sub(panel.from))
    });
    let needed = if work.needed == Length::ZERO {
        "no length".to_owned()
    } else {
        length(work.needed)
    };
    format!(
        "{needed} asked for, {} there and credited, {} added",
        length(work.credited),
        length(added)
    )
}

/// Vents that move.
pub(super) fn vents(work: &PanelLayout, wall: &WallLine) -> Vec<String> {
    let openings = wall.openings.listed();
    let moved = work.moved_vents.iter().filter_map(|vent| {
        let opening = openings.get(vent.opening)?;
        let from = format!("{} to {}", length(opening.from), length(opening.to));
        Some(match vent.to {
            Some((start, end)) => format!("Vent at {from}: moved to {} to {}", length(start), length(end)),
            None => format!("Vent at {from}: closed; no open stud bay of this wall line is left for it"),
        })
    });
    moved.collect()
}

/// What closes the joist bays and ties the floor.
pub(super) fn connections(work: &FloorLayout) -> Vec<String> {
    let rim = work.rim.as_ref().map(|rim| {
        if rim.blocks.is_empty() {
            "A continuous end joist over the wall".to_owned()
        } else {
            format!(
                "{}: {} full-depth, the first at {}",
                crate::result::wording::sentence_case(rim.pattern.words()),
                counted(rim.blocks.len(), "new block", "new blocks"),
                rim.blocks.first().map_or_else(String::new, |at| length(*at))
            )
        }
    });
    let clips = work.clip_spacing.map(|spacing| {
        format!(
            "{} at {} along the whole wall line, the first at {}",
            counted(work.clips.len(), "framing clip", "framing clips"),
            length(spacing),
            work.clips.first().map_or_else(String::new, |at| length(*at))
        )
    });
    rim.into_iter().chain(clips).collect()
}

/// Work on sill and framing.
pub(super) fn framing(line: &LineRemedy) -> Vec<String> {
    let sill = line.sill.iter().map(|work| {
        format!(
            "Sill from {} to {}: replaced by preservative-treated wood at least {} thick",
            length(work.from),
            length(work.to),
            length(work.thickness)
        )
    });
    let framing = line.framing.iter().map(|work| {
        let what = match work.what {
            Framing::NailTopPlates => "top plates nailed to each other",
            Framing::AddTopPlate => "a top plate added",
            Framing::TieSplices => "every break in the top plate tied by a strap; count the breaks on site",
            Framing::SolidBlocking => "short studs replaced by solid blocking",
        };
        format!(
            "Cripple wall from {} to {}: {what}",
            length(work.from),
            length(work.to)
        )
    });
    sill.chain(framing).collect()
}
