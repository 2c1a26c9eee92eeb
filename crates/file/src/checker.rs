//! One home after another, in the same room.

use bumpalo::Bump;
use legwork::{Error, Margin, Report, Workspace};

use crate::home::Home;
use crate::problem::{Path, Problem};
use crate::read::{Source, read};
use crate::refusal::Refusal;
use crate::report::write_json;

/// Room for the check of any home that a file can describe.
type Room = Workspace<9217, 1024, 65_536, 1024, 16_384>;

/// Reads and checks homes. What one needs is used again for the next, so a million of them take
/// no more memory than the largest.
#[derive(Debug)]
pub struct Checker {
    room: Box<Room>,
    arena: Bump,
    margins: Vec<Margin>,
}

/// A home and what was found.
#[derive(Debug)]
pub struct Checked<'c> {
    /// The home with its names.
    pub home: Home<'c>,
    /// What was found.
    pub report: Report<'c, 'c>,
}

impl Checker {
    /// A checker without a home.
    #[must_use]
    pub fn new() -> Self {
        Self { room: room(), arena: Bump::new(), margins: Vec::new() }
    }

    /// Reads a home and checks it. With `service`, under the service and entry of that file.
    ///
    /// # Errors
    /// A [`Refusal`] where a file can't be used.
    pub fn check<'c>(
        &'c mut self,
        source: &Source<'_>,
        service: Option<&Source<'_>>,
    ) -> Result<Checked<'c>, Box<Refusal>> {
        self.arena.reset();
        let home = read(source, service, &self.arena)?;
        let report = self.room.check(&home.tree()).map_err(|error| too_large(source, error))?;
        Ok(Checked { home, report })
    }

    /// Reads a home and checks it, and keeps how near each figure comes to its limit.
    ///
    /// # Errors
    /// As [`check`](Self::check).
    pub fn check_margins<'c>(&'c mut self, source: &Source<'_>) -> Result<Checked<'c>, Box<Refusal>> {
        self.arena.reset();
        let home = read(source, None, &self.arena)?;
        self.margins.resize(home.tree().outlets().len() + Margin::FURTHER, Margin::NONE);
        let report = self.room.check_margins(&home.tree(), &mut self.margins);
        Ok(Checked { report: report.map_err(|error| too_large(source, error))?, home })
    }
}

impl Checked<'_> {
    /// The report as one line of JSON, without an end of line.
    #[must_use]
    pub fn json(&self) -> String {
        let mut out = Vec::with_capacity(16 << 10);
        write_json(&mut out, &self.home, &self.report, None);
        String::from_utf8(out).unwrap_or_default()
    }
}

impl Default for Checker {
    fn default() -> Self {
        Self::new()
    }
}

/// What is said of a home for which the room is too small.
fn too_large(source: &Source<'_>, error: Error) -> Box<Refusal> {
    let says = format!("this home is too large: {error}");
    Refusal::whole(source.name, source.text, Problem::new(Path::default(), "", says))
}

/// The room on the heap. An optimised build makes it there; a debug build makes it on the stack
/// first, where a test's thread has too little for it, so it borrows a larger one.
fn room() -> Box<Room> {
    const STACK: usize = 32 << 20;
    if cfg!(debug_assertions)
        && let Ok(maker) = std::thread::Builder::new().stack_size(STACK).spawn(on_this_stack)
        && let Ok(room) = maker.join()
    {
        return room;
    }
    on_this_stack()
}

/// A function of its own, so that the room's place on the stack is taken only where it is called.
#[inline(never)]
fn on_this_stack() -> Box<Room> {
    Box::new(Room::new())
}
