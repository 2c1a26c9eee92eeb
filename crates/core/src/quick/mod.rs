//! What a technician works out ten times a day, without a premises file.

mod along;
mod cable;
mod echo;
mod feed;
mod noise;
mod plan;
mod sum;
mod wire;

pub use along::Step;
pub use cable::{Run, SPEED_OF_LIGHT_M_PER_S};
pub use echo::{echo_from_delay, echo_from_ripple, echo_strength};
pub use feed::{Supplied, hold, largest_draw, longest_loop};
pub use noise::{carrier_to_noise, thermal_floor};
pub use plan::{Channel, ChannelPlan};
pub use sum::power_sum;
pub use wire::{Metal, diameter_mm, resistance};
