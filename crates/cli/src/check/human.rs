//! The report for people: the verdict first, then what is wrong, then the figures.

use legwork::{Figure, Finding, OutletId, Report, Verdict};
use legwork_file::{Home, caution, says, summary, tenths};

use super::table::Table;
use crate::screen;

/// Writes the report of one home.
pub(super) fn write(out: &mut Vec<u8>, home: &Home<'_>, report: &Report<'_, '_>, file: &str) {
    let page = Page { home, report, width: screen::width(), colour: screen::colour_on_stdout() };
    let mut text = page.verdict(file);
    text.push_str(&page.findings());
    text.push_str(&page.forward());
    text.push_str(&page.reverse());
    text.push_str(&page.amplifiers());
    text.push_str(&page.power());
    text.push_str(&page.links());
    for caution in caution::of_check(report) {
        text.push('\n');
        text.push_str(&wrap(&caution.to_string(), page.width, 0));
    }
    out.extend_from_slice(text.as_bytes());
}

/// From so many columns on, five pairs of extremes fit side by side.
const SIDE_BY_SIDE: u16 = 80;

struct Page<'p> {
    home: &'p Home<'p>,
    report: &'p Report<'p, 'p>,
    width: u16,
    colour: bool,
}

impl Page<'_> {
    fn word(&self, verdict: Verdict) -> String {
        screen::paint(&verdict.name().to_uppercase(), screen::style(verdict), self.colour)
    }

    fn verdict(&self, file: &str) -> String {
        let name = if self.home.name().is_empty() { file } else { self.home.name() };
        let summary = summary(self.report);
        format!("{}  {}: {summary}\n", self.word(self.report.verdict()), printable(name))
    }

    /// Every finding with its sentence, the worst first.
    fn findings(&self) -> String {
        let mut findings: Vec<&Finding> = self.report.findings().iter().collect();
        findings.sort_by_key(|finding| std::cmp::Reverse(finding.verdict));
        let mut out = String::new();
        for finding in findings {
            let at = printable(&self.home.at(finding.at));
            out.push_str(&format!("\n{}  {at}  {}\n", self.word(finding.verdict), finding.code.name()));
            out.push_str(&wrap(&printable(&says(self.home, self.report, finding)), self.width, 2));
        }
        out
    }

    /// Forward levels at the lowest and the highest carrier, tilt, total and noise.
    fn forward(&self) -> String {
        let frequencies: Vec<f32> = self.report.forward_frequencies().collect();
        let service = self.report.tree().service;
        let row_of = |mhz: f32| frequencies.iter().position(|known| *known == mhz).unwrap_or(0);
        let (first, last) = (row_of(service.first_carrier()), row_of(service.last_carrier()));
        let (low, high) = (format!("{} MHz", service.first_carrier()), format!("{} MHz", service.last_carrier()));
        let headings = ["outlet", low.as_str(), high.as_str(), "tilt dB", "total", "CNR dB"];
        let mut table = Table::new(&headings, self.width).numbers(1..6);
        let mut rows = 0;
        for outlet in self.report.outlets() {
            let both = |figure: &Figure| self.both(figure);
            let at = |row: usize| outlet.forward.get(row).map_or_else(String::new, |figure| self.levels(figure));
            let worst = |a: &&Figure, b: &&Figure| a.low.total_cmp(&b.low);
            let cnr = outlet.cnr.iter().min_by(worst).map_or_else(|| "-".to_owned(), both);
            table.row(vec![
                self.outlet(outlet.outlet, outlet.verdict),
                at(first),
                at(last),
                both(&outlet.tilt),
                self.levels(&outlet.total),
                cnr,
            ]);
            rows += 1;
        }
        section(&format!("Forward, {} (nominal; below it lowest and highest)", self.home.level(0.0).1), table, rows)
    }

    /// What a modem has to send, at the lowest and the highest return frequency.
    fn reverse(&self) -> String {
        let frequencies: Vec<f32> = self.report.return_frequencies().collect();
        let (Some(low), Some(high)) = (frequencies.first(), frequencies.last()) else { return String::new() };
        let (from, to) = (format!("{low} MHz"), format!("{high} MHz"));
        let mut headings = vec!["outlet", from.as_str()];
        if frequencies.len() > 1 {
            headings.push(to.as_str());
        }
        headings.push("needs power at");
        let mut table = Table::new(&headings, self.width).numbers(1..headings.len() - 1);
        let mut rows = 0;
        for outlet in self.report.outlets() {
            let both = |figure: &Figure| self.levels(figure);
            let mut cells = vec![self.outlet(outlet.outlet, outlet.verdict)];
            match outlet.transmit {
                Some(figures) => {
                    cells.extend(figures.first().map(both));
                    cells.extend(figures.last().filter(|_| frequencies.len() > 1).map(both));
                }
                None => cells.extend(vec!["no way back".to_owned(); headings.len() - 2]),
            }
            let powered: Vec<String> =
                self.report.needs_power_at(outlet.outlet).map(|part| printable(self.home.part(part))).collect();
            cells.push(if powered.is_empty() { "-".to_owned() } else { powered.join(", ") });
            table.row(cells);
            rows += 1;
        }
        section(&format!("Return: what a modem sends, {}", self.home.level(0.0).1), table, rows)
    }

    fn amplifiers(&self) -> String {
        let total = format!("in, total {}", self.home.level(0.0).1);
        let mut table =
            Table::new(&["amplifier", total.as_str(), "left dB", "goes dark with it"], self.width).numbers(1..3);
        let mut rows = 0;
        for amplifier in self.report.amplifiers() {
            let lost: Vec<String> =
                self.report.outlets_lost(amplifier.part).map(|outlet| printable(self.home.outlet(outlet))).collect();
            table.row(vec![
                printable(self.home.part(amplifier.part)),
                self.levels(&amplifier.input_total),
                amplifier.headroom.map_or_else(|| "-".to_owned(), tenths),
                if lost.is_empty() { "nothing".to_owned() } else { lost.join(", ") },
            ]);
            rows += 1;
        }
        section("Amplifiers", table, rows)
    }

    fn power(&self) -> String {
        let mut table = Table::new(&["fed", "by", "volts", "amps", "loop ohm"], self.width).numbers(2..5);
        let mut rows = 0;
        for (feed, verdict) in self.report.feeds() {
            let pair =
                |figure: Option<f32>, low: Option<f32>, high: Option<f32>, decimals: usize| match (figure, low, high) {
                    (None, ..) => "collapsed".to_owned(),
                    (Some(figure), Some(low), Some(high)) => {
                        format!("{figure:.decimals$}\n{low:.decimals$}..{high:.decimals$}")
                    }
                    (Some(figure), ..) => format!("{figure:.decimals$}\ncan collapse"),
                };
            let amps = match (feed.amps, feed.amps_high) {
                (Some(amps), Some(high)) => format!("{amps:.3}\nto {high:.3}"),
                (Some(amps), None) => format!("{amps:.3}"),
                _ => "-".to_owned(),
            };
            table.row(vec![
                named(printable(self.home.part(feed.amplifier)), verdict),
                printable(self.home.supply(feed.supply)),
                pair(feed.volts, feed.volts_low, feed.volts_high, 2),
                amps,
                format!("{:.2}", feed.loop_ohms),
            ]);
            rows += 1;
        }
        let mut out = section("DC feeds", table, rows);
        let mut ports = Table::new(&["port with DC", "volts", "unloaded", "ohm from supply"], self.width).numbers(1..4);
        let mut count = 0;
        for dc in self.report.dc() {
            ports.row(vec![
                printable(&self.home.port(dc.port)),
                dc.volts.map_or_else(|| "-".to_owned(), |volts| format!("{volts:.2}")),
                format!("{:.2}", dc.volts_unloaded),
                format!("{:.2}", dc.loop_ohms),
            ]);
            count += 1;
        }
        out.push_str(&section("DC on the coax", ports, count));
        out
    }

    fn links(&self) -> String {
        let mut table = Table::new(&["from", "to", "MHz", "loss dB", ""], self.width).numbers(2..4);
        let mut rows = 0;
        for link in self.report.links() {
            table.row(vec![
                printable(self.home.outlet(link.from)),
                printable(self.home.outlet(link.to)),
                link.mhz.to_string(),
                link.loss.map_or_else(|| "blocked".to_owned(), |loss| format!("{loss:.1}")),
                in_table(link.verdict),
            ]);
            rows += 1;
        }
        section("Home network", table, rows)
    }

    /// A figure and, below it, its extremes: side by side, or one below the other on a phone.
    fn both(&self, figure: &Figure) -> String {
        let Figure { nominal, low, high } = figure;
        let between = if self.width < SIDE_BY_SIDE { "\n" } else { ".." };
        format!("{}\n{}{between}{}", tenths(*nominal), tenths(*low), tenths(*high))
    }

    /// A figure of levels, in the file's own unit.
    fn levels(&self, figure: &Figure) -> String {
        let spoken = |dbmv: f32| self.home.level(dbmv).0;
        let Figure { nominal, low, high } = *figure;
        self.both(&Figure { nominal: spoken(nominal), low: spoken(low), high: spoken(high) })
    }

    fn outlet(&self, outlet: OutletId, verdict: Verdict) -> String {
        named(printable(self.home.outlet(outlet)), verdict)
    }
}

/// A name and, below it, a verdict that is not a pass.
fn named(name: String, verdict: Verdict) -> String {
    if verdict == Verdict::Pass { name } else { format!("{name}\n{}", in_table(verdict)) }
}

/// A verdict without colour, which would throw a table out of line.
fn in_table(verdict: Verdict) -> String {
    verdict.name().to_uppercase()
}

fn section(title: &str, table: Table, rows: usize) -> String {
    if rows == 0 { String::new() } else { format!("\n{title}\n{}", table.finish()) }
}

/// Names come from files: what would steer the terminal is shown, not sent.
pub(crate) fn printable(name: &str) -> String {
    name.chars().map(|letter| if letter.is_control() { '\u{fffd}' } else { letter }).collect()
}

/// A sentence broken at blanks, indented.
pub(crate) fn wrap(text: &str, width: u16, indent: usize) -> String {
    let most = usize::from(width).saturating_sub(1);
    let mut out = String::new();
    let mut column = 0;
    for word in text.split_whitespace() {
        let length = word.chars().count();
        if column > indent && column + 1 + length > most {
            out.push('\n');
            column = 0;
        }
        if column == 0 {
            out.push_str(&" ".repeat(indent));
            column = indent;
        } else {
            out.push(' ');
            column += 1;
        }
        out.push_str(word);
        column += length;
    }
    out.push('\n');
    out
}
