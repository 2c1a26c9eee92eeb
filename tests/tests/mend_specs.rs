//! Specs in a stock and in the home that it mends: each part is what the file says that it came with.

use legwork::plan::Progress;
use legwork_file::plan::{Mending, STACK, mend};
use legwork_file::{Checker, Source};
use legwork_tests::deeply;

/// A home with a television too near the entry, and a spec of its own.
const HOME: &str = r#"
format = 1
name = "Tollgate Row 1"

[service]
split = "42/54 MHz"
carriers = [{ first = "57 MHz", last = "861 MHz", step = "6 MHz" }]

[entry]
forward = [["57 MHz", "16 dBmV"], ["861 MHz", "16 dBmV"]]
bonded = true

[spec.equalizer.slope]
loss = [["57 MHz", "1 dB"], ["861 MHz", "1 dB"]]

[[part]]
id = "first slope"
after = "entry"
equalizer = "slope"

[[part]]
id = "run"
after = "first slope"
cable = "series-6"
length = "10 ft"

[[outlet]]
id = "corner"
after = "run"
device = "tv"
"#;

/// What becomes of the home with a stock of one equalizer `slope`.
fn mended(home: &str, specs: &str) -> Mending {
    within(home, specs, 1, |_| true)
}

/// The same with more changes, as long as it may go on.
fn within(home: &str, specs: &str, most: usize, mut go_on: impl FnMut(&Progress) -> bool + Send) -> Mending {
    let stock = format!("{specs}\n[stock]\nitem = [{{ equalizer = \"slope\", count = 1, cost = 2 }}]\n");
    deeply(STACK, || {
        let home = Source::new("home.toml", home.as_bytes()).expect("a text");
        let stock = Source::new("stock.toml", stock.as_bytes()).expect("a text");
        mend(&home, &stock, most, &mut go_on).unwrap_or_else(|refusal| panic!("{}", refusal.render(false)))
    })
}

/// The equalizers of the home as it is written, each with its loss at the first point. A check has to find it good.
fn equalizers(mending: &Mending) -> Vec<(String, String)> {
    let text = &mending.planned.premises;
    let source = Source::new("mended.toml", text.as_bytes()).expect("a text");
    let mut checker = Checker::new();
    let checked = checker.check(&source, None).unwrap_or_else(|refusal| panic!("{}", refusal.render(false)));
    let report: serde_json::Value = serde_json::from_str(&checked.json()).expect("JSON");
    assert_eq!(report["verdict"], "pass", "{text}");
    let home: toml::Table = toml::from_str(text).expect("a home");
    let names = home["part"].as_array().expect("parts").iter().filter_map(|part| part.get("equalizer")?.as_str());
    let loss = |name: &str| home["spec"]["equalizer"][name]["loss"][0][1].as_str().expect("a loss").to_owned();
    names.map(|name| (name.to_owned(), loss(name))).collect()
}

fn pairs(of: &[(&str, &str)]) -> Vec<(String, String)> {
    of.iter().map(|(name, loss)| ((*name).to_owned(), (*loss).to_owned())).collect()
}

const OWN: &str = "[spec.equalizer.slope]\nloss = [[\"57 MHz\", \"6 dB\"], [\"861 MHz\", \"6 dB\"]]\n";

#[test]
fn a_spec_of_the_stock_goes_home_with_its_part() {
    let home = HOME.replace("\"slope\"", "\"old\"").replace("equalizer.slope", "equalizer.old");
    let found = equalizers(&mended(&home, OWN));
    assert!(found.contains(&("slope".to_owned(), "6 dB".to_owned())), "{found:?}");
}

#[test]
fn of_two_specs_alike_in_name_the_new_one_takes_another() {
    let mut found = equalizers(&mended(HOME, OWN));
    found.sort();
    assert_eq!(found, pairs(&[("slope", "1 dB"), ("slope of the stock", "6 dB")]));
}

#[test]
fn a_spec_alike_in_all_stands_once() {
    let own = OWN.replace("6 dB", "5 dB");
    let home = HOME.replace("\"1 dB\"", "\"5 dB\"").replace("16 dBmV", "21 dBmV");
    assert_eq!(equalizers(&mended(&home, &own)), pairs(&[("slope", "5 dB"), ("slope", "5 dB")]));
}

#[test]
fn a_stock_may_name_what_the_home_describes() {
    // It has another of the same kind.
    let other = "[spec.equalizer.other]\nloss = \"2 dB\"\n";
    let home = HOME.replace("\"1 dB\"", "\"5 dB\"").replace("16 dBmV", "21 dBmV");
    assert_eq!(equalizers(&mended(&home, other)), pairs(&[("slope", "5 dB"), ("slope", "5 dB")]));
}

#[test]
fn a_search_that_was_ended_proves_nothing() {
    // An equalizer that takes nothing away puts nothing right: that is proved, or left open.
    let weak = OWN.replace("6 dB", "0 dB");
    let home = HOME.replace("\"slope\"", "\"old\"").replace("equalizer.slope", "equalizer.old");
    let proved = |mending: Mending| (mending.planned.feasible, mending.planned.proved);
    assert_eq!(proved(within(&home, &weak, 3, |_| true)), (false, true));
    assert_eq!(proved(within(&home, &weak, 3, |_| false)), (false, false));
}
