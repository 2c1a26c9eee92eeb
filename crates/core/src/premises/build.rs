//! Building a home, part by part, in fixed storage.

use heapless::Vec;

use super::tree::{Entry, HomeNetwork, Occupant, Outlet, Placed, Port, Supply, Tree};
use crate::parts::{Part, Way};
use crate::{Climate, Device, Error, Limits, OutletId, PartId, PortId, Service, SupplyId, tables};

/// A home of at most `PARTS` parts, `PORTS` ports (every way out counts, and the entry),
/// `OUTLETS` outlets and `SUPPLIES` supplies.
///
/// ```
/// use legwork::{tables, Block, Db, Device, Entry, Frequency, Length, Outlet, Part, Place, Point, Points};
/// use legwork::{PortId, Premises, Service, Split, Way};
///
/// let mhz = |mhz| Frequency::new(mhz).unwrap();
/// let blocks = [Block::new(mhz(57.0), mhz(861.0), mhz(6.0), Db::ZERO)?];
/// let service = Service::new(Split { return_top: mhz(42.0), forward_bottom: mhz(54.0) }, &blocks)?;
/// let readings = [Point::constant(57.0, 12.0), Point::constant(861.0, 7.0)];
/// let entry = Entry::new(Points::new(&readings)?)?;
///
/// let mut home = Premises::<8, 16, 4, 1>::new(service, entry);
/// let run = Part::Cable { spec: &tables::SERIES_6, length: Length::from_feet(40.0)?, place: Place::Indoor };
/// let run = home.add(PortId::ENTRY, run)?;
/// let split = home.add(home.port(run, Way::Only)?, Part::Splitter(&tables::SPLITTER_2))?;
/// home.add_outlet(home.port(split, Way::Output(1))?, Outlet::new(Device::Modem))?;
/// home.terminate(home.port(split, Way::Output(2))?)?;
/// assert_eq!(home.tree().outlets().len(), 1);
/// # Ok::<(), legwork::Error>(())
/// ```
#[derive(Clone, Debug)]
pub struct Premises<'s, const PARTS: usize, const PORTS: usize, const OUTLETS: usize, const SUPPLIES: usize> {
    service: Service<'s>,
    entry: Entry<'s>,
    climate: Climate,
    home_network: Option<HomeNetwork>,
    limits: [Limits; 4],
    targets: [Limits; 4],
    parts: Vec<Placed<'s>, PARTS>,
    ports: Vec<Port, PORTS>,
    outlets: Vec<Outlet, OUTLETS>,
    supplies: Vec<Supply, SUPPLIES>,
    members: Vec<OutletId, OUTLETS>,
}

impl<'s, const PARTS: usize, const PORTS: usize, const OUTLETS: usize, const SUPPLIES: usize>
    Premises<'s, PARTS, PORTS, OUTLETS, SUPPLIES>
{
    /// Numbers are 16 bit, one of them kept free; a larger capacity does not compile.
    const CAPACITIES_FIT: () = assert!(
        PARTS < 65_535 && PORTS < 65_535 && OUTLETS < 65_535 && SUPPLIES < 65_535 && PORTS > 0,
        "a capacity is out of range"
    );

    /// A home with nothing in it but its entry: 20 C everywhere, the built-in limits, no target.
    pub fn new(service: Service<'s>, entry: Entry<'s>) -> Self {
        const { Self::CAPACITIES_FIT };
        let mut ports = Vec::new();
        // There is room for one: see the assertion above.
        let _ = ports.push(Port { owner: Port::NOBODY, number: 0, signal: true, occupant: Occupant::Open });
        Self {
            service,
            entry,
            climate: Climate::REFERENCE,
            home_network: None,
            limits: tables::LIMITS,
            targets: [Limits::NONE; 4],
            parts: Vec::new(),
            ports,
            outlets: Vec::new(),
            supplies: Vec::new(),
            members: Vec::new(),
        }
    }

    /// Takes away every part, outlet and supply, and the home network; what was read, the climate and the limits stay.
    pub fn clear(&mut self) {
        self.home_network = None;
        self.parts.clear();
        self.outlets.clear();
        self.supplies.clear();
        self.members.clear();
        self.ports.truncate(1);
        self.occupy(PortId::ENTRY, Occupant::Open);
    }

    /// Sets how warm it gets.
    pub const fn set_climate(&mut self, climate: Climate) {
        self.climate = climate;
    }

    /// Sets another service and entry: will the home live through an upgrade?
    pub const fn set_service(&mut self, service: Service<'s>, entry: Entry<'s>) {
        self.service = service;
        self.entry = entry;
    }

    /// Sets the home network; members join by [`join`](Self::join).
    pub const fn set_home_network(&mut self, network: HomeNetwork) {
        self.home_network = Some(network);
    }

    /// Sets a device's limits. An unused jack has none.
    pub fn set_limits(&mut self, device: Device, limits: Limits) {
        set(&mut self.limits, device, limits);
    }

    /// Sets an operator's target for a device.
    pub fn set_target(&mut self, device: Device, target: Limits) {
        set(&mut self.targets, device, target);
    }

    /// Hangs a part on a port.
    ///
    /// # Errors
    /// [`Error::NoSuch`] port, [`Error::PortTaken`], [`Error::DcOnly`] where a part that needs the
    /// signal is to hang on a DC-only port, [`Error::Full`] where the part or its ways out find no
    /// room. On an error nothing has changed.
    pub fn add(&mut self, after: PortId, part: Part<'s>) -> Result<PartId, Error> {
        let place = *self.free(after)?;
        if !place.signal && !part.carries_dc_alone() {
            return Err(Error::DcOnly);
        }
        let ways = part.ways();
        if self.parts.is_full() {
            return Err(Error::Full { what: "parts", capacity: PARTS });
        }
        if PORTS - self.ports.len() < usize::from(ways) {
            return Err(Error::Full { what: "ports", capacity: PORTS });
        }
        let id = self.parts.len() as u16;
        let address = part.spec_address();
        let like = self.parts.iter().position(|placed| placed.part.spec_address() == address);
        let like = if address.is_null() { id } else { like.map_or(id, |i| i as u16) };
        let placed = Placed { part, after: after.0, first_port: self.ports.len() as u16, like };
        if self.parts.push(placed).is_err() {
            return Err(Error::Full { what: "parts", capacity: PARTS });
        }
        for number in 0..ways {
            let signal = place.signal && !part.is_dc_only(number);
            let _ = self.ports.push(Port { owner: id, number, signal, occupant: Occupant::Open });
        }
        self.occupy(after, Occupant::Part(PartId(id)));
        Ok(PartId(id))
    }

    /// Hangs an outlet on a port.
    ///
    /// # Errors
    /// As [`add`](Self::add).
    pub fn add_outlet(&mut self, after: PortId, outlet: Outlet) -> Result<OutletId, Error> {
        if !self.free(after)?.signal {
            return Err(Error::DcOnly);
        }
        let id = OutletId(self.outlets.len() as u16);
        let outlet = Outlet { port: after.0, ..outlet };
        self.outlets.push(outlet).map_err(|_| Error::Full { what: "outlets", capacity: OUTLETS })?;
        self.occupy(after, Occupant::Outlet(id));
        Ok(id)
    }

    /// Hangs a supply on a port.
    ///
    /// # Errors
    /// [`Error::NoSuch`] port, [`Error::PortTaken`], [`Error::Full`].
    pub fn add_supply(&mut self, after: PortId, supply: Supply) -> Result<SupplyId, Error> {
        self.free(after)?;
        let id = SupplyId(self.supplies.len() as u16);
        let supply = Supply { port: after.0, ..supply };
        self.supplies.push(supply).map_err(|_| Error::Full { what: "supplies", capacity: SUPPLIES })?;
        self.occupy(after, Occupant::Supply(id));
        Ok(id)
    }

    /// Puts a 75 ohm terminator on a port.
    ///
    /// # Errors
    /// [`Error::NoSuch`] port, [`Error::PortTaken`].
    pub fn terminate(&mut self, port: PortId) -> Result<(), Error> {
        self.free(port)?;
        self.occupy(port, Occupant::Terminator);
        Ok(())
    }

    /// Makes an outlet a member of the home network.
    ///
    /// # Errors
    /// [`Error::NoSuch`] outlet.
    pub fn join(&mut self, outlet: OutletId) -> Result<(), Error> {
        if outlet.index() >= self.outlets.len() {
            return Err(Error::NoSuch { what: "outlet" });
        }
        if self.members.contains(&outlet) {
            return Ok(());
        }
        self.members.push(outlet).map_err(|_| Error::Full { what: "members", capacity: OUTLETS })
    }

    /// A way out of a part.
    ///
    /// # Errors
    /// [`Error::NoSuch`] part, or a part without that way out.
    pub fn port(&self, part: PartId, way: Way) -> Result<PortId, Error> {
        let placed = self.parts.get(part.index()).ok_or(Error::NoSuch { what: "part" })?;
        let number = placed.part.number(way).ok_or(Error::NoSuch { what: "port" })?;
        Ok(PortId(placed.first_port + u16::from(number)))
    }

    /// A way out of a part by its number; the first is number 0.
    ///
    /// # Errors
    /// [`Error::NoSuch`] part, or a part with fewer ways out.
    pub fn port_number(&self, part: PartId, number: u8) -> Result<PortId, Error> {
        let placed = self.parts.get(part.index()).ok_or(Error::NoSuch { what: "part" })?;
        if number >= placed.part.ways() {
            return Err(Error::NoSuch { what: "port" });
        }
        Ok(PortId(placed.first_port + u16::from(number)))
    }

    /// The home as the calculations see it.
    #[must_use]
    pub fn tree(&self) -> Tree<'_, 's> {
        Tree {
            service: &self.service,
            entry: &self.entry,
            climate: &self.climate,
            home_network: self.home_network.as_ref(),
            limits: &self.limits,
            targets: &self.targets,
            members: &self.members,
            parts: &self.parts,
            ports: &self.ports,
            outlets: &self.outlets,
            supplies: &self.supplies,
        }
    }

    /// The port, if it is there and nothing hangs on it.
    fn free(&self, port: PortId) -> Result<&Port, Error> {
        let port = self.ports.get(port.index()).ok_or(Error::NoSuch { what: "port" })?;
        if port.occupant == Occupant::Open { Ok(port) } else { Err(Error::PortTaken) }
    }

    fn occupy(&mut self, port: PortId, occupant: Occupant) {
        if let Some(port) = self.ports.get_mut(port.index()) {
            port.occupant = occupant;
        }
    }
}

fn set(all: &mut [Limits; 4], device: Device, limits: Limits) {
    if let Some(slot) = all.get_mut(device as usize) {
        *slot = limits;
    }
}
