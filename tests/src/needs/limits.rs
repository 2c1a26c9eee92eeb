//! Limits of a random need: around the figures of one plan of it, or anywhere.

use serde_json::{Map, Value, json};

use crate::homes::{random::Random, spell};

/// The devices that have limits.
const DEVICES: [&str; 4] = ["modem", "voice-modem", "set-top", "tv"];

/// What the outlets of one device see, taken together.
#[derive(Clone, Copy, Debug)]
struct Seen {
    forward: (f64, f64),
    total: f64,
    tilt: f64,
    cnr: f64,
    transmit: (f64, f64),
    window: f64,
    neighbour: f64,
}

const NOTHING: Seen = Seen {
    forward: (f64::INFINITY, f64::NEG_INFINITY),
    total: f64::NEG_INFINITY,
    tilt: 0.0,
    cnr: f64::INFINITY,
    transmit: (f64::INFINITY, f64::NEG_INFINITY),
    window: 0.0,
    neighbour: f64::NEG_INFINITY,
};

/// The keys of limits with two ends and with one, the least that may be written there and the most.
fn widened(random: &mut Random, around: (f64, f64), room: f64) -> (f64, f64) {
    let (below, above) = (random.between(0.1, 2.0), random.between(0.1, 3.5));
    (around.0 - room - below, around.1 + room + above)
}

/// Limits that a plan keeps, with so much room at least; `report` is what the model says of it, `arrives` the strongest
/// that each outlet hears of another's modem, in dBmV.
pub(crate) fn around(random: &mut Random, report: &Value, arrives: &[(String, f64)], room: f64) -> Value {
    let mut all = Map::new();
    for device in DEVICES {
        let mut seen = NOTHING;
        let rows = report["outlets"].as_array().into_iter().flatten().filter(|row| row["device"] == device);
        let mut any = false;
        for row in rows {
            any = true;
            take_in(&mut seen, row);
            let heard = arrives.iter().filter(|(at, _)| row["id"] == **at).map(|(_, dbmv)| *dbmv);
            seen.neighbour = heard.fold(seen.neighbour, f64::max);
        }
        if any {
            all.insert(device.to_owned(), table(random, seen, room));
        }
    }
    Value::Object(all)
}

/// Widens what is seen by the figures of one outlet.
fn take_in(seen: &mut Seen, row: &Value) {
    let number = |value: &Value| value.as_f64().unwrap_or(f64::NAN);
    for level in row["forward"].as_array().into_iter().flatten() {
        seen.forward = (seen.forward.0.min(number(&level["low"])), seen.forward.1.max(number(&level["high"])));
    }
    seen.total = seen.total.max(number(&row["total_high"]));
    seen.tilt = seen.tilt.max(number(&row["tilt_low"]).abs()).max(number(&row["tilt_high"]).abs());
    for cnr in row["cnr"].as_array().into_iter().flatten() {
        seen.cnr = seen.cnr.min(number(&cnr["low"]));
    }
    let sent: Vec<&Value> = row["return"].as_array().into_iter().flatten().collect();
    for level in &sent {
        seen.transmit = (seen.transmit.0.min(number(&level["low"])), seen.transmit.1.max(number(&level["high"])));
    }
    if let [first, second] = sent.as_slice() {
        let apart = (number(&first["transmit_dbmv"]) - number(&second["transmit_dbmv"])).abs();
        seen.window = seen.window.max(apart);
    }
}

/// A table of limits around what is seen; some are none, and so are those on what is not there.
fn table(random: &mut Random, seen: Seen, room: f64) -> Value {
    let mut table = Map::new();
    let mut write = |random: &mut Random, key: &str, percent: u64, value: Option<Value>| {
        let value = value.filter(|_| random.chance(percent)).unwrap_or(json!("none"));
        table.insert(key.to_owned(), value);
    };
    let pair = |random: &mut Random, ends: (f64, f64)| {
        let ends = widened(random, ends, room);
        let level = |dbmv: f64| json!(format!("{dbmv:.1} dBmV"));
        // A tenth of rounding stays within the least room of a tenth.
        ends.0.is_finite().then(|| json!([level(ends.0 - 0.05), level(ends.1 + 0.05)]))
    };
    let forward = pair(random, seen.forward);
    write(random, "forward", 96, forward);
    let transmit = pair(random, seen.transmit);
    write(random, "transmit", 85, transmit);
    for (key, figure, unit, percent) in [
        ("total", seen.total, "dBmV", 60),
        ("neighbour", seen.neighbour, "dBmV", 45),
        ("tilt", seen.tilt, "dB", 55),
        ("window", seen.window, "dB", 50),
    ] {
        let limit = figure + room + random.between(0.1, 4.0) + 0.05;
        let value = limit.is_finite().then(|| json!(format!("{limit:.1} {unit}")));
        write(random, key, percent, value);
    }
    let least = (seen.cnr - room - random.between(0.1, 3.0) - 0.05).max(0.0);
    write(random, "cnr", 70, least.is_finite().then(|| json!(format!("{least:.1} dB"))));
    Value::Object(table)
}

/// Limits that no plan had a say in.
pub(crate) fn anywhere(random: &mut Random) -> Value {
    let mut all = Map::new();
    for device in DEVICES {
        let low = random.between(-16.0, -4.0);
        let high = low + random.between(10.0, 26.0);
        let (least, most) = (random.between(24.0, 40.0), random.between(46.0, 60.0));
        let mut table = Map::new();
        table.insert("forward".into(), json!([spell::level(random, low), spell::level(random, high)]));
        table.insert("transmit".into(), json!([spell::level(random, least), spell::level(random, most)]));
        let more = [
            ("total", 12.0, 30.0, true),
            ("neighbour", 12.0, 40.0, true),
            ("tilt", 4.0, 16.0, false),
            ("cnr", 28.0, 40.0, false),
            ("window", 1.0, 8.0, false),
        ];
        for (key, low, high, is_level) in more {
            let limit = random.between(low, high);
            let value = if is_level { spell::level(random, limit) } else { spell::db(random, limit) };
            table.insert(key.into(), if random.chance(45) { value } else { json!("none") });
        }
        all.insert(device.to_owned(), Value::Object(table));
    }
    Value::Object(all)
}

/// An operator's target for one device, now and then.
pub(crate) fn targets(random: &mut Random) -> Value {
    let device = random.one(&DEVICES);
    let (low, high) = (random.between(-14.0, -4.0), random.between(4.0, 14.0));
    let mut table = json!({"forward": [spell::level(random, low), spell::level(random, high)]});
    if random.chance(40) {
        let db = random.between(3.0, 12.0);
        table["tilt"] = spell::db(random, db);
    }
    if random.chance(40) {
        let dbmv = random.between(10.0, 35.0);
        table["neighbour"] = spell::level(random, dbmv);
    }
    json!({device: table})
}
