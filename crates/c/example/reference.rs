//! The Rust side of `main.c`: the same home, built and read with the core alone, printed in the same words.
//! `on-target.sh c` compares the two, so every bit of every figure has to be the same.

use legwork::{Figure, Report};

fn main() -> Result<(), legwork::Error> {
    let (home, desk) = legwork_target::home::desk()?;
    let report = desk.check(&home.tree())?;
    for outlet in report.outlets() {
        let (id, total) = (outlet.outlet.index(), outlet.total);
        println!("outlet {id}: {}, total {:.3} dBmV ({})", outlet.verdict.name(), total.nominal, bits(total.nominal));
    }
    println!("home: {}, findings: {}", report.verdict().name(), report.findings().len());
    for finding in report.findings() {
        println!("{} {}: {}", finding.verdict.name(), finding.code.name(), finding.brief());
    }
    let sum = checksum(&report);
    println!("figures: {}, checksum {:08x}", sum.count, sum.value);
    Ok(())
}

fn bits(number: f32) -> String {
    format!("{:08x}", number.to_bits())
}

/// FNV-1a over the bits of every figure, in the order in which `main.c` reads them.
struct Checksum {
    value: u32,
    count: u32,
}

impl Checksum {
    fn add(&mut self, number: f32) {
        // one bit pattern for all that is not a number
        let number = if number.is_nan() { f32::NAN } else { number };
        for byte in number.to_bits().to_le_bytes() {
            self.value = (self.value ^ u32::from(byte)).wrapping_mul(0x0100_0193);
        }
        self.count += 1;
    }
    fn maybe(&mut self, number: Option<f32>) {
        self.add(number.unwrap_or(f32::NAN));
    }
    fn figures(&mut self, figures: &[Figure]) {
        for figure in figures {
            self.add(figure.nominal);
            self.add(figure.low);
            self.add(figure.high);
        }
    }
}

fn checksum(report: &Report<'_, '_>) -> Checksum {
    let mut sum = Checksum { value: 0x811C_9DC5, count: 0 };
    report.forward_frequencies().chain(report.return_frequencies()).for_each(|mhz| sum.add(mhz));
    for outlet in report.outlets() {
        sum.figures(&[outlet.tilt, outlet.total]);
        sum.figures(outlet.forward);
        sum.figures(outlet.cnr);
        sum.figures(outlet.transmit.unwrap_or_default());
    }
    for amplifier in report.amplifiers() {
        sum.figures(&[amplifier.input_total]);
        sum.maybe(amplifier.headroom);
    }
    for (feed, _) in report.feeds() {
        let volts = [feed.volts, feed.volts_low, feed.volts_high];
        let amps = [feed.amps, feed.amps_high, feed.supply_amps, feed.supply_amps_high];
        volts.into_iter().chain(amps).for_each(|number| sum.maybe(number));
        sum.add(feed.loop_ohms);
        sum.maybe(feed.drop_volts);
    }
    for dc in report.dc() {
        sum.maybe(dc.volts);
        sum.add(dc.volts_unloaded);
        sum.add(dc.loop_ohms);
    }
    for link in report.links() {
        sum.add(link.mhz);
        sum.maybe(link.loss);
    }
    for finding in report.findings() {
        [finding.mhz, finding.value, finding.limit].into_iter().for_each(|number| sum.maybe(number));
    }
    sum
}
