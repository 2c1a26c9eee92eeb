//! Every change that can be made to a draft, one after the other.

use super::change::{Edit, is_loose, swapped};
use super::draft::{Draft, Hook, Thing};
use crate::Device;
use crate::parts::{Part, Way};
use crate::plan::{Item, Stocked};

/// How far the changes of a draft have been gone through.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Cursor {
    /// What is changed: nodes, then outlets, then supplies.
    thing: usize,
    /// What is done to it.
    verb: u8,
    /// By which item, or to which port, and in which way.
    item: usize,
    detail: u32,
}

const SWAP: u8 = 0;
const PUT: u8 = 1;
const INSERT: u8 = 2;
const PLUG: u8 = 3;
const TAKE: u8 = 4;
const MOVE: u8 = 5;

impl Cursor {
    /// The next change; [`None`] after the last.
    pub(super) fn next<'s, const NODES: usize, const OUTLETS: usize>(
        &mut self,
        draft: &Draft<'s, NODES, OUTLETS>,
        stock: &[Item<'s>],
    ) -> Option<Edit> {
        loop {
            let thing = thing(draft, self.thing)?;
            if draft.hook(thing).is_none() || self.verb > MOVE {
                *self = Self { thing: self.thing + 1, ..Self::default() };
                continue;
            }
            match self.step(draft, stock, thing) {
                Found::Edit(edit) => return Some(edit),
                Found::Nothing => {}
                Found::Over => *self = Self { thing: self.thing, verb: self.verb + 1, ..Self::default() },
            }
        }
    }

    fn step<'s, const NODES: usize, const OUTLETS: usize>(
        &mut self,
        draft: &Draft<'s, NODES, OUTLETS>,
        stock: &[Item<'s>],
        thing: Thing,
    ) -> Found {
        match self.verb {
            SWAP => self.swap(draft, stock, thing),
            PUT => self.put(draft, stock, thing),
            INSERT => self.insert(draft, stock, thing),
            PLUG => self.plug(draft, stock, thing),
            TAKE => self.take(draft, thing),
            MOVE => self.move_on(draft, thing),
            _ => Found::Over,
        }
    }

    fn swap<'s, const NODES: usize, const OUTLETS: usize>(
        &mut self,
        draft: &Draft<'s, NODES, OUTLETS>,
        stock: &[Item<'s>],
        thing: Thing,
    ) -> Found {
        let (Thing::Node(at), Some(item)) = (thing, stock.get(self.item)) else { return Found::Over };
        let Some(node) = draft.node(at) else { return Found::Over };
        let number = self.detail;
        self.detail += 1;
        let part = swapped(&node.part, item);
        let ways = part.and_then(|part| Some((part, draft.swap_ways(at, &part, number)?)));
        match ways {
            None => {
                (self.item, self.detail) = (self.item + 1, 0);
                Found::Nothing
            }
            Some((_, None)) => Found::Nothing,
            Some((part, Some(ways))) => {
                let stays = ways.iter().enumerate().all(|(way, to)| *to == u8::MAX || usize::from(*to) == way);
                if part == node.part && stays {
                    return Found::Nothing;
                }
                Found::Edit(Edit::Swap { node: at, item: self.item as u16, ways })
            }
        }
    }

    fn put<'s, const NODES: usize, const OUTLETS: usize>(
        &mut self,
        draft: &Draft<'s, NODES, OUTLETS>,
        stock: &[Item<'s>],
        before: Thing,
    ) -> Found {
        let (Some(item), Some(hook)) = (stock.get(self.item), draft.hook(before)) else { return Found::Over };
        if draft.is_dc_only(hook) || matches!(before, Thing::Supply(_)) {
            return Found::Over;
        }
        self.item += 1;
        match item.part() {
            Some(part) if is_loose(&part) && !matches!(part, Part::Inserter(_)) => {
                Found::Edit(Edit::Put { before, item: self.item as u16 - 1 })
            }
            _ => Found::Nothing,
        }
    }

    fn insert<'s, const NODES: usize, const OUTLETS: usize>(
        &mut self,
        draft: &Draft<'s, NODES, OUTLETS>,
        stock: &[Item<'s>],
        before: Thing,
    ) -> Found {
        let (Some(item), Some(hook)) = (stock.get(self.item), draft.hook(before)) else { return Found::Over };
        if draft.is_dc_only(hook) || matches!(before, Thing::Supply(_)) {
            return Found::Over;
        }
        let supply = self.detail as usize;
        self.detail += 1;
        let is_inserter = matches!(item.part(), Some(Part::Inserter(_)));
        match stock.get(supply) {
            Some(other) if is_inserter && matches!(other.what, Stocked::Supply(_)) => {
                Found::Edit(Edit::Insert { before, item: self.item as u16, supply: supply as u16 })
            }
            Some(_) if is_inserter => Found::Nothing,
            _ => {
                (self.item, self.detail) = (self.item + 1, 0);
                Found::Nothing
            }
        }
    }

    fn plug<'s, const NODES: usize, const OUTLETS: usize>(
        &mut self,
        draft: &Draft<'s, NODES, OUTLETS>,
        stock: &[Item<'s>],
        thing: Thing,
    ) -> Found {
        let (Thing::Node(node), Some(item)) = (thing, stock.get(self.item)) else { return Found::Over };
        let power = draft.node(node).and_then(|node| node.part.number(Way::Power));
        if power.is_none_or(|way| draft.on(Hook { node, way }).is_some()) {
            return Found::Over;
        }
        self.item += 1;
        if matches!(item.what, Stocked::Supply(_)) {
            return Found::Edit(Edit::Plug { node, supply: self.item as u16 - 1 });
        }
        Found::Nothing
    }

    fn take<const NODES: usize, const OUTLETS: usize>(
        &mut self,
        draft: &Draft<'_, NODES, OUTLETS>,
        thing: Thing,
    ) -> Found {
        if self.item > 0 {
            return Found::Over;
        }
        self.item = 1;
        let may = match thing {
            Thing::Outlet(_) => false,
            Thing::Supply(_) => true,
            Thing::Node(at) => draft.node(at).is_some_and(|node| {
                let is_fed = (1..node.part.ways()).any(|way| draft.on(Hook { node: at, way }).is_some());
                is_loose(&node.part) && !is_fed
            }),
        };
        if may { Found::Edit(Edit::Take(thing)) } else { Found::Over }
    }

    /// `item` and `detail` are the port to move to.
    fn move_on<const NODES: usize, const OUTLETS: usize>(
        &mut self,
        draft: &Draft<'_, NODES, OUTLETS>,
        thing: Thing,
    ) -> Found {
        let Some(from) = draft.hook(thing) else { return Found::Over };
        if self.item >= draft.nodes.len() {
            return Found::Over;
        }
        let to = Hook { node: self.item as u16, way: self.detail as u8 };
        if draft.node(to.node).is_none_or(|node| self.detail >= u32::from(node.part.ways())) {
            (self.item, self.detail) = (self.item + 1, 0);
            return Found::Nothing;
        }
        self.detail += 1;
        let is_within = match thing {
            Thing::Node(at) => draft.is_behind(to, at),
            _ => false,
        };
        let wants_dc = matches!(thing, Thing::Supply(_)) || draft.is_dc_only(from);
        if to == from || is_within || draft.is_dc_only(to) != wants_dc || draft.on(to).is_some() {
            return Found::Nothing;
        }
        Found::Edit(Edit::Move { thing, to })
    }
}

/// What one step comes to.
enum Found {
    Edit(Edit),
    Nothing,
    Over,
}

/// The things of a draft by number.
fn thing<const NODES: usize, const OUTLETS: usize>(draft: &Draft<'_, NODES, OUTLETS>, number: usize) -> Option<Thing> {
    let (nodes, outlets) = (draft.nodes.len(), draft.outlets.len());
    if number < nodes {
        return Some(Thing::Node(number as u16));
    }
    if number < nodes + outlets {
        return Some(Thing::Outlet((number - nodes) as u16));
    }
    let supply = number - nodes - outlets;
    (supply < draft.supplies.len()).then_some(Thing::Supply(supply as u16))
}

/// Whether a home has a jack with nothing on it, which no change makes good.
pub(super) fn has_unused<const NODES: usize, const OUTLETS: usize>(draft: &Draft<'_, NODES, OUTLETS>) -> bool {
    draft.outlets.iter().any(|(outlet, _)| outlet.device == Device::Unused)
}
