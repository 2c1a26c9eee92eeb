//! Locating a fault: what is refused, which parts are one suspect, and what one reading can say.

use legwork::{
    Block, Db, Entry, Error, Frequency, Level, Locator, Part, PartId, Point, Points, PortId, Premises, Reading,
    Service, Split, Way, tables,
};

const READ: [Point; 2] = [Point::constant(57.0, 10.0), Point::constant(861.0, 6.0)];
const ERROR: Db = Db::constant(0.5);

type Home<'s> = Premises<'s, 8, 16, 2, 1>;

fn home(blocks: &[Block]) -> Home<'_> {
    let split = Split { return_top: Frequency::constant(42.0), forward_bottom: Frequency::constant(54.0) };
    let service = Service::new(split, blocks).unwrap();
    Premises::new(service, Entry::new(Points::new(&READ).unwrap()).unwrap())
}

fn blocks() -> [Block; 1] {
    let mhz = Frequency::constant;
    [Block::new(mhz(57.0), mhz(861.0), mhz(6.0), Db::ZERO).unwrap()]
}

fn read(port: PortId, mhz: f32, dbmv: f32) -> Reading {
    Reading { port, frequency: Frequency::constant(mhz), level: Level::constant(dbmv) }
}

/// An inserter, a splitter behind it, a pad on each leg, one more behind the first: parts, and the way out of each.
fn wired<'s>(home: &mut Home<'s>) -> ([PartId; 5], [PortId; 5]) {
    let pad = |home: &mut Home<'s>, port| home.add(port, Part::Pad(Db::constant(1.0))).unwrap();
    let inserter = home.add(PortId::ENTRY, Part::Inserter(&tables::INSERTER)).unwrap();
    let rf = home.port(inserter, Way::Rf).unwrap();
    let splitter = home.add(rf, Part::Splitter(&tables::SPLITTER_2)).unwrap();
    let legs = [1, 2].map(|leg| home.port(splitter, Way::Output(leg)).unwrap());
    let [left, right] = legs.map(|leg| pad(home, leg));
    let last = pad(home, home.port(left, Way::Only).unwrap());
    let behind = [left, right, last].map(|part| home.port(part, Way::Only).unwrap());
    ([inserter, splitter, left, right, last], [rf, legs[0], behind[0], behind[1], behind[2]])
}

#[test]
fn what_can_not_be_located_is_an_error_that_says_why() {
    let blocks = blocks();
    let mut home = home(&blocks);
    let ([inserter, ..], [rf, .., last]) = wired(&mut home);
    let dc = home.port(inserter, Way::Dc).unwrap();
    let tree = home.tree();
    let mut room = Locator::<5, 3>::new();
    let good = [read(last, 57.0, 3.0), read(rf, 57.0, 9.0), read(PortId::ENTRY, 57.0, 10.0)];
    assert!(room.locate(&tree, &good, ERROR).is_ok());
    let mut many = good.to_vec();
    many.push(good[0]);
    assert_eq!(room.locate(&tree, &many, ERROR).unwrap_err(), Error::Full { what: "readings", capacity: 3 });
    let mut small = Locator::<4, 3>::new();
    assert_eq!(small.locate(&tree, &good, ERROR).unwrap_err(), Error::Full { what: "parts", capacity: 4 });
    let none = Error::BadTable { why: "of readings has none that counts" };
    assert_eq!(room.locate(&tree, &[], ERROR).unwrap_err(), none);
    assert_eq!(room.locate(&tree, &good[2..], ERROR).unwrap_err(), none);
    assert_eq!(room.locate(&tree, &[read(dc, 57.0, 3.0)], ERROR).unwrap_err(), Error::DcOnly);
    for error in [0.0, -0.5, 30.01] {
        let refused = room.locate(&tree, &good, Db::constant(error)).unwrap_err();
        assert_eq!(refused, Error::OutOfRange { what: "reading error (dB)" });
    }
    let one = [read(PortId::ENTRY, 57.0, 10.0), read(last, 861.0, 3.0)];
    assert!(matches!(room.locate(&tree, &one, ERROR).unwrap_err(), Error::BadTable { .. }));
    // A port of a larger home is none of this one.
    let bare = self::home(&blocks);
    let refused = room.locate(&bare.tree(), &good, ERROR).unwrap_err();
    assert_eq!(refused, Error::NoSuch { what: "port" });
    assert_eq!(room.compare(&tree, &[read(dc, 57.0, 3.0)], &good, ERROR).unwrap_err(), Error::DcOnly);
}

#[test]
fn parts_that_no_reading_tells_apart_are_one_suspect_and_one_reading_tells_no_shape() {
    let blocks = blocks();
    let mut home = home(&blocks);
    let ([inserter, splitter, left, right, last], [.., behind_left, _, behind_last]) = wired(&mut home);
    let tree = home.tree();
    let mut room = Locator::<5, 4>::new();
    let short = tree.level_at(behind_last, Frequency::constant(57.0), legwork::Case::Nominal).unwrap().dbmv() - 6.0;
    let readings = [read(behind_last, 57.0, short)];
    let diagnosis = room.locate(&tree, &readings, ERROR).unwrap();
    let groups: Vec<Vec<PartId>> = diagnosis.suspects().map(|suspect| suspect.parts().collect()).collect();
    // The leg without a reading has nothing to be accused of, and less to weigh than nothing wrong.
    assert_eq!(groups, [vec![inserter, splitter, left, last], vec![], vec![right]]);
    let best = diagnosis.best();
    assert!((best.excess.flat - 6.0).abs() < 1e-4 && best.excess.rising == 0.0 && best.excess.falling == 0.0);
    let (low, high) = best.band().unwrap();
    assert_eq!(low, high);
    let next = diagnosis.next_reading().unwrap();
    assert!(next.gain > 0.3 && next.port != behind_last);

    let mut both = [readings[0], read(behind_left, 57.0, short + 1.0), read(behind_left, 861.0, 0.0)];
    both[2].level = tree.level_at(behind_left, both[2].frequency, legwork::Case::Nominal).unwrap() - Db::constant(6.0);
    let diagnosis = room.locate(&tree, &both, ERROR).unwrap();
    assert!(diagnosis.best().parts().eq([inserter, splitter, left]));
    assert!(diagnosis.unexplained() < 1e-3);
    let weights: f32 = diagnosis.suspects().map(|suspect| suspect.weight).sum();
    assert!((weights - 1.0).abs() < 1e-5);
}

#[test]
fn nothing_is_left_of_one_home_for_the_next() {
    let blocks = blocks();
    let mut home = home(&blocks);
    let (_, [rf, .., last]) = wired(&mut home);
    let tree = home.tree();
    let many = [
        read(last, 57.0, -9.0),
        read(last, 861.0, -20.0),
        read(PortId::ENTRY, 57.0, 3.0),
        read(PortId::ENTRY, 861.0, 1.0),
    ];
    let few = [read(rf, 57.0, 8.0)];
    let weights = |room: &mut Locator<5, 4>| -> Vec<f32> {
        room.locate(&tree, &few, ERROR).unwrap().suspects().map(|suspect| suspect.weight).collect()
    };
    let (mut fresh, mut used) = (Locator::new(), Locator::new());
    assert!(used.locate(&tree, &many, ERROR).is_ok());
    assert_eq!(weights(&mut used), weights(&mut fresh));
}
