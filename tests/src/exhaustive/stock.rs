//! A need as the search sees it: what is wanted, and what there is to do it with.

use std::collections::HashMap;

use serde_json::{Value, json};

use crate::model::{
    part::{Part, Through},
    quantity::{self, text},
    tree::{self, Home, Outlet, Supply},
};

/// The id that templates of parts go by until they are placed.
const UNPLACED: &str = "?";

/// What an item of the stock can become in a plan.
#[derive(Clone, Debug)]
pub(crate) enum What {
    /// A part of the tree at the panel.
    Part(Part),
    /// An inserter, which goes before an outlet alone.
    Inserter(Part),
    /// A plug-in supply.
    Supply(Supply),
    /// Nothing that a plan is built from: cable, joint, bond.
    Other,
}

/// A line of the stock.
#[derive(Clone, Debug)]
pub(crate) struct Item {
    pub(crate) what: What,
    pub(crate) count: usize,
    /// In hundredths.
    pub(crate) cost: u64,
    /// The keys that make it a part of a premises file, or a supply.
    pub(crate) row: Value,
}

impl Item {
    /// The part that goes into the tree, if it is one.
    pub(crate) fn part(&self) -> Option<&Part> {
        match &self.what {
            What::Part(part) => Some(part),
            _ => None,
        }
    }

    /// Whether it is an amplifier.
    pub(crate) fn is_amplifier(&self) -> bool {
        self.part().is_some_and(|part| part.amplifier.is_some())
    }
}

/// An outlet and its run.
#[derive(Clone, Debug)]
pub(crate) struct Wanted {
    pub(crate) outlet: Outlet,
    pub(crate) run: Part,
    pub(crate) run_row: Value,
    pub(crate) mains: bool,
}

/// A need file, read.
#[derive(Clone, Debug)]
pub(crate) struct Need {
    /// The home without parts, outlets and supplies.
    pub(crate) bare: Home,
    pub(crate) lead_in: Option<(Part, Value)>,
    pub(crate) mains: bool,
    pub(crate) outlets: Vec<Wanted>,
    pub(crate) items: Vec<Item>,
    /// Wanted between every extreme and its limit, in dB.
    pub(crate) margin: f64,
    /// The ids of the home network's members.
    pub(crate) members: Option<Value>,
    whole: Value,
}

/// The ways out of a part that carry the signal.
pub(crate) fn ways_out(part: &Part) -> impl Iterator<Item = usize> {
    let carries = |way: &usize| !matches!(part.ways[*way].through, Through::DcOnly);
    (0..part.ways.len()).filter(carries)
}

impl Need {
    /// Reads a valid need that holds every spec it names.
    pub(crate) fn read(need: &Value) -> Self {
        let mut bare = need.clone();
        let members = need["home_network"].get("members").cloned();
        for key in ["outlet", "panel", "stock"] {
            bare.as_object_mut().expect("a table").remove(key);
        }
        if members.is_some() {
            bare["home_network"]["members"] = json!([]);
        }
        let bare = Home::read(&bare);
        let climates = tree::climates(need);
        let part = |keys: &Value| template(keys, &need["spec"], &climates);
        let lead_in = Some(&need["panel"]["lead_in"]).filter(|lead_in| !lead_in.is_null());
        let outlets = need["outlet"].as_array().expect("outlets").iter().map(|row| Wanted {
            outlet: Outlet {
                id: text(&row["id"]).to_owned(),
                after: String::new(),
                device: text(&row["device"]).to_owned(),
                lifeline: row["lifeline"] == true,
            },
            run: part(&row["run"]),
            run_row: row["run"].clone(),
            mains: row["mains"] == true,
        });
        let items = need["stock"]["item"].as_array().expect("items").iter().map(|row| {
            let mut keys = row.clone();
            for key in ["count", "cost"] {
                keys.as_object_mut().expect("a table").remove(key);
            }
            let what = if !row["supply"].is_null() {
                keys = row["supply"].clone();
                What::Supply(supply(&keys))
            } else if !row["inserter"].is_null() {
                What::Inserter(part(&keys))
            } else if ["cable", "joint", "bond"].iter().any(|kind| !row[*kind].is_null()) {
                What::Other
            } else {
                What::Part(part(&keys))
            };
            let count = row["count"].as_u64().unwrap_or(1) as usize;
            Item { what, count, cost: (row["cost"].as_f64().unwrap_or(0.0) * 100.0).round() as u64, row: keys }
        });
        Self {
            lead_in: lead_in.map(|keys| (part(keys), keys.clone())),
            mains: need["panel"]["mains"] == true,
            outlets: outlets.collect(),
            items: items.collect(),
            margin: need["stock"].get("margin").map_or(0.0, quantity::db),
            members,
            bare,
            whole: need.clone(),
        }
    }

    /// A premises with these parts, outlets and supplies.
    pub(crate) fn premises(&self, parts: Vec<Value>, outlets: Vec<Value>, supplies: Vec<Value>) -> Value {
        let mut premises = self.whole.clone();
        let keys = premises.as_object_mut().expect("a table");
        keys.remove("panel");
        keys.remove("stock");
        premises["part"] = Value::from(parts);
        premises["outlet"] = Value::from(outlets);
        if !supplies.is_empty() {
            premises["supply"] = Value::from(supplies);
        }
        premises
    }
}

/// A part that has no place yet.
fn template(keys: &Value, specs: &Value, climates: &HashMap<String, (f64, f64)>) -> Part {
    let mut row = keys.clone();
    row["id"] = json!(UNPLACED);
    row["after"] = json!("");
    Part::read(&row, specs, climates)
}

/// A supply that has no place yet.
fn supply(keys: &Value) -> Supply {
    let mut row = keys.clone();
    row["id"] = json!(UNPLACED);
    row["after"] = json!("");
    tree::supply(&row)
}

/// A part in its place.
pub(crate) fn placed(template: &Part, id: &str, after: &str) -> Part {
    let mut part = template.clone();
    for way in &mut part.ways {
        way.port = way.port.replacen(UNPLACED, id, 1);
    }
    (part.id, part.after) = (id.to_owned(), after.to_owned());
    part
}
