//! A home that changes: parts, outlets and supplies by the ports they hang on.

use heapless::Vec;

use crate::parts::{Part, Way};
use crate::plan::Build;
use crate::{Error, Occupant, Outlet, PartId, PortId, Supply, Tree};

/// Where something comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub enum Origin {
    /// The home as it was: its number there.
    Home(usize),
    /// The stock: its place there.
    Stock(usize),
}

/// A port: a way out of a part of the draft.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Hook {
    /// The part's node, [`Hook::ENTRY`] for the entry.
    pub(super) node: u16,
    pub(super) way: u8,
}

impl Hook {
    /// The point of entry.
    pub(super) const ENTRY: Self = Self { node: u16::MAX, way: 0 };
}

/// A part of the draft.
#[derive(Clone, Copy, Debug)]
pub(super) struct Node<'s> {
    pub(super) part: Part<'s>,
    pub(super) origin: Origin,
    pub(super) hook: Hook,
    pub(super) is_there: bool,
}

/// A supply of the draft.
#[derive(Clone, Copy, Debug)]
pub(super) struct Plugged {
    pub(super) supply: Supply,
    pub(super) origin: Origin,
    pub(super) hook: Hook,
    pub(super) is_there: bool,
}

/// Something that hangs on a port.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Thing {
    Node(u16),
    Outlet(u16),
    Supply(u16),
}

/// A home of at most `NODES` parts, changes included.
#[derive(Clone, Debug)]
pub(super) struct Draft<'s, const NODES: usize, const OUTLETS: usize> {
    pub(super) nodes: Vec<Node<'s>, NODES>,
    pub(super) outlets: Vec<(Outlet, Hook), OUTLETS>,
    pub(super) supplies: Vec<Plugged, 16>,
}

impl<'s, const NODES: usize, const OUTLETS: usize> Draft<'s, NODES, OUTLETS> {
    pub(super) const fn new() -> Self {
        Self { nodes: Vec::new(), outlets: Vec::new(), supplies: Vec::new() }
    }

    /// Reads a home.
    ///
    /// # Errors
    /// [`Error::Full`] where it finds no room.
    pub(super) fn read(&mut self, tree: &Tree<'_, 's>) -> Result<(), Error> {
        *self = Self::new();
        let hook = |port: PortId| match tree.owner(port) {
            Some((part, way)) => Hook { node: part.index() as u16, way },
            None => Hook::ENTRY,
        };
        for (index, (id, part)) in tree.parts().enumerate() {
            let hook = hook(tree.after(id).unwrap_or(PortId::ENTRY));
            let node = Node { part: *part, origin: Origin::Home(index), hook, is_there: true };
            self.nodes.push(node).map_err(|_| Error::Full { what: "parts", capacity: NODES })?;
        }
        for outlet in tree.outlets() {
            let outlet = (*outlet, hook(outlet.port()));
            self.outlets.push(outlet).map_err(|_| Error::Full { what: "outlets", capacity: OUTLETS })?;
        }
        for (index, supply) in tree.supplies().iter().enumerate() {
            let hook = hook(supply.port());
            let plugged = Plugged { supply: *supply, origin: Origin::Home(index), hook, is_there: true };
            self.supplies.push(plugged).map_err(|_| Error::Full { what: "supplies", capacity: 16 })?;
        }
        Ok(())
    }

    /// Builds it on a bench, every way out that is left open with a terminator. Outlets keep their numbers; `order`
    /// says which node each part of the built home is.
    ///
    /// # Errors
    /// What a bench may answer: [`Error::Full`], [`Error::DcOnly`], [`Error::PortTaken`].
    pub(super) fn build<B: Build<'s>>(
        &self,
        frame: &Frame<'_>,
        bench: &mut B,
        order: &mut Vec<u16, NODES>,
    ) -> Result<(), Error> {
        bench.clear(frame.network);
        order.clear();
        // Whatever hangs on the entry, then what hangs on what was placed: a part always follows its parent.
        let mut done = 0;
        self.place(Hook::ENTRY.node, bench, order)?;
        while let Some(node) = order.get(done).copied() {
            done += 1;
            self.place(node, bench, order)?;
        }
        for (outlet, hook) in &self.outlets {
            let port = port(*hook, bench, order)?;
            bench.add_outlet(port, *outlet)?;
        }
        for member in frame.members {
            bench.join(*member)?;
        }
        for plugged in self.supplies.iter().filter(|plugged| plugged.is_there) {
            let port = port(plugged.hook, bench, order)?;
            bench.add_supply(port, plugged.supply)?;
        }
        for index in 0..bench.tree().port_count() {
            let port = PortId(index as u16);
            let tree = bench.tree();
            if tree.carries_signal(port) && tree.occupant(port) == Some(Occupant::Open) {
                bench.terminate(port)?;
            }
        }
        Ok(())
    }

    /// Places what hangs on the ways out of a node.
    fn place<B: Build<'s>>(&self, owner: u16, bench: &mut B, order: &mut Vec<u16, NODES>) -> Result<(), Error> {
        for (index, node) in self.nodes.iter().enumerate() {
            if node.is_there && node.hook.node == owner {
                let port = port(node.hook, bench, order)?;
                bench.add(port, node.part)?;
                order.push(index as u16).map_err(|_| Error::Full { what: "parts", capacity: NODES })?;
            }
        }
        Ok(())
    }

    /// What hangs on a port.
    pub(super) fn on(&self, hook: Hook) -> Option<Thing> {
        let node =
            self.nodes.iter().position(|node| node.is_there && node.hook == hook).map(|at| Thing::Node(at as u16));
        let outlet = || self.outlets.iter().position(|(_, at)| *at == hook).map(|at| Thing::Outlet(at as u16));
        let plugged = |plugged: &Plugged| plugged.is_there && plugged.hook == hook;
        node.or_else(outlet).or_else(|| self.supplies.iter().position(plugged).map(|at| Thing::Supply(at as u16)))
    }

    /// The port that something hangs on; [`None`] where it is not there.
    pub(super) fn hook(&self, thing: Thing) -> Option<Hook> {
        match thing {
            Thing::Node(at) => self.nodes.get(at as usize).filter(|node| node.is_there).map(|node| node.hook),
            Thing::Outlet(at) => self.outlets.get(at as usize).map(|(_, hook)| *hook),
            Thing::Supply(at) => {
                self.supplies.get(at as usize).filter(|plugged| plugged.is_there).map(|plugged| plugged.hook)
            }
        }
    }

    /// Hangs something elsewhere.
    pub(super) fn hang(&mut self, thing: Thing, hook: Hook) {
        match thing {
            Thing::Node(at) => {
                if let Some(node) = self.nodes.get_mut(at as usize) {
                    node.hook = hook;
                }
            }
            Thing::Outlet(at) => {
                if let Some((_, own)) = self.outlets.get_mut(at as usize) {
                    *own = hook;
                }
            }
            Thing::Supply(at) => {
                if let Some(plugged) = self.supplies.get_mut(at as usize) {
                    plugged.hook = hook;
                }
            }
        }
    }

    /// A part that is there.
    pub(super) fn node(&self, at: u16) -> Option<&Node<'s>> {
        self.nodes.get(at as usize).filter(|node| node.is_there)
    }

    /// Whether a port is for DC alone.
    pub(super) fn is_dc_only(&self, hook: Hook) -> bool {
        let mut hook = hook;
        // What hangs on a port for DC alone carries DC alone as well.
        while let Some(node) = self.node(hook.node) {
            if matches!(node.part.way(hook.way), Some(Way::Power | Way::Dc)) {
                return true;
            }
            hook = node.hook;
        }
        false
    }

    /// Whether a port lies behind a part, or is one of its ways out.
    pub(super) fn is_behind(&self, hook: Hook, node: u16) -> bool {
        let mut hook = hook;
        // A draft has no loops, so this ends; the count says so to whoever does not know.
        for _ in 0..=NODES {
            if hook.node == node {
                return true;
            }
            match self.node(hook.node) {
                Some(above) => hook = above.hook,
                None => return false,
            }
        }
        false
    }
}

/// What stays as it is.
#[derive(Clone, Copy, Debug)]
pub(super) struct Frame<'f> {
    pub(super) network: Option<crate::HomeNetwork>,
    pub(super) members: &'f [crate::OutletId],
}

/// The port of a bench that a hook is.
fn port<'s>(hook: Hook, bench: &impl Build<'s>, order: &[u16]) -> Result<PortId, Error> {
    if hook.node == Hook::ENTRY.node {
        return Ok(PortId::ENTRY);
    }
    let part = order.iter().position(|node| *node == hook.node).ok_or(Error::NoSuch { what: "part" })?;
    bench.port(PartId(part as u16), hook.way)
}
