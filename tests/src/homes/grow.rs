//! The tree: parts on open ports, until there are enough.

use serde_json::{Map, Value, json};

use super::{amplifiers, random::Random, specs, spell};

/// Rooms and corners that ids are made of.
const PLACES: [&str; 12] = [
    "study",
    "den",
    "loft",
    "porch",
    "garage",
    "hall",
    "east wing",
    "kitchen",
    "attic",
    "cellar",
    "guest room",
    "küche",
];

/// A home while it grows.
#[derive(Debug)]
pub(crate) struct Grower {
    pub(crate) random: Random,
    pub(crate) parts: Vec<Value>,
    pub(crate) supplies: Vec<Value>,
    /// Kind, then name, then spec.
    pub(crate) specs: Map<String, Value>,
    /// Ports that carry the signal and have nothing on them yet.
    pub(crate) open: Vec<String>,
    pub(crate) split: &'static str,
    /// The band that a reflecting filter reflects.
    pub(crate) reflects: Option<(f64, f64)>,
    wanted: usize,
    numbers: usize,
    amplifiers: usize,
}

impl Grower {
    /// A home of so many parts, none of which is there yet.
    pub(crate) fn new(random: Random, split: &'static str, wanted: usize) -> Self {
        Self {
            random,
            parts: Vec::new(),
            supplies: Vec::new(),
            specs: Map::new(),
            open: vec!["entry".to_owned()],
            split,
            reflects: None,
            wanted,
            numbers: 0,
            amplifiers: 0,
        }
    }

    /// A new id.
    pub(crate) fn id(&mut self, what: &str) -> String {
        self.numbers += 1;
        let place = self.random.one(&PLACES);
        format!("{place} {what} {}", self.numbers)
    }

    /// Whether another part may still be added.
    fn has_room(&self) -> bool {
        self.parts.len() < self.wanted
    }

    /// The name of a spec of a kind: an old one, or that of the one given.
    fn spec(&mut self, kind: &str, make: impl Fn(&mut Random) -> Map<String, Value>) -> String {
        let count = self.specs.get(kind).and_then(Value::as_object).map_or(0, Map::len);
        if count > 0 && self.random.chance(55) {
            return format!("{kind}-kind-{}", self.random.whole(1, count));
        }
        let spec = make(&mut self.random);
        let name = format!("{kind}-kind-{}", count + 1);
        let specs = self.specs.entry(kind).or_insert_with(|| json!({}));
        specs[&name] = Value::Object(spec);
        name
    }

    /// Adds a part of a kind and spec on a port; gives its id.
    fn part(&mut self, kind: &str, after: &str, spec: &str) -> String {
        let id = self.id(kind);
        self.parts.push(json!({"id": id, "after": after, kind: spec}));
        id
    }

    /// Adds a cable; gives its port.
    fn cable(&mut self, after: &str, longest: f64) -> String {
        let spec = self.spec("cable", specs::cable);
        let id = self.part("cable", after, &spec);
        let feet = self.random.between(3.0, longest);
        let row = self.parts.len() - 1;
        self.parts[row]["length"] = spell::length(&mut self.random, feet);
        if self.random.chance(50) {
            self.parts[row]["place"] = json!(self.random.one(&["indoor", "outdoor", "attic"]));
        }
        id
    }

    /// Adds parts until there are enough.
    pub(crate) fn grow(&mut self) {
        if self.reflects.is_some() && self.random.chance(60) {
            let after = self.open.remove(0);
            self.filter(&after, true);
        }
        while self.has_room() && !self.open.is_empty() {
            let place = self.random.whole(0, self.open.len() - 1);
            let after = self.open.swap_remove(place);
            match self.random.whole(0, 99) {
                0..=29 => {
                    let port = self.cable(&after, 90.0);
                    self.open.push(port);
                }
                30..=47 => self.splitter(&after),
                48..=55 => self.coupler(&after),
                56..=61 => self.pad(&after),
                62..=66 => self.one_way("equalizer", &after, specs::equalizer),
                67..=70 => self.filter(&after, false),
                71..=81 if self.amplifiers < 3 => self.amplifier(&after),
                82..=84 => self.inserter(&after),
                85..=89 => self.bond(&after),
                _ => self.one_way("joint", &after, specs::small),
            }
        }
    }

    /// Adds a part with one way out and no more to say.
    fn one_way(&mut self, kind: &str, after: &str, make: fn(&mut Random) -> Map<String, Value>) {
        let spec = self.spec(kind, make);
        let id = self.part(kind, after, &spec);
        self.open.push(id);
    }

    /// Adds a pad.
    fn pad(&mut self, after: &str) {
        let id = self.id("pad");
        let db = self.random.between(1.0, 10.0);
        let db = spell::db(&mut self.random, db);
        self.parts.push(json!({"id": id, "after": after, "pad": db}));
        self.open.push(id);
    }

    /// Adds a filter.
    fn filter(&mut self, after: &str, reflects: bool) {
        let band = self.reflects.filter(|_| reflects || self.random.chance(50));
        let spec = self.spec("filter", |random| specs::filter(random, band));
        let id = self.part("filter", after, &spec);
        self.open.push(id);
    }

    /// Adds a bond.
    fn bond(&mut self, after: &str) {
        let spec = self.spec("bond", specs::small);
        let id = self.part("bond", after, &spec);
        let row = self.parts.len() - 1;
        if self.random.chance(70) {
            let gauge = self.random.one(&["14 AWG", "14 AWG", "12 AWG", "10AWG", "16 AWG"]);
            self.parts[row]["conductor"] = json!(gauge);
        }
        if self.random.chance(70) {
            let feet = self.random.between(5.0, 28.0);
            let length = spell::length(&mut self.random, feet);
            let on_the_limit = json!(self.random.one(&["20 ft", "240 in", "6.096 m"]));
            let exact = self.random.chance(15);
            self.parts[row]["conductor_length"] = if exact { on_the_limit } else { length };
        }
        self.open.push(id);
    }

    /// Adds a splitter.
    fn splitter(&mut self, after: &str) {
        let spec = self.spec("splitter", specs::splitter);
        let id = self.part("splitter", after, &spec);
        let legs = self.specs["splitter"][&spec]["legs"].as_u64().unwrap_or(0);
        let ports: Vec<String> = (1..=legs).map(|leg| leg.to_string()).collect();
        self.ends(&id, &ports);
    }

    /// Adds a coupler.
    fn coupler(&mut self, after: &str) {
        let spec = self.spec("coupler", specs::coupler);
        let id = self.part("coupler", after, &spec);
        self.ends(&id, &["through".to_owned(), "tap".to_owned()]);
    }

    /// Opens the ways out of the newest part, or puts terminators on some.
    fn ends(&mut self, id: &str, names: &[String]) {
        let mut terminated = Vec::new();
        for (at, name) in names.iter().enumerate() {
            let last = at + 1 == names.len() && self.open.is_empty();
            if !last && self.random.chance(12) {
                let number = name.parse::<u64>().ok().filter(|_| self.random.chance(70));
                terminated.push(number.map_or_else(|| json!(name), |number| json!(number)));
            } else {
                self.open.push(format!("{id}.{name}"));
            }
        }
        if !terminated.is_empty() {
            let row = self.parts.len() - 1;
            self.parts[row]["terminated"] = Value::from(terminated);
        }
    }

    /// Adds an inserter whose signal goes on, with or without a supply.
    fn inserter(&mut self, after: &str) {
        let spec = self.spec("inserter", specs::small);
        let id = self.part("inserter", after, &spec);
        self.open.push(format!("{id}.rf"));
        if self.random.chance(80) {
            self.supply(format!("{id}.dc"));
        }
    }

    /// Adds an amplifier, and mostly something that powers it.
    fn amplifier(&mut self, after: &str) {
        self.amplifiers += 1;
        let split = self.split;
        let spec = self.spec("amplifier", |random| amplifiers::amplifier(random, split));
        let table = self.specs["amplifier"][&spec].clone();
        let has = |name: &str| table["dc_ports"].as_array().is_some_and(|ports| ports.iter().any(|port| port == name));
        let mut after = after.to_owned();
        if has("in") && self.random.chance(60) && self.has_room() {
            after = self.common_leg(&after);
        }
        let id = self.part("amplifier", &after, &spec);
        let outputs = table["outputs"].as_u64().unwrap_or(0);
        let mut names: Vec<String> = (1..=outputs).map(|output| output.to_string()).collect();
        if !table["passive"].is_null() {
            names.push("passive".to_owned());
        }
        self.ends(&id, &names);
        if has("power") && self.random.chance(70) {
            self.supply(format!("{id}.power"));
        }
        let first = format!("{id}.1");
        let place = self.open.iter().position(|port| *port == first);
        if let Some(place) = place.filter(|_| has("1") && self.random.chance(65)) {
            self.open.swap_remove(place);
            let run = self.cable(&first, 60.0);
            self.inserter(&run);
        }
    }

    /// A splitter that passes direct current from an inserter on its other leg; gives the free leg.
    fn common_leg(&mut self, after: &str) -> String {
        let mut spec = specs::splitter(&mut self.random);
        spec.remove("leg_loss");
        let flat = json!({"legs": 2, "loss": "3.5 dB", "dc_pass": [1, 2], "dc_ohms": "0.1 ohm"});
        spec.extend(flat.as_object().cloned().unwrap_or_default());
        let count = self.specs.get("splitter").and_then(Value::as_object).map_or(0, Map::len);
        let name = format!("splitter-kind-{}", count + 1);
        let specs = self.specs.entry("splitter").or_insert_with(|| json!({}));
        specs[&name] = Value::Object(spec);
        let after = if self.random.chance(60) {
            let id = self.id("pad");
            self.parts.push(json!({"id": id, "after": after, "pad": "1 dB"}));
            id
        } else {
            after.to_owned()
        };
        let id = self.part("splitter", &after, &name);
        self.inserter(&format!("{id}.2"));
        format!("{id}.1")
    }

    /// Adds a supply on a port, perhaps at the end of a cable and a joint.
    fn supply(&mut self, after: String) {
        let mut after = after;
        if self.random.chance(40) {
            after = self.cable(&after, 80.0);
            if self.random.chance(30) {
                let spec = self.spec("joint", specs::small);
                after = self.part("joint", &after, &spec);
            }
            if self.random.chance(5) {
                return;
            }
        }
        let id = self.id("supply");
        let random = &mut self.random;
        let volts = random.between(11.0, 24.0);
        let amps = random.between(0.15, 1.2);
        let mut row = json!({
            "id": id, "after": after,
            "volts": spell::volts(random, volts), "amps": spell::amps(random, amps),
        });
        if random.chance(60) {
            let percent = random.between(1.0, 10.0);
            row["spread"] = spell::percent(random, percent);
        }
        if random.chance(60) {
            let most = if random.chance(20) { 25.0 } else { 2.0 };
            let ohms = random.between(0.05, most);
            row["source_ohms"] = spell::ohms(random, ohms);
        }
        self.supplies.push(row);
    }
}
