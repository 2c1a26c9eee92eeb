//! Room of a fixed size: what is full is named with its capacity, and nothing has changed.

use legwork::tables::{COUPLER_6, SERIES_6, SPLITTER_2};
use legwork::{
    Amplifier, Amps, Block, Curve, Db, DcPorts, Device, Draw, Entry, Error, Frequency, Length, Margin, Outlet, Part,
    Place, Point, Points, PortId, Premises, Service, Split, Supply, Volts, Watts, Way, Workspace,
};

static FORWARD: [Point; 2] = [Point::constant(57.0, 12.0), Point::constant(861.0, 8.0)];
static SENT: [Point; 1] = [Point::constant(36.0, 40.0)];
static AMPLIFIER: Amplifier<'static> = Amplifier {
    outputs: 1,
    gain: Curve::flat(10.0),
    return_gain: Some(Curve::flat(0.0)),
    passive: None,
    spread: Db::ZERO,
    noise_figure: Curve::flat(5.0),
    isolation: Curve::flat(20.0),
    network_loss: None,
    max_input_total: 30.0,
    max_output_total: f32::INFINITY,
    max_return_total: f32::INFINITY,
    split: None,
    draw: Draw::Power(Watts::constant(3.0)),
    runs_on: (Volts::constant(9.0), Volts::constant(16.0)),
    dc_ports: DcPorts { power: true, input: false, outputs: 0 },
    band: None,
};

fn entry() -> Entry<'static> {
    let points = |points: &'static [Point]| Points::new(points).unwrap();
    let transmit = Some(points(&SENT));
    Entry { cnr: Some(Curve::flat(45.0)), transmit, ..Entry::new(points(&FORWARD)).unwrap() }
}

/// The entry, a run, an amplifier with its supply, a splitter, a set-top and a modem.
fn home<const PARTS: usize, const PORTS: usize, const OUTLETS: usize, const SUPPLIES: usize>(
    service: Service<'static>,
) -> Result<Premises<'static, PARTS, PORTS, OUTLETS, SUPPLIES>, Error> {
    let mut home = Premises::new(service, entry());
    let length = Length::from_feet(40.0)?;
    let run = home.add(PortId::ENTRY, Part::Cable { spec: &SERIES_6, length, place: Place::Indoor })?;
    let amplifier = home.add(home.port(run, Way::Only)?, Part::Amplifier(&AMPLIFIER))?;
    let split = home.add(home.port(amplifier, Way::Output(1))?, Part::Splitter(&SPLITTER_2))?;
    home.add_supply(home.port(amplifier, Way::Power)?, Supply::new(Volts::constant(15.0), Amps::constant(0.5)))?;
    home.add_outlet(home.port(split, Way::Output(1))?, Outlet::new(Device::SetTop))?;
    home.add_outlet(home.port(split, Way::Output(2))?, Outlet::new(Device::Modem))?;
    Ok(home)
}

fn service() -> Service<'static> {
    let blocks = Block::new(Frequency::constant(57.0), Frequency::constant(861.0), Frequency::constant(6.0), Db::ZERO);
    let blocks: &'static [Block] = Box::leak(Box::new([blocks.unwrap()]));
    let split = Split { return_top: Frequency::constant(42.0), forward_bottom: Frequency::constant(54.0) };
    Service::new(split, blocks).unwrap()
}

/// The first error of building into such a room.
fn built<const PARTS: usize, const PORTS: usize, const OUTLETS: usize, const SUPPLIES: usize>() -> Option<Error> {
    home::<PARTS, PORTS, OUTLETS, SUPPLIES>(service()).err()
}

/// What a check in such a room says.
fn checked<
    const PORTS: usize,
    const ROWS: usize,
    const CELLS: usize,
    const AMPLIFIERS: usize,
    const FINDINGS: usize,
>() -> Result<usize, Error> {
    let home = home::<3, 6, 2, 1>(service())?;
    let mut workspace = Workspace::<PORTS, ROWS, CELLS, AMPLIFIERS, FINDINGS>::default();
    workspace.check(&home.tree()).map(|report| report.findings().len())
}

const fn full(what: &'static str, capacity: usize) -> Error {
    Error::Full { what, capacity }
}

#[test]
fn a_builder_names_what_is_full() {
    // Three parts; the entry, and 1, 2 (one of them for DC) and 2 ways out; two outlets; one supply.
    assert_eq!(built::<3, 6, 2, 1>(), None);
    assert_eq!(built::<2, 6, 2, 1>(), Some(full("parts", 2)));
    assert_eq!(built::<3, 5, 2, 1>(), Some(full("ports", 5)));
    assert_eq!(built::<3, 6, 1, 1>(), Some(full("outlets", 1)));
    assert_eq!(built::<3, 6, 2, 0>(), Some(full("supplies", 0)));
}

#[test]
fn what_is_refused_leaves_all_as_it_was() {
    let mut home = home::<3, 6, 2, 1>(service()).unwrap();
    let outlet = home.tree().outlets()[0].port();
    let before = format!("{home:?}");
    for port in [PortId::ENTRY, outlet] {
        assert_eq!(home.add(port, Part::Splitter(&SPLITTER_2)), Err(Error::PortTaken));
        assert_eq!(home.add_outlet(port, Outlet::new(Device::Tv)), Err(Error::PortTaken));
        assert_eq!(home.terminate(port), Err(Error::PortTaken));
    }
    assert_eq!(format!("{home:?}"), before);

    let mut flat = Premises::<1, 3, 1, 1>::new(service(), entry());
    let splitter = flat.add(PortId::ENTRY, Part::Splitter(&SPLITTER_2)).unwrap();
    let [first, second] = [0, 1].map(|number| flat.port_number(splitter, number).unwrap());
    flat.add_outlet(first, Outlet::new(Device::Tv)).unwrap();
    let before = format!("{flat:?}");
    assert_eq!(flat.add(second, Part::Splitter(&SPLITTER_2)), Err(full("parts", 1)));
    assert_eq!(flat.add_outlet(second, Outlet::new(Device::Tv)), Err(full("outlets", 1)));
    assert_eq!(format!("{flat:?}"), before);
}

#[test]
fn what_is_not_there_is_named() {
    let mut large = Premises::<9, 20, 9, 1>::new(service(), entry());
    let coupler = large.add(PortId::ENTRY, Part::Coupler(&COUPLER_6)).unwrap();
    assert_eq!(large.port_number(coupler, 2), Err(Error::NoSuch { what: "port" }));
    assert_eq!(large.port(coupler, Way::Only), Err(Error::NoSuch { what: "port" }));
    let through = large.port(coupler, Way::Through).unwrap();
    let outlet = large.add_outlet(through, Outlet::new(Device::Tv)).unwrap();

    let mut small = Premises::<1, 1, 1, 1>::new(service(), entry());
    assert_eq!(small.add(through, Part::Splitter(&SPLITTER_2)), Err(Error::NoSuch { what: "port" }));
    assert_eq!(small.port(coupler, Way::Tap), Err(Error::NoSuch { what: "part" }));
    assert_eq!(small.join(outlet), Err(Error::NoSuch { what: "outlet" }));
}

#[test]
fn an_outlet_joins_once() {
    let mut home = Premises::<1, 1, 1, 1>::new(service(), entry());
    let outlet = home.add_outlet(PortId::ENTRY, Outlet::new(Device::Tv)).unwrap();
    home.join(outlet).unwrap();
    let joined = format!("{home:?}");
    home.join(outlet).unwrap();
    assert_eq!(format!("{home:?}"), joined);
}

#[test]
fn a_check_names_what_is_full() {
    // As is said at the workspace: six ports; the tables of the cable and of the splitter's loss; for each of two outlets
    // two figures, one for each of two frequencies of its levels and of its noise, and one at which it would send; one
    // amplifier.
    assert_eq!(checked::<6, 2, 14, 1, 4>(), Ok(4));
    assert_eq!(checked::<5, 2, 14, 1, 4>(), Err(full("ports", 5)));
    assert_eq!(checked::<6, 1, 14, 1, 4>(), Err(full("different tables", 1)));
    assert_eq!(checked::<6, 2, 13, 1, 4>(), Err(full("figures", 13)));
    assert_eq!(checked::<6, 2, 14, 0, 4>(), Err(full("amplifiers", 0)));
    assert_eq!(checked::<6, 2, 14, 1, 3>(), Err(full("findings", 3)));
}

#[test]
fn margins_have_a_place_for_each_outlet_and_more() {
    let home = home::<3, 6, 2, 1>(service()).unwrap();
    let mut workspace = Workspace::<6, 9, 40, 1, 9>::new();
    let mut margins = [Margin::default(); 2 + Margin::FURTHER];
    let short = margins.len() - 1;
    let refused = workspace.check_margins(&home.tree(), &mut margins[..short]).map(|_| ());
    assert_eq!(refused, Err(full("margins", short)));
    assert!(workspace.check_margins(&home.tree(), &mut margins).is_ok());
}
