//! The search for the best tree at a panel.
//!
//! Trees are written down way out by way out, the first way first: at each either a part is placed or the way is
//! *closed*, for an outlet or a terminator. Which outlet goes to which closed way is left to a matching at the end.
//! What is cut off, and why nothing good is lost:
//!
//! - **Cost.** What was placed, and the least that whatever is still missing costs (see `relaxed`), are no more than the
//!   cost allowed (see `rounds`). Sums go by steps of what all prices of the stock are multiples of.
//! - **Loss.** Shares that are left must cover the shares that outlets need (see `shares`): those of all outlets, and of
//!   the most demanding ones; and each outlet has to find some way behind which enough arrives (see `routes`).
//! - **Closed ways** at which no outlet keeps the margin count for nothing.
//! - **Symmetry.** Of ways that are alike, the later carries no larger tree than the one before it; of parts with one
//!   way out in a row, which commute, one order is tried. Nobody stands behind two amplified outputs: that is
//!   always found fault with.
//! - **Idle parts.** A part behind which at most one outlet can stand, which would do as well in its place.
//!
//! Margins, once a plan of the lowest cost is known: the same search at exactly that cost, and whatever can't come to
//! more than the best margin so far is cut off.

use heapless::Vec;

use super::bench::Build;
use super::design::Design;
use super::fleets::{Fleet, MOST_FLEETS};
use super::grow::Step;
use super::leaf::{Cache, Row, Rules};
use super::menu::{COLUMNS, Losses, Menu, supplies};
use super::need::{Item, Need};
use super::relaxed::Relaxed;
use super::shares::Division;
use super::slots::{NONE, Slot, SoFar};
use super::swap::Passes;
use super::wants::Bearing;
use crate::Error;

/// How far a search has come.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Progress {
    /// Ways out that were looked at.
    pub steps: u32,
    /// What is being gone through: trees with so many amplifiers, or sets of so many changes.
    pub tier: u8,
    /// The best so far: its tier, cost in hundredths, smallest margin in dB.
    pub best: Option<(u8, u32, f32)>,
}

/// How much may be lost to rounding when shares are compared.
pub(super) const ROUNDING: f32 = 1e-3;

/// What a search works on, and whom it tells.
pub(super) struct Task<'t, 'a, 's, B, F> {
    pub(super) need: &'t Need<'a, 's>,
    pub(super) stock: &'t [Item<'s>],
    pub(super) bench: &'t mut B,
    pub(super) go_on: F,
    pub(super) rules: Rules,
    /// The margin wanted, less what is forgiven when only the closest is looked for.
    pub(super) margin: f32,
}

/// The best design so far.
#[derive(Clone, Debug)]
pub(super) struct Best<const NODES: usize> {
    pub(super) design: Design<NODES>,
    pub(super) amplifiers: u8,
    pub(super) cost: u32,
    pub(super) margin: f32,
}

/// Room for a search.
#[derive(Debug)]
pub(super) struct Search<
    const KINDS: usize,
    const LEGS: usize,
    const NODES: usize,
    const OUTLETS: usize,
    const CACHE: usize,
> {
    pub(super) menu: Menu<KINDS, LEGS>,
    pub(super) cache: Cache<OUTLETS, CACHE>,
    pub(super) slots: Vec<Slot, NODES>,
    /// Rows of closed ways, by slot.
    pub(super) rows: [Row<OUTLETS>; NODES],
    pub(super) used: [u16; KINDS],
    /// What each outlet can bear.
    pub(super) bearings: [Bearing; OUTLETS],
    /// What each outlet's run loses: the most in the return band, the least at the edges of the home network's, in dB.
    pub(super) runs: [(f32, f32); OUTLETS],
    /// What passes between the ways out of the tree at hand.
    pub(super) passes: Passes<NODES>,
    /// The outlets that hear no neighbour's modem too well, wherever they stand; one bit each.
    pub(super) quiet: u64,
    /// What each outlet may hear of another's modem, in dBmV.
    pub(super) neighbour_limits: [f32; OUTLETS],
    /// What the best margin so far takes from what can be borne.
    pub(super) wider: Losses,
    pub(super) division: Division<LEGS, OUTLETS>,
    pub(super) fleets: Vec<Fleet<KINDS, OUTLETS>, MOST_FLEETS>,
    pub(super) relaxed: Relaxed<KINDS, OUTLETS, CACHE>,
    /// What all prices are multiples of, in hundredths.
    pub(super) coin: u32,
    pub(super) mirror_cost: Option<u32>,
    pub(super) power_cost: u32,
    pub(super) amplifiers: u8,
    /// The highest cost allowed, the one up to which everything was looked at, and the next above.
    pub(super) limit: u32,
    pub(super) done: Option<u32>,
    pub(super) beyond: u32,
    /// Whether only trees of exactly the cost allowed count, by their margin.
    pub(super) by_margin: bool,
    /// The margin that a closed way has to keep.
    pub(super) least: f32,
    pub(super) steps: u32,
    pub(super) stopped: bool,
    /// Whether a tree was cut off for want of room.
    pub(super) cramped: bool,
    pub(super) best: Option<Best<NODES>>,
    pub(super) candidate: Design<NODES>,
}

impl<const KINDS: usize, const LEGS: usize, const NODES: usize, const OUTLETS: usize, const CACHE: usize>
    Search<KINDS, LEGS, NODES, OUTLETS, CACHE>
{
    pub(super) const fn new() -> Self {
        Self {
            menu: Menu::new(),
            cache: Cache::new(),
            slots: Vec::new(),
            rows: [[0.0; OUTLETS]; NODES],
            used: [0; KINDS],
            bearings: [Bearing::ANY; OUTLETS],
            runs: [(0.0, 0.0); OUTLETS],
            passes: [[[0.0; 2]; NODES]; NODES],
            quiet: 0,
            neighbour_limits: [0.0; OUTLETS],
            wider: [0.0; COLUMNS],
            division: Division::new(),
            fleets: Vec::new(),
            relaxed: Relaxed::new(),
            coin: 1,
            mirror_cost: None,
            power_cost: 0,
            amplifiers: 0,
            limit: 0,
            done: None,
            beyond: u32::MAX,
            by_margin: false,
            least: 0.0,
            steps: 0,
            stopped: false,
            cramped: false,
            best: None,
            candidate: Design::new(),
        }
    }

    /// Reads the stock and works out every bound.
    ///
    /// # Errors
    /// [`Error::Full`] where it finds no room.
    pub(super) fn prepare<'s, B: Build<'s>, F>(&mut self, task: &mut Task<'_, '_, 's, B, F>) -> Result<(), Error> {
        let outlets = task.need.outlets.len();
        if outlets > OUTLETS || outlets > NODES {
            return Err(Error::Full { what: "outlets", capacity: OUTLETS.min(NODES) });
        }
        self.cache.clear();
        self.menu.read(task.need, task.stock, task.bench)?;
        self.best = None;
        self.stopped = false;
        self.cramped = false;
        self.read_bearings(task)?;
        self.division.read(&self.menu, self.bearings.get(..outlets).unwrap_or_default());
        self.read_quiet(task);
        self.coin = task.stock.iter().fold(0, |coin, item| divisor(coin, item.cost)).max(1);
        let mirrors = self.menu.kinds.iter().filter(|kind| kind.is_mirror).map(|kind| kind.cost);
        self.mirror_cost = mirrors.min();
        let inserters = self.menu.kinds.iter().filter(|kind| kind.is_inserter).map(|kind| kind.cost);
        let inserter = if task.need.mains { 0 } else { inserters.min().unwrap_or(u32::MAX) };
        let supply = supplies(task.stock).map(|(_, item)| item.cost).min().unwrap_or(u32::MAX);
        self.power_cost = if task.rules == Rules::Nothing { 0 } else { supply.saturating_add(inserter) };
        Ok(())
    }

    /// Goes through every tree that is not cut off.
    pub(super) fn pass<'s, B: Build<'s>, F: FnMut(&Progress) -> bool>(
        &mut self,
        task: &mut Task<'_, '_, 's, B, F>,
    ) -> Result<(), Error> {
        self.slots.clear();
        self.used.fill(0);
        self.push(NONE, 0, SoFar::START);
        while let Some(at) = self.slots.len().checked_sub(1) {
            self.take_back(at);
            let bound = self.bound(at);
            let Some(slot) = self.slots.get_mut(at) else { break };
            let choice = slot.next;
            if usize::from(choice) > bound {
                self.slots.truncate(at);
                continue;
            }
            slot.next = choice + 1;
            slot.choice = choice;
            if self.is_over(task) {
                return Ok(());
            }
            let step = match choice.checked_sub(1) {
                None => self.close(task, at)?,
                Some(kind) => self.place(task, at, kind)?,
            };
            match step {
                Step::Cut => {}
                Step::Next(owner, way, so_far) => {
                    self.mark(at, choice);
                    self.push(owner, way, so_far);
                    if !self.has_place_for_all(task) {
                        self.slots.truncate(at + 1);
                    }
                }
                Step::Whole(cost) => self.judge(task, cost)?,
            }
        }
        Ok(())
    }

    /// Counts a step, and asks every now and then whether to go on.
    pub(super) fn is_over<'s, B, F: FnMut(&Progress) -> bool>(&mut self, task: &mut Task<'_, '_, 's, B, F>) -> bool {
        self.steps = self.steps.wrapping_add(1);
        if self.steps.is_multiple_of(64) && !(task.go_on)(&self.progress()) {
            self.stopped = true;
        }
        self.stopped
    }

    /// Notes that something stands at a cost that was not allowed.
    pub(super) fn beyond(&mut self, cost: u32) {
        self.beyond = self.beyond.min(cost);
    }

    pub(super) fn progress(&self) -> Progress {
        let best = self.best.as_ref().map(|best| (best.amplifiers, best.cost, best.margin));
        Progress { steps: self.steps, tier: self.amplifiers, best }
    }
}

/// The greatest common divisor.
const fn divisor(mut a: u32, mut b: u32) -> u32 {
    while b != 0 {
        (a, b) = (b, a % b);
    }
    a
}
