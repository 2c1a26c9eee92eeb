//! The signs of parts and findings: plain shapes that also read in black and white.

use legwork::{Part, Verdict};
use maud::{Markup, html};

use crate::look::n;
use crate::outline::Item;

fn path(class: &str, d: &str) -> Markup {
    html! { path class=(class) d=(d) {} }
}

/// The sign of a row, its centre at 0, 0.
fn shape(item: Item, part: Option<&Part<'_>>) -> Markup {
    let of = |class: &str, d: &str| path(class, d);
    match (item, part) {
        (Item::Entry, _) => html! { circle class="g" r="6.5" {} circle class="solid" r="2.4" {} },
        (Item::Way, _) => html! { circle class="solid" r="1.6" {} },
        (Item::Outlet(_), _) => {
            html! { rect class="g" x="-6" y="-6" width="12" height="12" rx="2.5" {} circle class="solid" r="1.8" {} }
        }
        (Item::Supply(_), _) => of("solid", "M-5 -2.5H5V6H-5Z M-2.5 -6V-3 M2.5 -6V-3"),
        (Item::Open, _) => html! { circle class="g" r="3" {} },
        (Item::Terminator, _) => of("solid", "M-5 -1.5H5V1.5H-5Z"),
        (Item::Part(_), Some(part)) => match part {
            Part::Cable { .. } => html! { rect class="g" x="-2.8" y="-7" width="5.6" height="14" rx="2.8" {} },
            Part::Splitter(_) => of("solid", "M-6 -4H6L0 6Z"),
            Part::Coupler(_) => of("g", "M-6 -4H6L0 6Z M-2 -4L0 -0.5L2 -4"),
            Part::Pad(_) => html! { rect class="g" x="-5" y="-5" width="10" height="10" {} },
            Part::Equalizer(_) => of("g", "M-5 -5H5V5H-5Z M-5 5L5 -5"),
            Part::Filter(_) => of("g", "M-5 -5H5V5H-5Z M-5 2H-1.5L1.5 -2H5"),
            Part::Amplifier(_) => of("g", "M-7.5 -6.5H7.5L0 7Z M0 -3.4V1.6 M-2.5 -0.9H2.5"),
            Part::Inserter(_) => of("g", "M0 -6.5L6.5 0L0 6.5L-6.5 0Z M-2.2 0H2.2 M0 -2.2V2.2"),
            Part::Bond(..) => {
                html! { rect class="paper" x="-7" y="-5" width="14" height="11" {} (of("g", "M0 -7V-2 M-6.5 -2H6.5 M-4.2 1.5H4.2 M-2 5H2")) }
            }
            Part::Joint(_) => html! { circle class="g" r="3.6" {} },
        },
        (Item::Part(_), None) => html! {},
    }
}

/// The sign of a row at a place.
pub(crate) fn sign(x: f32, y: f32, item: Item, part: Option<&Part<'_>>) -> Markup {
    html! { g transform={ "translate(" (n(x)) " " (n(y)) ")" } { (shape(item, part)) } }
}

/// The mark of a finding: a struck-out disc for fail, a warning triangle for marginal.
pub(crate) fn mark(x: f32, y: f32, verdict: Verdict) -> Markup {
    html! {
        g transform={ "translate(" (n(x)) " " (n(y)) ")" } {
            @if verdict == Verdict::Fail {
                circle class="failmark" r="5.2" {}
                path class="knock" d="M-2.2 -2.2L2.2 2.2M2.2 -2.2L-2.2 2.2" {}
            } @else {
                path class="marginalmark" d="M0 -5L5.4 4.4H-5.4Z" {}
                path class="bang" d="M0 -1.6V0.9M0 2.9V3" {}
            }
        }
    }
}

/// The mark of a lifeline: a ring.
pub(crate) fn lifeline(x: f32, y: f32) -> Markup {
    html! { g transform={ "translate(" (n(x)) " " (n(y)) ")" } { circle class="g" r="4.6" {} path class="rail" d="M-2 0H2M0 -2V2" {} } }
}
