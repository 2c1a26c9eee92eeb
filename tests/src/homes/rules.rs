//! Random service, entry, climate, limits and targets.

use serde_json::{Map, Value, json};

use super::{random::Random, spell};

/// Split, return band and the first carrier above it.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Plan {
    pub(crate) split: &'static str,
    top: f64,
    first: f64,
    step: f64,
}

/// The plans that homes are made under.
pub(crate) const PLANS: [Plan; 6] = [
    Plan { split: "42/54 MHz", top: 42.0, first: 57.0, step: 6.0 },
    Plan { split: "42/54 MHz", top: 42.0, first: 57.0, step: 6.0 },
    Plan { split: "65/87 MHz", top: 65.0, first: 114.0, step: 8.0 },
    Plan { split: "85/108 MHz", top: 85.0, first: 111.0, step: 6.0 },
    Plan { split: "85/108 MHz", top: 85.0, first: 112.5, step: 7.0 },
    Plan { split: "204/258 MHz", top: 204.0, first: 261.0, step: 6.0 },
];

/// The service, and its first and last carrier.
pub(crate) fn service(random: &mut Random, plan: Plan) -> (Value, f64, f64) {
    let mut blocks = Vec::new();
    let first = plan.first + plan.step * random.whole(0, 3) as f64;
    let (mut start, mut last) = (first, first);
    for _ in 0..random.whole(1, 3) {
        let step = if random.chance(85) { plan.step } else { plan.step * 2.0 };
        let count = random.whole(0, 60);
        last = start + step * count as f64;
        // An end between two centres leaves the last of them the last.
        let end = if random.chance(15) { last + step / 2.0 } else { last };
        let mut row = json!({
            "first": spell::mhz(random, start), "last": spell::mhz(random, end), "step": spell::mhz(random, step),
        });
        if plan.first == 57.0 && start == 57.0 && random.chance(50) {
            row["first"] = json!("ch 2");
        }
        if random.chance(45) {
            let db = random.between(-6.0, 2.0);
            row["offset"] = spell::db(random, db);
        }
        blocks.push(row);
        start = last + plan.step * random.whole(2, 6) as f64;
        if start > 950.0 {
            break;
        }
    }
    let mut service = json!({"split": plan.split, "carriers": blocks});
    if random.chance(25) {
        let bandwidth = random.between(3.0, 7.0);
        service["noise_bandwidth"] = json!(format!("{bandwidth:.2} MHz"));
    }
    if random.chance(70) {
        service["return_channels"] = json!(random.whole(1, 8));
    }
    (service, first, last)
}

/// What was read at the entry.
pub(crate) fn entry(random: &mut Random, plan: Plan, first: f64, last: f64) -> Value {
    let mut entry = Map::new();
    let level = random.between(2.0, 18.0);
    let slope = random.between(-9.0, 4.0);
    let (mut from, mut to) = (first, last.max(first + 12.0));
    if random.chance(20) {
        from = (from + plan.step * random.whole(0, 4) as f64).min(to - 6.0);
        to = (to - plan.step * random.whole(0, 6) as f64).max(from + 6.0);
    }
    if random.chance(20) {
        to += 90.0;
    }
    let between = random.whole(0, 3);
    let mut places: Vec<f64> = (0..=between + 1)
        .map(|part| from + (to - from) * part as f64 / (between + 1) as f64)
        .map(|mhz| (mhz * 2.0).round() / 2.0)
        .collect();
    places.dedup();
    let forward = places.into_iter().map(|mhz| {
        let wiggle = random.between(-1.0, 1.0);
        let dbmv = level + slope * mhz / 1000.0 + wiggle;
        json!([spell::mhz(random, mhz), spell::level(random, dbmv)])
    });
    entry.insert("forward".into(), Value::from(forward.collect::<Vec<_>>()));
    let cnr = random.between(36.0, 50.0);
    match random.whole(0, 6) {
        0 => {}
        1..=3 => drop(entry.insert("cnr".into(), spell::db(random, cnr))),
        _ => {
            let ends = [(first, cnr), (last.max(first + 6.0), cnr - 2.0)];
            let rows = ends.map(|(mhz, db)| json!([spell::mhz(random, mhz), spell::db(random, db)]));
            entry.insert("cnr".into(), Value::from(rows.to_vec()));
        }
    }
    if random.chance(88) {
        let count = random.whole(1, 4);
        let sent = random.between(24.0, 46.0);
        let rows = (0..count).map(|at| {
            let low = if random.chance(6) && at == 0 { 4.0 } else { 10.0 };
            let mhz = (low + (plan.top - 13.0) * at as f64 / count as f64).round();
            let dbmv = sent + at as f64 * 0.7 + random.between(-0.3, 0.3);
            json!([spell::mhz(random, mhz), spell::level(random, dbmv)])
        });
        entry.insert("transmit".into(), Value::from(rows.collect::<Vec<_>>()));
    }
    if random.chance(60) {
        let db = random.between(0.2, 2.0);
        entry.insert("spread".into(), spell::db(random, db));
    }
    if random.chance(50) {
        entry.insert("bonded".into(), json!(random.chance(70)));
    }
    Value::Object(entry)
}

/// A climate, in which a place may never be at 20 C.
pub(crate) fn climate(random: &mut Random) -> Option<Value> {
    if random.chance(20) {
        return None;
    }
    let mut climate = Map::new();
    let places = [
        ("indoor", [(15.0, 30.0), (18.0, 24.0), (22.0, 27.0)]),
        ("outdoor", [(-25.0, 45.0), (-30.0, -5.0), (0.0, 38.0)]),
        ("attic", [(-5.0, 60.0), (25.0, 65.0), (10.0, 50.0)]),
    ];
    for (place, ranges) in places {
        if random.chance(75) {
            let (low, high) = random.one(&ranges);
            let range = json!([spell::celsius(random, low), spell::celsius(random, high)]);
            climate.insert(place.into(), range);
        }
    }
    Some(Value::Object(climate))
}

/// A limit, or `"none"`.
fn unless_none(random: &mut Random, value: Value) -> Value {
    if random.chance(7) { json!("none") } else { value }
}

/// Limits for all four devices, every key stated.
pub(crate) fn limits(random: &mut Random) -> Value {
    let mut all = Map::new();
    // Wide limits, that little leaves, let other findings decide the verdict.
    let wide = if random.chance(25) { 1.0 } else { 0.0 };
    for device in ["modem", "voice-modem", "set-top", "tv"] {
        let mut table = Map::new();
        let (low, high) = (random.between(-30.0, -6.0), random.between(3.0, 16.0));
        let (low, high) = (low - 60.0 * wide, high + 20.0 * wide);
        let forward = json!([spell::level(random, low), spell::level(random, high)]);
        table.insert("forward".into(), unless_none(random, forward));
        let (low, high) = (random.between(17.0, 38.0), random.between(44.0, 60.0));
        let (low, high) = (low - 10.0 * wide, high + 60.0 * wide);
        let transmit = json!([spell::level(random, low), spell::level(random, high)]);
        table.insert("transmit".into(), unless_none(random, transmit));
        for (key, low, high) in [("total", 20.0, 36.0), ("neighbour", 5.0, 36.0)] {
            let dbmv = random.between(low, high) + 30.0 * wide;
            let limit = spell::level(random, dbmv);
            table.insert(key.into(), unless_none(random, limit));
        }
        let ratios = [("tilt", 3.0, 18.0, 40.0), ("cnr", 25.0, 45.0, -23.0), ("window", 1.0, 12.0, 20.0)];
        for (key, low, high, wider) in ratios {
            let db = random.between(low, high) + wider * wide;
            let limit = spell::db(random, db);
            table.insert(key.into(), unless_none(random, limit));
        }
        if random.chance(15) {
            table.remove("neighbour");
        }
        all.insert(device.into(), Value::Object(table));
    }
    Value::Object(all)
}

/// Targets for some devices, of some keys.
pub(crate) fn targets(random: &mut Random) -> Option<Value> {
    let mut all = Map::new();
    for device in ["modem", "voice-modem", "set-top", "tv"] {
        if !random.chance(25) {
            continue;
        }
        let mut table = Map::new();
        let pairs = [("forward", -8.0, -3.0, 2.0, 8.0), ("transmit", 34.0, 40.0, 42.0, 50.0)];
        for (key, a, b, c, d) in pairs {
            if random.chance(50) {
                let (low, high) = (random.between(a, b), random.between(c, d));
                table.insert(key.into(), json!([spell::level(random, low), spell::level(random, high)]));
            }
        }
        for (key, low, high) in [("total", 15.0, 28.0), ("neighbour", 0.0, 20.0)] {
            if random.chance(30) {
                let dbmv = random.between(low, high);
                table.insert(key.into(), spell::level(random, dbmv));
            }
        }
        for (key, low, high) in [("tilt", 2.0, 10.0), ("cnr", 36.0, 46.0), ("window", 0.5, 6.0)] {
            if random.chance(30) {
                let db = random.between(low, high);
                table.insert(key.into(), spell::db(random, db));
            }
        }
        all.insert(device.into(), Value::Object(table));
    }
    (!all.is_empty()).then_some(Value::Object(all))
}
