//! Which part of a home has more loss than it should, by what was read in it, and where to read next.
//!
//! The model: one part that carries the signal, or none, has an [`ExtraLoss`], the same for every reading behind
//! it; readings err by a normal error. Nothing wrong has half the prior weight, the parts share the other half.
//! What each part's readings say for it is weighed by the Bayesian information criterion (G. Schwarz, "Estimating
//! the dimension of a model", Annals of Statistics 6, 1978): residual sum of squares, and a price for each member.
//!
//! The order of work: `levels` says what was to be expected, `layout` puts readings in the order of the tree, so
//! that those behind a part stand side by side, and gathers parts that no reading tells apart; `fit` finds each
//! group's extra loss, `weigh` its weight, and `next` the reading that would tell most.

mod diagnosis;
mod excess;
mod fit;
mod layout;
mod levels;
mod locator;
mod next;
mod reading;
mod weigh;

pub use diagnosis::{Diagnosis, Expected, Suspect};
pub use excess::{ExtraLoss, Shape};
pub use locator::{Locator, READING_ERROR};
pub use next::NextReading;
pub use reading::Reading;
