//! Thermal noise and cascades.

use super::*;

#[test]
fn thermal_noise_is_what_the_textbooks_say() {
    let floor = |bandwidth: f64| f64::from(thermal_floor(mhz(bandwidth)).dbmv());
    let microvolts = f64::from(thermal_floor(mhz(4.0)).volts()) * 1e6;
    hold_all(
        &[
            // Freeman, Fundamentals of Telecommunications, page 436; cabl.com/restaurant/formula.html.
            Figure("4 MHz", -59.0, floor(4.0), 0.5),
            Figure("4 MHz in uV", 1.1, microvolts, 0.05),
            // k*290 K*B in 75 ohm, worked out in double precision, two decimals.
            Figure("4 MHz", -59.20, floor(4.0), 0.005),
            Figure("5 MHz", -58.23, floor(5.0), 0.005),
            Figure("6 MHz", -57.44, floor(6.0), 0.005),
        ],
        5,
    );
}

#[test]
fn carrier_to_noise_of_cascades_is_as_published() {
    let ratio = |input: f64, figure: f64, amplifiers: u16| {
        let ratio = carrier_to_noise(dbmv(input), db(figure), mhz(5.0), amplifiers);
        f64::from(ratio.expect("a ratio").db())
    };
    let both = power_sum(&[dbmv(-53.0), dbmv(-53.0)]).expect("two");
    // Some level and noise figure with 48 dB.
    let by_four = 48.0 + ratio(0.0, 10.0, 4) - ratio(0.0, 10.0, 1);
    hold_all(
        &[
            // cablefax.com, "Broadband: Total Power, Part 2".
            Figure("53 dB and 53 dB", 49.99, -f64::from(both.dbmv()), 0.005),
            // A maker's application note 556: its constant for 5 MHz is 58 (58.23), 0.23 dB more to each tolerance.
            Figure("10 dBmV into 8 dB", 60.0, ratio(10.0, 8.0, 1), 0.73),
            Figure("two of them", 57.0, ratio(10.0, 8.0, 2), 0.73),
            Figure("four of them", 54.0, ratio(10.0, 8.0, 4), 0.73),
            // A vendor's glossary: 48 dB and four alike, printed 42 (41.98).
            Figure("four of 48 dB", 41.98, by_four, 0.005),
            // cabl.com/restaurant/formula.html: ten times the logarithm of the number.
            Figure("ten alike", 10.0, ratio(0.0, 8.0, 1) - ratio(0.0, 8.0, 10), 1e-4),
            // freezingblue.com 217439: 3 dB more in is 3 dB more of carrier to noise.
            Figure("3 dB more in", 3.0, ratio(3.0, 8.0, 4) - ratio(0.0, 8.0, 4), 1e-4),
        ],
        7,
    );
}

#[test]
fn a_chain_of_unlike_stages_has_the_noise_figure_of_the_published_example() {
    // Mahafza, radar text, solution on what-when-how.com: gain and noise figure -1 and 1 dB, 20 and 6, -8 and 10, 60 and 6;
    // printed F 5.3629, NF 7.294; in full precision 5.3620 and 7.293. Half the last digit, and f32 over three reports.
    let amplifier = |gain: &str, figure: &str| json!({"outputs": 1, "gain": gain, "noise_figure": figure, "draw": "1 W", "runs_on": ["10 V", "20 V"]});
    let chain = home(
        json!([["50 MHz", "0 dBmV"], ["1003 MHz", "0 dBmV"]]),
        json!([
            {"id": "first", "after": "entry", "pad": "1 dB"},
            {"id": "second", "after": "first", "amplifier": "low-noise"},
            {"id": "third", "after": "second.1", "amplifier": "mixer"},
            {"id": "fourth", "after": "third.1", "amplifier": "strong"},
        ]),
        json!({"amplifier": {
            "low-noise": amplifier("20 dB", "6 dB"), "mixer": amplifier("-8 dB", "10 dB"), "strong": amplifier("60 dB", "6 dB"),
        }}),
        "fourth.1",
    );
    let checker = &mut Checker::new();
    let report = report(checker, &chain);
    let cnr = report["outlets"][0]["cnr"][0]["db"].as_f64().expect("a ratio");
    let figure = -f64::from(thermal_floor(mhz(4.0)).dbmv()) - cnr;
    hold_all(
        &[
            Figure("noise figure", 7.293, figure, 5e-4 + 2e-5),
            Figure("noise factor", 5.3620, 10f64.powf(figure / 10.0), 5e-5 + 3e-5),
            Figure("gain", 71.0, report["outlets"][0]["forward"][0]["dbmv"].as_f64().expect("a level"), 1e-4),
        ],
        3,
    );
}
