//! What the searches say of random needs and homes, and how much work they do for it.
//!
//! That plans and changes are right, others hold (`plan`, `mend`). But a search that cuts off less gives the same answer,
//! later, and a sentence may be true of another outlet: here each is kept as it was, with the steps that the search took.
//! They are counts, the same on every machine. Where something moves on purpose, `LEGWORK_BLESS=1` writes it anew: read
//! the difference.

mod made;

use std::fmt::Write as _;

use legwork_file::Source;
use legwork_file::plan::{Planned, STACK, Take, mend, plan};
use legwork_tests::{broken, for_each, hold_kept, need, to_toml};
use made::{distant, two};
use serde_json::{Value, json};

/// So many random needs.
const NEEDS: u64 = 200;
/// Needs without mains at the panel are made for so many seeds.
const DISTANT: u64 = 120;
/// So many needs are put together of two.
const TWO: u64 = 60;
/// Homes that were broken are tried for so many seeds.
const HOMES: u64 = 100;
/// The most changes.
const CHANGES: usize = 2;
/// Ends a search: few take as long.
const MOST: u32 = 20_000;

/// What a search came to, in how many steps, and what there is to say of it.
fn told(name: &str, planned: &Planned) -> String {
    let outcome = if planned.feasible { "found" } else { "nothing" };
    let unproved = if planned.proved { "" } else { ", unproved" };
    let mut text = format!("{name}: {outcome}{unproved}, {} steps\n", planned.steps);
    let mut tell = |what: &str, take: &Take| {
        let each = take.cost.map_or("not in the stock".to_owned(), |cost| format!("{cost} each"));
        let _ = writeln!(text, "  {what}: {} {} {}, {each}", take.count, take.kind, take.item);
    };
    planned.parts.iter().for_each(|take| tell("take", take));
    planned.one_more.iter().for_each(|take| tell("one more", take));
    for obstacle in &planned.why_not {
        let short = obstacle.short_db.map_or("no".to_owned(), |db| format!("{db:.2}"));
        let _ = writeln!(text, "  {} at {}, {short} dB: {}", obstacle.code.name(), obstacle.at, obstacle.says);
    }
    text
}

/// What is said of a need.
fn of_need(seed: u64) -> String {
    planned(&format!("plan {seed}"), &need(seed))
}

/// What is said of a need whose amplifiers have to be powered from outlets; nothing where it has none.
fn of_distant_power(seed: u64) -> String {
    distant(seed).map(|need| planned(&format!("distant power {seed}"), &need)).unwrap_or_default()
}

/// What is said of a need with the outlets of two, and their stocks.
fn of_two(seed: u64) -> String {
    planned(&format!("two {seed}"), &two(seed))
}

/// What is said of a need.
fn planned(name: &str, need: &Value) -> String {
    let text = to_toml(need);
    let source = Source::new("need.toml", text.as_bytes()).expect("a text");
    let planned = plan(&source, &mut |progress| progress.steps < MOST);
    told(name, &planned.unwrap_or_else(|refusal| panic!("{name}: {}", refusal.render(false))))
}

/// What is said of a home; nothing where it could not be broken.
fn of_home(seed: u64) -> String {
    let Some((premises, stock)) = broken(seed) else { return String::new() };
    mended(&format!("mend {seed}"), &to_toml(&premises), &to_toml(&json!({ "stock": stock })))
}

/// What is said of a home and a stock.
fn mended(name: &str, home: &str, stock: &str) -> String {
    let home = Source::new("home.toml", home.as_bytes()).expect("a text");
    let stock = Source::new("stock.toml", stock.as_bytes()).expect("a text");
    let mending = mend(&home, &stock, CHANGES, &mut |progress| progress.steps < MOST);
    let mending = mending.unwrap_or_else(|refusal| panic!("{name}: {}", refusal.render(false)));
    let mut text = told(name, &mending.planned);
    for instruction in &mending.changes {
        let _ = writeln!(text, "  {}; {}", instruction.says, instruction.reasons.join("; "));
    }
    text
}

/// What is said for the seeds from 0.
fn all(count: u64, of: impl Fn(u64) -> String + Sync) -> String {
    for_each(0, count, STACK, of).concat()
}

#[test]
fn plans_are_told_as_they_were() {
    hold_kept("tests/searches/plan.txt", &all(NEEDS, of_need));
}

#[test]
fn plans_with_distant_power_are_told_as_they_were() {
    hold_kept("tests/searches/distant.txt", &all(DISTANT, of_distant_power));
}

#[test]
fn plans_of_two_needs_are_told_as_they_were() {
    hold_kept("tests/searches/two.txt", &all(TWO, of_two));
}

#[test]
fn changes_are_told_as_they_were() {
    hold_kept("tests/searches/mend.txt", &all(HOMES, of_home));
}

/// A shipped example with something taken out of it or put in.
fn example(name: &str, edits: &[(&str, &str)]) -> String {
    let path = format!("{}/../crates/cli/examples/{name}.toml", env!("CARGO_MANIFEST_DIR"));
    let text = std::fs::read_to_string(path).expect("an example");
    edits.iter().fold(text, |text, (from, to)| {
        assert!(text.contains(from), "{name} has no {from}");
        text.replace(from, to)
    })
}

#[test]
fn each_kind_of_change_is_told() {
    const SUPPLY: (&str, &str) = (
        "[[supply]]\nid = \"workshop supply\"\nafter = \"workshop inserter.dc\"\nvolts = \"16 V\"\nspread = \"5 %\"\n\
         source_ohms = \"0.3 ohm\"\namps = \"600 mA\"\n",
        "",
    );
    const INSERTER: (&str, &str) =
        ("[[part]]\nid = \"workshop inserter\"\nafter = \"workshop run\"\ninserter = \"inserter\"\n", "");
    const BEHIND: (&str, &str) = ("\"workshop inserter.rf\"", "\"workshop run\"");
    const STRONG: [(&str, &str); 3] =
        [("\"12 dBmV\"", "\"20 dBmV\""), ("10.5 dBmV", "18.5 dBmV"), ("\"9 dBmV", "\"17 dBmV")];
    const PLUG: (&str, &str) = ("dc_ports = [\"1\"]", "dc_ports = [\"1\", \"power\"]");
    let power = "{ supply = { volts = \"16 V\", spread = \"5 %\", source_ohms = \"0.3 ohm\", amps = \"600 mA\" }, count = 1, cost = 9 }";
    let cases = [
        (
            "no supply at an inserter that is there",
            "barn-fed-over-coax",
            &[SUPPLY][..],
            [power, "{ pad = \"3 dB\", count = 1, cost = 2 }"],
        ),
        ("a supply at a power port", "barn-fed-over-coax", &[SUPPLY, INSERTER, BEHIND, PLUG], [power, ""]),
        (
            "an inserter and its supply",
            "barn-fed-over-coax",
            &[SUPPLY, INSERTER, BEHIND],
            [power, "{ inserter = \"inserter\", count = 1, cost = 4 }"],
        ),
        ("a pad", "cottage-split", &STRONG, ["{ pad = \"3 dB\", count = 4, cost = 2 }", ""]),
        ("an equalizer", "cottage-split", &STRONG, ["{ equalizer = \"slope\", count = 4, cost = 2 }", ""]),
        (
            "a cable of the same length",
            "boathouse-long-run",
            &[],
            ["{ cable = \"series-11\", count = 1, cost = 40 }", ""],
        ),
    ];
    let spec = "[spec.equalizer.slope]\nloss = [[\"54 MHz\", \"3 dB\"], [\"1002 MHz\", \"2 dB\"]]\n";
    let told: String = cases
        .iter()
        .map(|(name, file, edits, items)| {
            let items: Vec<&str> = items.iter().copied().filter(|item| !item.is_empty()).collect();
            mended(name, &example(file, edits), &format!("{spec}[stock]\nitem = [{}]\n", items.join(", ")))
        })
        .collect();
    hold_kept("tests/searches/kinds.txt", &told);
}
