//! A table where a list is asked for, a number where a table is, and the like: what is told of it, and with which help.

use legwork_file::{Checker, Refusal};

use super::refuse;

/// A home of one line, so that all of a part or outlet could be repeated.
const JSON: &str = r#"{"format": 1, "name": "Ivy Lane 2", "service": {"split": "42/54 MHz", "carriers": [{"first": "57 MHz", "last": "861 MHz", "step": "6 MHz"}]}, "entry": {"forward": [["57 MHz", "5 dBmV"], ["861 MHz", "5 dBmV"]]}, "part": [{"id": "pad", "after": "entry", "pad": "3 dB"}], "outlet": [{"id": "den", "after": "pad", "device": "tv"}]}"#;

const TOML: &str = r#"format = 1
name = "Ivy Lane 2"
[service]
split = "42/54 MHz"
carriers = [{ first = "57 MHz", last = "861 MHz", step = "6 MHz" }]
[entry]
forward = [["57 MHz", "5 dBmV"], ["861 MHz", "5 dBmV"]]
[[part]]
id = "pad"
after = "entry"
pad = "3 dB"
[[outlet]]
id = "den"
after = "pad"
device = "tv"
"#;

/// What is told: the field, the value that is repeated, a piece of what is said, and the help.
type Told = (&'static str, &'static str, &'static str, Option<&'static str>);

fn told(refusal: &Refusal) -> Vec<(String, String, String, Option<String>)> {
    let problems = refusal.problems().iter().map(|placed| &placed.problem);
    problems.map(|it| (it.path.to_string(), it.value.clone(), it.says.clone(), it.help.clone())).collect()
}

/// Each edit of a file, and what has to be told of it, in that order.
fn hold(name: &str, right: &str, edits: &[(&str, &str, &[Told])]) {
    let checker = &mut Checker::new();
    let mut wrong = Vec::new();
    for (from, to, wanted) in edits {
        assert!(right.contains(from), "{from}");
        let refusal = refuse(checker, name, right.replacen(from, to, 1).as_bytes()).expect("a refusal");
        let told = told(&refusal);
        let is = |(told, wanted): (&(String, String, String, Option<String>), &Told)| {
            (told.0.as_str(), told.1.as_str(), told.3.as_deref()) == (wanted.0, wanted.1, wanted.3)
                && told.2.contains(wanted.2)
        };
        if told.len() != wanted.len() || !told.iter().zip(*wanted).all(is) {
            wrong.push(format!("{from} -> {to}: {told:#?}"));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn in_json() {
    let list = r#""part": [{"id": "pad", "after": "entry", "pad": "3 dB"}]"#;
    hold(
        "home.json",
        JSON,
        &[
            // Double brackets are TOML's.
            (
                list,
                r#""part": {"id": "pad", "after": "entry"}"#,
                &[("part", r#"{"id": "pad", "after": "entry"}"#, "this is a table, but it takes a list", None)],
            ),
            (list, r#""part": null"#, &[("part", "null", "this is null, but it takes a list", None)]),
            (list, r#""part": false"#, &[("part", "false", "this is true or false, but it takes a list", None)]),
            // A table that is none leaves the others of its list as they are.
            (
                r#""part": [{"#,
                r#""part": [5, {"id": "run", "after": "entry", "pad": "3 V"}, {"#,
                &[
                    ("part[0]", "5", "this is a number, but it takes a table", None),
                    ("part[1].pad", "3 V", "that unit does not fit", None),
                ],
            ),
            // Where a key is missing, all that stands beside it is not its value.
            (r#""id": "pad", "#, "", &[("part[0].id", "", "this key is missing", None)]),
            (r#", "device": "tv""#, "", &[("outlet[0].device", "", "this key is missing", None)]),
            (r#""3 dB""#, "null", &[("part[0].pad", "null", "this is null, but it takes one value", None)]),
            (r#""3 dB""#, "false", &[("part[0].pad", "false", "that is no quantity", None)]),
            (r#""3 dB""#, "nil", &[("", "", "not JSON: a value is expected", None)]),
        ],
    );
}

#[test]
fn in_toml() {
    hold(
        "home.toml",
        TOML,
        &[
            (
                "[[part]]",
                "[part]",
                &[(
                    "part",
                    "[part]",
                    "this is a table, but it takes a list",
                    Some("write `[[part]]`, in double brackets"),
                )],
            ),
            // What is no list, or was not meant for one, has no use for brackets.
            ("name = \"Ivy Lane 2\"", "name = {}", &[("name", "{}", "this is a table", None)]),
            ("name = \"Ivy Lane 2\"\n", "part = 5\n", &[("", "", "not TOML", None)]),
            (
                "[[part]]",
                "[spec]\ncable = 5\n[[part]]",
                &[("spec.cable", "5", "this is a number, but it takes a table of named specs", None)],
            ),
            (
                "[[part]]",
                "[climate]\nindoor = {}\n[[part]]",
                &[("climate.indoor", "{}", "this is a table, but it takes one value, or a list", None)],
            ),
            (
                "3 dB\"",
                "3 dB\"\nname = 2024-05-06",
                &[("part[0].name", "2024-05-06", "the key `name` is unknown here", None)],
            ),
            (
                "\"3 dB\"",
                "2024-05-06",
                &[("part[0].pad", "2024-05-06", "this is a date, but it takes one value", None)],
            ),
        ],
    );
}
