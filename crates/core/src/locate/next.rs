//! The reading that would tell most.

use heapless::VecView;

use super::excess::along;
use super::layout::{Group, Stand, parent};
use super::reading::Reading;
use super::weigh::Sound;
use crate::math::{exp2, log2, max};
use crate::{Frequency, Occupant, PortId, Tree};

/// Where to read next.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct NextReading {
    /// The port: one with an outlet where that tells as much.
    pub port: PortId,
    /// The frequency at which a reading is furthest below its expected level.
    pub frequency: Frequency,
    /// By how much the entropy over single parts and nothing wrong is expected to fall, in nats.
    pub gain: f32,
}

/// What is alike at a port: so much weight under which a reading there departs by so much.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Class {
    /// The sum of their weights.
    weight: f32,
    /// The sum of each weight times its logarithm.
    plogp: f32,
    /// How far below the expected level a reading there would be, in sigmas.
    below: f32,
}

/// Less than this is not worth a walk, in nats.
const WORTH: f32 = 0.01;
/// Gains that differ by less than this part are the same: an outlet is easier to read at than a joint behind a wall.
const ALIKE: f32 = 0.005;
/// Weights below this change no gain that matters.
const LIGHT: f32 = 1e-7;

/// Gauss and Hermite's rule of five points for a normal error: sigmas from the middle, and weights (M. Abramowitz
/// and I. Stegun, "Handbook of Mathematical Functions", table 25.10, abscissas times sqrt 2, weights over sqrt pi).
const NODES: [(f32, f32); 5] =
    [(0.0, 8.0 / 15.0), (1.355_626, 0.222_076), (-1.355_626, 0.222_076), (2.856_97, 0.011_257), (-2.856_97, 0.011_257)];

/// Where a reading at a frequency, given by its shapes, is expected to leave the least entropy; none where that is hardly less than now.
#[cfg_attr(target_os = "none", inline(never))]
pub(super) fn next(
    tree: &Tree<'_, '_>,
    stands: &mut [Stand],
    groups: &[Group],
    classes: &mut VecView<Class>,
    sound: &Sound,
    readings: &[Reading],
    (frequency, shapes, sigma): (Frequency, [f32; 3], f32),
) -> Option<NextReading> {
    let everyone = groups.iter().fold(class(1.0, sound.weight), |all, group| {
        let group = class(f32::from(group.parts), group.each);
        Class { weight: all.weight + group.weight, plogp: all.plogp + group.plogp, below: 0.0 }
    });
    for part in 0..stands.len() {
        let extra = |stand: &Stand| {
            let group = groups.get(usize::from(stand.group))?;
            let below = along(&group.members, shapes) / sigma;
            (below > 0.0 && group.each > LIGHT).then_some(Class { below, ..class(1.0, group.each) })
        };
        let Some(stand) = stands.get(part) else { break };
        let gain = if extra(stand).is_some() {
            split(tree, stands, classes, part, extra);
            gain(classes, &everyone)
        } else {
            // A part without a say of its own adds nothing to what one before it tells.
            parent(tree, part).and_then(|parent| stands.get(parent)).map_or(0.0, |above| above.gain)
        };
        if let Some(stand) = stands.get_mut(part) {
            stand.gain = gain;
        }
    }
    choose(tree, stands, readings).map(|(port, gain)| NextReading { port, frequency, gain })
}

/// So many of a weight.
fn class(count: f32, each: f32) -> Class {
    let plogp = if each > 0.0 { count * each * ln(each) } else { 0.0 };
    Class { weight: count * each, plogp, below: 0.0 }
}

/// The classes at a part's ways out: a run of parts of one group on the way there is one.
fn split(
    tree: &Tree<'_, '_>,
    stands: &[Stand],
    classes: &mut VecView<Class>,
    part: usize,
    extra: impl Fn(&Stand) -> Option<Class>,
) {
    classes.clear();
    let (mut at, mut group) = (Some(part), Stand::NO_GROUP);
    while let Some((part, stand)) = at.and_then(|part| Some((part, stands.get(part)?))) {
        if let Some(own) = extra(stand) {
            match classes.last_mut().filter(|_| stand.group == group) {
                Some(last) => {
                    last.weight += own.weight;
                    last.plogp += own.plogp;
                }
                // There is room for every part.
                None => drop(classes.push(own)),
            }
            group = stand.group;
        }
        at = parent(tree, part);
    }
}

/// The gain of a reading where these classes are on the way, and the rest of everyone is not.
#[cfg_attr(target_os = "none", inline(never))]
fn gain(classes: &[Class], everyone: &Class) -> f32 {
    let others = classes.iter().fold(*everyone, |rest, class| Class {
        weight: max(rest.weight - class.weight, 0.0),
        plogp: rest.plogp - class.plogp,
        below: 0.0,
    });
    let all = || classes.iter().chain([&others]);
    let mut left = 0.0;
    for class in all() {
        for (off, often) in NODES {
            left += class.weight * often * entropy(all(), class.below + off);
        }
    }
    -everyone.plogp - left
}

/// The entropy over single parts and nothing wrong after a reading: ln Z - sum(w·L·ln(w·L))/Z, each likelihood L
/// that of a normal error.
fn entropy<'c>(classes: impl Iterator<Item = &'c Class>, read: f32) -> f32 {
    let (mut sum, mut plogp) = (0.0, 0.0);
    for class in classes {
        let off = read - class.below;
        let log = -0.5 * off * off;
        let likelihood = exp2(log * core::f32::consts::LOG2_E);
        sum += class.weight * likelihood;
        plogp += likelihood * (class.plogp + class.weight * log);
    }
    ln(sum) - plogp / sum
}

fn ln(x: f32) -> f32 {
    log2(x) * core::f32::consts::LN_2
}

/// The port without a reading whose gain is the largest.
fn choose(tree: &Tree<'_, '_>, stands: &[Stand], readings: &[Reading]) -> Option<(PortId, f32)> {
    let free = || {
        let ports = tree.ports.iter().enumerate().filter(|(_, port)| port.signal);
        let ports = ports.map(|(number, port)| (PortId(number as u16), port));
        ports.filter(|(id, _)| readings.iter().all(|reading| reading.port != *id))
    };
    let gain = |owner: u16| stands.get(usize::from(owner)).map_or(0.0, |stand| stand.gain);
    let largest = free().fold(0.0, |largest, (_, port)| max(largest, gain(port.owner)));
    let alike = || free().filter(|(_, port)| gain(port.owner) >= (1.0 - ALIKE) * largest);
    let outlet = alike().find(|(_, port)| matches!(port.occupant, Occupant::Outlet(_)));
    let (id, port) = outlet.or_else(|| alike().next())?;
    (largest >= WORTH).then(|| (id, gain(port.owner)))
}
