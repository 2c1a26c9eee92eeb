//! Levels, splits, and what devices take.

use super::*;

#[test]
fn levels_convert_as_published() {
    let ten_millivolts = Level::from_volts(Volts::constant(0.010)).expect("a level").dbmv();
    let at_12_dbmv = dbmv(12.0);
    let from_dbuv = Level::from_dbuv(60.0).expect("a level").dbmv();
    let from_dbm = Level::from_dbm(-48.7506).expect("a level").dbmv();
    let half_power = Db::from_power_ratio(2.0).expect("a ratio").db();
    hold_all(
        &[
            // broadbandlibrary.com, "Total Power and Power Spectral Density"; watts to two decimals of a microwatt.
            Figure("+20 dBmV in mV", 10.0, f64::from(dbmv(20.0).volts()) * 1e3, 5e-5),
            Figure("10 mV in dBmV", 20.0, f64::from(ten_millivolts), 5e-5),
            Figure("+20 dBmV in uW", 1.33, f64::from(dbmv(20.0).watts()) * 1e6, 0.005),
            Figure("0 dBmV in nW", 13.33, f64::from(dbmv(0.0).watts()) * 1e9, 0.005),
            // A semiconductor maker's tutorial 808, 75 ohm, to four decimals.
            Figure("dBmV less dBm", 48.7506, f64::from(at_12_dbmv.dbmv() - at_12_dbmv.dbm()), 5e-5 + 4e-6),
            Figure("dBuV less dBmV", 60.0, f64::from(at_12_dbmv.dbuv() - at_12_dbmv.dbmv()), 5e-5),
            Figure("dBuV less dBm", 108.75, f64::from(at_12_dbmv.dbuv() - at_12_dbmv.dbm()), 0.005),
            Figure("60 dBuV in dBmV", 0.0, f64::from(from_dbuv), 5e-5),
            Figure("-48.7506 dBm in dBmV", 0.0, f64::from(from_dbm), 5e-5 + 4e-6),
            // 47 CFR 76.605 (2005): 1 mV is 0 dBmV, 1.41 mV +3 dBmV (2.984).
            Figure("0 dBmV in mV", 1.0, f64::from(dbmv(0.0).volts()) * 1e3, 5e-4),
            Figure("+3 dBmV in mV", 1.41, f64::from(dbmv(3.0).volts()) * 1e3, 0.005),
            // broadbandlibrary.com, "Loss".
            Figure("10 dBmV in, 4 dBmV out", 6.0, f64::from((dbmv(10.0) - dbmv(4.0)).db()), 1e-6),
            Figure("4 W in, 2 W out", 3.01, f64::from(half_power), 0.005),
        ],
        13,
    );
}

#[test]
fn ideal_splits_are_ten_times_the_logarithm_of_their_legs() {
    let split = |legs: f32| f64::from(Db::from_power_ratio(legs).expect("a ratio").db());
    hold_all(
        &[
            Figure("2 legs", 3.010, split(2.0), 5e-4),
            Figure("3 legs", 4.771, split(3.0), 5e-4),
            Figure("4 legs", 6.021, split(4.0), 5e-4),
            Figure("6 legs", 7.782, split(6.0), 5e-4),
            Figure("8 legs", 9.031, split(8.0), 5e-4),
            Figure("16 legs", 12.041, split(16.0), 5e-4),
            // Total power over channels bonded: cablefax.com, "Total Power and Channel Bonding", 57 dBmV on one, 51 on four.
            Figure("57 dBmV shared by four channels", 51.0, 57.0 - split(4.0), 0.5),
            // DOCS-IF31-MIB: the highest level reported per 1.6 MHz of 65 dBmV in 24 MHz, in quarters of a dB.
            Figure("65 dBmV in 24 MHz, per 1.6 MHz", 53.25, 65.0 - split(24.0 / 1.6), 0.125),
        ],
        8,
    );
}

#[test]
fn built_in_splitters_lose_what_the_trade_expects() {
    // A page that copies an equipment maker's help text: 2-way 3.5 dB, 4-way 7.0, 8-way 10.5, unequal 3-way 3.5, 7.0 and
    // 7.0; a budget at 1125 MHz (third-hand). Broadband figures: 1 dB. Left out: splitters of feeder lines, another build.
    let loss = |name: &str, leg: u8, at: f64| {
        let splitter = tables::splitter(name).unwrap_or_else(|| panic!("no {name}"));
        f64::from(splitter.loss(leg).expect("a leg").at(mhz(at)))
    };
    hold_all(
        &[
            Figure("2-way", 3.5, loss("2-way", 0, 500.0), 1.0),
            Figure("2-way, 1125 MHz", 4.1, loss("2-way", 0, 1125.0), 1.0),
            Figure("4-way", 7.0, loss("4-way", 0, 500.0), 1.0),
            Figure("8-way", 10.5, loss("8-way", 0, 500.0), 1.0),
            Figure("unequal 3-way, first leg", 3.5, loss("3-way-unequal", 0, 500.0), 1.0),
            Figure("unequal 3-way, second leg", 7.0, loss("3-way-unequal", 1, 500.0), 1.0),
            Figure("unequal 3-way, third leg", 7.0, loss("3-way-unequal", 2, 500.0), 1.0),
        ],
        7,
    );
}

#[test]
fn limits_of_a_modem_are_the_published_ones() {
    // The rows of "docsis" in the table of sources; levels to a whole dB.
    let [modem, ..] = tables::LIMITS;
    hold_all(
        &[
            // cablefax.com, "Broadband: Total Power", quoting the RFI specification.
            Figure("lowest forward", -15.0, f64::from(modem.forward.0), 0.0),
            Figure("highest forward", 15.0, f64::from(modem.forward.1), 0.0),
            Figure("total", 30.0, f64::from(modem.total), 0.0),
            // A headend interface card's specification, page 8.
            Figure("slope", 16.0, f64::from(modem.tilt), 0.0),
            // A router's hardware guide, appendix B, quoting the same.
            Figure("carrier to noise", 35.0, f64::from(modem.cnr), 0.0),
            // DOCS-IF31-MIB; "Total Power and Channel Bonding: a follow-up lesson"; cmBondedUsDRWBottom.
            Figure("lowest transmit", 17.0, f64::from(modem.transmit.0), 0.0),
            Figure("highest transmit", 51.0, f64::from(modem.transmit.1), 0.0),
            Figure("window", 12.0, f64::from(modem.window), 0.0),
        ],
        8,
    );
}

#[test]
fn levels_at_a_television_outlet_are_the_published_ones() {
    // EN 60728-1, 256-QAM at the outlet, 54 to 74 dBuV, on a page of key figures.
    let [.., television] = tables::LIMITS;
    let dbuv = |level: f32| f64::from(Level::new(level).expect("a level").dbuv());
    hold_all(
        &[
            Figure("lowest", 54.0, dbuv(television.forward.0), 0.0),
            Figure("highest", 74.0, dbuv(television.forward.1), 0.0),
            // 0 dBmV is 13.33 nW, the other way round.
            Figure(
                "13.33 nW",
                60.0,
                {
                    let watts = Level::from_watts(Watts::constant(13.333_333e-9)).expect("a level");
                    f64::from(watts.dbuv())
                },
                1e-4,
            ),
        ],
        3,
    );
}
