//! Numbers of a report: as many decimals as bring back the same `f32`, by integer arithmetic.
//!
//! A report holds six hundred of them, so this is the hot part of writing: one multiplication
//! that is exact, then digits two at a time.

/// `00` to `99`.
const PAIRS: [[u8; 2]; 100] = {
    let mut pairs = [[0; 2]; 100];
    let mut number = 0;
    while number < 100 {
        pairs[number] = [b'0' + (number / 10) as u8, b'0' + (number % 10) as u8];
        number += 1;
    }
    pairs
};

/// Below this, numbers with eight decimals fit the arithmetic and nobody would rather see an exponent.
const LARGEST: f32 = 1e6;

/// Writes a number; `null` for what JSON can't say.
pub(super) fn write(out: &mut Vec<u8>, value: f32) {
    let size = value.abs();
    // A float and its neighbour lie further apart than a unit of the last of these decimals.
    match size {
        _ if size == size.trunc() && size < LARGEST => return whole(out, value),
        16.0..LARGEST => fixed::<6>(out, value),
        1.0..16.0 => fixed::<7>(out, value),
        0.125..1.0 => fixed::<8>(out, value),
        _ => other(out, value),
    }
}

/// Any other size, by the standard library.
#[cold]
fn other(out: &mut Vec<u8>, value: f32) {
    if value.is_finite() {
        let text = format!("{value:?}");
        out.extend_from_slice(text.as_bytes());
    } else {
        out.extend_from_slice(b"null");
    }
}

/// A number without decimals, as in `57.0`.
fn whole(out: &mut Vec<u8>, value: f32) {
    sign(out, value);
    // Below a million by the caller.
    integer(out, value.abs() as u32);
    out.extend_from_slice(b".0");
}

/// Six to eight decimals.
fn fixed<const DECIMALS: u32>(out: &mut Vec<u8>, value: f32) {
    sign(out, value);
    let scale = const { 10u32.pow(DECIMALS) };
    // 24 bits times 27 at most: exact in an `f64`, so this rounds once.
    let scaled = (f64::from(value.abs()) * f64::from(scale) + 0.5) as u64;
    let (before, after) = ((scaled / u64::from(scale)) as u32, (scaled % u64::from(scale)) as u32);
    integer(out, before);
    let mut text = [b'.', b'0', b'0', b'0', b'0', b'0', b'0', b'0', b'0'];
    // Always eight places: those that were not asked for are zeros.
    let after = after * const { 10u32.pow(8 - DECIMALS) };
    let (high, low) = (after / 10_000, after % 10_000);
    for (at, pair) in [(1, high / 100), (3, high % 100), (5, low / 100), (7, low % 100)] {
        text[at..at + 2].copy_from_slice(&PAIRS[pair as usize]);
    }
    let zeros = text[2..].iter().rev().take_while(|digit| **digit == b'0').count();
    out.extend_from_slice(&text[..text.len() - zeros]);
}

fn sign(out: &mut Vec<u8>, value: f32) {
    if value.is_sign_negative() {
        out.push(b'-');
    }
}

/// A whole number below a million.
fn integer(out: &mut Vec<u8>, number: u32) {
    let mut text = [0; 6];
    for (at, pair) in [(0, number / 10_000), (2, number / 100 % 100), (4, number % 100)] {
        text[at..at + 2].copy_from_slice(&PAIRS[pair as usize]);
    }
    let zeros = text[..5].iter().take_while(|digit| **digit == b'0').count();
    out.extend_from_slice(&text[zeros..]);
}

#[cfg(test)]
mod tests {
    use super::write;

    fn text(value: f32) -> String {
        let mut out = Vec::new();
        write(&mut out, value);
        String::from_utf8(out).unwrap()
    }

    #[test]
    fn every_number_comes_back_to_the_bit() {
        let mut count = 0;
        let mut bits = 1e-8f32.to_bits();
        while bits < 1e9f32.to_bits() {
            for value in [f32::from_bits(bits), -f32::from_bits(bits)] {
                assert_eq!(text(value).parse::<f32>().unwrap().to_bits(), value.to_bits(), "{}", text(value));
            }
            count += 1;
            bits += 4001;
        }
        assert!(count > 100_000);
    }

    #[test]
    fn numbers_look_as_expected() {
        for (value, want) in [
            (57.0, "57.0"),
            (0.0, "0.0"),
            (-0.5, "-0.5"),
            (-6.1, "-6.1"),
            (23.143_965, "23.143965"),
            (1125.0, "1125.0"),
            (999_999.0, "999999.0"),
            (15.999_999, "15.999999"),
            (0.999_999_94, "0.99999994"),
            (0.007, "0.007"),
            (1e-5, "1e-5"),
            (f32::INFINITY, "null"),
            (f32::NAN, "null"),
        ] {
            assert_eq!(text(value), want);
        }
    }
}
