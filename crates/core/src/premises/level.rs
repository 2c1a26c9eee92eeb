//! The level at one port and one frequency, in either direction, by a walk up to the entry.
//!
//! A whole check works out many frequencies at many places side by side and needs room for it. A
//! meter that asks about one place needs none: it adds up what the parts on one way lose.

use super::tree::Tree;
use crate::curve::Between;
use crate::math::max;
use crate::parts::{PortLoss, Slope};
use crate::{Amplifier, Case, Curve, Error, Figure, Frequency, Level, PortId};

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
        let lost = self.lost(port, frequency, case, |spec| Some(spec.gain.at(frequency)))?;
        let read = self.entry.forward.at(frequency.mhz(), Between::SquareRoot);
        let level = read - case.sign() * self.entry.spread;
        Ok(Level::unchecked(level - lost.unwrap_or(0.0)))
    }

    /// What a modem at a port has to send on one channel, in one case, to be heard at the entry: what one sends right
    /// there, plus what every part on the way loses, less what amplifiers gain on the way back. [`None`] where an
    /// amplifier without a return path stands on the way, or nothing was read at the entry.
    ///
    /// ```
    /// use legwork::{Block, Case, Db, Entry, Frequency, Part, Point, Points, PortId, Premises, Service, Split, Way};
    ///
    /// let mhz = Frequency::constant;
    /// let blocks = [Block::new(mhz(57.0), mhz(861.0), mhz(6.0), Db::ZERO)?];
    /// let service = Service::new(Split { return_top: mhz(42.0), forward_bottom: mhz(54.0) }, &blocks)?;
    /// let readings = [Point::constant(57.0, 12.0), Point::constant(861.0, 7.0)];
    /// let sent = [Point::constant(12.0, 37.0), Point::constant(36.0, 38.0)];
    /// let entry = Entry { transmit: Some(Points::new(&sent)?), ..Entry::new(Points::new(&readings)?)? };
    /// let mut home = Premises::<8, 16, 4, 1>::new(service, entry);
    /// let pad = home.add(PortId::ENTRY, Part::Pad(Db::constant(3.0)))?;
    /// let pad = home.port(pad, Way::Only)?;
    ///
    /// let level = home.tree().transmit_at(pad, mhz(24.0), Case::Nominal)?;
    /// assert_eq!(level.map(|level| level.dbmv()), Some(40.5));
    /// # Ok::<(), legwork::Error>(())
    /// ```
    ///
    /// # Errors
    /// As [`level_at`](Self::level_at).
    pub fn transmit_at(&self, port: PortId, frequency: Frequency, case: Case) -> Result<Option<Level>, Error> {
        let back = |spec: &Amplifier<'_>| spec.return_gain.as_ref().map(|gain| gain.at(frequency));
        let lost = self.lost(port, frequency, case, back)?;
        let Some((sent, lost)) = self.entry.transmit.zip(lost) else { return Ok(None) };
        let sent = sent.at(frequency.mhz(), Between::Linear) + case.sign() * self.entry.spread;
        Ok(Some(Level::unchecked(sent + lost)))
    }

    /// What the parts on the way from the entry to a port lose together, in dB; `gain` is an amplifier's from its
    /// input to an output, in the direction asked for, [`None`] where it has none.
    fn lost(
        &self,
        port: PortId,
        frequency: Frequency,
        case: Case,
        gain: impl Fn(&Amplifier<'_>) -> Option<f32>,
    ) -> Result<Option<f32>, Error> {
        if !self.ports.get(port.index()).ok_or(Error::NoSuch { what: "port" })?.signal {
            return Err(Error::DcOnly);
        }
        let mut lost = 0.0;
        for (_, placed, through) in self.way_up(port.0) {
            let number = self.ports.get(through as usize).map_or(0, |port| port.number);
            lost += match placed.part.loss(number) {
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
                    let Some(spec) = placed.part.amplifier() else { continue };
                    let Some(gain) = gain(spec) else { return Ok(None) };
                    case.sign() * spec.spread.db() - gain
                }
                // No signal leaves that way, as the port has said above.
                PortLoss::None => 0.0,
            };
        }
        Ok(Some(lost))
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

    /// What a modem at a port has to send, nominal and at both extremes: [`transmit_at`](Self::transmit_at) in all
    /// three cases, in dBmV.
    ///
    /// # Errors
    /// As [`level_at`](Self::level_at).
    pub fn transmits_at(&self, port: PortId, frequency: Frequency) -> Result<Option<Figure>, Error> {
        let mut cases = [0.0; 3];
        for (level, case) in cases.iter_mut().zip(Case::ALL) {
            match self.transmit_at(port, frequency, case)? {
                Some(sends) => *level = sends.dbmv(),
                None => return Ok(None),
            }
        }
        Ok(Some(Figure::of(&cases)))
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
    fn a_transmit_level_is_the_one_that_the_report_states() {
        const SENT: [Point; 2] = [Point::constant(12.0, 37.0), Point::constant(36.0, 38.5)];
        static BACK: Amplifier = Amplifier { return_gain: Some(Curve::flat(-1.5)), ..AMPLIFIER };
        let blocks = blocks();
        let service = Service::new(
            Split { return_top: Frequency::constant(42.0), forward_bottom: Frequency::constant(54.0) },
            &blocks,
        );
        let entry = Entry {
            spread: 0.5,
            transmit: Some(Points::new(&SENT).unwrap()),
            ..Entry::new(Points::new(&READ).unwrap()).unwrap()
        };
        let mut home = Premises::<12, 24, 6, 1>::new(service.unwrap(), entry);
        let run = Part::Cable { spec: &CABLE, length: Length::constant(21.5), place: Place::Attic };
        let run = home.add(PortId::ENTRY, run).unwrap();
        let split = home.add(home.port(run, Way::Only).unwrap(), Part::Splitter(&SPLITTER)).unwrap();
        for (leg, spec) in [(1, &BACK), (2, &AMPLIFIER)] {
            let amplifier = home.add(home.port(split, Way::Output(leg)).unwrap(), Part::Amplifier(spec)).unwrap();
            for way in [Way::Output(1), Way::Passive] {
                home.add_outlet(home.port(amplifier, way).unwrap(), Outlet::new(Device::Modem)).unwrap();
            }
        }
        let mut room = Workspace::<24, 12, 60, 2, 60>::new();
        let report = room.check(&home.tree()).unwrap();
        let mut figures = 0;
        for outlet in report.outlets() {
            let port = home.tree().outlets()[outlet.outlet.index()].port();
            for (row, mhz) in report.return_frequencies().enumerate() {
                let got = home.tree().transmits_at(port, Frequency::constant(mhz)).unwrap();
                let want = outlet.transmit.map(|figures| figures[row]);
                assert_eq!(got.is_some(), want.is_some());
                let (Some(got), Some(want)) = (got, want) else { continue };
                // Losses below 64 dB, added in the other order: an ulp each.
                for (got, want) in [(got.nominal, want.nominal), (got.low, want.low), (got.high, want.high)] {
                    assert!((got - want).abs() <= 4.0 * 4e-6, "{mhz} MHz: {got}, not {want}");
                }
                figures += 1;
            }
        }
        // The output of the amplifier without a way back has none.
        assert_eq!(figures, 3 * 2);
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
