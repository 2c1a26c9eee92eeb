//! The search for the fewest changes.
//!
//! One change, then two, then three: each time every set that could do is gone through, so what is found has the fewest.
//! What is cut off, and why nothing is lost:
//!
//! - Of the changes that set a home right, at least one is where its first fault can be touched; the last one is where
//!   all that are left can be. Only such are tried (see `touch`), and before the last one whatever frees a port.
//! - A set is tried once, not once for each order: what was tried first at some point is not tried again behind what
//!   comes later there.
//! - A set that costs more than one that does.

use heapless::Vec;

use super::change::{Edit, cost, taken};
use super::cursor::{Cursor, has_unused};
use super::draft::{Draft, Frame};
use super::touch::{Touch, Touches, wrongs};
use crate::plan::{Build, Item, Progress};
use crate::{Error, HomeNetwork, OutletId, Tree};

/// The most changes that are looked for.
pub const MOST_CHANGES: usize = 6;

/// How many changes that were tried are remembered at each step.
const REMEMBERED: usize = 256;

/// One change that was made, and what is tried behind it.
#[derive(Clone, Debug)]
struct Level<'s, const NODES: usize, const OUTLETS: usize> {
    draft: Draft<'s, NODES, OUTLETS>,
    cursor: Cursor,
    touches: Touches,
    edit: Option<Edit>,
    cost: u32,
    tried: Vec<Edit, REMEMBERED>,
}

/// The best changes so far.
#[derive(Clone, Debug)]
pub(super) struct Best {
    pub(super) edits: Vec<Edit, MOST_CHANGES>,
    pub(super) cost: u32,
    pub(super) margin: f32,
}

/// Room for a search.
#[derive(Debug)]
pub(super) struct Search<'s, const NODES: usize, const OUTLETS: usize> {
    levels: Vec<Level<'s, NODES, OUTLETS>, { MOST_CHANGES + 1 }>,
    order: Vec<u16, NODES>,
    members: Vec<OutletId, OUTLETS>,
    network: Option<HomeNetwork>,
    pub(super) best: Option<Best>,
    pub(super) steps: u32,
    pub(super) stopped: bool,
    margin: f32,
}

impl<'s, const NODES: usize, const OUTLETS: usize> Search<'s, NODES, OUTLETS> {
    pub(super) const fn new() -> Self {
        Self {
            levels: Vec::new(),
            order: Vec::new(),
            members: Vec::new(),
            network: None,
            best: None,
            steps: 0,
            stopped: false,
            margin: 0.0,
        }
    }

    /// Looks for the fewest changes, at most `most`. True where it went through everything.
    ///
    /// # Errors
    /// [`Error::Full`] where the home, or a candidate, finds no room.
    pub(super) fn run<B: Build<'s>>(
        &mut self,
        tree: &Tree<'_, 's>,
        stock: &[Item<'s>],
        margin: f32,
        most: usize,
        bench: &mut B,
        mut go_on: impl FnMut(&Progress) -> bool,
    ) -> Result<(), Error> {
        self.best = None;
        self.steps = 0;
        self.stopped = false;
        self.margin = margin;
        self.network = tree.home_network.copied();
        self.members.clear();
        for member in tree.members() {
            self.members.push(*member).map_err(|_| Error::Full { what: "members", capacity: OUTLETS })?;
        }
        let mut draft = Draft::new();
        draft.read(tree)?;
        if has_unused(&draft) {
            return Ok(());
        }
        if let Some(Verdict::Good(margin)) = self.judge(&draft, bench)? {
            self.best = Some(Best { edits: Vec::new(), cost: 0, margin });
            return Ok(());
        }
        for changes in 1..=most.min(MOST_CHANGES) {
            self.look(&draft, stock, changes, bench, &mut go_on)?;
            if self.best.is_some() || self.stopped {
                return Ok(());
            }
        }
        Ok(())
    }

    /// Goes through every set of so many changes.
    fn look<B: Build<'s>>(
        &mut self,
        draft: &Draft<'s, NODES, OUTLETS>,
        stock: &[Item<'s>],
        changes: usize,
        bench: &mut B,
        go_on: &mut impl FnMut(&Progress) -> bool,
    ) -> Result<(), Error> {
        self.levels.clear();
        let Some(Verdict::Bad(touches)) = self.judge(draft, bench)? else { return Ok(()) };
        self.enter(draft.clone(), touches, None, 0);
        while let Some(depth) = self.levels.len().checked_sub(1) {
            let Some(level) = self.levels.last_mut() else { break };
            let Some(edit) = level.cursor.next(&level.draft, stock) else {
                self.levels.truncate(depth);
                continue;
            };
            let sum = level.cost.saturating_add(cost(&edit, stock));
            let is_last = depth + 1 == changes;
            if !self.is_worth_it(&edit, sum, is_last, stock) {
                continue;
            }
            self.steps = self.steps.wrapping_add(1);
            let best = self.best.as_ref().map(|best| (best.edits.len() as u8, best.cost, best.margin));
            if self.steps.is_multiple_of(8) && !go_on(&Progress { steps: self.steps, tier: changes as u8, best }) {
                self.stopped = true;
                return Ok(());
            }
            let Some(level) = self.levels.last_mut() else { break };
            let _ = level.tried.push(edit);
            let mut next = level.draft.clone();
            if next.make(&edit, stock).is_none() {
                continue;
            }
            match self.judge(&next, bench)? {
                Some(Verdict::Good(margin)) => self.keep(edit, sum, margin),
                Some(Verdict::Bad(touches)) if !is_last => self.enter(next, touches, Some(edit), sum),
                _ => {}
            }
        }
        Ok(())
    }

    fn enter(&mut self, draft: Draft<'s, NODES, OUTLETS>, touches: Touches, edit: Option<Edit>, cost: u32) {
        // There are as many levels as changes, and one more for none.
        let _ = self.levels.push(Level { draft, cursor: Cursor::default(), touches, edit, cost, tried: Vec::new() });
    }

    /// Whether a change may be one of a set that does.
    fn is_worth_it(&self, edit: &Edit, sum: u32, is_last: bool, stock: &[Item<'s>]) -> bool {
        let Some(level) = self.levels.last() else { return false };
        if self.best.as_ref().is_some_and(|best| sum > best.cost) {
            return false;
        }
        let touches = |touch: &Touch| level.draft.touches(*touch, edit);
        let first = level.touches.iter().find(|touch| **touch != Touch::Any).or_else(|| level.touches.first());
        // What frees a port, or leaves a part with fewer ways in use, may be what lets another change be made.
        let opens = matches!(edit, Edit::Move { .. } | Edit::Take(_));
        let matters = if is_last { level.touches.iter().all(touches) } else { opens || first.is_none_or(touches) };
        matters
            && self.levels.iter().all(|level| !level.tried.contains(edit))
            && taken(edit).all(|item| {
                let made = self.levels.iter().filter_map(|level| level.edit.as_ref());
                let used = made.chain([edit]).flat_map(taken).filter(|used| *used == item).count();
                stock.get(item as usize).is_some_and(|item| used <= usize::from(item.count))
            })
    }

    fn keep(&mut self, edit: Edit, cost: u32, margin: f32) {
        let better = |best: &Best| cost < best.cost || (cost == best.cost && margin > best.margin);
        if self.best.as_ref().is_none_or(better) {
            let edits = self.levels.iter().filter_map(|level| level.edit).chain([edit]);
            let mut kept = Vec::new();
            for edit in edits {
                let _ = kept.push(edit);
            }
            self.best = Some(Best { edits: kept, cost, margin });
        }
    }

    /// Builds a draft and checks it; [`None`] where it can't be built.
    pub(super) fn judge<B: Build<'s>>(
        &mut self,
        draft: &Draft<'s, NODES, OUTLETS>,
        bench: &mut B,
    ) -> Result<Option<Verdict>, Error> {
        let frame = Frame { network: self.network, members: &self.members };
        match draft.build(&frame, bench, &mut self.order) {
            Ok(()) => {}
            Err(full @ Error::Full { .. }) => return Err(full),
            Err(_) => return Ok(None),
        }
        let report = bench.check()?;
        let touches = wrongs(&report, &self.order, self.margin);
        if !touches.is_empty() {
            return Ok(Some(Verdict::Bad(touches)));
        }
        let margin = report.margins().iter().map(|margin| margin.db).fold(f32::INFINITY, crate::math::min);
        Ok(Some(Verdict::Good(margin)))
    }
}

/// What a check says of a draft.
pub(super) enum Verdict {
    Good(f32),
    Bad(Touches),
}
