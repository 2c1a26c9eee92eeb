//! Pointers from C, and the seal on storage that the caller owns.

use core::ffi::c_char;

use crate::error::Fault;

/// Whether a pointer leads anywhere.
pub(crate) fn usable<T>(pointer: *const T) -> Result<*const T, Fault> {
    if pointer.is_null() || !pointer.is_aligned() { Err(Fault::POINTER) } else { Ok(pointer) }
}

/// The same for one that is written through.
pub(crate) fn usable_mut<T>(pointer: *mut T) -> Result<*mut T, Fault> {
    usable(pointer.cast_const()).map(<*const T>::cast_mut)
}

/// What a pointer leads to. Every type here is made of numbers and pointers, so any content is valid.
///
/// # Safety
/// A pointer that is not null leads to a `T`.
pub(crate) unsafe fn read<T: Copy>(pointer: *const T) -> Result<T, Fault> {
    let pointer = usable(pointer)?;
    // SAFETY: neither null nor misaligned, and the caller says the rest.
    Ok(unsafe { pointer.read() })
}

/// The same for a pointer that may be null: then there is none.
///
/// # Safety
/// As [`read`].
pub(crate) unsafe fn read_if<T: Copy>(pointer: *const T) -> Result<Option<T>, Fault> {
    if pointer.is_null() {
        return Ok(None);
    }
    // SAFETY: as the caller says.
    unsafe { read(pointer) }.map(Some)
}

/// Where an answer goes: checked before anything is done, written when all is well.
///
/// # Safety
/// A pointer that is not null leads to room for a `T` that nobody else uses during the call.
pub(crate) unsafe fn answer<T>(into: *mut T, value: impl FnOnce() -> Result<T, Fault>) -> Result<(), Fault> {
    usable(into)?;
    let value = value()?;
    // SAFETY: neither null nor misaligned, and the caller says the rest.
    unsafe { into.write(value) };
    Ok(())
}

/// Writes a text with a terminating zero, cut where it does not fit.
///
/// # Safety
/// A pointer that is not null leads to `size` bytes of room that nobody else uses during the call.
pub(crate) unsafe fn write_text(text: &str, into: *mut c_char, size: usize) -> Result<(), Fault> {
    usable(into)?;
    let Some(last) = size.checked_sub(1) else { return Err(Fault::NO_ROOM) };
    let fits = text.len().min(last);
    for (index, byte) in text.bytes().take(fits).enumerate() {
        // SAFETY: `index` is below `last`, hence inside the buffer.
        unsafe { into.add(index).write(byte as c_char) };
    }
    // SAFETY: `fits` is at most `last`.
    unsafe { into.add(fits).write(0) };
    if fits == text.len() { Ok(()) } else { Err(Fault::NO_ROOM) }
}

/// Writes as many numbers as there are, and how many; with too little room those that fit.
///
/// # Safety
/// As [`write_text`] for `into` with room for `room` of them, and as [`answer`] for `count`.
pub(crate) unsafe fn write_row<T>(
    row: impl Iterator<Item = T>,
    into: *mut T,
    room: usize,
    count: *mut usize,
) -> Result<(), Fault> {
    usable(count)?;
    usable(into)?;
    let mut length = 0;
    for item in row {
        if length < room {
            // SAFETY: `length` is below `room`, hence inside the buffer.
            unsafe { into.add(length).write(item) };
        }
        length += 1;
    }
    // SAFETY: neither null nor misaligned, and the caller says the rest.
    unsafe { count.write(length) };
    if length <= room { Ok(()) } else { Err(Fault::NO_ROOM) }
}

/// Stands at the head of started storage: tells it from zeroed storage, and from a copy elsewhere.
#[derive(Clone, Copy, PartialEq)]
pub(crate) struct Seal(usize);

impl Seal {
    /// On nothing.
    pub(crate) const BROKEN: Self = Self(0);
    /// "legw", so that a stray zero or pointer is no seal.
    const KEY: usize = 0x6C65_6777;

    /// The seal of what stands here.
    pub(crate) fn of<T>(place: *const T) -> Self {
        Self(place.addr() ^ Self::KEY)
    }
}
