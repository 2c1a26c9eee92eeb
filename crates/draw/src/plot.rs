//! Levels over frequency at every outlet: forward beside transmit, with limits, target and the band between the extremes.

use legwork::{Figure, Frequency, Limits, OutletId, OutletReport, Report, Verdict};
use legwork_file::Home;
use maud::{Markup, html};

use crate::drawing::{brief, text_class};
use crate::glyph;
use crate::look::{line, lines, n, svg};
use crate::measure::wrap;
use crate::words::{self, clean};

/// The width of one outlet's charts.
const WIDTH: f32 = 480.0;
const MARGIN: f32 = 12.0;
/// Room for the figures of the vertical axis.
const FIGURES: f32 = 34.0;
const HEIGHT: f32 = 120.0;
/// How many outlets stand one below the other before a second column is begun.
const ONE_COLUMN: usize = 6;
/// Points of one curve.
const POINTS: u16 = 96;

/// Levels over frequency at every outlet as an SVG file: one small chart for each, all with the same axes.
#[must_use]
pub fn plot(home: &Home<'_>, report: &Report<'_, '_>) -> String {
    let page = Page::new(home, report);
    let outlets: Vec<OutletReport<'_>> = report.outlets().collect();
    let columns = if outlets.len() > ONE_COLUMN { 2 } else { 1 };
    let mut bottoms = vec![0.0; columns];
    let name = wrap(&words::name(home), WIDTH * columns as f32 - 2.0 * MARGIN, 17.0, true);
    let head = 26.0 + 20.0 * name.len() as f32 + 6.0;
    bottoms.fill(head);
    let mut charts = Vec::new();
    for (index, outlet) in outlets.iter().enumerate() {
        let column = index % columns;
        let Some(bottom) = bottoms.get_mut(column) else { continue };
        let (chart, height) = page.outlet(outlet, column as f32 * WIDTH, *bottom);
        charts.push(chart);
        *bottom += height;
    }
    let bottom = bottoms.into_iter().fold(0.0, f32::max);
    let width = WIDTH * columns as f32;
    let (key, height) = page.key(bottom + 4.0, width);
    let body = html! {
        (lines(MARGIN, 26.0, 20.0, 17.0, "b", &name))
        (line(MARGIN, 26.0 + 20.0 * name.len() as f32 - 2.0, 11.0, "soft", &format!("Level over frequency at every outlet, {}", home.level(0.0).1)))
        @for chart in &charts { (chart) }
        (key)
    };
    svg(width, bottom + 4.0 + height, &format!("Levels over frequency: {}", words::name(home)), &body).into_string()
}

/// A curve with its extremes.
type Curve = Vec<(f32, Figure)>;

/// What all charts share: the axes.
struct Page<'p> {
    home: &'p Home<'p>,
    report: &'p Report<'p, 'p>,
    forward: Axes,
    transmit: Option<Axes>,
}

/// One chart's axes: MHz across, dBmV up.
#[derive(Clone, Copy)]
struct Axes {
    mhz: (f32, f32),
    level: (f32, f32),
    width: f32,
}

impl Axes {
    fn x(&self, mhz: f32) -> f32 {
        let (low, high) = self.mhz;
        if high > low { (mhz - low) / (high - low) * self.width } else { self.width / 2.0 }
    }

    /// Downwards from the top of the chart.
    fn y(&self, level: f32) -> f32 {
        let (low, high) = self.level;
        ((high - level) / (high - low)).clamp(0.0, 1.0) * HEIGHT
    }
}

impl<'p> Page<'p> {
    fn new(home: &'p Home<'p>, report: &'p Report<'p, 'p>) -> Self {
        let tree = home.tree();
        let service = tree.service;
        let sent = tree.entry.transmit.map(|points| points.ends());
        let (mut levels, mut sends) = (Vec::new(), Vec::new());
        for outlet in report.outlets() {
            let Some(spec) = tree.outlets().get(outlet.outlet.index()) else { continue };
            let limits = tree.limits(spec.device);
            let extremes =
                |figures: &[Figure]| figures.iter().flat_map(|figure| [figure.low, figure.high]).collect::<Vec<_>>();
            levels.extend(extremes(outlet.forward));
            levels.extend([limits.forward.0, limits.forward.1]);
            sends.extend(extremes(outlet.transmit.unwrap_or_default()));
            sends.extend([limits.transmit.0, limits.transmit.1]);
        }
        let room = WIDTH - 2.0 * MARGIN - FIGURES;
        let transmit_width = if sent.is_some() { 112.0 } else { 0.0 };
        let gap = if sent.is_some() { FIGURES + 10.0 } else { 0.0 };
        let widen = |(low, high): (f32, f32)| if low < high { (low, high) } else { (low - 1.0, high + 1.0) };
        let forward = Axes {
            mhz: widen((service.first_carrier(), service.last_carrier())),
            level: span(&levels),
            width: room - transmit_width - gap,
        };
        let transmit = sent.map(|ends| Axes { mhz: widen(ends), level: span(&sends), width: transmit_width });
        Self { home, report, forward, transmit }
    }

    /// One outlet: its name, what is wrong, its charts; and their height.
    fn outlet(&self, outlet: &OutletReport<'_>, left: f32, top: f32) -> (Markup, f32) {
        let tree = self.home.tree();
        let Some(spec) = tree.outlets().get(outlet.outlet.index()) else { return (html! {}, 0.0) };
        let x = left + MARGIN;
        let (limits, target) = (tree.limits(spec.device), tree.target(spec.device));
        let name = clean(self.home.outlet(outlet.outlet));
        let named = wrap(&name, WIDTH - 2.0 * MARGIN, 13.0, true);
        let mut y = top + 18.0;
        let baseline = y;
        y += 16.0 * (named.len() - 1) as f32 + 13.5;
        let lifeline = if spec.lifeline { " \u{b7} lifeline" } else { "" };
        let about = format!("{}{lifeline}", words::device(spec.device));
        let about_y = y;
        let mut marks = Vec::new();
        for finding in self.findings(outlet.outlet) {
            y += 15.0;
            let text = wrap(&brief(finding), WIDTH - 2.0 * MARGIN - 16.0, 10.5, true);
            marks.push(html! {
                (glyph::mark(x + 5.0, y - 3.5, finding.verdict))
                (lines(x + 15.0, y, 13.5, 10.5, text_class(finding.verdict), &text))
            });
            y += 13.5 * (text.len() - 1) as f32;
        }
        let chart = y + 22.0;
        let transmit_x = x + FIGURES + self.forward.width + FIGURES + 10.0;
        let port = spec.port();
        let forward = samples(self.forward.mhz, |mhz| tree.levels_at(port, mhz).ok());
        let markup = html! {
            g {
                title { (name) }
                (lines(x, baseline, 16.0, 13.0, "b", &named))
                (line(x, about_y, 10.5, "soft", &about))
                @for mark in &marks { (mark) }
                (self.chart(&self.forward, x + FIGURES, chart, "forward", &forward, limits.forward, target.forward))
                (self.carriers(x + FIGURES, chart + HEIGHT))
                @if let Some(axes) = self.transmit.as_ref().filter(|_| limits.sends()) {
                    (self.chart(axes, transmit_x, chart, "has to send", &samples(axes.mhz, |mhz| tree.transmits_at(port, mhz).ok().flatten()), limits.transmit, target.transmit))
                }
            }
        };
        (markup, chart + HEIGHT + 32.0 - top)
    }

    fn findings(&self, outlet: OutletId) -> impl Iterator<Item = &legwork::Finding> {
        let here = legwork::At::Outlet(outlet);
        self.report.findings().iter().filter(move |finding| finding.at == here && finding.verdict > Verdict::Pass)
    }

    /// One chart with its left upper corner at `x`, `y`.
    #[allow(clippy::too_many_arguments, reason = "a chart is what it shows")]
    fn chart(
        &self,
        axes: &Axes,
        x: f32,
        y: f32,
        what: &str,
        curve: &Curve,
        limits: (f32, f32),
        target: (f32, f32),
    ) -> Markup {
        let (low, high) = axes.mhz;
        let point = |mhz: f32, level: f32| format!("{} {}", n(x + axes.x(mhz)), n(y + axes.y(level)));
        let along = |of: &dyn Fn(&Figure) -> f32, back: bool| {
            let mut points: Vec<String> = curve.iter().map(|(mhz, figure)| point(*mhz, of(figure))).collect();
            if back {
                points.reverse();
            }
            points.join("L")
        };
        let area = |(bottom, top): (f32, f32), class: &str| {
            let (from, to) = (axes.y(top.min(axes.level.1)), axes.y(bottom.max(axes.level.0)));
            html! { rect class=(class) x=(n(x)) y=(n(y + from)) width=(n(axes.width)) height=(n((to - from).max(0.0))) {} }
        };
        let inside = |level: &f32| level.is_finite() && *level >= axes.level.0 && *level <= axes.level.1;
        html! {
            (area(limits, "window"))
            @if target.0.is_finite() || target.1.is_finite() { (area((target.0.max(limits.0), target.1.min(limits.1)), "target")) }
            @for level in ticks(axes.level) {
                path class="hair" d={ "M" (n(x)) " " (n(y + axes.y(level))) "h" (n(axes.width)) } {}
                (line(x - 5.0, y + axes.y(level) + 3.2, 9.0, "soft e", &format!("{}", self.home.level(level).0.round())))
            }
            @for level in [limits.0, limits.1].iter().filter(|level| inside(level)) {
                path class="edge" d={ "M" (n(x)) " " (n(y + axes.y(*level))) "h" (n(axes.width)) } {}
            }
            @if curve.is_empty() {
                (line(x + axes.width / 2.0, y + HEIGHT / 2.0, 9.5, "soft m", "no way back"))
            } @else {
                path class="band" d={ "M" (along(&|figure| figure.high, false)) "L" (along(&|figure| figure.low, true)) "Z" } {}
                path class="curve" d={ "M" (along(&|figure| figure.nominal, false)) } {}
            }
            path class="axis" d={ "M" (n(x)) " " (n(y)) "v" (n(HEIGHT)) "h" (n(axes.width)) } {}
            (line(x, y - 5.0, 9.0, "soft b", what))
            (line(x, y + HEIGHT + 17.0, 9.0, "soft", &low.to_string()))
            (line(x + axes.width, y + HEIGHT + 17.0, 9.0, "soft e", &format!("{high} MHz")))
        }
    }

    /// The loaded carriers: a block for each row of them below the axis.
    fn carriers(&self, x: f32, y: f32) -> Markup {
        html! {
            @for block in self.home.tree().service.blocks() {
                @let from = self.forward.x(block.first());
                @let to = self.forward.x(block.last());
                rect class="carriers" x=(n(x + from)) y=(n(y + 2.0)) width=(n((to - from).max(1.5))) height="3" {
                    title { (block.count()) " carriers from " (block.first()) " to " (block.last()) " MHz" }
                }
            }
        }
    }

    /// What the areas mean.
    fn key(&self, top: f32, width: f32) -> (Markup, f32) {
        let targets = self.report.outlets().any(|outlet| {
            let spec = self.home.tree().outlets().get(outlet.outlet.index());
            spec.is_some_and(|spec| *self.home.tree().target(spec.device) != Limits::NONE)
        });
        let target = if targets { " Darker inside it: the operator's target." } else { "" };
        let text = format!(
            "Line: nominal. Dark band: from lowest to highest over season, spread and temperature. Pale field between dashed lines: what the device takes.{target} Bars below the axis: loaded carriers."
        );
        let text = wrap(&text, width - 2.0 * MARGIN, 9.5, false);
        let markup = html! {
            path class="hair" d={ "M" (n(MARGIN)) " " (n(top)) "H" (n(width - MARGIN)) } {}
            (lines(MARGIN, top + 15.0, 13.0, 9.5, "soft", &text))
        };
        (markup, 15.0 + 13.0 * (text.len() - 1) as f32 + 10.0)
    }
}

/// Figures at even steps; none where there are none.
fn samples((low, high): (f32, f32), figure: impl Fn(Frequency) -> Option<Figure>) -> Curve {
    let step = (high - low) / f32::from(POINTS);
    (0..=POINTS)
        .map(|number| if number == POINTS { high } else { low + step * f32::from(number) })
        .filter_map(|mhz| Some((mhz, figure(Frequency::new(mhz).ok()?)?)))
        .collect()
}

/// From the least to the greatest of some levels, to whole fives beyond.
fn span(levels: &[f32]) -> (f32, f32) {
    let finite = levels.iter().copied().filter(|level| level.is_finite());
    let (low, high) =
        finite.fold((f32::INFINITY, f32::NEG_INFINITY), |(low, high), level| (low.min(level), high.max(level)));
    if low > high {
        return (-20.0, 20.0);
    }
    (((low - 1.0) / 5.0).floor() * 5.0, ((high + 1.0) / 5.0).ceil() * 5.0)
}

/// Whole levels to mark: few enough to be read.
fn ticks((low, high): (f32, f32)) -> Vec<f32> {
    let step = [5.0, 10.0, 20.0, 50.0, 100.0].into_iter().find(|step| (high - low) / step <= 5.0).unwrap_or(200.0);
    let first = (low / step).ceil() as i32;
    let last = (high / step).floor() as i32;
    (first..=last).map(|number| number as f32 * step).collect()
}
