//! What every step of building needs: somewhere to put things, and somewhere to note problems.

use bumpalo::Bump;
use legwork::{Band, Curve, Db, Frequency, Level, Point, Points};

use crate::problem::{Path, Problem, Problems, nearest};
use crate::quantity::{self, Bad};
use crate::raw::{self, OneOrMany, Pair, Scalar, Window};

/// Collects problems and owns nothing: what it builds lives in the arena.
pub(super) struct Context<'b> {
    pub(super) arena: &'b Bump,
    pub(super) problems: Problems,
}

/// Reads one quantity.
type Reader<T> = fn(&str) -> Result<T, Bad>;

impl<'b> Context<'b> {
    pub(super) fn note(&mut self, problem: Problem) {
        self.problems.push(problem);
    }

    /// Notes that a key of a table is missing.
    pub(super) fn missing(&mut self, table: Path, key: &str, takes: &str) {
        let says = format!("this key is missing; it takes {takes}");
        self.note(Problem::new(table.with(key), "", says).missing(&[key]));
    }

    /// A quantity that has to be there.
    pub(super) fn need<T>(
        &mut self,
        value: Option<&Scalar<'_>>,
        table: impl Fn() -> Path,
        key: &str,
        read: Reader<T>,
    ) -> Option<T> {
        match value {
            Some(value) => self.quantity(value, || table().with(key), read),
            None => {
                // What the field takes is known by whoever reads it.
                let takes = read("").err().map_or("a value", |bad| bad.takes);
                self.missing(table(), key, takes);
                None
            }
        }
    }

    /// A quantity that may be left out.
    pub(super) fn maybe<T>(
        &mut self,
        value: Option<&Scalar<'_>>,
        table: impl Fn() -> Path,
        key: &str,
        read: Reader<T>,
    ) -> Option<T> {
        self.quantity(value?, || table().with(key), read)
    }

    /// A quantity.
    pub(super) fn quantity<T>(
        &mut self,
        value: &Scalar<'_>,
        path: impl FnOnce() -> Path,
        read: Reader<T>,
    ) -> Option<T> {
        let text = value.text();
        match read(text.unwrap_or("")) {
            Ok(quantity) => Some(quantity),
            Err(bad) => {
                let says = match (text, value) {
                    (None, Scalar::Number(_)) => format!("a bare number has no unit; it takes {}", bad.takes),
                    (None, _) => format!("that is no quantity; it takes {}", bad.takes),
                    _ => bad.to_string(),
                };
                let meant = text.and_then(|text| bad.meant(text));
                self.note(Problem::new(path(), value.to_string(), says).suggest(meant));
                None
            }
        }
    }

    /// True or false; left out, false.
    pub(super) fn flag(&mut self, value: Option<&Scalar<'_>>, path: impl FnOnce() -> Path) -> bool {
        match value {
            None => false,
            Some(Scalar::Bool(value)) => *value,
            Some(other) => {
                self.note(Problem::new(path(), other.to_string(), "it takes true or false, without quotes"));
                false
            }
        }
    }

    /// A whole number in a range.
    pub(super) fn whole(
        &mut self,
        value: &Scalar<'_>,
        path: impl FnOnce() -> Path,
        low: u16,
        high: u16,
    ) -> Option<u16> {
        match value {
            Scalar::Number(number)
                if number.fract() == 0.0 && *number >= f64::from(low) && *number <= f64::from(high) =>
            {
                Some(*number as u16)
            }
            other => {
                let says = format!("it takes a whole number from {low} to {high}, without quotes");
                self.note(Problem::new(path(), other.to_string(), says));
                None
            }
        }
    }

    /// One of some words.
    pub(super) fn word<T: Copy>(
        &mut self,
        value: &Scalar<'_>,
        path: impl FnOnce() -> Path,
        words: &[(&'static str, T)],
    ) -> Option<T> {
        let text = value.to_string();
        if let Some((_, meaning)) = words.iter().find(|(word, _)| *word == text) {
            return Some(*meaning);
        }
        let known: Vec<&str> = words.iter().map(|(word, _)| *word).collect();
        let near = nearest(&text, known.iter().copied());
        self.note(Problem::new(path(), &text, format!("it takes one of {}", known.join(", "))).suggest(near));
        None
    }

    /// A text of the file's own, kept in the arena.
    pub(super) fn keep(&self, value: &Scalar<'_>) -> &'b str {
        match value {
            Scalar::Borrowed(text) => self.arena.alloc_str(text),
            other => self.arena.alloc_str(&other.to_string()),
        }
    }

    /// Points over frequency, rising, at least `fewest`.
    pub(super) fn points(
        &mut self,
        points: &[Pair<'_>],
        path: impl Fn() -> Path,
        read: Reader<f32>,
        fewest: usize,
    ) -> Option<&'b [Point]> {
        if points.len() < fewest {
            let says = format!("points in this list: {}; it takes at least {fewest}", points.len());
            self.note(Problem::new(path(), "", says));
            return None;
        }
        let mut last = None;
        let mut all_good = true;
        let out = self.arena.alloc_slice_fill_copy(points.len(), Point::constant(1.0, 0.0));
        for (index, (Pair { at, value }, slot)) in points.iter().zip(out.iter_mut()).enumerate() {
            let frequency = self.quantity(at, || path().with(index).with(0), quantity::frequency);
            let value = self.quantity(value, || path().with(index).with(1), read);
            let (Some(frequency), Some(value)) = (frequency, value) else {
                all_good = false;
                continue;
            };
            let point = Point::new(frequency, Db::ZERO);
            if last.is_some_and(|last| Points::new(&[last, point]).is_err()) {
                let says = "the frequencies of a table have to rise; put its points in order, none twice";
                self.note(Problem::new(path().with(index).with(0), at.to_string(), says));
                all_good = false;
            }
            last = Some(point);
            match Db::new(value) {
                Ok(db) => *slot = Point::new(frequency, db),
                Err(_) => all_good = false,
            }
        }
        all_good.then_some(out)
    }

    /// A quantity over frequency: one value, or points.
    pub(super) fn curve(
        &mut self,
        curve: &raw::Curve<'_>,
        path: impl Fn() -> Path,
        read: Reader<f32>,
    ) -> Option<Curve<'b>> {
        match curve {
            OneOrMany::One(value) => {
                let value = self.quantity(value, path, read)?;
                Db::new(value).ok().map(Curve::Flat)
            }
            OneOrMany::Many(points) => Curve::points(self.points(points, path, read, 1)?).ok(),
        }
    }

    /// A curve that has to be there.
    pub(super) fn need_curve(
        &mut self,
        curve: Option<&raw::Curve<'_>>,
        table: &dyn Fn() -> Path,
        key: &str,
        read: Reader<f32>,
    ) -> Option<Curve<'b>> {
        match curve {
            Some(curve) => self.curve(curve, || table().with(key), read),
            None => {
                self.missing(table(), key, "a value in dB, or points [\"frequency\", \"dB\"]");
                None
            }
        }
    }

    /// The two ends of a range.
    pub(super) fn ends<'w, 'a>(
        &mut self,
        window: &'w Window<'a>,
        path: impl FnOnce() -> Path,
    ) -> Option<(&'w Scalar<'a>, &'w Scalar<'a>)> {
        match window {
            OneOrMany::Many(list) if list.len() == 2 => Some((list.first()?, list.last()?)),
            OneOrMany::Many(list) => {
                self.note(Problem::new(
                    path(),
                    format!("{} values", list.len()),
                    "it takes two values, [\"lowest\", \"highest\"]",
                ));
                None
            }
            OneOrMany::One(value) => {
                self.note(Problem::new(path(), value.to_string(), "it takes two values, [\"lowest\", \"highest\"]"));
                None
            }
        }
    }

    /// A band.
    pub(super) fn band(&mut self, window: &Window<'_>, path: impl Fn() -> Path) -> Option<Band> {
        let (low, high) = self.ends(window, &path)?;
        let edge = |context: &mut Self, value: &Scalar<'_>, index: usize| -> Option<Frequency> {
            context.quantity(value, || path().with(index), quantity::frequency)
        };
        let (from, to) = (edge(self, low, 0), edge(self, high, 1));
        let band = Band::new(from?, to?);
        if band.is_err() {
            self.note(Problem::new(path(), "", "a band's lower edge comes first"));
        }
        band.ok()
    }
}

/// A loss as a plain number of dB.
pub(super) fn loss(text: &str) -> Result<f32, Bad> {
    quantity::loss(text).map(Db::db)
}

/// A gain as a plain number of dB.
pub(super) fn gain(text: &str) -> Result<f32, Bad> {
    quantity::db(text).map(Db::db)
}

/// A level as a plain number of dBmV.
pub(super) fn level(text: &str) -> Result<f32, Bad> {
    quantity::level(text).map(Level::dbmv)
}
