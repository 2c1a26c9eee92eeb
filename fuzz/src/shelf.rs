//! Parts of any kind, built in or with figures of their own.

use bumpalo::Bump;
use legwork::{
    Amplifier, Amps, Awg, Band, Bond, Cable, Conductor, Coupler, Curve, Db, DcPorts, Draw, Equalizer, Filter,
    Frequency, Inserter, Joint, Legs, Length, Ohms, Part, Percent, Place, Point, Split, Splitter, Volts, Watts, tables,
};

use crate::Drawn;

/// Where specs live as long as an input.
pub struct Shelf<'b> {
    /// Their place.
    pub arena: &'b Bump,
    /// How much more than in homes their figures may be.
    pub wild: bool,
}

const DB: (f32, f32) = (-300.0, 300.0);
const LOSS: (f32, f32) = (0.0, 300.0);

impl<'b> Shelf<'b> {
    /// A number as the shelf allows.
    fn number(&self, drawn: &mut Drawn<'_>, tame: (f32, f32), all: (f32, f32)) -> f32 {
        if self.wild { drawn.number(tame, all) } else { drawn.tame(tame) }
    }

    fn db(&self, drawn: &mut Drawn<'_>, tame: (f32, f32), all: (f32, f32)) -> Db {
        Db::constant(self.number(drawn, tame, all))
    }

    /// A resistance.
    pub fn ohms(&self, drawn: &mut Drawn<'_>, most: f32) -> Ohms {
        Ohms::constant(self.number(drawn, (0.0, most), (0.0, 1e9)))
    }

    /// A table: one value, or up to four points that rise in frequency.
    pub fn curve(&self, drawn: &mut Drawn<'_>, tame: (f32, f32), all: (f32, f32)) -> Curve<'b> {
        match drawn.below(4) {
            0 => Curve::Flat(self.db(drawn, tame, all)),
            more => self.points(drawn, 1 + more, tame, all),
        }
    }

    /// At least one point, in all so many that rise in frequency.
    pub fn points(&self, drawn: &mut Drawn<'_>, count: usize, tame: (f32, f32), all: (f32, f32)) -> Curve<'b> {
        let mut points = vec![Point::new(self.frequency(drawn, (5.0, 100.0)), self.db(drawn, tame, all))];
        for _ in 1..count {
            let last = points[points.len() - 1];
            let mhz = last.frequency().mhz() + self.number(drawn, (1.0, 900.0), (1e-6, 1e6));
            let next = Frequency::new(mhz).map(|next| Point::new(next, self.db(drawn, tame, all)));
            match next {
                Ok(next) if Curve::points(&[last, next]).is_ok() => points.push(next),
                _ => break,
            }
        }
        Curve::points(self.arena.alloc_slice_copy(&points)).expect("points that rise")
    }

    /// A frequency.
    pub fn frequency(&self, drawn: &mut Drawn<'_>, tame: (f32, f32)) -> Frequency {
        Frequency::constant(self.number(drawn, tame, (1e-6, 1e6)))
    }

    /// A band.
    pub fn band(&self, drawn: &mut Drawn<'_>, (low, high): (f32, f32)) -> Option<Band> {
        let middle = (low + high) / 2.0;
        Band::new(self.frequency(drawn, (low, middle)), self.frequency(drawn, (middle, high))).ok()
    }

    fn vouched(&self, drawn: &mut Drawn<'_>) -> Option<Band> {
        if drawn.one_in(4) { self.band(drawn, (5.0, 1800.0)) } else { None }
    }

    /// A part of any kind.
    pub fn part(&self, drawn: &mut Drawn<'_>) -> Part<'b> {
        match drawn.below(11) {
            0 | 1 => {
                let length = Length::constant(self.number(drawn, (0.0, 60.0), (0.0, 1e6)));
                let place = drawn.pick(&[Place::Indoor, Place::Outdoor, Place::Attic]);
                Part::Cable { spec: self.cable(drawn), length, place }
            }
            2 => Part::Splitter(self.splitter(drawn)),
            3 => Part::Coupler(self.coupler(drawn)),
            4 => Part::Pad(self.db(drawn, (0.0, 12.0), LOSS)),
            5 => {
                let dc = if drawn.one_in(2) { Some(self.ohms(drawn, 1.0)) } else { None };
                let loss = self.curve(drawn, (0.0, 9.0), LOSS);
                let spread = self.db(drawn, (0.0, 1.0), LOSS);
                Part::Equalizer(self.arena.alloc(Equalizer { loss, spread, dc, band: self.vouched(drawn) }))
            }
            6 => Part::Filter(self.filter(drawn)),
            7 => Part::Amplifier(self.amplifier(drawn)),
            8 => Part::Inserter(if drawn.one_in(2) {
                let (loss, spread) = (self.curve(drawn, (0.0, 2.0), LOSS), self.db(drawn, (0.0, 1.0), LOSS));
                let dc_ohms = self.ohms(drawn, 1.0);
                self.arena.alloc(Inserter { loss, spread, dc_ohms, band: self.vouched(drawn) })
            } else {
                &tables::INSERTER
            }),
            9 => {
                let size = if drawn.one_in(2) { Some(Awg::constant(drawn.tame((0.0, 50.0)))) } else { None };
                let length = if drawn.one_in(2) { Some(Length::constant(drawn.tame((0.0, 20.0)))) } else { None };
                Part::Bond(self.bond(drawn), Conductor { size, length })
            }
            _ => Part::Joint(if drawn.one_in(2) {
                let Bond { loss, spread, dc_ohms, band } = *self.bond(drawn);
                self.arena.alloc(Joint { loss, spread, dc_ohms, band })
            } else {
                &tables::JOINT
            }),
        }
    }

    /// A cable.
    pub fn cable(&self, drawn: &mut Drawn<'_>) -> &'b Cable<'b> {
        let built_in =
            [&tables::SERIES_6, &tables::SERIES_59, &tables::SERIES_6_COPPER, &tables::SERIES_7, &tables::SERIES_11];
        if !drawn.one_in(3) {
            return drawn.pick(&built_in);
        }
        self.arena.alloc(Cable {
            loss: self.curve(drawn, (0.0, 20.0), LOSS),
            per: Length::constant(self.number(drawn, (1.0, 100.0), (1e-3, 1e6))),
            loop_resistance: self.ohms(drawn, 30.0),
            velocity: 0.85,
            spread: Percent::constant(self.number(drawn, (0.0, 10.0), (0.0, 100.0))),
            band: self.vouched(drawn),
        })
    }

    /// A splitter of one to eight legs.
    pub fn splitter(&self, drawn: &mut Drawn<'_>) -> &'b Splitter<'b> {
        let built_in = [&tables::SPLITTER_2, &tables::SPLITTER_3, &tables::SPLITTER_3_UNEQUAL, &tables::SPLITTER_4];
        if !drawn.one_in(3) {
            return drawn.pick(&built_in);
        }
        let legs = 1 + drawn.below(8);
        let legs = if drawn.one_in(2) {
            let each: Vec<Curve<'b>> = (0..legs).map(|_| self.curve(drawn, (3.0, 16.0), LOSS)).collect();
            Legs::Each(self.arena.alloc_slice_copy(&each))
        } else {
            Legs::Alike(legs as u8, self.curve(drawn, (3.0, 16.0), LOSS))
        };
        self.arena.alloc(Splitter {
            legs,
            spread: self.db(drawn, (0.0, 1.0), LOSS),
            isolation: self.curve(drawn, (15.0, 35.0), LOSS),
            dc_pass: drawn.below(256) as u16,
            dc_ohms: self.ohms(drawn, 1.0),
            band: self.vouched(drawn),
        })
    }

    /// A coupler.
    pub fn coupler(&self, drawn: &mut Drawn<'_>) -> &'b Coupler<'b> {
        if !drawn.one_in(2) {
            return drawn.pick(&[&tables::COUPLER_9, &tables::COUPLER_6, &tables::COUPLER_16]);
        }
        self.arena.alloc(Coupler {
            tap: self.curve(drawn, (6.0, 20.0), LOSS),
            through: self.curve(drawn, (0.5, 3.0), LOSS),
            spread: self.db(drawn, (0.0, 1.0), LOSS),
            isolation: self.curve(drawn, (15.0, 35.0), LOSS),
            dc_through: drawn.one_in(2),
            dc_tap: drawn.one_in(2),
            dc_ohms: self.ohms(drawn, 1.0),
            band: self.vouched(drawn),
        })
    }

    /// A filter.
    pub fn filter(&self, drawn: &mut Drawn<'_>) -> &'b Filter<'b> {
        if !drawn.one_in(2) {
            return &tables::ENTRY_FILTER;
        }
        self.arena.alloc(Filter {
            loss: self.curve(drawn, (0.0, 40.0), LOSS),
            spread: self.db(drawn, (0.0, 1.0), LOSS),
            reflects: if drawn.one_in(2) { self.band(drawn, (900.0, 1800.0)) } else { None },
            dc: if drawn.one_in(2) { Some(self.ohms(drawn, 1.0)) } else { None },
            band: self.vouched(drawn),
        })
    }

    fn bond(&self, drawn: &mut Drawn<'_>) -> &'b Bond<'b> {
        if !drawn.one_in(2) {
            return &tables::BOND;
        }
        self.arena.alloc(Bond {
            loss: self.curve(drawn, (0.0, 2.0), LOSS),
            spread: self.db(drawn, (0.0, 1.0), LOSS),
            dc_ohms: self.ohms(drawn, 1.0),
            band: self.vouched(drawn),
        })
    }

    /// What an amplifier draws.
    pub fn draw(&self, drawn: &mut Drawn<'_>) -> Draw {
        if drawn.one_in(2) {
            Draw::Current(Amps::constant(self.number(drawn, (0.0, 0.5), (0.0, 1e4))))
        } else {
            Draw::Power(Watts::constant(self.number(drawn, (0.0, 12.0), (0.0, 1e6))))
        }
    }

    /// An amplifier of one to four outputs.
    pub fn amplifier(&self, drawn: &mut Drawn<'_>) -> &'b Amplifier<'b> {
        let maybe = |drawn: &mut Drawn<'_>, tame, all| {
            if drawn.one_in(2) { Some(self.curve(drawn, tame, all)) } else { None }
        };
        let most = |drawn: &mut Drawn<'_>, tame| {
            if drawn.one_in(2) { self.number(drawn, tame, DB) } else { f32::INFINITY }
        };
        let lowest = self.number(drawn, (5.0, 15.0), (0.0, 1e4));
        let split = Split {
            return_top: self.frequency(drawn, (30.0, 90.0)),
            forward_bottom: self.frequency(drawn, (50.0, 110.0)),
        };
        self.arena.alloc(Amplifier {
            outputs: 1 + drawn.below(4) as u8,
            gain: self.curve(drawn, (5.0, 25.0), DB),
            return_gain: maybe(drawn, (-6.0, 10.0), DB),
            passive: maybe(drawn, (2.0, 8.0), LOSS),
            spread: self.db(drawn, (0.0, 1.0), LOSS),
            noise_figure: self.curve(drawn, (2.0, 10.0), LOSS),
            isolation: self.curve(drawn, (15.0, 35.0), LOSS),
            network_loss: maybe(drawn, (2.0, 12.0), LOSS),
            max_input_total: most(drawn, (20.0, 40.0)),
            max_output_total: most(drawn, (30.0, 55.0)),
            max_return_total: most(drawn, (35.0, 65.0)),
            split: drawn.one_in(3).then_some(split),
            draw: self.draw(drawn),
            runs_on: (
                Volts::constant(lowest),
                Volts::constant(lowest.max(self.number(drawn, (15.0, 30.0), (0.0, 1e4)))),
            ),
            dc_ports: DcPorts { power: drawn.one_in(2), input: drawn.one_in(3), outputs: drawn.below(16) as u16 },
            band: self.vouched(drawn),
        })
    }
}
