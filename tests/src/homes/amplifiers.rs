//! Random `[spec.amplifier.NAME]` tables.

use serde_json::{Map, Value, json};

use super::{random::Random, specs::flat_or_points, spell};

/// An amplifier with outputs, gain, limits and ways to be powered.
pub(crate) fn amplifier(random: &mut Random, split: &str) -> Map<String, Value> {
    let mut spec = Map::new();
    let outputs = random.one(&[1, 1, 2, 2, 4, 4, 8]);
    spec.insert("outputs".into(), json!(outputs));
    let (gain, slope) = (random.between(0.0, 15.0), random.between(-1.0, 2.0));
    spec.insert("gain".into(), flat_or_points(random, gain, slope));
    let spread = random.chance(60).then(|| random.between(0.2, 1.0));
    if let Some(db) = spread {
        spec.insert("spread".into(), spell::db(random, db));
    }
    if random.chance(75) {
        // A loss upward stays a loss, and a gain a gain, whatever the spread and the slope.
        let size = random.between(2.0, 5.0);
        let db = if random.chance(70) { -size } else { size };
        spec.insert("return_gain".into(), flat_or_points(random, db, 0.4));
    }
    let noise = random.between(3.0, 9.0);
    spec.insert("noise_figure".into(), flat_or_points(random, noise, 1.0));
    let most_in = random.between(22.0, 38.0);
    spec.insert("max_input_total".into(), spell::level(random, most_in));
    if random.chance(60) {
        let most = random.between(28.0, 45.0);
        spec.insert("max_output_total".into(), spell::level(random, most));
    }
    if random.chance(60) {
        let most = random.between(36.0, 55.0);
        spec.insert("max_return_total".into(), spell::level(random, most));
    }
    if random.chance(50) {
        let (db, slope) = (random.between(2.0, 6.0), random.between(0.3, 3.0));
        spec.insert("passive".into(), flat_or_points(random, db, slope));
    }
    if random.chance(60) {
        let db = random.between(16.0, 35.0);
        spec.insert("isolation".into(), flat_or_points(random, db, -3.0));
    }
    if random.chance(55) {
        let db = random.between(3.0, 14.0);
        spec.insert("network_loss".into(), flat_or_points(random, db, 1.5));
    }
    match random.whole(0, 4) {
        0 | 1 => drop(spec.insert("split".into(), json!(split))),
        2 => drop(spec.insert("split".into(), json!(random.one(&["42/54 MHz", "65/87 MHz", "85/108 MHz"])))),
        _ => {}
    }
    let draw = if random.chance(65) {
        let watts = random.between(1.2, 7.0);
        spell::watts(random, watts)
    } else {
        let amps = random.between(0.08, 0.45);
        spell::amps(random, amps)
    };
    spec.insert("draw".into(), draw);
    let (least, most) = (random.between(8.0, 12.0), random.between(15.0, 22.0));
    spec.insert("runs_on".into(), json!([spell::volts(random, least), spell::volts(random, most)]));
    let ports: &[&str] = match random.whole(0, 7) {
        0..=2 => &["power"],
        3 => &["power", "1"],
        4 => &["1"],
        5 => &["power", "1", "in"],
        6 => &["in"],
        _ => &["1", "in"],
    };
    spec.insert("dc_ports".into(), json!(ports));
    if random.chance(25) {
        let low = random.one(&[5.0, 54.0]);
        spec.insert("band".into(), spell::band(random, low, 1002.0));
    }
    spec
}
