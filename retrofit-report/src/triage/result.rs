//! The line of output on one house.

use std::collections::HashMap;

use foldhash::fast::FixedState;
use retrofit_core::check::{Counts, LookAt, Outcome, Quantity, Ruling};
use retrofit_core::choice::Choice;
use retrofit_core::portfolio::{Digest, RowDigest};
use retrofit_core::provisions::{Figure, Provisions, Standing};
use serde::{Serialize, Serializer};
use wide::u8x16;

use super::Format;
use super::cells::Row;

/// The columns of the output besides those handed on from the input.
const COLUMNS: [&str; 14] = [
    "verdict",
    "best",
    "worst",
    "rests_on",
    "met",
    "not_met",
    "not_determined",
    "not_applicable",
    "outside",
    "deficiency",
    "wall_line",
    "measured",
    "required",
    "look_at",
];

const BETWEEN_FEATURES: &[u8] = b",\n";

/// What stands before every result but the first.
pub(super) const fn between(format: Format) -> &'static [u8] {
    match format {
        Format::Csv | Format::JsonLines => b"",
        Format::GeoJson => BETWEEN_FEATURES,
    }
}

/// What stands after the last result.
pub(super) const fn foot(format: Format) -> &'static [u8] {
    match format {
        Format::Csv | Format::JsonLines => b"",
        Format::GeoJson => b"\n]}\n",
    }
}

/// What is known of one house once it has been checked.
pub(super) struct ResultRow<'a> {
    /// Its name.
    pub(super) id: &'a str,
    /// The name of the wall line whose deficiency governs; empty where it is none of a wall line.
    pub(super) wall_line: &'a str,
    pub(super) of_row: RowDigest<'a>,
    /// Its cells in the input.
    pub(super) cells: Row<'a>,
}

/// Writes results in one format.
#[derive(Clone, Debug)]
pub(super) struct ResultWriter<'a> {
    format: Format,
    /// The columns handed on: where they stand in the input, and their names.
    passed: Vec<(usize, String)>,
    /// Where longitude and latitude stand, where the houses have them.
    position: Option<[usize; 2]>,
    digests: DigestCells<'a>,
    recurring: Recurring,
}

/// Writes the cells of digests.
#[derive(Clone, Debug)]
struct DigestCells<'a> {
    provisions: &'a Provisions,
    verdicts: VerdictCells,
    texts: Texts,
    looks: LookCells,
}

/// The cells of digests that come again and again, by their numbers, as far as there is room. It takes no room until the first
/// of them comes.
#[derive(Clone, Debug, Default)]
struct Recurring {
    /// Those of one digest after those of another.
    cells: Vec<u8>,
    places: Vec<Place>,
}

/// Where the cells of a digest stand: those before the name of a wall line, and those after it.
#[derive(Clone, Copy, Debug, Default)]
struct Place {
    number: Option<u32>,
    from: usize,
    wall_line: usize,
    to: usize,
}

impl<'a> ResultWriter<'a> {
    pub(super) fn new(
        format: Format,
        provisions: &'a Provisions,
        passed: Vec<(usize, String)>,
        position: Option<[usize; 2]>,
    ) -> Self {
        Self {
            format,
            passed,
            position,
            digests: DigestCells {
                provisions,
                verdicts: VerdictCells::new(),
                texts: Texts::default(),
                looks: LookCells::default(),
            },
            recurring: Recurring::default(),
        }
    }

    /// What stands before the first result.
    pub(super) fn header(&self) -> Vec<u8> {
        let mut out = Vec::new();
        match self.format {
            Format::Csv => {
                cell("id", &mut out);
                for name in self.passed.iter().map(|(_, name)| name.as_str()).chain(COLUMNS) {
                    out.push(b',');
                    cell(name, &mut out);
                }
                out.push(b'\n');
            }
            Format::JsonLines => {}
            Format::GeoJson => out.extend_from_slice(b"{\"type\":\"FeatureCollection\",\"features\":[\n"),
        }
        out
    }

    pub(super) fn write(&mut self, row: &ResultRow<'_>, out: &mut Vec<u8>) {
        match self.format {
            Format::Csv => self.write_csv(row, out),
            Format::JsonLines => self.write_json(row, out),
            Format::GeoJson => self.write_feature(row, out),
        }
    }

    fn write_csv(&mut self, row: &ResultRow<'_>, out: &mut Vec<u8>) {
        cell(row.id, out);
        for (position, _) in &self.passed {
            out.push(b',');
            cell(row.cells.get(*position), out);
        }
        let RowDigest { digest, number } = row.of_row;
        if let Some(number) = number {
            let [before, after] = self.recurring.cells_of(number, digest, &mut self.digests);
            out.extend_from_slice(before);
            cell(row.wall_line, out);
            out.extend_from_slice(after);
        } else {
            self.digests.before_wall_line(digest, out);
            cell(row.wall_line, out);
            self.digests.after_wall_line(digest, out);
        }
    }

    fn write_json(&mut self, row: &ResultRow<'_>, out: &mut Vec<u8>) {
        // Nothing in the row can fail to be written: no number is a float and no key is anything but text.
        if serde_json::to_writer(&mut *out, &self.json_row(row)).is_ok() {
            out.push(b'\n');
        }
    }

    fn write_feature(&mut self, row: &ResultRow<'_>, out: &mut Vec<u8>) {
        let degrees = |position: usize| -> Option<f64> {
            let number: f64 = row.cells.get(position).trim().parse().ok()?;
            number.is_finite().then_some(number)
        };
        let point = self.position.and_then(|[longitude, latitude]| {
            Some(Point {
                coordinates: [degrees(longitude)?, degrees(latitude)?],
            })
        });
        let feature = FeatureOut {
            id: row.id,
            geometry: point,
            properties: self.json_row(row),
        };
        let start = out.len();
        out.extend_from_slice(BETWEEN_FEATURES);
        // The numbers are finite, and every key is text.
        if serde_json::to_writer(&mut *out, &feature).is_err() {
            out.truncate(start);
        }
    }

    fn json_row<'r>(&'r mut self, row: &'r ResultRow<'r>) -> JsonRow<'r> {
        let digest = row.of_row.digest;
        let governing = digest.governing.as_ref();
        let [measured, required] = &self.digests.shown(digest).texts;
        let deficiency = governing.map(|finding| Deficiency {
            check: finding.check().name,
            wall_line: Some(row.wall_line).filter(|name| !name.is_empty()),
            measured: Some(measured.as_str()).filter(|text| !text.is_empty()),
            required: Some(required.as_str()).filter(|text| !text.is_empty()),
        });
        JsonRow {
            id: row.id,
            verdict: digest.outcomes.ruling(),
            best: digest.outcomes.best(),
            worst: digest.outcomes.worst(),
            rests_on: digest.standing,
            counts: digest.counts,
            deficiency,
            look_at: Looks(&digest.next),
            passed: Passed(&self.passed, row),
        }
    }
}

impl Recurring {
    /// With more than so many bytes, it is time to begin anew.
    const MOST_BYTES: usize = 1 << 20;

    /// The cells before the name of a wall line and those after it, written where they are not known by the number.
    fn cells_of(&mut self, number: u32, digest: &Digest, digests: &mut DigestCells<'_>) -> [&[u8]; 2] {
        let at = number as usize % MOST_KEPT;
        let mut place = self.places.get(at).copied().unwrap_or_default();
        if place.number != Some(number) {
            place = self.write(number, digest, digests);
            if let Some(here) = self.places.get_mut(at) {
                *here = place;
            }
        }
        let Place {
            from, wall_line, to, ..
        } = place;
        [from..wall_line, wall_line..to].map(|range| self.cells.get(range).unwrap_or_default())
    }

    fn write(&mut self, number: u32, digest: &Digest, digests: &mut DigestCells<'_>) -> Place {
        if self.places.is_empty() || self.cells.len() >= Self::MOST_BYTES {
            self.cells.clear();
            self.cells.reserve(Self::MOST_BYTES);
            self.places.clear();
            self.places.resize(MOST_KEPT, Place::default());
        }
        let from = self.cells.len();
        digests.before_wall_line(digest, &mut self.cells);
        let wall_line = self.cells.len();
        digests.after_wall_line(digest, &mut self.cells);
        Place {
            number: Some(number),
            from,
            wall_line,
            to: self.cells.len(),
        }
    }
}

impl DigestCells<'_> {
    /// From the verdict to the deficiency, each cell after a comma, and a comma after the last.
    fn before_wall_line(&mut self, digest: &Digest, out: &mut Vec<u8>) {
        out.extend_from_slice(self.verdicts.cells_of(digest));
        let counts = digest.counts;
        count_cells(
            [
                counts.met,
                counts.not_met,
                counts.not_determined,
                counts.not_applicable,
                counts.outside,
            ],
            out,
        );
        out.push(b',');
        let deficiency = digest.governing.map_or("", |finding| finding.check().name);
        out.extend_from_slice(deficiency.as_bytes());
        out.push(b',');
    }

    /// What shows of the deficiency, and what to look at, each after a comma; and the end of the line.
    fn after_wall_line(&mut self, digest: &Digest, out: &mut Vec<u8>) {
        match &digest.governing {
            None => out.extend_from_slice(b",,"),
            Some(_) => out.extend_from_slice(&self.shown(digest).cells),
        }
        out.push(b',');
        out.extend_from_slice(self.looks.cell_of(digest.next));
        out.push(b'\n');
    }

    /// What shows of the deficiency.
    fn shown(&mut self, digest: &Digest) -> &Shown {
        let quantities = digest.governing.map_or([Quantity::None; 2], |finding| {
            [finding.measured, finding.required]
        });
        self.texts.of(quantities, self.provisions)
    }
}

/// The text of a quantity; empty where there is nothing to show.
fn text_of(quantity: Quantity, provisions: &Provisions) -> String {
    match quantity {
        Quantity::None => String::new(),
        Quantity::Figure(id) => match provisions.figure(id).and_then(Figure::value) {
            Some(value) => value.to_string(),
            None => String::new(),
        },
        quantity => quantity.to_string(),
    }
}

/// How much of a kind of cells is kept before beginning anew, so that memory does not grow with the file.
const MOST_KEPT: usize = 4096;

/// What was shown before of quantities: the same few come up again and again.
#[derive(Clone, Debug, Default)]
struct Texts {
    known: HashMap<[Quantity; 2], Shown, FixedState>,
}

/// What was measured and what is asked for: as texts, and as two cells, each after a comma.
#[derive(Clone, Debug)]
struct Shown {
    texts: [String; 2],
    cells: Vec<u8>,
}

impl Texts {
    fn of(&mut self, quantities: [Quantity; 2], provisions: &Provisions) -> &Shown {
        if self.known.len() > MOST_KEPT {
            self.known.clear();
        }
        self.known.entry(quantities).or_insert_with(|| {
            let texts = quantities.map(|quantity| text_of(quantity, provisions));
            let mut cells = Vec::new();
            for text in &texts {
                cells.push(b',');
                cell(text, &mut cells);
            }
            Shown { texts, cells }
        })
    }
}

/// The cells of verdicts, from the verdict itself to the standing that it rests on: a place for each that there can be, with
/// nothing in it until it comes up.
#[derive(Clone, Debug)]
struct VerdictCells {
    places: Vec<Vec<u8>>,
}

impl VerdictCells {
    const OUTCOMES: usize = Outcome::Outside as usize + 1;
    /// That there is none is the first of them.
    const STANDINGS: usize = Standing::CommonPractice as usize + 2;

    fn new() -> Self {
        Self {
            places: vec![Vec::new(); Self::OUTCOMES * Self::OUTCOMES * Self::STANDINGS],
        }
    }

    /// Each after a comma. What a house can come to at best and at worst tells what its verdict is.
    fn cells_of(&mut self, digest: &Digest) -> &[u8] {
        let (outcomes, standing) = (digest.outcomes, digest.standing);
        let of_outcomes = outcomes.best() as usize * Self::OUTCOMES + outcomes.worst() as usize;
        let of_standing = standing.map_or(0, |standing| standing as usize + 1);
        let Some(here) = self.places.get_mut(of_outcomes * Self::STANDINGS + of_standing) else {
            return &[];
        };
        if here.is_empty() {
            let cells = [
                outcomes.ruling().words(),
                words(outcomes.best()),
                words(outcomes.worst()),
                standing.map_or("", Standing::spelling),
            ];
            *here = cells.map(|cell| format!(",{cell}")).concat().into_bytes();
        }
        here
    }
}

/// The cells of observations to be made next.
#[derive(Clone, Debug, Default)]
struct LookCells {
    known: HashMap<u32, Vec<u8>, FixedState>,
}

impl LookCells {
    fn cell_of(&mut self, next: [Option<LookAt>; Digest::MOST_LOOKS]) -> &[u8] {
        if self.known.len() > MOST_KEPT {
            self.known.clear();
        }
        // A byte for each; there are far fewer observations than that.
        let key = next.iter().fold(0, |key, look_at| {
            key << u8::BITS | look_at.map_or(0, |look_at| look_at.index() + 1)
        });
        self.known.entry(key).or_insert_with(|| {
            let looks: Vec<&str> = next.into_iter().flatten().map(Choice::words).collect();
            let mut out = Vec::new();
            cell(&looks.join("; "), &mut out);
            out
        })
    }
}

/// Writes the cells of counts, each after a comma. Most counts have one digit or two, and are put side by side before they are
/// written.
fn count_cells(counts: [u32; 5], out: &mut Vec<u8>) {
    let mut cells = [b','; 5 * ",00".len()];
    let mut end = 0;
    for count in counts {
        let (tens, ones) = ((count / 10 % 10) as u8, (count % 10) as u8);
        let (count_cell, length) = match count {
            0..=9 => ([b',', b'0' + ones, b','], 2),
            10..=99 => ([b',', b'0' + tens, b'0' + ones], 3),
            _ => return long_count_cells(counts, out),
        };
        if let Some(here) = cells.get_mut(end..end + count_cell.len()) {
            here.copy_from_slice(&count_cell);
        }
        end += length;
    }
    out.extend_from_slice(cells.get(..end).unwrap_or_default());
}

/// The same of counts of any length.
#[cold]
fn long_count_cells(counts: [u32; 5], out: &mut Vec<u8>) {
    for count in counts {
        out.push(b',');
        out.extend_from_slice(itoa::Buffer::new().format(count).as_bytes());
    }
}

const fn words(outcome: Outcome) -> &'static str {
    match outcome {
        Outcome::NotApplicable => Ruling::NotApplicable.words(),
        Outcome::Met => Ruling::Met.words(),
        Outcome::NotMet => Ruling::NotMet.words(),
        Outcome::Outside => Ruling::Outside.words(),
    }
}

/// Writes a cell, in quotes where it needs them. What a spreadsheet would take for a formula gets an
/// apostrophe before it, which a spreadsheet shows as text.
pub(crate) fn cell(text: &str, out: &mut Vec<u8>) {
    let bytes = text.as_bytes();
    let is_formula = matches!(bytes.first(), Some(b'=' | b'+' | b'-' | b'@' | b'\t' | b'\r'));
    if !is_formula && !has_mark(bytes) {
        out.extend_from_slice(bytes);
        return;
    }
    out.push(b'"');
    if is_formula {
        out.push(b'\'');
    }
    let mut rest = bytes;
    while let Some((before, after)) = memchr::memchr(b'"', rest).and_then(|at| rest.split_at_checked(at + 1))
    {
        out.extend_from_slice(before);
        out.push(b'"');
        rest = after;
    }
    out.extend_from_slice(rest);
    out.push(b'"');
}

/// Whether there is anything in a cell for which it has to stand in quotes. Most cells have no more than 16 bytes: the first
/// eight and the last eight of them are looked at together.
#[inline]
fn has_mark(cell: &[u8]) -> bool {
    let ends = cell.first_chunk().zip(cell.last_chunk());
    if let (Some((first, last)), ..=AT_ONCE) = (ends, cell.len()) {
        let ends: [[u8; AT_ONCE / 2]; 2] = [*first, *last];
        let bytes = ends.as_flattened().first_chunk().copied();
        let bytes = u8x16::new(bytes.unwrap_or_default());
        let is_mark = MARKS.map(|mark| bytes.simd_eq(u8x16::splat(mark)));
        return is_mark
            .into_iter()
            .fold(u8x16::ZERO, |any, is_it| any | is_it)
            .any();
    }
    cell.iter().any(|byte| MARKS.contains(byte))
}

/// Bytes for which a cell has to stand in quotes.
const MARKS: [u8; 4] = *b",\"\n\r";

/// So many bytes are looked at together.
const AT_ONCE: usize = 16;

/// A house as a feature: its result as properties.
#[derive(Serialize)]
#[serde(tag = "type", rename = "Feature")]
struct FeatureOut<'a> {
    id: &'a str,
    geometry: Option<Point>,
    properties: JsonRow<'a>,
}

#[derive(Serialize)]
#[serde(tag = "type")]
struct Point {
    coordinates: [f64; 2],
}

#[derive(Serialize)]
struct JsonRow<'a> {
    id: &'a str,
    verdict: Ruling,
    best: Outcome,
    worst: Outcome,
    rests_on: Option<Standing>,
    counts: Counts,
    deficiency: Option<Deficiency<'a>>,
    look_at: Looks<'a>,
    passed: Passed<'a>,
}

#[derive(Serialize)]
struct Deficiency<'a> {
    check: &'static str,
    wall_line: Option<&'a str>,
    measured: Option<&'a str>,
    required: Option<&'a str>,
}

struct Looks<'a>(&'a [Option<LookAt>]);

impl Serialize for Looks<'_> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_seq(self.0.iter().flatten().map(|look_at| look_at.spelling()))
    }
}

struct Passed<'a>(&'a [(usize, String)], &'a ResultRow<'a>);

impl Serialize for Passed<'_> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let Self(columns, row) = self;
        serializer.collect_map(
            columns
                .iter()
                .map(|(position, name)| (name, row.cells.get(*position))),
        )
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use retrofit_core::provisions::Library;
    use rstest::rstest;

    #[rstest]
    #[case([0, 9, 10, 99, 1], ",0,9,10,99,1")]
    #[case([99, 99, 99, 99, 99], ",99,99,99,99,99")]
    #[case([0, 100, 7, 4_294_967_295, 10], ",0,100,7,4294967295,10")]
    fn counts_are_written_whatever_their_length(#[case] counts: [u32; 5], #[case] expected: &str) {
        let mut out = Vec::new();
        count_cells(counts, &mut out);
        assert_eq!(String::from_utf8(out).unwrap(), expected);
    }

    /// What is kept by the number of a digest is what is written without one, though it takes the place of another.
    #[test]
    fn a_digest_is_written_the_same_with_a_number_as_without() {
        let provisions = Library::shipped().set(Library::DEFAULT_SET).unwrap();
        let mut digest = Digest::of(&[], &provisions);
        let mut writer = ResultWriter::new(Format::Csv, &provisions, Vec::new(), None);
        let (mut numbered, mut without) = (Vec::new(), Vec::new());
        // So many that there is no room for all, three of them at each place.
        for round in (0..9000).chain(0..9000) {
            digest.counts.met = round;
            let number = round / 3 + round % 3 * u32::try_from(MOST_KEPT).unwrap();
            for (number, out) in [(Some(number), &mut numbered), (None, &mut without)] {
                let row = ResultRow {
                    id: "Q-1",
                    wall_line: "north, east",
                    of_row: RowDigest {
                        digest: &digest,
                        number,
                    },
                    cells: Row::Line {
                        text: "",
                        rewritten: "",
                        spans: &[],
                    },
                };
                writer.write(&row, out);
            }
        }
        assert_eq!(String::from_utf8(numbered), String::from_utf8(without));
    }

    /// Wherever a mark stands in a cell of any length, it is seen.
    #[test]
    fn no_mark_is_passed_over() {
        for length in 0..40 {
            let plain = vec![b'x'; length];
            assert!(!has_mark(&plain), "{length}");
            for (at, mark) in (0..length).flat_map(|at| MARKS.map(|mark| (at, mark))) {
                let mut marked = plain.clone();
                marked[at] = mark;
                assert!(has_mark(&marked), "{length} {at}");
            }
        }
    }

    #[rstest]
    #[case("plain", "plain")]
    #[case("6'-0\"", "\"6'-0\"\"\"")]
    #[case("a,b", "\"a,b\"")]
    #[case("=SUM(A1)", "\"'=SUM(A1)\"")]
    #[case("+1", "\"'+1\"")]
    #[case("-1", "\"'-1\"")]
    #[case("@x", "\"'@x\"")]
    #[case("\tx", "\"'\tx\"")]
    fn no_cell_is_a_formula(#[case] text: &str, #[case] expected: &str) {
        let mut out = Vec::new();
        cell(text, &mut out);
        assert_eq!(String::from_utf8(out).unwrap(), expected);
    }
}
