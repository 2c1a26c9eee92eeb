//! The fewest changes that put a home right.
//!
//! A [`Mender`] looks for them in a stock: another part in a part's place, a part or a supply more or less, something
//! moved to a free port. [`Workspace::check`](crate::Workspace::check) judges each home that comes of it; every way out
//! that is left open gets a terminator.
//!
//! ```
//! use legwork::mend::{Change, Mender};
//! use legwork::plan::{Bench, Item, Stocked};
//! use legwork::{Block, Db, Device, Entry, Frequency, Outlet, Part, Point, Points, PortId, Premises, Service, Split, Way};
//!
//! let mhz = Frequency::constant;
//! let blocks = [Block::new(mhz(57.0), mhz(861.0), mhz(6.0), Db::ZERO)?];
//! let service = Service::new(Split { return_top: mhz(42.0), forward_bottom: mhz(54.0) }, &blocks)?;
//! let readings = [Point::constant(57.0, 22.0), Point::constant(861.0, 20.0)];
//! let entry = Entry::new(Points::new(&readings)?)?;
//!
//! // Far too much for a TV, and a pad that takes too little of it.
//! let mut home = Premises::<4, 6, 2, 1>::new(service, entry);
//! let pad = home.add(PortId::ENTRY, Part::Pad(Db::constant(3.0)))?;
//! home.add_outlet(home.port(pad, Way::Only)?, Outlet::new(Device::Tv))?;
//!
//! let stock = [Item { what: Stocked::Part(Part::Pad(Db::constant(12.0))), count: 1, cost: 250 }];
//! let mut bench = Bench::<8, 12, 2, 4, 5, 0, 8, 40, 1, 32>::new(Premises::new(service, entry));
//! let mut mender = Mender::<8, 2>::new();
//! let found = mender.mend(&home.tree(), &stock, 0.0, 3, &mut bench, |_| true)?.unwrap();
//! let changes = found.changes::<8, 2>(&home.tree(), &stock)?;
//! assert_eq!((changes.len(), found.cost, found.proved), (1, 250, true));
//! assert!(matches!(changes[0], Change::Swap { .. } | Change::Put { .. }));
//! # Ok::<(), legwork::Error>(())
//! ```

mod change;
mod cursor;
mod draft;
mod search;
mod touch;

use heapless::Vec;

use change::Edit;
pub use change::WAYS;
pub use draft::Origin;
use draft::{Draft, Frame, Hook, Thing};
pub use search::MOST_CHANGES;

use crate::plan::{Build, Item, Progress};
use crate::{Error, Tree};

/// A place in a home that changes: a part by its number in the home, or among those that came from the stock.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub enum Subject {
    /// A part: those of the home have its numbers, those of the stock the next ones in the order in which they came.
    Part(usize),
    /// An outlet.
    Outlet(usize),
    /// A supply: those of the home have its numbers, those of the stock the next ones.
    Supply(usize),
}

/// A port in a home that changes: a way out of a part; [`None`] is the entry.
pub type Place = Option<(usize, u8)>;

/// One change, told from the home as it is before it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub enum Change {
    /// A part for one of the stock.
    Swap {
        /// Which.
        part: usize,
        /// For what: a place in the stock.
        item: usize,
        /// For each way out, that of the new part on which goes what hung there; [`None`] where nothing did.
        ways: [Option<u8>; WAYS],
    },
    /// A part of the stock on a port, before what hangs there.
    Put {
        /// Where.
        at: Place,
        /// What: a place in the stock.
        item: usize,
        /// Its supply, if it is an inserter: a place in the stock.
        supply: Option<usize>,
    },
    /// A supply at the power port of an amplifier.
    Plug {
        /// Which part.
        part: usize,
        /// What: a place in the stock.
        supply: usize,
    },
    /// A part or a supply away.
    Take(Subject),
    /// Something to a free port.
    Move {
        /// What.
        what: Subject,
        /// Where it hangs.
        from: Place,
        /// Where to.
        to: Place,
    },
}

/// The fewest changes that were found.
#[derive(Clone, Debug)]
pub struct Mended {
    edits: Vec<Edit, MOST_CHANGES>,
    /// What they cost, in hundredths.
    pub cost: u32,
    /// The smallest margin between an extreme and its limit then, in dB; infinite where nothing is limited.
    pub margin: f32,
    /// Whether it is proved that nothing better is in the stock.
    pub proved: bool,
}

/// Finds changes. Room for homes of `NODES` parts, those of the stock included, and `OUTLETS` outlets.
#[derive(Debug)]
pub struct Mender<'s, const NODES: usize, const OUTLETS: usize> {
    search: search::Search<'s, NODES, OUTLETS>,
}

impl<const NODES: usize, const OUTLETS: usize> Default for Mender<'_, NODES, OUTLETS> {
    fn default() -> Self {
        Self::new()
    }
}

impl<'s, const NODES: usize, const OUTLETS: usize> Mender<'s, NODES, OUTLETS> {
    /// A mender.
    #[must_use]
    pub const fn new() -> Self {
        Self { search: search::Search::new() }
    }

    /// Finds the fewest changes, at most `most` and never more than [`MOST_CHANGES`], that make a home good with this
    /// margin in dB; of those the ones that cost least, of those the ones with the largest smallest margin. The bench is
    /// one for the home's service, entry, climate, limits and targets. `go_on` hears how far the search has come,
    /// and ends it by saying no. [`None`] where nothing was found.
    ///
    /// # Errors
    /// [`Error::Full`] where the home or a candidate finds no room.
    pub fn mend<B: Build<'s>>(
        &mut self,
        tree: &Tree<'_, 's>,
        stock: &[Item<'s>],
        margin: f32,
        most: usize,
        bench: &mut B,
        go_on: impl FnMut(&Progress) -> bool,
    ) -> Result<Option<Mended>, Error> {
        // As much as f32 may be off.
        const ROUNDING: f32 = 1e-4;
        self.search.run(tree, stock, margin - ROUNDING, most, bench, go_on)?;
        let proved = !self.search.stopped;
        Ok(self.search.best.take().map(|best| Mended {
            edits: best.edits,
            cost: best.cost,
            margin: best.margin,
            proved,
        }))
    }

    /// Whether the last search was ended before it had gone through everything.
    #[must_use]
    pub const fn was_stopped(&self) -> bool {
        self.search.stopped
    }

    /// The changes that the last search tried: how much work it was, the same on every machine.
    #[must_use]
    pub const fn steps(&self) -> u32 {
        self.search.steps
    }
}

impl Mended {
    /// No change at all.
    #[must_use]
    pub const fn nothing() -> Self {
        Self { edits: Vec::new(), cost: 0, margin: f32::NEG_INFINITY, proved: false }
    }

    /// The changes, in order.
    ///
    /// # Errors
    /// [`Error::Full`] where the home finds no room.
    pub fn changes<'s, const NODES: usize, const OUTLETS: usize>(
        &self,
        tree: &Tree<'_, 's>,
        stock: &[Item<'s>],
    ) -> Result<Vec<Change, MOST_CHANGES>, Error> {
        let mut draft: Draft<'s, NODES, OUTLETS> = Draft::new();
        draft.read(tree)?;
        let mut out = Vec::new();
        for edit in &self.edits {
            let _ = out.push(told(&draft, edit));
            let _ = draft.make(edit, stock);
        }
        Ok(out)
    }

    /// Builds the home with the first so many changes made. `placed` hears where each part comes from, and its number
    /// as in [`Subject::Part`], in the order in which parts are numbered; then the same of each supply.
    ///
    /// # Errors
    /// [`Error::Full`] where the bench is too small.
    pub fn build<'s, const NODES: usize, const OUTLETS: usize>(
        &self,
        tree: &Tree<'_, 's>,
        stock: &[Item<'s>],
        count: usize,
        bench: &mut impl Build<'s>,
        mut placed: impl FnMut(Subject, Origin),
    ) -> Result<(), Error> {
        let mut draft: Draft<'s, NODES, OUTLETS> = Draft::new();
        draft.read(tree)?;
        for edit in self.edits.iter().take(count) {
            let _ = draft.make(edit, stock);
        }
        let frame = Frame { network: tree.home_network.copied(), members: tree.members() };
        let mut order = Vec::new();
        draft.build(&frame, bench, &mut order)?;
        for node in &order {
            if let Some(known) = draft.node(*node) {
                placed(Subject::Part((*node).into()), known.origin);
            }
        }
        for (index, plugged) in draft.supplies.iter().enumerate().filter(|(_, plugged)| plugged.is_there) {
            placed(Subject::Supply(index), plugged.origin);
        }
        Ok(())
    }
}

/// A change in words that need no draft.
fn told<const NODES: usize, const OUTLETS: usize>(draft: &Draft<'_, NODES, OUTLETS>, edit: &Edit) -> Change {
    let place = |hook: Hook| (hook != Hook::ENTRY).then_some((hook.node.into(), hook.way));
    let on = |thing| place(draft.hook(thing).unwrap_or(Hook::ENTRY));
    let subject = |thing| match thing {
        Thing::Node(at) => Subject::Part(at.into()),
        Thing::Outlet(at) => Subject::Outlet(at.into()),
        Thing::Supply(at) => Subject::Supply(at.into()),
    };
    match *edit {
        Edit::Swap { node, item, ways } => {
            let ways = ways.map(|way| (way != u8::MAX).then_some(way));
            Change::Swap { part: node.into(), item: item.into(), ways }
        }
        Edit::Put { before, item } => Change::Put { at: on(before), item: item.into(), supply: None },
        Edit::Insert { before, item, supply } => {
            Change::Put { at: on(before), item: item.into(), supply: Some(supply.into()) }
        }
        Edit::Plug { node, supply } => Change::Plug { part: node.into(), supply: supply.into() },
        Edit::Take(thing) => Change::Take(subject(thing)),
        Edit::Move { thing, to } => Change::Move { what: subject(thing), from: on(thing), to: place(to) },
    }
}
