//! Random needs, small enough that every plan of them can be tried.

mod built_in;
mod limits;
mod planted;
mod service;
mod stock;

use serde_json::{Value, json};

use crate::{
    exhaustive::Need,
    homes::{random::Random, rules, spell},
    model,
};

pub use built_in::with_built_in;

/// A random need, the same for the same seed. Specs that the program has built in are named and not given:
/// [`with_built_in`] adds them.
///
/// Most have limits around the figures of one plan from their stock, which may not be the best; some of these are
/// changed afterwards, so that often nothing serves.
#[must_use]
pub fn need(seed: u64) -> Value {
    let mut random = Random::new(seed ^ 0x6e65_6564);
    let band = random.one(&service::BANDS);
    let outlets = random.one(&[1, 2, 2, 3, 3, 3, 3, 4, 4, 5]);
    let network = outlets > 1 && random.chance(25);
    let stock = stock::stock(&mut random, outlets, band.split, network);
    let mut panel = json!({"mains": random.chance(70)});
    if random.chance(60) {
        panel["lead_in"] = service::run(&mut random);
    }
    let margin = random.one(&[0.0, 0.0, 0.5, 1.0, 1.0, 2.0, 3.0]);
    let cables = service::cables(&mut random);
    let mut need = json!({
        "format": 1, "name": format!("need {seed}"), "service": service::service(&mut random, band),
        "entry": service::entry(&mut random, band), "panel": panel,
        "outlet": service::outlets(&mut random, outlets),
        "stock": {"margin": spell::db(&mut random, margin), "item": stock.items},
    });
    need["spec"] = stock.specs_with("cable", cables);
    if let Some(climate) = rules::climate(&mut random) {
        need["climate"] = climate;
    }
    if network {
        need["home_network"] = home_network(&mut random, &need["outlet"]);
    }
    if !random.chance(88) || !set_limits(&mut random, &mut need, margin) {
        need["limits"] = limits::anywhere(&mut random);
        if network {
            let most = random.between(35.0, 60.0);
            need["home_network"]["max_loss"] = spell::db(&mut random, most);
        }
    }
    if random.chance(8) {
        need["target"] = limits::targets(&mut random);
    }
    if random.chance(35) {
        change(&mut random, &mut need, margin);
    }
    need
}

/// A home network among two outlets or more.
fn home_network(random: &mut Random, outlets: &Value) -> Value {
    let mut ids: Vec<Value> = outlets.as_array().expect("outlets").iter().map(|row| row["id"].clone()).collect();
    random.shuffle(&mut ids);
    ids.truncate(random.whole(2, ids.len()));
    let band = random.one(&[(1125.0, 1675.0), (1125.0, 1500.0)]);
    json!({"band": spell::band(random, band.0, band.1), "members": ids})
}

/// Sets limits around some plan; false where none was found.
fn set_limits(random: &mut Random, need: &mut Value, margin: f64) -> bool {
    let mut probe = with_built_in(need);
    let none = |_: &str| json!({"neighbour": "0 dBmV"});
    probe["limits"] = json!({
        "modem": none("modem"), "voice-modem": none("voice-modem"), "set-top": none("set-top"), "tv": none("tv"),
    });
    if !need["home_network"].is_null() {
        probe["home_network"]["max_loss"] = json!("0 dB");
    }
    let probe = Need::read(&probe);
    let Some(plan) = planted::planted(random, &probe) else { return false };
    let judged = model::judge(&plan.home(&probe));
    // With a limit of nothing, what arrives is what the limit is exceeded by.
    let beyond = |code: &'static str| judged.margins.iter().filter(move |margin| margin.code == code);
    let arrives: Vec<(String, f64)> =
        beyond("neighbour-transmit").map(|margin| (margin.at.clone(), -margin.db)).collect();
    let report = model::check(&plan.premises(&probe));
    need["limits"] = limits::around(random, &report, &arrives, margin);
    if !need["home_network"].is_null() {
        let lost = beyond("home-link-weak").map(|margin| -margin.db).fold(0.0, f64::max);
        let most = lost + margin + random.between(0.1, 4.0);
        need["home_network"]["max_loss"] = json!(format!("{most:.1} dB"));
    }
    true
}

/// Changes one thing about a need.
fn change(random: &mut Random, need: &mut Value, margin: f64) {
    let outlets = need["outlet"].as_array().expect("outlets").len();
    let outlet = random.whole(0, outlets - 1);
    match random.whole(0, 7) {
        0 | 1 => {
            let more = margin + random.between(0.3, 2.0);
            need["stock"]["margin"] = json!(format!("{more:.1} dB"));
        }
        2 => {
            let items = need["stock"]["item"].as_array_mut().expect("items");
            if items.len() > 2 {
                items.remove(random.whole(0, items.len() - 1));
            }
        }
        3 => need["outlet"][outlet]["run"] = service::run(random),
        4 => need["panel"]["mains"] = json!(random.chance(30)),
        5 => need["outlet"][outlet]["lifeline"] = json!(true),
        6 => {
            let all = limits::anywhere(random);
            let device = need["outlet"][outlet]["device"].as_str().expect("a device").to_owned();
            need["limits"][&device] = all[&device].clone();
        }
        _ => need["panel"]["lead_in"] = service::run(random),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::to_toml;

    #[test]
    fn a_need_is_the_same_for_its_seed_and_in_toml() {
        for seed in 0..200 {
            let once = need(seed);
            assert_eq!(once, need(seed));
            let back: Value = toml::from_str(&to_toml(&once)).expect("what was written");
            assert_eq!(back, once);
        }
    }

    #[test]
    fn what_a_need_may_name_is_in_some_stock() {
        let kinds =
            ["splitter", "coupler", "pad", "equalizer", "filter", "amplifier", "inserter", "supply", "joint", "cable"];
        let mut counts = [0; 10];
        for seed in 0..300 {
            for item in need(seed)["stock"]["item"].as_array().expect("items") {
                let kind = kinds.iter().position(|kind| !item[*kind].is_null());
                counts[kind.expect("a kind")] += 1;
            }
        }
        assert!(counts.iter().all(|count| *count >= 5), "{counts:?}");
    }
}
