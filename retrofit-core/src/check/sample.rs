//! A house for tests: well strengthened, one story, met everywhere under the default set.

use super::{Finding, Outcome, Outcomes, Ruling, assess, check_named};
use crate::house::{
    Anchor, AnchorKind, AsBuilt, Building, Connection, ConnectionKind, Corrosion, CrippleStretch,
    ExteriorWall, FoundationCondition, FoundationKind, FoundationStretch, House, Installed, JoistDirection,
    Nail, Opening, OpeningKind, Panel, PanelFoot, PlanPoint, Post, PostBase, PostTop, Reinforcing, Rim, Roof,
    Shank, Sheathing, SillAgainstStuds, SillPiece, SillSoundness, SillTreatment, Site, Stories, Tightness,
    TopPlate, WallLine, Washer,
};
use crate::measure::{Area, Length, Slope};
use crate::observation::Observed;
use crate::provisions::{Library, Provisions, TableFile};
use serde_json::Value;

/// One wall line of 24 ft, everything about it seen, everything as the default set asks.
pub(super) fn good_house() -> House {
    let corner = |x: i64, y: i64| PlanPoint {
        x: Length::feet(x),
        y: Length::feet(y),
    };
    House {
        name: "Lantern Quince Lane".into(),
        site: Site {
            slope: Observed::measured(Slope::new(1, 10).unwrap()),
            ..Site::default()
        },
        building: Building {
            stories: Observed::seen(Stories::whole(1)),
            units: Observed::seen(1),
            year_built: Observed::reported(1931),
            outline: vec![corner(0, 0), corner(24, 0), corner(24, 30), corner(0, 30)],
            exterior: Observed::seen(ExteriorWall::Wood),
            interior_plaster: Observed::seen(true),
            roof: Observed::seen(Roof::Light),
            veneer_height: Observed::seen(Length::ZERO),
            floors_at_one_level: Observed::seen(true),
            rooms_over_garage: Observed::seen(false),
            slab_or_pole_portion: Observed::seen(false),
            ..Building::default()
        },
        wall_lines: vec![good_wall_line()],
        continuous_perimeter: Observed::seen(true),
        crawl_space_area: Observed::measured(Area::square_feet(600)),
        posts: Observed::seen(vec![Post {
            top: Observed::seen(PostTop::Connected),
            base: Observed::seen(PostBase::Connected),
            sound_and_plumb: Observed::seen(true),
            ..Post::default()
        }]),
        earlier_retrofit: Observed::seen(true),
        ..House::default()
    }
}

fn good_wall_line() -> WallLine {
    WallLine {
        name: "north".into(),
        length: Observed::measured(Length::feet(24)),
        joists: Observed::seen(JoistDirection::Perpendicular),
        rim: Observed::seen(Rim::Continuous),
        foundation: Observed::seen(vec![FoundationStretch {
            kind: Observed::seen(FoundationKind::Concrete),
            condition: Observed::seen(FoundationCondition::Sound),
            footing_width: Observed::measured(Length::inches(12)),
            footing_thickness: Observed::measured(Length::inches(6)),
            footing_depth: Observed::measured(Length::inches(12)),
            reinforcing: Observed::reported(Reinforcing::TopAndBottom),
            ..FoundationStretch::default()
        }]),
        sill: Observed::seen(vec![SillPiece {
            thickness: Observed::measured(Length::sixty_fourths(96)),
            against_studs: Observed::seen(SillAgainstStuds::Flush),
            treatment: Observed::seen(SillTreatment::Treated),
            soundness: Observed::seen(SillSoundness::Sound),
            installed: Observed::seen(Installed::Original),
            ..SillPiece::default()
        }]),
        anchors: Observed::seen([1, 6, 11, 16, 20, 23].map(good_anchor).to_vec()),
        cripple_wall: Observed::seen(vec![CrippleStretch {
            height: Observed::measured(Length::inches(24)),
            shortest_stud: Observed::measured(Length::inches(19)),
            tallest_stud: Observed::measured(Length::inches(19)),
            top_plate: Observed::seen(TopPlate::Double),
            plate_splices_tied: Observed::seen(true),
            solid_blocked: Observed::seen(false),
            ..CrippleStretch::default()
        }]),
        panels: Observed::seen([(0, 6), (10, 14), (18, 24)].map(good_panel).to_vec()),
        connections: Observed::seen(vec![Connection {
            kind: Observed::seen(ConnectionKind::Clips),
            spacing: Observed::measured(Length::inches(16)),
            ..Connection::default()
        }]),
        openings: Observed::seen(vec![Opening {
            from: Length::feet(8),
            to: Length::feet(9),
            kind: OpeningKind::Vent,
            top: Observed::measured(Length::inches(12)),
            net_area: Observed::measured(Area::square_feet(4)),
        }]),
        ..WallLine::default()
    }
}

/// An anchor at a station in feet that counts under the default set.
pub(super) fn good_anchor(feet: i64) -> Anchor {
    Anchor {
        at: Some(Length::feet(feet)),
        kind: Observed::seen(AnchorKind::Adhesive),
        diameter: Observed::measured(Length::sixty_fourths(32)),
        embedment: Observed::reported(Length::inches(7)),
        edge_distance: Observed::measured(Length::inches(3)),
        washer: Observed::measured("3 in x 3 in x 0.229 in".parse::<Washer>().unwrap()),
        tightness: Observed::seen(Tightness::Snug),
        corrosion: Observed::seen(Corrosion::Light),
        installed: Observed::seen(Installed::Added),
        ..Anchor::default()
    }
}

/// A panel between stations in feet that counts under the default set.
pub(super) fn good_panel((from, to): (i64, i64)) -> Panel {
    Panel {
        from: Some(Length::feet(from)),
        to: Some(Length::feet(to)),
        sheathing: Observed::seen(Sheathing::Plywood),
        thickness: Observed::measured(Length::sixty_fourths(30)),
        nail: Observed::seen(Nail {
            penny: 8,
            shank: Shank::Common,
        }),
        edge_nailing: Observed::measured(Length::inches(4)),
        field_nailing: Observed::measured(Length::inches(12)),
        nails_flush: Observed::seen(true),
        joints_blocked: Observed::seen(true),
        foot: Observed::seen(PanelFoot::Sill),
        cut_through: Observed::seen(false),
        vent_holes: Observed::measured(Length::inches(2)),
        closes_stud_bays: Observed::seen(true),
        ..Panel::default()
    }
}

/// What one check finds in a house under a shipped set.
pub(super) fn findings(house: House, set_id: &str, check_name: &str) -> Vec<Finding> {
    findings_under(house, &shipped(set_id), check_name)
}

/// The same under any set.
pub(super) fn findings_under(house: House, provisions: &Provisions, check_name: &str) -> Vec<Finding> {
    check_named(check_name).expect("a check of this name");
    let house = AsBuilt::new(house).expect("a record that makes sense");
    assess(&house, provisions)
        .findings
        .into_iter()
        .filter(|finding| finding.check().name == check_name)
        .collect()
}

/// The good house after changes: `path = JSON`, one after another with `;` between, where `?` makes unknown.
/// `wall` is its wall line, `panel` is each of its panels.
pub(super) fn changed(changes: &str) -> House {
    let mut house = serde_json::to_value(good_house()).unwrap();
    for change in changes
        .split(';')
        .map(str::trim)
        .filter(|change| !change.is_empty())
    {
        let (path, value) = change.split_once(" = ").expect("path = value");
        let (parent, field) = path.rsplit_once('.').unwrap_or(("", path));
        let pointer = |parent: &str| {
            let parent = match parent.strip_prefix("wall") {
                Some(rest) => format!("wall_lines.0{rest}"),
                None => parent.to_owned(),
            };
            parent
                .split('.')
                .filter(|part| !part.is_empty())
                .fold(String::new(), |path, part| path + "/" + part)
        };
        let parents: Vec<String> = if parent == "panel" {
            (0..3)
                .map(|panel| pointer(&format!("wall.panels.{panel}")))
                .collect()
        } else {
            vec![pointer(parent)]
        };
        for parent in parents {
            let parent = house
                .pointer_mut(&parent)
                .and_then(Value::as_object_mut)
                .expect(path);
            parent.remove(field);
            if value != "?" {
                parent.insert(field.into(), serde_json::from_str(value).expect(value));
            }
        }
    }
    serde_json::from_value(house).expect(changes)
}

/// What one check comes to in the good house after changes, all its findings together.
pub(super) fn ruling_after(changes: &str, provisions: &Provisions, check_name: &str) -> Ruling {
    findings_under(changed(changes), provisions, check_name)
        .into_iter()
        .map(|finding| finding.outcomes)
        .fold(Outcomes::only(Outcome::NotApplicable), Outcomes::strictest)
        .ruling()
}

/// A shipped set.
pub(super) fn shipped(set_id: &str) -> Provisions {
    Library::shipped().set(set_id).expect("a shipped set in order")
}

/// The default set with rows of a user's folder laid over it: figure, comparison and value.
pub(super) fn amended(rows: &[(&str, &str, &str)]) -> Provisions {
    let table = |name: &str, text: String| TableFile {
        path: format!("test/{name}"),
        name: name.to_owned(),
        text,
    };
    let sources =
        "source,document,edition,publisher,where,seen_on,note\ntest,A folder of a test,,,not seen,,\n";
    let head = "figure,stories,weight,diameter,piece_over,piece_up_to,stud_over,stud_up_to,compare,value,source,section,standing,note\n";
    let rows = rows
        .iter()
        .fold(head.to_owned(), |table, (figure, compare, value)| {
            table + &format!("{figure},,,,,,,,{compare},{value},test,,memory,\n")
        });
    let mut library = Library::shipped().clone();
    library.add_folder(
        Library::DEFAULT_SET,
        vec![table("sources.csv", sources.to_owned()), table("rows.csv", rows)],
    );
    library.set(Library::DEFAULT_SET).expect("rows in order")
}

#[test]
fn the_good_house_is_met_everywhere_under_the_default_set() {
    let provisions = shipped(Library::DEFAULT_SET);
    let house = AsBuilt::new(good_house()).unwrap();
    for finding in assess(&house, &provisions).findings {
        let ruling = finding.outcomes.ruling();
        assert!(
            matches!(ruling, Ruling::Met | Ruling::NotApplicable),
            "{}: {ruling:?}: {}",
            finding.check().name,
            finding.fact
        );
    }
}
