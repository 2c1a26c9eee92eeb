//! Legwork's pictures: the drawing of a home, its levels over frequency, and the job sheet.
//!
//! Everything is made from a home and its report; levels inside the tree are asked of core. Nothing is calculated here
//! but where things stand on paper. Every text of a file is escaped where it is written.
//!
//! ```
//! use legwork_file::{Checker, Source};
//!
//! let text = r#"
//! format = 1
//! name = "Two rooms <of many>"
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
//! let checked = checker.check(&source, None).unwrap();
//! let drawing = legwork_draw::drawing(&checked.home, &checked.report);
//! assert!(drawing.starts_with("<svg") && drawing.contains("Two rooms &lt;of many&gt;"));
//! ```

mod drawing;
mod glyph;
mod look;
mod measure;
mod outline;
mod plot;
mod sheet;
mod text;
mod words;

pub use drawing::drawing;
pub use plot::plot;
pub use sheet::sheet;
pub use text::tree;
