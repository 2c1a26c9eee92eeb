//! What readings say of a home in sentences: what is wrong, where, what that usually is, and where to read next.

use legwork::{ExtraLoss, Frequency, Occupant, Part, PartId, Shape, Suspect};

use super::number::rounded;
use crate::locate::Located;
use crate::words::list;

/// A suspect of less weight than this is not named.
const WORTH_A_WORD: f32 = 0.1;
/// How many times the error of a reading may be left before one fault is too few to explain it.
const TOO_MUCH: f32 = 2.0;

impl Located<'_> {
    /// Where it got better, after a comparison the other way round: what was wrong then, and is not now.
    #[must_use]
    pub fn says_better(&self) -> String {
        let Some(suspect) = self.diagnosis.stands_out() else { return String::new() };
        let place = self.place_of(&suspect);
        let Some((low, high)) = suspect.band() else { return format!("Better than before {place}.") };
        let at = |frequency: Frequency| {
            format!("{} dB at {} MHz", rounded(suspect.excess.at(frequency).db(), 1), frequency.mhz())
        };
        let much = if low < high { format!("{} and {}", at(low), at(high)) } else { at(low) };
        format!("Better than before {place}: about {much} less loss.")
    }

    /// What is wrong, in a sentence or two that a technician can act on.
    #[must_use]
    pub fn says(&self) -> String {
        let (left, error) = (self.diagnosis.unexplained(), self.diagnosis.error().db());
        let mut says = match self.diagnosis.stands_out() {
            Some(suspect) => format!("{} {}.", self.accusation(&suspect), cause(self.shape(&suspect))),
            None => match self.diagnosis.suspects().find(|suspect| suspect.excess != ExtraLoss::NONE) {
                Some(suspect) if suspect.weight >= WORTH_A_WORD => format!(
                    "Nothing stands out: too much loss {} has a weight of {} %, nothing wrong one of {} %.",
                    self.place_of(&suspect),
                    percent(suspect.weight),
                    percent(self.diagnosis.nothing_wrong().weight)
                ),
                _ => "Nothing stands out: what was read agrees with what was to be expected.".to_owned(),
            },
        };
        if left > TOO_MUCH * error {
            says += &format!(
                " But {} dB stay unexplained where a reading errs by {}: there may be more than one fault, or the home is not wired as its file says.",
                rounded(left, 1),
                rounded(error, 1)
            );
        }
        says
    }

    /// Where a suspect is: in the cable `den run`, between the splitter `hall` and den.
    #[must_use]
    pub fn place_of(&self, suspect: &Suspect<'_>) -> String {
        let mut parts = suspect.parts();
        let Some(first) = parts.next() else { return "nowhere".to_owned() };
        let Some(last) = parts.last() else { return format!("in {}", self.part(first)) };
        if suspect.band().is_none() {
            return "where nothing was read".to_owned();
        }
        let tree = self.home.tree();
        let before = tree.after(first).and_then(|port| tree.owner(port));
        let before = before.map_or_else(|| "the entry".to_owned(), |(part, _)| self.part(part));
        format!("between {before} and {}", self.end(last))
    }

    /// What a suspect is made of, and what it loses too much.
    fn accusation(&self, suspect: &Suspect<'_>) -> String {
        let place = self.place_of(suspect);
        let at = |frequency: Frequency| {
            format!("{} dB at {} MHz", rounded(suspect.excess.at(frequency).db(), 1), frequency.mhz())
        };
        let Some((low, high)) = suspect.band() else { return format!("Too much loss {place}.") };
        let much = match self.shape(suspect) {
            Shape::Flat => format!(
                "About {} dB too much loss at every frequency {place}",
                rounded(suspect.excess.mean(low, high).db(), 1)
            ),
            Shape::None | Shape::Unknown => format!(
                "About {} dB too much loss at {} MHz {place}",
                rounded(suspect.excess.at(low).db(), 1),
                low.mhz()
            ),
            _ => format!("Too much loss {place}: about {} and {}", at(low), at(high)),
        };
        format!("{much}. Look at {}.", self.parts_of(suspect))
    }

    /// The parts to look at, with their connectors.
    fn parts_of(&self, suspect: &Suspect<'_>) -> String {
        let parts: Vec<String> = suspect.parts().map(|part| self.part(part)).collect();
        match parts.as_slice() {
            [] => String::new(),
            [one] => format!("{one} and its connectors"),
            several => format!("{}, and the connectors between them", list(several)),
        }
    }

    fn shape(&self, suspect: &Suspect<'_>) -> Shape {
        suspect.band().map_or(Shape::Unknown, |(low, high)| suspect.excess.shape(low, high))
    }

    /// A part with the word for its kind: the cable `den run`.
    fn part(&self, part: PartId) -> String {
        let kind = self.home.tree().part(part).map_or("part", Part::name);
        format!("the {kind} `{}`", self.home.part(part))
    }

    /// What a chain of parts leads to: the outlet at its end, or its last part.
    fn end(&self, last: PartId) -> String {
        let tree = self.home.tree();
        let way = tree.ways_out(last).next();
        let alone = tree.part(last).is_some_and(|part| part.ways() == 1);
        match way.filter(|_| alone).and_then(|port| tree.occupant(port)) {
            Some(Occupant::Outlet(outlet)) => self.home.outlet(outlet).to_owned(),
            Some(Occupant::Part(part)) => self.part(part),
            _ => self.part(last),
        }
    }

    /// Where to read next, in a sentence; empty where that would tell little.
    #[must_use]
    pub fn says_next(&self) -> String {
        let Some(next) = self.diagnosis.next_reading() else { return String::new() };
        let tree = self.home.tree();
        let port = self.home.port(next.port);
        let place = match tree.occupant(next.port) {
            Some(Occupant::Outlet(outlet)) => self.home.outlet(outlet).to_owned(),
            Some(Occupant::Part(part)) => format!("{port}, before {}", self.part(part)),
            _ => port,
        };
        format!("Read next at {place}, at {} MHz.", next.frequency.mhz())
    }
}

/// What a shape usually comes from.
const fn cause(shape: Shape) -> &'static str {
    match shape {
        Shape::Flat => "Alike at every frequency: usually a bad connector, an extra splitter or the wrong port",
        Shape::Rising => "More with frequency: usually a wet, kinked or too thin a cable",
        Shape::Falling => "Worst at low frequency: usually an open or corroded centre contact",
        Shape::Both => "Worst at both ends: usually a bad contact and a wet cable together",
        Shape::None | Shape::Unknown => "Read a second frequency there: its shape tells a connector from a cable",
    }
}

/// A share as whole percent.
fn percent(weight: f32) -> String {
    rounded(100.0 * weight, 0)
}
