//! The search for the best tree at a panel.
//!
//! Trees are written down way out by way out, the first way first: at each either a part is placed or the way is
//! *closed*, for an outlet or a terminator. Which outlet goes to which closed way is left to a matching at the end.
//! What is cut off, and why nothing good is lost:
//!
//! - **Cost.** What was placed, and the least that the ways out which are still missing can cost (a knapsack over the
//!   stock), are no more than the cost allowed. That rises from the least possible until a plan is found, so the first
//!   cost at which there is one is the lowest.
//! - **Loss.** Shares that are left must cover the shares that outlets need (see `menu`).
//! - **Closed ways** at which no outlet keeps the margin count for nothing.
//! - **Symmetry.** Of ways that are alike, the later carries no larger tree than the one before it; of parts with one
//!   way out in a row, which commute, one order is tried. Nobody stands behind two amplified outputs: that is
//!   always found fault with.
//!
//! Margins, once a plan of the lowest cost is known: the same search at exactly that cost, and whatever can't come to
//! more than the best margin so far is cut off.

use heapless::Vec;

use super::bench::Build;
use super::design::{Design, MOST_SUPPLIES};
use super::judge::STEP;
use super::leaf::{Cache, DEPTH, Path, Row, Rules, try_out};
use super::menu::{COLUMNS, Kind, Menu, Shares, supplies};
use super::need::{Item, Need};
use super::swap::Passes;
use crate::math::{is_below, max, min};
use crate::{Case, Error, Frequency, PortId, Tree};

/// How far a search has come.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Progress {
    /// Ways out that were looked at.
    pub steps: u32,
    /// How many amplifiers the trees have that are being looked at.
    pub amplifiers: u8,
    /// The best so far: amplifiers, cost in hundredths, smallest margin in dB.
    pub best: Option<(u8, u32, f32)>,
}

/// How much may be lost to rounding when shares are compared.
pub(super) const ROUNDING: f32 = 1e-3;

/// A way out in the tree that is being written down.
#[derive(Clone, Copy, Debug)]
pub(super) struct Slot {
    /// The slot of the part it is a way out of.
    pub(super) owner: u16,
    pub(super) way: u8,
    /// The slot of the way before it, where that is alike.
    twin: u16,
    /// The slot at which this way's tree became smaller than its twin's.
    differs: u16,
    /// What is there: 0 for closed, else a kind and one.
    pub(super) choice: u8,
    /// What is tried next.
    next: u8,
    is_chosen: bool,
    /// The ways out of its part at which some outlet keeps the margin, one bit each.
    live_ways: u32,
    /// The outlets that would keep the margin right here, one bit each.
    served: u64,
    so_far: SoFar,
}

/// What is known of a tree before a slot is filled.
#[derive(Clone, Copy, Debug)]
struct SoFar {
    /// The share that arrives at the slot.
    share: Shares,
    /// The shares of all ways out after it that are known of, and their number.
    pending: Shares,
    pending_count: u16,
    /// Those of them at which some outlet keeps the margin as it is.
    pending_live: u16,
    /// What closed ways are worth before needs grow, and how many are worth something. Needs grow with the best margin;
    /// what was worth as much as some outlet needs then grows with them, so this is never too little.
    closed: Shares,
    live: u16,
    cost: u32,
    amplifiers: u8,
    has_mirror: bool,
    depth: u8,
}

pub(super) const NONE: u16 = u16::MAX;

/// What a filled slot leads to.
enum Step {
    /// Nothing that could be good.
    Cut,
    /// The next slot: owner, way, and what is known.
    Next(u16, u8, SoFar),
    /// A whole tree of this cost.
    Whole(u32),
}

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
    used: [u16; KINDS],
    /// What each outlet needs, and all together.
    pub(super) needs: [Shares; OUTLETS],
    /// What each outlet's run loses: the most in the return band, the least at the edges of the home network's, in dB.
    pub(super) runs: [(f32, f32); OUTLETS],
    /// What passes between the ways out of the tree at hand.
    pub(super) passes: Passes<NODES>,
    /// The outlets that hear no neighbour's modem too well, wherever they stand; one bit each.
    quiet: u64,
    /// What each outlet may hear of another's modem, in dBmV.
    pub(super) neighbour_limits: [f32; OUTLETS],
    needed: Shares,
    /// By how much needs have grown with the best margin so far.
    growth: Shares,
    pub(super) amplified: Shares,
    /// The least cost of so many amplifiers and at least so many further ways out.
    cheapest: [[u32; OUTLETS]; MOST_SUPPLIES + 1],
    /// The least cost of so many amplifiers and parts with at least so many ways out together.
    freshest: [[u32; OUTLETS]; MOST_SUPPLIES + 1],
    mirror_cost: Option<u32>,
    power_cost: u32,
    pub(super) amplifiers: u8,
    /// The highest cost allowed, the one up to which everything was looked at, and the next above.
    pub(super) limit: u32,
    pub(super) done: Option<u32>,
    beyond: u32,
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
            needs: [[0.0; COLUMNS]; OUTLETS],
            runs: [(0.0, 0.0); OUTLETS],
            passes: [[[0.0; 2]; NODES]; NODES],
            quiet: 0,
            neighbour_limits: [0.0; OUTLETS],
            needed: [0.0; COLUMNS],
            growth: [1.0; COLUMNS],
            amplified: [0.0; COLUMNS],
            cheapest: [[u32::MAX; OUTLETS]; MOST_SUPPLIES + 1],
            freshest: [[u32::MAX; OUTLETS]; MOST_SUPPLIES + 1],
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
        self.read_needs(task)?;
        self.read_quiet(task);
        self.amplified = self.menu.most_amplified();
        self.cheapest = self.price(1);
        self.freshest = self.price(0);
        let mirrors = self.menu.kinds.iter().filter(|kind| kind.is_mirror).map(|kind| kind.cost);
        self.mirror_cost = mirrors.min();
        let inserters = self.menu.kinds.iter().filter(|kind| kind.is_inserter).map(|kind| kind.cost);
        let inserter = if task.need.mains { 0 } else { inserters.min().unwrap_or(u32::MAX) };
        let supply = supplies(task.stock).map(|(_, item)| item.cost).min().unwrap_or(u32::MAX);
        self.power_cost = if task.rules == Rules::Nothing { 0 } else { supply.saturating_add(inserter) };
        Ok(())
    }

    /// Which outlets no neighbour's modem and no link of the home network can trouble: those that hear anything, or for
    /// which there is no other modem, and that belong to no network.
    fn read_quiet<'s, B: Build<'s>, F>(&mut self, task: &Task<'_, '_, 's, B, F>) {
        self.quiet = 0;
        let modems = |but: usize| {
            let others = task.need.outlets.iter().enumerate().filter(move |(index, _)| *index != but);
            others.filter(|(_, wanted)| wanted.outlet.device.is_modem()).count()
        };
        let is_silent = task.bench.tree().entry.transmit.is_none();
        for (index, wanted) in task.need.outlets.iter().enumerate().take(64) {
            let limit = self.neighbour_limits.get(index).copied().unwrap_or(0.0);
            let target = task.bench.tree().target(wanted.outlet.device).neighbour;
            let deaf = limit == f32::INFINITY && target.is_none();
            if (deaf || is_silent || modems(index) == 0) && !(wanted.member && task.need.network.is_some()) {
                self.quiet |= 1 << index;
            }
        }
    }

    /// What each outlet needs of what comes in at the panel.
    fn read_needs<'s, B: Build<'s>, F>(&mut self, task: &mut Task<'_, '_, 's, B, F>) -> Result<(), Error> {
        for (index, wanted) in task.need.outlets.iter().enumerate() {
            task.bench.clear(None);
            let panel = super::design::lead_in(task.need, task.bench, &mut |_| {})?;
            let run = task.bench.add(panel, wanted.run.part())?;
            let end = task.bench.port(run, 0)?;
            task.bench.add_outlet(end, wanted.outlet)?;
            if let Some(limit) = self.neighbour_limits.get_mut(index) {
                *limit = task.bench.tree().limits(wanted.outlet.device).from_neighbours();
            }
            if let Some(runs) = self.runs.get_mut(index) {
                *runs = run_losses(task.need, &task.bench.tree(), panel, end)?;
            }
            if let Some(needs) = self.needs.get_mut(index) {
                *needs = match task.rules {
                    Rules::Nothing => [0.0; COLUMNS],
                    rules => self.menu.needed(&*task.bench, task.margin, rules == Rules::All),
                };
            }
        }
        Ok(())
    }

    /// The least cost of amplifiers and at least so many ways out, a part counting for all of its ways or, where it
    /// takes one, for all but that: a bounded knapsack over the stock.
    fn price(&self, takes: usize) -> [[u32; OUTLETS]; MOST_SUPPLIES + 1] {
        let mut table = [[u32::MAX; OUTLETS]; MOST_SUPPLIES + 1];
        if let Some(nothing) = table.first_mut().and_then(|row| row.first_mut()) {
            *nothing = 0;
        }
        let top = OUTLETS.saturating_sub(1);
        let counts = |kind: &&Kind| kind.is_amplifier || usize::from(kind.ways) > takes;
        for kind in self.menu.kinds.iter().filter(|kind| !kind.is_inserter).filter(counts) {
            let more = usize::from(kind.ways).saturating_sub(takes);
            for _ in 0..kind.count.min(OUTLETS as u16) {
                for amplifiers in (0..=MOST_SUPPLIES).rev() {
                    for ways in (0..=top).rev() {
                        let before = table.get(amplifiers).and_then(|row| row.get(ways)).copied();
                        let Some(before) = before.filter(|before| *before < u32::MAX) else { continue };
                        let row = table.get_mut(amplifiers + usize::from(kind.is_amplifier));
                        let Some(after) = row.and_then(|row| row.get_mut((ways + more).min(top))) else { continue };
                        *after = (*after).min(before.saturating_add(kind.cost));
                    }
                }
            }
        }
        for row in &mut table {
            let mut least = u32::MAX;
            for cost in row.iter_mut().rev() {
                least = least.min(*cost);
                *cost = least;
            }
        }
        table
    }

    /// Looks for the best tree with exactly so many amplifiers: the lowest cost, then the largest smallest margin.
    ///
    /// # Errors
    /// [`Error::Full`] where a candidate finds no room on the bench.
    pub(super) fn run<'s, B: Build<'s>, F: FnMut(&Progress) -> bool>(
        &mut self,
        task: &mut Task<'_, '_, 's, B, F>,
        amplifiers: u8,
    ) -> Result<(), Error> {
        self.amplifiers = amplifiers;
        self.by_margin = false;
        self.done = None;
        self.least = task.margin - ROUNDING;
        self.total_needs(task, task.margin);
        if !self.can_serve(task)? {
            return Ok(());
        }
        let missing = task.need.outlets.len().saturating_sub(1);
        let Some(mut limit) = self.least_cost(0, 0, missing, 0, false) else { return Ok(()) };
        let (least, mut passes) = (limit, 0_u32);
        while self.best.is_none() && !self.stopped {
            self.limit = limit;
            self.beyond = u32::MAX;
            self.pass(task)?;
            self.done = Some(limit);
            if self.beyond == u32::MAX {
                break;
            }
            passes += 1;
            // The next cost and no further: overshooting costs far more than looking again at what is below. But where
            // there seems to be no plan at all, each cost is not worth a pass of its own.
            let stride = match passes {
                0..32 => 0,
                32..64 => (limit - least) / 16,
                _ => (limit - least) / 4,
            };
            limit = self.beyond.max(limit.saturating_add(stride));
        }
        let Some(best) = &self.best else { return Ok(()) };
        if self.stopped || task.rules == Rules::Nothing {
            return Ok(());
        }
        self.limit = best.cost;
        self.by_margin = true;
        self.done = None;
        self.least = best.margin + STEP;
        self.total_needs(task, self.least);
        self.pass(task)
    }

    /// What all outlets together need where this margin is wanted.
    pub(super) fn total_needs<'s, B: Build<'s>, F>(&mut self, task: &Task<'_, '_, 's, B, F>, margin: f32) {
        let growth = self.menu.growth(margin - task.margin);
        self.growth = growth;
        self.needed = [0.0; COLUMNS];
        for needs in self.needs.iter().take(task.need.outlets.len()) {
            for ((sum, need), growth) in self.needed.iter_mut().zip(needs).zip(growth) {
                *sum += need * growth;
            }
        }
    }

    /// The least that a tree costs in the end.
    fn least_cost(&self, cost: u32, amplifiers: u8, missing: usize, fresh: usize, has_mirror: bool) -> Option<u32> {
        let left = usize::from(self.amplifiers.checked_sub(amplifiers)?);
        let fresh = fresh.min(OUTLETS.saturating_sub(1));
        let mirror = if has_mirror { 0 } else { self.mirror_cost.unwrap_or(0) };
        // A mirror may be what makes a way fresh, so these do not add up.
        let further = self.cheapest.get(left)?.get(missing)?.saturating_add(mirror);
        let further = further.max(self.freshest.get(left)?.get(fresh).copied()?);
        let power = if self.amplifiers > 0 { self.power_cost } else { 0 };
        let sum = cost.saturating_add(further).saturating_add(power);
        (sum < u32::MAX).then_some(sum)
    }

    /// Goes through every tree that is not cut off.
    fn pass<'s, B: Build<'s>, F: FnMut(&Progress) -> bool>(
        &mut self,
        task: &mut Task<'_, '_, 's, B, F>,
    ) -> Result<(), Error> {
        self.slots.clear();
        self.used.fill(0);
        let share = [1.0; COLUMNS];
        let none = [0.0; COLUMNS];
        let so_far = SoFar {
            share,
            pending: none,
            pending_count: 0,
            pending_live: 0,
            closed: none,
            live: 0,
            cost: 0,
            amplifiers: 0,
            has_mirror: false,
            depth: 0,
        };
        self.push(NONE, 0, so_far);
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
            self.steps = self.steps.wrapping_add(1);
            if self.steps.is_multiple_of(64) && !(task.go_on)(&self.progress()) {
                self.stopped = true;
            }
            if self.stopped {
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

    /// Notes that something stands at a cost that was not allowed.
    pub(super) fn beyond(&mut self, cost: u32) {
        self.beyond = self.beyond.min(cost);
    }

    pub(super) fn progress(&self) -> Progress {
        let best = self.best.as_ref().map(|best| (best.amplifiers, best.cost, best.margin));
        Progress { steps: self.steps, amplifiers: self.amplifiers, best }
    }

    fn push(&mut self, owner: u16, way: u8, so_far: SoFar) {
        let twin = self.twin(owner, way);
        let slot = Slot {
            owner,
            way,
            twin,
            differs: NONE,
            choice: 0,
            next: 0,
            is_chosen: false,
            live_ways: 0,
            served: 0,
            so_far,
        };
        self.cramped |= self.slots.push(slot).is_err();
    }

    /// The slot of the way before, where it is alike.
    fn twin(&self, owner: u16, way: u8) -> u16 {
        let Some(before) = way.checked_sub(1) else { return NONE };
        let Some(kind) = self.slots.get(owner as usize).and_then(|slot| self.kind_of(slot)) else { return NONE };
        if !self.menu.alike(kind, before, way) {
            return NONE;
        }
        let found = self.slots.iter().rposition(|slot| slot.owner == owner && slot.way == before);
        found.map_or(NONE, |found| found as u16)
    }

    pub(super) fn kind_of(&self, slot: &Slot) -> Option<&Kind> {
        self.menu.kinds.get(usize::from(slot.choice.checked_sub(1)?))
    }

    /// Takes back what was chosen at a slot.
    fn take_back(&mut self, at: usize) {
        let Some(slot) = self.slots.get_mut(at) else { return };
        if !core::mem::replace(&mut slot.is_chosen, false) {
            return;
        }
        let kind = slot.choice.wrapping_sub(1);
        if let Some(used) = self.used.get_mut(usize::from(kind)) {
            *used -= 1;
        }
    }

    /// The largest choice that a slot may have, so that no tree is larger than its twin.
    fn bound(&self, at: usize) -> usize {
        let mut bound = self.menu.kinds.len();
        let mut slot = at;
        while let Some(here) = self.slots.get(slot) {
            if here.twin != NONE && here.differs as usize >= at {
                let same = here.twin as usize + (at - slot);
                bound = bound.min(self.slots.get(same).map_or(bound, |same| usize::from(same.choice)));
            }
            slot = here.owner as usize;
        }
        bound
    }

    /// Notes where a tree becomes smaller than its twin.
    fn mark(&mut self, at: usize, choice: u8) {
        let mut slot = at;
        while let Some(here) = self.slots.get(slot).copied() {
            if here.twin != NONE && here.differs as usize >= at {
                let same = here.twin as usize + (at - slot);
                let differs = self.slots.get(same).is_some_and(|same| choice < same.choice);
                if let Some(here) = self.slots.get_mut(slot) {
                    here.differs = if differs { at as u16 } else { NONE };
                }
            }
            slot = here.owner as usize;
        }
    }

    /// Closes a slot.
    fn close<'s, B: Build<'s>, F>(&mut self, task: &mut Task<'_, '_, 's, B, F>, at: usize) -> Result<Step, Error> {
        let Some(slot) = self.slots.get(at).copied() else { return Ok(Step::Cut) };
        let row = self.best_row(task, at, None)?;
        let mut so_far = slot.so_far;
        let mut most = [0.0; COLUMNS];
        let mut is_live = false;
        for (margin, needs) in row.iter().zip(&self.needs).take(task.need.outlets.len()) {
            if *margin >= self.least {
                is_live = true;
                for (most, need) in most.iter_mut().zip(needs) {
                    *most = max(*most, *need);
                }
            }
        }
        if let Some(kept) = self.rows.get_mut(at) {
            *kept = row;
        }
        if is_live {
            so_far.live += 1;
            let worth = so_far.closed.iter_mut().zip(so_far.share).zip(most).zip(self.growth);
            for (((closed, share), most), growth) in worth {
                *closed += min(share / growth, most);
            }
        }
        if let Some(slot) = self.slots.get_mut(at) {
            slot.served = served(&row, task.need.outlets.len(), self.least);
        }
        let next = self.after(slot.owner, slot.way);
        if self.is_idle(task, slot.owner, next) {
            return Ok(Step::Cut);
        }
        if !self.may_go_on(task, &so_far, next.is_none()) || !self.may_be_powered(task) {
            return Ok(Step::Cut);
        }
        let Some((owner, way)) = next else { return Ok(Step::Whole(so_far.cost)) };
        Ok(self.open(owner, way, so_far))
    }

    /// Places a part at a slot.
    fn place<'s, B: Build<'s>, F>(
        &mut self,
        task: &mut Task<'_, '_, 's, B, F>,
        at: usize,
        number: u8,
    ) -> Result<Step, Error> {
        let Some((slot, kind)) = self.slots.get(at).copied().zip(self.menu.kinds.get(usize::from(number)).copied())
        else {
            return Ok(Step::Cut);
        };
        let mut so_far = slot.so_far;
        let Some(used) = self.used.get(usize::from(number)).copied() else { return Ok(Step::Cut) };
        let owner = self.slots.get(slot.owner as usize);
        let is_out_of_order = kind.commutes
            && owner.is_some_and(|owner| {
                self.kind_of(owner).is_some_and(|above| above.commutes) && owner.choice < slot.choice
            });
        if kind.is_inserter || used >= kind.count || is_out_of_order {
            return Ok(Step::Cut);
        }
        if usize::from(so_far.depth) >= DEPTH || self.slots.len() + usize::from(kind.ways) > NODES {
            self.cramped = true;
            return Ok(Step::Cut);
        }
        if kind.is_amplifier && so_far.amplifiers >= self.amplifiers {
            return Ok(Step::Cut);
        }
        so_far.amplifiers += u8::from(kind.is_amplifier);
        so_far.has_mirror |= kind.is_mirror;
        so_far.cost = so_far.cost.saturating_add(kind.cost);
        so_far.pending_count += u16::from(kind.ways);
        for way in 0..kind.ways {
            for ((pending, share), leg) in
                so_far.pending.iter_mut().zip(slot.so_far.share).zip(self.menu.shares(&kind, way))
            {
                *pending += share * leg;
            }
        }
        so_far.depth += 1;
        // The quick question first: as if an outlet could stand at each of its ways.
        let hopeful = SoFar { pending_live: so_far.pending_live + u16::from(kind.ways), ..so_far };
        if !self.may_go_on(task, &hopeful, false) {
            return Ok(Step::Cut);
        }
        let here = self.best_row(task, at, None)?;
        if let Some(slot) = self.slots.get_mut(at) {
            slot.served = served(&here, task.need.outlets.len(), self.least);
        }
        let mut live_ways = 0_u32;
        for way in 0..kind.ways {
            let before = way.checked_sub(1).filter(|before| self.menu.alike(&kind, *before, way));
            let is_live = match before {
                Some(before) => (live_ways >> before) & 1 == 1,
                None => {
                    let row = self.best_row(task, at, Some((kind, way)))?;
                    row.iter().take(task.need.outlets.len()).any(|margin| *margin >= self.least)
                }
            };
            live_ways |= u32::from(is_live) << way;
        }
        so_far.pending_live += live_ways.count_ones() as u16;
        if !self.may_go_on(task, &so_far, false) || !self.may_be_powered(task) {
            return Ok(Step::Cut);
        }
        if let (Some(slot), Some(used)) = (self.slots.get_mut(at), self.used.get_mut(usize::from(number))) {
            slot.is_chosen = true;
            slot.live_ways = live_ways;
            *used += 1;
        }
        Ok(self.open(at as u16, 0, so_far))
    }

    /// Makes a way out the next slot.
    fn open(&self, owner: u16, way: u8, mut so_far: SoFar) -> Step {
        let Some((slot, kind)) = self.slots.get(owner as usize).and_then(|slot| Some((slot, self.kind_of(slot)?)))
        else {
            return Step::Cut;
        };
        so_far.depth = slot.so_far.depth + 1;
        so_far.pending_count -= 1;
        so_far.pending_live -= u16::from((slot.live_ways >> way) & 1 == 1);
        let legs = self.menu.shares(kind, way);
        for (((share, pending), above), leg) in
            so_far.share.iter_mut().zip(so_far.pending.iter_mut()).zip(slot.so_far.share).zip(legs)
        {
            *share = above * leg;
            *pending = max(*pending - *share, 0.0);
        }
        Step::Next(owner, way, so_far)
    }

    /// The way out that comes after one that is closed.
    fn after(&self, mut owner: u16, mut way: u8) -> Option<(u16, u8)> {
        loop {
            let slot = self.slots.get(owner as usize)?;
            if way + 1 < self.kind_of(slot)?.ways {
                return Some((owner, way + 1));
            }
            (owner, way) = (slot.owner, slot.way);
        }
    }

    /// Whether a part whose ways out are all closed now might as well not be there: nobody stands behind it, or one
    /// outlet that would do just as well in its place. Then the same tree without it is good too, and cheaper. Where DC
    /// may come from an outlet a part may be there to block it, and where a neighbour's modem may be heard, to weaken
    /// that; such parts stay.
    fn is_idle<'s, B: Build<'s>, F>(
        &self,
        task: &Task<'_, '_, 's, B, F>,
        mut owner: u16,
        next: Option<(u16, u8)>,
    ) -> bool {
        if task.rules == Rules::Nothing || (self.amplifiers > 0 && self.may_host_any(task)) {
            return false;
        }
        // Every part from the closed way up to the one that the next way belongs to is whole now.
        while let Some(part) = self.slots.get(owner as usize) {
            if next.is_some_and(|(next, _)| next == owner) {
                return false;
            }
            let behind = self.slots.get(owner as usize + 1..).unwrap_or_default();
            let has_amplifier = || {
                self.slots
                    .iter()
                    .skip(owner as usize)
                    .any(|slot| self.kind_of(slot).is_some_and(|kind| kind.is_amplifier || kind.is_mirror))
            };
            let live = behind.iter().filter(|slot| slot.choice == 0).fold(0, |live, slot| live | slot.served);
            let is_free = self.by_margin && self.kind_of(part).is_none_or(|kind| kind.cost == 0);
            // At most one outlet can stand behind it, and that could stand here.
            let is_idle = live & live.wrapping_sub(1) == 0 && live & !(part.served & self.quiet) == 0;
            if is_idle && !is_free && !has_amplifier() {
                return true;
            }
            owner = part.owner;
        }
        false
    }

    /// Whether every outlet finds a way out: one that is closed and would do, or one that is open still and at which
    /// enough arrives. While amplifiers are to come, more may arrive.
    fn has_place_for_all<'s, B: Build<'s>, F>(&self, task: &Task<'_, '_, 's, B, F>) -> bool {
        let Some(last) = self.slots.last() else { return true };
        if last.so_far.amplifiers < self.amplifiers {
            return true;
        }
        let outlets = task.need.outlets.len();
        let closed = self.slots.iter().filter(|slot| slot.choice == 0);
        let mut left = !closed.fold(0, |served, slot| served | slot.served);
        let mut find = |share: &Shares| {
            for (index, needs) in self.needs.iter().enumerate().take(outlets.min(64)) {
                let arrives = share.iter().zip(needs).zip(self.growth);
                let is_enough = || {
                    arrives
                        .into_iter()
                        .all(|((share, need), growth)| !is_below(*share, need * growth * (1.0 - ROUNDING)))
                };
                if (left >> index) & 1 == 1 && is_enough() {
                    left &= !(1 << index);
                }
            }
            left
        };
        let all = u64::MAX >> (64 - outlets.clamp(1, 64));
        if find(&last.so_far.share) & all == 0 {
            return true;
        }
        // The ways out that come after the last slot: those behind it of its own part, and of every part above.
        let (mut owner, mut way) = (last.owner, last.way);
        while let Some(slot) = self.slots.get(owner as usize) {
            let Some(kind) = self.kind_of(slot) else { break };
            for next in way + 1..kind.ways {
                let mut share = slot.so_far.share;
                for (share, leg) in share.iter_mut().zip(self.menu.shares(kind, next)) {
                    *share *= leg;
                }
                if find(&share) & all == 0 {
                    return true;
                }
            }
            (owner, way) = (slot.owner, slot.way);
        }
        false
    }

    /// Whether a supply may stand at some outlet.
    fn may_host_any<'s, B: Build<'s>, F>(&self, task: &Task<'_, '_, 's, B, F>) -> bool {
        task.need.outlets.iter().any(|wanted| wanted.mains) && self.menu.kinds.iter().any(|kind| kind.is_inserter)
    }

    /// Whether something good may come of a tree.
    fn may_go_on<'s, B: Build<'s>, F>(
        &mut self,
        task: &Task<'_, '_, 's, B, F>,
        so_far: &SoFar,
        is_whole: bool,
    ) -> bool {
        let ways = so_far.live + so_far.pending_count;
        let missing = task.need.outlets.len().saturating_sub(usize::from(ways));
        if is_whole && (missing > 0 || so_far.amplifiers < self.amplifiers) {
            return false;
        }
        // Whoever finds no way that would do now stands behind a part that is still to come.
        let live = so_far.live + so_far.pending_live;
        let fresh = task.need.outlets.len().saturating_sub(usize::from(live));
        let Some(cost) = self.least_cost(so_far.cost, so_far.amplifiers, missing, fresh, so_far.has_mirror) else {
            return false;
        };
        if cost > self.limit {
            self.beyond(cost);
            return false;
        }
        let left = f32::from(self.amplifiers.saturating_sub(so_far.amplifiers));
        let closed = so_far.closed.iter().zip(self.growth).map(|(closed, growth)| closed * growth);
        let sums = so_far.pending.iter().zip(closed).zip(self.amplified).zip(self.needed);
        // An amplifier that is still to come multiplies at most all that is still open.
        sums.into_iter().all(|(((pending, closed), amplified), needed)| {
            !is_below(pending + closed + left * amplified * min(*pending, 1.0), needed * (1.0 - ROUNDING))
        })
    }

    /// How each outlet would do at a slot, behind further parts that are not there yet.
    pub(super) fn row<'s, B: Build<'s>, F>(
        &mut self,
        task: &mut Task<'_, '_, 's, B, F>,
        at: usize,
        further: &[(Kind, u8)],
    ) -> Result<Row<OUTLETS>, Error> {
        let (path, key) = self.path(at, further);
        let (need, stock, rules) = (task.need, task.stock, task.rules);
        let bench = &mut *task.bench;
        self.cache.row(key, |row| try_out(need, stock, &path, rules, bench, row))
    }

    /// The best that each outlet could do there: where an amplifier is to be powered, an inserter may stand before it.
    pub(super) fn best_row<'s, B: Build<'s>, F>(
        &mut self,
        task: &mut Task<'_, '_, 's, B, F>,
        at: usize,
        further: Option<(Kind, u8)>,
    ) -> Result<Row<OUTLETS>, Error> {
        let mut links: Vec<(Kind, u8), 2> = Vec::new();
        if let Some(link) = further {
            let _ = links.push(link);
        }
        let mut row = self.row(task, at, &links)?;
        if self.amplifiers == 0 {
            return Ok(row);
        }
        for number in 0..self.menu.kinds.len() {
            let Some(kind) = self.menu.kinds.get(number).copied().filter(|kind| kind.is_inserter) else { continue };
            let _ = links.push((kind, 0));
            let with = self.row(task, at, &links)?;
            let _ = links.pop();
            for ((margin, with), wanted) in row.iter_mut().zip(with).zip(task.need.outlets) {
                if wanted.mains {
                    *margin = max(*margin, with);
                }
            }
        }
        Ok(row)
    }

    /// The parts from the entry to a slot and on, and a key that ways with the same parts share.
    fn path(&self, at: usize, further: &[(Kind, u8)]) -> (Path, u128) {
        let mut path = Path::new();
        let mut codes: Vec<(u8, bool), { DEPTH + 2 }> = Vec::new();
        for (kind, way) in further.iter().rev() {
            let _ = path.push((kind.item, *way));
            let _ = codes.push((self.menu.code(kind, *way), kind.is_amplifier));
        }
        let mut slot = self.slots.get(at);
        while let Some(here) = slot {
            let owner = self.slots.get(here.owner as usize);
            if let Some(kind) = owner.and_then(|owner| self.kind_of(owner)) {
                let _ = path.push((kind.item, here.way));
                let _ = codes.push((self.menu.code(kind, here.way), kind.is_amplifier));
            }
            slot = owner;
        }
        path.reverse();
        let key = key(&codes);
        (path, key)
    }
}

/// A key that ways with the same parts share, from the codes of their ways out, the last part first.
pub(super) fn key(codes: &[(u8, bool)]) -> u128 {
    let mut key = 1_u128;
    let mut add = |code: u8| key = (key << 8) | u128::from(code);
    // What is passive commutes, but not across an amplifier, its passive port included: what stands before it decides
    // what it has to take. So each stretch goes in with its codes rising.
    for stretch in codes.split_inclusive(|(_, is_amplifier)| *is_amplifier) {
        let passive = || stretch.iter().filter(|(_, is_amplifier)| !is_amplifier).map(|(code, _)| *code);
        let mut last = 0;
        while let Some(next) = passive().filter(|code| *code > last).min() {
            passive().filter(|code| *code == next).for_each(&mut add);
            last = next;
        }
        stretch.iter().filter(|(_, is_amplifier)| *is_amplifier).for_each(|(code, _)| add(*code));
    }
    key
}

/// What a run loses nominally: the most at the return frequencies, the least at the home network's edges.
fn run_losses(need: &Need<'_, '_>, tree: &Tree<'_, '_>, from: PortId, to: PortId) -> Result<(f32, f32), Error> {
    let lost = |mhz: f32| -> Result<f32, Error> {
        let at = |port| tree.level_at(port, Frequency::unchecked(mhz), Case::Nominal);
        Ok(at(from)?.dbmv() - at(to)?.dbmv())
    };
    let (mut most, mut least) = (0.0, f32::INFINITY);
    for point in tree.entry.transmit.map_or(&[][..], |points| points.as_slice()) {
        most = max(most, lost(point.mhz)?);
    }
    if let Some(network) = &need.network {
        least = min(lost(network.band.low.mhz())?, lost(network.band.high.mhz())?);
    }
    Ok((most, least))
}

/// The outlets that keep a margin, one bit each; past the 64th none, which is never cut.
fn served(row: &[f32], outlets: usize, least: f32) -> u64 {
    let mut served = 0;
    for (index, margin) in row.iter().enumerate().take(outlets.min(64)) {
        served |= u64::from(*margin >= least) << index;
    }
    served
}
