//! Needs and stocks with one mistake each: the right need with a piece of it exchanged.

use std::fs;

use legwork_file::plan::{STACK, mend, plan};
use legwork_file::{Refusal, Source};
use legwork_tests::{deeply, hold_kept};

use super::folder;

/// What is exchanged for what, and what has to be said of it.
struct Wrong {
    /// What the text has, then what it has in its place.
    edit: (&'static str, &'static str),
    line: usize,
    field: &'static str,
    value: &'static str,
    says: &'static str,
}

const fn wrong(
    edit: (&'static str, &'static str),
    line: usize,
    field: &'static str,
    value: &'static str,
    says: &'static str,
) -> Wrong {
    Wrong { edit, line, field, value, says }
}

const SPLITTER: &str = "{ splitter = \"2-way\", count = 2, cost = 4.5 }";

/// In the order of the file.
#[rustfmt::skip]
const NEEDS: &[Wrong] = &[
    wrong(("format = 1\n", "format = 3\n"), 1, "format", "3", "format 1"),
    wrong(("[panel]\nlead_in = { cable = \"series-6\", length = \"30 ft\" }\nmains = true\n", ""), 1, "panel", "", "this key is missing"),
    wrong(("mains = true", "mains = \"yes\""), 15, "panel.mains", "yes", "true or false"),
    wrong(("mains = true", "main = true"), 15, "panel.main", "main", "did you mean `mains`"),
    wrong(("{ cable = \"series-6\", length = \"30 ft\" }", "{ length = \"30 ft\" }"), 14, "panel.lead_in.cable", "", "the name of a cable"),
    wrong(("{ cable = \"series-6\", length = \"30 ft\" }", "{ cable = \"series-6\" }"), 14, "panel.lead_in.length", "", "this key is missing"),
    wrong(("length = \"40 ft\"", "length = \"40 dB\""), 20, "outlet[0].run.length", "40 dB", "length"),
    wrong(("place = \"attic\"", "place = \"atic\""), 20, "outlet[0].run.place", "atic", "did you mean `attic`"),
    wrong(("cable = \"series-6\", length = \"25 ft\"", "cable = \"series-66\", length = \"25 ft\""), 25, "outlet[1].run.cable", "series-66", "did you mean"),
    wrong(("run = { cable = \"series-6\", length = \"25 ft\" }\n", ""), 22, "outlet[1].run", "", "its run from the panel"),
    wrong(("device = \"modem\"\n", ""), 22, "outlet[1].device", "", "one of modem"),
    wrong(("device = \"modem\"", "device = \"modern\""), 24, "outlet[1].device", "modern", "did you mean `modem`"),
    wrong(("device = \"modem\"", "device = \"unused\""), 24, "outlet[1].device", "unused", "leave an unused jack out"),
    wrong(("device = \"modem\"", "device = \"modem\"\nlifeline = 1"), 25, "outlet[1].lifeline", "1", "true or false"),
    wrong(("id = \"desk\"", "id = \"loft\""), 23, "outlet[1].id", "loft", "differ"),
    wrong(("id = \"desk\"\n", ""), 22, "outlet[1].id", "", "this key is missing"),
    wrong(("members = [\"loft\", \"desk\"]\n", ""), 27, "home_network.members", "", "a list of outlets"),
    wrong(("[\"loft\", \"desk\"]", "[\"loft\", \"loft\"]"), 29, "home_network.members[1]", "loft", "a member already"),
    wrong(("[\"loft\", \"desk\"]", "[\"loft\", \"dusk\"]"), 29, "home_network.members[1]", "dusk", "did you mean `desk`"),
    wrong(("margin = \"1 dB\"", "margin = \"-1 dB\""), 32, "stock.margin", "-1 dB", "not negative"),
    wrong(("margin = \"1 dB\"", "margin = \"1 dBmV\""), 32, "stock.margin", "1 dBmV", "dB"),
    wrong((SPLITTER, "{ count = 2 }"), 34, "stock.item[0]", "", "this item has no kind"),
    wrong((SPLITTER, "{ splitter = \"2-way\", pad = \"3 dB\" }"), 34, "stock.item[0].pad", "", "an item is of one kind"),
    wrong((SPLITTER, "{ splitter = \"2-way\", supply = { volts = \"15 V\", amps = \"1 A\" } }"), 34, "stock.item[0].supply", "", "an item is of one kind"),
    wrong((SPLITTER, "{ splitter = \"2-wya\" }"), 34, "stock.item[0].splitter", "2-wya", "did you mean `2-way`"),
    wrong((SPLITTER, "{ spliter = \"2-way\" }"), 34, "stock.item[0].spliter", "spliter", "did you mean `splitter`"),
    wrong((SPLITTER, "{ pad = \"3\" }"), 34, "stock.item[0].pad", "3", "unit"),
    wrong((SPLITTER, "{ splitter = \"2-way\", count = -1 }"), 34, "stock.item[0].count", "-1", "whole number"),
    wrong((SPLITTER, "{ splitter = \"2-way\", count = 1.5 }"), 34, "stock.item[0].count", "1.5", "whole number"),
    wrong((SPLITTER, "{ splitter = \"2-way\", count = 10000 }"), 34, "stock.item[0].count", "10000", "9999"),
    wrong((SPLITTER, "{ splitter = \"2-way\", cost = -0.5 }"), 34, "stock.item[0].cost", "-0.5", "a price from 0"),
    wrong((SPLITTER, "{ splitter = \"2-way\", cost = 4.505 }"), 34, "stock.item[0].cost", "4.505", "two decimals"),
    wrong((SPLITTER, "{ splitter = \"2-way\", cost = 1000000.01 }"), 34, "stock.item[0].cost", "1000000.01", "1000000"),
    wrong((SPLITTER, "{ splitter = \"2-way\", cost = \"4.50\" }"), 34, "stock.item[0].cost", "4.50", "without quotes"),
    wrong(("{ volts = \"15 V\", amps = \"500 mA\" }", "{ volts = \"15 V\" }"), 36, "stock.item[2].supply.amps", "", "this key is missing"),
    wrong(("{ volts = \"15 V\", amps = \"500 mA\" }", "{ amps = \"500 mA\" }"), 36, "stock.item[2].supply.volts", "", "this key is missing"),
    wrong(("{ volts = \"15 V\", amps = \"500 mA\" }", "\"15 V\""), 36, "stock.item[2].supply", "15 V", "volts"),
    wrong(("volts = \"15 V\"", "volts = \"15 W\""), 36, "stock.item[2].supply.volts", "15 W", "V"),
    wrong(("amps = \"500 mA\" }", "amps = \"500 mA\", spread = \"1 V\" }"), 36, "stock.item[2].supply.spread", "1 V", "%"),
    wrong(("amps = \"500 mA\" }", "amps = \"500 mA\", source_ohms = \"-1 ohm\" }"), 36, "stock.item[2].supply.source_ohms", "-1 ohm", "negative"),
];

fn right() -> String {
    fs::read_to_string(folder().join("need/right.toml")).expect("the right need")
}

/// What is said of a need.
fn planned(text: &str) -> Option<Box<Refusal>> {
    let source = Source::new("need.toml", text.as_bytes()).expect("a text");
    deeply(STACK, || plan(&source, &mut |_| true).err())
}

/// What is said of a stock, which is the end of a need.
fn stocked(text: &str) -> Option<Box<Refusal>> {
    let home = fs::read(folder().join("../../../crates/cli/examples/cottage-split.toml")).expect("an example");
    let home = Source::new("home.toml", &home).expect("a text");
    let source = Source::new("stock.toml", text.as_bytes()).expect("a text");
    deeply(STACK, || mend(&home, &source, 1, &mut |_| true).err())
}

/// What is missing in the answer to a wrong text.
fn missing(wrong: &Wrong, line: usize, refusal: Option<Box<Refusal>>) -> Option<String> {
    let Some(refusal) = refusal else { return Some(format!("{:?} is taken", wrong.edit.1)) };
    let message = refusal.render(false);
    let found: Vec<_> =
        refusal.problems().iter().map(|placed| (placed.line, placed.problem.path.to_string())).collect();
    let is_told = message.contains(wrong.value) && message.contains(wrong.says);
    let is_right = found == [(line, wrong.field.to_owned())] && is_told;
    (!is_right).then(|| format!("{line} {} `{}` expected:\n{message}", wrong.field, wrong.says))
}

#[test]
fn each_need_is_refused_with_its_line_field_and_value() {
    let right = right();
    assert!(planned(&right).is_none());
    let missing: Vec<String> = NEEDS
        .iter()
        .filter_map(|wrong| {
            assert_eq!(right.matches(wrong.edit.0).count(), 1, "{}", wrong.edit.0);
            missing(wrong, wrong.line, planned(&right.replace(wrong.edit.0, wrong.edit.1)))
        })
        .collect();
    assert!(missing.is_empty(), "{} missing:\n{}", missing.len(), missing.join("\n"));
}

#[test]
fn each_stock_is_refused_with_its_line_field_and_value() {
    let right = right();
    let before = right.find("[stock]").expect("a stock");
    let (above, stock) = right.split_at(before);
    assert!(stocked(stock).is_none());
    let wrongs = NEEDS.iter().filter(|wrong| wrong.field.starts_with("stock."));
    let missing: Vec<String> = wrongs
        .filter_map(|wrong| {
            let line = wrong.line - above.lines().count();
            missing(wrong, line, stocked(&stock.replace(wrong.edit.0, wrong.edit.1)))
        })
        .collect();
    assert!(missing.is_empty(), "{} missing:\n{}", missing.len(), missing.join("\n"));
}

#[test]
fn what_is_too_much_is_refused_with_how_much_there_may_be() {
    let right = right();
    let outlet = |number| {
        format!(
            "[[outlet]]\nid = \"jack {number}\"\ndevice = \"tv\"\nrun = {{ cable = \"series-6\", length = \"9 ft\" }}\n"
        )
    };
    // Beside the two of the right need.
    let with = |more: usize| {
        let outlets: String = (0..more).map(outlet).collect();
        let need = right.replace("[home_network]", &format!("{outlets}\n[home_network]"));
        planned(&need.replace(SPLITTER, "{ splitter = \"\" }")).expect("a refusal").render(false)
    };
    let message = with(62);
    assert!(!message.contains("at most"), "{message}");
    let message = with(63);
    assert!(message.contains("a need has at most 64 outlets") && message.contains("65 outlets"), "{message}");
    let items = |count: usize| format!("[stock]\nitem = [{}]\n", format!("{SPLITTER},").repeat(count));
    assert!(stocked(&items(64)).is_none());
    let message = stocked(&items(65)).expect("too many").render(false);
    assert!(message.contains("a stock has at most 64") && message.contains("65 items"), "{message}");
    for (part, says) in [("stock", "what is on the truck"), ("outlet", "at least one")] {
        let mut table: toml::Table = toml::from_str(&right).expect("the right need");
        table.remove(part).expect(part);
        if part == "outlet" {
            table.remove("home_network");
        }
        let refusal = planned(&toml::to_string(&table).expect("a text")).expect(part);
        assert_eq!(refusal.problems().len(), 1, "{}", refusal.render(false));
        assert!(refusal.render(false).contains(says), "{}", refusal.render(false));
    }
}

#[test]
fn messages_about_needs_stay_as_they_were_read_and_found_good() {
    let right = right();
    let message = |wrong: &Wrong| {
        let refusal = planned(&right.replace(wrong.edit.0, wrong.edit.1));
        refusal.map_or_else(|| format!("{:?} is taken\n", wrong.edit.1), |refusal| refusal.render(false))
    };
    let messages: Vec<String> = NEEDS.iter().map(message).collect();
    hold_kept("data/refused/need/messages.txt", &messages.join("\n"));
}
