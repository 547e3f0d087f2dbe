//! Sign-off: what was built, held against what was designed, piece by piece.
//!
//! [`sign_off`] takes a [`Remedy`] and the record of the house as built. Each designed piece is found again
//! or is not: anchors, panels and vents are paired with what the record lists by the least total distance
//! along the wall line, so that a piece built elsewhere is told with how far it is off. There is no
//! tolerance: how much is too much is for the checks to say, run over what was built (see
//! [`before_after`](crate::before_after)).
//!
//! What the record does not tell is never taken as built: a piece whose washer nobody wrote down still has to
//! be looked at, and a piece in a stretch that nobody saw is not seen.
//!
//! ```
//! use retrofit_core::house::{AsBuilt, House};
//! use retrofit_core::prices::UnitPrices;
//! use retrofit_core::provisions::Library;
//! use retrofit_core::remedy::design;
//! use retrofit_core::sign_off::{Status, sign_off};
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
//! let found = AsBuilt::new(house).expect("the record makes sense");
//! let provisions = Library::shipped().set(Library::DEFAULT_SET).expect("the shipped tables are in order");
//! let remedy = design(&found, &provisions, UnitPrices::placeholder());
//!
//! // Built as designed, and not built at all.
//! let north = &sign_off(&remedy, &remedy.after)[0];
//! assert!(north.pieces.iter().all(|piece| piece.built.status() == Status::AsDesigned));
//! let north = &sign_off(&remedy, &remedy.taken_as)[0];
//! assert!(north.pieces.iter().all(|piece| piece.built.status() == Status::NotBuilt));
//! # Ok::<(), serde_json::Error>(())
//! ```

mod anchors;
mod differences;
mod framing;
mod pairing;
mod panels;
mod vents;

use crate::check::{LookAt, Quantity};
use crate::choice::choices;
use crate::house::{AsBuilt, Parts, Span, WallLine, Washer};
use crate::measure::Length;
use crate::remedy::{Framing, LineRemedy, NewAnchor, NewPanel, PanelMake, Remedy, RimWork, SillWork};

/// What was built along one wall line, against what was designed.
#[derive(Clone, Debug, PartialEq)]
pub struct LineSignOff {
    /// The wall line, by its position in the house that the remedy was designed for.
    pub wall_line: usize,
    /// Its position in the record as built; `None` where that does not tell of it.
    pub in_record: Option<usize>,
    /// Every designed piece, in the order of the work: sill, anchors, panels, framing, floor.
    pub pieces: Vec<DesignedPiece>,
    /// What was built and not designed.
    pub not_designed: Vec<NotDesigned>,
    /// The parts of the work for which there was no layout.
    pub without_layout: Vec<Parts>,
}

/// A designed piece of work, and what was built of it.
#[derive(Clone, Debug, PartialEq)]
pub struct DesignedPiece {
    /// What was designed.
    pub what: Designed,
    /// Where.
    pub span: Span,
    /// What was built.
    pub built: Built,
}

/// What was designed.
#[derive(Clone, Debug, PartialEq)]
pub enum Designed {
    /// A new anchor.
    Anchor(NewAnchor),
    /// An old anchor that counts and has to stay.
    KeptAnchor,
    /// An old anchor that counts once it is mended.
    MendedAnchor {
        /// The washer it gets.
        washer: Option<Washer>,
        /// Whether its nut is made tight.
        tighten: bool,
    },
    /// A new panel, and what it is made of.
    Panel(Box<NewPanel>, PanelMake),
    /// An old panel that counts and has to stay; ventilation holes of this diameter are drilled through it.
    KeptPanel(Option<Length>),
    /// An old panel that is taken off.
    PanelTakenOff,
    /// A vent moved from where it was.
    MovedVent {
        /// Where it was.
        from: Span,
    },
    /// A vent closed.
    ClosedVent,
    /// A sill piece replaced.
    Sill(SillWork),
    /// Work on the framing.
    Framing(Framing),
    /// Blocks or an end joist between the joists.
    Rim(RimWork),
    /// Framing clips.
    Clips {
        /// How many.
        count: usize,
        /// Their spacing.
        spacing: Length,
    },
}

/// What was built of a designed piece.
#[derive(Clone, Debug, PartialEq)]
pub enum Built {
    /// It is there.
    There(There),
    /// It is not.
    Not,
    /// The record does not tell.
    NotSeen,
}

/// A designed piece that was built.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct There {
    /// How far its beginning is from where it was designed, toward the end of the wall line.
    pub off_at_beginning: Length,
    /// And its end; of an anchor the same.
    pub off_at_end: Length,
    /// In what else it differs.
    pub differences: Vec<Difference>,
}

/// Something in which a piece is not as designed, or of which the record does not tell.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Difference {
    /// The observation.
    pub look_at: LookAt,
    /// What was designed.
    pub designed: Quantity,
    /// What was built; nothing where the record does not tell.
    pub built: Quantity,
    /// How they compare.
    pub is: Compared,
}

choices! {
    /// How what was built compares with what was designed.
    pub enum Compared: "comparison" {
        /// Less than designed.
        Less = "less", "less than designed";
        /// More than designed.
        More = "more", "more than designed";
        /// Something else.
        Other = "other", "other than designed";
        /// The record does not tell.
        NotRecorded = "not_recorded", "not recorded";
    }
}

choices! {
    /// What became of a designed piece, in one word.
    pub enum Status: "what became of a designed piece" {
        /// Built where and as it was designed.
        AsDesigned = "as_designed", "built as designed";
        /// Built where it was designed, and what is recorded of it is as designed; something is not recorded.
        NotAllRecorded = "not_all_recorded", "built as designed as far as recorded";
        /// Built where it was designed, and otherwise: of another make, or longer or shorter.
        Differently = "differently", "built differently";
        /// Built elsewhere: neither end is where it was designed.
        Elsewhere = "elsewhere", "built elsewhere";
        /// Not built.
        NotBuilt = "not_built", "not built";
        /// The record does not tell whether it was built.
        NotSeen = "not_seen", "not seen";
    }
}

impl Built {
    /// What became of the piece, in one word.
    pub fn status(&self) -> Status {
        match self {
            Self::Not => Status::NotBuilt,
            Self::NotSeen => Status::NotSeen,
            Self::There(there) if there.is_moved() => Status::Elsewhere,
            // One end is where it should be: it is longer or shorter.
            Self::There(there) if there.off() != Length::ZERO => Status::Differently,
            Self::There(there) if there.differences.is_empty() => Status::AsDesigned,
            Self::There(there) => {
                let is_open = |difference: &Difference| difference.is == Compared::NotRecorded;
                if there.differences.iter().all(is_open) {
                    Status::NotAllRecorded
                } else {
                    Status::Differently
                }
            }
        }
    }

    fn differing(differences: Vec<Difference>) -> Self {
        Self::There(There {
            differences,
            ..There::default()
        })
    }
}

impl There {
    /// How far it is from where it was designed, at the end that is farther off.
    pub fn off(&self) -> Length {
        let distance = |off: Length| off.abs_diff(Length::ZERO);
        distance(self.off_at_beginning).max(distance(self.off_at_end))
    }

    /// Whether neither end is where it was designed.
    pub fn is_moved(&self) -> bool {
        self.off_at_beginning != Length::ZERO && self.off_at_end != Length::ZERO
    }

    fn at(designed: (Length, Length), built: (Length, Length), differences: Vec<Difference>) -> Self {
        Self {
            off_at_beginning: built.0.saturating_sub(designed.0),
            off_at_end: built.1.saturating_sub(designed.1),
            differences,
        }
    }
}

/// Something that was built and not designed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct NotDesigned {
    /// Anchors, panels, openings or connections.
    pub part: Parts,
    /// Its position in that list of the record as built.
    pub item: usize,
    /// Where it is, as far as that is recorded.
    pub span: Option<Span>,
}

/// Holds the record of a house as built against a remedy, wall line by wall line in the order of the remedy.
/// Wall lines are found by name.
pub fn sign_off(remedy: &Remedy, built: &AsBuilt) -> Vec<LineSignOff> {
    let lines = remedy.lines.iter();
    lines
        .filter_map(|line| {
            let found = remedy.taken_as.wall_lines.get(line.wall_line)?;
            let in_record = built.wall_lines.iter().position(|wall| wall.name == found.name);
            let nothing = WallLine::default();
            let built = in_record.and_then(|index| built.wall_lines.get(index));
            Some(line_sign_off(line, found, built.unwrap_or(&nothing), in_record))
        })
        .collect()
}

/// A wall line as found and as built.
struct Walls<'a> {
    found: &'a WallLine,
    built: &'a WallLine,
}

impl Walls<'_> {
    /// What is to be said of a piece that is not among what the record lists.
    fn missing(&self, part: Parts, span: Span) -> Built {
        let length = self.found.length.value().copied();
        let is_hidden = |(from, to): (Length, Option<Length>)| {
            // A station alone is hidden where it lies within the stretch, its ends included.
            from <= span.to.unwrap_or(span.from) && to.is_none_or(|to| span.from <= to)
        };
        let mut unseen = self.built.unseen_of(part).map(|unseen| unseen.span(length));
        if unseen.any(|unseen| is_hidden((unseen.from, unseen.to))) {
            Built::NotSeen
        } else {
            Built::Not
        }
    }
}

fn line_sign_off(
    line: &LineRemedy,
    found: &WallLine,
    built: &WallLine,
    in_record: Option<usize>,
) -> LineSignOff {
    let walls = Walls { found, built };
    let mut sign_off = LineSignOff {
        wall_line: line.wall_line,
        in_record,
        pieces: Vec::new(),
        not_designed: Vec::new(),
        without_layout: Vec::new(),
    };
    framing::sill(line, &walls, &mut sign_off);
    anchors::anchors(line, &walls, &mut sign_off);
    panels::panels(line, &walls, &mut sign_off);
    vents::vents(line, &walls, &mut sign_off);
    framing::framing(line, &walls, &mut sign_off);
    framing::floor(line, &walls, &mut sign_off);
    for (part, declined) in [
        (Parts::Anchors, line.anchors.declined()),
        (Parts::Panels, line.panels.declined()),
        (Parts::Connections, line.floor.declined()),
    ] {
        if declined.is_some() {
            sign_off.without_layout.push(part);
        }
    }
    sign_off
}

#[cfg(test)]
mod tests {
    use rstest::rstest;
    use serde_json::{Value, json};

    use super::*;
    use crate::house::House;
    use crate::prices::UnitPrices;
    use crate::provisions::Library;
    use crate::remedy::design;

    /// 52 ft with one old bolt that counts, one with a small washer, and nothing else.
    fn found() -> House {
        let house = json!({
            "format": "house-1", "name": "trial",
            "building": {"stories": 1, "exterior": "wood", "roof": "light"},
            "wall_lines": [{
                "name": "north", "length": "52 ft",
                "foundation": [{"kind": "concrete", "condition": "sound"}],
                "anchors": [old_bolt("1 ft", "3 in x 3 in x 1/4 in"), old_bolt("7 ft", "cut")],
                "panels": [], "openings": [],
                "cripple_wall": [{"height": "2 ft", "tallest_stud": "20 in", "stud_spacing": "16 in"}],
            }],
        });
        serde_json::from_value(house).unwrap()
    }

    fn old_bolt(at: &str, washer: &str) -> Value {
        json!({
            "at": at, "kind": "cast_in_place", "diameter": "1/2 in", "embedment": "7 in", "edge_distance": "3 in",
            "washer": washer, "tightness": "snug", "corrosion": "light",
        })
    }

    fn remedy() -> Remedy {
        let set = Library::shipped().set(Library::DEFAULT_SET).unwrap();
        let house = AsBuilt::new(found()).unwrap();
        design(&house, &set, UnitPrices::placeholder())
    }

    /// The sign-off of what was built as designed, but for what a test changes in its record.
    fn signed(change: impl FnOnce(&mut Value)) -> LineSignOff {
        let remedy = remedy();
        let mut built = serde_json::to_value(&remedy.after).unwrap();
        change(&mut built["wall_lines"][0]);
        let built = AsBuilt::new(serde_json::from_value(built).unwrap()).unwrap();
        sign_off(&remedy, &built).remove(0)
    }

    /// The statuses of what is not as designed, with what it is.
    fn otherwise(line: &LineSignOff) -> Vec<(&Designed, Status)> {
        let pieces = line.pieces.iter();
        pieces
            .map(|piece| (&piece.what, piece.built.status()))
            .filter(|(_, status)| *status != Status::AsDesigned)
            .collect()
    }

    fn differences(line: &LineSignOff) -> Vec<(LookAt, Compared)> {
        let there = line.pieces.iter().filter_map(|piece| match &piece.built {
            Built::There(there) => Some(&there.differences),
            _ => None,
        });
        there.flatten().map(|one| (one.look_at, one.is)).collect()
    }

    #[test]
    fn as_designed() {
        let line = signed(|_| {});
        assert_eq!(otherwise(&line), []);
        assert_eq!(line.not_designed, []);
        let is = |what: fn(&Designed) -> bool| line.pieces.iter().filter(|piece| what(&piece.what)).count();
        assert_eq!(is(|what| matches!(what, Designed::KeptAnchor)), 1);
        assert_eq!(is(|what| matches!(what, Designed::MendedAnchor { .. })), 1);
        assert!(is(|what| matches!(what, Designed::Anchor(_))) > 5);
        assert!(is(|what| matches!(what, Designed::Panel(..))) >= 2);
    }

    /// The records of the new anchors stand behind those of the two old ones.
    #[rstest]
    #[case("kind", json!("expansion"), LookAt::AnchorKind, Compared::Other, Status::Differently)]
    #[case("diameter", json!("3/8 in"), LookAt::AnchorDiameter, Compared::Less, Status::Differently)]
    #[case("diameter", json!("5/8 in"), LookAt::AnchorDiameter, Compared::More, Status::Differently)]
    #[case("diameter", json!({"unknown": "?"}), LookAt::AnchorDiameter, Compared::NotRecorded, Status::NotAllRecorded)]
    #[case("washer", json!("cut"), LookAt::AnchorWasher, Compared::Other, Status::Differently)]
    #[case("tightness", json!("loose"), LookAt::AnchorTightness, Compared::Other, Status::Differently)]
    #[case("tightness", json!({"unknown": "?"}), LookAt::AnchorTightness, Compared::NotRecorded, Status::NotAllRecorded)]
    fn an_anchor_of_another_make(
        #[case] field: &str,
        #[case] built: Value,
        #[case] look_at: LookAt,
        #[case] is: Compared,
        #[case] status: Status,
    ) {
        let line = signed(|wall| wall["anchors"][2][field] = built);
        assert_eq!(differences(&line), [(look_at, is)]);
        assert_eq!(otherwise(&line)[0].1, status);
        assert_eq!(otherwise(&line).len(), 1);
    }

    #[rstest]
    #[case("thickness", json!("3/8 in"), LookAt::SheathingThickness, Compared::Less)]
    #[case("nail", json!("8d box"), LookAt::PanelNail, Compared::Other)]
    #[case("edge_nailing", json!("6 in"), LookAt::EdgeNailing, Compared::More)]
    #[case("foot", json!("short"), LookAt::PanelFoot, Compared::Other)]
    #[case("sheathing", json!({"unknown": "painted"}), LookAt::Sheathing, Compared::NotRecorded)]
    #[case("cut_through", json!(true), LookAt::CutThrough, Compared::Other)]
    fn a_panel_of_another_make(
        #[case] field: &str,
        #[case] built: Value,
        #[case] look_at: LookAt,
        #[case] is: Compared,
    ) {
        let line = signed(|wall| wall["panels"][0][field] = built);
        assert_eq!(differences(&line), [(look_at, is)]);
        assert_eq!(otherwise(&line).len(), 1);
    }

    #[test]
    fn more_nails_and_thicker_sheathing_are_as_designed() {
        let line = signed(|wall| {
            wall["panels"][0]["edge_nailing"] = json!("3 in");
            wall["panels"][0]["thickness"] = json!("19/32 in");
        });
        assert_eq!(otherwise(&line), []);
    }

    #[test]
    fn an_anchor_elsewhere_is_told_with_its_distance_and_one_left_out_is_not_built() {
        let line = signed(|wall| {
            let at: Length = wall["anchors"][3]["at"].as_str().unwrap().parse().unwrap();
            wall["anchors"][3]["at"] = json!(at.saturating_sub(Length::inches(8)));
        });
        let piece = line
            .pieces
            .iter()
            .find(|piece| piece.built.status() == Status::Elsewhere)
            .unwrap();
        let Built::There(there) = &piece.built else {
            panic!()
        };
        assert_eq!(there.off_at_beginning, Length::inches(-8));
        assert_eq!(there.off(), Length::inches(8));
        assert_eq!(line.not_designed, []);

        let line = signed(|wall| drop(wall["anchors"].as_array_mut().unwrap().remove(3)));
        assert!(matches!(
            otherwise(&line)[..],
            [(Designed::Anchor(_), Status::NotBuilt)]
        ));
    }

    #[test]
    fn an_old_anchor_cut_off_is_no_longer_there_and_none_of_the_new_takes_its_place() {
        let line = signed(|wall| drop(wall["anchors"].as_array_mut().unwrap().remove(0)));
        assert_eq!(otherwise(&line), [(&Designed::KeptAnchor, Status::NotBuilt)]);
        let line = signed(|wall| wall["anchors"][1]["washer"] = json!("cut"));
        assert!(matches!(
            otherwise(&line)[..],
            [(Designed::MendedAnchor { .. }, Status::Differently)]
        ));
    }

    #[test]
    fn a_panel_one_bay_short_is_built_differently() {
        let line = signed(|wall| {
            let to: Length = wall["panels"][0]["to"].as_str().unwrap().parse().unwrap();
            wall["panels"][0]["to"] = json!(to.saturating_sub(Length::inches(16)));
        });
        assert!(matches!(
            otherwise(&line)[..],
            [(Designed::Panel(..), Status::Differently)]
        ));
    }

    #[test]
    fn what_is_there_and_was_not_designed_is_told() {
        let line = signed(|wall| {
            let bolt = old_bolt("20 in", "cut");
            wall["anchors"].as_array_mut().unwrap().push(bolt);
        });
        assert_eq!(otherwise(&line), []);
        let [extra] = line.not_designed[..] else { panic!() };
        assert_eq!(extra.part, Parts::Anchors);
        assert_eq!(
            extra.span,
            Some(Span::new(Length::inches(20), Length::inches(20)))
        );
    }

    /// Nothing that the record does not tell of is built as designed, and nothing of it is called missing.
    #[rstest]
    #[case("anchors", json!({"unknown": "a new lining hides them"}))]
    #[case("panels", json!({"unknown": "a new lining hides them"}))]
    #[case("unseen", json!([{"why": "water under the house"}]))]
    #[case("anchors", json!([{"spacing": "6 ft", "first": "1 ft", "last": "51 ft", "kind": "adhesive"}]))]
    #[case("panels", json!([{"total_length": "22 ft", "at_each_end": true}]))]
    fn what_is_not_told_is_not_seen(#[case] field: &str, #[case] built: Value) {
        let line = signed(|wall| {
            if field == "unseen" {
                wall["anchors"] = json!([]);
                wall["panels"] = json!([]);
            }
            wall[field] = built;
        });
        let is_of_field = |what: &Designed| match field {
            "panels" => matches!(what, Designed::Panel(..)),
            "anchors" => !matches!(what, Designed::Panel(..)),
            _ => true,
        };
        let mut of_field = line
            .pieces
            .iter()
            .filter(|piece| is_of_field(&piece.what))
            .peekable();
        assert!(of_field.peek().is_some());
        for piece in of_field {
            assert_eq!(piece.built, Built::NotSeen, "{:?}", piece.what);
        }
    }

    #[test]
    fn a_wall_line_that_is_not_in_the_record_is_not_seen() {
        let remedy = remedy();
        let mut built = found();
        built.wall_lines[0].name = "south".to_owned();
        let line = sign_off(&remedy, &AsBuilt::new(built).unwrap()).remove(0);
        assert_eq!(line.in_record, None);
        assert!(line.pieces.iter().all(|piece| piece.built == Built::NotSeen));
    }
}
