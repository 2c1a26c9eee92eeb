//! What becomes of the work when the machine lets the program down: disks that are full, files that can't be read or
//! change meanwhile, pipes that close, processes that are killed, inputs without end. Nothing is lost unsaid, and no file
//! is ever half written.
//!
//! `cargo test --release -p legwork-tests --test faults -- --ignored` repeats the lines by the million.

// `/dev/full`, `/proc` and limits of the shell.
#![cfg(target_os = "linux")]

mod killed;
mod lines;
mod pipes;
mod program;
mod reading;
mod writing;
