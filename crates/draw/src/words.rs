//! What things are called, and figures as text.

use legwork::{Device, Frequency, Part, PartId, Place, PortId, Verdict};
use legwork_file::{Home, tenths};

/// A text of a file as it may stand in XML: what neither paper nor XML can hold is shown as missing.
pub(crate) fn clean(text: &str) -> String {
    let odd = |letter: char| letter.is_control() || matches!(letter, '\u{fffe}' | '\u{ffff}');
    text.chars().map(|letter| if odd(letter) { '\u{fffd}' } else { letter }).collect()
}

/// A level in the file's own unit, with one decimal.
pub(crate) fn level(home: &Home<'_>, dbmv: f32) -> String {
    tenths(home.level(dbmv).0)
}

/// Kind and spec of a part, said once where both are the same word.
pub(crate) fn what(home: &Home<'_>, part: PartId) -> String {
    let kind = home.tree().part(part).map_or("", Part::name);
    let spec = clean(home.spec(part));
    if spec == kind || spec.is_empty() { kind.to_owned() } else { format!("{kind} {spec}") }
}

/// Kind, spec, length and place of a part, as far as it has them.
pub(crate) fn details(home: &Home<'_>, part: PartId) -> Vec<String> {
    let mut words = vec![what(home, part)];
    match home.tree().part(part) {
        Some(Part::Cable { length, place, .. }) => {
            words.push(home.length(*length));
            words.extend(match place {
                Place::Indoor => None,
                Place::Outdoor => Some("outdoor".to_owned()),
                Place::Attic => Some("attic".to_owned()),
            });
        }
        Some(Part::Bond(_, conductor)) => {
            words.extend(conductor.length.map(|length| home.length(length)));
            words.extend(conductor.size.map(|size| format!("{} AWG", size.number())));
        }
        _ => {}
    }
    words
}

/// What stands at an outlet, in words for people.
pub(crate) const fn device(device: Device) -> &'static str {
    match device {
        Device::Modem => "modem",
        Device::VoiceModem => "voice modem",
        Device::SetTop => "set-top",
        Device::Tv => "TV",
        Device::Unused => "unused jack",
    }
}

/// A verdict as a word that stands out.
pub(crate) const fn verdict(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::Pass => "PASS",
        Verdict::Marginal => "MARGINAL",
        Verdict::Fail => "FAIL",
    }
}

/// What a home is called.
pub(crate) fn name(home: &Home<'_>) -> String {
    if home.name().is_empty() { "Home".to_owned() } else { clean(home.name()) }
}

/// The first and last carrier, and the first and last transmit frequency, each once.
pub(crate) struct Columns {
    pub(crate) forward: Vec<Frequency>,
    pub(crate) transmit: Vec<Frequency>,
}

impl Columns {
    pub(crate) fn of(home: &Home<'_>) -> Self {
        let tree = home.tree();
        let sent = tree.entry.transmit.map(|points| points.ends());
        Self {
            forward: ends(tree.service.first_carrier(), tree.service.last_carrier()),
            transmit: sent.map_or_else(Vec::new, |(low, high)| ends(low, high)),
        }
    }

    /// The levels at a port as text, forward first; a dash where there is none.
    pub(crate) fn levels(&self, home: &Home<'_>, port: PortId) -> Vec<String> {
        let tree = home.tree();
        let forward = self.forward.iter().map(|mhz| {
            tree.levels_at(port, *mhz).map_or_else(|_| "\u{2013}".to_owned(), |figure| level(home, figure.nominal))
        });
        let transmit = self.transmit.iter().map(|mhz| match tree.transmits_at(port, *mhz) {
            Ok(Some(figure)) => level(home, figure.nominal),
            _ => "\u{2013}".to_owned(),
        });
        forward.chain(transmit).collect()
    }
}

fn ends(low: f32, high: f32) -> Vec<Frequency> {
    let both = if low < high { vec![low, high] } else { vec![low] };
    both.into_iter().filter_map(|mhz| Frequency::new(mhz).ok()).collect()
}
