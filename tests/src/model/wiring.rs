//! What simulated technicians find in a home: nominal levels, and what stands behind what.

use serde_json::Value;

use super::{forward::level, part::Case, tree::Home};

/// The ways through a home.
#[derive(Clone, Debug)]
pub struct Wiring(Home);

impl Wiring {
    /// The wiring of a valid premises.
    ///
    /// # Panics
    ///
    /// Where it is not valid.
    #[must_use]
    pub fn of(premises: &Value) -> Self {
        Self(Home::read(premises))
    }

    /// The ids of the parts that carry the signal.
    #[must_use]
    pub fn parts(&self) -> Vec<&str> {
        let parts = self.0.parts.iter().filter(|part| !self.0.is_dc_only(&part.after));
        parts.map(|part| part.id.as_str()).collect()
    }

    /// Every place that can be read but the entry: outlets by their ids, other ports by their names.
    #[must_use]
    pub fn places(&self) -> Vec<String> {
        let ports = self.0.parts.iter().flat_map(|part| &part.ways).map(|way| &way.port);
        let ports = ports.filter(|port| !self.0.is_dc_only(port));
        ports
            .map(|port| {
                self.0.outlets.iter().find(|outlet| outlet.after == *port).map_or(port, |outlet| &outlet.id).clone()
            })
            .collect()
    }

    /// The ids of the outlets with a device, in the order of the file.
    #[must_use]
    pub fn outlets(&self) -> Vec<&str> {
        self.0.devices().into_iter().map(|at| self.0.outlets[at].id.as_str()).collect()
    }

    /// The first and the last carrier in MHz.
    #[must_use]
    pub fn band(&self) -> (f64, f64) {
        (self.0.carriers[0].mhz, self.0.carriers[self.0.carriers.len() - 1].mhz)
    }

    /// Whether a place is behind a part.
    #[must_use]
    pub fn is_behind(&self, place: &str, part: &str) -> bool {
        self.0.way_to(self.port(place)).iter().any(|step| self.0.parts[step.0].id == part)
    }

    /// The nominal level at a place in dBmV.
    #[must_use]
    pub fn level(&self, place: &str, mhz: f64) -> f64 {
        level(&self.0, &self.0.way_to(self.port(place)), mhz, Case::Nominal)
    }

    fn port<'a>(&'a self, place: &'a str) -> &'a str {
        self.0.outlets.iter().find(|outlet| outlet.id == place).map_or(place, |outlet| &outlet.after)
    }
}
