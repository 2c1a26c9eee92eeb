//! Limits and targets of one kind of device.

use std::collections::HashMap;

use serde_json::Value;

use super::quantity;

/// What a device's figures are held against; what is none is not checked.
#[derive(Clone, Debug, Default)]
pub(crate) struct Limits {
    pub(crate) forward: Option<(f64, f64)>,
    pub(crate) total: Option<f64>,
    pub(crate) tilt: Option<f64>,
    pub(crate) cnr: Option<f64>,
    pub(crate) transmit: Option<(f64, f64)>,
    pub(crate) window: Option<f64>,
    pub(crate) neighbour: Option<f64>,
}

/// A value that is there and is not `"none"`.
fn stated(value: &Value) -> Option<&Value> {
    Some(value).filter(|value| !value.is_null() && *value != "none")
}

impl Limits {
    /// The table of one device; a neighbour's limit left out stays none here.
    fn read(table: &Value) -> Self {
        let number = |key: &str, read: fn(&Value) -> f64| stated(&table[key]).map(read);
        let pair = |key: &str| {
            let ends = stated(&table[key])?;
            Some((quantity::dbmv(&ends[0]), quantity::dbmv(&ends[1])))
        };
        Self {
            forward: pair("forward"),
            total: number("total", quantity::dbmv),
            tilt: number("tilt", quantity::db),
            cnr: number("cnr", quantity::db),
            transmit: pair("transmit"),
            window: number("window", quantity::db),
            neighbour: number("neighbour", quantity::dbmv),
        }
    }

    /// All tables under `[limits]`, by device: a neighbour's limit left out is that on the total.
    pub(crate) fn read_all(tables: &Value) -> HashMap<String, Self> {
        let mut all = Self::read_targets(tables);
        for (device, limits) in &mut all {
            if tables[device]["neighbour"].is_null() {
                limits.neighbour = limits.total;
            }
        }
        all
    }

    /// All tables under `[target]`, by device: nothing falls back to anything.
    pub(crate) fn read_targets(tables: &Value) -> HashMap<String, Self> {
        let tables = tables.as_object().into_iter().flatten();
        tables.map(|(device, table)| (device.clone(), Self::read(table))).collect()
    }
}
