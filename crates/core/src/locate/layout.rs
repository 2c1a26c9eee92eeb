//! Readings in the order of the tree, and parts that no reading tells apart in groups.

use heapless::VecView;

use super::excess::shapes;
use super::fit::Tone;
use super::reading::Reading;
use crate::{Error, Tree};

/// A reading and what was to be expected of it.
#[derive(Clone, Copy, Debug)]
pub(super) struct Row {
    /// The expected level in dBmV.
    pub(super) expected: f32,
    /// Which of the tones; [`NOT_COUNTED`](Self::NOT_COUNTED) for a reading that is none.
    pub(super) tone: u16,
    /// Which reading stands at this place in the order of the tree: no fact about this one.
    pub(super) ordered: u16,
}

impl Row {
    pub(super) const NOT_COUNTED: u16 = u16::MAX;

    pub(super) const fn is_counted(&self) -> bool {
        self.tone != Self::NOT_COUNTED
    }
}

impl Default for Row {
    fn default() -> Self {
        Self { expected: 0.0, tone: Self::NOT_COUNTED, ordered: 0 }
    }
}

/// A part and the readings behind it.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Stand {
    /// How many are behind it.
    count: u16,
    /// The first of them, in the order of the tree.
    first: u16,
    /// The place before which the next reading goes, while they are put in order.
    next: u16,
    /// Which group it is in; [`NO_GROUP`](Self::NO_GROUP) where no signal goes.
    pub(super) group: u16,
    /// What a reading at its ways out is expected to gain, in nats.
    pub(super) gain: f32,
}

impl Stand {
    pub(super) const NO_GROUP: u16 = u16::MAX;
}

/// Parts with the same readings behind them, and what speaks for each.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Group {
    /// How many parts.
    pub(super) parts: u16,
    /// How many readings are behind each.
    pub(super) count: u16,
    /// The first of them, in the order of the tree.
    pub(super) first: u16,
    /// Which group is the so-manieth best: no fact about this one.
    pub(super) ranked: u16,
    /// The extra loss that fits best.
    pub(super) members: [f32; 3],
    /// The weight of each of its parts; before they are weighed, its logarithm without the prior.
    pub(super) each: f32,
    /// The squares that are left of all readings, in dB².
    pub(super) left: f32,
}

/// Finds the tones, puts readings in order, and gathers groups; how many readings count.
#[cfg_attr(target_os = "none", inline(never))]
pub(super) fn lay_out(
    tree: &Tree<'_, '_>,
    rows: &mut [Row],
    tones: &mut VecView<Tone>,
    stands: &mut VecView<Stand>,
    groups: &mut VecView<Group>,
    readings: &[Reading],
) -> Result<usize, Error> {
    let full = Error::Full { what: "parts", capacity: stands.capacity() };
    stands.clear();
    stands.resize_default(tree.parts.len()).map_err(|_| full)?;
    tones.clear();
    let mut counted: u16 = 0;
    for (row, reading) in rows.iter_mut().zip(readings).filter(|(row, _)| row.is_counted()) {
        row.tone = tone(tones, reading);
        counted = counted.saturating_add(1);
        if let Some(stand) = owner(tree, reading).and_then(|owner| stands.get_mut(owner)) {
            stand.count = stand.count.saturating_add(1);
        }
    }
    add_up(tree, stands);
    share_out(tree, stands, counted);
    // Every reading goes to the front of those that its part has for itself.
    for number in 0..rows.len() {
        let Some((row, reading)) = rows.get(number).zip(readings.get(number)) else { break };
        let owner = owner(tree, reading).filter(|_| row.is_counted());
        let Some(stand) = owner.and_then(|owner| stands.get_mut(owner)) else { continue };
        stand.next = stand.next.saturating_sub(1);
        if let Some(place) = rows.get_mut(usize::from(stand.next)) {
            place.ordered = number as u16;
        }
    }
    gather(tree, stands, groups).map_err(|()| full)?;
    Ok(usize::from(counted))
}

/// The tone of a reading. There is room for one each.
fn tone(tones: &mut VecView<Tone>, reading: &Reading) -> u16 {
    let mhz = reading.frequency.mhz();
    let place = tones.iter().position(|tone| tone.mhz == mhz).unwrap_or_else(|| {
        let _ = tones.push(Tone { mhz, shapes: shapes(reading.frequency), ..Tone::default() });
        tones.len() - 1
    });
    place as u16
}

/// The part that a reading was taken at a way out of.
fn owner(tree: &Tree<'_, '_>, reading: &Reading) -> Option<usize> {
    tree.owner(reading.port).map(|(part, _)| part.index())
}

/// The part that a part hangs on.
pub(super) fn parent(tree: &Tree<'_, '_>, part: usize) -> Option<usize> {
    let after = tree.parts.get(part)?.after;
    tree.ports.get(usize::from(after)).map(|port| usize::from(port.owner))
}

/// What is behind a part is behind the one it hangs on too: children come after their parents.
fn add_up(tree: &Tree<'_, '_>, stands: &mut [Stand]) {
    for part in (0..stands.len()).rev() {
        let count = stands.get(part).map_or(0, |stand| stand.count);
        if let Some(above) = parent(tree, part).and_then(|parent| stands.get_mut(parent)) {
            above.count = above.count.saturating_add(count);
        }
    }
}

/// Gives each part a stretch of its parent's; in front of its children's stays room for its own readings.
fn share_out(tree: &Tree<'_, '_>, stands: &mut [Stand], counted: u16) {
    let mut left = counted;
    for part in 0..stands.len() {
        let count = stands.get(part).map_or(0, |stand| stand.count);
        let end = match parent(tree, part).and_then(|parent| stands.get_mut(parent)) {
            Some(above) => &mut above.next,
            None => &mut left,
        };
        let next = *end;
        *end = next.saturating_sub(count);
        let first = *end;
        if let Some(stand) = stands.get_mut(part) {
            (stand.first, stand.next) = (first, next);
        }
    }
}

/// Groups: along a way from the entry the readings behind parts grow fewer, so as many are the same ones. Parts
/// without any are one group.
fn gather(tree: &Tree<'_, '_>, stands: &mut [Stand], groups: &mut VecView<Group>) -> Result<(), ()> {
    groups.clear();
    let mut unread = None;
    for part in 0..stands.len() {
        let signal = tree.parts.get(part).and_then(|placed| tree.ports.get(usize::from(placed.after)));
        let above = parent(tree, part).and_then(|parent| stands.get(parent)).copied();
        let Some(stand) = stands.get_mut(part) else { return Ok(()) };
        stand.group = Stand::NO_GROUP;
        if !signal.is_some_and(|port| port.signal) {
            continue;
        }
        let known = match above {
            _ if stand.count == 0 => unread,
            Some(above) if above.count == stand.count => Some(above.group),
            _ => None,
        };
        stand.group = match known {
            Some(group) => group,
            None => {
                let group = Group { count: stand.count, first: stand.first, ..Group::default() };
                groups.push(group).map_err(drop)?;
                (groups.len() - 1) as u16
            }
        };
        if stand.count == 0 {
            unread = Some(stand.group);
        }
        if let Some(group) = groups.get_mut(usize::from(stand.group)) {
            group.parts = group.parts.saturating_add(1);
        }
    }
    Ok(())
}
