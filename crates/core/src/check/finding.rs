//! What can be wrong, and where.

use heapless::String;

use super::brief;
use crate::{OutletId, PartId, PortId, SupplyId};

/// How good something is.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[cfg_attr(feature = "serde", derive(serde::Serialize), serde(rename_all = "kebab-case"))]
pub enum Verdict {
    /// Inside every limit, extremes included.
    #[default]
    Pass,
    /// Nominally inside the limit, an extreme is not; or outside the operator's target.
    Marginal,
    /// Outside.
    Fail,
}

impl Verdict {
    /// Its name in a report.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Pass => "pass",
            Self::Marginal => "marginal",
            Self::Fail => "fail",
        }
    }
}

macro_rules! codes {
    ($($(#[$doc:meta])* $code:ident = $name:literal,)*) => {
        /// What is wrong.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
        #[non_exhaustive]
        #[cfg_attr(feature = "defmt", derive(defmt::Format))]
        #[cfg_attr(feature = "serde", derive(serde::Serialize), serde(rename_all = "kebab-case"))]
        pub enum Code {
            $($(#[$doc])* $code,)*
        }

        impl Code {
            /// Every code.
            pub const ALL: &'static [Self] = &[$(Self::$code),*];

            /// Its name in a report.
            #[must_use]
            pub const fn name(self) -> &'static str {
                match self { $(Self::$code => $name,)* }
            }
        }
    };
}

codes! {
    /// A forward level below the device's window.
    ForwardLow = "forward-low",
    /// A forward level above the device's window.
    ForwardHigh = "forward-high",
    /// More total power than the device takes.
    TotalHigh = "total-high",
    /// Too much difference between first and last carrier.
    TiltHigh = "tilt-high",
    /// Too much noise.
    CnrLow = "cnr-low",
    /// A modem has to send louder than it can.
    TransmitHigh = "transmit-high",
    /// A modem has to send softer than it can.
    TransmitLow = "transmit-low",
    /// Transmit levels at two return frequencies differ too much.
    TransmitSpread = "transmit-spread",
    /// A device that sends stands behind an amplifier without a return path.
    NoReturn = "no-return",
    /// Too much total power at an amplifier's input.
    AmplifierOverdriven = "amplifier-overdriven",
    /// Too much total power at an amplifier's output.
    OutputOverdriven = "output-overdriven",
    /// Too much power from a modem at an amplifier's output.
    ReturnOverdriven = "return-overdriven",
    /// An amplifier's split cuts into the service.
    SplitMismatch = "split-mismatch",
    /// A signal outside what a part is made for.
    OutOfBand = "out-of-band",
    /// An outlet behind two amplifiers.
    AmplifiersInSeries = "amplifiers-in-series",
    /// Too little voltage at an amplifier.
    FeedStarved = "feed-starved",
    /// Too much voltage at an amplifier.
    FeedOverVoltage = "feed-over-voltage",
    /// More current than a supply gives.
    FeedOverCurrent = "feed-over-current",
    /// No voltage can carry the load.
    FeedCollapsed = "feed-collapsed",
    /// No supply reaches an amplifier.
    AmplifierUnpowered = "amplifier-unpowered",
    /// A supply reaches no amplifier.
    SupplyIdle = "supply-idle",
    /// Two supplies meet.
    TwoSupplies = "two-supplies",
    /// DC reaches an outlet or a terminator.
    DcAtDevice = "dc-at-device",
    /// DC reaches the entry.
    DcLeavesHome = "dc-leaves-home",
    /// A lifeline needs an amplifier's power.
    LifelineExposed = "lifeline-exposed",
    /// A modem disturbs a device at another outlet.
    NeighbourTransmit = "neighbour-transmit",
    /// Too much loss between two members of the home network.
    HomeLinkWeak = "home-link-weak",
    /// Carriers reach into the home network's band.
    BandsOverlap = "bands-overlap",
    /// Nothing keeps the home network in.
    EntryFilterMissing = "entry-filter-missing",
    /// A way out with nothing on it.
    OpenPort = "open-port",
    /// The shield is not bonded.
    BondMissing = "bond-missing",
    /// The bonding conductor is too long.
    BondLong = "bond-long",
    /// The bonding conductor is too thin.
    BondThin = "bond-thin",
    /// A carrier outside the entry's readings.
    BeyondReadings = "beyond-readings",
    /// A cable used outside its table.
    BeyondTable = "beyond-table",
}

/// A place in a home.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[cfg_attr(feature = "serde", derive(serde::Serialize), serde(rename_all = "kebab-case"))]
pub enum At {
    /// The point of entry.
    Entry,
    /// A port.
    Port(PortId),
    /// A part.
    Part(PartId),
    /// An outlet.
    Outlet(OutletId),
    /// A supply.
    Supply(SupplyId),
}

/// One thing that is wrong, with the numbers that say so.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Finding {
    /// What.
    pub code: Code,
    /// How bad.
    pub verdict: Verdict,
    /// Where.
    pub at: At,
    /// The second place, where there are two.
    pub other: Option<At>,
    /// At which frequency, in MHz.
    pub mhz: Option<f32>,
    /// The figure: nominal if that is outside its limit, else the extreme.
    pub value: Option<f32>,
    /// The limit it left.
    pub limit: Option<f32>,
    /// The unit of both.
    pub unit: &'static str,
}

impl Code {
    /// How bad it is where nothing speaks for less.
    pub(super) const fn gravest(self) -> Verdict {
        match self {
            Self::BeyondTable => Verdict::Pass,
            // A modem that can't send softly or evenly enough is still heard, only not as it should be.
            Self::TransmitLow
            | Self::TransmitSpread
            | Self::OutOfBand
            | Self::AmplifiersInSeries
            | Self::BandsOverlap
            | Self::EntryFilterMissing
            | Self::OpenPort
            | Self::BondMissing
            | Self::BondLong
            | Self::BondThin
            | Self::BeyondReadings => Verdict::Marginal,
            _ => Verdict::Fail,
        }
    }

    /// Whether it is about a figure below its limit, not above.
    pub(super) const fn is_below(self) -> bool {
        matches!(self, Self::ForwardLow | Self::CnrLow | Self::TransmitLow | Self::FeedStarved)
    }

    /// The unit of its value and limit; nothing where it has none.
    pub(super) const fn unit(self) -> &'static str {
        match self {
            Self::ForwardLow
            | Self::ForwardHigh
            | Self::TotalHigh
            | Self::TransmitHigh
            | Self::TransmitLow
            | Self::AmplifierOverdriven
            | Self::OutputOverdriven
            | Self::ReturnOverdriven
            | Self::NeighbourTransmit => "dBmV",
            Self::TiltHigh | Self::CnrLow | Self::TransmitSpread | Self::HomeLinkWeak => "dB",
            Self::SplitMismatch | Self::OutOfBand | Self::BandsOverlap | Self::BeyondReadings | Self::BeyondTable => {
                "MHz"
            }
            Self::FeedStarved | Self::FeedOverVoltage => "V",
            Self::FeedOverCurrent => "A",
            Self::BondLong => "ft",
            Self::BondThin => "AWG",
            _ => "",
        }
    }
}

impl Finding {
    /// How far its value is beyond its limit, in dB; [`None`] where they are no levels or ratios.
    ///
    /// ```
    /// # use legwork::{At, Code, Finding, Verdict};
    /// let finding = Finding {
    ///     code: Code::ForwardLow, verdict: Verdict::Fail, at: At::Entry, other: None,
    ///     mhz: Some(861.0), value: Some(-16.5), limit: Some(-15.0), unit: "dBmV",
    /// };
    /// assert_eq!(finding.decibels_beyond(), Some(1.5));
    /// ```
    #[must_use]
    pub fn decibels_beyond(&self) -> Option<f32> {
        let is_level = matches!(self.unit, "dB" | "dBmV");
        let (value, limit) = self.value.zip(self.limit).filter(|_| is_level)?;
        Some(crate::math::abs(value - limit))
    }

    /// How far it is beyond its limit; what has no number is furthest.
    pub(super) fn beyond(&self) -> f32 {
        match (self.value, self.limit) {
            (Some(value), Some(limit)) => crate::math::abs(value - limit),
            _ => f32::INFINITY,
        }
    }

    /// What is wrong in at most 32 characters, for a meter's display.
    ///
    /// ```
    /// # use legwork::{At, Code, Finding, OutletId, Verdict};
    /// let finding = Finding {
    ///     code: Code::ForwardLow, verdict: Verdict::Fail, at: At::Entry, other: None,
    ///     mhz: Some(861.0), value: Some(-16.2), limit: Some(-15.0), unit: "dBmV",
    /// };
    /// assert_eq!(finding.brief(), "low: -16.2 dBmV at 861 MHz");
    /// ```
    #[must_use]
    pub fn brief(&self) -> String<32> {
        brief::brief(self)
    }
}
