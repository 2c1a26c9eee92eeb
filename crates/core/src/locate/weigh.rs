//! How likely each part is, and nothing wrong.

use super::fit::{Tone, best};
use super::layout::{Group, Row};
use super::reading::Reading;
use crate::math::max;

/// What the model says of there being nothing wrong, and what all weighing shares.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Sound {
    /// Its weight.
    pub(super) weight: f32,
    /// The squares of all readings, in dB².
    pub(super) left: f32,
}

/// How far below its expected level a reading is, in dB.
pub(super) fn below(row: &Row, reading: &Reading) -> f32 {
    row.expected - reading.level.dbmv()
}

/// Fits an extra loss to each group.
#[cfg_attr(target_os = "none", inline(never))]
pub(super) fn fit(
    rows: &[Row],
    tones: &mut [Tone],
    groups: &mut [Group],
    readings: &[Reading],
    counted: usize,
    variance: f32,
) -> Sound {
    let each = libm::logf(counted as f32);
    let ordered = |place: usize| -> Option<(&Row, &Reading)> {
        let number = usize::from(rows.get(place)?.ordered);
        rows.get(number).zip(readings.get(number))
    };
    let squares = |from: usize, to: usize| {
        (from..to).filter_map(ordered).fold(0.0, |sum, (row, reading)| {
            let below = below(row, reading);
            sum + below * below
        })
    };
    let whole = squares(0, counted);
    for group in groups.iter_mut() {
        let (from, to) = (usize::from(group.first), usize::from(group.first) + usize::from(group.count));
        let scatter = mean(tones, (from..to).filter_map(ordered));
        let fit = best(tones, each, variance);
        group.left = squares(0, from) + squares(to, counted) + scatter + fit.left;
        group.members = fit.members;
        group.each = -0.5 * (group.left / variance + f32::from(fit.size) * each);
    }
    Sound { weight: -0.5 * whole / variance, left: whole }
}

/// Notes the mean of each tone; gives the squares of how far readings lie from them.
fn mean<'r>(tones: &mut [Tone], behind: impl Iterator<Item = (&'r Row, &'r Reading)> + Clone) -> f32 {
    tones.iter_mut().for_each(|tone| (tone.count, tone.mean) = (0.0, 0.0));
    for (row, reading) in behind.clone() {
        if let Some(tone) = tones.get_mut(usize::from(row.tone)) {
            tone.count += 1.0;
            tone.mean += below(row, reading);
        }
    }
    tones.iter_mut().filter(|tone| tone.count > 0.0).for_each(|tone| tone.mean /= tone.count);
    behind.fold(0.0, |sum, (row, reading)| {
        let mean = tones.get(usize::from(row.tone)).map_or(0.0, |tone| tone.mean);
        let off = below(row, reading) - mean;
        sum + off * off
    })
}

/// Turns logarithms into weights that sum to 1, and ranks the groups.
#[cfg_attr(target_os = "none", inline(never))]
pub(super) fn weigh(groups: &mut [Group], sound: &mut Sound) {
    let parts: f32 = groups.iter().map(|group| f32::from(group.parts)).sum();
    // Both halves of the prior have the same half; the parts share theirs.
    let share = libm::logf(max(parts, 1.0));
    let top = groups.iter().fold(sound.weight, |top, group| max(top, group.each - share));
    sound.weight = libm::expf(sound.weight - top);
    let mut sum = sound.weight;
    for group in groups.iter_mut() {
        group.each = libm::expf(group.each - share - top);
        sum += f32::from(group.parts) * group.each;
    }
    sound.weight /= sum;
    groups.iter_mut().for_each(|group| group.each /= sum);
    rank(groups);
}

/// Ranks groups by weight, the first of equals first: each goes to its place among those before it.
fn rank(groups: &mut [Group]) {
    for number in 0..groups.len() {
        let mut place = number;
        while let Some(before) = place.checked_sub(1)
            && let Some(better) = groups.get(before).map(|group| group.ranked)
            && weight(groups, better) < weight(groups, number as u16)
        {
            if let Some(slot) = groups.get_mut(place) {
                slot.ranked = better;
            }
            place = before;
        }
        if let Some(slot) = groups.get_mut(place) {
            slot.ranked = number as u16;
        }
    }
}

fn weight(groups: &[Group], number: u16) -> f32 {
    groups.get(usize::from(number)).map_or(0.0, Group::weight)
}

impl Group {
    /// The weight of all its parts.
    pub(super) fn weight(&self) -> f32 {
        f32::from(self.parts) * self.each
    }
}
