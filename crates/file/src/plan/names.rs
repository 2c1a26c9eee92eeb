//! Names for the parts of a plan.

use legwork::plan::Origin;
use legwork::{Part, Tree};

use crate::build::Asked;
use crate::home::Names;

/// Names every part after what it is, and every supply; none is like another, or like an outlet.
pub(super) fn names<'n>(asked: &Asked<'n>, origins: &[Origin], supplies: usize, tree: &Tree<'_, 'n>) -> Names<'n> {
    let mut taken: Vec<&'n str> = asked.outlets.clone();
    let mut fresh = |wish: String| -> &'n str {
        let mut name = wish.clone();
        for number in 2.. {
            if name != "entry" && !taken.contains(&name.as_str()) {
                break;
            }
            name = format!("{wish} {number}");
        }
        let name: &'n str = asked.arena.alloc_str(&name);
        taken.push(name);
        name
    };
    let parts = origins.iter().enumerate().map(|(index, origin)| match origin {
        Origin::LeadIn => fresh("lead-in".to_owned()),
        Origin::Run(outlet) => fresh(format!("{} run", asked.outlets.get(*outlet).copied().unwrap_or("the"))),
        Origin::Stock(_) => {
            let part = tree.parts().nth(index).map(|(_, part)| part);
            fresh(part.map_or("part", word).to_owned())
        }
    });
    let parts = parts.collect();
    let supplies = (0..supplies).map(|_| fresh("supply".to_owned())).collect();
    Names { parts, outlets: asked.outlets.clone(), supplies, ..Names::default() }
}

/// What a part is called in the trade.
pub(crate) const fn word(part: &Part<'_>) -> &'static str {
    match part {
        Part::Cable { .. } => "cable",
        Part::Splitter(_) => "splitter",
        Part::Coupler(_) => "coupler",
        Part::Pad(_) => "pad",
        Part::Equalizer(_) => "equalizer",
        Part::Filter(_) => "filter",
        Part::Amplifier(_) => "amplifier",
        Part::Inserter(_) => "inserter",
        Part::Bond(..) => "bond",
        Part::Joint(_) => "joint",
    }
}
