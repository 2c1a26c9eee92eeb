//! One chart: a curve and the band between its extremes over frequency, between limits. Scales, marks on the axes and
//! where everything stands are the plotting crate's.

use std::convert::Infallible;

use legwork::Block;
use maud::{Markup, html};
use plotters::prelude::{
    ChartBuilder, Color, DrawingAreaErrorKind, IntoDrawingArea, LineSeries, PathElement, Polygon, Rectangle,
};

use super::paper::{Paper, Role, units};
use crate::look::{line, n};

/// Room for the figures of the vertical axis.
pub(super) const FIGURES: f32 = 34.0;
/// Room for those of the horizontal one.
const FREQUENCIES: f32 = 18.0;
/// Between the axes.
const HEIGHT: f32 = 120.0;
/// What a chart takes below the place where it is put.
pub(super) const ROOM: f32 = HEIGHT + FREQUENCIES;

/// The axes of charts that are to be compared.
pub(super) struct Axes<'a> {
    pub(super) heading: &'static str,
    /// From which to which frequency, in MHz.
    pub(super) mhz: (f32, f32),
    /// From which to which level, in the file's unit.
    pub(super) levels: (f32, f32),
    /// Pixels from end to end of the frequencies.
    pub(super) width: f32,
    /// Carriers to show along the frequencies.
    pub(super) carriers: &'a [Block],
}

/// A level at a frequency, with its extremes.
pub(super) struct Point {
    pub(super) mhz: f32,
    pub(super) low: f32,
    pub(super) nominal: f32,
    pub(super) high: f32,
}

/// What one chart shows, levels in the file's unit.
pub(super) struct Chart {
    pub(super) curve: Vec<Point>,
    pub(super) limits: (f32, f32),
    pub(super) target: (f32, f32),
}

impl Chart {
    /// Everything that is to be seen between the ends of the vertical axis.
    pub(super) fn levels(&self) -> impl Iterator<Item = f32> {
        let curve = self.curve.iter().flat_map(|point| [point.low, point.high]);
        curve.chain([self.limits.0, self.limits.1]).filter(|level| level.is_finite())
    }

    /// The chart with the left upper corner of its figures at `x`, `y`; its heading stands above that.
    pub(super) fn draw(&self, axes: &Axes<'_>, x: f32, y: f32) -> Markup {
        let drawn =
            self.drawn(axes).unwrap_or_else(|error| line(FIGURES, HEIGHT / 2.0, 9.5, "soft", &error.to_string()));
        html! {
            g transform={ "translate(" (n(x)) " " (n(y)) ")" } {
                (line(FIGURES, -5.0, 9.0, "soft b", axes.heading))
                (drawn)
            }
        }
    }

    fn drawn(&self, axes: &Axes<'_>) -> Result<Markup, DrawingAreaErrorKind<Infallible>> {
        let paper = Paper::new(FIGURES + axes.width, ROOM);
        let area = (&paper).into_drawing_area();
        let ((first, last), (lowest, highest)) = (axes.mhz, axes.levels);
        let mut chart = ChartBuilder::on(&area)
            .y_label_area_size(units(FIGURES))
            .x_label_area_size(units(FREQUENCIES))
            .build_cartesian_2d(first..last, lowest..highest)?;

        let field = |(low, high), role: Role| Rectangle::new([(first, high), (last, low)], role.filled());
        let (low, high) = self.target;
        let target = (low.is_finite() || high.is_finite())
            .then(|| field((low.max(self.limits.0), high.min(self.limits.1)), Role::Target));
        chart.draw_series(std::iter::once(field(self.limits, Role::Window)).chain(target))?;

        chart
            .configure_mesh()
            .disable_x_mesh()
            .max_light_lines(0)
            .bold_line_style(Role::Grid)
            .axis_style(Role::Axis)
            .x_labels((axes.width / 28.0) as usize)
            .y_labels(6)
            .label_style(("sans-serif", units(9.0), &Role::Text))
            .x_label_formatter(&f32::to_string)
            .y_label_formatter(&f32::to_string)
            .set_all_tick_mark_size(units(2.5))
            .draw()?;

        let limits = [self.limits.0, self.limits.1].into_iter().filter(|level| level.is_finite());
        chart.draw_series(limits.map(|level| PathElement::new([(first, level), (last, level)], Role::Edge)))?;

        let upper = self.curve.iter().map(|point| (point.mhz, point.high));
        let lower = self.curve.iter().rev().map(|point| (point.mhz, point.low));
        let nominal = self.curve.iter().map(|point| (point.mhz, point.nominal));
        if !self.curve.is_empty() {
            chart.draw_series([Polygon::new(upper.chain(lower).collect::<Vec<_>>(), Role::Band)])?;
            chart.draw_series(LineSeries::new(nominal, Role::Curve))?;
        }
        let drawn = paper.take();
        let thick = (highest - lowest) * 3.0 / HEIGHT;
        let mut bars = Vec::new();
        for block in axes.carriers {
            let half = block.step() / 2.0;
            let bar = [(block.first() - half, lowest + thick), (block.last() + half, lowest)];
            chart.draw_series([Rectangle::new(bar, Role::Carriers.filled())])?;
            let carriers = if block.count() == 1 { "carrier" } else { "carriers" };
            bars.push(
                html! { g { title { (block.count()) " " (carriers) ", " (ends(block)) " MHz" } (paper.take()) } },
            );
        }
        Ok(html! {
            (drawn)
            @for bar in &bars { (bar) }
            @if self.curve.is_empty() { (line(FIGURES + axes.width / 2.0, HEIGHT / 2.0, 9.5, "soft m", "no way back")) }
        })
    }
}

/// From which to which frequency some carriers stand.
pub(super) fn ends(block: &Block) -> String {
    let (first, last) = (block.first(), block.last());
    if block.count() == 1 { first.to_string() } else { format!("{first} to {last}") }
}
