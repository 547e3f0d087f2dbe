//! Any number of frames in order, in memory that does not grow with them.
//!
//! Frames are kept until there are as many as memory allows, put in order, and written to a file that has no name, so
//! that nothing is left when the run ends, however it ends. At the end the files are merged, as often as asked for.

use std::cmp::Ordering;
use std::collections::BinaryHeap;
use std::collections::binary_heap::PeekMut;
use std::fs::File;
use std::io::{self, BufReader, BufWriter, Seek, Write};
use std::path::{Path, PathBuf};

use super::frame::Frame;

/// How much of each file is read at a time while they are merged.
const READ_AT_ONCE: usize = 64 << 10;

/// What order frames are put in.
pub(super) type Order = fn(Frame<'_>, Frame<'_>) -> Ordering;

/// Takes frames in any order.
#[derive(Debug)]
pub(super) struct Sorter {
    folder: Option<PathBuf>,
    order: Order,
    /// How many bytes of frames are put in order at a time.
    most: usize,
    frames: Vec<u8>,
    /// Where each frame begins.
    begins: Vec<u32>,
    files: Vec<File>,
    count: u64,
}

impl Sorter {
    /// A sorter that puts so many bytes in order at a time, and writes them into this folder or that of temporary files.
    pub(super) fn new(folder: Option<&Path>, order: Order, most: usize) -> Self {
        Self {
            folder: folder
                .map(|folder| {
                    if folder.as_os_str().is_empty() {
                        Path::new(".")
                    } else {
                        folder
                    }
                })
                .map(Path::to_owned),
            order,
            most,
            frames: Vec::new(),
            begins: Vec::new(),
            files: Vec::new(),
            count: 0,
        }
    }

    /// Adds a frame.
    pub(super) fn add(&mut self, frame: Frame<'_>) -> io::Result<()> {
        if self.frames.len() + frame.bytes().len() > self.most {
            self.write_out()?;
        }
        if self.frames.is_empty() {
            // At once, so that it does not grow by doubling; what is not written to takes no memory.
            self.frames.reserve_exact(self.most);
        }
        self.begins
            .push(u32::try_from(self.frames.len()).unwrap_or(u32::MAX));
        self.frames.extend_from_slice(frame.bytes());
        self.count += 1;
        Ok(())
    }

    fn sort(&mut self) {
        let (frames, order) = (&self.frames, self.order);
        self.begins
            .sort_unstable_by(|a, b| match (frame_at(frames, *a), frame_at(frames, *b)) {
                (Some(a), Some(b)) => order(a, b),
                _ => Ordering::Equal,
            });
    }

    fn write_out(&mut self) -> io::Result<()> {
        if self.begins.is_empty() {
            return Ok(());
        }
        self.sort();
        let file = match &self.folder {
            Some(folder) => tempfile::tempfile_in(folder)?,
            None => tempfile::tempfile()?,
        };
        let mut out = BufWriter::with_capacity(READ_AT_ONCE, file);
        for begin in &self.begins {
            if let Some(frame) = frame_at(&self.frames, *begin) {
                out.write_all(frame.bytes())?;
            }
        }
        self.files
            .push(out.into_inner().map_err(io::IntoInnerError::into_error)?);
        self.frames.clear();
        self.begins.clear();
        Ok(())
    }

    /// All frames in order.
    pub(super) fn finish(mut self) -> io::Result<Sorted> {
        if self.files.is_empty() {
            self.sort();
        } else {
            self.write_out()?;
            self.frames = Vec::new();
            self.begins = Vec::new();
        }
        Ok(Sorted {
            order: self.order,
            frames: self.frames,
            begins: self.begins,
            files: self.files,
            count: self.count,
        })
    }
}

fn frame_at(frames: &[u8], begin: u32) -> Option<Frame<'_>> {
    Some(Frame::first(frames.get(begin as usize..)?)?.0)
}

/// Frames in order: in memory where they are few, in files otherwise.
#[derive(Debug)]
pub(super) struct Sorted {
    order: Order,
    frames: Vec<u8>,
    begins: Vec<u32>,
    files: Vec<File>,
    count: u64,
}

impl Sorted {
    /// How many there are.
    pub(super) const fn len(&self) -> u64 {
        self.count
    }

    /// A walk through all of them in order, from the first.
    pub(super) fn walk(&mut self) -> io::Result<Walk<'_>> {
        let mut heads = BinaryHeap::with_capacity(self.files.len());
        for file in &mut self.files {
            file.rewind()?;
            let mut head = Head {
                order: self.order,
                frame: Vec::new(),
                rest: BufReader::with_capacity(READ_AT_ONCE, file),
            };
            if head.advance()? {
                heads.push(head);
            }
        }
        Ok(Walk {
            frames: &self.frames,
            begins: self.begins.iter(),
            heads,
            has_begun: false,
        })
    }
}

/// A walk through frames in order.
pub(super) struct Walk<'s> {
    frames: &'s [u8],
    begins: std::slice::Iter<'s, u32>,
    heads: BinaryHeap<Head<'s>>,
    /// Whether the first of the heads was handed out.
    has_begun: bool,
}

impl Walk<'_> {
    /// The next frame.
    pub(super) fn next(&mut self) -> io::Result<Option<Frame<'_>>> {
        if let Some(begin) = self.begins.next() {
            return Ok(frame_at(self.frames, *begin));
        }
        if self.has_begun
            && let Some(mut head) = self.heads.peek_mut()
            && !head.advance()?
        {
            PeekMut::pop(head);
        }
        self.has_begun = true;
        Ok(self.heads.peek().and_then(Head::first))
    }
}

/// The next frame of a file; the first of all compares greatest.
struct Head<'f> {
    order: Order,
    frame: Vec<u8>,
    rest: BufReader<&'f mut File>,
}

impl Head<'_> {
    /// Comes to the next frame; false at the end of the file.
    fn advance(&mut self) -> io::Result<bool> {
        Frame::read(&mut self.rest, &mut self.frame)
    }

    fn first(&self) -> Option<Frame<'_>> {
        Some(Frame::first(&self.frame)?.0)
    }
}

impl Ord for Head<'_> {
    fn cmp(&self, other: &Self) -> Ordering {
        match (self.first(), other.first()) {
            (Some(a), Some(b)) => (self.order)(b, a),
            _ => Ordering::Equal,
        }
    }
}

impl PartialOrd for Head<'_> {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

impl PartialEq for Head<'_> {
    fn eq(&self, other: &Self) -> bool {
        self.cmp(other).is_eq()
    }
}

impl Eq for Head<'_> {}

#[cfg(test)]
mod tests {
    use super::super::frame;
    use super::*;
    use proptest::prelude::*;
    use retrofit_core::ranking::{Evidence, Score};

    fn sorted(houses: &[(f64, String)], most: usize) -> Vec<(f64, String)> {
        let mut sorter = Sorter::new(None, frame::by_place, most);
        let mut frames = Vec::new();
        for (line, (benefit, id)) in houses.iter().enumerate() {
            let score = Score {
                benefit: *benefit,
                cost: 1.0,
                paid: 1.0,
            };
            frame::write(&mut frames, score, line as u64, id, &Evidence::default(), &["x"]).unwrap();
        }
        for frame in Frame::all(&frames) {
            sorter.add(frame).unwrap();
        }
        let mut list = sorter.finish().unwrap();
        assert_eq!(list.len(), houses.len() as u64);
        let mut walks = [Vec::new(), Vec::new()];
        for seen in &mut walks {
            let mut walk = list.walk().unwrap();
            while let Some(frame) = walk.next().unwrap() {
                let (evidence, cells) = frame.body().unwrap();
                assert_eq!((evidence, cells), (Evidence::default(), vec!["x"]));
                seen.push((frame.score().benefit, frame.id().to_owned()));
            }
        }
        assert_eq!(walks[0], walks[1], "the list can be gone through again");
        walks[0].clone()
    }

    proptest! {
        /// Against the standard library's sort; in memory or in many small files, it is the same list.
        #[test]
        fn frames_come_out_in_order(
            houses in prop::collection::vec((0u8..5, "[a-c]{1,3}"), 0..60),
            most in 1usize..2000,
        ) {
            let houses: Vec<(f64, String)> =
                houses.into_iter().map(|(benefit, id)| (f64::from(benefit), id)).collect();
            let mut expected = houses.clone();
            expected.sort_by(|a, b| b.0.total_cmp(&a.0).then_with(|| a.1.cmp(&b.1)));
            prop_assert_eq!(sorted(&houses, most), expected.clone());
            prop_assert_eq!(sorted(&houses, 24 << 20), expected);
        }
    }
}
