//! Names for the parts of a plan.

use bumpalo::Bump;
use legwork::plan::Origin;
use legwork::{Part, Tree};

use crate::build::Asked;
use crate::home::Names;

/// Names every part after what it is, and every supply; none is like another, or like an outlet.
pub(super) fn names<'n>(asked: &Asked<'n>, origins: &[Origin], supplies: usize, tree: &Tree<'_, 'n>) -> Names<'n> {
    let mut taken: Vec<&'n str> = asked.outlets.clone();
    let mut add = |wish: &str| {
        let name = fresh(wish, |name| taken.contains(&name), asked.arena);
        taken.push(name);
        name
    };
    let parts = origins.iter().zip(tree.parts()).map(|(origin, (_, part))| match origin {
        Origin::LeadIn => add("lead-in"),
        Origin::Run(outlet) => add(&format!("{} run", asked.outlets.get(*outlet).copied().unwrap_or("the"))),
        Origin::Stock(_) => add(Part::name(part)),
    });
    let parts = parts.collect();
    let supplies = (0..supplies).map(|_| add("supply")).collect();
    Names { parts, outlets: asked.outlets.clone(), supplies, ..Names::default() }
}

/// A name that is not taken: the wish, or with a number behind it.
pub(super) fn fresh<'n>(wish: &str, is_taken: impl Fn(&str) -> bool, arena: &'n Bump) -> &'n str {
    let mut name = wish.to_owned();
    for number in 2.. {
        if name != "entry" && !is_taken(&name) {
            break;
        }
        name = format!("{wish} {number}");
    }
    arena.alloc_str(&name)
}
