//! Channel plans of North American cable: standard, and harmonically and incrementally related.
//!
//! A channel is 6 MHz wide: its visual carrier stands 1.25 MHz above its lower edge. Visual
//! carriers of the standard plan are those of a public frequency table (channels 1 to 125) and
//! follow the same 6 MHz rule up to channel 158. The harmonic plan's nominal carriers are
//! multiples of 6 MHz; the incremental plan's stand 12.5 kHz above the standard ones (from memory
//! of the standard). On both, channels 5 and 6 lie 2 MHz higher than on the standard plan.

use crate::Frequency;

/// A plan of channels.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum ChannelPlan {
    /// The standard plan.
    #[default]
    Standard,
    /// Harmonically related carriers: multiples of 6 MHz.
    Harmonic,
    /// Incrementally related carriers: 12.5 kHz above the standard ones.
    Incremental,
}

/// One channel of a plan.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Channel {
    /// Its number, 1 to 158.
    pub number: u8,
    /// Its lower edge.
    pub low: Frequency,
    /// Its centre.
    pub centre: Frequency,
    /// Its upper edge.
    pub high: Frequency,
}

/// The width of a channel in MHz.
const WIDTH: f32 = 6.0;
/// The highest channel.
const LAST: u8 = 158;

impl ChannelPlan {
    /// The channel of a number, or [`None`] where the plan has none; the standard plan has no channel 1.
    ///
    /// ```
    /// use legwork::quick::ChannelPlan;
    /// let three = ChannelPlan::Standard.channel(3).unwrap();
    /// assert_eq!((three.low.mhz(), three.centre.mhz(), three.high.mhz()), (60.0, 63.0, 66.0));
    /// assert!(ChannelPlan::Standard.channel(1).is_none());
    /// ```
    #[must_use]
    pub fn channel(self, number: u8) -> Option<Channel> {
        let low = self.lower_edge(number)?;
        Some(Channel {
            number,
            low: Frequency::unchecked(low),
            centre: Frequency::unchecked(low + WIDTH / 2.0),
            high: Frequency::unchecked(low + WIDTH),
        })
    }

    /// The channel a frequency lies in; an edge belongs to the upper channel.
    ///
    /// ```
    /// use legwork::{quick::ChannelPlan, Frequency};
    /// let channel = ChannelPlan::Standard.channel_at(Frequency::constant(61.25)).unwrap();
    /// assert_eq!(channel.number, 3);
    /// assert!(ChannelPlan::Standard.channel_at(Frequency::constant(73.0)).is_none());
    /// ```
    #[must_use]
    pub fn channel_at(self, frequency: Frequency) -> Option<Channel> {
        let mhz = frequency.mhz();
        (1..=LAST)
            .filter_map(|number| self.channel(number))
            .find(|channel| mhz >= channel.low.mhz() && mhz < channel.high.mhz())
    }

    /// The lower edge in MHz.
    fn lower_edge(self, number: u8) -> Option<f32> {
        let n = f32::from(number);
        let standard = match number {
            1 if self == Self::Standard => return None,
            1 => 72.0,
            2..=4 => 54.0 + WIDTH * (n - 2.0),
            5..=6 => 76.0 + WIDTH * (n - 5.0),
            7..=13 => 174.0 + WIDTH * (n - 7.0),
            14..=22 => 120.0 + WIDTH * (n - 14.0),
            23..=94 => 216.0 + WIDTH * (n - 23.0),
            95..=99 => 90.0 + WIDTH * (n - 95.0),
            100..=LAST => 648.0 + WIDTH * (n - 100.0),
            _ => return None,
        };
        let raised = if matches!(number, 5 | 6) { 2.0 } else { 0.0 };
        Some(match self {
            Self::Standard => standard,
            Self::Harmonic => standard + raised - 1.25,
            Self::Incremental => standard + raised + 0.0125,
        })
    }
}
