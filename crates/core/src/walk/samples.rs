//! Few frequencies that stand for many carriers.
//!
//! Between two points of every table, each level is `a + b·f + c·sqrt(f)`: smooth. The sum of a
//! smooth function over n equally spaced carriers is, very nearly, three values of it: Gauss'
//! rule for the discrete sum, exact up to the fifth degree, with nodes at the middle and
//! `±sqrt((3n² - 7)/20)` steps from it and the weight `n(n² - 1)/24/x²` on the outer two.
//! A run whose levels change by about 9 dB at most is right within 2e-4 dB that way; a steeper
//! one is halved until it is flat enough, or short enough to be added up carrier by carrier.

use super::Sense;
use super::batch::{Batch, LANES};
use super::rows::Row;
use crate::curve::Between;
use crate::{Block, Tree, math};

/// A place among the carriers.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct Cursor {
    block: u16,
    carrier: u16,
}

/// What stands in a batch's lanes.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Marks {
    /// How many carriers each lane stands for, times their block's offset as a power ratio.
    pub(crate) weight: [f32; LANES],
    /// Lanes at which a run of three nodes begins: where it starts, and its carriers.
    pub(crate) runs: [Option<(Cursor, u16)>; LANES],
}

/// Carriers up to which each is added by itself: three nodes would save nothing.
const BY_ITSELF: u16 = 3;

/// Fills a batch from the cursor on, runs of at most `cap` carriers; the cursor moves on.
pub(crate) fn fill(tree: &Tree<'_, '_>, rows: &[Row], cursor: &mut Cursor, cap: u16, batch: &mut Batch) -> Marks {
    let mut marks = Marks { weight: [0.0; LANES], runs: [None; LANES] };
    batch.used = 0;
    while let Some(block) = tree.service.blocks().get(cursor.block as usize) {
        if cursor.carrier >= block.count() {
            *cursor = Cursor { block: cursor.block + 1, carrier: 0 };
            continue;
        }
        let room = LANES - batch.used;
        let count = smooth_from(tree, rows, block, cursor.carrier).min(cap);
        let offset = if block.offset() == 0.0 { 1.0 } else { math::ratio(block.offset()) };
        if count <= BY_ITSELF {
            let taken = usize::from(count).min(room);
            if taken == 0 {
                break;
            }
            for number in cursor.carrier..cursor.carrier + taken as u16 {
                set(&mut marks.weight, batch.used, offset);
                batch.push(block.centre(number));
            }
            cursor.carrier += taken as u16;
            continue;
        }
        if room < 3 {
            break;
        }
        if let Some(run) = marks.runs.get_mut(batch.used) {
            *run = Some((*cursor, count));
        }
        let n = f32::from(count);
        let middle = block.first() + block.step() * (f32::from(cursor.carrier) + 0.5 * (n - 1.0));
        let x_squared = (3.0 * n * n - 7.0) * 0.05;
        let x = math::root(x_squared) * block.step();
        let outer = n * (n * n - 1.0) / (24.0 * x_squared);
        for (mhz, weight) in [(middle - x, outer), (middle, n - 2.0 * outer), (middle + x, outer)] {
            set(&mut marks.weight, batch.used, weight * offset);
            batch.push(mhz);
        }
        cursor.carrier += count;
    }
    batch.seal();
    marks
}

fn set(weights: &mut [f32; LANES], lane: usize, weight: f32) {
    if let Some(slot) = weights.get_mut(lane) {
        *slot = weight;
    }
}

/// How many carriers of a block, from one on, lie before the next point of any table.
fn smooth_from(tree: &Tree<'_, '_>, rows: &[Row], block: &Block, carrier: u16) -> u16 {
    let from = block.centre(carrier);
    let mut until = tree.entry.forward.next_after(from, Between::SquareRoot);
    for row in rows.iter().filter(|row| row.is_met_by(Sense::Forward)) {
        if let Some((points, between, ..)) = row.source(tree) {
            until = math::min(until, points.next_after(from, between));
        }
    }
    let left = block.count() - carrier;
    let steps = (until - from) / block.step();
    // A carrier that stands on the point itself belongs to both sides.
    if steps >= f32::from(left) { left } else { (steps as u16 + 1).min(left) }
}
