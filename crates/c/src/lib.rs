//! The core for C: what `include/legwork.h` declares.
//!
//! The head of that header says what a caller must keep to; every `unsafe` here leans on it and on nothing else.
//! A home and its report stand in storage that the caller owns: [`home`] and [`check`] say how. Specs are copied
//! onto the home's own `shelf`, so nothing a caller hands in has to outlive the call. C numbers become the
//! core's types in `keep`, and nowhere else, so nothing unchecked gets past it.
//!
//! No heap; no panic (on a board the linker proves it: `crates/target/on-target.sh c`).

#![cfg_attr(target_os = "none", no_std)]
#![allow(non_camel_case_types, reason = "these are the names C programs write")]
#![allow(clippy::missing_safety_doc, reason = "one contract for all functions, at the head of the header")]

pub mod add;
pub mod check;
pub mod choice;
pub mod error;
pub mod findings;
pub mod home;
mod keep;
pub mod read;
pub mod report;
pub mod set;
mod shelf;
pub mod spec;
mod stored;

/// Not reached: `on-target.sh c` builds with `panic_symbol`, and then the link fails if it could be.
#[cfg(target_os = "none")]
#[panic_handler]
fn panic(_: &core::panic::PanicInfo<'_>) -> ! {
    #[cfg(panic_symbol)]
    {
        unsafe extern "C" {
            fn ERROR_a_panic_is_reachable() -> !;
        }
        // SAFETY: defined nowhere; a program with this call in it does not link.
        unsafe { ERROR_a_panic_is_reachable() }
    }
    #[cfg(not(panic_symbol))]
    loop {}
}

/// The control of that proof: it can panic, and has to be refused.
///
/// cbindgen:ignore
#[cfg(panic_control)]
#[unsafe(no_mangle)]
#[allow(clippy::indexing_slicing, reason = "that is what it is for")]
pub extern "C" fn legwork_panic_control(index: usize) -> u8 {
    b"legwork"[index]
}
