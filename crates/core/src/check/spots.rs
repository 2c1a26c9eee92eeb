//! What is known of each port from the wiring alone.

use heapless::VecView;

use crate::premises::Port;
use crate::walk::AmplifierRows;
use crate::{Error, Occupant, Tree};

/// One port, in the light of what lies on its way to the entry and behind it.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct Spot {
    /// The nearest amplifier whose amplified output is on the way: its number among the
    /// amplifiers plus one, 0 for none.
    pub(crate) above: u16,
    /// How many amplified outputs are on the way.
    pub(crate) amplified: u16,
    /// An amplifier without a return path is on the way.
    pub(crate) no_return: bool,
    /// Its total power is asked for.
    pub(crate) wants_total: bool,
    /// A modem that can send stands behind it.
    pub(crate) modem_behind: bool,
    /// A device stands behind it.
    pub(crate) device_behind: bool,
    /// Members of the home network talk through it, at the lower and at the upper edge of its band.
    pub(crate) linked: [bool; 2],
}

/// Finds out about every port.
///
/// # Errors
/// [`Error::Full`] where ports find no room.
#[cfg_attr(target_os = "none", inline(never))]
pub(crate) fn survey(
    tree: &Tree<'_, '_>,
    amplifiers: &[AmplifierRows],
    spots: &mut VecView<Spot>,
) -> Result<(), Error> {
    spots.clear();
    let capacity = spots.capacity();
    let mut next_amplifier = 0;
    let mut current = (0, 0);
    for port in tree.ports {
        let mut spot = Spot::default();
        if port.owner != Port::NOBODY
            && let Some(placed) = tree.parts.get(port.owner as usize)
        {
            spot = spots.get(placed.after as usize).copied().unwrap_or_default();
            spot.wants_total = false;
            if let Some(spec) = placed.part.amplifier() {
                if port.number == 0 {
                    // Amplifiers are numbered in the order of their parts, as are ports.
                    next_amplifier += 1;
                    current = (port.owner, next_amplifier);
                }
                if port.number < spec.outputs && current.0 == port.owner {
                    spot.above = current.1;
                    spot.amplified += 1;
                    spot.no_return |= spec.return_gain.is_none();
                    spot.wants_total = port.number == 0;
                }
            }
        }
        spots.push(spot).map_err(|_| Error::Full { what: "ports", capacity })?;
    }
    for rows in amplifiers {
        if let Some(placed) = tree.parts.get(rows.part as usize)
            && let Some(spot) = spots.get_mut(placed.after as usize)
        {
            spot.wants_total = true;
        }
    }
    for outlet in tree.outlets.iter().filter(|outlet| outlet.device != crate::Device::Unused) {
        let sends = outlet.device.is_modem() && spots.get(outlet.port as usize).is_some_and(|spot| !spot.no_return);
        if let Some(spot) = spots.get_mut(outlet.port as usize) {
            spot.wants_total = true;
        }
        for (_, _, port) in tree.way_up(outlet.port) {
            if let Some(spot) = spots.get_mut(port as usize) {
                spot.device_behind = true;
                spot.modem_behind |= sends;
            }
        }
    }
    Ok(())
}

/// Whether a part stands on the way to an outlet with a device.
pub(crate) fn leads_to_a_device(tree: &Tree<'_, '_>, spots: &[Spot], part: usize) -> bool {
    let Some(placed) = tree.parts.get(part) else { return false };
    let first = placed.first_port as usize;
    spots.iter().skip(first).take(placed.part.ways() as usize).any(|spot| spot.device_behind)
}

/// Whether something hangs on a port that keeps it from being open.
pub(crate) fn is_open(tree: &Tree<'_, '_>, port: &Port) -> bool {
    match port.occupant {
        Occupant::Open => port.signal,
        Occupant::Outlet(outlet) => {
            tree.outlets.get(outlet.index()).is_some_and(|outlet| outlet.device == crate::Device::Unused)
        }
        _ => false,
    }
}
