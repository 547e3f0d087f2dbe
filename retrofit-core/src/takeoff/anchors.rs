//! Rods and adhesive: how long a rod has to be, and how much adhesive its hole takes.

use super::quantity::RodLength;
use super::stock::Stock;
use crate::house::{AnchorKind, Washer};
use crate::measure::Length;
use crate::remedy::NewAnchor;

/// A ratio of circumference to diameter that is off by less than a tenth of a millionth.
const PI: (i128, i128) = (355, 113);

const CUBIC_NANOMETERS_IN_A_MILLILITER: i128 = 1_000_000_000_000_000_000_000;

/// How long the rod or bolt of an anchor has to be.
///
/// From the bottom of the embedment through the sill and its plate washer, to the top of the nut and the
/// thread that stands out of it. The thickness of a round washer is in no source that was seen and is not in
/// it, and so the length is the least.
pub(super) fn rod_length(anchor: &NewAnchor, sill: Option<Length>, stock: &Stock) -> Option<RodLength> {
    let has_nut = match anchor.kind {
        AnchorKind::Adhesive | AnchorKind::Expansion => true,
        AnchorKind::Screw => false,
        _ => return None,
    };
    let (Some(embedment), Some(diameter)) = (anchor.embedment, anchor.diameter) else {
        return Some(RodLength::ByTheMaker);
    };
    let Some(sill) = sill else {
        return Some(RodLength::NeedsSillThickness);
    };
    let washer = match anchor.washer {
        Some(Washer::Plate { thickness, .. }) => thickness,
        _ => Length::ZERO,
    };
    let diameters = stock.nut_height().value + stock.thread_past_nut().value;
    let nut = diameter.times(i64::from(diameters)).filter(|_| has_nut);
    let parts = [embedment, sill, washer, nut.unwrap_or_default()];
    Some(RodLength::AtLeast(
        parts.into_iter().fold(Length::ZERO, Length::saturating_add),
    ))
}

/// The adhesive that fills the hole of an anchor around its rod, in cubic nanometers: through the embedment
/// and, as the source of the hole's size asks, through the sill. Threads displace a little less than a round
/// rod, which the allowance has to cover.
///
/// `None` where the embedment, the diameter or the thickness of the sill is not known.
pub(super) fn adhesive(anchor: &NewAnchor, sill: Option<Length>, stock: &Stock) -> Option<i128> {
    if anchor.kind != AnchorKind::Adhesive {
        return None;
    }
    let depth = i128::from(anchor.embedment?.saturating_add(sill?).nanometers());
    let rod = anchor.diameter?;
    let hole = rod.saturating_add(stock.hole_oversize().value);
    let square = |length: Length| i128::from(length.nanometers()).pow(2);
    let ring = square(hole).saturating_sub(square(rod));
    Some(ring.saturating_mul(depth).saturating_mul(PI.0) / (4 * PI.1))
}

/// Whole cartridges for a volume in cubic nanometers, with what is lost on the way.
pub(super) fn cartridges(volume: i128, stock: &Stock) -> u64 {
    let lost = 10_000 + i128::from(stock.adhesive_allowance().value.hundredths());
    let needed = volume.max(0).saturating_mul(lost) / 10_000;
    let each = i128::from(stock.cartridge().value.max(1)) * CUBIC_NANOMETERS_IN_A_MILLILITER;
    u64::try_from((needed + each - 1) / each).unwrap_or(u64::MAX)
}

#[cfg(test)]
mod tests {
    use super::*;

    const PLATE: Washer = Washer::Plate {
        side: Length::inches(3),
        thickness: Length::sixty_fourths(16),
    };

    fn anchor(kind: AnchorKind) -> NewAnchor {
        NewAnchor {
            at: Length::feet(1),
            kind,
            diameter: Some(Length::sixty_fourths(40)),
            embedment: Some(Length::inches(7)),
            washer: Some(PLATE),
            edge_distance: None,
            tight_drilling: false,
        }
    }

    #[test]
    fn a_rod_reaches_from_the_bottom_of_its_hole_through_its_nut() {
        let sill = Some(Length::sixty_fourths(96));
        let stock = Stock::shipped();
        // 7 in, 1-1/2 in, 1/4 in, 5/8 in for the nut and 5/8 in of thread.
        let rod = rod_length(&anchor(AnchorKind::Adhesive), sill, stock);
        assert_eq!(rod, Some(RodLength::AtLeast(Length::inches(10))));
        let screw = rod_length(&anchor(AnchorKind::Screw), sill, stock);
        assert_eq!(screw, Some(RodLength::AtLeast("8-3/4 in".parse().unwrap())));
        let rod = rod_length(&anchor(AnchorKind::Expansion), None, stock);
        assert_eq!(rod, Some(RodLength::NeedsSillThickness));
        let open = NewAnchor {
            embedment: None,
            ..anchor(AnchorKind::Adhesive)
        };
        assert_eq!(rod_length(&open, sill, stock), Some(RodLength::ByTheMaker));
        assert_eq!(adhesive(&open, sill, stock), None);
        assert_eq!(rod_length(&anchor(AnchorKind::SidePlate), sill, stock), None);
    }

    #[test]
    fn adhesive_fills_the_ring_between_hole_and_rod() {
        let sill = Some(Length::sixty_fourths(96));
        let volume = adhesive(&anchor(AnchorKind::Adhesive), sill, Stock::shipped()).unwrap();
        // A hole of 3/4 in around a rod of 5/8 in, 8-1/2 in deep, in cubic inches of 16.387064 ml.
        let expected = std::f64::consts::PI / 4.0 * (0.75_f64.powi(2) - 0.625_f64.powi(2)) * 8.5 * 16.387_064;
        #[expect(clippy::cast_precision_loss, reason = "compared with an approximate value")]
        let milliliters = volume as f64 / CUBIC_NANOMETERS_IN_A_MILLILITER as f64;
        assert!(
            (milliliters - expected).abs() < 1e-3,
            "{milliliters} against {expected}"
        );
        assert_eq!(cartridges(0, Stock::shipped()), 0);
        assert_eq!(cartridges(1, Stock::shipped()), 1);
        // 825 ml and a fifth lost: 687.5 ml fill one cartridge, and a drop more begins the next.
        let one = 687_500 * CUBIC_NANOMETERS_IN_A_MILLILITER / 1000;
        assert_eq!(cartridges(one, Stock::shipped()), 1);
        assert_eq!(
            cartridges(one + CUBIC_NANOMETERS_IN_A_MILLILITER / 1000, Stock::shipped()),
            2
        );
    }
}
