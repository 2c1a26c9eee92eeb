//! A home as a tree of text.

use legwork::{Occupant, Part, PortId, Tree, Way};
use legwork_file::Home;

/// The tree from the entry, a line for each thing that hangs on a port.
pub(super) fn wiring(home: &Home<'_>) -> String {
    let mut out = String::from("entry\n");
    hang(&mut out, home, &home.tree(), PortId::ENTRY, "", true);
    out
}

/// What hangs on a port, and what hangs on that.
fn hang(out: &mut String, home: &Home<'_>, tree: &Tree<'_, '_>, port: PortId, indent: &str, is_last: bool) {
    let branch = if is_last { "└─ " } else { "├─ " };
    let way = tree.owner(port).and_then(|(part, number)| tree.part(part)?.way(number));
    let way = match way {
        None | Some(Way::Only) => String::new(),
        Some(Way::Output(number)) => format!("{number}: "),
        Some(Way::Through) => "through: ".to_owned(),
        Some(Way::Tap) => "tap: ".to_owned(),
        Some(Way::Passive) => "passive: ".to_owned(),
        Some(Way::Power) => "power: ".to_owned(),
        Some(Way::Rf) => "rf: ".to_owned(),
        Some(Way::Dc) => "dc: ".to_owned(),
    };
    let what = match tree.occupant(port) {
        Some(Occupant::Part(part)) => described(home, tree.part(part), home.part(part)),
        Some(Occupant::Outlet(outlet)) => {
            let spec = tree.outlets().get(outlet.index());
            let lifeline = if spec.is_some_and(|spec| spec.lifeline) { ", lifeline" } else { "" };
            format!("[{}]  {}{lifeline}", home.outlet(outlet), spec.map_or("", |spec| spec.device.name()))
        }
        Some(Occupant::Supply(supply)) => {
            let volts = tree.supplies().get(supply.index()).map_or(0.0, |supply| supply.volts.volts());
            format!("{}  supply of {volts} V", home.supply(supply))
        }
        Some(Occupant::Terminator) => "terminator".to_owned(),
        _ => "nothing".to_owned(),
    };
    out.push_str(&format!("{indent}{branch}{way}{what}\n"));
    let Some(Occupant::Part(part)) = tree.occupant(port) else { return };
    let ways = tree.part(part).map_or(0, Part::ways);
    let below = format!("{indent}{}", if is_last { "   " } else { "│  " });
    let ports = (0..ways).filter_map(|number| tree.way_out(part, number));
    let ports: Vec<PortId> = ports.filter(|port| !is_bare(tree, *port)).collect();
    for (index, port) in ports.iter().enumerate() {
        hang(out, home, tree, *port, &below, index + 1 == ports.len());
    }
}

/// A port for DC alone that is empty is not worth a line.
fn is_bare(tree: &Tree<'_, '_>, port: PortId) -> bool {
    !tree.carries_signal(port) && tree.occupant(port) == Some(Occupant::Open)
}

fn described(home: &Home<'_>, part: Option<&Part<'_>>, id: &str) -> String {
    let detail = match part {
        Some(Part::Cable { length, .. }) => format!("cable, {}", home.length(*length)),
        Some(Part::Splitter(spec)) => format!("{}-way splitter", spec.count()),
        Some(Part::Coupler(_)) => "coupler".to_owned(),
        Some(Part::Pad(value)) => format!("pad of {} dB", value.db()),
        Some(Part::Equalizer(_)) => "equalizer".to_owned(),
        Some(Part::Filter(_)) => "filter".to_owned(),
        Some(Part::Amplifier(_)) => "amplifier".to_owned(),
        Some(Part::Inserter(_)) => "DC inserter".to_owned(),
        Some(Part::Bond(..)) => "bond".to_owned(),
        Some(Part::Joint(_)) => "joint".to_owned(),
        None => String::new(),
    };
    format!("{id}  {detail}")
}
