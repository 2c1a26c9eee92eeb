//! What holds of every home and its report, whatever stands in it.

use legwork::{Case, Frequency, Level, Margin, Part, PortId, Report, Tree};

/// What a level may be off by when it is added up in another order: some ulps of the largest sum on the way.
fn rounding(of: f32) -> f32 {
    1e-3 + 1e-5 * of.abs()
}

/// Whether what arrives all along the way to a port is a level: powers beyond find no room in `f32`.
fn has_levels(tree: &Tree<'_, '_>, port: PortId, frequency: Frequency) -> bool {
    let is_level = |level: f32| level.abs() <= Level::MAX.dbmv();
    let mut way = std::iter::successors(Some(port), |port| tree.after(tree.owner(*port)?.0));
    way.all(|port| {
        let levels = tree.levels_at(port, frequency).expect("a level");
        is_level(levels.low) && is_level(levels.high)
    })
}

/// Levels fall along passive parts, in both directions and all cases, and more loss never means more level.
///
/// # Panics
/// Where they do not.
pub fn levels_fall(tree: &Tree<'_, '_>, frequency: Frequency) {
    for (id, part) in tree.parts() {
        let after = tree.after(id).expect("a part hangs on a port");
        for (number, way) in tree.ways_out(id).enumerate() {
            if !tree.carries_signal(way) {
                assert!(tree.level_at(way, frequency, Case::Nominal).is_err());
                continue;
            }
            let level = |port: PortId, case| tree.level_at(port, frequency, case).expect("a level").dbmv();
            let sent = |port: PortId, case| tree.transmit_at(port, frequency, case).expect("a level or none");
            let (most, least) = (level(way, Case::Most), level(way, Case::Least));
            assert!(most <= least + rounding(most), "{part:?}: {most} dBmV with the most loss, {least} with the least");
            let amplified = part.amplifier().is_some_and(|spec| number < usize::from(spec.outputs));
            for case in Case::ALL.into_iter().filter(|_| !amplified) {
                let (before, behind) = (level(after, case), level(way, case));
                assert!(behind <= before + rounding(before), "{part:?}: {before} dBmV, then {behind}");
                match (sent(after, case), sent(way, case)) {
                    (Some(before), Some(behind)) => {
                        let (before, behind) = (before.dbmv(), behind.dbmv());
                        assert!(behind >= before - rounding(before), "{part:?}: {before} dBmV sent, then {behind}");
                    }
                    (before, behind) => assert_eq!(before, behind, "a passive part ends no way back"),
                }
            }
        }
    }
}

/// The figures of a report agree with each other and with single levels.
///
/// # Panics
/// Where they do not.
pub fn agrees(report: &Report<'_, '_>) {
    let tree = report.tree();
    let figure = |figure: &legwork::Figure| {
        assert!(figure.low.is_finite() && figure.high.is_finite(), "{figure:?}");
        assert!(figure.low <= figure.nominal && figure.nominal <= figure.high, "{figure:?}");
    };
    let near = |one: f32, other: f32| {
        assert!((one - other).abs() <= rounding(one.abs().max(other.abs())), "{one} or {other}");
    };
    for outlet in report.outlets() {
        let port = tree.outlets()[outlet.outlet.index()].port();
        outlet.forward.iter().chain(outlet.cnr).chain(outlet.transmit.into_iter().flatten()).for_each(figure);
        figure(&outlet.tilt);
        figure(&outlet.total);
        let at = |mhz: f32| Frequency::new(mhz).expect("a frequency");
        assert_eq!(outlet.forward.len(), report.forward_frequencies().count());
        for (row, mhz) in outlet.forward.iter().zip(report.forward_frequencies()) {
            let single = tree.levels_at(port, at(mhz)).expect("a level");
            near(row.nominal, single.nominal);
            near(row.low, single.low);
            near(row.high, single.high);
        }
        let single = |mhz| tree.transmits_at(port, at(mhz)).expect("a level or none");
        match outlet.transmit {
            Some(rows) => {
                assert_eq!(rows.len(), report.return_frequencies().count());
                for (row, mhz) in rows.iter().zip(report.return_frequencies()) {
                    near(row.nominal, single(mhz).expect("a way back").nominal);
                }
            }
            None => assert!(report.return_frequencies().all(|mhz| single(mhz).is_none())),
        }
        if let Some(cnr) = &tree.entry.cnr {
            assert_eq!(outlet.cnr.len(), outlet.forward.len());
            for (row, mhz) in outlet.cnr.iter().zip(report.forward_frequencies()) {
                // Nothing on the way makes it better.
                if has_levels(tree, port, at(mhz)) {
                    assert!(row.high <= cnr.at(at(mhz)) + 1e-2, "{} dB", row.high);
                }
            }
        }
        let (first, last) = (tree.service.first_carrier(), tree.service.last_carrier());
        let level = |mhz| tree.level_at(port, at(mhz), Case::Nominal).expect("a level").dbmv();
        let tilt = level(last) - level(first);
        assert!((outlet.tilt.nominal - tilt).abs() <= 2.0 * rounding(level(first).abs().max(level(last).abs())));
        for amplifier in report.needs_power_at(outlet.outlet) {
            assert!(report.outlets_lost(amplifier).any(|lost| lost == outlet.outlet));
        }
        assert!(outlet.verdict <= report.verdict());
    }
    for amplifier in report.amplifiers() {
        figure(&amplifier.input_total);
        for lost in report.outlets_lost(amplifier.part) {
            assert!(report.needs_power_at(lost).any(|part| part == amplifier.part));
        }
    }
    let members = tree.members().len();
    let links = if tree.home_network.is_some() { members * members.saturating_sub(1) } else { 0 };
    assert_eq!(report.links().count(), links);
    for finding in report.findings() {
        assert!(finding.brief().len() <= 32 && !finding.brief().is_empty());
        assert!(finding.value.is_none_or(f32::is_finite) && finding.limit.is_none_or(f32::is_finite), "{finding:?}");
    }
}

/// Whether a cable on the way to a port has no loss at some carriers and some at others: a table that falls. Where it comes
/// to nothing it has a bend at no point of any table, and the few carriers that stand for all may miss it.
fn bends(tree: &Tree<'_, '_>, port: PortId) -> bool {
    let ends = [tree.service.first_carrier(), tree.service.last_carrier()];
    let mut way = std::iter::successors(Some(port), |port| tree.after(tree.owner(*port)?.0));
    way.any(|port| match tree.owner(port).and_then(|(part, _)| tree.part(part)) {
        Some(Part::Cable { spec, .. }) => ends.iter().any(|mhz| {
            spec.loss.at_square_root(Frequency::new(*mhz).expect("a frequency")) <= 0.0 && !spec.loss.is_flat()
        }),
        _ => false,
    })
}

/// The total at each outlet is the sum of the carriers' powers, worked out one by one in `f64`.
///
/// # Panics
/// Where it is not.
pub fn totals_add_up(report: &Report<'_, '_>) {
    let tree = report.tree();
    for outlet in report.outlets() {
        let port = tree.outlets()[outlet.outlet.index()].port();
        let carriers = tree
            .service
            .blocks()
            .iter()
            .flat_map(|block| (0..block.count()).map(|number| (block.centre(number), f64::from(block.offset()))));
        let levels: Vec<f64> = carriers
            .map(|(mhz, offset)| {
                let mhz = Frequency::new(mhz).expect("a frequency");
                f64::from(tree.level_at(port, mhz, Case::Nominal).expect("a level").dbmv()) + offset
            })
            .collect();
        let most = levels.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        let sum: f64 = levels.iter().map(|level| 10.0_f64.powf((level - most) / 10.0)).sum();
        let (right, said) = (most + 10.0 * sum.log10(), f64::from(outlet.total.nominal));
        if bends(tree, port) {
            continue;
        }
        // Powers of more than any level can be, or less, find no room in `f32`; nor those with an offset as large again.
        if levels.iter().all(|level| level.abs() <= f64::from(Level::MAX.dbmv()) / 2.0) {
            assert!((said - right).abs() <= 0.01, "{said} dBmV in all, not {right}");
        }
    }
}

/// Margins are negative where something measured is found fault with, and only there.
///
/// # Panics
/// Where they are not.
pub fn margins_tell(report: &Report<'_, '_>) {
    let least = report.margins().iter().map(|margin: &Margin| margin.db).fold(f32::INFINITY, f32::min);
    let measured = report.findings().iter().filter_map(legwork::Finding::decibels_beyond);
    let most = measured.fold(f32::NEG_INFINITY, f32::max);
    if most >= 0.0 {
        assert!(least < 0.0, "{most} dB beyond a limit, and a margin of {least} dB");
        assert!(-least >= most - rounding(most), "{most} dB beyond a limit, and a margin of {least} dB");
    } else {
        assert!(least >= -rounding(least), "nothing is beyond a limit, and a margin is {least} dB");
    }
}
