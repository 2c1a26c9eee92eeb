//! `legwork wire`: the resistance of one conductor.

use clap::ValueEnum;
use legwork::{Awg, Length, Ohms, Temperature, quick};
use legwork_file::quantity;
use serde::Serialize;

use super::answer::{self, Page};
use super::ask;
use super::figure::{decimals, digits};
use crate::{Failure, Outcome};

/// Arguments of `wire`.
#[derive(Debug, clap::Args)]
pub(crate) struct Wire {
    /// The size: AWG
    #[arg(value_name = "SIZE", allow_hyphen_values = true)]
    size: String,
    /// How long, one way: ft, in, m or km
    #[arg(value_name = "LENGTH", allow_hyphen_values = true)]
    length: String,
    /// What it is made of
    #[arg(long, value_enum, value_name = "METAL", default_value_t = Metal::Copper, ignore_case = true)]
    metal: Metal,
    /// How warm: C or F; 20 C if left out
    #[arg(long, value_name = "TEMPERATURE", allow_hyphen_values = true)]
    temp: Option<String>,
    /// As JSON
    #[arg(long)]
    json: bool,
}

/// What conductors are made of.
#[derive(Clone, Copy, Debug, ValueEnum)]
enum Metal {
    /// Annealed copper
    Copper,
    /// Copper-clad steel, 21 % of copper's conductivity
    CopperCladSteel,
    /// Aluminium, 61 % of copper's conductivity
    #[value(alias = "aluminum")]
    Aluminium,
}

impl Metal {
    const fn of(self) -> quick::Metal {
        match self {
            Self::Copper => quick::Metal::Copper,
            Self::CopperCladSteel => quick::Metal::CopperCladSteel,
            Self::Aluminium => quick::Metal::Aluminium,
        }
    }
}

#[derive(Serialize)]
struct Figures {
    ohms: f32,
}

impl Wire {
    pub(super) fn run(&self) -> Result<Outcome, Failure> {
        let size = ask::read("SIZE", &self.size, quantity::awg)?;
        let (length, _) = ask::read("LENGTH", &self.length, quantity::length)?;
        let temperature = ask::temperature("--temp", self.temp.as_deref())?;
        let ohms = quick::resistance(size, length, self.metal.of(), temperature).map_err(|error| {
            ask::refused(
                "LENGTH",
                &self.length,
                format!("{error}; it takes a length that a wire can have: ft, in, m or km"),
            )
        })?;
        let figures = Figures { ohms: ohms.ohms() };
        answer::done(self.json, &figures, || page(size, length, self.metal, temperature, ohms))
    }
}

fn page(size: Awg, length: Length, metal: Metal, temperature: Temperature, ohms: Ohms) -> Page {
    let mut page = Page::new(format!("{} ohm, one conductor", digits(ohms.ohms())));
    let (gauge, metal) = (decimals(size.number(), 2), metal.of());
    let (diameter, warm) = (digits(quick::diameter_mm(size)), decimals(temperature.celsius(), 1));
    let (rho, alpha) = (digits(metal.resistivity()), decimals(metal.per_kelvin(), 5));
    page.formula(format!("d = 0.127 mm * 92^((36 - {gauge})/39) = {diameter} mm"));
    page.formula(format!(
        "R = rho*length/(pi/4*d^2)*(1 + alpha*(T - 20)) = {rho}*{} m/(pi/4*{diameter}^2)*(1 + {alpha}*({warm} - 20))",
        decimals(length.metres(), 3),
    ));
    page.formula("there and back is twice that, the way back through a shield less");
    page.source("the AWG formula; copper 1/58 ohm mm2/m and 0.00393/K (IEC 60028)");
    match metal {
        quick::Metal::Copper => {}
        quick::Metal::CopperCladSteel => page.source("copper-clad steel: 21 % of copper's conductivity (ASTM B869)"),
        quick::Metal::Aluminium => {
            page.source("aluminium: 61 % of copper's conductivity, 0.00403/K (Industrial Power Engineering Handbook)");
        }
    }
    page
}
