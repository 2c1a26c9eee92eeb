//! What could be taken from the truck, the best first.

use super::stock::{Item, Need, What};

/// How many of each item of the stock are taken.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Bag {
    pub(crate) taken: Vec<usize>,
    pub(crate) amplifiers: usize,
    /// In hundredths.
    pub(crate) cost: u64,
}

impl Bag {
    /// How many of the items that a rule picks.
    pub(crate) fn count(&self, need: &Need, picks: impl Fn(&Item) -> bool) -> usize {
        let picked = self.taken.iter().zip(&need.items).filter(|(_, item)| picks(item));
        picked.map(|(taken, _)| taken).sum()
    }

    /// Whether a good plan could take just this. Every supply has to reach an amplifier and no two the same one, every
    /// inserter comes with a supply, and the other supplies need mains at the panel.
    fn may_serve(&self, need: &Need) -> bool {
        let supplies = self.count(need, |item| matches!(item.what, What::Supply(_)));
        let inserters = self.count(need, |item| matches!(item.what, What::Inserter(_)));
        let amplifiers = self.amplifiers;
        let other = self.count(need, |item| matches!(item.what, What::Other));
        other == 0
            && supplies <= amplifiers
            && inserters <= supplies
            && (need.mains || inserters == supplies)
            && (amplifiers == 0 || supplies > 0)
    }
}

/// Every bag that may serve: fewest amplifiers first, then the lowest cost.
pub(crate) fn bags(need: &Need) -> Vec<Bag> {
    let mut all = vec![Bag { taken: Vec::new(), amplifiers: 0, cost: 0 }];
    for item in &need.items {
        let with = |bag: &Bag, taken: usize| {
            let mut bag = bag.clone();
            bag.taken.push(taken);
            bag.cost += item.cost * taken as u64;
            bag.amplifiers += if item.is_amplifier() { taken } else { 0 };
            bag
        };
        all = all.iter().flat_map(|bag| (0..=item.count).map(move |taken| with(bag, taken))).collect();
    }
    all.retain(|bag| bag.may_serve(need));
    all.sort_by_key(|bag| (bag.amplifiers, bag.cost));
    all
}
