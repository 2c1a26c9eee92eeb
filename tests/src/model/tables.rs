//! Points over frequency, and the two ways to read between them.

use serde_json::Value;

use super::quantity;

/// Points over frequency in MHz; a single value is one point.
#[derive(Clone, Debug)]
pub(crate) struct Curve(Vec<(f64, f64)>);

impl Curve {
    /// Reads a single value or a list of `[frequency, value]`.
    pub(crate) fn read(value: &Value, quantity: fn(&Value) -> f64) -> Self {
        let point = |row: &Value| (quantity::mhz(&row[0]), quantity(&row[1]));
        match value.as_array() {
            Some(rows) => Self(rows.iter().map(point).collect()),
            None => Self(vec![(0.0, quantity(value))]),
        }
    }

    /// A curve through points in rising order.
    pub(crate) fn of(points: Vec<(f64, f64)>) -> Self {
        Self(points)
    }

    /// The same value everywhere.
    pub(crate) fn flat(value: f64) -> Self {
        Self(vec![(0.0, value)])
    }

    /// The frequencies of the points, in MHz.
    pub(crate) fn frequencies(&self) -> Vec<f64> {
        self.0.iter().map(|point| point.0).collect()
    }

    /// The first and the last frequency, in MHz.
    pub(crate) fn ends(&self) -> (f64, f64) {
        (self.0[0].0, self.0[self.0.len() - 1].0)
    }

    /// Linear in frequency, the ends held.
    pub(crate) fn linear(&self, mhz: f64) -> f64 {
        let (first, last) = (self.0[0], self.0[self.0.len() - 1]);
        if mhz <= first.0 {
            return first.1;
        }
        if mhz >= last.0 {
            return last.1;
        }
        let (left, right) = self.around(mhz);
        line(mhz, left, right)
    }

    /// Linear in the square root of frequency, the lines at the ends continued.
    pub(crate) fn in_root(&self, mhz: f64) -> f64 {
        if let [only] = self.0.as_slice() {
            return only.1;
        }
        let (left, right) = self.around(mhz);
        let root = |point: (f64, f64)| (point.0.sqrt(), point.1);
        line(mhz.sqrt(), root(left), root(right))
    }

    /// The two points either side of a frequency, or the nearest two.
    fn around(&self, mhz: f64) -> ((f64, f64), (f64, f64)) {
        assert!(self.0.len() > 1, "one point has no line");
        let after = self.0.iter().position(|point| point.0 >= mhz);
        let right = after.unwrap_or(self.0.len() - 1).max(1);
        (self.0[right - 1], self.0[right])
    }
}

/// The line through two points, at `x`.
fn line(x: f64, left: (f64, f64), right: (f64, f64)) -> f64 {
    left.1 + (right.1 - left.1) * (x - left.0) / (right.0 - left.0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::json;

    #[test]
    fn the_root_continues_and_the_line_holds() {
        let curve = Curve::read(&json!([["4 MHz", "2 dB"], ["16 MHz", "4 dB"]]), quantity::db);
        assert_eq!(curve.in_root(9.0), 3.0);
        assert_eq!(curve.in_root(25.0), 5.0);
        assert_eq!(curve.in_root(1.0), 1.0);
        assert_eq!(curve.linear(10.0), 3.0);
        assert_eq!(curve.linear(100.0), 4.0);
        assert_eq!(curve.linear(1.0), 2.0);
    }
}
