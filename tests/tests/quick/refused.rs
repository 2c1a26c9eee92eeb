//! Wrong input: exit code 2, nothing on standard output, the argument and what it takes on standard error.

use crate::binary::run;

/// The arguments, the argument that has to be named, and a word of what it takes.
struct Row(&'static [&'static str], &'static str, &'static str);

const ROWS: &[Row] = &[
    Row(&["level"], "<LEVEL>", "LEVEL"),
    Row(&["level", ""], "LEVEL", "dBmV"),
    Row(&["level", "12"], "LEVEL", "dBmV"),
    Row(&["level", "12 dB"], "LEVEL", "dBmV"),
    Row(&["level", "-2.5 furlongs"], "LEVEL", "dBuV"),
    Row(&["level", "dBmV"], "LEVEL", "dBm"),
    Row(&["level", "nan dBmV"], "LEVEL", "dBmV"),
    Row(&["level", "-inf dBmV"], "LEVEL", "dBmV"),
    Row(&["level", "1e39 dBmV"], "LEVEL", "dBmV"),
    Row(&["level", "400 dBmV"], "LEVEL", "dBmV"),
    Row(&["level", "2,5 dBmV"], "LEVEL", "point"),
    Row(&["level", "0 V"], "LEVEL", "mV"),
    Row(&["level", "-1 mW"], "LEVEL", "mW"),
    Row(&["level", "1 MV"], "LEVEL", "mV"),
    Row(&["level", "3 dBmV 4"], "LEVEL", "dBmV"),
    Row(&["level", "3dBmV", "4dBmV"], "4dBmV", "unexpected"),
    Row(&["level", "3dBmV", "--units"], "--units", "unexpected"),
    Row(&["sum"], "<LEVEL>", "LEVEL"),
    Row(&["sum", "--json"], "<LEVEL>", "LEVEL"),
    Row(&["sum", "3dBmV", "4"], "LEVEL `4`", "dBmV"),
    Row(&["sum", "-3dBmV", "--jason"], "--jason", "dBmV"),
    Row(&["cable", "series-6"], "<LENGTH>", "LENGTH"),
    Row(&["cable", "series-8", "10ft"], "SPEC `series-8`", "series-6"),
    Row(&["cable", "series6", "10ft"], "SPEC `series6`", "did you mean series-6"),
    Row(&["cable", "series-6", "10"], "LENGTH `10`", "ft, in, m or km"),
    Row(&["cable", "series-6", "-10ft"], "LENGTH `-10ft`", "not negative"),
    Row(&["cable", "series-6", "10ft", "--at", "750"], "--at `750`", "MHz"),
    Row(&["cable", "series-6", "10ft", "--at", "57MHz,"], "--at ``", "MHz"),
    Row(&["cable", "series-6", "10ft", "--at", "57MHz,-5MHz"], "--at `-5MHz`", "above zero"),
    Row(&["cable", "series-6", "10ft", "--at", "ch 1"], "--at `ch 1`", "channel"),
    Row(&["cable", "series-6", "10ft", "--at"], "--at", "value"),
    Row(&["cable", "series-6", "10ft", "--temp", "40"], "--temp `40`", "C or F"),
    Row(&["cable", "series-6", "10ft", "--temp", "-300C"], "--temp `-300C`", "C or F"),
    Row(&["along", "12dBmV", "splitter=4-way"], "--at", "FREQUENCY"),
    Row(&["along", "12dBmV", "--at", "57MHz"], "<STEP>", "STEP"),
    Row(&["along", "12", "--at", "57MHz", "pad=3dB"], "LEVEL `12`", "dBmV"),
    Row(&["along", "12dBmV", "--at", "57 ft", "pad=3dB"], "--at `57 ft`", "MHz"),
    Row(&["along", "12dBmV", "--at", "57MHz", "3dB"], "STEP `3dB`", "pad=3dB"),
    Row(&["along", "12dBmV", "--at", "57MHz", "spliter=4-way"], "STEP `spliter=4-way`", "did you mean splitter"),
    Row(&["along", "12dBmV", "--at", "57MHz", "splitter=5-way"], "STEP `splitter=5-way`", "4-way"),
    Row(&["along", "12dBmV", "--at", "57MHz", "splitter=4-way.5"], "STEP `splitter=4-way.5`", "legs 1 to 4"),
    Row(&["along", "12dBmV", "--at", "57MHz", "coupler=9-dB"], "STEP `coupler=9-dB`", "coupler=9-dB.tap"),
    Row(&["along", "12dBmV", "--at", "57MHz", "coupler=7-dB.tap"], "STEP `coupler=7-dB.tap`", "9-dB"),
    Row(&["along", "12dBmV", "--at", "57MHz", "cable=series-6"], "STEP `cable=series-6`", "cable=SPEC:LENGTH"),
    Row(&["along", "12dBmV", "--at", "57MHz", "cable=series-6:60"], "STEP `cable=series-6:60`", "ft"),
    Row(&["along", "12dBmV", "--at", "57MHz", "pad=-3dB"], "STEP `pad=-3dB`", "not negative"),
    Row(&["along", "12dBmV", "--at", "57MHz", "gain=12"], "STEP `gain=12`", "dB"),
    Row(&["along", "12dBmV", "--at", "57MHz", "cable=series-6:900km"], "STEP `cable=series-6:900km`", "out of range"),
    Row(&["feed", "--loop", "3ohm", "--draw", "3W"], "--supply", "VOLTS"),
    Row(&["feed", "--supply", "18V", "--loop", "3.6", "--draw", "3W"], "--loop `3.6`", "ohm"),
    Row(&["feed", "--supply", "18V", "--loop", "-3.6ohm", "--draw", "3W"], "--loop `-3.6ohm`", "ohm"),
    Row(&["feed", "--supply", "18 W", "--loop", "3ohm", "--draw", "3W"], "--supply `18 W`", "V or mV"),
    Row(&["feed", "--supply", "18V", "--loop", "3ohm", "--draw", "3V"], "--draw `3V`", "W, mW, A or mA"),
    Row(&["feed", "--supply", "18V", "--loop", "3ohm", "--draw", "-3W"], "--draw `-3W`", "not negative"),
    Row(&["noise", "--input", "0dBmV", "--bandwidth", "4MHz"], "--noise-figure", "DB"),
    Row(&["noise", "--noise-figure", "5", "--input", "0dBmV", "--bandwidth", "4MHz"], "--noise-figure `5`", "dB"),
    Row(
        &["noise", "--noise-figure", "-5dB", "--input", "0dBmV", "--bandwidth", "4MHz"],
        "--noise-figure",
        "not negative",
    ),
    Row(&["noise", "--noise-figure", "5dB", "--input", "0", "--bandwidth", "4MHz"], "--input `0`", "dBmV"),
    Row(&["noise", "--noise-figure", "5dB", "--input", "0dBmV", "--bandwidth", "4"], "--bandwidth `4`", "MHz"),
    Row(&["noise", "--noise-figure", "5dB", "--input", "0dBmV", "--bandwidth", "ch 4"], "--bandwidth `ch 4`", "MHz"),
    Row(
        &["noise", "--noise-figure", "5dB", "--input", "0dBmV", "--bandwidth", "4MHz", "--cascade", "0"],
        "--cascade `0`",
        "from 1",
    ),
    Row(
        &["noise", "--noise-figure", "5dB", "--input", "0dBmV", "--bandwidth", "4MHz", "--cascade", "2.5"],
        "--cascade `2.5`",
        "whole number",
    ),
    Row(&["channel"], "<CHANNEL>", "CHANNEL"),
    Row(&["channel", "0"], "CHANNEL `0`", "2 to 158"),
    Row(&["channel", "159", "--plan", "hrc"], "CHANNEL `159`", "1 to 158"),
    Row(&["channel", "-3"], "CHANNEL `-3`", "1 to 158"),
    Row(&["channel", "99999999999999999999"], "CHANNEL", "2 to 158"),
    Row(&["channel", "61.25"], "CHANNEL `61.25`", "MHz"),
    Row(&["channel", "three"], "CHANNEL `three`", "number"),
    Row(&["channel", "3", "--plan", "eia"], "--plan", "std, hrc, irc"),
    Row(&["echo", "--velocity", "0.85"], "--ripple", "--delay"),
    Row(&["echo", "--ripple", "4MHz"], "--velocity", "FRACTION"),
    Row(&["echo", "--ripple", "4MHz", "--delay", "90ns", "--velocity", "0.85"], "--ripple", "--delay"),
    Row(&["echo", "--ripple", "4", "--velocity", "0.85"], "--ripple `4`", "MHz"),
    Row(&["echo", "--ripple", "0MHz", "--velocity", "0.85"], "--ripple `0MHz`", "above zero"),
    Row(&["echo", "--ripple", "1Hz", "--velocity", "0.85", "--json"], "--ripple", "takes"),
    Row(&["echo", "--delay", "90us", "--velocity", "0.85"], "--delay `90us`", "ns"),
    Row(&["echo", "--delay", "-90ns", "--velocity", "0.85"], "--delay `-90ns`", "not negative"),
    Row(&["echo", "--ripple", "4MHz", "--velocity", "85"], "--velocity `85`", "above 0 and up to 1"),
    Row(&["echo", "--ripple", "4MHz", "--velocity", "0"], "--velocity `0`", "fraction"),
    Row(&["echo", "--ripple", "4MHz", "--velocity", "NaN"], "--velocity `NaN`", "fraction"),
    Row(&["echo", "--ripple", "4MHz", "--velocity", "0.85", "--ripple-depth", "0dB"], "--ripple-depth", "above zero"),
    Row(&["echo", "--ripple", "4MHz", "--velocity", "0.85", "--ripple-depth", "1"], "--ripple-depth `1`", "dB"),
    Row(&["wire", "18AWG"], "<LENGTH>", "LENGTH"),
    Row(&["wire", "18", "100ft"], "SIZE `18`", "AWG"),
    Row(&["wire", "-1AWG", "100ft"], "SIZE `-1AWG`", "0 to 50"),
    Row(&["wire", "18AWG", "100"], "LENGTH `100`", "ft"),
    Row(&["wire", "18AWG", "100ft", "--metal", "silver"], "--metal", "copper-clad-steel"),
    Row(&["wire", "18AWG", "100ft", "--temp", "hot"], "--temp `hot`", "C or F"),
    Row(&["wire", "18AWG", "100ft", "--strands", "7"], "--strands", "unexpected"),
];

#[test]
fn wrong_input_is_refused_by_its_name_and_with_what_it_takes() {
    for Row(arguments, name, takes) in ROWS {
        let said = run(arguments.iter().copied());
        assert_eq!((said.code, said.out.as_str()), (2, ""), "{arguments:?}: {said:?}");
        assert!(said.err.contains(name), "{arguments:?} should name {name}: {}", said.err);
        assert!(said.err.contains(takes), "{arguments:?} should say {takes}: {}", said.err);
        assert!(said.err.starts_with("error: ") && said.err.ends_with('\n'), "{}", said.err);
    }
    assert!(ROWS.len() >= 80);
}

#[test]
fn the_form_of_the_answer_makes_no_wrong_input_right() {
    for Row(arguments, ..) in ROWS.iter().filter(|Row(arguments, ..)| !arguments.contains(&"--json")) {
        let said = run(arguments.iter().copied().chain(["--json"]));
        assert_eq!((said.code, said.out.as_str()), (2, ""), "{arguments:?}: {said:?}");
    }
}
