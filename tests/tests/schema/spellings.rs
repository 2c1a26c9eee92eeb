//! Every spelling of a quantity: the pattern takes what the program takes, and refuses what it refuses for its shape.

use jsonschema::Validator;
use legwork_file::quantity::{self, Bad, Why};
use schemars::JsonSchema;
use serde_json::Value;

use super::generate::of_file;
use super::quantity as typed;

const SIGNS: [&str; 6] = ["", "+", "-", "\u{2212}", "- ", "+ "];
const NUMBERS: [&str; 16] =
    ["", "0", "7", "007", "0.0", "7.", ".5", ".", "1.25", "42/54", "1e2", "2E-1", "1,5", "nan", "100", "1 2"];
const GAPS: [&str; 4] = ["", " ", "  ", "\t"];
const UNITS: [&str; 43] = [
    "",
    "ft",
    "in",
    "m",
    "km",
    "FT",
    "ft 6 in",
    "ft6in",
    "ft -6 in",
    "ft 6",
    "Hz",
    "kHz",
    "MHz",
    "mhz",
    "GHz",
    "dB",
    "DB",
    "dBmV",
    "dBMV",
    "dBuV",
    "dB\u{b5}V",
    "dB\u{3bc}V",
    "dBm",
    "V",
    "v",
    "mV",
    "MV",
    "A",
    "mA",
    "MA",
    "W",
    "mW",
    "MW",
    "ohm",
    "ohms",
    "\u{2126}",
    "mohm",
    "Mohm",
    "C",
    "\u{b0}F",
    "%",
    "AWG",
    "furlongs",
];
/// What is no number and unit, or has something around it.
const ODD: [&str; 9] = ["ch 3", "CH3", "ch", "ch 3 MHz", " 7 MHz ", "7 MHz 7", "none", "7 dB 7 dB", "42 / 54 MHz"];

/// Whether the program takes a text, or why not.
type Reads = fn(&str) -> Result<(), Bad>;

/// The quantities, each with the pattern of its schema.
fn quantities() -> Vec<(Validator, Reads)> {
    fn pattern<T: JsonSchema>() -> Validator {
        jsonschema::draft7::new(&of_file::<T>()).expect("a schema of its draft")
    }
    vec![
        (pattern::<typed::Frequency>(), |text| quantity::frequency(text).map(drop)),
        (pattern::<typed::Length>(), |text| quantity::length(text).map(drop)),
        (pattern::<typed::Level>(), |text| quantity::level(text).map(drop)),
        (pattern::<typed::Gain>(), |text| quantity::db(text).map(drop)),
        (pattern::<typed::Loss>(), |text| quantity::loss(text).map(drop)),
        (pattern::<typed::Volts>(), |text| quantity::volts(text).map(drop)),
        (pattern::<typed::Amps>(), |text| quantity::amps(text).map(drop)),
        (pattern::<typed::Draw>(), |text| quantity::draw(text).map(drop)),
        (pattern::<typed::Ohms>(), |text| quantity::ohms(text).map(drop)),
        (pattern::<typed::Temperature>(), |text| quantity::temperature(text).map(drop)),
        (pattern::<typed::Percent>(), |text| quantity::percent(text).map(drop)),
        (pattern::<typed::WireSize>(), |text| quantity::awg(text).map(drop)),
        (pattern::<typed::Split>(), |text| quantity::split(text).map(drop)),
    ]
}

#[test]
fn patterns_take_and_refuse_the_spellings_that_the_program_does() {
    let mut texts: Vec<String> = ODD.map(str::to_owned).to_vec();
    for sign in SIGNS {
        for number in NUMBERS {
            for gap in GAPS {
                texts.extend(UNITS.map(|unit| format!("{sign}{number}{gap}{unit}")));
            }
        }
    }
    for (pattern, reads) in quantities() {
        let mut taken = 0;
        for text in &texts {
            let fits = pattern.is_valid(&Value::from(text.as_str()));
            match reads(text) {
                Ok(()) => {
                    assert!(fits, "{text:?} is taken by the program alone");
                    taken += 1;
                }
                // A size is no matter of shape.
                Err(Bad { why: Why::Impossible | Why::NotFinite | Why::UpsideDown | Why::NoChannel, .. }) => {}
                Err(bad) => assert!(!fits, "{text:?} is taken by the schema alone: {bad}"),
            }
        }
        assert!(taken > 20, "only {taken} spellings are taken");
    }
}
