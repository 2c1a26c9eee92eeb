//! Files that can't be used: each is refused with its line, field and value, quickly and without a panic.
//!
//! The files are `data/refused/*`; what a technician reads about each stands in `data/refused/messages.txt`.
//! `LEGWORK_BLESS=1 cargo test -p legwork-tests --test refused` writes that file anew: read the difference.

mod files;
mod follows;
mod hostile;
mod needs;
mod shape;

use std::fs;
use std::path::PathBuf;
use std::time::{Duration, Instant};

use files::{FILES, Wrong};
use legwork_file::{Checker, Refusal, Source};

/// Longer than this nobody waits for the program; unoptimised, it may take its time.
const PATIENCE: Duration = Duration::from_secs(if cfg!(debug_assertions) { 20 } else { 2 });

fn folder() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("data/refused")
}

/// Reads and checks some bytes as a file of that name, which has to fail in time.
pub(crate) fn refuse(checker: &mut Checker, name: &str, bytes: &[u8]) -> Result<Box<Refusal>, String> {
    let start = Instant::now();
    let refusal = match Source::new(name, bytes) {
        Err(refusal) => refusal,
        Ok(source) => match checker.check(&source, None) {
            Err(refusal) => refusal,
            Ok(checked) => return Err(format!("{name} is taken for a home: {}", checked.json())),
        },
    };
    let message = refusal.render(false);
    assert!(start.elapsed() < PATIENCE, "{name} takes {:?}", start.elapsed());
    assert!(message.contains(name), "{name} is not named in:\n{message}");
    // What a terminal would obey is shown instead.
    assert!(!message.contains(|letter: char| letter.is_control() && letter != '\n'), "{message:?}");
    Ok(refusal)
}

#[test]
fn each_file_is_refused_with_its_line_field_and_value() {
    let checker = &mut Checker::new();
    let mut missing = Vec::new();
    for wrong in FILES {
        let bytes = fs::read(folder().join(wrong.file)).expect(wrong.file);
        let refusal = match refuse(checker, wrong.file, &bytes) {
            Ok(refusal) => refusal,
            Err(taken) => {
                missing.push(taken);
                continue;
            }
        };
        let message = refusal.render(false);
        let place = format!("{}:{}:", wrong.file, wrong.line);
        let found: Vec<_> =
            refusal.problems().iter().map(|placed| (placed.line, placed.problem.path.to_string())).collect();
        // One mistake gives one problem.
        if found != [(wrong.line, wrong.field.to_owned())] {
            missing.push(format!("{place} {} expected, not {found:?}\n{message}", wrong.field));
        }
        let second = wrong.second.map(|line| format!("line {line}"));
        for part in [&place, wrong.field, wrong.value, wrong.says, second.as_deref().unwrap_or("")] {
            if !message.contains(part) {
                missing.push(format!("no `{part}` in:\n{message}"));
            }
        }
    }
    assert!(missing.is_empty(), "{} missing:\n{}", missing.len(), missing.join("\n"));
}

#[test]
fn a_place_in_a_file_is_counted_from_1() {
    let checker = &mut Checker::new();
    for (text, place) in
        [("format = 1\n  nmae = \"Löwen 3\"\n", (2, 3)), ("nmae = 1", (1, 1)), ("x = \"ö\"; nmae = 1", (1, 8))]
    {
        let refusal = refuse(checker, "home.toml", text.as_bytes()).expect("a refusal");
        let places: Vec<_> = refusal.problems().iter().map(|placed| (placed.line, placed.column)).collect();
        assert!(places.contains(&place), "{places:?}: {}", refusal.render(false));
    }
}

#[test]
fn two_places_are_shown_together_where_they_are_near() {
    // Each part takes the id of the first; between the lines of both lies a comment of so many bytes.
    let told = |comment: usize, line_end: &str| {
        let part = |after| format!("[[part]]\nid = \"pad\"\nafter = \"{after}\"\npad = \"3 dB\"\n");
        let head = "format = 1\n[entry]\nforward = [[\"57 MHz\", \"5 dBmV\"], [\"861 MHz\", \"5 dBmV\"]]\n";
        let text = format!("{head}{}#{}\n{}", part("entry"), "-".repeat(comment), part("elsewhere"));
        let refusal = refuse(&mut Checker::new(), "home.toml", text.replace('\n', line_end).as_bytes());
        let message = refusal.expect("a refusal").render(false);
        let (_, message) = message.split_once("error: part[1].id").expect("two of that id");
        message.split("error:").next().unwrap_or_default().to_owned()
    };
    let lead = "= `pad`: ids have to differ, over parts, outlets and supplies alike\n  --> home.toml:10:6\n   |\n";
    let apart = format!(
        " {lead}10 | id = \"pad\"\n   |      ^^^^^\n   |\n  ::: home.toml:5:6\n   |\n 5 | id = \"pad\"\n   |      ----- it stands here first\n  also line 5, part[0].id: it stands here first\n"
    );
    let together = format!(
        " {lead} 5 | id = \"pad\"\n   |      ----- it stands here first\n...\n10 | id = \"pad\"\n   |      ^^^^^\n  also line 5, part[0].id: it stands here first\n"
    );
    let between = "\"pad\"\nafter = \"entry\"\npad = \"3 dB\"\n#\n[[part]]\nid = \"pad\"".len();
    assert_eq!(told(0, "\n").trim_end(), together.trim_end());
    assert_eq!(told(4096 - between, "\n").trim_end(), together.trim_end());
    assert_eq!(told(4097 - between, "\n").trim_end(), apart.trim_end());
    assert_eq!(told(0, "\r\n").trim_end(), apart.trim_end());
}

#[test]
fn messages_stay_as_they_were_read_and_found_good() {
    let mut checker = Checker::new();
    let message = |wrong: &Wrong| {
        let bytes = fs::read(folder().join(wrong.file)).expect(wrong.file);
        refuse(&mut checker, wrong.file, &bytes).map_or_else(|taken| taken, |refusal| refusal.render(false))
    };
    let messages: String = FILES.iter().map(message).collect::<Vec<String>>().join("\n");
    legwork_tests::hold_kept("data/refused/messages.txt", &messages);
}

#[test]
fn a_service_with_a_mistake_is_refused_whatever_the_home() {
    let need = fs::read_to_string(folder().join("need/right.toml")).expect("a file");
    let (service, _) = need.split_once("[panel]").expect("a service and an entry");
    let whole = format!("{service}[[outlet]]\nid = \"corner\"\nafter = \"entry\"\ndevice = \"tv\"\n");
    for (from, to, line, field) in [
        ("format = 1", "format = 2", 1, "format"),
        ("[entry]", "return_channels = 0\n[entry]", 8, "service.return_channels"),
        ("bonded = true", "bonded = 1", 11, "entry.bonded"),
        ("bonded = true", "cnr = \"45 V\"", 11, "entry.cnr"),
    ] {
        let wrong = service.replace(from, to);
        let [home, wrong] = [("home.toml", &whole), ("service.toml", &wrong)]
            .map(|(name, text)| Source::new(name, text.as_bytes()).expect("a text"));
        let mut checker = Checker::new();
        let refusal = checker.check(&home, Some(&wrong)).map(drop).expect_err(to);
        let told: Vec<_> =
            refusal.problems().iter().map(|placed| (placed.line, placed.problem.path.to_string())).collect();
        assert_eq!(told, [(line, field.to_owned())], "{}", refusal.render(false));
        assert!(refusal.render(false).contains("service.toml"));
        checker.check(&home, None).expect("a home");
    }
}

/// The lines of a file that a comment says to be wrong, `# 1: ...`, with the number.
fn told(text: &str) -> Vec<(usize, usize)> {
    let numbered = text.lines().enumerate().filter_map(|(index, line)| {
        let (_, comment) = line.split_once("# ")?;
        Some((comment.split_once(':')?.0.parse().ok()?, index + 1))
    });
    numbered.collect()
}

#[test]
fn ten_independent_mistakes_are_all_told_at_once() {
    let checker = &mut Checker::new();
    let bytes = fs::read(folder().join("several/ten.toml")).expect("ten mistakes");
    let refusal = refuse(checker, "ten.toml", &bytes).expect("a refusal");
    let lines: Vec<usize> = refusal.problems().iter().map(|placed| placed.line).collect();
    let told: Vec<usize> = told(&String::from_utf8_lossy(&bytes)).into_iter().map(|(_, line)| line).collect();
    assert_eq!(lines, told, "{}", refusal.render(false));
    assert_eq!(told.len(), 10);
}

#[test]
fn of_twelve_mistakes_ten_are_told_in_the_order_of_the_file() {
    let checker = &mut Checker::new();
    let bytes = fs::read(folder().join("several/twelve.toml")).expect("twelve mistakes");
    let refusal = refuse(checker, "twelve.toml", &bytes).expect("a refusal");
    let lines: Vec<usize> = refusal.problems().iter().map(|placed| placed.line).collect();
    let told: Vec<usize> = told(&String::from_utf8_lossy(&bytes)).into_iter().map(|(_, line)| line).collect();
    assert_eq!(told.len(), 12);
    assert_eq!(lines.len(), 10);
    assert!(lines.is_sorted() && lines.iter().all(|line| told.contains(line)), "{}", refusal.render(false));
}
