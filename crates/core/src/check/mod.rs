//! The whole check: every figure of a home against every limit, and what is wrong.

mod brief;
mod finding;
mod judge;
mod layout;
mod margins;
mod outlet;
mod powering;
mod report;
mod spots;
mod wiring;
mod workspace;

pub use finding::{At, Code, Finding, Verdict};
pub(crate) use judge::Bound;
pub(crate) use layout::Column;
pub(crate) use margins::Pair;
pub use margins::{Margin, Near};
pub(crate) use outlet::note;
pub use report::{AmplifierReport, DcReport, LinkReport, OutletReport, Report};
pub(crate) use spots::{Spot, mirrors};
pub use workspace::Workspace;
pub(crate) use workspace::{Desk, Store, spread_out};
