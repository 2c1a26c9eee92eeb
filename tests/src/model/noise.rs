//! Carrier to noise, part by part.

use super::{
    forward::{self, Figure},
    part::{Case, Part},
    quantity::ZERO_DBMV_WATTS,
    tree::{Home, Step},
};

/// Boltzmann's constant in joules per kelvin.
const BOLTZMANN: f64 = 1.380649e-23;

/// Thermal noise at 290 K in the home's noise bandwidth, in units of 0 dBmV.
fn thermal(home: &Home) -> f64 {
    BOLTZMANN * 290.0 * home.noise_bandwidth_mhz * 1e6 / ZERO_DBMV_WATTS
}

/// A ratio in dB as a ratio of powers.
fn ratio(db: f64) -> f64 {
    10f64.powf(db / 10.0)
}

/// The noise behind one part, in units of 0 dBmV.
fn behind(part: &Part, way: usize, noise: f64, thermal: f64, mhz: f64, case: Case) -> f64 {
    if part.is_amplified(way) {
        let gain = ratio(-part.loss(way, mhz, case));
        let factor = ratio(part.amplifier().noise_figure.linear(mhz));
        gain * (noise + thermal * (factor - 1.0))
    } else {
        let loss = ratio(part.loss(way, mhz, case));
        noise / loss + thermal * (1.0 - 1.0 / loss)
    }
}

/// Carrier to noise at the end of a way in dB; none where the entry's is not given.
pub(crate) fn cnr(home: &Home, way: &[Step], mhz: f64) -> Option<Figure> {
    let at_entry = home.cnr.as_ref()?.linear(mhz);
    let thermal = thermal(home);
    Some(Figure::of(|case| {
        let mut level = forward::at_entry(home, mhz, case);
        let mut noise = ratio(level - at_entry).max(thermal);
        for &(part, way) in way {
            let part = &home.parts[part];
            noise = behind(part, way, noise, thermal, mhz, case);
            level -= part.loss(way, mhz, case);
        }
        level - 10.0 * noise.log10()
    }))
}
