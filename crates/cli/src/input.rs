//! Reading files and standard input.

use std::fs::File;
use std::io::{self, Read};

use legwork_file::LARGEST;

use crate::Failure;

/// All of a file, or of standard input for `-`, up to one byte more than is allowed.
pub(crate) fn read(name: &str) -> Result<Vec<u8>, Failure> {
    let failed = |error: io::Error| Failure::Unusable(format!("{name}: this file can't be read: {error}"));
    let mut bytes = Vec::new();
    let most = LARGEST as u64 + 1;
    if name == "-" {
        io::stdin().lock().take(most).read_to_end(&mut bytes).map_err(failed)?;
    } else {
        File::open(name).map_err(failed)?.take(most).read_to_end(&mut bytes).map_err(failed)?;
    }
    Ok(bytes)
}

/// Standard input can be read once.
pub(crate) fn only_one_is_stdin<const N: usize>(files: [(&str, &String); N]) -> Result<(), Failure> {
    let names: Vec<&str> = files.iter().filter(|(_, file)| *file == "-").map(|(name, _)| *name).collect();
    if names.len() < 2 {
        return Ok(());
    }
    let says = format!("{} can't both be standard input; write one of them to a file", names.join(" and "));
    Err(Failure::Unusable(says))
}
