//! Checksums over a report: every figure's bits, every place and word, a sum for each kind.

use legwork::{At, Case, Code, Figure, Finding, Frequency, Level, Occupant, OutletId, Report, Tree};

/// A running checksum over bytes (FNV-1a).
#[derive(Clone, Copy)]
pub struct Checksum(u32);

impl Checksum {
    /// Of nothing.
    pub const fn new() -> Self {
        Self(0x811C_9DC5)
    }
    /// With one byte more.
    pub fn byte(&mut self, byte: u8) {
        self.0 = (self.0 ^ u32::from(byte)).wrapping_mul(0x0100_0193);
    }
    /// With the bytes of a text.
    pub fn text(&mut self, text: &str) {
        text.bytes().for_each(|byte| self.byte(byte));
    }
    /// With a count or an index.
    pub fn count(&mut self, count: usize) {
        (count as u32).to_le_bytes().into_iter().for_each(|byte| self.byte(byte));
    }
    /// With the bits of a number.
    pub fn add(&mut self, number: f32) {
        number.to_bits().to_le_bytes().into_iter().for_each(|byte| self.byte(byte));
    }
    /// With the bits of several.
    pub fn numbers<const N: usize>(&mut self, numbers: [f32; N]) {
        numbers.into_iter().for_each(|number| self.add(number));
    }
    /// With several counts or indices.
    pub fn counts<const N: usize>(&mut self, counts: [usize; N]) {
        counts.into_iter().for_each(|count| self.count(count));
    }
    /// With a number that may not be there: not the same as zero.
    pub fn maybe(&mut self, number: Option<f32>) {
        self.byte(u8::from(number.is_some()));
        self.add(number.unwrap_or_default());
    }
    /// With several of those.
    pub fn maybes<const N: usize>(&mut self, numbers: [Option<f32>; N]) {
        numbers.into_iter().for_each(|number| self.maybe(number));
    }
    /// With a number, or that there is none.
    pub fn either<E>(&mut self, number: Result<f32, E>) {
        self.maybe(number.ok());
    }
    /// With all three numbers of figures.
    pub fn figures(&mut self, figures: &[Figure]) {
        for figure in figures {
            self.numbers([figure.nominal, figure.low, figure.high]);
        }
    }
    /// What it has come to.
    pub const fn value(self) -> u32 {
        self.0
    }
}

impl Default for Checksum {
    fn default() -> Self {
        Self::new()
    }
}

/// The kinds of figures, each with a checksum of its own: it tells where a difference lies.
const KINDS: [&str; 10] =
    ["wiring", "levels", "totals", "noise", "transmit", "dc", "feeds", "links", "findings", "single-levels"];

/// A checksum for each kind of figure.
#[derive(Clone, Copy, Default)]
pub struct Sums {
    kinds: [Checksum; KINDS.len()],
    /// A bit for each code that was found.
    codes: u64,
}

impl Sums {
    /// Adds everything that a report states.
    pub fn add(&mut self, report: &Report<'_, '_>) {
        let [wiring, levels, totals, noise, transmit, dc, feeds, links, findings, single] = &mut self.kinds;
        self::wiring(wiring, report.tree());
        report.forward_frequencies().for_each(|mhz| levels.add(mhz));
        report.return_frequencies().chain(report.sent_at_entry()).for_each(|number| transmit.add(number));
        for outlet in report.outlets() {
            findings.text(outlet.verdict.name());
            levels.figures(outlet.forward);
            levels.figures(&[outlet.tilt]);
            totals.figures(&[outlet.total]);
            noise.figures(outlet.cnr);
            transmit.byte(u8::from(outlet.transmit.is_some()));
            transmit.figures(outlet.transmit.unwrap_or_default());
            report.needs_power_at(outlet.outlet).for_each(|part| feeds.count(part.index()));
            if let Some(outlet) = report.tree().outlets().get(outlet.outlet.index()) {
                for mhz in [5.0, 60.25, 333.3, 861.0, 1700.0] {
                    let Ok(frequency) = Frequency::new(mhz) else { continue };
                    match report.tree().levels_at(outlet.port(), frequency) {
                        Ok(figure) => single.figures(&[figure]),
                        Err(_) => single.byte(0),
                    }
                    single.either(report.tree().level_at(outlet.port(), frequency, Case::Least).map(Level::dbmv));
                    match report.tree().transmits_at(outlet.port(), frequency) {
                        Ok(Some(figure)) => single.figures(&[figure]),
                        _ => single.byte(0),
                    }
                    if let Ok(sends) = report.tree().transmit_at(outlet.port(), frequency, Case::Most) {
                        single.maybe(sends.map(Level::dbmv));
                    }
                }
            }
        }
        for amplifier in report.amplifiers() {
            totals.count(amplifier.part.index());
            totals.figures(&[amplifier.input_total]);
            totals.maybe(amplifier.headroom);
            report.outlets_lost(amplifier.part).for_each(|outlet| feeds.count(outlet.index()));
        }
        for at in report.dc() {
            dc.count(at.port.index());
            dc.count(at.supply.index());
            dc.maybe(at.volts);
            dc.add(at.volts_unloaded);
            dc.add(at.loop_ohms);
        }
        for (feed, verdict) in report.feeds() {
            feeds.text(verdict.name());
            feeds.counts([feed.supply.index(), feed.amplifier.index(), feed.port.index()]);
            feeds.maybes([feed.volts, feed.volts_low, feed.volts_high, feed.amps, feed.amps_high]);
            feeds.maybes([feed.supply_amps, feed.supply_amps_high, feed.drop_volts]);
            feeds.add(feed.loop_ohms);
        }
        for link in report.links() {
            links.counts([link.from.index(), link.to.index()]);
            links.add(link.mhz);
            links.maybe(link.loss);
            links.text(link.verdict.name());
        }
        findings.text(report.verdict().name());
        for found in report.findings() {
            finding(findings, found);
            let number = Code::ALL.iter().position(|code| *code == found.code);
            self.codes |= 1 << number.unwrap_or(63);
        }
    }

    /// How many different codes were found.
    pub const fn codes(&self) -> u32 {
        self.codes.count_ones()
    }

    /// Hands out every checksum with its name.
    pub fn each(&self, mut emit: impl FnMut(&'static str, u32)) {
        for (name, sum) in KINDS.iter().zip(&self.kinds) {
            emit(name, sum.value());
        }
    }
}

/// What a home is, without any calculation.
fn wiring(sum: &mut Checksum, tree: &Tree<'_, '_>) {
    sum.counts([tree.port_count(), tree.members().len(), tree.supplies().len(), tree.parts().len()]);
    sum.count(usize::from(tree.service.channels_sent()));
    sum.add(tree.service.bandwidth());
    for (id, part) in tree.parts() {
        sum.byte(u8::from(tree.part(id).is_some()));
        for number in 0..part.ways() {
            sum.byte(part.way(number).and_then(|way| part.number(way)).unwrap_or(u8::MAX));
        }
        sum.maybe(part.band().map(|band| band.low.mhz()));
        sum.count(part.amplifier().map_or(0, |spec| usize::from(spec.outputs)));
    }
    tree.supplies().iter().for_each(|supply| sum.count(supply.port().index()));
    for (number, outlet) in tree.outlets().iter().enumerate() {
        let port = outlet.port();
        let (part, way) = tree.owner(port).map_or((0, 0), |(part, way)| (part.index() + 1, usize::from(way)));
        sum.counts([tree.outlet_id(number).map_or(0, OutletId::index), port.index(), part, way]);
        sum.byte(u8::from(tree.carries_signal(port)));
        sum.count(tree.port_id(port.index()).map_or(0, legwork::PortId::index));
        sum.byte(u8::from(matches!(tree.occupant(port), Some(Occupant::Outlet(_)))));
        sum.byte(u8::from(outlet.device.is_modem()));
        sum.text(outlet.device.name());
        for limits in [tree.limits(outlet.device), tree.target(outlet.device)] {
            sum.byte(u8::from(limits.sends()));
            sum.add(limits.from_neighbours());
        }
    }
}

fn finding(sum: &mut Checksum, finding: &Finding) {
    sum.text(finding.code.name());
    sum.text(finding.verdict.name());
    place(sum, Some(finding.at));
    place(sum, finding.other);
    sum.maybes([finding.mhz, finding.value, finding.limit]);
    sum.text(finding.unit);
    sum.text(&finding.brief());
}

fn place(sum: &mut Checksum, at: Option<At>) {
    let (kind, index) = match at {
        None => (0, 0),
        Some(At::Entry) => (1, 0),
        Some(At::Port(port)) => (2, port.index()),
        Some(At::Part(part)) => (3, part.index()),
        Some(At::Outlet(outlet)) => (4, outlet.index()),
        Some(At::Supply(supply)) => (5, supply.index()),
    };
    sum.byte(kind);
    sum.count(index);
}
