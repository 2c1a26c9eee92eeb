//! Errors: fixed numbers, and a text for each.

use core::ffi::{CStr, c_char};

use legwork::Error;

/// What every function answers.
pub type legwork_error = u32;

/// Nothing is wrong.
pub const LEGWORK_OK: legwork_error = 0;
/// A pointer is null or not aligned for what it should lead to.
pub const LEGWORK_BAD_POINTER: legwork_error = 1;
/// The storage was not started (a workspace: nothing was checked in it), or it was moved since.
pub const LEGWORK_NOT_STARTED: legwork_error = 2;
/// The home was to be changed since it was checked, with success or without: check it again.
pub const LEGWORK_STALE: legwork_error = 3;
/// A number stands for no device, place, kind or way out.
pub const LEGWORK_BAD_CHOICE: legwork_error = 4;
/// The caller's buffer is too small; it holds what fits.
pub const LEGWORK_NO_ROOM: legwork_error = 5;
/// A quantity is out of range or not a number; legwork_detail says which.
pub const LEGWORK_OUT_OF_RANGE: legwork_error = 6;
/// A table has too few points, or its frequencies do not rise; legwork_detail says which.
pub const LEGWORK_BAD_TABLE: legwork_error = 7;
/// The storage is full; legwork_detail says of what.
pub const LEGWORK_FULL: legwork_error = 8;
/// There is no such part, port, outlet, supply, figure, finding or built-in spec.
pub const LEGWORK_NO_SUCH: legwork_error = 9;
/// Something already hangs on that port.
pub const LEGWORK_PORT_TAKEN: legwork_error = 10;
/// The port carries DC only; nothing that needs the signal can hang there.
pub const LEGWORK_DC_ONLY: legwork_error = 11;
/// An error that this interface has no number for.
pub const LEGWORK_OTHER: legwork_error = 12;

/// A text for each error, by its number.
const TEXTS: [&CStr; 13] = [
    c"nothing is wrong",
    c"a pointer is null or not aligned",
    c"the storage was not started, or it was moved since",
    c"the home was to be changed since it was checked",
    c"a number stands for no device, place, kind or way out",
    c"the buffer is too small",
    c"a quantity is out of range",
    c"a table has too few points, or its frequencies do not rise",
    c"the storage is full",
    c"there is no such thing here",
    c"something already hangs on that port",
    c"that port carries DC only",
    c"another error",
];

/// An error in words; never null, whatever the number.
#[unsafe(no_mangle)]
pub extern "C" fn legwork_error_text(error: legwork_error) -> *const c_char {
    let text = TEXTS.get(error as usize).copied().unwrap_or(c"no error has this number");
    text.as_ptr()
}

/// An error on its way out, with what `legwork_detail` will say.
#[derive(Clone, Copy)]
pub(crate) struct Fault {
    pub(crate) code: legwork_error,
    pub(crate) detail: &'static str,
}

impl Fault {
    pub(crate) const POINTER: Self = Self::new(LEGWORK_BAD_POINTER, "");
    pub(crate) const NOT_STARTED: Self = Self::new(LEGWORK_NOT_STARTED, "");
    pub(crate) const STALE: Self = Self::new(LEGWORK_STALE, "");
    pub(crate) const NO_ROOM: Self = Self::new(LEGWORK_NO_ROOM, "");

    const fn new(code: legwork_error, detail: &'static str) -> Self {
        Self { code, detail }
    }
    pub(crate) const fn choice(what: &'static str) -> Self {
        Self::new(LEGWORK_BAD_CHOICE, what)
    }
    pub(crate) const fn range(what: &'static str) -> Self {
        Self::new(LEGWORK_OUT_OF_RANGE, what)
    }
    pub(crate) const fn table(why: &'static str) -> Self {
        Self::new(LEGWORK_BAD_TABLE, why)
    }
    pub(crate) const fn full(what: &'static str) -> Self {
        Self::new(LEGWORK_FULL, what)
    }
    pub(crate) const fn no_such(what: &'static str) -> Self {
        Self::new(LEGWORK_NO_SUCH, what)
    }
}

impl From<Error> for Fault {
    #[cold]
    #[inline(never)]
    fn from(error: Error) -> Self {
        match error {
            Error::OutOfRange { what } => Self::range(what),
            Error::BadTable { why } => Self::table(why),
            Error::Full { what, .. } => Self::full(what),
            Error::NoSuch { what } => Self::no_such(what),
            Error::PortTaken => Self::new(LEGWORK_PORT_TAKEN, ""),
            Error::DcOnly => Self::new(LEGWORK_DC_ONLY, ""),
            _ => Self::new(LEGWORK_OTHER, ""),
        }
    }
}

/// The number that goes back to C.
pub(crate) fn number(result: Result<(), Fault>) -> legwork_error {
    result.err().map_or(LEGWORK_OK, |fault| fault.code)
}
