//! The bench on which candidates are put together and checked.

use crate::check::Pair;
use crate::{
    Device, Error, HomeNetwork, Limits, Margin, Outlet, OutletId, Part, PartId, PortId, Premises, Report, Supply, Tree,
    Workspace,
};

/// A home and the room to check it in. A search builds one candidate after the other here, and what
/// [`Workspace::check`] says of it is what counts: there is no second set of rules.
///
/// `MARGINS` is three more than the outlets, `PAIRS` their square, or nought where no search has to know what passes
/// between any two: then it may take longer.
#[derive(Debug)]
pub struct Bench<
    's,
    const PARTS: usize,
    const PORTS: usize,
    const OUTLETS: usize,
    const SUPPLIES: usize,
    const MARGINS: usize,
    const PAIRS: usize,
    const ROWS: usize,
    const CELLS: usize,
    const AMPLIFIERS: usize,
    const FINDINGS: usize,
> {
    /// The home: its service, entry, climate, limits and targets are what candidates are judged by.
    pub home: Premises<'s, PARTS, PORTS, OUTLETS, SUPPLIES>,
    room: Workspace<PORTS, ROWS, CELLS, AMPLIFIERS, FINDINGS>,
    margins: [Margin; MARGINS],
    pairs: [Pair; PAIRS],
}

impl<
    's,
    const PARTS: usize,
    const PORTS: usize,
    const OUTLETS: usize,
    const SUPPLIES: usize,
    const MARGINS: usize,
    const PAIRS: usize,
    const ROWS: usize,
    const CELLS: usize,
    const AMPLIFIERS: usize,
    const FINDINGS: usize,
> Bench<'s, PARTS, PORTS, OUTLETS, SUPPLIES, MARGINS, PAIRS, ROWS, CELLS, AMPLIFIERS, FINDINGS>
{
    /// A bench for candidates of this home; what stands in it is taken away.
    #[must_use]
    pub const fn new(home: Premises<'s, PARTS, PORTS, OUTLETS, SUPPLIES>) -> Self {
        const { assert!(MARGINS >= OUTLETS + Margin::FURTHER, "a bench needs three more margins than outlets") };
        Self { home, room: Workspace::new(), margins: [Margin::NONE; MARGINS], pairs: [[0.0; 2]; PAIRS] }
    }
}

/// What a search asks of a bench, whatever its capacities.
pub trait Build<'s> {
    /// Takes everything away.
    fn clear(&mut self, network: Option<HomeNetwork>);
    /// As [`Premises::add`].
    ///
    /// # Errors
    /// As there.
    fn add(&mut self, after: PortId, part: Part<'s>) -> Result<PartId, Error>;
    /// As [`Premises::port_number`].
    ///
    /// # Errors
    /// As there.
    fn port(&self, part: PartId, number: u8) -> Result<PortId, Error>;
    /// As [`Premises::add_outlet`].
    ///
    /// # Errors
    /// As there.
    fn add_outlet(&mut self, after: PortId, outlet: Outlet) -> Result<OutletId, Error>;
    /// As [`Premises::add_supply`].
    ///
    /// # Errors
    /// As there.
    fn add_supply(&mut self, after: PortId, supply: Supply) -> Result<(), Error>;
    /// As [`Premises::terminate`].
    ///
    /// # Errors
    /// As there.
    fn terminate(&mut self, port: PortId) -> Result<(), Error>;
    /// As [`Premises::join`].
    ///
    /// # Errors
    /// As there.
    fn join(&mut self, outlet: OutletId) -> Result<(), Error>;
    /// The home as it stands.
    fn tree(&self) -> Tree<'_, 's>;
    /// Checks it; [`Report::margins`] says how near each figure comes to its limit.
    ///
    /// # Errors
    /// As [`Workspace::check_margins`].
    fn check(&mut self) -> Result<Report<'_, 's>, Error>;
    /// Of how many outlets [`pairs`](Self::pairs) can be known.
    fn pair_room(&self) -> usize;
    /// What each outlet would hear of a modem at each other, in dBmV, and the loss of the link between them, in dB: one
    /// row for each outlet. What is not limited is infinitely little. [`None`] where there is no room to know.
    ///
    /// # Errors
    /// As [`Workspace::check_margins`].
    fn pairs(&mut self) -> Result<Option<&[[f32; 2]]>, Error>;
}

impl<
    's,
    const PARTS: usize,
    const PORTS: usize,
    const OUTLETS: usize,
    const SUPPLIES: usize,
    const MARGINS: usize,
    const PAIRS: usize,
    const ROWS: usize,
    const CELLS: usize,
    const AMPLIFIERS: usize,
    const FINDINGS: usize,
> Build<'s> for Bench<'s, PARTS, PORTS, OUTLETS, SUPPLIES, MARGINS, PAIRS, ROWS, CELLS, AMPLIFIERS, FINDINGS>
{
    fn clear(&mut self, network: Option<HomeNetwork>) {
        self.home.clear();
        if let Some(network) = network {
            self.home.set_home_network(network);
        }
    }

    fn add(&mut self, after: PortId, part: Part<'s>) -> Result<PartId, Error> {
        self.home.add(after, part)
    }

    fn port(&self, part: PartId, number: u8) -> Result<PortId, Error> {
        self.home.port_number(part, number)
    }

    fn add_outlet(&mut self, after: PortId, outlet: Outlet) -> Result<OutletId, Error> {
        self.home.add_outlet(after, outlet)
    }

    fn add_supply(&mut self, after: PortId, supply: Supply) -> Result<(), Error> {
        self.home.add_supply(after, supply).map(|_| ())
    }

    fn terminate(&mut self, port: PortId) -> Result<(), Error> {
        self.home.terminate(port)
    }

    fn join(&mut self, outlet: OutletId) -> Result<(), Error> {
        self.home.join(outlet)
    }

    fn tree(&self) -> Tree<'_, 's> {
        self.home.tree()
    }

    fn check(&mut self) -> Result<Report<'_, 's>, Error> {
        self.room.check_margins(&self.home.tree(), &mut self.margins)
    }

    fn pair_room(&self) -> usize {
        OUTLETS.min(PAIRS.isqrt())
    }

    fn pairs(&mut self) -> Result<Option<&[[f32; 2]]>, Error> {
        let tree = self.home.tree();
        let count = tree.outlets().len();
        let network = tree.home_network.copied();
        let before = *tree.limits(Device::Modem);
        let Some(pairs) = self.pairs.get_mut(..count * count) else { return Ok(None) };
        // Nothing is limited but what modems hear of each other, to 0 dBmV: what is left is what they hear.
        self.home.set_limits(Device::Modem, Limits { neighbour: Some(0.0), ..Limits::NONE });
        let checked = self.room.check_pairs(&self.home.tree(), &mut self.margins, pairs).map(|_| ());
        self.home.set_limits(Device::Modem, before);
        checked?;
        let most = network.map_or(f32::INFINITY, |network| network.max_loss);
        for [heard, linked] in pairs.iter_mut() {
            *heard = -*heard;
            // A blocked link is told by a finding alone; one that is not limited may lose anything.
            *linked = if most == f32::INFINITY { f32::NEG_INFINITY } else { most - *linked };
        }
        Ok(Some(pairs))
    }
}
