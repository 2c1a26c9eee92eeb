//! Service, entry, climate and runs of a random need.

use serde_json::{Map, Value, json};

use crate::homes::{random::Random, spell};

/// Split, top of the return band, first carrier and spacing.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Band {
    pub(crate) split: &'static str,
    top: f64,
    first: f64,
    step: f64,
}

/// The bands that needs are made under.
pub(crate) const BANDS: [Band; 4] = [
    Band { split: "42/54 MHz", top: 42.0, first: 57.0, step: 6.0 },
    Band { split: "42/54 MHz", top: 42.0, first: 57.0, step: 6.0 },
    Band { split: "85/108 MHz", top: 85.0, first: 111.0, step: 6.0 },
    Band { split: "65/87 MHz", top: 65.0, first: 114.0, step: 8.0 },
];

/// A few carriers at both ends of the band, seldom a full load.
pub(crate) fn service(random: &mut Random, band: Band) -> Value {
    let last = random.one(&[543.0, 747.0, 855.0]);
    let block = |random: &mut Random, first: f64, count: usize| {
        let end = first + band.step * (count - 1) as f64;
        let mut row = json!({
            "first": spell::mhz(random, first), "last": spell::mhz(random, end),
            "step": spell::mhz(random, band.step),
        });
        if random.chance(30) {
            let db = random.between(-5.0, 1.0);
            row["offset"] = spell::db(random, db);
        }
        row
    };
    let carriers = if random.chance(8) {
        let count = ((last - band.first) / band.step) as usize;
        vec![block(random, band.first, count)]
    } else {
        let (low, high) = (random.whole(1, 4), random.whole(1, 3));
        vec![block(random, band.first, low), block(random, last, high)]
    };
    let mut service = json!({"split": band.split, "carriers": carriers});
    if random.chance(60) {
        service["return_channels"] = json!(random.whole(1, 8));
    }
    service
}

/// What was read at the entry.
pub(crate) fn entry(random: &mut Random, band: Band) -> Value {
    let mut entry = Map::new();
    let (level, slope) = (random.between(-4.0, 16.0), random.between(-8.0, 3.0));
    let mut places = vec![band.first, random.one(&[549.0, 750.0, 861.0])];
    if random.chance(30) {
        places.insert(1, 300.0);
    }
    let forward = places.into_iter().map(|mhz| {
        let dbmv = level + slope * mhz / 861.0 + random.between(-0.5, 0.5);
        json!([spell::mhz(random, mhz), spell::level(random, dbmv)])
    });
    entry.insert("forward".into(), Value::from(forward.collect::<Vec<_>>()));
    if random.chance(60) {
        let cnr = random.between(38.0, 50.0);
        entry.insert("cnr".into(), spell::db(random, cnr));
    }
    if random.chance(80) {
        let sent = random.between(28.0, 44.0);
        let rows = (0..random.whole(1, 2)).map(|at| {
            let mhz = (12.0 + (band.top - 15.0) * at as f64).round();
            let dbmv = sent + random.between(-1.0, 1.5);
            json!([spell::mhz(random, mhz), spell::level(random, dbmv)])
        });
        entry.insert("transmit".into(), Value::from(rows.collect::<Vec<_>>()));
    }
    if random.chance(50) {
        let db = random.between(0.2, 1.5);
        entry.insert("spread".into(), spell::db(random, db));
    }
    if random.chance(50) {
        entry.insert("bonded".into(), json!(true));
    }
    Value::Object(entry)
}

/// A length of one of the need's own cables.
pub(crate) fn run(random: &mut Random) -> Value {
    let feet = random.between(8.0, 160.0);
    let mut run = json!({
        "cable": random.one(&["thin", "thin", "thick"]), "length": spell::length(random, feet),
    });
    if random.chance(40) {
        run["place"] = json!(random.one(&["indoor", "attic", "outdoor"]));
    }
    run
}

/// The two cables of a need.
pub(crate) fn cables(random: &mut Random) -> Value {
    let cable = |random: &mut Random, root: f64, ohms: f64| {
        let rows = [5.0f64, 55.0, 500.0, 1000.0, 1700.0].map(|mhz| {
            let db = root * mhz.sqrt() + 0.1;
            json!([spell::mhz(random, mhz), spell::db(random, db)])
        });
        let mut spec = json!({
            "loss": rows, "per": "100 ft", "loop": spell::ohms(random, ohms), "velocity": 0.85,
        });
        if random.chance(50) {
            let percent = random.between(1.0, 6.0);
            spec["spread"] = spell::percent(random, percent);
        }
        spec
    };
    json!({"thin": cable(random, 0.2, 3.0), "thick": cable(random, 0.13, 1.2)})
}

/// Outlets with their runs.
pub(crate) fn outlets(random: &mut Random, count: usize) -> Vec<Value> {
    let mut rows: Vec<Value> = Vec::new();
    let mains = random.one(&[0, 60, 60, 100]);
    for number in 1..=count {
        let like_the_last = random.chance(35);
        let mut row = match rows.last() {
            Some(last) if like_the_last => last.clone(),
            _ => {
                let device = random.one(&["modem", "voice-modem", "modem", "set-top", "tv", "tv"]);
                let mut row = json!({"device": device, "run": run(random)});
                if device == "voice-modem" && random.chance(50) {
                    row["lifeline"] = json!(true);
                }
                if random.chance(mains) {
                    row["mains"] = json!(true);
                }
                row
            }
        };
        row["id"] = json!(format!("outlet {number}"));
        rows.push(row);
    }
    rows
}
