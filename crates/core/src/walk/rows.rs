//! What each spec's tables say at a batch of frequencies: one row a table, three cases.

use heapless::VecView;

use super::Sense;
use super::batch::{Batch, LANES, Lanes, each};
use super::edges::{Edge, Kind, Stage};
use super::node::Node;
use crate::curve::{Between, Line};
use crate::math::{is_negative, not_negative};
use crate::parts::{PortLoss, Slope};
use crate::premises::Placed;
use crate::{Case, Curve, Error, Tree};

/// Which table of a part a row holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Table {
    /// The loss from the input to a way out.
    Way(u8),
    /// An amplifier's gain.
    Gain,
    /// An amplifier's return gain.
    Return,
    /// An amplifier's loss in the home network's band.
    Network,
}

/// One table at the frequencies of a batch: losses in dB, gains as negative losses.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Row {
    /// The first part of the home with this spec.
    part: u16,
    table: Table,
    between: Between,
    /// The lanes in which a loss less its spread was held at zero.
    held: u8,
    /// Plus or minus, in dB.
    spread: f32,
    /// The straight piece of the table that was last asked for.
    line: Line,
    /// The three cases; a cable's stands in the first and is scaled part by part.
    pub(crate) cases: [Lanes; 3],
}

impl Row {
    const fn new(part: u16, table: Table, between: Between, spread: f32) -> Self {
        Self { part, table, between, held: 0, spread, line: Line::NONE, cases: [[0.0; LANES]; 3] }
    }

    /// Whether a signal of this sense meets it.
    pub(crate) fn is_met_by(&self, sense: Sense) -> bool {
        match self.table {
            Table::Way(_) => true,
            Table::Gain => sense == Sense::Forward,
            Table::Return => sense == Sense::Return,
            Table::Network => sense == Sense::Network,
        }
    }

    /// The lanes, one bit each, held at zero where the next is not, or the other way: between
    /// the two the loss has a kink.
    pub(crate) const fn kinks(&self) -> u8 {
        self.held ^ (self.held >> 1)
    }

    const fn is_gain(&self) -> bool {
        matches!(self.table, Table::Gain | Table::Return)
    }

    /// The straight piece of its table at a frequency in MHz, as a loss. Mostly it is the one that
    /// was last asked for.
    #[inline(always)]
    pub(crate) fn line_at(&mut self, tree: &Tree<'_, '_>, mhz: f32) -> &Line {
        if !self.line.holds(mhz) {
            self.turn_to(tree, mhz);
        }
        &self.line
    }

    #[cfg_attr(target_os = "none", inline(never))]
    fn turn_to(&mut self, tree: &Tree<'_, '_>, mhz: f32) {
        if let Some(points) = self.points(tree) {
            let line = points.line_at(mhz, self.between);
            self.line = if self.is_gain() { line.negated() } else { line };
        }
    }

    /// The points behind it.
    #[cfg_attr(target_os = "none", inline(never))]
    fn points<'s>(&self, tree: &Tree<'_, 's>) -> Option<crate::Points<'s>> {
        let part = &tree.parts.get(self.part as usize)?.part;
        let curve = match self.table {
            Table::Way(number) => match part.loss(number) {
                PortLoss::Run(cable, ..) => &cable.loss,
                PortLoss::Table(Slope { curve, .. }) => curve,
                _ => return None,
            },
            Table::Gain => &part.amplifier()?.gain,
            Table::Return => part.amplifier()?.return_gain.as_ref()?,
            Table::Network => part.amplifier()?.network_loss.as_ref()?,
        };
        match curve {
            Curve::Points(points) => Some(*points),
            Curve::Flat(_) => None,
        }
    }

    /// Reads the table at the frequencies of a batch.
    fn evaluate(&mut self, tree: &Tree<'_, '_>, batch: &Batch) {
        let spread = self.spread;
        let mut losses = batch.along(self.between, |mhz| *self.line_at(tree, mhz));
        let mut least = each(&losses, &losses, |loss, _| loss - spread);
        if !self.is_gain() {
            // A loss is not below zero, nor is what its spread leaves of it.
            self.held = negative_lanes(&least);
            losses = each(&losses, &losses, |loss, _| not_negative(loss));
            if self.between == Between::SquareRoot {
                // A cable's other cases are made part by part.
                let [nominal, ..] = &mut self.cases;
                *nominal = losses;
                return;
            }
            least = each(&least, &least, |least, _| not_negative(least));
        }
        self.cases = [losses, each(&losses, &losses, |loss, _| loss + spread), least];
    }
}

/// The lanes, one bit each, with a number below zero.
fn negative_lanes(lanes: &Lanes) -> u8 {
    lanes.iter().rev().fold(0, |bits, number| (bits << 1) | u8::from(is_negative(*number)))
}

/// Reads every table that a signal of this sense meets, at the frequencies of a batch.
#[cfg_attr(target_os = "none", inline(never))]
pub(crate) fn evaluate(tree: &Tree<'_, '_>, rows: &mut VecView<Row>, batch: &Batch, sense: Sense) {
    for row in rows.iter_mut().filter(|row| row.is_met_by(sense)) {
        row.evaluate(tree, batch);
    }
}

/// Finds the tables of a home, how each port follows from the one before it, and what is known of it from there.
///
/// # Errors
/// [`Error::Full`] where rows, ports or amplifiers find no room.
#[cfg_attr(target_os = "none", inline(never))]
pub(crate) fn lay_out(
    tree: &Tree<'_, '_>,
    rows: &mut VecView<Row>,
    nodes: &mut VecView<Node>,
    stages: &mut VecView<Stage>,
) -> Result<(), Error> {
    rows.clear();
    nodes.clear();
    stages.clear();
    push(nodes, Node::NEW, "ports")?;
    for (index, placed) in tree.parts.iter().enumerate() {
        let amplifier = placed.part.amplifier();
        if let Some(spec) = amplifier {
            let mut stage = Stage::new(index as u16);
            let spread = spec.spread.db();
            for (slot, table, curve, spread) in [
                (&mut stage.gain, Table::Gain, Some(&spec.gain), spread),
                (&mut stage.back, Table::Return, spec.return_gain.as_ref(), spread),
                (&mut stage.network, Table::Network, spec.network_loss.as_ref(), 0.0),
            ] {
                if curve.is_some_and(|curve| !curve.is_flat()) {
                    *slot = row_for(rows, placed.like, table, Between::Linear, spread)?;
                }
            }
            push(stages, stage, "amplifiers")?;
        }
        for number in 0..placed.part.ways() {
            push(nodes, Node::NEW, "ports")?;
            let [done @ .., node] = nodes.as_mut_slice() else { continue };
            let edge = edge(tree, placed, number, rows)?;
            let Some(from) = done.get(edge.from as usize) else { continue };
            node.edge = edge;
            if from.edge.kind == Kind::Silent {
                node.edge.kind = Kind::Silent;
            }
            node.spot = from.spot;
            if let Some(spec) = amplifier
                && number < spec.outputs
            {
                node.spot.above = stages.len() as u16;
                node.spot.amplified += 1;
                node.spot.no_return |= spec.return_gain.is_none();
            }
        }
    }
    Ok(())
}

/// Puts one more into a store.
fn push<T>(store: &mut VecView<T>, item: T, what: &'static str) -> Result<(), Error> {
    let capacity = store.capacity();
    store.push(item).map_err(|_| Error::Full { what, capacity })
}

#[cfg_attr(target_os = "none", inline(never))]
fn edge(tree: &Tree<'_, '_>, placed: &Placed<'_>, number: u8, rows: &mut VecView<Row>) -> Result<Edge, Error> {
    let from = placed.after;
    let mut edge = Edge { from, row: 0, kind: Kind::Flat, cases: [0.0; 3] };
    match placed.part.loss(number) {
        PortLoss::Fixed(loss) => edge.cases = [loss; 3],
        PortLoss::Run(cable, length, place) => {
            let spread = cable.spread.percent() * 0.01;
            edge.cases = Case::ALL.map(|case| {
                let factor = cable.loss_factor(length, tree.climate.temperature(place, case));
                not_negative(factor * (1.0 + case.sign() * spread))
            });
            if let Curve::Flat(loss) = cable.loss {
                edge.cases = edge.cases.map(|factor| factor * loss.db());
            } else {
                edge.kind = Kind::Scaled;
                edge.row = row_for(rows, placed.like, Table::Way(number), Between::SquareRoot, 0.0)?;
            }
        }
        PortLoss::Table(Slope { curve: Curve::Flat(loss), spread }) => {
            edge.cases = [loss.db(), loss.db() + spread, not_negative(loss.db() - spread)];
        }
        PortLoss::Table(Slope { curve, spread }) => {
            // Legs alike share one table.
            let first = (0..number).find(|earlier| {
                matches!(placed.part.loss(*earlier), PortLoss::Table(other) if core::ptr::eq(other.curve, curve))
            });
            let table = Table::Way(first.unwrap_or(number));
            edge.kind = Kind::Table;
            edge.row = row_for(rows, placed.like, table, Between::Linear, spread)?;
        }
        PortLoss::Amplified => edge.kind = Kind::Amplified,
        PortLoss::None => edge.kind = Kind::Silent,
    }
    Ok(edge)
}

/// The row of a table, a new one for the first who asks.
#[cfg_attr(target_os = "none", inline(never))]
fn row_for(rows: &mut VecView<Row>, part: u16, table: Table, between: Between, spread: f32) -> Result<u16, Error> {
    if let Some(index) = rows.iter().position(|known| known.part == part && known.table == table) {
        return Ok(index as u16);
    }
    push(rows, Row::new(part, table, between, spread), "different tables")?;
    Ok(rows.len() as u16 - 1)
}
