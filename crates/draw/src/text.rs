//! The drawing as text, for a terminal.

use legwork::Report;
use legwork_file::Home;

use crate::drawing::brief;
use crate::outline::{Item, rows};
use crate::words::{self, Columns, clean};

/// The tree of a home as lines of text with the levels at every way out, in columns where `width` has room for them.
#[must_use]
pub fn tree(home: &Home<'_>, report: &Report<'_, '_>, width: usize) -> String {
    let columns = Columns::of(home);
    let rows = rows(home);
    let heads: Vec<String> = columns.forward.iter().chain(&columns.transmit).map(|mhz| mhz.mhz().to_string()).collect();
    let room = width.saturating_sub(8 * heads.len() + 1).max(24);
    let mut out = format!("{}\n", words::name(home));
    let unit = home.level(0.0).1;
    let sends = if columns.transmit.is_empty() { "" } else { ", then what a modem has to send" };
    out.push_str(&format!("Nominal levels in {unit} by MHz: forward{sends}\n\n"));
    put(&mut out, "", &heads, room);
    // For each depth, whether a further way out follows below.
    let follows = |index: usize, depth: usize| {
        rows.iter()
            .skip(index + 1)
            .take_while(|row| row.depth >= depth)
            .any(|row| row.depth == depth && row.item == Item::Way)
    };
    for (index, row) in rows.iter().enumerate() {
        let mut front = String::new();
        for depth in 1..=row.depth {
            let own = depth == row.depth && row.item == Item::Way;
            front.push_str(match (own, follows(index, depth)) {
                (true, true) => "\u{251c}\u{2500} ",
                (true, false) => "\u{2514}\u{2500} ",
                (false, true) => "\u{2502}  ",
                (false, false) => "   ",
            });
        }
        let text = match row.item {
            Item::Entry => "entry".to_owned(),
            Item::Part(part) => format!("{}: {}", clean(home.part(part)), words::details(home, part).join(", ")),
            Item::Way => {
                let port = row.port.map_or_else(String::new, |port| clean(&home.port(port)));
                row.end.map_or(port.clone(), |end| format!("{port}: {end}"))
            }
            Item::Outlet(outlet) => {
                let spec = home.tree().outlets().get(outlet.index());
                let lifeline = spec.is_some_and(|spec| spec.lifeline);
                let device = spec.map_or("", |spec| words::device(spec.device));
                format!("[{}] {device}{}", clean(home.outlet(outlet)), if lifeline { ", lifeline" } else { "" })
            }
            Item::Supply(supply) => format!("({}) supply", clean(home.supply(supply))),
            Item::Open => "open".to_owned(),
            Item::Terminator => "terminated".to_owned(),
        };
        let text = row.dc(report).map_or(text.clone(), |dc| format!("{text}, {dc}"));
        let levels = match (row.item, row.port) {
            (Item::Outlet(outlet), _) if report.outlet(outlet).is_none() => Vec::new(),
            (_, Some(port)) if home.tree().carries_signal(port) => columns.levels(home, port),
            _ => Vec::new(),
        };
        put(&mut out, &format!("{front}{text}"), &levels, room);
        for finding in row.findings(report) {
            let inner = if row.item == Item::Way && !follows(index, row.depth) {
                "   ".repeat(row.depth)
            } else {
                front.replace("\u{251c}\u{2500}", "\u{2502} ").replace("\u{2514}\u{2500}", "  ")
            };
            out.push_str(&format!("{inner}  ! {}\n", brief(home, finding)));
        }
    }
    out
}

/// One line with its levels behind it, or below it where it is long.
fn put(out: &mut String, text: &str, levels: &[String], room: usize) {
    use unicode_width::UnicodeWidthStr;
    let used = text.width();
    out.push_str(text);
    if !levels.is_empty() {
        let pad = if used > room {
            out.push('\n');
            room
        } else {
            room - used
        };
        out.push_str(&" ".repeat(pad));
        for level in levels {
            out.push_str(&format!("{level:>8}"));
        }
    }
    out.push('\n');
}
