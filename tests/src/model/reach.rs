//! How far direct current spreads from a supply, and what it finds there.

use super::{
    amplifier::Draw,
    tree::{Home, Supply},
};

/// A port that carries direct current.
#[derive(Clone, Debug)]
pub(crate) struct Node {
    pub(crate) port: String,
    /// The node one nearer to the supply; none for the supply's own port.
    pub(crate) nearer: Option<usize>,
    /// Resistance from there (or from the supply's terminals) at 20 C.
    pub(crate) ohms: f64,
    /// Coldest and hottest of the cable between, if it is one.
    pub(crate) climate: Option<(f64, f64)>,
}

/// An amplifier's draw at a node.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Load {
    pub(crate) amplifier: usize,
    pub(crate) node: usize,
    pub(crate) draw: Draw,
}

/// All ports a supply reaches, the nearest first.
#[derive(Clone, Debug)]
pub(crate) struct Reach {
    pub(crate) nodes: Vec<Node>,
    pub(crate) loads: Vec<Load>,
}

impl Reach {
    /// Spreads from a supply's port through all that passes direct current.
    pub(crate) fn of(home: &Home, supply: &Supply) -> Self {
        let mut nodes =
            vec![Node { port: supply.after.clone(), nearer: None, ohms: supply.source_ohms, climate: None }];
        let mut next = 0;
        while next < nodes.len() {
            let here = nodes[next].port.clone();
            for (other, ohms, climate) in neighbours(home, &here) {
                if nodes.iter().all(|node| node.port != other) {
                    nodes.push(Node { port: other, nearer: Some(next), ohms, climate });
                }
            }
            next += 1;
        }
        let mut reach = Self { nodes, loads: Vec::new() };
        reach.loads = reach.loads(home);
        reach
    }

    /// The place of a port among the nodes.
    pub(crate) fn node(&self, port: &str) -> Option<usize> {
        self.nodes.iter().position(|node| node.port == port)
    }

    /// The amplifiers that draw here, in the order of the file.
    fn loads(&self, home: &Home) -> Vec<Load> {
        let mut loads = Vec::new();
        for (amplifier, part) in home.parts.iter().enumerate() {
            let Some(spec) = &part.amplifier else {
                continue;
            };
            for name in &spec.dc_ports {
                let port = if name == "in" { part.after.clone() } else { format!("{}.{name}", part.id) };
                if let Some(node) = self.node(&port) {
                    let draw = spec.draw;
                    loads.push(Load { amplifier, node, draw });
                }
            }
        }
        loads
    }

    /// Resistance from the supply's terminals to a node at 20 C, the source's included.
    pub(crate) fn ohms_to(&self, node: usize) -> f64 {
        let nearer = self.nodes[node].nearer;
        self.nodes[node].ohms + nearer.map_or(0.0, |nearer| self.ohms_to(nearer))
    }
}

/// A port one part away: its name, the resistance at 20 C, and the climate if the part is a cable.
type Neighbour = (String, f64, Option<(f64, f64)>);

/// The ports one part away for direct current.
fn neighbours(home: &Home, port: &str) -> Vec<Neighbour> {
    let mut found = Vec::new();
    for part in &home.parts {
        for way in &part.ways {
            let Some(ohms) = way.ohms else { continue };
            let climate = part.cable.as_ref().map(|cable| cable.climate);
            if part.after == port {
                found.push((way.port.clone(), ohms, climate));
            }
            if way.port == port {
                found.push((part.after.clone(), ohms, climate));
            }
        }
    }
    found
}
