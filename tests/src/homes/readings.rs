//! Random visits to a home: what a technician would have read there, with a fault or without.

use serde_json::Value;

use super::random::Random;
use crate::model::{Line, Wiring};

/// A visit: what was read, and what was wrong.
#[derive(Clone, Debug)]
pub struct Visit {
    /// What was read: place, MHz, dBmV.
    pub lines: Vec<Line>,
    /// How far a reading errs, in dB, one sigma.
    pub sigma: f64,
    /// The part that loses too much.
    pub fault: Option<String>,
}

/// A random visit to a valid premises, the same for the same seed: any ports, any frequencies, some read twice.
///
/// # Panics
///
/// Where the premises is not valid.
#[must_use]
pub fn visit(premises: &Value, seed: u64) -> Visit {
    let mut random = Random::new(seed ^ 0x5eed);
    let wiring = Wiring::of(premises);
    let (low, high) = wiring.band();
    let sigma = random.one(&[0.25, 0.5, 0.5, 1.0]);
    let mut places = wiring.places();
    random.shuffle(&mut places);
    let wanted = random.whole(1, 12);
    places.truncate(wanted);
    let count = random.one(&[1, 2, 2, 3, 3, 4, 6]);
    let frequencies: Vec<f64> = (0..count).map(|_| random.between(low, high).round()).collect();
    let fault = random.chance(70).then(|| {
        let mut member = |percent, most| if random.chance(percent) { random.between(0.0, most) } else { 0.0 };
        (member(50, 6.0), member(50, 8.0), member(40, 60.0))
    });
    let fault = fault.map(|excess| (random.one(&wiring.parts()), excess));
    let moved = (high > low && random.chance(30)).then(|| (random.normal() * 2.0, random.normal() * 2.0));
    let mut lines = Vec::new();
    for place in &places {
        for mhz in &frequencies {
            let excess = fault
                .as_ref()
                .filter(|(part, _)| wiring.is_behind(place, part))
                .map_or(0.0, |(_, (a, b, c))| a + b * (mhz / 1e3).sqrt() + c * 10.0 / mhz);
            let moved = moved.map_or(0.0, |(level, tilt)| level + tilt * mhz / 1e3);
            for _ in 0..random.one(&[1, 1, 1, 1, 2]) {
                let read = wiring.level(place, *mhz) + moved - excess + sigma * random.normal();
                lines.push((place.clone(), *mhz, (read * 100.0).round() / 100.0));
            }
        }
    }
    if let Some((level, tilt)) = moved {
        for mhz in [low, (low + high) / 2.0, high] {
            for _ in 0..random.whole(1, 2) {
                let read = wiring.level("entry", mhz) + level + tilt * mhz / 1e3 + 0.2 * random.normal();
                lines.push(("entry".to_owned(), mhz, (read * 100.0).round() / 100.0));
            }
        }
    }
    random.shuffle(&mut lines);
    Visit { lines, sigma, fault: fault.map(|(part, _)| part.to_owned()) }
}

impl Visit {
    /// The visit as a file of readings, with a column that does not count.
    #[must_use]
    pub fn csv(&self) -> String {
        let mut text = "note,at,dbmv,mhz\n".to_owned();
        for (at, mhz, dbmv) in &self.lines {
            text.push_str(&format!("\"by hand, {mhz}\",{at},{dbmv},{mhz}\n"));
        }
        text
    }
}
