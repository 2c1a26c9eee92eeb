//! A home as a file describes it: core's premises, and the names that core does without.

use std::fmt;

use legwork::{At, Finding, Near, OutletId, PartId, PortId, SupplyId, Tree, Way};

use crate::words::tenths;

/// A home with its names.
#[derive(Debug)]
pub struct Home<'b> {
    pub(crate) name: &'b str,
    pub(crate) tree: Tree<'b, 'b>,
    pub(crate) names: Names<'b>,
}

/// What a file calls things, in the order in which core numbers them.
#[derive(Clone, Debug, Default)]
pub struct Names<'b> {
    pub(crate) parts: Vec<&'b str>,
    /// What the parts are, by the names of their specs; a pad's is its value. Empty where nothing was read.
    pub(crate) specs: Vec<&'b str>,
    pub(crate) outlets: Vec<&'b str>,
    pub(crate) supplies: Vec<&'b str>,
    pub(crate) feet: bool,
    pub(crate) dbuv: bool,
}

impl<'b> Home<'b> {
    /// What the home is called; empty where the file does not say.
    #[must_use]
    pub const fn name(&self) -> &'b str {
        self.name
    }

    /// The home as core sees it.
    #[must_use]
    pub const fn tree(&self) -> Tree<'b, 'b> {
        self.tree
    }

    /// A level in dBmV as the file would speak of it: the number and its unit.
    #[must_use]
    pub fn level(&self, dbmv: f32) -> (f32, &'static str) {
        if self.names.dbuv { (dbmv + 60.0, "dBuV") } else { (dbmv, "dBmV") }
    }

    /// A finding as the file would speak of it: levels in its own unit.
    #[must_use]
    pub fn spoken(&self, finding: &Finding) -> Finding {
        if finding.unit != "dBmV" {
            return *finding;
        }
        let level = |dbmv| self.level(dbmv).0;
        Finding {
            value: finding.value.map(level),
            limit: finding.limit.map(level),
            unit: self.level(0.0).1,
            ..*finding
        }
    }

    /// The id of an outlet.
    #[must_use]
    pub fn outlet(&self, outlet: OutletId) -> &'b str {
        self.names.outlets.get(outlet.index()).copied().unwrap_or("")
    }

    /// The id of a part.
    #[must_use]
    pub fn part(&self, part: PartId) -> &'b str {
        self.names.parts.get(part.index()).copied().unwrap_or("")
    }

    /// The name of a part's spec, as `series-6`; a pad's value, as `6 dB`.
    #[must_use]
    pub fn spec(&self, part: PartId) -> &'b str {
        self.names.specs.get(part.index()).copied().unwrap_or("")
    }

    /// The id of a supply.
    #[must_use]
    pub fn supply(&self, supply: SupplyId) -> &'b str {
        self.names.supplies.get(supply.index()).copied().unwrap_or("")
    }

    /// The name of a port: `entry`, `id` or `id.way`.
    #[must_use]
    pub fn port(&self, port: PortId) -> String {
        match self.port_parts(port) {
            (front, Some(way)) => format!("{front}.{way}"),
            (front, None) => front.to_owned(),
        }
    }

    /// What stands before and after the dot in the name of a port.
    pub(crate) fn port_parts(&self, port: PortId) -> (&'b str, Option<WayName>) {
        let tree = self.tree();
        let Some((part, number)) = tree.owner(port) else { return ("entry", None) };
        let way = tree.part(part).and_then(|part| part.way(number)).unwrap_or(Way::Only);
        (self.part(part), WayName::of(way))
    }

    /// The name of a way out without its part: `2`, `tap`, `passive`; empty for the only one.
    #[must_use]
    pub fn way(&self, port: PortId) -> String {
        self.port_parts(port).1.map_or_else(String::new, |way| way.to_string())
    }

    /// What a margin is of: an outlet's id, or words.
    #[must_use]
    pub fn near(&self, near: Near) -> String {
        match near {
            Near::Outlet(outlet) => self.outlet(outlet).to_owned(),
            Near::Amplifiers => "at amplifiers".to_owned(),
            Near::Modems => "modems at amplifiers".to_owned(),
            Near::Between => "between outlets".to_owned(),
        }
    }

    /// The name of a place.
    #[must_use]
    pub fn at(&self, at: At) -> String {
        match at {
            At::Entry => "entry".to_owned(),
            At::Port(port) => self.port(port),
            At::Part(part) => self.part(part).to_owned(),
            At::Outlet(outlet) => self.outlet(outlet).to_owned(),
            At::Supply(supply) => self.supply(supply).to_owned(),
        }
    }

    /// A length in the file's own unit, as in `85 ft` or `18.3 m`.
    #[must_use]
    pub fn length(&self, length: legwork::Length) -> String {
        if self.names.feet { format!("{} ft", round(length.feet())) } else { format!("{} m", round(length.metres())) }
    }
}

/// At most one decimal, none where it would be nought.
fn round(number: f32) -> String {
    let text = tenths(number);
    text.strip_suffix(".0").map_or(text.clone(), str::to_owned)
}

/// The name of a way out of a part, where the part has several.
pub(crate) struct WayName(Way);

impl WayName {
    /// The name of a way out; none for the only one.
    pub(crate) fn of(way: Way) -> Option<Self> {
        (way != Way::Only).then_some(Self(way))
    }
}

impl fmt::Display for WayName {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self.0 {
            Way::Output(number) => return write!(f, "{number}"),
            Way::Only => "",
            Way::Through => "through",
            Way::Tap => "tap",
            Way::Passive => "passive",
            Way::Power => "power",
            Way::Rf => "rf",
            Way::Dc => "dc",
        })
    }
}

/// The name of a way out with its part's id before it.
pub(crate) fn port_text(id: &str, way: Way) -> String {
    WayName::of(way).map_or_else(|| id.to_owned(), |way| format!("{id}.{way}"))
}
