//! What every calculation reads: slices over a home, whatever its capacities.

use crate::parts::Part;
use crate::{
    Amps, Band, Climate, Curve, Db, Device, Error, Limits, Ohms, OutletId, PartId, Percent, Points, PortId, Service,
    SupplyId, Volts,
};

/// What was read at the point of entry, on the house side.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Entry<'s> {
    /// Forward levels in dBmV, at least two.
    pub forward: Points<'s>,
    /// Carrier-to-noise ratio in dB, where it was read.
    pub cnr: Option<Curve<'s>>,
    /// What a modem plugged in right there sends, in dBmV a channel, where it was read.
    pub transmit: Option<Points<'s>>,
    /// How far all levels move with season and meter, plus or minus, in dB.
    pub spread: f32,
    /// Whether the shield is bonded ahead of the entry.
    pub bonded: bool,
}

impl<'s> Entry<'s> {
    /// An entry with these forward readings and nothing else.
    ///
    /// # Errors
    /// [`Error::BadTable`] for fewer than two readings.
    pub const fn new(forward: Points<'s>) -> Result<Self, Error> {
        if forward.as_slice().len() < 2 {
            return Err(Error::BadTable { why: "of forward readings has fewer than two" });
        }
        Ok(Self { forward, cnr: None, transmit: None, spread: 0.0, bonded: false })
    }
}

/// Devices that talk to each other over the coax.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct HomeNetwork {
    /// Their band.
    pub band: Band,
    /// The most loss between two of them, in dB; infinite where not checked.
    pub max_loss: f32,
}

/// An outlet.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Outlet {
    /// What stands there.
    pub device: Device,
    /// Whether it has to stay up through a mains cut.
    pub lifeline: bool,
    pub(crate) port: u16,
}

impl Outlet {
    /// An outlet with a device.
    #[must_use]
    pub const fn new(device: Device) -> Self {
        Self { device, lifeline: false, port: 0 }
    }

    /// One that has to stay up through a mains cut.
    #[must_use]
    pub const fn lifeline(device: Device) -> Self {
        Self { device, lifeline: true, port: 0 }
    }

    /// The port it hangs on.
    #[must_use]
    pub const fn port(&self) -> PortId {
        PortId(self.port)
    }
}

/// A plug-in DC supply.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Supply {
    /// Its voltage.
    pub volts: Volts,
    /// Plus or minus, in percent of the voltage.
    pub spread: Percent,
    /// Its own resistance.
    pub source: Ohms,
    /// What it can give.
    pub amps: Amps,
    pub(crate) port: u16,
}

impl Supply {
    /// A supply without spread or resistance of its own.
    #[must_use]
    pub const fn new(volts: Volts, amps: Amps) -> Self {
        Self { volts, spread: Percent::MIN, source: Ohms::MIN, amps, port: 0 }
    }

    /// With a spread and a resistance of its own.
    #[must_use]
    pub const fn with(mut self, spread: Percent, source: Ohms) -> Self {
        self.spread = spread;
        self.source = source;
        self
    }

    /// The port it hangs on.
    #[must_use]
    pub const fn port(&self) -> PortId {
        PortId(self.port)
    }
}

/// What hangs on a port.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[cfg_attr(feature = "serde", derive(serde::Serialize), serde(rename_all = "kebab-case"))]
pub enum Occupant {
    /// Nothing.
    Open,
    /// A 75 ohm terminator.
    Terminator,
    /// A part.
    Part(PartId),
    /// An outlet.
    Outlet(OutletId),
    /// A supply.
    Supply(SupplyId),
}

/// A port and what is known of it without any calculation.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Port {
    /// The part it is a way out of, [`NOBODY`](Self::NOBODY) for the entry.
    pub(crate) owner: u16,
    /// Which way out of that part.
    pub(crate) number: u8,
    /// Whether the signal goes there.
    pub(crate) signal: bool,
    pub(crate) occupant: Occupant,
}

impl Port {
    pub(crate) const NOBODY: u16 = u16::MAX;
    /// Where there is no port yet.
    pub(super) const NONE: Self = Self { owner: Self::NOBODY, number: 0, signal: false, occupant: Occupant::Open };
}

/// A part where it stands.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Placed<'s> {
    pub(crate) part: Part<'s>,
    /// The port it hangs on: its input.
    pub(crate) after: u16,
    /// Its first way out; the others follow.
    pub(crate) first_port: u16,
}

impl Placed<'_> {
    /// Where there is no part yet.
    pub(super) const NONE: Self = Self { part: Part::Pad(Db::ZERO), after: 0, first_port: 0 };
}

/// A home as every calculation sees it.
#[derive(Clone, Copy, Debug)]
pub struct Tree<'a, 's> {
    /// What the network offers.
    pub service: &'a Service<'s>,
    /// What was read at the entry.
    pub entry: &'a Entry<'s>,
    /// How warm it gets.
    pub climate: &'a Climate,
    /// The home network, where there is one.
    pub home_network: Option<&'a HomeNetwork>,
    pub(crate) limits: &'a [Limits; 4],
    pub(crate) targets: &'a [Limits; 4],
    pub(crate) members: &'a [OutletId],
    pub(crate) parts: &'a [Placed<'s>],
    pub(crate) ports: &'a [Port],
    pub(crate) outlets: &'a [Outlet],
    pub(crate) supplies: &'a [Supply],
}

impl<'a, 's> Tree<'a, 's> {
    /// The outlets, in the order they were added.
    #[must_use]
    pub const fn outlets(&self) -> &'a [Outlet] {
        self.outlets
    }

    /// The outlet of a number, in the order they were added.
    #[must_use]
    pub const fn outlet_id(&self, number: usize) -> Option<OutletId> {
        if number < self.outlets.len() { Some(OutletId(number as u16)) } else { None }
    }

    /// The part of a number, in the order they were added.
    #[must_use]
    pub const fn part_id(&self, number: usize) -> Option<PartId> {
        if number < self.parts.len() { Some(PartId(number as u16)) } else { None }
    }

    /// The supplies, in the order they were added.
    #[must_use]
    pub const fn supplies(&self) -> &'a [Supply] {
        self.supplies
    }

    /// The members of the home network, in the order they joined.
    #[must_use]
    pub const fn members(&self) -> &'a [OutletId] {
        self.members
    }

    /// The parts, in the order they were added.
    pub fn parts(&self) -> impl ExactSizeIterator<Item = (PartId, &'a Part<'s>)> + use<'a, 's> {
        self.parts.iter().enumerate().map(|(i, placed)| (PartId(i as u16), &placed.part))
    }

    /// How many ports, the entry included.
    #[must_use]
    pub const fn port_count(&self) -> usize {
        self.ports.len()
    }

    /// The port of a number: 0 is the entry, and those of a part follow each other.
    #[must_use]
    pub const fn port_id(&self, number: usize) -> Option<PortId> {
        if number < self.ports.len() { Some(PortId(number as u16)) } else { None }
    }

    /// A part.
    #[must_use]
    pub fn part(&self, part: PartId) -> Option<&'a Part<'s>> {
        self.parts.get(part.index()).map(|placed| &placed.part)
    }

    /// The port a part hangs on: its input.
    #[must_use]
    pub fn after(&self, part: PartId) -> Option<PortId> {
        self.parts.get(part.index()).map(|placed| PortId(placed.after))
    }

    /// The ways out of a part, the first first; none for a part of another home.
    pub fn ways_out(&self, part: PartId) -> impl DoubleEndedIterator<Item = PortId> + ExactSizeIterator + use<> {
        let placed = self.parts.get(part.index());
        let (first, ways) = placed.map_or((0, 0), |placed| (placed.first_port, u16::from(placed.part.ways())));
        (first..first.saturating_add(ways)).map(PortId)
    }

    /// The part a port is a way out of, and its number there; [`None`] for the entry.
    #[must_use]
    pub fn owner(&self, port: PortId) -> Option<(PartId, u8)> {
        let port = self.ports.get(port.index())?;
        (port.owner != Port::NOBODY).then_some((PartId(port.owner), port.number))
    }

    /// What hangs on a port.
    #[must_use]
    pub fn occupant(&self, port: PortId) -> Option<Occupant> {
        self.ports.get(port.index()).map(|port| port.occupant)
    }

    /// Whether a port carries the signal.
    #[must_use]
    pub fn carries_signal(&self, port: PortId) -> bool {
        self.ports.get(port.index()).is_some_and(|port| port.signal)
    }

    /// The limits of a device; [`Limits::NONE`] for an unused jack.
    #[must_use]
    pub fn limits(&self, device: Device) -> &'a Limits {
        limits_of(self.limits, device)
    }

    /// The operator's target for a device; [`Limits::NONE`] where there is none.
    #[must_use]
    pub fn target(&self, device: Device) -> &'a Limits {
        limits_of(self.targets, device)
    }

    /// The part that a port is a way out of; [`None`] for the entry.
    #[cfg_attr(target_os = "none", inline(never))]
    pub(crate) fn above(&self, port: u16) -> Option<&'a Placed<'s>> {
        self.parts.get(self.ports.get(port as usize)?.owner as usize)
    }

    /// The ways from a port up to the entry: each port on the way that belongs to a part, with it.
    pub(crate) fn way_up(&self, port: u16) -> impl Iterator<Item = (u16, &'a Placed<'s>, u16)> + use<'a, 's> {
        let (ports, parts, mut next) = (self.ports, self.parts, port);
        core::iter::from_fn(move || {
            let through = next;
            let owner = ports.get(through as usize)?.owner;
            let placed = parts.get(owner as usize)?;
            next = placed.after;
            // The part's number, the part, the port it is left by (towards where the walk began).
            Some((owner, placed, through))
        })
    }
}

fn limits_of(all: &[Limits; 4], device: Device) -> &Limits {
    all.get(device as usize).unwrap_or(&Limits::NONE)
}
