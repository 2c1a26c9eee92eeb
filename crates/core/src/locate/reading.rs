//! What a technician reads.

use crate::{Frequency, Level, PortId};

/// A level that was read at a port. An outlet is the port it hangs on.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Reading {
    /// Where; [`PortId::ENTRY`] for what comes in.
    pub port: PortId,
    /// At which frequency.
    pub frequency: Frequency,
    /// What the meter said.
    pub level: Level,
}
