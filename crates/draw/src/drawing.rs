//! The drawing of a home: from the entry at the top down to the outlets, levels in columns beside it.

use legwork::{Finding, Frequency, Report, Verdict};
use legwork_file::{Home, says, summary};
use maud::{Markup, html};

use crate::glyph;
use crate::look::{line, lines, n, svg};
use crate::measure::{width, wrap};
use crate::outline::{Item, Row, rows};
use crate::words::{self, Columns, clean};

/// The least width: a phone shows it as it is.
const WIDTH: f32 = 340.0;
/// Where the first rail stands, and how far apart they are.
const LEFT: f32 = 20.0;
const STEP: f32 = 17.0;
/// From a rail to its texts.
const GAP: f32 = 13.0;
/// What a name has at least.
const NARROWEST: f32 = 190.0;
/// A column of levels.
const COLUMN: f32 = 47.0;
const RIGHT: f32 = 12.0;
const NAME: f32 = 12.5;
const SMALL: f32 = 10.5;
const NAME_STEP: f32 = 15.0;
const SMALL_STEP: f32 = 13.5;

/// The drawing of a home as an SVG file: every part with its name, kind and length, the levels at every way out at the
/// first and last carrier and transmit frequency, DC where a port carries it, lifelines, and what is wrong where it is.
#[must_use]
pub fn drawing(home: &Home<'_>, report: &Report<'_, '_>) -> String {
    Drawing::new(home, report).draw(true).into_string()
}

/// The same without its title, to stand in a page that has one.
pub(crate) fn in_page(home: &Home<'_>, report: &Report<'_, '_>) -> Markup {
    Drawing::new(home, report).draw(false)
}

/// A row and where it stands.
struct Placed {
    row: Row,
    x: f32,
    /// The middle of its sign.
    y: f32,
    body: Markup,
}

struct Drawing<'d> {
    home: &'d Home<'d>,
    report: &'d Report<'d, 'd>,
    columns: Columns,
    rows: Vec<Row>,
    width: f32,
}

impl<'d> Drawing<'d> {
    fn new(home: &'d Home<'d>, report: &'d Report<'d, 'd>) -> Self {
        let columns = Columns::of(home);
        let rows = rows(home);
        let deepest = rows.iter().map(|row| row.depth).max().unwrap_or(0) as f32;
        let levels = (columns.forward.len() + columns.transmit.len()) as f32 * COLUMN;
        let width = WIDTH.max(LEFT + deepest * STEP + GAP + NARROWEST + levels + RIGHT);
        Self { home, report, columns, rows, width }
    }

    fn draw(&self, titled: bool) -> Markup {
        let (title, y) = if titled { self.title() } else { (html! {}, -4.0) };
        let (head, mut y) = self.heads(y);
        let mut placed: Vec<Placed> = Vec::with_capacity(self.rows.len());
        for row in &self.rows {
            let (row, height) = self.place(row, y);
            placed.push(row);
            y += height;
        }
        let (key, height) = self.key(y + 8.0);
        let body = html! {
            (title)
            (head)
            @for row in &placed { (self.rail(&placed, row)) }
            @for row in &placed { (row.body) }
            (key)
        };
        svg(self.width, y + 8.0 + height, &format!("Drawing of {}", words::name(self.home)), &body)
    }

    /// The right end of a column of levels.
    fn column(&self, index: usize) -> f32 {
        let count = self.columns.forward.len() + self.columns.transmit.len();
        self.width - RIGHT - COLUMN * (count - 1 - index) as f32
    }

    fn levels_from(&self) -> f32 {
        self.column(0) - COLUMN + 4.0
    }

    /// Name and verdict; and where they end.
    fn title(&self) -> (Markup, f32) {
        let name = wrap(&words::name(self.home), self.width - 2.0 * RIGHT, 17.0, true);
        let (verdict, summary) = (self.report.verdict(), summary(self.report));
        let mut y = 26.0;
        let (title, after) = (y, y + 20.0 * name.len() as f32);
        y = after;
        let passed = verdict == Verdict::Pass;
        let markup = html! {
            (lines(RIGHT, title, 20.0, 17.0, "b", &name))
            @if !passed { (glyph::mark(RIGHT + 5.5, y - 4.0, verdict)) }
            (line(if passed { RIGHT } else { RIGHT + 16.0 }, y, 12.0, text_class(verdict), &format!("{}: {summary}", words::verdict(verdict))))
        };
        (markup, y)
    }

    /// The heads of the columns below `y`; and where they end.
    fn heads(&self, y: f32) -> (Markup, f32) {
        let unit = self.home.level(0.0).1;
        let forward = self.columns.forward.len();
        let heads = y + 26.0;
        let markup = html! {
            (line(self.column(forward.saturating_sub(1)), heads - 13.0, 10.0, "b e", &format!("forward {unit}")))
            @if let Some(last) = self.columns.transmit.len().checked_sub(1) {
                // A single column has no room for more.
                (line(self.column(forward + last), heads - 13.0, 10.0, "b e", if last == 0 { "sends" } else { "has to send" }))
            }
            @for (index, mhz) in self.columns.forward.iter().chain(&self.columns.transmit).enumerate() {
                (line(self.column(index), heads, 9.5, "soft e", &megahertz(*mhz)))
            }
            path class="axis" d={ "M" (n(RIGHT)) " " (n(heads + 6.0)) "H" (n(self.width - RIGHT)) } {}
        };
        (markup, heads + 10.0)
    }

    /// One row from `top` on, and its height.
    fn place(&self, row: &Row, top: f32) -> (Placed, f32) {
        let (home, report) = (self.home, self.report);
        let x = LEFT + row.depth as f32 * STEP;
        let from = x + GAP;
        let part = match row.item {
            Item::Part(part) => home.tree().part(part),
            _ => None,
        };
        let is_way = row.item == Item::Way;
        let (name, details) = self.texts(row);
        let mut y = top + if is_way { 13.0 } else { 17.0 };
        let sign = y - 4.0;
        let room = self.levels_from() - from - 4.0;
        let wide = self.width - RIGHT - from;
        let title = match row.item {
            Item::Way => row.port.map_or_else(String::new, |port| clean(&home.port(port))),
            _ => std::iter::once(name.clone()).chain(details.clone()).collect::<Vec<_>>().join(", "),
        };
        let size = if is_way { 11.0 } else { NAME };
        let named = wrap(&name, room, size, !is_way);
        let baseline = y;
        let bold = matches!(row.item, Item::Outlet(_) | Item::Entry);
        let levels = row.port.filter(|port| home.tree().carries_signal(*port));
        let levels = levels.map_or_else(Vec::new, |port| self.columns.levels(home, port));
        let unused = |item| matches!(item, Item::Outlet(outlet) if report.outlet(outlet).is_none());
        let levels = if unused(row.item) { Vec::new() } else { levels };
        y += NAME_STEP * (named.len() - 1) as f32;
        let mut under = Vec::new();
        if !details.is_empty() {
            let text = details.join(" \u{b7} ");
            let detail = wrap(&text, room, SMALL, false);
            y += SMALL_STEP;
            under.push(lines(from, y, SMALL_STEP, SMALL, "soft", &detail));
            y += SMALL_STEP * (detail.len() - 1) as f32;
        }
        if let Some(dc) = row.dc(report) {
            y += SMALL_STEP;
            under.push(line(from, y, SMALL, "b dctext", &dc));
        }
        if self.is_lifeline(row) {
            y += SMALL_STEP + 1.0;
            under.push(html! { (glyph::lifeline(from + 5.0, y - 3.5)) (line(from + 14.0, y, SMALL, "b", "lifeline")) });
        }
        for finding in row.findings(report) {
            y += SMALL_STEP + 1.5;
            let text = wrap(&brief(home, finding), wide - 15.0, SMALL, true);
            under.push(html! {
                g {
                    title { (clean(&says(home, report, finding))) }
                    (glyph::mark(from + 5.0, y - 3.5, finding.verdict))
                    (lines(from + 15.0, y, SMALL_STEP, SMALL, text_class(finding.verdict), &text))
                }
            });
            y += SMALL_STEP * (text.len() - 1) as f32;
        }
        let body = html! {
            g {
                title { (title) }
                (glyph::sign(x, sign, row.item, part))
                (lines(from, baseline, NAME_STEP, size, if is_way { "soft" } else { "b" }, &named))
                @for (index, level) in levels.iter().enumerate() {
                    (line(self.column(index), baseline, 11.5, if bold { "b e" } else { "e" }, level))
                }
            }
            @for text in &under { (text) }
        };
        let placed = Placed { row: row.clone(), x, y: sign, body };
        (placed, y - top + if is_way { 4.0 } else { 7.0 })
    }

    /// The name of a row and what stands below it.
    fn texts(&self, row: &Row) -> (String, Vec<String>) {
        let home = self.home;
        match row.item {
            Item::Entry => ("entry".to_owned(), vec!["what was read here".to_owned()]),
            Item::Part(part) => (clean(home.part(part)), words::details(home, part)),
            Item::Way => {
                let way = row.port.map_or_else(String::new, |port| home.way(port));
                (row.end.map_or(way.clone(), |end| format!("{way} \u{b7} {end}")), Vec::new())
            }
            Item::Outlet(outlet) => {
                let spec = home.tree().outlets().get(outlet.index());
                (
                    clean(home.outlet(outlet)),
                    spec.map(|spec| words::device(spec.device).to_owned()).into_iter().collect(),
                )
            }
            Item::Supply(supply) => {
                let spec = home.tree().supplies().get(supply.index());
                let gives = spec.map(|spec| format!("{} V, up to {} A", spec.volts.volts(), spec.amps.amps()));
                (clean(home.supply(supply)), std::iter::once("supply".to_owned()).chain(gives).collect())
            }
            Item::Open => ("open".to_owned(), Vec::new()),
            Item::Terminator => ("terminated".to_owned(), Vec::new()),
        }
    }

    fn is_lifeline(&self, row: &Row) -> bool {
        let Item::Outlet(outlet) = row.item else { return false };
        self.home.tree().outlets().get(outlet.index()).is_some_and(|spec| spec.lifeline)
    }

    /// The line from a row up to the one it hangs on.
    fn rail(&self, placed: &[Placed], row: &Placed) -> Markup {
        let Some(parent) = row.row.parent.and_then(|parent| placed.get(parent)) else { return html! {} };
        let d = if parent.x < row.x {
            let bend = 7.0;
            format!(
                "M{} {}V{}Q{} {} {} {}H{}",
                n(parent.x),
                n(parent.y),
                n(row.y - bend),
                n(parent.x),
                n(row.y),
                n(parent.x + bend),
                n(row.y),
                n(row.x)
            )
        } else {
            format!("M{} {}V{}", n(parent.x), n(parent.y), n(row.y))
        };
        let dc = self.report.dc().any(|dc| dc.port == row.row.hangs_on);
        html! {
            @if dc { path class="dcrail" d=(d) {} }
            path class="rail" d=(d) {}
        }
    }

    /// What the marks mean, as far as they stand here; and its height.
    fn key(&self, top: f32) -> (Markup, f32) {
        let has = |verdict| self.report.findings().iter().any(|finding| finding.verdict == verdict);
        let y = top + 14.0;
        let mut entries: Vec<Markup> = Vec::new();
        let mut x = RIGHT + 6.0;
        for (verdict, word, wide) in [(Verdict::Fail, "fail", 52.0), (Verdict::Marginal, "marginal", 82.0)] {
            if has(verdict) {
                entries.push(html! { (glyph::mark(x, y - 3.5, verdict)) (line(x + 10.0, y, 9.5, "soft", word)) });
                x += wide;
            }
        }
        if self.report.dc().next().is_some() {
            let d = format!("M{} {}H{}", n(x - 5.0), n(y - 3.5), n(x + 17.0));
            entries.push(html! {
                path class="dcrail" d=(d) {}
                path class="rail" d=(d) {}
                (line(x + 22.0, y, 9.5, "soft", "carries DC"))
            });
        }
        let sends = if self.columns.transmit.is_empty() {
            ""
        } else {
            "; has to send: a modem's level, to be heard at the entry"
        };
        let note = format!("Levels are nominal{sends}.");
        let note = wrap(&note, self.width - 2.0 * RIGHT, 9.5, false);
        let below = if entries.is_empty() { y } else { y + 15.0 };
        let markup = html! {
            path class="hair" d={ "M" (n(RIGHT)) " " (n(top)) "H" (n(self.width - RIGHT)) } {}
            @for entry in &entries { (entry) }
            (lines(RIGHT, below, 13.0, 9.5, "soft", &note))
        };
        (markup, below - top + 13.0 * (note.len() - 1) as f32 + 10.0)
    }
}

/// A frequency, its unit where a column has room for it.
fn megahertz(frequency: Frequency) -> String {
    let text = format!("{} MHz", frequency.mhz());
    if width(&text, 9.5, false) <= COLUMN + 4.0 { text } else { frequency.mhz().to_string() }
}

/// A finding in a few words, its verdict first, levels in the file's own unit.
pub(crate) fn brief(home: &Home<'_>, finding: &Finding) -> String {
    format!("{} {}", words::verdict(finding.verdict), home.spoken(finding).brief())
}

/// How the text of a verdict looks.
pub(crate) const fn text_class(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::Pass => "b",
        Verdict::Marginal => "b marginaltext",
        Verdict::Fail => "b failtext",
    }
}
