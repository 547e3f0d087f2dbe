//! Any number of frames in order, in memory that does not grow with them.
//!
//! Frames are kept until there are as many as memory allows, put in order, and written to a file that has no name, so
//! that nothing is left when the run ends, however it ends. At the end the files are merged, as often as asked for.

use std::cmp::Ordering;
use std::collections::BinaryHeap;
use std::fs::File;
use std::io::{self, BufReader, BufWriter, Read, Seek, Write};
use std::path::{Path, PathBuf};

use super::frame::Frame;

/// How many bytes of frames are put in order at a time.
const MOST: usize = 24 << 20;

/// How much of each file is read at a time while they are merged.
const READ_AT_ONCE: usize = 64 << 10;

/// Takes frames in any order.
#[derive(Debug)]
pub(super) struct Sorter {
    folder: Option<PathBuf>,
    most: usize,
    frames: Vec<u8>,
    /// Where each frame begins.
    begins: Vec<u32>,
    files: Vec<File>,
    count: u64,
}

impl Sorter {
    /// A sorter that writes into this folder, or that of temporary files.
    pub(super) fn new(folder: Option<&Path>) -> Self {
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
            most: MOST,
            frames: Vec::new(),
            begins: Vec::new(),
            files: Vec::new(),
            count: 0,
        }
    }

    /// Adds frames; how many there were.
    pub(super) fn add(&mut self, mut frames: &[u8]) -> io::Result<u64> {
        let before = self.count;
        while let Some((frame, rest)) = Frame::first(frames) {
            if self.frames.len() + frame.bytes().len() > self.most {
                self.write_out()?;
            }
            self.begins
                .push(u32::try_from(self.frames.len()).unwrap_or(u32::MAX));
            self.frames.extend_from_slice(frame.bytes());
            self.count += 1;
            frames = rest;
        }
        Ok(self.count - before)
    }

    fn sort(&mut self) {
        let frames = &self.frames;
        self.begins
            .sort_unstable_by(|a, b| match (frame_at(frames, *a), frame_at(frames, *b)) {
                (Some(a), Some(b)) => a.order(b),
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
    frames: Vec<u8>,
    begins: Vec<u32>,
    files: Vec<File>,
    count: u64,
}

/// The next frame of a file; the best of all compares greatest.
struct Head<'f> {
    frame: Vec<u8>,
    rest: BufReader<&'f mut File>,
}

impl Head<'_> {
    /// Comes to the next frame; false at the end of the file.
    fn advance(&mut self) -> io::Result<bool> {
        let mut length = [0; 4];
        match self.rest.read_exact(&mut length) {
            Err(error) if error.kind() == io::ErrorKind::UnexpectedEof => return Ok(false),
            read => read?,
        }
        self.frame.clear();
        self.frame.extend_from_slice(&length);
        self.frame.resize(u32::from_le_bytes(length) as usize, 0);
        self.rest
            .read_exact(self.frame.get_mut(4..).unwrap_or_default())?;
        Ok(true)
    }

    fn first(&self) -> Option<Frame<'_>> {
        Some(Frame::first(&self.frame)?.0)
    }
}

impl Ord for Head<'_> {
    fn cmp(&self, other: &Self) -> Ordering {
        match (self.first(), other.first()) {
            (Some(a), Some(b)) => b.order(a),
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

impl Sorted {
    /// How many there are.
    pub(super) const fn len(&self) -> u64 {
        self.count
    }

    /// Goes through all of them in order, from the first.
    pub(super) fn each<E: From<io::Error>>(
        &mut self,
        mut visit: impl FnMut(Frame<'_>) -> Result<(), E>,
    ) -> Result<(), E> {
        for begin in &self.begins {
            if let Some(frame) = frame_at(&self.frames, *begin) {
                visit(frame)?;
            }
        }
        let mut heads = BinaryHeap::new();
        for file in &mut self.files {
            file.rewind()?;
            let mut head = Head {
                frame: Vec::new(),
                rest: BufReader::with_capacity(READ_AT_ONCE, file),
            };
            if head.advance()? {
                heads.push(head);
            }
        }
        while let Some(mut head) = heads.pop() {
            if let Some(frame) = head.first() {
                visit(frame)?;
            }
            if head.advance()? {
                heads.push(head);
            }
        }
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::super::frame;
    use super::*;
    use proptest::prelude::*;
    use retrofit_core::ranking::{Evidence, Score};

    fn sorted(houses: &[(f64, String)], most: usize) -> Vec<(f64, String)> {
        let mut sorter = Sorter {
            most,
            ..Sorter::new(None)
        };
        let mut frames = Vec::new();
        for (line, (benefit, id)) in houses.iter().enumerate() {
            let score = Score {
                benefit: *benefit,
                cost: 1.0,
                paid: 1.0,
            };
            frame::write(&mut frames, score, line as u64, id, &Evidence::default(), &["x"]).unwrap();
        }
        assert_eq!(sorter.add(&frames).unwrap(), houses.len() as u64);
        let mut list = sorter.finish().unwrap();
        let mut walks = [Vec::new(), Vec::new()];
        for walk in &mut walks {
            list.each(|frame| {
                let (evidence, cells) = frame.body().unwrap();
                assert_eq!((evidence, cells), (Evidence::default(), vec!["x"]));
                walk.push((frame.score().benefit, frame.id().to_owned()));
                Ok::<(), io::Error>(())
            })
            .unwrap();
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
            prop_assert_eq!(sorted(&houses, MOST), expected);
        }
    }
}
