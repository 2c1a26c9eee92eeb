//! What is expected, beside room for what was read.

use legwork::{Device, Figure, Frequency, OutletId, Part, PortId, Report};
use legwork_file::{Home, tenths};
use maud::{Markup, html};

use super::between;
use crate::words::{self, clean};

/// Where something is read.
struct Spot {
    name: String,
    /// What a file of readings calls it.
    at: String,
    port: PortId,
    outlet: Option<OutletId>,
}

/// The places to read: the entry, every amplifier's input and outputs, every outlet.
fn spots(home: &Home<'_>) -> Vec<Spot> {
    let tree = home.tree();
    let mut spots = vec![Spot { name: "entry".to_owned(), at: "entry".to_owned(), port: PortId::ENTRY, outlet: None }];
    for (id, _) in tree.parts().filter(|(_, part)| matches!(part, Part::Amplifier(_))) {
        if let Some(port) = tree.after(id) {
            let name = format!("{}, in", clean(home.part(id)));
            spots.push(Spot { name, at: home.port(port), port, outlet: None });
        }
        for port in tree.ways_out(id).filter(|port| tree.carries_signal(*port)) {
            let (part, way) = (clean(home.part(id)), home.way(port));
            let out = if way.starts_with(|letter: char| letter.is_ascii_digit()) { "out " } else { "" };
            let name = format!("{part}, {out}{way}");
            spots.push(Spot { name, at: home.port(port), port, outlet: None });
        }
    }
    for (number, spec) in tree.outlets().iter().enumerate() {
        let Some(outlet) = tree.outlet_id(number).filter(|_| spec.device != Device::Unused) else { continue };
        let id = home.outlet(outlet);
        spots.push(Spot { name: clean(id), at: id.to_owned(), port: spec.port(), outlet: Some(outlet) });
    }
    spots
}

/// The lowest, a middle and the highest carrier.
fn channels(home: &Home<'_>) -> Vec<Frequency> {
    let service = home.tree().service;
    let carriers = service.blocks().iter().flat_map(|block| (0..block.count()).map(|number| block.centre(number)));
    let (low, high) = (service.first_carrier(), service.last_carrier());
    let middle = (low + high) / 2.0;
    let nearest = carriers.min_by(|a, b| (a - middle).abs().total_cmp(&(b - middle).abs()));
    let mut all = vec![low, nearest.unwrap_or(low), high];
    all.dedup();
    all.into_iter().filter_map(|mhz| Frequency::new(mhz).ok()).collect()
}

/// The table of levels: expected and read.
pub(super) fn levels(home: &Home<'_>, report: &Report<'_, '_>) -> Markup {
    let tree = home.tree();
    let unit = home.level(0.0).1;
    let channels = channels(home);
    let sent: Vec<f32> = report.return_frequencies().collect();
    let spoken = |dbmv: f32| home.level(dbmv).0;
    html! {
        p.note { "Expected: nominal, and below it from lowest to highest over season and spread." }
        table.levels data-offset=(home.level(0.0).0) {
            thead { tr { th { "at" } th { "MHz" } th.number { "expected " (unit) } th { "read" } } }
            @for spot in spots(home) {
                @let dc = report.dc().any(|dc| dc.port == spot.port);
                @let found = spot.outlet.and_then(|outlet| report.outlet(outlet));
                @let ratio = found.as_ref().and_then(worst);
                tbody {
                    @for (row, mhz) in channels.iter().enumerate() {
                        tr {
                            @if row == 0 {
                                th rowspan=(channels.len()) scope="rowgroup" { bdi { (spot.name) } @if dc { " " span.dc { "DC" } } }
                            }
                            td.number { (mhz.mhz()) }
                            @if let Ok(figure) = tree.levels_at(spot.port, *mhz) {
                                (expected(spoken(figure.nominal), spoken(figure.low), spoken(figure.high)))
                                td.read { (blank(&spot, Some(mhz.mhz()), spoken(figure.low), spoken(figure.high))) }
                            }
                        }
                    }
                    @for (mhz, figure) in sends(home, &spot, &sent) {
                        tr {
                            th.sub { "transmit" }
                            td.number { (mhz) }
                            (expected(spoken(figure.nominal), spoken(figure.low), spoken(figure.high)))
                            td.read { (blank(&spot, None, spoken(figure.low), spoken(figure.high))) }
                        }
                    }
                    tr {
                        th.sub { "CNR, dB" }
                        td {}
                        @if let Some(figure) = ratio {
                            (expected(figure.nominal, figure.low, figure.high))
                            td.read { (blank(&spot, None, figure.low, figure.high)) }
                        } @else {
                            td.number { "\u{2013}" }
                            td.read { input.blank type="text" autocomplete="off" aria-label={ (spot.name) ", CNR or MER read" }; }
                        }
                    }
                }
            }
        }
        p.save { button type="button" id="save" { "Save readings.csv" } " " span id="said" role="status" {} }
    }
}

fn expected(nominal: f32, low: f32, high: f32) -> Markup {
    html! { td.number { (tenths(nominal)) br; small { (between(low, high)) } } }
}

/// Room for what was read, with what it takes.
fn blank(spot: &Spot, mhz: Option<f32>, low: f32, high: f32) -> Markup {
    let label = mhz.map_or_else(|| spot.name.clone(), |mhz| format!("{} at {mhz} MHz, read", spot.name));
    html! {
        input.blank type="text" inputmode="text" autocomplete="off" aria-label=(label) data-low=(tenths(low)) data-high=(tenths(high))
            data-at=[mhz.map(|_| &spot.at)] data-mhz=[mhz];
        output {}
    }
}

/// What is to be sent from a place at the first and last transmit frequency; nothing from a device that does not send.
fn sends(home: &Home<'_>, spot: &Spot, sent: &[f32]) -> Vec<(f32, Figure)> {
    let tree = home.tree();
    let spec = spot.outlet.and_then(|outlet| tree.outlets().get(outlet.index()));
    if spec.is_some_and(|spec| !spec.device.is_modem() && !tree.limits(spec.device).sends()) {
        return Vec::new();
    }
    let ends = match sent {
        [first, .., last] => vec![*first, *last],
        all => all.to_vec(),
    };
    let figure = |mhz: f32| Some((mhz, tree.transmits_at(spot.port, Frequency::new(mhz).ok()?).ok()??));
    ends.into_iter().filter_map(figure).collect()
}

/// The lowest ratio of an outlet.
fn worst(outlet: &legwork::OutletReport<'_>) -> Option<Figure> {
    outlet.cnr.iter().copied().min_by(|a, b| a.low.total_cmp(&b.low))
}

/// The table of DC: volts loaded and unloaded, and ohms with the far end shorted.
pub(super) fn dc(home: &Home<'_>, report: &Report<'_, '_>) -> Markup {
    let field =
        || html! { td.read { input.blank type="text" inputmode="decimal" autocomplete="off" aria-label="read"; } };
    html! {
        p.note { "Volts in operation, volts with nothing drawing, and ohms measured from the pulled supply's plug with the port shorted." }
        table.dc {
            thead { tr { th { "at" } th.number { "V" } th { "read" } th.number { "V open" } th { "read" } th.number { "ohm" } th { "read" } } }
            @for dc in report.dc() {
                tr {
                    th scope="row" { bdi { (clean(&home.port(dc.port))) } }
                    td.number { (dc.volts.map_or_else(|| "collapsed".to_owned(), tenths)) } (field())
                    td.number { (tenths(dc.volts_unloaded)) } (field())
                    td.number { (format!("{:.2}", dc.plug_ohms)) } (field())
                }
            }
        }
        @for (feed, verdict) in report.feeds() {
            p.note {
                bdi { (clean(home.supply(feed.supply))) } " feeds " bdi { (clean(home.part(feed.amplifier))) } ": "
                @if let Some(amps) = feed.amps { (format!("{amps:.3}")) " A" } @else { "collapsed" }
                ", " (words::verdict(verdict))
            }
        }
    }
}

/// What is known of the bond, beside room for what was found.
pub(super) fn bonding(home: &Home<'_>) -> Markup {
    let tree = home.tree();
    let bonds: Vec<_> = tree.parts().filter(|(_, part)| matches!(part, Part::Bond(..))).collect();
    let known = |part: &Part<'_>| match part {
        Part::Bond(_, conductor) => (
            conductor.length.map_or_else(|| "\u{2013}".to_owned(), |length| home.length(length)),
            conductor.size.map_or_else(|| "\u{2013}".to_owned(), |size| format!("{} AWG", size.number())),
        ),
        _ => Default::default(),
    };
    let field = |what: &str| html! { input.blank type="text" autocomplete="off" aria-label=(what); };
    html! {
        table.bond {
            thead { tr { th { "bond" } th { "length" } th { "read" } th { "wire" } th { "read" } } }
            @for (id, part) in &bonds {
                @let (length, wire) = known(part);
                tr { th scope="row" { bdi { (clean(home.part(*id))) } } td { (length) } td.read { (field("length, read")) } td { (wire) } td.read { (field("wire, read")) } }
            }
            @if bonds.is_empty() {
                tr { th scope="row" { (if tree.entry.bonded { "ahead of the entry" } else { "none in the file" }) } td { "\u{2013}" } td.read { (field("length, read")) } td { "\u{2013}" } td.read { (field("wire, read")) } }
            }
        }
    }
}
