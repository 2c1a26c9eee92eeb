//! What every program on a board shares: start, console, counter, stack painter and the work itself.
//!
//! The same sources build for the host, where only the console and the work mean anything; `vectors`
//! is run there for the reference output.

#![cfg_attr(target_os = "none", no_std)]

pub mod console;
#[cfg(target_os = "none")]
pub mod count;
pub mod faults;
pub mod home;
mod odd;
pub mod random;
mod room;
pub mod singles;
mod specs;
#[cfg(target_os = "none")]
pub mod stack;
#[cfg(target_os = "none")]
mod start;
pub mod sums;
pub mod truck;
pub mod work;

/// Makes `fn() -> i32` the whole program; its result is the exit code, a panic's is 101.
#[macro_export]
macro_rules! program {
    ($main:path) => {
        #[cfg(target_os = "none")]
        #[unsafe(no_mangle)]
        extern "C" fn board_main() -> ! {
            $crate::console::exit($main())
        }

        #[cfg(target_os = "none")]
        #[panic_handler]
        fn panic(info: &core::panic::PanicInfo) -> ! {
            $crate::say!("{info}");
            $crate::console::exit(101)
        }

        #[cfg(not(target_os = "none"))]
        fn main() {
            $crate::console::exit($main())
        }
    };
}
