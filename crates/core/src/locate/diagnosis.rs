//! What came of locating: suspects, expected levels, where to read next.

use super::excess::ExtraLoss;
use super::layout::{Group, Row, Stand};
use super::next::NextReading;
use super::reading::Reading;
use super::weigh::Sound;
use crate::{Db, Frequency, Level, PartId, Point};

/// What readings say of a home.
#[derive(Clone, Copy, Debug)]
pub struct Diagnosis<'w> {
    pub(super) readings: &'w [Reading],
    pub(super) entry: &'w [Point],
    pub(super) rows: &'w [Row],
    pub(super) stands: &'w [Stand],
    pub(super) groups: &'w [Group],
    pub(super) sound: Sound,
    pub(super) counted: usize,
    pub(super) sigma: f32,
    pub(super) next: Option<NextReading>,
}

/// Parts of which one may have an extra loss, and how likely that is; or, without parts, nothing wrong.
#[derive(Clone, Copy, Debug)]
pub struct Suspect<'w> {
    /// The extra loss that fits best.
    pub excess: ExtraLoss,
    /// The share of this among all suspects: from 0 to 1, 1 in all.
    pub weight: f32,
    diagnosis: Diagnosis<'w>,
    /// Its number among the groups.
    group: Option<u16>,
    left: f32,
}

/// A reading that counts, beside what was expected of it.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Expected {
    /// Its number among the readings that were given.
    pub number: usize,
    /// What was read.
    pub read: Reading,
    /// What was to be expected there.
    pub expected: Level,
}

impl Expected {
    /// How far the reading is above what was to be expected; below zero where it is too low.
    pub fn difference(&self) -> Db {
        self.read.level - self.expected
    }
}

impl<'w> Diagnosis<'w> {
    /// The suspects, the likeliest first. Parts that no reading tells apart are one; nothing wrong is one
    /// too, and stands before others as likely.
    pub fn suspects(&self) -> impl Iterator<Item = Suspect<'w>> + use<'w> {
        let this = *self;
        let ranked = this.groups.iter().map(|place| place.ranked);
        let suspect = move |number: u16| this.groups.get(usize::from(number)).map(|group| this.suspect(number, group));
        let sound = this.sound.weight;
        let above = ranked.clone().filter_map(suspect).filter(move |suspect| suspect.weight > sound);
        let below = ranked.filter_map(suspect).filter(move |suspect| suspect.weight <= sound);
        above.chain([this.nothing_wrong()]).chain(below)
    }

    /// The likeliest suspect.
    #[must_use]
    pub fn best(&self) -> Suspect<'w> {
        self.suspects().next().unwrap_or(self.nothing_wrong())
    }

    /// The likeliest suspect, if it has parts and is likelier than all else together: less is no ground to accuse.
    #[must_use]
    pub fn stands_out(&self) -> Option<Suspect<'w>> {
        const EVEN: f32 = 0.5;
        Some(self.best()).filter(|best| !best.is_nothing_wrong() && best.weight > EVEN)
    }

    /// That nothing is wrong, as a suspect among the others.
    #[must_use]
    pub const fn nothing_wrong(&self) -> Suspect<'w> {
        let Sound { weight, left } = self.sound;
        Suspect { excess: ExtraLoss::NONE, weight, diagnosis: *self, group: None, left }
    }

    /// The readings that count, in the order they were given: those at the entry say what was to be expected of them.
    pub fn readings(&self) -> impl Iterator<Item = Expected> + use<'w> {
        let rows = self.rows.iter().zip(self.readings).enumerate();
        rows.filter(|(_, (row, _))| row.is_counted()).map(|(number, (row, read))| Expected {
            number,
            read: *read,
            expected: Level::unchecked(row.expected),
        })
    }

    /// What was read at the entry, rising in frequency: the mean level in dBmV, or, after a comparison, how far it
    /// moved in dB. Empty where nothing was.
    #[must_use]
    pub const fn entry(&self) -> &'w [Point] {
        self.entry
    }

    /// How far a reading was taken to err, one sigma; after a comparison, the difference of two.
    pub const fn error(&self) -> Db {
        Db::unchecked(self.sigma)
    }

    /// What the likeliest suspect leaves unexplained: the root mean square of the differences, in dB.
    #[must_use]
    pub fn unexplained(&self) -> f32 {
        libm::sqrtf(self.best().left / self.counted as f32)
    }

    /// Where to read next; [`None`] where no single reading would tell much.
    #[must_use]
    pub const fn next_reading(&self) -> Option<NextReading> {
        self.next
    }

    fn suspect(&self, number: u16, group: &Group) -> Suspect<'w> {
        let excess = ExtraLoss::of(group.members);
        Suspect { excess, weight: group.weight(), diagnosis: *self, group: Some(number), left: group.left }
    }
}

impl<'w> Suspect<'w> {
    /// Its parts, in the order they were added; none for nothing wrong.
    pub fn parts(&self) -> impl Iterator<Item = PartId> + use<'w> {
        let group = self.group;
        let stands = self.diagnosis.stands.iter().enumerate();
        stands.filter(move |(_, stand)| group == Some(stand.group)).map(|(number, _)| PartId(number as u16))
    }

    /// Whether it is that nothing is wrong.
    #[must_use]
    pub const fn is_nothing_wrong(&self) -> bool {
        self.group.is_none()
    }

    /// The lowest and the highest frequency read behind it; [`None`] where nothing was.
    #[must_use]
    pub fn band(&self) -> Option<(Frequency, Frequency)> {
        let Diagnosis { groups, rows, readings, .. } = self.diagnosis;
        let group = groups.get(usize::from(self.group?))?;
        let behind = rows.iter().skip(usize::from(group.first)).take(usize::from(group.count));
        let mut ends = None;
        for place in behind {
            let frequency = readings.get(usize::from(place.ordered))?.frequency;
            ends = Some(match ends {
                Some((low, _)) if frequency < low => (frequency, ends?.1),
                Some((low, high)) if frequency > high => (low, frequency),
                Some(ends) => ends,
                None => (frequency, frequency),
            });
        }
        ends
    }
}
