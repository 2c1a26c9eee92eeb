//! A plan for 4 outlets from 6 kinds of stock, and the fewest changes for a home that fails: instructions.

#![cfg_attr(target_os = "none", no_std, no_main)]

use legwork::Error;
use legwork::mend::Mended;
use legwork::plan::Outcome;
use legwork_target::{program, say, truck};

#[inline(never)]
fn bench_plan(table: &mut truck::Table, small: &mut truck::Small) -> Result<Outcome<16>, Error> {
    truck::plan(table, small)
}

#[inline(never)]
fn bench_mend(
    table: &mut truck::Table,
    handy: &mut truck::Handy,
    home: &truck::Failing,
) -> Result<Option<Mended>, Error> {
    truck::mend(table, handy, home)
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
    let (mut table, small, handy) = truck::rooms()?;
    let failing = truck::failing()?;
    #[cfg(target_os = "none")]
    let (planned, mended) = {
        use core::hint::black_box;
        use legwork_target::count;
        let planned = count::instructions(|| drop(black_box(bench_plan(&mut table, small))));
        (planned, count::instructions(|| drop(black_box(bench_mend(&mut table, handy, &failing)))))
    };
    #[cfg(not(target_os = "none"))]
    let (planned, mended) = (0, 0);
    let cost = match bench_plan(&mut table, small)? {
        Outcome::Found(plan) => plan.cost,
        Outcome::Nothing { .. } => 0,
    };
    let repaired = bench_mend(&mut table, handy, &failing)?.is_some();
    say!("plan={planned} plan_cost={cost} mend={mended} mended={repaired}");
    Ok(())
}

program!(run);
