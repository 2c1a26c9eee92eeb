//! Needs and stocks, TOML and JSON: the same however they are spelt; a plan within the stock whose premises file is good,
//! or a refusal that says where and why.
#![cfg_attr(fuzzing, no_main)]

use std::cell::RefCell;

use bumpalo::Bump;
use legwork::plan::is_in_the_way;
use legwork_file::plan::{Planned, STACK, plan};
use legwork_file::{Asked, Checker, Source, Syntax, read_need, read_stock};

legwork_fuzz::target!(needs);

/// How often a search is asked whether to go on before it is told to stop.
const STEPS: u32 = 200;
/// The most outlets for which a plan is looked for, so that an input takes milliseconds.
const OUTLETS: usize = 6;
/// What a margin may differ by when the same home is checked again: `f32`, from levels below 300 dBmV.
const ROUNDING: f32 = 1e-3;

fn needs(bytes: &[u8]) {
    let Ok(source) = Source::new("fuzz", bytes) else { return };
    for syntax in [Syntax::Toml, Syntax::Json] {
        let source = Source { syntax, ..source };
        let arena = Bump::new();
        if let Err(refusal) = read_stock(&source, &arena) {
            legwork_fuzz::is_useful(&refusal);
        }
        let asked = match read_need(&source, &arena) {
            Ok(asked) => asked,
            Err(refusal) => {
                legwork_fuzz::is_useful(&refusal);
                continue;
            }
        };
        // The same keys and values, written by a program: JSON in another order, without white space.
        let values: serde_json::Value = match syntax {
            Syntax::Toml => toml::from_str(source.text).unwrap(),
            Syntax::Json => serde_json::from_str(source.text).unwrap(),
        };
        let json = values.to_string();
        let again = read_need(&Source { name: "fuzz", text: &json, syntax: Syntax::Json }, &arena).unwrap();
        assert_eq!(format!("{asked:?}"), format!("{again:?}"), "{json}");
        if asked.outlets.len() <= OUTLETS {
            let planned = searched(&source);
            hold(&asked, &planned);
        }
    }
}

/// A plan, after a short search on a stack that has room for it.
fn searched(source: &Source<'_>) -> Planned {
    let search = || {
        let mut asked = 0;
        plan(source, &mut |_| {
            asked += 1;
            asked < STEPS
        })
    };
    std::thread::scope(|scope| {
        let thread = std::thread::Builder::new().stack_size(STACK).spawn_scoped(scope, search).expect("a thread");
        thread.join().expect("no panic")
    })
    .expect("a need that can be read")
}

thread_local! {
    static CHECKER: RefCell<Checker> = RefCell::new(Checker::new());
}

/// Holds a plan against its need.
fn hold(asked: &Asked<'_>, planned: &Planned) {
    if !planned.feasible {
        assert!(planned.premises.is_empty() && planned.parts.is_empty());
        return;
    }
    let mut cost = 0;
    for take in &planned.parts {
        let rows = asked.truck.names.iter().zip(asked.truck.items);
        let same = rows
            .filter(|((kind, name), item)| *kind == take.kind && *name == take.item && Some(item.cost) == take.cost);
        let at_hand: usize = same.map(|(_, item)| usize::from(item.count)).sum();
        assert!(take.count > 0 && take.count <= at_hand, "{take:?}");
        cost += take.cost.unwrap() * take.count as u32;
    }
    assert_eq!(cost, planned.cost);
    assert!(planned.margin >= asked.truck.margin.db() - ROUNDING);
    CHECKER.with_borrow_mut(|checker| {
        let source = Source { name: "plan", text: &planned.premises, syntax: Syntax::Toml };
        let checked = checker.check_margins(&source).unwrap_or_else(|refusal| panic!("{}", refusal.render(false)));
        let bad = checked.report.findings().iter().find(|finding| is_in_the_way(finding));
        assert!(bad.is_none(), "{bad:?}\n{}", planned.premises);
        let least = checked.report.margins().iter().map(|margin| margin.db).fold(f32::INFINITY, f32::min);
        assert!(least == planned.margin || (least - planned.margin).abs() <= ROUNDING, "{least} or {}", planned.margin);
        assert_eq!(checked.home.tree().outlets().len(), asked.outlets.len());
    });
}
