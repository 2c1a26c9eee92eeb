//! Quantities in text: a number and a unit, as a pattern that takes all that the program takes.

use std::borrow::Cow;

use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};

/// Digits with at most one point, and an exponent.
const NUMBER: &str = r"(?:[0-9]+\.?[0-9]*|\.[0-9]+)(?:[eE][+-]?[0-9]+)?";
/// The same with a digit other than nought.
const ABOVE_NOUGHT: &str = r"\+?(?:0*[1-9][0-9]*\.?[0-9]*|0*\.0*[1-9][0-9]*)(?:[eE][+-]?[0-9]+)?";
/// From nought to a hundred.
const HUNDRED: &str = r"(?:0*(?:100(?:\.0*)?|[0-9]{1,2}(?:\.[0-9]*)?)|\.[0-9]+)";
/// A number whose size a pattern does not see.
const NUMBER_WITH_EXPONENT: &str = r"(?:[0-9]+\.?[0-9]*|\.[0-9]+)[eE][+-]?[0-9]+";
/// Nought, were it with a minus.
const NOUGHT: &str = r"[-\u2212]\s*(?:0+\.?0*|\.0+)(?:[eE][+-]?[0-9]+)?";

/// Which numbers make sense.
#[derive(Clone, Copy)]
enum Sign {
    /// Any.
    Any,
    /// Nought or more.
    NotNegative,
    /// More than nought.
    Positive,
}

impl Sign {
    fn pattern(self) -> String {
        match self {
            Self::Any => format!(r"(?:\+|[-\u2212]\s*)?{NUMBER}"),
            Self::NotNegative => format!(r"(?:\+?{NUMBER}|{NOUGHT})"),
            Self::Positive => ABOVE_NOUGHT.to_owned(),
        }
    }
}

/// A unit in any letter case, but for an `m` that would mean a million as a capital: that is written `!`.
fn unit(unit: &str) -> String {
    let letter = |letter: char| match letter {
        '!' => "m".to_owned(),
        letter if letter.is_ascii_alphabetic() => {
            format!("[{}{}]", letter.to_ascii_lowercase(), letter.to_ascii_uppercase())
        }
        letter => letter.to_string(),
    };
    unit.chars().map(letter).collect()
}

/// A number of some sign and one of some units.
fn with(sign: Sign, units: &[&str]) -> String {
    let units: Vec<String> = units.iter().map(|name| unit(name)).collect();
    format!(r"{}\s*(?:{})", sign.pattern(), units.join("|"))
}

/// Writes a quantity's type: its description, examples, and the patterns of which one fits its whole text.
macro_rules! quantities {
    ($($name:ident, $says:literal, [$($example:literal),+], [$($pattern:expr),+];)+) => { $(
        pub(crate) struct $name;

        impl JsonSchema for $name {
            fn schema_name() -> Cow<'static, str> {
                stringify!($name).into()
            }

            fn json_schema(_: &mut SchemaGenerator) -> Schema {
                let patterns: Vec<String> = vec![$($pattern),+];
                json_schema!({
                    "type": "string",
                    "description": $says,
                    "examples": [$($example),+],
                    "pattern": format!(r"^\s*(?:{})\s*$", patterns.join("|")),
                })
            }
        }
    )+ };
}

use Sign::{Any, NotNegative, Positive};

quantities! {
    Frequency, "A frequency above zero: Hz, kHz, MHz, GHz, or a channel of the standard plan", ["57 MHz", "ch 3"],
        [with(Positive, &["hz", "khz", "mhz", "ghz"]), format!(r"[cC][hH]\s*{ABOVE_NOUGHT}")];
    Length, "A length, not negative: ft, in, m, km, or feet and inches", ["60 ft", "18.3 m", "12 ft 6 in"],
        [with(NotNegative, &["in", "m", "km"]), format!(r"{}(?:\s*{})?", with(NotNegative, &["ft"]), with(NotNegative, &["in"]))];
    UnitLength, "A length above zero: ft, in, m or km", ["100 ft", "100 m"],
        [with(Positive, &["ft", "in", "m", "km"])];
    Level, "A level: dBmV, dBuV, dBm (75 ohm), mV, V, mW or W", ["12 dBmV", "63 dBuV"],
        [with(Any, &["dbmv", "dbuv", "db\u{b5}v", "db\u{3bc}v", "dbm"]), with(Positive, &["!v", "v", "!w", "w"])];
    Gain, "A ratio in dB: positive is gain, negative is loss", ["11 dB", "-1 dB"],
        [with(Any, &["db"])];
    Loss, "A ratio in dB, not negative", ["3.5 dB"],
        [with(NotNegative, &["db"])];
    Volts, "A voltage, not negative: V or mV", ["18 V"],
        [with(NotNegative, &["v", "!v"])];
    Amps, "A current, not negative: A or mA", ["700 mA"],
        [with(NotNegative, &["a", "!a"])];
    Draw, "A constant power or a constant current, not negative: W, mW, A or mA", ["2.6 W", "210 mA"],
        [with(NotNegative, &["w", "!w", "a", "!a"])];
    Ohms, "A resistance, not negative: ohm", ["0.4 ohm"],
        [with(NotNegative, &["ohm", "ohms", "\u{2126}", "\u{3a9}", "!ohm"])];
    Temperature, "A temperature: C or F", ["-25 C", "68 F"],
        [with(Any, &["c", "f", "\u{b0}c", "\u{b0}f"])];
    Percent, "Percent, from 0 to 100", ["5 %"],
        [format!(r"(?:\+?(?:{HUNDRED}|{NUMBER_WITH_EXPONENT})|{NOUGHT})\s*%")];
    WireSize, "A wire size, from 0 to 50: AWG", ["14 AWG"],
        [with(NotNegative, &["awg"])];
    Split, "The top of the return band and the bottom of the forward band", ["42/54 MHz"],
        [format!(r"{ABOVE_NOUGHT}\s*/\s*{}", with(Positive, &["hz", "khz", "mhz", "ghz"]))];
}
