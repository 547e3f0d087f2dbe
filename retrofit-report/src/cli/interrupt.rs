//! A run that is interrupted takes its unfinished files with it.

/// From here on, an interrupt or a request to end removes the unfinished files before it ends this process as
/// it otherwise would, so that a shell sees the usual exit code (130, 143).
///
/// A hang-up is left alone: a run under `nohup` ignores it, and a handler would end that run. Where this cannot
/// be set up, an interrupt does what it did before.
#[cfg(unix)]
pub(super) fn leave_nothing_unfinished() {
    use signal_hook::consts::{SIGINT, SIGTERM};
    use signal_hook::iterator::Signals;
    use signal_hook::low_level::emulate_default_handler;

    let Ok(mut signals) = Signals::new([SIGINT, SIGTERM]) else {
        return;
    };
    std::thread::spawn(move || {
        for signal in signals.forever() {
            retrofit_report::output::abandon_unfinished(|| {
                if emulate_default_handler(signal).is_err() {
                    std::process::exit(128 + signal);
                }
            });
        }
    });
}

/// Elsewhere an interrupt may leave an unfinished file behind.
#[cfg(not(unix))]
pub(super) fn leave_nothing_unfinished() {}
