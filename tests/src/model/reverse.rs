//! Levels on the way up: what a modem has to send so that it arrives at the entry as one there would.

use super::{
    forward::Figure,
    part::Case,
    tree::{Home, Step},
};

/// The loss of a way up in dB; none where an amplifier without a return path stands on it.
pub(crate) fn loss(home: &Home, way: &[Step], mhz: f64, case: Case) -> Option<f64> {
    way.iter().map(|&(part, way)| home.parts[part].return_loss(way, mhz, case)).sum()
}

/// The level in dBmV that a modem at the end of a way sends; none where there is no return path.
pub(crate) fn transmit(home: &Home, way: &[Step], mhz: f64) -> Option<Figure> {
    loss(home, way, mhz, Case::Nominal)?;
    let at_entry = home.transmit.as_ref()?.linear(mhz);
    Some(Figure::of(|case| {
        let moved = match case {
            Case::Nominal => 0.0,
            Case::Most => home.spread,
            Case::Least => -home.spread,
        };
        at_entry + moved + loss(home, way, mhz, case).unwrap_or(f64::NAN)
    }))
}

/// So many dB more for all the channels a modem sends at once.
pub(crate) fn all_channels(home: &Home) -> f64 {
    10.0 * home.return_channels.log10()
}
