//! What can hurt or be broken, said above the step it belongs to, only where it holds.

use legwork::{Code, Device, Occupant, Part, Place, Report};
use legwork_file::Home;
use maud::{Markup, html};

use super::ports;

/// What a home has that calls for a caution.
pub(super) struct Cautions {
    bonded_ahead: bool,
    bond: bool,
    outdoor: bool,
    dc: bool,
    supply: bool,
    phone: bool,
    open: bool,
    network: bool,
    cable: bool,
}

impl Cautions {
    pub(super) fn of(home: &Home<'_>, report: &Report<'_, '_>) -> Self {
        let tree = home.tree();
        let cable = |wanted: &dyn Fn(Place) -> bool| {
            tree.parts().any(|(_, part)| matches!(part, Part::Cable { place, .. } if wanted(*place)))
        };
        Self {
            bonded_ahead: tree.entry.bonded,
            bond: tree.parts().any(|(_, part)| matches!(part, Part::Bond(..))),
            outdoor: cable(&|place| place == Place::Outdoor),
            // Where two supplies meet, no figures are worked out, but the DC is there.
            dc: report.dc().next().is_some()
                || report.findings().iter().any(|finding| finding.code == Code::TwoSupplies),
            supply: !tree.supplies().is_empty(),
            phone: tree.outlets().iter().any(|outlet| outlet.device == Device::VoiceModem || outlet.lifeline),
            open: ports(home).any(|port| {
                tree.carries_signal(port) && matches!(tree.occupant(port), Some(Occupant::Open | Occupant::Terminator))
            }) || tree.outlets().iter().any(|outlet| outlet.device == Device::Unused),
            network: tree.home_network.is_some(),
            cable: cable(&|_| true),
        }
    }

    /// Whether there is DC on the coax.
    pub(super) const fn has_dc(&self) -> bool {
        self.dc
    }

    /// The steps of the work, with what to heed before each.
    pub(super) fn steps(&self) -> Vec<(Vec<&'static str>, &'static str)> {
        let mut steps = Vec::new();
        if self.phone {
            steps.push((
                vec!["Phone and alarm drop during the work. Say so and ask before you disconnect."],
                "Ask who needs the phone line or the alarm; agree on a time.",
            ));
        }
        let mut shield = Vec::new();
        if self.outdoor {
            shield.push("No work on the drop or outdoors in a storm.");
        }
        if self.bond || !self.bonded_ahead {
            shield.push("An unbonded shield can carry mains or lightning current. Test the shield against ground before you open a bond or a drop. Bond first, off last.");
        }
        if !shield.is_empty() {
            steps.push((shield, "Bond the shield at the entry."));
        }
        if self.network {
            steps.push((
                vec!["Without a filter at the entry the home network reaches the neighbours."],
                "Put the filter for the home network in at the entry.",
            ));
        }
        if self.cable {
            steps.push((
                vec!["Before you drill, look for wires and pipes behind the wall."],
                "Pull the runs, cut them as listed, tag both ends.",
            ));
        }
        let open = if self.open {
            vec!["An open way out lets noise in and signal out: put a 75 ohm terminator on it."]
        } else {
            Vec::new()
        };
        steps.push((open, "Put the parts on as drawn; tighten every connector."));
        if self.supply {
            steps.push((
                vec!["The supply is the last to be plugged in and the first to be pulled. It carries mains: leave its inside to licensed hands."],
                "Plug the supply in.",
            ));
        }
        steps.push((Vec::new(), "Read every level below; find what is outside its window."));
        if self.phone {
            steps.push((Vec::new(), "Try the phone, then again on battery with the mains pulled."));
        }
        steps.push((Vec::new(), "Check for leakage at the end, at every part and outlet."));
        steps
    }

    /// Above the table of DC.
    pub(super) fn dc(&self) -> Markup {
        html! {
            @if self.dc { p.caution { b { "Caution" } " DC on these ports: no TV, and no meter without a DC block. Pull the supply before you measure ohms or open a joint." } }
        }
    }

    /// Above what is written down of the bond.
    pub(super) fn bonding(&self) -> Markup {
        html! {
            @if self.bond || !self.bonded_ahead { p.caution { b { "Caution" } " Test the shield against ground first. Local code and licensed practice say how it is bonded." } }
        }
    }

    /// Above the table of levels.
    pub(super) fn levels(&self) -> Markup {
        html! {
            @if self.dc { p.caution { b { "Caution" } " There is DC on this coax: no meter on a port that carries it without a DC block." } }
        }
    }
}
