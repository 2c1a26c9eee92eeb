//! Total power: the sum over all carriers, at every outlet and amplifier.

use crate::check::{About, At, Bound, Code, Desk, not_above};
use crate::math::{self, LOG2_PER_DB, abs};
use crate::walk::{Batch, Cursor, LANES, Lanes, Marks, Sense, evaluate, fill, outward};
use crate::{Error, Figure, OutletId, PartId, PortId, Tree, forward};

/// Between two neighbouring nodes of one run, levels may differ by this much, in dB: then a whole
/// run changes by at most about 9 dB and Gauss' rule is right within 2e-4 dB.
const STEEPEST: f32 = 3.5;

/// Adds up the powers of all carriers wherever a total is asked for.
pub(crate) fn add_up(tree: &Tree<'_, '_>, desk: &mut Desk<'_>) {
    for total in desk.totals.iter_mut() {
        *total = [0.0; 3];
    }
    let mut cursor = Cursor::default();
    let mut cap = u16::MAX;
    let mut batch = Batch::default();
    loop {
        let mut next = cursor;
        let mut marks = fill(tree, desk.rows, &mut next, cap, &mut batch);
        if batch.used == 0 {
            return;
        }
        evaluate(tree, desk.rows, &batch, Sense::Forward);
        outward(desk.edges, desk.rows, desk.planes);
        let levels = forward::entry_levels(tree, &batch);
        cap = u16::MAX;
        if let Some((lane, (start, count))) = first_steep(desk, &levels, &marks) {
            // What stands before that run counts; the run is tried again at half its length.
            for weight in marks.weight.iter_mut().skip(lane) {
                *weight = 0.0;
            }
            next = start;
            cap = count / 2;
        }
        add_batch(desk, &levels, &marks);
        cursor = next;
    }
}

fn add_batch(desk: &mut Desk<'_>, levels: &Lanes, marks: &Marks) {
    for ((spot, total), plane) in desk.spots.iter().zip(desk.totals.iter_mut()).zip(desk.planes.iter()) {
        if !spot.wants_total {
            continue;
        }
        for (total, lost) in total.iter_mut().zip(plane) {
            let mut powers = [0.0; LANES];
            for ((power, weight), (level, lost)) in powers.iter_mut().zip(marks.weight).zip(levels.iter().zip(lost)) {
                *power = weight * math::exp2((level - lost) * LOG2_PER_DB);
            }
            // One order everywhere, and one that vectors can keep.
            let [a, b, c, d, e, f, g, h] = powers;
            *total += ((a + e) + (c + g)) + ((b + f) + (d + h));
        }
    }
}

/// The first run that three nodes do not do justice to: levels change too fast, or bend.
fn first_steep(desk: &Desk<'_>, levels: &Lanes, marks: &Marks) -> Option<(usize, (Cursor, u16))> {
    for (lane, run) in marks.runs.iter().enumerate() {
        let Some(run) = run else { continue };
        let Some([a, b, c]) = levels.get(lane..lane + 3) else { continue };
        let kinked = desk.rows.iter().any(|row| row.is_met_by(Sense::Forward) && row.is_kinked(lane));
        let steep = || {
            desk.spots.iter().zip(desk.planes.iter()).any(|(spot, [nominal, ..])| {
                spot.wants_total
                    && nominal.get(lane..lane + 3).is_some_and(|lost| match lost {
                        [x, y, z] => {
                            let (low, middle, high) = (a - x, b - y, c - z);
                            abs(low - middle) > STEEPEST || abs(middle - high) > STEEPEST
                        }
                        _ => false,
                    })
            })
        };
        if kinked || steep() {
            return Some((lane, *run));
        }
    }
    None
}

/// The total at a port in dBmV.
pub(crate) fn total_at(tree: &Tree<'_, '_>, totals: &[[f32; 3]], port: usize) -> Figure {
    let spread = tree.entry.spread;
    let [nominal, most, least] = totals.get(port).copied().unwrap_or([1.0; 3]);
    Figure::of([math::decibels(nominal), math::decibels(most) - spread, math::decibels(least) + spread])
}

/// Holds totals against the limits of devices and amplifiers.
///
/// # Errors
/// [`Error::Full`] where findings find no room.
pub(crate) fn judge(tree: &Tree<'_, '_>, desk: &mut Desk<'_>) -> Result<(), Error> {
    for (index, outlet) in tree.outlets.iter().enumerate() {
        if outlet.device == crate::Device::Unused {
            continue;
        }
        let figure = total_at(tree, desk.totals, outlet.port as usize);
        desk.layout.put_total(desk.cells, index, figure);
        let at = At::Outlet(OutletId(index as u16));
        let bound = Bound { limit: tree.limits(outlet.device).total, target: tree.target(outlet.device).total };
        not_above(desk.findings, About::new(Code::TotalHigh, at, "dBmV"), figure, bound)?;
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
        let about = About::new(Code::AmplifierOverdriven, At::Part(PartId(part)), "dBmV");
        not_above(desk.findings, about, input, Bound::at_most(spec.max_input_total))?;
        let output = total_at(tree, desk.totals, placed.first_port as usize);
        for port in placed.first_port..placed.first_port + u16::from(spec.outputs) {
            let about = About::new(Code::OutputOverdriven, At::Port(PortId(port)), "dBmV");
            not_above(desk.findings, about, output, Bound::at_most(spec.max_output_total))?;
        }
    }
    Ok(())
}
