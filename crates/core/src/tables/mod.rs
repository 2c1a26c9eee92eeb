//! What is built in: specs and limits, each with its source and how far it may be trusted.
use crate::{Length, Limits, Ohms, Percent, Curve, Point, Db};
use crate::parts::{Cable, Splitter, Legs};

/// temporary
pub const LIMITS: [Limits; 4] = [Limits::NONE; 4];
/// temporary
pub static SERIES_6: Cable<'static> = Cable { loss: Curve::table(&[Point::constant(5.0, 0.58), Point::constant(1000.0, 6.55)]), per: Length::constant(30.48), loop_resistance: Ohms::constant(3.0), velocity: 0.85, spread: Percent::constant(0.0), band: None };
/// temporary
pub static SPLITTER_2: Splitter<'static> = Splitter { legs: Legs::Alike(2, Curve::flat(3.5)), spread: Db::ZERO, isolation: Curve::flat(20.0), dc_pass: 0, dc_ohms: Ohms::constant(0.0), band: None };
