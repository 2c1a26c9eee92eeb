//! What can hurt, said where a report touches it: one line each, never more than is relevant.

use legwork::{Code, Part, Report};

/// The cautions that a report calls for.
pub(super) fn cautions(report: &Report<'_, '_>) -> Vec<&'static str> {
    let has = |codes: &[Code]| report.findings().iter().any(|finding| codes.contains(&finding.code));
    let amplifier = report.tree().parts().any(|(_, part)| matches!(part, Part::Amplifier(_)));
    let dc = report.dc().next().is_some() || has(&[Code::TwoSupplies]);
    let mut cautions = Vec::new();
    if dc {
        cautions.push(
            "Caution: there is DC on this coax. Unplug the supply before you open a joint, and keep meters and sets off ports that carry it.",
        );
    } else if amplifier {
        cautions.push("Caution: plug-in supplies carry mains. Leave their inside to licensed hands.");
    }
    if has(&[Code::BondMissing, Code::BondLong, Code::BondThin]) {
        cautions.push(
            "Caution: an unbonded shield can carry mains or lightning current. Test it against ground first, do no such work in a storm, and follow local code and licensed practice.",
        );
    }
    cautions
}
