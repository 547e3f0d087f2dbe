//! The list an inspector signs: every designed piece with what was built of it.

use retrofit_core::before_after::{Became, BeforeAfter, Place};
use retrofit_core::check::{Assessment, Quantity, Ruling};
use retrofit_core::choice::Choice;
use retrofit_core::house::{Parts, Rim, Span, Washer};
use retrofit_core::measure::Length;
use retrofit_core::provisions::Provisions;
use retrofit_core::remedy::{Assumption, Framing, NewAnchor, NewPanel, PanelMake};
use retrofit_core::sign_off::{
    Built, Compared, Designed, DesignedPiece, Difference, LineSignOff, NotDesigned, Status, There,
};
use schemars::JsonSchema;
use serde::Serialize;

use super::before_after::wall_line_name;
use super::wording::{self, length};

/// Something the design took as given.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct AssumedInDesign {
    /// The wall line; null for the house as a whole.
    pub wall_line: Option<String>,
    /// The observation to make.
    pub what: String,
    /// What it was taken as.
    pub taken_as: String,
    /// Why.
    pub because: String,
}

/// One wall line as built against its design.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct SignedLine {
    /// Its name.
    pub name: String,
    /// Whether the later record tells of it.
    pub is_in_record: bool,
    /// What the wall line comes to with what was built; null where the later record does not tell of it.
    pub ruling: Option<Ruling>,
    /// The same in a sentence.
    pub says: String,
    /// How many designed pieces came to what.
    pub tally: Vec<PieceTally>,
    /// Every designed piece.
    pub pieces: Vec<SignedPiece>,
    /// What was built and not designed.
    pub not_designed: Vec<ExtraPiece>,
    /// The parts of the work for which there was no layout to hold anything against.
    pub without_layout: Vec<String>,
}

/// How many designed pieces came to the same.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct PieceTally {
    /// What became of them.
    pub status: Status,
    /// The same in words.
    pub words: String,
    /// How many.
    pub count: usize,
}

/// A designed piece.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct SignedPiece {
    /// What was designed.
    pub what: String,
    /// Where.
    pub station: String,
    /// What became of it.
    pub status: Status,
    /// The same in words, with by how much it is off and in what it differs.
    pub says: String,
    /// How far its beginning is off, toward the end of the wall line; null where nothing was built or seen.
    pub off_at_beginning: Option<String>,
    /// How far its end is off.
    pub off_at_end: Option<String>,
    /// In what else it differs.
    pub differences: Vec<PieceDifference>,
}

/// In what a piece differs.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct PieceDifference {
    /// The observation.
    pub what: String,
    /// What was designed.
    pub designed: String,
    /// What was built; null where it is not recorded.
    pub built: Option<String>,
    /// How they compare.
    pub is: Compared,
}

/// Something that was built and not designed.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct ExtraPiece {
    /// What it is.
    pub what: String,
    /// Where, as far as that is recorded.
    pub station: Option<String>,
    /// Its path in the later house file.
    pub path: String,
}

impl AssumedInDesign {
    /// Puts an assumption into words.
    pub(super) fn of(assumption: &Assumption, earlier: &Assessment<'_>) -> Self {
        Self {
            wall_line: assumption.wall_line.map(|index| wall_line_name(earlier, index)),
            what: assumption.look_at.words().to_owned(),
            taken_as: shown(assumption.taken_as, earlier.provisions).unwrap_or_default(),
            because: assumption.because.to_owned(),
        }
    }
}

impl SignedLine {
    /// Puts a wall line into words.
    pub(super) fn of(line: &LineSignOff, compared: &BeforeAfter<'_>) -> Self {
        let (earlier, later) = (&compared.before, &compared.after);
        let place = line.in_record.and_then(|after| {
            let places = compared.places.iter();
            places
                .copied()
                .find(|place| matches!(place, Place::WallLine { after: other, .. } if *other == after))
        });
        let ruling = place.and_then(|place| compared.ruling_at(place));
        let tally = Status::ALL.iter().map(|status| PieceTally {
            status: *status,
            words: status.words().to_owned(),
            count: line
                .pieces
                .iter()
                .filter(|piece| piece.built.status() == *status)
                .count(),
        });
        Self {
            name: wall_line_name(earlier, line.wall_line),
            is_in_record: line.in_record.is_some(),
            ruling,
            says: passes(place, ruling, compared),
            tally: tally.filter(|tally| tally.count > 0).collect(),
            pieces: line
                .pieces
                .iter()
                .map(|piece| signed(piece, later.provisions))
                .collect(),
            not_designed: line
                .not_designed
                .iter()
                .map(|extra| extra_piece(extra, line.in_record))
                .collect(),
            without_layout: line
                .without_layout
                .iter()
                .map(|part| part.words().to_owned())
                .collect(),
        }
    }
}

/// Whether a wall line passes with what was built.
fn passes(place: Option<Place>, ruling: Option<Ruling>, compared: &BeforeAfter<'_>) -> String {
    let (Some(place), Some(ruling)) = (place, ruling) else {
        return "The record as built does not tell of this wall line.".to_owned();
    };
    let of = |ruling: Ruling| {
        let changes = compared.changes_at(place).filter(|change| {
            let is_open = ruling == Ruling::NotDetermined && change.became == Became::NoLongerDetermined;
            is_open || change.after.is_some_and(|came| came.ruling == ruling)
        });
        let titles: Vec<String> = changes.map(|change| change.check.title.to_lowercase()).collect();
        titles.join(", ")
    };
    match ruling {
        Ruling::Met => "With what was built, every check of this wall line is met.".to_owned(),
        Ruling::NotApplicable => "The provisions ask nothing of this wall line.".to_owned(),
        Ruling::NotDetermined => format!(
            "With what was recorded, this wall line is not determined: {}.",
            of(Ruling::NotDetermined)
        ),
        Ruling::NotMet => format!("With what was built, not met: {}.", of(Ruling::NotMet)),
        Ruling::Outside => format!(
            "Outside the prescriptive provisions: {}. An engineer or architect has to design this wall line.",
            of(Ruling::Outside)
        ),
    }
}

fn signed(piece: &DesignedPiece, provisions: &Provisions) -> SignedPiece {
    let status = piece.built.status();
    let there = match &piece.built {
        Built::There(there) => Some(there),
        Built::Not | Built::NotSeen => None,
    };
    let differences: Vec<PieceDifference> = there
        .into_iter()
        .flat_map(|there| &there.differences)
        .map(|difference| PieceDifference {
            what: difference.look_at.words().to_owned(),
            designed: shown(difference.designed, provisions).unwrap_or_default(),
            built: shown(difference.built, provisions),
            is: difference.is,
        })
        .collect();
    let mut says = match (&piece.what, status) {
        (Designed::KeptAnchor | Designed::KeptPanel(None), Status::AsDesigned)
        | (Designed::PanelTakenOff, Status::NotBuilt) => "still there".to_owned(),
        (Designed::KeptAnchor | Designed::KeptPanel(None), Status::NotBuilt) => "no longer there".to_owned(),
        (Designed::PanelTakenOff, Status::AsDesigned) => "taken off".to_owned(),
        (Designed::ClosedVent, Status::AsDesigned) => "closed".to_owned(),
        (Designed::ClosedVent, Status::NotBuilt) => "still open".to_owned(),
        (Designed::MovedVent { .. }, Status::NotBuilt) => "not moved".to_owned(),
        (_, status) => status.words().to_owned(),
    };
    if let Some(there) = there.filter(|there| there.off() != Length::ZERO) {
        says = format!("{says}, {}", off(there, piece.span));
    }
    for (difference, of) in differences
        .iter()
        .zip(there.into_iter().flat_map(|there| &there.differences))
    {
        says = format!("{says}; {}", differs(difference, of));
    }
    SignedPiece {
        what: what(&piece.what),
        station: wording::span(piece.span),
        status,
        says,
        off_at_beginning: there.map(|there| there.off_at_beginning.to_string()),
        off_at_end: there.map(|there| there.off_at_end.to_string()),
        differences,
    }
}

/// By how much a piece is off.
fn off(there: &There, span: Span) -> String {
    let by = |off: Length| {
        let way = if off < Length::ZERO {
            "nearer the beginning"
        } else {
            "farther along"
        };
        format!("{} {way}", length(off.abs_diff(Length::ZERO)))
    };
    let (beginning, end) = (there.off_at_beginning, there.off_at_end);
    if beginning == end || span.to == Some(span.from) {
        return by(beginning);
    }
    let longer = end.saturating_sub(beginning);
    let change = format!(
        "{} {}",
        length(longer.abs_diff(Length::ZERO)),
        if longer < Length::ZERO {
            "shorter"
        } else {
            "longer"
        }
    );
    match (beginning == Length::ZERO, end == Length::ZERO) {
        (true, _) => format!("{change}: its end is {}", by(end)),
        (_, true) => format!("{change}: its beginning is {}", by(beginning)),
        _ => format!(
            "{change}: its beginning is {}, its end {}",
            by(beginning),
            by(end)
        ),
    }
}

fn differs(difference: &PieceDifference, of: &Difference) -> String {
    let (what, designed) = (&difference.what, &difference.designed);
    match (&difference.built, of.is) {
        (None, _) | (_, Compared::NotRecorded) => format!("{what}: not recorded, {designed} designed"),
        (Some(built), _) => format!("{what}: {built} built, {designed} designed"),
    }
}

fn shown(quantity: Quantity, provisions: &Provisions) -> Option<String> {
    match quantity {
        Quantity::Washer(Washer::None) => Some("no washer".to_owned()),
        Quantity::Washer(Washer::Cut) => Some("a cut washer".to_owned()),
        quantity => wording::quantity(quantity, provisions),
    }
}

/// What was designed, in the words of a list.
fn what(designed: &Designed) -> String {
    match designed {
        Designed::Anchor(anchor) => new_anchor(anchor),
        Designed::KeptAnchor => "old anchor that counts".to_owned(),
        Designed::MendedAnchor { washer, tighten } => {
            let mut work: Vec<String> = Vec::new();
            work.extend(washer.map(|washer| format!("washer {washer}")));
            work.extend(tighten.then(|| "nut tightened".to_owned()));
            format!("old anchor mended: {}", work.join(", "))
        }
        Designed::Panel(panel, make) => new_panel(panel, make),
        Designed::KeptPanel(None) => "old panel that counts".to_owned(),
        Designed::KeptPanel(Some(holes)) => {
            format!("old panel, ventilation holes of {} drilled", length(*holes))
        }
        Designed::PanelTakenOff => "old panel taken off".to_owned(),
        Designed::MovedVent { from } => format!("vent moved from {}", wording::span(*from)),
        Designed::ClosedVent => "vent closed".to_owned(),
        Designed::Sill(sill) => format!("sill replaced, at least {} thick", length(sill.thickness)),
        Designed::Framing(Framing::NailTopPlates) => "top plates nailed together".to_owned(),
        Designed::Framing(Framing::AddTopPlate) => "top plate added".to_owned(),
        Designed::Framing(Framing::TieSplices) => "breaks in the top plate tied".to_owned(),
        Designed::Framing(Framing::SolidBlocking) => "short studs filled with solid blocking".to_owned(),
        Designed::Rim(rim) => match (rim.pattern, rim.blocks.len()) {
            (Rim::Continuous, _) | (_, 0) => rim.pattern.words().to_owned(),
            (pattern, 1) => format!("{}: 1 block", pattern.words()),
            (pattern, blocks) => format!("{}: {blocks} blocks", pattern.words()),
        },
        Designed::Clips { count: 1, .. } => "1 framing clip".to_owned(),
        Designed::Clips { count, spacing } => {
            format!("{count} framing clips, {} apart", length(*spacing))
        }
    }
}

fn new_anchor(anchor: &NewAnchor) -> String {
    let mut text = format!("new {}", anchor.kind.words());
    if let Some(diameter) = anchor.diameter {
        text = format!("{text}, {}", length(diameter));
    }
    if let Some(embedment) = anchor.embedment {
        text = format!("{text}, {} deep", length(embedment));
    }
    if let Some(washer) = anchor.washer {
        text = format!("{text}, washer {washer}");
    }
    text
}

fn new_panel(panel: &NewPanel, make: &PanelMake) -> String {
    let mut text = format!(
        "new panel, {} long, {}",
        length(panel.to.saturating_sub(panel.from)),
        make.sheathing.words()
    );
    if let Some(thickness) = make.thickness {
        text = format!("{text} {}", length(thickness));
    }
    if let Some(nail) = make.nail {
        text = format!("{text}, {nail}");
    }
    match (make.edge_nailing, make.field_nailing) {
        (Some(edge), Some(field)) => {
            text = format!("{text} at {} edges, {} field", length(edge), length(field));
        }
        (Some(edge), None) => text = format!("{text} at {} edges", length(edge)),
        _ => {}
    }
    text = format!("{text}, {}", panel.foot.words());
    if panel.sill_blocks > 0 {
        text = format!("{text} ({} of them)", panel.sill_blocks);
    }
    text
}

fn extra_piece(extra: &NotDesigned, in_record: Option<usize>) -> ExtraPiece {
    let (what, list) = match extra.part {
        Parts::Anchors => ("anchor", "anchors"),
        Parts::Panels => ("panel", "panels"),
        Parts::Connections => ("floor connection", "connections"),
        Parts::Openings => ("opening", "openings"),
        part @ (Parts::Foundation | Parts::Sill) => (part.words(), part.spelling()),
    };
    ExtraPiece {
        what: what.to_owned(),
        station: extra.span.map(wording::span),
        path: in_record.map_or_else(String::new, |line| {
            format!("wall_lines[{line}].{list}[{}]", extra.item)
        }),
    }
}
