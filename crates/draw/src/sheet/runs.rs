//! Runs of cable: how long to cut them, and the tags for their ends.

use legwork::{Device, Length, Occupant, OutletId, Part, PartId, PortId, Report};
use legwork_file::{Home, list};
use maud::{Markup, html};

use crate::words::clean;

/// Every run, by kind of cable, with the sum of each kind.
pub(super) fn lengths(home: &Home<'_>) -> Markup {
    let tree = home.tree();
    let mut kinds: Vec<(String, Vec<(PartId, Length)>)> = Vec::new();
    for (id, part) in tree.parts() {
        let Part::Cable { length, .. } = part else { continue };
        let spec = clean(home.spec(id));
        match kinds.iter_mut().find(|(known, _)| *known == spec) {
            Some((_, runs)) => runs.push((id, *length)),
            None => kinds.push((spec, vec![(id, *length)])),
        }
    }
    html! {
        table.cut {
            @for (spec, runs) in &kinds {
                @let sum = Length::new(runs.iter().map(|(_, length)| length.metres()).sum());
                tr { th { bdi { (spec) } } th.number { @if let Ok(sum) = sum { (home.length(sum)) " in all" } } }
                @for (id, length) in runs { tr { td { bdi { (clean(home.part(*id))) } } td.number { (home.length(*length)) } } }
            }
        }
        @if !kinds.is_empty() { p.note { "Lengths are those of the file; leave slack at both ends." } }
    }
}

/// A tag for each end of every run, and for every way out.
pub(super) fn tags(home: &Home<'_>, report: &Report<'_, '_>) -> Markup {
    let tree = home.tree();
    let tag = |port: PortId, name: &str, end: &str| {
        let (leads, warns) = leads(home, report, port);
        html! {
            li.tag {
                b { bdi { (name) } } " " small { (end) }
                br; span { "\u{2192} " bdi { (leads) } }
                @for warn in &warns { br; strong { bdi { (warn) } } }
            }
        }
    };
    html! {
        ul.tags {
            (tag(PortId::ENTRY, "entry", "house side"))
            @for (id, part) in tree.parts() {
                @let ways: Vec<PortId> = tree.ways_out(id).collect();
                @if matches!(part, Part::Cable { .. }) {
                    @for port in &ways {
                        @let name = clean(home.part(id));
                        @let from = tree.after(id).map_or_else(String::new, |port| clean(&home.port(port)));
                        (tag(*port, &name, &format!("end at {from}")))
                        (tag(*port, &name, "far end"))
                    }
                } @else {
                    @for port in &ways { (tag(*port, &clean(&home.port(*port)), part.name())) }
                }
            }
        }
    }
}

/// What a port leads to, and what to heed before it is unplugged.
fn leads(home: &Home<'_>, report: &Report<'_, '_>, port: PortId) -> (String, Vec<String>) {
    let tree = home.tree();
    let behind = behind(home, port);
    let names: Vec<String> = behind.iter().map(|outlet| clean(home.outlet(*outlet))).collect();
    let mut warns = Vec::new();
    let dead: Vec<String> = dead(report, port).iter().map(|outlet| clean(home.outlet(*outlet))).collect();
    let feeds: Vec<String> = report.feeds_through(port).map(|(feed, _)| clean(home.part(feed.amplifier))).collect();
    if !feeds.is_empty() {
        let dead = if dead.is_empty() {
            String::new()
        } else {
            format!("; {} {} dead", list(&dead), if dead.len() == 1 { "goes" } else { "go" })
        };
        warns.push(format!("Do not unplug: feeds the amplifier {}{dead}", list(&feeds)));
    }
    let phone = |outlet: &OutletId| {
        tree.outlets().get(outlet.index()).is_some_and(|spec| spec.lifeline || spec.device == Device::VoiceModem)
    };
    if behind.iter().any(phone) {
        warns.push("Phone line: ask before disconnecting".to_owned());
    }
    if report.dc().any(|dc| dc.port == port) {
        warns.push("DC here: no TV, no meter without a block".to_owned());
    }
    let what = match tree.occupant(port) {
        Some(Occupant::Terminator) => "terminator".to_owned(),
        Some(Occupant::Open) | None => "nothing".to_owned(),
        Some(Occupant::Supply(supply)) => clean(home.supply(supply)),
        _ if names.is_empty() => match tree.occupant(port) {
            Some(Occupant::Part(part)) => clean(home.part(part)),
            _ => String::new(),
        },
        _ => list(&names),
    };
    (what, warns)
}

/// The outlets behind a port.
fn behind(home: &Home<'_>, port: PortId) -> Vec<OutletId> {
    let tree = home.tree();
    let mut outlets = Vec::new();
    let mut open = vec![port];
    while let Some(port) = open.pop() {
        match tree.occupant(port) {
            Some(Occupant::Outlet(outlet)) => outlets.push(outlet),
            Some(Occupant::Part(part)) => {
                open.extend(tree.ways_out(part).rev());
            }
            _ => {}
        }
    }
    outlets
}

/// The outlets that go dead with the amplifiers that are fed through a port.
fn dead(report: &Report<'_, '_>, port: PortId) -> Vec<OutletId> {
    let mut dead: Vec<OutletId> = Vec::new();
    for outlet in report.feeds_through(port).flat_map(|(feed, _)| report.outlets_lost(feed.amplifier)) {
        if !dead.contains(&outlet) {
            dead.push(outlet);
        }
    }
    dead
}
