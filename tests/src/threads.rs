//! Work that takes every processor, or more stack than a test's thread has.

use std::sync::atomic::{AtomicU64, Ordering};
use std::thread::{Builder, available_parallelism, scope};

/// What some work gives for each number from `first` up, `count` of them, in their order: done by as many threads as there
/// are processors, each with so much stack.
///
/// # Panics
/// As the work does.
pub fn for_each<T: Send>(first: u64, count: u64, stack: usize, work: impl Fn(u64) -> T + Sync) -> Vec<T> {
    let next = AtomicU64::new(first);
    let work = || {
        let numbers = std::iter::repeat_with(|| next.fetch_add(1, Ordering::Relaxed));
        let numbers = numbers.take_while(|number| *number < first + count);
        numbers.map(|number| (number, work(number))).collect::<Vec<_>>()
    };
    let mut all: Vec<(u64, T)> = scope(|scope| {
        let workers = available_parallelism().map_or(1, usize::from);
        let thread = |_| Builder::new().stack_size(stack).spawn_scoped(scope, work).expect("a thread");
        let threads: Vec<_> = (0..workers).map(thread).collect();
        threads.into_iter().flat_map(|thread| thread.join().expect("it ends")).collect()
    });
    all.sort_by_key(|(number, _)| *number);
    all.into_iter().map(|(_, given)| given).collect()
}

/// What some work gives, done with so much stack.
///
/// # Panics
/// As the work does.
pub fn deeply<T: Send>(stack: usize, work: impl FnOnce() -> T + Send) -> T {
    scope(|scope| {
        let thread = Builder::new().stack_size(stack).spawn_scoped(scope, work).expect("a thread");
        thread.join().expect("it ends")
    })
}
