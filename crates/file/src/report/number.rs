//! Numbers of a report: as many decimals as bring back the same `f32`, by integer arithmetic.
//!
//! A report holds six hundred of them, so this is the hot part of writing: one multiplication
//! that is exact, then all digits side by side.

/// Below this, numbers with eight decimals fit the arithmetic and nobody would rather see an exponent.
const LARGEST: f32 = 1e6;

/// Writes a number; `null` for what JSON can't say.
pub(super) fn write(out: &mut Vec<u8>, value: f32) {
    let size = value.abs();
    if size < LARGEST {
        let before = size as u32;
        // Exact: no bit of the fraction is lost to a smaller number.
        let fraction = size - before as f32;
        // A float and its neighbour lie further apart than a unit of the last of these decimals.
        match size {
            _ if fraction == 0.0 => return place(out, value, before, 0),
            16.0.. => return fixed::<6>(out, value, before, fraction),
            1.0.. => return fixed::<7>(out, value, before, fraction),
            0.125.. => return fixed::<8>(out, value, before, fraction),
            _ => {}
        }
    }
    other(out, value);
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
fn fixed<const DECIMALS: u32>(out: &mut Vec<u8>, value: f32, before: u32, fraction: f32) {
    let scale = const { 10u32.pow(DECIMALS) };
    // 24 bits times 27 at most: exact in an `f64`, so this rounds once.
    let mut after = (f64::from(fraction) * f64::from(scale) + 0.5) as u32;
    let beyond_four = const { 10u32.pow(DECIMALS - 4) };
    // What people wrote, a limit of 6.1 say, comes back as they wrote it. Two units of the last
    // decimal are half a step between floats below 64; above, few numbers come this way.
    if (after + 2) % beyond_four <= 4 || before >= 64 {
        after = shorter(value.abs(), before, fraction).map_or(after, |four| four * beyond_four);
    }
    // All eight places: those that were not asked for are zeros. It is never as much as a whole: the next float is one,
    // and further away than that.
    place(out, value, before, after * const { 10u32.pow(8 - DECIMALS) });
}

/// Four decimals, if with them it is the same float.
#[cold]
fn shorter(size: f32, before: u32, fraction: f32) -> Option<u32> {
    let four = (f64::from(fraction) * 1e4 + 0.5) as u32;
    let all = u64::from(before) * 10_000 + u64::from(four);
    // A quotient of two numbers that are exact is rounded once.
    ((all as f64 / 1e4) as f32 == size).then_some(four)
}

/// Writes a sign, up to six digits, a point, and of eight decimals those that say something.
///
/// All of it fits sixteen bytes, so it is put together in one word, the first byte lowest.
#[inline]
fn place(out: &mut Vec<u8>, value: f32, before: u32, after: u32) {
    let (mut front, mut length) = integer(before);
    if value.is_sign_negative() {
        front = front << 8 | u64::from(b'-');
        length += 1;
    }
    let decimals = eight_digits(after);
    // The last digits are the highest bytes; one decimal stays, were it a zero.
    let zeros = (decimals.leading_zeros() / 8).min(7) as usize;
    let back = u128::from(decimals | u64::from_le_bytes(*b"00000000")) << 8 | u128::from(b'.');
    let text = u128::from(front) | back << (8 * length);
    // A copy of known length is two moves where one of unknown length is a call.
    out.extend_from_slice(&text.to_le_bytes());
    out.truncate(out.len() + length + 9 - zeros - 16);
}

/// The digits of a whole number of at most six, the first lowest, and how many.
#[inline]
fn integer(number: u32) -> (u64, usize) {
    let digit = |digit: u32| u64::from(b'0') + u64::from(digit);
    match number {
        0..10 => (digit(number), 1),
        10..100 => (digit(number / 10) | digit(number % 10) << 8, 2),
        _ => {
            let (front, length) = integer(number / 100);
            let last = digit(number / 10 % 10) | digit(number % 10) << 8;
            (front | last << (8 * length), length + 2)
        }
    }
}

/// The eight digits of a number, one a byte, the first lowest: halves, pairs and digits are
/// divided side by side (P. Khuong, "How to print integers really fast", 2017).
const fn eight_digits(number: u32) -> u64 {
    let halves = (number / 10_000) as u64 | ((number % 10_000) as u64) << 32;
    // n * 10486 >> 20 is n / 100 for n below 10,000, and n * 103 >> 10 is n / 10 for n below 100.
    let hundreds = ((halves * 10_486) >> 20) & 0x0000_007f_0000_007f;
    let pairs = hundreds | (halves - 100 * hundreds) << 16;
    let tens = ((pairs * 103) >> 10) & 0x000f_000f_000f_000f;
    tens | (pairs - 10 * tens) << 8
}

/// A number for people, with so many decimals.
pub(crate) fn rounded(value: f32, decimals: usize) -> String {
    const TENS: [u64; 5] = [1, 10, 100, 1000, 10_000];
    let size = value.abs();
    let Some(tens) = TENS.get(decimals).copied().filter(|_| size < LARGEST) else {
        return format!("{value:.decimals$}");
    };
    let mut rest = (f64::from(size) * tens as f64 + 0.5) as u64;
    let minus = value < 0.0 && rest > 0;
    // From the back, so that the front can be left out.
    let mut text = [0; 16];
    let mut at = text.len();
    let mut put = |letter| {
        at -= 1;
        text[at] = letter;
    };
    for _ in 0..decimals {
        put(b'0' + (rest % 10) as u8);
        rest /= 10;
    }
    if decimals > 0 {
        put(b'.');
    }
    loop {
        put(b'0' + (rest % 10) as u8);
        rest /= 10;
        if rest == 0 {
            break;
        }
    }
    if minus {
        put(b'-');
    }
    text[at..].iter().map(|letter| char::from(*letter)).collect()
}

#[cfg(test)]
mod tests {
    use super::{eight_digits, rounded, write};

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
            (1000.1, "1000.1"),
            (63.9999, "63.9999"),
            (0.999_999_94, "0.99999994"),
            (63.999_996, "63.999996"),
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

    #[test]
    fn numbers_for_people_are_rounded_as_people_round() {
        for (value, decimals, want) in [
            (-16.25, 1, "-16.3"),
            (0.0, 1, "0.0"),
            (-0.04, 1, "0.0"),
            (14.0, 0, "14"),
            (0.1449, 3, "0.145"),
            (9.999, 2, "10.00"),
            (17.06, 2, "17.06"),
            (2e6, 1, "2000000.0"),
            (f32::INFINITY, 1, "inf"),
        ] {
            assert_eq!(rounded(value, decimals), want);
        }
    }

    #[test]
    fn digits_divided_side_by_side_are_those_of_the_number() {
        for number in (0..100_000_000).step_by(9973).chain([0, 99_999_999, 10_000, 9_999, 12_345_678]) {
            let digits = eight_digits(number).to_le_bytes().map(|digit| char::from(b'0' + digit));
            assert_eq!(digits.iter().collect::<String>(), format!("{number:08}"));
        }
    }
}
