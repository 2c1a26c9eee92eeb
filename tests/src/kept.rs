//! Texts that are kept: what is written has been read by somebody.

use std::fs;
use std::path::Path;

/// Whether what is kept is to be written anew: `LEGWORK_BLESS=1`.
pub fn blessed() -> bool {
    std::env::var_os("LEGWORK_BLESS").is_some_and(|value| value == "1")
}

/// Holds a text against the file in which it is kept, a path inside this package.
///
/// # Panics
/// Where they differ, with the first line that does; where it is to be written and can't be.
pub fn hold_kept(path: &str, now: &str) {
    let file = Path::new(env!("CARGO_MANIFEST_DIR")).join(path);
    if blessed() {
        fs::write(&file, now).expect("a place for what is kept");
    }
    let kept = fs::read_to_string(&file).unwrap_or_default();
    if kept != now {
        let differ = kept.lines().zip(now.lines()).enumerate().find(|(_, (kept, now))| kept != now);
        let (line, (before, after)) =
            differ.unwrap_or_else(|| (kept.lines().count().min(now.lines().count()), ("", "")));
        let line = line + 1;
        panic!(
            "{path}, line {line}, was\n  {before}\nand is\n  {after}\nIf that is meant: run with LEGWORK_BLESS=1 and \
             read the difference."
        );
    }
}
