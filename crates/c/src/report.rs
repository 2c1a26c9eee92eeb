//! Structures in which figures go back to C.

use legwork::{Figure, PartId, Verdict};

use crate::choice::{legwork_outlet_id, legwork_part_id, legwork_port_id, legwork_supply_id};

/// How good something is.
pub type legwork_verdict_id = u32;
/// Inside every limit, extremes included.
pub const LEGWORK_PASS: legwork_verdict_id = 0;
/// Nominally inside the limit, an extreme is not; or outside the operator's target.
pub const LEGWORK_MARGINAL: legwork_verdict_id = 1;
/// Outside.
pub const LEGWORK_FAIL: legwork_verdict_id = 2;

/// A figure that is held against limits.
#[repr(C)]
#[derive(Clone, Copy)]
pub struct legwork_figure {
    /// At 20 C, every spread zero.
    pub nominal: f32,
    /// The least of nominal, most loss and least loss.
    pub low: f32,
    /// The greatest of them.
    pub high: f32,
}

/// How many of each a report holds.
#[repr(C)]
#[derive(Clone, Copy)]
pub struct legwork_counts {
    /// Outlets of the home, unused jacks included.
    pub outlets: usize,
    /// Frequencies of forward levels, and of carrier-to-noise ratios where there are any.
    pub forward: usize,
    /// Frequencies of transmit levels.
    pub transmit: usize,
    /// Amplifiers.
    pub amplifiers: usize,
    /// Feeds: an amplifier on a supply.
    pub feeds: usize,
    /// Ports that carry DC.
    pub dc: usize,
    /// Links of the home network: each pair of members at both edges of its band.
    pub links: usize,
    /// Findings.
    pub findings: usize,
}

/// What was worked out for one outlet, beside what stands over frequency.
#[repr(C)]
#[derive(Clone, Copy)]
pub struct legwork_outlet_report {
    /// The worst of its findings.
    pub verdict: legwork_verdict_id,
    /// Level at the last carrier minus level at the first, in dB.
    pub tilt: legwork_figure,
    /// Power sum over all carriers, in dBmV.
    pub total: legwork_figure,
}

/// What was worked out for one amplifier.
#[repr(C)]
#[derive(Clone, Copy)]
pub struct legwork_amplifier_report {
    /// Which part.
    pub part: legwork_part_id,
    /// Total power of all carriers at its input, in dBmV.
    pub input_total: legwork_figure,
    /// What is left to the most it takes, in dB; NAN where no most is stated.
    pub headroom_db: f32,
}

/// One amplifier on one supply. NAN where a number does not exist, because the feed has collapsed.
#[repr(C)]
#[derive(Clone, Copy)]
pub struct legwork_feed_report {
    /// The supply.
    pub supply: legwork_supply_id,
    /// The amplifier.
    pub amplifier: legwork_part_id,
    /// The port at which it draws.
    pub port: legwork_port_id,
    /// The worst of its findings.
    pub verdict: legwork_verdict_id,
    /// Volts at that port.
    pub volts: f32,
    /// The least of the three cases.
    pub volts_low: f32,
    /// The greatest of the cases that hold.
    pub volts_high: f32,
    /// What the amplifier draws.
    pub amps: f32,
    /// The most it draws.
    pub amps_high: f32,
    /// What the supply gives in all.
    pub supply_amps: f32,
    /// The most it gives.
    pub supply_amps_high: f32,
    /// Resistance from the supply's terminals at 20 C, its own included.
    pub loop_ohms: f32,
    /// What is lost on the way.
    pub drop_volts: f32,
}

/// DC at one port.
#[repr(C)]
#[derive(Clone, Copy)]
pub struct legwork_dc_report {
    /// Where.
    pub port: legwork_port_id,
    /// From which supply.
    pub supply: legwork_supply_id,
    /// Volts under load; NAN where the feed has collapsed.
    pub volts: f32,
    /// Volts with nothing drawing.
    pub volts_unloaded: f32,
    /// Resistance from the supply's terminals at 20 C, its own included.
    pub loop_ohms: f32,
}

/// One link of the home network at one edge of its band.
#[repr(C)]
#[derive(Clone, Copy)]
pub struct legwork_link_report {
    /// The member that joined first.
    pub from: legwork_outlet_id,
    /// The other.
    pub to: legwork_outlet_id,
    /// The frequency.
    pub mhz: f32,
    /// Its loss in dB; NAN where it is blocked.
    pub loss_db: f32,
    /// Whether the loss is inside its limit.
    pub verdict: legwork_verdict_id,
}

pub(crate) const fn verdict(verdict: Verdict) -> legwork_verdict_id {
    match verdict {
        Verdict::Pass => LEGWORK_PASS,
        Verdict::Marginal => LEGWORK_MARGINAL,
        Verdict::Fail => LEGWORK_FAIL,
    }
}

pub(crate) fn maybe(number: Option<f32>) -> f32 {
    number.unwrap_or(f32::NAN)
}

pub(crate) const fn figure(figure: Figure) -> legwork_figure {
    legwork_figure { nominal: figure.nominal, low: figure.low, high: figure.high }
}

pub(crate) const fn part(part: PartId) -> legwork_part_id {
    part.index() as legwork_part_id
}
