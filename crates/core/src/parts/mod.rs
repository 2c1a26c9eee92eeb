//! What a technician carries: one kind a file.
//!
//! A spec says what a part of one make does; parts borrow it. Losses are positive decibels from
//! the input to a way out; `spread` is plus or minus, in dB (for a cable in percent).

mod amplifier;
mod bond;
mod cable;
mod coupler;
mod equalizer;
mod filter;
mod inserter;
mod joint;
mod part;
mod splitter;

pub use amplifier::{Amplifier, DcPorts, Draw};
pub use bond::{Bond, Conductor};
pub(crate) use cable::COPPER_PER_KELVIN;
pub use cable::Cable;
pub use coupler::Coupler;
pub use equalizer::Equalizer;
pub use filter::Filter;
pub use inserter::Inserter;
pub use joint::Joint;
pub use part::{Part, Way};
pub(crate) use part::{PortLoss, Slope};
pub use splitter::{Legs, Splitter};
