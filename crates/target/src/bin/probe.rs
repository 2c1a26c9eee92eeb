//! One public calculation a feature, called with inputs the compiler cannot see through. `on-target.sh size`
//! weighs it against the same program without a feature, and `nopanic` links it: the panic handler calls
//! a symbol that does not exist, so a program that links has no way to the handler.

#![cfg_attr(target_os = "none", no_std, no_main)]

#[cfg(any(feature = "probe-check", feature = "probe-panics"))]
use core::hint::black_box;

#[cfg(target_os = "none")]
use legwork_target as _; // the start code

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
    #[cfg(feature = "probe-check")]
    if let Ok((home, desk)) = legwork_target::home::build() {
        let _ = black_box(black_box(desk).check(&black_box(home).tree()));
    }
    #[cfg(feature = "probe-panics")]
    black_box(black_box([1.0f32, 2.0])[black_box(1usize)]);
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
