//! A report as JSON, straight from core's view of it.

mod fault;
mod json;
mod located;
pub(crate) mod number;
mod says;

use legwork::{
    AmplifierReport, At, DcReport, Feed, Figure, Finding, LinkReport, OutletReport, PortId, Report, Verdict,
};

use crate::home::Home;
use json::Json;
pub(crate) use located::{write_compared, write_located};
pub use says::{says, summary};

/// Writes the report as one line of JSON, without an end of line. With a `file`, it says which.
pub fn write_json(out: &mut Vec<u8>, home: &Home<'_>, report: &Report<'_, '_>, file: Option<&str>) {
    let mut json = Json::new(out);
    let mut scene = Scene { home, report, json: &mut json };
    scene.write(file);
}

/// A report being written, and what is needed to name things.
struct Scene<'r, 'j, 'o> {
    home: &'r Home<'r>,
    report: &'r Report<'r, 'r>,
    json: &'j mut Json<'o>,
}

impl<'r> Scene<'r, '_, '_> {
    fn write(&mut self, file: Option<&str>) {
        let (home, report) = (self.home, self.report);
        if let Some(file) = file {
            self.json.text("{\"file\":", file);
            self.json.put(",\"format\":1");
        } else {
            self.json.put("{\"format\":1");
        }
        self.json.text(",\"name\":", home.name());
        self.json.word(",\"verdict\":", report.verdict().name());
        self.list(",\"outlets\":", report.outlets(), Self::outlet);
        self.list(",\"amplifiers\":", report.amplifiers(), Self::amplifier);
        self.list(",\"feeds\":", report.feeds(), Self::feed);
        self.list(",\"dc\":", report.dc(), Self::dc);
        self.list(",\"links\":", report.links(), Self::link);
        self.list(",\"findings\":", report.findings().iter(), Self::finding);
        self.json.put("}");
    }

    fn list<T>(
        &mut self,
        piece: &'static str,
        items: impl Iterator<Item = T>,
        each: impl Fn(&mut Scene<'r, '_, '_>, T),
    ) {
        let (home, report) = (self.home, self.report);
        self.json.list(piece, items, |json, item| each(&mut Scene { home, report, json }, item));
    }

    fn outlet(scene: &mut Scene<'r, '_, '_>, outlet: OutletReport<'r>) {
        let Scene { home, report, json } = scene;
        let spec = report.tree().outlets().get(outlet.outlet.index());
        json.text("{\"id\":", home.outlet(outlet.outlet));
        json.word(",\"device\":", spec.map_or("", |spec| spec.device.name()));
        json.word(",\"verdict\":", outlet.verdict.name());
        let lifeline = spec.is_some_and(|spec| spec.lifeline);
        json.put(if lifeline { ",\"lifeline\":true" } else { ",\"lifeline\":false" });
        let rows = report.forward_frequencies().zip(outlet.forward);
        json.list(",\"forward\":", rows, |json, row| row_of(json, row, ",\"dbmv\":"));
        figure(json, outlet.tilt, [",\"tilt_db\":", ",\"tilt_low\":", ",\"tilt_high\":"]);
        figure(json, outlet.total, [",\"total_dbmv\":", ",\"total_low\":", ",\"total_high\":"]);
        // Without a ratio read at the entry there is none here.
        if report.tree().entry.cnr.is_some() {
            let rows = report.forward_frequencies().zip(outlet.cnr);
            json.list(",\"cnr\":", rows, |json, row| row_of(json, row, ",\"db\":"));
        } else {
            json.put(",\"cnr\":null");
        }
        let rows = report.return_frequencies().zip(report.sent_at_entry()).enumerate();
        json.list(",\"return\":", rows, |json, (row, (mhz, sent))| {
            let sends = outlet.transmit.and_then(|figures| figures.get(row));
            json.number("{\"mhz\":", mhz);
            json.maybe(",\"loss_db\":", sends.map(|sends| sends.nominal - sent));
            json.maybe(",\"transmit_dbmv\":", sends.map(|sends| sends.nominal));
            json.maybe(",\"low\":", sends.map(|sends| sends.low));
            json.maybe(",\"high\":", sends.map(|sends| sends.high));
            json.put("}");
        });
        json.texts(",\"needs_power_at\":", report.needs_power_at(outlet.outlet).map(|part| home.part(part)));
        json.put("}");
    }

    fn amplifier(scene: &mut Scene<'r, '_, '_>, amplifier: AmplifierReport) {
        let Scene { home, report, json } = scene;
        let AmplifierReport { part, input_total, headroom } = amplifier;
        json.text("{\"id\":", home.part(part));
        figure(json, input_total, [",\"input_total_dbmv\":", ",\"input_total_low\":", ",\"input_total_high\":"]);
        json.maybe(",\"headroom_db\":", headroom);
        json.texts(",\"outlets_lost\":", report.outlets_lost(part).map(|outlet| home.outlet(outlet)));
        json.put("}");
    }

    fn feed(scene: &mut Scene<'r, '_, '_>, (feed, verdict): (Feed, Verdict)) {
        let Scene { home, json, .. } = scene;
        json.text("{\"supply\":", home.supply(feed.supply));
        json.text(",\"amplifier\":", home.part(feed.amplifier));
        json.maybe(",\"volts\":", feed.volts);
        json.maybe(",\"volts_low\":", feed.volts_low);
        json.maybe(",\"volts_high\":", feed.volts_high);
        json.maybe(",\"amps\":", feed.amps);
        json.maybe(",\"amps_high\":", feed.amps_high);
        json.maybe(",\"supply_amps\":", feed.supply_amps);
        json.maybe(",\"supply_amps_high\":", feed.supply_amps_high);
        json.number(",\"loop_ohms\":", feed.loop_ohms);
        json.maybe(",\"drop_volts\":", feed.drop_volts);
        json.word(",\"verdict\":", verdict.name());
        json.put("}");
    }

    fn dc(scene: &mut Scene<'r, '_, '_>, dc: DcReport) {
        scene.port("{\"at\":", dc.port);
        let Scene { home, json, .. } = scene;
        json.text(",\"supply\":", home.supply(dc.supply));
        json.maybe(",\"volts\":", dc.volts);
        json.number(",\"volts_unloaded\":", dc.volts_unloaded);
        json.number(",\"loop_ohms\":", dc.loop_ohms);
        json.put("}");
    }

    fn link(scene: &mut Scene<'r, '_, '_>, link: LinkReport) {
        let Scene { home, json, .. } = scene;
        json.text("{\"from\":", home.outlet(link.from));
        json.text(",\"to\":", home.outlet(link.to));
        json.number(",\"mhz\":", link.mhz);
        json.maybe(",\"loss_db\":", link.loss);
        json.word(",\"verdict\":", link.verdict.name());
        json.put("}");
    }

    fn finding(scene: &mut Scene<'r, '_, '_>, finding: &'r Finding) {
        scene.json.word("{\"code\":", finding.code.name());
        scene.json.word(",\"verdict\":", finding.verdict.name());
        scene.at(",\"at\":", finding.at);
        scene.json.maybe(",\"mhz\":", finding.mhz);
        scene.json.maybe(",\"value\":", finding.value);
        scene.json.maybe(",\"limit\":", finding.limit);
        match finding.unit {
            "" => scene.json.put(",\"unit\":null"),
            unit => scene.json.word(",\"unit\":", unit),
        }
        match finding.other {
            Some(other) => scene.at(",\"other\":", other),
            None => scene.json.put(",\"other\":null"),
        }
        scene.json.text(",\"says\":", &says(scene.home, scene.report, finding));
        scene.json.word(",\"brief\":", scene.home.spoken(finding).brief().as_str());
        scene.json.put("}");
    }

    /// A piece, then the name of a place.
    fn at(&mut self, piece: &'static str, at: At) {
        let name = match at {
            At::Entry => "entry",
            At::Port(port) => return self.port(piece, port),
            At::Part(part) => self.home.part(part),
            At::Outlet(outlet) => self.home.outlet(outlet),
            At::Supply(supply) => self.home.supply(supply),
        };
        self.json.text(piece, name);
    }

    /// A piece, then the name of a port.
    fn port(&mut self, piece: &'static str, port: PortId) {
        let (front, way) = self.home.port_parts(port);
        self.json.dotted(piece, front, way);
    }
}

/// Nominal, low and high, each behind its piece.
#[inline(always)]
fn figure(json: &mut Json<'_>, figure: Figure, [nominal, low, high]: [&'static str; 3]) {
    json.number(nominal, figure.nominal);
    json.number(low, figure.low);
    json.number(high, figure.high);
}

/// A figure at a frequency.
#[inline(always)]
fn row_of(json: &mut Json<'_>, (mhz, row): (f32, &Figure), nominal: &'static str) {
    json.number("{\"mhz\":", mhz);
    figure(json, *row, [nominal, ",\"low\":", ",\"high\":"]);
    json.put("}");
}
