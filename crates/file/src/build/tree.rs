//! Parts, outlets and supplies, hung on their ports.

use legwork::{Device, Error, Occupant, Outlet, OutletId, Part, PartId, PortId, Premises, Supply, Tree, Way};

use super::context::Context;
use super::hooks::{Hook, Unhooked, hook, order, read_way};
use super::ids::{Ids, Member};
use super::parts::part;
use super::specs::Specs;
use crate::home::{Names, port_text};
use crate::problem::{Path, Problem, nearest, route};
use crate::quantity;
use crate::raw::{self, Scalar};

/// What may stand at an outlet.
pub(super) const DEVICES: [(&str, Device); 5] = [
    ("modem", Device::Modem),
    ("voice-modem", Device::VoiceModem),
    ("set-top", Device::SetTop),
    ("tv", Device::Tv),
    ("unused", Device::Unused),
];

/// Builds the tree of a home in a room of some size.
pub(super) struct Builder<
    'c,
    'b,
    'r,
    'a,
    const PARTS: usize,
    const PORTS: usize,
    const OUTLETS: usize,
    const SUPPLIES: usize,
> {
    context: &'c mut Context<'b>,
    raw: &'r raw::Premises<'a>,
    specs: &'c Specs<'b>,
    ids: Ids<'b>,
    room: &'b mut Premises<'b, PARTS, PORTS, OUTLETS, SUPPLIES>,
    /// The parts of the file as core numbered them.
    placed: Vec<Option<PartId>>,
    /// The other way round.
    parts: Vec<usize>,
    /// The outlets of the file as core numbered them.
    outlets: Vec<Option<OutletId>>,
    /// The supplies that hang somewhere, by their places in the file.
    supplies: Vec<usize>,
}

impl<'c, 'b, 'r, 'a, const PARTS: usize, const PORTS: usize, const OUTLETS: usize, const SUPPLIES: usize>
    Builder<'c, 'b, 'r, 'a, PARTS, PORTS, OUTLETS, SUPPLIES>
{
    /// Begins with a home in which nothing hangs yet.
    pub(super) fn new(
        context: &'c mut Context<'b>,
        raw: &'r raw::Premises<'a>,
        specs: &'c Specs<'b>,
        room: &'b mut Premises<'b, PARTS, PORTS, OUTLETS, SUPPLIES>,
    ) -> Self {
        let ids = Ids::read(context, raw);
        let (parts, outlets) = (raw.part.len(), raw.outlet.len());
        Self {
            context,
            raw,
            specs,
            ids,
            room,
            placed: vec![None; parts],
            parts: Vec::with_capacity(parts),
            outlets: Vec::with_capacity(outlets),
            supplies: Vec::new(),
        }
    }

    /// Hangs everything where it belongs and notes what can't be hung.
    pub(super) fn build(mut self) -> (Tree<'b, 'b>, Names<'b>) {
        let raw = self.raw;
        let hooks: Vec<Result<Hook, Unhooked>> = raw
            .part
            .iter()
            .enumerate()
            .map(|(index, part)| hook(self.context, &self.ids, Member::Part(index), part.after.as_ref()))
            .collect();
        for index in order(self.context, &raw.part, &hooks) {
            self.place(index, hooks.get(index));
        }
        for (index, outlet) in raw.outlet.iter().enumerate() {
            let added = self.outlet(index, outlet);
            self.outlets.push(added);
        }
        for (index, supply) in raw.supply.iter().enumerate() {
            self.supply(index, supply);
        }
        for (index, part) in raw.part.iter().enumerate() {
            self.terminators(index, part);
        }
        self.members();
        let spec = |index: &usize| raw.part.get(*index).and_then(|part| part.kind.as_ref());
        let specs =
            self.parts.iter().map(|index| spec(index).map_or("", |(_, name)| self.context.keep(name))).collect();
        let ids = &self.ids;
        let named = |ids: &[&'b str], index: usize| ids.get(index).copied().unwrap_or("");
        let names = Names {
            parts: self.parts.iter().map(|index| named(&ids.parts, *index)).collect(),
            specs,
            // Where nothing is wrong, every outlet and supply hangs somewhere.
            outlets: ids.outlets.clone(),
            supplies: ids.supplies.clone(),
            ..Names::default()
        };
        (self.room.tree(), names)
    }

    fn place(&mut self, index: usize, hook: Option<&Result<Hook, Unhooked>>) {
        let Some(raw) = self.raw.part.get(index) else { return };
        let part = part(self.context, self.specs, index, raw);
        let member = Member::Part(index);
        let Some(port) = hook.and_then(|hook| self.port(hook, member, raw.after.as_ref())) else { return };
        let Some(part) = part else { return };
        let result = self.room.add(port, part);
        let added = self.hung(result, port, member, raw.after.as_ref());
        if let Some(slot) = self.placed.get_mut(index).filter(|_| added.is_some()) {
            *slot = added;
            self.parts.push(index);
        }
    }

    /// The port of a hook. A part that could not be placed has been noted already.
    fn port(&mut self, hook: &Result<Hook, Unhooked>, member: Member, after: Option<&Scalar<'_>>) -> Option<PortId> {
        let (parent, port) = match hook {
            Ok(Hook { part: None, .. }) => return Some(PortId::ENTRY),
            Ok(Hook { part: Some(parent), way }) => {
                let id = self.placed.get(*parent).copied().flatten()?;
                (*parent, self.room.port(id, way.unwrap_or(Way::Only)).ok())
            }
            Err(Unhooked::Noted) => return None,
            Err(Unhooked::NoSuchWay(parent)) => (*parent, None),
        };
        if port.is_none() {
            let text = after.map(ToString::to_string).unwrap_or_default();
            self.unknown_port(member.path().with("after"), &text, parent);
        }
        port
    }

    /// Notes that a part has no such way out, and which it has.
    fn unknown_port(&mut self, path: Path, text: &str, parent: usize) {
        let id = self.ids.parts.get(parent).copied().unwrap_or("");
        let placed = self.placed.get(parent).copied().flatten();
        let tree = self.room.tree();
        let known: Vec<String> = placed
            .and_then(|placed| tree.part(placed))
            .into_iter()
            .flat_map(|part: &Part<'_>| (0..part.ways()).filter_map(|number| part.way(number)))
            .map(|way| port_text(id, way))
            .collect();
        let (says, near) = match known.as_slice() {
            // A part of which nothing is known has been noted; its ports may well be there.
            [] => return,
            [only] => (format!("there is no such port; `{id}` has one way out, `{only}`"), Some(only.as_str())),
            several => {
                // One number is as good as another, so a wrong one suggests none.
                let word = text != id && !text.ends_with(|letter: char| letter.is_ascii_digit());
                let near = nearest(text, several.iter().map(String::as_str)).filter(|_| word);
                (format!("there is no such port; `{id}` has {}", several.join(", ")), near)
            }
        };
        self.context.note(Problem::new(path, text, says).suggest(near));
    }

    /// Notes why something could not be hung on a port, or who hangs there now.
    fn hung<T>(
        &mut self,
        result: Result<T, Error>,
        port: PortId,
        member: Member,
        after: Option<&Scalar<'_>>,
    ) -> Option<T> {
        let error = match result {
            Ok(added) => return Some(added),
            Err(error) => error,
        };
        let text = after.map(ToString::to_string).unwrap_or_default();
        let at = member.path().with("after");
        let problem = match error {
            Error::PortTaken => {
                let says = "one port takes one part, outlet or supply, and this one is used";
                self.used_by(Problem::new(at, text, says), port, "it is used here first")
            }
            Error::DcOnly => {
                let says = "this port carries DC only; a supply, or a cable or joint on the way to one, can hang here";
                Problem::new(at, text, says)
            }
            error => Problem::new(member.path(), text, error.to_string()),
        };
        self.context.note(problem);
        None
    }

    /// The problem with the place of whatever hangs on a port.
    fn used_by(&self, problem: Problem, port: PortId, says: &str) -> Problem {
        let member = match self.room.tree().occupant(port) {
            Some(Occupant::Part(part)) => self.parts.get(part.index()).map(|index| Member::Part(*index)),
            Some(Occupant::Outlet(outlet)) => {
                self.outlets.iter().position(|added| *added == Some(outlet)).map(Member::Outlet)
            }
            Some(Occupant::Supply(supply)) => self.supplies.get(supply.index()).map(|index| Member::Supply(*index)),
            _ => None,
        };
        match member {
            Some(member) => problem.second(member.path().with("after"), says),
            None => problem,
        }
    }

    fn outlet(&mut self, index: usize, raw: &raw::Outlet<'_>) -> Option<OutletId> {
        let member = Member::Outlet(index);
        let device = match &raw.device {
            Some(device) => self.context.word(device, || member.path().with("device"), &DEVICES),
            None => {
                self.context.missing(member.path(), "device", "one of modem, voice-modem, set-top, tv, unused");
                None
            }
        };
        let lifeline = self.context.flag(raw.lifeline.as_ref(), || member.path().with("lifeline"));
        let hook = hook(self.context, &self.ids, member, raw.after.as_ref());
        let port = self.port(&hook, member, raw.after.as_ref())?;
        let device = device?;
        let outlet = if lifeline { Outlet::lifeline(device) } else { Outlet::new(device) };
        let result = self.room.add_outlet(port, outlet);
        self.hung(result, port, member, raw.after.as_ref())
    }

    fn supply(&mut self, index: usize, raw: &raw::Supply<'_>) {
        let member = Member::Supply(index);
        let table = || member.path();
        let volts = self.context.need(raw.volts.as_ref(), table, "volts", quantity::volts);
        let amps = self.context.need(raw.amps.as_ref(), table, "amps", quantity::amps);
        let spread = self.context.maybe(raw.spread.as_ref(), table, "spread", quantity::percent);
        let source = self.context.maybe(raw.source_ohms.as_ref(), table, "source_ohms", quantity::ohms);
        let hook = hook(self.context, &self.ids, member, raw.after.as_ref());
        let Some(port) = self.port(&hook, member, raw.after.as_ref()) else { return };
        let (Some(volts), Some(amps)) = (volts, amps) else { return };
        let supply = Supply::new(volts, amps).with(spread.unwrap_or_default(), source.unwrap_or_default());
        let result = self.room.add_supply(port, supply);
        if self.hung(result, port, member, raw.after.as_ref()).is_some() {
            self.supplies.push(index);
        }
    }

    fn terminators(&mut self, index: usize, raw: &raw::Part<'_>) {
        let Some(part) = self.placed.get(index).copied().flatten() else { return };
        for (number, way) in raw.terminated.iter().flatten().enumerate() {
            let at = || route!["part", index, "terminated", number];
            let text = way.to_string();
            let only = self.room.port(part, Way::Only).ok().filter(|_| text == "1" || raw.id.as_ref() == Some(way));
            let port = only.or_else(|| read_way(&text).and_then(|way| self.room.port(part, way).ok()));
            let Some(port) = port else {
                self.unknown_port(at(), &text, index);
                continue;
            };
            if !self.room.tree().carries_signal(port) {
                self.context.note(Problem::new(at(), text, "this port carries DC only and takes no terminator"));
            } else if self.room.tree().occupant(port) == Some(Occupant::Terminator) {
                self.context.note(Problem::new(at(), text, "this port has a terminator already"));
            } else if self.room.terminate(port).is_err() {
                let problem = Problem::new(at(), text, "a terminator can't stand on a port that is used");
                let problem = self.used_by(problem, port, "it is used here");
                self.context.note(problem);
            }
        }
    }

    fn members(&mut self) {
        let Some(network) = &self.raw.home_network else { return };
        if network.members.is_none() {
            self.context.missing(route!["home_network"], "members", "a list of outlets");
        }
        for (index, member) in network.members.iter().flatten().enumerate() {
            let at = || route!["home_network", "members", index];
            let text = member.text().unwrap_or_default();
            let Some(Member::Outlet(outlet)) = self.ids.find(text) else {
                let problem = Problem::new(at(), member.to_string(), "there is no outlet of that id").following();
                self.context.note(problem.suggest(self.ids.near_outlet(text)));
                continue;
            };
            // One that hangs nowhere has been noted.
            let Some(outlet) = self.outlets.get(outlet).copied().flatten() else { continue };
            if self.room.tree().members().contains(&outlet) {
                self.context.note(Problem::new(at(), text, "this outlet is a member already"));
            } else if let Err(error) = self.room.join(outlet) {
                self.context.note(Problem::new(at(), text, error.to_string()));
            }
        }
    }
}
