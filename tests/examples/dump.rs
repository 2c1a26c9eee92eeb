//! Writes needs to a folder.
use legwork_tests::{need, to_toml};
fn main() {
    let args: Vec<String> = std::env::args().collect();
    for seed in args[2].parse::<u64>().unwrap()..args[3].parse::<u64>().unwrap() {
        std::fs::write(format!("{}/need-{seed}.toml", args[1]), to_toml(&need(seed))).unwrap();
    }
}
