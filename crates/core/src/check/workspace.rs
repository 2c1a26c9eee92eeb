//! Room to work in, and the order of work.

use heapless::{Vec, VecView};

use super::finding::Finding;
use super::layout::Layout;
use super::margins::{Findings, Margin};
use super::report::Report;
use super::spots::{Spot, survey};
use super::{powering, wiring};
use crate::feed::{self, DcPort};
use crate::noise::Excess;
use crate::walk::{AmplifierRows, Batch, Edge, Plane, Row, Sense, evaluate, lay_out, outward, tune};
use crate::{Error, Figure, Tree, between, forward, load, reverse};

/// What a check needs to work in and leaves its figures in.
///
/// It holds homes of at most `PORTS` ports (the entry and every way out), `ROWS` different
/// tables over frequency (a cable has one, a splitter with unlike legs one a leg, an amplifier up
/// to four), `CELLS` figures (for each outlet two, and one for each frequency of its levels, of
/// its noise and of its transmit levels; two for each link), `AMPLIFIERS` amplifiers and
/// `FINDINGS` findings. Nothing is kept from one check to the next.
#[derive(Debug, Default)]
pub struct Workspace<
    const PORTS: usize,
    const ROWS: usize,
    const CELLS: usize,
    const AMPLIFIERS: usize,
    const FINDINGS: usize,
> {
    rows: Vec<Row, ROWS>,
    edges: Vec<Edge, PORTS>,
    planes: Vec<Plane, PORTS>,
    spots: Vec<Spot, PORTS>,
    totals: Vec<[f32; 3], PORTS>,
    power: Vec<DcPort, PORTS>,
    order: Vec<u16, PORTS>,
    amplifiers: Vec<AmplifierRows, AMPLIFIERS>,
    excess: Vec<Excess, AMPLIFIERS>,
    inputs: Vec<Figure, AMPLIFIERS>,
    cells: Vec<Figure, CELLS>,
    findings: Vec<Finding, FINDINGS>,
}

/// The same room whatever its capacities, so that the calculations exist once.
pub(crate) struct Desk<'w> {
    pub(crate) layout: Layout,
    pub(crate) rows: &'w mut VecView<Row>,
    pub(crate) edges: &'w mut VecView<Edge>,
    pub(crate) planes: &'w mut VecView<Plane>,
    pub(crate) spots: &'w mut VecView<Spot>,
    pub(crate) totals: &'w mut VecView<[f32; 3]>,
    pub(crate) power: &'w mut VecView<DcPort>,
    pub(crate) order: &'w mut VecView<u16>,
    pub(crate) amplifiers: &'w mut VecView<AmplifierRows>,
    pub(crate) excess: &'w mut VecView<Excess>,
    pub(crate) inputs: &'w mut VecView<Figure>,
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
            rows: Vec::new(),
            edges: Vec::new(),
            planes: Vec::new(),
            spots: Vec::new(),
            totals: Vec::new(),
            power: Vec::new(),
            order: Vec::new(),
            amplifiers: Vec::new(),
            excess: Vec::new(),
            inputs: Vec::new(),
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
        let capacity = margins.len();
        let wanted = tree.outlets().len() + Margin::FURTHER;
        let margins = margins.get_mut(..wanted).ok_or(Error::Full { what: "margins", capacity })?;
        margins.fill(Margin::NONE);
        self.work(tree, Some(margins))
    }

    fn work<'w, 's>(
        &'w mut self,
        tree: &Tree<'w, 's>,
        margins: Option<&'w mut [Margin]>,
    ) -> Result<Report<'w, 's>, Error> {
        let mut desk = Desk {
            layout: Layout::default(),
            rows: self.rows.as_mut_view(),
            edges: self.edges.as_mut_view(),
            planes: self.planes.as_mut_view(),
            spots: self.spots.as_mut_view(),
            totals: self.totals.as_mut_view(),
            power: self.power.as_mut_view(),
            order: self.order.as_mut_view(),
            amplifiers: self.amplifiers.as_mut_view(),
            excess: self.excess.as_mut_view(),
            inputs: self.inputs.as_mut_view(),
            cells: self.cells.as_mut_view(),
            findings: Findings { list: self.findings.as_mut_view(), margins },
        };
        work(tree, &mut desk)?;
        Ok(Report::new(*tree, desk))
    }
}

/// The whole check, in the order in which its steps need each other. On a board each step, and what
/// several of them call, stays a function: together their frames would add up on its stack, and
/// copies in its flash. A host does without, and is a fifth faster.
#[cfg_attr(target_os = "none", inline(never))]
fn work(tree: &Tree<'_, '_>, desk: &mut Desk<'_>) -> Result<(), Error> {
    prepare(tree, desk)?;
    forward(tree, desk)?;
    load::add_up(tree, desk);
    load::judge(tree, desk)?;
    backward(tree, desk)?;
    reverse::judge_outlets(tree, desk)?;
    between::judge_links(tree, desk)?;
    feed::solve(tree, desk.power, desk.order)?;
    powering::judge(tree, desk)?;
    between::mark_links(tree, desk);
    wiring::judge(tree, desk)
}

/// Forward: reported levels with tilt and noise.
#[cfg_attr(target_os = "none", inline(never))]
fn forward(tree: &Tree<'_, '_>, desk: &mut Desk<'_>) -> Result<(), Error> {
    tune(tree, desk.edges, desk.amplifiers, Sense::Forward);
    let mut batch = Batch::default();
    let mut row = 0;
    while batch.take(&mut forward::frequencies(tree).skip(row)) {
        spread_out(tree, desk, &batch, Sense::Forward);
        forward::judge(tree, desk, &batch, row)?;
        row += batch.used;
    }
    Ok(())
}

/// Return: transmit levels, and what modems bring elsewhere.
#[cfg_attr(target_os = "none", inline(never))]
fn backward(tree: &Tree<'_, '_>, desk: &mut Desk<'_>) -> Result<(), Error> {
    tune(tree, desk.edges, desk.amplifiers, Sense::Return);
    let mut batch = Batch::default();
    let mut row = 0;
    while batch.take(&mut reverse::frequencies(tree).skip(row)) {
        spread_out(tree, desk, &batch, Sense::Return);
        reverse::judge(tree, desk, &batch, row)?;
        row += batch.used;
    }
    Ok(())
}

/// Lays out tables, edges and cells for a home.
#[cfg_attr(target_os = "none", inline(never))]
fn prepare(tree: &Tree<'_, '_>, desk: &mut Desk<'_>) -> Result<(), Error> {
    desk.findings.clear();
    lay_out(tree, desk.rows, desk.edges, desk.amplifiers)?;
    survey(tree, desk.amplifiers, desk.spots)?;
    desk.layout = Layout::new(tree, desk.cells)?;
    ready(desk.planes, tree.ports.len(), "ports")?;
    ready(desk.totals, tree.ports.len(), "ports")?;
    ready(desk.excess, desk.amplifiers.len(), "amplifiers")?;
    ready(desk.inputs, desk.amplifiers.len(), "amplifiers")
}

fn ready<T: Clone + Default>(store: &mut VecView<T>, count: usize, what: &'static str) -> Result<(), Error> {
    let capacity = store.capacity();
    store.resize_default(count).map_err(|_| Error::Full { what, capacity })
}

#[cfg_attr(target_os = "none", inline(never))]
fn spread_out(tree: &Tree<'_, '_>, desk: &mut Desk<'_>, batch: &Batch, sense: Sense) {
    evaluate(tree, desk.rows, batch, sense);
    outward(desk.edges, desk.rows, desk.planes);
}
