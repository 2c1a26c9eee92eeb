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
        _ if size < LARGEST && (size as u32) as f32 == size => place(out, value, size as u32, 0),
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

/// Six to eight decimals, or four where those say the same.
#[inline]
fn fixed<const DECIMALS: u32>(out: &mut Vec<u8>, value: f32) {
    let size = f64::from(value.abs());
    let scale = const { 10u64.pow(DECIMALS) };
    // 24 bits times 27 at most: exact in an `f64`, so this rounds once.
    let scaled = (size * scale as f64 + 0.5) as u64;
    let beyond_four = const { 10u64.pow(DECIMALS - 4) };
    // What people wrote, a limit of 6.1 say, comes back as they wrote it. Two units of the last
    // decimal are half a step between floats below 64; above, few numbers come this way.
    let near_four = (scaled + 2) % beyond_four <= 4 || size > 64.0;
    let scaled = if near_four { shorter(size, scaled, beyond_four) } else { scaled };
    // All eight places: those that were not asked for are zeros.
    let after = (scaled % scale) as u32 * const { 10u32.pow(8 - DECIMALS) };
    place(out, value, (scaled / scale) as u32, after);
}

/// The number with four decimals, if that is the same float; else as it was.
fn shorter(size: f64, scaled: u64, beyond_four: u64) -> u64 {
    let four = (size * 1e4 + 0.5) as u64;
    // A quotient of two numbers that are exact is rounded once.
    if (four as f64 / 1e4) as f32 == size as f32 { four * beyond_four } else { scaled }
}

/// Writes a sign, up to six digits, a point, and of eight decimals those that say something.
#[inline]
fn place(out: &mut Vec<u8>, value: f32, before: u32, after: u32) {
    // The longest number, and room to copy all of it from wherever it begins.
    let mut text = [0; 32];
    let pair = |number: u32| PAIRS[number as usize];
    let mut start = 5;
    text[5..7].copy_from_slice(&pair(before % 100));
    if before < 10 {
        start = 6;
    } else if before >= 100 {
        text[3..5].copy_from_slice(&pair(before / 100 % 100));
        text[1..3].copy_from_slice(&pair(before / 10_000));
        start = text[1..5].iter().position(|digit| *digit != b'0').map_or(5, |zeros| 1 + zeros);
    }
    text[7] = b'.';
    let (high, low) = (after / 10_000, after % 10_000);
    let [a, b] = [pair(high / 100), pair(high % 100)];
    let [c, d] = [pair(low / 100), pair(low % 100)];
    let decimals = [a[0], a[1], b[0], b[1], c[0], c[1], d[0], d[1]];
    text[8..16].copy_from_slice(&decimals);
    // Read backwards as one number, the zeros at its end are those in front; one stays.
    let zeros = (u64::from_le_bytes(decimals) ^ u64::from_le_bytes(*b"00000000")).leading_zeros() / 8;
    let end = 16 - (zeros as usize).min(7);
    if value.is_sign_negative() {
        start -= 1;
        text[start] = b'-';
    }
    // A copy of known length is two moves where one of unknown length is a call.
    let mut piece = [0; 16];
    piece.copy_from_slice(&text[start..start + 16]);
    out.extend_from_slice(&piece);
    out.truncate(out.len() - 16 + (end - start));
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
