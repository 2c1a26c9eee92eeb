//! Building a home, part by part, in fixed storage: on a board as its wiring is read, or while compiling.

use super::list::List;
use super::tree::{Entry, HomeNetwork, Occupant, Outlet, Placed, Port, Supply, Tree};
use crate::parts::{Part, Way};
use crate::{Amps, Climate, Device, Error, Limits, OutletId, PartId, PortId, Service, SupplyId, Volts, tables};

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
    parts: List<Placed<'s>, PARTS>,
    ports: List<Port, PORTS>,
    outlets: List<Outlet, OUTLETS>,
    supplies: List<Supply, SUPPLIES>,
    members: List<OutletId, OUTLETS>,
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
    pub const fn new(service: Service<'s>, entry: Entry<'s>) -> Self {
        const { Self::CAPACITIES_FIT };
        let mut ports = List::new(Port::NONE);
        // There is room for one: see the assertion above.
        let _ = ports.push(Port { owner: Port::NOBODY, number: 0, signal: true, occupant: Occupant::Open });
        Self {
            service,
            entry,
            climate: Climate::REFERENCE,
            home_network: None,
            limits: tables::LIMITS,
            targets: [Limits::NONE; 4],
            parts: List::new(Placed::NONE),
            ports,
            outlets: List::new(Outlet::new(Device::Unused)),
            supplies: List::new(Supply::new(Volts::MIN, Amps::MIN)),
            members: List::new(OutletId(0)),
        }
    }

    /// Takes away every part, outlet and supply, and the home network; what was read, the climate and the limits stay.
    pub const fn clear(&mut self) {
        self.home_network = None;
        self.parts.truncate(0);
        self.outlets.truncate(0);
        self.supplies.truncate(0);
        self.members.truncate(0);
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
    pub const fn set_limits(&mut self, device: Device, limits: Limits) {
        set(&mut self.limits, device, limits);
    }

    /// Sets an operator's target for a device.
    pub const fn set_target(&mut self, device: Device, target: Limits) {
        set(&mut self.targets, device, target);
    }

    /// Hangs a part on a port.
    ///
    /// # Errors
    /// [`Error::NoSuch`] port, [`Error::PortTaken`], [`Error::DcOnly`] where a part that needs the
    /// signal is to hang on a DC-only port, [`Error::Full`] where the part or its ways out find no
    /// room. On an error nothing has changed.
    pub const fn add(&mut self, after: PortId, part: Part<'s>) -> Result<PartId, Error> {
        let carries_signal = match self.free(after) {
            Ok(port) => port.signal,
            Err(error) => return Err(error),
        };
        if !carries_signal && !part.carries_dc_alone() {
            return Err(Error::DcOnly);
        }
        let ways = part.ways();
        if self.parts.len() >= PARTS {
            return Err(Error::Full { what: "parts", capacity: PARTS });
        }
        if PORTS - self.ports.len() < ways as usize {
            return Err(Error::Full { what: "ports", capacity: PORTS });
        }
        let id = self.parts.len() as u16;
        let _ = self.parts.push(Placed { part, after: after.0, first_port: self.ports.len() as u16 });
        let mut number = 0;
        while number < ways {
            let signal = carries_signal && !part.is_dc_only(number);
            let _ = self.ports.push(Port { owner: id, number, signal, occupant: Occupant::Open });
            number += 1;
        }
        self.occupy(after, Occupant::Part(PartId(id)));
        Ok(PartId(id))
    }

    /// Hangs an outlet on a port.
    ///
    /// # Errors
    /// As [`add`](Self::add).
    pub const fn add_outlet(&mut self, after: PortId, outlet: Outlet) -> Result<OutletId, Error> {
        match self.free(after) {
            Ok(port) if port.signal => {}
            Ok(_) => return Err(Error::DcOnly),
            Err(error) => return Err(error),
        }
        let id = OutletId(self.outlets.len() as u16);
        if !self.outlets.push(Outlet { port: after.0, ..outlet }) {
            return Err(Error::Full { what: "outlets", capacity: OUTLETS });
        }
        self.occupy(after, Occupant::Outlet(id));
        Ok(id)
    }

    /// Hangs a supply on a port.
    ///
    /// # Errors
    /// [`Error::NoSuch`] port, [`Error::PortTaken`], [`Error::Full`].
    pub const fn add_supply(&mut self, after: PortId, supply: Supply) -> Result<SupplyId, Error> {
        if let Err(error) = self.free(after) {
            return Err(error);
        }
        let id = SupplyId(self.supplies.len() as u16);
        if !self.supplies.push(Supply { port: after.0, ..supply }) {
            return Err(Error::Full { what: "supplies", capacity: SUPPLIES });
        }
        self.occupy(after, Occupant::Supply(id));
        Ok(id)
    }

    /// Puts a 75 ohm terminator on a port.
    ///
    /// # Errors
    /// [`Error::NoSuch`] port, [`Error::PortTaken`].
    pub const fn terminate(&mut self, port: PortId) -> Result<(), Error> {
        if let Err(error) = self.free(port) {
            return Err(error);
        }
        self.occupy(port, Occupant::Terminator);
        Ok(())
    }

    /// Makes an outlet a member of the home network.
    ///
    /// # Errors
    /// [`Error::NoSuch`] outlet.
    pub const fn join(&mut self, outlet: OutletId) -> Result<(), Error> {
        if outlet.index() >= self.outlets.len() {
            return Err(Error::NoSuch { what: "outlet" });
        }
        let mut members = self.members.as_slice();
        while let [member, others @ ..] = members {
            if member.0 == outlet.0 {
                return Ok(());
            }
            members = others;
        }
        if self.members.push(outlet) { Ok(()) } else { Err(Error::Full { what: "members", capacity: OUTLETS }) }
    }

    /// A way out of a part.
    ///
    /// # Errors
    /// [`Error::NoSuch`] part, or a part without that way out.
    pub const fn port(&self, part: PartId, way: Way) -> Result<PortId, Error> {
        let Some(placed) = self.parts.get(part.index()) else { return Err(Error::NoSuch { what: "part" }) };
        match placed.part.number(way) {
            Some(number) => Ok(PortId(placed.first_port + number as u16)),
            None => Err(Error::NoSuch { what: "port" }),
        }
    }

    /// A way out of a part by its number; the first is number 0.
    ///
    /// # Errors
    /// [`Error::NoSuch`] part, or a part with fewer ways out.
    pub const fn port_number(&self, part: PartId, number: u8) -> Result<PortId, Error> {
        let Some(placed) = self.parts.get(part.index()) else { return Err(Error::NoSuch { what: "part" }) };
        if number >= placed.part.ways() {
            return Err(Error::NoSuch { what: "port" });
        }
        Ok(PortId(placed.first_port + number as u16))
    }

    /// The home as the calculations see it.
    #[must_use]
    pub const fn tree(&self) -> Tree<'_, 's> {
        Tree {
            service: &self.service,
            entry: &self.entry,
            climate: &self.climate,
            home_network: self.home_network.as_ref(),
            limits: &self.limits,
            targets: &self.targets,
            members: self.members.as_slice(),
            parts: self.parts.as_slice(),
            ports: self.ports.as_slice(),
            outlets: self.outlets.as_slice(),
            supplies: self.supplies.as_slice(),
        }
    }

    /// The port, if it is there and nothing hangs on it.
    const fn free(&self, port: PortId) -> Result<&Port, Error> {
        match self.ports.get(port.index()) {
            None => Err(Error::NoSuch { what: "port" }),
            Some(port) if matches!(port.occupant, Occupant::Open) => Ok(port),
            Some(_) => Err(Error::PortTaken),
        }
    }

    const fn occupy(&mut self, port: PortId, occupant: Occupant) {
        if let Some(port) = self.ports.get_mut(port.index()) {
            port.occupant = occupant;
        }
    }
}

const fn set(all: &mut [Limits; 4], device: Device, limits: Limits) {
    if let Some((_, [slot, ..])) = all.split_at_mut_checked(device as usize) {
        *slot = limits;
    }
}
