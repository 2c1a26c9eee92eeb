//! Readings as CSV: a header with the columns `at`, `mhz` and `dbmv`, found by name, and a reading a line.

mod places;
mod scan;

use bumpalo::Bump;
use csv::{ReaderBuilder, StringRecord, Trim};
use legwork::{Frequency, Level, PortId, Reading};

use crate::home::Home;
use crate::problem::{Path, Problem, Problems, nearest, route};
use crate::quantity::{self, Bad, Why};
use crate::read::Source;
use crate::refusal::Refusal;
use places::Places;
use scan::field;

/// The most readings of one file.
pub const MOST_READINGS: usize = 4096;

/// What a file of readings says.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Readings<'b> {
    pub(crate) readings: &'b [Reading],
    /// What the file calls the place of each.
    pub(crate) names: &'b [&'b str],
}

/// The columns that count.
const COLUMNS: [&str; 3] = ["at", "mhz", "dbmv"];

/// Reads a file of readings that were taken in a home.
pub(crate) fn read<'b>(source: &Source<'_>, home: &Home<'b>, arena: &'b Bump) -> Result<Readings<'b>, Box<Refusal>> {
    let mut builder = ReaderBuilder::new();
    // A line of another length is none of the format's business: what lies beyond the columns that count is not read.
    builder.has_headers(false).flexible(true).trim(Trim::All);
    let mut reader = builder.from_reader(source.text.as_bytes());
    let mut file = File { source, problems: Vec::new() };
    let mut record = StringRecord::new();
    let mut more = |record: &mut StringRecord| {
        // Text in memory that is UTF-8 does not fail to be read.
        reader.read_record(record).unwrap_or(false)
    };
    if !more(&mut record) {
        let says = "there is no header; the first line names the columns: at,mhz,dbmv";
        return Err(Refusal::whole(source.name, source.text, Problem::new(Path::default(), "", says)));
    }
    let Some(columns) = file.columns(&record) else { return Err(file.refusal()) };
    let places = Places::new(home);
    let (mut readings, mut names) = (Vec::new(), Vec::new());
    while more(&mut record) && file.problems.len() < Problems::MOST {
        if let Some((name, reading)) = file.reading(&record, columns, &places) {
            names.push(&*arena.alloc_str(name));
            readings.push(reading);
        }
        if readings.len() > MOST_READINGS {
            let says = format!("these are more than {MOST_READINGS} readings; split the file");
            file.note(&record, 0, Problem::new(Path::default(), "", says));
            break;
        }
    }
    if !file.problems.is_empty() {
        return Err(file.refusal());
    }
    Ok(Readings { readings: arena.alloc_slice_copy(&readings), names: arena.alloc_slice_copy(&names) })
}

/// A file of readings, and what is wrong with it.
struct File<'s> {
    source: &'s Source<'s>,
    problems: Vec<(std::ops::Range<usize>, Problem)>,
}

impl File<'_> {
    fn note(&mut self, record: &StringRecord, column: usize, problem: Problem) {
        let start = record.position().map_or(0, |position| position.byte());
        let start = usize::try_from(start).unwrap_or(usize::MAX);
        self.problems.push((field(self.source.text, start, column), problem));
    }

    fn refusal(self) -> Box<Refusal> {
        Refusal::spanned(self.source.name, self.source.text, self.problems)
    }

    /// Where the columns stand.
    fn columns(&mut self, header: &StringRecord) -> Option<[usize; 3]> {
        let mut columns = [0; 3];
        for (column, name) in columns.iter_mut().zip(COLUMNS) {
            let mut found = (0..header.len()).filter(|place| is(header, *place, name));
            match (found.next(), found.next()) {
                (Some(place), None) => *column = place,
                (Some(_), Some(second)) => {
                    let says = "this column stands twice; rename the one that is not meant";
                    self.note(header, second, Problem::new(route![name], "", says));
                }
                (None, _) => self.missing(header, name),
            }
        }
        self.problems.is_empty().then_some(columns)
    }

    fn missing(&mut self, header: &StringRecord, name: &str) {
        let line = header.iter().collect::<Vec<&str>>().join(",");
        let other = [(';', "semicolons"), ('\t', "tabs")].into_iter().find(|(other, _)| line.contains(*other));
        let says = match other {
            Some((_, word)) if header.len() == 1 => {
                format!("this column is not in the header, which has {word}; save the file with commas")
            }
            _ => "this column is not in the header; the first line names the columns: at,mhz,dbmv".to_owned(),
        };
        let unused = |word: &&str| !COLUMNS.iter().any(|known| known.eq_ignore_ascii_case(word));
        let near = nearest(name, header.iter().filter(unused)).map(|near| format!("rename `{near}` to `{name}`"));
        let mut problem = Problem::new(route![name], line, says);
        problem.help = near;
        // One word of help is enough where nothing in the header will do.
        if other.is_none() || self.problems.is_empty() {
            self.note(header, 0, problem);
        }
    }

    /// The reading of a line; none where it says nothing, or what is wrong with it has been noted.
    fn reading<'r>(
        &mut self,
        record: &'r StringRecord,
        [at, mhz, dbmv]: [usize; 3],
        places: &Places<'_>,
    ) -> Option<(&'r str, Reading)> {
        if record.iter().all(str::is_empty) {
            return None;
        }
        let Some(read) = record.get(dbmv) else {
            let says = "this line ends before its level; where nothing was read, leave it empty behind a comma";
            self.note(record, record.len().saturating_sub(1), Problem::new(route!["dbmv"], "", says));
            return None;
        };
        if read.is_empty() {
            return None;
        }
        let level = self.number(record, dbmv, "dbmv", level);
        let frequency = self.number(record, mhz, "mhz", frequency);
        let name = record.get(at).unwrap_or_default();
        let port = match places.find(name) {
            Ok(port) => Some(port),
            Err(problem) => {
                self.note(record, at, *problem);
                None
            }
        };
        Some((name, Reading { port: port?, frequency: frequency?, level: level? }))
    }

    fn number<T>(
        &mut self,
        record: &StringRecord,
        column: usize,
        name: &str,
        read: fn(&str) -> Result<T, Bad>,
    ) -> Option<T> {
        let text = record.get(column).unwrap_or_default();
        let bad = match read(text) {
            Ok(value) => return Some(value),
            Err(bad) => bad,
        };
        let problem = Problem::new(route![name], text, bad.to_string()).suggest(bad.meant(text));
        self.note(record, column, problem);
        None
    }
}

/// Whether a column is called so; capitals don't count.
fn is(header: &StringRecord, place: usize, name: &str) -> bool {
    header.get(place).is_some_and(|word| word.eq_ignore_ascii_case(name))
}

/// A plain number is one of MHz; any other frequency brings its unit.
fn frequency(text: &str) -> Result<Frequency, Bad> {
    const TAKES: &str = "a number of MHz above zero, as in 57, or a frequency with its unit";
    let read = |number: f64| Frequency::new(number as f32);
    plain(text, read).unwrap_or_else(|| quantity::frequency(text)).map_err(|bad| Bad { takes: TAKES, ..bad })
}

/// A plain number is one of dBmV; any other level brings its unit.
fn level(text: &str) -> Result<Level, Bad> {
    const TAKES: &str = "a number of dBmV, as in -3.5, or a level with its unit";
    plain(text, |number| Level::new(number as f32))
        .unwrap_or_else(|| quantity::level(text))
        .map_err(|bad| Bad { takes: TAKES, ..bad })
}

/// A plain number, if it is one.
fn plain<T>(text: &str, wrap: impl Fn(f64) -> Result<T, legwork::Error>) -> Option<Result<T, Bad>> {
    let number: f64 = text.parse().ok()?;
    let why = if number.is_finite() { Why::Impossible } else { Why::NotFinite };
    Some(wrap(number).map_err(|_| Bad { why, takes: "" }))
}

/// What speaks against readings that are right each by itself.
pub(crate) fn together(source: &Source<'_>, readings: &Readings<'_>) -> Result<(), Box<Refusal>> {
    let entry = |reading: &&Reading| reading.port == PortId::ENTRY;
    let mut away = readings.readings.iter().filter(|reading| !entry(reading));
    let refuse = |says| Err(Refusal::whole(source.name, source.text, Problem::new(Path::default(), "", says)));
    let Some(first) = away.next() else {
        return refuse(match readings.readings {
            [] => "there is no usable reading; write one a line as at,mhz,dbmv",
            _ => "all usable readings are at the entry; read at an outlet too",
        });
    };
    let mut at_entry = readings.readings.iter().filter(entry);
    if let Some(only) = at_entry.next()
        && at_entry.all(|reading| reading.frequency == only.frequency)
        && (first.frequency != only.frequency || away.any(|reading| reading.frequency != only.frequency))
    {
        return refuse(
            "the entry is read at one frequency, other places at others; read the entry at a second one, or leave it out: then the premises file's own readings count",
        );
    }
    Ok(())
}
