//! What follows from a mistake is not told beside it; what stands for itself is.

use std::fs;

use legwork_file::Checker;

use super::{folder, refuse};

/// Each: what is exchanged in a file whose only mistake is `after = "rnu"`, and the lines and fields that are told.
type Case = (&'static [(&'static str, &'static str)], &'static [(usize, &'static str)]);

const RIGHT: (&str, &str) = ("\"rnu\"", "\"run\"");
/// No slip of the finger: it may be the name of what was lost.
const FAR: (&str, &str) = ("\"rnu\"", "\"elsewhere\"");
const OWN: (&str, &str) = ("\"series-6\"", "\"own\"");

const CASES: &[Case] = &[
    // The id of the part can't be read: who asks for one is not wrong, but for a slip of the finger.
    (&[("id = \"run\"", "id = [\"run\"]"), FAR], &[(12, "part[0].id")]),
    (&[("id = \"run\"", "id = [\"run\"]"), RIGHT], &[(12, "part[0].id")]),
    (&[("id = \"run\"\n", ""), FAR], &[(11, "part[0].id")]),
    (&[("id = \"den\"", "id = [\"den\"]"), FAR], &[(18, "outlet[0].id")]),
    // Of two ids that can't be used, none is the other's.
    (&[("\"run\"", "\"\""), ("\"den\"", "\"\""), FAR], &[(12, "part[0].id"), (18, "outlet[0].id")]),
    // What else is cut has no name that others ask for.
    (&[("\"42/54 MHz\"", "[\"42\"]"), FAR], &[(5, "service.split"), (19, "outlet[0].after")]),
    (&[("\"40 ft\"", "[\"40 ft\"]"), FAR], &[(15, "part[0].length"), (19, "outlet[0].after")]),
    (&[("\"Ivy Lane 2\"", "[]"), FAR], &[(2, "name"), (19, "outlet[0].after")]),
    (&[("\"modem\"", "[]"), FAR], &[(19, "outlet[0].after"), (20, "outlet[0].device")]),
    // A spec that is cut is asked for by its part.
    (&[("[[part]]", "[spec.cable]\nown = 5\n[[part]]"), OWN, RIGHT], &[(12, "spec.cable.own")]),
    (&[("[[part]]", "[spec]\ncable = 5\n[[part]]"), OWN, RIGHT], &[(12, "spec.cable")]),
    (
        &[
            (
                "[[part]]",
                "[spec.cable.own]\nloss = { a = 1 }\nper = \"9 ft\"\nloop = \"1 ohm\"\nvelocity = 0.8\n[[part]]",
            ),
            OWN,
            FAR,
        ],
        &[(12, "spec.cable.own.loss"), (24, "outlet[0].after")],
    ),
    // What is cut is not missing besides.
    (&[("cable = \"series-6\"", "cable = [\"series-6\"]"), RIGHT], &[(14, "part[0].cable")]),
    (&[("length = \"40 ft\"", "length = { feet = 40 }"), RIGHT], &[(15, "part[0].length")]),
    (&[("split = \"42/54 MHz\"", "split = {}"), RIGHT], &[(5, "service.split")]),
    // But what is missing elsewhere is.
    (
        &[("split = \"42/54 MHz\"", "split = {}"), RIGHT, ("device = \"modem\"\n", "")],
        &[(5, "service.split"), (17, "outlet[0].device")],
    ),
    (
        &[("cable = \"series-6\"", "cable = [\"series-6\"]"), RIGHT, ("device = \"modem\"\n", "")],
        &[(14, "part[0].cable"), (17, "outlet[0].device")],
    ),
    (
        &[("length = \"40 ft\"", "length = []"), RIGHT, ("id = \"run\"\n", "")],
        &[(11, "part[0].id"), (14, "part[0].length")],
    ),
    (
        &[("cable = \"series-6\"\n", ""), ("length = \"40 ft\"", "length = []"), RIGHT],
        &[(11, "part[0]"), (14, "part[0].length")],
    ),
    (
        &[("id = \"run\"\n", ""), ("cable = \"series-6\"", "cable = []"), RIGHT],
        &[(11, "part[0].id"), (13, "part[0].cable")],
    ),
    // A name of one letter is as near to no name as to another.
    (&[("id = \"run\"\n", ""), ("\"rnu\"", "\"a\"")], &[(11, "part[0].id")]),
    // A list that is no list is not empty.
    (&[("[[outlet]]", "[outlet]"), RIGHT], &[(17, "outlet")]),
];

#[test]
fn what_follows_from_a_mistake_is_not_told_beside_it() {
    let checker = &mut Checker::new();
    let right = fs::read_to_string(folder().join("after-unknown-part.toml")).expect("a file");
    let mut wrong = Vec::new();
    for (edits, wanted) in CASES {
        let text = edits.iter().fold(right.clone(), |text, (from, to)| {
            assert!(text.contains(from), "{from}");
            text.replacen(from, to, 1)
        });
        let refusal = refuse(checker, "home.toml", text.as_bytes()).expect("a refusal");
        let told: Vec<_> =
            refusal.problems().iter().map(|placed| (placed.line, placed.problem.path.to_string())).collect();
        let wanted: Vec<_> = wanted.iter().map(|(line, field)| (*line, (*field).to_owned())).collect();
        if told != wanted {
            wrong.push(format!("{edits:?}: {told:?}, not {wanted:?}"));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}
