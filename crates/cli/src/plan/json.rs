//! Plans and changes as JSON: the keys of the contract, and some more.

use legwork_file::plan::{Instruction, Mending, Obstacle, Planned, Take};
use serde_json::{Map, Value, json};

/// A plan, one line.
pub(super) fn plan(planned: &Planned) -> String {
    let mut out = shared(planned);
    out.insert("one_more".to_owned(), planned.one_more.as_ref().map_or(Value::Null, take));
    if !planned.feasible {
        out.insert("closest".to_owned(), json!(planned.closest));
    }
    format!("{}\n", Value::Object(out))
}

/// Changes, one line.
pub(super) fn mend(mending: &Mending) -> String {
    let mut out = shared(&mending.planned);
    out.insert("changes".to_owned(), mending.changes.iter().map(instruction).collect());
    format!("{}\n", Value::Object(out))
}

fn shared(planned: &Planned) -> Map<String, Value> {
    let when = |value: Value| if planned.feasible { value } else { Value::Null };
    let margin = if planned.margin.is_finite() { decimal(planned.margin) } else { Value::Null };
    let mut out = Map::new();
    out.insert("feasible".to_owned(), json!(planned.feasible));
    out.insert("amplifiers".to_owned(), when(json!(planned.amplifiers)));
    out.insert("cost".to_owned(), when(price(planned.cost)));
    out.insert("smallest_margin_db".to_owned(), when(margin));
    out.insert("proved".to_owned(), json!(planned.proved));
    out.insert("parts".to_owned(), planned.parts.iter().map(take).collect());
    out.insert("premises".to_owned(), when(json!(planned.premises)));
    out.insert("why_not".to_owned(), planned.why_not.iter().map(obstacle).collect());
    out
}

fn take(take: &Take) -> Value {
    json!({ "item": take.item, "kind": take.kind, "count": take.count, "cost": take.cost.map(price) })
}

fn instruction(change: &Instruction) -> Value {
    json!({
        "do": change.verb,
        "at": change.at,
        "with": change.with,
        "what": change.what,
        "supply": change.supply,
        "says": change.says,
        "reasons": change.reasons,
    })
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
