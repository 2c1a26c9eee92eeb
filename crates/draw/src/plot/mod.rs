//! Levels over frequency at every outlet: forward beside transmit, with limits, target and the band between the extremes.

mod chart;
mod paper;

use legwork::{Figure, Finding, Frequency, Limits, Outlet, OutletReport, Report, Verdict};
use legwork_file::Home;
use maud::{Markup, html};

use crate::drawing::{brief, text_class};
use crate::glyph;
use crate::look::{line, lines, n, svg};
use crate::measure::wrap;
use crate::words::{self, clean};
use chart::{Axes, Chart, Point};

/// The width of one outlet's charts.
const WIDTH: f32 = 480.0;
const MARGIN: f32 = 12.0;
/// Between the axes for what is sent, across.
const SENDS: f32 = 112.0;
const GAP: f32 = 10.0;
/// How many outlets stand one below the other before a second column is begun.
const ONE_COLUMN: usize = 6;
/// Points of one curve.
const POINTS: u16 = 96;

/// Levels over frequency at every outlet as an SVG file: one small chart for each, all with the same axes.
#[must_use]
pub fn plot(home: &Home<'_>, report: &Report<'_, '_>) -> String {
    let panels: Vec<Panel<'_>> = report.outlets().filter_map(|outlet| Panel::new(home, report, &outlet)).collect();
    let page = Page::new(home, &panels);
    let columns = if panels.len() > ONE_COLUMN { 2 } else { 1 };
    let width = WIDTH * columns as f32;
    let name = wrap(&words::name(home), width - 2.0 * MARGIN, 17.0, true);
    let head = 26.0 + 20.0 * name.len() as f32;
    let mut bottoms = vec![head + 6.0; columns];
    let mut charts = Vec::new();
    for (index, panel) in panels.iter().enumerate() {
        let column = index % columns;
        let Some(bottom) = bottoms.get_mut(column) else { continue };
        let (chart, height) = page.panel(panel, column as f32 * WIDTH + MARGIN, *bottom);
        charts.push(chart);
        *bottom += height;
    }
    let bottom = bottoms.into_iter().fold(0.0, f32::max) + 4.0;
    let (key, height) = page.key(bottom, width);
    let about = format!("Level in {} over frequency in MHz at every outlet", home.level(0.0).1);
    let body = html! {
        (lines(MARGIN, 26.0, 20.0, 17.0, "b", &name))
        (line(MARGIN, head - 2.0, 11.0, "soft", &about))
        @for chart in &charts { (chart) }
        (key)
    };
    svg(width, bottom + height, &format!("Levels over frequency: {}", words::name(home)), &body).into_string()
}

/// What is shown of one outlet.
struct Panel<'p> {
    name: String,
    spec: &'p Outlet,
    findings: Vec<&'p Finding>,
    target: &'p Limits,
    forward: Chart,
    /// For a device that sends, where anything sends.
    transmit: Option<Chart>,
}

impl<'p> Panel<'p> {
    fn new(home: &'p Home<'_>, report: &'p Report<'_, '_>, outlet: &OutletReport<'_>) -> Option<Self> {
        let tree = home.tree();
        let spec = tree.outlets().get(outlet.outlet.index())?;
        let (limits, target, port) = (tree.limits(spec.device), tree.target(spec.device), spec.port());
        let spoken = |(low, high): (f32, f32)| (home.level(low).0, home.level(high).0);
        let chart = |mhz, limits, target, figure: &dyn Fn(Frequency) -> Option<Figure>| Chart {
            curve: samples(home, mhz, figure),
            limits: spoken(limits),
            target: spoken(target),
        };
        let forward = chart(loaded(home), limits.forward, target.forward, &|mhz| tree.levels_at(port, mhz).ok());
        let transmit = sent(home).filter(|_| limits.sends()).map(|ends| {
            chart(ends, limits.transmit, target.transmit, &|mhz| tree.transmits_at(port, mhz).ok().flatten())
        });
        let here = legwork::At::Outlet(outlet.outlet);
        let found = |finding: &&Finding| finding.at == here && finding.verdict > Verdict::Pass;
        let findings = report.findings().iter().filter(found).collect();
        Some(Self { name: clean(home.outlet(outlet.outlet)), spec, findings, target, forward, transmit })
    }
}

/// What all charts share.
struct Page<'p> {
    home: &'p Home<'p>,
    forward: Axes<'p>,
    transmit: Axes<'p>,
    has_target: bool,
}

impl<'p> Page<'p> {
    fn new(home: &'p Home<'p>, panels: &[Panel<'_>]) -> Self {
        let sent = sent(home);
        let beside = if sent.is_some() { GAP + chart::FIGURES + SENDS } else { 0.0 };
        let forward = Axes {
            heading: "forward",
            mhz: loaded(home),
            levels: span(panels.iter().flat_map(|panel| panel.forward.levels())),
            width: WIDTH - 2.0 * MARGIN - chart::FIGURES - beside,
            carriers: home.tree().service.blocks(),
        };
        let transmit = Axes {
            heading: "has to send",
            mhz: sent.unwrap_or_default(),
            levels: span(panels.iter().filter_map(|panel| panel.transmit.as_ref()).flat_map(Chart::levels)),
            width: SENDS,
            carriers: &[],
        };
        let has_target = panels.iter().any(|panel| *panel.target != Limits::NONE);
        Self { home, forward, transmit, has_target }
    }

    /// One outlet: its name, what is wrong, its charts; and their height.
    fn panel(&self, panel: &Panel<'_>, x: f32, top: f32) -> (Markup, f32) {
        let named = wrap(&panel.name, WIDTH - 2.0 * MARGIN, 13.0, true);
        let baseline = top + 18.0;
        let about = baseline + 16.0 * (named.len() - 1) as f32 + 13.5;
        let lifeline = if panel.spec.lifeline { " \u{b7} lifeline" } else { "" };
        let device = format!("{}{lifeline}", words::device(panel.spec.device));
        let mut y = about;
        let mut marks = Vec::new();
        for finding in &panel.findings {
            y += 15.0;
            let text = wrap(&brief(self.home, finding), WIDTH - 2.0 * MARGIN - 16.0, 10.5, true);
            marks.push(html! {
                (glyph::mark(x + 5.0, y - 3.5, finding.verdict))
                (lines(x + 15.0, y, 13.5, 10.5, text_class(finding.verdict), &text))
            });
            y += 13.5 * (text.len() - 1) as f32;
        }
        y += 22.0;
        let beside = x + chart::FIGURES + self.forward.width + GAP;
        let markup = html! {
            g {
                title { (panel.name) }
                (lines(x, baseline, 16.0, 13.0, "b", &named))
                (line(x, about, 10.5, "soft", &device))
                @for mark in &marks { (mark) }
                (panel.forward.draw(&self.forward, x, y))
                @if let Some(transmit) = &panel.transmit { (transmit.draw(&self.transmit, beside, y)) }
            }
        };
        (markup, y + chart::ROOM + 14.0 - top)
    }

    /// What the areas mean; and the height of it.
    fn key(&self, top: f32, width: f32) -> (Markup, f32) {
        let target = if self.has_target { " Darker inside it: the operator's target." } else { "" };
        let carriers: Vec<String> = self.home.tree().service.blocks().iter().map(chart::ends).collect();
        let text = format!(
            "Line: nominal. Dark band: from lowest to highest over season, spread and temperature. Pale field between dashed lines: what the device takes.{target} Bars along the axis: loaded carriers, {} MHz.",
            carriers.join(", ")
        );
        let text = wrap(&text, width - 2.0 * MARGIN, 9.5, false);
        let markup = html! {
            path class="hair" d={ "M" (n(MARGIN)) " " (n(top)) "H" (n(width - MARGIN)) } {}
            (lines(MARGIN, top + 15.0, 13.0, 9.5, "soft", &text))
        };
        (markup, 15.0 + 13.0 * (text.len() - 1) as f32 + 10.0)
    }
}

/// Figures at even steps, in the file's unit; none where there are none.
fn samples(home: &Home<'_>, (first, last): (f32, f32), figure: &dyn Fn(Frequency) -> Option<Figure>) -> Vec<Point> {
    let step = (last - first) / f32::from(POINTS);
    let points = (0..=POINTS).map(|number| if number == POINTS { last } else { first + step * f32::from(number) });
    let spoken = |dbmv: f32| home.level(dbmv).0;
    let point = |mhz: f32| {
        let Figure { nominal, low, high } = figure(Frequency::new(mhz).ok()?)?;
        Some(Point { mhz, low: spoken(low), nominal: spoken(nominal), high: spoken(high) })
    };
    points.filter_map(point).collect()
}

/// The frequencies to show forward.
fn loaded(home: &Home<'_>) -> (f32, f32) {
    let service = home.tree().service;
    widen((service.first_carrier(), service.last_carrier()))
}

/// The frequencies to show of what is sent, where anything is known of that.
fn sent(home: &Home<'_>) -> Option<(f32, f32)> {
    home.tree().entry.transmit.map(|points| widen(points.ends()))
}

/// Frequencies with room for marks between them.
fn widen((first, last): (f32, f32)) -> (f32, f32) {
    if last - first < 2.0 { (first - 1.0, last + 1.0) } else { (first, last) }
}

/// From the least to the greatest of some levels, to whole fives beyond.
fn span(levels: impl Iterator<Item = f32>) -> (f32, f32) {
    let widest = (f32::INFINITY, f32::NEG_INFINITY);
    let (low, high) = levels.fold(widest, |(low, high), level| (low.min(level), high.max(level)));
    if low > high {
        return (-20.0, 20.0);
    }
    (((low - 1.0) / 5.0).floor() * 5.0, ((high + 1.0) / 5.0).ceil() * 5.0)
}
