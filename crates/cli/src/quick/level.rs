//! `legwork level`: one level in every unit.

use legwork::Level as Signal;
use legwork_file::quantity;
use serde::Serialize;

use super::answer::{self, Page};
use super::ask;
use super::figure::{decimals, prefixed};
use crate::{Failure, Outcome};

/// Arguments of `level`.
#[derive(Debug, clap::Args)]
pub(crate) struct Level {
    /// A level: dBmV, dBuV, dBm (75 ohm), mV, V, mW or W
    #[arg(value_name = "LEVEL", allow_hyphen_values = true)]
    level: String,
    /// As JSON
    #[arg(long)]
    json: bool,
}

#[derive(Serialize)]
struct Figures {
    dbmv: f32,
    dbuv: f32,
    dbm: f32,
    volts: f32,
    watts: f32,
}

impl Level {
    pub(super) fn run(&self) -> Result<Outcome, Failure> {
        let level = ask::read("LEVEL", &self.level, quantity::level)?;
        let figures = Figures {
            dbmv: level.dbmv(),
            dbuv: level.dbuv(),
            dbm: level.dbm(),
            volts: level.volts(),
            watts: level.watts(),
        };
        answer::done(self.json, &figures, || page(level))
    }
}

fn page(level: Signal) -> Page {
    let [dbmv, dbuv, dbm] = [level.dbmv(), level.dbuv(), level.dbm()].map(|value| decimals(value, 2));
    let (volts, watts) = (prefixed(level.volts(), "V"), prefixed(level.watts(), "W"));
    let mut page = Page::new(format!("{dbmv} dBmV   {dbuv} dBuV   {dbm} dBm   {volts}   {watts}"));
    page.formula(format!("dBuV = dBmV + 60 = {dbmv} + 60 = {dbuv}"));
    page.formula(format!("dBm = dBmV - 48.7506 = {dbmv} - 48.7506 = {dbm}"));
    page.formula(format!("V = 1 mV * 10^(dBmV/20) = 1 mV * 10^({dbmv}/20) = {volts}"));
    page.formula(format!("W = V^2/75 ohm = ({volts})^2/75 ohm = {watts}"));
    page.source(
        "0 dBmV is 1 mV across 75 ohm: 13.33 nW, -48.7506 dBm (Broadband Library, \"Total power and power spectral \
         density\"; a semiconductor maker's tutorial on cable levels)",
    );
    page
}
