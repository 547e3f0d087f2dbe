//! What an interrupt does to a run.

use retrofit_report::triage::Stop;

/// From here on, the first interrupt or request to end only asks the run to stop, and the second ends it at once,
/// with its unfinished files. What to call when the run has stopped: it ends this process as the signal would have,
/// so that a shell sees the usual exit code (130, 143).
///
/// A hang-up is left alone: a run under `nohup` ignores it, and a handler would end that run. Where this cannot
/// be set up, an interrupt ends the run at once.
#[cfg(unix)]
pub(super) fn stop_at_first(stop: Stop) -> impl FnOnce() {
    use std::sync::Arc;
    use std::sync::atomic::{AtomicI32, Ordering};

    let by = Arc::new(AtomicI32::new(0));
    let stopped_by = Arc::clone(&by);
    on_signals(move |signal| {
        if stop.is_asked() {
            retrofit_report::output::abandon_unfinished(|| end_by(signal));
        }
        by.store(signal, Ordering::SeqCst);
        stop.ask();
    });
    move || match stopped_by.load(Ordering::SeqCst) {
        0 => {}
        signal => end_by(signal),
    }
}

/// From here on, an interrupt or a request to end takes the unfinished files of the run with it.
#[cfg(unix)]
pub(super) fn leave_nothing_unfinished() {
    on_signals(|signal| retrofit_report::output::abandon_unfinished(|| end_by(signal)));
}

#[cfg(unix)]
fn on_signals(mut act: impl FnMut(i32) + Send + 'static) {
    use signal_hook::consts::{SIGINT, SIGTERM};
    use signal_hook::iterator::Signals;

    let Ok(mut signals) = Signals::new([SIGINT, SIGTERM]) else {
        return;
    };
    std::thread::spawn(move || {
        for signal in signals.forever() {
            act(signal);
        }
    });
}

#[cfg(unix)]
fn end_by(signal: i32) {
    if signal_hook::low_level::emulate_default_handler(signal).is_err() {
        std::process::exit(128 + signal);
    }
}

/// Elsewhere an interrupt ends a run at once.
#[cfg(not(unix))]
pub(super) fn stop_at_first(_: Stop) -> impl FnOnce() {
    || {}
}

/// Elsewhere an unfinished file stays behind.
#[cfg(not(unix))]
pub(super) fn leave_nothing_unfinished() {}
