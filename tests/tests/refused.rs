//! Files that can't be used: each is refused with its line, field and value, quickly and without a panic.
//!
//! The files are `data/refused/*`; what a technician reads about each stands in `data/refused/messages.txt`.
//! `LEGWORK_BLESS=1 cargo test -p legwork-tests --test refused` writes that file anew: read the difference.

use std::fs;
use std::path::PathBuf;
use std::time::{Duration, Instant};

use legwork_file::{Checker, Refusal, Source};

/// One unusable file and what has to be said of it.
struct Wrong {
    file: &'static str,
    line: usize,
    /// The line of the second place, for what needs two to go wrong.
    second: Option<usize>,
    field: &'static str,
    value: &'static str,
    /// What the message has to say besides.
    says: &'static str,
}

const fn wrong(file: &'static str, line: usize, field: &'static str, value: &'static str, says: &'static str) -> Wrong {
    Wrong { file, line, second: None, field, value, says }
}

impl Wrong {
    const fn and(mut self, second: usize) -> Self {
        self.second = Some(second);
        self
    }
}

/// One mistake in each, in the order of the contract.
#[rustfmt::skip]
const FILES: &[Wrong] = &[
    wrong("no-json-at-all.json", 1, "", "", "the text ends"),
    wrong("json-list.json", 1, "", "", "table"),
    wrong("json-truncated.json", 25, "", "", "not JSON"),
    wrong("json-half-a-text.json", 30, "", "", "does not end"),
    wrong("json-comma-too-many.json", 32, "", "", "key in quotes"),
    wrong("json-more-behind.json", 42, "", "", "nothing more"),
    wrong("json-nan.json", 31, "", "", "value is expected"),
    wrong("json-single-quotes.json", 31, "", "", "value is expected"),
    wrong("json-1e400.json", 31, "part[0].length", "1e400", "bare number"),
    wrong("json-control-character.json", 31, "", "", "not JSON"),
    wrong("json-nul.json", 31, "", "", "not JSON"),
    wrong("json-key-twice.json", 31, "part[0].cable", "series-59", "twice").and(30),
    wrong("json-key-twice-in-a-table.json", 6, "service.split", "85/108 MHz", "twice").and(5),
    wrong("json-key-twice-at-the-top.json", 4, "name", "Ivy Lane 3", "twice").and(3),
    wrong("json-escaped-value.json", 31, "part[0].length", "40 furlongs", "unit"),
    wrong("json-unknown-key.json", 31, "part[0].lenght", "lenght", "did you mean `length`"),
    wrong("toml-unfinished-text.toml", 15, "", "", "not TOML"),
    wrong("toml-no-value.toml", 15, "", "", "not TOML"),
    wrong("toml-bare-word.toml", 15, "", "", "not TOML"),
    wrong("toml-nul.toml", 15, "", "", "not TOML"),
    wrong("toml-key-twice.toml", 16, "", "", "uplicate"),
    wrong("toml-table-twice.toml", 22, "", "", "uplicate"),
    wrong("toml-date.toml", 15, "part[0].length", "2026-05-01", "date"),
    wrong("toml-inf.toml", 15, "part[0].length", "inf", "bare number"),
    wrong("toml-huge-whole-number.toml", 15, "part[0].length", "99999999999999999999999999", "bare number"),
    wrong("toml-windows-lines.toml", 15, "part[0].length", "40 furlongs", "unit"),
    wrong("bytes-no-text.toml", 15, "", "0xff", "UTF-8"),
    wrong("bytes-latin-1.json", 3, "", "0xe9", "UTF-8"),
    wrong("wide-characters-and-tabs.toml", 15, "part[0].length", "四十フィート", "number"),
    wrong("format-missing.toml", 1, "format", "", "this key is missing"),
    wrong("format-2.toml", 1, "format", "2", "format 1"),
    wrong("format-text.toml", 1, "format", "1", "format 1"),
    wrong("format-half.toml", 1, "format", "1.5", "format 1"),
    wrong("format-list.toml", 1, "format", "[1]", "list"),
    wrong("name-number.toml", 2, "name", "2", "text"),
    wrong("unknown-table.toml", 22, "suply", "suply", "did you mean `supply`"),
    wrong("unknown-top-key.toml", 2, "nmae", "nmae", "did you mean `name`"),
    wrong("service-missing.toml", 1, "service", "", "this key is missing"),
    wrong("service-number.toml", 3, "service", "42", "table"),
    wrong("split-missing.toml", 4, "service.split", "", "this key is missing"),
    wrong("split-upside-down.toml", 5, "service.split", "54/42 MHz", "lower"),
    wrong("split-one-number.toml", 5, "service.split", "42 MHz", "42/54 MHz"),
    wrong("split-no-unit.toml", 5, "service.split", "42/54", "unit is missing"),
    wrong("split-wrong-unit.toml", 5, "service.split", "42/54 dB", "unit"),
    wrong("carriers-missing.toml", 4, "service.carriers", "", "this key is missing"),
    wrong("carriers-empty.toml", 6, "service.carriers", "[]", "at least one block"),
    wrong("carriers-text.toml", 6, "service.carriers", "57 to 861 MHz", "list"),
    wrong("carriers-pairs.toml", 6, "service.carriers[0]", "[\"57 MHz\", \"861 MHz\"]", "table"),
    wrong("carriers-first-missing.toml", 6, "service.carriers[0].first", "", "this key is missing"),
    wrong("carriers-last-missing.toml", 6, "service.carriers[0].last", "", "this key is missing"),
    wrong("carriers-step-missing.toml", 6, "service.carriers[0].step", "", "this key is missing"),
    wrong("carriers-last-below-first.toml", 6, "service.carriers[0].last", "51 MHz", "below"),
    wrong("carriers-step-nought.toml", 6, "service.carriers[0].step", "0 MHz", "possible"),
    wrong("carriers-step-negative.toml", 6, "service.carriers[0].step", "-6 MHz", "possible"),
    wrong("carriers-step-number.toml", 6, "service.carriers[0].step", "6", "MHz"),
    wrong("carriers-too-many.toml", 6, "service.carriers[0].last", "861 MHz", "is the step right"),
    wrong("carriers-overlap.toml", 8, "service.carriers[1].first", "549 MHz", "overlap").and(7),
    wrong("carriers-falling.toml", 8, "service.carriers[1].first", "57 MHz", "rise").and(7),
    wrong("carriers-offset-level.toml", 6, "service.carriers[0].offset", "-1 dBmV", "dB"),
    wrong("carriers-unknown-key.toml", 6, "service.carriers[0].frist", "frist", "did you mean `first`"),
    wrong("no-such-channel.toml", 6, "service.carriers[0].first", "ch 1", "channel"),
    wrong("noise-bandwidth-nought.toml", 7, "service.noise_bandwidth", "0 MHz", "frequency"),
    wrong("return-channels-none.toml", 7, "service.return_channels", "0", "whole number"),
    wrong("return-channels-half.toml", 7, "service.return_channels", "1.5", "whole number"),
    wrong("return-channels-text.toml", 7, "service.return_channels", "4", "without quotes"),
    wrong("service-unknown-key.toml", 7, "service.noise_bandwith", "noise_bandwith", "did you mean `noise_bandwidth`"),
    wrong("entry-missing.toml", 1, "entry", "", "this key is missing"),
    wrong("entry-forward-missing.toml", 8, "entry.forward", "", "this key is missing"),
    wrong("entry-one-reading.toml", 9, "entry.forward", "57 MHz", "at least 2"),
    wrong("entry-one-level.toml", 9, "entry.forward", "12 dBmV", "at least 2"),
    wrong("entry-falling.toml", 9, "entry.forward[1][0]", "57 MHz", "rise"),
    wrong("entry-frequency-twice.toml", 9, "entry.forward[1][0]", "57 MHz", "rise"),
    wrong("entry-three-in-a-pair.toml", 9, "entry.forward[0]", "", "pair"),
    wrong("entry-one-in-a-pair.toml", 9, "entry.forward[1]", "", "pair"),
    wrong("entry-level-in-db.toml", 9, "entry.forward[0][1]", "12 dB", "dBmV"),
    wrong("entry-level-space-in-the-unit.toml", 9, "entry.forward[0][1]", "12 dBm V", "did you mean `12 dBmV`"),
    wrong("entry-level-number.toml", 9, "entry.forward[0][1]", "12", "dBmV"),
    wrong("entry-level-nan.toml", 9, "entry.forward[0][1]", "nan dBmV", "finite"),
    wrong("entry-level-huge.toml", 9, "entry.forward[0][1]", "1e30 dBmV", "possible"),
    wrong("entry-level-no-volts.toml", 9, "entry.forward[0][1]", "0 mV", "possible"),
    wrong("entry-frequency-negative.toml", 9, "entry.forward[0][0]", "-57 MHz", "frequency"),
    wrong("entry-cnr-level.toml", 10, "entry.cnr", "45 dBmV", "dB"),
    wrong("entry-cnr-falling.toml", 10, "entry.cnr[1][0]", "57 MHz", "rise"),
    wrong("entry-cnr-no-points.toml", 10, "entry.cnr", "", "at least 1"),
    wrong("entry-transmit-number.toml", 10, "entry.transmit", "40", "readings"),
    wrong("entry-spread-negative.toml", 10, "entry.spread", "-1 dB", "not negative"),
    wrong("entry-spread-percent.toml", 10, "entry.spread", "5 %", "dB"),
    wrong("entry-bonded-text.toml", 10, "entry.bonded", "yes", "true or false"),
    wrong("entry-unknown-key.toml", 10, "entry.fowrard", "fowrard", "did you mean `forward`"),
    wrong("climate-upside-down.toml", 23, "climate.outdoor", "45 C", "upside down"),
    wrong("climate-one-value.toml", 23, "climate.indoor", "20 C", "two values"),
    wrong("climate-three-values.toml", 23, "climate.attic", "20 C", "it takes two"),
    wrong("climate-number.toml", 23, "climate.attic[0]", "0", "temperature"),
    wrong("climate-below-absolute-zero.toml", 23, "climate.outdoor[0]", "-300 C", "possible"),
    wrong("climate-kelvin.toml", 23, "climate.outdoor[0]", "250 K", "unit"),
    wrong("climate-unknown-key.toml", 23, "climate.outdoors", "outdoors", "did you mean `outdoor`"),
    wrong("part-id-missing.toml", 11, "part[0].id", "", "this key is missing"),
    wrong("ids-alike-parts.toml", 18, "part[1].id", "run", "differ").and(12),
    wrong("ids-alike-part-and-outlet.toml", 18, "outlet[0].id", "run", "differ").and(12),
    wrong("ids-alike-part-and-supply.toml", 28, "supply[0].id", "booster", "differ").and(23),
    wrong("id-with-a-point.toml", 18, "outlet[0].id", "den.2", "no `.`"),
    wrong("id-entry.toml", 18, "outlet[0].id", "entry", "point of entry"),
    wrong("id-empty.toml", 18, "outlet[0].id", "", "empty"),
    wrong("id-line-break.toml", 18, "outlet[0].id", "den", "control characters"),
    wrong("id-number.toml", 18, "outlet[0].id", "7", "text in quotes"),
    wrong("outlet-id-missing.toml", 17, "outlet[0].id", "", "this key is missing"),
    wrong("after-missing.toml", 17, "outlet[0].after", "", "this key is missing"),
    wrong("after-number.toml", 19, "outlet[0].after", "1", "text in quotes"),
    wrong("after-unknown-part.toml", 19, "outlet[0].after", "rnu", "did you mean `run`"),
    wrong("after-misspelt-entry.toml", 13, "part[0].after", "enrty", "did you mean `entry`"),
    wrong("after-an-outlet.toml", 24, "part[1].after", "den", "outlet"),
    wrong("after-a-supply.toml", 43, "part[2].after", "brick", "supply"),
    wrong("port-of-a-cable.toml", 19, "outlet[0].after", "run.1", "did you mean `run`"),
    wrong("port-without-number.toml", 19, "outlet[0].after", "wing", "wing.1, wing.2"),
    wrong("port-beyond-the-legs.toml", 19, "outlet[0].after", "wing.3", "wing.1, wing.2"),
    wrong("port-nought.toml", 19, "outlet[0].after", "wing.0", "wing.1, wing.2"),
    wrong("port-huge.toml", 19, "outlet[0].after", "wing.99999999999", "wing.1, wing.2"),
    wrong("port-misspelt.toml", 19, "outlet[0].after", "wing.tpa", "did you mean `wing.tap`"),
    wrong("port-no-passive.toml", 19, "outlet[0].after", "booster.passive", "booster.1"),
    wrong("port-used-twice-parts.toml", 24, "part[1].after", "entry", "one port takes one").and(13),
    wrong("port-used-twice-outlets.toml", 24, "outlet[1].after", "run", "one port takes one").and(19),
    wrong("port-used-twice-part-and-outlet.toml", 19, "outlet[0].after", "run", "one port takes one").and(24),
    wrong("port-used-twice-supplies.toml", 43, "supply[1].after", "booster.power", "one port takes one").and(29),
    wrong("outlet-on-a-power-port.toml", 19, "outlet[0].after", "booster.power", "DC only"),
    wrong("splitter-on-a-power-port.toml", 29, "part[2].after", "booster.power", "DC only"),
    wrong("outlet-behind-a-power-port.toml", 35, "outlet[1].after", "feed", "DC only"),
    wrong("loop-of-one.toml", 24, "part[1].after", "ring", "loop").and(24),
    wrong("loop-of-two.toml", 24, "part[1].after", "two", "loop").and(29),
    wrong("loop-of-three.toml", 24, "part[1].after", "three", "loop").and(29),
    wrong("part-no-kind.toml", 11, "part[0]", "run", "no kind"),
    wrong("part-two-kinds.toml", 16, "part[0].splitter", "2-way", "one kind"),
    wrong("part-unknown-key.toml", 16, "part[0].plaec", "plaec", "did you mean `place`"),
    wrong("part-one-table.toml", 11, "part", "", "write `[[part]]`"),
    wrong("spec-unknown.toml", 14, "part[0].cable", "serise-6", "did you mean `series-6`"),
    wrong("spec-of-another-kind.toml", 25, "part[1].splitter", "9-dB", "2-way"),
    wrong("spec-unknown-amplifier.toml", 25, "part[1].amplifier", "hal-amp", "did you mean `hall-amp`"),
    wrong("spec-none-of-the-kind.toml", 14, "part[0].equalizer", "twelve", "no such spec"),
    wrong("spec-number.toml", 14, "part[0].cable", "6", "no such spec"),
    wrong("length-missing.toml", 11, "part[0].length", "", "this key is missing"),
    wrong("length-negative.toml", 15, "part[0].length", "-40 ft", "not negative"),
    wrong("length-negative-inches.toml", 15, "part[0].length", "40 ft -6 in", "not negative"),
    wrong("length-nan.toml", 15, "part[0].length", "nan ft", "finite"),
    wrong("length-infinite.toml", 15, "part[0].length", "inf ft", "finite"),
    wrong("length-1e400.toml", 15, "part[0].length", "1e400 ft", "finite"),
    wrong("length-huge.toml", 15, "part[0].length", "1e12 km", "possible"),
    wrong("length-wrong-unit.toml", 15, "part[0].length", "40 yd", "ft, in, m or km"),
    wrong("length-no-unit.toml", 15, "part[0].length", "40", "unit is missing"),
    wrong("length-comma.toml", 15, "part[0].length", "12,5 m", "point"),
    wrong("length-two-units.toml", 15, "part[0].length", "40 ft 6 m", "more than"),
    wrong("length-no-number.toml", 15, "part[0].length", "forty ft", "number"),
    wrong("length-db.toml", 15, "part[0].length", "40 dB", "ft, in, m or km"),
    wrong("length-feet.toml", 15, "part[0].length", "40 feet", "did you mean `40 ft`"),
    wrong("length-slip.toml", 15, "part[0].length", "40 fr", "did you mean `40 ft`"),
    wrong("length-trailing.toml", 15, "part[0].length", "40 ft or so", "more than"),
    wrong("length-empty.toml", 15, "part[0].length", "", "number"),
    wrong("length-number.toml", 15, "part[0].length", "40", "ft, in, m or km"),
    wrong("length-true.toml", 15, "part[0].length", "true", "length"),
    wrong("length-list.toml", 15, "part[0].length", "[\"40 ft\"]", "list"),
    wrong("length-table.toml", 15, "part[0].length", "{ feet = 40 }", "table"),
    wrong("place-unknown.toml", 16, "part[0].place", "atic", "did you mean `attic`"),
    wrong("place-of-a-splitter.toml", 26, "part[1].place", "attic", "only a cable"),
    wrong("length-of-a-splitter.toml", 26, "part[1].length", "4 ft", "only a cable"),
    wrong("conductor-of-a-cable.toml", 16, "part[0].conductor", "14 AWG", "only a bond"),
    wrong("conductor-square-millimetres.toml", 15, "part[0].conductor", "2.5 mm2", "AWG"),
    wrong("conductor-negative.toml", 15, "part[0].conductor", "-2 AWG", "0 to 50"),
    wrong("conductor-length-negative.toml", 16, "part[0].conductor_length", "-9 ft", "not negative"),
    wrong("pad-negative.toml", 14, "part[0].pad", "-6 dB", "not negative"),
    wrong("pad-number.toml", 14, "part[0].pad", "6", "dB"),
    wrong("pad-level.toml", 14, "part[0].pad", "6 dBmV", "dB"),
    wrong("terminated-used.toml", 26, "part[1].terminated[0]", "1", "used").and(19),
    wrong("terminated-unknown.toml", 26, "part[1].terminated[1]", "3", "wing.1, wing.2"),
    wrong("terminated-twice.toml", 28, "part[1].terminated[1]", "2", "terminator already"),
    wrong("terminated-power-port.toml", 26, "part[1].terminated[0]", "power", "DC only"),
    wrong("terminated-number.toml", 26, "part[1].terminated", "2", "list"),
    wrong("device-missing.toml", 17, "outlet[0].device", "", "this key is missing"),
    wrong("device-unknown.toml", 20, "outlet[0].device", "modme", "did you mean `modem`"),
    wrong("device-other.toml", 20, "outlet[0].device", "refrigerator", "voice-modem"),
    wrong("lifeline-text.toml", 21, "outlet[0].lifeline", "true", "without quotes"),
    wrong("lifeline-number.toml", 21, "outlet[0].lifeline", "1", "true or false"),
    wrong("outlet-unknown-key.toml", 21, "outlet[0].lifline", "lifline", "did you mean `lifeline`"),
    wrong("supply-volts-missing.toml", 27, "supply[0].volts", "", "this key is missing"),
    wrong("supply-amps-missing.toml", 27, "supply[0].amps", "", "this key is missing"),
    wrong("supply-volts-negative.toml", 30, "supply[0].volts", "-15 V", "not negative"),
    wrong("supply-volts-nan.toml", 30, "supply[0].volts", "NaN V", "finite"),
    wrong("supply-volts-in-amps.toml", 30, "supply[0].volts", "15 A", "V or mV"),
    wrong("supply-megavolts.toml", 30, "supply[0].volts", "15 MV", "V or mV"),
    wrong("supply-amps-number.toml", 31, "supply[0].amps", "0.5", "A or mA"),
    wrong("supply-amps-negative.toml", 31, "supply[0].amps", "-500 mA", "not negative"),
    wrong("supply-spread-beyond-all.toml", 32, "supply[0].spread", "150 %", "0 to 100"),
    wrong("supply-spread-negative.toml", 32, "supply[0].spread", "-5 %", "%"),
    wrong("supply-source-negative.toml", 32, "supply[0].source_ohms", "-1 ohm", "not negative"),
    wrong("supply-unknown-key.toml", 32, "supply[0].source_ohm", "source_ohm", "did you mean `source_ohms`"),
    wrong("json-list-for-a-table.json", 7, "service.carriers[0]", "[\"57 MHz\", \"861 MHz\", \"6 MHz\"]", "table"),
    wrong("outlet-a-list.toml", 3, "outlet[0]", "[\"den\", \"run\", \"modem\"]", "table"),
    wrong("spec-unknown-kind.toml", 22, "spec.cabel", "cabel", "did you mean `cable`"),
    wrong("cable-loss-missing.toml", 22, "spec.cable.thin.loss", "", "this key is missing"),
    wrong("cable-per-missing.toml", 22, "spec.cable.thin.per", "", "this key is missing"),
    wrong("cable-loop-missing.toml", 22, "spec.cable.thin.loop", "", "this key is missing"),
    wrong("cable-velocity-missing.toml", 22, "spec.cable.thin.velocity", "", "this key is missing"),
    wrong("cable-per-nought.toml", 24, "spec.cable.thin.per", "0 ft", "above zero"),
    wrong("cable-per-number.toml", 24, "spec.cable.thin.per", "100", "ft, in, m or km"),
    wrong("cable-loop-negative.toml", 25, "spec.cable.thin.loop", "-3.8 ohm", "not negative"),
    wrong("cable-loss-negative.toml", 23, "spec.cable.thin.loss[1][1]", "-6.5 dB", "not negative"),
    wrong("cable-loss-falling.toml", 23, "spec.cable.thin.loss[1][0]", "5 MHz", "rise"),
    wrong("cable-loss-no-points.toml", 23, "spec.cable.thin.loss", "", "at least"),
    wrong("cable-loss-tables.toml", 23, "spec.cable.thin.loss[0]", "", "pair"),
    wrong("cable-velocity-nought.toml", 26, "spec.cable.thin.velocity", "0", "fraction of the speed of light"),
    wrong("cable-velocity-beyond-light.toml", 26, "spec.cable.thin.velocity", "1.5", "fraction of the speed of light"),
    wrong("cable-velocity-text.toml", 26, "spec.cable.thin.velocity", "0.85", "fraction of the speed of light"),
    wrong("cable-velocity-negative.toml", 26, "spec.cable.thin.velocity", "-0.85", "fraction of the speed of light"),
    wrong("cable-velocity-nan.toml", 26, "spec.cable.thin.velocity", "nan", "fraction of the speed of light"),
    wrong("cable-spread-in-db.toml", 27, "spec.cable.thin.spread", "0.5 dB", "%"),
    wrong("cable-band-upside-down.toml", 27, "spec.cable.thin.band", "1002 MHz", "lower edge"),
    wrong("cable-unknown-key.toml", 26, "spec.cable.thin.velocty", "velocty", "did you mean `velocity`"),
    wrong("splitter-no-loss.toml", 22, "spec.splitter.two.loss", "", "this key is missing"),
    wrong("splitter-no-legs.toml", 22, "spec.splitter.two.legs", "", "this key is missing"),
    wrong("splitter-two-losses.toml", 25, "spec.splitter.two.leg_loss", "4 dB", "not both"),
    wrong("splitter-legs-none.toml", 23, "spec.splitter.two.legs", "0", "1 to 16"),
    wrong("splitter-legs-17.toml", 23, "spec.splitter.two.legs", "17", "1 to 16"),
    wrong("splitter-legs-negative.toml", 23, "spec.splitter.two.legs", "-2", "whole number"),
    wrong("splitter-legs-disagree.toml", 24, "spec.splitter.two.leg_loss", "4 dB", "says 3"),
    wrong("splitter-leg-loss-empty.toml", 23, "spec.splitter.two.leg_loss", "[]", "1 to 16"),
    wrong("splitter-leg-loss-negative.toml", 23, "spec.splitter.two.leg_loss[1]", "-4 dB", "not negative"),
    wrong("splitter-dc-pass-beyond.toml", 25, "spec.splitter.two.dc_pass[1]", "3", "1 to 2"),
    wrong("splitter-dc-ohms-missing.toml", 22, "spec.splitter.two.dc_ohms", "", "this key is missing"),
    wrong("splitter-isolation-number.toml", 25, "spec.splitter.two.isolation", "25", "dB"),
    wrong("splitter-unknown-key.toml", 25, "spec.splitter.two.isolatoin", "isolatoin", "did you mean `isolation`"),
    wrong("coupler-tap-missing.toml", 22, "spec.coupler.nine.tap", "", "this key is missing"),
    wrong("coupler-through-missing.toml", 22, "spec.coupler.nine.through", "", "this key is missing"),
    wrong("coupler-dc-pass-misspelt.toml", 25, "spec.coupler.nine.dc_pass[0]", "throuhg", "did you mean `through`"),
    wrong("coupler-unknown-key.toml", 25, "spec.coupler.nine.thru", "thru", "known are"),
    wrong("inserter-loss-missing.toml", 22, "spec.inserter.plain.loss", "", "this key is missing"),
    wrong("inserter-unknown-key.toml", 24, "spec.inserter.plain.dc_ohm", "dc_ohm", "did you mean `dc_ohms`"),
    wrong("filter-reflects-one.toml", 24, "spec.filter.keeper.reflects", "1125 MHz", "two values"),
    wrong("filter-dc-pass-list.toml", 24, "spec.filter.keeper.dc_pass", "[1]", "list"),
    wrong("filter-unknown-key.toml", 24, "spec.filter.keeper.reflect", "reflect", "did you mean `reflects`"),
    wrong("equalizer-dc-pass-text.toml", 24, "spec.equalizer.twelve.dc_pass", "yes", "true or false"),
    wrong("equalizer-unknown-key.toml", 24, "spec.equalizer.twelve.lost", "lost", "did you mean `loss`"),
    wrong("joint-loss-percent.toml", 23, "spec.joint.barrel.loss", "1 %", "dB"),
    wrong("joint-unknown-key.toml", 24, "spec.joint.barrel.sprad", "sprad", "did you mean `spread`"),
    wrong("bond-unknown-key.toml", 24, "spec.bond.block.bnad", "bnad", "did you mean `band`"),
    wrong("spec-not-a-table.toml", 23, "spec.joint.barrel", "0.1 dB", "table"),
    wrong("amplifier-outputs-missing.toml", 33, "spec.amplifier.hall-amp.outputs", "", "this key is missing"),
    wrong("amplifier-gain-missing.toml", 33, "spec.amplifier.hall-amp.gain", "", "this key is missing"),
    wrong("amplifier-noise-figure-missing.toml", 33, "spec.amplifier.hall-amp.noise_figure", "", "this key is missing"),
    wrong("amplifier-draw-missing.toml", 33, "spec.amplifier.hall-amp.draw", "", "this key is missing"),
    wrong("amplifier-runs-on-missing.toml", 33, "spec.amplifier.hall-amp.runs_on", "", "this key is missing"),
    wrong("amplifier-draws-minus.toml", 37, "spec.amplifier.hall-amp.draw", "-2 W", "not negative"),
    wrong("amplifier-draw-volts.toml", 37, "spec.amplifier.hall-amp.draw", "2 V", "W, mW, A or mA"),
    wrong("amplifier-outputs-none.toml", 34, "spec.amplifier.hall-amp.outputs", "0", "1 to 16"),
    wrong("amplifier-outputs-text.toml", 34, "spec.amplifier.hall-amp.outputs", "one", "whole number"),
    wrong("amplifier-gain-level.toml", 35, "spec.amplifier.hall-amp.gain", "10 dBmV", "dB"),
    wrong("amplifier-gain-beyond.toml", 35, "spec.amplifier.hall-amp.gain", "1000 dB", "possible"),
    wrong("amplifier-noise-figure-negative.toml", 36, "spec.amplifier.hall-amp.noise_figure", "-6 dB", "not negative"),
    wrong("amplifier-runs-on-one.toml", 38, "spec.amplifier.hall-amp.runs_on", "15 V", "two values"),
    wrong("amplifier-runs-on-upside-down.toml", 38, "spec.amplifier.hall-amp.runs_on", "20 V", "upside down"),
    wrong("amplifier-dc-port-unknown.toml", 39, "spec.amplifier.hall-amp.dc_ports[1]", "pwoer", "did you mean `power`"),
    wrong("amplifier-dc-port-beyond.toml", 39, "spec.amplifier.hall-amp.dc_ports[1]", "2", "output"),
    wrong("amplifier-split-upside-down.toml", 35, "spec.amplifier.hall-amp.split", "54/42 MHz", "42/54 MHz"),
    wrong("amplifier-max-input-db.toml", 35, "spec.amplifier.hall-amp.max_input_total", "31 dB", "dBmV"),
    wrong("amplifier-unknown-key.toml", 35, "spec.amplifier.hall-amp.return_gian", "return_gian", "did you mean `return_gain`"),
    wrong("limits-unknown-device.toml", 22, "limits.mdoem", "mdoem", "did you mean `modem`"),
    wrong("limits-unknown-key.toml", 23, "limits.modem.totl", "totl", "did you mean `total`"),
    wrong("limits-upside-down.toml", 23, "limits.modem.forward", "-15 dBmV", "upside down"),
    wrong("limits-one-level.toml", 23, "limits.modem.forward", "15 dBmV", "two values"),
    wrong("limits-wrong-unit.toml", 23, "limits.tv.total", "30 dB", "dBmV"),
    wrong("limits-word.toml", 23, "limits.tv.tilt", "off", "dB"),
    wrong("limits-number.toml", 23, "limits.tv.tilt", "16", "dB"),
    wrong("target-unknown-key.toml", 23, "target.modem.forwrad", "forwrad", "did you mean `forward`"),
    wrong("target-cnr-negative.toml", 23, "target.modem.cnr", "-35 dB", "not negative"),
    wrong("network-band-missing.toml", 22, "home_network.band", "", "this key is missing"),
    wrong("network-members-missing.toml", 22, "home_network.members", "", "this key is missing"),
    wrong("network-band-upside-down.toml", 23, "home_network.band", "1675 MHz", "lower edge"),
    wrong("network-member-unknown.toml", 24, "home_network.members[1]", "dne", "did you mean `den`"),
    wrong("network-member-a-part.toml", 24, "home_network.members[0]", "run", "no outlet"),
    wrong("network-member-twice.toml", 24, "home_network.members[1]", "den", "already"),
    wrong("network-max-loss-number.toml", 25, "home_network.max_loss", "50", "dB"),
    wrong("network-members-text.toml", 24, "home_network.members", "den", "list"),
    wrong("network-unknown-key.toml", 26, "home_network.memebrs", "memebrs", "did you mean `members`"),
];

/// Longer than this nobody waits for the program; unoptimised, it may take its time.
const PATIENCE: Duration = Duration::from_secs(if cfg!(debug_assertions) { 20 } else { 2 });

fn folder() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("data/refused")
}

/// Reads and checks some bytes as a file of that name, which has to fail in time.
fn refuse(checker: &mut Checker, name: &str, bytes: &[u8]) -> Result<Box<Refusal>, String> {
    let start = Instant::now();
    let refusal = match Source::new(name, bytes) {
        Err(refusal) => refusal,
        Ok(source) => match checker.check(&source, None) {
            Err(refusal) => refusal,
            Ok(checked) => return Err(format!("{name} is taken for a home: {}", checked.json())),
        },
    };
    let message = refusal.render(false);
    if start.elapsed().as_millis() > 300 {
        eprintln!("{name} {:?}", start.elapsed());
    }
    assert!(start.elapsed() < PATIENCE, "{name} takes {:?}", start.elapsed());
    assert!(message.contains(name), "{name} is not named in:\n{message}");
    // What a terminal would obey is shown instead.
    assert!(!message.contains(|letter: char| letter.is_control() && letter != '\n'), "{message:?}");
    Ok(refusal)
}

#[test]
fn each_file_is_refused_with_its_line_field_and_value() {
    let checker = &mut Checker::new();
    let mut missing = Vec::new();
    for wrong in FILES {
        let bytes = fs::read(folder().join(wrong.file)).expect(wrong.file);
        let refusal = match refuse(checker, wrong.file, &bytes) {
            Ok(refusal) => refusal,
            Err(taken) => {
                missing.push(taken);
                continue;
            }
        };
        let message = refusal.render(false);
        let place = format!("{}:{}:", wrong.file, wrong.line);
        let found: Vec<_> =
            refusal.problems().iter().map(|placed| (placed.line, placed.problem.path.to_string())).collect();
        // One mistake gives one problem.
        if found != [(wrong.line, wrong.field.to_owned())] {
            missing.push(format!("{place} {} expected, not {found:?}\n{message}", wrong.field));
        }
        let second = wrong.second.map(|line| format!("line {line}"));
        for part in [&place, wrong.field, wrong.value, wrong.says, second.as_deref().unwrap_or("")] {
            if !message.contains(part) {
                missing.push(format!("no `{part}` in:\n{message}"));
            }
        }
    }
    assert!(missing.is_empty(), "{} missing:\n{}", missing.len(), missing.join("\n"));
}

#[test]
fn messages_stay_as_they_were_read_and_found_good() {
    let mut checker = Checker::new();
    let message = |wrong: &Wrong| {
        let bytes = fs::read(folder().join(wrong.file)).expect(wrong.file);
        refuse(&mut checker, wrong.file, &bytes).map_or_else(|taken| taken, |refusal| refusal.render(false))
    };
    let messages: String = FILES.iter().map(message).collect::<Vec<String>>().join("\n");
    let golden = folder().join("messages.txt");
    if std::env::var_os("LEGWORK_BLESS").is_some() {
        fs::write(&golden, &messages).expect("a place for the messages");
    }
    let known = fs::read_to_string(&golden).unwrap_or_default();
    for (known, message) in known.lines().zip(messages.lines()) {
        assert_eq!(known, message);
    }
    assert_eq!(known.lines().count(), messages.lines().count());
}

/// The program's own mistakes aside, these would take the machine down or a technician's patience.
fn hostile() -> Vec<(&'static str, String, &'static str)> {
    let head = "format = 1\n[service]\nsplit = \"42/54 MHz\"\n\
         carriers = [{ first = \"57 MHz\", last = \"861 MHz\", step = \"6 MHz\" }]\n\
         [entry]\nforward = [[\"57 MHz\", \"12 dBmV\"], [\"861 MHz\", \"7 dBmV\"]]\n";
    let joint = |id: usize, after: &str| format!("[[part]]\nid = \"j{id}\"\nafter = \"{after}\"\njoint = \"joint\"\n");
    let chain = |length: usize| -> String {
        let parts = (0..length).map(|id| joint(id, &if id == 0 { "entry".to_owned() } else { format!("j{}", id - 1) }));
        head.to_owned() + &parts.collect::<String>()
    };
    let one_line = |text: String| {
        format!(
            "{{\"format\": 1, \"name\": \"{}\", \"part\": [{{\"id\": \"a\", \"after\": {text}}}]}}",
            "x".repeat(5000)
        )
    };
    vec![
        ("empty.toml", String::new(), "format: this key is missing"),
        ("empty.json", String::new(), "the text ends"),
        ("blank.toml", "\n \n".repeat(1000), "format: this key is missing"),
        ("only-nul.toml", "\0".repeat(1000), "not TOML"),
        ("only-nul.json", "\0".repeat(1000), "not JSON"),
        ("chain-of-1025.toml", chain(1025), "at most 1024 parts"),
        ("chain-of-5000.toml", chain(5000), "at most 1024 parts"),
        (
            "parts-10000.toml",
            head.to_owned() + &(0..10_000).map(|id| joint(id, "entry")).collect::<String>(),
            "at most 1024 parts",
        ),
        (
            "parts-20001.toml",
            head.to_owned() + &(0..20_001).map(|id| joint(id, "entry")).collect::<String>(),
            "at most",
        ),
        (
            "all-on-one-port.toml",
            head.to_owned() + &(0..1000).map(|id| joint(id, "entry")).collect::<String>(),
            "one port takes one",
        ),
        (
            "one-id-for-all.toml",
            head.to_owned() + &(0..1000).map(|_| joint(0, "entry")).collect::<String>(),
            "ids have to differ",
        ),
        (
            "ring-of-1000.toml",
            head.to_owned() + &(0..1000).map(|id| joint(id, &format!("j{}", (id + 1) % 1000))).collect::<String>(),
            "loop",
        ),
        (
            "outlets-5000.toml",
            head.to_owned()
                + &(0..5000)
                    .map(|id| format!("[[outlet]]\nid = \"o{id}\"\nafter = \"entry\"\ndevice = \"tv\"\n"))
                    .collect::<String>(),
            "",
        ),
        (
            "supplies-5000.toml",
            head.to_owned()
                + &(0..5000)
                    .map(|id| {
                        format!("[[supply]]\nid = \"s{id}\"\nafter = \"entry\"\nvolts = \"15 V\"\namps = \"1 A\"\n")
                    })
                    .collect::<String>(),
            "one port takes one",
        ),
        (
            "blocks-20000.toml",
            format!(
                "format = 1\n[service]\nsplit = \"42/54 MHz\"\ncarriers = [\n{}]\n",
                "  { first = \"57 MHz\", last = \"63 MHz\", step = \"6 MHz\" },\n".repeat(20_000)
            ),
            "overlap",
        ),
        (
            "points-50000.toml",
            format!("format = 1\n[entry]\nforward = [\n{}]\n", "  [\"57 MHz\", \"0 dBmV\"],\n".repeat(50_000)),
            "at most",
        ),
        (
            "unknown-keys-20000.toml",
            head.to_owned() + "[climate]\n" + &(0..20_000).map(|key| format!("k{key} = 1\n")).collect::<String>(),
            "unknown",
        ),
        (
            "specs-1025.toml",
            head.to_owned()
                + &(0..1025).map(|name| format!("[spec.joint.n{name}]\nloss = \"1 dB\"\n")).collect::<String>(),
            "at most",
        ),
        ("deep-list.json", "[".repeat(200_000), "too deep"),
        ("deep-list.toml", format!("format = {}1{}", "[".repeat(50_000), "]".repeat(50_000)), ""),
        ("deep-table.json", "{\"a\":".repeat(100_000), "too deep"),
        ("deep-table.toml", format!("a = {}", "{ a = ".repeat(50_000)), ""),
        ("deep-dotted-key.toml", format!("{}b = 1", "a.".repeat(50_000)), ""),
        ("deep-header.toml", format!("[{}b]\n", "a.".repeat(50_000)), ""),
        ("deep-spec.json", format!("{{\"spec\": {}1{}", "{\"joint\":".repeat(60), "}".repeat(61)), "too deep"),
        ("many-values.json", format!("[{}1]", "1,".repeat(1_000_000)), "more values"),
        ("long-id.toml", head.to_owned() + &joint(0, &"x".repeat(1_000_000)), "no part of that id"),
        ("long-number.toml", format!("format = {}\n", "9".repeat(1_000_000)), "format 1"),
        ("long-number.json", format!("{{\"format\": {}}}", "9".repeat(1_000_000)), "format 1"),
        ("long-exponent.json", format!("{{\"format\": 1e{}}}", "9".repeat(100_000)), "format 1"),
        (
            "long-quantity.toml",
            head.replace("42/54 MHz", &format!("{}/54 MHz", "4".repeat(1_000_000))),
            "service.split",
        ),
        ("long-key.toml", format!("format = 1\n{} = 1\n", "k".repeat(1_000_000)), "unknown"),
        ("long-line.json", one_line("\"entyr\"".to_owned()), "did you mean `entry`"),
        ("long-line-of-wide.json", one_line(format!("\"{}\"", "線".repeat(5000))), "no part of that id"),
        (
            "long-line-of-a-megabyte.json",
            format!("{{\"format\": {}1, \"nmae\": 1}}", " ".repeat(1 << 20)),
            "did you mean `name`",
        ),
        ("text-of-9-mb.toml", " ".repeat(9 << 20), "at most 2097152 bytes"),
        ("escapes.json", format!("{{\"format\": \"{}\"}}", "\\u0000".repeat(100_000)), "format 1"),
        ("half-a-surrogate.json", "{\"format\": \"\\ud800\"}".to_owned(), "not JSON"),
        ("tabs.toml", format!("format = 1\n{}nmae = \"x\"\n", "\t".repeat(3000)), "did you mean `name`"),
    ]
}

#[test]
fn hostile_texts_are_refused_in_time_and_in_few_words() {
    let checker = &mut Checker::new();
    let mut wrong = Vec::new();
    for (name, text, says) in hostile() {
        match refuse(checker, name, text.as_bytes()) {
            Err(taken) => wrong.push(taken),
            Ok(refusal) => {
                let message = refusal.render(false);
                if !message.contains(says) {
                    wrong.push(format!("no `{says}` in:\n{}", message.chars().take(2000).collect::<String>()));
                }
                let longest = message.lines().map(|line| line.chars().count()).max().unwrap_or(0);
                if message.len() > 20_000 || longest > 400 {
                    wrong.push(format!("{name}: a message of {} bytes, lines of {longest}", message.len()));
                }
            }
        }
    }
    assert!(wrong.is_empty(), "{} wrong:\n{}", wrong.len(), wrong.join("\n"));
}

/// The lines of a file that a comment says to be wrong, `# 1: ...`, with the number.
fn told(text: &str) -> Vec<(usize, usize)> {
    let numbered = text.lines().enumerate().filter_map(|(index, line)| {
        let (_, comment) = line.split_once("# ")?;
        Some((comment.split_once(':')?.0.parse().ok()?, index + 1))
    });
    numbered.collect()
}

#[test]
fn ten_independent_mistakes_are_all_told_at_once() {
    let checker = &mut Checker::new();
    let bytes = fs::read(folder().join("several/ten.toml")).expect("ten mistakes");
    let refusal = refuse(checker, "ten.toml", &bytes).expect("a refusal");
    let lines: Vec<usize> = refusal.problems().iter().map(|placed| placed.line).collect();
    let told: Vec<usize> = told(&String::from_utf8_lossy(&bytes)).into_iter().map(|(_, line)| line).collect();
    assert_eq!(lines, told, "{}", refusal.render(false));
    assert_eq!(told.len(), 10);
}

#[test]
fn of_twelve_mistakes_ten_are_told_in_the_order_of_the_file() {
    let checker = &mut Checker::new();
    let bytes = fs::read(folder().join("several/twelve.toml")).expect("twelve mistakes");
    let refusal = refuse(checker, "twelve.toml", &bytes).expect("a refusal");
    let lines: Vec<usize> = refusal.problems().iter().map(|placed| placed.line).collect();
    let told: Vec<usize> = told(&String::from_utf8_lossy(&bytes)).into_iter().map(|(_, line)| line).collect();
    assert_eq!(told.len(), 12);
    assert_eq!(lines.len(), 10);
    assert!(lines.is_sorted() && lines.iter().all(|line| told.contains(line)), "{}", refusal.render(false));
}
