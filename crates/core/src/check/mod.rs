//! The whole check: every figure of a home against every limit, and what is wrong.

mod brief;
mod finding;
mod judge;
mod layout;
mod margins;
mod powering;
mod report;
mod spots;
mod wiring;
mod workspace;

pub use finding::{At, Code, Finding, Verdict};
pub(crate) use finding::{note, raise};
pub(crate) use judge::{About, Bound, not_above, not_below};
pub use margins::Margin;
pub use report::{AmplifierReport, DcReport, LinkReport, OutletReport, Report};
pub(crate) use workspace::Desk;
pub use workspace::Workspace;
