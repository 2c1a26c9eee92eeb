//! Weights mean what they say, and nobody is accused without ground.

use bumpalo::Bump;
use legwork::{Locator, Suspect};
use legwork_file::Home;
use legwork_tests::{Line, Random, home, locate};
use serde_json::Value;

use super::{Fault, SIGMA, Site, shaped, sigma};

/// Room for any random home.
type Room = Locator<256, 256>;

/// Runs `visit` on the sites of homes that can be read at, until there were so many.
fn each_site(homes: usize, mut visit: impl FnMut(&Value, &Site<'_>, &mut Random)) {
    let mut done = 0;
    let mut seed = 0;
    while done < homes {
        let (premises, arena) = (home(seed), Bump::new());
        seed += 1;
        if let Some(site) = Site::new(&premises, &arena, 2) {
            visit(&premises, &site, &mut Random::new(seed + 100));
            done += 1;
        }
    }
}

/// Whether a suspect is the fault that there is, or that there is none.
fn is_right(home: &Home<'_>, suspect: &Suspect<'_>, fault: Option<&Fault<'_>>) -> bool {
    match fault {
        None => suspect.is_nothing_wrong(),
        Some((part, _)) => suspect.parts().any(|id| home.part(id) == *part),
    }
}

#[test]
fn of_a_thousand_healthy_homes_at_most_fifty_are_accused() {
    let mut room = Box::new(Room::new());
    let (mut first, mut accused) = (0, 0);
    each_site(1000, |_, site, random| {
        let readings = site.visit(None, random);
        let diagnosis = room.locate(&site.home.tree(), &readings, sigma()).expect("room");
        first += usize::from(!diagnosis.best().is_nothing_wrong());
        accused += usize::from(diagnosis.stands_out().is_some());
    });
    println!("of 1000 healthy homes a part is the first suspect of {first}, and {accused} are accused");
    // Here 3 in a hundred: a model that never accuses would be of no use either.
    assert!((5..=50).contains(&accused), "{accused}");
    // A first suspect of less weight than all else together is no accusation; there are a few more of those.
    assert!(first <= 60, "{first}");
}

#[test]
fn an_accusation_is_right_as_often_as_its_weight_says() {
    const VISITS: usize = 60;
    /// Of the greatest fault, in sigmas: larger ones leave little doubt, and no doubt tests no weight.
    const LARGEST: f64 = 2.0;
    #[derive(Clone, Copy, Default)]
    struct Tenth {
        count: f64,
        right: f64,
        weight: f64,
    }
    let mut room = Box::new(Room::new());
    let mut tenths = [Tenth::default(); 10];
    let mut none = Tenth::default();
    each_site(900, |_, site, random| {
        let parts = site.wiring.parts();
        for visit in 0..VISITS {
            let size = random.between(0.0, LARGEST * SIGMA);
            let fault = (visit % 2 == 1).then(|| (random.one(&parts), shaped(size, site.frequencies, random)));
            let readings = site.visit(fault.as_ref(), random);
            let diagnosis = room.locate(&site.home.tree(), &readings, sigma()).expect("room");
            let best = diagnosis.best();
            let tenth =
                if best.is_nothing_wrong() { &mut none } else { &mut tenths[((best.weight * 10.0) as usize).min(9)] };
            tenth.count += 1.0;
            tenth.right += f64::from(u8::from(is_right(&site.home, &best, fault.as_ref())));
            tenth.weight += f64::from(best.weight);
        }
    });
    let mut judged = 0;
    for (number, Tenth { count, right, weight }) in tenths.into_iter().enumerate() {
        println!("{}0 %: {count} accusations, {:.3} right, {:.3} stated", number, right / count, weight / count);
        // Five hundred throws of a coin are within 4.5 points in 95 cases of 100.
        if count >= 500.0 {
            judged += 1;
            assert!((right / count - weight / count).abs() <= 0.05, "{}0 %", number);
        }
    }
    assert!(judged >= 7, "{judged} tenths");
    // That nothing is wrong never weighs more than half, as each part may be at fault without showing it: a cautious figure.
    println!(
        "nothing: {} times, {:.3} right, {:.3} stated",
        none.count,
        none.right / none.count,
        none.weight / none.count
    );
    assert!(none.count > 10_000.0 && none.weight / none.count <= 0.5001 && none.right >= none.weight);
}

#[test]
fn a_fault_of_two_decibels_is_found_as_often_as_the_model_can() {
    let mut room = Box::new(Room::new());
    let (mut cases, mut found, mut optimum) = (0, 0, 0);
    each_site(400, |premises, site, random| {
        let outlets = site.wiring.outlets();
        let behind = |part: &str| outlets.iter().filter(|outlet| site.wiring.is_behind(outlet, part)).count();
        let parts: Vec<&str> = site.wiring.parts().into_iter().filter(|part| behind(part) >= 2).collect();
        if parts.is_empty() {
            return;
        }
        // At least 2 dB at every frequency.
        let fault = (random.one(&parts), [random.between(2.0, 4.0), random.one(&[0.0, 3.0]), random.one(&[0.0, 20.0])]);
        let readings = site.visit(Some(&fault), random);
        let tree = site.home.tree();
        let names: Vec<&str> = outlets.iter().flat_map(|outlet| [*outlet; 3]).collect();
        let diagnosis = room.locate(&tree, &readings, sigma()).expect("room");
        cases += 1;
        found += usize::from(is_right(&site.home, &diagnosis.best(), Some(&fault)));
        let line = |(at, reading): (&&str, &legwork::Reading)| -> Line {
            ((*at).to_owned(), f64::from(reading.frequency.mhz()), f64::from(reading.level.dbmv()))
        };
        let lines: Vec<Line> = names.iter().zip(&readings).map(line).collect();
        let best = &locate(premises, &lines, SIGMA)["suspects"][0]["parts"];
        optimum += usize::from(best.as_array().is_some_and(|parts| parts.iter().any(|part| *part == *fault.0)));
    });
    println!("of {cases} faults {found} are in the first group, by the model {optimum}");
    assert!(cases >= 300 && found >= optimum && found * 100 >= 98 * cases, "{found} {optimum} {cases}");
}
