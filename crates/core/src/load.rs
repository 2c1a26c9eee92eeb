//! Total power: the sum over all carriers, at every outlet and amplifier.

use crate::check::{About, At, Bound, Code, Desk, not_above};
use crate::math::{self, LOG2_PER_DB, abs, is_below};
use crate::walk::{Batch, Lanes, Marks, Run, Sampler, Sense, at, each, evaluate, outward};
use crate::{Error, Figure, OutletId, PartId, PortId, Tree, forward};

/// Between the two nodes of a run levels may differ by this much, in dB: then the whole run
/// changes by at most 4 dB and Gauss' rule is right within 6e-4 dB, mostly far better.
const STEEPEST: f32 = 2.2;

/// Adds up the powers of all carriers wherever a total is asked for.
#[cfg_attr(target_os = "none", inline(never))]
pub(crate) fn add_up(tree: &Tree<'_, '_>, desk: &mut Desk<'_>) {
    for total in desk.totals.iter_mut() {
        *total = [0.0; 3];
    }
    let mut sampler = Sampler::START;
    let mut batch = Batch::default();
    loop {
        let mut marks = sampler.fill(tree, desk.rows, &mut batch);
        if batch.used == 0 {
            return;
        }
        evaluate(tree, desk.rows, &batch, Sense::Forward);
        outward(desk.edges, desk.rows, desk.planes);
        let levels = forward::entry_levels(tree, &batch);
        if let Some((lane, run)) = first_steep(desk, &levels, &marks) {
            // What stands before that run counts; from there on it is taken again.
            for weight in marks.weight.iter_mut().skip(lane) {
                *weight = 0.0;
            }
            sampler.refine(run);
        }
        add_batch(desk, &levels, &marks.weight);
    }
}

#[cfg_attr(target_os = "none", inline(never))]
fn add_batch(desk: &mut Desk<'_>, levels: &Lanes, weight: &Lanes) {
    for ((spot, total), plane) in desk.spots.iter().zip(desk.totals.iter_mut()).zip(desk.planes.iter()) {
        if !spot.wants_total {
            continue;
        }
        for (total, lost) in total.iter_mut().zip(plane) {
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
        let mut places = desk.spots.iter().zip(desk.planes.iter()).filter(|(spot, _)| spot.wants_total);
        if (kinks >> lane) & 1 != 0 || places.any(|(_, [nominal, ..])| is_steep(nominal)) {
            return Some((lane, run));
        }
    }
    None
}

/// The total at a port in dBmV.
#[cfg_attr(target_os = "none", inline(never))]
pub(crate) fn total_at(tree: &Tree<'_, '_>, totals: &[[f32; 3]], port: usize) -> Figure {
    let spread = tree.entry.spread;
    let [nominal, most, least] = totals.get(port).copied().unwrap_or([1.0; 3]);
    Figure::of([math::decibels(nominal), math::decibels(most) - spread, math::decibels(least) + spread])
}

/// Holds totals against the limits of devices and amplifiers.
///
/// # Errors
/// [`Error::Full`] where findings find no room.
#[cfg_attr(target_os = "none", inline(never))]
pub(crate) fn judge(tree: &Tree<'_, '_>, desk: &mut Desk<'_>) -> Result<(), Error> {
    for (index, outlet) in tree.outlets.iter().enumerate() {
        if outlet.device == crate::Device::Unused {
            continue;
        }
        let figure = total_at(tree, desk.totals, outlet.port as usize);
        desk.layout.put_total(desk.cells, index, figure);
        let at = At::Outlet(OutletId(index as u16));
        let bound = Bound { limit: tree.limits(outlet.device).total, target: tree.target(outlet.device).total };
        not_above(&mut desk.findings, &About::new(Code::TotalHigh, at), &figure, bound)?;
    }
    for number in 0..desk.amplifiers.len() {
        let Some(rows) = desk.amplifiers.get(number) else { continue };
        let part = rows.part;
        let Some(placed) = tree.parts.get(part as usize) else { continue };
        let Some(spec) = placed.part.amplifier() else { continue };
        let input = total_at(tree, desk.totals, placed.after as usize);
        if let Some(slot) = desk.inputs.get_mut(number) {
            *slot = input;
        }
        let about = About::new(Code::AmplifierOverdriven, At::Part(PartId(part)));
        not_above(&mut desk.findings, &about, &input, Bound::at_most(spec.max_input_total))?;
        let output = total_at(tree, desk.totals, placed.first_port as usize);
        for port in placed.first_port..placed.first_port + u16::from(spec.outputs) {
            let about = About::new(Code::OutputOverdriven, At::Port(PortId(port)));
            not_above(&mut desk.findings, &about, &output, Bound::at_most(spec.max_output_total))?;
        }
    }
    Ok(())
}
