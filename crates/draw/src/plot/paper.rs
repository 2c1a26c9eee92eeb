//! Paper for the plotting crate to draw on: each of its elements becomes one of SVG that says by its class what it is,
//! and `look.rs` says how that looks by day and by night.

use std::cell::RefCell;
use std::convert::Infallible;

use maud::{Markup, html};
use plotters::style::{Color, FontStyle};
use plotters_backend::text_anchor::{HPos, VPos};
use plotters_backend::{BackendColor, BackendCoord, BackendStyle, BackendTextStyle, DrawingBackend, DrawingErrorKind};

use crate::look::{line, n};
use crate::measure;

/// The plotting crate counts in whole units; so many make a pixel.
const UNITS: f32 = 10.0;

/// Pixels in units.
pub(super) fn units(pixels: f32) -> i32 {
    (pixels * UNITS).round() as i32
}

fn pixels(units: i32) -> String {
    n(units as f32 / UNITS)
}

/// What a line, an area or a text is. The plotting crate tells things apart by colour alone: each goes through it as one.
#[derive(Clone, Copy, PartialEq)]
pub(super) enum Role {
    /// What a device takes.
    Window,
    Target,
    Grid,
    /// A limit.
    Edge,
    /// What lies between the extremes.
    Band,
    Curve,
    Carriers,
    Axis,
    Text,
}

impl Role {
    const ALL: [Self; 9] = [
        Self::Window,
        Self::Target,
        Self::Grid,
        Self::Edge,
        Self::Band,
        Self::Curve,
        Self::Carriers,
        Self::Axis,
        Self::Text,
    ];

    const fn class(self) -> &'static str {
        match self {
            Self::Window => "window",
            Self::Target => "target",
            Self::Grid => "hair",
            Self::Edge => "edge",
            Self::Band => "band",
            Self::Curve => "curve",
            Self::Carriers => "carriers",
            Self::Axis => "axis",
            Self::Text => "soft",
        }
    }
}

impl Color for Role {
    fn to_backend_color(&self) -> BackendColor {
        BackendColor { alpha: 1.0, rgb: (*self as u8, 0, 0) }
    }
}

/// The class of what has a colour.
fn class(color: BackendColor) -> &'static str {
    Role::ALL.into_iter().find(|role| *role as u8 == color.rgb.0).map_or("", Role::class)
}

/// What has been drawn so far.
pub(super) struct Paper {
    size: (u32, u32),
    drawn: RefCell<Vec<Markup>>,
}

impl Paper {
    /// So many pixels wide and high.
    pub(super) fn new(width: f32, height: f32) -> Self {
        Self { size: (units(width).unsigned_abs(), units(height).unsigned_abs()), drawn: RefCell::default() }
    }

    /// What has been drawn since the last time.
    pub(super) fn take(&self) -> Markup {
        html! { @for element in self.drawn.take() { (element) } }
    }

    fn put(&self, element: Markup) -> Drawn {
        self.drawn.borrow_mut().push(element);
        Ok(())
    }

    fn path(&self, points: impl IntoIterator<Item = BackendCoord>, class: &str, end: &str) -> Drawn {
        let points: Vec<String> = points.into_iter().map(|(x, y)| format!("{} {}", pixels(x), pixels(y))).collect();
        self.put(html! { path class=(class) d={ "M" (points.join("L")) (end) } {} })
    }
}

type Drawn = Result<(), DrawingErrorKind<Infallible>>;

impl DrawingBackend for &Paper {
    type ErrorType = Infallible;

    fn get_size(&self) -> (u32, u32) {
        self.size
    }

    fn ensure_prepared(&mut self) -> Drawn {
        Ok(())
    }

    fn present(&mut self) -> Drawn {
        Ok(())
    }

    fn draw_pixel(&mut self, (x, y): BackendCoord, color: BackendColor) -> Drawn {
        self.draw_rect((x, y), (x + 1, y + 1), &color, true)
    }

    fn draw_line<S: BackendStyle>(&mut self, from: BackendCoord, to: BackendCoord, style: &S) -> Drawn {
        self.draw_path([from, to], style)
    }

    fn draw_rect<S: BackendStyle>(
        &mut self,
        (left, top): BackendCoord,
        (right, bottom): BackendCoord,
        style: &S,
        _fill: bool, // the style sheet knows
    ) -> Drawn {
        let class = class(style.color());
        self.put(html! { rect class=(class) x=(pixels(left)) y=(pixels(top)) width=(pixels(right - left)) height=(pixels(bottom - top)) {} })
    }

    fn draw_path<S: BackendStyle, I: IntoIterator<Item = BackendCoord>>(&mut self, path: I, style: &S) -> Drawn {
        self.path(path, class(style.color()), "")
    }

    fn fill_polygon<S: BackendStyle, I: IntoIterator<Item = BackendCoord>>(&mut self, points: I, style: &S) -> Drawn {
        self.path(points, class(style.color()), "Z")
    }

    fn draw_text<S: BackendTextStyle>(&mut self, text: &str, style: &S, (x, y): BackendCoord) -> Drawn {
        let size = style.size() as f32 / UNITS;
        let anchor = style.anchor();
        let class = class(style.color());
        let class = match anchor.h_pos {
            HPos::Left => class.to_owned(),
            HPos::Center => format!("{class} m"),
            HPos::Right => format!("{class} e"),
        };
        // From the anchor down to the line that the letters stand on.
        let down = match anchor.v_pos {
            VPos::Top => 0.76,
            VPos::Center => 0.36,
            VPos::Bottom => 0.0,
        };
        self.put(line(x as f32 / UNITS, y as f32 / UNITS + down * size, size, &class, text))
    }

    fn estimate_text_size<S: BackendTextStyle>(
        &self,
        text: &str,
        style: &S,
    ) -> Result<(u32, u32), DrawingErrorKind<Infallible>> {
        let size = style.size() as f32;
        let wide = measure::width(text, size, matches!(style.style(), FontStyle::Bold));
        Ok((wide.ceil() as u32, size.ceil() as u32))
    }
}
