//! Work shared out among threads, which comes back in the order in which it went out.

use std::collections::BTreeMap;
use std::sync::{Condvar, Mutex, MutexGuard, PoisonError, TryLockError};

use crate::triage::Stop;

/// How many blocks there are for each thread: enough to go on with while the next one in order is still worked on. Memory is
/// bounded by it.
const BLOCKS_A_THREAD: usize = 4;

/// What one thread does to the blocks that come to it.
pub(crate) trait Lane<B>: Send {
    /// Works on the next block, and leaves what comes of it there.
    fn work(&mut self, block: &mut B);

    /// No more blocks come.
    fn end(self)
    where
        Self: Sized,
    {
    }
}

/// Passes blocks through lanes, from where they are filled to where what came of them is taken: in their order, until one
/// cannot be filled any more. Their memory is used again.
///
/// A thread fills a block, works on it and takes what came of it itself, as long as it is the next in order: so a block seldom
/// goes from one core to another, which would take longer than much of the work. What another thread is at does not keep it
/// from going on with the next block.
pub(crate) fn pass<B: Default + Send, L: Lane<B>, E: Send>(
    mut fill: impl FnMut(&mut B) -> Result<bool, E> + Send,
    mut take: impl FnMut(&B) -> Result<(), E> + Send,
    stop: &Stop,
    threads: usize,
    lane: impl Fn() -> L,
) -> Result<(), E> {
    if threads == 1 {
        let (mut lane, mut block) = (lane(), B::default());
        while !stop.is_asked() && fill(&mut block)? {
            lane.work(&mut block);
            take(&block)?;
        }
        lane.end();
        return Ok(());
    }
    let mut free = Vec::new();
    free.resize_with(threads * BLOCKS_A_THREAD, B::default);
    let between = Between {
        blocks: Mutex::new(Blocks {
            free,
            done: BTreeMap::new(),
            next: 0,
            is_broken_off: false,
        }),
        is_free: Condvar::new(),
    };
    let source = Mutex::new(Source {
        fill,
        filled: 0,
        end: None,
    });
    let sink = Mutex::new(Sink { take, fault: None });
    std::thread::scope(|scope| {
        for mut lane in (0..threads).map(|_| lane()) {
            let (between, source, sink) = (&between, &source, &sink);
            scope.spawn(move || {
                // Others must not wait for a block that is lost.
                let _unless_it_panics = BreakOff(between);
                while let Some(mut block) = between.free_block() {
                    let Some(number) = lock(source).fill(&mut block, stop, between) else {
                        // Whoever waits for a block is to find out that no more come.
                        between.give_back(block);
                        break;
                    };
                    lane.work(&mut block);
                    between.put(number, block);
                    between.take_all(sink);
                }
                lane.end();
            });
        }
    });
    // What was read before a fault of reading has been taken.
    if let Some(fault) = lock(&sink).fault.take() {
        return Err(fault);
    }
    match lock(&source).end.take() {
        Some(Err(fault)) => Err(fault),
        _ => Ok(()),
    }
}

/// A lock of which no holder leaves anything half done.
fn lock<T>(mutex: &Mutex<T>) -> MutexGuard<'_, T> {
    mutex.lock().unwrap_or_else(PoisonError::into_inner)
}

/// Where blocks come from, one after another.
struct Source<F, E> {
    fill: F,
    filled: u64,
    /// Why no more come.
    end: Option<Result<(), E>>,
}

impl<F, E> Source<F, E> {
    /// Fills the next block; its number, or none where no more come.
    fn fill<B>(&mut self, block: &mut B, stop: &Stop, between: &Between<B>) -> Option<u64>
    where
        F: FnMut(&mut B) -> Result<bool, E>,
    {
        if self.end.is_some() || stop.is_asked() || lock(&between.blocks).is_broken_off {
            return None;
        }
        match (self.fill)(block) {
            Ok(true) => {
                self.filled += 1;
                return Some(self.filled - 1);
            }
            end => self.end = Some(end.map(drop)),
        }
        None
    }
}

/// Where what came of blocks goes, one after another.
struct Sink<T, E> {
    take: T,
    fault: Option<E>,
}

/// What is between the threads.
struct Between<B> {
    blocks: Mutex<Blocks<B>>,
    is_free: Condvar,
}

/// The blocks that nobody works on.
struct Blocks<B> {
    free: Vec<B>,
    /// Those that were worked on, by their number.
    done: BTreeMap<u64, B>,
    /// The number of the block of which what came of it is to be taken next.
    next: u64,
    is_broken_off: bool,
}

impl<B> Between<B> {
    /// A block to be filled, as soon as there is one.
    fn free_block(&self) -> Option<B> {
        let mut blocks = lock(&self.blocks);
        loop {
            if blocks.is_broken_off {
                return None;
            }
            if let Some(block) = blocks.free.pop() {
                return Some(block);
            }
            blocks = self.is_free.wait(blocks).unwrap_or_else(PoisonError::into_inner);
        }
    }

    fn give_back(&self, block: B) {
        lock(&self.blocks).free.push(block);
        self.is_free.notify_one();
    }

    /// Puts a block by that was worked on; once it is broken off, nobody asks for it.
    fn put(&self, number: u64, block: B) {
        let mut blocks = lock(&self.blocks);
        if !blocks.is_broken_off {
            blocks.done.insert(number, block);
        }
    }

    /// The block that is next in order, if it is done.
    fn next_done(&self) -> Option<B> {
        let mut blocks = lock(&self.blocks);
        let next = blocks.next;
        let block = blocks.done.remove(&next)?;
        blocks.next += 1;
        Some(block)
    }

    fn has_next_done(&self) -> bool {
        let blocks = lock(&self.blocks);
        blocks.done.contains_key(&blocks.next)
    }

    /// Takes what came of all blocks that are next in order, unless another thread is at it, which then takes these too.
    fn take_all<E>(&self, sink: &Mutex<Sink<impl FnMut(&B) -> Result<(), E>, E>>) {
        while self.has_next_done() {
            let mut sink = match sink.try_lock() {
                Ok(sink) => sink,
                Err(TryLockError::Poisoned(poisoned)) => poisoned.into_inner(),
                Err(TryLockError::WouldBlock) => return,
            };
            while let Some(block) = self.next_done() {
                if let Err(fault) = (sink.take)(&block) {
                    sink.fault = Some(fault);
                    return self.break_off();
                }
                self.give_back(block);
            }
        }
    }

    /// Goes on with nothing more.
    fn break_off(&self) {
        let mut blocks = lock(&self.blocks);
        blocks.is_broken_off = true;
        blocks.done.clear();
        self.is_free.notify_all();
    }
}

/// Breaks off when its thread panics.
struct BreakOff<'b, B>(&'b Between<B>);

impl<B> Drop for BreakOff<'_, B> {
    fn drop(&mut self) {
        if std::thread::panicking() {
            self.0.break_off();
        }
    }
}

#[cfg(test)]
mod tests {
    use std::time::Duration;

    use super::*;

    /// A number, and its square once it was worked on.
    #[derive(Default)]
    struct Squared(u64, u64);

    struct Squaring;

    impl Lane<Squared> for Squaring {
        fn work(&mut self, block: &mut Squared) {
            // Some take longer than all that come until the next of them.
            let pause = if block.0.is_multiple_of(7) {
                2000
            } else {
                block.0 * 37 % 100
            };
            std::thread::sleep(Duration::from_micros(pause));
            block.1 = block.0 * block.0;
        }
    }

    /// What was filled, what was taken, and how it ended.
    fn squares(
        threads: usize,
        stop: &Stop,
        mut fill: impl FnMut(u64) -> Result<bool, &'static str> + Send,
        mut take: impl FnMut(u64) -> Result<(), &'static str> + Send,
    ) -> (u64, Vec<u64>, Result<(), &'static str>) {
        let (mut filled, mut taken) = (0, Vec::new());
        let passed = pass(
            |block: &mut Squared| {
                *block = Squared(filled, 0);
                let is_filled = fill(filled)?;
                filled += u64::from(is_filled);
                Ok(is_filled)
            },
            |block| {
                take(block.0)?;
                taken.push(block.1);
                Ok(())
            },
            stop,
            threads,
            || Squaring,
        );
        (filled, taken, passed)
    }

    fn first_squares(count: u64) -> Vec<u64> {
        (0..count).map(|number| number * number).collect()
    }

    const THREADS: [usize; 4] = [1, 2, 3, 8];

    #[test]
    fn blocks_are_taken_in_the_order_in_which_they_are_filled() {
        for threads in THREADS {
            let (_, taken, passed) = squares(threads, &Stop::default(), |next| Ok(next < 200), |_| Ok(()));
            assert_eq!((taken, passed), (first_squares(200), Ok(())), "{threads} threads");
        }
    }

    #[test]
    fn what_was_filled_before_a_fault_is_taken() {
        for threads in THREADS {
            let fill = |next| if next < 50 { Ok(true) } else { Err("torn") };
            let (_, taken, passed) = squares(threads, &Stop::default(), fill, |_| Ok(()));
            assert_eq!(
                (taken, passed),
                (first_squares(50), Err("torn")),
                "{threads} threads"
            );
        }
    }

    #[test]
    fn nothing_is_taken_after_a_fault() {
        for threads in THREADS {
            let take = |number| if number == 20 { Err("full") } else { Ok(()) };
            let (filled, taken, passed) = squares(threads, &Stop::default(), |next| Ok(next < 10_000), take);
            assert_eq!(
                (taken, passed),
                (first_squares(20), Err("full")),
                "{threads} threads"
            );
            assert!(filled < 1000, "{filled} of {threads} threads");
        }
    }

    #[test]
    fn all_that_was_filled_before_it_was_asked_to_stop_is_taken() {
        for threads in THREADS {
            let stop = Stop::default();
            let take = |number| {
                if number == 30 {
                    stop.ask();
                }
                Ok(())
            };
            let (filled, taken, passed) = squares(threads, &stop, |next| Ok(next < 10_000), take);
            assert_eq!(
                (taken, passed),
                (first_squares(filled), Ok(())),
                "{threads} threads"
            );
            assert!((31..1000).contains(&filled), "{filled} of {threads} threads");
        }
    }

    /// A thread that panics takes the others with it, and is told of.
    #[test]
    fn nobody_waits_for_a_block_that_is_lost() {
        struct Panicking;
        impl Lane<Squared> for Panicking {
            fn work(&mut self, block: &mut Squared) {
                assert!(block.0 != 5, "lost");
            }
        }
        let mut filled = 0;
        let passing = std::panic::AssertUnwindSafe(|| {
            pass(
                |block: &mut Squared| {
                    block.0 = filled;
                    filled += 1;
                    Ok::<_, ()>(true)
                },
                |_| Ok(()),
                &Stop::default(),
                3,
                || Panicking,
            )
        });
        assert!(std::panic::catch_unwind(passing).is_err());
    }
}
