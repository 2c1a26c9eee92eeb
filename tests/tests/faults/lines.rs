//! `--lines` by the million: every line has its answer, and memory does not grow.

use std::fs::File;
use std::io::{BufRead, BufReader, BufWriter, Write};
use std::process::{Child, ChildStdin, ChildStdout, Stdio};

use serde_json::Value;

use crate::program::{Folder, peak, program, said};

/// How far memory may grow between an early peak and the last: room for queues that happen to be full and for the
/// largest home to come late, and a thousandth of what goes through in a long run.
const GROWTH: usize = 16 << 20;
/// How many different homes there are.
const HOMES: u64 = 240;

/// Homes as lines, and the report of each.
fn homes() -> Vec<(String, String)> {
    let homes: Vec<String> = (0..HOMES).map(|seed| legwork_tests::home(seed).to_string() + "\n").collect();
    let folder = Folder::new("homes");
    let file = folder.file("homes");
    std::fs::write(&file, homes.concat()).expect("room");
    let said = said(program().args(["check", "--lines"]).stdin(File::open(&file).expect("a file")));
    assert!(said.code.is_some_and(|code| code < 2), "{}", said.err);
    let reports: Vec<String> = said.out.split_inclusive('\n').map(str::to_owned).collect();
    assert_eq!(reports.len(), homes.len());
    homes.into_iter().zip(reports).collect()
}

fn start() -> (Child, ChildStdin, BufReader<ChildStdout>) {
    let mut command = program();
    command.args(["check", "--lines"]).stdin(Stdio::piped()).stdout(Stdio::piped());
    let mut child = command.spawn().expect("it starts");
    let (input, output) = (child.stdin.take().expect("a pipe"), child.stdout.take().expect("a pipe"));
    (child, input, BufReader::with_capacity(1 << 16, output))
}

/// Sends so many lines, every so manieth of them broken, and holds every answer against what is due.
fn send(count: u64, every: u64) {
    let homes = homes();
    let home = |number: u64| &homes[usize::try_from(number % HOMES).expect("a home")];
    let (mut child, input, mut output) = start();
    let (mut early, mut late) = (0, 0);
    std::thread::scope(|scope| {
        let sender = scope.spawn(move || {
            let mut input = BufWriter::with_capacity(1 << 16, input);
            for number in 1..=count {
                let (text, _) = home(number);
                // Broken off in the middle of the home.
                let half = &text.as_bytes()[..text.len() / 2];
                let broken = number % every == 0;
                input.write_all(if broken { half } else { text.as_bytes() }).expect("it reads");
                if broken {
                    input.write_all(b"\n").expect("it reads");
                }
            }
            input.flush().expect("it reads");
            // Handed back open: the program lives on until its memory has been looked at.
            input
        });
        let mut answer = String::new();
        for number in 1..=count {
            answer.clear();
            output.read_line(&mut answer).expect("an answer");
            if number % every == 0 {
                let answer: Value = serde_json::from_str(&answer).expect("a line of JSON");
                assert_eq!(answer["line"], number, "{answer}");
                assert!(answer["error"]["says"].as_str().is_some_and(|says| says.contains("not JSON")), "{answer}");
            } else {
                assert!(answer == home(number).1, "line {number}: {answer}");
            }
            if number == count / 10 {
                early = peak(&child);
            }
        }
        late = peak(&child);
        drop(sender.join().expect("the sender ends"));
    });
    let mut rest = String::new();
    output.read_line(&mut rest).expect("the end");
    assert_eq!(rest, "", "more answers than lines");
    assert_eq!(child.wait().expect("it ends").code(), Some(2));
    println!("{count} lines: peak {early} bytes after a tenth, {late} at the end");
    assert!(late < early + GROWTH, "{early} bytes after a tenth, {late} at the end");
}

#[test]
fn a_line_of_a_gigabyte_takes_no_memory_and_no_other_line_with_it() {
    let homes = homes();
    let (mut child, mut input, mut output) = start();
    let mut answer = String::new();
    input.write_all(homes[0].0.as_bytes()).expect("it reads");
    output.read_line(&mut answer).expect("an answer");
    assert_eq!(answer, homes[0].1);
    let before = peak(&child);
    // A home to begin with, so that nothing short of the whole line is wrong with it.
    input.write_all(homes[1].0.trim_end().as_bytes()).expect("it reads");
    let blanks = vec![b' '; 1 << 16];
    for _ in 0..(1 << 30) / blanks.len() {
        input.write_all(&blanks).expect("it reads");
    }
    input.write_all(b"\n").expect("it reads");
    input.write_all(homes[2].0.as_bytes()).expect("it reads");
    answer.clear();
    output.read_line(&mut answer).expect("an answer");
    let refused: Value = serde_json::from_str(&answer).expect("a line of JSON");
    assert_eq!(refused["line"], 2, "{refused}");
    assert!(refused["error"]["says"].as_str().is_some_and(|says| says.contains("at most")), "{refused}");
    answer.clear();
    output.read_line(&mut answer).expect("an answer");
    assert_eq!(answer, homes[2].1);
    let after = peak(&child);
    drop(input);
    assert_eq!(child.wait().expect("it ends").code(), Some(2));
    println!("peak {before} bytes before, {after} after");
    assert!(after < before + GROWTH, "{before} bytes before, {after} after");
}

#[test]
fn every_line_has_its_answer_in_its_place_whatever_is_wrong_with_others() {
    send(2_000, 100);
}

#[test]
#[ignore = "some minutes: a million lines, every thousandth broken"]
fn a_million_lines_have_their_answers_in_the_memory_of_a_few() {
    send(1_000_000, 1_000);
}
