//! What several of these tests need.

use std::{panic, thread};

use legwork_file::Checker;

/// Unoptimised, the tables of a checker pass over the stack on their way to the heap, and a test's own
/// thread has too little of it.
const STACK: usize = 64 << 20;

/// Runs a test with a checker.
///
/// # Panics
///
/// Where the test does.
pub(crate) fn with_checker<T: Send>(test: impl FnOnce(&mut Checker) -> T + Send) -> T {
    thread::scope(|scope| {
        let thread = thread::Builder::new().stack_size(STACK);
        let running = thread.spawn_scoped(scope, || test(&mut Checker::new())).expect("a thread");
        running.join().unwrap_or_else(|panicked| panic::resume_unwind(panicked))
    })
}
