//! Plans against the optima of a general solver.

use std::time::{Duration, Instant};

use legwork_file::Source;
use legwork_file::plan::{Planned, STACK, plan};
use legwork_tests::for_each;
use serde_json::Value;

use super::{list, number, rows};

/// The farthest two margins may be apart, in dB: the solver's are in ten-thousandths, rounded some ten times on a way, the
/// core's in `f32`.
const NEAR: f64 = 2e-3;

/// When a search is ended; what it has proved by then has to be right.
const PATIENCE: Duration = Duration::from_secs(10);

/// The planner's answer to a need.
fn planned(need: &Value) -> Planned {
    let text = need.to_string();
    let start = Instant::now();
    let source = Source::new("need.json", text.as_bytes());
    let planned = source.and_then(|source| plan(&source, &mut |_| start.elapsed() < PATIENCE));
    planned.unwrap_or_else(|refusal| panic!("{}", refusal.render(false)))
}

/// Amplifiers and cost in hundredths, in the order in which plans are compared.
fn price(value: &Value) -> (u64, u64) {
    let [amplifiers, cost] = list(value) else { panic!("no price: {value}") };
    (amplifiers.as_u64().expect("a number"), cost.as_u64().expect("a number"))
}

/// Whether a plan is as good as the solver's; where either has not proved its own, whether both can be right.
fn agrees(best: &Value, said: &Planned) -> bool {
    let there_is_one = best["feasible"] == true;
    if !said.feasible || !there_is_one {
        return if said.feasible { there_is_one } else { !there_is_one || !said.proved };
    }
    let (found, least) = (price(&best["found"]), price(&best["least"]));
    let ours = (u64::from(said.amplifiers), u64::from(said.cost));
    let not_better = ours >= least;
    let not_worse = !said.proved || ours <= found;
    let [low, high] = list(&best["margin"]) else { return not_better && not_worse };
    let margin = f64::from(said.margin);
    let not_wider = ours != found || margin <= number(high) + NEAR;
    let not_narrower = !said.proved || margin >= number(low) - NEAR;
    not_better && not_worse && not_wider && not_narrower
}

#[test]
fn plans_are_the_optima_of_a_general_solver() {
    let rows = rows(include_str!("../../outside/plans.json"));
    let answers: Vec<(&Value, Planned)> = for_each(0, rows.len() as u64, STACK, |place| {
        let row = &rows[place as usize];
        (row, planned(&row["need"]))
    });
    let mut wrong = Vec::new();
    let mut open = Vec::new();
    for (row, said) in &answers {
        let (name, best) = (&row["need"]["name"], &row["best"]);
        if !agrees(best, said) {
            let said = (said.feasible, said.amplifiers, said.cost, said.margin, said.proved);
            wrong.push(format!("{name}: {best} and {said:?}"));
        }
        if !said.proved {
            open.push(name.to_string());
        }
    }
    println!("{} needs; ended before anything was proved: {open:?}", answers.len());
    assert!(wrong.is_empty(), "{} of {} needs disagree:\n{}", wrong.len(), rows.len(), wrong.join("\n"));
    assert!(10 * open.len() <= rows.len(), "too few plans are proved");
}

#[test]
fn the_solver_has_answered_needs_of_every_kind() {
    let rows = rows(include_str!("../../outside/plans.json"));
    let count = |picks: fn(&Value) -> bool| rows.iter().filter(|row| picks(&row["best"])).count();
    assert!(count(|best| best["feasible"] == false) >= 15);
    assert!(count(|best| !best["margin"].is_null() && price(&best["found"]).0 == 0) >= 30);
    assert!(count(|best| !best["margin"].is_null() && price(&best["found"]).0 > 0) >= 10);
    let with = |outlets, kinds| {
        let large = |row: &&Value| list(&row["need"]["outlet"]).len() == outlets;
        rows.iter().filter(large).filter(|row| list(&row["need"]["stock"]["item"]).len() == kinds).count()
    };
    assert!(with(6, 10) >= 8);
    assert!(with(16, 14) >= 3);
}
