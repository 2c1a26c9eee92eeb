//! The console: semihosting on a board, the standard streams on a host.

use core::fmt;

/// Prints one line, as `println!` does.
#[macro_export]
macro_rules! say {
    ($($arg:tt)*) => { $crate::console::line(format_args!($($arg)*)) };
}

#[cfg(not(target_os = "none"))]
mod port {
    use std::io::{Read, Write, stdin, stdout};

    pub(super) fn write(bytes: &[u8]) {
        // a closed pipe is the reader's choice, and no news to print
        let _ = stdout().write_all(bytes);
    }
    pub(super) fn read(into: &mut [u8]) -> usize {
        stdin().read(into).unwrap_or(0)
    }
    pub(super) fn argument(into: &mut [u8]) -> usize {
        let text = std::env::args().nth(1).unwrap_or_default();
        let n = text.len().min(into.len());
        into[..n].copy_from_slice(&text.as_bytes()[..n]);
        n
    }
    pub(super) fn exit(code: i32) -> ! {
        std::process::exit(code)
    }
}

#[cfg(target_os = "none")]
mod port {
    use core::arch::asm;

    const OPEN: usize = 0x01;
    const WRITE: usize = 0x05;
    const READ: usize = 0x06;
    const GET_CMDLINE: usize = 0x15;
    const EXIT_EXTENDED: usize = 0x20;

    /// One request to the debugger. `block` is what the semihosting specification asks of `operation`.
    fn call(operation: usize, block: &mut [usize]) -> usize {
        let mut result = operation;
        // SAFETY: the debugger reads `block` and what it points at; every caller below passes live
        // buffers with their true lengths. Memory counts as clobbered, as the debugger may write to them.
        unsafe {
            #[cfg(target_arch = "arm")]
            asm!("bkpt #0xab", inout("r0") result, in("r1") block.as_mut_ptr(), options(nostack));
            #[cfg(target_arch = "riscv32")]
            asm!(
                ".balign 16", // the three must lie in one page, uncompressed
                ".option push",
                ".option norvc",
                "slli x0, x0, 0x1f",
                "ebreak",
                "srai x0, x0, 7",
                ".option pop",
                inout("a0") result, in("a1") block.as_mut_ptr(), options(nostack),
            );
        }
        result
    }

    /// Opens the console: mode 0 reads, mode 4 writes.
    fn console(mode: usize) -> usize {
        call(OPEN, &mut [c":tt".as_ptr() as usize, mode, 3])
    }
    pub(super) fn write(bytes: &[u8]) {
        let handle = console(4);
        call(WRITE, &mut [handle, bytes.as_ptr() as usize, bytes.len()]);
    }
    pub(super) fn read(into: &mut [u8]) -> usize {
        let handle = console(0);
        let left = call(READ, &mut [handle, into.as_mut_ptr() as usize, into.len()]);
        into.len().saturating_sub(left)
    }
    pub(super) fn argument(into: &mut [u8]) -> usize {
        let mut block = [into.as_mut_ptr() as usize, into.len()];
        if call(GET_CMDLINE, &mut block) == 0 { block[1].min(into.len()) } else { 0 }
    }
    pub(super) fn exit(code: i32) -> ! {
        loop {
            call(EXIT_EXTENDED, &mut [0x20026, code as usize]); // "application exit"
        }
    }
}

/// Ends the program, and the emulator with it.
pub fn exit(code: i32) -> ! {
    port::exit(code)
}

/// Fills `into` with what the console has, at least a byte; 0 is the end of the input.
pub fn read(into: &mut [u8]) -> usize {
    port::read(into)
}

/// Whether the program was started with this one argument.
pub fn asked_for(word: &str) -> bool {
    let mut buffer = [0; 32];
    let n = port::argument(&mut buffer);
    let text = buffer.get(..n).unwrap_or_default();
    text.strip_suffix(b"\0").unwrap_or(text) == word.as_bytes()
}

/// What [`say!`](crate::say) expands to. Longer lines than the buffer go out in pieces.
pub fn line(text: fmt::Arguments) {
    let mut out = Buffered { bytes: [0; 96], used: 0 };
    // `Buffered` refuses nothing
    let _ = fmt::write(&mut out, format_args!("{text}\n"));
    out.flush();
}

struct Buffered {
    bytes: [u8; 96],
    used: usize,
}

impl Buffered {
    fn flush(&mut self) {
        port::write(&self.bytes[..self.used]);
        self.used = 0;
    }
}

impl fmt::Write for Buffered {
    fn write_str(&mut self, text: &str) -> fmt::Result {
        for &byte in text.as_bytes() {
            if self.used == self.bytes.len() {
                self.flush();
            }
            self.bytes[self.used] = byte;
            self.used += 1;
        }
        Ok(())
    }
}
