//! Needs of which random ones are seldom: amplifiers fed from afar, and twice the outlets and parts.

use legwork_tests::need;
use serde_json::{Value, json};

/// The list at a place, empty where there is none.
fn rows(of: &Value, place: &str) -> Vec<Value> {
    of.pointer(place).and_then(Value::as_array).cloned().unwrap_or_default()
}

/// The specs of a kind that a need brings with it.
fn specs<'n>(need: &'n mut Value, kind: &str) -> impl Iterator<Item = &'n mut Value> {
    need["spec"].get_mut(kind).and_then(Value::as_object_mut).into_iter().flat_map(serde_json::Map::values_mut)
}

/// A random need with no mains at the panel, with mains at some outlets, an inserter in the stock, amplifiers that take
/// DC over the coax, and splitters of which some legs let it pass. [`None`] where the stock has no amplifier or no supply.
pub(crate) fn distant(seed: u64) -> Option<Value> {
    let mut need = need(seed);
    let mut items = rows(&need, "/stock/item");
    let has = |kind: &str| items.iter().any(|item| !item[kind].is_null());
    if !has("amplifier") || !has("supply") {
        return None;
    }
    if !has("inserter") {
        items.push(json!({"inserter": "inserter", "count": 1 + seed % 2, "cost": 4}));
        need["stock"]["item"] = json!(items);
    }
    need["panel"]["mains"] = json!(false);
    for (index, outlet) in need["outlet"].as_array_mut()?.iter_mut().enumerate() {
        outlet["mains"] = json!((seed >> (index % 3)) & 1 == 0);
    }
    for (index, splitter) in specs(&mut need, "splitter").enumerate() {
        let passes = (1..=splitter["legs"].as_u64()?).filter(|leg| !(seed + index as u64 + leg).is_multiple_of(3));
        splitter["dc_pass"] = passes.collect();
        splitter["dc_ohms"] = json!("0.1 ohm");
    }
    let ports = [json!(["1"]), json!(["1", "in"]), json!(["in"]), json!(["power", "1"])];
    for amplifier in specs(&mut need, "amplifier") {
        amplifier["dc_ports"] = ports[seed as usize % ports.len()].clone();
    }
    Some(need)
}

/// The outlets of two random needs, to be served from the parts of both.
pub(crate) fn two(seed: u64) -> Value {
    let (mut need, other) = (need(seed), need(seed + 1000));
    let mut outlets = rows(&need, "/outlet");
    for mut outlet in rows(&other, "/outlet") {
        outlet["id"] = json!(format!("further {}", outlet["id"].as_str().unwrap_or_default()));
        outlets.push(outlet);
    }
    let mut items = rows(&need, "/stock/item");
    for mut item in rows(&other, "/stock/item") {
        for (kind, name) in item.as_object_mut().into_iter().flatten() {
            if let Some(own) = name.as_str().filter(|name| name.starts_with("own ")) {
                let new = format!("{own} too");
                need["spec"][kind][&new] = other["spec"][kind][own].clone();
                *name = json!(new);
            }
        }
        items.push(item);
    }
    (need["outlet"], need["stock"]["item"]) = (json!(outlets), json!(items));
    // What one home was made for is too little for two.
    if !seed.is_multiple_of(4) {
        need.as_object_mut().expect("a table").remove("limits");
    }
    need
}
