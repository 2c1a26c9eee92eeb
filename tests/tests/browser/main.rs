//! Pictures and sheets in a browser: nothing overlaps or sticks out, phones and paper hold them, readings come back.
//! Skipped with a message where there is no Chromium, unless `LEGWORK_BROWSER=1` demands it.

mod chromium;

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;
use std::time::{Duration, Instant};

use base64::Engine as _;
use legwork_file::{Checked, Checker, Source};
use serde_json::{Value, json};

use chromium::Chromium;

fn here() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
}

/// What is made of a home.
struct Made {
    drawing: String,
    plot: String,
    sheet: String,
}

fn make(name: &str, text: &[u8]) -> Made {
    let source = Source::new(name, text).unwrap_or_else(|refusal| panic!("{}", refusal.render(false)));
    let mut checker = Checker::new();
    let Checked { home, report } =
        checker.check(&source, None).unwrap_or_else(|refusal| panic!("{}", refusal.render(false)));
    Made {
        drawing: legwork_draw::drawing(&home, &report),
        plot: legwork_draw::plot(&home, &report),
        sheet: legwork_draw::sheet(&home, &report),
    }
}

fn hostile() -> (PathBuf, Made) {
    let path = here().join("data/pictures/hostile.toml");
    let text = fs::read(&path).expect("a file of this test");
    (path, make("hostile.toml", &text))
}

/// Lines of text that cover each other or stick out of the picture. A line's box has the font's leading above and below
/// its letters, a fifth of it in all, which may touch the next.
const BOXES: &str = r"(() => {
  const frame = document.querySelector('svg').getBoundingClientRect();
  const boxes = [];
  for (const text of document.querySelectorAll('text')) {
    const parts = text.querySelectorAll('tspan');
    for (const part of parts.length ? parts : [text]) {
      const box = part.getBoundingClientRect();
      if (box.width > 0) boxes.push([part.textContent, box.left, box.right, box.top + box.height * 0.1, box.bottom - box.height * 0.1]);
    }
  }
  const wrong = [];
  for (const [i, a] of boxes.entries()) {
    if (a[1] < frame.left - 0.5 || a[2] > frame.right + 0.5 || a[3] < frame.top - 0.5 || a[4] > frame.bottom + 0.5) wrong.push('outside: ' + a[0]);
    for (const b of boxes.slice(i + 1))
      if (Math.min(a[2], b[2]) - Math.max(a[1], b[1]) > 0.5 && Math.min(a[4], b[4]) - Math.max(a[3], b[3]) > 0.5) wrong.push(a[0] + ' / ' + b[0]);
  }
  for (const shape of document.querySelectorAll('path,rect,circle')) {
    const box = shape.getBoundingClientRect();
    if (box.left < frame.left - 1 || box.right > frame.right + 1 || box.top < frame.top - 1 || box.bottom > frame.bottom + 1) wrong.push('outside: a ' + shape.tagName);
  }
  return {count: boxes.length, wrong};
})()";

#[test]
fn no_text_overlaps_and_nothing_sticks_out_in_fifty_homes() {
    let Some(mut browser) = Chromium::start("overlaps") else { return };
    let mut homes: Vec<(String, Made)> = (0..50)
        .map(|seed| (format!("home {seed}"), make("home.json", legwork_tests::home(seed).to_string().as_bytes())))
        .collect();
    homes.push(("hostile".to_owned(), hostile().1));
    let mut count = 0;
    for (name, made) in &homes {
        for (kind, svg) in [("drawing", &made.drawing), ("plot", &made.plot)] {
            let path = browser.folder().join("picture.svg");
            fs::write(&path, svg).expect("it can be written");
            browser.open(&path);
            let found = browser.evaluate(BOXES);
            assert_eq!(found["wrong"], json!([]), "{name}, {kind}");
            count += found["count"].as_u64().unwrap_or_default();
        }
    }
    assert!(count > 10_000, "{count} lines of text");
}

#[test]
fn sheets_fit_a_phone_and_two_pages_and_hold_no_foreign_script() {
    let Some(mut browser) = Chromium::start("sheets") else { return };
    let examples = fs::read_dir(here().join("../crates/cli/examples")).expect("examples");
    let mut sheets: Vec<(String, String, bool)> = Vec::new();
    for example in examples {
        let path = example.expect("an example").path();
        if path.extension().is_none_or(|ending| ending != "toml") {
            continue;
        }
        let name = path.file_name().expect("a name").to_string_lossy().into_owned();
        sheets.push((name.clone(), make(&name, &fs::read(&path).expect("an example")).sheet, true));
    }
    for seed in 0..20 {
        sheets.push((
            format!("home {seed}"),
            make("home.json", legwork_tests::home(seed).to_string().as_bytes()).sheet,
            false,
        ));
    }
    sheets.push(("hostile".to_owned(), hostile().1.sheet, true));
    for (name, sheet, is_ordinary) in &sheets {
        let path = browser.folder().join("sheet.html");
        fs::write(&path, sheet).expect("it can be written");
        browser.resize(360, 740);
        browser.open(&path);
        let wide = browser.evaluate("Math.max(document.documentElement.scrollWidth, document.body.scrollWidth)");
        assert!(wide.as_u64().is_some_and(|wide| wide <= 360), "{name}: {wide} pixels wide on a phone of 360");
        assert_eq!(browser.evaluate("performance.getEntriesByType('resource').length"), 0, "{name} fetches something");
        let foreign = "[document.title === 'owned', document.scripts.length, document.images.length, \
            Array.from(document.querySelectorAll('*')).some(one => one.getAttributeNames().some(name => name.startsWith('on')))]";
        assert_eq!(browser.evaluate(foreign), json!([false, 1, 0, false]), "{name}");
        let pdf = browser.call("Page.printToPDF", json!({"preferCSSPageSize": true}));
        let pdf = base64::engine::general_purpose::STANDARD.decode(pdf["data"].as_str().unwrap_or_default());
        let pdf = String::from_utf8_lossy(&pdf.expect("a document")).into_owned();
        let pages = pdf.matches("/Type /Page\n").count();
        assert!(pages >= 1, "{name}: no pages in it");
        assert!(pages <= 2 || !is_ordinary, "{name}: {pages} pages");
    }
}

/// The program.
fn program() -> Command {
    Command::new(legwork_tests::program())
}

/// What `locate` makes of readings.
fn locate(home: &Path, readings: &Path) -> Value {
    let said = program().arg("locate").args([home, readings]).arg("--json").output().expect("it starts");
    assert!(said.status.success(), "{}", String::from_utf8_lossy(&said.stderr));
    serde_json::from_slice(&said.stdout).expect("JSON")
}

#[test]
fn readings_typed_on_a_phone_come_back_through_locate() {
    let Some(mut browser) = Chromium::start("readings") else { return };
    let (home, made) = hostile();
    let sheet = browser.folder().join("sheet.html");
    fs::write(&sheet, made.sheet).expect("it can be written");
    let folder = browser.folder().join("saved");
    fs::create_dir_all(&folder).expect("a folder of this test");
    browser.call("Browser.setDownloadBehavior", json!({"behavior": "allow", "downloadPath": folder}));
    browser.resize(360, 740);
    browser.open(&sheet);
    // Into every blank for a reading the lowest that is inside, but one that is far too low and one that is no number.
    let typed = browser.evaluate(
        r"(() => {
          const fields = Array.from(document.querySelectorAll('input[data-at]')).filter(field => field.dataset.at !== 'entry');
          return fields.map((field, place) => {
            field.value = place === 1 ? '12,5' : place === 2 ? 'loud' : field.dataset.low;
            field.dispatchEvent(new Event('input', {bubbles: true}));
            return [field.dataset.at, Number(field.dataset.mhz), field.value, field.parentNode.querySelector('output').textContent];
          });
        })()",
    );
    let typed = typed.as_array().expect("fields").clone();
    assert_eq!(typed.len(), 2 * 3, "two outlets, three channels");
    for (place, row) in typed.iter().enumerate() {
        let word = match place {
            1 => "\u{25bc} low",
            2 => "? number",
            _ => "\u{2713} inside",
        };
        assert!(row[3].as_str().is_some_and(|said| said.starts_with(word)), "{row}");
    }
    browser.evaluate("document.getElementById('save').click()");
    let saved = folder.join("readings.csv");
    let start = Instant::now();
    while !saved.exists() {
        assert!(start.elapsed() < Duration::from_secs(30), "nothing is saved");
        std::thread::sleep(Duration::from_millis(20));
    }
    let answer = locate(&home, &saved);
    let readings = answer["readings"].as_array().expect("readings");
    let numbers: Vec<&Value> = typed.iter().filter(|row| row[2] != "loud").collect();
    assert_eq!(readings.len(), numbers.len());
    for (row, reading) in numbers.iter().zip(readings) {
        assert_eq!((&row[0], row[1].as_f64()), (&reading["at"], reading["mhz"].as_f64()));
        // The sheet of this home speaks in dBuV.
        let dbmv: f64 = row[2].as_str().expect("a text").replace(',', ".").parse::<f64>().expect("a number") - 60.0;
        assert!((reading["read_dbmv"].as_f64().expect("a number") - dbmv).abs() < 1e-4, "{row} {reading}");
    }
}
