//! Levels on the way down: at one frequency, over all carriers, and from first to last.

use super::{
    part::{CASES, Case},
    tree::{Home, Step},
};

/// A figure: nominal, and the least and greatest of the three cases.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Figure {
    pub(crate) nominal: f64,
    pub(crate) low: f64,
    pub(crate) high: f64,
}

impl Figure {
    /// The figure whose value in each case is given.
    pub(crate) fn of(case: impl Fn(Case) -> f64) -> Self {
        let all = CASES.map(case);
        Self {
            nominal: all[0],
            low: all.into_iter().fold(f64::INFINITY, f64::min),
            high: all.into_iter().fold(f64::NEG_INFINITY, f64::max),
        }
    }
}

/// The loss of a way down in dB.
pub(crate) fn loss(home: &Home, way: &[Step], mhz: f64, case: Case) -> f64 {
    way.iter().map(|&(part, way)| home.parts[part].loss(way, mhz, case)).sum()
}

/// The level at the entry in dBmV.
pub(crate) fn at_entry(home: &Home, mhz: f64, case: Case) -> f64 {
    let read = home.forward.in_root(mhz);
    match case {
        Case::Nominal => read,
        Case::Most => read - home.spread,
        Case::Least => read + home.spread,
    }
}

/// The level at the end of a way in dBmV, without any offset.
pub(crate) fn level(home: &Home, way: &[Step], mhz: f64, case: Case) -> f64 {
    at_entry(home, mhz, case) - loss(home, way, mhz, case)
}

/// The power sum over all carriers in dBmV, each with its block's offset.
pub(crate) fn total(home: &Home, way: &[Step]) -> Figure {
    Figure::of(|case| {
        let power = |dbmv: f64| 10f64.powf(dbmv / 10.0);
        let carriers = home.carriers.iter();
        let sum: f64 = carriers.map(|carrier| power(level(home, way, carrier.mhz, case) + carrier.offset)).sum();
        10.0 * sum.log10()
    })
}

/// The level at the last carrier less the level at the first, in dB.
pub(crate) fn tilt(home: &Home, way: &[Step]) -> Figure {
    let (first, last) = (home.carriers[0], home.carriers[home.carriers.len() - 1]);
    Figure::of(|case| level(home, way, last.mhz, case) - level(home, way, first.mhz, case))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn low_and_high_are_the_least_and_greatest_of_the_three() {
        let figure = Figure::of(|case| match case {
            Case::Nominal => 3.0,
            Case::Most => 1.0,
            Case::Least => 2.0,
        });
        assert_eq!((figure.nominal, figure.low, figure.high), (3.0, 1.0, 3.0));
    }
}
