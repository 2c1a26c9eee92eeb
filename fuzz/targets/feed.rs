//! DC in any home: it reaches what it should; what flows in flows out, every step loses what its current loses in it, and
//! the power given is drawn or lost; a feed holds or has collapsed as another way of working it out says; and more load
//! never leaves more voltage.
#![cfg_attr(fuzzing, no_main)]

use bumpalo::Bump;
use legwork::{
    Amplifier, Amps, At, Code, Draw, Occupant, Part, Point, PortId, Premises, Report, Split, SupplyId, Verdict, Watts,
    Workspace,
};
use legwork::{Block, Db, Entry, Frequency, Points, Service};
use legwork_fuzz::{Circuit, Drawn, Shelf, Sketch, State, site};

legwork_fuzz::target!(feed);

type Home<'s> = Premises<'s, 12, 64, 32, 3>;
type Room = Workspace<64, 128, 512, 12, 256>;

/// How much more and less load decides whether a feed that holds, or has collapsed, is right.
const NEAR: f64 = 1e-3;
/// By what part of the supply's voltage `f32` may be off: that of `f32`, a thousand times at a feed that so much more
/// load would bring down.
const OFF: f64 = 2e-4;

fn feed(bytes: &[u8]) {
    let drawn = &mut Drawn::new(bytes);
    let arena = Bump::new();
    let shelf = Shelf { arena: &arena, wild: drawn.one_in(2) };
    let blocks = [Block::new(mhz(57.0), mhz(111.0), mhz(6.0), Db::ZERO).unwrap()];
    let service = Service::new(Split { return_top: mhz(42.0), forward_bottom: mhz(54.0) }, &blocks).unwrap();
    let readings = [Point::constant(57.0, 9.0), Point::constant(861.0, 7.0)];
    let mut home = Home::new(service, Entry::new(Points::new(&readings).unwrap()).unwrap());
    home.set_climate(site::climate(drawn));
    let (heavier, load) = (drawn.below(4), 1.0 + drawn.tame((0.01, 1.0)));
    let sketch = Sketch::new(drawn, &shelf, 12);
    sketch.build(&mut home);
    let mut room = Room::new();
    let report = room.check(&home.tree()).expect("room for any of these");
    reaches(&report);
    for supply in 0..home.tree().supplies().len() {
        hold(&report, supply);
    }

    // The same with one amplifier that draws more.
    let mut more = sketch.clone();
    let mut amplifiers = more.parts.iter_mut().filter(|(_, part)| part.amplifier().is_some());
    let Some((_, part)) = amplifiers.nth(heavier) else { return };
    let Some(spec) = part.amplifier() else { return };
    let draw = match spec.draw {
        Draw::Power(watts) => Draw::Power(Watts::new(watts.watts() * load).unwrap_or(Watts::MAX)),
        Draw::Current(amps) => Draw::Current(Amps::new(amps.amps() * load).unwrap_or(Amps::MAX)),
    };
    *part = Part::Amplifier(arena.alloc(Amplifier { draw, ..*spec }));
    let mut heavy = home.clone();
    heavy.clear();
    more.build(&mut heavy);
    let mut other = Room::new();
    let heavy = other.check(&heavy.tree()).expect("room for any of these");
    for (less, more) in report.dc().zip(heavy.dc()) {
        assert_eq!(less.port, more.port);
        let off = f64::from(less.volts_unloaded) * OFF;
        if let Some(volts) = more.volts {
            let before = less.volts.expect("less load holds where more does");
            assert!(f64::from(before) >= f64::from(volts) - off, "{before} V, and {volts} V under more load");
        }
    }
}

const fn mhz(mhz: f32) -> Frequency {
    Frequency::constant(mhz)
}

/// DC is where it should be, and found fault with where it should not.
fn reaches(report: &Report<'_, '_>) {
    let tree = report.tree();
    let circuits: Vec<Circuit> = (0..tree.supplies().len()).map(|supply| Circuit::new(tree, supply)).collect();
    let found = |code, at| report.findings().iter().any(|finding| finding.code == code && finding.at == at);
    for number in 0..tree.port_count() {
        let port = tree.port_id(number).unwrap();
        let mut here = circuits.iter().filter(|circuit| circuit.ports.iter().any(|reached| reached.port == port));
        let first = here.next();
        let reported = report.dc().any(|row| row.port == port);
        assert_eq!(first.is_some_and(|circuit| !circuit.joined), reported, "{port:?}");
        let at = match tree.occupant(port).unwrap() {
            Occupant::Outlet(outlet) => Some(At::Outlet(outlet)),
            Occupant::Terminator => Some(At::Port(port)),
            _ => None,
        };
        if let Some(at) = at {
            assert_eq!(first.is_some(), found(Code::DcAtDevice, at), "{port:?}");
        }
        if port == PortId::ENTRY {
            assert_eq!(first.is_some(), found(Code::DcLeavesHome, At::Entry));
        }
    }
    for (id, _) in tree.parts().filter(|(_, part)| part.amplifier().is_some()) {
        let powered = circuits.iter().any(|circuit| circuit.ports.iter().any(|port| port.draws.contains(&id)));
        assert_eq!(!powered, found(Code::AmplifierUnpowered, At::Part(id)));
    }
    for (number, circuit) in circuits.iter().enumerate() {
        let supply = tree.occupant(tree.supplies()[number].port()).unwrap();
        let Occupant::Supply(supply) = supply else { panic!("a supply stands where it stands") };
        let idle = circuit.ports.iter().all(|port| port.draws.is_empty());
        assert_eq!(idle, found(Code::SupplyIdle, At::Supply(supply)));
        assert!(!circuit.joined || found(Code::TwoSupplies, At::Supply(supply)));
    }
}

/// Holds what is said of one supply against the laws.
fn hold(report: &Report<'_, '_>, supply: usize) {
    let tree = report.tree();
    let circuit = Circuit::new(tree, supply);
    let id: SupplyId = match tree.occupant(tree.supplies()[supply].port()) {
        Some(Occupant::Supply(id)) => id,
        _ => panic!("a supply stands where it stands"),
    };
    let rows: Vec<_> = report.dc().filter(|row| row.supply == id).collect();
    let feeds: Vec<_> = report.feeds().map(|(feed, _)| feed).filter(|feed| feed.supply == id).collect();
    if circuit.joined {
        assert!(rows.is_empty() && feeds.is_empty(), "supplies that are joined are not solved");
        return;
    }
    assert_eq!(rows.len(), circuit.ports.len());
    assert_eq!(feeds.len(), circuit.ports.iter().map(|port| port.draws.len()).sum::<usize>());
    let source = f64::from(tree.supplies()[supply].volts.volts());
    let mut volts = Vec::new();
    for port in &circuit.ports {
        let row = rows.iter().find(|row| row.port == port.port).unwrap();
        let ohms = f64::from(row.loop_ohms);
        assert!((ohms - port.ohms).abs() <= 1e-5 * port.ohms + 1e-9, "{ohms} ohm, not {}", port.ohms);
        volts.extend(row.volts.map(f64::from));
    }
    let holds = !volts.is_empty();
    assert!(!holds || volts.len() == rows.len(), "a feed collapses as a whole");
    for feed in &feeds {
        assert_eq!(feed.volts.is_some(), holds);
        let collapsed = report.findings().iter().any(|finding| {
            finding.code == Code::FeedCollapsed && finding.at == At::Supply(id) && finding.verdict == Verdict::Fail
        });
        assert_eq!(!holds, collapsed);
        if let Some(volts) = feed.volts {
            assert!(feed.volts_low.is_none_or(|low| low <= volts) && feed.volts_high.unwrap() >= volts);
            assert!(feed.amps_high.is_none_or(|high| high >= feed.amps.unwrap()));
            assert!(feed.supply_amps_high.is_none_or(|high| high >= feed.supply_amps.unwrap()));
        } else {
            assert!(feed.amps.is_none() && feed.volts_low.is_none() && feed.supply_amps.is_none());
        }
    }
    // A little more load decides that a feed can hold, a little less that it can't.
    let heavier = circuit.settle(tree, 1.0 + NEAR);
    if !holds {
        assert!(!matches!(heavier, State::Holds(_)), "{source} V are said to collapse");
        return;
    }
    assert!(!matches!(circuit.settle(tree, 1.0 - NEAR), State::Collapsed), "{source} V are said to hold");
    if let (State::Holds(_), State::Holds(right)) = (heavier, circuit.settle(tree, 1.0)) {
        for (volts, right) in volts.iter().zip(right) {
            assert!((volts - right).abs() <= OFF * source, "{volts} V, not {right} V");
        }
    }
    // Kirchhoff, by the figures of the report alone.
    let amps = circuit.currents(tree, &volts, 1.0);
    let mut lost = 0.0;
    for (place, port) in circuit.ports.iter().enumerate() {
        let before = port.before.map_or(source, |before| volts[before]);
        let step = before - volts[place];
        assert!((step - port.step * amps[place]).abs() <= OFF * source, "{step} V over {} ohm", port.step);
        lost += port.step * amps[place] * amps[place];
    }
    let drawn: f64 = feeds.iter().map(|feed| f64::from(feed.volts.unwrap()) * f64::from(feed.amps.unwrap())).sum();
    if let Some(feed) = feeds.first() {
        let given = f64::from(feed.supply_amps.unwrap());
        assert!((given - amps[0]).abs() <= 1e-5 * given + 1e-9, "{given} A in all, not {}", amps[0]);
        // What is off in volts is off in power by as much of the current.
        let off = given * source * OFF * circuit.ports.len() as f64 + 1e-9;
        assert!(
            (given * source - lost - drawn).abs() <= off,
            "{given} A of {source} V, {lost} W lost, {drawn} W drawn"
        );
    }
}
