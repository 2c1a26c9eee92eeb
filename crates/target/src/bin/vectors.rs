//! Every calculation's result as bits. `on-target.sh vectors` compares host and boards; the argument `wrong`
//! spoils one bit a line and the exit code, so that the comparison itself is tested.

#![cfg_attr(target_os = "none", no_std, no_main)]

use legwork_target::{console, program, say, work};

fn run() -> i32 {
    let wrong = console::asked_for("wrong");
    match work::vectors(|family, name, bits| say!("{family} {name} {:08x}", bits ^ u32::from(wrong))) {
        Ok(()) => i32::from(wrong),
        Err(error) => {
            say!("{error}");
            2
        }
    }
}

program!(run);
