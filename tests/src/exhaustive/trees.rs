//! Every tree that can be built from a bag: any part at any way out, any run at any way out, terminators at the rest.

use super::{
    bags::Bag,
    candidate::{Candidate, Fill, Node},
    stock::{Need, ways_out},
};

/// What is left to place, and what stands so far.
pub(crate) struct Grower<'n, P, D> {
    need: &'n Need,
    /// Parts left of each item.
    left: Vec<usize>,
    placed: Vec<bool>,
    tree: Candidate,
    /// Ways out with nothing on them; the last is next.
    open: Vec<Option<(usize, usize)>>,
    /// Whether a run may end where it just was put.
    may_stand: P,
    done: D,
}

impl<'n, P, D> Grower<'n, P, D>
where
    P: FnMut(&Candidate, Option<(usize, usize)>, usize) -> bool,
    D: FnMut(&Candidate),
{
    /// Goes through all trees that take exactly the parts of a bag. `may_stand` is asked about each outlet at the way out
    /// where its run is to hang; `done` hears of each whole tree.
    pub(crate) fn grow(need: &'n Need, bag: &Bag, may_stand: P, done: D) {
        let parts = need.items.iter().zip(&bag.taken);
        let left = parts.map(|(item, taken)| if item.part().is_some() { *taken } else { 0 }).collect();
        let placed = vec![false; need.outlets.len()];
        let mut grower = Self { need, left, placed, tree: Candidate::default(), open: vec![None], may_stand, done };
        grower.step();
    }

    /// Whether the ways out that are left, and those of the parts that are left, take all runs that are left.
    fn has_room(&self) -> bool {
        let parts = self.left.iter().zip(&self.need.items).filter_map(|(left, item)| Some((left, item.part()?)));
        let further: usize = parts.clone().map(|(left, part)| left * (ways_out(part).count().max(1) - 1)).sum();
        let runs = self.placed.iter().filter(|placed| !**placed).count();
        let lost = parts.clone().any(|(left, _)| *left > 0) && self.open.is_empty();
        !lost && self.open.len() + further >= runs
    }

    fn step(&mut self) {
        if !self.has_room() {
            return;
        }
        let Some(at) = self.open.pop() else {
            (self.done)(&self.tree);
            return;
        };
        if at.is_some() {
            self.with(Node { at, fill: Fill::Terminator }, 0);
        }
        for outlet in 0..self.placed.len() {
            if !self.placed[outlet] && (self.may_stand)(&self.tree, at, outlet) {
                self.placed[outlet] = true;
                self.with(Node { at, fill: Fill::Run(outlet) }, 0);
                self.placed[outlet] = false;
            }
        }
        for item in 0..self.left.len() {
            if self.left[item] > 0 {
                self.left[item] -= 1;
                let number = self.tree.nodes.len();
                let ways: Vec<usize> = ways_out(self.need.items[item].part().expect("a part")).collect();
                self.open.extend(ways.iter().map(|way| Some((number, *way))));
                self.with(Node { at, fill: Fill::Part(item) }, ways.len());
                self.left[item] += 1;
            }
        }
        self.open.push(at);
    }

    /// Goes on with one more node, and takes it and the ways out it opened back.
    fn with(&mut self, node: Node, opened: usize) {
        self.tree.nodes.push(node);
        self.step();
        self.tree.nodes.pop();
        self.open.truncate(self.open.len() - opened);
    }
}
