//! Quantities: whatever the text, an answer in range or a reason; and what was read comes back.
#![cfg_attr(fuzzing, no_main)]

use legwork_file::quantity;

legwork_fuzz::target!(quantities);

fn quantities(bytes: &[u8]) {
    let Ok(text) = std::str::from_utf8(bytes) else { return };
    if let Ok((length, _)) = quantity::length(text) {
        assert!(length.metres() >= 0.0);
        let again = quantity::length(&format!("{} m", length.metres())).unwrap().0;
        assert_eq!(length, again, "{text}");
    }
    if let Ok(frequency) = quantity::frequency(text) {
        assert_eq!(Ok(frequency), quantity::frequency(&format!("{} MHz", frequency.mhz())), "{text}");
    }
    if let Ok(level) = quantity::level(text) {
        assert_eq!(Ok(level), quantity::level(&format!("{} dBmV", level.dbmv())), "{text}");
    }
    if let Ok(db) = quantity::db(text) {
        assert_eq!(Ok(db), quantity::db(&format!("{}dB", db.db())), "{text}");
        // A loss is the same number, but not below nought.
        assert_eq!(quantity::loss(text).is_ok(), db.db() >= 0.0, "{text}");
    }
    if let Ok(volts) = quantity::volts(text) {
        assert_eq!(Ok(volts), quantity::volts(&format!("{} V", volts.volts())), "{text}");
    }
    if let Ok(amps) = quantity::amps(text) {
        assert_eq!(Ok(amps), quantity::amps(&format!("{} A", amps.amps())), "{text}");
        // What an amplifier draws may be a current.
        assert_eq!(quantity::draw(text), Ok(legwork::Draw::Current(amps)), "{text}");
    }
    if let Ok(ohms) = quantity::ohms(text) {
        assert_eq!(Ok(ohms), quantity::ohms(&format!("{} ohm", ohms.ohms())), "{text}");
    }
    if let Ok(celsius) = quantity::temperature(text) {
        assert_eq!(Ok(celsius), quantity::temperature(&format!("{} C", celsius.celsius())), "{text}");
    }
    if let Ok(percent) = quantity::percent(text) {
        assert_eq!(Ok(percent), quantity::percent(&format!("{} %", percent.percent())), "{text}");
    }
    if let Ok(nanoseconds) = quantity::nanoseconds(text) {
        assert_eq!(Ok(nanoseconds), quantity::nanoseconds(&format!("{nanoseconds} ns")), "{text}");
    }
    if let Ok(size) = quantity::awg(text) {
        assert_eq!(Ok(size), quantity::awg(&format!("{} AWG", size.number())), "{text}");
    }
    if let Ok(split) = quantity::split(text) {
        assert!(split.return_top < split.forward_bottom, "{text}");
        let again = format!("{}/{} MHz", split.return_top.mhz(), split.forward_bottom.mhz());
        assert_eq!(Ok(split), quantity::split(&again), "{text}");
    }
}
