//! Plans and changes for people: what to take, how to wire it, how to power it, what is left.

use std::fmt::Write as _;

use legwork::{Margin, Report, Verdict};
use legwork_file::plan::{Mending, Obstacle, Planned, Take};
use legwork_file::{Checker, Home, Source};

use super::checked;
use super::search::money;
use crate::check::human::{printable, wrap};
use crate::check::table::Table;
use crate::{Failure, screen};

/// A plan.
pub(super) fn plan(planned: &Planned, file: &str) -> Result<String, Failure> {
    let mut out = String::new();
    if !planned.feasible {
        out.push_str(&headline(Verdict::Fail, "NO PLAN"));
        let proof =
            if planned.proved { "proved: nothing in this stock can do it" } else { "none found in the time given" };
        let _ = writeln!(out, "  {file}: {proof}");
        out.push_str(&obstacles(&planned.why_not, "In the way of what comes closest"));
        if let Some(item) = &planned.one_more {
            let _ = writeln!(out, "\nOne more on the truck would do it: {}.", named(item));
        }
        return Ok(out);
    }
    out.push_str(&headline(Verdict::Pass, "PLAN"));
    let proof =
        if planned.proved { "proved: none better in this stock" } else { "the best in the time given, not proved" };
    let _ = writeln!(out, "  {file}: costs {}, {}; {proof}", money(planned.cost), amplifiers(planned));
    out.push_str(&takes(&planned.parts));
    out.push_str(&checked(&planned.premises, |home, report| {
        let width = usize::from(screen::width());
        let mut out = format!("\nWiring\n{}", legwork_draw::tree(home, report, width));
        out.push_str(&power(home, report));
        out.push_str(&margins(home, report));
        out
    })?);
    if planned.proved {
        out.push_str("\nRuled out\n");
        if planned.amplifiers == 0 {
            out.push_str("  No amplifier is needed: this plan is good without one.\n");
        } else {
            let fewer = match planned.amplifiers - 1 {
                0 => "Without an amplifier".to_owned(),
                1 => "With one amplifier".to_owned(),
                fewer => format!("With {fewer} amplifiers"),
            };
            let _ = writeln!(out, "  {fewer} nothing in this stock is good: proved.");
        }
        out.push_str("  Nothing cheaper in this stock is good: proved.\n");
    }
    out.push('\n');
    out.push_str(&wrap(CAUTION, screen::width(), 0));
    Ok(out)
}

/// Changes.
pub(super) fn mend(mending: &Mending, source: &Source<'_>, most: usize) -> Result<String, Failure> {
    let planned = &mending.planned;
    let mut out = String::new();
    if !planned.feasible {
        out.push_str(&headline(Verdict::Fail, "NO REPAIR"));
        let how = if planned.proved { "proved" } else { "as far as was looked" };
        let _ = writeln!(out, "  {}: no {most} changes or fewer from this stock put it right, {how}", source.name);
        out.push_str(&obstacles(&planned.why_not, "What is wrong"));
        return Ok(out);
    }
    out.push_str(&headline(Verdict::Pass, "REPAIR"));
    let proof = if planned.proved { "proved: no fewer do" } else { "the best in the time given, not proved" };
    let count = match mending.changes.len() {
        0 => "no change is needed, terminators on ways left open aside".to_owned(),
        1 => "1 change".to_owned(),
        count => format!("{count} changes"),
    };
    let _ = writeln!(out, "  {}: {count}, costs {}; {proof}", source.name, money(planned.cost));
    for (number, change) in mending.changes.iter().enumerate() {
        let says = printable(&format!("{}. {}", number + 1, change.says));
        let _ = write!(out, "\n{}", wrap(&says, screen::width(), 0));
        for reason in &change.reasons {
            out.push_str(&wrap(&printable(&format!("Puts right: {reason}")), screen::width(), 3));
        }
        if change.reasons.is_empty() {
            out.push_str("   Needed by what follows.\n");
        }
    }
    out.push_str(&takes(&planned.parts));
    out.push_str(&before_and_after(source, &planned.premises)?);
    out.push_str(&checked(&planned.premises, margins)?);
    out.push('\n');
    out.push_str(&wrap(CAUTION, screen::width(), 0));
    Ok(out)
}

/// What is usual to say before anybody works on a home's coax.
const CAUTION: &str = "Caution: test the shield against ground before you open a bond or the lead-in, leave bonding to \
     last when taking down, plug a supply in last and take it out first, do no such work in a storm, and follow local code \
     and licensed practice.";

fn headline(verdict: Verdict, word: &str) -> String {
    screen::paint(word, screen::style(verdict), screen::colour_on_stdout())
}

fn amplifiers(planned: &Planned) -> String {
    match planned.amplifiers {
        0 => "no amplifier".to_owned(),
        1 => "one amplifier".to_owned(),
        count => format!("{count} amplifiers"),
    }
}

fn named(take: &Take) -> String {
    format!("{} {}", take.kind, take.item)
}

fn takes(parts: &[Take]) -> String {
    if parts.is_empty() {
        return "\nNothing to take from the truck but terminators.\n".to_owned();
    }
    let mut table = Table::new(&["count", "take", "each", "together"], screen::width()).numbers(2..4);
    for take in parts {
        let together = take.cost.saturating_mul(u32::try_from(take.count).unwrap_or(u32::MAX));
        table.row(vec![take.count.to_string(), named(take), money(take.cost), money(together)]);
    }
    format!("\nTake from the truck, and terminators for ways left over\n{}", table.finish())
}

/// How the amplifiers are powered.
fn power(home: &Home<'_>, report: &Report<'_, '_>) -> String {
    let mut out = String::new();
    for (feed, _) in report.feeds() {
        let Some(supply) = report.tree().supplies().get(feed.supply.index()) else { continue };
        let volts = feed.volts.map_or_else(String::new, |volts| format!(": {volts:.1} V at its port"));
        let _ = writeln!(
            out,
            "  Plug `{}` ({} V) into {}; it feeds `{}`{volts}.",
            home.supply(feed.supply),
            supply.volts.volts(),
            home.port(supply.port()),
            home.part(feed.amplifier),
        );
    }
    if out.is_empty() { out } else { format!("\nPower\n{out}") }
}

/// The margins, smallest first.
fn margins(home: &Home<'_>, report: &Report<'_, '_>) -> String {
    let tree = report.tree();
    let mut rows: Vec<(String, Margin)> = Vec::new();
    for (index, margin) in report.margins().iter().enumerate().filter(|(_, margin)| margin.code.is_some()) {
        let at = match tree.outlet_id(index) {
            Some(outlet) => home.outlet(outlet).to_owned(),
            None => match index - tree.outlets().len() {
                0 => "at amplifiers".to_owned(),
                1 => "modems at amplifiers".to_owned(),
                _ => "between outlets".to_owned(),
            },
        };
        rows.push((at, *margin));
    }
    rows.sort_by(|(_, a), (_, b)| a.db.total_cmp(&b.db));
    let mut table = Table::new(&["where", "margin dB", "to", "MHz"], screen::width()).numbers(1..2);
    for (at, margin) in rows {
        let code = margin.code.map_or("", |code| code.name());
        let mhz = margin.mhz.map_or_else(String::new, |mhz| mhz.to_string());
        table.row(vec![at, format!("{:.1}", margin.db), code.to_owned(), mhz]);
    }
    format!("\nMargins, smallest first\n{}", table.finish())
}

fn obstacles(obstacles: &[Obstacle], heading: &str) -> String {
    let mut out = format!("\n{heading}\n");
    for obstacle in obstacles {
        let short = obstacle.short_db.map_or_else(String::new, |short| format!(" ({short:.1} dB short)"));
        let says = printable(&format!("{}: {}{short}", obstacle.at, obstacle.says));
        out.push_str(&wrap(&says, screen::width(), 2));
    }
    out
}

/// Every outlet that the changes alter: its levels before and after.
fn before_and_after(source: &Source<'_>, premises: &str) -> Result<String, Failure> {
    let mut checker = Checker::new();
    let checked_before = checker.check(source, None)?;
    let before = levels(&checked_before.home, &checked_before.report);
    let after = checked(premises, levels)?;
    let mut table = Table::new(&["outlet", "figure", "before", "after"], screen::width()).numbers(2..4);
    let mut any = false;
    for ((outlet, figure, old), (_, _, new)) in before.iter().zip(&after).filter(|(old, new)| old != new) {
        any = true;
        table.row(vec![outlet.clone(), figure.clone(), old.clone(), new.clone()]);
    }
    Ok(if any { format!("\nBefore and after\n{}", table.finish()) } else { String::new() })
}

/// The figures of every outlet that people ask for: outlet, name, value.
fn levels(home: &Home<'_>, report: &Report<'_, '_>) -> Vec<(String, String, String)> {
    let mut out = Vec::new();
    for outlet in report.outlets() {
        let id = home.outlet(outlet.outlet);
        let mut row = |figure: String, value: String| out.push((id.to_owned(), figure, value));
        row("verdict".to_owned(), outlet.verdict.name().to_owned());
        let forward: Vec<_> = report.forward_frequencies().zip(outlet.forward).collect();
        for (mhz, figure) in forward.first().into_iter().chain(forward.last().filter(|_| forward.len() > 1)) {
            let (level, unit) = home.level(figure.nominal);
            row(format!("forward at {mhz} MHz"), format!("{level:.1} {unit}"));
        }
        let sent: Vec<_> = report.return_frequencies().collect();
        let transmit = outlet.transmit.unwrap_or_default();
        for index in [0, sent.len().saturating_sub(1)] {
            if let (Some(mhz), Some(figure)) = (sent.get(index), transmit.get(index)) {
                let (level, unit) = home.level(figure.nominal);
                row(format!("transmit at {mhz} MHz"), format!("{level:.1} {unit}"));
            }
        }
    }
    out
}
