//! How every picture looks: its styles, by day and by night, and the shell of an SVG file.

use maud::{Markup, PreEscaped, html};

/// Styles of all pictures. Every rule begins with `.lw`, so that a picture changes nothing around it in a page. Colours
/// only help: whatever they say stands there as a shape and a word too.
const STYLE: &str = "\
.lw{font-family:system-ui,-apple-system,'Segoe UI',Roboto,'Noto Sans',Helvetica,Arial,sans-serif;font-variant-numeric:tabular-nums}\
.lw text{fill:#1d2329;unicode-bidi:isolate}.lw .paper{fill:#fff}.lw .b{font-weight:700}.lw .e{text-anchor:end}.lw .m{text-anchor:middle}\
.lw .soft{fill:#59636e}.lw .rail{stroke:#1d2329;stroke-width:1.8;fill:none;stroke-linecap:round}\
.lw .dcrail{stroke:#0b5f8a;stroke-width:4.2;stroke-dasharray:1.5 4.5;fill:none}.lw .dctext{fill:#0b5f8a}\
.lw .g{stroke:#1d2329;stroke-width:1.6;fill:#fff;stroke-linejoin:round}.lw .solid{stroke:#1d2329;stroke-width:1.6;fill:#1d2329;stroke-linejoin:round}\
.lw .hair{stroke:#d3d8dd;stroke-width:1;fill:none}.lw .axis{stroke:#59636e;stroke-width:1;fill:none}\
.lw .failmark{fill:#b3261e}.lw .failtext{fill:#b3261e}.lw .marginalmark{fill:#fff;stroke:#8a5a00;stroke-width:1.6;stroke-linejoin:round}.lw .marginaltext{fill:#7a4f00}\
.lw .knock{stroke:#fff;stroke-width:1.7;stroke-linecap:round;fill:none}.lw .bang{stroke:#8a5a00;stroke-width:1.6;stroke-linecap:round}\
.lw .band{fill:#1c6e6a;fill-opacity:.28}.lw .curve{stroke:#12524f;stroke-width:1.8;fill:none;stroke-linejoin:round}\
.lw .window{fill:#eef1f3}.lw .edge{stroke:#59636e;stroke-width:1;stroke-dasharray:5 3;fill:none}\
.lw .target{fill:#dbe7e2}.lw .carriers{fill:#59636e;stroke:#59636e}";

/// What is different by night, on a screen.
const NIGHT: &str = "\
.lw text{fill:#e6e9ec}.lw .paper{fill:#14181c}.lw .soft{fill:#a4adb6}.lw .rail{stroke:#e6e9ec}.lw .dcrail{stroke:#6cc0ee}.lw .dctext{fill:#6cc0ee}\
.lw .g{stroke:#e6e9ec;fill:#14181c}.lw .solid{stroke:#e6e9ec;fill:#e6e9ec}.lw .hair{stroke:#343c44}.lw .axis{stroke:#a4adb6}\
.lw .failmark{fill:#ff8a80}.lw .failtext{fill:#ff8a80}.lw .marginalmark{fill:#14181c;stroke:#f0b94d}.lw .marginaltext{fill:#f0b94d}\
.lw .knock{stroke:#14181c}.lw .bang{stroke:#f0b94d}.lw .band{fill:#5cc4bd;fill-opacity:.3}.lw .curve{stroke:#7fdcd5}\
.lw .window{fill:#20262c}.lw .edge{stroke:#a4adb6}.lw .target{fill:#24352f}.lw .carriers{fill:#a4adb6;stroke:#a4adb6}";

/// A whole picture: `width` by `height` user units, with a name for those who do not see it.
pub(crate) fn svg(width: f32, height: f32, name: &str, body: &Markup) -> Markup {
    html! {
        svg xmlns="http://www.w3.org/2000/svg" class="lw" viewBox={ "0 0 " (n(width)) " " (n(height)) } width=(n(width)) height=(n(height)) role="img" aria-label=(name) {
            title { (name) }
            style { (PreEscaped(STYLE)) "@media screen and (prefers-color-scheme:dark){" (PreEscaped(NIGHT)) "}" }
            rect class="paper" width=(n(width)) height=(n(height)) {}
            (body)
        }
    }
}

/// A coordinate: a tenth of a pixel is finer than any eye.
pub(crate) fn n(number: f32) -> String {
    let text = format!("{number:.1}");
    text.strip_suffix(".0").map_or(text.clone(), str::to_owned)
}

/// Lines of one text, one below the other; the whole text is theirs.
pub(crate) fn lines(x: f32, y: f32, step: f32, size: f32, class: &str, lines: &[String]) -> Markup {
    html! {
        text class=(class) font-size=(n(size)) {
            @for (row, line) in lines.iter().enumerate() { tspan x=(n(x)) y=(n(y + step * row as f32)) { (line) } }
        }
    }
}

/// One line of text.
pub(crate) fn line(x: f32, y: f32, size: f32, class: &str, text: &str) -> Markup {
    html! { text class=(class) font-size=(n(size)) x=(n(x)) y=(n(y)) { (text) } }
}
