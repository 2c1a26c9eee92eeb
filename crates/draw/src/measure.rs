//! How wide a text will be in a font that is not known yet: rather too much than too little.
//!
//! The figures are above those of the widest sans-serif fonts that browsers fall back on.

use unicode_segmentation::UnicodeSegmentation;
use unicode_width::UnicodeWidthStr;

/// A text's width in a size, in pixels.
pub(crate) fn width(text: &str, size: f32, bold: bool) -> f32 {
    let ems: f32 = text.graphemes(true).map(ems).sum();
    ems * size * if bold { 1.12 } else { 1.0 }
}

fn ems(letter: &str) -> f32 {
    match letter {
        "i" | "l" | "j" | "I" | "." | "," | ":" | ";" | "'" | "|" | "!" | " " => 0.36,
        "f" | "r" | "t" | "(" | ")" | "[" | "]" | "-" | "/" => 0.46,
        "m" | "w" | "M" | "W" | "@" | "%" | "\u{2014}" => 1.02,
        // Everything that a prose of ours needs but these has the width of a digit at most.
        "\u{b7}" | "\u{2013}" => 0.6,
        _ if letter.len() == 1 => {
            if letter.chars().all(|letter| letter.is_ascii_uppercase() || "&#<>=+~_".contains(letter)) {
                0.84
            } else {
                0.65
            }
        }
        // A row of letters may join into one sign, but not into a wider one.
        _ => (letter.width().max(1) as f32 * 0.72).max(letter.chars().count() as f32 * 0.3).max(0.9),
    }
}

/// A text in lines that fit: broken behind blanks where there are some, else between letters. The lines together are
/// the text, letter by letter.
pub(crate) fn wrap(text: &str, room: f32, size: f32, bold: bool) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    let mut line = String::new();
    let mut used = 0.0;
    for word in text.split_inclusive(' ') {
        let whole = width(word, size, bold);
        // A blank at the end of a line takes no room.
        if used + width(word.trim_end(), size, bold) > room && !line.is_empty() {
            lines.push(std::mem::take(&mut line));
            used = 0.0;
        }
        if whole <= room {
            line.push_str(word);
            used += whole;
            continue;
        }
        for letter in word.graphemes(true) {
            let next = width(letter, size, bold);
            if used + next > room && !line.is_empty() {
                lines.push(std::mem::take(&mut line));
                used = 0.0;
            }
            line.push_str(letter);
            used += next;
        }
    }
    if !line.is_empty() || lines.is_empty() {
        lines.push(line);
    }
    lines
}

#[cfg(test)]
mod tests {
    use super::{width, wrap};

    #[test]
    fn the_lines_are_the_text_and_fit() {
        for text in [
            "",
            "a",
            "two words",
            "averylongnamewithoutanyblankatall",
            "\u{645}\u{631}\u{62d}\u{628}\u{627} \u{5bb6}\u{5bb6}\u{5bb6}\u{5bb6}",
            "a  b   c",
        ] {
            let lines = wrap(text, 60.0, 12.0, true);
            assert_eq!(lines.concat(), text);
            for line in &lines {
                assert!(width(line.trim_end(), 12.0, true) <= 60.0, "{line}");
            }
        }
    }
}
