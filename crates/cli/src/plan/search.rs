//! Running a search: on a thread with room for it, with a progress bar, until it ends or is ended.

use std::io::IsTerminal;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::{Duration, Instant};

use indicatif::{ProgressBar, ProgressDrawTarget, ProgressStyle};
use legwork::plan::Progress;
use legwork_file::plan::STACK;

use crate::Failure;

/// A search that takes longer than this shows how it goes.
const PATIENCE: Duration = Duration::from_secs(1);

/// What is searched for, and so what is being tried.
#[derive(Clone, Copy)]
pub(super) enum What {
    /// A plan: by its amplifiers.
    Plan,
    /// Changes: by how many.
    Changes,
}

impl What {
    fn told(self, progress: &Progress) -> String {
        match (self, progress.tier) {
            (Self::Plan, count) => with_amplifiers(count),
            (Self::Changes, 1) => "at one change".to_owned(),
            (Self::Changes, count) => format!("at {count} changes at once"),
        }
    }
}

/// How many amplifiers, with the word before them.
pub(super) fn with_amplifiers(count: u8) -> String {
    match count {
        0 => "without an amplifier".to_owned(),
        1 => "with one amplifier".to_owned(),
        count => format!("with {count} amplifiers"),
    }
}

/// Runs a search. Its `go_on` says no after so many seconds, and when Ctrl-C is pressed.
pub(super) fn run<T: Send>(
    what: What,
    seconds: Duration,
    search: impl FnOnce(&mut dyn FnMut(&Progress) -> bool) -> T + Send,
) -> Result<T, Failure> {
    let ended = Arc::new(AtomicBool::new(false));
    let heard = Arc::clone(&ended);
    // Where another handler is set already, Ctrl-C ends the program as ever.
    let _ = ctrlc::set_handler(move || heard.store(true, Ordering::Relaxed));
    let work = move || {
        let mut display = Display::new(what);
        let started = Instant::now();
        search(&mut |progress| {
            display.show(started, progress);
            let late = started.elapsed() >= seconds;
            !(late || ended.load(Ordering::Relaxed))
        })
    };
    std::thread::scope(|scope| {
        let thread = std::thread::Builder::new().stack_size(STACK).spawn_scoped(scope, work);
        let thread = thread.map_err(|error| Failure::Unusable(format!("the search can't be started: {error}")))?;
        thread.join().map_err(|_| Failure::Unusable("the search ended unexpectedly".to_owned()))
    })
}

/// One line on standard error that says how far the search is, on a terminal alone.
struct Display {
    what: What,
    bar: Option<ProgressBar>,
    shown: Instant,
}

impl Display {
    fn new(what: What) -> Self {
        Self { what, bar: None, shown: Instant::now() }
    }

    fn show(&mut self, started: Instant, progress: &Progress) {
        if self.shown.elapsed() < Duration::from_millis(100) {
            return;
        }
        self.shown = Instant::now();
        if started.elapsed() < PATIENCE || !std::io::stderr().is_terminal() {
            return;
        }
        let bar = self.bar.get_or_insert_with(|| {
            let bar = ProgressBar::with_draw_target(None, ProgressDrawTarget::stderr());
            if let Ok(style) = ProgressStyle::with_template("{spinner} {elapsed} {msg}") {
                bar.set_style(style);
            }
            bar
        });
        let best = match progress.best {
            Some((_, cost, margin)) if cost > 0 => format!("best so far costs {}, margin {margin:.1} dB", money(cost)),
            Some((_, _, margin)) => format!("best so far has a margin of {margin:.1} dB"),
            None => "none yet".to_owned(),
        };
        let steps = progress.steps;
        bar.set_message(format!("looking {}, {steps} steps; {best} (Ctrl-C takes it)", self.what.told(progress)));
        bar.tick();
    }
}

impl Drop for Display {
    fn drop(&mut self) {
        if let Some(bar) = &self.bar {
            bar.finish_and_clear();
        }
    }
}

/// Hundredths as a price.
pub(super) fn money(hundredths: u32) -> String {
    format!("{}.{:02}", hundredths / 100, hundredths % 100)
}
