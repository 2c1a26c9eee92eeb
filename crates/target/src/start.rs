//! From reset to `board_main`: stack, FPU, `.data`, `.bss`. A fault ends the emulator with code 102.

use core::arch::global_asm;

#[cfg(target_arch = "arm")]
global_asm!(
    ".section .vectors,\"a\",%progbits",
    ".word _stack_top",
    ".word _start",
    ".rept 14",
    ".word board_fault",
    ".endr",
    ".section .text._start,\"ax\",%progbits",
    ".global _start",
    ".type _start,%function",
    ".thumb_func",
    "_start:",
    "bl board_fpu",
    "ldr r0, =_data_start",
    "ldr r1, =_data_end",
    "ldr r2, =_data_load",
    "b 2f",
    "1: ldmia r2!, {{r3}}",
    "stmia r0!, {{r3}}",
    "2: cmp r0, r1",
    "blo 1b",
    "ldr r0, =_bss_start",
    "ldr r1, =_bss_end",
    "movs r3, #0",
    "b 2f",
    "1: stmia r0!, {{r3}}",
    "2: cmp r0, r1",
    "blo 1b",
    "bl board_main",
    ".ltorg",
    ".size _start, . - _start",
);

// CPACR: full access to coprocessors 10 and 11, before anything touches a float register.
#[cfg(all(target_arch = "arm", target_abi = "eabihf"))]
global_asm!(
    ".section .text.board_fpu,\"ax\",%progbits",
    ".type board_fpu,%function",
    ".thumb_func",
    "board_fpu:",
    "ldr r0, =0xE000ED88",
    "ldr r1, =0x00F00000",
    "str r1, [r0]",
    "dsb",
    "isb",
    "bx lr",
    ".ltorg",
    ".size board_fpu, . - board_fpu",
);
#[cfg(all(target_arch = "arm", not(target_abi = "eabihf")))]
global_asm!(
    ".section .text.board_fpu,\"ax\",%progbits",
    ".type board_fpu,%function",
    ".thumb_func",
    "board_fpu:",
    "bx lr", // none to switch on
    ".size board_fpu, . - board_fpu",
);

// Copying and clearing as a small C library has them, from the end on: the compiler's own are unrolled for speed and
// take 1.1 kB, which the few hundred bytes that a check copies do not pay for.
#[cfg(target_arch = "arm")]
global_asm!(
    ".macro board_function names:vararg",
    ".irp name, \\names",
    ".global \\name",
    ".type \\name,%function",
    ".thumb_func",
    "\\name:",
    ".size \\name, 2f - \\name",
    ".endr",
    ".endm",
    ".section .text.board_copy,\"ax\",%progbits",
    "board_function memcpy, __aeabi_memcpy, __aeabi_memcpy4, __aeabi_memcpy8",
    "b 3f",
    "1: ldrb r3, [r1, r2]",
    "strb r3, [r0, r2]",
    "3: subs r2, #1",
    "bhs 1b",
    "bx lr",
    "2:",
    ".section .text.board_clear,\"ax\",%progbits",
    "board_function __aeabi_memclr4, __aeabi_memclr8",
    "movs r2, #0",
    "b 3f",
    "1: subs r1, #1", // bytes down to a whole word ...
    "strb r2, [r0, r1]",
    "3: lsls r3, r1, #30",
    "bne 1b",
    "b 3f",
    "1: str r2, [r0, r1]", // ... and words
    "3: subs r1, #4",
    "bhs 1b",
    "bx lr",
    "2:",
);

#[cfg(target_arch = "riscv32")]
global_asm!(
    ".section .vectors,\"ax\"",
    ".global _start",
    ".type _start,@function",
    "_start:",
    "la sp, _stack_top",
    "la t0, 3f",
    "csrw mtvec, t0",
    "la a0, _data_start",
    "la a1, _data_end",
    "la a2, _data_load",
    "j 2f",
    "1: lw a3, 0(a2)",
    "sw a3, 0(a0)",
    "addi a0, a0, 4",
    "addi a2, a2, 4",
    "2: bltu a0, a1, 1b",
    "la a0, _bss_start",
    "la a1, _bss_end",
    "j 2f",
    "1: sw zero, 0(a0)",
    "addi a0, a0, 4",
    "2: bltu a0, a1, 1b",
    "call board_main",
    ".balign 4", // mtvec holds no odd half words
    "3: call board_fault",
    ".size _start, . - _start",
);

/// Any exception at all: nothing here enables an interrupt, so it is a fault.
#[unsafe(no_mangle)]
extern "C" fn board_fault() -> ! {
    crate::console::exit(102)
}
