//! One public calculation a feature, called with inputs the compiler cannot see through. `on-target.sh size`
//! weighs it against the same program without a feature, and `nopanic` links it: the panic handler calls
//! a symbol that does not exist, so a program that links has no way to the handler.

#![cfg_attr(target_os = "none", no_std, no_main)]

#[cfg(feature = "probe-heap")]
extern crate alloc;

#[allow(unused_imports, reason = "the empty program calls nothing")]
use core::hint::black_box;

use legwork_target as _; // the start code
#[allow(unused_imports, reason = "each probe calls some of them")]
use legwork_target::{faults, home, random, singles, sums::Sums, truck};

#[cfg(target_os = "none")]
#[panic_handler]
fn panic(_: &core::panic::PanicInfo) -> ! {
    #[cfg(not(panic_symbol))]
    {
        unsafe extern "C" {
            fn ERROR_a_panic_is_reachable() -> !;
        }
        // SAFETY: never runs, as a program with this call in it does not link.
        unsafe { ERROR_a_panic_is_reachable() }
    }
    #[cfg(panic_symbol)] // links, so that the callers can be listed
    loop {
        core::hint::spin_loop();
    }
}

fn run() {
    // A home, part by part.
    #[cfg(feature = "probe-build")]
    let _ = black_box(home::build(black_box(&home::PARTS)));
    // And the level at one of its outlets, at one frequency.
    #[cfg(feature = "probe-level")]
    if let Ok((home, _)) = home::desk() {
        let tree = black_box(home).tree();
        let port = black_box(tree.outlets().first().map_or(legwork::PortId::ENTRY, legwork::Outlet::port));
        let _ = black_box(legwork::Frequency::new(black_box(57.0)).and_then(|mhz| tree.levels_at(port, mhz)));
    }
    // Single calculations: noise alone, DC alone, all.
    #[cfg(feature = "probe-noise")]
    let _ = black_box(singles::noise());
    #[cfg(feature = "probe-dc")]
    let _ = black_box(singles::feed());
    #[cfg(feature = "probe-singles")]
    let _ = singles::vectors(&mut |name, sum| _ = black_box((name, sum)));
    // A home and all that is wrong with it.
    #[cfg(feature = "probe-check")]
    if let Ok((home, desk)) = home::desk() {
        let _ = black_box(black_box(desk).check(&black_box(home).tree()));
    }
    // Which part is at fault by readings, and where to read next.
    #[cfg(feature = "probe-locate")]
    if let (Ok((home, _)), Ok(finder)) = (home::desk(), home::finder()) {
        let tree = black_box(home).tree();
        let readings = black_box(
            [legwork::Reading {
                port: legwork::PortId::ENTRY,
                frequency: legwork::Frequency::MIN,
                level: legwork::Level::constant(0.0),
            }; 6],
        );
        if let Ok(diagnosis) = black_box(finder).locate(&tree, &readings, black_box(legwork::Db::constant(0.5))) {
            let _ = black_box((diagnosis.best().parts().next(), diagnosis.next_reading()));
        }
    }
    // What to take from the truck, and what to change.
    #[cfg(feature = "probe-plan")]
    if let Ok((mut table, small, _)) = truck::rooms() {
        let outcome = truck::plan(black_box(&mut table), black_box(small));
        if let Ok(legwork::plan::Outcome::Found(plan)) = &outcome {
            let built =
                plan.build(&truck::need(), black_box(&truck::STOCK), &mut table, |origin| _ = black_box(origin));
            let _ = black_box((built, plan.supplies().next()));
        }
        let closest = small.closest(&truck::need(), black_box(&truck::STOCK), &mut table, |_| black_box(true));
        let _ = black_box((outcome, closest, small.steps()));
    }
    #[cfg(feature = "probe-mend")]
    let _ = black_box(truck::failing().map(truck::weigh));
    #[cfg(feature = "probe-mend")]
    if let (Ok((mut table, _, handy)), Ok(home)) = (truck::rooms(), truck::failing()) {
        let tree = black_box(&home).tree();
        let found = truck::mend(black_box(&mut table), black_box(handy), black_box(&home));
        if let Ok(Some(mended)) = &found {
            let _ = black_box(mended.changes::<16, 4>(&tree, &truck::STOCK));
            let _ = black_box(mended.build::<16, 4>(&tree, &truck::STOCK, 1, &mut table, |part, from| {
                _ = black_box((part, from));
            }));
        }
        let _ = black_box((found, handy.was_stopped(), handy.steps(), legwork::mend::Mended::nothing()));
    }
    // Also read every figure of the report, and put the findings in words.
    #[cfg(feature = "probe-report")]
    if let Ok((home, desk)) = home::desk()
        && let Ok(report) = black_box(desk).check(&black_box(home).tree())
    {
        let mut sums = Sums::default();
        sums.add(black_box(&report));
        black_box(sums.codes());
        sums.each(|name, sum| _ = black_box((name, sum)));
    }
    // Any home at all, so that no value of the reference home can have ruled a panic out.
    #[cfg(feature = "probe-random")]
    {
        let mut desk = random::Desk::new();
        let mut finder = random::Finder::new();
        let mut faults = legwork_target::sums::Checksum::new();
        let _ = black_box(random::home(black_box(0), |home| {
            faults::visit(&mut faults, &black_box(home).tree(), black_box(&mut finder), black_box(0))
        }));
        black_box(faults.value());
        let mut sums = Sums::default();
        let _ = black_box(random::home(black_box(0), |home| {
            black_box(&mut desk).check(&black_box(home).tree()).map(|report| sums.add(black_box(&report)))
        }));
        sums.each(|name, sum| _ = black_box((name, sum)));
    }
    // Two controls: the first must be refused, the second must be caught with an allocator.
    #[cfg(feature = "probe-panics")]
    black_box(black_box([1.0f32, 2.0])[black_box(1usize)]);
    #[cfg(feature = "probe-heap")]
    black_box(alloc::boxed::Box::new(black_box(1.0f32)));
}

#[cfg(all(feature = "probe-heap", target_os = "none"))]
mod heap {
    use core::alloc::{GlobalAlloc, Layout};

    struct Nowhere;

    // SAFETY: it never hands out memory, which is what null says.
    unsafe impl GlobalAlloc for Nowhere {
        unsafe fn alloc(&self, _: Layout) -> *mut u8 {
            core::hint::black_box(core::ptr::null_mut())
        }
        unsafe fn dealloc(&self, _: *mut u8, _: Layout) {}
    }

    #[global_allocator]
    static HEAP: Nowhere = Nowhere;
}

#[cfg(target_os = "none")]
#[unsafe(no_mangle)]
extern "C" fn board_main() -> ! {
    run();
    loop {
        core::hint::spin_loop();
    }
}

#[cfg(not(target_os = "none"))]
fn main() {
    run();
}
