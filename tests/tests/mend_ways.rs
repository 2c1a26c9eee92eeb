//! A part swapped for one with other ways: who hangs on it is told where each goes, where that is not where it was.

use legwork_file::Source;
use legwork_file::plan::{STACK, mend};
use legwork_tests::deeply;

/// Two televisions on the last ways of a splitter that is too large for them.
const HOME: &str = r#"
format = 1
name = "Ropewalk 12"

[service]
split = "42/54 MHz"
carriers = [{ first = "57 MHz", last = "861 MHz", step = "6 MHz" }]

[entry]
forward = [["57 MHz", "0.5 dBmV"], ["861 MHz", "0.5 dBmV"]]
bonded = true

[[part]]
id = "split"
after = "entry"
splitter = "4-way"
terminated = [1, 2]

[[outlet]]
id = "loom"
after = "split.3"
device = "tv"

[[outlet]]
id = "yarn"
after = "split.4"
device = "tv"
"#;

/// What is told of the home with one item on the truck.
fn told(item: &str) -> Vec<String> {
    let stock = format!("[stock]\nitem = [{{ {item}, count = 1, cost = 2 }}]\n");
    deeply(STACK, || {
        let home = Source::new("home.toml", HOME.as_bytes()).expect("a text");
        let stock = Source::new("stock.toml", stock.as_bytes()).expect("a text");
        let mending =
            mend(&home, &stock, 1, &mut |_| true).unwrap_or_else(|refusal| panic!("{}", refusal.render(false)));
        mending.changes.iter().map(|change| change.says.clone()).collect()
    })
}

#[test]
fn who_has_to_go_to_another_way_is_told_where() {
    let says = "Swap splitter `split` for a splitter `2-way`. What hung on split.3 goes on split.1. What hung on split.4 goes \
                on split.2.";
    assert_eq!(told("splitter = \"2-way\""), [says]);
}

#[test]
fn who_can_stay_stays_and_nothing_is_said_of_it() {
    let says = "Swap splitter `split` for a splitter `3-way`. What hung on split.4 goes on split.1.";
    assert_eq!(told("splitter = \"3-way\""), [says]);
}
