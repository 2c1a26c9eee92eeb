//! The painted stack: fill what is free with a colour, run, and see how far down it was touched.

use core::arch::asm;
use core::ptr::addr_of;

unsafe extern "C" {
    static _bss_end: u32;
}

const COLOUR: u32 = 0xA5A5_5AA5;
/// No more than this is painted: some boards have megabytes.
const WINDOW: usize = 64 * 1024;

/// Where the stack pointer of the calling function stands. A call would push, and hide a frame.
#[inline(always)]
fn pointer() -> usize {
    let sp: usize;
    // SAFETY: only reads the register.
    unsafe {
        #[cfg(target_arch = "arm")]
        asm!("mov {}, sp", out(reg) sp, options(nomem, nostack));
        #[cfg(target_arch = "riscv32")]
        asm!("mv {}, sp", out(reg) sp, options(nomem, nostack));
    }
    sp
}

/// Bytes of stack `work` and all it calls used, `work`'s own frame included.
#[inline(never)]
pub fn used(work: impl FnOnce()) -> usize {
    let top = pointer();
    let floor = (addr_of!(_bss_end) as usize).max(top - WINDOW);
    let mut at = floor;
    while at < top {
        // SAFETY: between the end of the statics and the stack pointer lies nothing live: there is no heap
        // and no interrupt, and the loop calls nothing.
        unsafe { (at as *mut u32).write_volatile(COLOUR) };
        at += 4;
    }
    work();
    at = floor;
    // SAFETY: as above.
    while at < top && unsafe { (at as *const u32).read_volatile() } == COLOUR {
        at += 4;
    }
    top - at
}
