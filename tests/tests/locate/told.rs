//! What is said of random visits, as it was: `LEGWORK_BLESS=1` writes it anew; read the difference.
//!
//! That the right part is accused, others hold. A sentence may still name another place, frequency or share.

use std::fmt::Write as _;

use legwork_file::{Finder, Located, Source};
use legwork_tests::{hold_kept, home, visit};

/// So many random visits.
const VISITS: u64 = 100;

/// What is said, also after a repair, the suspects with their shares, and where to read next.
fn told(located: &Located<'_>) -> String {
    let mut text = format!("  {}\n", located.says());
    let better = located.says_better();
    if !better.is_empty() {
        let _ = writeln!(text, "  {better}");
    }
    for suspect in located.diagnosis.suspects().take(4) {
        let ends = suspect.band().map_or(String::new(), |(low, high)| {
            let excess = |frequency| suspect.excess.at(frequency).db();
            format!(": {:.2} dB at {}, {:.2} dB at {} MHz", excess(low), low.mhz(), excess(high), high.mhz())
        });
        let place = if suspect.is_nothing_wrong() { "nothing wrong".to_owned() } else { located.place_of(&suspect) };
        let _ = writeln!(text, "  {:.3} {place}{ends}", suspect.weight);
    }
    let _ = writeln!(text, "  {}", located.says_next());
    text
}

#[test]
fn visits_are_told_as_they_were() {
    let mut finder = Finder::new();
    let mut text = String::new();
    for seed in 0..VISITS {
        let premises = home(seed);
        let visit = visit(&premises, seed);
        let (home, readings) = (premises.to_string(), visit.csv());
        let home = Source::new("home.json", home.as_bytes()).expect("a text");
        let readings = Source::new("readings.csv", readings.as_bytes()).expect("a text");
        let error = legwork::Db::new(visit.sigma as f32).expect("an error");
        match finder.locate(&home, &readings, error) {
            Ok(located) => _ = write!(text, "visit {seed}\n{}", told(&located)),
            Err(refusal) => _ = write!(text, "visit {seed}\n{}", refusal.render(false)),
        }
    }
    hold_kept("tests/locate/told.txt", &text);
}

/// Readings at one outlet, in turn so far above and below what is to be expected: no loss of one part explains them.
fn scattered(by: f64) -> String {
    const HOME: &str = r#"{
        "format": 1,
        "service": {"split": "42/54 MHz", "carriers": [{"first": "57 MHz", "last": "861 MHz", "step": "6 MHz"}]},
        "entry": {"forward": [["57 MHz", "10 dBmV"], ["861 MHz", "10 dBmV"]]},
        "part": [{"id": "pad", "after": "entry", "pad": "3 dB"}],
        "outlet": [{"id": "corner", "after": "pad", "device": "tv"}]
    }"#;
    let lines = (0..40).map(|number| {
        let off = if number % 2 == 0 { by } else { -by };
        format!("corner,{},{}\n", 57 + 20 * number, 7.0 + off)
    });
    let csv = "at,mhz,dbmv\n".to_owned() + &lines.collect::<String>();
    let home = Source::new("home.json", HOME.as_bytes()).expect("a text");
    let readings = Source::new("readings.csv", csv.as_bytes()).expect("a text");
    let mut finder = Finder::new();
    let located = finder.locate(&home, &readings, legwork::Db::constant(0.5));
    located.unwrap_or_else(|refusal| panic!("{}", refusal.render(false))).says()
}

#[test]
fn more_than_twice_the_error_of_a_reading_stays_unexplained() {
    let unexplained = |by| scattered(by).contains("dB stay unexplained where a reading errs by 0.5");
    assert!(!unexplained(0.9));
    assert!(unexplained(1.2), "{}", scattered(1.2));
}
