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
    }
    if let Ok(volts) = quantity::volts(text) {
        assert_eq!(Ok(volts), quantity::volts(&format!("{} V", volts.volts())), "{text}");
    }
    if let Ok(ohms) = quantity::ohms(text) {
        assert_eq!(Ok(ohms), quantity::ohms(&format!("{} ohm", ohms.ohms())), "{text}");
    }
    if let Ok(celsius) = quantity::temperature(text) {
        assert_eq!(Ok(celsius), quantity::temperature(&format!("{} C", celsius.celsius())), "{text}");
    }
    if let Ok(split) = quantity::split(text) {
        assert!(split.return_top < split.forward_bottom, "{text}");
    }
}
