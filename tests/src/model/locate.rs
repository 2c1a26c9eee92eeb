//! Faults from readings, after the contract's own words: every subset, every part, every port, one at a time.

use serde_json::{Value, json};

use super::{forward::loss, part::Case, tables::Curve, tree::Home};

/// A line of a file of readings: place, MHz, dBmV.
pub type Line = (String, f64, f64);

/// The subsets of a, b, c in the order of the contract.
const SUBSETS: [&[usize]; 8] = [&[], &[0], &[1], &[2], &[0, 1], &[0, 2], &[1, 2], &[0, 1, 2]];

/// Middle, and what stands either side of it, in sigmas, with weights.
const NODES: [(f64, f64); 5] =
    [(0.0, 8.0 / 15.0), (1.355626, 0.222076), (-1.355626, 0.222076), (2.856970, 0.011257), (-2.856970, 0.011257)];

/// What a part or nothing wrong makes of the readings.
struct Verdict {
    excess: [f64; 3],
    squares: f64,
    /// R + k*ln(n).
    price: f64,
    /// How much dearer the next subset is: near zero, rounding chooses between them.
    margin: f64,
    /// Which readings are behind it.
    behind: Vec<bool>,
    weight: f64,
}

/// What readings say of a valid premises, with the keys of the contract, and two more: a suspect's `margin`, and
/// `gains`, what one more reading at a port would gain.
///
/// # Panics
///
/// Where the premises is not valid, or a place is unknown.
#[must_use]
pub fn locate(premises: &Value, lines: &[Line], sigma: f64) -> Value {
    let home = Home::read(premises);
    let port = |at: &str| home.outlets.iter().find(|o| o.id == at).map_or(at, |o| o.after.as_str()).to_owned();
    let entry: Vec<&Line> = lines.iter().filter(|line| port(&line.0) == "entry").collect();
    let away: Vec<&Line> = lines.iter().filter(|line| port(&line.0) != "entry").collect();
    let forward = if entry.is_empty() { home.forward.clone() } else { means(&entry) };
    let expected =
        |line: &Line| forward.in_root(line.1) - loss(&home, &home.way_to(&port(&line.0)), line.1, Case::Nominal);
    let below: Vec<f64> = away.iter().map(|line| expected(line) - line.2).collect();
    let mhz: Vec<f64> = away.iter().map(|line| line.1).collect();

    let mut verdicts = Vec::new();
    let signal: Vec<usize> = (0..home.parts.len()).filter(|part| !home.is_dc_only(&home.parts[*part].after)).collect();
    for &part in &signal {
        let behind = away.iter().map(|line| home.way_to(&port(&line.0)).iter().any(|step| step.0 == part));
        verdicts.push(judge(&mhz, &below, behind.collect(), sigma));
    }
    verdicts.push(judge(&mhz, &below, vec![false; away.len()], sigma));
    weigh(&mut verdicts);

    let mut groups: Vec<Vec<usize>> = Vec::new();
    for part in 0..signal.len() {
        match groups.iter_mut().find(|group| verdicts[group[0]].behind == verdicts[part].behind) {
            Some(group) => group.push(part),
            None => groups.push(vec![part]),
        }
    }
    groups.push(vec![signal.len()]);
    let weight = |group: &[usize]| group.iter().map(|one| verdicts[*one].weight).sum::<f64>();
    groups.sort_by(|left, right| weight(right).total_cmp(&weight(left)));
    let suspects: Vec<Value> = groups
        .iter()
        .map(|group| {
            let Verdict { excess: [a, b, c], margin, .. } = verdicts[group[0]];
            let parts: Vec<&str> =
                group.iter().filter_map(|one| signal.get(*one)).map(|part| home.parts[*part].id.as_str()).collect();
            json!({"parts": parts, "excess": {"a": a, "b": b, "c": c}, "weight": weight(group), "margin": margin})
        })
        .collect();

    let lowest = (0..below.len())
        .max_by(|left, right| below[*left].total_cmp(&below[*right]).then(right.cmp(left)))
        .expect("a reading");
    let taken: Vec<String> = lines.iter().map(|line| port(&line.0)).collect();
    let mut gains = Vec::new();
    for way in home.parts.iter().flat_map(|part| &part.ways) {
        if home.is_dc_only(&way.port) || taken.contains(&way.port) {
            continue;
        }
        let steps = home.way_to(&way.port);
        let on_the_way = |one: usize| signal.get(one).is_some_and(|part| steps.iter().any(|step| step.0 == *part));
        let departs: Vec<f64> = verdicts
            .iter()
            .enumerate()
            .map(|(one, verdict)| if on_the_way(one) { at(&verdict.excess, mhz[lowest]) } else { 0.0 })
            .collect();
        let weights: Vec<f64> = verdicts.iter().map(|verdict| verdict.weight).collect();
        gains.push(json!({"at": way.port, "gain": entropy(&weights) - left(&weights, &departs, sigma)}));
    }
    let rows: Vec<Value> = away
        .iter()
        .map(|line| json!({"at": line.0, "mhz": line.1, "expected_dbmv": expected(line), "read_dbmv": line.2}))
        .collect();
    let best = &verdicts[groups[0][0]];
    json!({
        "suspects": suspects, "unexplained_db": (best.squares / below.len() as f64).sqrt(),
        "readings": rows, "at_mhz": mhz[lowest], "gains": gains,
    })
}

/// The mean at each frequency.
fn means(lines: &[&Line]) -> Curve {
    let mut frequencies: Vec<f64> = lines.iter().map(|line| line.1).collect();
    frequencies.sort_by(f64::total_cmp);
    frequencies.dedup();
    Curve::of(
        frequencies
            .into_iter()
            .map(|mhz| {
                let there: Vec<f64> = lines.iter().filter(|line| line.1 == mhz).map(|line| line.2).collect();
                (mhz, there.iter().sum::<f64>() / there.len() as f64)
            })
            .collect(),
    )
}

/// What each member counts at a frequency.
fn shapes(mhz: f64) -> [f64; 3] {
    [1.0, (mhz / 1000.0).sqrt(), 10.0 / mhz]
}

/// An excess at a frequency.
fn at(excess: &[f64; 3], mhz: f64) -> f64 {
    let shapes = shapes(mhz);
    (0..3).map(|member| excess[member] * shapes[member]).sum()
}

/// The best subset for what is behind a part.
fn judge(mhz: &[f64], below: &[f64], behind: Vec<bool>, sigma: f64) -> Verdict {
    let n = below.len() as f64;
    let mut distinct: Vec<f64> = (0..below.len()).filter(|i| behind[*i]).map(|i| mhz[i]).collect();
    distinct.sort_by(f64::total_cmp);
    distinct.dedup();
    let mut tried = Vec::new();
    for subset in SUBSETS.into_iter().filter(|subset| subset.len() <= distinct.len()) {
        let Some(excess) = least_squares(mhz, below, &behind, subset) else { continue };
        if subset.iter().any(|member| excess[*member] <= 0.0) {
            continue;
        }
        let left = |i: usize| below[i] - if behind[i] { at(&excess, mhz[i]) } else { 0.0 };
        let squares: f64 = (0..below.len()).map(|i| left(i).powi(2)).sum();
        tried.push((excess, squares, squares / sigma.powi(2) + subset.len() as f64 * n.ln()));
    }
    let least = tried.iter().map(|one| one.2).fold(f64::INFINITY, f64::min);
    let chosen = tried.iter().position(|one| one.2 <= least + 0.001).expect("the empty one");
    // A subset is another choice where its price is near the least, or near where "as good" ends.
    let others = tried.iter().enumerate().filter(|(one, _)| *one != chosen);
    let margin =
        others.map(|(_, one)| (one.2 - least - 0.001).abs().min((one.2 - least).abs())).fold(f64::INFINITY, f64::min);
    let (excess, squares, price) = tried[chosen];
    Verdict { excess, squares, price, margin, behind, weight: 0.0 }
}

/// Least squares by the normal equations; none where they are singular.
fn least_squares(mhz: &[f64], below: &[f64], behind: &[bool], subset: &[usize]) -> Option<[f64; 3]> {
    let k = subset.len();
    let mut rows = vec![vec![0.0; k + 1]; k];
    for i in (0..below.len()).filter(|i| behind[*i]) {
        let shapes = shapes(mhz[i]);
        for (row, one) in rows.iter_mut().zip(subset) {
            for (cell, other) in row.iter_mut().zip(subset) {
                *cell += shapes[*one] * shapes[*other];
            }
            row[k] += shapes[*one] * below[i];
        }
    }
    for at in 0..k {
        let pivot = (at..k).max_by(|left, right| rows[*left][at].abs().total_cmp(&rows[*right][at].abs()))?;
        rows.swap(at, pivot);
        if rows[at][at].abs() < 1e-13 {
            return None;
        }
        let leading = rows[at].clone();
        for (_, row) in rows.iter_mut().enumerate().filter(|(other, _)| *other != at) {
            let times = row[at] / leading[at];
            row.iter_mut().zip(&leading).for_each(|(cell, lead)| *cell -= times * lead);
        }
    }
    let mut excess = [0.0; 3];
    for (at, member) in subset.iter().enumerate() {
        excess[*member] = rows[at][k] / rows[at][at];
    }
    Some(excess)
}

/// Prior times likelihood, normalised; the last is nothing wrong.
fn weigh(verdicts: &mut [Verdict]) {
    let parts = verdicts.len() - 1;
    let least = verdicts.iter().map(|verdict| verdict.price).fold(f64::INFINITY, f64::min);
    for (one, verdict) in verdicts.iter_mut().enumerate() {
        let prior = if one == parts { 0.5 } else { 0.5 / parts as f64 };
        verdict.weight = prior * (-(verdict.price - least) / 2.0).exp();
    }
    let sum: f64 = verdicts.iter().map(|verdict| verdict.weight).sum();
    verdicts.iter_mut().for_each(|verdict| verdict.weight /= sum);
}

fn entropy(weights: &[f64]) -> f64 {
    weights.iter().filter(|weight| **weight > 0.0).map(|weight| -weight * weight.ln()).sum()
}

/// The entropy that one more reading is expected to leave.
fn left(weights: &[f64], departs: &[f64], sigma: f64) -> f64 {
    let mut left = 0.0;
    for (weight, departure) in weights.iter().zip(departs) {
        for (off, often) in NODES {
            let y = departure + off * sigma;
            let each = weights.iter().zip(departs).map(|(w, d)| w * (-(y - d).powi(2) / (2.0 * sigma.powi(2))).exp());
            let after: Vec<f64> = each.collect();
            let sum: f64 = after.iter().sum();
            if sum > 0.0 {
                let after: Vec<f64> = after.iter().map(|one| one / sum).collect();
                left += weight * often * entropy(&after);
            }
        }
    }
    left
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn least_squares_find_what_was_put_in() {
        let mhz = [57.0, 200.0, 500.0, 861.0];
        let excess = [1.5, 3.0, 8.0];
        let below = mhz.map(|mhz| at(&excess, mhz));
        let verdict = judge(&mhz, &below, vec![true; 4], 0.01);
        for (found, put) in verdict.excess.iter().zip(excess) {
            assert!((found - put).abs() < 1e-9, "{:?}", verdict.excess);
        }
        assert!(verdict.squares < 1e-18);
    }

    #[test]
    fn one_reading_is_explained_by_the_first_of_three_that_do_it_as_well() {
        let verdict = judge(&[57.0], &[4.0], vec![true], 0.5);
        assert_eq!((verdict.excess, verdict.price), ([4.0, 0.0, 0.0], 0.0));
    }

    #[test]
    fn a_reading_that_tells_two_apart_for_good_leaves_nothing() {
        // ln 2 before, hardly anything behind 20 sigmas; nothing gained where both say the same.
        assert!(left(&[0.5, 0.5], &[0.0, 10.0], 0.5) < 1e-9);
        assert!((left(&[0.5, 0.5], &[3.0, 3.0], 0.5) - 2f64.ln()).abs() < 1e-5);
    }
}
