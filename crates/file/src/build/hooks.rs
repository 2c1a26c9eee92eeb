//! Where things hang, by their `after`, and in which order parts can be placed.

use legwork::Way;

use super::context::Context;
use super::ids::{Ids, Member};
use crate::problem::{Problem, route};
use crate::raw::{self, Scalar};

/// Where something hangs: on the entry, or on a way out of a part of the file.
#[derive(Clone, Copy, Debug)]
pub(super) struct Hook {
    /// The part, by its place in the file; [`None`] for the entry.
    pub(super) part: Option<usize>,
    /// The way out; [`None`] where `after` names the part alone.
    pub(super) way: Option<Way>,
}

/// What is wrong with an `after`.
pub(super) enum Unhooked {
    /// It has been noted.
    Noted,
    /// The part is there, but has no way out of that name; what it has is for others to say.
    NoSuchWay(usize),
}

/// Where a member hangs.
pub(super) fn hook(
    context: &mut Context<'_>,
    ids: &Ids<'_>,
    member: Member,
    after: Option<&Scalar<'_>>,
) -> Result<Hook, Unhooked> {
    let Some(after) = after else {
        context.missing(member.path(), "after", "the port it hangs on: `entry`, a part's id, or id.port");
        return Err(Unhooked::Noted);
    };
    let at = || member.path().with("after");
    let Some(text) = after.text() else {
        context.note(Problem::new(at(), after.to_string(), "a port is a text in quotes"));
        return Err(Unhooked::Noted);
    };
    if text == "entry" {
        return Ok(Hook { part: None, way: None });
    }
    // The whole text first: an id with a dot in it is unusable, but there.
    let (found, id, way) = match split(text) {
        Some((id, way)) => match ids.find(text) {
            None => (ids.find(id), id, Some(way)),
            whole => (whole, text, None),
        },
        None => (ids.find(text), text, None),
    };
    let says = match found {
        Some(Member::Part(part)) => {
            return match way.map(read_way) {
                Some(None) => Err(Unhooked::NoSuchWay(part)),
                way => Ok(Hook { part: Some(part), way: way.flatten() }),
            };
        }
        Some(Member::Outlet(_)) => "nothing can hang on an outlet; put it after a part's port",
        Some(Member::Supply(_)) => "nothing can hang on a supply; the supply itself stands after a port",
        None => {
            let near = ids.near(id).map(|near| way.map_or_else(|| near.to_owned(), |way| format!("{near}.{way}")));
            context.note(Problem::new(at(), text, "there is no part of that id").following().suggest(near));
            return Err(Unhooked::Noted);
        }
    };
    context.note(Problem::new(at(), text, says));
    Err(Unhooked::Noted)
}

/// A way out by its name in a file.
pub(super) fn read_way(text: &str) -> Option<Way> {
    Some(match text {
        "through" => Way::Through,
        "tap" => Way::Tap,
        "passive" => Way::Passive,
        "power" => Way::Power,
        "rf" => Way::Rf,
        "dc" => Way::Dc,
        // Digits alone: `+1` and `01` are no ports.
        number if !number.starts_with(['0', '+']) => Way::Output(number.parse().ok()?),
        _ => return None,
    })
}

/// The parts in an order in which each comes after the one it hangs on; those of a loop are left
/// out and noted. The way up is walked, not recursed: a chain may be a thousand parts long.
pub(super) fn order(context: &mut Context<'_>, raw: &[raw::Part<'_>], hooks: &[Result<Hook, Unhooked>]) -> Vec<usize> {
    #[derive(Clone, Copy, PartialEq)]
    enum State {
        New,
        OnTheWay,
        Done,
    }
    let parent = |index: usize| hooks.get(index)?.as_ref().ok()?.part;
    let mut states = vec![State::New; hooks.len()];
    let mut order = Vec::with_capacity(hooks.len());
    let mut way = Vec::new();
    for start in 0..hooks.len() {
        let mut at = start;
        // Up to the entry, to what is already in order, or back to where the way has been.
        while let Some(state) = states.get_mut(at).filter(|state| **state == State::New) {
            *state = State::OnTheWay;
            way.push(at);
            match parent(at) {
                Some(parent) => at = parent,
                None => break,
            }
        }
        let looped = states.get(at) == Some(&State::OnTheWay) && parent(at).is_some();
        if looped {
            let last = way.last().copied().unwrap_or(at);
            let after = raw.get(at).and_then(|part| part.after.as_ref()).map(ToString::to_string).unwrap_or_default();
            let says = "these parts hang on each other in a loop; one of them has to lead to `entry`";
            let problem = Problem::new(route!["part", at, "after"], after, says)
                .second(route!["part", last, "after"], "the loop closes here");
            context.note(problem);
        }
        for index in way.drain(..).rev() {
            if let Some(state) = states.get_mut(index) {
                *state = State::Done;
            }
            if !looped {
                order.push(index);
            }
        }
    }
    order
}

/// A port's text before and after its first dot.
fn split(text: &str) -> Option<(&str, &str)> {
    // These texts are too short for the standard library's search to pay.
    let dot = text.bytes().position(|byte| byte == b'.')?;
    Some((text.get(..dot)?, text.get(dot + 1..)?))
}
