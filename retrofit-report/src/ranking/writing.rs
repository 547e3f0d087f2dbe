//! The list as it is written, some houses at a time: with what is only known once it was gone down.

use std::io;

use retrofit_core::ranking::{BudgetWalk, CutLine, Evidence, Places, Prospect, Stability, Unknown};

use super::RankError;
use super::frame::Frame;
use super::ids::{RepeatedRows, Repeats};
use super::row::{Place, RowWriter};
use super::scoring::Setting;
use super::sort::Sorted;
use super::summary::Tallies;
use crate::lanes::{Lane, pass};
use crate::triage::{Destination, threads};

/// Writes a list that was gone down.
pub(super) struct Writing<'a> {
    pub(super) setting: &'a Setting<'a>,
    pub(super) cut: CutLine,
    pub(super) stability: Stability,
}

/// Houses next to each other in the list, on their way to it.
#[derive(Default)]
struct Stretch<'t> {
    /// How many houses stand before them.
    before: u64,
    /// Their frames, one after another, and what is known of each on the way down.
    frames: Vec<u8>,
    on_the_way: Vec<OnTheWay>,
    /// What was worked out of each.
    worked_out: Vec<WorkedOut<'t>>,
    /// Their rows.
    text: Vec<u8>,
}

/// What is known of a house on the way down the list.
#[derive(Clone, Copy)]
struct OnTheWay {
    is_funded: bool,
    repeats: Option<Repeats>,
}

/// What takes some time to work out of a house.
struct WorkedOut<'t> {
    prospect: Prospect<'t>,
    look: Option<(Unknown, f64)>,
    among: Places,
}

/// So many bytes of frames are worked on at a time.
const FRAMES_AT_ONCE: usize = 64 << 10;

impl Writing<'_> {
    /// Writes the list and adds it up; false where the run was stopped on the way.
    pub(super) fn write(
        &self,
        list: &mut Sorted,
        repeated: &mut RepeatedRows,
        tallies: &mut Tallies<'_>,
        out: &mut Destination,
    ) -> Result<bool, RankError> {
        let options = self.setting.options;
        let mut walk = BudgetWalk::new(options.budget, list.len());
        let (houses, mut handed_out, mut written) = (list.len(), 0, 0);
        let (mut frames, mut repeats) = (list.walk()?, repeated.walk()?);
        out.write(&Rows::new(self).writer.header())?;
        pass(
            |stretch: &mut Stretch<'_>| {
                stretch.begin(handed_out);
                while stretch.frames.len() < FRAMES_AT_ONCE
                    && let Some(frame) = frames.next()?
                {
                    let repeats = repeats.of(frame)?;
                    let is_funded = repeats.is_none() && walk.pays(frame.score());
                    stretch.add(frame, OnTheWay { is_funded, repeats });
                    handed_out += 1;
                }
                Ok(handed_out > stretch.before)
            },
            |stretch| {
                written += stretch.add_up(self, tallies)?;
                out.write(&stretch.text)?;
                Ok::<_, RankError>(())
            },
            &options.stop,
            threads(options.threads),
            || Rows::new(self),
        )?;
        if written < houses {
            return Ok(false);
        }
        out.keep();
        Ok(true)
    }
}

/// A house of a stretch.
#[derive(Clone, Copy)]
struct House<'f> {
    rank: u64,
    frame: Frame<'f>,
    on_the_way: OnTheWay,
}

/// What a frame holds besides that by which it is put in order: evidence, and the cells that are handed on.
type Body<'f> = (Evidence, Vec<&'f str>);

impl<'f> House<'f> {
    fn body(self) -> io::Result<Body<'f>> {
        self.frame.body().ok_or_else(|| io::ErrorKind::InvalidData.into())
    }

    /// Its place, as it is written and added up.
    fn place<'p>(
        self,
        (evidence, cells): &'p Body<'f>,
        worked_out: &'p WorkedOut<'_>,
        setting: &Setting<'_>,
    ) -> Place<'p>
    where
        'f: 'p,
    {
        Place {
            rank: self.rank,
            id: self.frame.id(),
            cells,
            evidence,
            prospect: &worked_out.prospect,
            score: self.frame.score(),
            zone_is_known: setting.options.tables.has_zone(evidence.climate_zone),
            is_funded: self.on_the_way.is_funded,
            repeats: self.on_the_way.repeats,
            look: worked_out.look,
            among: worked_out.among,
        }
    }
}

impl Stretch<'_> {
    /// Begins anew after so many houses.
    fn begin(&mut self, before: u64) {
        self.before = before;
        self.frames.clear();
        self.on_the_way.clear();
        self.worked_out.clear();
        self.text.clear();
    }

    fn add(&mut self, frame: Frame<'_>, on_the_way: OnTheWay) {
        self.frames.extend_from_slice(frame.bytes());
        self.on_the_way.push(on_the_way);
    }

    fn houses(&self) -> impl Iterator<Item = House<'_>> {
        houses(self.before, &self.frames, &self.on_the_way)
    }

    /// Adds its houses up; how many they are.
    fn add_up(&self, writing: &Writing<'_>, tallies: &mut Tallies<'_>) -> Result<u64, RankError> {
        let mut count = 0;
        let mut worked_out = self.worked_out.iter();
        for house in self.houses() {
            // A fault comes first: of such a house nothing was worked out, nor of those after it.
            let body = house.body()?;
            let Some(worked_out) = worked_out.next() else {
                break;
            };
            tallies.add(&house.place(&body, worked_out, writing.setting), writing.cut)?;
            count += 1;
        }
        Ok(count)
    }
}

fn houses<'f>(before: u64, frames: &'f [u8], on_the_way: &'f [OnTheWay]) -> impl Iterator<Item = House<'f>> {
    let houses = (before + 1..).zip(Frame::all(frames)).zip(on_the_way);
    houses.map(|((rank, frame), on_the_way)| House {
        rank,
        frame,
        on_the_way: *on_the_way,
    })
}

/// Works houses out and writes their rows, in memory of its own.
struct Rows<'w> {
    writing: &'w Writing<'w>,
    writer: RowWriter<'w>,
    /// The places that a house takes in all worlds.
    places: Vec<u64>,
}

impl<'w> Rows<'w> {
    const fn new(writing: &'w Writing<'w>) -> Self {
        let Setting {
            options,
            provisions,
            passed,
            ..
        } = writing.setting;
        Self {
            writing,
            writer: RowWriter::new(options.format, provisions, passed),
            places: Vec::new(),
        }
    }

    fn work_out(&mut self, house: House<'_>, evidence: &Evidence) -> WorkedOut<'w> {
        let Writing {
            setting,
            cut,
            stability,
        } = self.writing;
        let prospect = setting.prospect(evidence);
        let is_first = house.on_the_way.repeats.is_none();
        WorkedOut {
            look: is_first.then(|| prospect.look_next(*cut)).flatten(),
            among: stability.of(
                setting.draw(house.frame.id(), evidence, &prospect),
                &mut self.places,
            ),
            prospect,
        }
    }
}

impl<'w> Lane<Stretch<'w>> for Rows<'w> {
    fn work(&mut self, stretch: &mut Stretch<'w>) {
        for house in houses(stretch.before, &stretch.frames, &stretch.on_the_way) {
            // Whoever adds them up finds the same fault and tells of it.
            let Ok(body) = house.body() else {
                break;
            };
            let worked_out = self.work_out(house, &body.0);
            let place = house.place(&body, &worked_out, self.writing.setting);
            self.writer.write(&place, &mut stretch.text);
            stretch.worked_out.push(worked_out);
        }
    }
}
