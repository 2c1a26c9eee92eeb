//! What capacities cost in RAM on this target, a row a line: `on-target.sh size` holds the chapter "In firmware"
//! against it.

#![cfg_attr(target_os = "none", no_std, no_main)]

use legwork_target::{program, say};

include!("../../../core/tests/capacities/rows.rs");

fn run() -> i32 {
    rows(|name, bytes| say!("{name}|{bytes}"));
    0
}

program!(run);
