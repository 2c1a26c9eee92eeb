//! JSON numbers, fast: as many decimals as bring back the same `f32`, by integer arithmetic.

use std::io::{self, Write};

use serde_json::ser::{CompactFormatter, Formatter};

/// Writes compact JSON with quick numbers.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Quick;

impl Formatter for Quick {
    fn write_f32<W: ?Sized + Write>(&mut self, writer: &mut W, value: f32) -> io::Result<()> {
        match decimals(value) {
            Some(decimals) => fixed(writer, value, decimals),
            None => CompactFormatter.write_f32(writer, value),
        }
    }
}

/// How many decimals tell an `f32` of this size from its neighbours: a unit of the last one is
/// smaller than the step between two floats. None for sizes that are better left to others.
fn decimals(value: f32) -> Option<usize> {
    let size = value.abs();
    if !(0.015_625..1e6).contains(&size) {
        return (size == 0.0).then_some(1);
    }
    Some(match size {
        16.0.. => 6,
        1.0.. => 7,
        0.125.. => 8,
        _ => 10,
    })
}

fn fixed<W: ?Sized + Write>(writer: &mut W, value: f32, mut decimals: usize) -> io::Result<()> {
    const TENS: [f64; 11] = [1e0, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10];
    let whole = value as i32;
    let mut scaled = if whole as f32 == value {
        decimals = 1;
        u64::from(whole.unsigned_abs()) * 10
    } else {
        let size = f64::from(value.abs());
        let tens = |decimals: usize| TENS.get(decimals).copied().unwrap_or(1.0);
        let shorter = (size * tens(decimals - 1)).round();
        // One decimal less does for half of all numbers, and for those that people wrote.
        if (shorter / tens(decimals - 1)) as f32 == value.abs() {
            decimals -= 1;
            shorter as u64
        } else {
            (size * tens(decimals)).round() as u64
        }
    };
    while decimals > 1 && scaled % 10 == 0 {
        scaled /= 10;
        decimals -= 1;
    }
    // From the back: decimals, the point, what stands before it, the sign.
    let mut text = [b'0'; 24];
    let mut at = text.len();
    let mut put = |byte: u8| {
        at -= 1;
        if let Some(slot) = text.get_mut(at) {
            *slot = byte;
        }
    };
    for _ in 0..decimals {
        put(b'0' + (scaled % 10) as u8);
        scaled /= 10;
    }
    put(b'.');
    loop {
        put(b'0' + (scaled % 10) as u8);
        scaled /= 10;
        if scaled == 0 {
            break;
        }
    }
    if value < 0.0 {
        put(b'-');
    }
    writer.write_all(text.get(at..).unwrap_or(b"0"))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn text(value: f32) -> String {
        let mut out = Vec::new();
        Quick.write_f32(&mut out, value).unwrap();
        String::from_utf8(out).unwrap()
    }

    #[test]
    fn every_number_comes_back_to_the_bit() {
        let mut value = 1e-6f32;
        while value < 1e8 {
            for signed in [value, -value] {
                assert_eq!(text(signed).parse::<f32>().unwrap(), signed, "{}", text(signed));
            }
            value *= 1.000_713;
        }
    }

    #[test]
    fn numbers_look_as_expected() {
        for (value, want) in [(57.0, "57.0"), (0.0, "0.0"), (-0.5, "-0.5"), (-6.1, "-6.1"), (23.143_965, "23.143965"), (1125.0, "1125.0")] {
            assert_eq!(text(value), want);
        }
    }
}
