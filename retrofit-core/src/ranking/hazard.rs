//! Shaking from a grid of a user's own.

use std::collections::BTreeMap;

use thiserror::Error;

/// A grid of peak ground accelerations: one for each pair of longitude and latitude.
///
/// Between four points of the grid it is interpolated evenly along both (bilinear). Where a point is missing, and outside
/// the grid, it is unknown: never zero, and never that of the nearest point.
///
/// ```
/// use retrofit_core::ranking::HazardGrid;
/// let grid = HazardGrid::parse("longitude,latitude,pga\n-122,37,0.4\n-121,37,0.6\n-122,38,0.4\n-121,38,0.6\n")?;
/// assert_eq!(grid.at(-121.5, 37.25), Some(0.5));
/// assert_eq!(grid.at(-120.9, 37.25), None);
/// # Ok::<(), retrofit_core::ranking::HazardError>(())
/// ```
#[derive(Clone, Debug, PartialEq)]
pub struct HazardGrid {
    longitudes: Vec<f64>,
    latitudes: Vec<f64>,
    /// Row by row from the south, each from the west.
    values: Vec<Option<f64>>,
}

/// What is wrong with a grid, and on which line.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
#[error("line {line}: {problem}")]
pub struct HazardError {
    /// The line, counted from 1.
    pub line: u64,
    /// What was found and what was expected.
    pub problem: String,
}

impl HazardError {
    fn new(line: u64, problem: impl Into<String>) -> Self {
        Self {
            line,
            problem: problem.into(),
        }
    }
}

/// More points than this on either side are more than a grid of hazard has.
const MOST_NODES: usize = 4_000_000;

/// The names of the columns of a grid.
const COLUMNS: [&str; 3] = ["longitude", "latitude", "pga"];

impl HazardGrid {
    /// Reads a grid from the text of a CSV file with the columns longitude, latitude and pga.
    pub fn parse(text: &str) -> Result<Self, HazardError> {
        let text = text.strip_prefix('\u{feff}').unwrap_or(text);
        let mut reader = csv::ReaderBuilder::new()
            .flexible(true)
            .from_reader(text.as_bytes());
        let fault = |error: csv::Error| {
            HazardError::new(
                error.position().map_or(1, csv::Position::line),
                format!("found no table: {error}"),
            )
        };
        let header = reader.headers().map_err(fault)?;
        if !header.iter().map(str::trim).eq(COLUMNS) {
            let found = header.iter().collect::<Vec<_>>().join(",");
            return Err(HazardError::new(
                1,
                format!("found the columns {found}; expected {}", COLUMNS.join(",")),
            ));
        }
        let mut nodes = BTreeMap::new();
        for record in reader.records() {
            let record = record.map_err(fault)?;
            let line = record.position().map_or(0, csv::Position::line);
            let cell = |column: usize, least: f64, most: f64, expected: &str| {
                let text = record.get(column).unwrap_or_default().trim();
                let number = text
                    .parse::<f64>()
                    .ok()
                    .filter(|number| (least..=most).contains(number));
                number.ok_or_else(|| {
                    let found: String = text.chars().take(40).collect();
                    let column = COLUMNS.get(column).copied().unwrap_or_default();
                    HazardError::new(
                        line,
                        format!("column {column}: found {found:?}; expected {expected}"),
                    )
                })
            };
            let longitude = cell(0, -180.0, 180.0, "degrees from -180 to 180")?;
            let latitude = cell(1, -90.0, 90.0, "degrees from -90 to 90")?;
            let value = cell(2, 0.0, 5.0, "a fraction of g from 0 to 5")?;
            if nodes.insert((order(latitude), order(longitude)), value).is_some() {
                return Err(HazardError::new(
                    line,
                    format!("found the point {longitude}, {latitude} a second time; expected each once"),
                ));
            }
        }
        let axis = |of: fn(&(i64, i64)) -> i64| {
            let mut axis: Vec<i64> = nodes.keys().map(of).collect();
            axis.sort_unstable();
            axis.dedup();
            axis
        };
        let (latitudes, longitudes) = (axis(|node| node.0), axis(|node| node.1));
        if latitudes.len() < 2 || longitudes.len() < 2 {
            return Err(HazardError::new(
                1,
                "found no grid; expected at least two longitudes and two latitudes, with a value for each pair of them",
            ));
        }
        let all = latitudes.len().saturating_mul(longitudes.len());
        if all > MOST_NODES || nodes.len() < all / 2 {
            return Err(HazardError::new(
                1,
                format!(
                    "found {} points on {} longitudes and {} latitudes; expected a value for each pair of them",
                    nodes.len(),
                    longitudes.len(),
                    latitudes.len()
                ),
            ));
        }
        let values = latitudes
            .iter()
            .flat_map(|latitude| longitudes.iter().map(move |longitude| (*latitude, *longitude)))
            .map(|node| nodes.get(&node).copied())
            .collect();
        let degrees = |axis: Vec<i64>| axis.into_iter().map(degrees).collect();
        Ok(Self {
            longitudes: degrees(longitudes),
            latitudes: degrees(latitudes),
            values,
        })
    }

    /// The peak ground acceleration at a place, as a fraction of g; `None` where the grid does not tell.
    pub fn at(&self, longitude: f64, latitude: f64) -> Option<f64> {
        let (west, east_share) = between(&self.longitudes, longitude)?;
        let (south, north_share) = between(&self.latitudes, latitude)?;
        let node = |row: usize, column: usize| {
            let at = row.checked_mul(self.longitudes.len())?.checked_add(column)?;
            self.values.get(at).copied().flatten()
        };
        let along = |row: usize| {
            let (from, to) = (node(row, west)?, node(row, west + 1)?);
            Some(from + (to - from) * east_share)
        };
        let (from, to) = (along(south)?, along(south + 1)?);
        Some(from + (to - from) * north_share)
    }

    /// How many points the grid has along each side, as longitudes and latitudes.
    pub fn size(&self) -> (usize, usize) {
        (self.longitudes.len(), self.latitudes.len())
    }
}

/// A millionth of a degree is a tenth of a meter: numbers that differ by less are one.
const STEPS: f64 = 1e6;

#[expect(clippy::cast_possible_truncation, reason = "degrees, of which there are few")]
fn order(degrees: f64) -> i64 {
    (degrees * STEPS).round() as i64
}

#[expect(
    clippy::cast_precision_loss,
    reason = "millionths of a degree are far below what a float holds"
)]
fn degrees(steps: i64) -> f64 {
    steps as f64 / STEPS
}

/// The two neighbors on an axis that a number lies between, by the position of the first, and how far it is along.
fn between(axis: &[f64], number: f64) -> Option<(usize, f64)> {
    let after = axis.partition_point(|node| *node <= number);
    // The last node belongs to the stretch before it.
    let from = after.checked_sub(1)?.min(axis.len().checked_sub(2)?);
    let (low, high) = (*axis.get(from)?, *axis.get(from + 1)?);
    (number <= high).then(|| (from, (number - low) / (high - low)))
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;
    use rstest::rstest;

    const GRID: &str = "longitude,latitude,pga\n-122,37,0.4\n-121,37,0.6\n-122,38,0.2\n-121,38,0.8\n";

    #[test]
    fn at_its_points_a_grid_is_what_it_says() {
        let grid = HazardGrid::parse(GRID).unwrap();
        for (longitude, latitude, value) in [
            (-122.0, 37.0, 0.4),
            (-121.0, 37.0, 0.6),
            (-122.0, 38.0, 0.2),
            (-121.0, 38.0, 0.8),
        ] {
            assert!((grid.at(longitude, latitude).unwrap() - value).abs() < 1e-12);
        }
        for outside in [
            (-122.001, 37.5),
            (-120.999, 37.5),
            (-121.5, 36.99),
            (-121.5, 38.01),
        ] {
            assert_eq!(grid.at(outside.0, outside.1), None);
        }
    }

    #[test]
    fn beside_a_missing_point_it_is_unknown() {
        let rows = ["0,0,0.1", "1,0,0.1", "2,0,0.1", "0,1,0.1", "1,1,0.1"];
        let grid = HazardGrid::parse(&format!("longitude,latitude,pga\n{}\n", rows.join("\n"))).unwrap();
        assert!((grid.at(0.5, 0.5).unwrap() - 0.1).abs() < 1e-12);
        assert_eq!(grid.at(1.5, 0.5), None);
    }

    proptest! {
        /// A plane is interpolated exactly, and what lies within never leaves the corners.
        #[test]
        fn a_plane_comes_out_as_a_plane(x in 0.0f64..3.0, y in 0.0f64..2.0) {
            let plane = |x: f64, y: f64| 0.1 + 0.05 * x + 0.1 * y;
            let nodes = (0..4u8).flat_map(|x| (0..3u8).map(move |y| (f64::from(x), f64::from(y))));
            let rows: Vec<String> = nodes.map(|(x, y)| format!("{x},{y},{}", plane(x, y))).collect();
            let grid = HazardGrid::parse(&format!("longitude,latitude,pga\n{}", rows.join("\n"))).unwrap();
            prop_assert!((grid.at(x, y).unwrap() - plane(x, y)).abs() < 1e-12);
        }
    }

    #[rstest]
    #[case("lon,lat,pga\n", 1, "expected longitude,latitude,pga")]
    #[case("longitude,latitude,pga\n", 1, "found no grid")]
    #[case("longitude,latitude,pga\n1,2,40\n", 2, "column pga: found \"40\"")]
    #[case("longitude,latitude,pga\n1,2,0.4\n200,2,0.4\n", 3, "column longitude")]
    #[case("longitude,latitude,pga\n1,2,NaN\n", 2, "column pga")]
    #[case("longitude,latitude,pga\n1,2,0.4\n1,2,0.4\n", 3, "a second time")]
    #[case("longitude,latitude,pga\n1,2\n", 2, "column pga: found \"\"")]
    #[case(
        "longitude,latitude,pga\n1,1,.1\n2,2,.1\n3,3,.1\n4,4,.1\n5,5,.1\n",
        1,
        "found 5 points on 5 longitudes"
    )]
    fn what_is_no_grid_is_refused(#[case] text: &str, #[case] line: u64, #[case] says: &str) {
        let error = HazardGrid::parse(text).unwrap_err();
        assert_eq!(error.line, line, "{error}");
        assert!(error.to_string().contains(says), "{error}");
    }
}
