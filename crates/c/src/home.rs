//! A home in storage that the caller owns.

use core::ffi::c_char;
use core::ptr::addr_of_mut;

use legwork::{OutletId, PartId, PortId, Premises};

use crate::choice::{LEGWORK_ENTRY, legwork_outlet_id, legwork_part_id, legwork_port_id};
use crate::error::{Fault, legwork_error, number};
use crate::shelf::Shelf;
use crate::spec::{legwork_entry, legwork_service};
use crate::stored::{Seal, read, usable_mut, write_text};

/// The most parts of a home.
pub const LEGWORK_PARTS: usize = 64;
/// The most ports of a home: every way out of a part counts, and the entry.
pub const LEGWORK_PORTS: usize = 96;
/// The most outlets of a home.
pub const LEGWORK_OUTLETS: usize = 24;
/// The most supplies of a home.
pub const LEGWORK_SUPPLIES: usize = 4;
/// The most carrier blocks, of all services a home was given.
pub const LEGWORK_BLOCKS: usize = 16;
/// The most rows of all tables of a home together; equal tables count once.
pub const LEGWORK_POINTS: usize = 256;
/// The most legs of all splitters with unlike legs together; equal ones count once.
pub const LEGWORK_LEGS: usize = 32;
/// The most different specs each of cables, splitters, couplers and joints. Built-in ones do not count.
pub const LEGWORK_SPECS: usize = 8;
/// The most different specs each of amplifiers, equalizers, filters, inserters and bonds.
pub const LEGWORK_RARE_SPECS: usize = 4;

/// The size of a home, in units of 8 bytes.
#[cfg(target_pointer_width = "64")]
pub const LEGWORK_HOME_WORDS: usize = 1400;
/// The size of a home, in units of 8 bytes.
#[cfg(not(target_pointer_width = "64"))]
pub const LEGWORK_HOME_WORDS: usize = 1200;

/// A home. Its content is no affair of the caller's.
#[repr(C)]
pub struct legwork_home {
    opaque: [u64; LEGWORK_HOME_WORDS],
}

/// What `legwork_home` is.
pub(crate) struct Home {
    seal: Seal,
    /// Set when service and entry are there.
    ready: bool,
    /// Counts calls that may change it: a report from before one is not read, as it borrows from what such a call
    /// holds for itself.
    revision: u32,
    /// What `legwork_detail` says.
    detail: &'static str,
    shelf: Shelf,
    premises: Household,
}

/// The core's home of these capacities. It borrows from the shelf beside it.
pub(crate) type Household = Premises<'static, LEGWORK_PARTS, LEGWORK_PORTS, LEGWORK_OUTLETS, LEGWORK_SUPPLIES>;

const _: () = assert!(size_of::<Home>() <= size_of::<legwork_home>(), "LEGWORK_HOME_WORDS is too small");
const _: () = assert!(align_of::<Home>() <= align_of::<legwork_home>(), "a home's alignment is too small");

/// A started home, its members apart: parts borrow from the shelf while the premises change.
pub(crate) struct Open<'a> {
    pub(crate) shelf: &'static Shelf,
    pub(crate) premises: &'a mut Household,
}

impl Open<'_> {
    pub(crate) fn part(&self, part: legwork_part_id) -> Result<PartId, Fault> {
        let mut parts = self.premises.tree().parts();
        parts.nth(part as usize).map(|(id, _)| id).ok_or(Fault::no_such("part"))
    }

    pub(crate) fn outlet(&self, outlet: legwork_outlet_id) -> Result<OutletId, Fault> {
        self.premises.tree().outlet_id(outlet as usize).ok_or(Fault::no_such("outlet"))
    }

    /// The port of a number that [`port_number`] gave.
    pub(crate) fn port(&self, port: legwork_port_id) -> Result<PortId, Fault> {
        if port == LEGWORK_ENTRY {
            return Ok(PortId::ENTRY);
        }
        let owner = (port >> 8).checked_sub(1).ok_or(Fault::no_such("port"))?;
        let owner = self.part(owner).map_err(|_| Fault::no_such("port"))?;
        Ok(self.premises.port_number(owner, port as u8)?)
    }
}

/// A port's number for C: its part's plus one, and which way out of it.
pub(crate) fn port_number(owner: Option<(PartId, u8)>) -> legwork_port_id {
    match owner {
        Some((part, number)) => ((part.index() as u32 + 1) << 8) | u32::from(number),
        None => LEGWORK_ENTRY,
    }
}

/// The home behind a pointer, whether it is ready or not.
///
/// # Safety
/// A pointer that is not null leads to a `legwork_home`.
unsafe fn sealed(home: *mut legwork_home) -> Result<*mut Home, Fault> {
    let home = usable_mut(home.cast::<Home>())?;
    // SAFETY: there is storage for a home, and any content of it is a valid seal.
    let seal = unsafe { (*home).seal };
    if seal == Seal::of(home) { Ok(home) } else { Err(Fault::NOT_STARTED) }
}

/// The home behind a pointer, and its revision.
///
/// # Safety
/// As [`sealed`].
pub(crate) unsafe fn ready(home: *mut legwork_home) -> Result<(*mut Home, u32), Fault> {
    // SAFETY: as the caller says.
    let home = unsafe { sealed(home) }?;
    // SAFETY: a sealed home has both members.
    let (ready, revision) = unsafe { ((*home).ready, (*home).revision) };
    if ready { Ok((home, revision)) } else { Err(Fault::NOT_STARTED) }
}

/// The core's home, for as long as it does not change.
///
/// # Safety
/// `home` came from [`ready`], and the home does not change while the result is in use.
pub(crate) unsafe fn household(home: *mut Home) -> &'static Household {
    // SAFETY: a ready home holds it; the caller says the rest.
    unsafe { &*addr_of_mut!((*home).premises) }
}

/// Notes what is wrong, where there is a home to note it in.
///
/// # Safety
/// As [`sealed`].
pub(crate) unsafe fn noted(home: *mut legwork_home, result: Result<(), Fault>) -> legwork_error {
    if let Err(fault) = result {
        // SAFETY: as the caller says.
        if let Ok(home) = unsafe { sealed(home) } {
            // SAFETY: the storage of a sealed home; only a text changes.
            unsafe { addr_of_mut!((*home).detail).write(fault.detail) };
        }
    }
    number(result)
}

/// Changes a home, or leaves it as it was.
///
/// # Safety
/// As [`sealed`], and nobody else uses the home during the call.
pub(crate) unsafe fn change(
    home: *mut legwork_home,
    work: impl FnOnce(&mut Open<'_>) -> Result<(), Fault>,
) -> legwork_error {
    // SAFETY: as the caller says.
    unsafe {
        let result = open(home).and_then(|mut open| work(&mut open));
        settle(home, result)
    }
}

/// # Safety
/// As [`change`].
#[inline(never)]
unsafe fn open<'a>(home: *mut legwork_home) -> Result<Open<'a>, Fault> {
    // SAFETY: as the caller says.
    let (home, _) = unsafe { ready(home) }?;
    // SAFETY: a ready home holds both; they lie apart, and nobody else uses either. A report that borrows from the
    // premises is not looked at again, as `settle` counts this call whatever comes of it.
    Ok(unsafe { Open { shelf: &*addr_of_mut!((*home).shelf), premises: &mut *addr_of_mut!((*home).premises) } })
}

/// Makes a change stand, or forgets what it had put on the shelf.
///
/// # Safety
/// As [`change`]; what [`open`] gave is no longer used.
#[inline(never)]
unsafe fn settle(home: *mut legwork_home, result: Result<(), Fault>) -> legwork_error {
    // SAFETY: as the caller says.
    if let Ok((home, revision)) = unsafe { ready(home) } {
        // SAFETY: a ready home holds it.
        let shelf: &Shelf = unsafe { &*addr_of_mut!((*home).shelf) };
        match result {
            Ok(()) => shelf.commit(),
            // SAFETY: what was added is known to nobody, as the home has not changed.
            Err(_) => unsafe { shelf.roll_back() },
        }
        // SAFETY: the storage of a ready home.
        unsafe { addr_of_mut!((*home).revision).write(revision.wrapping_add(1)) };
    }
    // SAFETY: as the caller says.
    unsafe { noted(home, result) }
}

/// Starts a home in this storage, with nothing in it but its entry: 20 C everywhere, the built-in limits. What stood
/// there before is gone.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn legwork_home_start(
    home: *mut legwork_home,
    service: *const legwork_service,
    entry: *const legwork_entry,
) -> legwork_error {
    // SAFETY: the promise at the head of the header.
    let result = unsafe { begin(home) }.and_then(|started| unsafe {
        // SAFETY: as above; the shelf has just been started.
        let shelf: &'static Shelf = &*addr_of_mut!((*started).shelf);
        let service = shelf.service(read(service)?)?;
        let entry = shelf.entry(read(entry)?)?;
        shelf.commit();
        addr_of_mut!((*started).premises).write(Premises::new(service, entry));
        addr_of_mut!((*started).ready).write(true);
        Ok(())
    });
    // SAFETY: as above.
    unsafe { noted(home, result) }
}

/// Seals a home without premises.
///
/// # Safety
/// A pointer that is not null leads to a `legwork_home` that nobody else uses.
unsafe fn begin(home: *mut legwork_home) -> Result<*mut Home, Fault> {
    // SAFETY: as the caller says.
    let revision = unsafe { ready(home) }.map_or(0, |(_, revision)| revision.wrapping_add(1));
    let home = usable_mut(home.cast::<Home>())?;
    // SAFETY: room for a home; nothing of what stood there is used again, as reports see by the revision.
    unsafe {
        addr_of_mut!((*home).ready).write(false);
        addr_of_mut!((*home).revision).write(revision);
        addr_of_mut!((*home).detail).write("");
        Shelf::start(addr_of_mut!((*home).shelf));
        addr_of_mut!((*home).seal).write(Seal::of(home));
    }
    Ok(home)
}

/// What the last error of a home was about, such as "length (m)" or "points"; empty where there is nothing to say.
/// LEGWORK_TEXT_SIZE bytes are always enough.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn legwork_detail(home: *const legwork_home, text: *mut c_char, size: usize) -> legwork_error {
    // SAFETY: the promise at the head of the header; the home is only read.
    number(unsafe { sealed(home.cast_mut()) }.and_then(|home| unsafe { write_text((*home).detail, text, size) }))
}

/// Enough room for any text of this interface, its terminating zero included.
pub const LEGWORK_TEXT_SIZE: usize = 64;
