//! A meter. It holds the reference home and takes readings from the console, one a line as `at,mhz,dbmv`. It
//! answers each with the level expected there, whether the reading agrees, the outlet's verdict and what is wrong.
//! Any frequency at which the service sends will do: a level is worked out for it alone.
//!
//! What a firmware author meets: capacities are chosen in `home`, specs lie in flash, the core knows no names.

#![cfg_attr(target_os = "none", no_std, no_main)]

use legwork::{At, Error, Figure, Frequency, Level, OutletReport, Report, Service};
use legwork_target::{console, home, program, say};

/// Names for the outlets, in the order in which the home was wired.
const NAMES: [&str; 8] = ["study", "den", "bedroom", "nursery", "office", "guest", "porch", "loft"];
/// Longest line taken, its end not counted.
const LINE: usize = 60;

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
    let (home, desk) = home::build()?;
    let report = desk.check(&home.tree())?;
    say!("{} outlets, {}", NAMES.len(), report.verdict().name());
    let mut line = [0; LINE];
    let mut used = 0;
    let mut byte = [0];
    while console::read(&mut byte) == 1 {
        match byte {
            [b'\n'] => {
                answer(&report, line.get(..used));
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
        answer(&report, line.get(..used)); // a last line that nothing ends
    }
    Ok(())
}

fn answer(report: &Report<'_, '_>, line: Option<&[u8]>) {
    let Some((at, frequency, read)) = line.and_then(|bytes| str::from_utf8(bytes).ok()).and_then(reading) else {
        say!("? at,mhz,dbmv");
        return;
    };
    let Some(outlet) = NAMES.iter().zip(report.outlets()).find_map(|(name, outlet)| (*name == at).then_some(outlet))
    else {
        say!("? no outlet {at}");
        return;
    };
    let Some(Figure { nominal, low, high }) = expected(report, &outlet, frequency) else {
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
}

/// The level at an outlet, as the report has it at its own frequencies; nothing beside the carriers.
fn expected(report: &Report<'_, '_>, outlet: &OutletReport<'_>, frequency: Frequency) -> Option<Figure> {
    let outlet = report.tree().outlets().get(outlet.outlet.index())?;
    sends(report.tree().service, frequency.mhz()).then(|| report.tree().levels_at(outlet.port(), frequency).ok())?
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
