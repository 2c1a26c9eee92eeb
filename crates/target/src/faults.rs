//! Simulated visits: what would be read in a home with a fault, and a checksum over what that says.

use legwork::{Case, Db, Diagnosis, Error, Frequency, Level, Locator, Occupant, PortId, Reading, Tree};

use crate::sums::Checksum;

/// The most readings of a visit.
pub const MOST: usize = 32;

/// Frequencies of a visit, in MHz.
const FREQUENCIES: [f32; 3] = [57.0, 453.0, 861.0];

/// What is read at outlets, at three frequencies, with a fault of some 4 dB behind one of the ports, by `number`.
///
/// Levels are off by quarters that look random and are the same everywhere.
///
/// # Errors
/// None: every port is one of the home.
pub fn readings(tree: &Tree<'_, '_>, number: u32) -> Result<([Reading; MOST], usize), Error> {
    let none = Reading { port: PortId::ENTRY, frequency: Frequency::MIN, level: Level::constant(0.0) };
    let (mut readings, mut count) = ([none; MOST], 0);
    let mut random = number.wrapping_mul(0x9E37_79B9) | 1;
    let faulty = tree.outlets().len().max(1);
    let faulty = tree.outlets().get(number as usize % faulty).map_or(PortId::ENTRY, legwork::Outlet::port);
    for outlet in tree.outlets() {
        for mhz in FREQUENCIES {
            random ^= random << 13;
            random ^= random >> 17;
            random ^= random << 5;
            let off = ((random >> 8) % 5) as f32 * 0.25 - 0.5;
            let extra = if outlet.port() == faulty { 4.0 } else { 0.0 };
            let frequency = Frequency::new(mhz)?;
            let level = tree.level_at(outlet.port(), frequency, Case::Nominal)?.dbmv() + off - extra;
            // A random home may lose more than a level can be.
            let Ok(level) = Level::new(level) else { continue };
            if let Some(slot) = readings.get_mut(count) {
                *slot = Reading { port: outlet.port(), frequency, level };
                count += 1;
            }
        }
    }
    Ok((readings, count))
}

/// Adds what a visit, and a second one compared with it, say of a home.
///
/// # Errors
/// [`Error::Full`] where the home is larger than the room.
pub fn visit<const PARTS: usize, const READINGS: usize>(
    sum: &mut Checksum,
    tree: &Tree<'_, '_>,
    finder: &mut Locator<PARTS, READINGS>,
    number: u32,
) -> Result<(), Error> {
    let (mut first, count) = readings(tree, number)?;
    let (second, _) = readings(tree, number.wrapping_add(1))?;
    let (Some(before), Some(after)) = (first.get(..count), second.get(..count)) else { return Ok(()) };
    for error in [0.25, 0.5] {
        match finder.locate(tree, after, Db::new(error)?) {
            Ok(diagnosis) => add(sum, &diagnosis),
            Err(Error::BadTable { .. }) => sum.byte(0),
            Err(error) => return Err(error),
        }
    }
    match finder.compare(tree, before, after, Db::constant(0.5)) {
        Ok(diagnosis) => add(sum, &diagnosis),
        Err(Error::BadTable { .. }) => sum.byte(0),
        Err(error) => return Err(error),
    }
    // The same with two levels read at the entry.
    for (slot, (mhz, level)) in first.iter_mut().zip([(57.0, 12.0), (861.0, 7.5)]) {
        *slot = Reading { port: PortId::ENTRY, frequency: Frequency::new(mhz)?, level: Level::new(level)? };
    }
    match finder.locate(tree, first.get(..count.max(2)).unwrap_or_default(), Db::constant(0.5)) {
        Ok(diagnosis) => add(sum, &diagnosis),
        Err(Error::BadTable { .. }) => sum.byte(0),
        Err(error) => return Err(error),
    }
    sum.byte(u8::from(finder.locate(tree, &[], Db::ZERO).is_err()));
    Ok(())
}

/// Adds everything that a diagnosis states.
pub fn add(sum: &mut Checksum, diagnosis: &Diagnosis<'_>) {
    sum.numbers([diagnosis.error().db(), diagnosis.unexplained(), diagnosis.nothing_wrong().weight]);
    sum.maybe(diagnosis.stands_out().map(|suspect| suspect.weight));
    sum.byte(u8::from(diagnosis.best().is_nothing_wrong()));
    diagnosis.entry().iter().for_each(|point| sum.numbers([point.frequency().mhz(), point.value()]));
    for suspect in diagnosis.suspects() {
        sum.numbers([suspect.weight, suspect.excess.flat, suspect.excess.rising, suspect.excess.falling]);
        suspect.parts().for_each(|part| sum.count(part.index()));
        sum.maybe(suspect.band().map(|(low, high)| high.mhz() - low.mhz()));
    }
    for row in diagnosis.readings() {
        sum.count(row.number);
        sum.numbers([row.expected.dbmv(), row.difference().db()]);
    }
    sum.byte(u8::from(diagnosis.next_reading().is_some()));
    if let Some(next) = diagnosis.next_reading() {
        sum.count(next.port.index());
        sum.numbers([next.frequency.mhz(), next.gain]);
    }
}

/// The outlet on a port, if there is one, by its number.
#[must_use]
pub fn outlet_on(tree: &Tree<'_, '_>, port: PortId) -> Option<usize> {
    match tree.occupant(port) {
        Some(Occupant::Outlet(outlet)) => Some(outlet.index()),
        _ => None,
    }
}
