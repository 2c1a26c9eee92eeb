//! Exact instruction counts.
//!
//! Under QEMU's `-icount shift=S` one instruction takes 2^S virtual nanoseconds. The Cortex boards have no
//! instruction counter, so a 32-bit peripheral timer is read instead: with `S` = [`SHIFT`] a tick is less
//! than half an instruction, so rounding gives the exact count, and it wraps only after 10^9. (SysTick
//! has 24 bits: too few for a long run on a Cortex-M0.) RISC-V counts its retired instructions itself.

use core::hint::black_box;

/// The shift `on-target.sh` starts the emulator with.
pub const SHIFT: u32 = 8;

#[cfg(all(target_arch = "arm", target_abi = "eabihf"))]
mod clock {
    //! CMSDK timer 0 of the mps2-an386: 25 MHz, counts down.
    const CTRL: *mut u32 = 0x4000_0000 as *mut u32;
    const VALUE: *mut u32 = 0x4000_0004 as *mut u32;
    const RELOAD: *mut u32 = 0x4000_0008 as *mut u32;
    pub(super) const TICK_PS: u64 = 40_000;
    pub(super) type Ticks = u32;

    pub(super) fn start() {
        // SAFETY: the three registers exist on this board, and only this module uses them.
        unsafe {
            RELOAD.write_volatile(u32::MAX);
            VALUE.write_volatile(u32::MAX);
            CTRL.write_volatile(1);
        }
    }
    #[inline(always)]
    pub(super) fn now() -> Ticks {
        // SAFETY: as above.
        unsafe { !VALUE.read_volatile() }
    }
}

#[cfg(all(target_arch = "arm", not(target_abi = "eabihf")))]
mod clock {
    //! TIMER0 of the microbit's nRF51: 16 MHz, 32 bits wide, read by capturing.
    const BASE: usize = 0x4000_8000;
    const START: *mut u32 = BASE as *mut u32;
    const CAPTURE0: *mut u32 = (BASE + 0x040) as *mut u32;
    const BITMODE: *mut u32 = (BASE + 0x508) as *mut u32;
    const PRESCALER: *mut u32 = (BASE + 0x510) as *mut u32;
    const CC0: *mut u32 = (BASE + 0x540) as *mut u32;
    pub(super) const TICK_PS: u64 = 62_500;
    pub(super) type Ticks = u32;

    pub(super) fn start() {
        // SAFETY: the registers exist on this board, and only this module uses them.
        unsafe {
            BITMODE.write_volatile(3); // 32 bits
            PRESCALER.write_volatile(0);
            START.write_volatile(1);
        }
    }
    #[inline(always)]
    pub(super) fn now() -> Ticks {
        // SAFETY: as above.
        unsafe {
            CAPTURE0.write_volatile(1);
            CC0.read_volatile()
        }
    }
}

#[cfg(target_arch = "riscv32")]
mod clock {
    //! The hart's own counter, which QEMU keeps in virtual nanoseconds: 32 bits would wrap after 16 million
    //! instructions.
    use core::arch::asm;
    pub(super) const TICK_PS: u64 = 1_000;
    pub(super) type Ticks = u64;

    pub(super) fn start() {}
    #[inline(always)]
    pub(super) fn now() -> Ticks {
        let (high, low): (u32, u32);
        // SAFETY: reading a counter has no effect, and machine mode may always do it.
        unsafe { asm!("csrr {}, minstreth", "csrr {}, minstret", out(reg) high, out(reg) low, options(nostack)) };
        u64::from(high) << 32 | u64::from(low)
    }
}

/// Runs `work` between two readings of the clock; the second reading and the call are in the count.
#[inline(never)]
fn raw(work: &mut dyn FnMut()) -> u32 {
    let before = clock::now();
    work();
    let ticks = clock::now().wrapping_sub(before);
    let instruction_ps = 1000 << SHIFT;
    #[allow(clippy::useless_conversion, reason = "the width of the counter is the board's")]
    let ps = u64::from(ticks) * clock::TICK_PS;
    ((ps + instruction_ps / 2) / instruction_ps) as u32
}

/// Instructions spent in `work`, less those of an empty one.
pub fn instructions(mut work: impl FnMut()) -> u32 {
    clock::start();
    raw(&mut work) - raw(black_box(&mut || ()))
}

/// Whether a loop of two instructions and this many turns is counted to the last one: the counter's own test.
pub fn is_exact(turns: u32) -> bool {
    let count = |turns| instructions(|| spin(black_box(turns)));
    count(turns) - count(1) == 2 * (turns - 1)
}

/// Two instructions a turn; at least one turn.
#[inline(never)]
fn spin(turns: u32) {
    // SAFETY: touches nothing but its own register and the flags.
    unsafe {
        #[cfg(target_arch = "arm")]
        core::arch::asm!("2:", "subs {0}, {0}, #1", "bne 2b", inout(reg) turns => _, options(nomem, nostack));
        #[cfg(target_arch = "riscv32")]
        core::arch::asm!("2:", "addi {0}, {0}, -1", "bnez {0}, 2b", inout(reg) turns => _, options(nomem, nostack));
    }
}
