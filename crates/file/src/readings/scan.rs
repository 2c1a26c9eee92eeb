//! Where a field of a line stands in its text: only for pointing at it, so only where something is wrong.

use std::ops::Range;

/// The place of a field of the record that begins at a byte, quotes included, blanks around it not.
pub(super) fn field(text: &str, start: usize, number: usize) -> Range<usize> {
    let rest = text.get(start..).unwrap_or_default();
    // What a reader takes for the start of a record may lie before the line ends in front of it.
    let start = start + (rest.len() - rest.trim_start_matches(['\r', '\n']).len());
    let rest = text.get(start..).unwrap_or_default();
    let (mut quoted, mut from, mut at) = (false, 0, 0);
    for (place, letter) in rest.char_indices() {
        let ends = match letter {
            '"' => {
                quoted = !quoted;
                false
            }
            ',' | '\r' | '\n' => !quoted,
            _ => false,
        };
        if ends && (at == number || letter != ',') {
            return trimmed(rest, from..place, start);
        }
        if ends {
            (from, at) = (place + 1, at + 1);
        }
    }
    trimmed(rest, from..rest.len(), start)
}

fn trimmed(rest: &str, span: Range<usize>, start: usize) -> Range<usize> {
    let field = rest.get(span.clone()).unwrap_or_default();
    let from = start + span.start + (field.len() - field.trim_start().len());
    from..from + field.trim().len()
}

#[cfg(test)]
mod tests {
    use super::field;

    #[test]
    fn a_field_is_found_between_its_commas() {
        let text = "at,mhz,dbmv\r\n\"den, left\" , 57 ,\"3.5\"\nloft,861";
        let at = |start: usize, number: usize| &text[field(text, start, number)];
        assert_eq!([at(0, 0), at(0, 1), at(0, 2)], ["at", "mhz", "dbmv"]);
        // Both the second half of a line's end and the line itself are taken for its start.
        for start in [12, 13] {
            assert_eq!([at(start, 0), at(start, 1), at(start, 2)], ["\"den, left\"", "57", "\"3.5\""]);
        }
        let last = text.find("loft").unwrap();
        assert_eq!([at(last, 0), at(last, 1), at(last, 7)], ["loft", "861", "861"]);
    }
}
