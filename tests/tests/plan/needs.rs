//! Random needs that shrink: whatever a need can do without is taken away as long as it still shows what is wrong.

use std::fmt;

use legwork_tests::{deeply, need, to_toml};
use proptest::collection::vec;
use proptest::prelude::*;
use serde_json::{Value, json};

/// A need, and the seed that it was made from.
#[derive(Clone)]
pub(crate) struct Case {
    pub(crate) seed: u64,
    pub(crate) need: Value,
}

impl fmt::Debug for Case {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(out, "what is left of need {}:\n{}", self.seed, to_toml(&self.need))
    }
}

/// More than any need has of what can be taken away.
const CUTS: usize = 96;

/// A whole need; where it fails, one thing after the other is taken away from it.
pub(crate) fn case(seed: u64) -> impl Strategy<Value = Case> {
    // A flag that is always set shrinks to one that is not.
    let keep = vec(prop::bool::weighted(1.0), CUTS);
    keep.prop_map(move |keep| Case { seed, need: less(need(seed), &mut keep.into_iter()) })
}

/// A need with only what is to be kept: the next flag tells of the next thing that it could do without.
fn less(mut need: Value, keep: &mut impl Iterator<Item = bool>) -> Value {
    let mut keeps = || keep.next().unwrap_or(true);
    for (table, key) in
        [("", "home_network"), ("", "target"), ("", "climate"), ("/panel", "lead_in"), ("/entry", "cnr")]
    {
        drop_unless(&mut keeps, need.pointer_mut(table), key);
    }
    retain(&mut need["outlet"], &mut keeps);
    retain(&mut need["stock"]["item"], &mut keeps);
    for item in need["stock"]["item"].as_array_mut().into_iter().flatten() {
        if item["count"].as_u64() > Some(1) && !keeps() {
            item["count"] = json!(1);
        }
    }
    for limit in entries(need.get_mut("limits")).flat_map(|limits| entries(Some(limits))) {
        if limit != "none" && !keeps() {
            *limit = json!("none");
        }
    }
    let kinds = ["splitter", "coupler", "amplifier", "equalizer", "filter", "inserter", "cable"];
    for kind in kinds {
        for spec in entries(need.pointer_mut(&format!("/spec/{kind}"))) {
            for key in ["spread", "band", "isolation", "max_output_total", "max_return_total", "passive"] {
                drop_unless(&mut keeps, Some(&mut *spec), key);
            }
        }
    }
    leave_the_network(&mut need);
    need
}

/// The values of a table; of what is not there, none.
fn entries(table: Option<&mut Value>) -> impl Iterator<Item = &mut Value> {
    table.and_then(Value::as_object_mut).into_iter().flat_map(|table| table.values_mut())
}

/// Takes a key away that is there and is not to be kept.
fn drop_unless(keeps: &mut impl FnMut() -> bool, table: Option<&mut Value>, key: &str) {
    let table = table.and_then(Value::as_object_mut).filter(|table| table.contains_key(key));
    if let Some(table) = table
        && !keeps()
    {
        table.remove(key);
    }
}

/// Keeps some rows of a list, one at least.
fn retain(rows: &mut Value, keeps: &mut impl FnMut() -> bool) {
    let rows = rows.as_array_mut().expect("a list");
    let mut left = rows.len();
    rows.retain(|_| {
        let stays = left == 1 || keeps();
        left -= usize::from(!stays);
        stays
    });
}

/// Outlets that are no more are no members of the home network; of one member there is none.
fn leave_the_network(need: &mut Value) {
    let outlets: Vec<Value> = need["outlet"].as_array().expect("outlets").iter().map(|row| row["id"].clone()).collect();
    let Some(members) = need.pointer_mut("/home_network/members").and_then(Value::as_array_mut) else { return };
    members.retain(|member| outlets.contains(member));
    if members.len() < 2 {
        drop_unless(&mut || false, Some(need), "home_network");
    }
}

#[test]
fn a_need_shrinks_to_an_outlet_and_a_part_that_can_still_be_read() {
    for seed in 0..200 {
        let (whole, least) = (need(seed), less(need(seed), &mut std::iter::repeat(false)));
        assert_eq!(less(need(seed), &mut std::iter::repeat(true)), whole);
        assert_eq!(least["outlet"].as_array().map(Vec::len), Some(1));
        assert_eq!(least["stock"]["item"].as_array().map(Vec::len), Some(1));
        let mut asked = 0;
        less(whole, &mut std::iter::from_fn(|| (asked += 1, Some(true)).1));
        assert!(asked <= CUTS, "need {seed} has {asked} things to take away");
        let text = to_toml(&least);
        let source = legwork_file::Source::new("need.toml", text.as_bytes()).unwrap_or_else(|_| panic!("{text}"));
        let looked = |source| legwork_file::plan::plan(source, &mut |_| false).map(drop);
        let read = deeply(legwork_file::plan::STACK, || looked(&source));
        read.unwrap_or_else(|refusal| panic!("{}", refusal.render(false)));
    }
}
