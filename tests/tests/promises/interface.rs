//! The public items of the libraries, one a line, as `public-items.txt` beside each manifest keeps them.
//!
//! rustdoc knows them, and says so as JSON of a format that is not stable yet: it is asked with the switch that
//! lets a stable compiler do what a nightly one does, for a listing alone. The format differs from one release of Rust
//! to another, and a version of `public-api` reads one; so the listing is that of one release, whichever compiles the
//! rest. Without it the comparison is left out, unless `LEGWORK_INTERFACE=1` demands it.
//! `LEGWORK_BLESS=1 cargo test -p legwork-tests --test promises` writes the files anew.

use std::env;
use std::fs;
use std::path::Path;
use std::process::Command;

use legwork_tests::blessed;

use super::{here, text};

/// The release whose format this version of `public-api` reads. `.ci/run` names it too.
const RUST: &str = "1.95.0";

/// cargo of that release, if it is at hand.
fn cargo() -> Option<Command> {
    let said = |command: &mut Command| {
        let output = command.arg("--version").output().ok().filter(|output| output.status.success())?;
        String::from_utf8(output.stdout).ok()
    };
    let known = |version: String| version.starts_with(&format!("cargo {RUST} "));
    let by_rustup = || {
        let mut command = Command::new("rustup");
        command.args(["run", RUST, "cargo"]);
        command
    };
    if said(&mut Command::new(env!("CARGO"))).is_some_and(known) {
        return Some(Command::new(env!("CARGO")));
    }
    said(&mut by_rustup()).is_some_and(known).then(by_rustup)
}

/// The public items of a library with all its features, one a line.
fn items(mut cargo: Command, package: &str) -> String {
    let target = Path::new(env!("CARGO_TARGET_TMPDIR")).join("interface");
    cargo.current_dir(here("")).env("RUSTC_BOOTSTRAP", "1").env_remove("RUSTDOCFLAGS");
    cargo
        .args(["rustdoc", "--locked", "--lib", "--all-features", "--package", package])
        .arg("--target-dir")
        .arg(&target);
    cargo.args(["--", "-Z", "unstable-options", "--output-format", "json"]);
    let output = cargo.output().expect("cargo starts");
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    let json = target.join("doc").join(package.replace('-', "_")).with_extension("json");
    // What the compiler derives is in the listing; what it gives to every type is not.
    let api = public_api::Builder::from_rustdoc_json(json).omit_blanket_impls(true).omit_auto_trait_impls(true).build();
    api.expect("public-api reads what this rustdoc writes").to_string()
}

fn holds(package: &str, folder: &str) {
    let Some(cargo) = cargo() else {
        assert!(env::var_os("LEGWORK_INTERFACE").is_none(), "Rust {RUST} is missing: rustup toolchain install {RUST}");
        return eprintln!("left out: there is no Rust {RUST} here");
    };
    let now = items(cargo, package);
    assert!(now.lines().count() > 100, "few items:\n{now}");
    let kept = format!("{folder}/public-items.txt");
    if blessed() {
        fs::write(here(&kept), &now).expect("a place for the listing");
    }
    let before = text(&kept);
    let only = |these: &str, those: &str, sign: &str| -> String {
        let lines = these.lines().filter(|line| !those.lines().any(|other| other == *line));
        lines.map(|line| format!("{sign} {line}\n")).collect()
    };
    let difference = only(&before, &now, "-") + &only(&now, &before, "+");
    assert!(
        before == now,
        "the interface of {package} has changed. If it is meant: say so in CHANGELOG.md, then run with LEGWORK_BLESS=1.\n{difference}"
    );
}

#[test]
fn the_core_offers_what_is_written_down() {
    holds("legwork", "crates/core");
}

#[test]
fn the_file_library_offers_what_is_written_down() {
    holds("legwork-file", "crates/file");
}
