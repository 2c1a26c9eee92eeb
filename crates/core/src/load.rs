//! Total power: the sum over all carriers, at every outlet and amplifier.

use crate::check::{At, Bound, Code, Column, Desk, note, spread_out};
use crate::math::{self, LOG2_PER_DB, abs, is_below};
use crate::walk::{Lanes, Marks, Node, Run, Sampler, Sense, at, each};
use crate::{Device, Figure, PartId, PortId, Tree, forward};

/// Between the two nodes of a run levels may differ by this much, in dB: then the whole run
/// changes by at most 4 dB and Gauss' rule is right within 6e-4 dB, mostly far better.
const STEEPEST: f32 = 2.2;

/// Adds up the powers of all carriers wherever a total is asked for.
#[cfg_attr(target_os = "none", inline(never))]
pub(crate) fn add_up(tree: &Tree<'_, '_>, desk: &mut Desk<'_>) {
    for node in desk.nodes.iter_mut() {
        node.total = [0.0; 3];
    }
    let mut sampler = Sampler::START;
    loop {
        let mut marks = sampler.fill(tree, desk.rows, &mut desk.slate.batch);
        if desk.slate.batch.used == 0 {
            return;
        }
        spread_out(tree, desk, Sense::Forward);
        let levels = forward::entry_levels(tree, &desk.slate.batch);
        if let Some((lane, run)) = first_steep(desk, &levels, &marks) {
            // What stands before that run counts; from there on it is taken again.
            for weight in marks.weight.iter_mut().skip(lane) {
                *weight = 0.0;
            }
            sampler.refine(run);
        }
        add_batch(desk.nodes, &levels, &marks.weight);
    }
}

#[cfg_attr(target_os = "none", inline(never))]
fn add_batch(nodes: &mut [Node], levels: &Lanes, weight: &Lanes) {
    for node in nodes.iter_mut().filter(|node| node.spot.wants_total) {
        for (total, lost) in node.total.iter_mut().zip(&node.plane) {
            let powers = each(levels, lost, |level, lost| math::exp2((level - lost) * LOG2_PER_DB));
            // One order everywhere, and one that vectors can keep.
            let [a, b, c, d] = each(&powers, weight, |power, weight| power * weight);
            *total += (a + c) + (b + d);
        }
    }
}

/// The first run that its nodes do not do justice to: levels change too fast, or bend.
#[cfg_attr(target_os = "none", inline(never))]
fn first_steep(desk: &Desk<'_>, levels: &Lanes, marks: &Marks) -> Option<(usize, Run)> {
    let met = desk.rows.iter().filter(|row| row.is_met_by(Sense::Forward));
    let kinks = met.fold(0, |kinks, row| kinks | row.kinks());
    for (lane, run) in marks.runs.iter().enumerate() {
        let Some(run) = run.filter(|run| run.count > 2) else { continue };
        let change = |lanes: &Lanes| at(lanes, lane + 1) - at(lanes, lane);
        let read = change(levels);
        let is_steep = |lost: &Lanes| is_below(STEEPEST, abs(read - change(lost)));
        let mut places = desk.nodes.iter().filter(|node| node.spot.wants_total);
        if (kinks >> lane) & 1 != 0 || places.any(|Node { plane: [nominal, ..], .. }| is_steep(nominal)) {
            return Some((lane, run));
        }
    }
    None
}

/// The total at a port in dBmV.
#[cfg_attr(target_os = "none", inline(never))]
fn total_at(tree: &Tree<'_, '_>, nodes: &[Node], port: u16) -> Figure {
    let spread = tree.entry.spread;
    let [nominal, most, least] = nodes.get(port as usize).map_or([1.0; 3], |node| node.total);
    Figure::of(&[math::decibels(nominal), math::decibels(most) - spread, math::decibels(least) + spread])
}

/// Holds totals against the limits of devices and amplifiers.
#[cfg_attr(target_os = "none", inline(never))]
pub(crate) fn judge(tree: &Tree<'_, '_>, desk: &mut Desk<'_>) {
    for (index, outlet) in tree.outlets.iter().enumerate() {
        if outlet.device == Device::Unused {
            continue;
        }
        let figure = total_at(tree, desk.nodes, outlet.port);
        note(tree, desk, index, (Column::Total, 0), None, &figure);
    }
    for stage in desk.stages.iter_mut() {
        let Some(placed) = tree.parts.get(stage.part as usize) else { continue };
        let Some(spec) = placed.part.amplifier() else { continue };
        stage.input = total_at(tree, desk.nodes, placed.after);
        let findings = desk.findings.about(At::Part(PartId(stage.part)));
        findings.not_above(Code::AmplifierOverdriven, &stage.input, Bound::at_most(spec.max_input_total));
        let output = total_at(tree, desk.nodes, placed.first_port);
        for port in placed.first_port..placed.first_port + u16::from(spec.outputs) {
            let findings = desk.findings.about(At::Port(PortId(port)));
            findings.not_above(Code::OutputOverdriven, &output, Bound::at_most(spec.max_output_total));
        }
    }
}
