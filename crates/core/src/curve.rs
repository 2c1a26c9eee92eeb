//! A quantity over frequency: one value, or points with straight lines between.

use crate::math::{abs, is_below, min, root};
use crate::{Db, Error, Frequency};

/// One row of a table over frequency: a frequency in MHz and decibels (or dBmV for readings).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Point {
    pub(crate) mhz: f32,
    /// The square root of the frequency, for cables.
    root: f32,
    pub(crate) db: f32,
}

impl Point {
    /// A point from checked quantities.
    #[must_use]
    pub const fn new(frequency: Frequency, db: Db) -> Self {
        Self { mhz: frequency.mhz(), root: root(frequency.mhz()), db: db.db() }
    }

    /// A point of a built-in table: MHz and dB.
    ///
    /// # Panics
    /// Where either is out of range; in a `const` that is a compile error.
    #[must_use]
    pub const fn constant(mhz: f32, db: f32) -> Self {
        Self::new(Frequency::constant(mhz), Db::constant(db))
    }

    /// Where it stands.
    pub const fn frequency(self) -> Frequency {
        Frequency::unchecked(self.mhz)
    }

    /// What it says there, in dB (dBmV for a reading).
    #[must_use]
    pub const fn value(self) -> f32 {
        self.db
    }
}

/// How a table runs between its points, and beyond its ends.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Between {
    /// Straight in frequency, the ends held.
    Linear,
    /// Straight in the square root of frequency, the lines of the end points continued:
    /// the shape of skin-effect loss, hence of cables and of what came through them.
    SquareRoot,
}

/// A quantity over frequency. Points are borrowed: from flash, or from whoever read a file.
///
/// ```
/// use legwork::{Curve, Db, Point};
/// const LOSS: Curve = Curve::table(&[Point::constant(5.0, 1.0), Point::constant(1002.0, 1.8)]);
/// assert!(!LOSS.is_flat());
/// assert!(Curve::points(&[]).is_err());
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Curve<'s> {
    /// The same at every frequency.
    Flat(Db),
    /// Rising in frequency, at least one.
    Points(Points<'s>),
}

impl<'s> Curve<'s> {
    /// Nothing lost, nothing gained.
    pub const ZERO: Self = Self::Flat(Db::ZERO);

    /// The same value everywhere.
    #[must_use]
    pub const fn flat(db: f32) -> Self {
        Self::Flat(Db::constant(db))
    }

    /// A table read from outside.
    ///
    /// # Errors
    /// [`Error::BadTable`] where it has no point or the frequencies do not rise.
    pub const fn points(points: &'s [Point]) -> Result<Self, Error> {
        match Points::new(points) {
            Ok(points) => Ok(Self::Points(points)),
            Err(error) => Err(error),
        }
    }

    /// A built-in table.
    ///
    /// # Panics
    /// As [`points`](Self::points) errs; in a `const` that is a compile error.
    #[must_use]
    pub const fn table(points: &'s [Point]) -> Self {
        assert!(Points::new(points).is_ok(), "a table's frequencies must rise");
        Self::Points(Points(points))
    }

    /// Whether it is one value.
    #[must_use]
    pub const fn is_flat(&self) -> bool {
        matches!(self, Self::Flat(_))
    }

    /// The value at a frequency, straight in frequency between points, the ends held.
    ///
    /// ```
    /// # use legwork::{Curve, Frequency, Point};
    /// let points = [Point::constant(5.0, 1.0), Point::constant(1005.0, 2.0)];
    /// assert_eq!(Curve::points(&points)?.at(Frequency::new(505.0)?), 1.5);
    /// # Ok::<(), legwork::Error>(())
    /// ```
    #[must_use]
    pub fn at(&self, frequency: Frequency) -> f32 {
        match self {
            Self::Flat(db) => db.db(),
            Self::Points(points) => points.at(frequency.mhz(), Between::Linear),
        }
    }

    /// The value at a frequency, straight in its square root, the end lines continued: for a
    /// cable's loss.
    #[must_use]
    pub fn at_square_root(&self, frequency: Frequency) -> f32 {
        match self {
            Self::Flat(db) => db.db(),
            Self::Points(points) => points.at(frequency.mhz(), Between::SquareRoot),
        }
    }
}

/// Points that rise in frequency, at least one.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Points<'s>(&'s [Point]);

impl<'s> Points<'s> {
    /// Checks that frequencies rise and that there is one.
    ///
    /// # Errors
    /// [`Error::BadTable`] otherwise.
    pub const fn new(points: &'s [Point]) -> Result<Self, Error> {
        let mut rest = points;
        let Some((mut last, tail)) = rest.split_first() else {
            return Err(Error::BadTable { why: "has no point" });
        };
        rest = tail;
        while let Some((next, tail)) = rest.split_first() {
            // A step too small for a root to show it has no slope.
            if next.mhz <= last.mhz || next.root <= last.root {
                return Err(Error::BadTable { why: "does not rise in frequency" });
            }
            last = next;
            rest = tail;
        }
        Ok(Self(points))
    }

    /// The points.
    #[must_use]
    pub const fn as_slice(&self) -> &'s [Point] {
        self.0
    }

    /// Lowest and highest frequency of the table, in MHz.
    #[must_use]
    #[cfg_attr(target_os = "none", inline(never))]
    pub fn ends(&self) -> (f32, f32) {
        match (self.0.first(), self.0.last()) {
            (Some(first), Some(last)) => (first.mhz, last.mhz),
            _ => (0.0, f32::MAX),
        }
    }

    /// The value at one frequency.
    pub(crate) fn at(&self, mhz: f32, between: Between) -> f32 {
        self.line_at(mhz, between).at(mhz, between)
    }

    /// The straight piece that holds at `mhz`.
    #[cfg_attr(target_os = "none", inline(never))]
    pub(crate) fn line_at(&self, mhz: f32, between: Between) -> Line {
        let (mut rest, mut is_first) = (self.0, true);
        while let [_, next @ ..] = rest
            && let [b, _, ..] = next
            && !is_below(mhz, b.mhz)
        {
            (rest, is_first) = (next, false);
        }
        match rest {
            [a, b, more @ ..] => {
                // Beyond an end, it is held, or the line of the nearest two points goes on.
                let (mut since, mut until) = (a.mhz, b.mhz);
                if between == Between::Linear {
                    if is_below(mhz, since) {
                        return Line::held(a.db, 0.0, since);
                    }
                    if !is_below(mhz, until) {
                        return Line::held(b.db, until, f32::MAX);
                    }
                } else {
                    if is_first {
                        since = 0.0;
                    }
                    if more.is_empty() {
                        until = f32::MAX;
                    }
                }
                Line { since, until, ..Line::through(*a, *b, between) }
            }
            [only] => Line::held(only.db, 0.0, f32::MAX),
            [] => Line::NONE,
        }
    }
}

/// A straight piece of a table: `db + slope*(x - x0)`, x the frequency or its square root.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Line {
    x0: f32,
    db: f32,
    slope: f32,
    /// The first frequency, in MHz, at which it holds.
    since: f32,
    /// The first frequency, in MHz, at which another piece takes over.
    pub(crate) until: f32,
}

impl Line {
    /// No piece of any table: it holds nowhere.
    pub(crate) const NONE: Self = Self::held(0.0, 0.0, 0.0);

    const fn held(db: f32, since: f32, until: f32) -> Self {
        Self { x0: 0.0, db, slope: 0.0, since, until }
    }

    fn through(a: Point, b: Point, between: Between) -> Self {
        let (xa, xb) = match between {
            Between::Linear => (a.mhz, b.mhz),
            Between::SquareRoot => (a.root, b.root),
        };
        Self { x0: xa, db: a.db, slope: (b.db - a.db) / (xb - xa), since: a.mhz, until: b.mhz }
    }

    /// The same line as a loss, where the table is a gain.
    pub(crate) fn negated(self) -> Self {
        Self { db: -self.db, slope: -self.slope, ..self }
    }

    /// The same line, up to where it crosses a level, or from there on: the side on which `mhz` is.
    pub(crate) fn on_one_side(mut self, level: f32, mhz: f32, between: Between) -> Self {
        if self.slope != 0.0 {
            let x = self.x0 + (level - self.db) / self.slope;
            let crossing = match between {
                Between::Linear => x,
                Between::SquareRoot => x * abs(x),
            };
            if crossing > mhz {
                self.until = min(self.until, crossing);
            } else if crossing > self.since {
                self.since = crossing;
            }
        }
        self
    }

    /// Whether it is the piece for `mhz`.
    #[inline(always)]
    pub(crate) fn holds(&self, mhz: f32) -> bool {
        is_below(mhz, self.until) && !is_below(mhz, self.since)
    }

    /// The value at a frequency in MHz.
    pub(crate) fn at(&self, mhz: f32, between: Between) -> f32 {
        match between {
            Between::Linear => self.on(mhz),
            Between::SquareRoot => self.on(root(mhz)),
        }
    }

    /// The value at `x`, the frequency or its square root as the table runs.
    #[inline(always)]
    pub(crate) fn on(&self, x: f32) -> f32 {
        self.db + self.slope * (x - self.x0)
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a test may panic")]
mod tests {
    use super::*;

    #[test]
    fn points_that_rise_by_less_than_a_root_shows_are_refused() {
        let next = |mhz: f32| f32::from_bits(mhz.to_bits() + 1);
        let mut refused = 0;
        for mhz in (1..1800_u16).map(f32::from) {
            let points = [Point::constant(mhz, 1.0), Point::constant(next(mhz), 2.0)];
            match Curve::points(&points) {
                // What is taken has a slope, so the line goes on to a finite loss.
                Ok(curve) => assert!(curve.at_square_root(Frequency::MAX).is_finite(), "{mhz} MHz"),
                Err(error) => {
                    assert_eq!(error, Error::BadTable { why: "does not rise in frequency" });
                    refused += 1;
                }
            }
        }
        assert!(refused > 0);
    }
}
