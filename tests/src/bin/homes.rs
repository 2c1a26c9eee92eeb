//! Random homes, one a line of JSON, as `legwork check --lines` reads them: those of the seeds from one number up to,
//! but without, another. The same seed gives the same home everywhere, so every host can make a share of its own.
//!
//! `cargo run --release -p legwork-tests --bin homes -- 0 1000000 > homes.jsonl`

use std::io::{self, BufWriter, ErrorKind, Write};
use std::process::ExitCode;

fn main() -> ExitCode {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    let seeds: Vec<u64> = arguments.iter().filter_map(|argument| argument.parse().ok()).collect();
    let [first, end] = seeds[..] else {
        eprintln!("two numbers are wanted, the first seed and the one after the last: homes 0 1000000");
        return ExitCode::from(2);
    };
    match write(first..end) {
        Ok(()) => ExitCode::SUCCESS,
        // Whoever reads has had enough.
        Err(error) if error.kind() == ErrorKind::BrokenPipe => ExitCode::SUCCESS,
        Err(error) => {
            eprintln!("output: {error}");
            ExitCode::from(2)
        }
    }
}

fn write(seeds: std::ops::Range<u64>) -> io::Result<()> {
    let mut out = BufWriter::with_capacity(1 << 16, io::stdout().lock());
    for seed in seeds {
        writeln!(out, "{}", legwork_tests::home(seed))?;
    }
    out.flush()
}
