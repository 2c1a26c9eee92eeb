//! Setting what a home is judged by, and asking for its ports.

use legwork::{Climate, HomeNetwork, Temperature};

use crate::choice::{
    device, legwork_device, legwork_outlet_id, legwork_part_id, legwork_place, legwork_port_id, legwork_way, place,
    way, way_out,
};
use crate::error::{Fault, legwork_error};
use crate::home::{change, household, legwork_home, noted, port_number, ready};
use crate::keep;
use crate::spec::{legwork_entry, legwork_limits, legwork_service};
use crate::stored::{answer, read, usable};

/// Sets another service and entry, and leaves the rest as it is: will the home live through an upgrade?
#[unsafe(no_mangle)]
pub unsafe extern "C" fn legwork_set_service(
    home: *mut legwork_home,
    service: *const legwork_service,
    entry: *const legwork_entry,
) -> legwork_error {
    // SAFETY: the promise at the head of the header.
    unsafe {
        change(home, |open| {
            let service = open.shelf.service(read(service)?)?;
            let entry = open.shelf.entry(read(entry)?)?;
            open.premises.set_service(service, entry);
            Ok(())
        })
    }
}

/// Sets how cold and how hot it gets at a place, in degrees Celsius.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn legwork_set_climate(
    home: *mut legwork_home,
    at: legwork_place,
    coldest_c: f32,
    hottest_c: f32,
) -> legwork_error {
    // SAFETY: the promise at the head of the header.
    unsafe {
        change(home, |open| {
            let climate: Climate = *open.premises.tree().climate;
            let (coldest, hottest) = (Temperature::new(coldest_c)?, Temperature::new(hottest_c)?);
            open.premises.set_climate(climate.with(place(at)?, coldest, hottest)?);
            Ok(())
        })
    }
}

/// Sets what a device takes, instead of the built-in limits. An unused jack has none.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn legwork_set_limits(
    home: *mut legwork_home,
    of: legwork_device,
    limits: *const legwork_limits,
) -> legwork_error {
    // SAFETY: the promise at the head of the header.
    unsafe {
        change(home, |open| {
            open.premises.set_limits(device(of)?, keep::limits(read(limits)?)?);
            Ok(())
        })
    }
}

/// Sets an operator's target for a device. Outside it a figure is marginal.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn legwork_set_target(
    home: *mut legwork_home,
    of: legwork_device,
    target: *const legwork_limits,
) -> legwork_error {
    // SAFETY: the promise at the head of the header.
    unsafe {
        change(home, |open| {
            open.premises.set_target(device(of)?, keep::limits(read(target)?)?);
            Ok(())
        })
    }
}

/// Sets the home network: its band, and the most loss in dB between two members (INFINITY: not checked).
#[unsafe(no_mangle)]
pub unsafe extern "C" fn legwork_set_home_network(
    home: *mut legwork_home,
    low_mhz: f32,
    high_mhz: f32,
    max_loss_db: f32,
) -> legwork_error {
    // SAFETY: the promise at the head of the header.
    unsafe {
        change(home, |open| {
            let band = keep::some_band(low_mhz, high_mhz)?;
            if max_loss_db >= 0.0 {
                open.premises.set_home_network(HomeNetwork { band, max_loss: max_loss_db });
                Ok(())
            } else {
                Err(Fault::range("most loss (dB)"))
            }
        })
    }
}

/// Makes an outlet a member of the home network.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn legwork_join(home: *mut legwork_home, outlet: legwork_outlet_id) -> legwork_error {
    // SAFETY: the promise at the head of the header.
    unsafe {
        change(home, |open| {
            let outlet = open.outlet(outlet)?;
            Ok(open.premises.join(outlet)?)
        })
    }
}

/// Says which port a part's way out is. `output` counts where the way out is LEGWORK_OUTPUT; the first is number 1.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn legwork_port_of(
    home: *mut legwork_home,
    part: legwork_part_id,
    name: legwork_way,
    output: u32,
    port: *mut legwork_port_id,
) -> legwork_error {
    // SAFETY: the promise at the head of the header; only the port is written.
    unsafe {
        let result = answer(port, || {
            let household = household(ready(home)?.0);
            let tree = household.tree();
            let id = tree.parts().nth(part as usize).map(|(id, _)| id).ok_or(Fault::no_such("part"))?;
            Ok(port_number(tree.owner(household.port(id, way(name, output)?)?)))
        });
        noted(home, result)
    }
}

/// Says of which part a port is a way out, and which; LEGWORK_NO_SUCH for the entry.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn legwork_owner_of(
    home: *mut legwork_home,
    port: legwork_port_id,
    part: *mut legwork_part_id,
    name: *mut legwork_way,
    output: *mut u32,
) -> legwork_error {
    // SAFETY: the promise at the head of the header; only the three answers are written.
    unsafe {
        let result = usable(name).and_then(|_| usable(output)).and_then(|_| {
            answer(part, || {
                let tree = household(ready(home)?.0).tree();
                let owner = (port >> 8).checked_sub(1).ok_or(Fault::no_such("part"))?;
                let (_, spec) = tree.parts().nth(owner as usize).ok_or(Fault::no_such("port"))?;
                let (way, number) = way_out(spec.way(port as u8).ok_or(Fault::no_such("port"))?);
                name.write(way);
                output.write(number);
                Ok(owner)
            })
        });
        noted(home, result)
    }
}
