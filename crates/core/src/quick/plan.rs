//! Channel plans of North American cable: standard, and harmonically and incrementally related.
//!
//! A channel is 6 MHz wide: its visual carrier stands 1.25 MHz above its lower edge, its centre
//! 3 MHz above it. Visual carriers of the standard plan are those of a public frequency table
//! (channels 1 to 125, read) and follow the same 6 MHz rule up to channel 158 (derived). The
//! harmonic plan's nominal carriers are multiples of 6 MHz (read; the exact comb, 6.0003 MHz from
//! memory of the standard, would shift them by 50 Hz per MHz and is left out); the incremental
//! plan's stand 12.5 kHz above the standard ones (from memory of the standard). On both,
//! channels 5 and 6 lie 2 MHz higher than on the standard plan, next to channel 1.

use crate::Frequency;

/// A plan of channels.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[cfg_attr(feature = "serde", derive(serde::Serialize), serde(rename_all = "kebab-case"))]
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
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Channel {
    /// Its number, 1 to 158.
    pub number: u8,
    /// Its lower edge.
    pub low: Frequency,
    /// Its centre.
    pub centre: Frequency,
    /// Its upper edge, where the next one begins.
    pub high: Frequency,
}

impl Channel {
    /// Where the picture's carrier stands, or stood: 1.25 MHz above the lower edge.
    ///
    /// ```
    /// use legwork::quick::ChannelPlan;
    /// let two = ChannelPlan::Standard.channel(2).unwrap();
    /// assert_eq!(two.visual().mhz(), 55.25);
    /// ```
    pub const fn visual(&self) -> Frequency {
        Frequency::unchecked(self.low.mhz() + TO_VISUAL)
    }
}

/// The width of a channel in MHz.
const WIDTH: f32 = 6.0;
/// From the lower edge to the visual carrier, in MHz.
const TO_VISUAL: f32 = 1.25;
/// The highest channel.
const LAST: u8 = 158;

impl ChannelPlan {
    /// The channel of a number, or [`None`] where the plan has none: it has 1 to 158, and the
    /// standard plan no channel 1.
    ///
    /// ```
    /// use legwork::quick::ChannelPlan;
    /// let three = ChannelPlan::Standard.channel(3).unwrap();
    /// assert_eq!((three.low.mhz(), three.centre.mhz(), three.high.mhz()), (60.0, 63.0, 66.0));
    /// assert!(ChannelPlan::Standard.channel(1).is_none());
    /// ```
    #[must_use]
    pub fn channel(self, number: u8) -> Option<Channel> {
        let whole = self.whole_edge(number)?;
        // The plan's offset comes last, so that one channel's upper edge is the next one's lower edge to the bit.
        let offset = self.offset();
        let at = |above: f32| Frequency::unchecked(whole + above + offset);
        Some(Channel { number, low: at(0.0), centre: at(WIDTH / 2.0), high: at(WIDTH) })
    }

    /// The channel a frequency lies in, or [`None`] where it lies in none; an edge belongs to the
    /// upper channel.
    ///
    /// ```
    /// use legwork::{quick::ChannelPlan, Frequency};
    /// let channel = ChannelPlan::Standard.channel_at(Frequency::constant(61.25)).unwrap();
    /// assert_eq!(channel.number, 3);
    /// // 72 to 76 MHz, between channels 4 and 5, is no channel of the standard plan.
    /// assert!(ChannelPlan::Standard.channel_at(Frequency::constant(73.0)).is_none());
    /// ```
    #[must_use]
    pub fn channel_at(self, frequency: Frequency) -> Option<Channel> {
        (1..=LAST)
            .filter_map(|number| self.channel(number))
            .find(|channel| frequency >= channel.low && frequency < channel.high)
    }

    /// How far the plan's carriers stand from whole steps of the standard one, in MHz.
    const fn offset(self) -> f32 {
        match self {
            Self::Standard => 0.0,
            Self::Harmonic => -TO_VISUAL,
            Self::Incremental => 0.0125,
        }
    }

    /// The lower edge in MHz, without the plan's offset.
    fn whole_edge(self, number: u8) -> Option<f32> {
        let n = f32::from(number);
        let raised = if self == Self::Standard { 0.0 } else { 2.0 };
        Some(match number {
            1 if self == Self::Standard => return None,
            1 => 72.0,
            2..=4 => 54.0 + WIDTH * (n - 2.0),
            5..=6 => 76.0 + raised + WIDTH * (n - 5.0),
            7..=13 => 174.0 + WIDTH * (n - 7.0),
            14..=22 => 120.0 + WIDTH * (n - 14.0),
            23..=94 => 216.0 + WIDTH * (n - 23.0),
            95..=99 => 90.0 + WIDTH * (n - 95.0),
            100..=LAST => 648.0 + WIDTH * (n - 100.0),
            _ => return None,
        })
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a test may panic")]
mod tests {
    use super::ChannelPlan::{Harmonic, Incremental, Standard};
    use super::*;

    /// f32 rounding: 1 ulp below 1024 MHz.
    const ROUNDING: f32 = 6.2e-5;
    const PLANS: [ChannelPlan; 3] = [Standard, Harmonic, Incremental];

    fn at(plan: ChannelPlan, mhz: f32) -> Option<u8> {
        plan.channel_at(Frequency::constant(mhz)).map(|channel| channel.number)
    }

    fn close(got: f32, want: f32, half_digit: f32) -> bool {
        (got - want).abs() <= half_digit + ROUNDING
    }

    #[test]
    fn all_158_channels_stand_where_the_reference_table_has_them() {
        let text = include_str!("../../tests/data/channel_plan.csv");
        let mut rows = 0;
        for line in text.lines().filter(|line| !line.starts_with('#')).skip(1) {
            let mut cells = line.split(',');
            let number: u8 = cells.next().unwrap().parse().unwrap();
            let mut next = || -> f32 { cells.next().unwrap().parse().unwrap() };
            let [low, visual, centre, high, harmonic, incremental] = core::array::from_fn(|_| next());
            if let Some(channel) = Standard.channel(number) {
                assert!(close(channel.low.mhz(), low, 0.005), "{number}: {channel:?}");
                assert!(close(channel.low.mhz() + 1.25, visual, 0.005), "{number}: {channel:?}");
                assert!(close(channel.centre.mhz(), centre, 0.005), "{number}: {channel:?}");
                assert!(close(channel.high.mhz(), high, 0.005), "{number}: {channel:?}");
            } else {
                assert_eq!(number, 1);
            }
            for (plan, visual, half_digit) in [(Harmonic, harmonic, 5e-4), (Incremental, incremental, 5e-5)] {
                let channel = plan.channel(number).unwrap();
                assert_eq!(channel.number, number);
                assert!(close(channel.low.mhz() + 1.25, visual, half_digit), "{plan:?} {number}: {channel:?}");
                assert!(close(channel.centre.mhz() - 1.75, visual, half_digit), "{plan:?} {number}: {channel:?}");
                assert!(close(channel.high.mhz() - 4.75, visual, half_digit), "{plan:?} {number}: {channel:?}");
            }
            rows += 1;
            assert_eq!(usize::from(number), rows);
        }
        assert_eq!(rows, 158);
    }

    #[test]
    fn a_channel_holds_its_lower_edge_and_its_centre_but_not_its_upper_edge() {
        for plan in PLANS {
            let mut shared = 0;
            for channel in (1..=LAST).filter_map(|number| plan.channel(number)) {
                for inside in [channel.low, channel.centre] {
                    assert_eq!(plan.channel_at(inside), Some(channel));
                }
                match plan.channel_at(channel.high) {
                    Some(upper) => {
                        assert_eq!(upper.low, channel.high, "{plan:?} {}", channel.number);
                        shared += 1;
                    }
                    None => assert!(matches!(channel.number, 4 | 6 | 158), "{plan:?} {}", channel.number),
                }
            }
            // Gaps: above 158; above 4 and above 6 on the standard plan, where the others have none.
            assert_eq!(shared, if plan == Standard { 154 } else { 157 }, "{plan:?}");
        }
    }

    #[test]
    fn an_edge_belongs_to_the_upper_channel() {
        for (mhz, number) in [(54.0, 2), (60.0, 3), (120.0, 14), (174.0, 7), (216.0, 23), (648.0, 100), (996.0, 158)] {
            assert_eq!(at(Standard, mhz), Some(number), "{mhz} MHz");
        }
        for (plan, mhz, number) in [(Harmonic, 76.75, 5), (Harmonic, 88.75, 95), (Incremental, 72.0125, 1)] {
            assert_eq!(at(plan, mhz), Some(number), "{plan:?} {mhz} MHz");
        }
    }

    #[test]
    fn between_and_beyond_the_channels_there_is_none() {
        for mhz in [5.0, 53.99, 72.0, 75.99, 88.0, 89.99, 1002.0, 1125.0] {
            assert_eq!(at(Standard, mhz), None, "{mhz} MHz");
        }
        for plan in PLANS {
            for number in [0, 159, 255] {
                assert!(plan.channel(number).is_none());
            }
        }
        assert_eq!((at(Harmonic, 52.74), at(Harmonic, 52.75)), (None, Some(2)));
        assert_eq!((at(Incremental, 54.0), at(Incremental, 54.02)), (None, Some(2)));
    }

    #[test]
    fn only_the_related_plans_have_a_channel_1() {
        assert!(Standard.channel(1).is_none());
        assert_eq!((at(Standard, 75.0), at(Harmonic, 75.0), at(Incremental, 75.0)), (None, Some(1), Some(1)));
    }
}
