//! One change to a home, and what it makes of a draft.

use super::draft::{Draft, Hook, Node, Origin, Plugged, Thing};
use crate::parts::{Part, Way};
use crate::plan::menu::{is_like, signal_ways};
use crate::plan::{Item, Stocked};

/// The most ways out of one part: an amplifier's sixteen outputs, its passive port and its power port.
pub const WAYS: usize = 18;

/// Where each way out of a part goes when it is swapped.
pub(super) type Ways = [u8; WAYS];

/// A change.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Edit {
    /// A part for one of the stock; what hung on a way out hangs on another then.
    Swap { node: u16, item: u16, ways: Ways },
    /// A part of the stock before something.
    Put { before: Thing, item: u16 },
    /// An inserter of the stock before something, with a supply.
    Insert { before: Thing, item: u16, supply: u16 },
    /// A supply at the power port of an amplifier.
    Plug { node: u16, supply: u16 },
    /// A part or a supply away.
    Take(Thing),
    /// Something to a free port.
    Move { thing: Thing, to: Hook },
}

impl<'s, const NODES: usize, const OUTLETS: usize> Draft<'s, NODES, OUTLETS> {
    /// Makes a change. [`None`] where it can't be made.
    pub(super) fn make(&mut self, edit: &Edit, stock: &[Item<'s>]) -> Option<()> {
        match *edit {
            Edit::Swap { node, item, ways } => self.swap(node, item, &ways, stock),
            Edit::Put { before, item } => {
                let part = stock.get(item as usize)?.part()?;
                self.insert(before, part, item).map(|_| ())
            }
            Edit::Insert { before, item, supply } => {
                let part = stock.get(item as usize)?.part()?;
                let node = self.insert(before, part, item)?;
                self.plug(Hook { node, way: part.number(Way::Dc)? }, supply, stock)
            }
            Edit::Plug { node, supply } => {
                let way = self.node(node)?.part.number(Way::Power)?;
                self.plug(Hook { node, way }, supply, stock)
            }
            Edit::Take(Thing::Supply(at)) => {
                self.supplies.get_mut(at as usize)?.is_there = false;
                Some(())
            }
            Edit::Take(Thing::Node(at)) => {
                let hook = self.node(at)?.hook;
                let child = self.on(Hook { node: at, way: 0 });
                self.nodes.get_mut(at as usize)?.is_there = false;
                if let Some(child) = child {
                    self.hang(child, hook);
                }
                Some(())
            }
            Edit::Take(Thing::Outlet(_)) => None,
            Edit::Move { thing, to } => {
                self.hang(thing, to);
                Some(())
            }
        }
    }

    fn swap(&mut self, node: u16, item: u16, ways: &Ways, stock: &[Item<'s>]) -> Option<()> {
        let old = self.node(node)?.part;
        let part = swapped(&old, stock.get(item as usize)?)?;
        let mut moved = [None; WAYS];
        for (way, slot) in moved.iter_mut().enumerate() {
            *slot = self.on(Hook { node, way: way as u8 });
        }
        for (thing, way) in moved.iter().zip(ways) {
            if let Some(thing) = thing {
                self.hang(*thing, Hook { node, way: *way });
            }
        }
        let node = self.nodes.get_mut(node as usize)?;
        node.part = part;
        node.origin = Origin::Stock(item.into());
        Some(())
    }

    fn insert(&mut self, before: Thing, part: Part<'s>, item: u16) -> Option<u16> {
        let hook = self.hook(before)?;
        let at = self.nodes.len() as u16;
        self.nodes.push(Node { part, origin: Origin::Stock(item.into()), hook, is_there: true }).ok()?;
        self.hang(before, Hook { node: at, way: 0 });
        Some(at)
    }

    fn plug(&mut self, hook: Hook, item: u16, stock: &[Item<'s>]) -> Option<()> {
        let Stocked::Supply(supply) = stock.get(item as usize)?.what else { return None };
        self.supplies.push(Plugged { supply, origin: Origin::Stock(item.into()), hook, is_there: true }).ok()
    }

    /// The ways of a swap by number, from 0: what hangs on a part to the ways out of another, each once. [`None`] past
    /// the last; `Some(None)` for one that comes to the same as an earlier one.
    pub(super) fn swap_ways(&self, node: u16, part: &Part<'s>, number: u32) -> Option<Option<Ways>> {
        let old = self.node(node)?.part;
        let mut ways: Ways = [u8::MAX; WAYS];
        let free = signal_ways(part);
        let mut taken = [false; WAYS];
        let mut rest = number;
        let mut left = u32::from(free);
        let mut is_new = true;
        for way in 0..old.ways() {
            if self.on(Hook { node, way }).is_none() {
                continue;
            }
            let slot = ways.get_mut(usize::from(way))?;
            if old.is_dc_only(way) {
                *slot = part.number(old.way(way)?)?;
                continue;
            }
            let chosen = rest.checked_rem(left)?;
            rest /= left;
            left -= 1;
            // The chosen one of the ways that are still free.
            let mut open = (0..free).filter(|way| taken.get(usize::from(*way)) == Some(&false));
            let to = open.nth(chosen as usize)?;
            // Of ways alike that of the same number does, or the first free one.
            let does = |other: u8| taken.get(usize::from(other)) == Some(&false) && is_like(part, other, to);
            let earlier = way != to && (way < free && does(way) || (0..to).any(does));
            is_new &= !earlier;
            *slot = to;
            *taken.get_mut(usize::from(to))? = true;
        }
        if rest > 0 {
            return None;
        }
        Some(is_new.then_some(ways))
    }
}

/// What a part of a home becomes when it is swapped for an item; [`None`] where that is no swap.
pub(super) fn swapped<'s>(old: &Part<'s>, item: &Item<'s>) -> Option<Part<'s>> {
    match (*old, item.what) {
        (Part::Cable { spec, length, place }, Stocked::Cable(other)) => {
            (spec != other).then_some(Part::Cable { spec: other, length, place })
        }
        (Part::Bond(_, conductor), Stocked::Part(Part::Bond(spec, _))) => Some(Part::Bond(spec, conductor)),
        // A bond stays a bond, and a run of cable a run.
        (Part::Cable { .. } | Part::Bond(..), _) | (_, Stocked::Part(Part::Cable { .. } | Part::Bond(..))) => None,
        (_, Stocked::Part(part)) => Some(part),
        _ => None,
    }
}

/// Whether a part may be put before something, or taken from before it: it has one way out, is no run of cable, and no
/// bond, which is for safety and stays.
pub(super) fn is_loose(part: &Part<'_>) -> bool {
    signal_ways(part) == 1 && !matches!(part, Part::Cable { .. } | Part::Bond(..))
}

/// What a change takes from the stock: at most two items.
pub(super) fn taken(edit: &Edit) -> impl Iterator<Item = u16> + use<> {
    let (first, second) = match *edit {
        Edit::Swap { item, .. } | Edit::Put { item, .. } => (Some(item), None),
        Edit::Insert { item, supply, .. } => (Some(item), Some(supply)),
        Edit::Plug { supply, .. } => (Some(supply), None),
        Edit::Take(_) | Edit::Move { .. } => (None, None),
    };
    first.into_iter().chain(second)
}

/// What a change costs, in hundredths.
pub(super) fn cost(edit: &Edit, stock: &[Item<'_>]) -> u32 {
    taken(edit).filter_map(|item| stock.get(item as usize)).fold(0, |sum, item| sum.saturating_add(item.cost))
}
