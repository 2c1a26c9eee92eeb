//! Room to work in, and the order of work.

use core::ops::RangeInclusive;

use heapless::{Vec, VecView};

use super::diagnosis::Diagnosis;
use super::fit::Tone;
use super::layout::{Group, Row, Stand, lay_out};
use super::levels;
use super::next::{Class, next};
use super::reading::Reading;
use super::weigh::{below, fit, weigh};
use crate::{Db, Error, Frequency, Point, Tree};

/// What locating a fault needs to work in and leaves its figures in: homes of at most `PARTS` parts, at most
/// `READINGS` readings, those at the entry among them. Nothing is kept from one home to the next.
///
/// ```
/// use legwork::{tables, Block, Db, Device, Entry, Frequency, Length, Level, Locator, Outlet, Part, Place, Point};
/// use legwork::{Points, PortId, Premises, Reading, Service, Split, Way};
///
/// let mhz = Frequency::constant;
/// let blocks = [Block::new(mhz(57.0), mhz(861.0), mhz(6.0), Db::ZERO)?];
/// let service = Service::new(Split { return_top: mhz(42.0), forward_bottom: mhz(54.0) }, &blocks)?;
/// let entry = [Point::constant(57.0, 10.0), Point::constant(861.0, 6.0)];
/// let mut home = Premises::<8, 16, 4, 1>::new(service, Entry::new(Points::new(&entry)?)?);
/// let splitter = home.add(PortId::ENTRY, Part::Splitter(&tables::SPLITTER_2))?;
/// let run = |feet| Ok::<_, legwork::Error>(Part::Cable {
///     spec: &tables::SERIES_6, length: Length::from_feet(feet)?, place: Place::Indoor,
/// });
/// let den_run = home.add(home.port(splitter, Way::Output(1))?, run(40.0)?)?;
/// let loft_run = home.add(home.port(splitter, Way::Output(2))?, run(60.0)?)?;
/// let (den, loft) = (home.port(den_run, Way::Only)?, home.port(loft_run, Way::Only)?);
///
/// // The den is some 4 dB short at both ends of the band, the loft is as it should be.
/// let read = |port, mhz, dbmv| Reading { port, frequency: Frequency::constant(mhz), level: Level::constant(dbmv) };
/// let readings = [read(den, 57.0, 1.8), read(den, 861.0, -4.1), read(loft, 57.0, 5.5), read(loft, 861.0, -1.5)];
/// let mut room = Locator::<8, 16>::new();
/// let tree = home.tree();
/// let diagnosis = room.locate(&tree, &readings, Db::constant(0.5))?;
/// let best = diagnosis.best();
/// assert!(best.parts().eq([den_run]) && best.weight > 0.9);
/// assert!((best.excess.flat - 4.0).abs() < 0.5);
/// # Ok::<(), legwork::Error>(())
/// ```
#[derive(Debug, Default)]
pub struct Locator<const PARTS: usize, const READINGS: usize> {
    rows: Vec<Row, READINGS>,
    entry: Vec<Point, READINGS>,
    tones: Vec<Tone, READINGS>,
    stands: Vec<Stand, PARTS>,
    groups: Vec<Group, PARTS>,
    classes: Vec<Class, PARTS>,
}

/// The same room whatever its capacities, so that the calculations exist once.
struct Bench<'w> {
    rows: &'w mut VecView<Row>,
    entry: &'w mut VecView<Point>,
    tones: &'w mut VecView<Tone>,
    stands: &'w mut VecView<Stand>,
    groups: &'w mut VecView<Group>,
    classes: &'w mut VecView<Class>,
}

impl<const PARTS: usize, const READINGS: usize> Locator<PARTS, READINGS> {
    /// An empty room.
    #[must_use]
    pub const fn new() -> Self {
        Self {
            rows: Vec::new(),
            entry: Vec::new(),
            tones: Vec::new(),
            stands: Vec::new(),
            groups: Vec::new(),
            classes: Vec::new(),
        }
    }

    /// Which part has more loss than it should, by levels that were read, each with a normal error of `error`, one
    /// sigma, from 0.001 to 30 dB.
    ///
    /// Levels are held against nominal ones. Where there are readings at the entry, their mean at each frequency
    /// stands in place of the entry's own forward readings; they do not count beside that.
    ///
    /// # Errors
    /// [`Error::OutOfRange`] error, [`Error::NoSuch`] port, [`Error::DcOnly`] where no signal goes, [`Error::Full`] where
    /// the home or the readings are more than this room holds, [`Error::BadTable`] where no reading counts, or those at
    /// the entry are of one frequency and others are not.
    pub fn locate<'w>(
        &'w mut self,
        tree: &Tree<'_, '_>,
        readings: &'w [Reading],
        error: Db,
    ) -> Result<Diagnosis<'w>, Error> {
        let sigma = checked(error)?;
        let bench = self.bench();
        levels::rows(tree, bench.rows, readings)?;
        levels::by_home(tree, bench.rows, bench.entry, readings)?;
        work(tree, bench, readings, sigma)
    }

    /// Which part has more loss than it had at an earlier visit: levels are held against those read `before`.
    ///
    /// Readings count where there is one `before` at the same port and frequency. What moved at the entry
    /// is taken off: the difference of the means there, at frequencies read there in both visits, straight
    /// in the square root of frequency between them; nothing where there are none. `error` is that of one reading; a
    /// difference of two has sqrt 2 times as much.
    ///
    /// # Errors
    /// As [`locate`](Self::locate).
    pub fn compare<'w>(
        &'w mut self,
        tree: &Tree<'_, '_>,
        before: &[Reading],
        after: &'w [Reading],
        error: Db,
    ) -> Result<Diagnosis<'w>, Error> {
        let sigma = checked(error)? * core::f32::consts::SQRT_2;
        before.iter().try_for_each(|reading| levels::check(tree, reading))?;
        let bench = self.bench();
        levels::rows(tree, bench.rows, after)?;
        levels::by_before(bench.rows, bench.entry, before, after)?;
        work(tree, bench, after, sigma)
    }

    fn bench(&mut self) -> Bench<'_> {
        Bench {
            rows: self.rows.as_mut_view(),
            entry: self.entry.as_mut_view(),
            tones: self.tones.as_mut_view(),
            stands: self.stands.as_mut_view(),
            groups: self.groups.as_mut_view(),
            classes: self.classes.as_mut_view(),
        }
    }
}

/// All that follows from expected levels, in the order in which its steps need each other.
#[cfg_attr(target_os = "none", inline(never))]
fn work<'w>(
    tree: &Tree<'_, '_>,
    bench: Bench<'w>,
    readings: &'w [Reading],
    sigma: f32,
) -> Result<Diagnosis<'w>, Error> {
    let Bench { rows, entry, tones, stands, groups, classes } = bench;
    let counted = lay_out(tree, rows, tones, stands, groups, readings)?;
    let Some((frequency, shapes)) = lowest(rows, tones, readings) else {
        return Err(Error::BadTable { why: "of readings has none that counts" });
    };
    let mut sound = fit(rows, tones, groups, readings, counted, sigma * sigma);
    weigh(groups, &mut sound);
    let next = next(tree, stands, groups, classes, &sound, readings, (frequency, shapes, sigma));
    Ok(Diagnosis { readings, entry, rows, stands, groups, sound, counted, sigma, next })
}

/// What the error of a reading may be: no meter is better than the least, none so bad as the greatest.
pub const READING_ERROR: RangeInclusive<Db> = RangeInclusive::new(Db::constant(0.001), Db::constant(30.0));

/// The error of a reading in dB, if it is one.
fn checked(error: Db) -> Result<f32, Error> {
    if READING_ERROR.contains(&error) { Ok(error.db()) } else { Err(Error::OutOfRange { what: "reading error (dB)" }) }
}

/// The frequency of the reading furthest below its expected level, with its shapes; the first of equals.
fn lowest(rows: &[Row], tones: &[Tone], readings: &[Reading]) -> Option<(Frequency, [f32; 3])> {
    let counted = rows.iter().zip(readings).filter(|(row, _)| row.is_counted());
    let lowest = counted.reduce(|a, b| if below(b.0, b.1) > below(a.0, a.1) { b } else { a })?;
    let tone = tones.get(usize::from(lowest.0.tone))?;
    Some((Frequency::unchecked(tone.mhz), tone.shapes))
}
