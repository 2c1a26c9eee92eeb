//! A plan as a search writes it down, and how it is built.

use heapless::Vec;

use super::bench::Build;
use super::need::{Item, Need, Stocked};
use crate::{Device, Error, Outlet, Part, PartId, PortId};

/// The most supplies that a plan takes.
pub const MOST_SUPPLIES: usize = 4;

/// What stands at a way out of a panel.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Fill {
    /// A part: its place in the stock.
    Part(u16),
    /// The run of an outlet: its place in the need.
    Run(u16),
    /// A terminator.
    Closed,
}

/// A way out in a panel and what stands there. Parts stand before what hangs on them.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Node {
    pub(super) fill: Fill,
    /// The node whose part it hangs on, [`Node::PANEL`] for the panel itself.
    pub(super) owner: u16,
    pub(super) way: u8,
}

impl Node {
    pub(super) const PANEL: u16 = u16::MAX;
}

/// Where a supply stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Socket {
    /// At the power port of the amplifier of a node.
    Panel(u16),
    /// Behind an inserter before an outlet.
    Outlet {
        /// The outlet's place in the need.
        outlet: u16,
        /// The inserter's place in the stock.
        inserter: u16,
    },
}

/// A supply and where it stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Feeding {
    /// The supply's place in the stock.
    pub(super) supply: u16,
    pub(super) socket: Socket,
}

/// Where a part of a built plan comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub enum Origin {
    /// The cable from the entry to the panel.
    LeadIn,
    /// The stock, by its place there.
    Stock(usize),
    /// The run of an outlet, by its place in the need.
    Run(usize),
}

/// The tree at a panel: at most `NODES` ways out.
#[derive(Clone, Debug, Default)]
pub(super) struct Design<const NODES: usize> {
    pub(super) nodes: Vec<Node, NODES>,
    pub(super) feedings: Vec<Feeding, MOST_SUPPLIES>,
}

impl<const NODES: usize> Design<NODES> {
    pub(super) const fn new() -> Self {
        Self { nodes: Vec::new(), feedings: Vec::new() }
    }

    /// Builds it on a bench; `placed` hears of every part in the order in which it is numbered. Outlets and supplies
    /// are numbered as in the need and in the plan.
    ///
    /// # Errors
    /// [`Error::Full`] where the bench is too small.
    pub(super) fn build<'s>(
        &self,
        need: &Need<'_, 's>,
        stock: &[Item<'s>],
        bench: &mut impl Build<'s>,
        mut placed: impl FnMut(Origin),
    ) -> Result<(), Error> {
        let parts = self.build_parts(need, stock, bench, &mut placed)?;
        let panel = self.panel(need, bench)?;
        for (index, wanted) in need.outlets.iter().enumerate() {
            let Some(node) = self.nodes.iter().find(|node| node.fill == Fill::Run(index as u16)) else { continue };
            let run = bench.add(at(&parts, node, panel, bench)?, wanted.run.part())?;
            placed(Origin::Run(index));
            let mut end = bench.port(run, 0)?;
            if let Some(inserter) = self.inserter(index) {
                let inserter_id = bench.add(end, stocked(stock, inserter)?)?;
                placed(Origin::Stock(inserter.into()));
                end = bench.port(inserter_id, 0)?;
            }
            let outlet = bench.add_outlet(end, wanted.outlet)?;
            if wanted.member && need.network.is_some() {
                bench.join(outlet)?;
            }
        }
        for node in self.nodes.iter().filter(|node| node.fill == Fill::Closed) {
            let port = at(&parts, node, panel, bench)?;
            bench.terminate(port)?;
        }
        for feeding in &self.feedings {
            let Some(Stocked::Supply(supply)) = stock.get(feeding.supply as usize).map(|item| item.what) else {
                continue;
            };
            let port = match feeding.socket {
                Socket::Panel(node) => {
                    let id = parts.get(node as usize).copied().ok_or(Error::NoSuch { what: "part" })?;
                    let last = bench.tree().part(id).map_or(0, Part::ways).saturating_sub(1);
                    bench.port(id, last)?
                }
                Socket::Outlet { outlet, .. } => dc_port(bench, outlet)?,
            };
            bench.add_supply(port, supply)?;
        }
        Ok(())
    }

    /// Builds the parts alone, with a modem right at each of these ways out, in their order, all of them members of the
    /// home network.
    ///
    /// # Errors
    /// [`Error::Full`] where the bench is too small.
    pub(super) fn build_bare<'s>(
        &self,
        need: &Need<'_, 's>,
        stock: &[Item<'s>],
        bench: &mut impl Build<'s>,
        ways: &[u16],
    ) -> Result<(), Error> {
        let parts = self.build_parts(need, stock, bench, &mut |_| {})?;
        for way in ways {
            let Some(node) = self.nodes.get(*way as usize) else { continue };
            let port = at(&parts, node, self.panel(need, bench)?, bench)?;
            let outlet = bench.add_outlet(port, Outlet::new(Device::Modem))?;
            if need.network.is_some() {
                bench.join(outlet)?;
            }
        }
        Ok(())
    }

    /// Builds the lead-in and the parts, and says which part each node is.
    fn build_parts<'s>(
        &self,
        need: &Need<'_, 's>,
        stock: &[Item<'s>],
        bench: &mut impl Build<'s>,
        placed: &mut impl FnMut(Origin),
    ) -> Result<Vec<PartId, NODES>, Error> {
        bench.clear(need.network);
        let panel = lead_in(need, bench, placed)?;
        let mut parts: Vec<PartId, NODES> = Vec::new();
        for node in &self.nodes {
            let mut id = PartId(u16::MAX);
            if let Fill::Part(item) = node.fill {
                id = bench.add(at(&parts, node, panel, bench)?, stocked(stock, item)?)?;
                placed(Origin::Stock(item.into()));
            }
            parts.push(id).map_err(|_| Error::Full { what: "ways out of a panel", capacity: NODES })?;
        }
        Ok(parts)
    }

    /// The panel's port.
    fn panel<'s>(&self, need: &Need<'_, 's>, bench: &impl Build<'s>) -> Result<PortId, Error> {
        if need.lead_in.is_none() { Ok(PortId::ENTRY) } else { bench.port(PartId(0), 0) }
    }

    /// The inserter before an outlet, if there is one.
    fn inserter(&self, index: usize) -> Option<u16> {
        self.feedings.iter().find_map(|feeding| match feeding.socket {
            Socket::Outlet { outlet, inserter } if outlet as usize == index => Some(inserter),
            _ => None,
        })
    }
}

/// Lays the cable from the entry to the panel, and says where the panel is.
pub(super) fn lead_in<'s>(
    need: &Need<'_, 's>,
    bench: &mut impl Build<'s>,
    placed: &mut impl FnMut(Origin),
) -> Result<PortId, Error> {
    let Some(run) = need.lead_in else { return Ok(PortId::ENTRY) };
    let id = bench.add(PortId::ENTRY, run.part())?;
    placed(Origin::LeadIn);
    bench.port(id, 0)
}

/// The part at a place of a stock.
pub(super) fn stocked<'s>(stock: &[Item<'s>], item: u16) -> Result<Part<'s>, Error> {
    stock.get(item as usize).and_then(Item::part).ok_or(Error::NoSuch { what: "part in the stock" })
}

fn at<'s>(parts: &[PartId], node: &Node, panel: PortId, bench: &impl Build<'s>) -> Result<PortId, Error> {
    if node.owner == Node::PANEL {
        return Ok(panel);
    }
    let owner = parts.get(node.owner as usize).copied().ok_or(Error::NoSuch { what: "part" })?;
    bench.port(owner, node.way)
}

/// The port for DC of the inserter before an outlet: it follows the one that the outlet hangs on.
fn dc_port<'s>(bench: &impl Build<'s>, outlet: u16) -> Result<PortId, Error> {
    let tree = bench.tree();
    let port = tree.outlets().get(outlet as usize).ok_or(Error::NoSuch { what: "outlet" })?.port();
    let (inserter, _) = tree.owner(port).ok_or(Error::NoSuch { what: "inserter" })?;
    bench.port(inserter, 1)
}
