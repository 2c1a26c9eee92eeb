//! The reference home, from a built premises to the whole report: instructions, painted stack, and two
//! figures that show it is the right home.

#![cfg_attr(target_os = "none", no_std, no_main)]

use legwork::{Error, Report};
use legwork_target::home::{self, Desk, Home};
use legwork_target::{program, say};

/// The one place the work is called from: `on-target.sh stack` bounds this name.
#[unsafe(no_mangle)]
#[inline(never)]
fn bench_check<'w>(home: &'w Home, desk: &'w mut Desk) -> Result<Report<'w, 'static>, Error> {
    desk.check(&home.tree())
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
    let (home, desk) = home::build()?;
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
    let report = bench_check(home, desk)?;
    let total = report.outlets().next().map_or(f32::NAN, |outlet| outlet.total.nominal);
    say!("total={total:.3} findings={}", report.findings().len());
    Ok(())
}

program!(run);
