//! A report, key by key. Reading one strictly shows a key that is not written down here.
#![allow(dead_code, reason = "only their shape is used")]

use legwork::Code;
use schemars::JsonSchema;
use serde::Deserialize;

/// What `legwork check FILE --json` says of a home. Keys may be added; none goes away
#[derive(Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct Report {
    /// The file that it is about, where several were checked
    #[serde(default, skip_serializing_if = "Option::is_none")]
    file: Option<String>,
    /// The version of the format
    #[schemars(extend("const" = 1))]
    format: u8,
    /// What the home is called
    name: String,
    /// The worst of the findings
    verdict: Verdict,
    /// Outlets with a device
    outlets: Vec<Outlet>,
    amplifiers: Vec<Amplifier>,
    /// Which supply feeds which amplifier
    feeds: Vec<Feed>,
    /// Every port that carries DC
    dc: Vec<Dc>,
    /// Every pair of members of the home network, at both edges of its band
    links: Vec<Link>,
    /// What is wrong or worth knowing, one for each code and place, where it is worst
    findings: Vec<Finding>,
}

/// How good something is
#[derive(Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub(crate) enum Verdict {
    /// Inside every limit, extremes included
    Pass,
    /// The nominal figure is inside the limit, an extreme is not; or it is outside the operator's target
    Marginal,
    /// Outside
    Fail,
}

/// What stands at an outlet
#[derive(Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub(crate) enum Device {
    Modem,
    VoiceModem,
    SetTop,
    Tv,
}

/// An outlet with a device. Nominal figures are at 20 C without spreads; low and high are the least and greatest of them and both extremes
#[derive(Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct Outlet {
    id: String,
    device: Device,
    /// The worst of the findings at this outlet
    verdict: Verdict,
    /// Whether it has to stay up through a mains cut
    lifeline: bool,
    /// Levels by frequency
    forward: Vec<Forward>,
    /// Level at the last carrier less that at the first, in dB
    tilt_db: f64,
    tilt_low: f64,
    tilt_high: f64,
    /// Power sum over all carriers, in dBmV
    total_dbmv: f64,
    total_low: f64,
    total_high: f64,
    /// Carrier-to-noise ratios by frequency; null where none was read at the entry
    cnr: Option<Vec<Cnr>>,
    /// What a modem has to send, by frequency; empty where no transmit levels were read at the entry
    r#return: Vec<Return>,
    /// Amplifiers whose loss of power would take the outlet down
    needs_power_at: Vec<String>,
}

/// A level at a frequency
#[derive(Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct Forward {
    mhz: f64,
    dbmv: f64,
    low: f64,
    high: f64,
}

/// A carrier-to-noise ratio at a frequency
#[derive(Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct Cnr {
    mhz: f64,
    db: f64,
    low: f64,
    high: f64,
}

/// What a modem has to send at a frequency; null behind an amplifier without a return path
#[derive(Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct Return {
    mhz: f64,
    /// Loss from the outlet to the entry
    loss_db: Option<f64>,
    transmit_dbmv: Option<f64>,
    low: Option<f64>,
    high: Option<f64>,
}

/// An amplifier
#[derive(Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct Amplifier {
    id: String,
    /// Total power of all carriers at its input, in dBmV
    input_total_dbmv: f64,
    input_total_low: f64,
    input_total_high: f64,
    /// The most it takes less the nominal total; null where it says no most
    headroom_db: Option<f64>,
    /// Outlets that its loss of power would take down
    outlets_lost: Vec<String>,
}

/// A supply and an amplifier that it feeds; a collapsed feed has null volts and amps
#[derive(Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct Feed {
    supply: String,
    amplifier: String,
    /// At the amplifier's port
    volts: Option<f64>,
    volts_low: Option<f64>,
    volts_high: Option<f64>,
    /// What the amplifier draws
    amps: Option<f64>,
    amps_high: Option<f64>,
    /// What the supply gives, to all that it feeds
    supply_amps: Option<f64>,
    supply_amps_high: Option<f64>,
    /// From the supply's terminals to the amplifier at 20 C, source resistance included
    loop_ohms: f64,
    drop_volts: Option<f64>,
    verdict: Verdict,
}

/// A port that carries DC
#[derive(Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct Dc {
    /// The port
    at: String,
    supply: String,
    /// Loaded; null in a collapsed feed
    volts: Option<f64>,
    /// With nothing drawing
    volts_unloaded: f64,
    /// From the supply's terminals to there at 20 C, source resistance included
    loop_ohms: f64,
}

/// Two members of the home network at a frequency
#[derive(Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct Link {
    from: String,
    to: String,
    mhz: f64,
    /// Null where it is blocked
    loss_db: Option<f64>,
    verdict: Verdict,
}

/// What is wrong or worth knowing at a place
#[derive(Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct Finding {
    /// What is wrong, in a word; more may be added
    #[schemars(extend("examples" = codes()))]
    code: String,
    verdict: Verdict,
    /// The outlet, amplifier, part, port or supply that it is about, or entry
    at: String,
    mhz: Option<f64>,
    /// The nominal figure if that is outside its limit, else the extreme
    value: Option<f64>,
    limit: Option<f64>,
    /// The unit of value and limit
    unit: Option<String>,
    /// The second place where there are two
    other: Option<String>,
    /// What is wrong, by how much, and what usually puts it right
    says: String,
    /// The same for a meter's display
    #[schemars(length(max = 32))]
    brief: String,
}

/// Every code that there is now.
fn codes() -> Vec<&'static str> {
    Code::ALL.iter().map(|code| code.name()).collect()
}
