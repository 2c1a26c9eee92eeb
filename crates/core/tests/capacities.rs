//! What capacities cost in RAM: the table in the chapter "In firmware" is what the compiler says.
//!
//! This test holds its last column, bytes on a 64-bit host, and `crates/target/on-target.sh size` the one before
//! it, bytes on a 32-bit board. With `LEGWORK_BLESS=1` each writes its column instead.

include!("capacities/rows.rs");

#[test]
#[cfg(target_pointer_width = "64")]
fn the_chapter_states_what_capacities_cost() {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/docs/firmware.md");
    let chapter = std::fs::read_to_string(path).unwrap();
    let mut blessed = String::new();
    let (mut wrong, mut met) = (Vec::new(), 0);
    let mut wanted = Vec::new();
    rows(|name, bytes| wanted.push((name.to_string(), bytes)));
    for line in chapter.lines() {
        let cells: Vec<&str> = line.split('|').map(str::trim).collect();
        let row = wanted.iter().find(|(name, _)| matches!(cells[..], ["", first, .., ""] if first == name));
        let mut line = line.to_string();
        if let (Some((name, bytes)), ["", _, what, board, host, ""]) = (row, &cells[..]) {
            met += 1;
            if *host != bytes.to_string() {
                wrong.push(format!("{name}: {bytes} bytes, not {host}"));
            }
            line = format!("| {name} | {what} | {board} | {bytes} |");
        }
        blessed += &line;
        blessed += "\n";
    }
    assert_eq!(met, wanted.len(), "a row is missing");
    if std::env::var_os("LEGWORK_BLESS").is_some() {
        std::fs::write(path, blessed).unwrap();
    } else {
        assert!(wrong.is_empty(), "LEGWORK_BLESS=1 corrects docs/firmware.md: {wrong:#?}");
    }
}
