//! Files that can't be read, that change while they are read, and that have no end.

use std::fs::{self, File};
use std::io::Write;
use std::os::unix::fs::{PermissionsExt, symlink};
use std::path::{Path, PathBuf};
use std::process::Stdio;
use std::sync::atomic::{AtomicBool, Ordering};

use crate::program::{FAILS, Folder, PASSES, Said, data, named_pipe, program, program_under, said};

/// Files that can't be read, each for another reason.
fn unreadable(folder: &Folder) -> Vec<PathBuf> {
    let (dangling, circle) = (folder.file("dangling.toml"), folder.file("circle.toml"));
    symlink("nothing.toml", &dangling).expect("a link");
    symlink("circle.toml", &circle).expect("a link");
    let plain = folder.file("plain");
    fs::write(&plain, "").expect("room");
    let locked = folder.file("locked.toml");
    fs::copy(data().join(PASSES), &locked).expect("room");
    fs::set_permissions(&locked, fs::Permissions::from_mode(0o000)).expect("permissions");
    let mut all = vec![
        folder.file(""),
        folder.file("none.toml"),
        plain.join("home.toml"),
        folder.file("n".repeat(300)),
        dangling,
        circle,
        // Opens, and fails when it is read, as a bad sector does.
        PathBuf::from("/proc/self/mem"),
    ];
    // Whoever runs as root may read it all the same.
    if File::open(&locked).is_err() {
        all.push(locked);
    }
    all
}

#[test]
fn a_file_that_can_not_be_read_is_named_whatever_it_was_wanted_for() {
    let folder = Folder::new("unreadable");
    let out = folder.file("out");
    let readings = folder.file("readings.csv");
    fs::write(&readings, "at,mhz,dbmv\nentry,57,3\n").expect("room");
    let need = folder.file("need.toml");
    assert_eq!(said(program().args(["new", "--need"]).arg(&need)).code, Some(0));
    for file in unreadable(&folder) {
        let file = file.to_str().expect("a name");
        let (out, readings, need) = [&out, &readings, &need].map(|path| path.to_str().expect("a name")).into();
        for arguments in [
            &["check", file][..],
            &["check", "--json", PASSES, file],
            &["check", PASSES, "--service", file],
            &["check", "--lines", "--service", file],
            &["locate", file, readings],
            &["locate", PASSES, file],
            &["compare", PASSES, readings, file],
            &["draw", file, "--out", out],
            &["sheet", file, "--out", out],
            &["plan", file, "--out", out],
            &["mend", file, "--stock", need, "--out", out],
            &["mend", FAILS, "--stock", file, "--out", out],
        ] {
            let said = said(program().args(arguments));
            assert_eq!((said.code, said.out.as_str()), (Some(2), ""), "{arguments:?}: {said:?}");
            assert!(said.err.contains(file) && said.err.contains("can't be read"), "{arguments:?}: {said:?}");
        }
    }
    assert!(!out.exists());
}

/// Checks what comes through a pipe with a name, and does something when the program has read the first half.
fn check_in_halves(pipe: &Path, text: &[u8], half: usize, between: impl FnOnce()) -> Said {
    let mut command = program();
    command.args(["check", "--json"]).arg(pipe).stdout(Stdio::piped()).stderr(Stdio::piped());
    let child = command.spawn().expect("it starts");
    // Opens when the program has opened it.
    let mut write = File::options().write(true).open(pipe).expect("a reader");
    write.write_all(&text[..half]).expect("a reader");
    between();
    write.write_all(&text[half..]).expect("a reader");
    drop(write);
    child.wait_with_output().expect("it ends").into()
}

#[test]
fn a_file_that_is_replaced_while_it_is_read_is_checked_as_it_was_opened() {
    let folder = Folder::new("replaced");
    let (file, other) = (folder.file("home.toml"), folder.file("other.toml"));
    let text = fs::read(data().join(PASSES)).expect("a home");
    let expected = said(program().args(["check", "--json", PASSES]));
    for half in [0, 1, text.len() / 2, text.len()] {
        named_pipe(&file);
        fs::copy(data().join(FAILS), &other).expect("room");
        let said = check_in_halves(&file, &text, half, || fs::rename(&other, &file).expect("a file to replace"));
        assert_eq!(said, expected, "{half} bytes before");
        fs::remove_file(&file).expect("the file goes");
    }
}

#[test]
fn a_file_that_is_replaced_again_and_again_is_checked_whole() {
    let folder = Folder::new("again");
    let (file, other) = (folder.file("home.toml"), folder.file("other.toml"));
    fs::copy(data().join(PASSES), &file).expect("room");
    let expected = [FAILS, PASSES].map(|name| said(program().args(["check", "--json", name])));
    let done = AtomicBool::new(false);
    std::thread::scope(|scope| {
        scope.spawn(|| {
            for name in [FAILS, PASSES].into_iter().cycle() {
                if done.load(Ordering::Relaxed) {
                    return;
                }
                fs::copy(data().join(name), &other).expect("room");
                fs::rename(&other, &file).expect("a file to replace");
            }
        });
        for round in 0..40 {
            let said = said(program().args(["check", "--json"]).arg(&file));
            assert!(expected.contains(&said), "round {round}: {said:?}");
        }
        done.store(true, Ordering::Relaxed);
    });
}

#[test]
fn json_that_breaks_off_anywhere_is_refused() {
    let folder = Folder::new("broken-off");
    let file = folder.file("home.json");
    let text = legwork_tests::home(5).to_string();
    named_pipe(&file);
    for part in 0..24 {
        let said = check_in_halves(&file, &text.as_bytes()[..text.len() * part / 24], 0, || {});
        assert_eq!((said.code, said.out.as_str()), (Some(2), ""), "{part}/24: {said:?}");
        assert!(said.err.contains("home.json"), "{part}/24: {said:?}");
    }
    assert!(check_in_halves(&file, text.as_bytes(), 0, || {}).code.is_some_and(|code| code < 2));
}

#[test]
fn a_file_without_end_is_refused_before_it_fills_the_memory() {
    let folder = Folder::new("endless");
    let gigabyte = folder.file("home.toml");
    // A hole: it takes no room on the disk.
    File::create(&gigabyte).and_then(|file| file.set_len(1 << 30)).expect("a large file");
    for file in ["/dev/zero", gigabyte.to_str().expect("a name")] {
        for arguments in [
            &["check", file][..],
            &["check", PASSES, "--service", file],
            &["draw", file, "--out", "-"],
            &["locate", PASSES, file],
            &["plan", file],
            &["mend", FAILS, "--stock", file],
        ] {
            // Less than half of it is to be had.
            let said = said(program_under("ulimit -v 450000").args(arguments));
            assert_eq!((said.code, said.out.as_str()), (Some(2), ""), "{arguments:?}: {said:?}");
            assert!(said.err.contains(file) && said.err.contains("too large"), "{arguments:?}: {said:?}");
        }
    }
}
