//! Quantities as people type them: a number and a unit, with or without a space.
//!
//! Each function takes one kind of quantity and answers in core's own type. A [`Bad`] says what is
//! wrong with the text and which units the field takes.

mod meant;
mod scan;
mod unit;

use std::fmt;

use legwork::quick::ChannelPlan;
use legwork::{Amps, Awg, Db, Draw, Frequency, Length, Level, Ohms, Percent, Temperature, Volts, Watts};

/// One foot is 0.3048 m exactly.
const METRES_PER_FOOT: f64 = 0.3048;

use scan::Scan;
use unit::Unit;

/// Why a text is no quantity.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Why {
    /// There is no number at its front.
    NoNumber,
    /// The number is infinite, not a number, or larger than any.
    NotFinite,
    /// A decimal comma.
    Comma,
    /// Something follows the unit.
    Trailing,
    /// There is no unit.
    NoUnit,
    /// The unit is of another kind, or none.
    WrongUnit,
    /// No home has that.
    Impossible,
    /// What has to be the lower of two is the higher.
    UpsideDown,
    /// The standard plan has no such channel.
    NoChannel,
}

/// A text that is not the quantity asked for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Bad {
    /// What is wrong.
    pub why: Why,
    /// What the field takes, as in `"a length: ft, in, m or km"`.
    pub takes: &'static str,
}

impl fmt::Display for Bad {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let takes = self.takes;
        match self.why {
            Why::NoNumber => write!(f, "there is no number; it takes {takes}"),
            Why::NotFinite => write!(f, "that is not a finite number; it takes {takes}"),
            Why::Comma => write!(f, "write the decimal with a point; it takes {takes}"),
            Why::Trailing => write!(f, "there is more than a number and a unit; it takes {takes}"),
            Why::NoUnit => write!(f, "the unit is missing; it takes {takes}"),
            Why::WrongUnit => write!(f, "that unit does not fit; it takes {takes}"),
            Why::Impossible => write!(f, "that is outside what is possible; it takes {takes}"),
            Why::UpsideDown => write!(f, "the first has to be the lower one; it takes {takes}"),
            Why::NoChannel => write!(f, "the standard plan has no such channel; it takes {takes}"),
        }
    }
}

impl std::error::Error for Bad {}

/// Reads a number and a unit that `to_base` knows, and wraps what it makes of them.
fn read<T>(
    text: &str,
    takes: &'static str,
    to_base: impl Fn(f64, Unit) -> Option<f64>,
    wrap: impl Fn(f32) -> Result<T, legwork::Error>,
) -> Result<T, Bad> {
    let bad = |why| Bad { why, takes };
    let (number, unit) = Scan::new(text).quantity().map_err(bad)?;
    let base = to_base(number, unit).ok_or_else(|| bad(missing_or_wrong(unit)))?;
    wrap(base as f32).map_err(|_| bad(Why::Impossible))
}

fn missing_or_wrong(unit: Unit) -> Why {
    if unit.folded() == unit::NONE { Why::NoUnit } else { Why::WrongUnit }
}

/// A length and whether the text spoke in feet and inches.
///
/// # Errors
/// [`Bad`] for anything else, a negative length included.
pub fn length(text: &str) -> Result<(Length, bool), Bad> {
    const TAKES: &str = "a length, not negative: ft, in, m or km (\"12 ft 6 in\" too)";
    let bad = |why| Bad { why, takes: TAKES };
    let mut scan = Scan::new(text);
    let number = scan.number().map_err(bad)?;
    let unit = scan.unit();
    let (metres, feet) = match unit.folded() {
        unit::FT => {
            let inches = if scan.is_empty() { 0.0 } else { inches(&mut scan).map_err(bad)? };
            (number * METRES_PER_FOOT + inches, true)
        }
        unit::IN => (number * (METRES_PER_FOOT / 12.0), true),
        unit::M => (number, false),
        unit::KM => (number * 1000.0, false),
        _ => return Err(bad(missing_or_wrong(unit))),
    };
    if !scan.is_empty() {
        return Err(bad(Why::Trailing));
    }
    // A minus before nought would be lost in a comparison alone.
    if number.is_sign_negative() && number != 0.0 {
        return Err(bad(Why::Impossible));
    }
    Length::new(metres as f32).map(|length| (length, feet)).map_err(|_| bad(Why::Impossible))
}

/// The inches behind feet, in metres.
fn inches(scan: &mut Scan<'_>) -> Result<f64, Why> {
    let number = scan.number().map_err(|why| if why == Why::NoNumber { Why::Trailing } else { why })?;
    match scan.unit().folded() {
        unit::IN if number >= 0.0 => Ok(number * (METRES_PER_FOOT / 12.0)),
        unit::IN => Err(Why::Impossible),
        _ => Err(Why::Trailing),
    }
}

/// A frequency, `ch 3` being the centre of that channel of the standard plan.
///
/// # Errors
/// [`Bad`] for anything else.
pub fn frequency(text: &str) -> Result<Frequency, Bad> {
    const TAKES: &str = "a frequency above zero: Hz, kHz, MHz, GHz or a channel, \"ch 3\"";
    let mut scan = Scan::new(text);
    if scan.word(b"ch") {
        let bad = |why| Bad { why, takes: TAKES };
        let number = scan.number().map_err(bad)?;
        if !scan.is_empty() {
            return Err(bad(Why::Trailing));
        }
        if !(1.0..=255.0).contains(&number) || number.fract() != 0.0 {
            return Err(bad(Why::NoChannel));
        }
        let channel = ChannelPlan::Standard.channel(number as u8).ok_or(bad(Why::NoChannel))?;
        return Ok(channel.centre);
    }
    let to_mhz = |number: f64, unit: Unit| match unit.folded() {
        unit::MHZ => Some(number),
        unit::GHZ => Some(number * 1e3),
        unit::KHZ => Some(number / 1e3),
        unit::HZ => Some(number / 1e6),
        _ => None,
    };
    read(text, TAKES, to_mhz, Frequency::new)
}

/// A ratio in dB.
///
/// # Errors
/// [`Bad`] for anything else.
pub fn db(text: &str) -> Result<Db, Bad> {
    read(text, "a ratio: dB", |number, unit| (unit.folded() == unit::DB).then_some(number), Db::new)
}

/// A loss in dB, not negative.
///
/// # Errors
/// [`Bad`] for anything else.
pub fn loss(text: &str) -> Result<Db, Bad> {
    const TAKES: &str = "a ratio, not negative: dB";
    let db = read(text, TAKES, |number, unit| (unit.folded() == unit::DB).then_some(number), Db::new)?;
    if db.db() < 0.0 { Err(Bad { why: Why::Impossible, takes: TAKES }) } else { Ok(db) }
}

/// A level, in dBmV, dBuV, dBm in 75 ohm, volts or watts.
///
/// # Errors
/// [`Bad`] for anything else.
pub fn level(text: &str) -> Result<Level, Bad> {
    const TAKES: &str = "a level: dBmV, dBuV, dBm (75 ohm), mV, V, mW or W";
    let bad = |why| Bad { why, takes: TAKES };
    let (number, unit) = Scan::new(text).quantity().map_err(bad)?;
    let level = match unit.milli() {
        unit::DBMV => Level::new(number as f32),
        unit::DBUV | unit::DBUV_MICRO | unit::DBUV_MU => Level::new((number - 60.0) as f32),
        unit::DBM => Level::from_dbm(number as f32),
        unit::V => Volts::new(number as f32).and_then(Level::from_volts),
        unit::MV => Volts::new((number * 1e-3) as f32).and_then(Level::from_volts),
        unit::W => Watts::new(number as f32).and_then(Level::from_watts),
        unit::MW => Watts::new((number * 1e-3) as f32).and_then(Level::from_watts),
        _ => return Err(bad(missing_or_wrong(unit))),
    };
    level.map_err(|_| bad(Why::Impossible))
}

/// A voltage.
///
/// # Errors
/// [`Bad`] for anything else.
pub fn volts(text: &str) -> Result<Volts, Bad> {
    let to_volts = |number: f64, unit: Unit| match unit.milli() {
        unit::V => Some(number),
        unit::MV => Some(number / 1e3),
        _ => None,
    };
    read(text, "a voltage, not negative: V or mV", to_volts, Volts::new)
}

/// A current.
///
/// # Errors
/// [`Bad`] for anything else.
pub fn amps(text: &str) -> Result<Amps, Bad> {
    read(text, "a current, not negative: A or mA", to_amps, Amps::new)
}

fn to_amps(number: f64, unit: Unit) -> Option<f64> {
    match unit.milli() {
        unit::A => Some(number),
        unit::MA => Some(number / 1e3),
        _ => None,
    }
}

/// What something draws: a constant power or a constant current.
///
/// # Errors
/// [`Bad`] for anything else.
pub fn draw(text: &str) -> Result<Draw, Bad> {
    const TAKES: &str = "a power or a current, not negative: W, mW, A or mA";
    let bad = |why| Bad { why, takes: TAKES };
    let (number, unit) = Scan::new(text).quantity().map_err(bad)?;
    let draw = match (unit.milli(), to_amps(number, unit)) {
        (_, Some(amps)) => Amps::new(amps as f32).map(Draw::Current),
        (unit::W, _) => Watts::new(number as f32).map(Draw::Power),
        (unit::MW, _) => Watts::new((number / 1e3) as f32).map(Draw::Power),
        _ => return Err(bad(missing_or_wrong(unit))),
    };
    draw.map_err(|_| bad(Why::Impossible))
}

/// A resistance.
///
/// # Errors
/// [`Bad`] for anything else.
pub fn ohms(text: &str) -> Result<Ohms, Bad> {
    let to_ohms = |number: f64, unit: Unit| match unit.milli() {
        unit::OHM | unit::OHMS | unit::OHM_SIGN | unit::OMEGA => Some(number),
        unit::MOHM => Some(number / 1e3),
        _ => None,
    };
    read(text, "a resistance, not negative: ohm", to_ohms, Ohms::new)
}

/// A temperature.
///
/// # Errors
/// [`Bad`] for anything else.
pub fn temperature(text: &str) -> Result<Temperature, Bad> {
    let to_celsius = |number: f64, unit: Unit| match unit.folded() {
        unit::C | unit::DEGREE_C => Some(number),
        unit::F | unit::DEGREE_F => Some((number - 32.0) / 1.8),
        _ => None,
    };
    read(text, "a temperature: C or F", to_celsius, Temperature::new)
}

/// A spread in percent.
///
/// # Errors
/// [`Bad`] for anything else.
pub fn percent(text: &str) -> Result<Percent, Bad> {
    let to_percent = |number: f64, unit: Unit| (unit.folded() == unit::PERCENT).then_some(number);
    read(text, "percent from 0 to 100: %", to_percent, Percent::new)
}

/// A time in nanoseconds.
///
/// # Errors
/// [`Bad`] for anything else.
pub fn nanoseconds(text: &str) -> Result<f32, Bad> {
    const TAKES: &str = "a time, not negative: ns";
    let wrap = |number: f32| {
        if number >= 0.0 { Ok(number) } else { Err(legwork::Error::OutOfRange { what: "time (ns)" }) }
    };
    read(text, TAKES, |number, unit| (unit.folded() == unit::NS).then_some(number), wrap)
}

/// A wire size.
///
/// # Errors
/// [`Bad`] for anything else.
pub fn awg(text: &str) -> Result<Awg, Bad> {
    let to_awg = |number: f64, unit: Unit| (unit.folded() == unit::AWG).then_some(number);
    read(text, "a wire size from 0 to 50: AWG", to_awg, Awg::new)
}

/// The top of the return band and the bottom of the forward band, as in "42/54 MHz".
///
/// # Errors
/// [`Bad`] for anything else, also where they do not rise.
pub fn split(text: &str) -> Result<legwork::Split, Bad> {
    const TAKES: &str = "the top of the return and the bottom of the forward band, as in \"42/54 MHz\"";
    let bad = |why| Bad { why, takes: TAKES };
    let mut scan = Scan::new(text);
    let top = scan.number().map_err(bad)?;
    if !scan.byte(b'/') {
        return Err(bad(Why::Trailing));
    }
    let (bottom, unit) = scan.quantity().map_err(bad)?;
    let scale = match unit.folded() {
        unit::MHZ => 1.0,
        unit::GHZ => 1e3,
        unit::KHZ => 1e-3,
        unit::HZ => 1e-6,
        _ => return Err(bad(missing_or_wrong(unit))),
    };
    let checked = |number: f64| Frequency::new((number * scale) as f32).map_err(|_| bad(Why::Impossible));
    let split = legwork::Split { return_top: checked(top)?, forward_bottom: checked(bottom)? };
    if split.return_top < split.forward_bottom { Ok(split) } else { Err(bad(Why::UpsideDown)) }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lengths_come_in_feet_inches_and_metres() {
        let metres = |text| length(text).map(|(length, _)| length.metres());
        assert_eq!(metres("18.3m"), Ok(18.3));
        assert_eq!(metres("0.5 km"), Ok(500.0));
        assert!((metres("12 ft 6 in").unwrap() - 3.81).abs() < 1e-5);
        assert!((metres("12ft6in").unwrap() - 3.81).abs() < 1e-5);
        assert!((metres("60 FT").unwrap() - 18.288).abs() < 1e-5);
        assert_eq!(metres("-1 ft").unwrap_err().why, Why::Impossible);
        assert_eq!(metres("85").unwrap_err().why, Why::NoUnit);
        assert_eq!(metres("12 ft 6").unwrap_err().why, Why::Trailing);
    }

    #[test]
    fn levels_come_in_every_unit_of_the_trade() {
        for (text, dbmv) in [
            ("-0.5 dBmV", -0.5),
            ("63dBuV", 3.0),
            ("63 dBµV", 3.0),
            ("-48.75 dBm", 0.000_6),
            ("1 mV", 0.0),
            ("0.01 V", 20.0),
        ] {
            assert!((level(text).unwrap().dbmv() - dbmv).abs() < 1e-4, "{text}");
        }
        assert_eq!(level("12 dB").unwrap_err().why, Why::WrongUnit);
        assert_eq!(level("0 V").unwrap_err().why, Why::Impossible);
        assert_eq!(level("nan dBmV").unwrap_err().why, Why::NotFinite);
    }

    #[test]
    fn a_channel_is_a_frequency() {
        assert_eq!(frequency("ch 3").unwrap().mhz(), 63.0);
        assert_eq!(frequency("CH3").unwrap().mhz(), 63.0);
        assert_eq!(frequency("ch 1").unwrap_err().why, Why::NoChannel);
        assert_eq!(frequency("0 MHz").unwrap_err().why, Why::Impossible);
    }

    #[test]
    fn a_split_rises() {
        assert!(split("42/54 MHz").is_ok());
        assert!(split("54/42 MHz").is_err());
        assert!(split("42 MHz").is_err());
    }
}
