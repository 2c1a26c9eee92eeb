//! What `vectors` compares: every calculation, by name and as bits.

use legwork::Error;

use crate::room::Room;
use crate::sums::{Checksum, Sums};
use crate::{faults, home, random, singles};

/// How many random homes.
pub const HOMES: u32 = 500;
/// After so many homes the checksums so far go out, to narrow a difference down.
const AFTER: u32 = 100;

static DESK: Room<random::Desk> = Room::new(random::Desk::new());
static FINDER: Room<random::Finder> = Room::new(random::Finder::new());

/// Hands out a checksum for each family of calculations: single ones, the reference home's report, random homes'.
///
/// # Errors
/// [`Error::Full`] where a home is larger than its room, or the second time.
pub fn vectors(mut emit: impl FnMut(&str, &str, u32)) -> Result<(), Error> {
    singles::vectors(&mut |name, sum| emit("single", name, sum))?;
    let mut sum = Checksum::new();
    for n in 0..2000u16 {
        sum.add(libm::log10f(f32::from(n) + 0.25));
        sum.add(libm::powf(10.0, f32::from(n) * 0.01 - 10.0));
    }
    emit("single", "libm", sum.value());

    let mut reference = Sums::default();
    let (home, desk) = home::desk()?;
    reference.add(&desk.check(&home.tree())?);
    reference.each(|name, sum| emit("reference", name, sum));

    let desk = DESK.take().ok_or(Error::Full { what: "desks", capacity: 1 })?;
    let finder = FINDER.take().ok_or(Error::Full { what: "finders", capacity: 1 })?;
    let (mut sums, mut parts, mut largest) = (Sums::default(), 0, 0);
    let mut visits = Checksum::new();
    for number in 0..HOMES {
        random::home(number, |home| {
            parts += home.tree().parts().len();
            largest = home.tree().parts().len().max(largest);
            faults::visit(&mut visits, &home.tree(), finder, number)?;
            desk.check(&home.tree()).map(|report| sums.add(&report))
        })??;
        if (number + 1) % AFTER == 0 {
            sums.each(|name, sum| emit("random", name, sum));
            emit("random", "faults", visits.value());
        }
    }
    // No checksums, but how much was covered: parts in all, in the largest home, and codes found.
    emit("random", "parts", parts as u32);
    emit("random", "parts-at-most", largest as u32);
    emit("random", "codes", sums.codes());
    Ok(())
}
