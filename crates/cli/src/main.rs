//! Legwork on the command line.
fn main() {}
