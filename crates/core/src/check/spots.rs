//! What is known of each port from the wiring alone.

use crate::premises::Port;
use crate::walk::{Node, Stage};
use crate::{Band, Device, Occupant, Part, Tree};

/// One port, in the light of what lies on its way to the entry and behind it.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct Spot {
    /// The nearest amplifier whose amplified output is on the way: its number among the
    /// amplifiers plus one, 0 for none.
    pub(crate) above: u16,
    /// The nearest port, this one or one on the way, behind a filter that sends something back; 0 for none.
    pub(crate) mirror: u16,
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
    /// Members of the home network talk through it: one bit for the lower edge of its band, one for the upper.
    pub(crate) linked: u8,
}

/// Finds out what stands behind every port, and where a total is asked for.
#[cfg_attr(target_os = "none", inline(never))]
pub(super) fn survey(tree: &Tree<'_, '_>, stages: &[Stage], nodes: &mut [Node]) {
    let mut want_total = |port: u16| {
        if let Some(node) = nodes.get_mut(port as usize) {
            node.spot.wants_total = true;
        }
    };
    for stage in stages {
        if let Some(placed) = tree.parts.get(stage.part as usize) {
            want_total(placed.after);
            // Every output has the first one's.
            want_total(placed.first_port);
        }
    }
    for outlet in tree.outlets.iter().filter(|outlet| outlet.device != Device::Unused) {
        let Some(node) = nodes.get_mut(outlet.port as usize) else { continue };
        node.spot.wants_total = true;
        let sends = outlet.device.is_modem() && !node.spot.no_return;
        let mut next = Some(outlet.port);
        while let Some(port) = next
            && let Some(node) = nodes.get_mut(port as usize)
        {
            node.spot.device_behind = true;
            node.spot.modem_behind |= sends;
            next = (port != 0).then_some(node.edge.from);
        }
    }
}

/// The filters on the way from a port to the entry that send something back, the nearest first: the port behind each,
/// and what comes back to it.
pub(crate) fn mirrors<'t, 's>(
    tree: &'t Tree<'_, 's>,
    nodes: &'t [Node],
    mut port: u16,
) -> impl Iterator<Item = (u16, &'s Band)> + use<'t, 's> {
    core::iter::from_fn(move || {
        let behind = nodes.get(port as usize)?.spot.mirror;
        let Part::Filter(filter) = tree.above(behind)?.part else { return None };
        port = nodes.get(behind as usize)?.edge.from;
        Some((behind, filter.reflects.as_ref()?))
    })
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
