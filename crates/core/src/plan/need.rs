//! What is asked for, and what is at hand.

use crate::{Cable, Db, HomeNetwork, Length, Outlet, Part, Place, Supply};

/// A run of cable that is there, or will be, whatever the plan.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Run<'s> {
    /// Its kind.
    pub spec: &'s Cable<'s>,
    /// How long it is.
    pub length: Length,
    /// Where it lies.
    pub place: Place,
}

impl<'s> Run<'s> {
    /// As a part.
    #[must_use]
    pub const fn part(&self) -> Part<'s> {
        Part::Cable { spec: self.spec, length: self.length, place: self.place }
    }
}

/// An outlet that is wanted, at the end of its run from the panel.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Wanted<'s> {
    /// What stands there.
    pub outlet: Outlet,
    /// Its run from the panel.
    pub run: Run<'s>,
    /// Whether there is a wall socket: a supply and an inserter could stand there.
    pub mains: bool,
    /// Whether it belongs to the home network.
    pub member: bool,
}

/// What is asked of a plan. Service, entry, climate, limits and targets are those of the premises it is built in.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Need<'a, 's> {
    /// The outlets.
    pub outlets: &'a [Wanted<'s>],
    /// The cable from the entry to the panel, where there is one.
    pub lead_in: Option<Run<'s>>,
    /// Whether there is a wall socket at the panel.
    pub mains: bool,
    /// The home network, where there is one.
    pub network: Option<HomeNetwork>,
    /// What is wanted between every extreme and its limit, where the limit is in dB or dBmV.
    pub margin: Db,
}

/// A kind of thing on the truck.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Stocked<'s> {
    /// A part for the panel, an inserter, a joint or a bond.
    Part(Part<'s>),
    /// Cable by the roll: it takes another's place, at that one's length.
    Cable(&'s Cable<'s>),
    /// A plug-in supply.
    Supply(Supply),
}

/// So many of a kind, at so much each.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Item<'s> {
    /// The kind.
    pub what: Stocked<'s>,
    /// How many there are.
    pub count: u16,
    /// What one costs, in hundredths.
    pub cost: u32,
}

impl<'s> Item<'s> {
    /// The part that it is, where it can stand in a panel or before an outlet.
    pub(crate) const fn part(&self) -> Option<Part<'s>> {
        match self.what {
            Stocked::Part(part) => Some(part),
            _ => None,
        }
    }
}
