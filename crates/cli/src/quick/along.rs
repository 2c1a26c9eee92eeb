//! `legwork along`: the level behind each part of a way.

use legwork::quick::Step;
use legwork::{Frequency, Level};
use legwork_file::quantity;
use serde::Serialize;

use super::answer::{self, Page};
use super::figure::{decimals, mhz};
use super::{ask, step};
use crate::{Failure, Outcome, screen};

/// Arguments of `along`.
#[derive(Debug, clap::Args)]
pub(crate) struct Along {
    /// The level at the start: dBmV, dBuV, dBm (75 ohm), mV, V, mW or W
    #[arg(value_name = "LEVEL", allow_hyphen_values = true)]
    level: String,
    /// The parts in order, as listed below
    #[arg(value_name = "STEP", required = true)]
    steps: Vec<String>,
    /// Frequencies with commas between: Hz, kHz, MHz, GHz or a channel, "ch 3"
    #[arg(long, value_name = "FREQUENCY,...", required = true, allow_hyphen_values = true)]
    at: Vec<String>,
    /// How warm the cables are: C or F; 20 C if left out
    #[arg(long, value_name = "TEMPERATURE", allow_hyphen_values = true)]
    temp: Option<String>,
    /// As JSON
    #[arg(long)]
    json: bool,
}

#[derive(Serialize)]
struct Figures<'t> {
    steps: Vec<Behind<'t>>,
}

/// What is left behind one part.
#[derive(Serialize)]
struct Behind<'t> {
    part: &'t str,
    levels: Vec<Point>,
}

#[derive(Serialize)]
struct Point {
    mhz: f32,
    dbmv: f32,
}

impl Along {
    pub(super) fn run(&self) -> Result<Outcome, Failure> {
        let start = ask::read("LEVEL", &self.level, quantity::level)?;
        let frequencies = ask::frequencies("--at", &self.at)?;
        let temperature = ask::temperature("--temp", self.temp.as_deref())?;
        let steps = self.steps.iter().map(|text| step::read(text, temperature)).collect::<Result<Vec<_>, _>>()?;
        let figures = Figures { steps: self.walk(&steps, start, &frequencies)? };
        answer::done(self.json, &figures, || page(start, &frequencies, &figures.steps))
    }

    /// The levels behind each step, at every frequency.
    fn walk(&self, steps: &[Step<'_>], start: Level, frequencies: &[Frequency]) -> Result<Vec<Behind<'_>>, Failure> {
        let mut levels = vec![start; frequencies.len()];
        let mut behind = Vec::with_capacity(steps.len());
        for (text, step) in self.steps.iter().zip(steps) {
            let mut points = Vec::with_capacity(levels.len());
            for (level, at) in levels.iter_mut().zip(frequencies) {
                *level = step.behind(*level, *at).map_err(|error| {
                    ask::refused("STEP", text, format!("behind it the {error}; it takes a step that a signal survives"))
                })?;
                points.push(Point { mhz: at.mhz(), dbmv: level.dbmv() });
            }
            behind.push(Behind { part: text, levels: points });
        }
        Ok(behind)
    }
}

fn page(start: Level, frequencies: &[Frequency], steps: &[Behind<'_>]) -> Page {
    let mut page = Page::default();
    let last = steps.last().map(|step| step.levels.as_slice()).unwrap_or_default();
    for (at, point) in frequencies.iter().zip(last) {
        page.result(format!("{:.1} dBmV at {}", point.dbmv, mhz(*at)));
    }
    let scale = Scale::over(start, steps);
    for (index, at) in frequencies.iter().enumerate() {
        page.body(&mhz(*at));
        page.body(&scale.line("start", start.dbmv()));
        for step in steps {
            if let Some(point) = step.levels.get(index) {
                page.body(&scale.line(step.part, point.dbmv));
            }
        }
    }
    page.body(&format!("bars from {:.1} to {:.1} dBmV", scale.low, scale.high));
    for (index, at) in frequencies.iter().enumerate() {
        page.formula(format!("{}: {}", mhz(*at), working(start, index, steps)));
    }
    page.source("parts: the built-in tables, each row's origin in `legwork specs`; levels and decibels add");
    page
}

/// The start and every change, as a sum.
fn working(start: Level, index: usize, steps: &[Behind<'_>]) -> String {
    let mut level = start.dbmv();
    let mut text = decimals(level, 2);
    for point in steps.iter().filter_map(|step| step.levels.get(index)) {
        let change = point.dbmv - level;
        let sign = if change < 0.0 { '-' } else { '+' };
        text.push_str(&format!(" {sign} {}", decimals(change.abs(), 2)));
        level = point.dbmv;
    }
    format!("{text} = {} dBmV", decimals(level, 2))
}

/// How levels become bars.
struct Scale {
    low: f32,
    high: f32,
    name: usize,
    bar: usize,
}

impl Scale {
    /// A scale over all levels, its bars as long as the terminal has room for.
    fn over(start: Level, steps: &[Behind<'_>]) -> Self {
        const BESIDE: usize = 18;
        let levels = || steps.iter().flat_map(|step| &step.levels).map(|point| point.dbmv).chain([start.dbmv()]);
        let (low, high) = (levels().fold(f32::MAX, f32::min), levels().fold(f32::MIN, f32::max));
        let name = steps.iter().map(|step| step.part.chars().count()).chain([5]).max().unwrap_or_default();
        let bar = usize::from(screen::width()).saturating_sub(name + BESIDE).clamp(10, 50);
        // The lowest level still has a bar to see.
        Self { low: (low - 1.0 - (high - low) / 20.0).floor(), high: high.ceil(), name, bar }
    }

    fn line(&self, name: &str, dbmv: f32) -> String {
        let share = (dbmv - self.low) / (self.high - self.low);
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a share of some dozens")]
        let length = (share.clamp(0.0, 1.0) * self.bar as f32).round() as usize;
        format!("  {name:<width$}  {dbmv:>6.1} dBmV  {}", "#".repeat(length), width = self.name)
    }
}
