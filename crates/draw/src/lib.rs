//! Pictures and the job sheet of a home.
//!
//! Everything is drawn from a [`Home`](legwork_file::Home) and its [`Report`](legwork::Report); there is no formula here.

mod drawing;
mod plot;
mod sheet;

pub use drawing::drawing;
pub use plot::plot;
pub use sheet::sheet;
