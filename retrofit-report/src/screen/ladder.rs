//! The ladder as strips of a picture: a bar for each link, from the worse to the better shaking at its capacity.
//!
//! The strips hold no words, so that they stretch with the page; what they show stands beside them in numbers.

use std::fmt::Write;

use super::amount::gravities;
use super::{Found, Rung};

/// What stands in for the acceleration of a site that is not known, in units of gravity.
const REFERENCE: f64 = 1.0;

/// The acceleration of the site, as far as the strips are concerned.
fn site(found: &Found) -> f64 {
    let known = found.shaking.as_ref().and_then(|shaking| shaking.amount.high);
    known.filter(|shaking| *shaking > 0.0).unwrap_or(REFERENCE)
}

/// Where the strips end: the line of the site stands in their middle.
fn last(found: &Found) -> f64 {
    2.0 * site(found)
}

/// The same for a reader.
pub(crate) fn end(found: &Found) -> String {
    gravities(last(found))
}

/// A strip for each rung.
pub(crate) fn strips(found: &Found) -> Vec<String> {
    let (site, last) = (site(found), last(found));
    found.ladder.iter().map(|rung| strip(rung, site, last)).collect()
}

/// Widths are in hundredths of the strip.
fn strip(rung: &Rung, site: f64, last: f64) -> String {
    let at = |shaking: f64| (100.0 * shaking / last).clamp(0.0, 100.0);
    let mut svg = "<svg viewBox=\"0 0 100 20\" preserveAspectRatio=\"none\" aria-hidden=\"true\">\
                   <line class=\"base\" x1=\"0\" y1=\"10\" x2=\"100\" y2=\"10\" vector-effect=\"non-scaling-stroke\"/>"
        .to_owned();
    let middle = at(site);
    if rung.shaking.has_no_capacity {
        svg.push_str(
            "<path class=\"cross\" d=\"M0.4 5L2.4 15M0.4 15L2.4 5\" vector-effect=\"non-scaling-stroke\"/>",
        );
    } else {
        let from = rung.shaking.worst.map_or(100.0, at);
        let to = rung.shaking.best.map_or(100.0, at);
        // A bar of one value still has to be seen.
        let to = to.max(from + 0.8).min(100.0);
        let from = from.min(to - 0.8);
        let is_beyond = rung.shaking.best.is_none_or(|best| best > last);
        if from < middle {
            let to = to.min(middle);
            let _ = write!(
                svg,
                "<path class=\"filled\" d=\"M{from:.2} 5H{to:.2}V15H{from:.2}Z\" vector-effect=\"non-scaling-stroke\"/>"
            );
        }
        if to > middle {
            let from = from.max(middle);
            // A bar that goes on beyond the strip has no end there.
            let shape = if is_beyond {
                format!("M100 5H{from:.2}V15H100")
            } else {
                format!("M{from:.2} 5H{to:.2}V15H{from:.2}Z")
            };
            let _ = write!(
                svg,
                "<path class=\"hollow\" d=\"{shape}\" vector-effect=\"non-scaling-stroke\"/>"
            );
        }
        if rung.shaking.is_open && to < 100.0 {
            let _ = write!(
                svg,
                "<line class=\"open\" x1=\"{to:.2}\" y1=\"10\" x2=\"100\" y2=\"10\" \
                 vector-effect=\"non-scaling-stroke\"/>"
            );
        }
    }
    let _ = write!(
        svg,
        "<line class=\"site\" x1=\"{middle:.2}\" y1=\"0\" x2=\"{middle:.2}\" y2=\"20\" \
         vector-effect=\"non-scaling-stroke\"/></svg>"
    );
    svg
}

#[cfg(test)]
mod tests {
    use super::super::ShakingRange;
    use super::*;

    fn rung(worst: Option<f64>, best: Option<f64>, is_open: bool, has_no_capacity: bool) -> Rung {
        Rung {
            number: 1,
            wall_line: "north".to_owned(),
            link: "sheathing",
            words: "shear of the braced panels",
            shaking: ShakingRange {
                worst,
                best,
                is_open,
                has_no_capacity,
                shown: String::new(),
            },
        }
    }

    #[test]
    fn a_bar_is_filled_up_to_the_site_and_hollow_beyond_it() {
        let across = strip(&rung(Some(0.5), Some(1.5), false, false), 1.0, 2.0);
        assert!(
            across.contains("class=\"filled\" d=\"M25.00 5H50.00V15H25.00Z\""),
            "{across}"
        );
        assert!(
            across.contains("class=\"hollow\" d=\"M50.00 5H75.00V15H50.00Z\""),
            "{across}"
        );
        assert!(across.contains("class=\"site\" x1=\"50.00\""), "{across}");
        let below = strip(&rung(Some(0.2), Some(0.4), false, false), 1.0, 2.0);
        assert!(below.contains("filled") && !below.contains("hollow"), "{below}");
        let beyond = strip(&rung(Some(5.0), None, false, false), 1.0, 2.0);
        assert!(
            beyond.contains("hollow") && !beyond.contains("filled"),
            "{beyond}"
        );
        assert!(!beyond.contains('Z'), "it goes on: {beyond}");
    }

    #[test]
    fn every_strip_is_a_drawing_that_opens_and_keeps_to_its_box() {
        for rung in [
            rung(Some(0.0), Some(0.0), false, true),
            rung(Some(0.0), Some(0.3), true, false),
            rung(None, None, false, false),
            rung(Some(1e9), Some(1e12), true, false),
        ] {
            let svg = strip(&rung, 1.5, 3.0);
            let picture = roxmltree::Document::parse(&svg).unwrap();
            for node in picture.descendants() {
                let numbers = ["x1", "x2", "y1", "y2", "d"]
                    .into_iter()
                    .filter_map(|name| node.attribute(name));
                for text in numbers.flat_map(|text| text.split(|c: char| c.is_ascii_alphabetic() || c == ' '))
                {
                    if !text.is_empty() {
                        assert!((0.0..=100.0).contains(&text.parse::<f64>().unwrap()), "{svg}");
                    }
                }
            }
            assert_eq!(svg.contains("cross"), rung.shaking.has_no_capacity);
        }
    }
}
