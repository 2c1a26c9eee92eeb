//! Few frequencies that stand for many carriers.
//!
//! Between two points of every table, each level is `a + b·f + c·sqrt(f)`: smooth. The sum of a
//! smooth function over n equally spaced carriers is, very nearly, n times the mean of two values
//! of it: Gauss' rule for the discrete sum, with nodes one standard deviation of the carriers,
//! `sqrt((n² - 1)/12)` steps, to either side of the middle. It is exact up to the third degree, and
//! for two carriers they are the carriers themselves. What is too wide or too steep for two nodes
//! is taken as several runs. (Three nodes a run save nothing: two runs of two fill a batch of four.)

use super::Sense;
use super::batch::{Batch, LANES, Lanes};
use super::rows::Row;
use crate::curve::Between;
use crate::math::{is_below, ratio, root};
use crate::{Block, Tree};

/// The most steps of a run, as a share of the frequency at which it begins: beyond it the square
/// root's own bend is more than two nodes follow.
const WIDEST: f32 = 0.36;

/// A run of neighbouring carriers in one block.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Run {
    block: u16,
    carrier: u16,
    pub(crate) count: u16,
}

/// What stands in a batch's lanes: runs, each in two of them.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Marks {
    /// How many carriers each lane stands for, times their block's offset as a power ratio.
    pub(crate) weight: Lanes,
    pub(crate) runs: [Run; LANES / 2],
}

impl Marks {
    /// No run.
    pub(crate) const NONE: Self =
        Self { weight: [0.0; LANES], runs: [Run { block: 0, carrier: 0, count: 0 }; LANES / 2] };
}

/// Takes carriers in order, a few runs at a time.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Sampler {
    block: u16,
    carrier: u16,
    /// The most carriers of the runs that come next.
    most: u16,
}

impl Sampler {
    /// At the first carrier.
    pub(crate) const START: Self = Self { block: 0, carrier: 0, most: u16::MAX };

    /// Goes back to a run that its nodes did not do justice to, to take it in shorter ones.
    pub(crate) fn refine(&mut self, run: Run) {
        *self = Self { block: run.block, carrier: run.carrier, most: run.count.div_ceil(2) };
    }

    /// Fills a batch with the runs that come next; none are left where it stays empty.
    #[cfg_attr(target_os = "none", inline(never))]
    pub(crate) fn fill(&mut self, tree: &Tree<'_, '_>, rows: &mut [Row], batch: &mut Batch, marks: &mut Marks) {
        *marks = Marks::NONE;
        batch.used = 0;
        for (slot, weight) in marks.runs.iter_mut().zip(marks.weight.as_chunks_mut::<2>().0) {
            let Some(block) = self.block(tree) else { break };
            let count = self.count(tree, rows, block);
            *slot = Run { block: self.block, carrier: self.carrier, count };
            let n = f32::from(count);
            *weight = [0.5 * n * ratio(block.offset()); 2];
            let middle = block.centre(self.carrier) + 0.5 * (n - 1.0) * block.step();
            let distance = root((n * n - 1.0) * (1.0 / 12.0)) * block.step();
            batch.push(middle - distance);
            batch.push(middle + distance);
            self.carrier += count;
        }
        self.most = Self::START.most;
    }

    /// The block of the carrier that comes next.
    fn block<'s>(&mut self, tree: &Tree<'_, 's>) -> Option<&'s Block> {
        loop {
            let block = tree.service.blocks().get(self.block as usize)?;
            if self.carrier < block.count() {
                return Some(block);
            }
            (self.block, self.carrier) = (self.block + 1, 0);
        }
    }

    /// How many carriers the run that begins here has: up to the next point of any table.
    fn count(&self, tree: &Tree<'_, '_>, rows: &mut [Row], block: &Block) -> u16 {
        let from = block.centre(self.carrier);
        let mut until = tree.entry.forward.line_at(from, Between::SquareRoot).until;
        for row in rows.iter_mut().filter(|row| row.is_met_by(Sense::Forward)) {
            let end = row.line_at(tree, from).until;
            if is_below(end, until) {
                until = end;
            }
        }
        let steps = (until - from) / block.step();
        let widest = WIDEST * (from / block.step());
        let left = (block.count() - self.carrier).min(self.most);
        // A carrier that stands on the point itself belongs to both sides.
        let steps = if is_below(steps, widest) { steps } else { widest };
        if is_below(steps, f32::from(left)) { (steps as u16 + 1).min(left) } else { left }
    }
}
