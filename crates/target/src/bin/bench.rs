//! The reference home, from a built premises to the whole report: instructions, painted stack, and two
//! figures that show it is the right home.

#![cfg_attr(target_os = "none", no_std, no_main)]

use legwork::{Db, Diagnosis, Error, Reading, Report};
use legwork_target::faults;
use legwork_target::home::{self, Desk, Finder, Home};
use legwork_target::{program, say};

/// The one place the work is called from: `on-target.sh stack` bounds this name.
#[unsafe(no_mangle)]
#[inline(never)]
fn bench_check<'w>(home: &'w Home, desk: &'w mut Desk) -> Result<Report<'w, 'static>, Error> {
    desk.check(&home.tree())
}

/// And the fault of a home, by 24 readings: every outlet at three frequencies.
#[unsafe(no_mangle)]
#[inline(never)]
fn bench_locate<'w>(home: &Home, finder: &'w mut Finder, readings: &'w [Reading]) -> Result<Diagnosis<'w>, Error> {
    finder.locate(&home.tree(), readings, Db::constant(0.5))
}

fn run() -> i32 {
    match figures() {
        Ok(()) => 0,
        Err(error) => {
            say!("{error}");
            1
        }
    }
}

fn figures() -> Result<(), Error> {
    let (home, desk) = home::desk()?;
    #[cfg(target_os = "none")]
    {
        use core::hint::black_box;
        use legwork_target::{count, stack};
        if !count::is_exact(8_000_000) {
            say!("the instruction counter is not exact");
            legwork_target::console::exit(1);
        }
        let used = stack::used(|| drop(black_box(bench_check(home, desk))));
        let instructions = count::instructions(|| drop(black_box(bench_check(home, desk))));
        say!("instructions={instructions} stack={used}");
    }
    let finder = home::finder()?;
    let (readings, count) = faults::readings(&home.tree(), 0)?;
    let readings = readings.get(..count).unwrap_or_default();
    #[cfg(target_os = "none")]
    let (located, located_stack) = {
        use core::hint::black_box;
        use legwork_target::{count, stack};
        let used = stack::used(|| drop(black_box(bench_locate(home, finder, readings))));
        (count::instructions(|| drop(black_box(bench_locate(home, finder, readings)))), used)
    };
    #[cfg(not(target_os = "none"))]
    let (located, located_stack) = (0, 0);
    let weight = bench_locate(home, finder, readings)?.best().weight;
    let report = bench_check(home, desk)?;
    let total = report.outlets().next().map_or(f32::NAN, |outlet| outlet.total.nominal);
    let findings = report.findings().len();
    say!("total={total:.3} findings={findings} locate={located} locate_stack={located_stack} weight={weight:.3}");
    Ok(())
}

program!(run);
