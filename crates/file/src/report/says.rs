//! A sentence for each finding that a technician can act on: what is wrong, by how much, and
//! what usually puts it right.

use legwork::{Code, Finding, Report, Verdict};

use super::number::rounded;
use crate::home::Home;

/// What is found in all, in a few words.
#[must_use]
pub fn summary(report: &Report<'_, '_>) -> String {
    let count = |wanted: Verdict| report.findings().iter().filter(|finding| finding.verdict == wanted).count();
    match (count(Verdict::Fail), count(Verdict::Marginal)) {
        (0, 0) => "nothing is wrong".to_owned(),
        (0, marginal) => format!("{marginal} to look at"),
        (fail, 0) => format!("{fail} to put right"),
        (fail, marginal) => format!("{fail} to put right, {marginal} to look at"),
    }
}

/// The sentence of a finding, in the file's own units.
#[must_use]
pub fn says(home: &Home<'_>, report: &Report<'_, '_>, finding: &Finding) -> String {
    let place = home.at(finding.at);
    let other = finding.other.map(|other| home.at(other)).unwrap_or_default();
    let figure = Figures::of(home, finding);
    let Figures { value, limit, by, unit, mhz, may } = &figure;
    let level = |word: &str, remedy: &str| {
        format!("The level at {place} {may} {value} {unit}{mhz}, {by} {word} {limit}; {remedy}.")
    };
    match finding.code {
        Code::ForwardLow => {
            level("below", "look for loss to save: fewer splits, shorter or thicker cable, or an amplifier")
        }
        Code::ForwardHigh => level("above", "put a pad before it"),
        Code::TotalHigh => {
            format!("The total power at {place} {may} {value} {unit}, {by} above {limit}; put a pad before it.")
        }
        Code::TiltHigh => format!(
            "The first and the last carrier at {place} {}differ by {value} {unit}, {by} more than {limit}; shorten the cable or put an equalizer on the way.",
            figure.maybe()
        ),
        Code::CnrLow => format!(
            "The carrier-to-noise ratio at {place} {may} {value} {unit}{mhz}, {by} below {limit}; give the first amplifier more level, or ask for a better entry."
        ),
        Code::TransmitHigh => format!(
            "A modem at {place} {}has to send {value} {unit}{mhz}, {by} above {limit}; save loss between it and the entry.",
            figure.maybe()
        ),
        Code::TransmitLow => format!(
            "A modem at {place} can need to send only {value} {unit}{mhz}, {by} below {limit}; put a pad before it."
        ),
        Code::TransmitSpread => format!(
            "What {place} has to send differs by {value} {unit} over the return band, {by} more than {limit}; look for a filter or a long thin cable on the way."
        ),
        Code::NoReturn => format!(
            "{place} can't be heard at the entry: an amplifier on its way has no return path; use one that has, or its passive port."
        ),
        Code::AmplifierOverdriven => {
            format!("The total power into {place} {may} {value} {unit}, {by} above {limit}; put a pad before it.")
        }
        Code::OutputOverdriven => format!(
            "The total power out of {place} {may} {value} {unit}, {by} above {limit}; put a pad before the amplifier."
        ),
        Code::ReturnOverdriven => format!(
            "What modems send into {place} {may} {value} {unit}{mhz}, {by} above {limit}; move the modem to the passive port, or save loss between the amplifier and the entry."
        ),
        Code::SplitMismatch => format!(
            "The band of {place} ends at {value} {unit} where the service needs {limit}; use an amplifier made for this split."
        ),
        Code::OutOfBand => format!(
            "{place} is used at {value} {unit}, outside what it is made for ({limit}); use a part for that band."
        ),
        Code::AmplifiersInSeries => format!("{place} stands behind two amplifiers in series; feed it from one."),
        Code::FeedStarved => format!(
            "{other} {may} {value} V from {place}, {by} below {limit}; use a supply of more volts, a thicker cable or a shorter way."
        ),
        Code::FeedOverVoltage => {
            format!("{other} {may} {value} V from {place}, {by} above {limit}; use a supply of fewer volts.")
        }
        Code::FeedOverCurrent => {
            format!("{place} {}has to give {value} A, {by} more than {limit}; use a stronger supply.", figure.maybe())
        }
        Code::FeedCollapsed => format!(
            "No voltage carries what {other} draws from {place}{}: the way has too much resistance; use more volts, a thicker cable or a shorter way.",
            if finding.verdict == Verdict::Marginal { " at its hottest and the supply's lowest" } else { "" }
        ),
        Code::AmplifierUnpowered => format!("No supply reaches {place}; power it at one of its DC ports."),
        Code::SupplyIdle => format!("{place} reaches no amplifier; look for a part on the way that blocks DC."),
        Code::TwoSupplies => format!("{place} meets another supply; keep one of the two, or block DC between them."),
        Code::DcAtDevice => format!("DC reaches {place}, which it can damage; block DC before it or move the supply."),
        Code::DcLeavesHome => "DC leaves the home through the entry; block it before the entry.".to_owned(),
        Code::LifelineExposed => format!(
            "{place} has to stay up through a mains cut, but needs an amplifier's power; feed it from a passive port."
        ),
        Code::NeighbourTransmit => format!(
            "The modem at {other} reaches {place} with {value} {unit}{mhz}, {by} above {limit}; keep more isolation between them, or let the modem send less."
        ),
        Code::HomeLinkWeak if finding.value.is_none() => format!(
            "Nothing passes between {place} and {other}{mhz}: an amplifier blocks the home network's band; join them before it."
        ),
        Code::HomeLinkWeak => format!(
            "The home network loses {value} {unit} between {place} and {other}{mhz}, {by} more than {limit}; take splitters or cable out of the way."
        ),
        Code::BandsOverlap => format!(
            "The last carrier reaches up to {value} {unit}, into the home network's band from {limit} on; use another band."
        ),
        Code::EntryFilterMissing => {
            "No filter keeps the home network in, and the neighbours can join it; put one at the entry.".to_owned()
        }
        Code::OpenPort => format!("Nothing is on {place}; put a 75 ohm terminator on it."),
        Code::BondMissing => {
            "The shield is not bonded; bond it at the entry, as local code and licensed practice ask.".to_owned()
        }
        Code::BondLong => {
            let length = |feet: Option<f32>| {
                feet.and_then(|feet| legwork::Length::from_feet(feet).ok())
                    .map(|length| home.length(length))
                    .unwrap_or_default()
            };
            format!(
                "The bonding conductor at {place} is {} long, over {}; shorten it, as local code and licensed practice ask.",
                length(finding.value),
                length(finding.limit)
            )
        }
        Code::BondThin => format!(
            "The bonding conductor at {place} is {value} AWG, thinner than {limit}; use a thicker one, as local code and licensed practice ask."
        ),
        Code::BeyondReadings => {
            let ends = report.tree().entry.forward.ends();
            format!(
                "There is a carrier at {value} {unit}, but the entry was read from {} to {} MHz only; read it there too.",
                ends.0, ends.1
            )
        }
        Code::BeyondTable => {
            format!("{place} is used at {value} {unit}, beyond its table ({limit}); its loss there goes on in a line.")
        }
        _ => format!("{}: {place}", finding.code.name()),
    }
}

/// A finding's numbers as text.
struct Figures {
    value: String,
    limit: String,
    by: String,
    unit: &'static str,
    mhz: String,
    /// `is` for what is, `can be` for what may come.
    may: &'static str,
}

impl Figures {
    fn of(home: &Home<'_>, finding: &Finding) -> Self {
        let decimals = match finding.unit {
            "A" => 3,
            "V" => 2,
            "AWG" => 0,
            _ => 1,
        };
        let Finding { value, limit, unit, .. } = home.spoken(finding);
        let number = |value: Option<f32>| value.map(|value| rounded(value, decimals)).unwrap_or_default();
        let mhz = finding.mhz.map(|mhz| format!(" at {mhz} MHz")).unwrap_or_default();
        let by = finding.value.zip(finding.limit).map(|(value, limit)| {
            // A level's distance from its limit is a ratio.
            let unit = if finding.unit == "dBmV" { "dB" } else { finding.unit };
            rounded((value - limit).abs(), decimals) + " " + unit
        });
        // A marginal figure within its limit is an extreme; one outside a target is nominal, and
        // both are what a technician may meet.
        let may = match (finding.verdict, finding.code) {
            (Verdict::Fail, Code::FeedStarved | Code::FeedOverVoltage) => "gets",
            (_, Code::FeedStarved | Code::FeedOverVoltage) => "can get",
            (Verdict::Fail, _) => "is",
            _ => "can be",
        };
        Self { value: number(value), limit: number(limit), by: by.unwrap_or_default(), unit, mhz, may }
    }

    fn maybe(&self) -> &'static str {
        if self.may == "can be" { "at times " } else { "" }
    }
}
