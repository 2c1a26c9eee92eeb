//! Plans for small needs: a plan is within its stock and what it builds is good; a proof holds against other ways to ask the
//! same, against more stock, against a wider margin and against whatever a shorter search comes to.
#![cfg_attr(fuzzing, no_main)]

use bumpalo::Bump;
use legwork::plan::{
    Bench, Build as _, Item, Need, Origin, Outcome, Plan, Planner, Run, Stocked, Wanted, is_in_the_way,
};
use legwork::{
    Amplifier, Amps, Block, Cable, Curve, Db, DcPorts, Device, Draw, Entry, Error, Frequency, Length, Limits, Margin,
    Occupant, Outlet, Part, Place, Point, Points, Premises, Service, Split, Splitter, Supply, Volts, Watts, Workspace,
    tables,
};
use legwork_fuzz::{Drawn, Shelf, site};

legwork_fuzz::target!(plan);

const OUTLETS: usize = 4;
const NODES: usize = 20;
type Home<'s> = Premises<'s, 40, 128, OUTLETS, 4>;
type Room = Workspace<128, 48, 256, 8, 128>;
/// With room to know what passes between any two outlets, and without.
type Wide<'s> = Bench<'s, 40, 128, OUTLETS, 4, 7, { OUTLETS * OUTLETS }, 48, 256, 8, 128>;
type Narrow<'s> = Bench<'s, 40, 128, OUTLETS, 4, 7, 0, 48, 256, 8, 128>;

/// How many ways out are looked at before a search ends unproved.
const STEPS: u32 = 400;
/// What a margin may differ by when the same parts stand in another order: ulps of levels below 100 dBmV.
const ROUNDING: f32 = 1e-3;

/// What a search comes to, and how it compares: amplifiers, cost, margin; none where nothing serves.
type Answer = (Option<(u8, u32, f32)>, bool);

fn plan(bytes: &[u8]) {
    let drawn = &mut Drawn::new(bytes);
    let arena = Bump::new();
    let shelf = Shelf { arena: &arena, wild: false };
    let blocks = [Block::new(mhz(57.0), mhz(861.0), mhz(6.0), Db::ZERO).unwrap()];
    let service = Service::new(Split { return_top: mhz(42.0), forward_bottom: mhz(54.0) }, &blocks).unwrap();
    let service = service.return_channels(1 + drawn.below(4) as u16).unwrap();
    let point = |drawn: &mut Drawn<'_>, at: f32, levels| Point::new(mhz(at), Db::constant(drawn.tame(levels)));
    let forward = [point(drawn, 57.0, (-6.0, 16.0)), point(drawn, 861.0, (-8.0, 14.0))];
    let transmit = [point(drawn, 12.0, (28.0, 46.0)), point(drawn, 36.0, (28.0, 46.0))];
    let mut entry = Entry::new(Points::new(&forward).unwrap()).unwrap();
    entry.transmit = drawn.one_in(2).then_some(Points::new(&transmit).unwrap());
    entry.cnr = if drawn.one_in(2) { Some(Curve::flat(drawn.tame((36.0, 50.0)))) } else { None };
    entry.spread = drawn.tame((0.0, 1.0));
    let mut home = Home::new(service, entry);
    if drawn.one_in(4) {
        home.set_climate(site::climate(drawn));
    }
    if drawn.one_in(4) {
        let limits = site::limits(drawn);
        home.set_limits(site::device(drawn), Limits { neighbour: Some(drawn.tame((0.0, 40.0))), ..limits });
    }
    let network = if drawn.one_in(4) { site::network(drawn, &shelf) } else { None };
    let outlets: Vec<Wanted<'_>> = (0..1 + drawn.below(OUTLETS)).map(|_| wanted(drawn, &shelf)).collect();
    let need = Need {
        outlets: &outlets,
        lead_in: if drawn.one_in(2) { Some(run(drawn, &shelf)) } else { None },
        mains: drawn.one_in(2),
        network,
        margin: Db::constant(drawn.pick(&[0.0, 0.5, 1.0, 3.0])),
    };
    let stock: Vec<Item<'_>> = (0..2 + drawn.below(5)).map(|_| item(drawn, &shelf)).collect();
    let (change, fewer_steps) = (drawn.below(stock.len()), 1 + drawn.below(60) as u32);

    let bench = &mut Box::new(Wide::new(home.clone()));
    let Ok(outcome) = search(&need, &stock, bench, STEPS) else { return };
    let best = answer(&outcome);
    if let Outcome::Found(plan) = &outcome {
        hold(&need, &stock, plan, bench);
    }
    if !best.1 {
        return;
    }

    // With other room: what is remembered, and what is known of pairs, only saves time.
    let other = Planner::<8, 32, NODES, OUTLETS, 1>::new().plan(
        &need,
        &stock,
        &mut *Box::new(Narrow::new(home.clone())),
        |progress| progress.steps < STEPS,
    );
    same("in other room", best, answer(&other.expect("room for the same need")));

    // In another order.
    let (mut turned, mut about) = (outlets.clone(), stock.clone());
    turned.reverse();
    about.reverse();
    if let Ok(other) = search(&Need { outlets: &turned, ..need }, &about, bench, STEPS) {
        same("in another order", best, answer(&other));
    }

    // With more on the truck, with a wider margin, in less time.
    let mut more = stock.clone();
    more[change].count += 1;
    if let Ok(other) = search(&need, &more, bench, STEPS) {
        let other = answer(&other);
        assert!(!other.1 || !is_better(best.0, other.0), "{best:?}, and with one more on the truck {other:?}");
    }
    let wider = Need { margin: need.margin + Db::constant(0.5), ..need };
    if let Ok(other) = search(&wider, &stock, bench, STEPS) {
        let other = answer(&other);
        assert!(!is_better(other.0, best.0), "{best:?}, and with a wider margin {other:?}");
    }
    if let Ok(other) = search(&need, &stock, bench, fewer_steps) {
        if let Outcome::Found(plan) = &other {
            hold(&need, &stock, plan, bench);
        }
        let other = answer(&other);
        assert!(!is_better(other.0, best.0), "{best:?}, and in less time {other:?}");
    }
}

const fn mhz(mhz: f32) -> Frequency {
    Frequency::constant(mhz)
}

/// A run of cable.
fn run<'b>(drawn: &mut Drawn<'_>, shelf: &Shelf<'b>) -> Run<'b> {
    const CABLES: [&Cable<'_>; 3] = [&tables::SERIES_6, &tables::SERIES_11, &tables::SERIES_59];
    let place = drawn.pick(&[Place::Indoor, Place::Outdoor, Place::Attic]);
    let spec = if drawn.one_in(8) { shelf.cable(drawn) } else { drawn.pick(&CABLES) };
    Run { spec, length: Length::constant(drawn.tame((1.0, 60.0))), place }
}

fn wanted<'b>(drawn: &mut Drawn<'_>, shelf: &Shelf<'b>) -> Wanted<'b> {
    let device = drawn.pick(&Device::WITH_LIMITS);
    let outlet = if drawn.one_in(6) { Outlet::lifeline(device) } else { Outlet::new(device) };
    Wanted { outlet, run: run(drawn, shelf), mains: drawn.one_in(2), member: drawn.one_in(2) }
}

/// Something on the truck: mostly what plans are made of.
fn item<'b>(drawn: &mut Drawn<'_>, shelf: &Shelf<'b>) -> Item<'b> {
    const SPLITTERS: [&Splitter<'_>; 3] = [&tables::SPLITTER_2, &tables::SPLITTER_3, &tables::SPLITTER_4];
    let what = match drawn.below(12) {
        0..4 => Stocked::Part(Part::Splitter(drawn.pick(&SPLITTERS))),
        4 => Stocked::Part(Part::Coupler(shelf.coupler(drawn))),
        5 => Stocked::Part(Part::Pad(Db::constant(drawn.pick(&[3.0, 6.0, 10.0])))),
        6 | 7 => Stocked::Part(Part::Amplifier(amplifier(drawn, shelf))),
        8 | 9 => {
            let volts = Volts::constant(drawn.tame((11.0, 16.0)));
            Stocked::Supply(Supply::new(volts, Amps::constant(drawn.tame((0.2, 1.0)))))
        }
        10 => Stocked::Part(Part::Inserter(&tables::INSERTER)),
        _ => Stocked::Part(shelf.part(drawn)),
    };
    Item { what, count: 1 + drawn.below(3) as u16, cost: 50 * drawn.below(64) as u32 }
}

/// A house amplifier with an ordinary supply.
fn amplifier<'b>(drawn: &mut Drawn<'_>, shelf: &Shelf<'b>) -> &'b Amplifier<'b> {
    let odd = shelf.amplifier(drawn);
    if drawn.one_in(3) {
        return odd;
    }
    shelf.arena.alloc(Amplifier {
        gain: Curve::flat(drawn.tame((5.0, 18.0))),
        return_gain: Some(Curve::flat(drawn.tame((-3.0, 5.0)))),
        noise_figure: Curve::flat(drawn.tame((3.0, 8.0))),
        max_input_total: f32::INFINITY,
        split: None,
        draw: Draw::Power(Watts::constant(drawn.tame((1.0, 4.0)))),
        runs_on: (Volts::constant(9.0), Volts::constant(18.0)),
        dc_ports: DcPorts { power: true, ..odd.dc_ports },
        band: None,
        ..*odd
    })
}

/// A search that ends after so many steps.
fn search<'s>(
    need: &Need<'_, 's>,
    stock: &[Item<'s>],
    bench: &mut Wide<'s>,
    steps: u32,
) -> Result<Outcome<NODES>, Error> {
    let outcome =
        Planner::<8, 32, NODES, OUTLETS, 16>::new().plan(need, stock, bench, |progress| progress.steps < steps);
    if let Err(error) = outcome {
        assert!(matches!(error, Error::Full { .. }), "{error}");
    }
    outcome
}

fn answer(outcome: &Outcome<NODES>) -> Answer {
    match outcome {
        Outcome::Found(plan) => (Some((plan.amplifiers, plan.cost, plan.margin)), plan.proved),
        Outcome::Nothing { proved } => (None, *proved),
    }
}

/// Whether one plan is better than another, by more than rounding.
fn is_better(one: Option<(u8, u32, f32)>, other: Option<(u8, u32, f32)>) -> bool {
    match (one, other) {
        (Some((amplifiers, cost, margin)), Some((others, price, least))) => {
            (amplifiers, cost) < (others, price) || ((amplifiers, cost) == (others, price) && margin > least + ROUNDING)
        }
        (one, other) => one.is_some() && other.is_none(),
    }
}

/// Two proofs say the same.
fn same(how: &str, one: Answer, other: Answer) {
    if other.1 {
        assert!(!is_better(one.0, other.0) && !is_better(other.0, one.0), "{one:?}, and {how} {other:?}");
    } else {
        assert!(!is_better(other.0, one.0), "{one:?} proved, and {how} {other:?}");
    }
}

/// Holds a plan against its need and stock.
fn hold<'s>(need: &Need<'_, 's>, stock: &[Item<'s>], plan: &Plan<NODES>, bench: &mut Wide<'s>) {
    let mut used = vec![0; stock.len()];
    let (mut runs, mut lead_ins) = (Vec::new(), 0);
    plan.build(need, stock, bench, |origin| match origin {
        Origin::Stock(place) => used[place] += 1,
        Origin::Run(place) => runs.push(place),
        Origin::LeadIn => lead_ins += 1,
    })
    .expect("room for what was found");
    for place in plan.supplies() {
        used[place] += 1;
    }
    for (used, item) in used.iter().zip(stock) {
        assert!(*used <= item.count, "{used} of {item:?}");
    }
    let cost: u32 = used.iter().zip(stock).map(|(used, item)| u32::from(*used) * item.cost).sum();
    assert_eq!(cost, plan.cost);
    runs.sort_unstable();
    assert!(runs.iter().copied().eq(0..need.outlets.len()) && lead_ins == usize::from(need.lead_in.is_some()));
    let tree = bench.tree();
    let amplifiers = tree.parts().filter(|(_, part)| part.amplifier().is_some()).count();
    assert_eq!(amplifiers, usize::from(plan.amplifiers));
    for (outlet, wanted) in tree.outlets().iter().zip(need.outlets) {
        assert_eq!((outlet.device, outlet.lifeline), (wanted.outlet.device, wanted.outlet.lifeline));
        let (mut end, _) = tree.owner(outlet.port()).expect("an outlet at the end of a run");
        if let Some(Part::Inserter(_)) = tree.part(end) {
            (end, _) = tree.owner(tree.after(end).unwrap()).expect("an inserter at the end of a run");
        }
        assert_eq!(tree.part(end), Some(&wanted.run.part()));
    }
    let open = (0..tree.port_count())
        .filter_map(|number| tree.port_id(number))
        .find(|port| tree.carries_signal(*port) && tree.occupant(*port) == Some(Occupant::Open));
    assert!(open.is_none(), "{open:?} is open");

    let mut room = Box::new(Room::new());
    let mut margins = [Margin::NONE; OUTLETS + Margin::FURTHER];
    let report = room.check_margins(&tree, &mut margins).expect("room for any of these");
    let bad = report.findings().iter().find(|finding| is_in_the_way(finding));
    assert!(bad.is_none(), "{bad:?}");
    let least = report.margins().iter().map(|margin| margin.db).fold(f32::INFINITY, f32::min);
    assert!(least == plan.margin || (least - plan.margin).abs() <= ROUNDING, "{least} dB, not {}", plan.margin);
    assert!(least >= need.margin.db() - ROUNDING, "{least} dB of {}", need.margin.db());
}
