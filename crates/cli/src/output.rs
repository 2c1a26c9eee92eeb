//! Writing files: never over another without being told to, and never half.

use std::fs::{self, OpenOptions};
use std::io::{self, Write};
use std::path::Path;

use crate::Failure;

/// Writes to standard output.
pub(crate) fn print(bytes: &[u8]) -> Result<(), Failure> {
    let mut out = io::stdout().lock();
    out.write_all(bytes)?;
    Ok(out.flush()?)
}

/// Says at once, before any work, that a file is in the way.
pub(crate) fn may_write(path: &Path, force: bool) -> Result<(), Failure> {
    if path != Path::new("-") && !force && path.symlink_metadata().is_ok() {
        return Err(exists(path));
    }
    Ok(())
}

/// Writes a whole file, or standard output for `-`. With `force` a file that is there is replaced at once: the new one is
/// written beside it and renamed, so that there is never half of one.
pub(crate) fn write(path: &Path, bytes: &[u8], force: bool) -> Result<(), Failure> {
    if path == Path::new("-") {
        return print(bytes);
    }
    let failed = |error: io::Error| match error.kind() {
        io::ErrorKind::AlreadyExists => exists(path),
        _ => Failure::Unusable(format!("{}: this file can't be written: {error}", path.display())),
    };
    // A link is followed: the file that it leads to is replaced, not the link.
    let place = if force { path.canonicalize().unwrap_or_else(|_| path.to_owned()) } else { path.to_owned() };
    if force && place.metadata().is_ok_and(|known| !known.is_file()) {
        // A device or a pipe is written to; there is nothing to replace.
        return fs::write(&place, bytes).map_err(failed);
    }
    let (beside, mut file) = beside(&place).map_err(failed)?;
    let written = keep_permissions(&place, &file).and_then(|()| file.write_all(bytes)).and_then(|()| file.sync_all());
    drop(file);
    let placed = written.and_then(|()| if force { fs::rename(&beside, &place) } else { place_new(&beside, &place) });
    placed.map_err(|error| {
        let _ = fs::remove_file(&beside);
        failed(error)
    })
}

/// Whoever may read or write a file that is replaced may do so with the new one, and nobody else.
fn keep_permissions(place: &Path, file: &fs::File) -> io::Result<()> {
    let Ok(known) = place.metadata() else { return Ok(()) };
    // Asked first: a disk without permissions of its own gives all files the same, and refuses to change them.
    if file.metadata()?.permissions() == known.permissions() {
        Ok(())
    } else {
        file.set_permissions(known.permissions())
    }
}

/// Gives a file a name that must not be taken. A link is refused where there is a file, even one that came in the
/// meantime; where the disk knows no links, a look before has to do.
fn place_new(beside: &Path, path: &Path) -> io::Result<()> {
    match fs::hard_link(beside, path) {
        Ok(()) => fs::remove_file(beside),
        Err(error) if error.kind() == io::ErrorKind::AlreadyExists => Err(error),
        Err(_) if path.symlink_metadata().is_ok() => Err(io::ErrorKind::AlreadyExists.into()),
        Err(_) => fs::rename(beside, path),
    }
}

/// A new file beside another, under a name that is free.
fn beside(path: &Path) -> io::Result<(std::path::PathBuf, fs::File)> {
    let name = path.file_name().ok_or(io::ErrorKind::InvalidInput)?.to_string_lossy().into_owned();
    let mut last = io::Error::from(io::ErrorKind::ResourceBusy);
    for number in 0..100 {
        let beside = path.with_file_name(format!(".{name}.{}-{number}", std::process::id()));
        match OpenOptions::new().write(true).create_new(true).open(&beside) {
            Ok(file) => return Ok((beside, file)),
            Err(error) if error.kind() == io::ErrorKind::AlreadyExists => last = error,
            Err(error) => return Err(error),
        }
    }
    Err(last)
}

fn exists(path: &Path) -> Failure {
    Failure::Unusable(format!("{}: this file exists; choose another name, or --force to replace it", path.display()))
}
