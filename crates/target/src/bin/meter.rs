//! A meter. It holds the reference home and takes readings from the console, one a line as `at,mhz,dbmv`. It
//! answers each with the level expected there, whether the reading agrees, the outlet's verdict and what is wrong.
//! Any frequency at which the service sends will do: a level is worked out for it alone. It keeps the readings;
//! `locate` says which part they speak against and where to read next, `forget` begins anew.
//!
//! What a firmware author meets: capacities are chosen in `home`, specs lie in flash, the core knows no names.

#![cfg_attr(target_os = "none", no_std, no_main)]

use legwork::{At, Db, Error, Figure, Frequency, Level, OutletReport, PortId, Reading, Report, Service, Suspect, Tree};
use legwork_target::faults::{MOST, outlet_on};
use legwork_target::home::Finder;
use legwork_target::{console, home, program, say};

/// Names for the outlets, in the order in which the home was wired.
const NAMES: [&str; 8] = ["study", "den", "bedroom", "nursery", "office", "guest", "porch", "loft"];
/// Names for the parts, likewise.
const PARTS: [&str; 23] = [
    "entry filter",
    "riser",
    "ground block",
    "closet amplifier",
    "study run",
    "study joint",
    "den run",
    "den joint",
    "east run",
    "east splitter",
    "bedroom run",
    "nursery run",
    "west run",
    "west equalizer",
    "west splitter",
    "office run",
    "guest run",
    "porch run",
    "loft run",
    "loft pad",
    "loft joint",
    "feed run",
    "feed joint",
];
/// Longest line taken, its end not counted.
const LINE: usize = 60;
/// How far this meter errs, one sigma.
const ERROR: Db = Db::constant(0.5);
/// Suspects of less weight stay unsaid.
const LEAST: f32 = 0.05;

/// The readings so far.
struct Visit {
    readings: [Reading; MOST],
    count: usize,
}

impl Visit {
    /// Keeps a reading; the room may be full.
    fn keep(&mut self, reading: Reading) -> bool {
        let slot = self.readings.get_mut(self.count);
        let has_room = slot.is_some();
        if let Some(slot) = slot {
            *slot = reading;
            self.count += 1;
        }
        has_room
    }
}

fn run() -> i32 {
    match listen() {
        Ok(()) => 0,
        Err(error) => {
            say!("{error}");
            1
        }
    }
}

fn listen() -> Result<(), Error> {
    let (home, desk) = home::desk()?;
    let finder = home::finder()?;
    let report = desk.check(&home.tree())?;
    say!("{} outlets, {}", NAMES.len(), report.verdict().name());
    let none = Reading { port: PortId::ENTRY, frequency: Frequency::MIN, level: Level::constant(0.0) };
    let mut visit = Visit { readings: [none; MOST], count: 0 };
    let mut line = [0; LINE];
    let mut used = 0;
    let mut byte = [0];
    while console::read(&mut byte) == 1 {
        match byte {
            [b'\n'] => {
                answer(&report, finder, &mut visit, line.get(..used));
                used = 0;
            }
            [b'\r'] => {}
            [other] => {
                if let Some(place) = line.get_mut(used) {
                    *place = other;
                }
                used = used.saturating_add(1); // beyond the line's end `get` finds nothing
            }
        }
    }
    if used > 0 {
        answer(&report, finder, &mut visit, line.get(..used)); // a last line that nothing ends
    }
    Ok(())
}

fn answer(report: &Report<'_, '_>, finder: &mut Finder, visit: &mut Visit, line: Option<&[u8]>) {
    match line {
        Some(b"locate") => return locate(report.tree(), finder, visit),
        Some(b"forget") => {
            visit.count = 0;
            return say!("no readings");
        }
        _ => {}
    }
    let Some((at, frequency, read)) = line.and_then(|bytes| str::from_utf8(bytes).ok()).and_then(reading) else {
        say!("? at,mhz,dbmv");
        return;
    };
    let Some(outlet) = NAMES.iter().zip(report.outlets()).find_map(|(name, outlet)| (*name == at).then_some(outlet))
    else {
        say!("? no outlet {at}");
        return;
    };
    let Some((port, Figure { nominal, low, high })) = expected(report, &outlet, frequency) else {
        say!("? nothing is sent at {} MHz", frequency.mhz());
        return;
    };
    let agrees = match read.dbmv() {
        read if read < low => "too low",
        read if read > high => "too high",
        _ => "agrees",
    };
    say!("{agrees}: {nominal:.1} dBmV, {low:.1} to {high:.1}; {at}: {}", outlet.verdict.name());
    for finding in report.findings().iter().filter(|finding| finding.at == At::Outlet(outlet.outlet)) {
        say!("  {}: {}", finding.verdict.name(), finding.brief());
    }
    if !visit.keep(Reading { port, frequency, level: read }) {
        say!("? no room for more readings; locate, or forget");
    }
}

/// Which part the readings speak against, and where to read next.
fn locate(tree: &Tree<'_, '_>, finder: &mut Finder, visit: &Visit) {
    let readings = visit.readings.get(..visit.count).unwrap_or_default();
    let diagnosis = match finder.locate(tree, readings, ERROR) {
        Ok(diagnosis) => diagnosis,
        Err(error) => return say!("? {error}"),
    };
    for suspect in diagnosis.suspects().filter(|suspect| suspect.weight >= LEAST) {
        accuse(&suspect);
    }
    let Some(next) = diagnosis.next_reading() else { return say!("no reading would tell much more") };
    let mhz = next.frequency.mhz();
    match (outlet_on(tree, next.port).and_then(|outlet| NAMES.get(outlet)), tree.owner(next.port)) {
        (Some(name), _) => say!("read next at {name}, {mhz} MHz"),
        (None, Some((part, way))) => {
            say!("read next behind {}, way {}, {mhz} MHz", PARTS.get(part.index()).unwrap_or(&"?"), way + 1);
        }
        (None, None) => {}
    }
}

fn accuse(suspect: &Suspect<'_>) {
    let percent = 100.0 * suspect.weight;
    if suspect.is_nothing_wrong() {
        return say!("{percent:.0} %: nothing wrong");
    }
    let extra = suspect.excess;
    say!("{percent:.0} %: {:.1} dB, {:.1} at 1 GHz, {:.1} at 10 MHz too much", extra.flat, extra.rising, extra.falling);
    suspect.parts().filter_map(|part| PARTS.get(part.index())).for_each(|name| say!("  {name}"));
}

/// The level at an outlet, as the report has it at its own frequencies, and its port; nothing beside the carriers.
fn expected(report: &Report<'_, '_>, outlet: &OutletReport<'_>, frequency: Frequency) -> Option<(PortId, Figure)> {
    let port = report.tree().outlets().get(outlet.outlet.index())?.port();
    let levels = || report.tree().levels_at(port, frequency).ok();
    sends(report.tree().service, frequency.mhz()).then(levels)?.map(|levels| (port, levels))
}

/// Whether there is a carrier: each takes half a step to either side.
fn sends(service: &Service<'_>, mhz: f32) -> bool {
    service.blocks().iter().any(|block| {
        let side = 0.5 * block.step();
        mhz >= block.first() - side && mhz < block.last() + side
    })
}

/// The three fields of a line, or nothing.
fn reading(line: &str) -> Option<(&str, Frequency, Level)> {
    let mut fields = line.split(',').map(str::trim);
    let at = fields.next().filter(|at| !at.is_empty())?;
    let mhz = Frequency::new(fields.next()?.parse().ok()?).ok()?;
    let level = Level::new(fields.next()?.parse().ok()?).ok()?;
    fields.next().is_none().then_some((at, mhz, level))
}

program!(run);
