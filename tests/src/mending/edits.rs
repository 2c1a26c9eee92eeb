//! Every change that the contract knows, made to a draft.

use serde_json::Value;

use super::draft::{Draft, End, Frame, Node, Port, Thing};
use crate::{
    exhaustive::ways_out,
    model::part::{Part, Through},
};

/// A line of the stock.
#[derive(Clone, Debug)]
pub(crate) struct Item {
    /// The keys that make it a part or, if it is one, a supply.
    pub(crate) keys: Value,
    /// The part, if it is one that no length is needed for.
    part: Option<Part>,
    is_supply: bool,
    pub(crate) count: usize,
    /// In hundredths.
    pub(crate) cost: u64,
}

impl Item {
    /// Reads a line of a stock.
    pub(crate) fn read(frame: &Frame, row: &Value) -> Self {
        let mut keys = row.clone();
        for key in ["count", "cost"] {
            keys.as_object_mut().expect("a table").remove(key);
        }
        let is_supply = !row["supply"].is_null();
        if is_supply {
            keys = row["supply"].clone();
        }
        let part = (!is_supply && row["cable"].is_null()).then(|| frame.part(&keys));
        let cost = (row["cost"].as_f64().unwrap_or(0.0) * 100.0).round() as u64;
        Self { keys, part, is_supply, count: row["count"].as_u64().unwrap_or(1) as usize, cost }
    }

    fn is(&self, kind: &str) -> bool {
        !self.keys[kind].is_null()
    }
}

/// The way out of a part that has a name, like `power` or `dc`.
fn way_named(part: &Part, name: &str) -> Option<usize> {
    part.ways.iter().position(|way| way.port.ends_with(&format!(".{name}")))
}

/// Whether a part is put and taken: one way out, no run of cable, and no bond.
fn is_loose(node: &Part, keys: &Value) -> bool {
    ways_out(node).count() == 1 && keys["cable"].is_null() && keys["bond"].is_null()
}

/// Every draft that is one change away.
pub(crate) fn changed(frame: &Frame, stock: &[Item], draft: &Draft) -> Vec<Draft> {
    let mut all = Vec::new();
    let left: Vec<usize> = (0..stock.len()).filter(|item| draft.taken[*item] < stock[*item].count).collect();
    for thing in draft.things() {
        if let Thing::Node(at) = thing {
            for &item in &left {
                swap(frame, stock, draft, at, item, &mut all);
                plug(stock, draft, at, item, &mut all);
            }
        }
        for &item in &left {
            put(stock, draft, thing, item, &left, &mut all);
        }
        take(draft, thing, &mut all);
        shift(draft, thing, &mut all);
    }
    all
}

/// A part for one of the stock: what hung on it goes to any of the new ways out.
fn swap(frame: &Frame, stock: &[Item], draft: &Draft, at: usize, item: usize, all: &mut Vec<Draft>) {
    let old = &draft.nodes[at];
    let mut keys = stock[item].keys.clone();
    let part = if stock[item].is("cable") && !old.keys["cable"].is_null() {
        for key in ["length", "place"] {
            if !old.keys[key].is_null() {
                keys[key] = old.keys[key].clone();
            }
        }
        frame.part(&keys)
    } else if let (Some(part), true) = (&stock[item].part, old.keys["cable"].is_null()) {
        part.clone()
    } else {
        return;
    };
    let used: Vec<(usize, Thing)> =
        (0..old.part.ways.len()).filter_map(|way| Some((way, draft.on(Some((at, way)))?))).collect();
    let mut changed = draft.clone();
    changed.taken[item] += 1;
    changed.nodes[at] = Node { part, keys, ..old.clone() };
    let direct = |way: usize| matches!(old.part.ways[way].through, Through::DcOnly);
    let (fed, signal): (Vec<_>, Vec<_>) = used.into_iter().partition(|(way, _)| direct(*way));
    for (way, thing) in fed {
        let name = old.part.ways[way].port.rsplit('.').next().unwrap_or_default().to_owned();
        let Some(to) = way_named(&changed.nodes[at].part, &name) else { return };
        changed.hang(thing, Some((at, to)));
    }
    let free: Vec<usize> = ways_out(&changed.nodes[at].part).collect();
    seat(&changed, at, &signal, &free, all);
}

/// Every way of seating what hung on a part at its new ways out.
fn seat(draft: &Draft, at: usize, signal: &[(usize, Thing)], free: &[usize], all: &mut Vec<Draft>) {
    let Some(((_, thing), rest)) = signal.split_first() else {
        all.push(draft.clone());
        return;
    };
    for &way in free {
        let mut next = draft.clone();
        next.hang(*thing, Some((at, way)));
        let free: Vec<usize> = free.iter().copied().filter(|other| *other != way).collect();
        seat(&next, at, rest, &free, all);
    }
}

/// A supply at a power port.
fn plug(stock: &[Item], draft: &Draft, at: usize, item: usize, all: &mut Vec<Draft>) {
    let Some(way) = way_named(&draft.nodes[at].part, "power") else { return };
    if stock[item].is_supply && draft.on(Some((at, way))).is_none() {
        let mut changed = draft.clone();
        changed.taken[item] += 1;
        let at = Some((at, way));
        changed.supplies.push(End { keys: stock[item].keys.clone(), at, is_there: true });
        all.push(changed);
    }
}

/// A part with one way out before something, or an inserter with a supply.
fn put(stock: &[Item], draft: &Draft, before: Thing, item: usize, left: &[usize], all: &mut Vec<Draft>) {
    let port: Port = draft.at(before);
    let Some(part) = stock[item].part.as_ref().filter(|part| is_loose(part, &stock[item].keys)) else { return };
    if draft.is_dc_only(port) || matches!(before, Thing::Supply(_)) {
        return;
    }
    let mut changed = draft.clone();
    changed.taken[item] += 1;
    let number = changed.nodes.len();
    let keys = stock[item].keys.clone();
    changed.nodes.push(Node { part: part.clone(), keys, at: port, is_there: true });
    let way = ways_out(part).next().expect("a way out");
    changed.hang(before, Some((number, way)));
    if !stock[item].is("inserter") {
        all.push(changed);
        return;
    }
    let way = way_named(part, "dc").expect("an inserter");
    for &supply in left.iter().filter(|supply| stock[**supply].is_supply) {
        let mut fed = changed.clone();
        fed.taken[supply] += 1;
        fed.supplies.push(End { keys: stock[supply].keys.clone(), at: Some((number, way)), is_there: true });
        all.push(fed);
    }
}

/// Away with it.
fn take(draft: &Draft, thing: Thing, all: &mut Vec<Draft>) {
    let mut changed = draft.clone();
    match thing {
        Thing::Outlet(_) => return,
        Thing::Supply(at) => changed.supplies[at].is_there = false,
        Thing::Node(at) => {
            let node = &draft.nodes[at];
            let fed = (0..node.part.ways.len()).any(|way| {
                matches!(node.part.ways[way].through, Through::DcOnly) && draft.on(Some((at, way))).is_some()
            });
            if fed || !is_loose(&node.part, &node.keys) {
                return;
            }
            let way = ways_out(&node.part).next().expect("a way out");
            changed.nodes[at].is_there = false;
            if let Some(below) = draft.on(Some((at, way))) {
                changed.hang(below, node.at);
            }
        }
    }
    all.push(changed);
}

/// What hangs on one port to a free one.
fn shift(draft: &Draft, thing: Thing, all: &mut Vec<Draft>) {
    let from = draft.at(thing);
    let wants_dc = matches!(thing, Thing::Supply(_)) || draft.is_dc_only(from);
    for (at, node) in draft.nodes.iter().enumerate().filter(|(_, node)| node.is_there) {
        for way in 0..node.part.ways.len() {
            let to = Some((at, way));
            let within = matches!(thing, Thing::Node(moved) if draft.is_behind(to, moved));
            if within || draft.is_dc_only(to) != wants_dc || draft.on(to).is_some() {
                continue;
            }
            let mut changed = draft.clone();
            changed.hang(thing, to);
            all.push(changed);
        }
    }
}
