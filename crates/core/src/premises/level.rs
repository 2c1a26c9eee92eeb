//! The forward level at one port and one frequency, by a walk up to the entry.
//!
//! A whole check works out many frequencies at many places side by side and needs room for it. A
//! meter that asks about one place needs none: it adds up what the parts on one way lose.

use super::tree::Tree;
use crate::curve::Between;
use crate::math::max;
use crate::parts::{PortLoss, Slope};
use crate::{Case, Curve, Error, Figure, Frequency, Level, PortId};

impl Tree<'_, '_> {
    /// The level of a carrier at a port in one case: what the entry's readings say at that frequency, less
    /// what every part on the way loses, plus what amplifiers gain. A block's offset is left out.
    ///
    /// Any frequency will do; beyond the ends of a table its end holds, beyond those of readings and of a
    /// cable's table the line of the last two points goes on. The port of an outlet is
    /// [`Outlet::port`](crate::Outlet::port). The figure is that of a [`Report`](crate::Report), within f32's
    /// rounding.
    ///
    /// ```
    /// use legwork::{Block, Case, Db, Entry, Frequency, Part, Point, Points, PortId, Premises, Service, Split, Way};
    ///
    /// let mhz = Frequency::constant;
    /// let blocks = [Block::new(mhz(57.0), mhz(861.0), mhz(6.0), Db::ZERO)?];
    /// let service = Service::new(Split { return_top: mhz(42.0), forward_bottom: mhz(54.0) }, &blocks)?;
    /// let readings = [Point::constant(57.0, 12.0), Point::constant(861.0, 7.0)];
    /// let mut home = Premises::<8, 16, 4, 1>::new(service, Entry::new(Points::new(&readings)?)?);
    /// let pad = home.add(PortId::ENTRY, Part::Pad(Db::constant(3.0)))?;
    /// let pad = home.port(pad, Way::Only)?;
    ///
    /// let level = home.tree().level_at(pad, mhz(57.0), Case::Nominal)?;
    /// assert_eq!(level.dbmv(), 9.0);
    /// # Ok::<(), legwork::Error>(())
    /// ```
    ///
    /// # Errors
    /// [`Error::NoSuch`] port, [`Error::DcOnly`] where no signal goes there.
    pub fn level_at(&self, port: PortId, frequency: Frequency, case: Case) -> Result<Level, Error> {
        if !self.ports.get(port.index()).ok_or(Error::NoSuch { what: "port" })?.signal {
            return Err(Error::DcOnly);
        }
        let read = self.entry.forward.at(frequency.mhz(), Between::SquareRoot);
        let mut level = read - case.sign() * self.entry.spread;
        for (_, placed, through) in self.way_up(port.0) {
            let number = self.ports.get(through as usize).map_or(0, |port| port.number);
            level -= match placed.part.loss(number) {
                PortLoss::Fixed(loss) => loss,
                PortLoss::Run(cable, length, place) => {
                    let spread = 1.0 + case.sign() * cable.spread.percent() * 0.01;
                    let factor = cable.loss_factor(length, self.climate.temperature(place, case)) * spread;
                    max(factor, 0.0) * held(&cable.loss, cable.loss.at_square_root(frequency))
                }
                PortLoss::Table(Slope { curve, spread }) => {
                    let loss = held(curve, curve.at(frequency));
                    match case {
                        Case::Nominal => loss,
                        Case::Most => loss + spread,
                        Case::Least => max(loss - spread, 0.0),
                    }
                }
                PortLoss::Amplified => {
                    placed.part.amplifier().map_or(0.0, |spec| case.sign() * spec.spread.db() - spec.gain.at(frequency))
                }
                // No signal leaves that way, as the port has said above.
                PortLoss::None => 0.0,
            };
        }
        Ok(Level::unchecked(level))
    }

    /// The level of a carrier at a port, nominal and at both extremes: [`level_at`](Self::level_at) in all
    /// three cases, in dBmV.
    ///
    /// # Errors
    /// As [`level_at`](Self::level_at).
    pub fn levels_at(&self, port: PortId, frequency: Frequency) -> Result<Figure, Error> {
        let mut cases = [0.0; 3];
        for (level, case) in cases.iter_mut().zip(Case::ALL) {
            *level = self.level_at(port, frequency, case)?.dbmv();
        }
        Ok(Figure::of(&cases))
    }
}

/// What a table says of a loss, never less than nothing.
fn held(curve: &Curve<'_>, loss: f32) -> f32 {
    if curve.is_flat() { loss } else { max(loss, 0.0) }
}

#[cfg(test)]
#[allow(clippy::unwrap_used, clippy::indexing_slicing, reason = "a test may panic")]
mod tests {
    use crate::{
        Amplifier, Amps, Block, Cable, Case, Climate, Curve, Db, DcPorts, Device, Draw, Entry, Error, Frequency,
        Length, Outlet, Part, Percent, Place, Point, Points, PortId, Premises, Service, Split, Splitter, Temperature,
        Volts, Way, Workspace, tables,
    };

    const READ: [Point; 3] = [Point::constant(57.0, 9.5), Point::constant(453.0, 8.0), Point::constant(861.0, 4.25)];
    static AMPLIFIER: Amplifier = Amplifier {
        outputs: 2,
        gain: Curve::table(&[Point::constant(54.0, 11.0), Point::constant(1002.0, 14.0)]),
        return_gain: None,
        passive: Some(Curve::flat(3.75)),
        spread: Db::constant(0.75),
        noise_figure: Curve::flat(5.0),
        isolation: Curve::flat(25.0),
        network_loss: None,
        max_input_total: f32::INFINITY,
        max_output_total: f32::INFINITY,
        max_return_total: f32::INFINITY,
        split: None,
        draw: Draw::Current(Amps::constant(0.2)),
        runs_on: (Volts::constant(10.0), Volts::constant(18.0)),
        dc_ports: DcPorts { power: true, input: false, outputs: 0 },
        band: None,
    };
    static CABLE: Cable = Cable { spread: Percent::constant(5.0), ..tables::SERIES_6 };
    static SPLITTER: Splitter = Splitter { spread: Db::constant(0.5), ..tables::SPLITTER_2 };
    /// Below zero at its lower end, less than its spread at its middle.
    static TRAP: crate::Filter = crate::Filter {
        loss: Curve::table(&[Point::constant(50.0, -0.5), Point::constant(861.0, 1.0)]),
        spread: Db::constant(0.3),
        reflects: None,
        dc: None,
        band: None,
    };

    fn home(blocks: &[Block]) -> Premises<'_, 12, 24, 6, 1> {
        let mhz = Frequency::constant;
        let service = Service::new(Split { return_top: mhz(42.0), forward_bottom: mhz(54.0) }, blocks).unwrap();
        let entry = Entry { spread: 0.5, ..Entry::new(Points::new(&READ).unwrap()).unwrap() };
        let mut home = Premises::new(service, entry);
        let climate = Climate::REFERENCE.with(Place::Attic, Temperature::constant(-5.0), Temperature::constant(60.0));
        home.set_climate(climate.unwrap());
        let run = Part::Cable { spec: &CABLE, length: Length::constant(21.5), place: Place::Attic };
        let run = home.add(PortId::ENTRY, run).unwrap();
        let trap = home.add(home.port(run, Way::Only).unwrap(), Part::Filter(&TRAP)).unwrap();
        let amplifier = home.add(home.port(trap, Way::Only).unwrap(), Part::Amplifier(&AMPLIFIER)).unwrap();
        let split = home.add(home.port(amplifier, Way::Output(2)).unwrap(), Part::Splitter(&SPLITTER)).unwrap();
        let tap = home.add(home.port(split, Way::Output(1)).unwrap(), Part::Coupler(&tables::COUPLER_9)).unwrap();
        let pad = home.add(home.port(amplifier, Way::Passive).unwrap(), Part::Pad(Db::constant(6.0))).unwrap();
        for (part, way) in [(pad, Way::Only), (tap, Way::Tap), (tap, Way::Through), (split, Way::Output(2))] {
            home.add_outlet(home.port(part, way).unwrap(), Outlet::new(Device::Tv)).unwrap();
        }
        home
    }

    fn blocks() -> [Block; 1] {
        let mhz = Frequency::constant;
        [Block::new(mhz(57.0), mhz(861.0), mhz(6.0), Db::ZERO).unwrap()]
    }

    #[test]
    fn a_level_is_the_one_that_the_report_states() {
        let blocks = blocks();
        let home = home(&blocks);
        let mut room = Workspace::<24, 12, 60, 1, 60>::new();
        let report = room.check(&home.tree()).unwrap();
        let mut figures = 0;
        for outlet in report.outlets() {
            let port = home.tree().outlets()[outlet.outlet.index()].port();
            for (mhz, want) in report.forward_frequencies().zip(outlet.forward) {
                let got = home.tree().levels_at(port, Frequency::constant(mhz)).unwrap();
                // Six losses below 32 dB, added in the other order: an ulp each.
                for (got, want) in [(got.nominal, want.nominal), (got.low, want.low), (got.high, want.high)] {
                    assert!((got - want).abs() <= 6.0 * 2e-6, "{mhz} MHz: {got}, not {want}");
                }
                figures += 1;
            }
        }
        assert_eq!(figures, 4 * 3);
    }

    #[test]
    fn between_readings_a_level_lies_between_theirs() {
        let blocks = blocks();
        let home = home(&blocks);
        let at = |mhz| home.tree().level_at(PortId::ENTRY, Frequency::constant(mhz), Case::Nominal).unwrap().dbmv();
        assert_eq!(at(57.0), 9.5);
        assert!(at(600.0) < 8.0 && at(600.0) > 4.25);
        let most = home.tree().level_at(PortId::ENTRY, Frequency::constant(57.0), Case::Most).unwrap();
        assert_eq!(most.dbmv(), 9.0);
    }

    #[test]
    fn a_port_of_another_home_or_without_signal_is_refused() {
        let blocks = blocks();
        let home = home(&blocks);
        let tree = home.tree();
        let foreign = PortId(tree.port_count() as u16);
        assert_eq!(tree.levels_at(foreign, Frequency::MIN), Err(Error::NoSuch { what: "port" }));
        let amplifier = tree.parts().find(|(_, part)| part.amplifier().is_some()).unwrap().0;
        let power = home.port(amplifier, Way::Power).unwrap();
        assert_eq!(tree.level_at(power, Frequency::MAX, Case::Least), Err(Error::DcOnly));
    }
}
