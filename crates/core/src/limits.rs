//! What a device at an outlet takes, and what an operator aims for.

/// What stands at an outlet; kinds that have limits come first, in the order of those.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[cfg_attr(feature = "serde", derive(serde::Serialize), serde(rename_all = "kebab-case"))]
pub enum Device {
    /// A cable modem.
    Modem,
    /// A cable modem that carries the telephone.
    VoiceModem,
    /// A set-top box.
    SetTop,
    /// A television set with its own tuner.
    Tv,
    /// Nothing: a jack on the wall.
    Unused,
}

impl Device {
    /// The kinds that have limits, in the order of [`tables::LIMITS`](crate::tables::LIMITS).
    pub const WITH_LIMITS: [Self; 4] = [Self::Modem, Self::VoiceModem, Self::SetTop, Self::Tv];

    /// Its name in a premises file.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Modem => "modem",
            Self::VoiceModem => "voice-modem",
            Self::SetTop => "set-top",
            Self::Tv => "tv",
            Self::Unused => "unused",
        }
    }

    /// Whether it is a modem, with or without a telephone.
    #[must_use]
    pub const fn is_modem(self) -> bool {
        matches!(self, Self::Modem | Self::VoiceModem)
    }
}

/// The window each figure must keep. An infinite bound is not checked; [`Limits::NONE`] checks nothing.
///
/// Levels in dBmV, ratios in dB.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Limits {
    /// Lowest and highest forward level of one channel.
    pub forward: (f32, f32),
    /// Highest total power.
    pub total: f32,
    /// Largest difference between the last and the first carrier.
    pub tilt: f32,
    /// Lowest carrier-to-noise ratio.
    pub cnr: f32,
    /// Lowest and highest transmit level of one channel.
    pub transmit: (f32, f32),
    /// Largest difference between transmit levels at two return frequencies.
    pub window: f32,
    /// Highest level from another outlet's modem; [`None`] falls back to the total (in a target: not checked).
    pub neighbour: Option<f32>,
}

impl Limits {
    /// Nothing is checked.
    pub const NONE: Self = Self {
        forward: (f32::NEG_INFINITY, f32::INFINITY),
        total: f32::INFINITY,
        tilt: f32::INFINITY,
        cnr: f32::NEG_INFINITY,
        transmit: (f32::NEG_INFINITY, f32::INFINITY),
        window: f32::INFINITY,
        neighbour: None,
    };

    /// Whether the device sends: it has a transmit limit.
    #[must_use]
    pub const fn sends(&self) -> bool {
        self.transmit.0 > f32::NEG_INFINITY || self.transmit.1 < f32::INFINITY
    }

    /// What another outlet's modem may bring here, in dBmV.
    #[must_use]
    pub const fn from_neighbours(&self) -> f32 {
        match self.neighbour {
            Some(level) => level,
            None => self.total,
        }
    }
}
