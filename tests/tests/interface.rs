//! What a library's caller can ask for and no file shows: held against what the file says.

use std::fs;
use std::path::Path;

use legwork::{
    Block, Code, Db, Device, Entry, Error, Finding, Frequency, Length, Level, Limits, Margin, Near, Outlet, Part,
    Place, Point, Points, PortId, Premises, Service, Split, Verdict, Volts, Watts, Way, Workspace,
};
use legwork_file::{Checked, Checker, Source};
use legwork_tests::home;

/// A shipped example.
fn example(name: &str) -> String {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../crates/cli/examples").join(name);
    fs::read_to_string(path).expect("an example")
}

/// What `look` makes of a home that was checked with its margins.
fn with<T>(text: &str, look: impl FnOnce(&Checked<'_>) -> T) -> T {
    let name = if text.starts_with('{') { "home.json" } else { "home.toml" };
    let source = Source::new(name, text.as_bytes()).expect("a text");
    let mut checker = Checker::new();
    look(&checker.check_margins(&source).unwrap_or_else(|refusal| panic!("{}", refusal.render(false))))
}

#[test]
fn a_feed_passes_the_ports_between_its_supply_and_its_amplifier() {
    with(&example("barn-fed-over-coax.toml"), |Checked { home, report }| {
        let tree = report.tree();
        let through: Vec<String> = (0..tree.port_count())
            .filter_map(|number| tree.port_id(number))
            .filter(|port| report.feeds_through(*port).count() == 1)
            .map(|port| home.port(port))
            .collect();
        assert_eq!(through, ["cupboard.1", "workshop run", "workshop inserter.dc"]);
        // What is lost in the supply itself is none of the way's.
        let dc: Vec<_> = report.dc().collect();
        assert!(dc.len() >= 3);
        for row in dc {
            assert!((row.loop_ohms - row.plug_ohms - 0.3).abs() < 1e-6, "{row:?}");
        }
        // 34 dBmV at most, as the file says; of a supply that the file does not have there is no feed.
        let amplifier = report.amplifiers().next().expect("one");
        assert_eq!(amplifier.headroom, Some(34.0 - amplifier.input_total.nominal));
    });
    let endless = example("barn-fed-over-coax.toml").replace("max_input_total = \"34 dBmV\"\n", "");
    with(&endless, |checked| assert_eq!(checked.report.amplifiers().next().and_then(|one| one.headroom), None));
}

#[test]
fn numbers_beyond_the_last_name_nothing() {
    with(&example("cottage-split.toml"), |checked| {
        let tree = checked.report.tree();
        assert!(tree.port_id(tree.port_count() - 1).is_some() && tree.port_id(tree.port_count()).is_none());
        let (outlets, parts) = (tree.outlets().len(), tree.parts().len());
        assert!(tree.outlet_id(outlets - 1).is_some() && tree.outlet_id(outlets).is_none());
        assert!(tree.part_id(parts - 1).is_some() && tree.part_id(parts).is_none());
    });
}

#[test]
fn margins_stand_where_their_figures_belong() {
    let mut met = [0usize; 4];
    for seed in 0..400 {
        with(&home(seed).to_string(), |Checked { report, .. }| {
            assert_eq!(report.margins().len(), report.tree().outlets().len() + Margin::FURTHER);
            for (near, margin) in report.near() {
                let code = margin.code.expect("near() leaves out what has no limit");
                let kind = match code {
                    Code::AmplifierOverdriven | Code::OutputOverdriven => 1,
                    Code::ReturnOverdriven => 2,
                    Code::NeighbourTransmit | Code::HomeLinkWeak => 3,
                    _ => 0,
                };
                let place = match near {
                    Near::Outlet(_) => 0,
                    Near::Amplifiers => 1,
                    Near::Modems => 2,
                    Near::Between => 3,
                };
                assert_eq!(kind, place, "home {seed}: {code:?}");
                met[place] += 1;
                // A margin below zero is a finding, and the other way round.
                let finding = report.findings().iter().any(|finding| finding.code == code);
                assert!(finding || margin.db > -1e-3, "home {seed}: {code:?} {margin:?} is not found");
            }
            for outlet in report.outlets() {
                let limits = report.tree().limits(report.tree().outlets()[outlet.outlet.index()].device);
                let Margin { db, code, mhz } = report.margins()[outlet.outlet.index()];
                let worst =
                    outlet.forward.iter().map(|level| level.low - limits.forward.0).fold(f32::INFINITY, f32::min);
                assert!(db <= worst, "home {seed}: {db} dB, but {worst} dB to the lowest level");
                if code == Some(Code::ForwardLow) {
                    assert_eq!(db, worst);
                    let at = report.forward_frequencies().zip(outlet.forward).find(|(at, _)| Some(*at) == mhz);
                    assert_eq!(at.map(|(_, level)| level.low - limits.forward.0), Some(db));
                }
            }
        });
    }
    assert!(met.iter().all(|count| *count > 20), "{met:?}");
}

#[test]
fn a_finding_says_how_far_beyond_its_limit_it_is_where_that_is_decibels() {
    with(&example("boathouse-long-run.toml"), |checked| {
        let of = |code| checked.report.findings().iter().find(|finding| finding.code == code).expect("found");
        let low: &Finding = of(Code::ForwardLow);
        let (value, limit) = (low.value.expect("a level"), low.limit.expect("a limit"));
        assert_eq!(low.decibels_beyond(), Some(limit - value));
        assert!(low.verdict == Verdict::Fail && limit > value);
        let volts = Finding { unit: "V", ..*low };
        assert_eq!(volts.decibels_beyond(), None);
    });
}

#[test]
fn what_has_no_logarithm_is_refused_by_its_own_name() {
    let is = |what: &'static str, error: Result<f32, Error>| assert_eq!(error, Err(Error::OutOfRange { what }));
    let volts = |volts: f32| Level::from_volts(Volts::new(volts)?).map(Level::dbmv);
    let watts = |watts: f32| Level::from_watts(Watts::new(watts)?).map(Level::dbmv);
    is("level (V)", volts(0.0));
    is("level (W)", watts(0.0));
    is("power ratio", Db::from_power_ratio(0.0).map(Db::db));
    is("power ratio", Db::from_power_ratio(-1.0).map(Db::db));
    assert_eq!(volts(1e-3), Ok(0.0));
    assert_eq!(Db::from_power_ratio(100.0).map(Db::db), Ok(20.0));
}

#[test]
fn a_device_sends_if_either_end_of_its_transmit_level_is_limited() {
    let least = Limits { transmit: (35.0, f32::INFINITY), ..Limits::NONE };
    let most = Limits { transmit: (f32::NEG_INFINITY, 51.0), ..Limits::NONE };
    assert!(least.sends() && most.sends() && !Limits::NONE.sends());
}

/// A service and readings for homes that are built here.
fn with_service<T>(build: impl FnOnce(Service<'_>, Entry<'_>) -> T) -> T {
    let [low, high, step] = [57.0, 861.0, 6.0].map(Frequency::constant);
    let blocks = [Block::new(low, high, step, Db::ZERO).expect("a block")];
    let split = Split { return_top: Frequency::constant(42.0), forward_bottom: Frequency::constant(54.0) };
    let readings = [Point::constant(57.0, 10.0), Point::constant(861.0, 8.0)];
    let entry = Entry::new(Points::new(&readings).expect("two points")).expect("readings");
    build(Service::new(split, &blocks).expect("a service"), entry)
}

#[test]
fn ways_out_that_find_no_room_are_refused_and_nothing_has_changed() {
    with_service(|service, entry| {
        // The entry's port, and three for ways out.
        let mut home = Premises::<4, 4, 2, 1>::new(service, entry);
        let [two, four] = ["2-way", "4-way"].map(|name| legwork::tables::splitter(name).expect("built in"));
        assert_eq!(home.add(PortId::ENTRY, Part::Splitter(four)), Err(Error::Full { what: "ports", capacity: 4 }));
        let first = home.add(PortId::ENTRY, Part::Splitter(two)).expect("room for two");
        let port = home.port(first, Way::Output(1)).expect("a way out");
        assert_eq!(home.add(port, Part::Splitter(two)), Err(Error::Full { what: "ports", capacity: 4 }));
        home.add(port, Part::Pad(Db::constant(3.0))).expect("room for one");
    });
}

#[test]
fn runs_of_one_cable_share_its_table() {
    with_service(|service, entry| {
        let mut home = Premises::<4, 5, 1, 1>::new(service, entry);
        let spec = legwork::tables::cable("series-6").expect("built in");
        let mut port = PortId::ENTRY;
        for feet in [10.0, 20.0, 30.0] {
            let length = Length::from_feet(feet).expect("a length");
            let run = home.add(port, Part::Cable { spec, length, place: Place::Indoor }).expect("room");
            port = home.port(run, Way::Only).expect("its way out");
        }
        home.add_outlet(port, Outlet::new(Device::Tv)).expect("room");
        let full = Workspace::<4, 0, 8, 1, 8>::new().check(&home.tree()).map(drop);
        assert!(matches!(full, Err(Error::Full { capacity: 0, .. })), "{full:?}");
        assert!(Workspace::<4, 1, 8, 1, 8>::new().check(&home.tree()).is_ok());
    });
}
