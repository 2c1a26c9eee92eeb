//! The builder under any operations, in little room: it does what its documentation says, and an error changes nothing. What
//! comes of it is checked: figures are finite and agree with each other, and the same home in more room has the same report.
#![cfg_attr(fuzzing, no_main)]

use bumpalo::Bump;
use legwork::{
    Device, Error, Finding, Frequency, Margin, Occupant, Outlet, OutletId, OutletReport, Part, PartId, Point, PortId,
    Premises, Report, Tree, Way, Workspace, tables,
};
use legwork_fuzz::{Drawn, Model, Shelf, laws, site, supply};

legwork_fuzz::target!(builder);

const PARTS: usize = 7;
const PORTS: usize = 18;
const OUTLETS: usize = 4;
const SUPPLIES: usize = 2;
type Home<'s> = Premises<'s, PARTS, PORTS, OUTLETS, SUPPLIES>;
/// Room that some of these homes find too small.
type Small = Workspace<PORTS, 6, 40, 1, 8>;
/// Room for any of them.
type Large = Workspace<64, 96, 512, 16, 256>;

const WAYS: [Way; 9] =
    [Way::Only, Way::Output(1), Way::Output(3), Way::Through, Way::Tap, Way::Passive, Way::Power, Way::Rf, Way::Dc];

fn builder(bytes: &[u8]) {
    let drawn = &mut Drawn::new(bytes);
    let arena = Bump::new();
    let shelf = Shelf { arena: &arena, wild: drawn.one_in(2) };
    let mut home = Home::new(site::service(drawn, &shelf), site::entry(drawn, &shelf));
    home.set_climate(site::climate(drawn));
    let mut judged = Judged { limits: Vec::new(), targets: Vec::new(), network: None };
    let mut model = Model::new([PARTS, PORTS, OUTLETS, SUPPLIES]);
    let foreign = Foreign::new();
    for _ in 0..40 {
        if drawn.is_empty() {
            break;
        }
        operate(drawn, &shelf, &mut home, &mut model, &foreign, &mut judged);
        model.is(&home.tree());
    }
    check(drawn, &home, &model, &judged);
}

/// Ids of a larger home: some of them are ids of this one.
struct Foreign {
    ports: Vec<PortId>,
    parts: Vec<PartId>,
    outlets: Vec<OutletId>,
}

impl Foreign {
    fn new() -> Self {
        let readings = [Point::constant(57.0, 12.0), Point::constant(861.0, 7.0)];
        let arena = Bump::new();
        let shelf = Shelf { arena: &arena, wild: false };
        let entry = legwork::Entry::new(legwork::Points::new(&readings).unwrap()).unwrap();
        let mut home = Premises::<10, 24, 6, 0>::new(site::service(&mut Drawn::new(&[]), &shelf), entry);
        for _ in 0..10 {
            let last = home.tree().port_id(home.tree().port_count() - 1).unwrap();
            home.add(last, Part::Splitter(&tables::SPLITTER_2)).unwrap();
        }
        let free: Vec<PortId> = ids(home.tree().port_count(), |number| home.tree().port_id(number));
        for port in free {
            let _ = home.add_outlet(port, Outlet::new(Device::Tv));
        }
        let tree = home.tree();
        Self {
            ports: ids(tree.port_count(), |number| tree.port_id(number)),
            parts: ids(tree.parts().len(), |number| tree.part_id(number)),
            outlets: ids(tree.outlets().len(), |number| tree.outlet_id(number)),
        }
    }
}

fn ids<T>(count: usize, id: impl Fn(usize) -> Option<T>) -> Vec<T> {
    (0..count).filter_map(id).collect()
}

/// What was set besides parts: it stays when those are cleared.
struct Judged {
    limits: Vec<(Device, legwork::Limits)>,
    targets: Vec<(Device, legwork::Limits)>,
    network: Option<legwork::HomeNetwork>,
}

/// One operation on the home, and on the model if it should be done.
fn operate<'b>(
    drawn: &mut Drawn<'_>,
    shelf: &Shelf<'b>,
    home: &mut Home<'b>,
    model: &mut Model<'b>,
    foreign: &Foreign,
    judged: &mut Judged,
) {
    // Mostly a port that is free, else any.
    let free: Vec<PortId> = (0..model.ports.len())
        .filter(|number| model.ports[*number].occupant == Occupant::Open)
        .map(|number| foreign.ports[number])
        .collect();
    let port = if free.is_empty() || drawn.one_in(4) { drawn.pick(&foreign.ports) } else { drawn.pick(&free) };
    match drawn.below(16) {
        0..6 => {
            let again = model.parts.last().filter(|_| drawn.one_in(4)).map(|(_, part)| *part);
            let part = again.unwrap_or_else(|| shelf.part(drawn));
            let may = model.may_add(port, &part);
            let said = home.add(port, part);
            assert_eq!(may, said.map(|_| ()));
            if let Ok(id) = said {
                model.add(port, part, id);
            }
        }
        6..9 => {
            let device = site::device(drawn);
            let outlet = if drawn.one_in(3) { Outlet::lifeline(device) } else { Outlet::new(device) };
            let may = model.may_add_outlet(port);
            let said = home.add_outlet(port, outlet);
            assert_eq!(may, said.map(|_| ()));
            if let Ok(id) = said {
                model.outlets.push((port, outlet));
                model.ports[port.index()].occupant = Occupant::Outlet(id);
            }
        }
        9 => {
            let supply = supply(drawn, shelf);
            let may = model.may_add_supply(port);
            let said = home.add_supply(port, supply);
            assert_eq!(may, said.map(|_| ()));
            if let Ok(id) = said {
                model.supplies.push((port, supply));
                model.ports[port.index()].occupant = Occupant::Supply(id);
            }
        }
        10 => {
            let may = model.may_terminate(port);
            assert_eq!(may, home.terminate(port));
            if may.is_ok() {
                model.ports[port.index()].occupant = Occupant::Terminator;
            }
        }
        11 => {
            let outlet = drawn.pick(&foreign.outlets);
            let known = outlet.index() < model.outlets.len();
            assert_eq!(home.join(outlet).is_ok(), known);
            if known && !model.members.contains(&outlet) {
                model.members.push(outlet);
            }
        }
        12 => find(drawn, home, model, foreign),
        13 => {
            if let Some(network) = site::network(drawn, shelf) {
                home.set_home_network(network);
                judged.network = Some(network);
            }
        }
        14 => {
            let (device, limits) = (site::device(drawn), site::limits(drawn));
            if drawn.one_in(3) {
                home.set_target(device, limits);
                judged.targets.push((device, limits));
            } else {
                home.set_limits(device, limits);
                judged.limits.push((device, limits));
            }
        }
        _ if drawn.one_in(4) => {
            home.clear();
            *model = Model::new([PARTS, PORTS, OUTLETS, SUPPLIES]);
            judged.network = None;
        }
        _ => {}
    }
}

/// Ways out by their names and numbers.
fn find(drawn: &mut Drawn<'_>, home: &Home<'_>, model: &Model<'_>, foreign: &Foreign) {
    let (id, number) = (drawn.pick(&foreign.parts), drawn.below(20) as u8);
    let (way, said) = (drawn.pick(&WAYS), home.port_number(id, number));
    let Some((_, part)) = model.parts.get(id.index()) else {
        assert_eq!(said, Err(Error::NoSuch { what: "part" }));
        assert_eq!(home.port(id, way), Err(Error::NoSuch { what: "part" }));
        return;
    };
    assert_eq!(said.is_ok(), number < part.ways());
    assert_eq!(said.ok().and_then(|port| home.tree().owner(port)), said.ok().map(|_| (id, number)));
    assert_eq!(home.port(id, way).ok(), part.number(way).and_then(|number| home.port_number(id, number).ok()));
    // A way out is called what it is found by.
    assert_eq!(part.way(number).and_then(|way| part.number(way)), said.ok().map(|_| number));
}

/// Everything that a report says.
fn all<'r>(report: &'r Report<'_, '_>) -> (Vec<Finding>, Vec<OutletReport<'r>>) {
    (report.findings().to_vec(), report.outlets().collect())
}

/// Two reports say the same.
fn same(one: &Report<'_, '_>, other: &Report<'_, '_>) {
    let (findings, outlets) = all(one);
    let (others, figures) = all(other);
    assert_eq!(findings, others);
    assert_eq!(outlets.len(), figures.len());
    for (outlet, figures) in outlets.iter().zip(figures) {
        assert_eq!((outlet.forward, outlet.cnr, outlet.transmit), (figures.forward, figures.cnr, figures.transmit));
        assert_eq!((outlet.tilt, outlet.total), (figures.tilt, figures.total));
    }
    assert!(one.amplifiers().eq(other.amplifiers()) && one.feeds().eq(other.feeds()));
    assert!(one.dc().eq(other.dc()) && one.links().eq(other.links()));
}

/// Checks what was built.
fn check<'b>(drawn: &mut Drawn<'_>, home: &Home<'b>, model: &Model<'b>, judged: &Judged) {
    let tree: Tree<'_, '_> = home.tree();
    laws::levels_fall(&tree, Frequency::constant(drawn.number((5.0, 1800.0), (1e-6, 1e6))));
    let (mut large, mut small, mut other) = (Box::new(Large::new()), Small::new(), Box::new(Large::new()));
    let mut margins = [Margin::NONE; OUTLETS + Margin::FURTHER];
    let report = large.check_margins(&tree, &mut margins).expect("room for any of these");
    laws::agrees(&report);
    laws::totals_add_up(&report);
    if judged.targets.is_empty() {
        laws::margins_tell(&report);
    }
    match small.check(&tree) {
        Ok(few) => same(&few, &report),
        Err(error) => assert!(matches!(error, Error::Full { .. }), "{error}"),
    }
    // The same in more room, built in another order.
    let mut wide = Premises::<24, 64, 12, 6>::new(*tree.service, *tree.entry);
    wide.set_climate(*tree.climate);
    for (device, limits) in &judged.limits {
        wide.set_limits(*device, *limits);
    }
    for (device, target) in &judged.targets {
        wide.set_target(*device, *target);
    }
    if let Some(network) = judged.network {
        wide.set_home_network(network);
    }
    model.build(&mut wide);
    same(&other.check(&wide.tree()).expect("room for any of these"), &report);
}
