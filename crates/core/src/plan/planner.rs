//! The planner: what a caller meets.

use super::bench::Build;
use super::design::{Design, MOST_SUPPLIES, Origin};
use super::leaf::Rules;
use super::need::{Item, Need};
use super::search::{Progress, Search, Task};
use crate::Error;

/// A plan: a tree at the panel, and how its amplifiers are powered.
#[derive(Clone, Debug)]
pub struct Plan<const NODES: usize> {
    design: Design<NODES>,
    /// How many amplifiers it takes.
    pub amplifiers: u8,
    /// What it costs, in hundredths.
    pub cost: u32,
    /// The smallest margin between an extreme and its limit, in dB; infinite where nothing is limited.
    pub margin: f32,
    /// Whether it is proved that the stock allows none better.
    pub proved: bool,
}

impl<const NODES: usize> Plan<NODES> {
    /// Builds it on a bench. `placed` hears where each part comes from, in the order in which parts are numbered;
    /// outlets are numbered as in the need.
    ///
    /// # Errors
    /// [`Error::Full`] where the bench is too small.
    pub fn build<'s>(
        &self,
        need: &Need<'_, 's>,
        stock: &[Item<'s>],
        bench: &mut impl Build<'s>,
        placed: impl FnMut(Origin),
    ) -> Result<(), Error> {
        self.design.build(need, stock, bench, placed)
    }

    /// The supplies, in the order in which they are numbered: their places in the stock.
    pub fn supplies(&self) -> impl Iterator<Item = usize> + '_ {
        self.design.feedings.iter().map(|feeding| feeding.supply.into())
    }
}

/// What a search comes to.
#[derive(Clone, Debug)]
pub enum Outcome<const NODES: usize> {
    /// The best plan, or the best so far.
    Found(Plan<NODES>),
    /// Nothing in the stock can do it: proved, or not found in the time there was.
    Nothing {
        /// Whether that is proved.
        proved: bool,
    },
}

/// Finds plans. Room for stocks of `KINDS` different parts with `LEGS` ways out together, trees of `NODES` ways out and
/// needs of `OUTLETS` outlets; `CACHE` ways out are remembered, and as many routes bound what trees cost: with fewer the
/// search takes longer and finds the same.
#[derive(Debug)]
pub struct Planner<const KINDS: usize, const LEGS: usize, const NODES: usize, const OUTLETS: usize, const CACHE: usize>
{
    search: Search<KINDS, LEGS, NODES, OUTLETS, CACHE>,
}

impl<const KINDS: usize, const LEGS: usize, const NODES: usize, const OUTLETS: usize, const CACHE: usize> Default
    for Planner<KINDS, LEGS, NODES, OUTLETS, CACHE>
{
    fn default() -> Self {
        Self::new()
    }
}

impl<const KINDS: usize, const LEGS: usize, const NODES: usize, const OUTLETS: usize, const CACHE: usize>
    Planner<KINDS, LEGS, NODES, OUTLETS, CACHE>
{
    /// A planner.
    #[must_use]
    pub const fn new() -> Self {
        const { assert!(OUTLETS > 0 && OUTLETS <= 64, "a planner keeps outlets in the bits of one word") };
        Self { search: Search::new() }
    }

    /// Finds the best plan. `go_on` hears how far the search has come, and ends it by saying no: then the best so far
    /// is the answer, unproved.
    ///
    /// # Errors
    /// [`Error::Full`] where the need, the stock or a candidate finds no room.
    pub fn plan<'s, B: Build<'s>>(
        &mut self,
        need: &Need<'_, 's>,
        stock: &[Item<'s>],
        bench: &mut B,
        go_on: impl FnMut(&Progress) -> bool,
    ) -> Result<Outcome<NODES>, Error> {
        let task = Task { need, stock, bench, go_on, rules: Rules::All, margin: need.margin.db() };
        self.search.steps = 0;
        self.look(task)
    }

    /// The ways out that the last search looked at: how much work it was, the same on every machine.
    #[must_use]
    pub const fn steps(&self) -> u32 {
        self.search.steps
    }

    /// Looks with no amplifier, with one, and so on.
    fn look<'s, B: Build<'s>, F: FnMut(&Progress) -> bool>(
        &mut self,
        mut task: Task<'_, '_, 's, B, F>,
    ) -> Result<Outcome<NODES>, Error> {
        self.search.prepare(&mut task)?;
        let amplifiers = task.stock.iter().filter(|item| item.part().is_some_and(|part| part.amplifier().is_some()));
        let most = amplifiers.map(|item| usize::from(item.count)).sum::<usize>();
        for amplifiers in 0..=most.min(MOST_SUPPLIES) as u8 {
            self.search.run(&mut task, amplifiers)?;
            if self.search.best.is_some() || self.search.stopped {
                break;
            }
        }
        // With more amplifiers than are looked at something might be found, where nothing was with fewer.
        let beyond = self.search.best.is_none() && most > MOST_SUPPLIES;
        let proved = !self.search.stopped && !self.search.cramped && !beyond;
        Ok(match self.search.best.take() {
            Some(best) => Outcome::Found(Plan {
                design: best.design,
                amplifiers: best.amplifiers,
                cost: best.cost,
                margin: best.margin,
                proved,
            }),
            None => Outcome::Nothing { proved },
        })
    }

    /// When nothing serves: the plan that comes closest, with the margin that it misses the limits by; the check of what
    /// it builds says which limits are in the way. [`None`] where there are too few ways out for any.
    ///
    /// # Errors
    /// As [`plan`](Self::plan).
    pub fn closest<'s, B: Build<'s>>(
        &mut self,
        need: &Need<'_, 's>,
        stock: &[Item<'s>],
        bench: &mut B,
        mut go_on: impl FnMut(&Progress) -> bool,
    ) -> Result<Option<Plan<NODES>>, Error> {
        let (mut found, mut low, mut high) = (None, 0.0, None);
        for forgiven in [0.0, 1.0, 4.0, 16.0, 64.0] {
            if let Some(plan) = self.look_within(need, stock, bench, &mut go_on, forgiven)? {
                found = Some(plan);
                high = Some(forgiven);
                break;
            }
            low = forgiven;
        }
        // Then nearer and nearer to what just does.
        while let Some(most) = high.filter(|most| most - low > 0.2) {
            let middle = 0.5 * (low + most);
            match self.look_within(need, stock, bench, &mut go_on, middle)? {
                Some(plan) => (found, high) = (Some(plan), Some(middle)),
                None => low = middle,
            }
        }
        if found.is_some() {
            return Ok(found);
        }
        let task = Task { need, stock, bench, go_on: &mut go_on, rules: Rules::Nothing, margin: -1e3 };
        Ok(match self.look(task)? {
            Outcome::Found(plan) => Some(plan),
            Outcome::Nothing { .. } => None,
        })
    }

    /// Looks for a plan that misses limits by no more than is forgiven, for a while.
    fn look_within<'s, B: Build<'s>>(
        &mut self,
        need: &Need<'_, 's>,
        stock: &[Item<'s>],
        bench: &mut B,
        go_on: &mut impl FnMut(&Progress) -> bool,
        forgiven: f32,
    ) -> Result<Option<Plan<NODES>>, Error> {
        /// What a closer plan may cost in steps: it is shown to somebody who can't have a plan at all.
        const PATIENCE: u32 = 4_000;
        self.search.steps = 0;
        let within = |progress: &Progress| go_on(progress) && progress.steps < PATIENCE;
        let margin = need.margin.db() - forgiven;
        let task = Task { need, stock, bench, go_on: within, rules: Rules::Wiring, margin };
        Ok(match self.look(task)? {
            Outcome::Found(plan) => Some(plan),
            Outcome::Nothing { .. } => None,
        })
    }
}
