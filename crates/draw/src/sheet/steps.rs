//! The order of work, what to heed before each step above it.

use legwork_file::caution::{self, Caution, Scene};
use maud::{Markup, html};

/// A step of the work.
struct Step {
    says: &'static str,
    heed: &'static [&'static Caution],
    when: When,
}

/// Where a step is one.
enum When {
    Always,
    /// Only where something is to be heeded.
    Heeding,
    /// Only where this holds.
    If(&'static Caution),
}

static STEPS: [Step; 9] = [
    Step {
        says: "Ask who needs the phone line or the alarm; agree on a time.",
        heed: &[&caution::PHONE_DROPS],
        when: When::Heeding,
    },
    Step {
        says: "Bond the shield at the entry.",
        heed: &[&caution::STORM, &caution::SHIELD_AT_WORK],
        when: When::Heeding,
    },
    Step {
        says: "Put the filter for the home network in at the entry.",
        heed: &[&caution::NEIGHBOURS],
        when: When::Heeding,
    },
    Step { says: "Pull the runs, cut them as listed, tag both ends.", heed: &[&caution::DRILL], when: When::Heeding },
    Step {
        says: "Put the parts on as drawn; tighten every connector.",
        heed: &[&caution::WAY_OPEN],
        when: When::Always,
    },
    Step { says: "Plug the supply in.", heed: &[&caution::SUPPLY_LAST], when: When::Heeding },
    Step { says: "Read every level below; find what is outside its window.", heed: &[], when: When::Always },
    Step {
        says: "Try the phone, then again on battery with the mains pulled.",
        heed: &[],
        when: When::If(&caution::PHONE_DROPS),
    },
    Step { says: "Check for leakage at the end, at every part and outlet.", heed: &[], when: When::Always },
];

/// The steps of the work.
pub(super) fn steps(scene: &Scene<'_>) -> Markup {
    html! {
        ol.steps {
            @for step in &STEPS {
                @let heed: Vec<_> = step.heed.iter().filter(|caution| caution.holds(scene)).collect();
                @let is_one = match step.when {
                    When::Always => true,
                    When::Heeding => !heed.is_empty(),
                    When::If(caution) => caution.holds(scene),
                };
                @if is_one { li { @for caution in heed { (paragraph(caution)) } (step.says) } }
            }
        }
    }
}

/// A caution where it holds.
pub(super) fn heed(caution: &Caution, scene: &Scene<'_>) -> Markup {
    html! { @if caution.holds(scene) { (paragraph(caution)) } }
}

fn paragraph(caution: &Caution) -> Markup {
    html! { p.caution { b { "Caution" } " " (caution.says) } }
}
