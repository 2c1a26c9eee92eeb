//! Which part of a home is at fault, by a file of readings.

use bumpalo::Bump;
use legwork::{Db, Diagnosis, Locator};

use crate::build::MOST_PARTS;
use crate::home::Home;
use crate::problem::{Path, Problem};
use crate::read::{Source, read};
use crate::readings::{self, MOST_READINGS, Readings};
use crate::refusal::Refusal;
use crate::report::{write_compared, write_located};

/// Room for any home and as many readings as a file may have.
type Room = Locator<MOST_PARTS, MOST_READINGS>;

/// Reads a home and what was read in it, and locates faults.
///
/// ```
/// use legwork::Db;
/// use legwork_file::{Finder, Source};
///
/// let home = r#"
/// format = 1
/// name = "Two rooms"
/// [service]
/// split = "42/54 MHz"
/// carriers = [{ first = "57 MHz", last = "861 MHz", step = "6 MHz" }]
/// [entry]
/// forward = [["57 MHz", "12 dBmV"], ["861 MHz", "7 dBmV"]]
/// [[part]]
/// id = "pair"
/// after = "entry"
/// splitter = "2-way"
/// [[outlet]]
/// id = "den"
/// after = "pair.1"
/// device = "tv"
/// [[outlet]]
/// id = "loft"
/// after = "pair.2"
/// device = "tv"
/// "#;
/// let home = Source::new("home.toml", home.as_bytes()).unwrap();
/// let readings = Source::new("today.csv", b"at,mhz,dbmv\nden,57,8.4\nloft,57,8.6\n").unwrap();
/// let mut finder = Finder::new();
/// let located = finder.locate(&home, &readings, Db::constant(0.5)).unwrap();
/// assert!(located.diagnosis.best().is_nothing_wrong());
/// assert!(located.json().contains("\"suspects\":[{\"parts\":[]"));
/// ```
#[derive(Debug)]
pub struct Finder {
    room: Box<Room>,
    /// For what got better where the first is for what got worse.
    second: Box<Room>,
    arena: Bump,
}

/// A home, what was read in it, and what that says.
#[derive(Debug)]
pub struct Located<'f> {
    /// The home with its names.
    pub home: Home<'f>,
    /// What the readings say.
    pub diagnosis: Diagnosis<'f>,
    pub(crate) readings: Readings<'f>,
}

/// A home, and what changed in it from one visit to the next.
#[derive(Debug)]
pub struct Compared<'f> {
    /// What lost more at the second visit.
    pub worse: Located<'f>,
    /// What lost more at the first.
    pub better: Located<'f>,
}

impl Finder {
    /// A finder without a home.
    #[must_use]
    pub fn new() -> Self {
        Self { room: Box::default(), second: Box::default(), arena: Bump::new() }
    }

    /// Reads a home and readings, and locates a fault; `error` is that of one reading, one sigma.
    ///
    /// # Errors
    /// A [`Refusal`] where a file can't be used, one without a usable reading included.
    pub fn locate<'f>(
        &'f mut self,
        source: &Source<'_>,
        readings: &Source<'_>,
        error: Db,
    ) -> Result<Located<'f>, Box<Refusal>> {
        self.arena.reset();
        let arena = &self.arena;
        let home = read(source, None, arena)?;
        let read = readings::read(readings, &home, arena)?;
        readings::together(readings, &read)?;
        let diagnosis =
            self.room.locate(&home.tree(), read.readings, error).map_err(|error| refused(readings, &error))?;
        Ok(Located { home, diagnosis, readings: read })
    }

    /// Reads a home and the readings of two visits, and says what changed where; what moved at the entry is taken off.
    ///
    /// # Errors
    /// A [`Refusal`] where a file can't be used, or no place was read at one frequency in both visits.
    pub fn compare<'f>(
        &'f mut self,
        source: &Source<'_>,
        before: &Source<'_>,
        after: &Source<'_>,
        error: Db,
    ) -> Result<Compared<'f>, Box<Refusal>> {
        self.arena.reset();
        let arena = &self.arena;
        let home = read(source, None, arena)?;
        let (first, second) = (readings::read(before, &home, arena)?, readings::read(after, &home, arena)?);
        let away = |reading: &&legwork::Reading| reading.port != legwork::PortId::ENTRY;
        let same = |one: &legwork::Reading, other: &legwork::Reading| {
            (one.port, one.frequency) == (other.port, other.frequency)
        };
        let mut read = second.readings.iter().filter(away);
        if !read.any(|read| first.readings.iter().any(|earlier| same(read, earlier))) {
            let says = format!("no reading away from the entry has one in {} at its place and frequency", before.name);
            return Err(Refusal::whole(after.name, after.text, Problem::new(Path::default(), "", says)));
        }
        let tree = home.tree();
        let worse = self.room.compare(&tree, first.readings, second.readings, error);
        let worse = worse.map_err(|error| refused(after, &error))?;
        let better = self.second.compare(&tree, second.readings, first.readings, error);
        let better = better.map_err(|error| refused(before, &error))?;
        let other = Home { names: home.names.clone(), ..home };
        Ok(Compared {
            worse: Located { home, diagnosis: worse, readings: second },
            better: Located { home: other, diagnosis: better, readings: first },
        })
    }
}

impl Default for Finder {
    fn default() -> Self {
        Self::new()
    }
}

impl<'f> Located<'f> {
    /// What the readings say as one line of JSON, without an end of line.
    #[must_use]
    pub fn json(&self) -> String {
        let mut out = Vec::with_capacity(4 << 10);
        write_located(&mut out, self);
        String::from_utf8(out).unwrap_or_default()
    }

    /// What the file of readings calls the place of a reading, by its number.
    #[must_use]
    pub fn place(&self, number: usize) -> &'f str {
        self.readings.names.get(number).copied().unwrap_or_default()
    }
}

impl Compared<'_> {
    /// What changed as one line of JSON, without an end of line.
    #[must_use]
    pub fn json(&self) -> String {
        let mut out = Vec::with_capacity(4 << 10);
        write_compared(&mut out, self);
        String::from_utf8(out).unwrap_or_default()
    }
}

fn refused(source: &Source<'_>, error: &legwork::Error) -> Box<Refusal> {
    Refusal::whole(source.name, source.text, Problem::new(Path::default(), "", error.to_string()))
}
