//! Which outlet goes to which way out.
//!
//! Each way out takes one outlet, and each pair has a margin. Wanted is the assignment whose smallest margin is the
//! largest: a bottleneck assignment. One that keeps a threshold is found by augmenting paths (Kuhn's algorithm, read
//! breadth first); the threshold then rises to just above the smallest margin of what was found, until nothing keeps it.

use super::leaf::Row;

/// For each outlet the way out it goes to.
pub(super) type Assignment<const OUTLETS: usize> = [u16; OUTLETS];

/// No way out yet.
const NONE: u16 = u16::MAX;

/// Finds an assignment of the first `count` outlets to ways out, in which every margin is `least` or more.
pub(super) fn assign<const OUTLETS: usize, const NODES: usize>(
    rows: &[Row<OUTLETS>],
    count: usize,
    least: f32,
) -> Option<Assignment<OUTLETS>> {
    let mut goes: Assignment<OUTLETS> = [NONE; OUTLETS];
    let mut taken = [NONE; NODES];
    for outlet in 0..count {
        augment(rows, least, outlet as u16, &mut goes, &mut taken)?;
    }
    Some(goes)
}

/// The assignment with the largest smallest margin, if that is `least` or more.
pub(super) fn widest<const OUTLETS: usize, const NODES: usize>(
    rows: &[Row<OUTLETS>],
    count: usize,
    least: f32,
) -> Option<(Assignment<OUTLETS>, f32)> {
    let mut best = None;
    let mut least = least;
    while let Some(found) = assign::<OUTLETS, NODES>(rows, count, least) {
        let margin = smallest(rows, count, &found);
        best = Some((found, margin));
        let next = margin + STEP;
        if next <= least || margin == f32::INFINITY {
            break;
        }
        least = next;
    }
    best
}

/// Margins that differ by less are the same.
const STEP: f32 = 1e-4;

/// The smallest margin of an assignment.
pub(super) fn smallest<const OUTLETS: usize>(rows: &[Row<OUTLETS>], count: usize, goes: &Assignment<OUTLETS>) -> f32 {
    let margin = |(outlet, way): (usize, &u16)| margin(rows, outlet, *way);
    goes.iter().enumerate().take(count).map(margin).fold(f32::INFINITY, crate::math::min)
}

fn margin<const OUTLETS: usize>(rows: &[Row<OUTLETS>], outlet: usize, way: u16) -> f32 {
    rows.get(way as usize).and_then(|row| row.get(outlet)).copied().unwrap_or(f32::NEG_INFINITY)
}

/// Finds a way out for one more outlet, moving others where that helps.
fn augment<const OUTLETS: usize, const NODES: usize>(
    rows: &[Row<OUTLETS>],
    least: f32,
    outlet: u16,
    goes: &mut Assignment<OUTLETS>,
    taken: &mut [u16; NODES],
) -> Option<()> {
    // The outlet that asks for each way out, and the outlets in the order in which they ask.
    let mut asks = [NONE; NODES];
    let mut queue = [NONE; OUTLETS];
    let (mut head, mut tail) = (0, 1);
    *queue.first_mut()? = outlet;
    while head < tail {
        let asking = *queue.get(head)?;
        head += 1;
        for way in 0..rows.len() {
            let asked = asks.get_mut(way)?;
            if *asked != NONE || margin(rows, asking as usize, way as u16) < least {
                continue;
            }
            *asked = asking;
            let holder = *taken.get(way)?;
            if holder == NONE {
                return hand_over(way as u16, &asks, goes, taken);
            }
            *queue.get_mut(tail)? = holder;
            tail += 1;
        }
    }
    None
}

/// Gives a free way out to the outlet that asked for it, that one's to who asked for that, and so on.
fn hand_over<const OUTLETS: usize, const NODES: usize>(
    mut way: u16,
    asks: &[u16; NODES],
    goes: &mut Assignment<OUTLETS>,
    taken: &mut [u16; NODES],
) -> Option<()> {
    // Each turn settles one outlet, so there are no more turns than outlets.
    for _ in 0..OUTLETS {
        let outlet = *asks.get(way as usize)?;
        let left = core::mem::replace(goes.get_mut(outlet as usize)?, way);
        *taken.get_mut(way as usize)? = outlet;
        if left == NONE {
            return Some(());
        }
        way = left;
    }
    None
}

#[cfg(test)]
#[allow(clippy::unwrap_used, clippy::indexing_slicing, reason = "a test may panic")]
mod tests {
    use super::*;

    #[test]
    fn the_smallest_margin_is_the_largest_there_is() {
        // Greedy would give outlet 0 the first way, and leave outlet 1 with less than nothing.
        let rows = [[5.0, 4.0, 9.0], [3.0, -1.0, 9.0], [2.0, -2.0, 1.0]];
        let (goes, margin) = widest::<3, 4>(&rows, 3, 0.0).unwrap();
        assert_eq!((goes, margin), ([2, 0, 1], 2.0));
        assert!(widest::<3, 4>(&rows, 3, 2.5).is_none());
    }

    #[test]
    fn every_small_table_agrees_with_all_permutations() {
        let mut seed = 7_u32;
        for _ in 0..500 {
            let mut rows = [[0.0; 4]; 5];
            for cell in rows.iter_mut().flatten() {
                seed = seed.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
                *cell = f32::from((seed >> 24) as u8 % 16) - 4.0;
            }
            let mut want = f32::NEG_INFINITY;
            for code in 0..625_u16 {
                let goes = [code % 5, code / 5 % 5, code / 25 % 5, code / 125];
                let distinct = (0..4).all(|a| (0..a).all(|b| goes[a] != goes[b]));
                if distinct {
                    want = want.max(smallest(&rows, 4, &goes));
                }
            }
            let got = widest::<4, 5>(&rows, 4, 0.0).map(|(_, margin)| margin);
            assert_eq!(got, (want >= 0.0).then_some(want));
        }
    }
}
