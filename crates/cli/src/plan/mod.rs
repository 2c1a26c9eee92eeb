//! `legwork plan`: what to take from the truck, and how to wire it.

mod human;
mod search;

use std::io::{self, Write};

use legwork_file::plan::{Obstacle, Planned, Take};
use legwork_file::{Source, plan};
use serde_json::{Map, Value, json};

use crate::args::Plan;
use crate::{Failure, Outcome, input, output};

/// Plans one home.
pub(crate) fn run(options: &Plan) -> Result<Outcome, Failure> {
    if let Some(out) = &options.out {
        output::may_write(out, options.force)?;
    }
    let bytes = input::read(&options.need)?;
    let source = Source::new(&options.need, &bytes)?;
    let planned = search::run(options.seconds, |go_on| plan::plan(&source, go_on))??;
    let mut out = Vec::new();
    if options.json {
        out.extend(json(&planned).to_string().into_bytes());
        out.push(b'\n');
    } else {
        human::write(&mut out, &planned)?;
    }
    if let Some(path) = options.out.as_ref().filter(|_| planned.feasible) {
        output::write(path, planned.premises.as_bytes(), options.force)?;
    }
    if options.out.as_deref() != Some(std::path::Path::new("-")) {
        io::stdout().write_all(&out)?;
    }
    io::stdout().flush()?;
    Ok(if planned.feasible { Outcome::Done } else { Outcome::BadNews })
}

/// The keys of the contract, and some more.
fn json(planned: &Planned) -> Value {
    let mut out = Map::new();
    out.insert("feasible".to_owned(), json!(planned.feasible));
    let when = |value: Value| if planned.feasible { value } else { Value::Null };
    out.insert("amplifiers".to_owned(), when(json!(planned.amplifiers)));
    out.insert("cost".to_owned(), when(price(planned.cost)));
    let margin = if planned.margin.is_finite() { decimal(planned.margin) } else { Value::Null };
    out.insert("smallest_margin_db".to_owned(), when(margin));
    out.insert("proved".to_owned(), json!(planned.proved));
    out.insert("parts".to_owned(), planned.parts.iter().map(take).collect());
    out.insert("premises".to_owned(), when(json!(planned.premises)));
    out.insert("why_not".to_owned(), planned.why_not.iter().map(obstacle).collect());
    out.insert("one_more".to_owned(), planned.one_more.as_ref().map_or(Value::Null, take));
    if !planned.feasible {
        out.insert("closest".to_owned(), json!(planned.closest));
    }
    Value::Object(out)
}

fn take(take: &Take) -> Value {
    json!({ "item": take.item, "kind": take.kind, "count": take.count, "cost": price(take.cost) })
}

fn obstacle(obstacle: &Obstacle) -> Value {
    json!({
        "code": obstacle.code.name(),
        "at": obstacle.at,
        "mhz": obstacle.mhz.map(decimal),
        "short_db": obstacle.short_db.map(decimal),
        "says": obstacle.says,
    })
}

/// A price as a number.
fn price(hundredths: u32) -> Value {
    json!(f64::from(hundredths) / 100.0)
}

/// A number as it prints, not as its bits continue.
fn decimal(number: f32) -> Value {
    number.to_string().parse::<f64>().map_or(Value::Null, |number| json!(number))
}
