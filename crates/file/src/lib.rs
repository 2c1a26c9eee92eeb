//! Premises files and reports of Legwork as text.
//!
//! [`read`] turns TOML or JSON into a [`Home`]: core's premises and the names that core does
//! without. A file in which something is wrong gives a [`Refusal`] that points at every mistake.
//! [`Checker`] runs core's check on a home and writes the report as JSON.
//!
//! ```
//! use legwork_file::{Checker, Source};
//!
//! let text = r#"
//! format = 1
//! name = "Two rooms"
//! [service]
//! split = "42/54 MHz"
//! carriers = [{ first = "57 MHz", last = "861 MHz", step = "6 MHz" }]
//! [entry]
//! forward = [["57 MHz", "12 dBmV"], ["861 MHz", "7 dBmV"]]
//! bonded = true
//! [[part]]
//! id = "run"
//! after = "entry"
//! cable = "series-6"
//! length = "40 ft"
//! [[outlet]]
//! id = "den"
//! after = "run"
//! device = "modem"
//! "#;
//! let source = Source::new("home.toml", text.as_bytes()).unwrap();
//! let mut checker = Checker::new();
//! let report = checker.check(&source, None).unwrap();
//! assert!(report.json().contains("\"verdict\":\"pass\""));
//! ```

mod build;
pub mod caution;
mod checker;
mod diagnose;
mod home;
mod json;
mod locate;
pub mod plan;
mod problem;
pub mod quantity;
pub mod raw;
mod read;
mod readings;
mod refusal;
mod render;
mod report;
pub mod schema;
mod tree;
mod words;

pub use build::{Asked, MOST_ITEMS, MOST_PARTS, MOST_WANTED, Truck};
pub use checker::{Checked, Checker};
pub use home::{Home, Names};
pub use locate::{Compared, Finder, Located};
pub use problem::{Path, Problem, Problems, Step, nearest};
pub use read::{LARGEST, Source, Syntax, read, read_need, read_stock};
pub use readings::MOST_READINGS;
pub use refusal::{Placed, Refusal, Second};
pub use report::{says, summary, write_json};
pub use words::{list, tenths};
