//! Which amplifiers a tree takes, kind by kind: each set is gone through for itself.
//!
//! Amplifiers cost the most by far and do very different things, so a bound that holds for one set says little for
//! another, and one that holds for any set says least.

use heapless::Vec;

use super::design::MOST_SUPPLIES;
use super::menu::Menu;
use super::prices::Prices;

/// The most sets that are told apart; where there are more, all are gone through as one.
pub(super) const MOST_FLEETS: usize = 32;

/// A set of amplifiers, and how far the search for trees with them has come.
#[derive(Clone, Copy, Debug)]
pub(super) struct Fleet<const KINDS: usize, const OUTLETS: usize> {
    /// Kinds in rising order, one for each amplifier; [`None`] for any set at all.
    members: Option<[u8; MOST_SUPPLIES]>,
    amplifiers: u8,
    /// The lowest cost at which there may be a tree that was not looked at; [`None`] where there is none.
    pub(super) next: Option<u32>,
    /// The lowest cost at which one was looked for, and the one up to which all were.
    pub(super) first: u32,
    pub(super) done: Option<u32>,
    /// How often it was gone through.
    pub(super) passes: u32,
    /// The best prices known.
    pub(super) prices: Prices<KINDS, OUTLETS>,
}

impl<const KINDS: usize, const OUTLETS: usize> Fleet<KINDS, OUTLETS> {
    const fn new(members: Option<[u8; MOST_SUPPLIES]>, amplifiers: u8) -> Self {
        Self { members, amplifiers, next: None, first: 0, done: None, passes: 0, prices: Prices::NONE }
    }

    /// How many of each kind a tree may take.
    pub(super) fn counts<const LEGS: usize>(&self, menu: &Menu<KINDS, LEGS>) -> [u16; KINDS] {
        let mut counts = [0; KINDS];
        for ((number, kind), count) in menu.kinds.iter().enumerate().zip(&mut counts) {
            *count = match self.members {
                Some(members) if kind.is_amplifier => {
                    let taken = members.iter().take(usize::from(self.amplifiers));
                    taken.filter(|member| usize::from(**member) == number).count() as u16
                }
                _ => kind.count,
            };
        }
        counts
    }
}

/// All sets of so many amplifiers.
pub(super) fn fleets<const KINDS: usize, const LEGS: usize, const OUTLETS: usize>(
    menu: &Menu<KINDS, LEGS>,
    amplifiers: u8,
    fleets: &mut Vec<Fleet<KINDS, OUTLETS>, MOST_FLEETS>,
) {
    fleets.clear();
    let mut kinds: Vec<u8, KINDS> = Vec::new();
    for (number, _) in menu.kinds.iter().enumerate().filter(|(_, kind)| kind.is_amplifier) {
        // There is room for every kind.
        let _ = kinds.push(number as u8);
    }
    let many = usize::from(amplifiers).min(MOST_SUPPLIES);
    if many > 0 && kinds.is_empty() {
        return;
    }
    // Places among the kinds, in rising order: the number that counts up.
    let mut places = [0_usize; MOST_SUPPLIES];
    loop {
        let members = places.map(|place| kinds.get(place).copied().unwrap_or(u8::MAX));
        let fleet = Fleet::new(Some(members), amplifiers);
        let is_there = menu.kinds.iter().zip(fleet.counts(menu)).all(|(kind, taken)| taken <= kind.count);
        if is_there && fleets.push(fleet).is_err() {
            fleets.clear();
            let _ = fleets.push(Fleet::new(None, amplifiers));
            return;
        }
        let Some(grows) = places.iter().take(many).rposition(|place| place + 1 < kinds.len()) else { return };
        let next = places.get(grows).copied().unwrap_or(0) + 1;
        places.iter_mut().take(many).skip(grows).for_each(|place| *place = next);
    }
}
