//! Parts, outlets and supplies, hung on their ports.

use legwork::{
    Conductor, Device, Error, Outlet, OutletId, Part, PartId, Place, PortId, Premises, Supply, SupplyId, Way, tables,
};
use rustc_hash::FxHashMap;

use super::context::Context;
use super::specs::{Specs, built_in, find};
use crate::home::Names;
use crate::problem::{Path, Problem, nearest, route};
use crate::quantity;
use crate::raw::{self, Kind, Scalar};

/// The most parts of one home.
pub const MOST_PARTS: usize = 1024;

/// Room for any home that a file can describe.
pub type Room<'s> = Premises<'s, MOST_PARTS, 9217, 1024, 64>;

/// A member of a file that has an id.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Member {
    Part(usize),
    Outlet(usize),
    Supply(usize),
}

impl Member {
    fn path(self) -> Path {
        match self {
            Self::Part(index) => route!["part", index],
            Self::Outlet(index) => route!["outlet", index],
            Self::Supply(index) => route!["supply", index],
        }
    }
}

/// Where something hangs: on the entry, or on a way out of a part of the file.
#[derive(Clone, Copy)]
struct Hook {
    /// The part; [`None`] for the entry.
    part: Option<usize>,
    /// The way out; [`None`] for the only one.
    way: Option<Way>,
}

/// Builds the tree of a home.
pub(super) struct Builder<'c, 'b, 'r, 'a> {
    pub(super) context: &'c mut Context<'b>,
    pub(super) raw: &'r raw::Premises<'a>,
    pub(super) specs: &'c Specs<'b>,
    pub(super) room: &'b mut Room<'b>,
    pub(super) names: Names<'b>,
}

impl<'c, 'b, 'r, 'a> Builder<'c, 'b, 'r, 'a> {
    /// Hangs everything where it belongs and notes what can't be hung.
    pub(super) fn build(mut self) -> (&'b mut Room<'b>, Names<'b>) {
        let raw = self.raw;
        if raw.part.len() > MOST_PARTS {
            let says = format!("a home has at most {MOST_PARTS} parts; split a larger building into several files");
            self.context.note(Problem::new(route!["part", MOST_PARTS], format!("{} parts", raw.part.len()), says));
            return (self.room, self.names);
        }
        let ids = self.ids();
        let hooks: Vec<Option<Hook>> = raw
            .part
            .iter()
            .enumerate()
            .map(|(index, part)| self.hook(&ids, part.after.as_ref(), route!["part", index]))
            .collect();
        let mut users: FxHashMap<u16, Path> = FxHashMap::default();
        let mut placed: Vec<Option<PartId>> = vec![None; raw.part.len()];
        for index in self.order(&hooks) {
            self.place(index, &hooks, &mut placed, &mut users);
        }
        for (index, outlet) in raw.outlet.iter().enumerate() {
            self.outlet(index, outlet, &ids, &placed, &mut users);
        }
        for (index, supply) in raw.supply.iter().enumerate() {
            self.supply(index, supply, &ids, &placed, &mut users);
        }
        for (index, part) in raw.part.iter().enumerate() {
            self.terminators(index, part, &placed, &mut users);
        }
        self.members(&ids);
        (self.room, self.names)
    }

    /// Every id, and problems with ids that are missing, doubled or unusable.
    fn ids(&mut self) -> FxHashMap<&'b str, Member> {
        let raw = self.raw;
        let mut ids: FxHashMap<&'b str, Member> = FxHashMap::default();
        let parts = raw.part.iter().enumerate().map(|(i, part)| (Member::Part(i), part.id.as_ref()));
        let outlets = raw.outlet.iter().enumerate().map(|(i, outlet)| (Member::Outlet(i), outlet.id.as_ref()));
        let supplies = raw.supply.iter().enumerate().map(|(i, supply)| (Member::Supply(i), supply.id.as_ref()));
        for (member, id) in parts.chain(outlets).chain(supplies) {
            let Some(id) = id else {
                self.context.missing(member.path(), "id", "a name of your choice");
                continue;
            };
            let text = self.context.keep(id);
            let at = || member.path().with("id");
            if id.text().is_none() {
                self.context.note(Problem::new(at(), text, "an id is a text in quotes"));
            } else if text == "entry" {
                self.context.note(Problem::new(at(), text, "`entry` is the point of entry; choose another id"));
            } else if text.contains('.') {
                self.context.note(Problem::new(at(), text, "an id holds no `.`, which stands between a part and its port"));
            } else if text.trim().is_empty() {
                self.context.note(Problem::new(at(), text, "an id can't be empty"));
            } else if let Some(first) = ids.insert(text, member) {
                let says = "ids have to differ, over parts, outlets and supplies alike";
                let problem = Problem::new(at(), text, says).second(first.path().with("id"), "it stands here first");
                self.context.note(problem);
            }
        }
        ids
    }

    /// Where something hangs, by its `after`.
    fn hook(&mut self, ids: &FxHashMap<&'b str, Member>, after: Option<&Scalar<'_>>, table: Path) -> Option<Hook> {
        let Some(after) = after else {
            self.context.missing(table, "after", "the port it hangs on: `entry`, a part's id, or id.port");
            return None;
        };
        let text = after.to_string();
        let path = table.with("after");
        if text == "entry" {
            return Some(Hook { part: None, way: None });
        }
        let (id, way) = match text.split_once('.') {
            Some((id, way)) => (id, Some(way)),
            None => (text.as_str(), None),
        };
        match ids.get(id) {
            Some(Member::Part(part)) => {
                let hook = Hook { part: Some(*part), way: None };
                let Some(way) = way else { return Some(hook) };
                match read_way(way) {
                    Some(way) => Some(Hook { way: Some(way), ..hook }),
                    None => {
                        self.unknown_port(path, &text, *part);
                        None
                    }
                }
            }
            Some(Member::Outlet(_)) => {
                self.context.note(Problem::new(path, &text, "nothing can hang on an outlet; put it after a part's port"));
                None
            }
            Some(Member::Supply(_)) => {
                let says = "nothing can hang on a supply; the supply itself stands after a port";
                self.context.note(Problem::new(path, &text, says));
                None
            }
            None => {
                let mut problem = Problem::new(path, &text, "there is no part of that id").following();
                if let Some(near) = nearest(id, ids.keys().copied().chain(["entry"])) {
                    let near = way.map_or_else(|| near.to_owned(), |way| format!("{near}.{way}"));
                    problem = problem.help(format!("did you mean `{near}`?"));
                }
                self.context.note(problem);
                None
            }
        }
    }

    /// The parts in an order in which each comes after the one it hangs on; parts of a loop are
    /// left out and noted.
    fn order(&mut self, hooks: &[Option<Hook>]) -> Vec<usize> {
        #[derive(Clone, Copy, PartialEq)]
        enum State {
            New,
            OnTheWay,
            Done,
        }
        let mut states = vec![State::New; hooks.len()];
        let mut order = Vec::with_capacity(hooks.len());
        let mut way = Vec::new();
        for start in 0..hooks.len() {
            let mut at = start;
            way.clear();
            // Up to the entry, to what is already in order, or back to where the way has been.
            while states.get(at) == Some(&State::New) {
                if let Some(state) = states.get_mut(at) {
                    *state = State::OnTheWay;
                }
                way.push(at);
                match hooks.get(at).copied().flatten().and_then(|hook| hook.part) {
                    Some(parent) => at = parent,
                    None => break,
                }
            }
            let looped = states.get(at) == Some(&State::OnTheWay)
                && hooks.get(at).copied().flatten().is_some_and(|hook| hook.part.is_some());
            if looped {
                let last = way.last().copied().unwrap_or(at);
                let text = |index: usize| {
                    self.raw.part.get(index).and_then(|part| part.after.as_ref()).map(ToString::to_string).unwrap_or_default()
                };
                let says = "these parts hang on each other in a loop; one of them has to lead to `entry`";
                let problem = Problem::new(route!["part", at, "after"], text(at), says)
                    .second(route!["part", last, "after"], "the loop closes here");
                self.context.note(problem);
            }
            for index in way.drain(..).rev() {
                if let Some(state) = states.get_mut(index) {
                    *state = State::Done;
                }
                if !looped {
                    order.push(index);
                }
            }
        }
        order
    }

    fn place(
        &mut self,
        index: usize,
        hooks: &[Option<Hook>],
        placed: &mut [Option<PartId>],
        users: &mut FxHashMap<u16, Path>,
    ) {
        let Some(raw) = self.raw.part.get(index) else { return };
        let part = self.part(index, raw);
        let Some(hook) = hooks.get(index).copied().flatten() else { return };
        let Some(port) = self.port(hook, placed, &route!["part", index], raw.after.as_ref()) else { return };
        let Some(part) = part else { return };
        let result = self.room.add(port, part);
        let added = self.hung(result, port, route!["part", index], raw.after.as_ref(), users);
        if let Some(slot) = placed.get_mut(index) {
            *slot = added;
        }
        if added.is_some() {
            let id = raw.id.as_ref().map_or("", |id| self.context.keep(id));
            self.names.parts.push(id);
            self.names.sources.push(index as u16);
        }
    }

    /// The port of a hook. A part that could not be placed has been noted already.
    fn port(
        &mut self,
        hook: Hook,
        placed: &[Option<PartId>],
        table: &Path,
        after: Option<&Scalar<'_>>,
    ) -> Option<PortId> {
        let Some(parent) = hook.part else { return Some(PortId::ENTRY) };
        let id = placed.get(parent).copied().flatten()?;
        let port = self.room.port(id, hook.way.unwrap_or(Way::Only));
        if port.is_err() {
            let text = after.map(ToString::to_string).unwrap_or_default();
            self.unknown_port(table.with("after"), &text, parent);
        }
        port.ok()
    }

    fn unknown_port(&mut self, path: Path, text: &str, parent: usize) {
        let raw = self.raw.part.get(parent);
        let id = raw.and_then(|part| part.id.as_ref()).map(ToString::to_string).unwrap_or_default();
        let part = raw.and_then(|raw| self.part(parent, raw));
        let known: Vec<String> = part
            .iter()
            .flat_map(|part| (0..part.ways()).filter_map(|number| part.way(number)))
            .map(|way| crate::home::port_text(&id, way))
            .collect();
        let says = if known.is_empty() {
            "there is no such port".to_owned()
        } else {
            format!("there is no such port; `{id}` has {}", known.join(", "))
        };
        let mut problem = Problem::new(path, text, says).following();
        if let Some(near) = nearest(text, known.iter().map(String::as_str)) {
            problem = problem.help(format!("did you mean `{near}`?"));
        }
        self.context.note(problem);
    }

    /// Notes why something could not be hung on a port, or who hangs there now.
    fn hung<T>(
        &mut self,
        result: Result<T, Error>,
        port: PortId,
        table: Path,
        after: Option<&Scalar<'_>>,
        users: &mut FxHashMap<u16, Path>,
    ) -> Option<T> {
        let text = after.map(ToString::to_string).unwrap_or_default();
        let at = table.with("after");
        let key = port.index() as u16;
        match result {
            Ok(added) => {
                users.insert(key, at);
                return Some(added);
            }
            Err(Error::PortTaken) => {
                let mut problem = Problem::new(at, text, "one port takes one part, outlet or supply, and this one is used");
                if let Some(first) = users.get(&key) {
                    problem = problem.second(first.clone(), "it is used here first");
                }
                self.context.note(problem);
            }
            Err(Error::DcOnly) => {
                let says = "this port carries DC only; a supply, or a cable or joint on the way to one, can hang here";
                self.context.note(Problem::new(at, text, says));
            }
            Err(error) => self.context.note(Problem::new(table, text, error.to_string())),
        }
        None
    }

    /// What a part of the file is.
    fn part(&mut self, index: usize, raw: &raw::Part<'_>) -> Option<Part<'b>> {
        let table = || route!["part", index];
        let Some((kind, name)) = &raw.kind else {
            let kinds: Vec<&str> = Kind::ALL.iter().map(|(_, key)| *key).collect();
            let says = format!("this part has no kind; it takes one of {}", kinds.join(", "));
            let id = raw.id.as_ref().map(ToString::to_string).unwrap_or_default();
            self.context.note(Problem::new(table(), id, says));
            return None;
        };
        if let Some(second) = raw.second_kind {
            let says = format!("a part has one kind, and this one is a {} already", kind.key());
            self.context.note(Problem::new(table().with(second.key()), "", says));
        }
        self.stray_keys(raw, *kind, &table());
        let at = || table().with(kind.key());
        let (specs, context) = (self.specs, &mut *self.context);
        match kind {
            Kind::Cable => {
                let spec = find(context, &specs.cable, |name| built_in::cable(name), built_in::CABLES, name, at);
                let length = context.need(raw.length.as_ref(), table, "length", quantity::length);
                let places = [("indoor", Place::Indoor), ("outdoor", Place::Outdoor), ("attic", Place::Attic)];
                let place = match &raw.place {
                    Some(place) => context.word(place, || table().with("place"), &places),
                    None => Some(Place::Indoor),
                };
                let (length, _) = length?;
                Some(Part::Cable { spec: spec?, length, place: place? })
            }
            Kind::Splitter => {
                find(context, &specs.splitter, |name| built_in::splitter(name), built_in::SPLITTERS, name, at).map(Part::Splitter)
            }
            Kind::Coupler => {
                find(context, &specs.coupler, |name| built_in::coupler(name), built_in::COUPLERS, name, at).map(Part::Coupler)
            }
            Kind::Equalizer => find(context, &specs.equalizer, |_| None, &[], name, at).map(Part::Equalizer),
            Kind::Filter => find(context, &specs.filter, |name| built_in::filter(name), built_in::FILTERS, name, at).map(Part::Filter),
            Kind::Amplifier => find(context, &specs.amplifier, |_| None, &[], name, at).map(Part::Amplifier),
            Kind::Inserter => {
                find(context, &specs.inserter, |name| built_in::inserter(name), built_in::INSERTERS, name, at).map(Part::Inserter)
            }
            Kind::Joint => find(context, &specs.joint, |name| built_in::joint(name), built_in::JOINTS, name, at).map(Part::Joint),
            Kind::Pad => context.quantity(name, at, quantity::loss).map(Part::Pad),
            Kind::Bond => {
                let spec = find(context, &specs.bond, |name| built_in::bond(name), built_in::BONDS, name, at);
                let size = context.maybe(raw.conductor.as_ref(), table, "conductor", quantity::awg);
                let length = context.maybe(raw.conductor_length.as_ref(), table, "conductor_length", quantity::length);
                let conductor = Conductor { size, length: length.map(|(length, _)| length) };
                spec.map(|spec| Part::Bond(spec, conductor))
            }
        }
    }

    /// Keys that belong to another kind of part.
    fn stray_keys(&mut self, raw: &raw::Part<'_>, kind: Kind, table: &Path) {
        let cable = kind == Kind::Cable;
        let bond = kind == Kind::Bond;
        for (key, value, fits, whose) in [
            ("length", &raw.length, cable, "a cable"),
            ("place", &raw.place, cable, "a cable"),
            ("conductor", &raw.conductor, bond, "a bond"),
            ("conductor_length", &raw.conductor_length, bond, "a bond"),
        ] {
            if let Some(value) = value
                && !fits
            {
                let says = format!("only {whose} has a {key}; this part is a {}", kind.key());
                self.context.note(Problem::new(table.with(key), value.to_string(), says));
            }
        }
    }

    fn outlet(
        &mut self,
        index: usize,
        raw: &raw::Outlet<'_>,
        ids: &FxHashMap<&'b str, Member>,
        placed: &[Option<PartId>],
        users: &mut FxHashMap<u16, Path>,
    ) {
        let table = || route!["outlet", index];
        let devices = [
            ("modem", Device::Modem),
            ("voice-modem", Device::VoiceModem),
            ("set-top", Device::SetTop),
            ("tv", Device::Tv),
            ("unused", Device::Unused),
        ];
        let device = match &raw.device {
            Some(device) => self.context.word(device, || table().with("device"), &devices),
            None => {
                self.context.missing(table(), "device", "one of modem, voice-modem, set-top, tv, unused");
                None
            }
        };
        let lifeline = self.context.flag(raw.lifeline.as_ref(), || table().with("lifeline"));
        let Some(hook) = self.hook(ids, raw.after.as_ref(), table()) else { return };
        let Some(port) = self.port(hook, placed, &table(), raw.after.as_ref()) else { return };
        let Some(device) = device else { return };
        let outlet = if lifeline { Outlet::lifeline(device) } else { Outlet::new(device) };
        let result = self.room.add_outlet(port, outlet);
        let added: Option<OutletId> = self.hung(result, port, table(), raw.after.as_ref(), users);
        if added.is_some() {
            let id = raw.id.as_ref().map_or("", |id| self.context.keep(id));
            self.names.outlets.push(id);
        }
    }

    fn supply(
        &mut self,
        index: usize,
        raw: &raw::Supply<'_>,
        ids: &FxHashMap<&'b str, Member>,
        placed: &[Option<PartId>],
        users: &mut FxHashMap<u16, Path>,
    ) {
        let table = || route!["supply", index];
        let volts = self.context.need(raw.volts.as_ref(), table, "volts", quantity::volts);
        let amps = self.context.need(raw.amps.as_ref(), table, "amps", quantity::amps);
        let spread = self.context.maybe(raw.spread.as_ref(), table, "spread", quantity::percent);
        let source = self.context.maybe(raw.source_ohms.as_ref(), table, "source_ohms", quantity::ohms);
        let Some(hook) = self.hook(ids, raw.after.as_ref(), table()) else { return };
        let Some(port) = self.port(hook, placed, &table(), raw.after.as_ref()) else { return };
        let (Some(volts), Some(amps)) = (volts, amps) else { return };
        let supply = Supply::new(volts, amps).with(spread.unwrap_or_default(), source.unwrap_or_default());
        let result = self.room.add_supply(port, supply);
        let added: Option<SupplyId> = self.hung(result, port, table(), raw.after.as_ref(), users);
        if added.is_some() {
            let id = raw.id.as_ref().map_or("", |id| self.context.keep(id));
            self.names.supplies.push(id);
        }
    }

    fn terminators(
        &mut self,
        index: usize,
        raw: &raw::Part<'_>,
        placed: &[Option<PartId>],
        users: &mut FxHashMap<u16, Path>,
    ) {
        let Some(part) = placed.get(index).copied().flatten() else { return };
        for (number, way) in raw.terminated.iter().flatten().enumerate() {
            let at = route!["part", index, "terminated", number];
            let text = way.to_string();
            let only = self.room.port(part, Way::Only).ok().filter(|_| text == "1" || raw.id.as_ref() == Some(way));
            let port = only.or_else(|| read_way(&text).and_then(|way| self.room.port(part, way).ok()));
            let Some(port) = port else {
                self.unknown_port(at, &text, index);
                continue;
            };
            let key = port.index() as u16;
            if !self.room.tree().carries_signal(port) {
                self.context.note(Problem::new(at, text, "this port carries DC only and takes no terminator"));
            } else if self.room.terminate(port).is_ok() {
                users.insert(key, at);
            } else {
                let mut problem = Problem::new(at, text, "a terminator can't stand on a port that is used");
                if let Some(first) = users.get(&key) {
                    problem = problem.second(first.clone(), "it is used here");
                }
                self.context.note(problem);
            }
        }
    }

    fn members(&mut self, ids: &FxHashMap<&'b str, Member>) {
        let Some(network) = &self.raw.home_network else { return };
        if network.members.is_none() {
            self.context.missing(route!["home_network"], "members", "a list of outlets");
        }
        for (index, member) in network.members.iter().flatten().enumerate() {
            let text = member.to_string();
            let at = route!["home_network", "members", index];
            let known = || ids.iter().filter(|(_, member)| matches!(member, Member::Outlet(_))).map(|(id, _)| *id);
            match ids.get(text.as_str()) {
                Some(Member::Outlet(_)) => {
                    let number = self.names.outlets.iter().position(|name| *name == text);
                    let outlet = number.and_then(|number| self.room.tree().outlet_id(number));
                    if let Some(outlet) = outlet {
                        if self.room.tree().members().contains(&outlet) {
                            self.context.note(Problem::new(at, text, "this outlet is a member already"));
                        } else if let Err(error) = self.room.join(outlet) {
                            self.context.note(Problem::new(at, text, error.to_string()));
                        }
                    }
                }
                _ => {
                    let mut problem = Problem::new(at, &text, "there is no outlet of that id").following();
                    if let Some(near) = nearest(&text, known()) {
                        problem = problem.help(format!("did you mean `{near}`?"));
                    }
                    self.context.note(problem);
                }
            }
        }
    }
}

/// A way out by its name in a file.
fn read_way(text: &str) -> Option<Way> {
    Some(match text {
        "through" => Way::Through,
        "tap" => Way::Tap,
        "passive" => Way::Passive,
        "power" => Way::Power,
        "rf" => Way::Rf,
        "dc" => Way::Dc,
        // Digits alone: `+1` and `01` are no ports.
        number if !number.starts_with(['0', '+']) => Way::Output(number.parse().ok()?),
        _ => return None,
    })
}

/// The built-in limits of a device.
pub(super) fn built_in_limits(device: Device) -> legwork::Limits {
    Device::WITH_LIMITS
        .iter()
        .position(|known| *known == device)
        .and_then(|index| tables::LIMITS.get(index).copied())
        .unwrap_or(legwork::Limits::NONE)
}
