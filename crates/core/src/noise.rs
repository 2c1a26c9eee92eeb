//! Thermal noise and carrier-to-noise ratio.
//!
//! A passive loss L makes `N_out - kTB = (N_in - kTB)/L`: what a noise exceeds kTB by is lost as
//! the carrier is. So `e = (N - kTB)/C` stays what it is on any passive way, and an amplifier of
//! gain G and noise factor F makes of it `e + F·kTB/C_in - kTB/C_out`. At a port,
//! `N/C = e + kTB/C`. No step a part is needed, only one an amplifier.

use crate::check::{Column, Desk, note};
use crate::curve::Between;
use crate::forward::{at_entry, at_port};
use crate::math::{decibels, max, ratio};
use crate::walk::{Batch, LANES, Lanes, at};
use crate::{Curve, Figure, Tree};

/// kTB in 75 ohm at 290 K for 1 MHz, in dBmV: 10·log10(1.380649e-23 J/K · 290 K · 1 MHz / (1 mV²/75 ohm)).
pub(crate) const KTB_DBMV_PER_MHZ: f32 = -65.224_57;

/// Excess noise over carrier, as power ratios, behind one amplifier.
pub(crate) type Excess = [Lanes; 3];

/// What noise there is at the entry, at the frequencies of a batch.
#[derive(Debug)]
pub(crate) struct Floor {
    /// kTB in the service's noise bandwidth, in dBmV.
    ktb: f32,
    /// Noise over carrier at the entry, as power ratios.
    read: Lanes,
}

impl Floor {
    /// Before anything was read.
    pub(crate) const NEW: Self = Self { ktb: 0.0, read: [0.0; LANES] };

    /// kTB over a carrier, as a power ratio.
    fn over(&self, carrier: f32) -> f32 {
        ratio(self.ktb - carrier)
    }
}

/// A table or one value, at the frequencies of a batch.
fn over(curve: &Curve<'_>, batch: &Batch) -> Lanes {
    match curve {
        Curve::Flat(value) => [value.db(); LANES],
        Curve::Points(points) => batch.read(points, Between::Linear),
    }
}

/// The excess on a way whose nearest amplifier has number `above` less one, none for 0: there it is that of the
/// entry, whose noise is its level less the ratio read there, not below kTB.
#[cfg_attr(target_os = "none", inline(never))]
fn excess(desk: &Desk<'_>, above: u16, case: usize, lane: usize, level: f32) -> f32 {
    match desk.stages.get((above as usize).wrapping_sub(1)) {
        Some(stage) => stage.excess.get(case).map_or(0.0, |lanes| at(lanes, lane)),
        None => max(at(&desk.slate.floor.read, lane) - desk.slate.floor.over(level), 0.0),
    }
}

/// Works out the floor at the entry and the excess behind every amplifier, at the frequencies of the batch.
#[cfg_attr(target_os = "none", inline(never))]
pub(crate) fn at_amplifiers(tree: &Tree<'_, '_>, desk: &mut Desk<'_>) {
    let Some(cnr) = &tree.entry.cnr else { return };
    desk.slate.floor = Floor {
        ktb: KTB_DBMV_PER_MHZ + decibels(tree.service.bandwidth()),
        read: over(cnr, &desk.slate.batch).map(|cnr| ratio(-cnr)),
    };
    for number in 0..desk.stages.len() {
        let part = desk.stages.get(number).and_then(|stage| tree.parts.get(stage.part as usize));
        let Some((placed, spec)) = part.and_then(|placed| Some((placed, placed.part.amplifier()?))) else { continue };
        let figures = over(&spec.noise_figure, &desk.slate.batch);
        let above = desk.nodes.get(placed.after as usize).map_or(0, |node| node.spot.above);
        for lane in 0..desk.slate.batch.used {
            let factor = ratio(at(&figures, lane));
            let entry = at_entry(tree, desk, lane);
            let input = at_port(tree, desk, placed.after, lane);
            let output = at_port(tree, desk, placed.first_port, lane);
            for (case, ((level, input), output)) in entry.into_iter().zip(input).zip(output).enumerate() {
                let floor = &desk.slate.floor;
                let made = excess(desk, above, case, lane, level) + factor * floor.over(input) - floor.over(output);
                if let Some(stage) = desk.stages.get_mut(number)
                    && let Some(slot) = stage.excess.get_mut(case).and_then(|lanes| lanes.get_mut(lane))
                {
                    *slot = made;
                }
            }
        }
    }
}

/// The carrier-to-noise ratio at an outlet, from the carrier there in the three cases.
#[cfg_attr(target_os = "none", inline(never))]
pub(crate) fn judge(tree: &Tree<'_, '_>, desk: &mut Desk<'_>, index: usize, port: u16, row: usize, lane: usize) {
    let above = desk.nodes.get(port as usize).map_or(0, |node| node.spot.above);
    let mut cases = at_port(tree, desk, port, lane);
    for (case, (slot, level)) in cases.iter_mut().zip(at_entry(tree, desk, lane)).enumerate() {
        *slot = -decibels(excess(desk, above, case, lane, level) + desk.slate.floor.over(*slot));
    }
    note(tree, desk, index, (Column::Cnr, row + lane), Some(desk.slate.batch.mhz(lane)), &Figure::of(cases));
}
