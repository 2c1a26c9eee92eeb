//! What every target shares: a fuzzer's entry, or a replay of files where there is none.

mod circuit;
mod drawn;
pub mod laws;
mod model;
mod shelf;
pub mod site;
mod sketch;

pub use circuit::{Circuit, State};
pub use drawn::Drawn;
pub use model::Model;
pub use shelf::Shelf;
pub use sketch::{End, Sketch, supply};

/// Replays files, or all files of folders, named on the command line.
///
/// # Panics
/// Where a file can't be read, or none was named: a replay of nothing would pass.
pub fn replay(target: impl Fn(&[u8])) {
    let mut count = 0;
    for name in std::env::args_os().skip(1) {
        let path = std::path::PathBuf::from(name);
        let files = match std::fs::read_dir(&path) {
            Ok(folder) => folder.map(|entry| entry.expect("a readable folder").path()).collect(),
            Err(_) => vec![path],
        };
        for file in files {
            target(&std::fs::read(&file).expect("a readable file"));
            count += 1;
        }
    }
    assert!(count > 0, "name the files to replay");
    println!("{count} passed, 0 failed");
}

/// Looks whether a refusal says what is wrong, and not more than a reader takes in.
///
/// # Panics
/// Where it does not.
pub fn is_useful(refusal: &legwork_file::Refusal) {
    assert!(!refusal.problems().is_empty() && refusal.problems().len() <= 10);
    assert!(!refusal.render(false).is_empty());
}

/// Makes a target of a function: under the fuzzer its entry, else a `main` that replays files.
#[macro_export]
macro_rules! target {
    ($function:ident) => {
        #[cfg(fuzzing)]
        libfuzzer_sys::fuzz_target!(|bytes: &[u8]| $function(bytes));

        #[cfg(not(fuzzing))]
        fn main() {
            legwork_fuzz::replay($function);
        }
    };
}
