//! A home that changes are made to.

use std::collections::HashMap;

use serde_json::{Value, json};

use crate::{
    exhaustive::ways_out,
    model::{
        part::{Part, Through},
        quantity::text,
        tree::{self, Home},
    },
};

/// A way out of a part, or (none) the entry.
pub(crate) type Port = Option<(usize, usize)>;

/// A part in a draft.
#[derive(Clone, Debug)]
pub(crate) struct Node {
    pub(crate) part: Part,
    /// The keys of its row besides id, port and terminators.
    pub(crate) keys: Value,
    pub(crate) at: Port,
    /// Not taken away.
    pub(crate) is_there: bool,
}

/// An outlet or a supply in a draft: its row, and where it hangs.
#[derive(Clone, Debug)]
pub(crate) struct End {
    pub(crate) keys: Value,
    pub(crate) at: Port,
    pub(crate) is_there: bool,
}

/// A home that changes; places in its lists stay what they are.
#[derive(Clone, Debug)]
pub(crate) struct Draft {
    pub(crate) nodes: Vec<Node>,
    pub(crate) outlets: Vec<End>,
    pub(crate) supplies: Vec<End>,
    /// How many of each item of the stock it took.
    pub(crate) taken: Vec<usize>,
}

/// Something that hangs on a port.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Thing {
    Node(usize),
    Outlet(usize),
    Supply(usize),
}

/// What stays as it is, whatever changes.
#[derive(Clone, Debug)]
pub(crate) struct Frame {
    bare: Home,
    members: Option<Value>,
    climates: HashMap<String, (f64, f64)>,
    pub(crate) whole: Value,
}

/// The row without the keys that a draft holds itself.
fn keys(row: &Value, without: &[&str]) -> Value {
    let mut keys = row.clone();
    for key in without {
        keys.as_object_mut().expect("a table").remove(*key);
    }
    keys
}

impl Frame {
    /// Reads what stays of a premises that holds every spec that it and its stock name.
    pub(crate) fn read(premises: &Value) -> Self {
        let mut bare = premises.clone();
        for key in ["part", "outlet", "supply"] {
            bare.as_object_mut().expect("a table").remove(key);
        }
        let members = premises["home_network"].get("members").cloned();
        if members.is_some() {
            bare["home_network"]["members"] = json!([]);
        }
        Self { bare: Home::read(&bare), members, climates: tree::climates(premises), whole: premises.clone() }
    }

    /// A part of these keys, which has no place yet.
    pub(crate) fn part(&self, keys: &Value) -> Part {
        let mut row = keys.clone();
        (row["id"], row["after"]) = (json!("?"), json!(""));
        Part::read(&row, &self.whole["spec"], &self.climates)
    }
}

impl Draft {
    /// The home as it is.
    pub(crate) fn read(frame: &Frame, items: usize) -> Self {
        let rows = |key: &str| frame.whole[key].as_array().cloned().unwrap_or_default();
        let parts = rows("part");
        let nodes: Vec<Part> = parts.iter().map(|row| frame.part(&keys(row, &["terminated"]))).collect();
        let port = |row: &Value| -> Port {
            let after = text(&row["after"]);
            let found = parts.iter().zip(&nodes).enumerate().find_map(|(at, (owner, part))| {
                let id = text(&owner["id"]);
                let way = part.ways.iter().position(|way| way.port.replacen('?', id, 1) == after)?;
                Some((at, way))
            });
            assert!(found.is_some() || after == "entry", "no port {after:?}");
            found
        };
        let ends = |key: &str| -> Vec<End> {
            let rows = rows(key);
            rows.iter().map(|row| End { keys: keys(row, &["after"]), at: port(row), is_there: true }).collect()
        };
        let ports: Vec<Port> = parts.iter().map(port).collect();
        let nodes = nodes.iter().cloned().zip(&parts).zip(ports).map(|((part, row), at)| Node {
            part,
            keys: keys(row, &["id", "after", "terminated"]),
            at,
            is_there: true,
        });
        Self { nodes: nodes.collect(), outlets: ends("outlet"), supplies: ends("supply"), taken: vec![0; items] }
    }

    /// Everything that is there.
    pub(crate) fn things(&self) -> Vec<Thing> {
        let nodes = (0..self.nodes.len()).filter(|at| self.nodes[*at].is_there).map(Thing::Node);
        let outlets = (0..self.outlets.len()).map(Thing::Outlet);
        let supplies = (0..self.supplies.len()).filter(|at| self.supplies[*at].is_there).map(Thing::Supply);
        nodes.chain(outlets).chain(supplies).collect()
    }

    /// Where something hangs.
    pub(crate) fn at(&self, thing: Thing) -> Port {
        match thing {
            Thing::Node(at) => self.nodes[at].at,
            Thing::Outlet(at) => self.outlets[at].at,
            Thing::Supply(at) => self.supplies[at].at,
        }
    }

    /// Hangs something elsewhere.
    pub(crate) fn hang(&mut self, thing: Thing, port: Port) {
        match thing {
            Thing::Node(at) => self.nodes[at].at = port,
            Thing::Outlet(at) => self.outlets[at].at = port,
            Thing::Supply(at) => self.supplies[at].at = port,
        }
    }

    /// What hangs on a port.
    pub(crate) fn on(&self, port: Port) -> Option<Thing> {
        self.things().into_iter().find(|thing| self.at(*thing) == port)
    }

    /// Whether a port carries direct current alone.
    pub(crate) fn is_dc_only(&self, port: Port) -> bool {
        port.is_some_and(|(node, way)| {
            let node = &self.nodes[node];
            matches!(node.part.ways[way].through, Through::DcOnly) || self.is_dc_only(node.at)
        })
    }

    /// Whether a port is a node's own or behind it.
    pub(crate) fn is_behind(&self, port: Port, node: usize) -> bool {
        port.is_some_and(|(owner, _)| owner == node || self.is_behind(self.nodes[owner].at, node))
    }

    /// Nodes in an order in which each stands after the one it hangs on.
    fn order(&self) -> Vec<usize> {
        let mut order = Vec::new();
        let mut ports: Vec<Port> = vec![None];
        while let Some(port) = ports.pop() {
            if let Some(Thing::Node(at)) = self.on(port) {
                order.push(at);
                ports.extend((0..self.nodes[at].part.ways.len()).map(|way| Some((at, way))));
            }
        }
        order
    }

    fn port_name(&self, port: Port) -> String {
        port.map_or("entry".to_owned(), |(at, way)| {
            self.nodes[at].part.ways[way].port.replacen('?', &format!("part {at}"), 1)
        })
    }

    /// The home that it makes; every way out that is left open has a terminator.
    pub(crate) fn home(&self, frame: &Frame) -> Home {
        let mut home = frame.bare.clone();
        for at in self.order() {
            let node = &self.nodes[at];
            let mut part = crate::exhaustive::placed(&node.part, &format!("part {at}"), &self.port_name(node.at));
            for way in ways_out(&node.part) {
                part.ways[way].terminated = !self.is_dc_only(Some((at, way))) && self.on(Some((at, way))).is_none();
            }
            home.parts.push(part);
        }
        for outlet in &self.outlets {
            let mut row = outlet.keys.clone();
            row["after"] = json!(self.port_name(outlet.at));
            home.outlets.push(tree::outlet(&row));
        }
        for (number, supply) in self.supplies.iter().enumerate().filter(|(_, supply)| supply.is_there) {
            let mut row = supply.keys.clone();
            (row["id"], row["after"]) = (json!(format!("supply {number}")), json!(self.port_name(supply.at)));
            home.supplies.push(tree::supply(&row));
        }
        if let (Some(network), Some(members)) = (&mut home.network, &frame.members) {
            let place = |id: &Value| home.outlets.iter().position(|outlet| *id == *outlet.id).expect("a member");
            network.members = members.as_array().expect("a list").iter().map(place).collect();
        }
        home
    }

    /// The premises file that it makes.
    pub(crate) fn premises(&self, frame: &Frame) -> Value {
        let mut premises = frame.whole.clone();
        let parts = self.order().into_iter().map(|at| {
            let node = &self.nodes[at];
            let mut row = node.keys.clone();
            (row["id"], row["after"]) = (json!(format!("part {at}")), json!(self.port_name(node.at)));
            let open = ways_out(&node.part)
                .filter(|way| !self.is_dc_only(Some((at, *way))) && self.on(Some((at, *way))).is_none());
            let open = open.map(|way| {
                let name = node.part.ways[way].port.strip_prefix("?.").unwrap_or("1");
                name.parse::<u64>().map_or_else(|_| json!(name), |number| json!(number))
            });
            let open: Vec<Value> = open.collect();
            if !open.is_empty() {
                row["terminated"] = Value::from(open);
            }
            row
        });
        premises["part"] = Value::from(parts.collect::<Vec<_>>());
        let ends = |ends: &[End], word: Option<&str>| -> Vec<Value> {
            let there = ends.iter().enumerate().filter(|(_, end)| end.is_there);
            let rows = there.map(|(number, end)| {
                let mut row = end.keys.clone();
                row["after"] = json!(self.port_name(end.at));
                if let Some(word) = word {
                    row["id"] = json!(format!("{word} {number}"));
                }
                row
            });
            rows.collect()
        };
        premises["outlet"] = Value::from(ends(&self.outlets, None));
        premises.as_object_mut().expect("a table").remove("supply");
        if self.supplies.iter().any(|supply| supply.is_there) {
            premises["supply"] = Value::from(ends(&self.supplies, Some("supply")));
        }
        premises
    }

    /// A text that drafts share which make the same home of the same items.
    pub(crate) fn signature(&self) -> String {
        format!("{}|{:?}", self.branch(None), self.taken)
    }

    fn branch(&self, port: Port) -> String {
        match self.on(port) {
            None => "-".to_owned(),
            Some(Thing::Outlet(at)) => format!("outlet {at}"),
            Some(Thing::Supply(at)) => format!("supply {}", keys(&self.supplies[at].keys, &["id"])),
            Some(Thing::Node(at)) => {
                let ways = 0..self.nodes[at].part.ways.len();
                let below: Vec<String> = ways.map(|way| self.branch(Some((at, way)))).collect();
                format!("{}[{}]", self.nodes[at].keys, below.join(","))
            }
        }
    }
}
