//! What one `[[part]]` is.

use legwork::{Cable, Conductor, Part, Place};

use super::context::Context;
use super::specs::{Specs, built_in, find};
use crate::problem::{Path, Problem, route};
use crate::quantity;
use crate::raw::{self, Kind, Scalar};

/// A part of the file as core knows it, if nothing is wrong with it.
pub(super) fn part<'b>(
    context: &mut Context<'b>,
    specs: &Specs<'b>,
    index: usize,
    raw: &raw::Part<'_>,
) -> Option<Part<'b>> {
    let table = || route!["part", index];
    let Some((kind, name)) = &raw.kind else {
        let kinds: Vec<&str> = Kind::ALL.iter().map(|(_, key)| *key).collect();
        let says = format!("this part has no kind; it takes one of {}", kinds.join(", "));
        let id = raw.id.as_ref().map(ToString::to_string).unwrap_or_default();
        context.note(Problem::new(table(), id, says).missing(&["kind"]));
        return None;
    };
    if let Some(second) = raw.second_kind {
        let says = format!("a part has one kind, and this one is a {} already", kind.key());
        context.note(Problem::new(table().with(second.key()), "", says));
    }
    stray_keys(context, raw, *kind, &table);
    let at = || table().with(kind.key());
    match kind {
        Kind::Cable => {
            let spec = cable(context, specs, name, at);
            let length = context.need(raw.length.as_ref(), table, "length", quantity::length);
            let place = place(context, raw.place.as_ref(), || table().with("place"));
            let (length, _) = length?;
            Some(Part::Cable { spec: spec?, length, place: place? })
        }
        Kind::Bond => {
            let spec = find(context, &specs.bond, || name.text().and_then(built_in::bond), built_in::BONDS, name, at);
            let size = context.maybe(raw.conductor.as_ref(), table, "conductor", quantity::awg);
            let length = context.maybe(raw.conductor_length.as_ref(), table, "conductor_length", quantity::length);
            let conductor = Conductor { size, length: length.map(|(length, _)| length) };
            spec.map(|spec| Part::Bond(spec, conductor))
        }
        kind => plain(context, specs, *kind, name, at),
    }
}

/// The spec of a cable.
pub(super) fn cable<'b>(
    context: &mut Context<'b>,
    specs: &Specs<'b>,
    name: &Scalar<'_>,
    at: impl Fn() -> Path,
) -> Option<&'b Cable<'b>> {
    find(context, &specs.cable, || name.text().and_then(built_in::cable), built_in::CABLES, name, at)
}

/// Where a cable lies; indoor unless said.
pub(super) fn place(context: &mut Context<'_>, place: Option<&Scalar<'_>>, at: impl FnOnce() -> Path) -> Option<Place> {
    let places = [("indoor", Place::Indoor), ("outdoor", Place::Outdoor), ("attic", Place::Attic)];
    match place {
        Some(place) => context.word(place, at, &places),
        None => Some(Place::Indoor),
    }
}

/// A part that is known by its kind and the name of its spec; a bond comes without its conductor.
pub(super) fn plain<'b>(
    context: &mut Context<'b>,
    specs: &Specs<'b>,
    kind: Kind,
    name: &Scalar<'_>,
    at: impl Fn() -> Path,
) -> Option<Part<'b>> {
    let text = name.text();
    match kind {
        Kind::Cable => None,
        Kind::Splitter => {
            find(context, &specs.splitter, || text.and_then(built_in::splitter), built_in::SPLITTERS, name, at)
                .map(Part::Splitter)
        }
        Kind::Coupler => {
            find(context, &specs.coupler, || text.and_then(built_in::coupler), built_in::COUPLERS, name, at)
                .map(Part::Coupler)
        }
        Kind::Equalizer => find(context, &specs.equalizer, || None, &[], name, at).map(Part::Equalizer),
        Kind::Filter => find(context, &specs.filter, || text.and_then(built_in::filter), built_in::FILTERS, name, at)
            .map(Part::Filter),
        Kind::Amplifier => find(context, &specs.amplifier, || None, &[], name, at).map(Part::Amplifier),
        Kind::Inserter => {
            find(context, &specs.inserter, || text.and_then(built_in::inserter), built_in::INSERTERS, name, at)
                .map(Part::Inserter)
        }
        Kind::Joint => {
            find(context, &specs.joint, || text.and_then(built_in::joint), built_in::JOINTS, name, at).map(Part::Joint)
        }
        Kind::Pad => context.quantity(name, at, quantity::loss).map(Part::Pad),
        Kind::Bond => find(context, &specs.bond, || text.and_then(built_in::bond), built_in::BONDS, name, at)
            .map(|spec| Part::Bond(spec, Conductor { size: None, length: None })),
    }
}

/// Keys that belong to another kind of part.
fn stray_keys(context: &mut Context<'_>, raw: &raw::Part<'_>, kind: Kind, table: &dyn Fn() -> Path) {
    let cable = kind == Kind::Cable;
    let bond = kind == Kind::Bond;
    for (key, value, fits, whose) in [
        ("length", &raw.length, cable, "a cable"),
        ("place", &raw.place, cable, "a cable"),
        ("conductor", &raw.conductor, bond, "a bond"),
        ("conductor_length", &raw.conductor_length, bond, "a bond"),
    ] {
        if let Some(value) = value
            && !fits
        {
            let says = format!("only {whose} has a {key}; this part is a {}", kind.key());
            context.note(Problem::new(table().with(key), value.to_string(), says));
        }
    }
}
