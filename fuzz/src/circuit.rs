//! DC in a home, worked out another way than the core does: in `f64`, voltages swept from the supply outward and currents
//! inward until nothing moves.
//!
//! Begun at the unloaded voltage the sweeps fall towards the highest solution and never past it. They come slowly
//! where that is near its end, so an answer is asked for with a little more or a little less load than there is.

use legwork::{Draw, Occupant, Part, PartId, PortId, Tree};

/// A port that DC reaches.
#[derive(Clone, Debug)]
pub struct Reached {
    /// Which.
    pub port: PortId,
    /// The one before it on the way from the supply, by its place in the list; the first has none.
    pub before: Option<usize>,
    /// Resistance of the step to it.
    pub step: f64,
    /// Resistance from the supply's terminals to it.
    pub ohms: f64,
    /// Amplifiers that draw here.
    pub draws: Vec<PartId>,
}

/// What a supply's DC reaches, nearest first.
#[derive(Clone, Debug)]
pub struct Circuit {
    /// The ports.
    pub ports: Vec<Reached>,
    /// Whether another supply stands at one of them.
    pub joined: bool,
    volts: f64,
}

/// What becomes of a circuit under load.
#[derive(Clone, Debug)]
pub enum State {
    /// It holds, with these volts at its ports.
    Holds(Vec<f64>),
    /// No voltage carries the load.
    Collapsed,
    /// The sweeps came to no end.
    Unknown,
}

/// Resistance from a part's input to a way out at 20 C; none where DC does not pass.
fn step(part: &Part<'_>, number: u8) -> Option<f64> {
    let ohms = |ohms: legwork::Ohms| f64::from(ohms.ohms());
    match *part {
        Part::Cable { spec, length, .. } => {
            Some(ohms(spec.loop_resistance) * f64::from(length.metres()) / f64::from(spec.per.metres()))
        }
        Part::Splitter(spec) => (spec.dc_pass & (1 << number) != 0).then(|| ohms(spec.dc_ohms)),
        Part::Coupler(spec) => [spec.dc_through, spec.dc_tap][usize::from(number)].then(|| ohms(spec.dc_ohms)),
        Part::Equalizer(spec) => spec.dc.map(ohms),
        Part::Filter(spec) => spec.dc.map(ohms),
        Part::Inserter(spec) => (number == 1).then(|| ohms(spec.dc_ohms)),
        Part::Bond(spec, _) => Some(ohms(spec.dc_ohms)),
        Part::Joint(spec) => Some(ohms(spec.dc_ohms)),
        Part::Pad(_) | Part::Amplifier(_) => None,
    }
}

/// The amplifiers that draw at a port.
fn draws(tree: &Tree<'_, '_>, port: PortId) -> Vec<PartId> {
    let drawing = tree.parts().filter(|(id, part)| {
        let Some(spec) = part.amplifier() else { return false };
        let at_input = spec.dc_ports.input && tree.after(*id) == Some(port);
        let at_output = tree.owner(port).is_some_and(|(owner, number)| {
            let output = number < spec.outputs && spec.dc_ports.outputs & (1 << number) != 0;
            let power = spec.dc_ports.power && number + 1 == part.ways();
            owner == *id && (output || power)
        });
        at_input || at_output
    });
    drawing.map(|(id, _)| id).collect()
}

impl Circuit {
    /// What a supply's DC reaches.
    #[must_use]
    pub fn new(tree: &Tree<'_, '_>, supply: usize) -> Self {
        let spec = tree.supplies()[supply];
        let source = f64::from(spec.source.ohms());
        let first =
            Reached { port: spec.port(), before: None, step: source, ohms: source, draws: draws(tree, spec.port()) };
        let mut circuit = Self { ports: vec![first], joined: false, volts: f64::from(spec.volts.volts()) };
        let mut next = 0;
        while next < circuit.ports.len() {
            let here = circuit.ports[next].port;
            let mut steps = Vec::new();
            if let Some((owner, number)) = tree.owner(here) {
                steps.extend(step(tree.part(owner).unwrap(), number).zip(tree.after(owner)));
            }
            match tree.occupant(here).unwrap() {
                Occupant::Part(part) => {
                    for (number, way) in tree.ways_out(part).enumerate() {
                        steps.extend(step(tree.part(part).unwrap(), number as u8).map(|ohms| (ohms, way)));
                    }
                }
                Occupant::Supply(other) => circuit.joined |= other.index() != supply,
                _ => {}
            }
            for (step, port) in steps {
                if circuit.ports.iter().all(|known| known.port != port) {
                    let ohms = circuit.ports[next].ohms + step;
                    circuit.ports.push(Reached { port, before: Some(next), step, ohms, draws: draws(tree, port) });
                }
            }
            next += 1;
        }
        circuit
    }

    /// Currents through the steps to each port, at these volts and so many times the load.
    #[must_use]
    pub fn currents(&self, tree: &Tree<'_, '_>, volts: &[f64], times: f64) -> Vec<f64> {
        let mut amps: Vec<f64> = self
            .ports
            .iter()
            .zip(volts)
            .map(|(port, volts)| {
                let draw = |id: &PartId| match tree.part(*id).and_then(Part::amplifier).unwrap().draw {
                    Draw::Power(watts) => times * f64::from(watts.watts()) / volts,
                    Draw::Current(amps) => times * f64::from(amps.amps()),
                };
                port.draws.iter().map(draw).sum()
            })
            .collect();
        for (place, port) in self.ports.iter().enumerate().rev() {
            if let Some(before) = port.before {
                amps[before] += amps[place];
            }
        }
        amps
    }

    /// Settles it under so many times its load.
    #[must_use]
    pub fn settle(&self, tree: &Tree<'_, '_>, times: f64) -> State {
        let mut volts = vec![self.volts; self.ports.len()];
        if self.volts <= 0.0 {
            return State::Collapsed;
        }
        for _ in 0..3000 {
            let amps = self.currents(tree, &volts, times);
            let mut change = 0.0_f64;
            for (place, port) in self.ports.iter().enumerate() {
                let before = port.before.map_or(self.volts, |before| volts[before]);
                let now = before - port.step * amps[place];
                if now <= 0.0 || !now.is_finite() {
                    return State::Collapsed;
                }
                change = change.max((now - volts[place]).abs());
                volts[place] = now;
            }
            if change <= self.volts * 1e-11 {
                return State::Holds(volts);
            }
        }
        State::Unknown
    }
}
