//! Totals come from two or three frequencies a run of carriers. Held here against every carrier
//! added up in f64, over random homes whose levels bend as those of real ones do, and harder.

use legwork::{
    Block, Cable, Curve, Db, Device, Entry, Equalizer, Figure, Frequency, Length, Ohms, Outlet, Part, Percent, Place,
    Point, Points, PortId, Premises, Service, Split, Way, Workspace,
};

/// A generator that gives the same homes on every machine.
struct Dice(u64);

impl Dice {
    /// A number from `low` up to `high`.
    fn roll(&mut self, low: f64, high: f64) -> f64 {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        low + (high - low) * ((self.0 >> 33) as f64 / (1u64 << 31) as f64)
    }

    /// Points that rise in frequency by 40 to 400 MHz, with what `value` makes of the frequency.
    fn points(&mut self, count: usize, mut value: impl FnMut(&mut Self, f64) -> f64) -> Vec<Point> {
        let mut mhz = self.roll(5.0, 60.0);
        let mut points = Vec::new();
        for _ in 0..count {
            points.push(Point::constant(mhz as f32, value(self, mhz) as f32));
            mhz += self.roll(40.0, 400.0);
        }
        points
    }
}

/// A table at a frequency, in f64: straight in the square root of frequency with the end lines
/// continued, or straight in frequency with the ends held.
fn read(points: &[Point], mhz: f64, in_root: bool) -> f64 {
    let x = |mhz: f64| if in_root { mhz.sqrt() } else { mhz };
    let at = |point: &Point| (f64::from(point.frequency().mhz()), f64::from(point.value()));
    let last = points.len() - 1;
    let upper = points.iter().position(|point| at(point).0 > mhz).unwrap_or(last).clamp(1, last);
    let ((fa, a), (fb, b)) = (at(&points[upper - 1]), at(&points[upper]));
    let share = (x(mhz) - x(fa)) / (x(fb) - x(fa));
    a + (b - a) * if in_root { share } else { share.clamp(0.0, 1.0) }
}

/// One random home; how far its totals, nominal and extreme, are from the sums of all carriers, in dB.
fn errors(dice: &mut Dice) -> [f64; 3] {
    let start = dice.roll(5.0, 20.0);
    let slope = dice.roll(-0.6, 0.3);
    let readings = dice.points(3, |dice, mhz| start + slope * mhz.sqrt() + dice.roll(-0.5, 0.5));
    let lossy = dice.roll(0.15, 0.3);
    let losses = dice.points(6, |_, mhz| lossy * mhz.sqrt() + 0.001 * mhz);
    let tilts = dice.points(4, |dice, _| dice.roll(0.5, 6.0));
    // What a spread leaves of a loss is never below zero: where it would be, the level has a kink.
    let spread = dice.roll(-2.0, 3.0).max(0.0);
    let feet = dice.roll(10.0, 400.0);

    let step = if dice.roll(0.0, 1.0) < 0.5 { 6.0 } else { 8.0 };
    let mut blocks = Vec::new();
    let mut first = dice.roll(50.0, 120.0) as f32;
    for _ in 0..2 {
        let last = first + dice.roll(0.0, 500.0) as f32;
        let offset = Db::constant(dice.roll(-6.0, 3.0) as f32);
        let [first_mhz, last_mhz, step] = [first, last, step].map(Frequency::constant);
        blocks.push(Block::new(first_mhz, last_mhz, step, offset).unwrap());
        first = last + 20.0;
    }

    let cable = Cable {
        loss: Curve::points(&losses).unwrap(),
        per: Length::from_feet(100.0).unwrap(),
        loop_resistance: Ohms::MIN,
        velocity: 0.85,
        spread: Percent::MIN,
        band: None,
    };
    let equalizer =
        Equalizer { loss: Curve::points(&tilts).unwrap(), spread: Db::constant(spread as f32), dc: None, band: None };
    let split = Split { return_top: Frequency::constant(42.0), forward_bottom: Frequency::constant(54.0) };
    let entry = Entry::new(Points::new(&readings).unwrap()).unwrap();
    let mut home = Premises::<2, 3, 1, 1>::new(Service::new(split, &blocks).unwrap(), entry);
    let length = Length::from_feet(feet as f32).unwrap();
    let run = home.add(PortId::ENTRY, Part::Cable { spec: &cable, length, place: Place::Indoor }).unwrap();
    let slant = home.add(home.port(run, Way::Only).unwrap(), Part::Equalizer(&equalizer)).unwrap();
    home.add_outlet(home.port(slant, Way::Only).unwrap(), Outlet::new(Device::Tv)).unwrap();
    let mut desk: Workspace<3, 2, 8, 1, 8> = Workspace::new();
    let tree = home.tree();
    let Figure { nominal, low, high } = desk.check(&tree).unwrap().outlets().next().unwrap().total;

    let mut sums = [0.0; 3];
    for block in &blocks {
        for number in 0..block.count() {
            let mhz = f64::from(block.first()) + f64::from(block.step()) * f64::from(number);
            let sent = read(&readings, mhz, true) + f64::from(block.offset());
            let (run, tilt) = (feet / 100.0 * read(&losses, mhz, true).max(0.0), read(&tilts, mhz, false));
            for (sum, slant) in sums.iter_mut().zip([tilt, tilt + spread, (tilt - spread).max(0.0)]) {
                *sum += 10f64.powf((sent - run - slant) / 10.0);
            }
        }
    }
    let totals = [nominal, low, high].map(f64::from);
    std::array::from_fn(|case| (totals[case] - 10.0 * sums[case].log10()).abs())
}

#[test]
fn totals_agree_with_every_carrier_added_up() {
    let mut dice = Dice(1);
    let mut errors: Vec<f64> = (0..3000).flat_map(|_| errors(&mut dice)).collect();
    errors.sort_by(f64::total_cmp);
    let (median, worst) = (errors[errors.len() / 2], errors[errors.len() - 1]);
    assert!(worst <= 1e-3, "worst error {worst:e} dB");
    assert!(median <= 1e-4, "median error {median:e} dB");
}
