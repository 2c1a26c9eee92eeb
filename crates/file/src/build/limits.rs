//! `[limits.DEVICE]` and `[target.DEVICE]`.

use legwork::{Device, Limits, tables};

use super::context::{Context, level, loss};
use crate::problem::{Path, Problem, route};
use crate::raw::{self, OneOrMany, Scalar, Window};

/// The devices of a table, with what stands there for each.
pub(super) fn devices<'r, 'a>(raw: &'r raw::PerDevice<'a>) -> [(Device, Option<&'r raw::Limits<'a>>); 4] {
    [
        (Device::Modem, raw.modem.as_ref()),
        (Device::VoiceModem, raw.voice_modem.as_ref()),
        (Device::SetTop, raw.set_top.as_ref()),
        (Device::Tv, raw.tv.as_ref()),
    ]
}

/// What a table says over what held before.
pub(super) fn limits(
    context: &mut Context<'_>,
    raw: &raw::Limits<'_>,
    before: Limits,
    section: &'static str,
    device: Device,
) -> Limits {
    let table = || route![section, device.name()];
    let mut out = before;
    window(context, raw.forward.as_ref(), || table().with("forward"), &mut out.forward);
    window(context, raw.transmit.as_ref(), || table().with("transmit"), &mut out.transmit);
    one(context, raw.total.as_ref(), || table().with("total"), level, f32::INFINITY, &mut out.total);
    one(context, raw.tilt.as_ref(), || table().with("tilt"), loss, f32::INFINITY, &mut out.tilt);
    one(context, raw.cnr.as_ref(), || table().with("cnr"), loss, f32::NEG_INFINITY, &mut out.cnr);
    one(context, raw.window.as_ref(), || table().with("window"), loss, f32::INFINITY, &mut out.window);
    if raw.neighbour.is_some() {
        let mut neighbour = f32::INFINITY;
        one(context, raw.neighbour.as_ref(), || table().with("neighbour"), level, f32::INFINITY, &mut neighbour);
        out.neighbour = Some(neighbour);
    }
    out
}

fn is_none(value: &Scalar<'_>) -> bool {
    value.text() == Some("none")
}

fn one(
    context: &mut Context<'_>,
    value: Option<&Scalar<'_>>,
    path: impl FnOnce() -> Path,
    read: fn(&str) -> Result<f32, crate::quantity::Bad>,
    unchecked: f32,
    slot: &mut f32,
) {
    match value {
        None => {}
        Some(value) if is_none(value) => *slot = unchecked,
        Some(value) => {
            if let Some(number) = context.quantity(value, path, read) {
                *slot = number;
            }
        }
    }
}

fn window(context: &mut Context<'_>, raw: Option<&Window<'_>>, path: impl Fn() -> Path, slot: &mut (f32, f32)) {
    match raw {
        None => {}
        Some(OneOrMany::One(value)) if is_none(value) => *slot = Limits::NONE.forward,
        Some(raw) => {
            let Some((low, high)) = context.ends(raw, &path) else { return };
            let mut ends = Limits::NONE.forward;
            one(context, Some(low), || path().with(0), level, f32::NEG_INFINITY, &mut ends.0);
            one(context, Some(high), || path().with(1), level, f32::INFINITY, &mut ends.1);
            if ends.0 > ends.1 {
                context.note(Problem::new(
                    path(),
                    format!("{low}, {high}"),
                    "the range is upside down; the lowest comes first",
                ));
            }
            *slot = ends;
        }
    }
}

/// The limits of a device where a file says nothing.
pub(super) fn built_in(device: Device) -> Limits {
    let index = Device::WITH_LIMITS.iter().position(|known| *known == device);
    index.and_then(|index| tables::LIMITS.get(index)).copied().unwrap_or(Limits::NONE)
}
