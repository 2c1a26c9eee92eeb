//! `legwork specs`: what is built in, where it comes from and how far it may be trusted.

use std::io::{self, Write};

use legwork::tables::{self, Source, sources};
use legwork::{Band, Cable, Curve, Device, Frequency, Ohms};
use serde::Serialize;

use crate::args::Specs;
use crate::check::table::Table;
use crate::{Failure, Outcome, screen};

/// One entry of the JSON answer.
#[derive(Serialize)]
struct Entry {
    kind: &'static str,
    name: &'static str,
    what: &'static str,
    value: String,
    source: &'static str,
    trust: &'static str,
}

/// Prints every built-in figure's provenance.
pub(crate) fn run(options: &Specs) -> Result<Outcome, Failure> {
    let mut out = String::new();
    if options.json {
        let entries: Vec<Entry> = sources()
            .map(|row| {
                let &Source { kind, name, what, source, trust } = row;
                Entry { kind, name, what, value: value(row), source, trust: trust.word() }
            })
            .collect();
        out = serde_json::json!({ "specs": entries }).to_string();
        out.push('\n');
    } else {
        let mut last = "";
        let mut table = Table::new(&["", "what", "value", "trust", "source"], screen::width());
        for source in sources() {
            let kind_and_name = format!("{} {}", source.kind, source.name);
            let name = if source.name == last { String::new() } else { kind_and_name };
            last = source.name;
            table.row(vec![
                name,
                source.what.to_owned(),
                value(source),
                source.trust.word().to_owned(),
                source.source.to_owned(),
            ]);
        }
        out.push_str(&table.finish());
        out.push_str("\nValues over frequency stand for 57 to 861 MHz. A file's own [spec.KIND.NAME] goes before a built-in of the same name.\n");
    }
    io::stdout().write_all(out.as_bytes())?;
    Ok(Outcome::Done)
}

/// Where values of built-in tables are shown, in MHz.
const LOW: Frequency = Frequency::constant(57.0);
const HIGH: Frequency = Frequency::constant(861.0);
const HIGHEST: Frequency = Frequency::constant(1675.0);

/// What is built in, as far as it fits a cell: a table's values at a low and a high channel.
fn value(row: &Source) -> String {
    let at = |curve: &Curve<'_>| format!("{:.1} to {:.1} dB", curve.at(LOW), curve.at(HIGH));
    let ends = |band: Option<Band>| band.map(|band| format!("{} to {} MHz", band.low.mhz(), band.high.mhz()));
    let ohms = |ohms: Ohms| Some(format!("{} ohm", ohms.ohms()));
    let text = match (row.kind, row.what) {
        ("cable", what) => tables::cable(row.name).and_then(|cable| of_cable(cable, what)),
        ("limit", what) => of_limit(row.name, what),
        ("splitter", what) => tables::splitter(row.name).and_then(|spec| match what {
            "loss" => {
                Some((0..spec.count()).filter_map(|leg| spec.loss(leg)).map(at).collect::<Vec<_>>()).map(|mut legs| {
                    legs.dedup();
                    legs.join(", ")
                })
            }
            "isolation" => Some(at(&spec.isolation)),
            "band" => ends(spec.band),
            _ => Some("blocked".to_owned()),
        }),
        ("coupler", what) => tables::coupler(row.name).and_then(|spec| match what {
            "loss to the tap" => Some(at(&spec.tap)),
            "loss through" => Some(at(&spec.through)),
            "isolation" => Some(at(&spec.isolation)),
            "band" => ends(spec.band),
            _ => Some("blocked".to_owned()),
        }),
        ("filter", what) => tables::filter(row.name).and_then(|spec| match what {
            "loss" => Some(at(&spec.loss)),
            "reflected band" => ends(spec.reflects),
            "band" => ends(spec.band),
            _ => Some("blocked".to_owned()),
        }),
        ("inserter", what) => tables::inserter(row.name).and_then(|spec| match what {
            "loss" => Some(at(&spec.loss)),
            "band" => ends(spec.band),
            _ => ohms(spec.dc_ohms),
        }),
        ("joint", what) => tables::joint(row.name).and_then(|spec| match what {
            "loss" => Some(at(&spec.loss)),
            "band" => ends(spec.band),
            _ => ohms(spec.dc_ohms),
        }),
        ("bond", what) => tables::bond(row.name).and_then(|spec| match what {
            "loss" => Some(at(&spec.loss)),
            "band" => ends(spec.band),
            _ => ohms(spec.dc_ohms),
        }),
        _ => None,
    };
    text.unwrap_or_default()
}

fn of_cable(cable: &Cable<'_>, what: &str) -> Option<String> {
    let loss = |frequency: Frequency| cable.loss.at_square_root(frequency);
    Some(match what {
        "loss to 1000 MHz" => format!("{:.1} to {:.1} dB/100 ft", loss(LOW), loss(HIGH)),
        "loss above 1000 MHz" => format!("{:.1} dB/100 ft at {} MHz", loss(HIGHEST), HIGHEST.mhz()),
        "loop resistance, centre conductor" => format!("{} ohm/100 ft with the shield", cable.loop_resistance.ohms()),
        "velocity" => format!("{} of light", cable.velocity),
        _ => return None,
    })
}

fn of_limit(name: &str, what: &str) -> Option<String> {
    let index = Device::WITH_LIMITS.iter().position(|device| device.name() == name)?;
    let limits = tables::LIMITS.get(index)?;
    Some(match what {
        "forward" => format!("{} to {} dBmV", limits.forward.0, limits.forward.1),
        "total" => format!("{} dBmV", limits.total),
        "tilt" => format!("{} dB", limits.tilt),
        "cnr" => format!("{} dB", limits.cnr),
        "transmit, lowest" => format!("{} dBmV", limits.transmit.0),
        "transmit, highest" => format!("{} dBmV", limits.transmit.1),
        "window" => format!("{} dB", limits.window),
        _ => return None,
    })
}
