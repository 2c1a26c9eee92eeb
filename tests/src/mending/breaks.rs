//! Random homes that were good once.

use serde_json::{Value, json};

use super::{
    draft::{Draft, Frame},
    edits::{Item, changed},
};
use crate::{Answer, best, homes::random::Random, need, with_built_in};

/// Most plans that are tried for a home to begin with.
const PLANS: usize = 3_000;

/// A home with something wrong, and a stock: a need's best plan after one random change or two. None where the need of
/// that seed has no plan. Specs that the program has built in are named and not given.
#[must_use]
pub fn broken(seed: u64) -> Option<(Value, Value)> {
    let need = need(seed);
    let Answer::Best(plan) = best(&with_built_in(&need), PLANS) else { return None };
    let mut random = Random::new(seed ^ 0x6d65_6e64);
    let frame = Frame::read(&plan.premises);
    let rows = need["stock"]["item"].as_array().expect("items");
    let items: Vec<Item> = rows.iter().map(|row| Item::read(&frame, row)).collect();
    let mut draft = Draft::read(&frame, items.len());
    for _ in 0..random.one(&[1, 1, 2, 2, 3]) {
        let mut all = changed(&frame, &items, &draft);
        if !all.is_empty() {
            draft = all.swap_remove(random.whole(0, all.len() - 1));
        }
    }
    let mut premises = draft.premises(&frame);
    premises["spec"] = need["spec"].clone();
    let mut stock = need["stock"].clone();
    let items = stock["item"].as_array_mut().expect("items");
    random.shuffle(items);
    items.truncate(random.whole(2, 5));
    for item in items.iter_mut() {
        if random.chance(50) {
            item["count"] = json!(1);
        }
    }
    if random.chance(15) {
        items.push(json!({"cable": random.one(&["thin", "thick"]), "count": 1, "cost": 8.0}));
    }
    Some((premises, stock))
}
