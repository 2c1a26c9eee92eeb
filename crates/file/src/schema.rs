//! JSON Schemas (draft 7), for editors and for programs that read reports.
//!
//! They are generated and held to this crate by tests; what they can't say, such as that an id stands
//! once in a file, is for [`read`](crate::read) alone to find.

/// Of premises files, as TOML or JSON.
pub const PREMISES: &str = include_str!("../schema/premises.schema.json");
/// Of need files, and of files with a stock alone.
pub const NEED: &str = include_str!("../schema/need.schema.json");
/// Of reports. They may have more keys than it names.
pub const REPORT: &str = include_str!("../schema/report.schema.json");
