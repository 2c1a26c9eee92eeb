//! The ids of a file: unique over parts, outlets and supplies.

use std::collections::hash_map::Entry;

use rustc_hash::{FxBuildHasher, FxHashMap};

use super::context::Context;
use crate::problem::{Path, Problem, nearest, route};
use crate::raw::{self, Scalar};

/// A member of a file that has an id: what it is and which of them.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Member {
    Part(usize),
    Outlet(usize),
    Supply(usize),
}

impl Member {
    /// Where it stands.
    pub(super) fn path(self) -> Path {
        match self {
            Self::Part(index) => route!["part", index],
            Self::Outlet(index) => route!["outlet", index],
            Self::Supply(index) => route!["supply", index],
        }
    }
}

/// Every id of a file.
pub(super) struct Ids<'b> {
    members: FxHashMap<&'b str, Member>,
    /// The ids of the parts, in the order of the file; empty where there is none.
    pub(super) parts: Vec<&'b str>,
    /// Those of the outlets.
    pub(super) outlets: Vec<&'b str>,
    /// Those of the supplies.
    pub(super) supplies: Vec<&'b str>,
}

impl<'b> Ids<'b> {
    /// Gathers the ids, and notes those that are missing, doubled or unusable.
    pub(super) fn read(context: &mut Context<'b>, raw: &raw::Premises<'_>) -> Self {
        let count = raw.part.len() + raw.outlet.len() + raw.supply.len();
        let mut ids = Self {
            members: FxHashMap::with_capacity_and_hasher(count, FxBuildHasher),
            parts: Vec::with_capacity(raw.part.len()),
            outlets: Vec::with_capacity(raw.outlet.len()),
            supplies: Vec::with_capacity(raw.supply.len()),
        };
        for (index, part) in raw.part.iter().enumerate() {
            let id = ids.note(context, Member::Part(index), part.id.as_ref());
            ids.parts.push(id);
        }
        for (index, outlet) in raw.outlet.iter().enumerate() {
            let id = ids.note(context, Member::Outlet(index), outlet.id.as_ref());
            ids.outlets.push(id);
        }
        for (index, supply) in raw.supply.iter().enumerate() {
            let id = ids.note(context, Member::Supply(index), supply.id.as_ref());
            ids.supplies.push(id);
        }
        ids
    }

    fn note(&mut self, context: &mut Context<'b>, member: Member, id: Option<&Scalar<'_>>) -> &'b str {
        let Some(id) = id else {
            context.missing(member.path(), "id", "a name of your choice");
            return "";
        };
        let text = context.keep(id);
        let wrong = if is_plain(text) && text != "entry" && id.text().is_some() { None } else { wrong(id, text) };
        if let Some(says) = wrong {
            context.note(Problem::new(member.path().with("id"), text, says));
        }
        // An unusable id counts all the same: whoever refers to it is not wrong.
        match self.members.entry(text) {
            Entry::Vacant(free) => {
                free.insert(member);
            }
            Entry::Occupied(first) if wrong.is_none() => {
                let says = "ids have to differ, over parts, outlets and supplies alike";
                let first = first.get().path().with("id");
                let problem = Problem::new(member.path().with("id"), text, says).second(first, "it stands here first");
                context.note(problem);
            }
            Entry::Occupied(_) => {}
        }
        text
    }

    /// Who has an id.
    pub(super) fn find(&self, id: &str) -> Option<Member> {
        self.members.get(id).copied()
    }

    /// The id that was probably meant, of those that something can hang on.
    pub(super) fn near(&self, id: &str) -> Option<&'b str> {
        nearest(id, self.parts.iter().copied().chain(["entry"]))
    }

    /// The outlet that was probably meant.
    pub(super) fn near_outlet(&self, id: &str) -> Option<&'b str> {
        nearest(id, self.outlets.iter().copied())
    }
}

/// Whether an id is made of the letters that nothing speaks against: the quick answer for most.
fn is_plain(id: &str) -> bool {
    let odd = |odd, byte: u8| odd | (byte == b'.') | !(b' '..0x7f).contains(&byte);
    !id.starts_with(' ') && !id.is_empty() && !id.bytes().fold(false, odd)
}

/// What speaks against an id.
fn wrong(id: &Scalar<'_>, text: &str) -> Option<&'static str> {
    match text {
        _ if id.text().is_none() => Some("an id is a text in quotes"),
        "entry" => Some("`entry` is the point of entry; choose another id"),
        _ if text.contains('.') => Some("an id holds no `.`, which stands between a part and its port"),
        _ if text.trim().is_empty() => Some("an id can't be empty"),
        // On a terminal they would do things, and on paper nothing.
        _ if text.contains(char::is_control) => Some("an id holds no line breaks or other control characters"),
        _ => None,
    }
}
