//! Hanging parts, outlets, supplies and terminators on ports.

use core::ffi::{CStr, c_char};

use legwork::{Db, Length, Outlet, Part, tables};

use crate::choice::{
    LEGWORK_COUPLER, LEGWORK_FILTER, LEGWORK_INSERTER, LEGWORK_JOINT, LEGWORK_SPLITTER, device, legwork_device,
    legwork_kind, legwork_outlet_id, legwork_part_id, legwork_place, legwork_port_id, legwork_supply_id, place,
};
use crate::error::{Fault, legwork_error};
use crate::home::{change, legwork_home};
use crate::keep;
use crate::shelf::Shelf;
use crate::spec::{
    legwork_amplifier, legwork_bond, legwork_cable, legwork_conductor, legwork_coupler, legwork_equalizer,
    legwork_filter, legwork_inserter, legwork_joint, legwork_splitter, legwork_supply,
};
use crate::stored::{answer, read, usable};

/// Hangs on a port the part that `make` gives.
///
/// # Safety
/// As the header says of `home` and `part`.
unsafe fn add(
    home: *mut legwork_home,
    after: legwork_port_id,
    part: *mut legwork_part_id,
    make: impl FnOnce(&Shelf) -> Result<Part<'static>, Fault>,
) -> legwork_error {
    // SAFETY: as the caller says.
    unsafe {
        change(home, |open| {
            answer(part, || {
                let made = make(open.shelf)?;
                let after = open.port(after)?;
                Ok(open.premises.add(after, made)?.index() as legwork_part_id)
            })
        })
    }
}

/// Hangs a run of cable of this length on a port.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn legwork_add_cable(
    home: *mut legwork_home,
    after: legwork_port_id,
    spec: *const legwork_cable,
    metres: f32,
    lies: legwork_place,
    part: *mut legwork_part_id,
) -> legwork_error {
    // SAFETY: the promise at the head of the header.
    unsafe {
        add(home, after, part, |shelf| {
            Ok(Part::Cable { spec: shelf.cable(read(spec)?)?, length: Length::new(metres)?, place: place(lies)? })
        })
    }
}

/// Hangs a run of a built-in cable on a port: "series-59", "series-6", "series-6-copper", "series-7" or "series-11".
#[unsafe(no_mangle)]
pub unsafe extern "C" fn legwork_add_known_cable(
    home: *mut legwork_home,
    after: legwork_port_id,
    name: *const c_char,
    metres: f32,
    lies: legwork_place,
    part: *mut legwork_part_id,
) -> legwork_error {
    // SAFETY: the promise at the head of the header.
    unsafe {
        add(home, after, part, |_| {
            let spec = tables::cable(text(name)?).ok_or(Fault::no_such("built-in cable"))?;
            Ok(Part::Cable { spec, length: Length::new(metres)?, place: place(lies)? })
        })
    }
}

/// Hangs a built-in part on a port, by its kind and name. Its spec takes no room in the home.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn legwork_add_known(
    home: *mut legwork_home,
    after: legwork_port_id,
    kind: legwork_kind,
    name: *const c_char,
    part: *mut legwork_part_id,
) -> legwork_error {
    // SAFETY: the promise at the head of the header.
    unsafe {
        add(home, after, part, |_| {
            let name = text(name)?;
            match kind {
                LEGWORK_SPLITTER => tables::splitter(name).map(Part::Splitter),
                LEGWORK_COUPLER => tables::coupler(name).map(Part::Coupler),
                LEGWORK_FILTER => tables::filter(name).map(Part::Filter),
                LEGWORK_INSERTER => tables::inserter(name).map(Part::Inserter),
                LEGWORK_JOINT => tables::joint(name).map(Part::Joint),
                _ => return Err(Fault::choice("kind")),
            }
            .ok_or(Fault::no_such("built-in part"))
        })
    }
}

/// Hangs a splitter on a port.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn legwork_add_splitter(
    home: *mut legwork_home,
    after: legwork_port_id,
    spec: *const legwork_splitter,
    part: *mut legwork_part_id,
) -> legwork_error {
    // SAFETY: the promise at the head of the header.
    unsafe { add(home, after, part, |shelf| Ok(Part::Splitter(shelf.splitter(read(spec)?)?))) }
}

/// Hangs a directional coupler on a port.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn legwork_add_coupler(
    home: *mut legwork_home,
    after: legwork_port_id,
    spec: *const legwork_coupler,
    part: *mut legwork_part_id,
) -> legwork_error {
    // SAFETY: the promise at the head of the header.
    unsafe { add(home, after, part, |shelf| Ok(Part::Coupler(shelf.coupler(read(spec)?)?))) }
}

/// Hangs a pad of this loss on a port. It blocks DC.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn legwork_add_pad(
    home: *mut legwork_home,
    after: legwork_port_id,
    loss_db: f32,
    part: *mut legwork_part_id,
) -> legwork_error {
    // SAFETY: the promise at the head of the header.
    unsafe {
        add(home, after, part, |_| {
            let loss: Db = keep::loss(loss_db)?;
            Ok(Part::Pad(loss))
        })
    }
}

/// Hangs a cable equalizer on a port.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn legwork_add_equalizer(
    home: *mut legwork_home,
    after: legwork_port_id,
    spec: *const legwork_equalizer,
    part: *mut legwork_part_id,
) -> legwork_error {
    // SAFETY: the promise at the head of the header.
    unsafe { add(home, after, part, |shelf| Ok(Part::Equalizer(shelf.equalizer(read(spec)?)?))) }
}

/// Hangs a filter on a port.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn legwork_add_filter(
    home: *mut legwork_home,
    after: legwork_port_id,
    spec: *const legwork_filter,
    part: *mut legwork_part_id,
) -> legwork_error {
    // SAFETY: the promise at the head of the header.
    unsafe { add(home, after, part, |shelf| Ok(Part::Filter(shelf.filter(read(spec)?)?))) }
}

/// Hangs an amplifier on a port.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn legwork_add_amplifier(
    home: *mut legwork_home,
    after: legwork_port_id,
    spec: *const legwork_amplifier,
    part: *mut legwork_part_id,
) -> legwork_error {
    // SAFETY: the promise at the head of the header.
    unsafe { add(home, after, part, |shelf| Ok(Part::Amplifier(shelf.amplifier(read(spec)?)?))) }
}

/// Hangs a DC power inserter on a port.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn legwork_add_inserter(
    home: *mut legwork_home,
    after: legwork_port_id,
    spec: *const legwork_inserter,
    part: *mut legwork_part_id,
) -> legwork_error {
    // SAFETY: the promise at the head of the header.
    unsafe { add(home, after, part, |shelf| Ok(Part::Inserter(shelf.inserter(read(spec)?)?))) }
}

/// Hangs a grounding block with its conductor on a port.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn legwork_add_bond(
    home: *mut legwork_home,
    after: legwork_port_id,
    spec: *const legwork_bond,
    conductor: *const legwork_conductor,
    part: *mut legwork_part_id,
) -> legwork_error {
    // SAFETY: the promise at the head of the header.
    unsafe {
        add(home, after, part, |shelf| Ok(Part::Bond(shelf.bond(read(spec)?)?, keep::conductor(read(conductor)?)?)))
    }
}

/// Hangs a connector pair or a barrel on a port.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn legwork_add_joint(
    home: *mut legwork_home,
    after: legwork_port_id,
    spec: *const legwork_joint,
    part: *mut legwork_part_id,
) -> legwork_error {
    // SAFETY: the promise at the head of the header.
    unsafe { add(home, after, part, |shelf| Ok(Part::Joint(shelf.joint(read(spec)?)?))) }
}

/// Hangs an outlet on a port. `lifeline`, 0 for no: it has to stay up through a mains cut.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn legwork_add_outlet(
    home: *mut legwork_home,
    after: legwork_port_id,
    stands: legwork_device,
    lifeline: u8,
    outlet: *mut legwork_outlet_id,
) -> legwork_error {
    // SAFETY: the promise at the head of the header.
    unsafe {
        change(home, |open| {
            answer(outlet, || {
                let device = device(stands)?;
                let made = if lifeline == 0 { Outlet::new(device) } else { Outlet::lifeline(device) };
                let after = open.port(after)?;
                Ok(open.premises.add_outlet(after, made)?.index() as legwork_outlet_id)
            })
        })
    }
}

/// Hangs a plug-in DC supply on a port.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn legwork_add_supply(
    home: *mut legwork_home,
    after: legwork_port_id,
    spec: *const legwork_supply,
    supply: *mut legwork_supply_id,
) -> legwork_error {
    // SAFETY: the promise at the head of the header.
    unsafe {
        change(home, |open| {
            answer(supply, || {
                let made = keep::supply(read(spec)?)?;
                let after = open.port(after)?;
                Ok(open.premises.add_supply(after, made)?.index() as legwork_supply_id)
            })
        })
    }
}

/// Puts a 75 ohm terminator on a port.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn legwork_terminate(home: *mut legwork_home, port: legwork_port_id) -> legwork_error {
    // SAFETY: the promise at the head of the header.
    unsafe {
        change(home, |open| {
            let port = open.port(port)?;
            Ok(open.premises.terminate(port)?)
        })
    }
}

/// A name from C.
///
/// # Safety
/// A pointer that is not null leads to a text with a terminating zero.
unsafe fn text<'a>(name: *const c_char) -> Result<&'a str, Fault> {
    let name = usable(name)?;
    // SAFETY: not null, and the caller says the rest.
    unsafe { CStr::from_ptr(name) }.to_str().map_err(|_| Fault::no_such("built-in part"))
}
