//! Every way of placing the supplies of a bag in a tree.

use super::{
    bags::Bag,
    candidate::{Candidate, Fill, Inserted},
    stock::{Need, What},
};

/// A place for a supply.
#[derive(Clone, Copy, Debug)]
enum Place {
    /// The `power` port of a node's amplifier.
    Power(usize),
    /// Behind an inserter at an outlet.
    Outlet(usize),
}

/// Tells of the tree with each placing of all supplies and inserters of a bag.
pub(crate) fn feed(need: &Need, bag: &Bag, tree: &Candidate, done: &mut dyn FnMut(&Candidate)) {
    let mut places = Vec::new();
    if need.mains {
        let nodes = tree.nodes.iter().enumerate();
        let powered = nodes.filter(|(_, node)| {
            let Fill::Part(item) = node.fill else { return false };
            let amplifier = need.items[item].part().and_then(|part| part.amplifier.as_ref());
            amplifier.is_some_and(|amplifier| amplifier.dc_ports.iter().any(|port| port == "power"))
        });
        places.extend(powered.map(|(node, _)| Place::Power(node)));
    }
    let outlets = (0..need.outlets.len()).filter(|outlet| need.outlets[*outlet].mains);
    places.extend(outlets.map(Place::Outlet));
    let mut left = bag.taken.clone();
    step(need, &places, &mut left, &mut tree.clone(), done);
}

/// Fills the first of the places, or leaves it, and goes on with the rest.
fn step(need: &Need, places: &[Place], left: &mut Vec<usize>, tree: &mut Candidate, done: &mut dyn FnMut(&Candidate)) {
    let picked = |left: &[usize], picks: fn(&What) -> bool| -> Vec<usize> {
        (0..left.len()).filter(|item| left[*item] > 0 && picks(&need.items[*item].what)).collect()
    };
    let supplies = picked(left, |what| matches!(what, What::Supply(_)));
    let inserters = picked(left, |what| matches!(what, What::Inserter(_)));
    let Some((place, rest)) = places.split_first() else {
        if supplies.is_empty() && inserters.is_empty() {
            done(tree);
        }
        return;
    };
    step(need, rest, left, tree, done);
    for supply in supplies {
        left[supply] -= 1;
        match *place {
            Place::Power(node) => {
                tree.powered.push((node, supply));
                step(need, rest, left, tree, done);
                tree.powered.pop();
            }
            Place::Outlet(outlet) => {
                for &inserter in &inserters {
                    left[inserter] -= 1;
                    tree.inserted.push(Inserted { outlet, inserter, supply: Some(supply) });
                    step(need, rest, left, tree, done);
                    tree.inserted.pop();
                    left[inserter] += 1;
                }
            }
        }
        left[supply] += 1;
    }
}
