//! What a file of readings calls a place.

use legwork::PortId;
use rustc_hash::FxHashMap;

use crate::home::Home;
use crate::problem::{Problem, nearest, route};

/// Every place of a home by its name.
pub(super) struct Places<'h> {
    home: &'h Home<'h>,
    ports: FxHashMap<String, PortId>,
}

impl<'h> Places<'h> {
    pub(super) fn new(home: &'h Home<'h>) -> Self {
        let tree = home.tree();
        let ports = (0..tree.port_count()).filter_map(|number| tree.port_id(number));
        let mut ports: FxHashMap<String, PortId> = ports.map(|port| (home.port(port), port)).collect();
        for (id, outlet) in home.names.outlets.iter().zip(tree.outlets()) {
            ports.insert((*id).to_owned(), outlet.port());
        }
        Self { home, ports }
    }

    /// The port of a name, or what is wrong with that name.
    pub(super) fn find(&self, name: &str) -> Result<PortId, Box<Problem>> {
        let problem = |says: String| Box::new(Problem::new(route!["at"], name, says));
        match self.ports.get(name) {
            Some(port) if self.home.tree().carries_signal(*port) => return Ok(*port),
            Some(_) => {
                return Err(problem("that port carries DC only; it takes one that carries the signal".to_owned()));
            }
            None if name.is_empty() => {
                return Err(problem("the place is missing; it takes `entry`, an outlet or a port".to_owned()));
            }
            None => {}
        }
        let own = self.of_part(name);
        if !own.is_empty() {
            return Err(problem(format!("that part has several ways out; it takes one of {}", own.join(", "))));
        }
        if self.home.names.supplies.contains(&name) {
            return Err(problem("a supply carries no signal; it takes `entry`, an outlet or a port".to_owned()));
        }
        let near = nearest(name, self.ports.keys().map(String::as_str)).map(str::to_owned);
        let says = "there is no such place in the premises file; it takes `entry`, an outlet or a port";
        Err(Box::new(Problem::new(route!["at"], name, says).suggest(near)))
    }

    /// The ways out of a part that carry the signal, where there are several ways.
    fn of_part(&self, name: &str) -> Vec<String> {
        let tree = self.home.tree();
        let Some(part) = self.home.names.parts.iter().position(|id| *id == name) else { return Vec::new() };
        let ports = (0..tree.port_count()).filter_map(|number| tree.port_id(number));
        let ports = ports.filter(|port| tree.owner(*port).is_some_and(|(owner, _)| owner.index() == part));
        ports.filter(|port| tree.carries_signal(*port)).map(|port| self.home.port(port)).collect()
    }
}
