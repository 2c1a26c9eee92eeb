//! `[spec.KIND.NAME]`: specs of the file's own, and those that are built in.

use legwork::{
    Amplifier, Bond, Cable, Coupler, Curve, Db, DcPorts, Equalizer, Filter, Inserter, Joint, Legs, Ohms, Percent,
    Splitter, tables,
};

use super::context::{Context, gain, level, loss};
use crate::problem::{Path, Problem, nearest, route};
use crate::quantity;
use crate::raw::{self, Named, Scalar, Window};

/// The specs of one kind, by name; [`None`] for one with something wrong, which has been noted.
pub(super) type Shelf<'b, T> = Vec<(&'b str, Option<&'b T>)>;

/// Every spec of a file.
#[derive(Default)]
pub(super) struct Specs<'b> {
    pub(super) cable: Shelf<'b, Cable<'b>>,
    pub(super) splitter: Shelf<'b, Splitter<'b>>,
    pub(super) coupler: Shelf<'b, Coupler<'b>>,
    pub(super) inserter: Shelf<'b, Inserter<'b>>,
    pub(super) filter: Shelf<'b, Filter<'b>>,
    pub(super) equalizer: Shelf<'b, Equalizer<'b>>,
    pub(super) amplifier: Shelf<'b, Amplifier<'b>>,
    pub(super) joint: Shelf<'b, Joint<'b>>,
    pub(super) bond: Shelf<'b, Bond<'b>>,
}

/// A spec by its name: the file's own before the built-in.
pub(super) fn find<'b, T>(
    context: &mut Context<'b>,
    shelf: &[(&'b str, Option<&'b T>)],
    built_in: impl FnOnce() -> Option<&'b T>,
    names: &[&'static str],
    name: &Scalar<'_>,
    path: impl FnOnce() -> Path,
) -> Option<&'b T> {
    if let Some(text) = name.text()
        && let Some((_, spec)) = shelf.iter().find(|(known, _)| *known == text)
    {
        return *spec;
    }
    if let Some(spec) = built_in() {
        return Some(spec);
    }
    let word = name.to_string();
    let known = || shelf.iter().map(|(name, _)| *name).chain(names.iter().copied());
    let says = match listed(known()) {
        None => "there is no such spec, and none of this kind in the file".to_owned(),
        Some(list) => format!("there is no such spec; known are {list}"),
    };
    context.note(Problem::new(path(), &word, says).following().suggest(nearest(&word, known())));
    None
}

/// Names with commas between them, as many as anyone reads; [`None`] for none.
fn listed<'n>(mut names: impl Iterator<Item = &'n str>) -> Option<String> {
    const MOST: usize = 20;
    let list: Vec<&str> = names.by_ref().take(MOST).collect();
    let more = if names.next().is_some() { ", ..." } else { "" };
    (!list.is_empty()).then(|| list.join(", ") + more)
}

/// Reads every spec of a file.
pub(super) fn specs<'b>(context: &mut Context<'b>, raw: &raw::Specs<'_>) -> Specs<'b> {
    Specs {
        cable: shelf(context, &raw.cable, "cable", cable),
        splitter: shelf(context, &raw.splitter, "splitter", splitter),
        coupler: shelf(context, &raw.coupler, "coupler", coupler),
        inserter: shelf(context, &raw.inserter, "inserter", inserter),
        filter: shelf(context, &raw.filter, "filter", filter),
        equalizer: shelf(context, &raw.equalizer, "equalizer", equalizer),
        amplifier: shelf(context, &raw.amplifier, "amplifier", amplifier),
        joint: shelf(context, &raw.joint, "joint", joint),
        bond: shelf(context, &raw.bond, "bond", |context, raw, table| {
            let Joint { loss, spread, dc_ohms, band } = joint(context, raw, table)?;
            Some(Bond { loss, spread, dc_ohms, band })
        }),
    }
}

/// Where one spec stands.
type Table<'t> = &'t dyn Fn() -> Path;

fn shelf<'b, R, T: Copy>(
    context: &mut Context<'b>,
    raw: &Named<'_, R>,
    kind: &'static str,
    read: impl Fn(&mut Context<'b>, &R, Table<'_>) -> Option<T>,
) -> Shelf<'b, T> {
    let mut shelf: Shelf<'b, T> = Vec::with_capacity(raw.0.len());
    for (name, raw) in &raw.0 {
        let name = context.keep(name);
        let table = || route!["spec", kind, name];
        if shelf.iter().any(|(known, _)| *known == name) {
            context.note(Problem::new(table(), name, "this name stands here twice"));
        }
        let spec = read(context, raw, &table);
        shelf.push((name, spec.map(|spec| &*context.arena.alloc(spec))));
    }
    shelf
}

/// What most specs share: spread and band.
fn common<'b>(
    context: &mut Context<'b>,
    spread: Option<&Scalar<'_>>,
    band: Option<&Window<'_>>,
    table: Table<'_>,
) -> (Db, Option<legwork::Band>) {
    let spread = context.maybe(spread, table, "spread", quantity::loss).unwrap_or(Db::ZERO);
    (spread, band.and_then(|band| context.band(band, || table().with("band"))))
}

fn isolation<'b>(context: &mut Context<'b>, raw: Option<&raw::Curve<'_>>, table: Table<'_>) -> Option<Curve<'b>> {
    match raw {
        Some(curve) => context.curve(curve, || table().with("isolation"), loss),
        None => Some(Curve::flat(20.0)),
    }
}

/// DC resistance: needed where something passes DC, else zero.
fn dc_ohms(context: &mut Context<'_>, raw: Option<&Scalar<'_>>, passes: bool, table: Table<'_>) -> Option<Ohms> {
    match (raw, passes) {
        (None, false) => Some(Ohms::MIN),
        (raw, _) => context.need(raw, table, "dc_ohms", quantity::ohms),
    }
}

fn cable<'b>(context: &mut Context<'b>, raw: &raw::Cable<'_>, table: Table<'_>) -> Option<Cable<'b>> {
    let loss = context.need_curve(raw.loss.as_ref(), table, "loss", loss);
    let per = context.need(raw.per.as_ref(), table, "per", |text| quantity::length(text).map(|(length, _)| length));
    let loop_resistance = context.need(raw.r#loop.as_ref(), table, "loop", quantity::ohms);
    let spread = context.maybe(raw.spread.as_ref(), table, "spread", quantity::percent).unwrap_or(Percent::MIN);
    let band = raw.band.as_ref().and_then(|band| context.band(band, || table().with("band")));
    let takes = "a fraction of the speed of light, above 0 to 1, without quotes";
    let velocity = match &raw.velocity {
        Some(Scalar::Number(number)) if *number > 0.0 && *number <= 1.0 => Some(*number as f32),
        Some(other) => {
            context.note(Problem::new(table().with("velocity"), other.to_string(), format!("it takes {takes}")));
            None
        }
        None => {
            context.missing(table(), "velocity", takes);
            None
        }
    };
    let per = per?;
    if per.metres() <= 0.0 {
        let text = raw.per.as_ref().map(ToString::to_string).unwrap_or_default();
        context.note(Problem::new(table().with("per"), text, "it takes a length above zero"));
        return None;
    }
    Some(Cable { loss: loss?, per, loop_resistance: loop_resistance?, velocity: velocity?, spread, band })
}

fn splitter<'b>(context: &mut Context<'b>, raw: &raw::Splitter<'_>, table: Table<'_>) -> Option<Splitter<'b>> {
    const MOST: u16 = Splitter::MAX_LEGS as u16;
    let (spread, band) = common(context, raw.spread.as_ref(), raw.band.as_ref(), table);
    let isolation = isolation(context, raw.isolation.as_ref(), table);
    let stated = raw.legs.as_ref().and_then(|value| context.whole(value, || table().with("legs"), 1, MOST));
    let legs = match (&raw.loss, &raw.leg_loss) {
        (Some(curve), None) => {
            let curve = context.curve(curve, || table().with("loss"), loss);
            if raw.legs.is_none() {
                context.missing(table(), "legs", "how many legs, 1 to 16");
            }
            curve.zip(stated).map(|(curve, legs)| Legs::Alike(legs as u8, curve))
        }
        (None, Some(list)) => each_leg(context, list, raw.legs.as_ref().and(stated), table),
        (Some(_), Some(_)) => {
            let says = "a splitter has either one `loss` for all legs or a `leg_loss` for each, not both";
            context.note(Problem::new(table().with("leg_loss"), "", says));
            None
        }
        (None, None) => {
            let says = "this key is missing; it takes one loss for all legs (or `leg_loss`, one a leg)";
            context.note(Problem::new(table().with("loss"), "", says).missing(&["loss", "leg_loss"]));
            None
        }
    };
    let count = match legs {
        Some(Legs::Alike(count, _)) => u16::from(count),
        Some(Legs::Each(legs)) => legs.len() as u16,
        None => MOST,
    };
    let mut dc_pass = 0u16;
    for (index, leg) in raw.dc_pass.iter().flatten().enumerate() {
        if let Some(leg) = context.whole(leg, || table().with("dc_pass").with(index), 1, count) {
            dc_pass |= 1 << (leg - 1);
        }
    }
    let dc_ohms =
        dc_ohms(context, raw.dc_ohms.as_ref(), raw.dc_pass.as_ref().is_some_and(|list| !list.is_empty()), table);
    Some(Splitter { legs: legs?, spread, isolation: isolation?, dc_pass, dc_ohms: dc_ohms?, band })
}

fn each_leg<'b>(
    context: &mut Context<'b>,
    list: &[raw::Curve<'_>],
    stated: Option<u16>,
    table: Table<'_>,
) -> Option<Legs<'b>> {
    let path = || table().with("leg_loss");
    if list.is_empty() || list.len() > usize::from(Splitter::MAX_LEGS) {
        let says = format!("legs in this list: {}; it takes 1 to {}", list.len(), Splitter::MAX_LEGS);
        context.note(Problem::new(path(), "", says));
        return None;
    }
    if let Some(stated) = stated
        && usize::from(stated) != list.len()
    {
        let says = format!("`legs` says {stated}, but this list has {}", list.len());
        context.note(Problem::new(path(), "", says));
    }
    let mut curves = Vec::with_capacity(list.len());
    for (index, curve) in list.iter().enumerate() {
        curves.push(context.curve(curve, || path().with(index), loss).unwrap_or(Curve::ZERO));
    }
    Some(Legs::Each(context.arena.alloc_slice_copy(&curves)))
}

fn coupler<'b>(context: &mut Context<'b>, raw: &raw::Coupler<'_>, table: Table<'_>) -> Option<Coupler<'b>> {
    let (spread, band) = common(context, raw.spread.as_ref(), raw.band.as_ref(), table);
    let tap = context.need_curve(raw.tap.as_ref(), table, "tap", loss);
    let through = context.need_curve(raw.through.as_ref(), table, "through", loss);
    let isolation = isolation(context, raw.isolation.as_ref(), table);
    let (mut dc_through, mut dc_tap) = (false, false);
    for (index, way) in raw.dc_pass.iter().flatten().enumerate() {
        let path = || table().with("dc_pass").with(index);
        match context.word(way, path, &[("through", false), ("tap", true)]) {
            Some(true) => dc_tap = true,
            Some(false) => dc_through = true,
            None => {}
        }
    }
    let passes = raw.dc_pass.as_ref().is_some_and(|list| !list.is_empty());
    let dc_ohms = dc_ohms(context, raw.dc_ohms.as_ref(), passes, table);
    let (tap, through, isolation, dc_ohms) = (tap?, through?, isolation?, dc_ohms?);
    Some(Coupler { tap, through, spread, isolation, dc_through, dc_tap, dc_ohms, band })
}

fn inserter<'b>(context: &mut Context<'b>, raw: &raw::Inserter<'_>, table: Table<'_>) -> Option<Inserter<'b>> {
    let (spread, band) = common(context, raw.spread.as_ref(), raw.band.as_ref(), table);
    let loss = context.need_curve(raw.loss.as_ref(), table, "loss", loss);
    let dc_ohms = dc_ohms(context, raw.dc_ohms.as_ref(), false, table);
    Some(Inserter { loss: loss?, spread, dc_ohms: dc_ohms?, band })
}

fn filter<'b>(context: &mut Context<'b>, raw: &raw::Filter<'_>, table: Table<'_>) -> Option<Filter<'b>> {
    let (spread, band) = common(context, raw.spread.as_ref(), raw.band.as_ref(), table);
    let loss = context.need_curve(raw.loss.as_ref(), table, "loss", loss);
    let reflects = raw.reflects.as_ref().and_then(|band| context.band(band, || table().with("reflects")));
    let passes = context.flag(raw.dc_pass.as_ref(), || table().with("dc_pass"));
    let ohms = dc_ohms(context, raw.dc_ohms.as_ref(), passes, table);
    Some(Filter { loss: loss?, spread, reflects, dc: ohms.filter(|_| passes), band })
}

fn equalizer<'b>(context: &mut Context<'b>, raw: &raw::Equalizer<'_>, table: Table<'_>) -> Option<Equalizer<'b>> {
    let (spread, band) = common(context, raw.spread.as_ref(), raw.band.as_ref(), table);
    let loss = context.need_curve(raw.loss.as_ref(), table, "loss", loss);
    let passes = context.flag(raw.dc_pass.as_ref(), || table().with("dc_pass"));
    let ohms = dc_ohms(context, raw.dc_ohms.as_ref(), passes, table);
    Some(Equalizer { loss: loss?, spread, dc: ohms.filter(|_| passes), band })
}

fn joint<'b>(context: &mut Context<'b>, raw: &raw::Joint<'_>, table: Table<'_>) -> Option<Joint<'b>> {
    let (spread, band) = common(context, raw.spread.as_ref(), raw.band.as_ref(), table);
    let loss = context.need_curve(raw.loss.as_ref(), table, "loss", loss);
    let dc_ohms = dc_ohms(context, raw.dc_ohms.as_ref(), false, table);
    Some(Joint { loss: loss?, spread, dc_ohms: dc_ohms?, band })
}

fn amplifier<'b>(context: &mut Context<'b>, raw: &raw::Amplifier<'_>, table: Table<'_>) -> Option<Amplifier<'b>> {
    const MOST: u16 = Amplifier::MAX_OUTPUTS as u16;
    let (spread, band) = common(context, raw.spread.as_ref(), raw.band.as_ref(), table);
    let outputs = match &raw.outputs {
        Some(value) => context.whole(value, || table().with("outputs"), 1, MOST),
        None => {
            context.missing(table(), "outputs", "how many outputs, 1 to 16");
            None
        }
    };
    let over = |context: &mut Context<'b>, curve: Option<&raw::Curve<'_>>, key: &'static str, read| {
        curve.and_then(|curve| context.curve(curve, || table().with(key), read))
    };
    let most = |context: &mut Context<'b>, value: Option<&Scalar<'_>>, key: &'static str| match value {
        Some(value) if value.text() == Some("none") => f32::INFINITY,
        value => context.maybe(value, table, key, level).unwrap_or(f32::INFINITY),
    };
    let gain_curve = context.need_curve(raw.gain.as_ref(), table, "gain", gain);
    let return_gain = over(context, raw.return_gain.as_ref(), "return_gain", gain);
    let passive = over(context, raw.passive.as_ref(), "passive", loss);
    let network_loss = over(context, raw.network_loss.as_ref(), "network_loss", loss);
    let noise_figure = context.need_curve(raw.noise_figure.as_ref(), table, "noise_figure", loss);
    let isolation = isolation(context, raw.isolation.as_ref(), table);
    let max_input_total = most(context, raw.max_input_total.as_ref(), "max_input_total");
    let max_output_total = most(context, raw.max_output_total.as_ref(), "max_output_total");
    let max_return_total = most(context, raw.max_return_total.as_ref(), "max_return_total");
    let split = context.maybe(raw.split.as_ref(), table, "split", quantity::split);
    let draw = context.need(raw.draw.as_ref(), table, "draw", quantity::draw);
    let runs_on = runs_on(context, raw.runs_on.as_ref(), table);
    let dc_ports = dc_ports(context, raw.dc_ports.as_deref().unwrap_or_default(), outputs.unwrap_or(MOST), table);
    Some(Amplifier {
        outputs: outputs? as u8,
        gain: gain_curve?,
        return_gain,
        passive,
        spread,
        noise_figure: noise_figure?,
        isolation: isolation?,
        network_loss,
        max_input_total,
        max_output_total,
        max_return_total,
        split,
        draw: draw?,
        runs_on: runs_on?,
        dc_ports,
        band,
    })
}

fn runs_on(
    context: &mut Context<'_>,
    raw: Option<&Window<'_>>,
    table: Table<'_>,
) -> Option<(legwork::Volts, legwork::Volts)> {
    let path = || table().with("runs_on");
    let Some(window) = raw else {
        context.missing(table(), "runs_on", "the lowest and the highest voltage, [\"10 V\", \"20 V\"]");
        return None;
    };
    let (low, high) = context.ends(window, path)?;
    let lowest = context.quantity(low, || path().with(0), quantity::volts);
    let highest = context.quantity(high, || path().with(1), quantity::volts);
    let (lowest, highest) = (lowest?, highest?);
    if lowest > highest {
        context.note(Problem::new(
            path(),
            format!("{low}, {high}"),
            "the range is upside down; the lowest comes first",
        ));
        return None;
    }
    Some((lowest, highest))
}

fn dc_ports(context: &mut Context<'_>, raw: &[Scalar<'_>], outputs: u16, table: Table<'_>) -> DcPorts {
    let mut ports = DcPorts::default();
    for (index, port) in raw.iter().enumerate() {
        let text = port.to_string();
        match (text.as_str(), text.parse::<u16>()) {
            ("power", _) => ports.power = true,
            ("in", _) => ports.input = true,
            (_, Ok(number)) if (1..=outputs).contains(&number) => ports.outputs |= 1 << (number - 1),
            _ => {
                let last = if outputs == 1 { String::new() } else { format!(" to \"{outputs}\"") };
                let says = format!("it takes \"power\", \"in\" or the number of an output, \"1\"{last}");
                let near = nearest(&text, ["power", "in"]);
                context.note(Problem::new(table().with("dc_ports").with(index), text, says).suggest(near));
            }
        }
    }
    ports
}

/// The built-in specs of a kind, for [`find`].
pub(super) mod built_in {
    pub(crate) use super::tables::{
        BONDS, CABLES, COUPLERS, FILTERS, INSERTERS, JOINTS, SPLITTERS, bond, cable, coupler, filter, inserter, joint,
        splitter,
    };
}
