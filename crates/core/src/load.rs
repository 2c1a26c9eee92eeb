//! Total power: the sum over all carriers, at every outlet and amplifier.

use crate::check::{At, Bound, Code, Column, Desk, note, spread_out};
use crate::math::{self, LOG2_PER_DB, abs, is_below};
use crate::walk::{Lanes, Node, Run, Sampler, Sense};
use crate::{Device, Figure, PartId, PortId, Tree};

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
        sampler.fill(tree, desk.rows, &mut desk.slate.batch, &mut desk.slate.marks);
        if desk.slate.batch.used == 0 {
            return;
        }
        spread_out(tree, desk, Sense::Forward);
        if let Some((lane, run)) = first_steep(desk) {
            // What stands before that run counts; from there on it is taken again.
            for weight in desk.slate.marks.weight.iter_mut().skip(lane) {
                *weight = 0.0;
            }
            sampler.refine(run);
        }
        add_batch(desk.nodes, &desk.slate.marks.weight);
    }
}

#[cfg_attr(target_os = "none", inline(never))]
fn add_batch(nodes: &mut [Node], weight: &Lanes) {
    for node in nodes.iter_mut().filter(|node| node.spot.wants_total) {
        for (cases, weight) in node.plane.iter().zip(weight) {
            for (total, below) in node.total.iter_mut().zip(cases) {
                *total += *weight * math::exp2(*below * -LOG2_PER_DB);
            }
        }
    }
}

/// The first run that its nodes do not do justice to: levels change too fast.
#[cfg_attr(target_os = "none", inline(never))]
fn first_steep(desk: &Desk<'_>) -> Option<(usize, Run)> {
    for (number, run) in desk.slate.marks.runs.iter().enumerate().filter(|(_, run)| run.count > 2) {
        let lane = 2 * number;
        let is_steep = |node: &Node| is_below(STEEPEST, abs(node.nominal(lane + 1) - node.nominal(lane)));
        let mut places = desk.nodes.iter().filter(|node| node.spot.wants_total);
        if places.any(is_steep) {
            return Some((lane, *run));
        }
    }
    None
}

/// The total at a port in dBmV.
#[cfg_attr(target_os = "none", inline(never))]
fn total_at(nodes: &[Node], port: u16) -> Figure {
    Figure::of(&nodes.get(port as usize).map_or([1.0; 3], |node| node.total).map(math::decibels))
}

/// Holds totals against the limits of devices and amplifiers.
#[cfg_attr(target_os = "none", inline(never))]
pub(crate) fn judge(tree: &Tree<'_, '_>, desk: &mut Desk<'_>) {
    for (index, outlet) in tree.outlets.iter().enumerate() {
        if outlet.device == Device::Unused {
            continue;
        }
        let figure = total_at(desk.nodes, outlet.port);
        note(tree, desk, index, Column::Total, 0, &figure);
    }
    for stage in desk.stages.iter_mut() {
        let Some(placed) = tree.parts.get(stage.part as usize) else { continue };
        let Some(spec) = placed.part.amplifier() else { continue };
        stage.input = total_at(desk.nodes, placed.after);
        let findings = desk.findings.about(At::Part(PartId(stage.part)));
        findings.hold(Code::AmplifierOverdriven, &stage.input, Bound::at_most(spec.max_input_total));
        let output = total_at(desk.nodes, placed.first_port);
        for port in placed.first_port..placed.first_port + u16::from(spec.outputs) {
            let findings = desk.findings.about(At::Port(PortId(port)));
            findings.hold(Code::OutputOverdriven, &output, Bound::at_most(spec.max_output_total));
        }
    }
}
