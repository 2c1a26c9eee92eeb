//! House amplifiers.

use crate::{Amps, Band, Curve, Db, Split, Volts, Watts};

/// What an amplifier draws.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Draw {
    /// The same power at any voltage: a switching supply inside.
    Power(Watts),
    /// The same current at any voltage: a linear regulator inside.
    Current(Amps),
}

/// The ports through which an amplifier can be powered.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct DcPorts {
    /// A port of its own, for DC alone.
    pub power: bool,
    /// The input.
    pub input: bool,
    /// The outputs: bit 0 is output 1.
    pub outputs: u16,
}

/// A house amplifier: amplifies forward to its outputs, and carries the return back with a gain
/// of its own, or not at all. It may have a passive port that works without power.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Amplifier<'s> {
    /// How many amplified outputs, 1 to 16.
    pub outputs: u8,
    /// Gain from the input to any output.
    pub gain: Curve<'s>,
    /// Gain from an output back to the input; negative without amplification; none: no return path.
    pub return_gain: Option<Curve<'s>>,
    /// Loss from the input to the passive port, where there is one.
    pub passive: Option<Curve<'s>>,
    /// Plus or minus, in dB, on gain, return gain and passive loss.
    pub spread: Db,
    /// Noise figure at the input, forward.
    pub noise_figure: Curve<'s>,
    /// Loss between two ways out.
    pub isolation: Curve<'s>,
    /// Loss from the input to an output in the home network's band; none: it blocks it.
    pub network_loss: Option<Curve<'s>>,
    /// The most total power at the input, in dBmV; infinite where not stated.
    pub max_input_total: f32,
    /// The most total power at an output, in dBmV; infinite where not stated.
    pub max_output_total: f32,
    /// The most total power from the modems behind an output, in dBmV; infinite where not stated.
    pub max_return_total: f32,
    /// Its own split.
    pub split: Option<Split>,
    /// What it draws.
    pub draw: Draw,
    /// The lowest and highest voltage at its port.
    pub runs_on: (Volts, Volts),
    /// The ports through which it can be powered.
    pub dc_ports: DcPorts,
    /// Where its maker vouches for it.
    pub band: Option<Band>,
}

impl Amplifier<'_> {
    /// The most outputs.
    pub const MAX_OUTPUTS: u8 = 16;
}
