//! One plan put together at random, so that limits can be set around what it does.

use crate::{
    exhaustive::{Candidate, Fill, Inserted, Need, Node, What, Worth, ways_out, weigh},
    homes::random::Random,
    model::judge,
};

/// How often a plan is tried before the need counts as one that has none.
const TRIES: usize = 150;

/// A plan of a need that has no limits but one of 0 dB or dBmV on what passes between outlets: nothing else is wrong
/// with it.
pub(crate) fn planted(random: &mut Random, need: &Need) -> Option<Candidate> {
    let with_amplifier = random.chance(80);
    (0..2 * TRIES).find_map(|number| {
        let plan = grow(random, need, with_amplifier && number < TRIES)?;
        let judged = judge(&plan.home(need));
        let blocked = judged.findings.iter().any(|found| found.code == "home-link-weak" && found.value.is_none());
        let between = |code: &str| code == "neighbour-transmit" || code == "home-link-weak";
        let worth = weigh(&judged, f64::NEG_INFINITY, |code| !between(code));
        (!blocked && worth != Worth::Bad).then_some(plan)
    })
}

/// A tree with every run, wired at random.
fn grow(random: &mut Random, need: &Need, with_amplifier: bool) -> Option<Candidate> {
    let mut left: Vec<usize> = need.items.iter().map(|item| item.count).collect();
    let mut plan = Candidate::default();
    let mut open = vec![None];
    let mut more = usize::from(random.chance(40));
    let has_amplifier = |plan: &Candidate| {
        plan.nodes.iter().any(|node| matches!(node.fill, Fill::Part(item) if need.items[item].is_amplifier()))
    };
    while open.len() < need.outlets.len() || more > 0 || with_amplifier && !has_amplifier(&plan) {
        more = more.saturating_sub(usize::from(open.len() >= need.outlets.len()));
        let fits = |item: &usize| {
            left[*item] > 0
                && need.items[*item].part().is_some()
                && (with_amplifier || !need.items[*item].is_amplifier())
        };
        let items: Vec<usize> = (0..left.len()).filter(fits).collect();
        if items.is_empty() {
            break;
        }
        let item = random.one(&items);
        left[item] -= 1;
        let at = open.swap_remove(random.whole(0, open.len() - 1));
        let number = plan.nodes.len();
        plan.nodes.push(Node { at, fill: Fill::Part(item) });
        open.extend(ways_out(need.items[item].part()?).map(|way| Some((number, way))));
    }
    if open.len() < need.outlets.len() || with_amplifier != has_amplifier(&plan) {
        return None;
    }
    random.shuffle(&mut open);
    for (number, at) in open.into_iter().enumerate() {
        let fill = if number < need.outlets.len() { Fill::Run(number) } else { Fill::Terminator };
        plan.nodes.push(Node { at, fill });
    }
    power(random, need, &mut left, &mut plan)?;
    Some(plan)
}

/// A supply for every amplifier, at its own port or through an inserter at some outlet.
fn power(random: &mut Random, need: &Need, left: &mut [usize], plan: &mut Candidate) -> Option<()> {
    let mut hosts: Vec<usize> = (0..need.outlets.len()).filter(|outlet| need.outlets[*outlet].mains).collect();
    random.shuffle(&mut hosts);
    let mut take = |random: &mut Random, picks: fn(&What) -> bool| {
        let fits = |item: &usize| left[*item] > 0 && picks(&need.items[*item].what);
        let items: Vec<usize> = (0..left.len()).filter(fits).collect();
        let item = (!items.is_empty()).then(|| random.one(&items))?;
        left[item] -= 1;
        Some(item)
    };
    for number in 0..plan.nodes.len() {
        let Fill::Part(item) = plan.nodes[number].fill else { continue };
        let Some(amplifier) = need.items[item].part().and_then(|part| part.amplifier.as_ref()) else { continue };
        let supply = take(random, |what| matches!(what, What::Supply(_)))?;
        let has_port = amplifier.dc_ports.iter().any(|port| port == "power");
        if need.mains && has_port && !random.chance(25) {
            plan.powered.push((number, supply));
        } else {
            let inserter = take(random, |what| matches!(what, What::Inserter(_)))?;
            plan.inserted.push(Inserted { outlet: hosts.pop()?, inserter, supply: Some(supply) });
        }
    }
    Some(())
}
