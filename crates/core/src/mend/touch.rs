//! Which changes can do something about what is wrong.
//!
//! An outlet's own figures come from the parts on its way to the entry, so only a change there can put them right:
//! of whatever sets all of a home right, at least one does. What is wrong between two outlets is decided on both ways;
//! about DC any change may decide.

use heapless::Vec;

use super::change::Edit;
use super::draft::{Draft, Thing};
use crate::plan::leaf::{Rules, is_measured};
use crate::{At, Code, Finding, Report};

/// Where a change has to be to matter.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Touch {
    /// Anywhere.
    Any,
    /// On the way of one thing.
    Way(Thing),
    /// On the way of one of two.
    Ways(Thing, Thing),
}

/// So many of them are told apart; more only cost time.
pub(super) type Touches = Vec<Touch, 24>;

/// What is wrong with a home under these rules, and which margins are too small: empty where it is good.
pub(super) fn wrongs(report: &Report<'_, '_>, order: &[u16], margin: f32) -> Touches {
    let mut touches = Touches::new();
    let mut note = |touch| {
        if !touches.contains(&touch) {
            // Where there is no room the rest is not asked about, which only cuts less.
            let _ = touches.push(touch);
        }
    };
    for finding in report.findings().iter().filter(|finding| Rules::All.forbid(finding)) {
        note(touch(finding, order));
    }
    let outlets = report.tree().outlets().len();
    for (index, near) in report.margins().iter().enumerate() {
        if near.db < margin {
            note(if index < outlets { Touch::Way(Thing::Outlet(index as u16)) } else { Touch::Any });
        }
    }
    touches
}

fn touch(finding: &Finding, order: &[u16]) -> Touch {
    let own = |at| match at {
        At::Outlet(outlet) => Some(Thing::Outlet(outlet.index() as u16)),
        At::Part(part) => order.get(part.index()).map(|node| Thing::Node(*node)),
        _ => None,
    };
    let (first, second) = (own(finding.at), finding.other.and_then(own));
    match (finding.code, first, second) {
        (Code::NeighbourTransmit | Code::HomeLinkWeak, Some(first), Some(second)) => Touch::Ways(first, second),
        (
            Code::LifelineExposed | Code::NoReturn | Code::AmplifiersInSeries | Code::AmplifierOverdriven,
            Some(way),
            _,
        ) => Touch::Way(way),
        (code, Some(way), None) if is_measured(code) => Touch::Way(way),
        _ => Touch::Any,
    }
}

impl<const NODES: usize, const OUTLETS: usize> Draft<'_, NODES, OUTLETS> {
    /// Whether a change can matter to what is wrong.
    pub(super) fn touches(&self, touch: Touch, edit: &Edit) -> bool {
        match touch {
            Touch::Any => true,
            Touch::Way(thing) => self.is_on_way(thing, edit),
            Touch::Ways(one, other) => self.is_on_way(one, edit) || self.is_on_way(other, edit),
        }
    }

    /// Whether a change is on the way of a thing.
    fn is_on_way(&self, thing: Thing, edit: &Edit) -> bool {
        let changed = match *edit {
            Edit::Swap { node, .. } => Thing::Node(node),
            Edit::Put { before, .. } | Edit::Insert { before, .. } => before,
            Edit::Take(taken) => taken,
            Edit::Move { thing, .. } => thing,
            Edit::Plug { .. } => return false,
        };
        if changed == thing {
            return true;
        }
        match changed {
            Thing::Node(node) => self.hook(thing).is_some_and(|hook| self.is_behind(hook, node)),
            _ => false,
        }
    }
}
