//! The 20 Key Questions of Panel Trading, chapter 3, question 9, "What is the size of the panel?" (undated; a
//! copy of the chapter at <https://paperzz.com/doc/8511649/question-9.-what-is-the-size-of-the-panel%3F>,
//! seen on 2026-11-25).
//!
//! It says: most structural panels are nominally 4 ft by 8 ft; the commonest others are 4 ft by 9 ft and 4 ft
//! by 10 ft; sheets leave the mill up to 1/16 in short (PS 1) or 1/8 in short (PS 2), so that one can be as
//! small as 47-7/8 in by 95-7/8 in, and are still fastened on full 8 ft centers.

use retrofit_core::measure::Length;
use retrofit_core::provisions::Standing;
use retrofit_core::takeoff::{PieceSize, Stock, cut};
use rstest::rstest;

#[test]
fn the_sizes_on_offer_are_those_of_the_trade() {
    let found: Vec<(Length, Length)> = Stock::shipped()
        .sheets()
        .map(|sheet| (sheet.width, sheet.length))
        .collect();
    assert_eq!(
        found,
        [8, 9, 10].map(|length| (Length::feet(4), Length::feet(length)))
    );
    for sheet in Stock::shipped().sourced_sheets() {
        assert_eq!(
            (sheet.source.as_str(), sheet.standing),
            ("panel-trading", Standing::Verified)
        );
    }
}

/// A piece of full size comes out of one sheet of that size, because panels are fastened on full centers.
#[rstest]
#[case(8)]
#[case(9)]
#[case(10)]
fn a_full_sheet_is_one_piece(#[case] length: i64) {
    let sheets: Vec<_> = Stock::shipped().sheets().collect();
    let piece = PieceSize {
        along: Length::feet(length),
        across: Length::feet(4),
    };
    let cutting = cut(&[piece], &sheets, Stock::shipped().kerf().value);
    let cut = cutting.sheets.first().unwrap();
    assert_eq!(
        (cutting.sheets.len(), cut.sheet.length),
        (1, Length::feet(length))
    );
    assert_eq!(cutting.waste(), retrofit_core::measure::Area::ZERO);
}
