//! A finding in 32 characters, without the standard formatter: firmware pays 27 kB for that one.

use heapless::String;

use super::finding::{Code, Finding};

/// What a technician calls it.
const fn words(code: Code) -> &'static str {
    match code {
        Code::ForwardLow => "low",
        Code::ForwardHigh => "high",
        Code::TotalHigh => "total high",
        Code::TiltHigh => "tilt",
        Code::CnrLow => "CNR low",
        Code::TransmitHigh => "sends high",
        Code::TransmitLow => "sends low",
        Code::TransmitSpread => "sends uneven",
        Code::NoReturn => "no return path",
        Code::AmplifierOverdriven => "input over",
        Code::OutputOverdriven => "output over",
        Code::ReturnOverdriven => "return over",
        Code::SplitMismatch => "wrong split",
        Code::OutOfBand => "out of band",
        Code::AmplifiersInSeries => "amplifiers in series",
        Code::FeedStarved => "starved",
        Code::FeedOverVoltage => "over-voltage",
        Code::FeedOverCurrent => "over-current",
        Code::FeedCollapsed => "feed collapsed",
        Code::AmplifierUnpowered => "no power",
        Code::SupplyIdle => "supply feeds nothing",
        Code::TwoSupplies => "two supplies meet",
        Code::DcAtDevice => "DC reaches it",
        Code::DcLeavesHome => "DC leaves home",
        Code::LifelineExposed => "lifeline needs mains",
        Code::NeighbourTransmit => "modem heard",
        Code::HomeLinkWeak => "link weak",
        Code::BandsOverlap => "bands overlap",
        Code::EntryFilterMissing => "no entry filter",
        Code::OpenPort => "open port",
        Code::BondMissing => "not bonded",
        Code::BondLong => "bond long",
        Code::BondThin => "bond thin",
        Code::BeyondReadings => "beyond readings",
        Code::BeyondTable => "beyond table",
    }
}

/// The finding's words, its value and unit, its frequency, as far as they fit.
pub(super) fn brief(finding: &Finding) -> String<32> {
    let mut out = String::new();
    let _ = out.push_str(words(finding.code));
    if let Some(value) = finding.value {
        append(&mut out, ": ", value, 1, finding.unit);
    }
    if let Some(mhz) = finding.mhz
        && finding.unit != "MHz"
    {
        append(&mut out, " at ", mhz, 0, "MHz");
    }
    out
}

/// Appends text, number and unit, or nothing where they do not fit.
fn append(out: &mut String<32>, before: &str, value: f32, decimals: u32, unit: &str) {
    let mut text: String<32> = String::new();
    let fits = text.push_str(before).is_ok()
        && number(&mut text, value, decimals)
        && text.push_str(" ").is_ok()
        && text.push_str(unit).is_ok();
    if fits {
        let _ = out.push_str(&text);
    }
}

/// Appends a number rounded to so many decimals; false where it does not fit.
fn number(out: &mut String<32>, value: f32, decimals: u32) -> bool {
    let tens = if decimals == 0 { 1 } else { 10 };
    let scaled = crate::math::abs(value) * tens as f32 + 0.5;
    if scaled >= 1e9 {
        return false;
    }
    let scaled = scaled as u32;
    let mut digits = [0u8; 10];
    let mut rest = scaled / tens;
    let mut count = 0;
    for digit in &mut digits {
        *digit = b'0' + (rest % 10) as u8;
        rest /= 10;
        count += 1;
        if rest == 0 {
            break;
        }
    }
    let mut fits = value >= 0.0 || scaled == 0 || out.push('-').is_ok();
    for digit in digits.iter().take(count).rev() {
        fits = fits && out.push(char::from(*digit)).is_ok();
    }
    if decimals > 0 {
        fits = fits && out.push('.').is_ok() && out.push(char::from(b'0' + (scaled % 10) as u8)).is_ok();
    }
    fits
}

#[cfg(test)]
mod tests {
    use super::number;
    use heapless::String;

    #[test]
    fn numbers_are_rounded_half_up_in_magnitude() {
        for (value, decimals, want) in [
            (-16.25, 1, "-16.3"),
            (-0.04, 1, "0.0"),
            (0.96, 1, "1.0"),
            (861.0, 0, "861"),
            (-0.5, 1, "-0.5"),
            (9.99, 1, "10.0"),
        ] {
            let mut text: String<32> = String::new();
            assert!(number(&mut text, value, decimals));
            assert_eq!(text, want);
        }
    }
}
