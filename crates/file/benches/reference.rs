//! What the work on one home costs: the reference home read, checked and written, and the searches; and beside it, in the
//! same run, what `serde_json` takes for the same text alone. Medians of one run may be compared with each other.
//!
//! `cargo bench -p legwork-file --bench reference`

use std::hint::black_box;

use bumpalo::Bump;
use divan::Bencher;
use legwork::{Db, Workspace};
use legwork_file::plan::{STACK, mend, plan};
use legwork_file::{Checker, Finder, Source, raw, read, write_json};
use serde_json::Value;

/// 23 parts, 8 outlets, 135 carriers, climate, spreads, all limits, a home network of 3.
const HOME: &str = include_str!("reference.toml");
const NEED: &str = include_str!("need.toml");
const BROKEN: &str = include_str!("../../cli/examples/boathouse-long-run.toml");

fn main() {
    // Searches take more stack than the first thread has.
    let all = std::thread::Builder::new().stack_size(STACK).spawn(divan::main).expect("a thread");
    all.join().expect("every benchmark ends");
}

/// A file, by its name's ending TOML or JSON.
fn source<'t>(name: &'t str, text: &'t str) -> Source<'t> {
    Source::new(name, text.as_bytes()).expect("text")
}

/// The reference home as a line of `--lines`.
fn line() -> String {
    toml::from_str::<Value>(HOME).expect("TOML").to_string()
}

/// Its report.
fn report() -> String {
    Checker::new().check(&source("home.toml", HOME), None).expect("a home").json()
}

/// One home of many, as `--lines` has them.
mod line_by_line {
    use super::*;

    #[divan::bench]
    fn whole(bencher: Bencher<'_, '_>) {
        let (line, mut checker, mut out) = (line(), Checker::new(), Vec::new());
        bencher.bench_local(|| {
            out.clear();
            let checked = checker.check(&source("-.json", black_box(&line)), None).expect("a home");
            write_json(&mut out, &checked.home, &checked.report, None);
            out.len()
        });
    }

    #[divan::bench(name = "read")]
    fn read_json(bencher: Bencher<'_, '_>) {
        let (line, mut arena) = (line(), Bump::new());
        bencher.bench_local(|| {
            arena.reset();
            read(&source("-.json", black_box(&line)), None, &arena).expect("a home").tree().outlets().len()
        });
    }

    /// Core alone, in the room that a board would give it.
    #[divan::bench]
    fn check(bencher: Bencher<'_, '_>) {
        let (line, arena, mut room) = (line(), Bump::new(), Workspace::<32, 12, 96, 1, 16>::new());
        let home = read(&source("-.json", &line), None, &arena).expect("a home");
        bencher.bench_local(|| room.check(black_box(&home.tree())).expect("room").findings().len());
    }

    #[divan::bench]
    fn write(bencher: Bencher<'_, '_>) {
        let (line, mut checker, mut out) = (line(), Checker::new(), Vec::new());
        let checked = checker.check(&source("-.json", &line), None).expect("a home");
        bencher.bench_local(|| {
            out.clear();
            write_json(&mut out, black_box(&checked.home), black_box(&checked.report), None);
            out.len()
        });
    }
}

/// The peer: the same line and the same report, and no calculation.
mod serde_json_alone {
    use super::*;

    #[divan::bench]
    fn read_into_structs(bencher: Bencher<'_, '_>) {
        let line = line();
        bencher.bench_local(|| serde_json::from_str::<raw::Premises<'_>>(black_box(&line)).expect("a home"));
    }

    #[divan::bench]
    fn read_into_values(bencher: Bencher<'_, '_>) {
        let line = line();
        bencher.bench_local(|| serde_json::from_str::<Value>(black_box(&line)).expect("JSON"));
    }

    #[divan::bench]
    fn write_from_values(bencher: Bencher<'_, '_>) {
        let (report, mut out): (Value, _) = (serde_json::from_str(&report()).expect("JSON"), Vec::new());
        bencher.bench_local(|| {
            out.clear();
            serde_json::to_writer(&mut out, black_box(&report)).expect("room");
            out.len()
        });
    }
}

/// One home as a person writes it.
#[divan::bench]
fn read_toml(bencher: Bencher<'_, '_>) {
    let mut arena = Bump::new();
    bencher.bench_local(|| {
        arena.reset();
        read(&source("home.toml", black_box(HOME)), None, &arena).expect("a home").tree().outlets().len()
    });
}

/// By 24 readings: every outlet at three frequencies, all behind one cable 3 dB down.
#[divan::bench]
fn locate(bencher: Bencher<'_, '_>) {
    let report: Value = serde_json::from_str(&report()).expect("JSON");
    let mut readings = "at,mhz,dbmv\n".to_owned();
    for outlet in report["outlets"].as_array().expect("outlets") {
        let lost =
            if ["bedroom box", "nursery tv"].contains(&outlet["id"].as_str().expect("an id")) { 3.0 } else { 0.0 };
        for level in outlet["forward"].as_array().expect("levels") {
            let read = level["dbmv"].as_f64().expect("a level") - lost;
            readings += &format!("{},{},{read:.1}\n", outlet["id"].as_str().expect("an id"), level["mhz"]);
        }
    }
    assert_eq!(readings.lines().count(), 1 + 24);
    let mut finder = Finder::new();
    bencher.bench_local(|| {
        let located = finder.locate(
            &source("home.toml", black_box(HOME)),
            &source("today.csv", black_box(&readings)),
            Db::constant(0.5),
        );
        assert!(!located.expect("readings").diagnosis.best().is_nothing_wrong());
    });
}

/// Six outlets from the truck, proved best.
#[divan::bench(name = "plan", sample_count = 10)]
fn plan_a_home() {
    assert!(plan(&source("need.toml", black_box(NEED)), &mut |_| true).expect("a need").proved);
}

/// Two changes, with what the same truck has.
#[divan::bench(name = "mend", sample_count = 10)]
fn mend_a_home() {
    let mending = mend(&source("home.toml", black_box(BROKEN)), &source("truck.toml", NEED), 3, &mut |_| true);
    assert!(mending.expect("a home").planned.proved);
}
