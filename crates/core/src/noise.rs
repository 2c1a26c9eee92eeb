//! Thermal noise and carrier-to-noise ratio.
//!
//! A passive loss L makes `N_out - kTB = (N_in - kTB)/L`: what a noise exceeds kTB by is lost as
//! the carrier is. So `e = (N - kTB)/C` stays what it is on any passive way, and an amplifier of
//! gain G and noise factor F makes of it `e + F·kTB/C_in - kTB/C_out`. At a port,
//! `N/C = e + kTB/C`. No step a part is needed, only one an amplifier.

use crate::check::Desk;
use crate::curve::Between;
use crate::math::{decibels, max, ratio};
use crate::walk::{Batch, LANES, Lanes, at};
use crate::{Curve, Figure, Tree};

/// kTB in 75 ohm at 290 K for 1 MHz, in dBmV: 10·log10(1.380649e-23 J/K · 290 K · 1 MHz / (1 mV²/75 ohm)).
pub(crate) const KTB_DBMV_PER_MHZ: f32 = -65.224_57;

/// Excess noise over carrier, as power ratios, behind one amplifier.
pub(crate) type Excess = [Lanes; 3];

/// What noise there is at the entry, at the frequencies of a batch.
pub(crate) struct Floor {
    /// kTB in the service's noise bandwidth, in dBmV.
    ktb: f32,
    /// Noise over carrier at the entry, as power ratios.
    read: Lanes,
}

impl Floor {
    /// The floor of a home; [`None`] where no carrier-to-noise ratio was read.
    pub(crate) fn of(tree: &Tree<'_, '_>, batch: &Batch) -> Option<Self> {
        let cnr = over(tree.entry.cnr.as_ref()?, batch);
        let ktb = KTB_DBMV_PER_MHZ + decibels(tree.service.bandwidth());
        Some(Self { ktb, read: cnr.map(|cnr| ratio(-cnr)) })
    }

    /// kTB over a carrier, as a power ratio.
    #[cfg_attr(target_os = "none", inline(never))]
    fn over(&self, carrier: f32) -> f32 {
        ratio(self.ktb - carrier)
    }

    /// The excess at the entry: its noise is its level less the ratio read there, not below kTB.
    fn at_entry(&self, lane: usize, level: f32) -> f32 {
        max(at(&self.read, lane) - self.over(level), 0.0)
    }

    /// The excess on a way whose nearest amplifier has number `behind` less one, none for 0.
    #[cfg_attr(target_os = "none", inline(never))]
    fn before(&self, excess: &[Excess], behind: u16, case: usize, lane: usize, level: f32) -> f32 {
        match (behind as usize).checked_sub(1).and_then(|number| excess.get(number)) {
            Some(excess) => excess.get(case).map_or(0.0, |lanes| at(lanes, lane)),
            None => self.at_entry(lane, level),
        }
    }

    /// The carrier-to-noise ratio in dB at a port, from the carrier there in the three cases.
    #[cfg_attr(target_os = "none", inline(never))]
    pub(crate) fn ratio_at(
        &self,
        lane: usize,
        excess: &[Excess],
        behind: u16,
        entry_level: f32,
        spread: f32,
        carriers: [f32; 3],
    ) -> Figure {
        let mut cases = carriers;
        for (case, (slot, sign)) in cases.iter_mut().zip([0.0, -spread, spread]).enumerate() {
            let excess = self.before(excess, behind, case, lane, entry_level + sign);
            *slot = -decibels(excess + self.over(*slot));
        }
        Figure::of(cases)
    }
}

/// A table or one value, at the frequencies of a batch.
fn over(curve: &Curve<'_>, batch: &Batch) -> Lanes {
    match curve {
        Curve::Flat(value) => [value.db(); LANES],
        Curve::Points(points) => batch.read(points, Between::Linear),
    }
}

/// Works out the excess behind every amplifier, at the frequencies of a batch.
#[cfg_attr(target_os = "none", inline(never))]
pub(crate) fn at_amplifiers(
    tree: &Tree<'_, '_>,
    desk: &mut Desk<'_>,
    batch: &Batch,
    levels: &Lanes,
    floor: &Option<Floor>,
) {
    let Some(floor) = floor else { return };
    let spread = tree.entry.spread;
    for (number, rows) in desk.amplifiers.iter().enumerate() {
        let Some(placed) = tree.parts.get(rows.part as usize) else { continue };
        let Some(spec) = placed.part.amplifier() else { continue };
        let (Some(input), Some(output)) =
            (desk.planes.get(placed.after as usize), desk.planes.get(placed.first_port as usize))
        else {
            continue;
        };
        let behind = desk.spots.get(placed.after as usize).map_or(0, |spot| spot.above);
        let factor = over(&spec.noise_figure, batch).map(ratio);
        let mut made = Excess::default();
        for (case, (slots, (lost_in, lost_out))) in made.iter_mut().zip(input.iter().zip(output)).enumerate() {
            let level = [0.0, -spread, spread].get(case).copied().unwrap_or(0.0);
            for (lane, _) in batch.frequencies() {
                let level = level + at(levels, lane);
                let earlier = floor.before(desk.excess, behind, case, lane, level);
                let added = at(&factor, lane) * floor.over(level - at(lost_in, lane));
                let in_ktb = floor.over(level - at(lost_out, lane));
                if let Some(slot) = slots.get_mut(lane) {
                    *slot = earlier + added - in_ktb;
                }
            }
        }
        if let Some(slot) = desk.excess.get_mut(number) {
            *slot = made;
        }
    }
}
