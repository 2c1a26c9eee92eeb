//! What a planner has room for: just enough is enough, and too little is said, never taken for a proof.

use legwork::plan::{Bench, Item, Need, Outcome, Planner, Run, Stocked, Wanted};
use legwork::{
    Block, Db, Device, Entry, Error, Frequency, Length, Outlet, Part, Place, Point, Points, Premises, Service, Split,
    tables,
};

/// What comes of a need of so many televisions with one splitter on the truck.
fn planned<const NODES: usize, const OUTLETS: usize>(
    televisions: usize,
    splitter: &Part<'static>,
) -> Result<Outcome<NODES>, Error> {
    const RUN: Run<'static> = Run { spec: &tables::SERIES_6, length: Length::constant(12.0), place: Place::Indoor };
    let mhz = Frequency::constant;
    let blocks = [Block::new(mhz(57.0), mhz(861.0), mhz(6.0), Db::ZERO)?];
    let service = Service::new(Split { return_top: mhz(42.0), forward_bottom: mhz(54.0) }, &blocks)?;
    let readings = [Point::constant(57.0, 9.0), Point::constant(861.0, 7.0)];
    let entry = Entry { bonded: true, ..Entry::new(Points::new(&readings)?)? };
    let outlets = [Wanted { outlet: Outlet::new(Device::Tv), run: RUN, mains: false, member: false }; 4];
    let need = Need {
        outlets: &outlets[..televisions],
        lead_in: None,
        mains: false,
        network: None,
        margin: Db::constant(1.0),
    };
    let stock = [Item { what: Stocked::Part(*splitter), count: 1, cost: 300 }];
    let mut bench = Bench::<16, 48, 4, 1, 7, 0, 8, 80, 1, 32>::new(Premises::new(service, entry));
    Planner::<4, 12, NODES, OUTLETS, 8>::new().plan(&need, &stock, &mut bench, |_| true)
}

const TWO: Part<'static> = Part::Splitter(&tables::SPLITTER_2);
const FOUR: Part<'static> = Part::Splitter(&tables::SPLITTER_4);

#[test]
fn as_many_outlets_as_there_is_room_for_are_planned() {
    assert!(matches!(planned::<8, 2>(2, &TWO), Ok(Outcome::Found(_))));
    assert_eq!(planned::<8, 2>(3, &FOUR).unwrap_err(), Error::Full { what: "outlets", capacity: 2 });
    assert_eq!(planned::<2, 4>(3, &FOUR).unwrap_err(), Error::Full { what: "outlets", capacity: 2 });
}

#[test]
fn as_many_ways_out_as_there_is_room_for_are_planned() {
    // The way in, and the ways out of the splitter.
    assert!(matches!(planned::<3, 2>(2, &TWO), Ok(Outcome::Found(plan)) if plan.proved));
    assert!(matches!(planned::<5, 4>(4, &FOUR), Ok(Outcome::Found(plan)) if plan.proved));
    assert!(matches!(planned::<2, 2>(2, &TWO), Ok(Outcome::Nothing { proved: false })));
    assert!(matches!(planned::<4, 4>(4, &FOUR), Ok(Outcome::Nothing { proved: false })));
}
