//! Published figures that a command can express. Tolerance: half the last printed digit, and what a row
//! says beside it; to each, f32's rounding.

use crate::binary::figure;

/// f32's rounding over some steps, as a fraction.
const ROUNDING: f64 = 1e-6;

/// A line, the figure in its answer, and what was printed.
struct Row(&'static str, &'static str, f64, f64);

fn hold(rows: &[Row], source: &str) -> usize {
    for Row(line, pointer, want, tolerance) in rows {
        let got = figure(line, pointer);
        let error = (got - want).abs();
        assert!(error <= tolerance + want.abs() * ROUNDING, "legwork {line}: {got}, not {want} ({source})");
    }
    rows.len()
}

#[test]
fn levels() {
    let seen = hold(
        &[
            Row("level 20dBmV", "/volts", 10e-3, 0.5e-3),
            Row("level 20dBmV", "/watts", 1.33e-6, 0.005e-6),
            Row("level 0dBmV", "/watts", 13.33e-9, 0.005e-9),
        ],
        "Broadband Library, \"Total power and power spectral density\"",
    ) + hold(
        &[
            Row("level 0dBm", "/dbmv", 48.7506, 5e-5),
            Row("level 0dBmV", "/dbm", -48.7506, 5e-5),
            Row("level 0dBmV", "/dbuv", 60.0, 0.5),
            Row("level 0dBm", "/dbuv", 108.75, 5e-3),
        ],
        "a semiconductor maker's tutorial, \"CATV dBm, dBmV, dBuV conversions\"",
    ) + hold(
        // sqrt(0.0133*75) mV and 2*sqrt(0.00662*75) mV are what the rule gives for other impedances.
        &[
            Row("level 1mV", "/dbmv", 0.0, 0.5),
            Row("level 1.41mV", "/dbmv", 3.0, 0.5),
            Row("level 1.41mV", "/dbmv", 2.984, 5e-4),
            Row("level 0.99875mV", "/dbmv", 0.0, 0.5),
            Row("level 1.40926mV", "/dbmv", 3.0, 0.5),
        ],
        "47 CFR 76.605(a)(3), 2005 to 2015",
    ) + hold(
        &[Row("level 0.0011mV", "/dbmv", -59.0, 0.5)],
        "Freeman, Fundamentals of Telecommunications, p. 436: 1.1 uV, -59 dBmV",
    );
    assert_eq!(seen, 13);
    // Broadband Library, "Loss": from 4 W to 2 W it is 3.01 dB.
    let halved = figure("level 4W", "/dbm") - figure("level 2W", "/dbm");
    assert!((halved - 3.01).abs() <= 0.005, "{halved}");
}

#[test]
fn sums() {
    let seen = hold(
        &[Row("sum -53dBmV -53dBmV", "/dbmv", -49.99, 0.005)],
        "cablefax.com, \"Broadband total power\", part 2: 53 and 53 dB together are 49.99 dB",
    ) + hold(
        &[Row("sum 51dBmV 51dBmV 51dBmV 51dBmV", "/dbmv", 57.0, 0.5), Row("sum 54dBmV 54dBmV", "/dbmv", 57.0, 0.5)],
        "cablefax.com, \"Total power and channel bonding\": 57 dBmV in one channel, 54 in two, 51 in four",
    ) + hold(
        // What N alike have together, the ideal split takes away: 10*log10(N), derived.
        &[
            Row("sum 0dBmV 0dBmV", "/dbmv", 3.010, 5e-4),
            Row("sum 0dBmV 0dBmV 0dBmV", "/dbmv", 4.771, 5e-4),
            Row("sum 0dBmV 0dBmV 0dBmV 0dBmV", "/dbmv", 6.021, 5e-4),
            Row("sum 0dBmV 0dBmV 0dBmV 0dBmV 0dBmV 0dBmV", "/dbmv", 7.782, 5e-4),
            Row("sum 0dBmV 0dBmV 0dBmV 0dBmV 0dBmV 0dBmV 0dBmV 0dBmV", "/dbmv", 9.031, 5e-4),
        ],
        "10*log10(N)",
    );
    assert_eq!(seen, 8);
    let fifteen = ["53.24dBmV"; 15].join(" ");
    // 65 dBmV over 24 MHz is 53.24 dBmV in each 1.6 MHz of it (checked there).
    assert!((figure(&format!("sum {fifteen}"), "/dbmv") - 65.0).abs() <= 0.005 + 1e-4);
}

#[test]
fn noise() {
    let seen = hold(
        &[
            Row("noise --noise-figure 0dB --input 0dBmV --bandwidth 4MHz", "/floor_dbmv", -59.20, 0.005),
            Row("noise --noise-figure 0dB --input 0dBmV --bandwidth 5MHz", "/floor_dbmv", -58.23, 0.005),
            Row("noise --noise-figure 0dB --input 0dBmV --bandwidth 6MHz", "/floor_dbmv", -57.44, 0.005),
        ],
        "kTB at 290 K, derived",
    ) + hold(
        &[Row("noise --noise-figure 0dB --input 0dBmV --bandwidth 4MHz", "/floor_dbmv", -59.0, 0.5)],
        "Freeman p. 436; cabl.com, formula page",
    ) + hold(
        &[
            Row("noise --noise-figure 8dB --input 10dBmV --bandwidth 5MHz", "/cnr_db", 60.0, 0.5),
            Row("noise --noise-figure 8dB --input 10dBmV --bandwidth 5MHz --cascade 2", "/cnr_db", 57.0, 0.5),
            Row("noise --noise-figure 8dB --input 10dBmV --bandwidth 5MHz --cascade 4", "/cnr_db", 54.0, 0.5),
        ],
        "an amplifier maker's application note 556",
    );
    assert_eq!(seen, 7);
    let cnr = |input: &str, n: u8| {
        figure(&format!("noise --noise-figure 5dB --input {input} --bandwidth 4MHz --cascade {n}"), "/cnr_db")
    };
    // An RF glossary, "cable amplifier": 48 dB of one are 42 dB of four in cascade (exact 41.98).
    assert!((48.0 + cnr("0dBmV", 4) - cnr("0dBmV", 1) - 41.98).abs() <= 0.005);
    // Flashcards of a course: 3 dB more in and out, 3 dB more C/N.
    assert!((cnr("3dBmV", 4) - cnr("0dBmV", 4) - 3.0).abs() <= 1e-4);
}

#[test]
fn wires() {
    let seen = hold(
        &[
            Row("wire 14AWG 1000ft", "/ohms", 2.5254, 5e-5),
            Row("wire 16AWG 1000ft", "/ohms", 4.0156, 5e-5),
            Row("wire 18AWG 1000ft", "/ohms", 6.3850, 5e-5),
            Row("wire 20AWG 1000ft", "/ohms", 10.1526, 5e-5),
            Row("wire 22AWG 1000ft", "/ohms", 16.1432, 5e-5),
            Row("wire 24AWG 1000ft", "/ohms", 25.6688, 5e-5),
        ],
        "AWG formula, 1/58 ohm mm2/m, derived",
    ) + hold(
        &[
            Row("wire 14AWG 1000ft", "/ohms", 2.525, 5e-4),
            Row("wire 16AWG 1000ft", "/ohms", 4.016, 5e-4),
            Row("wire 18AWG 1000ft", "/ohms", 6.385, 5e-4),
            Row("wire 20AWG 1000ft", "/ohms", 10.15, 5e-3),
            Row("wire 22AWG 1000ft", "/ohms", 16.14, 5e-3),
            Row("wire 24AWG 1000ft", "/ohms", 25.67, 5e-3),
        ],
        "a wire table after NBS Circular 31, third-hand",
    ) + hold(
        // It works from areas rounded to three digits, 0.12 % at the most.
        &[
            Row("wire 18AWG 1000ft --temp 75C", "/ohms", 7.77, 5e-3 + 7.77 * 1.2e-3),
            Row("wire 14AWG 1000ft --temp 75C", "/ohms", 3.07, 5e-3 + 3.07 * 1.2e-3),
            Row("wire 12AWG 1000ft --temp 75C", "/ohms", 1.93, 5e-3 + 1.93 * 1.2e-3),
            Row("wire 10AWG 1000ft --temp 75C", "/ohms", 1.21, 5e-3 + 1.21 * 1.2e-3),
            Row("wire 18AWG 1000ft --temp 75C --metal aluminium", "/ohms", 12.8, 5e-2 + 12.8 * 1.2e-3),
            Row("wire 16AWG 1000ft --temp 75C --metal aluminium", "/ohms", 8.05, 5e-3 + 8.05 * 1.2e-3),
            Row("wire 14AWG 1000ft --temp 75C --metal aluminium", "/ohms", 5.06, 5e-3 + 5.06 * 1.2e-3),
            Row("wire 12AWG 1000ft --temp 75C --metal aluminium", "/ohms", 3.18, 5e-3 + 3.18 * 1.2e-3),
            Row("wire 10AWG 1000ft --temp 75C --metal aluminium", "/ohms", 2.0, 5e-3 + 2.0 * 1.2e-3),
        ],
        "NEC chapter 9, table 8, solid uncoated",
    ) + hold(
        // It states no temperature: about 25 C, half a degree either way, 0.2 %.
        &[
            Row("wire 14AWG 1000ft --temp 25C", "/ohms", 2.573, 5e-4 + 2.573 * 2e-3),
            Row("wire 16AWG 1000ft --temp 25C", "/ohms", 4.091, 5e-4 + 4.091 * 2e-3),
            Row("wire 18AWG 1000ft --temp 25C", "/ohms", 6.505, 5e-4 + 6.505 * 2e-3),
            Row("wire 20AWG 1000ft --temp 25C", "/ohms", 10.34, 5e-3 + 10.34 * 2e-3),
            Row("wire 22AWG 1000ft --temp 25C", "/ohms", 16.45, 5e-3 + 16.45 * 2e-3),
            Row("wire 24AWG 1000ft --temp 25C", "/ohms", 26.15, 5e-3 + 26.15 * 2e-3),
            Row("wire 18AWG 400ft --temp 25C", "/ohms", 2.602, 5e-4 + 2.602 * 2e-3),
        ],
        "electricianmath.com",
    );
    assert_eq!(seen, 28);
    // ASTM B869-04, table 1, the most at 20 C, that of the thinnest wire its tolerance allows: 21 % IACS at
    // nominal size is 1 to 3 % below. 14, 15, 17, 18, 20 and 21 AWG are its sizes.
    for (awg, most) in [(14, 12.249), (15, 15.472), (17, 24.608), (18, 31.024), (20, 49.150), (21, 62.107)] {
        let ohms = figure(&format!("wire {awg}AWG 1000ft --metal copper-clad-steel"), "/ohms");
        assert!((0.97..0.99).contains(&(ohms / most)), "{awg} AWG: {ohms}, at most {most}");
    }
}

#[test]
fn echoes() {
    let seen = hold(
        &[
            Row("echo --ripple 8.2MHz --velocity 0.66", "/metres", 12.06, 5e-3),
            Row("echo --ripple 8.2MHz --velocity 0.66", "/feet", 39.58, 5e-3),
            // Quarter wave at 9.4 MHz, so minima every 18.8 MHz; 5 m.
            Row("echo --ripple 18.8MHz --velocity 0.6271", "/metres", 5.0, 5e-3),
        ],
        "an instrument manual, p. 15 and 16",
    ) + hold(
        &[
            Row("echo --ripple 1MHz --velocity 0.87", "/metres", 130.4, 0.05),
            Row("echo --ripple 1MHz --velocity 0.87", "/feet", 427.9, 0.05),
            Row("echo --ripple 1MHz --velocity 0.87", "/metres", 130.41, 5e-3),
            Row("echo --ripple 1MHz --velocity 0.87", "/feet", 427.85, 5e-3),
        ],
        "d = v*c/(2*df), derived",
    );
    assert_eq!(seen, 7);
}

#[test]
fn feeds() {
    // Lesson on cable sizes: 1500 ft at 6.51 ohm per 1000 ft, 0.3 A. It prints 2.91 V, a slip for 2.9295 V, and
    // 21.09 and 9.09 V: within that slip.
    let seen = hold(
        &[
            Row("feed --supply 24V --loop 9.765ohm --draw 300mA", "/drop_volts", 2.9295, 5e-5),
            Row("feed --supply 24V --loop 9.765ohm --draw 300mA", "/volts", 21.09, 0.005 + 0.0195),
            Row("feed --supply 12V --loop 9.765ohm --draw 300mA", "/volts", 9.09, 0.005 + 0.0195),
            Row("wire 18AWG 1000ft --temp 25C", "/ohms", 6.51, 5e-3),
        ],
        "scribd 304886993, \"Cable sizing\"",
    );
    assert_eq!(seen, 4);
    // A lesson on loop resistance: 60 V drive 0.80 A through 75 ohm, and nothing is left for a draw.
    let shorted = crate::binary::figures_of("feed --supply 60V --loop 75ohm --draw 0.8A".split(' '), 1);
    assert_eq!(shorted["state"], "collapsed");
    assert!(figure("feed --supply 60V --loop 75ohm --draw 0.795A", "/volts") > 0.0);
}

#[test]
fn cables() {
    // ANSI/SCTE 74, maximum at 68 F, recalled: the built-in tables' own source.
    const MHZ: &str = "5MHz,55MHz,83MHz,187MHz,211MHz,250MHz,300MHz,350MHz,400MHz,450MHz,500MHz,550MHz,600MHz,750MHz,\
                       865MHz,1000MHz";
    let tables = [
        ("series-59", [0.86, 2.05, 2.45, 3.6, 3.8, 4.1, 4.45, 4.8, 5.1, 5.4, 5.7, 5.95, 6.2, 6.97, 7.52, 8.12]),
        ("series-6", [0.58, 1.6, 1.95, 2.85, 3.05, 3.3, 3.55, 3.85, 4.15, 4.4, 4.66, 4.9, 5.1, 5.65, 6.1, 6.55]),
        ("series-11", [0.38, 0.96, 1.18, 1.75, 1.9, 2.05, 2.25, 2.42, 2.6, 2.75, 2.9, 3.04, 3.18, 3.65, 3.98, 4.35]),
    ];
    for (cable, losses) in tables {
        let figures = crate::binary::figures(&format!("cable {cable} 100ft --at {MHZ}"));
        let points = figures["points"].as_array().expect("points");
        assert_eq!(points.len(), 16);
        for (point, want) in points.iter().zip(losses) {
            let got = point["loss_db"].as_f64().expect("a loss");
            assert!((got - want).abs() <= 5e-3, "{cable}: {point}, not {want}");
        }
    }
    // Typical and measured series 6 against the most it may have: 0.25 dB, as the tables' own tests say. Left
    // out: solid-dielectric RG-59 of an amateur handbook and hardline, other cables; rows marked as outliers.
    let loss = "/points/0/loss_db";
    let seen = hold(
        &[
            Row("cable series-6 100ft --at 55.25MHz", loss, 1.5, 0.25),
            Row("cable series-6 100ft --at 211.25MHz", loss, 3.0, 0.25),
            Row("cable series-6 100ft --at 471.25MHz", loss, 4.5, 0.25),
            Row("cable series-6 100ft --at 693.25MHz", loss, 5.6, 0.25),
            Row("cable series-6 100ft --at 950MHz", loss, 6.4, 0.25),
            Row("cable series-6 100ft --at 2150MHz", loss, 9.7, 0.25),
        ],
        "an equipment maker's help article, typical series 6",
    ) + hold(
        &[
            Row("cable series-6 100ft --at 750MHz", loss, 5.5, 0.25),
            Row("cable series-6 100ft --at 1125MHz", loss, 6.95, 0.25),
            Row("cable series-6 100ft --at 270MHz", loss, 3.24, 0.25),
            Row("cable series-6 100ft --at 1000MHz", loss, 6.54, 0.25),
            Row("cable series-6 100ft --at 270MHz", loss, 3.17, 0.25),
            Row("cable series-6 100ft --at 1000MHz", loss, 6.30, 0.25),
        ],
        "a tech tip on cable, a loss budget and two datasheets, the last three third-hand",
    );
    assert_eq!(seen, 12);
    // The tech tip: a(T) = a68*(1 + 0.0011*(T - 68)), T in F; ours is 0.00111 for each degree.
    let at = |t: &str| figure(&format!("cable series-6 100ft --at 750MHz --temp {t}"), loss);
    assert!((at("78F") / at("68F") - 1.011).abs() <= 5e-4);
}

#[test]
fn ways() {
    let end = |part: usize| -> &'static str {
        const ENDS: [&str; 8] = [
            "/steps/0/levels/0/dbmv",
            "/steps/1/levels/0/dbmv",
            "/steps/2/levels/0/dbmv",
            "/steps/3/levels/0/dbmv",
            "/steps/4/levels/0/dbmv",
            "/steps/5/levels/0/dbmv",
            "/steps/6/levels/0/dbmv",
            "/steps/7/levels/0/dbmv",
        ];
        ENDS[part]
    };
    // 300 ft and 80 ft at 0.0204 dB a foot. Printed to the third; then a slip, so the exact chain.
    const CHAIN: &str = "along 40dBmV --at 750MHz loss=4.9dB loss=6.12dB loss=1.4dB loss=1.632dB loss=1.5dB \
                         loss=1.632dB loss=2.6dB loss=1.632dB";
    let seen = hold(
        &[
            Row(CHAIN, end(0), 35.1, 0.05),
            Row(CHAIN, end(1), 29.0, 0.05),
            Row(CHAIN, end(2), 27.6, 0.05),
            Row(CHAIN, end(3), 25.95, 5e-3),
            Row(CHAIN, end(4), 24.45, 5e-3),
            Row(CHAIN, end(5), 22.82, 5e-3),
            Row(CHAIN, end(6), 20.22, 5e-3),
            Row(CHAIN, end(7), 18.58, 5e-3),
        ],
        "n2prise.org, CATV/MATV design fundamentals, p. 5",
    ) + hold(
        &[
            Row("along 3dBmV --at 54MHz splitter=8-way gain=7.5dB", end(1), 0.0, 0.05),
            Row("along 3dBmV --at 54MHz splitter=8-way gain=17.5dB", end(1), 10.0, 0.05),
            Row("along 10dBmV --at 54MHz loss=6dB", end(0), 4.0, 0.5),
            Row("along 0dBmV --at 42MHz loss=6dB loss=12dB gain=18dB", end(2), 0.0, 0.5),
            Row("along 32dBmV --at 54MHz pad=17dB", end(0), 15.0, 0.5),
        ],
        "a wiring guide; Broadband Library, \"Loss\"; an article on return amplifiers; a course's flashcards",
    ) + hold(
        // A copy of an equipment maker's help text, "broadband"; here at 54 MHz, where the table was pinned to it.
        &[
            Row("along 0dBmV --at 54MHz splitter=2-way", end(0), -3.5, 0.05),
            Row("along 0dBmV --at 54MHz splitter=4-way", end(0), -7.0, 0.05),
            Row("along 0dBmV --at 54MHz splitter=8-way", end(0), -10.5, 0.05),
            Row("along 0dBmV --at 54MHz splitter=3-way-unequal", end(0), -3.5, 0.05),
            Row("along 0dBmV --at 54MHz splitter=3-way-unequal.2", end(0), -7.0, 0.05),
            Row("along 0dBmV --at 54MHz splitter=3-way-unequal.3", end(0), -7.0, 0.05),
            Row("along 0dBmV --at 1125MHz splitter=2-way", end(0), -4.1, 0.05),
        ],
        "skywarnforum.org, copied help text; the last third-hand",
    );
    assert_eq!(seen, 20);
}
