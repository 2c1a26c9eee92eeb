//! How much work the searches do.
//!
//! A search that cuts off less gives the same answer, later: nothing else here would notice. So the steps that it takes
//! for random needs and homes are kept, in the files beside this one. They are counts, the same on every machine. Where they change on
//! purpose, `LEGWORK_BLESS=1` writes them anew, and the change shows what it gained.

use std::fmt::Write as _;
use std::sync::atomic::{AtomicU64, Ordering};

use legwork_file::plan::{Planned, STACK, mend, plan};
use legwork_file::{Refusal, Source};
use legwork_tests::{broken, need, to_toml};
use serde_json::json;

/// So many random needs.
const NEEDS: u64 = 300;
/// Homes that were broken are tried for so many seeds.
const HOMES: u64 = 100;
/// The most changes.
const CHANGES: usize = 2;
/// Ends a search: few take as long.
const MOST: u32 = 20_000;

/// What a search came to, and the steps it took.
fn line(kind: &str, seed: u64, planned: Result<Planned, Box<Refusal>>) -> String {
    let planned = planned.unwrap_or_else(|refusal| panic!("{kind} {seed}: {}", refusal.render(false)));
    let Planned { feasible, proved, steps, .. } = planned;
    let outcome = match (feasible, proved) {
        (true, true) => "found",
        (false, true) => "nothing",
        (true, false) => "found, unproved",
        (false, false) => "nothing, unproved",
    };
    format!("{kind} {seed}: {outcome}, {steps}\n")
}

/// The line for a need.
fn of_need(seed: u64) -> String {
    let text = to_toml(&need(seed));
    let source = Source::new("need.toml", text.as_bytes()).expect("a text");
    line("plan", seed, plan(&source, &mut |progress| progress.steps < MOST))
}

/// The line for a home; none where nothing was broken.
fn of_home(seed: u64) -> String {
    let Some((premises, stock)) = broken(seed) else { return String::new() };
    let (home, stock) = (to_toml(&premises), to_toml(&json!({ "stock": stock })));
    let home = Source::new("home.toml", home.as_bytes()).expect("a text");
    let stock = Source::new("stock.toml", stock.as_bytes()).expect("a text");
    let mending = mend(&home, &stock, CHANGES, &mut |progress| progress.steps < MOST);
    line("mend", seed, mending.map(|mending| mending.planned))
}

/// The lines for the seeds from 0, by as many threads as there are processors.
fn lines(count: u64, of: impl Fn(u64) -> String + Sync) -> String {
    let next = AtomicU64::new(0);
    let work = || {
        let seeds = std::iter::repeat_with(|| next.fetch_add(1, Ordering::Relaxed));
        seeds.take_while(|seed| *seed < count).map(|seed| (seed, of(seed))).collect::<Vec<_>>()
    };
    let mut told: Vec<(u64, String)> = std::thread::scope(|scope| {
        let workers = std::thread::available_parallelism().map_or(1, usize::from);
        let thread = || std::thread::Builder::new().stack_size(STACK).spawn_scoped(scope, work).expect("a thread");
        let threads: Vec<_> = (0..workers).map(|_| thread()).collect();
        threads.into_iter().flat_map(|thread| thread.join().expect("it ends")).collect()
    });
    told.sort();
    told.into_iter().fold(String::new(), |mut text, (_, line)| {
        let _ = write!(text, "{line}");
        text
    })
}

/// Holds lines against those that are kept.
fn hold(name: &str, now: &str) {
    let path = format!("{}/tests/effort/{name}.txt", env!("CARGO_MANIFEST_DIR"));
    if std::env::var_os("LEGWORK_BLESS").is_some() {
        std::fs::write(&path, now).expect("a file can be written");
    }
    let kept = std::fs::read_to_string(&path).unwrap_or_default();
    let moved: Vec<_> = kept.lines().zip(now.lines()).filter(|(before, now)| before != now).collect();
    assert!(
        moved.is_empty(),
        "{} lines of {name}.txt moved, as these: {:#?}",
        moved.len(),
        &moved[..moved.len().min(5)]
    );
    assert_eq!(kept.lines().count(), now.lines().count(), "{name}.txt has other lines; LEGWORK_BLESS=1 writes it");
}

#[test]
fn plans_take_as_many_steps_as_they_did() {
    hold("plan", &lines(NEEDS, of_need));
}

#[test]
fn changes_take_as_many_steps_as_they_did() {
    hold("mend", &lines(HOMES, of_home));
}
