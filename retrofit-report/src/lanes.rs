//! Work shared out among threads, which comes back in the order in which it went out.

use std::sync::mpsc;

use crate::triage::Stop;

/// How many blocks a thread has before it at most: enough to go on with while the one that reads and writes has no core to
/// itself. Memory is bounded by it, and so is what is still worked out after a run was asked to stop.
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
/// Blocks go to the workers in turn and come back from them in turn, so that the output has the order of the
/// input without ever being sorted.
pub(crate) fn pass<B: Default + Send, L: Lane<B>, E>(
    mut fill: impl FnMut(&mut B) -> Result<bool, E>,
    mut take: impl FnMut(&B) -> Result<(), E>,
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
    std::thread::scope(|scope| {
        let lanes: Vec<_> = (0..threads)
            .map(|_| {
                let mut lane = lane();
                let (to_worker, blocks) = mpsc::sync_channel::<B>(BLOCKS_A_THREAD);
                let (done, from_worker) = mpsc::sync_channel::<B>(BLOCKS_A_THREAD);
                scope.spawn(move || {
                    for mut block in blocks {
                        lane.work(&mut block);
                        if done.send(block).is_err() {
                            break; // nobody writes any more
                        }
                    }
                    lane.end();
                });
                (to_worker, from_worker)
            })
            .collect();
        let mut free: Vec<B> = Vec::new();
        free.resize_with(threads * BLOCKS_A_THREAD, B::default);
        let mut sent = lanes.iter().cycle();
        let mut awaited = lanes.iter().cycle();
        let mut under_way = 0usize;
        let mut is_more = true;
        while is_more || under_way > 0 {
            if let (true, Some(mut block)) = (is_more, free.pop()) {
                is_more = !stop.is_asked() && fill(&mut block)?;
                if let (true, Some((to_worker, _))) = (is_more, sent.next()) {
                    // A worker takes blocks until its lane is dropped.
                    is_more = to_worker.send(block).is_ok();
                    under_way += 1;
                }
            } else if let Some(Ok(block)) = awaited.next().map(|(_, from_worker)| from_worker.recv()) {
                under_way -= 1;
                take(&block)?;
                free.push(block);
            } else {
                break;
            }
        }
        Ok(())
    })
}
