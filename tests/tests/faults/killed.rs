//! Killed while it writes: the old file is whole, or the new one is.

use std::fs;
use std::os::unix::process::ExitStatusExt;
use std::path::Path;
use std::process::Stdio;
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::{Duration, Instant};

use crate::program::{FAILS, Folder, PASSES, program, program_under, said};

/// The signal of a process that writes more than it may.
const XFSZ: i32 = 25;
const KILL: i32 = 9;

/// The job sheet of a home.
fn sheet(home: &str) -> String {
    let said = said(program().args(["sheet", home, "--out", "-"]));
    assert_eq!(said.code, Some(0), "{said:?}");
    said.out
}

fn replace(home: &str, file: &Path) -> std::process::Command {
    let mut command = program();
    command.args(["sheet", home, "--force", "--out"]).arg(file).stdout(Stdio::null());
    command
}

#[test]
fn killed_in_the_middle_of_a_write_it_leaves_the_old_file_whole() {
    let folder = Folder::new("middle");
    let file = folder.file("job.html");
    fs::write(&file, "mine").expect("room");
    for _ in 0..3 {
        // The signal comes with the byte that is too much: the new file is half written at that moment.
        let mut limited = program_under("ulimit -c 0; ulimit -f 1");
        let status = limited.args(["sheet", PASSES, "--force", "--out"]).arg(&file).status().expect("it starts");
        assert_eq!(status.signal(), Some(XFSZ), "{status:?}");
        assert_eq!(fs::read_to_string(&file).expect("a file"), "mine");
    }
    // What a killed process leaves beside is in nobody's way.
    assert_eq!(folder.names().len(), 4, "{:?}", folder.names());
    assert_eq!(replace(PASSES, &file).status().expect("it starts").code(), Some(0));
    assert_eq!(fs::read_to_string(&file).expect("a file"), sheet(PASSES));
}

#[test]
fn killed_at_any_moment_it_leaves_a_whole_file() {
    let folder = Folder::new("any-moment");
    let file = folder.file("job.html");
    let sheets = [sheet(PASSES), sheet(FAILS)];
    let started = Instant::now();
    assert_eq!(replace(PASSES, &file).status().expect("it starts").code(), Some(0));
    let whole_run = started.elapsed();
    let mut killed = 0;
    for moment in 0..60_u32 {
        let mut child = replace([FAILS, PASSES][moment as usize % 2], &file).spawn().expect("it starts");
        std::thread::sleep(whole_run * moment / 50);
        child.kill().expect("a process");
        let status = child.wait().expect("it ends");
        killed += usize::from(status.signal() == Some(KILL));
        let found = fs::read_to_string(&file).expect("a file");
        assert!(sheets.contains(&found), "killed after {moment}/50 of a run: {} bytes", found.len());
    }
    assert!(killed > 0, "every run ended before it was killed");
}

#[test]
fn whoever_reads_meanwhile_sees_a_whole_file() {
    let folder = Folder::new("meanwhile");
    let file = folder.file("job.html");
    let sheets = [sheet(PASSES), sheet(FAILS)];
    fs::write(&file, &sheets[0]).expect("room");
    let done = AtomicBool::new(false);
    std::thread::scope(|scope| {
        let reader = scope.spawn(|| {
            let mut seen = [false; 2];
            while !done.load(Ordering::Relaxed) {
                let found = fs::read_to_string(&file).expect("there is a file at every moment");
                let which = sheets.iter().position(|sheet| *sheet == found);
                seen[which.unwrap_or_else(|| panic!("half a file: {} bytes", found.len()))] = true;
                std::thread::sleep(Duration::from_micros(50));
            }
            seen
        });
        for round in 0..20 {
            assert_eq!(replace([FAILS, PASSES][round % 2], &file).status().expect("it starts").code(), Some(0));
        }
        done.store(true, Ordering::Relaxed);
        assert_eq!(reader.join().expect("the reader ends"), [true; 2]);
    });
}
