//! Why nothing serves: what is in the way of the plan that comes closest, and what one more item would do.

use legwork::plan::{Build as _, Item, Progress, Stocked, is_in_the_way};
use legwork::{Code, Db, Error, Part, tables};
use toml::Table;

use super::{Planned, Room, Take, Workbench, with_one_more, written};
use crate::build::Asked;
use crate::home::Home;

/// Something in the way of a plan.
#[derive(Clone, Debug, PartialEq)]
pub struct Obstacle {
    /// What.
    pub code: Code,
    /// Where.
    pub at: String,
    /// At which frequency, in MHz.
    pub mhz: Option<f32>,
    /// By how much the limit and the margin wanted are missed, in dB; [`None`] where it is no matter of decibels.
    pub short_db: Option<f32>,
    /// In a sentence.
    pub says: String,
}

/// Pads that are tried as one more item, in dB.
const PADS: [f32; 4] = [3.0, 6.0, 10.0, 16.0];

/// Finds the plan that comes closest, what is in its way, and whether one more item would do it.
pub(super) fn why_not<'b>(
    asked: &Asked<'b>,
    whole: &Table,
    room: &mut Room,
    bench: &mut Workbench<'b>,
    go_on: &mut dyn FnMut(&Progress) -> bool,
    planned: &mut Planned,
) -> Result<(), Error> {
    let stock = asked.truck.items;
    match room.closest(&asked.need, stock, bench, &mut *go_on)? {
        Some(closest) => {
            let written = written(asked, whole, &closest, bench)?;
            planned.closest = written.premises;
            planned.why_not = obstacles(asked.truck.margin.db(), written.names, bench)?;
        }
        None => planned.why_not.push(Obstacle {
            code: Code::OpenPort,
            at: "panel".to_owned(),
            mhz: None,
            short_db: None,
            says: format!(
                "there are too few ways out: the splitters, couplers and amplifiers of the stock together have not \
                 enough for {} outlets",
                asked.outlets.len()
            ),
        }),
    }
    planned.one_more = one_more(asked, room, bench, go_on)?;
    Ok(())
}

/// What a check of the home on the bench finds, and which margins are too small.
pub(super) fn obstacles<'b>(
    wanted: f32,
    names: crate::home::Names<'b>,
    bench: &mut Workbench<'b>,
) -> Result<Vec<Obstacle>, Error> {
    let report = bench.check()?;
    let home = Home { name: "", tree: *report.tree(), names };
    let mut out = Vec::new();
    for finding in report.findings().iter().filter(|finding| is_in_the_way(finding)) {
        out.push(Obstacle {
            code: finding.code,
            at: home.at(finding.at),
            mhz: finding.mhz,
            short_db: finding.decibels_beyond().map(|beyond| beyond + wanted),
            says: crate::report::says(&home, &report, finding),
        });
    }
    for (near, margin) in report.near() {
        let Some(code) = margin.code.filter(|_| margin.db < wanted && margin.db >= 0.0) else { continue };
        let at = home.near(near);
        if out.iter().any(|obstacle| obstacle.code == code && obstacle.at == at) {
            continue;
        }
        let at_mhz = margin.mhz.map(|mhz| format!(" at {mhz} MHz"));
        let says = format!(
            "the margin to {} is {:.1} dB{}, wanted are {wanted:.1} dB",
            code.name(),
            margin.db,
            at_mhz.unwrap_or_default()
        );
        out.push(Obstacle { code, at, mhz: margin.mhz, short_db: Some(wanted - margin.db), says });
    }
    Ok(out)
}

/// The first item that would do it: one more of what is on the truck, then what is built in.
fn one_more<'b>(
    asked: &Asked<'b>,
    room: &mut Room,
    bench: &mut Workbench<'b>,
    go_on: &mut dyn FnMut(&Progress) -> bool,
) -> Result<Option<Take>, Error> {
    let mut stock: Vec<Item<'b>> = asked.truck.items.to_vec();
    let take = |kind: &'static str, name: &str, cost| Take { kind, item: name.to_owned(), count: 1, cost };
    for (index, (kind, name)) in asked.truck.names.iter().enumerate() {
        if let Some(item) = stock.get_mut(index) {
            item.count += 1;
        }
        let served = with_one_more(&asked.need, &stock, room, bench, go_on)?;
        if let Some(item) = stock.get_mut(index) {
            item.count -= 1;
        }
        if served {
            return Ok(Some(take(kind, name, stock.get(index).map(|item| item.cost))));
        }
    }
    if stock.len() >= crate::build::MOST_ITEMS {
        return Ok(None);
    }
    for (kind, name, part) in built_in() {
        stock.push(Item { what: Stocked::Part(part), count: 1, cost: 0 });
        let served = with_one_more(&asked.need, &stock, room, bench, go_on)?;
        stock.pop();
        if served {
            return Ok(Some(take(kind, &name, None)));
        }
    }
    Ok(None)
}

/// Everything built in that can stand in a panel.
fn built_in() -> Vec<(&'static str, String, Part<'static>)> {
    let mut out = Vec::new();
    for pad in PADS {
        if let Ok(value) = Db::new(pad) {
            out.push(("pad", format!("{pad} dB"), Part::Pad(value)));
        }
    }
    for name in tables::SPLITTERS {
        out.extend(tables::splitter(name).map(|spec| ("splitter", (*name).to_owned(), Part::Splitter(spec))));
    }
    for name in tables::COUPLERS {
        out.extend(tables::coupler(name).map(|spec| ("coupler", (*name).to_owned(), Part::Coupler(spec))));
    }
    for name in tables::FILTERS {
        out.extend(tables::filter(name).map(|spec| ("filter", (*name).to_owned(), Part::Filter(spec))));
    }
    for name in tables::INSERTERS {
        out.extend(tables::inserter(name).map(|spec| ("inserter", (*name).to_owned(), Part::Inserter(spec))));
    }
    out
}
