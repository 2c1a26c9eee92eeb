//! `legwork echo`: how far away a reflection is.

use legwork::{Db, Frequency, Length, quick};
use legwork_file::quantity;
use serde::Serialize;

use super::answer::{self, Page};
use super::ask;
use super::figure::{decimals, digits, mhz};
use crate::{Failure, Outcome};

/// Arguments of `echo`.
#[derive(Debug, clap::Args)]
#[command(group = clap::ArgGroup::new("seen").required(true).args(["ripple", "delay"]))]
pub(crate) struct Echo {
    /// The spacing of the ripple in frequency: Hz, kHz, MHz or GHz
    #[arg(long, value_name = "FREQUENCY", allow_hyphen_values = true)]
    ripple: Option<String>,
    /// The delay there and back: ns
    #[arg(long, value_name = "NS", allow_hyphen_values = true)]
    delay: Option<String>,
    /// The cable's velocity, as a fraction of that of light
    #[arg(long, value_name = "FRACTION", allow_hyphen_values = true)]
    velocity: String,
    /// The height of the ripple, peak to peak: dB
    #[arg(long, value_name = "DB", allow_hyphen_values = true)]
    ripple_depth: Option<String>,
    /// As JSON
    #[arg(long)]
    json: bool,
}

#[derive(Serialize)]
struct Figures {
    metres: f32,
    feet: f32,
    #[serde(skip_serializing_if = "Option::is_none")]
    echo_dbc: Option<f32>,
}

/// What was seen of the reflection.
#[derive(Clone, Copy)]
enum Seen {
    Ripple(Frequency),
    Delay(f32),
}

impl Echo {
    pub(super) fn run(&self) -> Result<Outcome, Failure> {
        let velocity = ask::velocity("--velocity", &self.velocity)?;
        let (seen, distance) = self.distance(velocity)?;
        let depth = self.depth()?;
        let figures = Figures {
            metres: distance.metres(),
            feet: distance.feet(),
            echo_dbc: depth.map(|(_, strength)| strength.db()),
        };
        answer::done(self.json, &figures, || page(seen, velocity, distance, depth))
    }

    /// From whichever of the two was given; clap sees to it that one was.
    fn distance(&self, velocity: f32) -> Result<(Seen, Length), Failure> {
        let too_far = |name: &str, text: &str| {
            let most = Length::MAX.metres() / 1000.0;
            ask::refused(
                name,
                text,
                format!("the distance would be over {most} km; it takes what a home's cable shows"),
            )
        };
        if let Some(text) = &self.ripple {
            let spacing = ask::read("--ripple", text, ask::width)?;
            let distance = quick::echo_from_ripple(spacing, velocity).map_err(|_| too_far("--ripple", text))?;
            return Ok((Seen::Ripple(spacing), distance));
        }
        let text = self.delay.as_deref().unwrap_or_default();
        let delay = ask::read("--delay", text, quantity::nanoseconds)?;
        let distance = quick::echo_from_delay(delay, velocity).map_err(|_| too_far("--delay", text))?;
        Ok((Seen::Delay(delay), distance))
    }

    /// The depth of the ripple and the echo's strength, where they were asked for.
    fn depth(&self) -> Result<Option<(Db, Db)>, Failure> {
        const NAME: &str = "--ripple-depth";
        let Some(text) = &self.ripple_depth else { return Ok(None) };
        let depth = ask::read(NAME, text, quantity::db)?;
        let strength = quick::echo_strength(depth)
            .map_err(|_| ask::refused(NAME, text, "a ripple has height; it takes a ratio above zero in dB"))?;
        Ok(Some((depth, strength)))
    }
}

fn page(seen: Seen, velocity: f32, distance: Length, depth: Option<(Db, Db)>) -> Page {
    let (metres, feet) = (digits(distance.metres()), digits(distance.feet()));
    let mut page = Page::new(format!("{metres} m ({feet} ft) to the reflection"));
    let v = decimals(velocity, 3);
    page.formula(match seen {
        Seen::Ripple(spacing) => {
            format!("d = v*c/(2*spacing) = {v}*299.792 m/us/(2*{}) = {metres} m", mhz(spacing))
        }
        Seen::Delay(delay) => format!("d = v*c*t/2 = {v}*0.299792 m/ns*{} ns/2 = {metres} m", digits(delay)),
    });
    if let Some((depth, strength)) = depth {
        let (depth, dbc) = (digits(depth.db()), decimals(strength.db(), 2));
        page.result(format!("{dbc} dBc, the reflection against the carrier"));
        page.formula(format!("echo = 20*log10((r - 1)/(r + 1)) with r = 10^({depth}/20) = {dbc} dBc"));
    }
    page.source(
        "a wave goes there and back; checked against an instrument manual: velocity 0.66, minima 8.2 MHz apart, 12.06 m",
    );
    page
}
