//! A home as a tree: the point of entry is the root, parts hang on ports.
//!
//! A part is placed after the port it hangs on, so ports and parts are arrays in which every
//! parent precedes its children: one pass outward visits a home in order, and a way to the entry
//! is a walk of falling numbers that always ends.

mod build;
mod ids;
mod level;
mod list;
mod tree;

pub use build::Premises;
pub use ids::{OutletId, PartId, PortId, SupplyId};
pub use tree::{Entry, HomeNetwork, Occupant, Outlet, Supply, Tree};
pub(crate) use tree::{Placed, Port};
