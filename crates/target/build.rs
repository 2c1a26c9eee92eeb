//! Picks the memory map of the one board that stands for each target.

use std::{env, fs, path::Path};

fn main() {
    println!("cargo:rerun-if-changed=build.rs");
    println!("cargo:rerun-if-changed=board.ld");
    println!("cargo:rerun-if-env-changed=PANIC_SYMBOL");
    if env::var_os("PANIC_SYMBOL").is_some() {
        println!("cargo:rustc-cfg=panic_symbol");
    }
    let target = env::var("TARGET").expect("cargo sets TARGET");
    let (flash, ram) = match target.as_str() {
        // QEMU machine mps2-an386: Cortex-M4F
        "thumbv7em-none-eabihf" => ("0x00000000, LENGTH = 4M", "0x20000000, LENGTH = 4M"),
        // QEMU machine microbit: Cortex-M0
        "thumbv6m-none-eabi" => ("0x00000000, LENGTH = 256K", "0x20000000, LENGTH = 16K"),
        // QEMU machine virt: all of it is RAM, cut here into a flash and a RAM
        "riscv32imac-unknown-none-elf" => ("0x80000000, LENGTH = 4M", "0x80400000, LENGTH = 4M"),
        _ => return, // a host: nothing to place
    };
    // More RAM than that, where the emulator is given more too.
    println!("cargo:rerun-if-env-changed=BOARD_RAM");
    let ram = match (env::var("BOARD_RAM"), ram.split_once("LENGTH")) {
        (Ok(size), Some((origin, _))) => format!("{origin}LENGTH = {size}"),
        _ => ram.to_owned(),
    };
    let out = env::var("OUT_DIR").expect("cargo sets OUT_DIR");
    let map = format!("MEMORY {{\n  FLASH : ORIGIN = {flash}\n  RAM : ORIGIN = {ram}\n}}\n");
    fs::write(Path::new(&out).join("memory.x"), map).expect("OUT_DIR is writable");
    let here = env::var("CARGO_MANIFEST_DIR").expect("cargo sets CARGO_MANIFEST_DIR");
    println!("cargo:rustc-link-search={out}");
    println!("cargo:rustc-link-arg-bins=-T{here}/board.ld");
    println!("cargo:rustc-link-arg-bins=--nmagic");
}
