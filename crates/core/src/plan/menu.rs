//! The stock as the search sees it: what each way out of each kind costs the signal.
//!
//! Losses are kept as *shares*. At one frequency, a way that loses `l` decibels passes on the share `2^(-s·l)` of what
//! comes in, with `s` chosen so that the shares of no passive kind's ways add up to more than one. So whatever is
//! built, the shares of all ways out never add up to more than the share that went in; an outlet that can bear at most
//! `a` decibels needs the share `2^(-s·a)` at least, and where all outlets together need more than is left, nothing
//! that can still be built will serve them. This is Kraft's inequality of prefix codes, with losses for code lengths.

use heapless::Vec;

use super::bench::Build;
use super::need::{Item, Need, Stocked};
use crate::curve::Between;
use crate::math::{exp2, max, min};
use crate::{Case, Error, Frequency, Part, PortId, Tree};

/// At how many frequencies and cases shares are kept.
pub(super) const COLUMNS: usize = 8;

/// One number for each column.
pub(super) type Shares = [f32; COLUMNS];

/// A limit that more loss runs into.
#[derive(Clone, Copy, Debug)]
struct Column {
    mhz: f32,
    case: Case,
    /// Transmit levels rise with loss; forward levels fall.
    upward: bool,
    /// The scale of its shares: the factor from decibels to powers of two.
    scale: f32,
    /// Whether the wanted margin counts.
    is_limit: bool,
}

/// A kind of part that can stand in a panel, or an inserter before an outlet.
#[derive(Clone, Copy, Debug)]
pub(super) struct Kind {
    /// Its place in the stock.
    pub(super) item: u16,
    /// Its first way out among all legs.
    first_leg: u16,
    /// Ways out that carry the signal.
    pub(super) ways: u8,
    pub(super) count: u16,
    pub(super) cost: u32,
    pub(super) is_amplifier: bool,
    /// Stands before an outlet, not in the panel.
    pub(super) is_inserter: bool,
    /// Has one way out, and its order among its like does not matter.
    pub(super) commutes: bool,
    /// Loses the same at every frequency.
    pub(super) is_pad: bool,
    /// Sends the home network's band back.
    pub(super) is_mirror: bool,
}

/// One way out of a kind.
#[derive(Clone, Copy, Debug)]
struct Leg {
    /// A number that legs share which are the same in every respect, from 1.
    code: u8,
    amplified: bool,
    shares: Shares,
}

/// Everything that can be built from.
#[derive(Debug)]
pub(super) struct Menu<const KINDS: usize, const LEGS: usize> {
    pub(super) kinds: Vec<Kind, KINDS>,
    legs: Vec<Leg, LEGS>,
    columns: Vec<Column, COLUMNS>,
    /// Whether some way out of some passive kind would create power: then shares bound nothing.
    unbounded: bool,
}

impl<const KINDS: usize, const LEGS: usize> Menu<KINDS, LEGS> {
    pub(super) const fn new() -> Self {
        Self { kinds: Vec::new(), legs: Vec::new(), columns: Vec::new(), unbounded: false }
    }

    /// Reads a stock.
    ///
    /// # Errors
    /// [`Error::Full`] where kinds or their ways out find no room.
    pub(super) fn read<'s>(
        &mut self,
        need: &Need<'_, 's>,
        stock: &[Item<'s>],
        bench: &mut impl Build<'s>,
    ) -> Result<(), Error> {
        self.kinds.clear();
        self.legs.clear();
        let mut last_code = 0_u8;
        self.choose_columns(&bench.tree());
        let linked = need.network.is_some() && need.outlets.iter().any(|wanted| wanted.member);
        for (index, item) in stock.iter().enumerate() {
            let Some(part) = item.part() else { continue };
            if matches!(part, Part::Cable { .. } | Part::Bond(..) | Part::Joint(_)) || item.count == 0 {
                continue;
            }
            let ways = signal_ways(&part);
            let mirror = match part {
                Part::Filter(filter) => linked && filter.reflects.is_some(),
                _ => false,
            };
            let kind = Kind {
                item: index as u16,
                first_leg: self.legs.len() as u16,
                ways,
                count: item.count,
                cost: item.cost,
                is_amplifier: part.amplifier().is_some(),
                is_inserter: matches!(part, Part::Inserter(_)),
                commutes: ways == 1 && !mirror && part.amplifier().is_none(),
                is_pad: matches!(part, Part::Pad(_)),
                is_mirror: mirror,
            };
            self.kinds.push(kind).map_err(|_| Error::Full { what: "kinds of part", capacity: KINDS })?;
            bench.clear(None);
            let placed = bench.add(PortId::ENTRY, part)?;
            for number in 0..ways {
                let tree = bench.tree();
                let port = bench.port(placed, number)?;
                let mut losses = [0.0; COLUMNS];
                for (loss, column) in losses.iter_mut().zip(&self.columns) {
                    *loss = column.loss(&tree, port, &part, number)?;
                }
                let code = match (0..number).find(|earlier| is_like(&part, *earlier, number)) {
                    Some(earlier) => self.code(&kind, earlier),
                    None => {
                        let full = Error::Full { what: "different ways out", capacity: u8::MAX.into() };
                        last_code = last_code.checked_add(1).ok_or(full)?;
                        last_code
                    }
                };
                let amplified = part.amplifier().is_some_and(|spec| number < spec.outputs);
                let leg = Leg { code, amplified, shares: losses };
                self.legs.push(leg).map_err(|_| Error::Full { what: "ways out", capacity: LEGS })?;
            }
        }
        self.scale();
        Ok(())
    }

    /// The ends of what is received and of what is sent, against limits and against targets.
    fn choose_columns(&mut self, tree: &Tree<'_, '_>) {
        self.columns.clear();
        let [first, last] = [tree.service.first_carrier(), tree.service.last_carrier()];
        let sent = tree.entry.transmit.map(|points| points.ends());
        for (case, is_limit) in [(Case::Most, true), (Case::Nominal, false)] {
            for (mhz, upward) in [(first, false), (last, false)] {
                let _ = self.columns.push(Column { mhz, case, upward, scale: 0.0, is_limit });
            }
            for mhz in sent.into_iter().flat_map(|(low, high)| [low, high]) {
                let _ = self.columns.push(Column { mhz, case, upward: true, scale: 0.0, is_limit });
            }
        }
    }

    /// Finds each column's scale, and turns losses into shares.
    fn scale(&mut self) {
        self.unbounded = false;
        for index in 0..self.columns.len() {
            let (mut low, mut high) = (0.0, MOST_SCALE);
            if !self.adds_up(index, high) {
                self.unbounded = true;
            }
            for _ in 0..24 {
                let middle = 0.5 * (low + high);
                if self.adds_up(index, middle) {
                    high = middle;
                } else {
                    low = middle;
                }
            }
            if let Some(column) = self.columns.get_mut(index) {
                column.scale = high;
            }
        }
        for leg in &mut self.legs {
            for (share, column) in leg.shares.iter_mut().zip(&self.columns) {
                *share = exp2(-column.scale * *share);
            }
        }
    }

    /// Whether at this scale no passive kind passes on more than it takes in.
    fn adds_up(&self, column: usize, scale: f32) -> bool {
        self.kinds.iter().filter(|kind| !kind.is_amplifier).all(|kind| {
            let legs = self.legs.iter().skip(kind.first_leg as usize).take(kind.ways as usize);
            let sum: f32 = legs.map(|leg| exp2(-scale * leg.shares.get(column).copied().unwrap_or(0.0))).sum();
            sum <= 1.0 + 1e-4
        })
    }

    /// The shares that the one outlet on the bench needs; more than one where it can bear no loss at all.
    pub(super) fn needed<'s>(&self, bench: &impl Build<'s>, margin: f32, with_targets: bool) -> Shares {
        let tree = bench.tree();
        let mut shares = [0.0; COLUMNS];
        let Some(outlet) = tree.outlets().first() else { return shares };
        let (limits, target) = (tree.limits(outlet.device), tree.target(outlet.device));
        for (share, column) in shares.iter_mut().zip(&self.columns) {
            let bounds = if column.is_limit { limits } else { target };
            let (sent, margin) = (bounds.transmit.1, if column.is_limit { margin } else { 0.0 });
            let Ok(lost) = column.lost(&tree, outlet.port()) else { continue };
            let spread = if column.is_limit { tree.entry.spread } else { 0.0 };
            let bears = if column.upward {
                let read = tree.entry.transmit.map_or(0.0, |points| points.at(column.mhz, Between::Linear));
                sent - margin - (read + spread + lost)
            } else {
                let Ok(level) = tree.level_at(outlet.port(), Frequency::unchecked(column.mhz), column.case) else {
                    continue;
                };
                level.dbmv() - margin - bounds.forward.0
            };
            // What is not limited bears everything and needs nothing.
            *share = exp2(-column.scale * min(max(bears, -MOST_LOSS), MOST_LOSS));
            if bears >= MOST_LOSS || self.unbounded || !(column.is_limit || with_targets) {
                *share = 0.0;
            }
        }
        shares
    }

    /// By how much what is needed grows with a margin that is wider by this many decibels.
    pub(super) fn growth(&self, wider: f32) -> Shares {
        let mut growth = [1.0; COLUMNS];
        for (factor, column) in growth.iter_mut().zip(&self.columns) {
            if column.is_limit {
                *factor = exp2(column.scale * min(max(wider, -MOST_LOSS), MOST_LOSS));
            }
        }
        growth
    }

    /// The shares of a way out.
    pub(super) fn shares(&self, kind: &Kind, way: u8) -> Shares {
        self.leg(kind, way).map_or([0.0; COLUMNS], |leg| leg.shares)
    }

    /// Whether two ways out of a kind are the same in every respect.
    pub(super) fn alike(&self, kind: &Kind, a: u8, b: u8) -> bool {
        self.code(kind, a) == self.code(kind, b)
    }

    /// A number for a way out that all ways like it share, from 1.
    pub(super) fn code(&self, kind: &Kind, way: u8) -> u8 {
        self.leg(kind, way).map_or(0, |leg| leg.code)
    }

    /// Whether a way out is an amplified one.
    pub(super) fn is_amplified(&self, kind: &Kind, way: u8) -> bool {
        self.leg(kind, way).is_some_and(|leg| leg.amplified)
    }

    fn leg(&self, kind: &Kind, way: u8) -> Option<&Leg> {
        self.legs.get(kind.first_leg as usize + way as usize)
    }

    /// The greatest sum of shares that an amplifier makes of one.
    pub(super) fn most_amplified(&self) -> Shares {
        let mut most = [0.0; COLUMNS];
        for kind in self.kinds.iter().filter(|kind| kind.is_amplifier) {
            for (index, most) in most.iter_mut().enumerate() {
                let legs = self.legs.iter().skip(kind.first_leg as usize).take(kind.ways as usize);
                *most = max(*most, legs.map(|leg| leg.shares.get(index).copied().unwrap_or(0.0)).sum());
            }
        }
        most
    }
}

/// A scale at which a hundredth of a decibel halves a share: what would need more creates power.
const MOST_SCALE: f32 = 20.0;
/// A loss that stands for any.
const MOST_LOSS: f32 = 120.0;

impl Column {
    /// What is lost from the entry to a port; for what is sent through an amplifier, less its return gain.
    fn lost(&self, tree: &Tree<'_, '_>, port: PortId) -> Result<f32, Error> {
        let at = |port| tree.level_at(port, Frequency::unchecked(self.mhz), self.case);
        Ok(at(PortId::ENTRY)?.dbmv() - at(port)?.dbmv())
    }

    /// What a part that hangs on the entry loses to one of its ways out.
    fn loss(&self, tree: &Tree<'_, '_>, port: PortId, part: &Part<'_>, number: u8) -> Result<f32, Error> {
        match part.amplifier() {
            Some(spec) if number < spec.outputs && self.upward => Ok(match &spec.return_gain {
                Some(gain) => self.case.sign() * spec.spread.db() - gain.at(Frequency::unchecked(self.mhz)),
                None => MOST_LOSS,
            }),
            _ => self.lost(tree, port),
        }
    }
}

/// Ways out that carry the signal: the first ones of any part.
pub(crate) fn signal_ways(part: &Part<'_>) -> u8 {
    (0..part.ways()).filter(|number| !part.is_dc_only(*number)).count() as u8
}

/// Whether two ways out of a part are the same to the signal and to DC.
pub(crate) fn is_like(part: &Part<'_>, a: u8, b: u8) -> bool {
    use crate::parts::{DcPath, PortLoss};
    let same_loss = match (part.loss(a), part.loss(b)) {
        (PortLoss::Fixed(a), PortLoss::Fixed(b)) => a == b,
        (PortLoss::Table(a), PortLoss::Table(b)) => a.curve == b.curve,
        (PortLoss::Amplified, PortLoss::Amplified) => true,
        _ => false,
    };
    let passes = |number| match part.amplifier() {
        Some(spec) => (spec.dc_ports.outputs >> number) & 1 == 1,
        None => !matches!(part.dc(number), DcPath::Blocked),
    };
    same_loss && passes(a) == passes(b)
}

/// The supplies of a stock.
pub(super) fn supplies<'a, 's>(stock: &'a [Item<'s>]) -> impl Iterator<Item = (u16, &'a Item<'s>)> + Clone {
    let numbered = stock.iter().enumerate().map(|(index, item)| (index as u16, item));
    numbered.filter(|(_, item)| matches!(item.what, Stocked::Supply(_)) && item.count > 0)
}
