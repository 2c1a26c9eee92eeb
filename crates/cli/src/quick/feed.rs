//! `legwork feed`: a draw behind a resistance.

use legwork::quick::{self, Supplied};
use legwork::{Draw, Ohms, Volts};
use legwork_file::quantity;
use serde::Serialize;

use super::answer::{self, Page};
use super::ask;
use super::figure::{digits, prefixed};
use crate::{Failure, Outcome};

/// Arguments of `feed`.
#[derive(Debug, clap::Args)]
pub(crate) struct Feed {
    /// What the supply gives: V or mV
    #[arg(long, value_name = "VOLTS", allow_hyphen_values = true)]
    supply: String,
    /// All resistance there and back: ohm
    #[arg(long = "loop", value_name = "OHMS", allow_hyphen_values = true)]
    resistance: String,
    /// What is drawn: a constant power in W or mW, or a constant current in A or mA
    #[arg(long, value_name = "DRAW", allow_hyphen_values = true)]
    draw: String,
    /// As JSON
    #[arg(long)]
    json: bool,
}

#[derive(Serialize)]
struct Figures {
    volts: Option<f32>,
    amps: Option<f32>,
    drop_volts: Option<f32>,
    state: &'static str,
}

impl Feed {
    pub(super) fn run(&self) -> Result<Outcome, Failure> {
        let supply = ask::read("--supply", &self.supply, quantity::volts)?;
        let resistance = ask::read("--loop", &self.resistance, quantity::ohms)?;
        let draw = ask::read("--draw", &self.draw, quantity::draw)?;
        let fed = quick::hold(supply, resistance, draw);
        let figures = Figures {
            volts: fed.map(|fed| fed.volts.volts()),
            amps: fed.map(|fed| fed.amps.amps()),
            drop_volts: fed.map(|fed| fed.drop.volts()),
            state: if fed.is_some() { "holds" } else { "collapsed" },
        };
        answer::print(self.json, &figures, || page(supply, resistance, draw, fed))?;
        Ok(if fed.is_some() { Outcome::Done } else { Outcome::BadNews })
    }
}

/// A draw as people say it.
fn drawn(draw: Draw) -> String {
    match draw {
        Draw::Power(watts) => prefixed(watts.watts(), "W"),
        Draw::Current(amps) => prefixed(amps.amps(), "A"),
    }
}

fn page(supply: Volts, resistance: Ohms, draw: Draw, fed: Option<Supplied>) -> Page {
    let (v, r) = (digits(supply.volts()), digits(resistance.ohms()));
    let mut page = match fed {
        Some(fed) => Page::new(format!(
            "holds: {} at the draw, {}, {} lost on the way",
            prefixed(fed.volts.volts(), "V"),
            prefixed(fed.amps.amps(), "A"),
            prefixed(fed.drop.volts(), "V"),
        )),
        None => Page::new(format!("collapsed: {v} V can't carry {} through {r} ohm", drawn(draw))),
    };
    match (draw, fed) {
        (Draw::Power(watts), fed) => {
            let p = digits(watts.watts());
            page.formula("U = (V + sqrt(V^2 - 4*R*P))/2, the stable, higher of two");
            page.formula(match fed {
                Some(fed) => format!("  = ({v} + sqrt({v}^2 - 4*{r}*{p}))/2 = {} V", digits(fed.volts.volts())),
                None => format!("no solution: {v}^2 - 4*{r}*{p} is below zero, or there is no voltage"),
            });
            if let Some(fed) = fed {
                page.formula(format!("I = P/U = {p}/{} = {} A", digits(fed.volts.volts()), digits(fed.amps.amps())));
            }
        }
        (Draw::Current(amps), fed) => {
            let i = digits(amps.amps());
            page.formula(match fed {
                Some(fed) => format!("U = V - R*I = {v} - {r}*{i} = {} V", digits(fed.volts.volts())),
                None => format!("U = V - R*I = {v} - {r}*{i}: nothing is left"),
            });
        }
    }
    limits(&mut page, supply, resistance, draw);
    page.source("Ohm's law; a load of constant power draws more as its voltage falls, so below V/2 nothing holds");
    page
}

/// What would make it collapse, or what would hold instead.
fn limits(page: &mut Page, supply: Volts, resistance: Ohms, draw: Draw) {
    if supply.volts() == 0.0 {
        return page.limit("0 V holds nothing, whatever the loop and the draw");
    }
    let (formula_loop, formula_draw) = match draw {
        Draw::Power(_) => ("V^2/(4*P)", "V^2/(4*R)"),
        Draw::Current(_) => ("V/I", "V/R"),
    };
    page.limit(match quick::longest_loop(supply, draw) {
        Ok(longest) => {
            format!("longest loop for {}: {formula_loop} = {} ohm", drawn(draw), digits(longest.ohms()))
        }
        Err(_) => format!("no loop is too long for {}", drawn(draw)),
    });
    let ohms = digits(resistance.ohms());
    page.limit(match quick::largest_draw(supply, resistance, draw) {
        Ok(largest) => format!("largest draw behind {ohms} ohm: {formula_draw} = {}", drawn(largest)),
        Err(_) => format!("no draw is too large behind {ohms} ohm"),
    });
}
