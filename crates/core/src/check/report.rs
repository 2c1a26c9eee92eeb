//! What a check found, as a view over the room it worked in.

use heapless::Vec;

use super::finding::{At, Finding, Verdict};
use super::judge::Findings;
use super::layout::{Column, Layout};
use super::margins::{Margin, Near};
use super::powering::judge_feed;
use super::workspace::{Desk, Store};
use crate::feed::{COLLAPSED, Feed, feeds};
use crate::walk::{Node, Stage};
use crate::{Device, Error, Figure, OutletId, PartId, PortId, SupplyId, Tree, forward, reverse};

/// Everything that a check worked out.
#[derive(Clone, Copy, Debug)]
pub struct Report<'w, 's> {
    tree: Tree<'w, 's>,
    layout: &'w Layout,
    nodes: &'w [Node],
    stages: &'w [Stage],
    cells: &'w [Figure],
    findings: &'w [Finding],
    margins: &'w [Margin],
}

/// What was worked out for one outlet.
#[derive(Clone, Copy, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct OutletReport<'w> {
    /// Which.
    pub outlet: OutletId,
    /// The worst of its findings.
    pub verdict: Verdict,
    /// Forward levels in dBmV at [`Report::forward_frequencies`].
    pub forward: &'w [Figure],
    /// Level at the last carrier minus level at the first, in dB.
    pub tilt: Figure,
    /// Power sum over all carriers, in dBmV.
    pub total: Figure,
    /// Carrier-to-noise ratios in dB at [`Report::forward_frequencies`]; empty where none was read.
    pub cnr: &'w [Figure],
    /// Transmit levels in dBmV at [`Report::return_frequencies`]; [`None`] where an amplifier on
    /// the way has no return path.
    pub transmit: Option<&'w [Figure]>,
}

/// What was worked out for one amplifier.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct AmplifierReport {
    /// Which.
    pub part: PartId,
    /// Total power of all carriers at its input, in dBmV.
    pub input_total: Figure,
    /// What is left to the most it takes, in dB; [`None`] where no most is stated.
    pub headroom: Option<f32>,
}

/// DC at one port.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct DcReport {
    /// Where.
    pub port: PortId,
    /// From which supply.
    pub supply: SupplyId,
    /// Volts under load; [`None`] where the feed has collapsed.
    pub volts: Option<f32>,
    /// Volts with nothing drawing.
    pub volts_unloaded: f32,
    /// Resistance from the supply's terminals at 20 C, its own included.
    pub loop_ohms: f32,
    /// The same from its plug, its own left out: what an ohmmeter reads there with this port shorted.
    pub plug_ohms: f32,
}

/// One link of the home network at one edge of its band.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct LinkReport {
    /// The member that joined first.
    pub from: OutletId,
    /// The other.
    pub to: OutletId,
    /// The frequency in MHz.
    pub mhz: f32,
    /// Loss in dB; [`None`] where it is blocked.
    pub loss: Option<f32>,
    /// Whether the loss is inside its limit.
    pub verdict: Verdict,
}

impl<'w, 's> Report<'w, 's> {
    /// A view of a desk after work.
    ///
    /// # Errors
    /// [`Error::Full`] where the work was not `done`.
    #[cfg_attr(target_os = "none", inline(never))]
    pub(super) fn new(tree: &Tree<'w, 's>, desk: Desk<'w>, done: Result<(), Store>) -> Result<Self, Error> {
        done.map_err(|store| desk.full(store))?;
        let (findings, margins) = desk.findings.all();
        Ok(Self {
            tree: *tree,
            layout: &desk.slate.layout,
            nodes: desk.nodes.as_slice(),
            stages: desk.stages.as_slice(),
            cells: desk.cells.as_slice(),
            findings,
            margins,
        })
    }

    /// The home.
    #[must_use]
    pub const fn tree(&self) -> &Tree<'w, 's> {
        &self.tree
    }

    /// The worst of all findings.
    #[must_use]
    pub fn verdict(&self) -> Verdict {
        self.findings.iter().map(|finding| finding.verdict).max().unwrap_or_default()
    }

    /// What is wrong, in the order of work.
    #[must_use]
    pub const fn findings(&self) -> &'w [Finding] {
        self.findings
    }

    /// How near each outlet's figures come to their limits, in the order of the outlets; then the nearest total at an
    /// amplifier, the nearest of a modem at an amplifier's output, and the nearest of what passes between two outlets.
    /// Empty after a check that did not ask: see [`Workspace::check_margins`](crate::Workspace::check_margins).
    #[must_use]
    pub const fn margins(&self) -> &'w [Margin] {
        self.margins
    }

    /// The margins of what is limited, with what each is of.
    pub fn near(&self) -> impl Iterator<Item = (Near, &'w Margin)> + use<'w> {
        let outlets = self.margins.len().saturating_sub(Margin::FURTHER);
        let places = self.margins.iter().enumerate();
        places
            .filter(|(_, margin)| margin.code.is_some())
            .map(move |(place, margin)| (Near::of(place, outlets), margin))
    }

    /// The frequencies of forward figures, in MHz, rising.
    pub fn forward_frequencies(&self) -> impl Iterator<Item = f32> + use<'s> {
        forward::frequencies(&self.tree)
    }

    /// The frequencies of transmit levels, in MHz, rising.
    pub fn return_frequencies(&self) -> impl Iterator<Item = f32> + use<'s> {
        reverse::frequencies(&self.tree)
    }

    /// What a modem at the entry sends, in dBmV, at [`return_frequencies`](Self::return_frequencies).
    pub fn sent_at_entry(&self) -> impl Iterator<Item = f32> + use<'s> {
        self.tree.entry.transmit.map_or(&[][..], |points| points.as_slice()).iter().map(|point| point.value())
    }

    /// Every outlet with a device.
    pub fn outlets(&self) -> impl Iterator<Item = OutletReport<'w>> + use<'w, 's> {
        let report = *self;
        self.tree
            .outlets
            .iter()
            .enumerate()
            .filter(|(_, outlet)| outlet.device != Device::Unused)
            .filter_map(move |(index, _)| report.outlet(OutletId(index as u16)))
    }

    /// One outlet; [`None`] for an unused jack or an outlet of another home.
    #[must_use]
    pub fn outlet(&self, outlet: OutletId) -> Option<OutletReport<'w>> {
        let index = outlet.index();
        let spec = self.tree.outlets.get(index).filter(|outlet| outlet.device != Device::Unused)?;
        let about = |finding: &&Finding| finding.at == At::Outlet(outlet);
        let heard = self.nodes.get(spec.port as usize).is_some_and(|node| !node.spot.no_return);
        Some(OutletReport {
            outlet,
            verdict: self.findings.iter().filter(about).map(|finding| finding.verdict).max().unwrap_or_default(),
            forward: self.layout.get(self.cells, index, Column::Forward),
            tilt: self.layout.head(self.cells, index, Column::Tilt),
            total: self.layout.head(self.cells, index, Column::Total),
            cnr: self.layout.get(self.cells, index, Column::Cnr),
            transmit: heard.then(|| self.layout.get(self.cells, index, Column::Transmit)),
        })
    }

    /// The amplifiers whose loss of power would take an outlet down, nearest to it first.
    pub fn needs_power_at(&self, outlet: OutletId) -> impl Iterator<Item = PartId> + use<'w, 's> {
        let tree = self.tree;
        let port = tree.outlets.get(outlet.index()).map_or(0, |outlet| outlet.port);
        tree.way_up(port).filter_map(move |(part, placed, through)| {
            let number = tree.ports.get(through as usize)?.number;
            (number < placed.part.amplifier()?.outputs).then_some(PartId(part))
        })
    }

    /// The outlets that an amplifier's loss of power would take down.
    pub fn outlets_lost(&self, amplifier: PartId) -> impl Iterator<Item = OutletId> + use<'w, 's> {
        let report = *self;
        self.tree.outlets.iter().enumerate().filter_map(move |(index, outlet)| {
            let id = OutletId(index as u16);
            let lost = outlet.device != Device::Unused && report.needs_power_at(id).any(|part| part == amplifier);
            lost.then_some(id)
        })
    }

    /// Every amplifier.
    pub fn amplifiers(&self) -> impl Iterator<Item = AmplifierReport> + use<'w, 's> {
        let tree = self.tree;
        self.stages.iter().filter_map(move |stage| {
            let part = PartId(stage.part);
            let most = tree.part(part)?.amplifier()?.max_input_total;
            let headroom = (most < f32::INFINITY).then_some(most - stage.input.nominal);
            Some(AmplifierReport { part, input_total: stage.input, headroom })
        })
    }

    /// The feeds whose current passes a port: it stands on the way from the supply to the amplifier.
    pub fn feeds_through(&self, port: PortId) -> impl Iterator<Item = (Feed, Verdict)> + use<'w, 's> {
        let tree = self.tree;
        let is_above =
            move |from: PortId| from == port || tree.way_up(from.0).any(|(_, placed, _)| placed.after == port.0);
        self.feeds().filter(move |(feed, _)| {
            let Some(supply) = tree.supplies.get(feed.supply.index()) else { return false };
            // The way goes up from one and down to the other: what is above both is passed by.
            let (from, to) = (PortId(supply.port), feed.port);
            port == from || port == to || is_above(from) != is_above(to)
        })
    }

    /// Every feed: an amplifier on a supply, with its verdict.
    pub fn feeds(&self) -> impl Iterator<Item = (Feed, Verdict)> + use<'w, 's> {
        let tree = self.tree;
        let nodes = self.nodes;
        feeds(tree, nodes).map(move |feed| {
            // Four is all that can be wrong with one.
            let mut findings: Vec<Finding, 4> = Vec::new();
            if let Some(spec) = tree.part(feed.amplifier).and_then(|part| part.amplifier()) {
                let mut findings = Findings::new(findings.as_mut_view(), None);
                judge_feed(&tree, &mut findings, nodes, feed.port, feed.amplifier, spec);
            }
            let verdict = findings.iter().map(|finding| finding.verdict).max().unwrap_or_default();
            (feed, verdict)
        })
    }

    /// Every port that carries DC from one supply.
    pub fn dc(&self) -> impl Iterator<Item = DcReport> + use<'w, 's> {
        let tree = self.tree;
        self.nodes.iter().enumerate().filter_map(move |(index, Node { power: port, .. })| {
            let supply = SupplyId(port.zone.checked_sub(1)?);
            let spec = tree.supplies.get(supply.index())?;
            let [volts, ..] = port.volts;
            Some(DcReport {
                port: PortId(index as u16),
                supply,
                volts: (volts != COLLAPSED).then_some(volts),
                volts_unloaded: spec.volts.volts(),
                loop_ohms: port.ohms,
                plug_ohms: port.ohms - spec.source.ohms(),
            })
        })
    }

    /// Every link of the home network: each pair of members at both edges of the band.
    pub fn links(&self) -> impl Iterator<Item = LinkReport> + use<'w, 's> {
        let members = self.tree.members;
        let (edges, limit) = self
            .tree
            .home_network
            .map_or(([0.0; 2], 0.0), |network| ([network.band.low.mhz(), network.band.high.mhz()], network.max_loss));
        let pairs = members
            .iter()
            .enumerate()
            .flat_map(move |(index, from)| members.iter().skip(index + 1).map(move |to| (*from, *to)))
            .flat_map(move |pair| edges.map(|mhz| (pair, mhz)));
        pairs.zip(self.layout.links(self.cells)).map(move |(((from, to), mhz), figure)| {
            let loss = (figure.nominal < f32::INFINITY).then_some(figure.nominal);
            let inside = limit == f32::INFINITY || figure.nominal <= limit;
            LinkReport { from, to, mhz, loss, verdict: if inside { Verdict::Pass } else { Verdict::Fail } }
        })
    }
}
