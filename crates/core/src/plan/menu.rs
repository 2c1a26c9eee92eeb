//! The stock as the search sees it: what each way out of each kind loses, at the frequencies that decide.

use heapless::Vec;

use super::bench::Build;
use super::need::{Item, Need, Stocked};
use crate::math::{max, min};
use crate::{Case, Error, Frequency, Part, PortId, Tree};

/// At how many frequencies and cases losses are kept.
pub(super) const COLUMNS: usize = 8;

/// A loss in dB for each column.
pub(super) type Losses = [f32; COLUMNS];

/// How many ways out of one kind are told apart, by what they lose.
pub(super) const TURNS: usize = 3;

/// Ways out of a kind that lose the same.
#[derive(Clone, Copy, Debug)]
pub(super) struct Turn {
    /// How many there are.
    pub(super) times: u8,
    pub(super) is_amplified: bool,
    /// Whether others were put with it for want of room.
    pub(super) is_mixed: bool,
    pub(super) losses: Losses,
}

impl Turn {
    const NONE: Self = Self { times: 0, is_amplified: false, is_mixed: false, losses: [0.0; COLUMNS] };
}

/// A limit that more loss runs into.
#[derive(Clone, Copy, Debug)]
pub(super) struct Column {
    pub(super) mhz: f32,
    pub(super) case: Case,
    /// Transmit levels rise with loss; forward levels fall.
    pub(super) upward: bool,
    /// Whether the wanted margin counts.
    pub(super) is_limit: bool,
}

/// A kind of part that can stand in a panel, or an inserter before an outlet.
#[derive(Clone, Copy, Debug)]
pub(super) struct Kind {
    /// Its place in the stock.
    pub(super) item: u16,
    /// Its first way out among all legs.
    pub(super) first_leg: u16,
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
    /// Its place among the turns of its kind.
    turn: u8,
    losses: Losses,
}

/// Everything that can be built from.
#[derive(Debug)]
pub(super) struct Menu<const KINDS: usize, const LEGS: usize> {
    pub(super) kinds: Vec<Kind, KINDS>,
    legs: Vec<Leg, LEGS>,
    turns: [[Turn; TURNS]; KINDS],
    pub(super) columns: Vec<Column, COLUMNS>,
}

impl<const KINDS: usize, const LEGS: usize> Menu<KINDS, LEGS> {
    pub(super) const fn new() -> Self {
        Self { kinds: Vec::new(), legs: Vec::new(), turns: [[Turn::NONE; TURNS]; KINDS], columns: Vec::new() }
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
        self.turns = [[Turn::NONE; TURNS]; KINDS];
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
            let index_of_kind = self.kinds.len();
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
                let turn = self.turn(index_of_kind, amplified, &losses);
                let leg = Leg { code, amplified, turn, losses };
                self.legs.push(leg).map_err(|_| Error::Full { what: "ways out", capacity: LEGS })?;
            }
        }
        Ok(())
    }

    /// The turn that a way out belongs to. Where there are too many, the last is a mixture.
    fn turn(&mut self, kind: usize, is_amplified: bool, losses: &Losses) -> u8 {
        let Some(turns) = self.turns.get_mut(kind) else { return 0 };
        let fits = |turn: &Turn| turn.times == 0 || (turn.is_amplified == is_amplified && turn.losses == *losses);
        let place = turns.iter().position(fits).unwrap_or(TURNS - 1);
        if let Some(turn) = turns.get_mut(place) {
            if turn.times == 0 {
                (turn.is_amplified, turn.losses) = (is_amplified, *losses);
            }
            turn.is_mixed |= !fits(turn);
            turn.times += 1;
        }
        place as u8
    }

    /// The ends of what is received and of what is sent, against limits and against targets.
    fn choose_columns(&mut self, tree: &Tree<'_, '_>) {
        self.columns.clear();
        let [first, last] = [tree.service.first_carrier(), tree.service.last_carrier()];
        let sent = tree.entry.transmit.map(|points| points.ends());
        for (case, is_limit) in [(Case::Most, true), (Case::Nominal, false)] {
            for (mhz, upward) in [(first, false), (last, false)] {
                let _ = self.columns.push(Column { mhz, case, upward, is_limit });
            }
            for mhz in sent.into_iter().flat_map(|(low, high)| [low, high]) {
                let _ = self.columns.push(Column { mhz, case, upward: true, is_limit });
            }
        }
    }

    /// What the filters of the stock that send the home network's band back lose together, at whatever frequency they
    /// lose the most.
    pub(super) fn all_mirrors(&self) -> f32 {
        let mirrors = self.kinds.iter().filter(|kind| kind.is_mirror);
        mirrors.map(|kind| f32::from(kind.count) * self.losses(kind, 0).into_iter().fold(0.0, max)).sum()
    }

    /// What the pads of the stock lose together.
    pub(super) fn all_pads(&self) -> f32 {
        let pads = self.kinds.iter().filter(|kind| kind.is_pad);
        pads.map(|kind| f32::from(kind.count) * self.losses(kind, 0).first().copied().unwrap_or(0.0)).sum()
    }

    /// The turns of a kind; those that there are come first.
    pub(super) fn turns(&self, kind: usize) -> &[Turn] {
        self.turns.get(kind).map_or(&[], |turns| turns)
    }

    /// The place of a way out among the turns of its kind.
    pub(super) fn turn_of(&self, kind: &Kind, way: u8) -> u8 {
        self.leg(kind, way).map_or(0, |leg| leg.turn)
    }

    /// What every way out of every kind loses.
    pub(super) fn all_losses(&self) -> impl Iterator<Item = &Losses> {
        self.legs.iter().map(|leg| &leg.losses)
    }

    /// What a way out loses.
    pub(super) fn losses(&self, kind: &Kind, way: u8) -> Losses {
        self.leg(kind, way).map_or([0.0; COLUMNS], |leg| leg.losses)
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

    /// The most that an amplifier makes up for, as the loss of its output; nothing without one.
    pub(super) fn most_gain(&self) -> Losses {
        let mut most = [0.0; COLUMNS];
        for leg in self.legs.iter().filter(|leg| leg.amplified) {
            for (most, loss) in most.iter_mut().zip(leg.losses) {
                *most = min(*most, loss);
            }
        }
        most
    }
}

/// A loss that stands for any.
pub(super) const MOST_LOSS: f32 = 120.0;

impl Column {
    /// What is lost from the entry to a port; for what is sent through an amplifier, less its return gain.
    pub(super) fn lost(&self, tree: &Tree<'_, '_>, port: PortId) -> Result<f32, Error> {
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
