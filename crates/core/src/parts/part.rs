//! One part of any kind: its ways out and what a signal or DC meets on each.

use crate::parts::{Amplifier, Bond, Cable, Conductor, Coupler, Equalizer, Filter, Inserter, Joint, Splitter};
use crate::{Band, Climate, Curve, Db, Length, Place};

/// A part as it stands in a home. Specs are borrowed, so a spec in flash costs no RAM.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Part<'s> {
    /// A run of cable.
    Cable {
        /// Its kind.
        spec: &'s Cable<'s>,
        /// How long it is.
        length: Length,
        /// Where it lies.
        place: Place,
    },
    /// A splitter.
    Splitter(&'s Splitter<'s>),
    /// A directional coupler.
    Coupler(&'s Coupler<'s>),
    /// A pad of this loss; it blocks DC.
    Pad(Db),
    /// A cable equalizer.
    Equalizer(&'s Equalizer<'s>),
    /// A filter.
    Filter(&'s Filter<'s>),
    /// A house amplifier.
    Amplifier(&'s Amplifier<'s>),
    /// A DC power inserter.
    Inserter(&'s Inserter<'s>),
    /// A grounding block and its conductor.
    Bond(&'s Bond<'s>, Conductor),
    /// A connector pair or barrel.
    Joint(&'s Joint<'s>),
}

/// One way out of a part, in the words of the trade.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[cfg_attr(feature = "serde", derive(serde::Serialize), serde(rename_all = "kebab-case"))]
pub enum Way {
    /// The only way out of a part that has one.
    Only,
    /// A splitter's leg or an amplifier's output; the first is number 1.
    Output(u8),
    /// A coupler's way through.
    Through,
    /// A coupler's tap.
    Tap,
    /// An amplifier's passive port.
    Passive,
    /// An amplifier's port for DC alone.
    Power,
    /// An inserter's way out for the signal.
    Rf,
    /// An inserter's port for DC alone.
    Dc,
}

impl Way {
    /// Equality that a `const fn` may ask for.
    const fn is(self, other: Self) -> bool {
        match (self, other) {
            (Self::Output(number), Self::Output(other)) => number == other,
            (Self::Only, Self::Only)
            | (Self::Through, Self::Through)
            | (Self::Tap, Self::Tap)
            | (Self::Passive, Self::Passive)
            | (Self::Power, Self::Power)
            | (Self::Rf, Self::Rf)
            | (Self::Dc, Self::Dc) => true,
            _ => false,
        }
    }
}

/// A loss over frequency and its spread.
#[derive(Clone, Copy)]
pub(crate) struct Slope<'s> {
    pub(crate) curve: &'s Curve<'s>,
    pub(crate) spread: f32,
}

/// What the signal loses from a part's input to one way out.
pub(crate) enum PortLoss<'s> {
    /// A fixed number of decibels.
    Fixed(f32),
    /// A cable's table times its length.
    Run(&'s Cable<'s>, Length, Place),
    /// A table.
    Table(Slope<'s>),
    /// An amplified output.
    Amplified,
    /// No signal goes there.
    None,
}

/// What DC meets from a part's input to one way out.
pub(crate) enum DcPath<'s> {
    /// It does not pass.
    Blocked,
    /// A fixed resistance.
    Ohms(f32),
    /// A cable's loop, which follows its temperature.
    Run(&'s Cable<'s>, Length, Place),
}

const fn loss<'s>(curve: &'s Curve<'s>, spread: Db) -> PortLoss<'s> {
    PortLoss::Table(Slope { curve, spread: spread.db() })
}

impl<'s> Part<'s> {
    /// Its kind in a word of the trade, as a premises file spells it.
    ///
    /// ```
    /// use legwork::{Db, Part};
    /// assert_eq!(Part::Pad(Db::constant(3.0)).name(), "pad");
    /// ```
    #[must_use]
    pub const fn name(&self) -> &'static str {
        match self {
            Self::Cable { .. } => "cable",
            Self::Splitter(_) => "splitter",
            Self::Coupler(_) => "coupler",
            Self::Pad(_) => "pad",
            Self::Equalizer(_) => "equalizer",
            Self::Filter(_) => "filter",
            Self::Amplifier(_) => "amplifier",
            Self::Inserter(_) => "inserter",
            Self::Bond(..) => "bond",
            Self::Joint(_) => "joint",
        }
    }

    /// How many ways out it has, DC-only ports included.
    #[must_use]
    pub const fn ways(&self) -> u8 {
        match self {
            Self::Splitter(spec) => spec.count(),
            Self::Coupler(_) | Self::Inserter(_) => 2,
            Self::Amplifier(spec) => outputs(spec) + spec.passive.is_some() as u8 + spec.dc_ports.power as u8,
            _ => 1,
        }
    }

    /// What the way out of a given number is called; the first is number 0.
    #[must_use]
    pub const fn way(&self, number: u8) -> Option<Way> {
        if number >= self.ways() {
            return None;
        }
        Some(match self {
            Self::Splitter(_) => Way::Output(number + 1),
            Self::Coupler(_) if number == 0 => Way::Through,
            Self::Coupler(_) => Way::Tap,
            Self::Inserter(_) if number == 0 => Way::Rf,
            Self::Inserter(_) => Way::Dc,
            Self::Amplifier(spec) if number < outputs(spec) => Way::Output(number + 1),
            Self::Amplifier(spec) if number == outputs(spec) && spec.passive.is_some() => Way::Passive,
            Self::Amplifier(_) => Way::Power,
            _ => Way::Only,
        })
    }

    /// The number of a way out, if the part has it.
    #[must_use]
    pub const fn number(&self, way: Way) -> Option<u8> {
        let mut number = 0;
        while let Some(own) = self.way(number) {
            if own.is(way) {
                return Some(number);
            }
            number += 1;
        }
        None
    }

    /// Whether a way out carries DC alone.
    pub(crate) const fn is_dc_only(&self, number: u8) -> bool {
        matches!(self.way(number), Some(Way::Power | Way::Dc))
    }

    /// Whether it may hang on a port for DC alone: what only carries current on.
    pub(crate) const fn carries_dc_alone(&self) -> bool {
        matches!(self, Self::Cable { .. } | Self::Joint(_) | Self::Bond(..))
    }

    /// Where its maker vouches for it.
    #[must_use]
    pub const fn band(&self) -> Option<Band> {
        self.vouched().copied()
    }

    /// The same, where it stands.
    pub(crate) const fn vouched(&self) -> Option<&'s Band> {
        match *self {
            Self::Cable { spec, .. } => spec.band.as_ref(),
            Self::Splitter(spec) => spec.band.as_ref(),
            Self::Coupler(spec) => spec.band.as_ref(),
            Self::Pad(_) => None,
            Self::Equalizer(spec) => spec.band.as_ref(),
            Self::Filter(spec) => spec.band.as_ref(),
            Self::Amplifier(spec) => spec.band.as_ref(),
            Self::Inserter(spec) => spec.band.as_ref(),
            Self::Bond(spec, _) => spec.band.as_ref(),
            Self::Joint(spec) => spec.band.as_ref(),
        }
    }

    /// What the signal loses from the input to a way out.
    pub(crate) fn loss(&self, number: u8) -> PortLoss<'s> {
        match *self {
            Self::Cable { spec, length, place } => PortLoss::Run(spec, length, place),
            Self::Splitter(spec) => spec.loss(number).map_or(PortLoss::None, |curve| loss(curve, spec.spread)),
            Self::Coupler(spec) if number == 0 => loss(&spec.through, spec.spread),
            Self::Coupler(spec) => loss(&spec.tap, spec.spread),
            Self::Pad(value) => PortLoss::Fixed(value.db()),
            Self::Equalizer(spec) => loss(&spec.loss, spec.spread),
            Self::Filter(spec) => loss(&spec.loss, spec.spread),
            Self::Amplifier(spec) if number < outputs(spec) => PortLoss::Amplified,
            Self::Amplifier(spec) => match &spec.passive {
                Some(passive) if number == outputs(spec) => loss(passive, spec.spread),
                _ => PortLoss::None,
            },
            Self::Inserter(spec) if number == 0 => loss(&spec.loss, spec.spread),
            Self::Inserter(_) => PortLoss::None,
            Self::Bond(spec, _) => loss(&spec.loss, spec.spread),
            Self::Joint(spec) => loss(&spec.loss, spec.spread),
        }
    }

    /// What DC meets between the input and a way out.
    pub(crate) fn dc(&self, number: u8) -> DcPath<'s> {
        let ohms = match *self {
            Self::Cable { spec, length, place } => return DcPath::Run(spec, length, place),
            Self::Splitter(spec) => ((spec.dc_pass >> number) & 1 == 1).then_some(spec.dc_ohms),
            Self::Coupler(spec) if number == 0 => spec.dc_through.then_some(spec.dc_ohms),
            Self::Coupler(spec) => spec.dc_tap.then_some(spec.dc_ohms),
            Self::Pad(_) | Self::Amplifier(_) => None,
            Self::Equalizer(spec) => spec.dc,
            Self::Filter(spec) => spec.dc,
            Self::Inserter(spec) => (number == 1).then_some(spec.dc_ohms),
            Self::Bond(spec, _) => Some(spec.dc_ohms),
            Self::Joint(spec) => Some(spec.dc_ohms),
        };
        ohms.map_or(DcPath::Blocked, |ohms| DcPath::Ohms(ohms.ohms()))
    }

    /// Loss between two of its ways out, where two ways may meet at it.
    pub(crate) const fn isolation(&self) -> Option<&'s Curve<'s>> {
        match *self {
            Self::Splitter(spec) => Some(&spec.isolation),
            Self::Coupler(spec) => Some(&spec.isolation),
            Self::Amplifier(spec) => Some(&spec.isolation),
            _ => None,
        }
    }

    /// The amplifier, if it is one.
    #[must_use]
    pub const fn amplifier(&self) -> Option<&'s Amplifier<'s>> {
        match *self {
            Self::Amplifier(spec) => Some(spec),
            _ => None,
        }
    }
}

impl DcPath<'_> {
    /// Its resistance at one end of a climate, or [`None`] where DC does not pass.
    pub(crate) fn ohms(&self, climate: &Climate, case: crate::Case) -> Option<f32> {
        match *self {
            Self::Blocked => None,
            Self::Ohms(ohms) => Some(ohms),
            Self::Run(spec, length, place) => Some(spec.loop_ohms(length, climate.temperature(place, case)).ohms()),
        }
    }
}

/// Amplified outputs, never more than the ports that can be told apart.
const fn outputs(spec: &Amplifier<'_>) -> u8 {
    if spec.outputs < Amplifier::MAX_OUTPUTS { spec.outputs } else { Amplifier::MAX_OUTPUTS }
}
