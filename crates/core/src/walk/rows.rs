//! What each spec's tables say at a batch of frequencies: one row a table, three cases.

use heapless::VecView;

use super::Sense;
use super::batch::{Batch, LANES, Lanes};
use super::edges::{AmplifierRows, Edge, Kind};
use crate::curve::Between;
use crate::math::{max, min};
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
    /// The three cases; a cable's stands in the first and is scaled part by part.
    pub(crate) cases: [Lanes; 3],
    /// The lanes in which a loss less its spread was held at zero.
    held: u16,
}

impl Row {
    const fn new(part: u16, table: Table) -> Self {
        Self { part, table, cases: [[0.0; LANES]; 3], held: 0 }
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

    /// Whether some but not all of three neighbouring lanes were held at zero: a kink between.
    pub(crate) fn is_kinked(&self, lane: usize) -> bool {
        !matches!((self.held >> lane) & 7, 0 | 7)
    }

    /// The points behind it, how they run, the spread, and whether it is a gain.
    pub(crate) fn source<'s>(&self, tree: &Tree<'_, 's>) -> Option<(crate::Points<'s>, Between, f32, bool)> {
        let part = &tree.parts.get(self.part as usize)?.part;
        let (curve, between, spread, gain) = match self.table {
            Table::Way(number) => match part.loss(number) {
                PortLoss::Run(cable, ..) => (&cable.loss, Between::SquareRoot, 0.0, false),
                PortLoss::Table(Slope { curve, spread }) => (curve, Between::Linear, spread, false),
                _ => return None,
            },
            Table::Gain => (&part.amplifier()?.gain, Between::Linear, part.amplifier()?.spread.db(), true),
            Table::Return => {
                (part.amplifier()?.return_gain.as_ref()?, Between::Linear, part.amplifier()?.spread.db(), true)
            }
            Table::Network => (part.amplifier()?.network_loss.as_ref()?, Between::Linear, 0.0, false),
        };
        match curve {
            Curve::Points(points) => Some((*points, between, spread, gain)),
            Curve::Flat(_) => None,
        }
    }
}

/// Reads every table that a signal of this sense meets, at the frequencies of a batch.
pub(crate) fn evaluate(tree: &Tree<'_, '_>, rows: &mut VecView<Row>, batch: &Batch, sense: Sense) {
    for row in rows.iter_mut().filter(|row| row.is_met_by(sense)) {
        let Some((points, between, spread, gain)) = row.source(tree) else { continue };
        let mut values = batch.read(&points, between);
        let [nominal, most, least] = &mut row.cases;
        if gain {
            values = values.map(|value| -value);
            *least = values.map(|value| value - spread);
        } else {
            row.held = held(&values, spread);
            *least = values.map(|value| max(value - spread, 0.0));
            values = values.map(|value| max(value, 0.0));
        }
        *most = values.map(|value| value + spread);
        *nominal = values;
    }
}

/// The lanes in which a loss less its spread would be below zero.
fn held(values: &Lanes, spread: f32) -> u16 {
    let lowest = values.iter().fold(f32::MAX, |lowest, value| min(lowest, *value));
    if lowest >= spread {
        return 0;
    }
    values.iter().enumerate().fold(0, |held, (lane, value)| held | (u16::from(*value < spread) << lane))
}

/// Finds the tables of a home and how each port follows from the one before it.
///
/// # Errors
/// [`Error::Full`] where rows, ports or amplifiers find no room.
pub(crate) fn lay_out(
    tree: &Tree<'_, '_>,
    rows: &mut VecView<Row>,
    edges: &mut VecView<Edge>,
    amplifiers: &mut VecView<AmplifierRows>,
) -> Result<(), Error> {
    rows.clear();
    edges.clear();
    amplifiers.clear();
    push_edge(edges, Edge::ENTRY)?;
    for (index, placed) in tree.parts.iter().enumerate() {
        let index = index as u16;
        if let Some(spec) = placed.part.amplifier() {
            let mut rows_of = AmplifierRows { part: index, ..AmplifierRows::default() };
            for (slot, table, curve) in [
                (&mut rows_of.gain, Table::Gain, Some(&spec.gain)),
                (&mut rows_of.back, Table::Return, spec.return_gain.as_ref()),
                (&mut rows_of.network, Table::Network, spec.network_loss.as_ref()),
            ] {
                if curve.is_some_and(|curve| !curve.is_flat()) {
                    *slot = row_for(rows, placed.like, table)?;
                }
            }
            let capacity = amplifiers.capacity();
            amplifiers.push(rows_of).map_err(|_| Error::Full { what: "amplifiers", capacity })?;
        }
        for number in 0..placed.part.ways() {
            let edge = edge(tree, placed, number, rows)?;
            push_edge(edges, edge)?;
        }
    }
    Ok(())
}

fn push_edge(edges: &mut VecView<Edge>, edge: Edge) -> Result<(), Error> {
    let capacity = edges.capacity();
    edges.push(edge).map_err(|_| Error::Full { what: "ports", capacity })
}

fn edge(tree: &Tree<'_, '_>, placed: &Placed<'_>, number: u8, rows: &mut VecView<Row>) -> Result<Edge, Error> {
    let from = placed.after;
    let mut edge = Edge { from, row: 0, kind: Kind::Flat, cases: [0.0; 3] };
    match placed.part.loss(number) {
        PortLoss::Fixed(loss) => edge.cases = [loss; 3],
        PortLoss::Run(cable, length, place) => {
            let spread = cable.spread.percent() * 0.01;
            edge.cases = Case::ALL.map(|case| {
                let factor = cable.loss_factor(length, tree.climate.temperature(place, case));
                max(factor * (1.0 + case.sign() * spread), 0.0)
            });
            if let Curve::Flat(loss) = cable.loss {
                edge.cases = edge.cases.map(|factor| factor * loss.db());
            } else {
                edge.kind = Kind::Scaled;
                edge.row = row_for(rows, placed.like, Table::Way(number))?;
            }
        }
        PortLoss::Table(Slope { curve: Curve::Flat(loss), spread }) => {
            edge.cases = [loss.db(), loss.db() + spread, max(loss.db() - spread, 0.0)];
        }
        PortLoss::Table(Slope { curve, .. }) => {
            // Legs alike share one table.
            let first = (0..number).find(|earlier| {
                matches!(placed.part.loss(*earlier), PortLoss::Table(other) if core::ptr::eq(other.curve, curve))
            });
            edge.kind = Kind::Table;
            edge.row = row_for(rows, placed.like, Table::Way(first.unwrap_or(number)))?;
        }
        PortLoss::Amplified => edge.kind = Kind::Amplified,
        PortLoss::None => edge.kind = Kind::Silent,
    }
    Ok(edge)
}

/// The row of a table, a new one if it is the first to ask.
fn row_for(rows: &mut VecView<Row>, part: u16, table: Table) -> Result<u16, Error> {
    if let Some(index) = rows.iter().position(|row| row.part == part && row.table == table) {
        return Ok(index as u16);
    }
    let capacity = rows.capacity();
    rows.push(Row::new(part, table)).map_err(|_| Error::Full { what: "different tables", capacity })?;
    Ok(rows.len() as u16 - 1)
}
