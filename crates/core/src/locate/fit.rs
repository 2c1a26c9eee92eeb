//! The extra loss that fits the readings behind a part, and how well.

use super::excess::along;
use crate::math::min;

/// A frequency at which something was read, and what was read there behind the part in question.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Tone {
    pub(super) mhz: f32,
    /// What each member of an extra loss counts there.
    pub(super) shapes: [f32; 3],
    /// How many readings.
    pub(super) count: f32,
    /// How far below the expected level they are, on average, in dB.
    pub(super) mean: f32,
}

/// An extra loss and what it leaves.
#[derive(Clone, Copy, Debug)]
pub(super) struct Fit {
    pub(super) members: [f32; 3],
    /// How many of them there are.
    pub(super) size: u8,
    /// Squares of what is left of the means, each as often as it was read, in dB².
    pub(super) left: f32,
}

/// The subsets of flat, rising, falling, in the order in which one is preferred to another as good.
const SUBSETS: [[bool; 3]; 8] = [
    [false, false, false],
    [true, false, false],
    [false, true, false],
    [false, false, true],
    [true, true, false],
    [true, false, true],
    [false, true, true],
    [true, true, true],
];
/// Prices so near each other are the same.
const SAME: f32 = 1e-3;

/// The best subset's least-squares fit to tones: each member costs `each`, and left squares are divided by `variance`.
///
/// What all subsets leave alike, the scatter about the means, is left out of the comparison: it would only
/// take digits away from it.
#[cfg_attr(target_os = "none", inline(never))]
pub(super) fn best(tones: &[Tone], each: f32, variance: f32) -> Fit {
    let read = tones.iter().filter(|tone| tone.count > 0.0).count();
    let mut least = f32::INFINITY;
    let prices = SUBSETS.map(|subset| {
        let size = size(subset);
        let members = f32::from(size) * each;
        // Where the members alone cost as much, nothing is to be gained.
        let tried = usize::from(size) <= read && members < least;
        let fit = if tried { solve(tones, subset) } else { None };
        let price = fit.map_or(f32::INFINITY, |fit| fit.left / variance + members);
        least = min(least, price);
        price
    });
    let mut in_order = SUBSETS.iter().zip(prices);
    let chosen = in_order.find(|(_, price)| *price <= least + SAME).map_or([false; 3], |(subset, _)| *subset);
    // Once more, as keeping eight fits takes more room than a board's stack should give.
    solve(tones, chosen).unwrap_or(Fit { members: [0.0; 3], size: 0, left: left(tones, &[0.0; 3]) })
}

/// How many members a subset has.
fn size(subset: [bool; 3]) -> u8 {
    subset.into_iter().map(u8::from).sum()
}

/// What an extra loss leaves of the means, squared.
fn left(tones: &[Tone], members: &[f32; 3]) -> f32 {
    sum(tones, |tone| {
        let left = tone.mean - along(members, tone.shapes);
        left * left
    })
}

/// A sum over all readings.
fn sum(tones: &[Tone], of: impl Fn(&Tone) -> f32) -> f32 {
    tones.iter().fold(0.0, |sum, tone| sum + tone.count * of(tone))
}

/// The least-squares values of a subset and what they leave, if they are all above zero.
///
/// Gram and Schmidt's way, by directions at right angles over the readings: squares of sums, as normal
/// equations have them, would halve the digits that `f32` has.
#[cfg_attr(target_os = "none", inline(never))]
fn solve(tones: &[Tone], subset: [bool; 3]) -> Option<Fit> {
    /// Of a member's own size: a direction shorter than this is rounding.
    const NOTHING: f32 = 1e-10;
    let mut found = [0.0; 3];
    let mut directions = [([0.0; 3], 1.0f32); 3];
    for (member, used) in subset.into_iter().enumerate().filter(|(_, taken)| *taken).map(|(m, _)| m).zip(0..) {
        let mut direction = [0.0; 3];
        *direction.get_mut(member)? = 1.0;
        let whole = length(tones, &direction);
        for (other, size) in directions.iter().take(used) {
            let shared = sum(tones, |tone| along(other, tone.shapes) * along(&direction, tone.shapes));
            add(&mut direction, -shared / size, other);
        }
        let size = length(tones, &direction);
        if size <= NOTHING * whole {
            return None;
        }
        let there = sum(tones, |tone| along(&direction, tone.shapes) * (tone.mean - along(&found, tone.shapes)));
        add(&mut found, there / size, &direction);
        *directions.get_mut(used)? = (direction, size);
    }
    let above = found.iter().zip(subset).all(|(value, taken)| !taken || *value > 0.0);
    above.then(|| Fit { members: found, size: size(subset), left: left(tones, &found) })
}

/// The square of a direction over the readings.
fn length(tones: &[Tone], direction: &[f32; 3]) -> f32 {
    sum(tones, |tone| {
        let along = along(direction, tone.shapes);
        along * along
    })
}

fn add(to: &mut [f32; 3], times: f32, what: &[f32; 3]) {
    for (value, what) in to.iter_mut().zip(what) {
        *value += times * what;
    }
}
