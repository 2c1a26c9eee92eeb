//! Loss from one outlet to another, nominal.

use super::{
    part::{Case, Part},
    tree::{Home, Step},
};

/// Which of an amplifier's rules holds.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum Band {
    /// The return band of the service.
    Return,
    /// The band of the home network.
    Network,
}

/// Which way a signal passes a part.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Direction {
    Up,
    Down,
}

/// How many first steps two ways have in common.
pub(crate) fn shared(left: &[Step], right: &[Step]) -> usize {
    let pairs = left.iter().zip(right);
    pairs.take_while(|(left, right)| left == right).count()
}

/// The loss of one part passed one way; none where it blocks.
fn passing(part: &Part, way: usize, mhz: f64, band: Band, direction: Direction) -> Option<f64> {
    if !part.is_amplified(way) {
        return Some(part.loss(way, mhz, Case::Nominal));
    }
    match band {
        Band::Network => Some(part.amplifier().network_loss.as_ref()?.linear(mhz)),
        Band::Return => {
            let loss = part.return_loss(way, mhz, Case::Nominal)?;
            (direction == Direction::Up || loss >= 0.0).then_some(loss)
        }
    }
}

/// The loss across the part where two ways part; none where it blocks.
fn across(part: &Part, ways: (usize, usize), mhz: f64) -> Option<f64> {
    let isolation = part.isolation.linear(mhz);
    let amplified = part.is_amplified(ways.0) && part.is_amplified(ways.1);
    match &part.amplifier {
        Some(amplifier) if !amplified => Some(isolation + amplifier.network_loss.as_ref()?.linear(mhz)),
        _ => Some(isolation),
    }
}

/// The loss in dB from one outlet's way to another's; none where it is blocked.
pub(crate) fn loss(home: &Home, from: &[Step], to: &[Step], mhz: f64, band: Band) -> Option<f64> {
    let legs = |start: usize| -> Option<f64> {
        let sum = |way: &[Step], direction: Direction| -> Option<f64> {
            let steps = way.iter().skip(start);
            steps.map(|&(part, way)| passing(&home.parts[part], way, mhz, band, direction)).sum()
        };
        Some(sum(from, Direction::Up)? + sum(to, Direction::Down)?)
    };
    let meeting = shared(from, to);
    let part = &home.parts[from[meeting].0];
    let direct =
        legs(meeting + 1).zip(across(part, (from[meeting].1, to[meeting].1), mhz)).map(|(legs, across)| legs + across);
    let mirrors = mirrors(home, from, meeting, mhz).into_iter();
    let reflected = mirrors.filter_map(|mirror| legs(mirror + 1));
    reflected.chain(direct).reduce(f64::min)
}

/// The places along a way, above the meeting part, of filters that reflect a frequency.
pub(crate) fn mirrors(home: &Home, way: &[Step], meeting: usize, mhz: f64) -> Vec<usize> {
    let reflects = |at: &usize| {
        let band = home.parts[way[*at].0].reflects;
        band.is_some_and(|(low, high)| (low..=high).contains(&mhz))
    };
    (0..meeting).filter(reflects).collect()
}
