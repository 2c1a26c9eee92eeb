//! What changed from one visit to the next: what moved at the entry is nobody's fault.

use bumpalo::Bump;
use legwork::{Db, Frequency, Level, Locator, PortId, Reading};
use legwork_tests::{Random, home};

use super::{Site, shaped, sigma};

/// How far the entry has moved at a frequency: by so much, and tilted by so much at the last carrier.
fn shift(site: &Site<'_>, moved: (f64, f64), mhz: f64) -> f64 {
    let [low, _, high] = site.frequencies;
    moved.0 + moved.1 * (mhz.sqrt() - low.sqrt()) / (high.sqrt() - low.sqrt())
}

/// Where the entry is read: a little off the frequencies of all others, so that what moved is told between them, too.
fn at_entry(site: &Site<'_>) -> [f64; 2] {
    let [low, _, high] = site.frequencies;
    [low - 0.5, high + 0.5]
}

/// A visit with readings at the entry, which has moved.
fn visit(site: &Site<'_>, fault: Option<&super::Fault<'_>>, moved: (f64, f64), random: &mut Random) -> Vec<Reading> {
    let shift = |mhz| shift(site, moved, mhz);
    let mut readings = site.visit(fault, random);
    for reading in &mut readings {
        let moved = shift(f64::from(reading.frequency.mhz())) as f32;
        reading.level = Level::new((reading.level.dbmv() + moved).clamp(-300.0, 300.0)).expect("a level");
    }
    for mhz in at_entry(site) {
        let level = Level::new((site.wiring.level("entry", mhz) + shift(mhz)) as f32).expect("a level");
        readings.push(Reading { port: PortId::ENTRY, frequency: Frequency::new(mhz as f32).expect("one"), level });
    }
    readings
}

#[test]
fn what_moved_at_the_entry_is_taken_off_and_what_got_worse_is_found() {
    let mut room = Box::new(Locator::<256, 256>::new());
    let (mut cases, mut accused, mut found, mut mended) = (0, 0, 0, 0);
    let mut seed = 0;
    while cases < 300 {
        let (premises, arena) = (home(seed), Bump::new());
        seed += 1;
        let Some(site) = Site::new(&premises, &arena, 2) else { continue };
        let mut random = Random::new(seed);
        let parts: Vec<&str> = site.wiring.parts();
        let outlets = site.wiring.outlets();
        let served: Vec<&str> =
            parts.into_iter().filter(|part| outlets.iter().any(|outlet| site.wiring.is_behind(outlet, part))).collect();
        let fault = (random.one(&served), shaped(random.between(3.0, 6.0), site.frequencies, &mut random));
        let moved = (random.between(-6.0, 6.0), random.between(-3.0, 3.0));
        let before = visit(&site, None, (0.0, 0.0), &mut random);
        let same = visit(&site, None, moved, &mut random);
        let worse = visit(&site, Some(&fault), moved, &mut random);
        let tree = site.home.tree();
        cases += 1;
        let diagnosis = room.compare(&tree, &before, &same, sigma()).expect("room");
        accused += usize::from(diagnosis.stands_out().is_some());
        let entry: Vec<f32> = diagnosis.entry().iter().map(|point| point.value()).collect();
        assert_eq!(entry.len(), 2);
        for (entry, mhz) in entry.into_iter().zip(at_entry(&site)) {
            assert!((f64::from(entry) - shift(&site, moved, mhz)).abs() < 1e-3);
        }
        let is_it = |parts: Vec<&str>| usize::from(parts.contains(&fault.0));
        let diagnosis = room.compare(&tree, &before, &worse, sigma()).expect("room");
        found += diagnosis.stands_out().map_or(0, |best| is_it(best.parts().map(|id| site.home.part(id)).collect()));
        // The other way round: mended since.
        let diagnosis = room.compare(&tree, &worse, &same, sigma()).expect("room");
        assert!(diagnosis.suspects().count() > 1);
        mended += usize::from(diagnosis.stands_out().is_some());
    }
    println!("of {cases}: {accused} accused, {found} found, {mended} accused after mending");
    assert!(accused <= 15 && mended <= 15, "{accused} {mended}");
    assert!(found * 100 >= 85 * cases, "{found}");
}

#[test]
fn readings_without_a_partner_do_not_count_and_the_error_is_that_of_a_difference() {
    let (premises, arena) = (home(3), Bump::new());
    let site = Site::new(&premises, &arena, 2).expect("a site");
    let mut random = Random::new(1);
    let before = site.visit(None, &mut random);
    let mut after = site.visit(None, &mut random);
    let count = after.len();
    after[0].frequency = Frequency::constant(5.5);
    let mut room = Box::new(Locator::<256, 256>::new());
    let tree = site.home.tree();
    let diagnosis = room.compare(&tree, &before, &after, sigma()).expect("room");
    assert_eq!(diagnosis.readings().count(), count - 1);
    assert!((diagnosis.error().db() - 0.707_106_77).abs() < 1e-6);
    for (row, was) in diagnosis.readings().zip(&before[1..]) {
        assert_eq!(row.expected.dbmv(), was.level.dbmv());
    }
    assert!(room.compare(&tree, &before, &[], Db::constant(0.5)).is_err());
}
