//! The best plan by trying every one: a search so plain that it is seen to be right.
//!
//! [`best`] builds each labelled tree that the stock allows, each with each placing of supplies, and judges it by the
//! independent model. It leaves out what can't be the answer for reasons the contract gives:
//!
//! - Bags of parts come by number of amplifiers and cost; the first with a good plan has the best.
//! - What an outlet sees depends on the parts between the entry and it. An outlet that fails on its own at the end of
//!   some way (no other outlet there) fails in every home with that way in it.
//! - A part with nothing but terminators behind it changes no figure, unless direct current comes to it: then it may keep
//!   that from a terminator, or be an amplifier that takes it so that an inserter may stand before some outlet.

mod bags;
mod candidate;
mod feeds;
mod stock;
mod trees;
mod weigh;

use std::collections::HashMap;

use serde_json::Value;

use bags::Bag;
pub(crate) use candidate::{Candidate, Fill, Inserted, Node};
pub(crate) use stock::{Need, What, placed, ways_out};
use trees::Grower;
pub use weigh::good;
pub(crate) use weigh::{Worth, weigh, weigh_home};

/// The best plan of a need.
#[derive(Clone, Debug, PartialEq)]
pub struct Optimum {
    /// How many amplifiers it takes.
    pub amplifiers: usize,
    /// What it costs, in hundredths.
    pub cost: u64,
    /// Its smallest margin in dB; infinite where nothing is held against a limit in dB or dBmV.
    pub margin: f64,
    /// Its premises file.
    pub premises: Value,
}

/// What there is to say of a need.
#[derive(Clone, Debug, PartialEq)]
pub enum Answer {
    /// No plan is better than this one.
    Best(Optimum),
    /// Nothing in the stock can do it.
    Nothing,
    /// Rounding decides which plan is the best, or whether there is one.
    OnTheEdge,
    /// There are too many plans to try.
    TooMany,
}

/// What an outlet is told of by its own way alone, whatever else hangs in the home.
const ON_THE_WAY: [&str; 16] = [
    "forward-low",
    "forward-high",
    "total-high",
    "tilt-high",
    "cnr-low",
    "transmit-high",
    "transmit-low",
    "transmit-spread",
    "no-return",
    "amplifier-overdriven",
    "output-overdriven",
    "return-overdriven",
    "split-mismatch",
    "out-of-band",
    "amplifiers-in-series",
    "lifeline-exposed",
];

/// The way to an outlet: items and their ways out, the outlet, and its inserter.
type Way = (Vec<(usize, usize)>, usize, Option<usize>);

/// What has been found out so far.
struct Search<'n> {
    need: &'n Need,
    /// Whether an outlet may stand at the end of a way.
    known: HashMap<Way, bool>,
    /// Plans weighed, and the most that may be.
    weighed: usize,
    most: usize,
    /// Whether the second and third of the reasons are made use of.
    cuts: bool,
}

/// The best plans of one cost: surely good, and perhaps good.
#[derive(Debug, Default)]
struct Found {
    good: Option<(f64, Candidate)>,
    doubtful: Option<f64>,
}

/// Finds the best plan of a need that holds every spec and every limit it uses; `most` bounds the plans that are weighed.
///
/// ```
/// use legwork_tests::{Answer, best, good, need, with_built_in};
/// let plan = (0..20).find_map(|seed| match best(&with_built_in(&need(seed)), 1000) {
///     Answer::Best(plan) => Some(plan),
///     _ => None,
/// });
/// let plan = plan.expect("some of them can be done");
/// assert_eq!(good(&plan.premises, 0.0).map(|margin| (margin - plan.margin).abs() < 1e-9), Some(true));
/// ```
///
/// # Panics
///
/// Where the need is not valid, or names a spec that it does not hold itself.
#[must_use]
pub fn best(need: &Value, most: usize) -> Answer {
    search(need, most, true)
}

fn search(need: &Value, most: usize, cuts: bool) -> Answer {
    let need = Need::read(need);
    let mut search = Search { need: &need, known: HashMap::new(), weighed: 0, most, cuts };
    let bags = bags::bags(&need);
    for class in bags.chunk_by(|one, other| (one.amplifiers, one.cost) == (other.amplifiers, other.cost)) {
        let mut found = Found::default();
        for bag in class {
            search.try_bag(bag, &mut found);
        }
        if search.weighed > search.most {
            return Answer::TooMany;
        }
        match found {
            Found { good: None, doubtful: None } => {}
            Found { good: Some((margin, plan)), doubtful } if doubtful.is_none_or(|doubtful| doubtful <= margin) => {
                let (amplifiers, cost) = (class[0].amplifiers, class[0].cost);
                return Answer::Best(Optimum { amplifiers, cost, margin, premises: plan.premises(&need) });
            }
            _ => return Answer::OnTheEdge,
        }
    }
    Answer::Nothing
}

impl Search<'_> {
    /// Weighs every plan that takes just what is in a bag.
    fn try_bag(&mut self, bag: &Bag, found: &mut Found) {
        let need = self.need;
        let mut trees: Vec<Candidate> = Vec::new();
        let feeds_back = bag.count(need, |item| matches!(item.what, What::Inserter(_))) > 0;
        let (cuts, most) = (self.cuts, self.most);
        let done = |tree: &Candidate| {
            if trees.len() <= most && (!cuts || !has_dead_weight(need, tree, feeds_back)) {
                trees.push(tree.clone());
            }
        };
        let may_stand = |tree: &Candidate, at, outlet| !cuts || self.may_stand(bag, tree, at, outlet);
        Grower::grow(need, bag, may_stand, done);
        if trees.len() > self.most {
            self.weighed = self.most + 1;
            return;
        }
        for tree in &trees {
            feeds::feed(need, bag, tree, &mut |plan| self.weigh(plan, found));
        }
    }

    /// Whether an outlet may stand at a way out, with any of the inserters there are or with none.
    fn may_stand(&mut self, bag: &Bag, tree: &Candidate, at: Option<(usize, usize)>, outlet: usize) -> bool {
        let inserters = bag.taken.iter().zip(&self.need.items).enumerate();
        let inserters = inserters.filter(|(_, (taken, item))| **taken > 0 && matches!(item.what, What::Inserter(_)));
        let inserters = inserters.map(|(item, _)| Some(item)).filter(|_| self.need.outlets[outlet].mains);
        let all: Vec<Option<usize>> = inserters.chain([None]).collect();
        all.into_iter().any(|inserter| self.may_stand_with(tree, at, outlet, inserter))
    }

    fn may_stand_with(
        &mut self,
        tree: &Candidate,
        at: Option<(usize, usize)>,
        outlet: usize,
        inserter: Option<usize>,
    ) -> bool {
        let items = tree.way_to(at).into_iter().map(|(node, way)| match tree.nodes[node].fill {
            Fill::Part(item) => (item, way),
            _ => panic!("a way through no part"),
        });
        let way: Way = (items.collect(), outlet, inserter);
        if let Some(known) = self.known.get(&way) {
            return *known;
        }
        let judged = crate::model::judge(&alone(self.need, &way).home(self.need));
        let may = weigh(&judged, self.need.margin, |code| ON_THE_WAY.contains(&code)) != Worth::Bad;
        self.known.insert(way, may);
        may
    }

    /// Weighs one plan.
    fn weigh(&mut self, plan: &Candidate, found: &mut Found) {
        self.weighed += 1;
        if self.weighed > self.most {
            return;
        }
        match weigh_home(&plan.home(self.need), self.need.margin) {
            Worth::Good(margin) => {
                if found.good.as_ref().is_none_or(|(best, _)| margin > *best) {
                    found.good = Some((margin, plan.clone()));
                }
            }
            Worth::Doubtful(margin) => found.doubtful = Some(found.doubtful.map_or(margin, |best| best.max(margin))),
            Worth::Bad => {}
        }
    }
}

/// The tree of one way alone, all else terminated.
fn alone(need: &Need, way: &Way) -> Candidate {
    let (items, outlet, inserter) = way;
    let mut tree = Candidate::default();
    let mut at = None;
    for &(item, taken) in items {
        let number = tree.nodes.len();
        tree.nodes.push(Node { at, fill: Fill::Part(item) });
        for other in ways_out(need.items[item].part().expect("a part")).filter(|other| *other != taken) {
            tree.nodes.push(Node { at: Some((number, other)), fill: Fill::Terminator });
        }
        at = Some((number, taken));
    }
    tree.nodes.push(Node { at, fill: Fill::Run(*outlet) });
    if let Some(inserter) = *inserter {
        tree.inserted.push(Inserted { outlet: *outlet, inserter, supply: None });
    }
    tree
}

/// Whether a part without a run behind it hangs where no direct current comes to it.
fn has_dead_weight(need: &Need, tree: &Candidate, feeds_back: bool) -> bool {
    let is_fed = |node: &Node| {
        let Some((owner, way)) = node.at else { return false };
        let Fill::Part(item) = tree.nodes[owner].fill else { return false };
        feeds_back && need.items[item].part().expect("a part").ways[way].ohms.is_some()
    };
    let nodes = tree.nodes.iter().enumerate().filter(|(_, node)| matches!(node.fill, Fill::Part(_)));
    { nodes }.any(|(number, node)| !is_fed(node) && !tree.leads_to_a_run(number))
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use super::*;
    use crate::{need, with_built_in};

    #[test]
    fn leaving_out_loses_nothing() {
        let (mut plans, mut amplified, mut nothing) = (0, 0, 0);
        for seed in 0..400 {
            let need = with_built_in(&need(seed));
            let parts: u64 = need["stock"]["item"]
                .as_array()
                .expect("items")
                .iter()
                .map(|item| item["count"].as_u64().unwrap_or(1))
                .sum();
            // Without cuts there is no end to larger ones.
            if need["outlet"].as_array().expect("outlets").len() > 3 || parts > 7 {
                continue;
            }
            let (with, without) = (search(&need, 4_000, true), search(&need, 4_000, false));
            match (&with, &without) {
                (_, Answer::TooMany) => continue,
                (Answer::Best(one), Answer::Best(other)) => {
                    assert_eq!((one.amplifiers, one.cost), (other.amplifiers, other.cost), "need {seed}");
                    assert!(one.margin == other.margin || (one.margin - other.margin).abs() < 1e-9, "need {seed}");
                    plans += 1;
                    amplified += usize::from(one.amplifiers > 0);
                }
                _ => {
                    assert_eq!(with, without, "need {seed}");
                    nothing += 1;
                }
            }
        }
        assert!(plans >= 20 && amplified >= 4 && nothing >= 20, "{plans} {amplified} {nothing}");
    }

    #[test]
    fn the_cheapest_pads_that_leave_room_are_taken() {
        // The outlet sees 10 dBmV less its pads, and the limits are 0 and 6 dBmV.
        let need = |count: u64| {
            json!({
                "format": 1, "name": "by hand",
                "service": {"split": "42/54 MHz", "carriers": [{"first": "57 MHz", "last": "63 MHz", "step": "6 MHz"}]},
                "entry": {"forward": [["57 MHz", "10 dBmV"], ["63 MHz", "10 dBmV"]]},
                "panel": {"mains": false},
                "outlet": [{"id": "tv", "device": "tv", "run": {"cable": "none", "length": "1 ft"}}],
                "limits": {"tv": {"forward": ["0 dBmV", "6 dBmV"]}},
                "spec": {"cable": {"none": {"loss": [["5 MHz", "0 dB"], ["1000 MHz", "0 dB"]], "per": "100 ft", "loop": "1 ohm"}}},
                "stock": {"margin": "1 dB", "item": [{"pad": "3 dB", "count": count, "cost": 1.5}, {"pad": "4 dB", "count": 1, "cost": 2.0}]},
            })
        };
        // 3 dB is too little, and 4 dB leaves nothing below 6 dBmV. Both leave 3 dB either way; two of 3 dB leave 2, for less.
        let found = |count| match best(&need(count), 100) {
            Answer::Best(best) => (best.amplifiers, best.cost, (best.margin * 1e6).round() / 1e6),
            other => panic!("{other:?}"),
        };
        assert_eq!(found(1), (0, 350, 3.0));
        assert_eq!(found(2), (0, 300, 2.0));
        assert_eq!(best(&need(0), 100), Answer::Nothing);
    }
}
