//! `legwork cable`: what a run of cable does.

use legwork::quick::Run;
use legwork::tables::{self, CABLES};
use legwork::{Cable as Spec, Frequency, Length};
use legwork_file::quantity;
use serde::Serialize;

use super::answer::{self, Page};
use super::ask;
use super::figure::{decimals, digits, mhz};
use crate::{Failure, Outcome};

/// Where a table without `--at` stands: the return band, channel 2, the usual upper ends of the
/// forward band, and the home network's band.
const COMMON: [f32; 14] =
    [5.0, 12.0, 42.0, 57.0, 85.0, 204.0, 300.0, 450.0, 550.0, 750.0, 862.0, 1002.0, 1218.0, 1675.0];

/// Arguments of `cable`.
#[derive(Debug, clap::Args)]
pub(crate) struct Cable {
    /// A built-in cable: series-59, series-6, series-6-copper, series-7, series-11
    #[arg(value_name = "SPEC")]
    spec: String,
    /// How long: ft, in, m or km
    #[arg(value_name = "LENGTH", allow_hyphen_values = true)]
    length: String,
    /// Frequencies with commas between: Hz, kHz, MHz, GHz or a channel, "ch 3"
    #[arg(long, value_name = "FREQUENCY,...", allow_hyphen_values = true)]
    at: Vec<String>,
    /// How warm: C or F; 20 C if left out
    #[arg(long, value_name = "TEMPERATURE", allow_hyphen_values = true)]
    temp: Option<String>,
    /// As JSON
    #[arg(long)]
    json: bool,
}

#[derive(Serialize)]
struct Figures {
    points: Vec<Point>,
    loop_ohms: f32,
    delay_ns: f32,
}

#[derive(Serialize)]
struct Point {
    mhz: f32,
    loss_db: f32,
}

impl Cable {
    pub(super) fn run(&self) -> Result<Outcome, Failure> {
        let cable = spec("SPEC", &self.spec, &self.spec)?;
        let (length, feet) = ask::read("LENGTH", &self.length, quantity::length)?;
        let temperature = ask::temperature("--temp", self.temp.as_deref())?;
        let frequencies = if self.at.is_empty() {
            COMMON.map(Frequency::constant).to_vec()
        } else {
            ask::frequencies("--at", &self.at)?
        };
        let run = Run { cable, length, temperature };
        let points =
            frequencies.iter().map(|at| Point { mhz: at.mhz(), loss_db: run.loss(*at).db() }).collect::<Vec<_>>();
        let figures = Figures { points, loop_ohms: run.loop_ohms().ohms(), delay_ns: run.delay_ns() };
        answer::done(self.json, &figures, || page(&self.spec, &run, &frequencies, feet))
    }
}

/// The built-in cable of a name; `typed` is the whole argument it stands in.
pub(super) fn spec(argument: &str, typed: &str, name: &str) -> Result<&'static Spec<'static>, Failure> {
    let name = name.trim();
    tables::cable(name).ok_or_else(|| ask::refused(argument, typed, ask::unknown("cable", name, CABLES)))
}

/// A length in the units it was typed in.
fn length(length: Length, feet: bool) -> String {
    if feet { format!("{} ft", decimals(length.feet(), 2)) } else { format!("{} m", decimals(length.metres(), 2)) }
}

fn page(name: &str, run: &Run<'_>, frequencies: &[Frequency], feet: bool) -> Page {
    let loss = |at: Frequency| format!("{:.2} dB", run.loss(at).db());
    let (loop_ohms, delay) = (digits(run.loop_ohms().ohms()), digits(run.delay_ns()));
    let mut page = match frequencies {
        [one] => Page::new(format!("{} at {}", loss(*one), mhz(*one))),
        [first, .., last] => {
            Page::new(format!("{} at {} to {} at {}", loss(*first), mhz(*first), loss(*last), mhz(*last)))
        }
        [] => Page::default(),
    };
    page.result(format!("{loop_ohms} ohm there and back, {delay} ns one way"));
    if frequencies.len() > 1 {
        let width = frequencies.iter().map(|at| mhz(*at).len()).max().unwrap_or_default();
        for at in frequencies {
            page.body(&format!("{:>width$}  {:>9}", mhz(*at), loss(*at)));
        }
    }
    let (long, per) = (length(run.length, feet), length(run.cable.per, feet));
    let warm = decimals(run.temperature.celsius(), 1);
    if let Some(at) = frequencies.last() {
        let tabled = digits(run.cable.loss.at_square_root(*at));
        page.formula(format!("loss = table * length/{per} * (1 + 0.002*(T - 20))"));
        page.formula(format!("     = {tabled} dB * {long}/{per} * (1 + 0.002*({warm} - 20)) = {}", loss(*at)));
    }
    let at_reference = digits(run.cable.loop_resistance.ohms());
    page.formula(format!("loop = {at_reference} ohm * {long}/{per} * (1 + 0.00393*({warm} - 20)) = {loop_ohms} ohm"));
    let velocity = decimals(run.cable.velocity, 3);
    page.formula(format!("delay = length/(velocity*c) = {long}/({velocity}*299.792 m/us) = {delay} ns"));
    page.formula("between the table's points straight in the square root of frequency");
    sources(&mut page, name, run.cable);
    page
}

/// The rows on a cable's origin, also where it was called by another of its names.
fn sources(page: &mut Page, typed: &str, cable: &Spec<'_>) {
    let same = |name: &&&str| tables::cable(name).is_some_and(|spec| std::ptr::eq(spec, cable));
    let name = CABLES.iter().find(same).copied().unwrap_or(typed);
    for row in tables::sources().filter(|row| row.kind == "cable" && row.name == name) {
        page.source(format!("{}: {} ({})", row.what, row.source, row.trust.word()));
    }
    page.source("loss with temperature: 1.1 % per 10 F, a published note on drop cable; copper: IEC 60028");
}
