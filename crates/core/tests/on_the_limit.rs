//! A figure as near its limit as f32 sums can be off is on it: 20 millionths of a dB and 4 more for each dB of the limit.

use legwork::{
    Block, Db, Device, Entry, Frequency, Limits, Outlet, Point, Points, PortId, Premises, Service, Split, Verdict,
    Workspace,
};

/// What is found at an outlet at the entry, with this level at every frequency and this spread.
fn found(level: f32, spread: f32, limit: Limits, target: Limits) -> Vec<(&'static str, Verdict)> {
    let mhz = Frequency::constant;
    let blocks = [Block::new(mhz(57.0), mhz(63.0), mhz(6.0), Db::ZERO).unwrap()];
    let split = Split { return_top: mhz(42.0), forward_bottom: mhz(54.0) };
    let readings = [Point::constant(57.0, level), Point::constant(63.0, level)];
    let entry = Entry { spread, bonded: true, ..Entry::new(Points::new(&readings).unwrap()).unwrap() };
    let mut home = Premises::<1, 1, 1, 1>::new(Service::new(split, &blocks).unwrap(), entry);
    home.set_limits(Device::Tv, limit);
    home.set_target(Device::Tv, target);
    home.add_outlet(PortId::ENTRY, Outlet::new(Device::Tv)).unwrap();
    let mut workspace = Workspace::<1, 1, 20, 1, 9>::new();
    let tree = home.tree();
    let report = workspace.check(&tree).unwrap();
    let found = report.findings().iter().filter(|finding| finding.code.name().starts_with("forward"));
    // One carrier's is as the other's.
    found.map(|finding| (finding.code.name(), finding.verdict)).take(1).collect()
}

const fn window(low: f32, high: f32) -> Limits {
    Limits { forward: (low, high), ..Limits::NONE }
}

/// The limit, what is on it still, and what is beyond.
const CASES: [(f32, f32, f32); 3] =
    [(10.0, 10.00005, 10.00007), (0.0, 0.000_015, 0.000_025), (-10.0, -9.99995, -9.99993)];

#[test]
fn what_is_on_its_limit_is_within() {
    for (limit, on, beyond) in CASES {
        let high = window(f32::NEG_INFINITY, limit);
        assert_eq!(found(on, 0.0, high, Limits::NONE), []);
        assert_eq!(found(beyond, 0.0, high, Limits::NONE), [("forward-high", Verdict::Fail)]);
        // The same below, mirrored.
        let low = window(-limit, f32::INFINITY);
        assert_eq!(found(-on, 0.0, low, Limits::NONE), []);
        assert_eq!(found(-beyond, 0.0, low, Limits::NONE), [("forward-low", Verdict::Fail)]);
    }
}

#[test]
fn a_nominal_figure_on_its_limit_can_be_beyond() {
    for (limit, on, beyond) in CASES {
        let high = window(f32::NEG_INFINITY, limit);
        assert_eq!(found(on, 0.5, high, Limits::NONE), [("forward-high", Verdict::Marginal)]);
        assert_eq!(found(beyond, 0.5, high, Limits::NONE), [("forward-high", Verdict::Fail)]);
    }
}

#[test]
fn a_target_is_kept_as_a_limit_is() {
    for (limit, on, beyond) in CASES {
        let high = window(f32::NEG_INFINITY, limit);
        assert_eq!(found(on, 0.5, Limits::NONE, high), []);
        assert_eq!(found(beyond, 0.5, Limits::NONE, high), [("forward-high", Verdict::Marginal)]);
    }
}
