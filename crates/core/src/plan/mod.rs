//! The best set of parts for a home: which to take from the truck, where each goes, how to power them.
//!
//! A [`Need`] says what is wanted at the end of each run, a stock of [`Item`]s what is at hand. A [`Planner`] finds the
//! tree of parts at the panel that makes everything good, by [`Workspace::check`](crate::Workspace::check) and with the
//! wanted margin, with the fewest amplifiers, at the lowest cost, with the largest smallest margin.

mod bench;
mod cuts;
mod design;
mod grow;
mod judge;
pub(crate) mod leaf;
mod matching;
pub(crate) mod menu;
mod need;
mod planner;
mod powering;
mod prices;
mod reach;
mod rows;
mod search;
mod slots;
mod swap;
mod wants;

pub use bench::{Bench, Build};
pub use design::{MOST_SUPPLIES, Origin};
pub use leaf::is_in_the_way;
pub use need::{Item, Need, Run, Stocked, Wanted};
pub use planner::{Outcome, Plan, Planner};
pub use search::Progress;
