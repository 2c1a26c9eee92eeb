//! What readings say, for people: what is wrong first, then where to read next, then the figures.

use legwork::Suspect;
use legwork_file::{Compared, Located, caution, tenths};

use crate::check::human::{printable, wrap};
use crate::check::table::Table;
use crate::screen;

/// More suspects than this help nobody.
const SUSPECTS: usize = 6;
/// A suspect of less weight than this is none.
const LEAST: f32 = 0.005;

/// The answer to one visit.
pub(super) fn located(located: &Located<'_>) -> String {
    let width = screen::width();
    let mut out = wrap(&printable(&located.says()), width, 0);
    let next = located.says_next();
    if !next.is_empty() {
        out.push_str(&wrap(&printable(&next), width, 0));
    }
    out.push_str(&suspects(located, "Suspects"));
    out.push_str(&readings(located, ["expected", "read", "difference"]));
    out.push_str(&cautions(located));
    out
}

/// The answer to two visits.
pub(super) fn compared(compared: &Compared<'_>) -> String {
    let width = screen::width();
    let Compared { worse, better } = compared;
    let mut out = String::new();
    if worse.diagnosis.stands_out().is_some() {
        out.push_str(&wrap(&printable(&format!("Worse than before. {}", worse.says())), width, 0));
    }
    let mended = better.says_better();
    if !mended.is_empty() {
        out.push_str(&wrap(&printable(&mended), width, 0));
    }
    if out.is_empty() {
        out.push_str(&wrap(&printable(&worse.says()), width, 0));
    }
    if worse.diagnosis.entry().is_empty() {
        let says = "The entry was not read at one frequency in both visits: what moved everywhere alike may have come in that way.";
        out.push_str(&wrap(says, width, 0));
    } else {
        let moved = worse.diagnosis.entry().iter();
        let moved: Vec<String> =
            moved.map(|point| format!("{} dB at {} MHz", tenths(point.value()), point.frequency().mhz())).collect();
        out.push_str(&wrap(&format!("Taken off, as it moved at the entry: {}.", moved.join(", ")), width, 0));
    }
    let next = worse.says_next();
    if !next.is_empty() {
        out.push_str(&wrap(&printable(&next), width, 0));
    }
    out.push_str(&readings(worse, ["before", "now", "change"]));
    out.push_str(&cautions(worse));
    out
}

/// The likeliest suspects with their weights.
fn suspects(located: &Located<'_>, title: &str) -> String {
    let mut table = Table::new(&["weight", "flat dB", "at 1 GHz", "at 10 MHz", "what"], screen::width()).numbers(0..4);
    for suspect in located.diagnosis.suspects().take(SUSPECTS).filter(|suspect| suspect.weight >= LEAST) {
        let excess = suspect.excess;
        let what = if suspect.is_nothing_wrong() { "nothing wrong".to_owned() } else { names(located, &suspect) };
        let weight = format!("{:.0} %", 100.0 * suspect.weight);
        let member = |db: f32| if db > 0.0 { tenths(db) } else { "-".to_owned() };
        table.row(vec![weight, member(excess.flat), member(excess.rising), member(excess.falling), what]);
    }
    format!("\n{title}: what may lose too much, and how much of it\n{}", table.finish())
}

fn names(located: &Located<'_>, suspect: &Suspect<'_>) -> String {
    let names: Vec<String> = suspect.parts().map(|part| printable(located.home.part(part))).collect();
    let unread = if suspect.band().is_none() { " (nothing read behind)" } else { "" };
    format!("{}{unread}", names.join(", "))
}

/// Every reading that counts beside what was to be expected.
fn readings(located: &Located<'_>, [expected, read, difference]: [&str; 3]) -> String {
    let mut table = Table::new(&["at", "MHz", expected, read, difference], screen::width()).numbers(1..5);
    for row in located.diagnosis.readings() {
        let level = |dbmv: f32| tenths(located.home.level(dbmv).0);
        table.row(vec![
            printable(located.place(row.number)),
            row.read.frequency.mhz().to_string(),
            level(row.expected.dbmv()),
            level(row.read.level.dbmv()),
            tenths(row.difference().db()),
        ]);
    }
    format!("\nReadings, {}\n{}", located.home.level(0.0).1, table.finish())
}

/// What can hurt whoever looks at what is accused.
fn cautions(located: &Located<'_>) -> String {
    let lines: String =
        caution::of_locating(located).map(|caution| wrap(&caution.to_string(), screen::width(), 0)).collect();
    if lines.is_empty() { lines } else { format!("\n{lines}") }
}
