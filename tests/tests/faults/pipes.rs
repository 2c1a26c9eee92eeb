//! Pipes that close, break off, or wait for each other.

use std::fs::{self, File};
use std::io::{BufRead, BufReader, Write, pipe};
use std::net::{TcpListener, TcpStream};
use std::os::fd::OwnedFd;
use std::process::Stdio;
use std::sync::mpsc::channel;
use std::time::Duration;

use crate::program::{FAILS, Folder, PASSES, full, program, program_under, said};

/// A home on a line.
fn line(seed: u64) -> String {
    legwork_tests::home(seed).to_string() + "\n"
}

#[test]
fn a_pipe_that_nobody_reads_ends_every_command_quietly() {
    for arguments in [
        &["check", PASSES][..],
        &["check", FAILS, "--json"],
        &["specs"],
        &["level", "3 dBmV"],
        &["sheet", PASSES, "--out", "-"],
        &["generate", "man"],
        &["--help"],
    ] {
        let (reader, writer) = pipe().expect("a pipe");
        drop(reader);
        let said = said(program().args(arguments).stdout(writer));
        assert!(said.code.is_some_and(|code| code < 2), "{arguments:?}: {said:?}");
        assert_eq!(said.err, "", "{arguments:?}");
    }
}

#[test]
fn a_line_is_answered_before_the_next_is_written() {
    let mut command = program();
    command.args(["check", "--lines"]).stdin(Stdio::piped()).stdout(Stdio::piped());
    let mut child = command.spawn().expect("it starts");
    let (mut input, output) = (child.stdin.take().expect("a pipe"), child.stdout.take().expect("a pipe"));
    let (send, answers) = channel();
    std::thread::spawn(move || BufReader::new(output).lines().try_for_each(|line| send.send(line)));
    for seed in 0..20 {
        input.write_all(line(seed).as_bytes()).expect("it reads");
        let answer = answers.recv_timeout(Duration::from_secs(60)).expect("an answer").expect("a line");
        assert!(answer.starts_with(&format!("{{\"format\":1,\"name\":\"home {seed}\",")), "{answer}");
    }
    drop(input);
    assert!(child.wait().expect("it ends").code().is_some_and(|code| code < 2));
    assert!(answers.recv().is_err(), "more answers than lines");
}

#[test]
fn what_came_before_an_input_breaks_off_is_answered_and_the_break_is_said() {
    let listener = TcpListener::bind("127.0.0.1:0").expect("a port");
    let mut reader = TcpStream::connect(listener.local_addr().expect("an address")).expect("a connection");
    let (mut writer, _) = listener.accept().expect("a connection");
    // Closed with a byte that it has not read, a connection is reset instead of ended.
    reader.write_all(b"?").expect("a connection");
    writer.peek(&mut [0]).expect("the byte");
    let mut command = program();
    command.args(["check", "--lines"]).stdin(OwnedFd::from(reader)).stdout(Stdio::piped()).stderr(Stdio::piped());
    let mut child = command.spawn().expect("it starts");
    let mut answers = BufReader::new(child.stdout.take().expect("a pipe")).lines();
    let lines: String = (0..4).map(line).collect();
    writer.write_all(lines.as_bytes()).expect("a connection");
    writer.write_all(b"{\"format\": 1, \"name\": \"half").expect("a connection");
    for seed in 0..4 {
        let answer = answers.next().expect("an answer").expect("a line");
        assert!(answer.starts_with(&format!("{{\"format\":1,\"name\":\"home {seed}\",")), "{answer}");
    }
    drop(writer);
    assert!(answers.next().is_none());
    let output = child.wait_with_output().expect("it ends");
    let said = String::from_utf8_lossy(&output.stderr);
    assert_eq!(output.status.code(), Some(2), "{said}");
    assert!(said.contains("standard input") && said.contains("reset"), "{said}");
}

#[test]
fn a_folder_on_standard_input_is_said() {
    for arguments in [&["check", "--lines"][..], &["check", "-"]] {
        let said = said(program().args(arguments).stdin(File::open("/").expect("a folder")));
        assert_eq!((said.code, said.out.as_str()), (Some(2), ""), "{arguments:?}");
        assert!(said.err.contains("Is a directory"), "{said:?}");
    }
}

#[test]
fn lines_end_at_a_full_disk_however_many_are_still_to_come() {
    let (reader, mut writer) = pipe().expect("a pipe");
    let lines: String = (0..8).map(line).collect();
    // Writes until nobody reads any more.
    let source = std::thread::spawn(move || while writer.write_all(lines.as_bytes()).is_ok() {});
    let said = said(program().args(["check", "--lines"]).stdin(reader).stdout(full()));
    assert_eq!(said.code, Some(2), "{said:?}");
    assert!(said.err.contains("No space left"), "{said:?}");
    source.join().expect("the source ends");
}

#[test]
fn lines_whose_answers_are_cut_off_are_said_and_what_is_there_is_the_beginning() {
    let folder = Folder::new("cut-lines");
    let (input, output) = (folder.file("homes"), folder.file("reports"));
    fs::write(&input, (0..200).map(line).collect::<String>()).expect("room");
    let open = || File::open(&input).expect("the homes");
    let whole = said(program().args(["check", "--lines"]).stdin(open())).out;
    // So many blocks are enough for some batches, and not for all.
    let mut limited = program_under("ulimit -f 600; trap '' XFSZ");
    let answers = File::create(&output).expect("a file");
    let cut = said(limited.args(["check", "--lines"]).stdin(open()).stdout(answers));
    assert_eq!(cut.code, Some(2), "{cut:?}");
    assert!(cut.err.contains("too large"), "{cut:?}");
    let written = fs::read_to_string(&output).expect("what was written");
    assert!(written.len() > 100_000 && written.len() < whole.len() && whole.starts_with(&written));
}
