//! What the reference home is made of. All of it is `const` data in flash, none of it costs RAM; all invented.

use legwork::{
    Amplifier, Amps, Band, Block, Bond, Cable, Climate, Conductor, Curve, Db, DcPorts, Device, Draw, Entry, Equalizer,
    Error, Filter, Frequency, Joint, Legs, Length, Limits, Ohms, Percent, Place, Point, Points, Service, Split,
    Splitter, Supply, Temperature, Volts, Watts,
};

const fn at(mhz: f32, db: f32) -> Point {
    Point::constant(mhz, db)
}
/// What a constructor gave, while compiling.
const fn sure<T: Copy>(made: Result<T, Error>) -> T {
    match made {
        Ok(made) => made,
        Err(_) => panic!("out of range"),
    }
}
/// A length in feet.
pub const fn feet(feet: f32) -> Length {
    sure(Length::from_feet(feet))
}
const NO_OHMS: Ohms = Ohms::constant(0.0);
const VOUCHED: Option<Band> = Some(Band::constant(5.0, 1002.0));

/// The service's and the amplifier's split.
pub const SPLIT: Split = Split { return_top: Frequency::constant(42.0), forward_bottom: Frequency::constant(54.0) };
const fn block(first: f32, last: f32, offset: f32) -> Block {
    let (first, last, step) = (Frequency::constant(first), Frequency::constant(last), Frequency::constant(6.0));
    sure(Block::new(first, last, step, Db::constant(offset)))
}
/// What the network offers: 135 channels.
pub const SERVICE: Service<'static> = {
    const BLOCKS: &[Block] = &[block(57.0, 549.0, 0.0), block(555.0, 861.0, -1.0)];
    sure(sure(Service::new(SPLIT, BLOCKS)).return_channels(4))
};
/// Forward readings at the entry, dBmV.
pub static READ: [Point; 3] = [at(57.0, 13.5), at(453.0, 11.0), at(861.0, 8.5)];
/// Carrier-to-noise ratio at the entry.
pub static CNR: [Point; 2] = [at(57.0, 46.0), at(861.0, 44.5)];
/// What a modem at the entry sends, dBmV.
pub static SENT: [Point; 3] = [at(10.0, 36.0), at(24.0, 36.8), at(39.0, 38.0)];
/// What was read at the entry.
pub const ENTRY: Entry<'static> = Entry {
    cnr: Some(Curve::table(&CNR)),
    transmit: Some(sure(Points::new(&SENT))),
    spread: 0.5,
    ..sure(Entry::new(sure(Points::new(&READ))))
};
/// How warm it gets.
pub const CLIMATE: Climate = {
    let degrees = Temperature::constant;
    let climate = sure(Climate::REFERENCE.with(Place::Indoor, degrees(15.0), degrees(30.0)));
    sure(climate.with(Place::Outdoor, degrees(-25.0), degrees(45.0)))
};
/// The home network's band.
pub const NETWORK: Band = Band::constant(1125.0, 1675.0);

/// Outdoor cable, and the two long ways inside.
pub static DROP: Cable = Cable {
    loss: Curve::table(&[
        at(5.0, 0.55),
        at(55.0, 1.52),
        at(210.0, 2.95),
        at(500.0, 4.55),
        at(750.0, 5.6),
        at(1000.0, 6.5),
        at(1220.0, 7.2),
        at(1700.0, 8.6),
    ]),
    per: feet(100.0),
    loop_resistance: Ohms::constant(3.4),
    velocity: 0.85,
    spread: Percent::constant(4.0),
    band: None,
};
/// Cable inside.
pub static INSIDE: Cable = Cable {
    loss: Curve::table(&[
        at(5.0, 0.8),
        at(55.0, 1.95),
        at(210.0, 3.7),
        at(500.0, 5.75),
        at(1000.0, 8.15),
        at(1700.0, 10.8),
    ]),
    per: feet(100.0),
    loop_resistance: Ohms::constant(5.1),
    velocity: 0.83,
    spread: Percent::constant(6.0),
    band: None,
};
/// A splitter with two legs alike.
pub static TWO_WAY: Splitter = Splitter {
    legs: Legs::Alike(2, Curve::table(&[at(5.0, 3.4), at(300.0, 3.6), at(861.0, 4.1), at(1700.0, 6.0)])),
    spread: Db::constant(0.3),
    isolation: Curve::table(&[at(5.0, 28.0), at(861.0, 22.0), at(1700.0, 16.0)]),
    dc_pass: 0,
    dc_ohms: NO_OHMS,
    band: VOUCHED,
};
/// A splitter with three legs unlike.
pub static THREE_WAY: Splitter = Splitter {
    legs: Legs::Each(&[
        Curve::table(&[at(5.0, 3.5), at(861.0, 4.2), at(1700.0, 6.2)]),
        Curve::table(&[at(5.0, 6.8), at(861.0, 7.6), at(1700.0, 9.9)]),
        Curve::table(&[at(5.0, 6.9), at(861.0, 7.7), at(1700.0, 10.0)]),
    ]),
    spread: Db::constant(0.4),
    isolation: Curve::flat(21.0),
    dc_pass: 0,
    dc_ohms: NO_OHMS,
    band: VOUCHED,
};
/// Takes four decibels of tilt out.
pub static EQUALIZER: Equalizer = Equalizer {
    loss: Curve::table(&[at(5.0, 4.8), at(54.0, 4.4), at(450.0, 2.1), at(1000.0, 0.8), at(1700.0, 1.4)]),
    spread: Db::constant(0.2),
    dc: None,
    band: VOUCHED,
};
/// Keeps the home network in.
pub static ENTRY_FILTER: Filter = Filter {
    loss: Curve::table(&[at(5.0, 0.4), at(861.0, 0.7), at(1002.0, 1.2), at(1125.0, 38.0), at(1700.0, 42.0)]),
    spread: Db::constant(0.1),
    reflects: Some(NETWORK),
    dc: None,
    band: None,
};
/// A barrel.
pub static BARREL: Joint =
    Joint { loss: Curve::flat(0.1), spread: Db::ZERO, dc_ohms: Ohms::constant(0.02), band: None };
/// The grounding block.
pub static BLOCK: Bond = Bond { loss: Curve::flat(0.12), spread: Db::ZERO, dc_ohms: NO_OHMS, band: None };
/// The conductor from it.
pub const CONDUCTOR: Conductor = Conductor { size: Some(legwork::Awg::constant(14.0)), length: Some(feet(12.0)) };
/// The amplifier.
pub static AMPLIFIER: Amplifier = Amplifier {
    outputs: 4,
    gain: Curve::table(&[at(54.0, 3.2), at(450.0, 3.6), at(1002.0, 4.0)]),
    return_gain: Some(Curve::flat(-1.2)),
    passive: Some(Curve::table(&[at(5.0, 3.7), at(1002.0, 4.3), at(1700.0, 6.5)])),
    spread: Db::constant(0.7),
    noise_figure: Curve::flat(5.5),
    isolation: Curve::flat(24.0),
    network_loss: Some(Curve::flat(8.0)),
    max_input_total: 33.0,
    max_output_total: 37.0,
    max_return_total: 49.0,
    split: Some(SPLIT),
    draw: Draw::Power(Watts::constant(2.8)),
    runs_on: (Volts::constant(11.0), Volts::constant(18.0)),
    dc_ports: DcPorts { power: true, input: false, outputs: 0 },
    band: None,
};
/// The amplifier's supply.
pub const SUPPLY: Supply =
    Supply::new(Volts::constant(15.0), Amps::constant(0.5)).with(Percent::constant(5.0), Ohms::constant(0.3));

/// A voice modem's limits.
pub const VOICE_MODEM: Limits = Limits {
    forward: (-8.0, 12.0),
    total: 32.0,
    tilt: 13.0,
    cnr: 36.0,
    transmit: (36.0, 50.0),
    window: 12.0,
    neighbour: Some(24.0),
};
/// A modem's limits.
const MODEM: Limits = Limits {
    forward: (-10.0, 12.0),
    total: 32.0,
    tilt: 14.0,
    cnr: 35.0,
    transmit: (36.0, 51.0),
    window: 12.0,
    neighbour: Some(26.0),
};
/// A set-top box's limits.
const SET_TOP: Limits = Limits {
    forward: (-10.0, 14.0),
    total: 34.0,
    tilt: 13.0,
    cnr: 34.0,
    transmit: (30.0, 52.0),
    window: 14.0,
    neighbour: Some(28.0),
};
/// A television's limits.
pub const TV: Limits =
    Limits { forward: (-10.0, 15.0), total: 35.0, tilt: 14.0, cnr: 36.0, neighbour: Some(36.0), ..Limits::NONE };
/// What devices take.
pub static LIMITS: [(Device, Limits); 4] =
    [(Device::VoiceModem, VOICE_MODEM), (Device::Modem, MODEM), (Device::SetTop, SET_TOP), (Device::Tv, TV)];
/// What the operator aims for at a voice modem.
pub const TARGET: Limits = Limits { forward: (-6.0, 8.0), ..Limits::NONE };
