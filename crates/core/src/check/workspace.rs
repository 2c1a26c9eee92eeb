//! Room to work in, and the order of work.

use heapless::{Vec, VecView};

use super::finding::Finding;
use super::judge::Findings;
use super::layout::Layout;
use super::margins::{Keeper, Margin, Pair};
use super::report::Report;
use super::spots::survey;
use super::{powering, wiring};
use crate::noise::Floor;
use crate::walk::{Batch, Cases, LANES, Marks, Node, Row, Sense, Stage, evaluate, lay_out, make_ports, outward, tune};
use crate::{Error, Figure, Tree, between, feed, forward, load, reverse};

/// What a check needs to work in and leaves its figures in.
///
/// It holds homes of at most `PORTS` ports (the entry and every way out), `ROWS` different
/// tables over frequency (a cable has one, a splitter with unlike legs one a leg, an amplifier up
/// to four), `CELLS` figures (for each outlet two, and one for each frequency of its levels, of
/// its noise and of its transmit levels; two for each link), `AMPLIFIERS` amplifiers and
/// `FINDINGS` findings. Nothing is kept from one check to the next.
#[derive(Debug)]
pub struct Workspace<
    const PORTS: usize,
    const ROWS: usize,
    const CELLS: usize,
    const AMPLIFIERS: usize,
    const FINDINGS: usize,
> {
    slate: Slate,
    rows: Vec<Row, ROWS>,
    nodes: Vec<Node, PORTS>,
    stages: Vec<Stage, AMPLIFIERS>,
    cells: Vec<Figure, CELLS>,
    findings: Vec<Finding, FINDINGS>,
}

/// What can be full: a register's worth of [`Error`] for the steps in between.
#[derive(Clone, Copy, Debug)]
pub(crate) enum Store {
    Ports,
    Tables,
    Figures,
    Amplifiers,
    Findings,
}

/// What one step leaves for the next. Here, and not on the stack, it costs a step's callers nothing.
#[derive(Debug)]
pub(crate) struct Slate {
    pub(crate) layout: Layout,
    /// The frequencies at work.
    pub(crate) batch: Batch,
    pub(crate) floor: Floor,
    /// The runs of carriers that they stand for, where totals are added up.
    pub(crate) marks: Marks,
    /// How many were reported before them.
    pub(crate) row: usize,
    /// How much more power modems send than in one channel, in dB.
    pub(crate) together: f32,
}

/// The same room whatever its capacities, so that the calculations exist once.
pub(crate) struct Desk<'w> {
    pub(crate) slate: &'w mut Slate,
    pub(crate) rows: &'w mut VecView<Row>,
    pub(crate) nodes: &'w mut VecView<Node>,
    pub(crate) stages: &'w mut VecView<Stage>,
    pub(crate) cells: &'w mut VecView<Figure>,
    pub(crate) findings: Findings<'w>,
}

impl<const PORTS: usize, const ROWS: usize, const CELLS: usize, const AMPLIFIERS: usize, const FINDINGS: usize>
    Workspace<PORTS, ROWS, CELLS, AMPLIFIERS, FINDINGS>
{
    /// An empty room.
    #[must_use]
    pub const fn new() -> Self {
        Self {
            slate: Slate {
                layout: Layout::NEW,
                batch: Batch::NEW,
                marks: Marks::NONE,
                row: 0,
                floor: Floor::NEW,
                together: 0.0,
            },
            rows: Vec::new(),
            nodes: Vec::new(),
            stages: Vec::new(),
            cells: Vec::new(),
            findings: Vec::new(),
        }
    }

    /// Works out every figure of a home and holds it against every limit.
    ///
    /// # Errors
    /// [`Error::Full`] where the home is larger than this room.
    pub fn check<'w, 's>(&'w mut self, tree: &Tree<'w, 's>) -> Result<Report<'w, 's>, Error> {
        self.work(tree, None)
    }

    /// The same, and how near each outlet's figures come to their limits: `margins` takes one for each outlet, in
    /// their order, then [`Margin::FURTHER`] more. Only limits in dB and dBmV count; an operator's target has no
    /// margin. They are read by [`Report::margins`].
    ///
    /// # Errors
    /// [`Error::Full`] where the home is larger than this room, or `margins` has fewer places.
    pub fn check_margins<'w, 's>(
        &'w mut self,
        tree: &Tree<'w, 's>,
        margins: &'w mut [Margin],
    ) -> Result<Report<'w, 's>, Error> {
        self.check_pairs(tree, margins, &mut [])
    }

    /// The same, and what is left between each outlet and each other.
    ///
    /// # Errors
    /// [`Error::Full`] where the home is larger than this room, or `margins` or `pairs` has fewer places.
    pub(crate) fn check_pairs<'w, 's>(
        &'w mut self,
        tree: &Tree<'w, 's>,
        margins: &'w mut [Margin],
        pairs: &'w mut [Pair],
    ) -> Result<Report<'w, 's>, Error> {
        let capacity = margins.len();
        let wanted = tree.outlets().len() + Margin::FURTHER;
        let margins = margins.get_mut(..wanted).ok_or(Error::Full { what: "margins", capacity })?;
        self.work(tree, Some(Keeper { margins, pairs }))
    }

    fn work<'w, 's>(&'w mut self, tree: &Tree<'w, 's>, keeper: Option<Keeper<'w>>) -> Result<Report<'w, 's>, Error> {
        let mut desk = Desk {
            slate: &mut self.slate,
            rows: self.rows.as_mut_view(),
            nodes: self.nodes.as_mut_view(),
            stages: self.stages.as_mut_view(),
            cells: self.cells.as_mut_view(),
            findings: Findings::new(self.findings.as_mut_view(), keeper),
        };
        let done = work(tree, &mut desk);
        Report::new(tree, desk, done)
    }
}

impl<const PORTS: usize, const ROWS: usize, const CELLS: usize, const AMPLIFIERS: usize, const FINDINGS: usize> Default
    for Workspace<PORTS, ROWS, CELLS, AMPLIFIERS, FINDINGS>
{
    fn default() -> Self {
        Self::new()
    }
}

impl Desk<'_> {
    /// The plane at a port, at one frequency of the batch.
    #[cfg_attr(target_os = "none", inline(never))]
    pub(crate) fn at(&self, port: u16, lane: usize) -> Cases {
        self.nodes.get(port as usize).map_or([0.0; 3], |node| node.at(lane))
    }

    /// The error of a store in which something found no room.
    pub(super) fn full(&self, store: Store) -> Error {
        let (what, capacity) = match store {
            Store::Ports => ("ports", self.nodes.capacity()),
            Store::Tables => ("different tables", self.rows.capacity()),
            Store::Figures => ("figures", self.cells.capacity()),
            Store::Amplifiers => ("amplifiers", self.stages.capacity()),
            Store::Findings => ("findings", self.findings.capacity()),
        };
        Error::Full { what, capacity }
    }
}

/// The whole check, in the order in which its steps need each other. On a board each step, and what
/// several of them call, stays a function: together their frames would add up on its stack, and
/// copies in its flash. A host does without, and is a fifth faster.
#[cfg_attr(target_os = "none", inline(never))]
fn work(tree: &Tree<'_, '_>, desk: &mut Desk<'_>) -> Result<(), Store> {
    prepare(tree, desk)?;
    report(tree, desk, Sense::Forward);
    load::add_up(tree, desk);
    load::judge(tree, desk);
    report(tree, desk, Sense::Return);
    reverse::judge_outlets(tree, desk);
    between::judge_links(tree, desk);
    feed::solve(tree, desk.nodes);
    powering::judge(tree, desk);
    wiring::judge(tree, desk);
    if desk.findings.lost { Err(Store::Findings) } else { Ok(()) }
}

/// Lays out tables, ports and cells for a home.
#[cfg_attr(target_os = "none", inline(never))]
fn prepare(tree: &Tree<'_, '_>, desk: &mut Desk<'_>) -> Result<(), Store> {
    make_ports(desk.nodes, tree.ports.len())?;
    lay_out(tree, desk.rows, desk.nodes, desk.stages)?;
    survey(tree, desk.stages, desk.nodes);
    desk.slate.layout.make(tree, desk.cells)
}

/// Works out and judges what is reported of one sense, a batch of frequencies at a time: forward, levels with
/// tilt and noise; return, transmit levels and what modems bring elsewhere.
#[cfg_attr(target_os = "none", inline(never))]
fn report(tree: &Tree<'_, '_>, desk: &mut Desk<'_>, sense: Sense) {
    tune(tree, desk, sense);
    desk.slate.row = 0;
    while fill(tree, desk.slate, sense) {
        spread_out(tree, desk, sense);
        if sense == Sense::Return {
            reverse::judge(tree, desk);
        } else {
            forward::judge(tree, desk);
        }
        desk.slate.row += desk.slate.batch.used;
    }
}

/// Fills a batch with the frequencies above those reported so far; false where there was none.
#[cfg_attr(target_os = "none", inline(never))]
fn fill(tree: &Tree<'_, '_>, Slate { batch, row, .. }: &mut Slate, sense: Sense) -> bool {
    let mut last = if *row == 0 { 0.0 } else { batch.mhz(LANES - 1) };
    batch.used = 0;
    while batch.used < LANES
        && let Some(mhz) = after(tree, sense, last)
    {
        batch.push(mhz);
        last = mhz;
    }
    batch.used > 0
}

/// The least frequency above another at which figures of a sense are reported.
#[cfg_attr(target_os = "none", inline(never))]
fn after(tree: &Tree<'_, '_>, sense: Sense, mhz: f32) -> Option<f32> {
    if sense == Sense::Return { reverse::after(tree, mhz) } else { forward::after(tree, mhz) }
}

/// Works out what is lost on the way to every port, at the frequencies of the batch.
#[cfg_attr(target_os = "none", inline(never))]
pub(crate) fn spread_out(tree: &Tree<'_, '_>, desk: &mut Desk<'_>, sense: Sense) {
    evaluate(tree, desk.rows, &desk.slate.batch, sense);
    outward(tree, &desk.slate.batch, desk.nodes, desk.rows, sense);
}
