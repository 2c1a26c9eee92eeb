//! Unit names, folded so that letter case does not matter where it means nothing.

/// A unit as a text spells it, folded to lower case and packed into one word.
///
/// Comparing it is one instruction, and constants of it can stand in a `match`.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Unit {
    folded: u64,
    /// It starts with a capital `M`, which before volts, amperes, watts and ohms means a million.
    mega: bool,
}

impl Unit {
    /// Folds a unit; one of more than eight bytes becomes a unit nothing knows.
    pub(super) const fn new(text: &[u8]) -> Self {
        Self { folded: fold(text), mega: matches!(text, [b'M', ..]) }
    }

    /// The folded name, for a `match`; it is [`NONE`] if there was none.
    pub(super) const fn folded(self) -> u64 {
        self.folded
    }

    /// The folded name where a capital `M` would mean a million and a small one a thousandth.
    pub(super) const fn milli(self) -> u64 {
        if self.mega { UNKNOWN } else { self.folded }
    }
}

/// Packs up to eight bytes, letters in lower case.
pub(super) const fn fold(text: &[u8]) -> u64 {
    if text.len() > 8 {
        return UNKNOWN;
    }
    let mut packed = 0;
    let mut rest = text;
    while let [first, after @ ..] = rest {
        packed = packed << 8 | first.to_ascii_lowercase() as u64;
        rest = after;
    }
    packed
}

/// No unit at all.
pub(super) const NONE: u64 = 0;
/// A unit too long to be any of ours; no text folds to it, because a capital never survives.
const UNKNOWN: u64 = (b'~' as u64) << 8 | b'Z' as u64;

macro_rules! units {
    ($($name:ident = $text:literal),* $(,)?) => {
        $(pub(super) const $name: u64 = fold($text.as_bytes());)*
    };
}

units! {
    FT = "ft", IN = "in", M = "m", KM = "km",
    HZ = "hz", KHZ = "khz", MHZ = "mhz", GHZ = "ghz",
    DB = "db", DBMV = "dbmv", DBUV = "dbuv", DBUV_MICRO = "db\u{b5}v", DBUV_MU = "db\u{3bc}v", DBM = "dbm",
    V = "v", MV = "mv", A = "a", MA = "ma", W = "w", MW = "mw",
    OHM = "ohm", OHMS = "ohms", OHM_SIGN = "\u{2126}", OMEGA = "\u{3a9}", MOHM = "mohm",
    C = "c", F = "f", DEGREE_C = "\u{b0}c", DEGREE_F = "\u{b0}f",
    PERCENT = "%", NS = "ns", AWG = "awg",
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn letter_case_means_nothing_except_before_a_million() {
        assert_eq!(Unit::new(b"MHZ").folded(), MHZ);
        assert_eq!(Unit::new(b"mhz").folded(), MHZ);
        assert_eq!(Unit::new(b"mV").milli(), MV);
        assert_eq!(Unit::new(b"mv").milli(), MV);
        assert_ne!(Unit::new(b"MV").milli(), MV);
    }

    #[test]
    fn both_signs_of_micro_and_of_ohm_are_known() {
        assert_eq!(Unit::new("dB\u{b5}V".as_bytes()).folded(), DBUV_MICRO);
        assert_eq!(Unit::new("dB\u{3bc}V".as_bytes()).folded(), DBUV_MU);
        assert_eq!(Unit::new("\u{2126}".as_bytes()).folded(), OHM_SIGN);
        assert_eq!(Unit::new("\u{3a9}".as_bytes()).folded(), OMEGA);
        assert_ne!(OHM_SIGN, OMEGA);
    }

    #[test]
    fn a_long_word_is_no_unit() {
        assert_eq!(Unit::new(b"kilometres").folded(), Unit::new(b"furlongs!").folded());
        assert_ne!(Unit::new(b"kilometres").folded(), NONE);
    }
}
