//! What the types of values take and refuse, where the examples of the documentation do not show it.

use legwork::tables::{COUPLER_6, SPLITTER_2};
use legwork::{
    Band, Block, Case, Climate, Curve, Db, Device, Entry, Error, Expected, Frequency, Level, Limits, Outlet, Part,
    Place, Point, Points, PortId, Premises, Reading, Service, Split, Temperature, Volts, Watts, Way, Workspace,
};

const SPLIT: Split = Split { return_top: Frequency::constant(42.0), forward_bottom: Frequency::constant(54.0) };
static STRONG: [Point; 2] = [Point::constant(57.0, 12.0), Point::constant(861.0, 8.0)];
static WEAK: [Point; 2] = [Point::constant(57.0, -2.0), Point::constant(861.0, -9.0)];

fn block(first: f32, last: f32) -> Block {
    let mhz = Frequency::constant;
    Block::new(mhz(first), mhz(last), mhz(6.0), Db::ZERO).unwrap()
}

#[test]
fn an_error_says_what_is_wrong() {
    let sentences = [
        (Error::OutOfRange { what: "length (m)" }, "length (m) is out of range"),
        (Error::BadTable { why: "has no carrier" }, "the table has no carrier"),
        (Error::Full { what: "parts", capacity: 8 }, "no room for more parts (capacity 8)"),
        (Error::NoSuch { what: "port" }, "there is no such port"),
        (Error::PortTaken, "something already hangs on that port"),
        (Error::DcOnly, "that port carries DC only"),
    ];
    for (error, sentence) in sentences {
        assert_eq!(error.to_string(), sentence);
    }
}

#[test]
fn levels_and_ratios_add_up() {
    let (level, db) = (Level::constant(10.0), Db::constant(3.5));
    assert_eq!((level + db).dbmv(), 13.5);
    assert_eq!((level - db).dbmv(), 6.5);
    assert_eq!((level - Level::constant(4.0)).db(), 6.0);
    assert_eq!((db + db).db(), 7.0);
    assert_eq!((db - Db::constant(1.5)).db(), 2.0);
    assert_eq!((-db).db(), -3.5);
    // Powers add up: 10 log10 of the sum of 10^(L / 10), whichever is first. In f32 that is good to 2e-6 dB here.
    for (one, other) in [(10.0, 3.0), (3.0, 10.0), (-20.5, 4.25), (7.0, 7.0), (0.0, 40.0)] {
        let sum = 10.0 * (10f64.powf(one / 10.0) + 10f64.powf(other / 10.0)).log10();
        let found = Level::constant(one as f32).power_sum(Level::constant(other as f32)).dbmv();
        assert!((f64::from(found) - sum).abs() <= 2e-6 * sum.abs().max(1.0), "{one} and {other}: {found}, not {sum}");
    }
    // 10^50 is beyond f32; the smaller one is lost, the larger one is not.
    for (one, other) in [(-250.0, 250.0), (250.0, -250.0)] {
        assert_eq!(Level::constant(one).power_sum(Level::constant(other)).dbmv(), 250.0);
    }
}

#[test]
fn a_reading_differs_from_what_was_to_be_expected() {
    let read = Reading { port: PortId::ENTRY, frequency: Frequency::constant(57.0), level: Level::constant(3.0) };
    let expected = Expected { number: 0, read, expected: Level::constant(7.5) };
    assert_eq!(expected.difference().db(), -4.5);
}

#[test]
fn a_service_has_carriers_that_rise_and_a_channel_back() {
    assert_eq!(Service::new(SPLIT, &[]), Err(Error::BadTable { why: "has no carrier" }));
    let overlap = Err(Error::BadTable { why: "of carriers does not rise or overlaps" });
    assert_eq!(Service::new(SPLIT, &[block(57.0, 111.0), block(111.0, 117.0)]), overlap);
    assert_eq!(Service::new(SPLIT, &[block(111.0, 117.0), block(57.0, 63.0)]), overlap);
    let blocks = [block(57.0, 111.0), block(117.0, 123.0)];
    let service = Service::new(SPLIT, &blocks).unwrap();
    assert_eq!(service.return_channels(0), Err(Error::OutOfRange { what: "return channels" }));
    assert!(service.return_channels(1).is_ok());
}

#[test]
fn tables_rise() {
    let at = Point::constant;
    let alike = [at(57.0, 1.0), at(57.0, 2.0)];
    let falling = [at(60.0, 1.0), at(57.0, 2.0)];
    for points in [&[][..], &alike, &falling] {
        assert!(matches!(Curve::points(points), Err(Error::BadTable { .. })), "{points:?}");
    }
    let one = Points::new(&STRONG[..1]).unwrap();
    assert_eq!(Entry::new(one), Err(Error::BadTable { why: "of forward readings has fewer than two" }));
    // What is built in while compiling is the same at run time, and refuses by a panic.
    assert_eq!(Curve::table(&STRONG), Curve::points(&STRONG).unwrap());
    assert_eq!(Band::constant(5.0, 42.0), Band::new(Frequency::constant(5.0), Frequency::constant(42.0)).unwrap());
    assert_eq!(
        Band::new(Frequency::constant(42.0), Frequency::constant(42.0)),
        Err(Error::OutOfRange { what: "band" })
    );
    std::panic::catch_unwind(|| Band::constant(42.0, 42.0)).unwrap_err();
    std::panic::catch_unwind(|| Curve::table(&STRONG[..0])).unwrap_err();
}

#[test]
fn one_value_is_flat_and_a_table_is_not() {
    assert!(Curve::Flat(Db::constant(3.5)).is_flat());
    assert!(!Curve::table(&STRONG).is_flat());
}

#[test]
fn a_device_with_a_limit_to_what_it_sends_sends() {
    let sends = |low, high| Limits { transmit: (low, high), ..Limits::NONE }.sends();
    assert!(!sends(f32::NEG_INFINITY, f32::INFINITY));
    assert!(sends(35.0, f32::INFINITY) && sends(f32::NEG_INFINITY, 51.0) && sends(35.0, 51.0));
}

#[test]
fn without_a_word_about_it_a_home_is_at_20_degrees() {
    for place in [Place::Indoor, Place::Attic, Place::Outdoor] {
        for case in [Case::Nominal, Case::Most, Case::Least] {
            assert_eq!(Climate::default().temperature(place, case), Temperature::constant(20.0));
        }
    }
}

#[test]
fn a_climate_may_stand_still_and_not_turn_round() {
    let (cold, hot) = (Temperature::constant(-5.0), Temperature::constant(30.0));
    let still = Climate::default().with(Place::Attic, hot, hot).unwrap();
    assert_eq!(still.temperature(Place::Attic, Case::Least), hot);
    let refused = Climate::default().with(Place::Attic, hot, cold).unwrap_err();
    assert_eq!(refused, Error::OutOfRange { what: "climate: coldest above hottest" });
}

#[test]
fn nothing_at_all_has_no_level() {
    let refused = |what| Err(Error::OutOfRange { what });
    assert_eq!(Level::from_volts(Volts::new(0.0).unwrap()).map(Level::dbmv), refused("level (V)"));
    assert_eq!(Level::from_watts(Watts::new(0.0).unwrap()).map(Level::dbmv), refused("level (W)"));
    assert_eq!(Db::from_power_ratio(0.0).map(Db::db), refused("power ratio"));
}

#[test]
fn a_part_says_where_its_maker_vouches_for_it() {
    assert_eq!(Part::Splitter(&SPLITTER_2).band(), SPLITTER_2.band);
    assert!(SPLITTER_2.band.is_some());
    assert_eq!(Part::Pad(Db::constant(3.0)).band(), None);
}

/// A home that is fed one way, then another.
fn home(service: Service<'static>, readings: &'static [Point]) -> Premises<'static, 2, 4, 2, 1> {
    let mut home = Premises::new(service, Entry::new(Points::new(readings).unwrap()).unwrap());
    let coupler = home.add(PortId::ENTRY, Part::Coupler(&COUPLER_6)).unwrap();
    home.add_outlet(home.port(coupler, Way::Tap).unwrap(), Outlet::new(Device::Tv)).unwrap();
    home.add_outlet(home.port(coupler, Way::Through).unwrap(), Outlet::new(Device::Modem)).unwrap();
    home
}

#[test]
fn another_service_at_the_entry_is_as_if_it_had_been_there() {
    let blocks: &'static [Block] = Box::leak(Box::new([block(57.0, 543.0)]));
    let more: &'static [Block] = Box::leak(Box::new([block(57.0, 543.0), block(555.0, 861.0)]));
    let (before, after) = (Service::new(SPLIT, blocks).unwrap(), Service::new(SPLIT, more).unwrap());
    let mut changed = home(before, &STRONG);
    let say = |home: &Premises<'static, 2, 4, 2, 1>| {
        let mut workspace = Workspace::<4, 4, 40, 1, 20>::new();
        let tree = home.tree();
        let report = workspace.check(&tree).unwrap();
        format!("{:?} {:?}", report.findings(), report.outlets().map(|outlet| outlet.total).collect::<Vec<_>>())
    };
    let at_first = say(&changed);
    changed.set_service(after, Entry::new(Points::new(&WEAK).unwrap()).unwrap());
    assert_eq!(say(&changed), say(&home(after, &WEAK)));
    assert_ne!(say(&changed), at_first);
}

#[test]
fn what_is_numbered_ends_where_it_ends() {
    let split = block(57.0, 861.0);
    let service = Service::new(SPLIT, core::slice::from_ref(&split)).unwrap();
    let mut home = Premises::<2, 4, 2, 1>::new(service, Entry::new(Points::new(&STRONG).unwrap()).unwrap());
    let part = home.add(PortId::ENTRY, Part::Splitter(&SPLITTER_2)).unwrap();
    let ports = [1, 2].map(|way| home.port(part, Way::Output(way)).unwrap());
    let outlet = home.add_outlet(ports[0], Outlet::new(Device::Tv)).unwrap();
    let tree = home.tree();
    assert_eq!([tree.part_id(0), tree.part_id(1)], [Some(part), None]);
    assert_eq!([tree.outlet_id(0), tree.outlet_id(1)], [Some(outlet), None]);
    assert_eq!(
        [0, 1, 2, 3].map(|number| tree.port_id(number)),
        [Some(PortId::ENTRY), Some(ports[0]), Some(ports[1]), None]
    );
}
