//! A home as a list of what hangs where, so that it can be built again with something changed.

use legwork::{Amps, Device, Outlet, Part, Percent, PortId, Premises, Supply, Volts};

use crate::{Drawn, Shelf, site};

/// What ends a way out.
#[derive(Clone, Copy, Debug)]
pub enum End {
    /// Nothing.
    Open,
    /// A terminator.
    Terminator,
    /// An outlet; a member of the home network or not.
    Outlet(Outlet, bool),
    /// A supply.
    Supply(Supply),
}

/// Parts in order, each with the number of the port it hangs on; then the ends of the ports that are left.
#[derive(Clone, Debug, Default)]
pub struct Sketch<'b> {
    /// The parts.
    pub parts: Vec<(usize, Part<'b>)>,
    /// The ends, port by port.
    pub ends: Vec<End>,
}

impl<'b> Sketch<'b> {
    /// Draws at most so many parts. Each hangs on a port that is free where there is one.
    pub fn new(drawn: &mut Drawn<'_>, shelf: &Shelf<'b>, most: usize) -> Self {
        let mut sketch = Self::default();
        let mut free = vec![0];
        let mut ports = 1;
        for _ in 0..1 + drawn.below(most) {
            if free.is_empty() || drawn.is_empty() {
                break;
            }
            let part = shelf.part(drawn);
            let place = free.swap_remove(drawn.below(free.len()));
            sketch.parts.push((place, part));
            let ways = usize::from(part.ways());
            free.extend(ports..ports + ways);
            ports += ways;
        }
        sketch.ends = (0..ports).map(|_| end(drawn, shelf)).collect();
        sketch
    }

    /// Builds it as far as there is room; what the builder refuses is left out, with all that would hang on it.
    pub fn build<const PARTS: usize, const PORTS: usize, const OUTLETS: usize, const SUPPLIES: usize>(
        &self,
        home: &mut Premises<'b, PARTS, PORTS, OUTLETS, SUPPLIES>,
    ) {
        // Ports by their numbers in the sketch; those of parts that were left out are not there.
        let mut ports = vec![Some(PortId::ENTRY)];
        for (place, part) in &self.parts {
            let id = ports[*place].and_then(|port| home.add(port, *part).ok());
            ports.extend((0..part.ways()).map(|number| home.port_number(id?, number).ok()));
        }
        for (port, end) in ports.iter().zip(&self.ends) {
            let Some(port) = *port else { continue };
            match *end {
                End::Open => {}
                End::Terminator => drop(home.terminate(port)),
                End::Supply(supply) => drop(home.add_supply(port, supply)),
                End::Outlet(outlet, member) => {
                    if let Ok(outlet) = home.add_outlet(port, outlet)
                        && member
                    {
                        home.join(outlet).expect("an outlet of this home");
                    }
                }
            }
        }
    }
}

/// What ends a way out.
fn end(drawn: &mut Drawn<'_>, shelf: &Shelf<'_>) -> End {
    match drawn.below(8) {
        0 | 1 => End::Open,
        2 => End::Terminator,
        3..6 => {
            let device = site::device(drawn);
            let outlet = if drawn.one_in(4) { Outlet::lifeline(device) } else { Outlet::new(device) };
            End::Outlet(outlet, device != Device::Unused && drawn.one_in(3))
        }
        _ => End::Supply(supply(drawn, shelf)),
    }
}

/// A supply.
pub fn supply(drawn: &mut Drawn<'_>, shelf: &Shelf<'_>) -> Supply {
    // Nothing is sold below a millivolt, and what squares to less than `f32` holds collapses there.
    let number = |drawn: &mut Drawn<'_>, tame, all| if shelf.wild { drawn.number(tame, all) } else { drawn.tame(tame) };
    let volts = Volts::constant(number(drawn, (5.0, 24.0), (1e-3, 1e4)));
    let amps = Amps::constant(number(drawn, (0.1, 2.0), (0.0, 1e4)));
    Supply::new(volts, amps).with(Percent::constant(drawn.tame((0.0, 20.0))), shelf.ohms(drawn, 2.0))
}
