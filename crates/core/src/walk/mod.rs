//! Walking the tree: what the signal has lost, from the entry to every port, in all three cases.
//!
//! Parts share specs, so a table is read once for each spec and frequency ([`rows`]), not once
//! for each part. Every port then knows how it follows from the port its part hangs on
//! ([`edges`]). One pass outward adds up losses for a [`Batch`] of frequencies at once; forward
//! levels, transmit levels, noise, totals and the loss between outlets are all read off it.

mod batch;
mod edges;
mod node;
mod pass;
mod rows;
mod samples;

pub(crate) use batch::{Batch, LANES, Lanes, at};
pub(crate) use edges::{Edge, Kind, Stage, tune};
pub(crate) use node::Node;
pub(crate) use pass::{Cases, Plane, outward};
pub(crate) use rows::{Row, evaluate, lay_out, make_ports};
pub(crate) use samples::{Marks, Run, Sampler};

/// Which way a signal goes, which decides what an amplifier does to it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Sense {
    /// From the entry to the outlets: amplified.
    Forward,
    /// From the outlets to the entry, through the return path.
    Return,
    /// In the home network's band, around the amplifier.
    Network,
}
