//! Random homes, valid in all that the contract asks of a premises.

mod amplifiers;
mod grow;
pub(crate) mod random;
mod readings;
pub(crate) mod rules;
pub(crate) mod specs;
pub(crate) mod spell;

use serde_json::{Value, json};

use grow::Grower;
pub use random::Random;
pub use readings::{Visit, visit};
use rules::{PLANS, Plan};

/// Most outlets of a home; what is open beyond them stays open or is terminated.
const OUTLETS: usize = 20;

/// A random home of 3 to some 40 parts, the same for the same seed.
///
/// Every spec it uses stands in it, and every limit.
#[must_use]
pub fn home(seed: u64) -> Value {
    let mut random = Random::new(seed);
    let plan: Plan = random.one(&PLANS);
    let (service, first, last) = rules::service(&mut random, plan);
    let entry = rules::entry(&mut random, plan, first, last);
    let (climate, limits) = (rules::climate(&mut random), rules::limits(&mut random));
    let targets = rules::targets(&mut random);
    let band = random.one(&[(1125.0, 1675.0), (1125.0, 1675.0), (1000.0, 1500.0), (850.0, 1250.0)]);
    let network = random.chance(60).then_some(band);
    let wanted = if random.chance(40) { random.whole(3, 10) } else { random.whole(8, 40) };
    let mut grower = Grower::new(random, plan.split, wanted);
    grower.reflects = network.map(|(low, high)| {
        let narrow = grower.random.chance(20);
        (low, if narrow { high - 200.0 } else { high })
    });
    grower.grow();
    let outlets = outlets(&mut grower);
    let network = network.map(|band| home_network(&mut grower.random, band, &outlets));
    let Grower { mut random, mut parts, supplies, specs, .. } = grower;
    if random.chance(50) {
        random.shuffle(&mut parts);
    }
    let mut home = json!({
        "format": 1, "name": format!("home {seed}"), "service": service, "entry": entry,
        "part": parts, "outlet": outlets, "spec": specs, "limits": limits,
    });
    if !supplies.is_empty() {
        home["supply"] = Value::from(supplies);
    }
    for (key, table) in [("climate", climate), ("target", targets), ("home_network", network)] {
        if let Some(table) = table {
            home[key] = table;
        }
    }
    home
}

/// Outlets on the open ports; some ports stay open.
fn outlets(grower: &mut Grower) -> Vec<Value> {
    let mut outlets: Vec<Value> = Vec::new();
    let mut open = std::mem::take(&mut grower.open);
    grower.random.shuffle(&mut open);
    for port in open {
        let needed = outlets.is_empty();
        if !needed && (outlets.len() >= OUTLETS || grower.random.chance(15)) {
            continue;
        }
        let kinds = ["modem", "voice-modem", "set-top", "tv", "modem", "tv", "unused"];
        let kinds = if needed { &kinds[..6] } else { &kinds[..] };
        let device = grower.random.one(kinds);
        let id = grower.id(device);
        let mut row = json!({"id": id, "after": port, "device": device});
        if device.ends_with("modem") && grower.random.chance(30) {
            row["lifeline"] = json!(grower.random.chance(90));
        }
        outlets.push(row);
    }
    outlets
}

/// A home network among some of the outlets with a device.
fn home_network(random: &mut Random, band: (f64, f64), outlets: &[Value]) -> Value {
    let with_device = outlets.iter().filter(|outlet| outlet["device"] != "unused");
    let mut ids: Vec<Value> = with_device.map(|outlet| outlet["id"].clone()).collect();
    random.shuffle(&mut ids);
    let fewest = usize::from(random.chance(95));
    ids.truncate(random.whole(fewest, 5));
    let most = random.between(38.0, 75.0);
    json!({
        "band": spell::band(random, band.0, band.1), "members": ids, "max_loss": spell::db(random, most),
    })
}

/// A premises as TOML.
///
/// # Panics
///
/// Where it holds a null, which TOML has not.
#[must_use]
pub fn to_toml(premises: &Value) -> String {
    toml::to_string(premises).expect("a premises without nulls")
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeMap;

    use super::*;
    use crate::model::{EDGE, work_out};

    /// Every finding of the contract.
    const CODES: [&str; 37] = [
        "forward-low",
        "forward-high",
        "total-high",
        "tilt-high",
        "cnr-low",
        "transmit-high",
        "transmit-low",
        "transmit-spread",
        "no-return",
        "amplifier-overdriven",
        "output-overdriven",
        "return-overdriven",
        "split-mismatch",
        "out-of-band",
        "amplifiers-in-series",
        "feed-starved",
        "feed-over-voltage",
        "feed-over-current",
        "feed-collapsed",
        "amplifier-unpowered",
        "supply-idle",
        "two-supplies",
        "dc-at-device",
        "dc-leaves-home",
        "lifeline-exposed",
        "neighbour-transmit",
        "home-link-weak",
        "bands-overlap",
        "entry-filter-missing",
        "open-port",
        "bond-missing",
        "bond-long",
        "bond-thin",
        "beyond-readings",
        "beyond-table",
        "pass",
        "marginal",
    ];

    #[test]
    fn every_finding_of_the_contract_arises() {
        let mut counts: BTreeMap<String, usize> = BTreeMap::new();
        for seed in 0..2000 {
            let home = home(seed);
            let (report, nearest) = work_out(&home);
            let edge = if nearest < EDGE { "on the edge" } else { "clear" };
            *counts.entry(edge.to_owned()).or_default() += 1;
            *counts.entry(report["verdict"].as_str().expect("a verdict").to_owned()).or_default() += 1;
            for finding in report["findings"].as_array().expect("findings") {
                let code = finding["code"].as_str().expect("a code");
                *counts.entry(code.to_owned()).or_default() += 1;
            }
        }
        println!("{counts:#?}");
        for code in CODES {
            assert!(counts.get(code).is_some_and(|count| *count >= 5), "too few homes with {code}");
        }
        assert!(counts["on the edge"] < 200, "too many homes on the edge");
    }

    #[test]
    fn toml_holds_the_same_as_json() {
        for seed in 0..300 {
            let home = home(seed);
            let back: Value = toml::from_str(&to_toml(&home)).expect("what was written");
            assert_eq!(back, home);
        }
    }
}
