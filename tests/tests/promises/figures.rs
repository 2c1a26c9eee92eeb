//! A built-in figure that moves is a breaking change: `CHANGELOG.md` names it.
//!
//! `crates/core/figures.txt` has every figure as the last release had it. What differs from it now has to
//! stand under "Unreleased". `LEGWORK_BLESS=1 cargo test -p legwork-tests --test promises` writes it anew, for a release.

use std::collections::BTreeMap;
use std::fmt::Display;
use std::fs;

use legwork::{Band, Curve, Device, Limits, Ohms, tables};

use legwork_tests::blessed;

use super::{here, text};

const KEPT: &str = "crates/core/figures.txt";

/// Figures by what they are of.
#[derive(Default)]
struct Figures(BTreeMap<String, String>);

impl Figures {
    fn add(&mut self, of: &str, what: &str, value: impl Display) {
        let key = format!("{of}, {what}");
        assert!(self.0.insert(key, value.to_string()).is_none(), "{of}, {what} stands there twice");
    }

    fn curve(&mut self, of: &str, what: &str, curve: &Curve<'_>) {
        match curve {
            Curve::Flat(db) => self.add(of, what, format_args!("{} dB", db.db())),
            Curve::Points(points) => {
                for point in points.as_slice() {
                    let what = format!("{what} at {} MHz", point.frequency().mhz());
                    self.add(of, &what, format_args!("{} dB", point.value()));
                }
            }
        }
    }

    fn band(&mut self, of: &str, what: &str, band: Option<Band>) {
        let Some(Band { low, high }) = band else { return self.add(of, what, "none") };
        self.add(of, what, format_args!("{} to {} MHz", low.mhz(), high.mhz()));
    }

    fn ohms(&mut self, of: &str, what: &str, ohms: Option<Ohms>) {
        let Some(ohms) = ohms else { return self.add(of, what, "blocked") };
        self.add(of, what, format_args!("{} ohm", ohms.ohms()));
    }

    fn limits(&mut self, device: Device, limits: &Limits) {
        let of = format!("limit {}", device.name());
        let Limits { forward, total, tilt, cnr, transmit, window, neighbour } = *limits;
        for (what, range) in [("forward", forward), ("transmit", transmit)] {
            self.add(&of, what, format_args!("{} to {} dBmV", range.0, range.1));
        }
        for (what, most, unit) in
            [("total", total, "dBmV"), ("tilt", tilt, "dB"), ("cnr", cnr, "dB"), ("window", window, "dB")]
        {
            self.add(&of, what, format_args!("{most} {unit}"));
        }
        match neighbour {
            Some(level) => self.add(&of, "neighbour", format_args!("{level} dBmV")),
            None => self.add(&of, "neighbour", "that of total"),
        }
    }
}

/// Everything that is built in.
fn figures() -> BTreeMap<String, String> {
    let mut all = Figures::default();
    for (name, spec) in tables::CABLES.iter().map(|name| (name, tables::cable(name).expect("it is listed"))) {
        let of = format!("cable {name}");
        all.curve(&of, "loss", &spec.loss);
        all.add(&of, "per", format_args!("{} m", spec.per.metres()));
        all.ohms(&of, "loop", Some(spec.loop_resistance));
        all.add(&of, "velocity", spec.velocity);
        all.add(&of, "spread", format_args!("{} %", spec.spread.percent()));
        all.band(&of, "band", spec.band);
    }
    for (name, spec) in tables::SPLITTERS.iter().map(|name| (name, tables::splitter(name).expect("it is listed"))) {
        let of = format!("splitter {name}");
        for leg in 0..spec.count() {
            all.curve(&of, &format!("loss of leg {}", leg + 1), spec.loss(leg).expect("a leg"));
        }
        all.curve(&of, "isolation", &spec.isolation);
        all.add(&of, "spread", format_args!("{} dB", spec.spread.db()));
        all.add(&of, "legs that pass DC", format_args!("{:#b}", spec.dc_pass));
        all.ohms(&of, "DC", Some(spec.dc_ohms));
        all.band(&of, "band", spec.band);
    }
    for (name, spec) in tables::COUPLERS.iter().map(|name| (name, tables::coupler(name).expect("it is listed"))) {
        let of = format!("coupler {name}");
        all.curve(&of, "loss to the tap", &spec.tap);
        all.curve(&of, "loss through", &spec.through);
        all.curve(&of, "isolation", &spec.isolation);
        all.add(&of, "spread", format_args!("{} dB", spec.spread.db()));
        all.add(&of, "DC through and to the tap", format_args!("{}, {}", spec.dc_through, spec.dc_tap));
        all.ohms(&of, "DC", Some(spec.dc_ohms));
        all.band(&of, "band", spec.band);
    }
    for (name, spec) in tables::FILTERS.iter().map(|name| (name, tables::filter(name).expect("it is listed"))) {
        let of = format!("filter {name}");
        all.curve(&of, "loss", &spec.loss);
        all.band(&of, "reflects", spec.reflects);
        all.add(&of, "spread", format_args!("{} dB", spec.spread.db()));
        all.ohms(&of, "DC", spec.dc);
        all.band(&of, "band", spec.band);
    }
    let inserters = tables::INSERTERS
        .iter()
        .map(|name| ("inserter", name, tables::inserter(name).map(|s| (s.loss, s.spread, s.dc_ohms, s.band))));
    let joints = tables::JOINTS
        .iter()
        .map(|name| ("joint", name, tables::joint(name).map(|s| (s.loss, s.spread, s.dc_ohms, s.band))));
    let bonds = tables::BONDS
        .iter()
        .map(|name| ("bond", name, tables::bond(name).map(|s| (s.loss, s.spread, s.dc_ohms, s.band))));
    for (kind, name, spec) in inserters.chain(joints).chain(bonds) {
        let (loss, spread, dc_ohms, band) = spec.expect("it is listed");
        let of = format!("{kind} {name}");
        all.curve(&of, "loss", &loss);
        all.add(&of, "spread", format_args!("{} dB", spread.db()));
        all.ohms(&of, "DC", Some(dc_ohms));
        all.band(&of, "band", band);
    }
    for (device, limits) in Device::WITH_LIMITS.into_iter().zip(&tables::LIMITS) {
        all.limits(device, limits);
    }
    all.0
}

/// What the changelog has to say of figures that were kept as `before` and are `now`.
fn moved(before: &BTreeMap<String, String>, now: &BTreeMap<String, String>) -> Vec<String> {
    let line = |(key, old): (&String, &String)| match now.get(key) {
        Some(new) if new == old => None,
        Some(new) => Some(format!("{key}: {new}, was {old}")),
        None => Some(format!("{key}: gone, was {old}")),
    };
    before.iter().filter_map(line).collect()
}

/// The section of what is to be released next, its line breaks as spaces.
fn unreleased(changelog: &str) -> String {
    let (_, after) = changelog.split_once("\n## Unreleased\n").expect("a section for what is to come");
    let section = after.split_once("\n## ").map_or(after, |(section, _)| section);
    section.split_whitespace().collect::<Vec<&str>>().join(" ")
}

#[test]
fn the_changelog_names_each_figure_that_moved_since_the_last_release() {
    let now = figures();
    assert!(now.len() > 300, "only {} figures", now.len());
    if blessed() {
        let lines: String = now.iter().map(|(key, value)| format!("{key}: {value}\n")).collect();
        fs::write(here(KEPT), lines).expect("a place for the figures");
    }
    let kept = text(KEPT);
    let split = |line: &str| line.rsplit_once(": ").map(|(key, value)| (key.to_owned(), value.to_owned()));
    let before = kept.lines().map(|line| split(line).expect("a figure and its value")).collect();
    let changelog = unreleased(&text("CHANGELOG.md"));
    let silent: Vec<String> = moved(&before, &now).into_iter().filter(|line| !changelog.contains(line)).collect();
    assert!(silent.is_empty(), "add to CHANGELOG.md, under Unreleased:\n{}", silent.join("\n"));
}

#[test]
fn a_figure_that_moved_or_went_is_told_and_one_that_came_is_not() {
    let table = |rows: [(&str, &str); 2]| rows.map(|(key, value)| (key.to_owned(), value.to_owned())).into();
    let before = table([("cable thin, loss at 57 MHz", "2 dB"), ("cable thick, velocity", "0.85")]);
    let now = table([("cable thin, loss at 57 MHz", "2.1 dB"), ("cable new, velocity", "0.85")]);
    let told = ["cable thick, velocity: gone, was 0.85", "cable thin, loss at 57 MHz: 2.1 dB, was 2 dB"];
    assert_eq!(moved(&before, &now), told);
    assert_eq!(unreleased("# Log\n\n## Unreleased\n\n- a\n  b\n\n## 1.0.0\n\n- c\n"), "- a b");
}
