//! An oracle for whole-tool checks: the contract a second time, in the plainest way there is.
//!
//! [`check`] works a premises out in `f64`, one carrier, one part and one case at a time, with none of the
//! program's own code. [`home`] makes random premises for both to work out, [`differences`] says where two
//! reports disagree, and [`hold`] does all of it for a range of seeds.
//!
//! ```
//! let premises = legwork_tests::home(7);
//! let report = legwork_tests::check(&premises);
//! assert!(legwork_tests::differences(&report, &report).is_empty());
//! ```

mod compare;
mod exhaustive;
mod homes;
mod kept;
mod mending;
mod model;
mod needs;
mod oracle;
mod program;
mod threads;

pub use compare::differences;
pub use exhaustive::{Answer, Optimum, best, good};
pub use homes::{Random, Visit, home, to_toml, visit};
pub use kept::{blessed, hold_kept};
pub use mending::{Mended, Mending, broken, mend};
pub use model::{Line, Wiring, check, locate, on_the_edge};
pub use needs::{need, with_built_in};
pub use oracle::{Format, Outcome, hold};
pub use program::program;
pub use threads::{deeply, for_each};
