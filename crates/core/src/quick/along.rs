//! A level along a way, part by part.

use super::Run;
use crate::{Coupler, Curve, Db, Error, Frequency, Level, Splitter};

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
    /// The loss of any other part with one way out: filter, equalizer, inserter, joint or bond.
    Table(&'s Curve<'s>),
    /// A fixed loss.
    Loss(Db),
    /// A fixed gain.
    Gain(Db),
}

impl Step<'_> {
    /// The level in dBmV behind this step, at a frequency: the level before it less what the step
    /// loses there, or plus what it gains.
    ///
    /// ```
    /// use legwork::{quick::{Run, Step}, tables, Db, Frequency, Length, Level, Temperature};
    /// let run = Run { cable: &tables::SERIES_6, length: Length::from_feet(60.0)?, temperature: Temperature::REFERENCE };
    /// let way = [Step::Cable(run), Step::Splitter(&tables::SPLITTER_4, 0), Step::Loss(Db::constant(3.0))];
    /// let mut level = Level::constant(12.0);
    /// for step in &way {
    ///     level = step.behind(level, Frequency::constant(55.0))?;
    /// }
    /// // 12 - 60/100 · 1.6 - 7.0 - 3.0
    /// assert!((level.dbmv() - 1.04).abs() < 1e-3);
    /// # Ok::<(), legwork::Error>(())
    /// ```
    ///
    /// # Errors
    /// [`Error::NoSuch`] for a leg that the splitter has not, [`Error::OutOfRange`] for a level beyond
    /// what [`Level`] holds.
    pub fn behind(&self, level: Level, frequency: Frequency) -> Result<Level, Error> {
        let gain = match self {
            Self::Cable(run) => -run.loss(frequency).db(),
            Self::Splitter(spec, leg) => {
                let loss = spec.loss(*leg).ok_or(Error::NoSuch { what: "leg" })?;
                -loss.at(frequency)
            }
            Self::Through(spec) => -spec.through.at(frequency),
            Self::Tap(spec) => -spec.tap.at(frequency),
            Self::Table(loss) => -loss.at(frequency),
            Self::Loss(loss) => -loss.db(),
            Self::Gain(gain) => gain.db(),
        };
        Level::new(level.dbmv() + gain)
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a test may panic")]
mod tests {
    use super::*;
    use crate::{Length, Point, Temperature, tables};

    fn through(steps: &[Step<'_>], level: f32, mhz: f32) -> f32 {
        let start = Level::constant(level);
        let end = steps.iter().try_fold(start, |level, step| step.behind(level, Frequency::constant(mhz)));
        end.unwrap().dbmv()
    }

    fn feet(cable: &'static crate::Cable<'static>, feet: f32) -> Step<'static> {
        let length = Length::from_feet(feet).unwrap();
        Step::Cable(Run { cable, length, temperature: Temperature::REFERENCE })
    }

    const fn loss(db: f32) -> Step<'static> {
        Step::Loss(Db::constant(db))
    }

    #[test]
    fn a_published_chain_at_750_mhz_comes_out_step_by_step() {
        // "CATV/MATV design fundamentals", page 5: 40 dBmV; 2-way 4.9 dB; 300 ft at 0.0204 dB per ft; tap 1.4;
        // 80 ft; tap 1.5; 80 ft; tap 2.6; 80 ft. Printed 35.1, 29.0 and 27.6, then about 1 dB too low by a slip
        // at the first 80 ft; the exact chain goes on 25.95, 24.45, 22.82, 20.22 and 18.58. Half the last digit.
        let run = |feet: f32| loss(0.0204 * feet);
        let steps = [loss(4.9), run(300.0), loss(1.4), run(80.0), loss(1.5), run(80.0), loss(2.6), run(80.0)];
        let wants: [(f32, f32); 8] = [
            (35.1, 0.05),
            (29.0, 0.05),
            (27.6, 0.05),
            (25.95, 0.005),
            (24.45, 0.005),
            (22.82, 0.005),
            (20.22, 0.005),
            (18.58, 0.005),
        ];
        for (number, (want, half_digit)) in wants.into_iter().enumerate() {
            let got = through(steps.get(..=number).unwrap(), 40.0, 750.0);
            // f32 rounding of at most eight steps below 64 dB.
            assert!((got - want).abs() <= half_digit + 1.6e-5, "step {number}: {got}");
        }
    }

    #[test]
    fn the_gain_that_a_published_splitter_needs_brings_its_ports_into_the_window() {
        // A wiring guide: 3 dBmV into an 8-way splitter of 10.5 dB; for 0 to 10 dBmV at its ports, 7.5 to 17.5 dB.
        for (gain, want) in [(7.5, 0.0), (17.5, 10.0)] {
            assert_eq!(through(&[Step::Gain(Db::constant(gain)), loss(10.5)], 3.0, 500.0), want);
        }
        // Our own 8-way loses that at 54 MHz.
        assert_eq!(through(&[Step::Splitter(&tables::SPLITTER_8, 7)], 10.5, 54.0), 0.0);
        // An article on return amplifiers: cable 6 dB and coupler 12 dB at 42 MHz take 18 dB of gain.
        assert_eq!(through(&[loss(6.0), loss(12.0), Step::Gain(Db::constant(18.0))], 40.0, 42.0), 40.0);
    }

    #[test]
    fn every_step_takes_its_own_table() {
        const TABLE: Curve<'static> = Curve::table(&[Point::constant(5.0, 1.0), Point::constant(1005.0, 3.0)]);
        for (step, want) in [
            (feet(&tables::SERIES_6, 50.0), -2.33),
            (Step::Splitter(&tables::SPLITTER_3_UNEQUAL, 0), -3.6889),
            (Step::Splitter(&tables::SPLITTER_3_UNEQUAL, 1), -7.1889),
            (Step::Through(&tables::COUPLER_9), -1.2798),
            (Step::Tap(&tables::COUPLER_9), -9.1798),
            (Step::Table(&TABLE), -1.99),
            (Step::Table(&tables::JOINT.loss), -0.0748),
        ] {
            let got = through(&[step], 0.0, 500.0);
            assert!((got - want).abs() <= 1e-3, "{step:?}: {got}");
        }
    }

    #[test]
    fn the_order_of_steps_makes_no_difference() {
        let steps =
            [feet(&tables::SERIES_11, 85.0), Step::Tap(&tables::COUPLER_9), loss(3.0), feet(&tables::SERIES_6, 45.0)];
        let back = [steps[3], steps[2], steps[1], steps[0]];
        for mhz in [5.0, 57.0, 861.0, 1675.0] {
            assert!((through(&steps, 12.0, mhz) - through(&back, 12.0, mhz)).abs() <= 8e-6);
        }
    }

    #[test]
    fn a_leg_that_is_none_and_a_level_beyond_all_range_are_refused() {
        let behind = |step: Step<'_>, level: Level| step.behind(level, Frequency::constant(54.0));
        let leg = Step::Splitter(&tables::SPLITTER_4, 4);
        assert_eq!(behind(leg, Level::constant(0.0)), Err(Error::NoSuch { what: "leg" }));
        assert!(behind(loss(1.0), Level::MIN).is_err());
        assert!(behind(Step::Gain(Db::constant(1.0)), Level::MAX).is_err());
    }
}
