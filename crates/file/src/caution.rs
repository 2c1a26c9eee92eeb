//! What can hurt or be broken: every caution with its words and its condition. It is said only where the condition holds.

use std::fmt;

use legwork::{Code, Device, Occupant, Part, PartId, Place, Report, Tree};

use crate::locate::Located;

/// A caution.
#[derive(Debug)]
pub struct Caution {
    /// What to heed, in a sentence or more.
    pub says: &'static str,
    holds: fn(&Scene<'_>) -> bool,
}

impl Caution {
    /// Whether it is called for.
    #[must_use]
    pub fn holds(&self, scene: &Scene<'_>) -> bool {
        (self.holds)(scene)
    }
}

/// With the word `Caution` before it, as it goes on from there.
impl fmt::Display for Caution {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "Caution: {}", self.says)
    }
}

/// There is DC.
pub static DC_ON_COAX: Caution = Caution {
    says: "there is DC on this coax. Unplug the supply before you open a joint, and keep meters and sets off ports that carry it.",
    holds: |scene| scene.has_dc(),
};

/// There may be a supply, though none feeds the coax.
pub static SUPPLY_INSIDE: Caution = Caution {
    says: "plug-in supplies carry mains. Leave their inside to licensed hands.",
    holds: |scene| !scene.has_dc() && scene.has(|part| matches!(part, Part::Amplifier(_))),
};

/// The bond is not what it has to be.
pub static SHIELD_UNBONDED: Caution = Caution {
    says: "an unbonded shield can carry mains or lightning current. Test it against ground first, do no such work in a storm, and follow local code and licensed practice.",
    holds: |scene| scene.found(&[Code::BondMissing, Code::BondLong, Code::BondThin]),
};

/// A joint may be opened in search of a fault.
pub static DC_PERHAPS: Caution = Caution {
    says: "there may be DC on this coax. Unplug the supply before you open a joint.",
    holds: |scene| scene.accused().next().is_some() && !scene.tree.supplies().is_empty(),
};

/// The fault may be in the bond or outdoors.
pub static SHIELD_OPEN: Caution = Caution {
    says: "an open shield can carry mains or lightning current. Test it against ground before you open it, and do no such work in a storm.",
    holds: |scene| {
        scene.accused().any(|part| matches!(part, Part::Bond(..) | Part::Cable { place: Place::Outdoor, .. }))
    },
};

/// Something is going to be wired.
pub static ANY_WORK: Caution = Caution {
    says: "test the shield against ground before you open a bond or the lead-in, leave bonding to last when taking down, plug a supply in last and take it out first, do no such work in a storm, and follow local code and licensed practice.",
    holds: |_| true,
};

/// A telephone goes through the coax.
pub static PHONE_DROPS: Caution = Caution {
    says: "Phone and alarm drop during the work. Say so and ask before you disconnect.",
    holds: |scene| scene.tree.outlets().iter().any(|outlet| outlet.device == Device::VoiceModem || outlet.lifeline),
};

/// There is cable outdoors.
pub static STORM: Caution = Caution {
    says: "No work on the drop or outdoors in a storm.",
    holds: |scene| scene.has(|part| matches!(part, Part::Cable { place: Place::Outdoor, .. })),
};

/// The shield is bonded here, or nowhere.
pub static SHIELD_AT_WORK: Caution = Caution {
    says: "An unbonded shield can carry mains or lightning current. Test the shield against ground before you open a bond or a drop. Bond first, off last.",
    holds: |scene| scene.has_bond_to_see_to(),
};

/// The same, where what was found of the bond is written down.
pub static SHIELD_AT_BOND: Caution = Caution {
    says: "Test the shield against ground first. Local code and licensed practice say how it is bonded.",
    holds: |scene| scene.has_bond_to_see_to(),
};

/// There is a home network.
pub static NEIGHBOURS: Caution = Caution {
    says: "Without a filter at the entry the home network reaches the neighbours.",
    holds: |scene| scene.tree.home_network.is_some(),
};

/// There is cable to pull.
pub static DRILL: Caution = Caution {
    says: "Before you drill, look for wires and pipes behind the wall.",
    holds: |scene| scene.has(|part| matches!(part, Part::Cable { .. })),
};

/// A way out has nothing on it.
pub static WAY_OPEN: Caution = Caution {
    says: "An open way out lets noise in and signal out: put a 75 ohm terminator on it.",
    holds: |scene| {
        let tree = scene.tree;
        let is_open = |port| matches!(tree.occupant(port), Some(Occupant::Open | Occupant::Terminator));
        let mut ways = tree.parts().flat_map(|(part, _)| tree.ways_out(part));
        ways.any(|port| tree.carries_signal(port) && is_open(port))
            || tree.outlets().iter().any(|outlet| outlet.device == Device::Unused)
    },
};

/// There is a supply.
pub static SUPPLY_LAST: Caution = Caution {
    says: "The supply is the last to be plugged in and the first to be pulled. It carries mains: leave its inside to licensed hands.",
    holds: |scene| !scene.tree.supplies().is_empty(),
};

/// There is DC, where its figures stand.
pub static DC_AT_PORTS: Caution = Caution {
    says: "DC on these ports: no TV, and no meter without a DC block. Pull the supply before you measure ohms or open a joint.",
    holds: |scene| scene.has_dc(),
};

/// There is DC, where levels are to be read.
pub static DC_AT_READING: Caution = Caution {
    says: "There is DC on this coax: no meter on a port that carries it without a DC block.",
    holds: |scene| scene.has_dc(),
};

/// What is known of a home when somebody goes to work on it.
#[derive(Debug)]
pub struct Scene<'s> {
    tree: Tree<'s, 's>,
    report: Option<&'s Report<'s, 's>>,
    /// Parts that readings accuse.
    accused: Vec<PartId>,
}

impl<'s> Scene<'s> {
    /// A home that has been checked.
    #[must_use]
    pub fn checked(report: &'s Report<'s, 's>) -> Self {
        Self { tree: *report.tree(), report: Some(report), accused: Vec::new() }
    }

    /// A home in which something was read.
    #[must_use]
    pub fn read(located: &'s Located<'s>) -> Self {
        let accused = located.diagnosis.stands_out().map(|suspect| suspect.parts().collect());
        Self { tree: located.home.tree(), report: None, accused: accused.unwrap_or_default() }
    }

    fn has(&self, wanted: fn(&Part<'_>) -> bool) -> bool {
        self.tree.parts().any(|(_, part)| wanted(part))
    }

    fn accused(&self) -> impl Iterator<Item = &Part<'s>> {
        self.accused.iter().filter_map(|part| self.tree.part(*part))
    }

    fn found(&self, codes: &[Code]) -> bool {
        self.report.is_some_and(|report| report.findings().iter().any(|finding| codes.contains(&finding.code)))
    }

    /// Where two supplies meet, no figures are worked out, but the DC is there.
    fn has_dc(&self) -> bool {
        self.report.is_some_and(|report| report.dc().next().is_some()) || self.found(&[Code::TwoSupplies])
    }

    fn has_bond_to_see_to(&self) -> bool {
        !self.tree.entry.bonded || self.has(|part| matches!(part, Part::Bond(..)))
    }
}

/// The cautions that a report calls for: one line each, never more than is relevant.
pub fn of_check<'s>(report: &'s Report<'s, 's>) -> impl Iterator<Item = &'static Caution> {
    holding([&DC_ON_COAX, &SUPPLY_INSIDE, &SHIELD_UNBONDED], Scene::checked(report))
}

/// The cautions for whoever looks at what readings accuse.
pub fn of_locating<'s>(located: &'s Located<'s>) -> impl Iterator<Item = &'static Caution> {
    holding([&DC_PERHAPS, &SHIELD_OPEN], Scene::read(located))
}

fn holding<const N: usize>(all: [&'static Caution; N], scene: Scene<'_>) -> impl Iterator<Item = &'static Caution> {
    all.into_iter().filter(move |caution| caution.holds(&scene))
}
