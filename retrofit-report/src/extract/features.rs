//! Points and outlines in GeoJSON, feature by feature, as lines of our columns.
//!
//! A file is read in a stream by a thread of its own, so that memory holds one feature and not the file. A feature that
//! cannot be read is a bad row, told by its number; text that is no JSON ends the run where it stands.

use std::cell::RefCell;
use std::fmt;
use std::fs::File;
use std::io::{self, BufReader, Read};
use std::path::Path;
use std::rc::Rc;
use std::sync::mpsc;
use std::thread;

use geojson::{Geometry, GeometryValue, Position};
use retrofit_core::portfolio::{ColumnMap, ColumnRule, Form, ID, Layout, PASSED_PREFIX};
use serde::Deserialize;
use serde::de::{DeserializeSeed, Deserializer, Error as _, IgnoredAny, MapAccess, SeqAccess, Visitor};
use serde_json::value::RawValue;
use serde_json::{Map, Value};

use super::inside::{Point, area_and_center, point_inside};
use super::named::{NamedRows, RowFault};
use crate::triage::{ReadSoFar, TriageError};

/// A feature larger than this is no house.
const LARGEST_FEATURE: usize = 16 << 20;

/// How many features wait to be translated at most.
const FEATURES_AHEAD: usize = 64;

/// What a map calls the geometry's longitude and latitude, and the identifier that stands beside the properties.
const LONGITUDE: &str = "(longitude)";
const LATITUDE: &str = "(latitude)";
const FEATURE_ID: &str = "(feature id)";

/// The columns that a result takes its point from.
pub(crate) const POSITION: [&str; 2] = ["longitude", "latitude"];

/// The features of a collection, each with the names of the first.
#[derive(Debug)]
pub(super) struct Features {
    items: mpsc::Receiver<Result<Item, String>>,
    first: Option<Item>,
    read_so_far: ReadSoFar,
    header: Vec<String>,
    /// Whether a property that the first feature does not have is a fault: no map says that it is of no use.
    are_all_named: bool,
}

/// What is handed over of a file: a feature, or its end; and how far it had been read by then.
#[derive(Debug)]
struct Item {
    feature: Option<Box<RawValue>>,
    read_so_far: ReadSoFar,
}

impl Features {
    pub(super) fn open(path: &Path, are_all_named: bool) -> Result<Self, TriageError> {
        let file = File::open(path).map_err(|error| TriageError::read(path, error))?;
        let (sender, items) = mpsc::sync_channel(FEATURES_AHEAD);
        thread::spawn(move || stream(file, &sender));
        let first = match items.recv() {
            Err(_) => None,
            Ok(Ok(item)) => Some(item),
            Ok(Err(problem)) => return Err(TriageError::read(path, io::Error::other(problem))),
        };
        // The properties of the first feature stand for the header of a table; a faulty one has none.
        let properties = first
            .as_ref()
            .and_then(|item| item.feature.as_deref())
            .and_then(|raw| serde_json::from_str::<Feature>(raw.get()).ok())
            .and_then(|feature| feature.properties)
            .unwrap_or_default();
        let mut header: Vec<String> = properties.keys().cloned().collect();
        header.extend(Self::MADE.iter().copied().map(str::to_owned));
        Ok(Self {
            items,
            first,
            read_so_far: ReadSoFar::default(),
            header,
            are_all_named,
        })
    }

    fn cells_of(&self, raw: &str, cells: &mut Vec<String>) -> Result<(), RowFault> {
        let feature: Feature = serde_json::from_str(raw).map_err(|error| {
            let problem = format!("found a feature that cannot be read ({error}); expected one of GeoJSON");
            (None, problem)
        })?;
        let properties = feature.properties.unwrap_or_default();
        if self.are_all_named
            && let Some(name) = properties.keys().find(|name| !self.header.contains(name))
        {
            return Err((
                Some(name.clone()),
                "found a property that the first feature does not have; expected the same in all of them"
                    .into(),
            ));
        }
        let point = feature.geometry.as_ref().and_then(point_of);
        let number = |part: usize| {
            let part = point.and_then(|point| point.get(part).copied());
            part.map_or_else(String::new, |degrees| degrees.to_string())
        };
        cells.clear();
        for name in &self.header {
            cells.push(match (properties.get(name), name.as_str()) {
                (Some(value), _) => text_of(value),
                (None, LONGITUDE) => number(0),
                (None, LATITUDE) => number(1),
                (None, FEATURE_ID) => feature.id.as_ref().map_or_else(String::new, text_of),
                (None, _) => String::new(),
            });
        }
        Ok(())
    }
}

impl NamedRows for Features {
    const ROW: &'static str = "feature";
    const MADE: &'static [&'static str] = &[LONGITUDE, LATITUDE, FEATURE_ID];

    fn header(&self) -> &[String] {
        &self.header
    }

    fn completed(map: ColumnMap) -> ColumnMap {
        with_geometry(map)
    }

    fn next(&mut self, cells: &mut Vec<String>) -> io::Result<Option<Result<(), RowFault>>> {
        let item = match self.first.take() {
            Some(first) => first,
            None => match self.items.recv() {
                Ok(item) => item.map_err(io::Error::other)?,
                Err(_) => return Ok(None),
            },
        };
        self.read_so_far = item.read_so_far;
        let Some(raw) = item.feature else {
            return Ok(None);
        };
        Ok(Some(self.cells_of(raw.get(), cells)))
    }

    fn read_so_far(&self) -> &ReadSoFar {
        &self.read_so_far
    }
}

/// The map with the point of the geometry and the identifier of the feature, where it does not take them elsewhere.
fn with_geometry(mut map: ColumnMap) -> ColumnMap {
    for (column, source) in POSITION.into_iter().zip([LONGITUDE, LATITUDE]) {
        let is_ours = Layout::new([ID, column], Form::OneTable).is_ok();
        let column = if is_ours {
            column.to_owned()
        } else {
            format!("{PASSED_PREFIX}{column}")
        };
        map.columns
            .entry(column)
            .or_insert_with(|| ColumnRule::from([source]));
    }
    map.columns
        .entry(ID.to_owned())
        .or_insert_with(|| ColumnRule::from([FEATURE_ID]));
    map
}

/// What is read of a feature.
#[derive(Debug, Deserialize)]
struct Feature {
    #[serde(default)]
    id: Option<Value>,
    #[serde(default)]
    geometry: Option<Geometry>,
    #[serde(default)]
    properties: Option<Map<String, Value>>,
}

/// A property as a cell.
fn text_of(value: &Value) -> String {
    match value {
        Value::Null => String::new(),
        Value::Bool(answer) => if *answer { "yes" } else { "no" }.to_owned(),
        Value::String(text) => text.clone(),
        other => other.to_string(),
    }
}

/// The point that stands for a geometry: itself, or one inside the largest of its outlines.
fn point_of(geometry: &Geometry) -> Option<Point> {
    let point = |position: &Position| position.as_slice().first_chunk::<2>().copied();
    let rings = |polygon: &[Vec<Position>]| -> Option<Vec<Vec<Point>>> {
        polygon
            .iter()
            .map(|ring| ring.iter().map(point).collect())
            .collect()
    };
    match &geometry.value {
        GeometryValue::Point { coordinates } => point(coordinates),
        GeometryValue::Polygon { coordinates } => point_inside(&rings(coordinates)?),
        GeometryValue::MultiPolygon { coordinates } => {
            let all: Vec<_> = coordinates.iter().filter_map(|polygon| rings(polygon)).collect();
            let area = |rings: &&Vec<Vec<Point>>| {
                let around = rings.first().and_then(|ring| area_and_center(ring));
                around.map_or(0.0, |(area, _)| area)
            };
            point_inside(all.iter().max_by(|a, b| area(a).total_cmp(&area(b)))?)
        }
        // A line or several points stand for no house.
        _ => None,
    }
}

/// Reads a collection to its end and hands over its features; what is wrong with it comes last.
fn stream(file: impl Read, features: &mpsc::SyncSender<Result<Item, String>>) {
    let reading = Rc::new(RefCell::new(Reading::default()));
    let counted = Counted {
        file,
        reading: Rc::clone(&reading),
    };
    let mut text = serde_json::Deserializer::from_reader(BufReader::new(counted));
    let collection = Collection {
        features,
        reading: Rc::clone(&reading),
    };
    let read = collection.deserialize(&mut text).and_then(|()| text.end());
    // Where nobody takes features any more, nobody wants to know how they end either.
    drop(features.send(match read {
        Ok(()) => Ok(reading.borrow().item(None)),
        Err(error) => Err(format!("found text that is no collection of features ({error})")),
    }));
}

/// How far a file has been read, in all and since the last feature.
#[derive(Debug, Default)]
struct Reading {
    so_far: ReadSoFar,
    since_a_feature: usize,
}

impl Reading {
    fn item(&self, feature: Option<Box<RawValue>>) -> Item {
        Item {
            feature,
            read_so_far: self.so_far.clone(),
        }
    }
}

/// Bytes of a file, as long as no feature takes too many of them.
struct Counted<R> {
    file: R,
    reading: Rc<RefCell<Reading>>,
}

impl<R: Read> Read for Counted<R> {
    fn read(&mut self, buffer: &mut [u8]) -> io::Result<usize> {
        let mut reading = self.reading.borrow_mut();
        if reading.since_a_feature > LARGEST_FEATURE {
            return Err(io::Error::other(format!(
                "found {} MB without the end of a feature; expected features of less",
                LARGEST_FEATURE >> 20
            )));
        }
        let read = self.file.read(buffer)?;
        reading.since_a_feature += read;
        reading.so_far.add(buffer.get(..read).unwrap_or_default());
        Ok(read)
    }
}

/// The collection, of which only the features are read.
struct Collection<'a> {
    features: &'a mpsc::SyncSender<Result<Item, String>>,
    reading: Rc<RefCell<Reading>>,
}

impl<'de> DeserializeSeed<'de> for Collection<'_> {
    type Value = ();
    fn deserialize<D: Deserializer<'de>>(self, deserializer: D) -> Result<(), D::Error> {
        deserializer.deserialize_map(self)
    }
}

impl<'de> Visitor<'de> for Collection<'_> {
    type Value = ();

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("a FeatureCollection")
    }

    fn visit_map<A: MapAccess<'de>>(self, mut entries: A) -> Result<(), A::Error> {
        let mut has_features = false;
        while let Some(key) = entries.next_key::<String>()? {
            if key == "features" && !has_features {
                has_features = true;
                entries.next_value_seed(Members(&self))?;
            } else {
                entries.next_value::<IgnoredAny>()?;
            }
        }
        if has_features {
            Ok(())
        } else {
            Err(A::Error::custom(
                "found no \"features\"; expected a FeatureCollection",
            ))
        }
    }
}

struct Members<'a, 'b>(&'a Collection<'b>);

impl<'de> DeserializeSeed<'de> for Members<'_, '_> {
    type Value = ();
    fn deserialize<D: Deserializer<'de>>(self, deserializer: D) -> Result<(), D::Error> {
        deserializer.deserialize_seq(self)
    }
}

impl<'de> Visitor<'de> for Members<'_, '_> {
    type Value = ();

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("a list of features")
    }

    fn visit_seq<A: SeqAccess<'de>>(self, mut features: A) -> Result<(), A::Error> {
        while let Some(feature) = features.next_element::<Box<RawValue>>()? {
            let item = {
                let mut reading = self.0.reading.borrow_mut();
                reading.since_a_feature = 0;
                reading.item(Some(feature))
            };
            if self.0.features.send(Ok(item)).is_err() {
                return Err(A::Error::custom("nobody reads on"));
            }
        }
        Ok(())
    }
}
