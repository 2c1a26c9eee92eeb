//! Plans and changes for people: what to take, how to wire it, how to power it, what is left.

use legwork::{Margin, Near, Report, Verdict};
use legwork_file::caution::ANY_WORK;
use legwork_file::plan::{Instruction, Mending, Obstacle, Planned, Take};
use legwork_file::{Checker, Home, Source};

use super::checked;
use super::search::{money, with_amplifiers};
use crate::check::human::{printable, wrap};
use crate::check::table::Table;
use crate::{Failure, screen};

/// A plan.
pub(super) fn plan(planned: &Planned, file: &str) -> Result<String, Failure> {
    let file = printable(file);
    if !planned.feasible {
        let proof =
            if planned.proved { "proved: nothing in this stock can do it" } else { "none found in the time given" };
        let mut out = headline(Verdict::Fail, "NO PLAN", &format!("{file}: {proof}"));
        out += &obstacles(&planned.why_not, "In the way of what comes closest");
        if let Some(item) = &planned.one_more {
            out += &format!("\nOne more on the truck would do it: {}.\n", named(item));
        }
        return Ok(out);
    }
    let proof =
        if planned.proved { "proved: none better in this stock" } else { "the best in the time given, not proved" };
    let summary = format!("{file}: costs {}, {}; {proof}", money(planned.cost), with_amplifiers(planned.amplifiers));
    let mut out = headline(Verdict::Pass, "PLAN", &summary);
    out += &takes(&planned.parts);
    out += &checked(&planned.premises, |home, report| {
        let tree = legwork_draw::tree(home, report, usize::from(screen::width()));
        format!("\nWiring\n{tree}{}{}", power(home, report), margins(home, report))
    })?;
    if planned.proved {
        out += &ruled_out(planned.amplifiers);
    }
    out += &caution();
    Ok(out)
}

/// Changes.
pub(super) fn mend(mending: &Mending, source: &Source<'_>, most: usize) -> Result<String, Failure> {
    let (planned, file) = (&mending.planned, printable(source.name));
    if !planned.feasible {
        let proof = if planned.proved { "proved" } else { "as far as was looked" };
        let says = format!("{file}: no {most} changes or fewer from this stock put it right, {proof}");
        let heading = obstacles(&planned.why_not, "What is wrong");
        return Ok(headline(Verdict::Fail, "NO REPAIR", &says) + &heading);
    }
    let proof = if planned.proved { "proved: no fewer do" } else { "the best in the time given, not proved" };
    let count = match mending.changes.len() {
        0 => "no change is needed, terminators on ways left open aside".to_owned(),
        1 => "1 change".to_owned(),
        count => format!("{count} changes"),
    };
    let summary = format!("{file}: {count}, costs {}; {proof}", money(planned.cost));
    let mut out = headline(Verdict::Pass, "REPAIR", &summary);
    for (number, change) in mending.changes.iter().enumerate() {
        out += &instruction(number + 1, change);
    }
    out += &takes(&planned.parts);
    let mut checker = Checker::new();
    let before = checker.check(source, None)?;
    let before = figures(&before.home, &before.report);
    out += &checked(&planned.premises, |home, report| {
        before_and_after(&before, &figures(home, report)) + &margins(home, report)
    })?;
    out += &caution();
    Ok(out)
}

/// What is usual to say before anybody works on a home's coax.
fn caution() -> String {
    format!("\n{}", wrap(&ANY_WORK.to_string(), screen::width(), 0))
}

fn headline(verdict: Verdict, word: &str, says: &str) -> String {
    format!("{}  {says}\n", screen::paint(word, screen::style(verdict), screen::colour_on_stdout()))
}

/// What the proof excludes.
fn ruled_out(amplifiers: u8) -> String {
    let fewer = match amplifiers.checked_sub(1) {
        None => "  No amplifier is needed: this plan is good without one.\n".to_owned(),
        Some(0) => "  Without an amplifier nothing in this stock is good: proved.\n".to_owned(),
        Some(fewer) => format!("  With {fewer} amplifiers or fewer nothing in this stock is good: proved.\n"),
    };
    format!("\nRuled out\n{fewer}  Nothing cheaper with as few amplifiers is good: proved.\n")
}

fn instruction(number: usize, change: &Instruction) -> String {
    let mut out = format!("\n{}", wrap(&printable(&format!("{number}. {}", change.says)), screen::width(), 0));
    for reason in &change.reasons {
        out += &wrap(&printable(&format!("Puts right: {reason}")), screen::width(), 3);
    }
    if change.reasons.is_empty() {
        out += "   Needed by what follows.\n";
    }
    out
}

fn named(take: &Take) -> String {
    printable(&format!("{} {}", take.kind, take.item))
}

fn takes(parts: &[Take]) -> String {
    if parts.is_empty() {
        return "\nNothing to take from the truck but terminators.\n".to_owned();
    }
    let mut table = Table::new(&["count", "take", "each", "together"], screen::width()).numbers(2..4);
    for take in parts {
        let each = take.cost.unwrap_or(0);
        let together = each.saturating_mul(u32::try_from(take.count).unwrap_or(u32::MAX));
        table.row(vec![take.count.to_string(), named(take), money(each), money(together)]);
    }
    format!("\nTake from the truck, and terminators for ways left over\n{}", table.finish())
}

/// How the amplifiers are powered.
fn power(home: &Home<'_>, report: &Report<'_, '_>) -> String {
    let feeds = report.feeds().filter_map(|(feed, _)| {
        let supply = report.tree().supplies().get(feed.supply.index())?;
        let volts = feed.volts.map_or_else(String::new, |volts| format!(": {volts:.1} V at its port"));
        let says = format!(
            "Plug `{}` ({} V) into {}; it feeds `{}`{volts}.",
            home.supply(feed.supply),
            supply.volts.volts(),
            home.port(supply.port()),
            home.part(feed.amplifier),
        );
        Some(wrap(&printable(&says), screen::width(), 2))
    });
    let feeds: String = feeds.collect();
    if feeds.is_empty() { feeds } else { format!("\nPower\n{feeds}") }
}

/// The margins, smallest first.
fn margins(home: &Home<'_>, report: &Report<'_, '_>) -> String {
    let mut rows: Vec<(Near, &Margin)> = report.near().collect();
    rows.sort_by(|(_, a), (_, b)| a.db.total_cmp(&b.db));
    let mut table = Table::new(&["where", "margin dB", "to", "MHz"], screen::width()).numbers(1..2);
    for (near, margin) in rows {
        let code = margin.code.map_or("", |code| code.name());
        let mhz = margin.mhz.map_or_else(String::new, |mhz| mhz.to_string());
        table.row(vec![printable(&home.near(near)), format!("{:.1}", margin.db), code.to_owned(), mhz]);
    }
    format!("\nMargins, smallest first\n{}", table.finish())
}

fn obstacles(obstacles: &[Obstacle], heading: &str) -> String {
    let mut out = format!("\n{heading}\n");
    for obstacle in obstacles {
        let short = obstacle.short_db.map_or_else(String::new, |short| format!(" ({short:.1} dB short)"));
        let says = printable(&format!("{}: {}{short}", obstacle.at, obstacle.says));
        out += &wrap(&says, screen::width(), 2);
    }
    out
}

/// A figure of an outlet: whose, what, and how much.
type Figure = [String; 3];

/// Every figure that the changes alter.
fn before_and_after(before: &[Figure], after: &[Figure]) -> String {
    let mut table = Table::new(&["outlet", "figure", "before", "after"], screen::width()).numbers(2..4);
    let mut any = false;
    for [outlet, figure, old] in before {
        let new = after.iter().find(|[whose, what, _]| whose == outlet && what == figure);
        if let Some([.., new]) = new.filter(|[.., new]| new != old) {
            any = true;
            table.row(vec![printable(outlet), figure.clone(), old.clone(), new.clone()]);
        }
    }
    if any { format!("\nBefore and after\n{}", table.finish()) } else { String::new() }
}

/// The figures of every outlet that people ask for.
fn figures(home: &Home<'_>, report: &Report<'_, '_>) -> Vec<Figure> {
    let mut out = Vec::new();
    let sent: Vec<f32> = report.return_frequencies().collect();
    for outlet in report.outlets() {
        let mut row = |figure: String, value: String| out.push([home.outlet(outlet.outlet).to_owned(), figure, value]);
        let level = |dbmv: f32| {
            let (level, unit) = home.level(dbmv);
            format!("{level:.1} {unit}")
        };
        row("verdict".to_owned(), outlet.verdict.name().to_owned());
        let forward: Vec<_> = report.forward_frequencies().zip(outlet.forward).collect();
        for (mhz, figure) in forward.first().into_iter().chain(forward.last().filter(|_| forward.len() > 1)) {
            row(format!("forward at {mhz} MHz"), level(figure.nominal));
        }
        for (index, mhz) in sent.iter().enumerate().filter(|(index, _)| *index == 0 || index + 1 == sent.len()) {
            let transmit = outlet.transmit.and_then(|transmit| transmit.get(index));
            let value = transmit.map_or_else(|| "no way back".to_owned(), |figure| level(figure.nominal));
            row(format!("transmit at {mhz} MHz"), value);
        }
    }
    out
}
