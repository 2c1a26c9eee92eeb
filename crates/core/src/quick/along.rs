//! A level along a way, part by part.

use super::Run;
use crate::{Coupler, Db, Frequency, Level, Splitter};

/// One step of a way.
#[derive(Clone, Copy, Debug)]
pub enum Step<'s> {
    /// A run of cable.
    Cable(Run<'s>),
    /// A splitter, to one of its legs; the first is number 0.
    Splitter(&'s Splitter<'s>, u8),
    /// A coupler's way through.
    Through(&'s Coupler<'s>),
    /// A coupler's tap.
    Tap(&'s Coupler<'s>),
    /// A fixed loss.
    Loss(Db),
    /// A fixed gain.
    Gain(Db),
}

impl Step<'_> {
    /// The level behind this step, at a frequency.
    ///
    /// ```
    /// use legwork::{quick::Step, Db, Frequency, Level};
    /// let behind = Step::Loss(Db::constant(3.0)).behind(Level::constant(12.0), Frequency::constant(57.0));
    /// assert_eq!(behind.dbmv(), 9.0);
    /// ```
    pub fn behind(&self, level: Level, frequency: Frequency) -> Level {
        match self {
            Self::Cable(run) => level - run.loss(frequency),
            Self::Splitter(spec, leg) => {
                Level::unchecked(level.dbmv() - spec.loss(*leg).map_or(0.0, |loss| loss.at(frequency)))
            }
            Self::Through(spec) => Level::unchecked(level.dbmv() - spec.through.at(frequency)),
            Self::Tap(spec) => Level::unchecked(level.dbmv() - spec.tap.at(frequency)),
            Self::Loss(loss) => level - *loss,
            Self::Gain(gain) => level + *gain,
        }
    }
}
