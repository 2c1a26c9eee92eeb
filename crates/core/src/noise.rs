//! Thermal noise and carrier-to-noise ratio.
//!
//! A passive loss L makes `N_out - kTB = (N_in - kTB)/L`: what a noise exceeds kTB by is lost as
//! the carrier is. So `e = (N - kTB)/C` stays what it is on any passive way, and an amplifier of
//! gain G and noise factor F makes of it `e + F·kTB/C_in - kTB/C_out`. At a port,
//! `N/C = e + kTB/C`. No step a part is needed, only one an amplifier.

use crate::check::Desk;
use crate::math::{decibels, max, ratio};
use crate::walk::{Cases, LANES, Lanes, Plane, Stage, at};
use crate::{Curve, Figure, Frequency, Tree};

/// kTB in 75 ohm at 290 K for 1 MHz, in dBmV: 10·log10(1.380649e-23 J/K · 290 K · 1 MHz / (1 mV²/75 ohm)).
pub(crate) const KTB_DBMV_PER_MHZ: f32 = -65.224_57;

/// Excess noise over carrier, as power ratios, behind one amplifier or at the entry.
pub(crate) type Excess = Plane;

/// What noise there is at the entry, at the frequencies of a batch.
#[derive(Debug)]
pub(crate) struct Floor {
    /// kTB in the service's noise bandwidth, in dBmV.
    ktb: f32,
    /// Noise over carrier at the entry, as power ratios.
    read: Lanes,
    /// The excess there: its noise is its level less the ratio read, not below kTB.
    excess: Excess,
}

impl Floor {
    /// Before anything was read.
    pub(crate) const NEW: Self = Self { ktb: 0.0, read: [0.0; LANES], excess: [[0.0; 3]; LANES] };

    /// kTB over a carrier that lies so far below 0 dBmV, as a power ratio.
    fn over(&self, below: f32) -> f32 {
        ratio(self.ktb + below)
    }
}

/// The excess on a way whose nearest amplifier has number `above` less one, that of the entry for 0.
fn excess(floor: &Floor, stages: &[Stage], above: u16, lane: usize) -> Cases {
    let excess = stages.get((above as usize).wrapping_sub(1)).map_or(&floor.excess, |stage| &stage.excess);
    excess.get(lane).copied().unwrap_or_default()
}

/// Works out the excess at the entry and behind every amplifier, at the frequencies of the batch.
#[cfg_attr(target_os = "none", inline(never))]
pub(crate) fn spread_out(tree: &Tree<'_, '_>, desk: &mut Desk<'_>) {
    let Some(cnr) = &tree.entry.cnr else { return };
    desk.slate.floor.ktb = KTB_DBMV_PER_MHZ + decibels(tree.service.bandwidth());
    for lane in 0..desk.slate.batch.used {
        at_entry(desk, cnr, lane);
        for number in 0..desk.stages.len() {
            behind_amplifier(tree, desk, number, lane);
        }
    }
}

#[cfg_attr(target_os = "none", inline(never))]
fn at_entry(desk: &mut Desk<'_>, cnr: &Curve<'_>, lane: usize) -> Option<()> {
    let read = ratio(-cnr.at(Frequency::unchecked(desk.slate.batch.mhz(lane))));
    let below = desk.at(0, lane);
    let floor = &mut desk.slate.floor;
    *floor.read.get_mut(lane)? = read;
    *floor.excess.get_mut(lane)? = below.map(|below| max(read - floor.over(below), 0.0));
    Some(())
}

#[cfg_attr(target_os = "none", inline(never))]
fn behind_amplifier(tree: &Tree<'_, '_>, desk: &mut Desk<'_>, number: usize, lane: usize) -> Option<()> {
    let floor = &desk.slate.floor;
    let placed = tree.parts.get(desk.stages.get(number)?.part as usize)?;
    let figure = &placed.part.amplifier()?.noise_figure;
    let factor = ratio(figure.at(Frequency::unchecked(desk.slate.batch.mhz(lane))));
    let before = desk.nodes.get(placed.after as usize)?;
    let behind = desk.nodes.get(placed.first_port as usize)?.plane.get(lane)?;
    let mut cases = excess(floor, desk.stages, before.spot.above, lane);
    for ((excess, arriving), leaving) in cases.iter_mut().zip(before.plane.get(lane)?).zip(behind) {
        *excess += factor * floor.over(*arriving) - floor.over(*leaving);
    }
    *desk.stages.get_mut(number)?.excess.get_mut(lane)? = cases;
    Some(())
}

/// The carrier-to-noise ratio at a port, from the carrier there in the three cases.
#[cfg_attr(target_os = "none", inline(never))]
pub(crate) fn ratio_at(desk: &Desk<'_>, port: u16, lane: usize) -> Figure {
    let Some(node) = desk.nodes.get(port as usize) else { return Figure::alone(0.0) };
    let floor = &desk.slate.floor;
    let mut cases = excess(floor, desk.stages, node.spot.above, lane);
    for (excess, below) in cases.iter_mut().zip(node.at(lane)) {
        // Nothing on the way makes it better. Far below kTB the sum alone might say so: all its digits are gone there.
        *excess = -decibels(max(*excess + floor.over(below), at(&floor.read, lane)));
    }
    Figure::of(&cases)
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a test may panic")]
mod tests {
    use crate::{
        Amplifier, Block, Curve, Db, DcPorts, Device, Draw, Entry, Frequency, Outlet, Part, Point, Points, PortId,
        Premises, Service, Split, Volts, Watts, Way, Workspace,
    };

    /// What the entry's noise allows at one outlet behind an amplifier of this gain.
    fn ratio_behind(gain: f32) -> f32 {
        let mhz = Frequency::constant;
        let blocks = [Block::new(mhz(57.0), mhz(111.0), mhz(6.0), Db::ZERO).unwrap()];
        let service = Service::new(Split { return_top: mhz(42.0), forward_bottom: mhz(54.0) }, &blocks).unwrap();
        let readings = [Point::constant(57.0, 10.0), Point::constant(111.0, 10.0)];
        let entry = Entry { cnr: Some(Curve::flat(45.0)), ..Entry::new(Points::new(&readings).unwrap()).unwrap() };
        let spec = Amplifier {
            outputs: 1,
            gain: Curve::flat(gain),
            return_gain: None,
            passive: None,
            spread: Db::ZERO,
            noise_figure: Curve::flat(6.0),
            isolation: Curve::flat(20.0),
            network_loss: None,
            max_input_total: f32::INFINITY,
            max_output_total: f32::INFINITY,
            max_return_total: f32::INFINITY,
            split: None,
            draw: Draw::Power(Watts::constant(3.0)),
            runs_on: (Volts::constant(9.0), Volts::constant(18.0)),
            dc_ports: DcPorts::default(),
            band: None,
        };
        let mut home = Premises::<1, 2, 1, 0>::new(service, entry);
        let amplifier = home.add(PortId::ENTRY, Part::Amplifier(&spec)).unwrap();
        home.add_outlet(home.port(amplifier, Way::Output(1)).unwrap(), Outlet::new(Device::Tv)).unwrap();
        let mut room = Workspace::<2, 8, 16, 1, 16>::new();
        let report = room.check(&home.tree()).unwrap();
        report.outlets().next().unwrap().cnr.first().unwrap().nominal
    }

    #[test]
    fn no_amplifier_makes_the_ratio_better_however_little_comes_out() {
        // 45 dB, and kTB times F - 1 at the input: 10 dBmV less 57.93 dBmV less 4.74 dB.
        let right = -10.0 * (1e-4_f64 * 0.316_228 + f64::powf(10.0, -6.7932 + 0.4743)).log10();
        for gain in [20.0, 0.0, -20.0] {
            assert!((f64::from(ratio_behind(gain)) - right).abs() <= 2e-3, "{gain} dB: {}", ratio_behind(gain));
        }
        for gain in [-60.0, -100.0, -200.0, -300.0] {
            assert!(ratio_behind(gain) <= 45.0 + 1e-4, "{gain} dB: {}", ratio_behind(gain));
        }
    }
}
