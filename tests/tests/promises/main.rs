//! What others build on stays as it was, or says that it moved: dependencies, figures, interfaces.

mod dependencies;
mod figures;
mod interface;

use std::env;
use std::fs;
use std::path::{Path, PathBuf};

/// A file or folder of this repository.
fn here(path: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("..").join(path)
}

/// The text of a file of this repository.
fn text(path: &str) -> String {
    fs::read_to_string(here(path)).unwrap_or_else(|error| panic!("{path}: {error}"))
}
