//! The sizes of new work in words.

use retrofit_core::choice::Choice;
use retrofit_core::foundation::new_work::{
    BarPlace, Cap, CrossSection, Dowels, Flag, Girder, NewFoundation, Pier, SizingError, Source, Sourced,
    Wall, Work,
};
use retrofit_core::foundation::plan::SizedGirders;
use retrofit_core::measure::Length;
use retrofit_core::provisions::cited;
use retrofit_core::screen::nds::BeamLimit;

use super::SizeRow;
use super::rows::grouped;
use crate::result::wording::{length, sentence_case, sourced};

fn row(what: impl Into<String>, value: impl Into<String>, from: &Source) -> SizeRow {
    SizeRow {
        what: what.into(),
        value: value.into(),
        source: cited(&from.document, &from.section),
        standing: from.standing.words(),
    }
}

fn size(what: &str, sized: &Sourced<Length>) -> SizeRow {
    row(what, length(sized.value), &sized.source)
}

/// Every size with where it comes from.
pub(super) fn rows(size: &NewFoundation) -> Vec<SizeRow> {
    let mut rows = match &size.work {
        Work::Wall(wall) => wall_rows(wall),
        Work::Cap(cap) => cap_rows(cap),
    };
    let (thickness, width) = size.sill.name;
    let above = size.sill.above_ground.map_or_else(
        || "of unknown height above the ground".to_owned(),
        |above| format!("{} above the ground", length(above)),
    );
    rows.push(row(
        "sill",
        format!("{thickness}x{width}, preservative-treated or durable, {above}"),
        &size.sill.untreated_above.source,
    ));
    for anchor in &size.anchors.rows {
        let diameter = anchor
            .diameter
            .map_or_else(String::new, |diameter| format!("{} ", length(diameter)));
        rows.push(row(
            "anchors",
            format!("{diameter}no more than {} apart", length(anchor.spacing.value)),
            &anchor.spacing.source,
        ));
    }
    let anchors = &size.anchors;
    for (what, sized) in [
        ("anchor from the end of a piece, at least", &anchors.end_least),
        ("anchor from the end of a piece, at most", &anchors.end_most),
        ("anchor embedment, at least", &anchors.embedment),
    ] {
        rows.extend(sized.as_ref().map(|sized| self::size(what, sized)));
    }
    rows.push(row(
        "strength of concrete, at least",
        format!("{} psi", grouped(size.concrete_psi.value)),
        &size.concrete_psi.source,
    ));
    rows
}

fn wall_rows(wall: &Wall) -> Vec<SizeRow> {
    let (footing, section) = (&wall.footing, &wall.section);
    let mut rows: Vec<SizeRow> = footing
        .by_table
        .iter()
        .map(|by| {
            let stories = if by.stories == 1 { "story" } else { "stories" };
            size(
                &format!("footing width by the table, {} {stories}", by.stories),
                &by.width,
            )
        })
        .collect();
    if let Some(by) = &footing.by_load {
        rows.push(row(
            "footing width by the load",
            format!(
                "{}: {} plf and {} plf of its own on {} psf",
                length(by.width),
                grouped(by.load.high),
                grouped(by.own_plf),
                grouped(by.bearing_psf.value)
            ),
            &by.bearing_psf.source,
        ));
    }
    // The wider one says where it comes from.
    let widest = footing.by_table.iter().max_by_key(|by| by.width.value);
    let by_load = footing
        .by_load
        .as_ref()
        .filter(|by| widest.is_none_or(|table| by.width > table.width.value));
    let taken = match (by_load, widest) {
        (Some(by), _) => &by.bearing_psf.source,
        (None, Some(by)) => &by.width.source,
        (None, None) => &footing.projection_least.source,
    };
    rows.push(row(
        "footing, the wider taken",
        format!(
            "{} wide, {} thick",
            length(section.footing_width),
            length(section.footing_thickness)
        ),
        taken,
    ));
    rows.push(row(
        "bottom of the footing below the ground",
        length(section.depth_below_grade),
        &footing.depth_least.source,
    ));
    rows.push(row(
        "stem wall",
        format!(
            "{} thick, {} high",
            length(section.stem_thickness),
            length(section.stem_height)
        ),
        &section.stem_thickness_least.source,
    ));
    rows.extend(bar_rows(section));
    rows.push(size("cover against the earth", &section.cover_earth));
    rows.push(size("cover in forms", &section.cover_formed));
    rows.push(row(
        "share of steel along the wall",
        format!(
            "{:.4}; a rule that excepts dwellings asks for {}",
            section.steel.ratio, section.steel.rule.value
        ),
        &section.steel.rule.source,
    ));
    rows.extend(wall.dowels.iter().flat_map(dowel_rows));
    rows
}

fn bar_rows(section: &CrossSection) -> Vec<SizeRow> {
    let mut rows = Vec::new();
    for (place, words) in [
        (BarPlace::TopOfStem, "bars at the top of the stem"),
        (BarPlace::BottomOfFooting, "bars at the bottom of the footing"),
    ] {
        let bars: Vec<_> = section.bars.iter().filter(|bar| bar.place == place).collect();
        if let Some(bar) = bars.first() {
            rows.push(row(
                words,
                format!("{} {}", bars.len(), bar.size.words()),
                &bar.source,
            ));
        }
    }
    let vertical = &section.vertical;
    rows.push(row(
        "upright bars",
        format!(
            "{} at {}, {} long with their hook",
            vertical.size.words(),
            length(vertical.spacing.value),
            length(vertical.length())
        ),
        &vertical.spacing.source,
    ));
    rows
}

fn dowel_rows(dowels: &Dowels) -> Vec<SizeRow> {
    let mut rows = vec![row(
        "dowels into the old foundation",
        match &dowels.along {
            Some(along) => format!("{} at {} along it", dowels.size.words(), length(along.value)),
            None => format!(
                "{} {} at each end",
                dowels.at_each_joint.value,
                dowels.size.words()
            ),
        },
        &dowels.at_each_joint.source,
    )];
    rows.push(size("embedment of dowels", &dowels.embedment));
    rows.push(size("lap of dowels and bars", &dowels.lap));
    rows
}

fn cap_rows(cap: &Cap) -> Vec<SizeRow> {
    let mut rows = vec![row(
        "cap on the old wall",
        format!("{} wide, {} thick", length(cap.width), length(cap.thickness)),
        &cap.usual.source,
    )];
    if let Some(bar) = cap.bars.first() {
        rows.push(row(
            "bars along the cap",
            format!("{} {}", cap.bars.len(), bar.size.words()),
            &bar.source,
        ));
    }
    rows.push(size("cover in forms", &cap.cover_formed));
    rows.extend(cap.dowels.iter().flat_map(dowel_rows));
    rows
}

/// What was assumed, whom to ask, and what goes with it.
pub(super) fn notes(size: &NewFoundation) -> Vec<String> {
    let flags = size.flags.iter().map(|flag| sentence_case(&flag.words()));
    let notes = size.notes.iter().map(|note| {
        let from = &note.source;
        let place = sourced(&from.document, &from.section, from.standing);
        format!("{} ({place})", note.words)
    });
    flags.chain(notes).collect()
}

/// The sizes of a pad and its post.
pub(super) fn pier_rows(pier: &Pier) -> Vec<SizeRow> {
    let side_from = if pier.side_by_load > pier.side_least.value {
        &pier.bearing_psf.source
    } else {
        &pier.side_least.source
    };
    let mut rows = vec![
        row(
            "side of the square pad by the load",
            format!(
                "{} on {} psf",
                length(pier.side_by_load),
                grouped(pier.bearing_psf.value)
            ),
            &pier.bearing_psf.source,
        ),
        row("side of the pad", length(pier.side), side_from),
        row(
            "thickness of the pad",
            length(pier.thickness),
            &pier.thickness_least.source,
        ),
    ];
    if let Some(post) = pier.post {
        // Some of the factors behind it are remembered, and one is enough.
        rows.push(SizeRow {
            what: "least post that was tried and carries it".to_owned(),
            value: format!(
                "{}x{}, which can carry {} lb; load over that: {:.2}",
                post.name.0,
                post.name.1,
                grouped(post.capacity),
                post.load_over_capacity
            ),
            source: "column stability by the specification for wood construction".to_owned(),
            standing: retrofit_core::provisions::Standing::Memory.words(),
        });
    }
    rows
}

/// What was assumed of a pad and its post, and whom to ask.
pub(super) fn pier_notes(pier: &Pier) -> Vec<String> {
    pier.flags
        .iter()
        .map(|flag| sentence_case(&flag.words()))
        .collect()
}

/// The least girder on a span, with how much of each of its limits is used.
pub(super) fn girder_row((span, girder): &(Length, Result<Girder, SizingError>)) -> SizeRow {
    let what = format!("least girder, {} from post to post", length(*span));
    let (value, from) = match girder {
        Err(error) => (format!("not sized: {error}"), None),
        Ok(girder) => match girder.least() {
            None => ("none that was tried; an engineer sizes it".to_owned(), None),
            Some(least) => {
                let limits = BeamLimit::ALL.iter();
                let shares: Vec<String> = limits
                    .map(|limit| format!("{} {:.2}", limit.words(), least.check.share(*limit)))
                    .collect();
                let (thickness, depth) = least.name;
                let value = format!("{thickness}x{depth}; load over limit: {}", shares.join(", "));
                (value, Some(girder.source(least)))
            }
        },
    };
    match from {
        Some(from) => row(what, value, &from),
        None => SizeRow {
            what,
            value,
            source: String::new(),
            standing: "",
        },
    }
}

/// What was assumed of girders, and whom to ask.
pub(super) fn girder_notes(girders: &SizedGirders) -> Vec<String> {
    let mut notes = vec![
        "Joists bear on it from both sides; its own weight lies in that of the floor framing. Douglas fir No. 2."
            .to_owned(),
        format!(
            "It bears on {} of a post, since another girder ends on the other half.",
            length(girders.support)
        ),
    ];
    if !girders.is_recorded {
        notes.push(
            "Spans of 4 to 8 ft are common practice, without a source; measure from post to post.".to_owned(),
        );
    }
    for girder in girders
        .spans
        .iter()
        .filter_map(|(_, girder)| girder.as_ref().ok())
    {
        // Where no size will do, the row of the span says so.
        let flags = girder
            .flags
            .iter()
            .filter(|flag| !matches!(flag, Flag::NoSizeWillDo(_)));
        for flag in flags.map(|flag| sentence_case(&flag.words())) {
            if !notes.contains(&flag) {
                notes.push(flag);
            }
        }
    }
    notes
}
