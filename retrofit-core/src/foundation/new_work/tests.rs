use std::sync::LazyLock;

use approx::assert_relative_eq;
use proptest::prelude::*;
use rstest::rstest;

use super::*;
use crate::choice::Choice;
use crate::house::Washer;
use crate::measure::Area;
use crate::provisions::{FigureName, Library, TableFile};
use crate::screen::nds::{BeamLimit, Wood};
use crate::screen::{POUND, PSF, StandardTable};

static CRC: LazyLock<Provisions> =
    LazyLock::new(|| Library::shipped().set("crc-2013-new-construction").unwrap());

fn table() -> &'static FootingTable {
    FootingTable::shipped().unwrap()
}

fn standards() -> &'static Standards {
    Standards::shipped().unwrap()
}

/// A length of which everything is known.
fn known(work: NewWork) -> SizingInput {
    SizingInput {
        stories: Observed::seen(Stories::whole(1)),
        soil: Some(SoilClass::Clay),
        line_load: Some(Ends {
            low: 500.0,
            high: 800.0,
        }),
        top_of_sill: Some(Length::inches(18)),
        frost_depth: Some(Length::ZERO),
        expansive: Truth::False,
        fill: Truth::False,
        seismic_category: Some(SeismicCategory::D2),
        old: OldFoundation {
            kind: Observed::seen(FoundationKind::Concrete),
            condition: Observed::seen(FoundationCondition::Sound),
            ..OldFoundation::default()
        },
        ..SizingInput::new(work)
    }
}

fn size(input: &SizingInput) -> Result<NewFoundation, SizingError> {
    NewFoundation::size(input, table(), standards(), &CRC)
}

fn wall(sized: &NewFoundation) -> &Wall {
    match &sized.work {
        Work::Wall(wall) => wall,
        Work::Cap(_) => panic!("a cap is no wall"),
    }
}

fn sized_wall(input: &SizingInput) -> Wall {
    wall(&size(input).unwrap()).clone()
}

/// California Residential Code 2013, Table R403.1: with no load known the width is the table's.
#[rstest]
#[case(1, SoilClass::Clay, 12)]
#[case(2, SoilClass::Clay, 15)]
#[case(3, SoilClass::Clay, 23)]
#[case(2, SoilClass::Sand, 12)]
#[case(3, SoilClass::Sand, 17)]
#[case(3, SoilClass::Gravel, 12)]
#[case(3, SoilClass::Sedimentary, 12)]
#[case(3, SoilClass::Bedrock, 12)]
fn widths_of_the_table(#[case] stories: u8, #[case] soil: SoilClass, #[case] inches: i64) {
    let input = SizingInput {
        stories: Observed::seen(Stories::whole(stories)),
        soil: Some(soil),
        line_load: None,
        ..known(NewWork::Replacement)
    };
    let sized = size(&input).unwrap();
    assert_eq!(wall(&sized).section.footing_width, Length::inches(inches));
    let thicker = sized
        .flags
        .iter()
        .any(|flag| matches!(flag, Flag::ThickerForProjection { .. }));
    // A footing 23 in wide projects 8-1/2 in from a stem wall of 6 in, and is made 9 in thick.
    assert_eq!(thicker, inches == 23);
    let thickness = if inches == 23 { 9 } else { 6 };
    assert_eq!(wall(&sized).section.footing_thickness, Length::inches(thickness));
}

/// Tables of strip widths for house builders (NAHB/HUD), as reprinted by the Boulder library: load over bearing, in
/// whole inches. The weight of wall and footing comes on top here, and only that.
#[rstest]
#[case(1500.0, SoilClass::Clay, 12)]
#[case(2500.0, SoilClass::Clay, 20)]
#[case(2500.0, SoilClass::Sand, 15)]
fn widths_by_load(#[case] plf: f64, #[case] soil: SoilClass, #[case] printed: i64) {
    let input = SizingInput {
        soil: Some(soil),
        line_load: Some(Ends { low: 0.0, high: plf }),
        ..known(NewWork::Replacement)
    };
    let wall = sized_wall(&input);
    let by_load = wall.footing.by_load.unwrap();
    let bearing = standards().soil.bearing_figure(Some(soil)).to(PSF);
    let needed = (plf + by_load.own_plf) / bearing * 12.0;
    assert!(by_load.width >= Length::inches(printed));
    // What is whole already must not become the next inch by its last bit.
    let up = |inches: f64| (inches - 1e-9).ceil();
    assert_relative_eq!(by_load.width.as_inches_f64(), up(needed));
    let without_own = needed - by_load.own_plf / bearing * 12.0;
    assert_relative_eq!(up(without_own), Length::inches(printed).as_inches_f64());
    // 1 ft by 6 in of footing and 6 in by 20-1/2 in of stem wall, at 150 pcf.
    if printed == 12 {
        let section = wall.section.concrete().as_square_feet_f64();
        assert_relative_eq!(by_load.own_plf, section * 150.0, max_relative = 1e-9);
    }
}

/// California Residential Code 2013, R403.1.3, R403.1.3.1, R403.1.4 and R404.1.2.3.7.4, measured in the section.
#[test]
fn the_section_of_the_residential_code() {
    let section = sized_wall(&known(NewWork::Replacement)).section;
    assert_eq!(section.depth_below_grade, Length::inches(12));
    assert_eq!(section.stem_thickness, Length::inches(6));
    assert_eq!(section.stem_offset, Length::inches(3));
    // 18 in to the top of a sill of 1-1/2 in, and 12 in less 6 in below the ground.
    assert_eq!(section.stem_height, Length::sixty_fourths(45 * 32));
    assert_eq!(
        (section.sill_width, section.sill_thickness),
        (Length::sixty_fourths(11 * 32), Length::sixty_fourths(96))
    );
    let [bottom, top] = section.bars.as_slice() else {
        panic!("two bars")
    };
    assert_eq!(
        (bottom.place, top.place),
        (BarPlace::BottomOfFooting, BarPlace::TopOfStem)
    );
    assert_eq!((bottom.size, top.size), (BarSize::No4, BarSize::No4));
    let radius = Length::sixty_fourths(16);
    let underside = bottom.y.saturating_sub(radius);
    assert!((Length::inches(3)..=Length::inches(4)).contains(&underside));
    assert!(underside <= bottom.within.value);
    assert!(section.top().saturating_sub(top.y) <= Length::inches(12));
    assert_eq!(top.within.value, Length::inches(12));
    assert_eq!(section.vertical.from, Length::inches(3));
    assert!(section.vertical.to.saturating_sub(section.footing_thickness) >= Length::inches(14));
    assert!(section.vertical.spacing.value <= section.vertical.spacing_most.value);
    // 2 x 0.20 sq in over 12 x 6 + 6 x 22.5 sq in.
    assert_relative_eq!(section.steel.ratio, 0.4 / 207.0, max_relative = 1e-12);
    assert!(!section.steel.reaches_rule());
    assert_eq!(section.concrete(), Area::square_inches(207));
}

#[rstest]
#[case::none(None, 12, true)]
#[case::no_frost(Some(0), 12, false)]
#[case::shallow(Some(10), 12, false)]
#[case::deep(Some(30), 30, false)]
fn frost(#[case] depth: Option<i64>, #[case] inches: i64, #[case] is_asked: bool) {
    let input = SizingInput {
        frost_depth: depth.map(Length::inches),
        ..known(NewWork::Replacement)
    };
    let sized = size(&input).unwrap();
    assert_eq!(wall(&sized).section.depth_below_grade, Length::inches(inches));
    let asks = |flag: &Flag| {
        matches!(flag, Flag::FrostDepthNotKnown { .. }) && flag.ask() == Some(Ask::CodeOfficial)
    };
    assert_eq!(sized.flags.iter().any(asks), is_asked);
}

/// Nothing known is never silent: every assumption is a flag.
#[test]
fn what_is_not_known_is_said() {
    let sized = size(&SizingInput::new(NewWork::Replacement)).unwrap();
    let said = |test: fn(&Flag) -> bool| assert!(sized.flags.iter().any(test), "{:?}", sized.flags);
    said(|flag| matches!(flag, Flag::StoriesAssumed { least: 1, taken: 3 }));
    said(|flag| matches!(flag, Flag::SoilAssumed { .. }));
    said(|flag| matches!(flag, Flag::LoadNotKnown));
    said(|flag| matches!(flag, Flag::Expansive(Truth::Maybe)));
    said(|flag| matches!(flag, Flag::Fill(Truth::Maybe)));
    said(|flag| matches!(flag, Flag::FrostDepthNotKnown { .. }));
    said(|flag| matches!(flag, Flag::HeightAssumed { .. }));
    said(|flag| matches!(flag, Flag::DowelsToConfirm));
    let wall = wall(&sized);
    let widths: Vec<Length> = wall.footing.by_table.iter().map(|row| row.width.value).collect();
    assert_eq!(widths, [12, 15, 23].map(Length::inches));
    assert_eq!(
        wall.section.footing_width,
        Length::inches(23),
        "the widest of what is possible"
    );
    assert_eq!(sized.anchors.stories, 3);
    assert_relative_eq!(sized.concrete_psi.value, 3000.0);
    for flag in &sized.flags {
        let words = flag.words();
        assert!(
            words.ends_with('.') && !words.contains("safe") && !words.contains("adequate"),
            "{words}"
        );
    }
}

/// And a house of which everything is known needs no flag.
#[test]
fn what_is_known_is_not_flagged() {
    let sized = size(&known(NewWork::Replacement)).unwrap();
    assert_eq!(sized.flags, []);
    assert_eq!(sized.notes.len(), 2);
    assert!(sized.notes[0].words.contains("6\"") && sized.notes[0].words.contains("10'-0\""));
}

#[rstest]
#[case(4, Some(2000.0), None)]
#[case(4, None, Some(SizingError::NothingToSizeBy { stories: 4, most: 3 }))]
fn more_stories_than_the_table(
    #[case] stories: u8,
    #[case] load: Option<f64>,
    #[case] error: Option<SizingError>,
) {
    let input = SizingInput {
        stories: Observed::seen(Stories::whole(stories)),
        line_load: load.map(|high| Ends { low: 0.0, high }),
        ..known(NewWork::Replacement)
    };
    match (size(&input), error) {
        (Ok(sized), None) => {
            assert!(sized.flags.contains(&Flag::MoreStories { found: 4, most: 3 }));
            assert_eq!(sized.flags[0].ask(), Some(Ask::Engineer));
            assert!(wall(&sized).footing.by_table.is_empty());
        }
        (Err(found), Some(error)) => assert_eq!(found, error),
        (found, error) => panic!("{found:?} {error:?}"),
    }
}

#[rstest]
#[case(FoundationKind::Concrete, FoundationCondition::Sound, Truth::True)]
#[case(FoundationKind::Concrete, FoundationCondition::Cracked, Truth::Maybe)]
#[case(FoundationKind::Concrete, FoundationCondition::Crumbling, Truth::False)]
#[case(FoundationKind::Brick, FoundationCondition::Sound, Truth::False)]
#[case(FoundationKind::Stone, FoundationCondition::Sound, Truth::False)]
fn dowels_only_into_sound_concrete(
    #[case] kind: FoundationKind,
    #[case] condition: FoundationCondition,
    #[case] expected: Truth,
) {
    let old = OldFoundation {
        kind: Observed::seen(kind),
        condition: Observed::seen(condition),
        ..OldFoundation::default()
    };
    assert_eq!(old.holds_dowels(), expected);
    for work in [NewWork::Replacement, NewWork::WallBeside] {
        let sized = size(&SizingInput {
            old: old.clone(),
            ..known(work)
        })
        .unwrap();
        let dowels = &wall(&sized).dowels;
        assert_eq!(dowels.is_some(), expected.possible());
        assert_eq!(
            sized.flags.contains(&Flag::DowelsToConfirm),
            expected == Truth::Maybe
        );
        let stands = expected == Truth::False && work == NewWork::WallBeside;
        assert_eq!(sized.flags.contains(&Flag::StandsForItself), stands);
        if let Some(dowels) = dowels {
            // City of Newark, handout of August 2013: two, 6 in deep, and 24 in apart along old concrete.
            assert_eq!(dowels.at_each_joint.value, 2);
            assert_eq!(dowels.embedment.value, Length::inches(6));
            assert_eq!(dowels.length(), Length::inches(36));
            let along = dowels.along.as_ref().map(|spacing| spacing.value);
            assert_eq!(along, (work == NewWork::WallBeside).then_some(Length::inches(24)));
        }
    }
}

#[test]
fn a_wall_beside_stands_off_center_and_says_so() {
    let sized = size(&known(NewWork::WallBeside)).unwrap();
    let section = &wall(&sized).section;
    assert_eq!(section.stem_offset, Length::ZERO);
    assert_eq!(
        (section.footing_width, section.footing_thickness),
        (Length::inches(12), Length::inches(6))
    );
    let own = wall(&sized).footing.by_load.as_ref().unwrap().own_plf;
    let Some(Flag::OffCenter { by, edge_psf }) = sized.flags.last() else {
        panic!("{:?}", sized.flags)
    };
    assert_eq!(*by, Length::inches(3));
    // Three inches off the center of 12: pressed over 3 x 3 in, at the edge with twice the mean of that part.
    assert_relative_eq!(edge_psf.unwrap(), 2.0 * (800.0 + own) / 0.75, max_relative = 1e-9);
}

#[rstest]
#[case("crc-2013-new-construction", Some(Length::sixty_fourths(17 * 32)), Length::sixty_fourths(17 * 32))]
#[case("cebc-a3-2013", None, Length::inches(6))]
fn a_cap_holds_its_anchors(
    #[case] set: &str,
    #[case] for_anchors: Option<Length>,
    #[case] thickness: Length,
) {
    let set = Library::shipped().set(set).unwrap();
    let sized = NewFoundation::size(&known(NewWork::Cap), table(), standards(), &set).unwrap();
    let Work::Cap(cap) = &sized.work else {
        panic!("a cap")
    };
    assert_eq!((cap.for_anchors, cap.thickness), (for_anchors, thickness));
    // As wide as the old wall is taken to be, its bar in the middle; the sill comes up by its thickness.
    assert_eq!(cap.width, Length::inches(8));
    assert!(cap.bars.iter().all(|bar| bar.x == Length::inches(4)));
    let sill = Length::inches(18).saturating_sub(cap.sill_thickness);
    assert_eq!(sized.sill.above_ground, Some(sill.saturating_add(thickness)));
    assert!(sized.flags.contains(&Flag::CapRaisesSill { by: thickness }));
    assert!(sized.flags.contains(&Flag::OldThicknessAssumed {
        taken: Length::inches(8)
    }));
    assert!(cap.dowels.is_some());
    assert!(sized.flags.contains(&Flag::CapMendsNoBase));
    let is_silent = Flag::NotGiven {
        figure: FigureName::MinEmbedment,
        is_missing: false,
    };
    assert_eq!(sized.flags.contains(&is_silent), for_anchors.is_none());
}

/// California Residential Code 2013, R403.1.6 and R403.1.6.1: 1/2 in bolts, 7 in deep, 6 ft apart, 4 ft over two
/// stories, between seven diameters and 12 in from the ends, two in a piece.
#[rstest]
#[case(1, 6)]
#[case(2, 6)]
#[case(3, 4)]
fn anchors_of_the_residential_code(#[case] stories: u8, #[case] feet: i64) {
    let input = SizingInput {
        stories: Observed::seen(Stories::whole(stories)),
        ..known(NewWork::Replacement)
    };
    let anchors = size(&input).unwrap().anchors;
    assert_eq!(anchors.set, "crc-2013-new-construction");
    let [row] = anchors.rows.as_slice() else {
        panic!("one row")
    };
    assert_eq!(row.diameter, Some(Length::sixty_fourths(32)));
    assert_eq!(row.spacing.value, Length::feet(feet));
    assert_eq!(row.spacing.source.standing, Standing::Verified);
    assert_eq!(anchors.embedment.as_ref().unwrap().value, Length::inches(7));
    let washer = anchors.washer.as_ref().unwrap().value;
    assert!(washer.is_as_good_as(Washer::Plate {
        side: Length::inches(3),
        thickness: "0.229 in".parse().unwrap()
    }));
    let end = Length::sixty_fourths(7 * 32);
    let stations = anchors.stations(Length::feet(10), row).unwrap();
    assert_eq!(stations.first(), Some(&end));
    assert_eq!(stations.last(), Some(&Length::feet(10).saturating_sub(end)));
    assert_eq!(stations.len(), if feet == 6 { 3 } else { 4 });
    assert_eq!(
        anchors.stations(Length::inches(7), row),
        None,
        "too short for two"
    );
}

#[rstest]
#[case::sound(8, false, false)]
#[case::treated(7, true, false)]
#[case::too_low(5, true, true)]
fn a_sill_near_the_ground(#[case] above: i64, #[case] near: bool, #[case] low: bool) {
    let top = Length::inches(above).saturating_add(Length::sixty_fourths(96));
    let sized = size(&SizingInput {
        top_of_sill: Some(top),
        ..known(NewWork::Replacement)
    })
    .unwrap();
    let is_near = |flag: &Flag| matches!(flag, Flag::WoodNearGround { .. });
    let is_low = |flag: &Flag| matches!(flag, Flag::StemTooLow { .. });
    assert_eq!(
        (sized.flags.iter().any(is_near), sized.flags.iter().any(is_low)),
        (near, low)
    );
    // So short a stem wall leaves no 14 in for the uprights.
    assert!(
        sized
            .flags
            .iter()
            .any(|flag| matches!(flag, Flag::UprightsShort { .. }))
    );
}

#[rstest]
#[case::backward(|input: &mut SizingInput| input.line_load = Some(Ends { low: 2.0, high: 1.0 }), "found a load of 2 to 1 plf")]
#[case::not_a_number(|input: &mut SizingInput| input.line_load = Some(Ends { low: f64::NAN, high: 1.0 }), "found a load of NaN")]
#[case::endless(|input: &mut SizingInput| input.line_load = Some(Ends { low: 0.0, high: f64::INFINITY }), "found a load of 0 to inf")]
#[case::enormous(|input: &mut SizingInput| input.line_load = Some(Ends { low: 0.0, high: 1e9 }), "the load needs a footing wider than 4'-0\"")]
#[case::buried(|input: &mut SizingInput| input.top_of_sill = Some(Length::inches(-3)), "found -3\" for the top of the sill")]
#[case::frost(|input: &mut SizingInput| input.frost_depth = Some(Length::feet(13)), "found 13'-0\" for the frost depth")]
#[case::tall(|input: &mut SizingInput| input.top_of_sill = Some(Length::feet(9)), "found a stem wall 9'-")]
#[case::sill(|input: &mut SizingInput| input.sill = (2, 7), "no dressed size of lumber called 2x7")]
fn bad_input_is_refused(#[case] change: fn(&mut SizingInput), #[case] message: &str) {
    let mut input = known(NewWork::Replacement);
    change(&mut input);
    let error = size(&input).unwrap_err().to_string();
    assert!(error.starts_with(message), "{error}");
}

/// Tables of pad sides for house builders (NAHB/HUD), as reprinted by the Boulder library. The pad's own weight
/// comes on top here, and only that.
#[rstest]
#[case(5000.0, SoilClass::Clay, 22)]
#[case(5000.0, SoilClass::Sand, 19)]
#[case(5000.0, SoilClass::Gravel, 16)]
#[case(10_000.0, SoilClass::Sand, 27)]
#[case(10_000.0, SoilClass::Gravel, 22)]
fn pads(#[case] pounds: f64, #[case] soil: SoilClass, #[case] printed: i64) {
    let pier = Pier::size(
        &PierInput {
            load: Ends {
                low: 0.0,
                high: pounds,
            },
            soil: Some(soil),
            post_height: None,
            girder_width: None,
            wood: Wood::DouglasFir,
        },
        table(),
        standards(),
    )
    .unwrap();
    assert!(pier.side >= Length::inches(printed));
    assert!(pier.side <= Length::inches(printed + 2), "{}", pier.side);
    let own = 150.0 * pier.side.as_feet_f64().powi(2) * pier.thickness.as_feet_f64();
    assert!((pounds + own) / pier.side.as_feet_f64().powi(2) <= pier.bearing_psf.value);
    assert!(pier.flags.contains(&Flag::PostHeightNotKnown) && pier.post.is_none());
}

#[test]
fn the_smallest_post_that_will_do() {
    let pier = |pounds: f64, inches: i64| {
        Pier::size(
            &PierInput {
                load: Ends {
                    low: 0.0,
                    high: pounds,
                },
                soil: Some(SoilClass::Gravel),
                post_height: Some(Length::inches(inches)),
                girder_width: Some(Length::sixty_fourths(7 * 32)),
                wood: Wood::DouglasFir,
            },
            table(),
            standards(),
        )
        .unwrap()
    };
    // 625 psi on 3-1/2 in by 3-1/2 in is 7,656 lb; the girder crushes before a short post gives.
    assert_eq!(pier(7600.0, 24).post.unwrap().name, (4, 4));
    assert_eq!(pier(7700.0, 24).post.unwrap().name, (4, 6));
    let (demand, strength) = pier(7600.0, 24).post.unwrap().girder_bearing.unwrap();
    assert_relative_eq!(demand, 7600.0 / 12.25, max_relative = 1e-9);
    assert_relative_eq!(strength, 625.0);
    let none = pier(13_000.0, 24);
    assert!(none.post.is_none() && none.flags.contains(&Flag::NoSizeWillDo("post")));
}

#[test]
fn girders_by_hand() {
    let girder = Girder::size(
        &GirderInput {
            span: Length::feet(6),
            load: Ends {
                low: 400.0,
                high: 600.0,
            },
            live: 400.0,
            support: Length::sixty_fourths(7 * 32),
            joists_fastened: Truth::True,
            wood: Wood::DouglasFir,
        },
        table(),
        standards(),
    )
    .unwrap();
    let least = girder.least().unwrap();
    assert_eq!(least.name, (4, 8));
    // M = 600 x 6 x 6 / 8 lb-ft on S = 3.5 x 7.25^2 / 6 cu in; Fb = 900 x 1.3.
    assert_relative_eq!(
        least.check.share(BeamLimit::Bending),
        2700.0 * 12.0 / 30.661_458_333 / 1170.0,
        max_relative = 1e-9
    );
    assert_relative_eq!(
        least.check.share(BeamLimit::Shear),
        1.5 * 1800.0 / 25.375 / 180.0,
        max_relative = 1e-9
    );
    assert_relative_eq!(
        least.check.share(BeamLimit::Bearing),
        1800.0 / 12.25 / 625.0,
        max_relative = 1e-9
    );
    assert_relative_eq!(least.check.reaction.to(POUND), 1800.0);
    let smaller = girder.tried.iter().find(|size| size.name == (4, 6)).unwrap();
    assert!(!smaller.check.is_within());
}

#[test]
fn both_editions_size_a_house() {
    let by_floors = FootingTable::parse(&StandardTable::shipped("cbc-footings-2013").unwrap()).unwrap();
    let input = SizingInput {
        stories: Observed::seen(Stories::whole(3)),
        line_load: None,
        ..known(NewWork::Replacement)
    };
    let sized = NewFoundation::size(&input, &by_floors, standards(), &CRC).unwrap();
    assert_eq!(wall(&sized).section.footing_width, Length::inches(18));
    assert_eq!(wall(&sized).section.footing_thickness, Length::inches(8));
}

/// Every bar in the concrete by its cover, and none in another.
fn bars_fit(section: &CrossSection) -> Result<(), TestCaseError> {
    let radius = Length::sixty_fourths(16);
    let (earth, formed) = (section.cover_earth.value, section.cover_formed.value);
    let stem = (
        section.stem_offset,
        section.stem_offset.saturating_add(section.stem_thickness),
    );
    let clear = |low: Length, at: Length, high: Length| {
        at.saturating_sub(low)
            .min(high.saturating_sub(at))
            .saturating_sub(radius)
    };
    for bar in &section.bars {
        let of_top = section.top().saturating_sub(bar.y).saturating_sub(radius);
        match bar.place {
            BarPlace::BottomOfFooting => {
                prop_assert!(bar.y.saturating_sub(radius) >= earth);
                prop_assert!(bar.y.saturating_sub(radius) <= bar.within.value);
                prop_assert!(
                    clear(Length::ZERO, bar.x, section.footing_width) >= earth,
                    "{bar:?}"
                );
                prop_assert!(bar.y.saturating_add(radius) < section.footing_thickness);
            }
            BarPlace::TopOfStem => {
                prop_assert!(of_top >= formed && of_top <= bar.within.value);
                prop_assert!(clear(stem.0, bar.x, stem.1) >= formed, "{bar:?}");
            }
        }
        prop_assert!(bar.x.abs_diff(section.vertical.x) >= bar.diameter, "{bar:?}");
    }
    for (index, bar) in section.bars.iter().enumerate() {
        for other in &section.bars[index + 1..] {
            let apart = bar.x.abs_diff(other.x).max(bar.y.abs_diff(other.y));
            prop_assert!(apart >= bar.diameter);
        }
    }
    let vertical = &section.vertical;
    prop_assert!(vertical.from >= earth && section.top().saturating_sub(vertical.to) >= formed);
    prop_assert!(clear(stem.0, vertical.x, stem.1) >= formed);
    prop_assert!(clear(Length::ZERO, vertical.x, section.footing_width) >= earth);
    Ok(())
}

prop_compose! {
    fn any_input()(
        is_beside in any::<bool>(),
        stories in 1_u8..=3,
        soil in prop::option::of(0_usize..5),
        load in prop::option::of(0.0_f64..4000.0),
        top in prop::option::of(2_i64..80),
        frost in prop::option::of(0_i64..50),
        sill in prop::sample::select(vec![(2_u8, 4_u8), (2, 6), (3, 6), (2, 8)]),
    ) -> SizingInput {
        SizingInput {
            stories: Observed::seen(Stories::whole(stories)),
            soil: soil.map(|index| SoilClass::ALL[index]),
            line_load: load.map(|high| Ends { low: high / 2.0, high }),
            top_of_sill: top.map(|inches| Length::inches(inches + 1)),
            frost_depth: frost.map(Length::inches),
            sill,
            ..known(if is_beside { NewWork::WallBeside } else { NewWork::Replacement })
        }
    }
}

proptest! {
    #[test]
    fn bars_lie_in_the_concrete(input in any_input()) {
        if let Ok(sized) = size(&input) {
            let wall = wall(&sized);
            bars_fit(&wall.section)?;
            let footing = &wall.footing;
            prop_assert!(footing.projection >= footing.projection_least.value);
            prop_assert!(footing.projection <= footing.thickness, "{footing:?}");
            prop_assert!(footing.depth >= footing.depth_least.value && footing.depth >= footing.thickness);
            prop_assert!(footing.depth >= input.frost_depth.unwrap_or_default());
            prop_assert!(footing.by_table.iter().all(|row| footing.width >= row.width.value));
            prop_assert!(footing.by_load.iter().all(|load| footing.width >= load.width));
            prop_assert!(wall.section.sill_width <= wall.section.stem_thickness);
            prop_assert!(wall.section.stem_thickness >= wall.section.stem_thickness_least.value);
        }
    }

    #[test]
    fn more_load_or_more_stories_is_never_narrower(input in any_input(), more in 1.0_f64..2.0) {
        let width = |input: &SizingInput| size(input).ok().map(|sized| wall(&sized).section.footing_width);
        let heavier = SizingInput {
            line_load: input.line_load.map(|load| Ends { low: load.low, high: load.high * more }),
            ..input.clone()
        };
        let taller = SizingInput { stories: Observed::seen(Stories::whole(3)), ..input.clone() };
        // Too wide to be sized is wider than anything.
        for harder in [heavier, taller] {
            if let Some(wide) = width(&harder) {
                prop_assert!(width(&input).is_some_and(|narrow| narrow <= wide));
            }
        }
    }

    #[test]
    fn weaker_soil_is_never_narrower(input in any_input()) {
        // The list runs from the strongest class to the weakest; of soil not known, the weakest is taken.
        let classes = SoilClass::ALL.iter().map(|class| Some(*class)).chain([None]);
        let mut narrowest = Length::ZERO;
        for soil in classes {
            let Ok(sized) = size(&SizingInput { soil, ..input.clone() }) else { break };
            let width = wall(&sized).section.footing_width;
            prop_assert!(width >= narrowest);
            narrowest = width;
        }
    }

    #[test]
    fn anchors_stand_as_the_set_asks(inches in 1_i64..600, stories in 1_u8..=3) {
        let input = SizingInput { stories: Observed::seen(Stories::whole(stories)), ..known(NewWork::Replacement) };
        let anchors = size(&input).unwrap().anchors;
        let piece = Length::inches(inches);
        let row = &anchors.rows[0];
        if let Some(stations) = anchors.stations(piece, row) {
            prop_assert!(stations.len() >= 2);
            prop_assert!(stations.windows(2).all(|pair| pair[1] > pair[0]));
            prop_assert!(stations.windows(2).all(|pair| pair[1].saturating_sub(pair[0]) <= row.spacing.value));
            let end = piece.saturating_sub(*stations.last().unwrap());
            for end in [stations[0], end] {
                prop_assert!(end >= Length::sixty_fourths(7 * 32) && end <= anchors.end_most.as_ref().unwrap().value);
            }
        } else {
            prop_assert!(inches <= 7);
        }
    }

    #[test]
    fn a_longer_girder_is_never_smaller(feet in 3_i64..16, longer in 1_i64..4, load in 50.0_f64..900.0, held in any::<bool>()) {
        let area = |feet: i64| {
            let input = GirderInput {
                span: Length::feet(feet),
                load: Ends { low: 0.0, high: load },
                live: load / 2.0,
                support: Length::inches(3),
                joists_fastened: if held { Truth::True } else { Truth::Maybe },
                wood: Wood::DouglasFir,
            };
            Girder::size(&input, table(), standards()).unwrap().least().map(|size| size.area)
        };
        if let Some(area_of_longer) = area(feet + longer) {
            prop_assert!(area(feet).is_some_and(|area| area <= area_of_longer));
        }
    }
}

/// California Existing Building Code 2013, A304.2.6: new sills are 2x and treated.
#[rstest]
#[case((2, 6))]
#[case((3, 6))]
fn what_the_set_asks_of_the_sill(#[case] sill: (u8, u8)) {
    let set = Library::shipped().set("cebc-a3-2013").unwrap();
    let input = SizingInput {
        sill,
        ..known(NewWork::Replacement)
    };
    let sized = NewFoundation::size(&input, table(), standards(), &set).unwrap();
    assert_eq!(
        sized.anchors.sill_thickness_least.as_ref().unwrap().value,
        Length::sixty_fourths(96)
    );
    assert!(sized.anchors.treated_sill.as_ref().unwrap().value);
    assert!(
        !sized
            .flags
            .iter()
            .any(|flag| matches!(flag, Flag::SillThin { .. }))
    );
}

/// A user's folder that asks for a 3x sill finds a 2x too thin.
#[rstest]
#[case((2, 6), true)]
#[case((3, 6), false)]
fn a_sill_thinner_than_the_set_asks(#[case] sill: (u8, u8), #[case] is_thin: bool) {
    let file = |name: &str, text: &str| TableFile {
        path: format!("mine/{name}"),
        name: name.to_owned(),
        text: text.to_owned(),
    };
    let mut library = Library::shipped().clone();
    library.add_folder(
        "cebc-a3-2013",
        vec![
            file(
                "sill.csv",
                "figure,stories,weight,diameter,piece_over,piece_up_to,stud_over,stud_up_to,compare,value,source,section,standing,note\n\
                 min-sill-thickness,,,,,,,,,2-1/2 in,mine,1,common practice,\n",
            ),
            file(
                "sources.csv",
                "source,document,edition,publisher,where,seen_on,note\nmine,An invented rule,2026,,not seen,,\n",
            ),
        ],
    );
    let set = library.set("cebc-a3-2013").unwrap();
    let input = SizingInput {
        sill,
        ..known(NewWork::Replacement)
    };
    let sized = NewFoundation::size(&input, table(), standards(), &set).unwrap();
    let thin = |flag: &Flag| matches!(flag, Flag::SillThin { .. });
    assert_eq!(sized.flags.iter().any(thin), is_thin);
}

/// The shipped table with some of its lines changed.
fn changed_table(
    change: impl Fn(&str) -> Option<String>,
) -> Result<FootingTable, Vec<crate::table::TableError>> {
    let figures = include_str!("../../../../tables/standards/crc-footings-2013/figures.csv");
    let figures: Vec<String> = figures.lines().filter_map(change).collect();
    let file = |name: &str, text: &str| TableFile {
        path: format!("crc-footings-2013/{name}"),
        name: name.to_owned(),
        text: text.to_owned(),
    };
    let files = [
        file(
            "edition.json",
            include_str!("../../../../tables/standards/crc-footings-2013/edition.json"),
        ),
        file(
            "sources.csv",
            include_str!("../../../../tables/standards/crc-footings-2013/sources.csv"),
        ),
        file("figures.csv", &(figures.join("\n") + "\n")),
    ];
    FootingTable::parse(&StandardTable::read("crc-footings-2013", &files)?)
}

/// Where the table has no row for the soil, the load has the say, and the reader is told.
#[test]
fn soil_too_weak_for_the_table() {
    let strong = changed_table(|line| (!line.contains(",1500,")).then(|| line.to_owned())).unwrap();
    let input = known(NewWork::Replacement);
    let sized = NewFoundation::size(&input, &strong, standards(), &CRC).unwrap();
    assert!(sized.flags.contains(&Flag::SoilTooWeak { psf: 1500.0 }));
    assert!(wall(&sized).footing.by_table.is_empty());
    let without_load = SizingInput {
        line_load: None,
        ..input
    };
    let error = NewFoundation::size(&without_load, &strong, standards(), &CRC).unwrap_err();
    assert!(matches!(error, SizingError::NothingToSizeBy { .. }));
}

#[rstest]
#[case::misspelled("top-bars,", "top-bar,", "top-bars")]
#[case::wrong_unit("depth-least,,,12,,in,", "depth-least,,,12,,psf,", "psf")]
#[case::no_such_bar("bar-size,,,4,", "bar-size,,,9,", "No. 9")]
#[case::left_over("steel-ratio,,", "steel-ratios,,", "steel-ratio")]
fn a_slip_in_the_table_is_named(#[case] from: &str, #[case] to: &str, #[case] said: &str) {
    let faults = changed_table(|line| Some(line.replace(from, to))).unwrap_err();
    assert!(faults[0].to_string().contains(said), "{}", faults[0]);
}
