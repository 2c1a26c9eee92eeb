//! Every dependency is known: the core has two, and each of all crates stands in DEVELOPERS.md with its reason.

use std::collections::BTreeSet;
use std::fs;
use std::path::Path;
use std::process::Command;

use super::{here, text};

/// The folders that have a manifest, by the names that DEVELOPERS.md calls them.
const CRATES: [(&str, &str); 8] = [
    ("core", "crates/core"),
    ("file", "crates/file"),
    ("draw", "crates/draw"),
    ("cli", "crates/cli"),
    ("c", "crates/c"),
    ("target", "crates/target"),
    ("tests", "tests"),
    ("fuzz", "fuzz"),
];

/// Boards of each kind that the core is built for.
const BOARDS: [&str; 3] = ["thumbv7em-none-eabihf", "thumbv6m-none-eabi", "riscv32imac-unknown-none-elf"];

/// Everything that is compiled for the core as it is by default, on this machine or for a board.
fn under_the_core(board: Option<&str>) -> BTreeSet<String> {
    let mut cargo = Command::new(env!("CARGO"));
    cargo.current_dir(here("")).args(["tree", "--locked", "--package", "legwork"]);
    cargo.args(["--edges", "normal,build", "--prefix", "none", "--format", "{p}"]);
    cargo.args(board.into_iter().flat_map(|board| ["--target", board]));
    let output = cargo.output().expect("cargo starts");
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    let lines = String::from_utf8(output.stdout).expect("cargo speaks UTF-8");
    lines.lines().filter_map(|line| line.split_whitespace().next()).map(str::to_owned).collect()
}

#[test]
fn the_core_by_default_stands_on_heapless_and_libm_alone() {
    // byteorder, hash32 and stable_deref_trait are those of heapless.
    let known = ["byteorder", "hash32", "heapless", "legwork", "libm", "stable_deref_trait"];
    let known: BTreeSet<String> = known.map(str::to_owned).into();
    for board in BOARDS.map(Some).into_iter().chain([None]) {
        assert_eq!(under_the_core(board), known, "for {}", board.unwrap_or("this machine"));
    }
}

/// A crate and who uses it: `core`, or `core's tests` where it is a dependency of tests alone.
type Use = (String, String);

/// The dependencies of a manifest that are no crates of ours.
fn of_manifest(name: &str, folder: &str) -> BTreeSet<Use> {
    let manifest: toml::Table = text(&format!("{folder}/Cargo.toml")).parse().expect("a manifest");
    let targets = manifest.get("target").and_then(toml::Value::as_table).into_iter().flat_map(|all| all.values());
    let tables = targets.filter_map(toml::Value::as_table).chain([&manifest]);
    let mut uses = BTreeSet::new();
    for table in tables {
        for (key, value) in table.iter().filter(|(key, _)| key.ends_with("dependencies")) {
            let user = match key.as_str() {
                "dev-dependencies" if name != "tests" => format!("{name}'s tests"),
                _ => name.to_owned(),
            };
            let crates = value.as_table().into_iter().flat_map(toml::Table::keys);
            uses.extend(crates.filter(|one| !one.starts_with("legwork")).map(|one| (one.clone(), user.clone())));
        }
    }
    uses
}

/// The table of DEVELOPERS.md: crates, who uses them, and why.
fn told() -> BTreeSet<Use> {
    let developers = text("DEVELOPERS.md");
    let (_, table) = developers.split_once("\n## Why each dependency is there\n").expect("the table's heading");
    let rows =
        table.lines().skip_while(|line| !line.starts_with("| ---")).skip(1).take_while(|line| line.starts_with('|'));
    let list = |cell: &str| cell.split(',').map(|item| item.trim().to_owned()).collect::<Vec<String>>();
    let mut uses = BTreeSet::new();
    for row in rows {
        let cells: Vec<&str> = row.trim_matches('|').split('|').map(str::trim).collect();
        let [crates, users, why] = cells[..] else { panic!("a row has three cells: {row}") };
        assert!(!why.is_empty(), "no reason: {row}");
        for one in list(crates) {
            for user in list(users) {
                assert!(uses.insert((one.clone(), user.clone())), "{one} for {user} stands there twice");
            }
        }
    }
    uses
}

#[test]
fn developers_md_says_of_each_dependency_why_it_is_there() {
    let used: BTreeSet<Use> = CRATES.iter().flat_map(|(name, folder)| of_manifest(name, folder)).collect();
    let told = told();
    assert!(used.len() > 30, "only {} dependencies found", used.len());
    let missing: Vec<&Use> = used.difference(&told).collect();
    let gone: Vec<&Use> = told.difference(&used).collect();
    assert!(missing.is_empty() && gone.is_empty(), "not in the table: {missing:?}; in no manifest: {gone:?}");
}

/// All Rust of a folder, that of crates within it aside.
fn rust(folder: &Path, all: &mut String) {
    for entry in fs::read_dir(folder).expect("a folder") {
        let path = entry.expect("an entry").path();
        if path.is_dir() && !path.ends_with("target") {
            rust(&path, all);
        } else if path.extension().is_some_and(|extension| extension == "rs") {
            all.push_str(&fs::read_to_string(&path).expect("Rust is text"));
        }
    }
}

#[test]
fn each_dependency_is_named_by_the_code_that_has_it() {
    for (name, folder) in CRATES {
        let mut code = String::new();
        rust(&here(folder), &mut code);
        for (dependency, user) in of_manifest(name, folder) {
            let path = format!("{}::", dependency.replace('-', "_"));
            let begins = |at: usize| !code[..at].ends_with(|before: char| before.is_alphanumeric() || before == '_');
            assert!(code.match_indices(&path).any(|(at, _)| begins(at)), "{dependency} of {user} is unused");
        }
    }
}
