//! Structures as C fills them in: plain numbers, and pointers that are followed during a call only.

/// One row of a table over frequency: MHz, and dB (dBmV for a reading).
#[repr(C)]
#[derive(Clone, Copy)]
pub struct legwork_point {
    /// Its frequency, above zero; the rows of a table rise.
    pub mhz: f32,
    /// What stands there, -300 to 300.
    pub db: f32,
}

/// A quantity over frequency, in dB: LEGWORK_FLAT(3.5f), or LEGWORK_TABLE(array). Zeroed: 0 dB everywhere.
#[repr(C)]
#[derive(Clone, Copy)]
pub struct legwork_curve {
    /// The rows; null for one value at every frequency.
    pub points: *const legwork_point,
    /// How many rows.
    pub count: usize,
    /// The one value, where there are no rows.
    pub flat_db: f32,
}

/// A band; zeroed: none.
#[repr(C)]
#[derive(Clone, Copy)]
pub struct legwork_band {
    /// Its lower edge in MHz.
    pub low_mhz: f32,
    /// Its upper edge in MHz.
    pub high_mhz: f32,
}

/// A split, as in "42/54 MHz".
#[repr(C)]
#[derive(Clone, Copy)]
pub struct legwork_split {
    /// The top of the return band in MHz.
    pub return_top_mhz: f32,
    /// The bottom of the forward band in MHz.
    pub forward_bottom_mhz: f32,
}

/// Carriers alike: centres from the first to the last, a step apart.
#[repr(C)]
#[derive(Clone, Copy)]
pub struct legwork_block {
    /// The first centre in MHz.
    pub first_mhz: f32,
    /// The last centre in MHz.
    pub last_mhz: f32,
    /// From one centre to the next, in MHz.
    pub step_mhz: f32,
    /// Their level against the entry's readings, in dB.
    pub offset_db: f32,
}

/// What the operator's network offers at the entry.
#[repr(C)]
#[derive(Clone, Copy)]
pub struct legwork_service {
    /// Its split.
    pub split: legwork_split,
    /// The carrier blocks, rising: at least one.
    pub blocks: *const legwork_block,
    /// How many blocks.
    pub block_count: usize,
    /// The noise bandwidth in MHz; 0: what the first block's step implies.
    pub noise_bandwidth_mhz: f32,
    /// How many channels a modem sends at once; 0 stands for 1.
    pub return_channels: u32,
}

/// What was read at the point of entry, on the house side.
#[repr(C)]
#[derive(Clone, Copy)]
pub struct legwork_entry {
    /// Forward levels in dBmV: at least two rows.
    pub forward: legwork_curve,
    /// Carrier-to-noise ratio in dB; null where none was read.
    pub cnr: *const legwork_curve,
    /// What a modem plugged in right there sends, in dBmV a channel: rows; null where it was not read.
    pub transmit: *const legwork_curve,
    /// How far all levels move with season and meter, plus or minus, in dB.
    pub spread_db: f32,
    /// Whether the shield is bonded ahead of the entry: 0 for no.
    pub bonded: u8,
}

/// What a device takes. INFINITY, or -INFINITY for a least, is not checked: see LEGWORK_NO_LIMITS.
#[repr(C)]
#[derive(Clone, Copy)]
pub struct legwork_limits {
    /// The lowest forward level in dBmV.
    pub forward_low: f32,
    /// The highest forward level in dBmV.
    pub forward_high: f32,
    /// The highest total power in dBmV.
    pub total: f32,
    /// The largest difference between the last and the first carrier, in dB.
    pub tilt: f32,
    /// The lowest carrier-to-noise ratio in dB.
    pub cnr: f32,
    /// The lowest transmit level in dBmV.
    pub transmit_low: f32,
    /// The highest transmit level in dBmV.
    pub transmit_high: f32,
    /// The largest difference between transmit levels at two frequencies, in dB.
    pub window: f32,
    /// The highest level from another outlet's modem, in dBmV; NAN: the total stands for it (in a target: not checked).
    pub neighbour: f32,
}

/// A kind of coaxial cable.
#[repr(C)]
#[derive(Clone, Copy)]
pub struct legwork_cable {
    /// Loss for the length `per_metres` at 20 C.
    pub loss: legwork_curve,
    /// The length that loss and loop resistance are given for, above zero.
    pub per_metres: f32,
    /// DC resistance there and back, for that length.
    pub loop_ohms: f32,
    /// Velocity of propagation as a fraction of that of light, above 0 to 1.
    pub velocity: f32,
    /// Plus or minus, in percent of the loss.
    pub spread_percent: f32,
    /// Where its maker vouches for it.
    pub band: legwork_band,
}

/// A splitter: one way in, 1 to 16 legs.
#[repr(C)]
#[derive(Clone, Copy)]
pub struct legwork_splitter {
    /// How many legs.
    pub legs: u32,
    /// Loss of every leg, where they are alike.
    pub loss: legwork_curve,
    /// Loss leg by leg, as many as there are legs; null where they are alike.
    pub leg_losses: *const legwork_curve,
    /// Plus or minus, in dB.
    pub spread_db: f32,
    /// Loss from one leg to another.
    pub isolation: legwork_curve,
    /// The legs that pass DC: bit 0 is leg 1.
    pub dc_legs: u32,
    /// DC resistance from the input to a leg that passes.
    pub dc_ohms: f32,
    /// Where its maker vouches for it.
    pub band: legwork_band,
}

/// A directional coupler.
#[repr(C)]
#[derive(Clone, Copy)]
pub struct legwork_coupler {
    /// Loss from the input to the tap.
    pub tap: legwork_curve,
    /// Loss from the input to the way through.
    pub through: legwork_curve,
    /// Plus or minus, in dB, on both.
    pub spread_db: f32,
    /// Loss from the tap to the way through.
    pub isolation: legwork_curve,
    /// Whether the way through passes DC: 0 for no.
    pub dc_through: u8,
    /// Whether the tap passes DC: 0 for no.
    pub dc_tap: u8,
    /// DC resistance from the input to a way that passes.
    pub dc_ohms: f32,
    /// Where its maker vouches for it.
    pub band: legwork_band,
}

/// A cable equalizer.
#[repr(C)]
#[derive(Clone, Copy)]
pub struct legwork_equalizer {
    /// Its loss.
    pub loss: legwork_curve,
    /// Plus or minus, in dB.
    pub spread_db: f32,
    /// Whether it passes DC: 0 for no.
    pub dc: u8,
    /// Its DC resistance, where it passes DC.
    pub dc_ohms: f32,
    /// Where its maker vouches for it.
    pub band: legwork_band,
}

/// A filter, such as the one at the entry that keeps a home network in.
#[repr(C)]
#[derive(Clone, Copy)]
pub struct legwork_filter {
    /// Its loss.
    pub loss: legwork_curve,
    /// Plus or minus, in dB.
    pub spread_db: f32,
    /// The band it sends back to where it came from.
    pub reflects: legwork_band,
    /// Whether it passes DC: 0 for no.
    pub dc: u8,
    /// Its DC resistance, where it passes DC.
    pub dc_ohms: f32,
    /// Where its maker vouches for it.
    pub band: legwork_band,
}

/// A house amplifier. Its ways out, in order: the outputs, the passive port, the power port.
#[repr(C)]
#[derive(Clone, Copy)]
pub struct legwork_amplifier {
    /// How many amplified outputs, 1 to 16.
    pub outputs: u32,
    /// Gain from the input to any output.
    pub gain: legwork_curve,
    /// Gain from an output back to the input; null: no return path.
    pub return_gain: *const legwork_curve,
    /// Loss from the input to the passive port; null: it has none.
    pub passive: *const legwork_curve,
    /// Plus or minus, in dB, on gain, return gain and passive loss.
    pub spread_db: f32,
    /// Noise figure at the input, forward.
    pub noise_figure: legwork_curve,
    /// Loss between two ways out.
    pub isolation: legwork_curve,
    /// Loss from the input to an output in the home network's band; null: it blocks it.
    pub network_loss: *const legwork_curve,
    /// The most total power at the input, in dBmV; INFINITY where not stated.
    pub max_input_total: f32,
    /// The most total power at an output, in dBmV; INFINITY where not stated.
    pub max_output_total: f32,
    /// The most total power from the modems behind an output, in dBmV; INFINITY where not stated.
    pub max_return_total: f32,
    /// Its own split; zeroed: not stated.
    pub split: legwork_split,
    /// The power it draws at any voltage; 0: see `draw_amps`.
    pub draw_watts: f32,
    /// The current it draws at any voltage, where it draws no fixed power.
    pub draw_amps: f32,
    /// The lowest voltage at its port.
    pub volts_low: f32,
    /// The highest voltage at its port.
    pub volts_high: f32,
    /// Whether it has a port for DC alone: 0 for no.
    pub dc_power: u8,
    /// Whether it can be powered through its input: 0 for no.
    pub dc_input: u8,
    /// The outputs through which it can be powered: bit 0 is output 1.
    pub dc_outputs: u32,
    /// Where its maker vouches for it.
    pub band: legwork_band,
}

/// A DC power inserter.
#[repr(C)]
#[derive(Clone, Copy)]
pub struct legwork_inserter {
    /// Loss from the input to the way out for the signal.
    pub loss: legwork_curve,
    /// Plus or minus, in dB.
    pub spread_db: f32,
    /// DC resistance from the DC port to the input.
    pub dc_ohms: f32,
    /// Where its maker vouches for it.
    pub band: legwork_band,
}

/// A grounding block.
#[repr(C)]
#[derive(Clone, Copy)]
pub struct legwork_bond {
    /// Its loss.
    pub loss: legwork_curve,
    /// Plus or minus, in dB.
    pub spread_db: f32,
    /// DC resistance, there and back.
    pub dc_ohms: f32,
    /// Where its maker vouches for it.
    pub band: legwork_band,
}

/// The conductor from a grounding block to the building's electrode; NAN for what is not known.
#[repr(C)]
#[derive(Clone, Copy)]
pub struct legwork_conductor {
    /// Its size by the American wire gauge.
    pub awg: f32,
    /// Its length in metres.
    pub metres: f32,
}

/// A connector pair or a barrel.
#[repr(C)]
#[derive(Clone, Copy)]
pub struct legwork_joint {
    /// Its loss.
    pub loss: legwork_curve,
    /// Plus or minus, in dB.
    pub spread_db: f32,
    /// DC resistance, there and back.
    pub dc_ohms: f32,
    /// Where its maker vouches for it.
    pub band: legwork_band,
}

/// A plug-in DC supply.
#[repr(C)]
#[derive(Clone, Copy)]
pub struct legwork_supply {
    /// Its voltage.
    pub volts: f32,
    /// What it can give, in amperes.
    pub amps: f32,
    /// Plus or minus, in percent of the voltage.
    pub spread_percent: f32,
    /// Its own resistance.
    pub source_ohms: f32,
}
