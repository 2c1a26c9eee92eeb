//! A report as JSON, straight from core's view of it.

mod numbers;
mod says;

use legwork::{AmplifierReport, DcReport, Feed, Figure, Finding, LinkReport, OutletReport, Report, Verdict};
use serde::ser::{Serialize, SerializeStruct, Serializer};

use crate::home::Home;
pub use says::says;

/// Writes the report as one line of JSON, without an end of line. With a `file`, it says which.
pub fn write_json(out: &mut Vec<u8>, home: &Home<'_>, report: &Report<'_, '_>, file: Option<&str>) {
    let whole = Whole { scene: Scene { home, report }, file };
    let mut serializer = serde_json::Serializer::with_formatter(out, numbers::Quick);
    // Writing to memory does not fail, and no key here is anything but a text.
    let _ = whole.serialize(&mut serializer);
}

/// What every piece of a report needs to name things.
#[derive(Clone, Copy)]
struct Scene<'r> {
    home: &'r Home<'r>,
    report: &'r Report<'r, 'r>,
}

/// A list that is worked out while it is written.
struct Each<F>(F);

impl<I, F> Serialize for Each<F>
where
    F: Fn() -> I,
    I: Iterator,
    I::Item: Serialize,
{
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_seq((self.0)())
    }
}

struct Whole<'r> {
    scene: Scene<'r>,
    file: Option<&'r str>,
}

impl Serialize for Whole<'_> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let Scene { home, report } = self.scene;
        let scene = self.scene;
        let mut map = serializer.serialize_struct("Report", 10)?;
        if let Some(file) = self.file {
            map.serialize_field("file", file)?;
        }
        map.serialize_field("format", &1)?;
        map.serialize_field("name", home.name())?;
        map.serialize_field("verdict", report.verdict().name())?;
        map.serialize_field("outlets", &Each(|| report.outlets().map(move |outlet| OutletJson { scene, outlet })))?;
        map.serialize_field("amplifiers", &Each(|| report.amplifiers().map(move |amplifier| AmplifierJson { scene, amplifier })))?;
        map.serialize_field("feeds", &Each(|| report.feeds().map(move |(feed, verdict)| FeedJson { scene, feed, verdict })))?;
        map.serialize_field("dc", &Each(|| report.dc().map(move |dc| DcJson { scene, dc })))?;
        map.serialize_field("links", &Each(|| report.links().map(move |link| LinkJson { scene, link })))?;
        map.serialize_field("findings", &Each(|| report.findings().iter().map(move |finding| FindingJson { scene, finding })))?;
        map.end()
    }
}

/// A figure at a frequency.
#[derive(serde::Serialize)]
struct LevelRow {
    mhz: f32,
    dbmv: f32,
    low: f32,
    high: f32,
}

#[derive(serde::Serialize)]
struct RatioRow {
    mhz: f32,
    db: f32,
    low: f32,
    high: f32,
}

#[derive(serde::Serialize)]
struct ReturnRow {
    mhz: f32,
    loss_db: Option<f32>,
    transmit_dbmv: Option<f32>,
    low: Option<f32>,
    high: Option<f32>,
}

struct OutletJson<'r> {
    scene: Scene<'r>,
    outlet: OutletReport<'r>,
}

impl Serialize for OutletJson<'_> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let Scene { home, report } = self.scene;
        let outlet = &self.outlet;
        let spec = report.tree().outlets().get(outlet.outlet.index());
        let mut map = serializer.serialize_struct("Outlet", 14)?;
        map.serialize_field("id", home.outlet(outlet.outlet))?;
        map.serialize_field("device", spec.map_or("", |spec| spec.device.name()))?;
        map.serialize_field("verdict", outlet.verdict.name())?;
        map.serialize_field("lifeline", &spec.is_some_and(|spec| spec.lifeline))?;
        let level = |(mhz, figure): (f32, &Figure)| LevelRow { mhz, dbmv: figure.nominal, low: figure.low, high: figure.high };
        let ratio = |(mhz, figure): (f32, &Figure)| RatioRow { mhz, db: figure.nominal, low: figure.low, high: figure.high };
        map.serialize_field("forward", &Each(|| report.forward_frequencies().zip(outlet.forward).map(level)))?;
        map.serialize_field("tilt_db", &outlet.tilt.nominal)?;
        map.serialize_field("tilt_low", &outlet.tilt.low)?;
        map.serialize_field("tilt_high", &outlet.tilt.high)?;
        map.serialize_field("total_dbmv", &outlet.total.nominal)?;
        map.serialize_field("total_low", &outlet.total.low)?;
        map.serialize_field("total_high", &outlet.total.high)?;
        // Without a ratio read at the entry there is none here.
        let has_cnr = report.tree().entry.cnr.is_some();
        let rows = Each(|| report.forward_frequencies().zip(outlet.cnr).map(ratio));
        map.serialize_field("cnr", &has_cnr.then_some(rows))?;
        let sent = || report.return_frequencies().zip(report.sent_at_entry()).enumerate();
        let back = |(row, (mhz, sent)): (usize, (f32, f32))| {
            let figure = outlet.transmit.and_then(|figures| figures.get(row));
            ReturnRow {
                mhz,
                loss_db: figure.map(|figure| figure.nominal - sent),
                transmit_dbmv: figure.map(|figure| figure.nominal),
                low: figure.map(|figure| figure.low),
                high: figure.map(|figure| figure.high),
            }
        };
        map.serialize_field("return", &Each(|| sent().map(back)))?;
        map.serialize_field("needs_power_at", &Each(|| report.needs_power_at(outlet.outlet).map(|part| home.part(part))))?;
        map.end()
    }
}

struct AmplifierJson<'r> {
    scene: Scene<'r>,
    amplifier: AmplifierReport,
}

impl Serialize for AmplifierJson<'_> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let Scene { home, report } = self.scene;
        let AmplifierReport { part, input_total, headroom } = self.amplifier;
        let mut map = serializer.serialize_struct("Amplifier", 6)?;
        map.serialize_field("id", home.part(part))?;
        map.serialize_field("input_total_dbmv", &input_total.nominal)?;
        map.serialize_field("input_total_low", &input_total.low)?;
        map.serialize_field("input_total_high", &input_total.high)?;
        map.serialize_field("headroom_db", &headroom)?;
        map.serialize_field("outlets_lost", &Each(|| report.outlets_lost(part).map(|outlet| home.outlet(outlet))))?;
        map.end()
    }
}

struct FeedJson<'r> {
    scene: Scene<'r>,
    feed: Feed,
    verdict: Verdict,
}

impl Serialize for FeedJson<'_> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let home = self.scene.home;
        let feed = &self.feed;
        let mut map = serializer.serialize_struct("Feed", 12)?;
        map.serialize_field("supply", home.supply(feed.supply))?;
        map.serialize_field("amplifier", home.part(feed.amplifier))?;
        map.serialize_field("volts", &feed.volts)?;
        map.serialize_field("volts_low", &feed.volts_low)?;
        map.serialize_field("volts_high", &feed.volts_high)?;
        map.serialize_field("amps", &feed.amps)?;
        map.serialize_field("amps_high", &feed.amps_high)?;
        map.serialize_field("supply_amps", &feed.supply_amps)?;
        map.serialize_field("supply_amps_high", &feed.supply_amps_high)?;
        map.serialize_field("loop_ohms", &feed.loop_ohms)?;
        map.serialize_field("drop_volts", &feed.drop_volts)?;
        map.serialize_field("verdict", self.verdict.name())?;
        map.end()
    }
}

struct DcJson<'r> {
    scene: Scene<'r>,
    dc: DcReport,
}

impl Serialize for DcJson<'_> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let home = self.scene.home;
        let mut map = serializer.serialize_struct("Dc", 5)?;
        map.serialize_field("at", &home.port(self.dc.port))?;
        map.serialize_field("supply", home.supply(self.dc.supply))?;
        map.serialize_field("volts", &self.dc.volts)?;
        map.serialize_field("volts_unloaded", &self.dc.volts_unloaded)?;
        map.serialize_field("loop_ohms", &self.dc.loop_ohms)?;
        map.end()
    }
}

struct LinkJson<'r> {
    scene: Scene<'r>,
    link: LinkReport,
}

impl Serialize for LinkJson<'_> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let home = self.scene.home;
        let mut map = serializer.serialize_struct("Link", 5)?;
        map.serialize_field("from", home.outlet(self.link.from))?;
        map.serialize_field("to", home.outlet(self.link.to))?;
        map.serialize_field("mhz", &self.link.mhz)?;
        map.serialize_field("loss_db", &self.link.loss)?;
        map.serialize_field("verdict", self.link.verdict.name())?;
        map.end()
    }
}

struct FindingJson<'r> {
    scene: Scene<'r>,
    finding: &'r Finding,
}

impl Serialize for FindingJson<'_> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let Scene { home, report } = self.scene;
        let finding = self.finding;
        let mut map = serializer.serialize_struct("Finding", 10)?;
        map.serialize_field("code", finding.code.name())?;
        map.serialize_field("verdict", finding.verdict.name())?;
        map.serialize_field("at", &home.at(finding.at))?;
        map.serialize_field("mhz", &finding.mhz)?;
        map.serialize_field("value", &finding.value)?;
        map.serialize_field("limit", &finding.limit)?;
        map.serialize_field("unit", &Some(finding.unit).filter(|unit| !unit.is_empty()))?;
        map.serialize_field("other", &finding.other.map(|other| home.at(other)))?;
        map.serialize_field("says", &says(home, report, finding))?;
        map.serialize_field("brief", finding.brief().as_str())?;
        map.end()
    }
}
