//! Random `[spec.KIND.NAME]` tables.

use serde_json::{Map, Value, json};

use super::{random::Random, spell};

/// A flat value, or points over frequency around it that rise or fall by `slope` in all.
pub(crate) fn flat_or_points(random: &mut Random, db: f64, slope: f64) -> Value {
    if random.chance(35) {
        return spell::db(random, db);
    }
    points(random, db, slope)
}

/// Two to five points from 5 or 54 MHz up to 1000 or 1700 MHz.
fn points(random: &mut Random, db: f64, slope: f64) -> Value {
    let first = random.one(&[5.0, 10.0, 54.0]);
    let last: f64 = random.one(&[861.0, 1002.0, 1218.0, 1700.0]);
    let between = random.whole(0, 3);
    let mut rows = vec![first];
    for part in 1..=between {
        rows.push((first + (last - first) * part as f64 / (between as f64 + 1.0)).round());
    }
    rows.push(last);
    let rows = rows.into_iter().map(|mhz: f64| {
        let wiggle = random.between(-0.1, 0.1);
        let value = db + slope * (mhz / 1700.0) + wiggle * slope.abs();
        json!([spell::mhz(random, mhz), spell::db(random, value)])
    });
    Value::from(rows.collect::<Vec<_>>())
}

/// Adds an optional `spread` in dB and an optional `band`.
fn extras(random: &mut Random, spec: &mut Map<String, Value>, spread: f64) {
    if random.chance(55) {
        let db = random.between(0.1, spread);
        spec.insert("spread".into(), spell::db(random, db));
    }
    if random.chance(40) {
        let low = random.one(&[5.0, 5.0, 5.0, 10.0, 54.0]);
        let high = random.one(&[1002.0, 1002.0, 1218.0, 1700.0, 750.0]);
        spec.insert("band".into(), spell::band(random, low, high));
    }
}

/// The list of ways that pass direct current, and their resistance.
fn dc_pass(random: &mut Random, spec: &mut Map<String, Value>, names: &[Value], percent: u64) {
    let passes: Vec<Value> = names.iter().filter(|_| random.chance(percent)).cloned().collect();
    if passes.is_empty() {
        return;
    }
    spec.insert("dc_pass".into(), Value::from(passes));
    let ohms = random.between(0.02, 0.6);
    spec.insert("dc_ohms".into(), spell::ohms(random, ohms));
}

/// An optional `isolation`.
fn isolation(random: &mut Random, spec: &mut Map<String, Value>) {
    if random.chance(70) {
        let (db, slope) = (random.between(16.0, 34.0), random.between(-8.0, 0.0));
        spec.insert("isolation".into(), flat_or_points(random, db, slope));
    }
}

/// A cable: loss that grows about as the square root of frequency.
pub(crate) fn cable(random: &mut Random) -> Map<String, Value> {
    let mut spec = Map::new();
    let (root, flat) = (random.between(0.16, 0.27), random.between(-0.3, 0.3));
    let all = [5.0, 55.0, 210.0, 400.0, 500.0, 750.0, 1000.0, 1220.0, 1700.0];
    let (from, to) = match random.whole(0, 5) {
        0 => (1, 5),
        1 => (2, 6),
        _ => (0, random.whole(6, 8)),
    };
    let mut kept: Vec<f64> = all[from..=to].to_vec();
    while kept.len() > 2 && random.chance(45) {
        kept.remove(random.whole(1, kept.len() - 2));
    }
    let rows = kept.into_iter().map(|mhz| {
        let db = (root * mhz.sqrt() + flat).max(0.1);
        json!([spell::mhz(random, mhz), spell::db(random, db)])
    });
    spec.insert("loss".into(), Value::from(rows.collect::<Vec<_>>()));
    spec.insert("per".into(), json!(random.one(&["100 ft", "100ft", "30.48 m", "0.1 km", "100 m"])));
    let ohms = random.between(1.2, 7.0);
    spec.insert("loop".into(), spell::ohms(random, ohms));
    spec.insert("velocity".into(), json!(random.one(&[0.82, 0.83, 0.85, 0.87])));
    if random.chance(60) {
        let percent = random.between(1.0, 8.0);
        spec.insert("spread".into(), spell::percent(random, percent));
    }
    if random.chance(15) {
        spec.insert("band".into(), spell::band(random, 5.0, 1002.0));
    }
    spec
}

/// A splitter: one loss for all legs, or one each.
pub(crate) fn splitter(random: &mut Random) -> Map<String, Value> {
    let mut spec = Map::new();
    let legs = random.one(&[2, 2, 2, 3, 3, 4, 4, 6, 8]);
    spec.insert("legs".into(), json!(legs));
    let even = 10.0 * f64::from(legs).log10() + 0.4;
    let slope = random.between(0.5, 3.0);
    if random.chance(65) {
        spec.insert("loss".into(), flat_or_points(random, even, slope));
    } else {
        let own = (0..legs).map(|_| {
            let db = even + random.between(-0.8, 2.0);
            flat_or_points(random, db, slope)
        });
        spec.insert("leg_loss".into(), Value::from(own.collect::<Vec<_>>()));
    }
    isolation(random, &mut spec);
    let names: Vec<Value> = (1..=legs).map(|leg| json!(leg)).collect();
    let percent = random.one(&[0, 30, 80]);
    dc_pass(random, &mut spec, &names, percent);
    extras(random, &mut spec, 0.8);
    spec
}

/// A coupler.
pub(crate) fn coupler(random: &mut Random) -> Map<String, Value> {
    let mut spec = Map::new();
    let tap = random.one(&[6.0, 9.0, 12.0, 16.0]);
    let through = 10.0 / tap + 0.6;
    spec.insert("tap".into(), flat_or_points(random, tap, 0.8));
    spec.insert("through".into(), flat_or_points(random, through, 0.9));
    isolation(random, &mut spec);
    let percent = random.one(&[0, 60]);
    dc_pass(random, &mut spec, &[json!("through"), json!("tap")], percent);
    extras(random, &mut spec, 0.6);
    spec
}

/// A filter for the entry, that may reflect a band.
pub(crate) fn filter(random: &mut Random, reflects: Option<(f64, f64)>) -> Map<String, Value> {
    let mut spec = Map::new();
    let low = random.between(0.2, 0.9);
    let mut rows = vec![(5.0, low), (861.0, low + 0.4), (1002.0, low + 0.9)];
    if let Some((first, last)) = reflects {
        rows.retain(|row| row.0 < first);
        rows.extend([(first, 36.0), (last, 41.0)]);
        spec.insert("reflects".into(), spell::band(random, first, last));
    }
    let rows = rows.into_iter().map(|(mhz, db)| json!([spell::mhz(random, mhz), spell::db(random, db)]));
    spec.insert("loss".into(), Value::from(rows.collect::<Vec<_>>()));
    flag(random, &mut spec);
    extras(random, &mut spec, 0.4);
    spec
}

/// An equalizer: more loss below than above.
pub(crate) fn equalizer(random: &mut Random) -> Map<String, Value> {
    let mut spec = Map::new();
    let db = random.between(4.0, 9.0);
    let slope = -0.8 * db;
    spec.insert("loss".into(), points(random, db, slope));
    flag(random, &mut spec);
    extras(random, &mut spec, 0.5);
    spec
}

/// `dc_pass` as true or false.
fn flag(random: &mut Random, spec: &mut Map<String, Value>) {
    if random.chance(50) {
        let passes = random.chance(60);
        spec.insert("dc_pass".into(), json!(passes));
        if passes {
            let ohms = random.between(0.02, 0.5);
            spec.insert("dc_ohms".into(), spell::ohms(random, ohms));
        }
    }
}

/// A joint, a bond or an inserter: a small loss, and perhaps a small resistance.
pub(crate) fn small(random: &mut Random) -> Map<String, Value> {
    let mut spec = Map::new();
    let db = random.between(0.05, 0.6);
    spec.insert("loss".into(), flat_or_points(random, db, 0.3));
    if random.chance(80) {
        let ohms = random.between(0.01, 0.4);
        spec.insert("dc_ohms".into(), spell::ohms(random, ohms));
    }
    extras(random, &mut spec, 0.7);
    spec
}
