//! What a builder should hold after any operations: plain lists, and the rules of the builder as its documentation has them.

use legwork::{Error, Occupant, Outlet, OutletId, Part, PartId, PortId, Premises, Supply, Tree, Way};

/// A port.
#[derive(Clone, Copy, Debug)]
pub struct Known {
    /// Whether the signal goes there.
    pub signal: bool,
    /// What hangs on it.
    pub occupant: Occupant,
}

/// The lists, and how long they may be: parts, ports, outlets, supplies.
#[derive(Clone, Debug)]
pub struct Model<'b> {
    most: [usize; 4],
    /// The ports.
    pub ports: Vec<Known>,
    /// The parts, with the port each hangs on.
    pub parts: Vec<(PortId, Part<'b>)>,
    /// The outlets, with the port each hangs on.
    pub outlets: Vec<(PortId, Outlet)>,
    /// The supplies, with the port each hangs on.
    pub supplies: Vec<(PortId, Supply)>,
    /// The members of the home network.
    pub members: Vec<OutletId>,
}

impl<'b> Model<'b> {
    /// An entry, and room for so many parts, ports, outlets and supplies.
    #[must_use]
    pub fn new(most: [usize; 4]) -> Self {
        let entry = Known { signal: true, occupant: Occupant::Open };
        let (parts, outlets, supplies, members) = (Vec::new(), Vec::new(), Vec::new(), Vec::new());
        Self { most, ports: vec![entry], parts, outlets, supplies, members }
    }

    fn free(&self, port: PortId) -> Result<Known, Error> {
        let known = *self.ports.get(port.index()).ok_or(Error::NoSuch { what: "port" })?;
        if known.occupant == Occupant::Open { Ok(known) } else { Err(Error::PortTaken) }
    }

    /// What adding a part should say.
    ///
    /// # Errors
    /// What it should refuse.
    pub fn may_add(&self, after: PortId, part: &Part<'_>) -> Result<(), Error> {
        let only_carries = matches!(part, Part::Cable { .. } | Part::Joint(_) | Part::Bond(..));
        if !self.free(after)?.signal && !only_carries {
            return Err(Error::DcOnly);
        }
        let [parts, ports, ..] = self.most;
        if self.parts.len() == parts {
            return Err(Error::Full { what: "parts", capacity: parts });
        }
        if self.ports.len() + usize::from(part.ways()) > ports {
            return Err(Error::Full { what: "ports", capacity: ports });
        }
        Ok(())
    }

    /// Notes a part that was added.
    pub fn add(&mut self, after: PortId, part: Part<'b>, id: PartId) {
        let signal = self.ports[after.index()].signal;
        for number in 0..part.ways() {
            let dc_only = matches!(part.way(number), Some(Way::Power | Way::Dc));
            self.ports.push(Known { signal: signal && !dc_only, occupant: Occupant::Open });
        }
        self.parts.push((after, part));
        self.ports[after.index()].occupant = Occupant::Part(id);
    }

    /// What adding an outlet should say.
    ///
    /// # Errors
    /// What it should refuse.
    pub fn may_add_outlet(&self, after: PortId) -> Result<(), Error> {
        if !self.free(after)?.signal {
            return Err(Error::DcOnly);
        }
        let [.., outlets, _] = self.most;
        if self.outlets.len() == outlets { Err(Error::Full { what: "outlets", capacity: outlets }) } else { Ok(()) }
    }

    /// What adding a supply should say.
    ///
    /// # Errors
    /// What it should refuse.
    pub fn may_add_supply(&self, after: PortId) -> Result<(), Error> {
        self.free(after)?;
        let [.., supplies] = self.most;
        if self.supplies.len() == supplies { Err(Error::Full { what: "supplies", capacity: supplies }) } else { Ok(()) }
    }

    /// What a terminator should say.
    ///
    /// # Errors
    /// What it should refuse.
    pub fn may_terminate(&self, port: PortId) -> Result<(), Error> {
        self.free(port).map(|_| ())
    }

    /// Compares it with what a home shows.
    ///
    /// # Panics
    /// Where they differ.
    pub fn is(&self, tree: &Tree<'_, '_>) {
        assert_eq!(tree.port_count(), self.ports.len());
        assert_eq!(tree.members(), self.members);
        assert!(tree.port_id(self.ports.len()).is_none() && tree.part_id(self.parts.len()).is_none());
        for (number, known) in self.ports.iter().enumerate() {
            let port = tree.port_id(number).expect("a port");
            assert_eq!(tree.occupant(port), Some(known.occupant));
            assert_eq!(tree.carries_signal(port), known.signal);
            assert_eq!(tree.owner(port).is_none(), number == 0);
        }
        assert_eq!(tree.parts().len(), self.parts.len());
        let mut next = 1;
        for ((id, part), (after, known)) in tree.parts().zip(&self.parts) {
            assert_eq!((part, tree.after(id)), (known, Some(*after)));
            for (number, port) in tree.ways_out(id).enumerate() {
                assert_eq!((port.index(), tree.owner(port)), (next, Some((id, number as u8))));
                next += 1;
            }
        }
        assert_eq!(next, self.ports.len());
        let placed = tree.outlets().iter().map(|outlet| (outlet.port(), outlet.device, outlet.lifeline));
        let wanted = self.outlets.iter().map(|(port, outlet)| (*port, outlet.device, outlet.lifeline));
        assert!(placed.eq(wanted));
        let placed = tree.supplies().iter().map(|supply| (supply.port(), supply.volts, supply.amps));
        assert!(placed.eq(self.supplies.iter().map(|(port, supply)| (*port, supply.volts, supply.amps))));
    }

    /// Builds the same from these lists, in a home without any of it.
    ///
    /// # Panics
    /// Where that home has no room for it.
    pub fn build<const PARTS: usize, const PORTS: usize, const OUTLETS: usize, const SUPPLIES: usize>(
        &self,
        home: &mut Premises<'b, PARTS, PORTS, OUTLETS, SUPPLIES>,
    ) {
        for (after, part) in &self.parts {
            home.add(*after, *part).expect("room for a part");
        }
        for (after, outlet) in &self.outlets {
            home.add_outlet(*after, *outlet).expect("room for an outlet");
        }
        for (after, supply) in &self.supplies {
            home.add_supply(*after, *supply).expect("room for a supply");
        }
        for (number, known) in self.ports.iter().enumerate() {
            if known.occupant == Occupant::Terminator {
                let port = home.tree().port_id(number).expect("a port");
                home.terminate(port).expect("a free port");
            }
        }
        for member in &self.members {
            home.join(*member).expect("an outlet");
        }
    }
}
