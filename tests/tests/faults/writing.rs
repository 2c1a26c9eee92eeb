//! Disks that are full, limits, and places where nothing can be written.

use std::fs::{self, File};
use std::os::unix::fs::PermissionsExt;

use crate::program::{FAILS, Folder, PASSES, data, full, program, program_under, said};

/// Every command that writes to standard output.
const TALKERS: [&[&str]; 21] = [
    &["check", PASSES],
    &["check", FAILS, PASSES],
    &["check", PASSES, "--json"],
    &["check", PASSES, "--tree"],
    &["specs"],
    &["specs", "--json"],
    &["new", "-"],
    &["new", "-", "--need"],
    &["draw", PASSES, "--out", "-"],
    &["plot", PASSES, "--out", "-"],
    &["sheet", PASSES, "--out", "-"],
    &["level", "3 dBmV"],
    &["level", "3 dBmV", "--json"],
    &["cable", "series-6", "100 ft", "--at", "750 MHz"],
    &["wire", "18 AWG", "100 ft"],
    &["channel", "3"],
    &["generate", "bash"],
    &["generate", "man"],
    &["--help"],
    &["check", "--help"],
    &["--version"],
];

/// Forbids files of more than a block, and has the program told so; without the second half it is killed.
const SMALL_FILES: &str = "ulimit -f 1; trap '' XFSZ";

#[test]
fn a_full_disk_is_never_taken_for_success() {
    for arguments in TALKERS {
        let fine = said(program().args(arguments));
        assert!(fine.code.is_some_and(|code| code < 2) && !fine.out.is_empty(), "{arguments:?}: {fine:?}");
        let said = said(program().args(arguments).stdout(full()));
        assert_eq!(said.code, Some(2), "{arguments:?}: {said:?}");
        assert!(said.err.contains("No space left"), "{arguments:?}: {said:?}");
    }
}

#[test]
fn where_even_the_error_finds_no_room_the_exit_code_says_it() {
    for arguments in [&["check", "none.toml"][..], &["check", "--jsn"], &["check", PASSES]] {
        let code = program().args(arguments).stdout(full()).stderr(full()).status().expect("it starts").code();
        assert_eq!(code, Some(2), "{arguments:?}");
    }
}

#[test]
fn a_file_that_finds_no_room_is_named_and_nothing_of_it_stays() {
    let folder = Folder::new("limit");
    for (command, number) in ["draw", "plot", "sheet"].into_iter().zip(0..) {
        let new = folder.file(format!("new {number}"));
        let refused = said(program_under(SMALL_FILES).args([command, PASSES, "--out"]).arg(&new));
        assert_eq!((refused.code, refused.out.as_str()), (Some(2), ""), "{command}: {refused:?}");
        assert!(refused.err.contains(&*new.to_string_lossy()) && refused.err.contains("too large"), "{refused:?}");
        assert_eq!(folder.names(), [""; 0], "{command}");
        let refused = said(program().args([command, PASSES, "--force", "--out", "/dev/full"]));
        assert_eq!((refused.code, refused.out.as_str()), (Some(2), ""), "{command}: {refused:?}");
        assert!(refused.err.contains("/dev/full") && refused.err.contains("No space left"), "{refused:?}");
        // Without the limit the same command is fine.
        assert_eq!(said(program().args([command, PASSES, "--out"]).arg(&new)).code, Some(0));
        fs::remove_file(&new).expect("a file was written");
    }
}

#[test]
fn a_file_that_can_not_be_replaced_for_want_of_room_stays_as_it_was() {
    let folder = Folder::new("old");
    let file = folder.file("job.html");
    fs::write(&file, "mine").expect("room");
    let refused = said(program_under(SMALL_FILES).args(["sheet", PASSES, "--force", "--out"]).arg(&file));
    assert_eq!((refused.code, refused.out.as_str()), (Some(2), ""), "{refused:?}");
    assert_eq!(
        (fs::read_to_string(&file).expect("a file").as_str(), folder.names()),
        ("mine", vec!["job.html".to_owned()])
    );
}

#[test]
fn a_plan_that_can_not_be_written_is_not_printed_either() {
    let folder = Folder::new("plan");
    let need = folder.file("need.toml");
    assert_eq!(said(program().args(["new", "--need"]).arg(&need)).code, Some(0));
    let refused = said(program().arg("plan").arg(&need).args(["--force", "--out", "/dev/full"]));
    assert_eq!((refused.code, refused.out.as_str()), (Some(2), ""), "{refused:?}");
    assert!(refused.err.contains("/dev/full"), "{refused:?}");
    let file = data().join(FAILS);
    let refused =
        said(program().arg("mend").arg(&file).arg("--stock").arg(&need).args(["--force", "--out", "/dev/full"]));
    assert_eq!((refused.code, refused.out.as_str()), (Some(2), ""), "{refused:?}");
}

#[test]
fn standard_output_that_is_cut_off_is_said_and_what_is_there_is_the_beginning() {
    let folder = Folder::new("cut");
    let file = folder.file("reports");
    let arguments = ["check", "--json", PASSES, FAILS, PASSES, FAILS];
    let whole = said(program().args(arguments)).out;
    let mut limited = program_under(SMALL_FILES);
    let cut = said(limited.args(arguments).stdout(File::create(&file).expect("a file")));
    assert_eq!(cut.code, Some(2), "{cut:?}");
    assert!(cut.err.contains("too large"), "{cut:?}");
    let written = fs::read_to_string(&file).expect("what was written");
    assert!(!written.is_empty() && written.len() < whole.len() && whole.starts_with(&written), "{written}");
}

#[test]
fn where_nothing_can_be_written_it_is_said_and_nothing_is_left_lying() {
    let folder = Folder::new("nowhere");
    let file = folder.file("file");
    fs::write(&file, "mine").expect("room");
    fs::create_dir(folder.file("folder")).expect("a folder");
    let long = "n".repeat(300);
    for place in [folder.file("none/job.html"), file.join("job.html"), folder.file(&long), folder.file("folder")] {
        for force in [&["--force"][..], &[]] {
            let refused = said(program().args(["sheet", PASSES, "--out"]).arg(&place).args(force));
            assert_eq!((refused.code, refused.out.as_str()), (Some(2), ""), "{refused:?}");
            assert!(refused.err.contains(&*place.to_string_lossy()), "{refused:?}");
        }
    }
    assert_eq!(folder.names(), ["file", "folder"]);
    assert_eq!(fs::read_to_string(&file).expect("a file"), "mine");
}

#[test]
fn a_file_that_is_replaced_keeps_who_may_read_it() {
    let folder = Folder::new("permissions");
    let file = folder.file("job.html");
    for mode in [0o600, 0o640, 0o444, 0o666] {
        fs::write(&file, "mine").expect("room");
        fs::set_permissions(&file, fs::Permissions::from_mode(mode)).expect("permissions");
        assert_eq!(said(program().args(["sheet", PASSES, "--force", "--out"]).arg(&file)).code, Some(0));
        let kept = fs::metadata(&file).expect("a file");
        assert_eq!((kept.permissions().mode() & 0o777, kept.len() > 4), (mode, true));
        fs::remove_file(&file).expect("the file goes");
    }
}

#[test]
fn a_link_is_followed_and_stays_a_link() {
    let folder = Folder::new("link");
    let (file, link) = (folder.file("job.html"), folder.file("latest.html"));
    fs::write(&file, "mine").expect("room");
    std::os::unix::fs::symlink("job.html", &link).expect("a link");
    assert_eq!(said(program().args(["sheet", PASSES, "--force", "--out"]).arg(&link)).code, Some(0));
    assert!(fs::symlink_metadata(&link).expect("a link").is_symlink());
    assert!(fs::read_to_string(&file).expect("a file").starts_with("<!DOCTYPE html>"));
}
