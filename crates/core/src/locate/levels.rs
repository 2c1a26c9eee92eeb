//! What was to be expected at each reading.

use heapless::VecView;

use super::layout::Row;
use super::reading::Reading;
use crate::{Case, Db, Entry, Error, Frequency, Point, Points, PortId, Tree};

/// Checks that a home has every port and the signal goes there, and makes a row for each reading.
pub(super) fn rows(tree: &Tree<'_, '_>, rows: &mut VecView<Row>, readings: &[Reading]) -> Result<(), Error> {
    let full = Error::Full { what: "readings", capacity: rows.capacity().min(usize::from(Row::NOT_COUNTED)) };
    rows.clear();
    if readings.len() >= usize::from(Row::NOT_COUNTED) {
        return Err(full);
    }
    for reading in readings {
        check(tree, reading)?;
        rows.push(Row::default()).map_err(|_| full)?;
    }
    Ok(())
}

/// Whether the signal goes to where something was read.
pub(super) fn check(tree: &Tree<'_, '_>, reading: &Reading) -> Result<(), Error> {
    match tree.occupant(reading.port) {
        None => Err(Error::NoSuch { what: "port" }),
        Some(_) if !tree.carries_signal(reading.port) => Err(Error::DcOnly),
        Some(_) => Ok(()),
    }
}

/// Expected: the nominal level, under what was read at the entry, where something was.
pub(super) fn by_home(
    tree: &Tree<'_, '_>,
    rows: &mut [Row],
    entry: &mut VecView<Point>,
    readings: &[Reading],
) -> Result<(), Error> {
    entry.clear();
    for reading in readings.iter().filter(|reading| reading.port == PortId::ENTRY) {
        let mean = mean_at(readings, PortId::ENTRY, reading.frequency);
        put(entry, reading.frequency, mean.unwrap_or(reading.level.dbmv()));
    }
    let mut away = readings.iter().filter(|reading| reading.port != PortId::ENTRY);
    // One level has no line to go on; at its own frequency it needs none.
    if let [only] = entry.as_slice()
        && away.any(|reading| reading.frequency != only.frequency())
    {
        return Err(Error::BadTable { why: "of readings has one frequency at the entry and others elsewhere" });
    }
    let forward = if entry.is_empty() { tree.entry.forward } else { Points::new(entry)? };
    let read = Entry { forward, ..*tree.entry };
    let tree = Tree { entry: &read, ..*tree };
    for (row, reading) in rows.iter_mut().zip(readings).filter(|(_, reading)| reading.port != PortId::ENTRY) {
        row.expected = tree.level_at(reading.port, reading.frequency, Case::Nominal)?.dbmv();
        row.tone = 0;
    }
    Ok(())
}

/// Expected: what was read there before, moved by as much as the entry was.
pub(super) fn by_before(
    rows: &mut [Row],
    entry: &mut VecView<Point>,
    before: &[Reading],
    after: &[Reading],
) -> Result<(), Error> {
    entry.clear();
    for reading in after.iter().filter(|reading| reading.port == PortId::ENTRY) {
        let was = mean_at(before, PortId::ENTRY, reading.frequency);
        let is = mean_at(after, PortId::ENTRY, reading.frequency);
        if let Some((was, is)) = was.zip(is) {
            put(entry, reading.frequency, is - was);
        }
    }
    let moved = if entry.is_empty() { None } else { Some(Points::new(entry)?) };
    for (row, reading) in rows.iter_mut().zip(after).filter(|(_, reading)| reading.port != PortId::ENTRY) {
        let Some(was) = mean_at(before, reading.port, reading.frequency) else { continue };
        let moved = moved.map_or(0.0, |moved| crate::Curve::Points(moved).at_square_root(reading.frequency));
        row.expected = was + moved;
        row.tone = 0;
    }
    Ok(())
}

/// The mean of what was read at a port and frequency.
fn mean_at(readings: &[Reading], port: PortId, frequency: Frequency) -> Option<f32> {
    let there = readings.iter().filter(|reading| reading.port == port && reading.frequency == frequency);
    let (sum, count) = there.fold((0.0, 0.0), |(sum, count), reading| (sum + reading.level.dbmv(), count + 1.0));
    (count > 0.0).then(|| sum / count)
}

/// Puts a point where its frequency belongs, if it is not there yet. There is room for a point a reading.
fn put(points: &mut VecView<Point>, frequency: Frequency, dbmv: f32) {
    if points.iter().any(|point| point.frequency() == frequency) {
        return;
    }
    // Each goes to its place among those before it.
    let mut moving = Point::new(frequency, Db::unchecked(dbmv));
    for point in points.iter_mut().filter(|point| point.frequency() > frequency) {
        core::mem::swap(point, &mut moving);
    }
    let _ = points.push(moving);
}
