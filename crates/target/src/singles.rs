//! Every calculation that needs no home, over a grid of inputs: ends, zero, and what lies between.

use core::{fmt, hint::black_box};

use legwork::quick::{
    ChannelPlan, Metal, Run, Step, carrier_to_noise, diameter_mm, echo_from_delay, echo_from_ripple, echo_strength,
    hold, largest_draw, longest_loop, power_sum, resistance, thermal_floor,
};
use legwork::{
    Amps, Awg, Block, Case, Climate, Curve, Db, Draw, Error, ExtraLoss, Frequency, Length, Level, Ohms, Place, Points,
    Service, Split, Temperature, Volts, Watts, tables,
};

use crate::specs;
use crate::sums::Checksum;

/// Frequencies: ends of what can be, of tables, on points and between. Here and below the compiler is kept from
/// seeing the inputs: `nopanic` proves what holds for any of them.
fn frequencies() -> Result<[Frequency; 9], Error> {
    let mut all = [Frequency::MIN; 9];
    let mhz = black_box([1e-6, 5.0, 42.5, 54.0, 333.3, 861.0, 1002.0, 1700.0, 1e6]);
    for (slot, mhz) in all.iter_mut().zip(mhz) {
        *slot = Frequency::new(mhz)?;
    }
    Ok(all)
}
/// Decibels.
fn decibels() -> [f32; 9] {
    black_box([-300.0, -48.75, -3.25, -0.5, 0.0, 1e-3, 6.02, 60.0, 300.0])
}

/// One checksum for each family of calculations, by name.
///
/// # Errors
/// None: every input is in range.
pub fn vectors(emit: &mut impl FnMut(&'static str, u32)) -> Result<(), Error> {
    emit("quantities", quantities()?);
    emit("curves", curves()?);
    emit("carriers", carriers()?);
    emit("climate", climate()?);
    emit("tables", lookups()?);
    emit("cable", cable()?);
    emit("along", along()?);
    emit("echo", echo()?);
    emit("feed", feed()?);
    emit("noise", noise()?);
    emit("channels", channels()?);
    emit("wire", wire()?);
    emit("errors", errors());
    emit("extra-loss", extra_loss()?);
    Ok(())
}

fn quantities() -> Result<u32, Error> {
    let mut sum = Checksum::new();
    for db in decibels() {
        let (ratio, level) = (Db::new(db)?, Level::new(db)?);
        sum.add(ratio.power_ratio());
        sum.either(Db::from_power_ratio(ratio.power_ratio()).map(Db::db));
        sum.numbers([level.dbuv(), level.dbm(), level.volts(), level.watts()]);
        sum.either(Level::from_dbuv(level.dbuv()).map(Level::dbmv));
        sum.either(Level::from_dbm(level.dbm()).map(Level::dbmv));
        sum.either(Volts::new(level.volts()).and_then(Level::from_volts).map(Level::dbmv));
        sum.either(Watts::new(level.watts()).and_then(Level::from_watts).map(Level::dbmv));
        for other in decibels() {
            sum.add(level.power_sum(Level::new(other)?).dbmv());
            sum.add((level - Level::new(other)?).db());
            sum.add((level + Db::new(other)? - ratio).dbmv());
            sum.add((-ratio + Db::new(other)?).db());
        }
    }
    let mut levels = [Level::MIN; 9];
    for (level, db) in levels.iter_mut().zip(decibels()) {
        *level = Level::new(db)?;
    }
    for from in 0..levels.len() {
        sum.maybe(power_sum(levels.get(from..).unwrap_or_default()).map(Level::dbmv));
    }
    for number in black_box([-1.0, 0.0, 0.1, 68.0, 100.0, 1e5, f32::NAN]) {
        sum.either(Temperature::from_fahrenheit(number).map(Temperature::celsius));
        sum.either(Length::from_feet(number).map(Length::feet));
    }
    Ok(sum.value())
}

fn curves() -> Result<u32, Error> {
    let mut sum = Checksum::new();
    let one = [specs::READ[1]];
    for points in [&one[..], &specs::READ, &specs::SENT, &specs::CNR] {
        let curve = Curve::points(points)?;
        sum.byte(u8::from(curve.is_flat()));
        sum.count(Points::new(points)?.as_slice().len());
        let (low, high) = Points::new(points)?.ends();
        sum.add(low);
        sum.add(high);
        for mhz in frequencies()? {
            sum.add(curve.at(mhz));
            sum.add(curve.at_square_root(mhz));
        }
        points.iter().for_each(|point| sum.numbers([point.frequency().mhz(), point.value()]));
    }
    let falling = [specs::READ[2], specs::READ[0]];
    sum.byte(u8::from(Points::new(&falling).is_err()));
    Ok(sum.value())
}

fn carriers() -> Result<u32, Error> {
    let mut sum = Checksum::new();
    for (first, last, step) in
        black_box([(57.0, 861.0, 6.0), (85.0, 999.9, 8.0), (54.5, 54.5, 1.0), (5.0, 1000.0, 0.3)])
    {
        let block = Block::new(Frequency::new(first)?, Frequency::new(last)?, Frequency::new(step)?, Db::new(-1.5)?)?;
        sum.count(usize::from(block.count()));
        sum.numbers([block.first(), block.last(), block.step(), block.offset()]);
        (0..block.count()).step_by(7).for_each(|number| sum.add(block.centre(number)));
        let blocks = [block];
        let split = Split { return_top: Frequency::constant(42.0), forward_bottom: Frequency::constant(54.0) };
        let service = Service::new(split, &blocks)?;
        sum.numbers([service.bandwidth(), service.first_carrier(), service.last_carrier()]);
    }
    sum.byte(u8::from(Block::new(Frequency::MIN, Frequency::MAX, Frequency::MIN, Db::ZERO).is_err()));
    Ok(sum.value())
}

fn climate() -> Result<u32, Error> {
    let mut sum = Checksum::new();
    let climate = black_box(Climate::REFERENCE)
        .with(Place::Outdoor, Temperature::constant(-25.0), Temperature::constant(45.0))?
        .with(Place::Attic, Temperature::constant(-5.0), Temperature::constant(60.0))?;
    for place in [Place::Indoor, Place::Outdoor, Place::Attic] {
        sum.numbers(Case::ALL.map(|case| climate.temperature(place, case).celsius()));
    }
    Ok(sum.value())
}

fn lookups() -> Result<u32, Error> {
    let mut sum = Checksum::new();
    let frequencies = frequencies()?;
    let mut curve = |curve: &Curve<'_>| sum.numbers(frequencies.map(|mhz| curve.at(mhz)));
    tables::CABLES.iter().filter_map(|name| tables::cable(name)).for_each(|spec| curve(&spec.loss));
    for spec in tables::SPLITTERS.iter().filter_map(|name| tables::splitter(name)) {
        (0..spec.count()).filter_map(|leg| spec.loss(leg)).for_each(&mut curve);
        curve(&spec.isolation);
    }
    for spec in tables::COUPLERS.iter().filter_map(|name| tables::coupler(name)) {
        [&spec.tap, &spec.through, &spec.isolation].into_iter().for_each(&mut curve);
    }
    tables::INSERTERS.iter().filter_map(|name| tables::inserter(name)).for_each(|spec| curve(&spec.loss));
    tables::FILTERS.iter().filter_map(|name| tables::filter(name)).for_each(|spec| curve(&spec.loss));
    tables::JOINTS.iter().filter_map(|name| tables::joint(name)).for_each(|spec| curve(&spec.loss));
    tables::BONDS.iter().filter_map(|name| tables::bond(name)).for_each(|spec| curve(&spec.loss));
    for limits in &tables::LIMITS {
        sum.numbers([
            limits.forward.0,
            limits.forward.1,
            limits.total,
            limits.tilt,
            limits.cnr,
            limits.from_neighbours(),
        ]);
    }
    for row in tables::sources() {
        [row.kind, row.name, row.what, row.trust.word()].into_iter().for_each(|text| sum.text(text));
    }
    Ok(sum.value())
}

/// Every built-in cable at three lengths and three temperatures.
fn runs() -> Result<[Run<'static>; 45], Error> {
    let at = Temperature::REFERENCE;
    let mut runs = [Run { cable: &tables::SERIES_6, length: Length::MIN, temperature: at }; 45];
    let cables =
        [&tables::SERIES_59, &tables::SERIES_6, &tables::SERIES_6_COPPER, &tables::SERIES_7, &tables::SERIES_11];
    let mut slots = runs.iter_mut();
    for cable in cables {
        for feet in black_box([0.0, 44.4, 1000.0]) {
            for celsius in black_box([-40.0, 20.0, 60.0]) {
                if let Some(slot) = slots.next() {
                    let (length, temperature) = (Length::from_feet(feet)?, Temperature::new(celsius)?);
                    *slot = Run { cable, length, temperature };
                }
            }
        }
    }
    Ok(runs)
}

fn cable() -> Result<u32, Error> {
    let mut sum = Checksum::new();
    let frequencies = frequencies()?;
    for run in runs()? {
        sum.numbers(frequencies.map(|mhz| run.loss(mhz).db()));
        sum.add(run.loop_ohms().ohms());
        sum.add(run.delay_ns());
        sum.add(run.cable.loss_factor(run.length, run.temperature));
    }
    Ok(sum.value())
}

fn along() -> Result<u32, Error> {
    let mut sum = Checksum::new();
    let [run, ..] = runs()?;
    let steps = [
        Step::Cable(run),
        Step::Splitter(&tables::SPLITTER_3_UNEQUAL, 0),
        Step::Splitter(&tables::SPLITTER_3_UNEQUAL, 2),
        Step::Splitter(&tables::SPLITTER_2, 9),
        Step::Through(&tables::COUPLER_6),
        Step::Tap(&tables::COUPLER_12),
        Step::Table(&specs::EQUALIZER.loss),
        Step::Loss(Db::constant(3.5)),
        Step::Gain(Db::constant(11.25)),
    ];
    for mhz in frequencies()? {
        let mut level = Level::constant(12.0);
        for step in &steps {
            let behind = step.behind(level, mhz);
            sum.either(behind.map(Level::dbmv));
            level = behind.unwrap_or(level);
        }
    }
    Ok(sum.value())
}

fn echo() -> Result<u32, Error> {
    let mut sum = Checksum::new();
    for velocity in black_box([0.66, 0.85, 1.0, 1.01, 0.0]) {
        for mhz in frequencies()? {
            sum.either(echo_from_ripple(mhz, velocity).map(Length::metres));
        }
        for nanoseconds in black_box([-1.0, 0.0, 0.1, 90.0, 1e9]) {
            sum.either(echo_from_delay(nanoseconds, velocity).map(Length::metres));
        }
    }
    for depth in decibels() {
        sum.either(echo_strength(Db::new(depth)?).map(Db::db));
    }
    Ok(sum.value())
}

/// DC powering of one draw.
///
/// # Errors
/// None, as [`vectors`].
pub fn feed() -> Result<u32, Error> {
    let mut sum = Checksum::new();
    let draw = |sum: &mut Checksum, found: Result<Draw, Error>| match found {
        Ok(Draw::Power(watts)) => sum.add(watts.watts()),
        Ok(Draw::Current(amps)) => sum.add(-amps.amps()),
        Err(_) => sum.byte(0),
    };
    for volts in black_box([0.0, 5.0, 15.75, 18.0, 60.0]) {
        for ohms in black_box([0.0, 0.3, 3.6, 27.0, 1e4]) {
            for amount in black_box([0.0, 0.25, 3.0, 1e3]) {
                let (volts, ohms) = (Volts::new(volts)?, Ohms::new(ohms)?);
                for kind in [Draw::Power(Watts::new(amount)?), Draw::Current(Amps::new(amount)?)] {
                    match hold(volts, ohms, kind) {
                        Some(fed) => {
                            sum.numbers([fed.volts.volts(), fed.amps.amps(), fed.drop.volts()]);
                        }
                        None => sum.byte(0),
                    }
                    draw(&mut sum, largest_draw(volts, ohms, kind));
                    sum.either(longest_loop(volts, kind).map(Ohms::ohms));
                }
            }
        }
    }
    Ok(sum.value())
}

/// Thermal noise and carrier-to-noise ratios.
///
/// # Errors
/// None, as [`vectors`].
pub fn noise() -> Result<u32, Error> {
    let mut sum = Checksum::new();
    for bandwidth in frequencies()? {
        sum.add(thermal_floor(bandwidth).dbmv());
        for amplifiers in black_box([0, 1, 2, 7, u16::MAX]) {
            for level in decibels() {
                let ratio = carrier_to_noise(Level::new(level)?, Db::constant(5.5), bandwidth, amplifiers);
                sum.either(ratio.map(Db::db));
            }
        }
    }
    Ok(sum.value())
}

fn channels() -> Result<u32, Error> {
    let mut sum = Checksum::new();
    for plan in [ChannelPlan::Standard, ChannelPlan::Harmonic, ChannelPlan::Incremental] {
        for channel in (0..=u8::MAX).filter_map(|number| plan.channel(number)) {
            sum.byte(channel.number);
            sum.numbers([channel.low, channel.centre, channel.high, channel.visual()].map(Frequency::mhz));
        }
        for mhz in frequencies()? {
            sum.byte(plan.channel_at(mhz).map_or(0, |channel| channel.number));
        }
    }
    Ok(sum.value())
}

fn wire() -> Result<u32, Error> {
    let mut sum = Checksum::new();
    for awg in black_box([0.0, 14.0, 18.0, 20.5, 50.0]) {
        sum.add(diameter_mm(Awg::new(awg)?));
        for metal in [Metal::Copper, Metal::CopperCladSteel, Metal::Aluminium] {
            sum.add(metal.resistivity());
            sum.add(metal.per_kelvin());
            for celsius in black_box([-100.0, 20.0, 75.0]) {
                let found = resistance(Awg::new(awg)?, Length::constant(30.48), metal, Temperature::new(celsius)?);
                sum.either(found.map(Ohms::ohms));
            }
        }
    }
    Ok(sum.value())
}

/// What a faulty part loses.
fn extra_loss() -> Result<u32, Error> {
    let mut sum = Checksum::new();
    let frequencies = frequencies()?;
    for [flat, rising, falling] in black_box([[0.0, 0.0, 0.0], [2.0, 0.0, 0.0], [0.5, 4.0, 0.0], [0.25, 3.0, 40.0]]) {
        let extra = ExtraLoss { flat, rising, falling };
        for pair in frequencies.windows(2) {
            let [low, high] = pair else { continue };
            sum.add(extra.at(*low).db());
            sum.add(extra.mean(*low, *high).db());
            sum.byte(extra.shape(*low, *high) as u8);
            sum.byte(extra.shape(*high, *low) as u8);
        }
    }
    Ok(sum.value())
}

/// What errors say.
fn errors() -> u32 {
    struct Words(Checksum);
    impl fmt::Write for Words {
        fn write_str(&mut self, text: &str) -> fmt::Result {
            self.0.text(text);
            Ok(())
        }
    }
    let mut words = Words(Checksum::new());
    for error in black_box([
        Error::OutOfRange { what: "length (m)" },
        Error::BadTable { why: "has no point" },
        Error::Full { what: "parts", capacity: 1024 },
        Error::NoSuch { what: "port" },
        Error::PortTaken,
        Error::DcOnly,
    ]) {
        let said = fmt::write(&mut words, format_args!("{error}"));
        words.0.byte(u8::from(said.is_ok()));
    }
    words.0.value()
}
