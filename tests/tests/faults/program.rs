//! The real program, what it says, and folders to let it write to.

use std::ffi::OsStr;
use std::fs::{self, File};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Output, Stdio};

/// A home that passes, and one that fails.
pub(crate) const PASSES: &str = "findings/forward-low-mended.toml";
pub(crate) const FAILS: &str = "findings/forward-low.toml";

/// The program among the tests' data, with nothing on standard input.
pub(crate) fn program() -> Command {
    at_home(Command::new(legwork_tests::program()))
}

/// The program under what the shell says first, such as `ulimit -f 1`.
pub(crate) fn program_under(limits: &str) -> Command {
    let mut shell = Command::new("sh");
    shell.arg("-c").arg(format!("{limits}; exec \"$0\" \"$@\"")).arg(legwork_tests::program());
    at_home(shell)
}

fn at_home(mut command: Command) -> Command {
    command.env("COLUMNS", "80").current_dir(data()).stdin(Stdio::null());
    command
}

pub(crate) fn data() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("data")
}

/// A disk without room.
pub(crate) fn full() -> File {
    File::options().write(true).open("/dev/full").expect("a disk that is full")
}

/// What a run came to.
#[derive(Debug, PartialEq, Eq)]
pub(crate) struct Said {
    /// None where a signal ended it.
    pub(crate) code: Option<i32>,
    pub(crate) out: String,
    pub(crate) err: String,
}

impl From<Output> for Said {
    fn from(output: Output) -> Self {
        let text = |bytes| String::from_utf8(bytes).expect("it speaks UTF-8");
        Self { code: output.status.code(), out: text(output.stdout), err: text(output.stderr) }
    }
}

/// Runs to the end.
pub(crate) fn said(command: &mut Command) -> Said {
    command.output().expect("it starts").into()
}

/// The most memory that a process has had so far, in bytes.
pub(crate) fn peak(child: &Child) -> usize {
    let status = fs::read_to_string(format!("/proc/{}/status", child.id())).expect("a process");
    let line = status.lines().find_map(|line| line.strip_prefix("VmHWM:")).expect("a peak");
    let kilobytes = line.split_whitespace().next().and_then(|number| number.parse::<usize>().ok());
    kilobytes.expect("a number") << 10
}

/// A folder that goes when the test does.
pub(crate) struct Folder(PathBuf);

impl Folder {
    pub(crate) fn new(name: &str) -> Self {
        let path = Path::new(env!("CARGO_TARGET_TMPDIR")).join(format!("faults-{name}-{}", std::process::id()));
        fs::create_dir_all(&path).expect("a folder");
        Self(path)
    }

    /// Where a file of this name stands in it.
    pub(crate) fn file(&self, name: impl AsRef<OsStr>) -> PathBuf {
        self.0.join(name.as_ref())
    }

    /// The names of all that is in it, in order.
    pub(crate) fn names(&self) -> Vec<String> {
        let entries = fs::read_dir(&self.0).expect("the folder");
        let mut names: Vec<String> =
            entries.map(|entry| entry.expect("an entry").file_name().to_string_lossy().into_owned()).collect();
        names.sort();
        names
    }
}

impl Drop for Folder {
    fn drop(&mut self) {
        let _ = fs::remove_dir_all(&self.0);
    }
}

/// A pipe with a name: the program opens it as a file, and reads what is written here.
pub(crate) fn named_pipe(path: &Path) {
    assert!(Command::new("mkfifo").arg(path).status().expect("mkfifo").success());
}
