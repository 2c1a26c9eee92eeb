//! What each spec's tables say at a batch of frequencies: one row a table, three cases.

use heapless::VecView;

use super::Sense;
use super::batch::{Batch, LANES};
use super::edges::{Edge, Kind, Stage};
use super::node::Node;
use super::pass::Plane;
use crate::check::{Spot, Store};
use crate::curve::{Between, Line};
use crate::math::not_negative;
use crate::parts::{PortLoss, Slope};
use crate::premises::Placed;
use crate::{Case, Curve, Part, Tree};

/// What a table says of the part that it belongs to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Table {
    /// A cable's loss.
    Run,
    /// The loss from the input to a way out.
    Loss,
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
    /// Where the table lies: parts that share it share its row.
    address: usize,
    /// The first part of the home with this table, and the way out it is of.
    part: u16,
    number: u8,
    table: Table,
    /// Plus or minus, in dB.
    spread: f32,
    /// The straight piece of the table that was last asked for.
    line: Line,
    /// Its losses; a cable's are scaled part by part.
    pub(crate) cases: Plane,
}

impl Row {
    /// The nominal loss in a lane.
    pub(crate) fn nominal(&self, lane: usize) -> f32 {
        self.cases.get(lane).map_or(0.0, |[nominal, ..]| *nominal)
    }

    /// Whether a signal of this sense meets it.
    pub(crate) fn is_met_by(&self, sense: Sense) -> bool {
        match self.table {
            Table::Run | Table::Loss => true,
            Table::Gain => sense == Sense::Forward,
            Table::Return => sense == Sense::Return,
            Table::Network => sense == Sense::Network,
        }
    }

    fn between(&self) -> Between {
        if self.table == Table::Run { Between::SquareRoot } else { Between::Linear }
    }

    /// The straight piece of its table at a frequency in MHz, as a loss: as far as it, and what its spread leaves of
    /// it, stay on one side of zero. Mostly it is the one that was last asked for.
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
            let (line, between) = (points.line_at(mhz, self.between()), self.between());
            self.line = if self.is_gain() {
                line.negated()
            } else {
                // A loss is held at zero, so there it has a kink.
                line.on_one_side(self.spread, mhz, between).on_one_side(0.0, mhz, between)
            };
        }
    }

    const fn is_gain(&self) -> bool {
        matches!(self.table, Table::Gain | Table::Return)
    }

    /// The points behind it.
    fn points<'s>(&self, tree: &Tree<'_, 's>) -> Option<crate::Points<'s>> {
        let part = &tree.parts.get(self.part as usize)?.part;
        let curve = match self.table {
            Table::Run | Table::Loss => match part.loss(self.number) {
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
        let (spread, is_gain) = (self.spread, self.is_gain());
        for (lane, (mhz, place)) in batch.places(self.between()).enumerate() {
            let mut loss = self.line_at(tree, mhz).on(place);
            let mut least = loss - spread;
            if !is_gain {
                // A loss is not below zero, nor is what its spread leaves of it.
                (loss, least) = (not_negative(loss), not_negative(least));
            }
            if let Some(cases) = self.cases.get_mut(lane) {
                *cases = [loss, loss + spread, least];
            }
        }
    }
}

/// Reads every table that a signal of this sense meets, at the frequencies of a batch.
#[cfg_attr(target_os = "none", inline(never))]
pub(crate) fn evaluate(tree: &Tree<'_, '_>, rows: &mut VecView<Row>, batch: &Batch, sense: Sense) {
    for row in rows.iter_mut().filter(|row| row.is_met_by(sense)) {
        row.evaluate(tree, batch);
    }
}

/// Makes room for so many ports.
///
/// # Errors
/// [`Store::Ports`] where they find none.
#[cfg_attr(target_os = "none", inline(never))]
pub(crate) fn make_ports(nodes: &mut VecView<Node>, count: usize) -> Result<(), Store> {
    nodes.resize(count, Node::new()).map_err(|_| Store::Ports)
}

/// Finds the tables of a home, how each port follows from the one before it, and what is known of it from there.
///
/// # Errors
/// The [`Store`] in which rows or amplifiers find no room.
#[cfg_attr(target_os = "none", inline(never))]
pub(crate) fn lay_out(
    tree: &Tree<'_, '_>,
    rows: &mut VecView<Row>,
    nodes: &mut [Node],
    stages: &mut VecView<Stage>,
) -> Result<(), Store> {
    rows.clear();
    stages.clear();
    for (index, placed) in tree.parts.iter().enumerate() {
        if let Some(spec) = placed.part.amplifier() {
            push(stages, Stage::new(index as u16), Store::Amplifiers)?;
            let [.., stage] = stages.as_mut_slice() else { continue };
            let spread = spec.spread.db();
            let whose = (index as u16, 0);
            stage.gain = row_of(rows, whose, Table::Gain, Some(&spec.gain), spread)?;
            stage.back = row_of(rows, whose, Table::Return, spec.return_gain.as_ref(), spread)?;
            stage.network = row_of(rows, whose, Table::Network, spec.network_loss.as_ref(), 0.0)?;
        }
    }
    for (index, port) in tree.ports.iter().enumerate() {
        let Some((done, [node, ..])) = nodes.split_at_mut_checked(index) else { continue };
        node.clear();
        let Some(placed) = tree.parts.get(port.owner as usize) else { continue };
        let Some(from) = done.get(placed.after as usize) else { continue };
        node.edge.from = placed.after;
        follow(tree, placed, (port.owner, port.number), rows, &mut node.edge)?;
        if from.edge.kind == Kind::Silent {
            node.edge.kind = Kind::Silent;
        }
        // What lies on the way; what stands behind it is not known yet.
        let Spot { above, mirror, amplified, no_return, .. } = from.spot;
        node.spot = Spot { above, mirror, amplified, no_return, ..Spot::default() };
        if let Part::Filter(filter) = placed.part
            && filter.reflects.is_some()
        {
            node.spot.mirror = index as u16;
        }
        if let Some(spec) = placed.part.amplifier()
            && port.number < spec.outputs
        {
            let before = stages.iter().take_while(|stage| stage.part <= port.owner).count();
            node.spot.above = before as u16;
            node.spot.amplified += 1;
            node.spot.no_return |= spec.return_gain.is_none();
        }
    }
    Ok(())
}

/// Puts one more into a store.
#[inline(always)]
fn push<T>(items: &mut VecView<T>, item: T, store: Store) -> Result<(), Store> {
    if items.is_full() {
        return Err(store);
    }
    let _ = items.push(item);
    Ok(())
}

/// How a way out of a part follows from its input.
#[cfg_attr(target_os = "none", inline(never))]
fn follow(
    tree: &Tree<'_, '_>,
    placed: &Placed<'_>,
    whose: (u16, u8),
    rows: &mut VecView<Row>,
    edge: &mut Edge,
) -> Result<(), Store> {
    match placed.part.loss(whose.1) {
        PortLoss::Fixed(loss) => edge.cases = [loss; 3],
        PortLoss::Run(cable, length, place) => {
            let spread = cable.spread.percent() * 0.01;
            for (slot, case) in edge.cases.iter_mut().zip(Case::ALL) {
                let factor = cable.loss_factor(length, tree.climate.temperature(place, case));
                let factor = not_negative(factor * (1.0 + case.sign() * spread));
                *slot = match cable.loss {
                    Curve::Flat(loss) => factor * loss.db(),
                    Curve::Points(_) => factor,
                };
            }
            if !cable.loss.is_flat() {
                edge.row = row_for(rows, whose, Table::Run, &cable.loss, 0.0)?;
            }
        }
        PortLoss::Table(Slope { curve: Curve::Flat(loss), spread }) => {
            edge.cases = [loss.db(), loss.db() + spread, not_negative(loss.db() - spread)];
        }
        PortLoss::Table(Slope { curve, spread }) => {
            edge.cases = [1.0; 3];
            edge.row = row_for(rows, whose, Table::Loss, curve, spread)?;
        }
        // Which of its tables it is, `tune` says for each sense.
        PortLoss::Amplified => {}
        PortLoss::None => edge.kind = Kind::Silent,
    }
    Ok(())
}

/// The row of an amplifier's table; [`Edge::FLAT`] where it is one value or none.
fn row_of(
    rows: &mut VecView<Row>,
    whose: (u16, u8),
    table: Table,
    curve: Option<&Curve<'_>>,
    spread: f32,
) -> Result<u16, Store> {
    match curve {
        Some(curve @ Curve::Points(_)) => row_for(rows, whose, table, curve, spread),
        _ => Ok(Edge::FLAT),
    }
}

/// The row of a table, a new one for the first part, and way out of it, that asks.
#[cfg_attr(target_os = "none", inline(never))]
fn row_for(
    rows: &mut VecView<Row>,
    (part, number): (u16, u8),
    table: Table,
    curve: &Curve<'_>,
    spread: f32,
) -> Result<u16, Store> {
    let address = core::ptr::from_ref(curve).addr();
    let is_same = |known: &Row| known.address == address && known.table == table && known.spread == spread;
    if let Some(index) = rows.iter().position(is_same) {
        return Ok(index as u16);
    }
    let (line, cases) = (Line::NONE, [[0.0; 3]; LANES]);
    push(rows, Row { address, part, number, table, spread, line, cases }, Store::Tables)?;
    Ok(rows.len() as u16 - 1)
}
