//! `legwork noise`: the noise floor, and the carrier above it.

use legwork::{Db, Frequency, Level, quick};
use legwork_file::quantity;
use serde::Serialize;

use super::answer::{self, Page};
use super::ask;
use super::figure::{decimals, mhz};
use crate::{Failure, Outcome};

/// Arguments of `noise`.
#[derive(Debug, clap::Args)]
pub(crate) struct Noise {
    /// The amplifier's noise figure: dB
    #[arg(long, value_name = "DB", allow_hyphen_values = true)]
    noise_figure: String,
    /// The level at each amplifier's input: dBmV, dBuV, dBm (75 ohm), mV, V, mW or W
    #[arg(long, value_name = "LEVEL", allow_hyphen_values = true)]
    input: String,
    /// The noise bandwidth: Hz, kHz, MHz or GHz
    #[arg(long, value_name = "FREQUENCY", allow_hyphen_values = true)]
    bandwidth: String,
    /// How many amplifiers alike stand in a row
    #[arg(long, value_name = "N", default_value = "1", allow_hyphen_values = true)]
    cascade: String,
    /// As JSON
    #[arg(long)]
    json: bool,
}

#[derive(Serialize)]
struct Figures {
    floor_dbmv: f32,
    cnr_db: f32,
}

impl Noise {
    pub(super) fn run(&self) -> Result<Outcome, Failure> {
        let figure = ask::read("--noise-figure", &self.noise_figure, quantity::loss)?;
        let input = ask::read("--input", &self.input, quantity::level)?;
        let bandwidth = ask::read("--bandwidth", &self.bandwidth, ask::width)?;
        let cascade = ask::count("--cascade", &self.cascade)?;
        let floor = quick::thermal_floor(bandwidth);
        let ratio = quick::carrier_to_noise(input, figure, bandwidth, cascade).map_err(|_| {
            ask::refused("--input", &self.input, "far from any noise; it takes a level: dBmV, dBuV, dBm, V or W")
        })?;
        let figures = Figures { floor_dbmv: floor.dbmv(), cnr_db: ratio.db() };
        answer::done(self.json, &figures, || page(figure, input, bandwidth, cascade, floor, ratio))
    }
}

fn page(figure: Db, input: Level, bandwidth: Frequency, cascade: u16, floor: Level, ratio: Db) -> Page {
    let [input, floor, figure, ratio] =
        [input.dbmv(), floor.dbmv(), figure.db(), ratio.db()].map(|value| decimals(value, 2));
    let mut page = Page::new(format!("carrier to noise {ratio} dB, noise floor {floor} dBmV"));
    page.formula(format!("floor = k*290 K*B in 75 ohm = -65.2246 + 10*log10({}/1 MHz) = {floor} dBmV", mhz(bandwidth)));
    page.formula("C/N = input - floor - noise figure - 10*log10(N)");
    page.formula(format!("    = {input} - ({floor}) - {figure} - 10*log10({cascade}) = {ratio} dB"));
    page.source(
        "kTB with k = 1.380649e-23 J/K; \"-59 dBmV in 4 MHz\": Freeman, Fundamentals of Telecommunications, eq. 17.3; \
         cascades: an amplifier maker's application note, 3 dB for each doubling",
    );
    page
}
