//! What amplifiers and further ways out cost at the least.

use super::design::MOST_SUPPLIES;
use super::menu::Kind;
use super::search::Search;

impl<const KINDS: usize, const LEGS: usize, const NODES: usize, const OUTLETS: usize, const CACHE: usize>
    Search<KINDS, LEGS, NODES, OUTLETS, CACHE>
{
    /// The least cost of amplifiers and at least so many ways out, a part counting for all of its ways or, where it
    /// takes one, for all but that: a bounded knapsack over the stock.
    pub(super) fn price(&self, takes: usize) -> [[u32; OUTLETS]; MOST_SUPPLIES + 1] {
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
}
