//! Whole trees, and equalizers in them.

use super::*;

#[test]
fn the_tree_example_of_750_mhz_comes_out_step_by_step() {
    // n2prise.org/matvbil5.htm: 40 dBmV; a splitter of 4.9 dB; 300 ft at 0.0204 dB/ft; taps of 1.4, 1.5 and 2.6 dB with
    // 80 ft before each and after the last. Printed to 0.1 dB; from the fourth on the exact chain, to 0.01 dB.
    let cable = Cable {
        loss: Curve::Flat(db(2.04)),
        per: feet(100.0),
        loop_resistance: Ohms::constant(0.0),
        velocity: 0.85,
        spread: Percent::constant(0.0),
        band: None,
    };
    let run =
        |length: f64| Step::Cable(Run { cable: &cable, length: feet(length), temperature: Temperature::REFERENCE });
    let loss = |loss: f64| Step::Loss(db(loss));
    let steps = [loss(4.9), run(300.0), loss(1.4), run(80.0), loss(1.5), run(80.0), loss(2.6), run(80.0)];
    let mut level = dbmv(40.0);
    let mut found = Vec::new();
    for step in steps {
        level = step.behind(level, mhz(750.0)).expect("a level");
        found.push(f64::from(level.dbmv()));
    }
    let published = [35.1, 29.0, 27.6, 25.95, 24.45, 22.82, 20.22, 18.58];
    for (index, (published, found)) in published.into_iter().zip(&found).enumerate() {
        let tolerance = if index < 3 { 0.05 } else { 0.005 };
        assert!((found - published).abs() <= tolerance, "step {index}: {found} against {published}");
    }
    assert_eq!(found.len(), 8);
}

#[test]
fn small_trees_come_out_as_published() {
    let through = |level: f64, steps: &[Step<'_>]| {
        let behind = |level: Level, step: &Step<'_>| step.behind(level, mhz(100.0)).expect("a level");
        f64::from(steps.iter().fold(dbmv(level), behind).dbmv())
    };
    let eight_way = Step::Loss(db(10.5));
    // An equipment maker's article on return amplifiers: cable of 6 dB and a coupler of 12 dB ask for 18 dB of gain.
    let unity = home(
        json!([["50 MHz", "0 dBmV"], ["1003 MHz", "0 dBmV"]]),
        json!([
            {"id": "run", "after": "entry", "cable": "six"},
            {"id": "tap", "after": "run", "coupler": "twelve", "terminated": ["through"]},
            {"id": "booster", "after": "tap.tap", "amplifier": "back"},
        ]),
        json!({
            "cable": {"six": {"loss": [["42 MHz", "6 dB"]], "per": "100 ft", "loop": "1 ohm", "velocity": 0.85}},
            "coupler": {"twelve": {"tap": "12 dB", "through": "1 dB"}},
            "amplifier": {"back": {
                "outputs": 1, "gain": "0 dB", "return_gain": "18 dB", "noise_figure": "6 dB", "draw": "1 W",
                "runs_on": ["10 V", "20 V"],
            }},
        }),
        "booster.1",
    );
    let mut unity = unity;
    unity["part"][0]["length"] = json!("100 ft");
    let checker = &mut Checker::new();
    let report = report(checker, &unity);
    let row = &report["outlets"][0]["return"][0];
    hold_all(
        &[
            // audioholics.com, "Whole House Wiring Basics", part 4: +3 dBmV, an 8-way of 10.5 dB, 0 to +10 dBmV wanted.
            Figure("7.5 dB of gain", 0.0, through(3.0, &[Step::Gain(db(7.5)), eight_way]), 1e-5),
            Figure("17.5 dB of gain", 10.0, through(3.0, &[Step::Gain(db(17.5)), eight_way]), 1e-5),
            // A question of freezingblue.com 217439: 32 dBmV into the tap, 15 dBmV out of its port.
            Figure("a tap of 17 dB", 15.0, through(32.0, &[Step::Loss(db(17.0))]), 1e-5),
            Figure("loss with 18 dB of return gain", 0.0, row["loss_db"].as_f64().expect("a loss"), 1e-4),
            Figure("what a modem sends", 30.0, row["transmit_dbmv"].as_f64().expect("a level"), 1e-4),
        ],
        5,
    );
}

#[test]
fn equalizers_lose_what_their_makers_table_says() {
    let table = rows(include_str!("../../data/published/equalizers.csv"));
    let of = |value: &str| -> Vec<(&str, f64)> {
        table.iter().filter(|row| row[0] == value).map(|row| (row[1], number(row[2]))).collect()
    };
    let mut values: Vec<&str> = table.iter().map(|row| row[0]).collect();
    values.dedup();
    let (mut losses, mut slopes) = (0, 0);
    let checker = &mut Checker::new();
    for value in &values {
        let points = of(value);
        let (slope, losses_of): (Vec<_>, Vec<_>) = points.into_iter().partition(|(at, _)| *at == "0");
        let at = |text: &str| json!(format!("{text} MHz"));
        let loss: Vec<Value> = losses_of.iter().map(|(mhz, loss)| json!([at(mhz), format!("{loss} dB")])).collect();
        let flat: Vec<Value> = losses_of.iter().map(|(mhz, _)| json!([at(mhz), "0 dBmV"])).collect();
        let report = report(
            checker,
            &home(
                Value::from(flat),
                json!([{"id": "slope", "after": "entry", "equalizer": "table"}]),
                json!({"equalizer": {"table": {"loss": loss}}}),
                "slope",
            ),
        );
        let outlet = &report["outlets"][0];
        for ((mhz, loss), row) in losses_of.iter().zip(outlet["forward"].as_array().expect("levels")) {
            assert_eq!(row["mhz"].as_f64(), Some(number(mhz)));
            let found = row["dbmv"].as_f64().expect("a level");
            // At its own points a table is exact but for f32.
            assert!((found + loss).abs() <= 2e-6, "{value} dB at {mhz} MHz: {found} against -{loss}");
            // loss = 1.0 + V*(1 - sqrt(f/1003)): the law behind the table, to the rounding of its digits.
            let law = 1.0 + number(value) * (1.0 - (number(mhz) / 1003.0).sqrt());
            assert!((found + law).abs() <= 0.05 + 0.005, "{value} dB at {mhz} MHz: {found} against -{law}");
            losses += 1;
        }
        let tilt = outlet["tilt_db"].as_f64().expect("a tilt");
        for (_, slope) in &slope {
            assert!((tilt - slope).abs() <= 0.1 + 1e-5, "{value} dB: a slope of {tilt} against {slope}");
            slopes += 1;
        }
    }
    assert_eq!((values.len(), losses, slopes), (11, 99, 11));
}

#[test]
fn the_equalizer_of_the_manuals_example_is_the_one_of_14_db() {
    // The same manual: 11 + 26.0 - 12 - 14 dB of slope are wanted, 11.0 dB; it chooses the one with a slope of 10.9 dB.
    let wanted = 11.0 + 26.0 - 12.0 - 14.0;
    let table = rows(include_str!("../../data/published/equalizers.csv"));
    let slopes = table.iter().filter(|row| row[1] == "0").map(|row| (row[0], (number(row[2]) - wanted).abs()));
    assert_eq!(slopes.min_by(|one, other| one.1.total_cmp(&other.1)).map(|(value, _)| value), Some("14"));
}
