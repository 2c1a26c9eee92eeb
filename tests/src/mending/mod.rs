//! The fewest changes that put a home right, by trying all of them.
//!
//! [`mend`] makes every change the contract knows, then every second one after it, and so on, and judges each home by the
//! independent model. Only homes that came up before, of the same items, are left out.

mod breaks;
mod draft;
mod edits;

use std::collections::HashSet;

use serde_json::Value;

use crate::{
    exhaustive::{Worth, weigh_home},
    model::quantity,
};
use draft::{Draft, Frame};
use edits::{Item, changed};

pub use breaks::broken;

/// The fewest changes.
#[derive(Clone, Debug, PartialEq)]
pub struct Mending {
    /// How many.
    pub changes: usize,
    /// What they cost, in hundredths.
    pub cost: u64,
    /// The smallest margin then, in dB; infinite where nothing is held against a limit in dB or dBmV.
    pub margin: f64,
    /// The home after them.
    pub premises: Value,
}

/// What there is to say of a home.
#[derive(Clone, Debug, PartialEq)]
pub enum Mended {
    /// No fewer changes do it, none that cost less, and none that leave more margin.
    By(Mending),
    /// So many changes do not do it.
    Not,
    /// Rounding decides.
    OnTheEdge,
    /// There are too many homes to try.
    TooMany,
}

/// Finds the fewest changes, at most `most`, that put a premises right from a stock, which is a table with `margin` and
/// `item`. The premises holds every spec and limit that it and the stock use; `homes` bounds how many are tried.
///
/// # Panics
///
/// Where the premises is not valid, or names a spec that it does not hold itself.
#[must_use]
pub fn mend(premises: &Value, stock: &Value, most: usize, homes: usize) -> Mended {
    let frame = Frame::read(premises);
    let items = stock["item"].as_array().expect("items");
    let items: Vec<Item> = items.iter().map(|row| Item::read(&frame, row)).collect();
    let wanted = stock.get("margin").map_or(0.0, quantity::db);
    let cost = |draft: &Draft| -> u64 { draft.taken.iter().zip(&items).map(|(n, item)| *n as u64 * item.cost).sum() };
    let mut level = vec![Draft::read(&frame, items.len())];
    let mut seen: HashSet<String> = level.iter().map(Draft::signature).collect();
    for changes in 0..=most {
        level.sort_by_key(cost);
        for class in level.chunk_by(|one, other| cost(one) == cost(other)) {
            let mut good: Option<(f64, &Draft)> = None;
            let mut doubtful: Option<f64> = None;
            for draft in class {
                match weigh_home(&draft.home(&frame), wanted) {
                    Worth::Good(margin) if good.is_none_or(|(best, _)| margin > best) => good = Some((margin, draft)),
                    Worth::Doubtful(margin) => doubtful = Some(doubtful.map_or(margin, |best| best.max(margin))),
                    _ => {}
                }
            }
            match (good, doubtful) {
                (None, None) => {}
                (Some((margin, draft)), doubtful) if doubtful.is_none_or(|doubtful| doubtful <= margin) => {
                    let premises = draft.premises(&frame);
                    return Mended::By(Mending { changes, cost: cost(draft), margin, premises });
                }
                _ => return Mended::OnTheEdge,
            }
        }
        if changes == most {
            break;
        }
        let mut next = Vec::new();
        for draft in &level {
            next.extend(changed(&frame, &items, draft).into_iter().filter(|draft| seen.insert(draft.signature())));
            if next.len() > homes {
                return Mended::TooMany;
            }
        }
        level = next;
    }
    Mended::Not
}
