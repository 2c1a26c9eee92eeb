//! One labelled tree at the panel, as a home the model can judge and as a premises file.

use serde_json::{Value, json};

use super::stock::{Need, What, placed};
use crate::model::{part::Part, tree::Home};

/// What stands at a way out.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Fill {
    /// A part: its item of the stock.
    Part(usize),
    /// The run to an outlet.
    Run(usize),
    /// A terminator.
    Terminator,
}

/// A way out of a part, or (none) the panel, and what stands there.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Node {
    /// The node whose part it is, and the number of the way.
    pub(crate) at: Option<(usize, usize)>,
    pub(crate) fill: Fill,
}

/// An inserter between an outlet and its run, with a supply unless its loss alone is asked for.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Inserted {
    pub(crate) outlet: usize,
    pub(crate) inserter: usize,
    pub(crate) supply: Option<usize>,
}

/// A tree, and where its supplies stand. Nodes stand after those they hang on.
#[derive(Clone, Debug, Default)]
pub(crate) struct Candidate {
    pub(crate) nodes: Vec<Node>,
    pub(crate) inserted: Vec<Inserted>,
    /// Supplies at `power` ports: node and item.
    pub(crate) powered: Vec<(usize, usize)>,
}

/// Parts, outlets and supplies of a candidate, each with the keys that make it a row of a premises file.
struct Rows {
    parts: Vec<(Part, Value)>,
    outlets: Vec<(usize, String)>,
    supplies: Vec<(usize, String)>,
}

impl Candidate {
    /// The ways from the panel to a node: node of the part, and way.
    pub(crate) fn way_to(&self, at: Option<(usize, usize)>) -> Vec<(usize, usize)> {
        let Some((node, way)) = at else { return Vec::new() };
        let mut ways = self.way_to(self.nodes[node].at);
        ways.push((node, way));
        ways
    }

    /// Whether a run hangs somewhere behind a node.
    pub(crate) fn leads_to_a_run(&self, node: usize) -> bool {
        let below = self.nodes.iter().enumerate().filter(|(_, below)| below.at.is_some_and(|at| at.0 == node));
        matches!(self.nodes[node].fill, Fill::Run(_)) || { below }.any(|(below, _)| self.leads_to_a_run(below))
    }

    fn rows(&self, need: &Need) -> Rows {
        let mut rows = Rows { parts: Vec::new(), outlets: Vec::new(), supplies: Vec::new() };
        let mut panel = "entry".to_owned();
        if let Some((lead_in, keys)) = &need.lead_in {
            rows.parts.push((placed(lead_in, "lead-in", &panel), keys.clone()));
            panel = "lead-in".to_owned();
        }
        // The place of each node's part among the rows.
        let mut places = vec![usize::MAX; self.nodes.len()];
        for (number, node) in self.nodes.iter().enumerate() {
            let after = match node.at {
                None => panel.clone(),
                Some((owner, way)) => rows.parts[places[owner]].0.ways[way].port.clone(),
            };
            match node.fill {
                Fill::Terminator => {
                    let (owner, way) = node.at.expect("a part");
                    rows.parts[places[owner]].0.ways[way].terminated = true;
                }
                Fill::Part(item) => {
                    places[number] = rows.parts.len();
                    let part = need.items[item].part().expect("a part");
                    rows.parts.push((placed(part, &format!("part {number}"), &after), need.items[item].row.clone()));
                }
                Fill::Run(outlet) => {
                    let wanted = &need.outlets[outlet];
                    let mut end = format!("run {outlet}");
                    rows.parts.push((placed(&wanted.run, &end, &after), wanted.run_row.clone()));
                    if let Some(inserted) = self.inserted.iter().find(|inserted| inserted.outlet == outlet) {
                        let item = &need.items[inserted.inserter];
                        let What::Inserter(inserter) = &item.what else { panic!("no inserter") };
                        let id = format!("inserter {outlet}");
                        rows.parts.push((placed(inserter, &id, &end), item.row.clone()));
                        end = format!("{id}.rf");
                        if let Some(supply) = inserted.supply {
                            rows.supplies.push((supply, format!("{id}.dc")));
                        }
                    }
                    rows.outlets.push((outlet, end));
                }
            }
        }
        for &(node, supply) in &self.powered {
            rows.supplies.push((supply, format!("{}.power", rows.parts[places[node]].0.id)));
        }
        rows
    }

    /// The home that it makes, with the home network where all its members are there.
    pub(crate) fn home(&self, need: &Need) -> Home {
        let rows = self.rows(need);
        let mut home = need.bare.clone();
        home.parts = rows.parts.into_iter().map(|(part, _)| part).collect();
        for (outlet, after) in rows.outlets {
            let mut outlet = need.outlets[outlet].outlet.clone();
            outlet.after = after;
            home.outlets.push(outlet);
        }
        for (number, (item, after)) in rows.supplies.into_iter().enumerate() {
            let What::Supply(supply) = &need.items[item].what else { panic!("no supply") };
            let mut supply = supply.clone();
            (supply.id, supply.after) = (format!("supply {number}"), after);
            home.supplies.push(supply);
        }
        let members = need.members.as_ref().and_then(Value::as_array);
        let place = |id: &Value| home.outlets.iter().position(|outlet| *id == *outlet.id);
        let members: Option<Vec<usize>> = members.map(|all| all.iter().filter_map(place).collect());
        match (&mut home.network, members) {
            (Some(network), Some(members)) if home.outlets.len() == need.outlets.len() => network.members = members,
            (network, _) => *network = None,
        }
        home
    }

    /// The premises file that it makes.
    pub(crate) fn premises(&self, need: &Need) -> Value {
        let rows = self.rows(need);
        let parts = rows.parts.iter().map(|(part, keys)| {
            let mut row = keys.clone();
            (row["id"], row["after"]) = (json!(part.id), json!(part.after));
            let ended = part.ways.iter().filter(|way| way.terminated);
            let names = ended.map(|way| {
                // The only way out has the name of its part, and number 1.
                let name = way.port.strip_prefix(&format!("{}.", part.id)).unwrap_or("1");
                name.parse::<u64>().map_or_else(|_| json!(name), |number| json!(number))
            });
            let names: Vec<Value> = names.collect();
            if !names.is_empty() {
                row["terminated"] = Value::from(names);
            }
            row
        });
        let outlets = rows.outlets.iter().map(|(outlet, after)| {
            let outlet = &need.outlets[*outlet].outlet;
            json!({"id": outlet.id, "after": after, "device": outlet.device, "lifeline": outlet.lifeline})
        });
        let supplies = rows.supplies.iter().enumerate().map(|(number, (item, after))| {
            let mut row = need.items[*item].row.clone();
            (row["id"], row["after"]) = (json!(format!("supply {number}")), json!(after));
            row
        });
        need.premises(parts.collect(), outlets.collect(), supplies.collect())
    }
}
