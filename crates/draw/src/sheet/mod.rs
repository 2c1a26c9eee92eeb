//! The job sheet: one HTML file for paper and phone.

mod expected;
mod runs;
mod steps;

use legwork::{Occupant, Part, Report, Verdict};
use legwork_file::caution::{self, Scene};
use legwork_file::{Home, says, summary, tenths};
use maud::{DOCTYPE, Markup, PreEscaped, html};

use crate::drawing;
use crate::words::{self, clean};
use steps::{heed, steps};

const STYLE: &str = include_str!("sheet.css");
const SCRIPT: &str = include_str!("sheet.js");

/// The job sheet of a home as an HTML file that fetches nothing: the drawing, what to take, cut lengths, a tag for both
/// ends of every run, what is expected beside room for what was read, DC figures, and cautions where they apply.
#[must_use]
pub fn sheet(home: &Home<'_>, report: &Report<'_, '_>) -> String {
    let name = words::name(home);
    let scene = Scene::checked(report);
    html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                // Whatever a file holds: nothing is fetched, and nothing is sent.
                meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'; script-src 'unsafe-inline'; base-uri 'none'; form-action 'none'";
                title { (name) " \u{2013} job sheet" }
                style { (PreEscaped(STYLE)) }
            }
            body {
                header {
                    h1 { bdi { (name) } }
                    p.verdict { (words::verdict(report.verdict())) ": " (summary(report)) }
                    dl.who {
                        @for what in ["date", "hour", "temperature", "by hand of"] {
                            div { dt { (what) } dd { input.blank type="text" aria-label=(what); } }
                        }
                    }
                }
                main {
                    section.drawing { h2 { "The home" } (drawing::in_page(home, report)) (wrongs(home, report)) }
                    section { h2 { "Parts to take" } (parts(home)) }
                    section { h2 { "Cut lengths" } (runs::lengths(home)) }
                    section { h2 { "At the work" } (steps(&scene)) }
                    @if caution::DC_AT_PORTS.holds(&scene) {
                        section.power { h2 { "DC" } (heed(&caution::DC_AT_PORTS, &scene)) (expected::dc(home, report)) }
                    }
                    section.bonding { h2 { "Bonding" } (heed(&caution::SHIELD_AT_BOND, &scene)) (expected::bonding(home)) }
                    section.levels { h2 { "Levels" } (heed(&caution::DC_AT_READING, &scene)) (expected::levels(home, report)) }
                }
                section.tags { h2 { "Tags to cut out" } (runs::tags(home, report)) }
                footer { p { "Figures are worked out from what was read at the entry; they do not replace a measurement. Local code and licensed practice go before anything on this sheet." } }
                script { (PreEscaped(SCRIPT)) }
            }
        }
    }
    .into_string()
}

/// What is wrong, as sentences.
fn wrongs(home: &Home<'_>, report: &Report<'_, '_>) -> Markup {
    let mut found: Vec<_> = report.findings().iter().filter(|finding| finding.verdict > Verdict::Pass).collect();
    found.sort_by_key(|finding| std::cmp::Reverse(finding.verdict));
    html! {
        @if !found.is_empty() {
            ul.wrongs {
                @for finding in found { li { b { (words::verdict(finding.verdict)) } " " bdi { (clean(&says(home, report, finding))) } } }
            }
        }
    }
}

/// How many of each part, cable aside; and what else is needed.
fn parts(home: &Home<'_>) -> Markup {
    let tree = home.tree();
    let mut kinds: Vec<(String, usize)> = Vec::new();
    let mut add = |what: String, count: usize| match kinds.iter_mut().find(|(known, _)| *known == what) {
        Some((_, known)) => *known += count,
        None if count > 0 => kinds.push((what, count)),
        None => {}
    };
    for (id, _) in tree.parts().filter(|(_, part)| !matches!(part, Part::Cable { .. })) {
        add(words::what(home, id), 1);
    }
    for supply in tree.supplies() {
        add(format!("supply {} V, {} A or more", supply.volts.volts(), supply.amps.amps()), 1);
    }
    let ends = |wanted: Occupant| ports(home).filter(|port| tree.occupant(*port) == Some(wanted)).count();
    add("75 ohm terminator".to_owned(), ends(Occupant::Terminator));
    let open =
        ports(home).filter(|port| tree.occupant(*port) == Some(Occupant::Open) && tree.carries_signal(*port)).count();
    add("75 ohm terminator, for what is open".to_owned(), open);
    let cables = tree.parts().filter(|(_, part)| matches!(part, Part::Cable { .. })).count();
    add("cable connector (two a run)".to_owned(), 2 * cables);
    html! {
        ul.take { @for (what, count) in &kinds { li { b { (count) } " \u{d7} " bdi { (what) } } } }
    }
}

/// Every way out of every part.
pub(super) fn ports<'h>(home: &'h Home<'_>) -> impl Iterator<Item = legwork::PortId> + 'h {
    let tree = home.tree();
    tree.parts().flat_map(move |(id, _)| tree.ways_out(id))
}

/// A figure between two others.
pub(super) fn between(low: f32, high: f32) -> String {
    format!("{} to {}", tenths(low), tenths(high))
}
