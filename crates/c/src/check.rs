//! Checking a home, in a workspace that the caller owns.

use core::mem::MaybeUninit;
use core::ptr::addr_of_mut;

use legwork::{Report, Workspace};

use crate::error::{Fault, legwork_error};
use crate::home::{LEGWORK_PORTS, household, legwork_home, noted, ready};
use crate::stored::{Seal, usable, usable_mut};

/// The most different tables of a home's parts: a cable has one, a splitter with unlike legs one a leg, an amplifier up
/// to four.
pub const LEGWORK_TABLES: usize = 48;
/// The most figures of a report: for each outlet two, and one for each frequency of its forward levels, of its noise
/// and of its transmit levels; two for each pair of the home network's members.
pub const LEGWORK_FIGURES: usize = 768;
/// The most amplifiers of a home that is checked.
pub const LEGWORK_AMPLIFIERS: usize = 4;
/// The most findings of a report.
pub const LEGWORK_FINDINGS: usize = 96;

/// The size of a workspace, in units of 8 bytes.
#[cfg(target_pointer_width = "64")]
pub const LEGWORK_WORKSPACE_WORDS: usize = 4800;
/// The size of a workspace, in units of 8 bytes.
#[cfg(not(target_pointer_width = "64"))]
pub const LEGWORK_WORKSPACE_WORDS: usize = 4600;

/// Room to check a home in; the report stays in it. Its content is no affair of the caller's.
#[repr(C)]
pub struct legwork_workspace {
    opaque: [u64; LEGWORK_WORKSPACE_WORDS],
}

/// What `legwork_workspace` is.
struct Desk {
    seal: Seal,
    /// The home that was checked, and its revision then.
    home: *mut legwork_home,
    revision: u32,
    /// Borrows from `room` beside it, and from the home.
    report: MaybeUninit<Report<'static, 'static>>,
    room: Room,
}

type Room = Workspace<LEGWORK_PORTS, LEGWORK_TABLES, LEGWORK_FIGURES, LEGWORK_AMPLIFIERS, LEGWORK_FINDINGS>;

const _: () = assert!(size_of::<Desk>() <= size_of::<legwork_workspace>(), "LEGWORK_WORKSPACE_WORDS is too small");
const _: () = assert!(align_of::<Desk>() <= align_of::<legwork_workspace>(), "a workspace's alignment is too small");

/// Works out every figure of a home and holds it against every limit. LEGWORK_OK says that this was done, not that
/// all is well: see legwork_verdict. The figures can be read until the next call that is to change the home.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn legwork_check(home: *mut legwork_home, workspace: *mut legwork_workspace) -> legwork_error {
    // SAFETY: the promise at the head of the header.
    unsafe { noted(home, check(home, workspace)) }
}

/// # Safety
/// As the header says.
unsafe fn check(home: *mut legwork_home, workspace: *mut legwork_workspace) -> Result<(), Fault> {
    let desk = usable_mut(workspace.cast::<Desk>())?;
    // SAFETY: as the caller says.
    let (checked, revision) = unsafe { ready(home) }?;
    // SAFETY: room for a desk, used by nobody else. An earlier report on it is given up before the room is written to,
    // and a later one is used only while the home is as it is now.
    unsafe {
        addr_of_mut!((*desk).seal).write(Seal::BROKEN);
        let room = addr_of_mut!((*desk).room);
        room.write(Room::new());
        let room: &'static mut Room = &mut *room;
        let report = room.check(&household(checked).tree())?;
        addr_of_mut!((*desk).report).write(MaybeUninit::new(report));
        addr_of_mut!((*desk).home).write(home);
        addr_of_mut!((*desk).revision).write(revision);
        addr_of_mut!((*desk).seal).write(Seal::of(desk));
    }
    Ok(())
}

/// What was worked out in a workspace, if the home is still as it was.
///
/// # Safety
/// As the header says. The report is used during one call only.
pub(crate) unsafe fn report(workspace: *const legwork_workspace) -> Result<&'static Report<'static, 'static>, Fault> {
    let desk = usable(workspace.cast::<Desk>())?;
    // SAFETY: there is storage for a desk, and any content of it is a valid seal.
    if unsafe { (*desk).seal } != Seal::of(desk) {
        return Err(Fault::NOT_STARTED);
    }
    // SAFETY: a sealed desk has these members, and its home still stands, as the header asks.
    let (now, then) = unsafe { (ready((*desk).home)?.1, (*desk).revision) };
    if now != then {
        return Err(Fault::STALE);
    }
    // SAFETY: a sealed desk has a report; what it borrows from has not changed, as the revision shows.
    Ok(unsafe { (*desk).report.assume_init_ref() })
}
