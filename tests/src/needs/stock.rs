//! A random stock, small enough that every plan from it can be tried.

use serde_json::{Map, Value, json};

use crate::homes::{random::Random, specs, spell};

/// Lines of a stock, and the specs they name.
#[derive(Debug, Default)]
pub(crate) struct Stock {
    pub(crate) items: Vec<Value>,
    /// `[spec.KIND.NAME]`.
    specs: Map<String, Value>,
    /// How many parts there are that go into the tree.
    parts: usize,
}

/// Prices in few values, so that many bags cost the same.
fn price(random: &mut Random) -> f64 {
    random.one(&[0.0, 1.0, 2.0, 2.5, 3.0, 3.0, 4.99, 10.0])
}

impl Stock {
    /// Adds a line.
    fn add(&mut self, random: &mut Random, kind: &str, name: Value, count: usize) {
        let mut row = json!({kind: name, "count": count});
        if count == 1 && random.chance(20) {
            row.as_object_mut().expect("a table").remove("count");
        }
        if !random.chance(6) {
            row["cost"] = json!(price(random));
        }
        self.items.push(row);
        if !["supply", "inserter", "joint", "cable"].contains(&kind) {
            self.parts += count;
        }
    }

    /// Adds a line with a spec of its own.
    fn add_own(&mut self, random: &mut Random, kind: &str, spec: Map<String, Value>, count: usize) {
        let table = self.specs.entry(kind).or_insert_with(|| json!({}));
        let name = format!("own {kind} {}", table.as_object().map_or(0, Map::len) + 1);
        table[&name] = Value::Object(spec);
        self.add(random, kind, json!(name), count);
    }

    /// The specs, together with others of a kind.
    pub(crate) fn specs_with(mut self, kind: &str, others: Value) -> Value {
        self.specs.insert(kind.to_owned(), others);
        Value::Object(self.specs)
    }
}

/// A stock for so many outlets.
pub(crate) fn stock(random: &mut Random, outlets: usize, split: &str, network: bool) -> Stock {
    let mut stock = Stock::default();
    let most = [0, 5, 6, 6, 5, 4][outlets];
    let mut ways = 1;
    let with_amplifier = random.chance(85);
    if with_amplifier {
        let (spec, outputs, passive) = amplifier(random, split);
        let count = if outlets > 1 && random.chance(30) { 2 } else { 1 };
        ways += count * (outputs - 1 + usize::from(passive));
        stock.add_own(random, "amplifier", spec, count);
    }
    if network && random.chance(85) {
        stock.add(random, "filter", json!("entry-filter"), 1);
    }
    while ways < outlets && stock.parts < most && !random.chance(4) {
        let left = (most - stock.parts).min(outlets - ways).min(2);
        let count = random.whole(1, left.max(1));
        ways += count * (divider(random, &mut stock, count) - 1);
    }
    for _ in 0..random.whole(0, 3) {
        if stock.parts < most {
            let count = random.whole(1, (most - stock.parts).min(2));
            extra(random, &mut stock, count);
        }
    }
    if with_amplifier && random.chance(96) {
        power(random, &mut stock);
    }
    if random.chance(4) {
        stock.add(random, "joint", json!("joint"), 2);
    }
    if random.chance(4) {
        stock.add(random, "cable", json!("thin"), 1);
    }
    random.shuffle(&mut stock.items);
    stock
}

/// Adds parts with several ways out; gives how many each has.
fn divider(random: &mut Random, stock: &mut Stock, count: usize) -> usize {
    match random.whole(0, 9) {
        0..=2 => stock.add(random, "splitter", json!("2-way"), count),
        3 => {
            let name = random.one(&["3-way", "3-way-unequal"]);
            stock.add(random, "splitter", json!(name), count);
            return 3;
        }
        4 => {
            stock.add(random, "splitter", json!("4-way"), count);
            return 4;
        }
        5 => {
            let name = random.one(&["6-dB", "9-dB"]);
            stock.add(random, "coupler", json!(name), count);
        }
        6 => {
            let spec = coupler(random);
            stock.add_own(random, "coupler", spec, count);
        }
        _ => {
            let legs = random.one(&[2, 2, 3]);
            let spec = splitter(random, legs);
            stock.add_own(random, "splitter", spec, count);
            return legs;
        }
    }
    2
}

/// Adds something that shapes the signal, or one more divider.
fn extra(random: &mut Random, stock: &mut Stock, count: usize) {
    match random.whole(0, 9) {
        0..=4 => {
            let db = random.one(&["3 dB", "4 dB", "6 dB", "10 dB"]);
            stock.add(random, "pad", json!(db), count);
        }
        5 | 6 => {
            let spec = specs::equalizer(random);
            stock.add_own(random, "equalizer", spec, 1);
        }
        7 => {
            let mut spec = specs::filter(random, None);
            spec.remove("band");
            stock.add_own(random, "filter", spec, 1);
        }
        _ => drop(divider(random, stock, 1)),
    }
}

/// Adds supplies, and perhaps inserters.
fn power(random: &mut Random, stock: &mut Stock) {
    for _ in 0..random.one(&[1, 1, 2]) {
        let (volts, amps) = (random.between(11.5, 17.0), random.between(0.2, 0.9));
        let mut supply = json!({"volts": spell::volts(random, volts), "amps": spell::amps(random, amps)});
        if random.chance(40) {
            let percent = random.between(1.0, 6.0);
            supply["spread"] = spell::percent(random, percent);
        }
        if random.chance(40) {
            let ohms = random.between(0.1, 2.0);
            supply["source_ohms"] = spell::ohms(random, ohms);
        }
        let count = random.one(&[1, 2, 2]);
        stock.add(random, "supply", supply, count);
    }
    if random.chance(30) {
        let spec = specs::small(random);
        stock.add_own(random, "inserter", spec, 1);
    } else if random.chance(60) {
        let count = random.one(&[1, 1, 2]);
        stock.add(random, "inserter", json!("inserter"), count);
    }
}

/// Which of some ways pass direct current, and with what resistance.
fn dc_pass(random: &mut Random, spec: &mut Map<String, Value>, names: &[Value]) {
    let percent = random.one(&[0, 50, 50, 100]);
    let passes: Vec<Value> = names.iter().filter(|_| random.chance(percent)).cloned().collect();
    if !passes.is_empty() {
        spec.insert("dc_pass".into(), Value::from(passes));
        let ohms = random.between(0.02, 0.6);
        spec.insert("dc_ohms".into(), spell::ohms(random, ohms));
    }
}

/// What splitters and couplers have in common.
fn common(random: &mut Random, spec: &mut Map<String, Value>) {
    if random.chance(60) {
        let db = random.between(12.0, 30.0);
        spec.insert("isolation".into(), specs::flat_or_points(random, db, -4.0));
    }
    if random.chance(40) {
        let db = random.between(0.1, 0.7);
        spec.insert("spread".into(), spell::db(random, db));
    }
    if random.chance(6) {
        let high = random.one(&[500.0, 800.0, 1002.0]);
        spec.insert("band".into(), spell::band(random, 5.0, high));
    }
}

/// A splitter whose legs may be unlike.
fn splitter(random: &mut Random, legs: usize) -> Map<String, Value> {
    let mut spec = Map::new();
    spec.insert("legs".into(), json!(legs));
    let even = 10.0 * (legs as f64).log10() + 0.5;
    if random.chance(50) {
        spec.insert("loss".into(), specs::flat_or_points(random, even, 1.0));
    } else {
        let own = (0..legs).map(|_| {
            let db = even + random.between(-1.5, 3.0);
            specs::flat_or_points(random, db, 1.0)
        });
        spec.insert("leg_loss".into(), Value::from(own.collect::<Vec<_>>()));
    }
    let names: Vec<Value> = (1..=legs).map(|leg| json!(leg)).collect();
    dc_pass(random, &mut spec, &names);
    common(random, &mut spec);
    spec
}

/// A coupler.
fn coupler(random: &mut Random) -> Map<String, Value> {
    let mut spec = Map::new();
    let tap = random.one(&[6.0, 9.0, 12.0]);
    spec.insert("tap".into(), specs::flat_or_points(random, tap, 0.8));
    spec.insert("through".into(), specs::flat_or_points(random, 10.0 / tap + 0.5, 0.9));
    dc_pass(random, &mut spec, &[json!("through"), json!("tap")]);
    common(random, &mut spec);
    spec
}

/// An amplifier, how many outputs it has, and whether it has a passive port.
fn amplifier(random: &mut Random, split: &str) -> (Map<String, Value>, usize, bool) {
    let mut spec = Map::new();
    let outputs = random.one(&[1, 1, 1, 2, 2, 3]);
    spec.insert("outputs".into(), json!(outputs));
    let gain = random.between(6.0, 15.0);
    spec.insert("gain".into(), specs::flat_or_points(random, gain, 1.0));
    if random.chance(50) {
        let db = random.between(0.2, 0.8);
        spec.insert("spread".into(), spell::db(random, db));
    }
    if random.chance(78) {
        let db = random.between(-5.0, 4.0);
        spec.insert("return_gain".into(), specs::flat_or_points(random, db, 0.4));
    }
    let noise = random.between(3.0, 8.0);
    spec.insert("noise_figure".into(), specs::flat_or_points(random, noise, 1.0));
    let most = random.between(24.0, 38.0);
    spec.insert("max_input_total".into(), spell::level(random, most));
    for (key, percent, low, high) in [("max_output_total", 40, 30.0, 45.0), ("max_return_total", 35, 40.0, 62.0)] {
        if random.chance(percent) {
            let most = random.between(low, high);
            spec.insert(key.into(), spell::level(random, most));
        }
    }
    let passive = random.chance(35);
    if passive {
        let db = random.between(1.0, 5.0);
        spec.insert("passive".into(), specs::flat_or_points(random, db, 0.6));
    }
    if random.chance(60) {
        let db = random.between(16.0, 32.0);
        spec.insert("isolation".into(), specs::flat_or_points(random, db, -3.0));
    }
    if random.chance(60) {
        let db = random.between(3.0, 12.0);
        spec.insert("network_loss".into(), specs::flat_or_points(random, db, 1.5));
    }
    if random.chance(60) {
        let other = random.one(&["42/54 MHz", "85/108 MHz"]);
        spec.insert("split".into(), json!(if random.chance(90) { split } else { other }));
    }
    let (watts, amps) = (random.between(1.2, 5.0), random.between(0.08, 0.3));
    let draw = if random.chance(65) { spell::watts(random, watts) } else { spell::amps(random, amps) };
    spec.insert("draw".into(), draw);
    let (least, most) = (random.between(7.0, 12.0), random.between(15.5, 22.0));
    spec.insert("runs_on".into(), json!([spell::volts(random, least), spell::volts(random, most)]));
    let ports: &[&str] = match random.whole(0, 9) {
        0..=2 => &["power"],
        3 | 4 => &["power", "1"],
        5 => &["1"],
        6 => &["power", "1", "in"],
        7 => &["in"],
        8 => &["1", "in"],
        _ if outputs > 1 => &["2"],
        _ => &["power", "in"],
    };
    spec.insert("dc_ports".into(), json!(ports));
    (spec, outputs, passive)
}
