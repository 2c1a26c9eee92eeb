//! The work every program here does: one place, so that they cannot drift apart.

use legwork::{Error, Figure, Report};

use crate::home;

/// What `vectors` compares: by name, and as bits.
///
/// # Errors
/// [`Error::Full`] where the reference home is larger than its room.
pub fn vectors(mut emit: impl FnMut(&str, u32)) -> Result<(), Error> {
    let (home, desk) = home::build()?;
    report(&desk.check(&home.tree())?, &mut emit);
    let mut sum = Checksum::new();
    for n in 0..2000u16 {
        sum.add(libm::log10f(f32::from(n) + 0.25));
        sum.add(libm::powf(10.0, f32::from(n) * 0.01 - 10.0));
    }
    emit("libm", sum.value());
    Ok(())
}

/// Every figure and finding of a report, a checksum for each kind.
fn report(report: &Report<'_, '_>, emit: &mut impl FnMut(&str, u32)) {
    let mut sums = [const { Checksum::new() }; 5];
    let [levels, totals, noise, transmit, powering] = &mut sums;
    for outlet in report.outlets() {
        levels.figures(outlet.forward);
        levels.figures(&[outlet.tilt]);
        totals.figures(&[outlet.total]);
        noise.figures(outlet.cnr);
        transmit.figures(outlet.transmit.unwrap_or_default());
    }
    for amplifier in report.amplifiers() {
        totals.figures(&[amplifier.input_total]);
    }
    for dc in report.dc() {
        [dc.volts.unwrap_or_default(), dc.volts_unloaded, dc.loop_ohms]
            .into_iter()
            .for_each(|number| powering.add(number));
    }
    for (name, sum) in ["levels", "totals", "noise", "transmit", "powering"].iter().zip(&sums) {
        emit(name, sum.value());
    }
    let mut links = Checksum::new();
    report.links().for_each(|link| links.add(link.loss.unwrap_or_default()));
    emit("links", links.value());
    let mut findings = Checksum::new();
    for finding in report.findings() {
        finding.code.name().bytes().chain(finding.verdict.name().bytes()).for_each(|byte| findings.byte(byte));
    }
    emit("findings", findings.value());
}

/// A running checksum over the bits of floats (FNV-1a).
struct Checksum(u32);

impl Checksum {
    const fn new() -> Self {
        Self(0x811C_9DC5)
    }
    fn byte(&mut self, byte: u8) {
        self.0 = (self.0 ^ u32::from(byte)).wrapping_mul(0x0100_0193);
    }
    fn add(&mut self, number: f32) {
        number.to_bits().to_le_bytes().into_iter().for_each(|byte| self.byte(byte));
    }
    fn figures(&mut self, figures: &[Figure]) {
        for figure in figures {
            [figure.nominal, figure.low, figure.high].into_iter().for_each(|number| self.add(number));
        }
    }
    const fn value(&self) -> u32 {
        self.0
    }
}
