//! What a home keeps of the specs that were handed in: append-only, so that parts can borrow from it.

use core::cell::{Cell, UnsafeCell};
use core::mem::MaybeUninit;
use core::ptr::addr_of_mut;

use legwork::{Amplifier, Block, Bond, Cable, Coupler, Curve, Equalizer, Filter, Inserter, Joint, Point, Splitter};

use crate::error::Fault;

/// Up to `N` items alike. What it holds does not move or change, until it is forgotten.
pub(crate) struct Pool<T, const N: usize> {
    used: Cell<usize>,
    /// How many are there for good: what the last change that failed had added is not.
    kept: Cell<usize>,
    items: UnsafeCell<[MaybeUninit<T>; N]>,
}

/// Room for every kind of spec, and for the tables behind them.
pub(crate) struct Shelf {
    pub(crate) points: Pool<Point, { crate::home::LEGWORK_POINTS }>,
    pub(crate) curves: Pool<Curve<'static>, { crate::home::LEGWORK_LEGS }>,
    pub(crate) blocks: Pool<Block, { crate::home::LEGWORK_BLOCKS }>,
    pub(crate) cables: Pool<Cable<'static>, { crate::home::LEGWORK_SPECS }>,
    pub(crate) splitters: Pool<Splitter<'static>, { crate::home::LEGWORK_SPECS }>,
    pub(crate) couplers: Pool<Coupler<'static>, { crate::home::LEGWORK_SPECS }>,
    pub(crate) joints: Pool<Joint<'static>, { crate::home::LEGWORK_SPECS }>,
    pub(crate) equalizers: Pool<Equalizer<'static>, { crate::home::LEGWORK_RARE_SPECS }>,
    pub(crate) filters: Pool<Filter<'static>, { crate::home::LEGWORK_RARE_SPECS }>,
    pub(crate) amplifiers: Pool<Amplifier<'static>, { crate::home::LEGWORK_RARE_SPECS }>,
    pub(crate) inserters: Pool<Inserter<'static>, { crate::home::LEGWORK_RARE_SPECS }>,
    pub(crate) bonds: Pool<Bond<'static>, { crate::home::LEGWORK_RARE_SPECS }>,
}

/// Calls a macro for every pool of a shelf.
macro_rules! each_pool {
    ($use_pool:ident) => {
        $use_pool!(
            points, curves, blocks, cables, splitters, couplers, joints, equalizers, filters, amplifiers, inserters,
            bonds
        )
    };
}

impl Shelf {
    /// Makes a shelf empty, where it stands.
    ///
    /// # Safety
    /// `shelf` leads to room for one, and nothing handed out before is used again.
    pub(crate) unsafe fn start(shelf: *mut Self) {
        macro_rules! start {
            ($($pool:ident),*) => {
                // SAFETY: each is a member of `shelf`, whose counts are written before they are read.
                $(unsafe {
                    addr_of_mut!((*shelf).$pool.used).write(Cell::new(0));
                    addr_of_mut!((*shelf).$pool.kept).write(Cell::new(0));
                })*
            };
        }
        each_pool!(start);
    }

    /// Keeps for good what was added.
    #[inline(never)]
    pub(crate) fn commit(&self) {
        macro_rules! commit {
            ($($pool:ident),*) => { $(self.$pool.kept.set(self.$pool.used.get());)* };
        }
        each_pool!(commit);
    }

    /// Forgets what was added since the last [`commit`](Self::commit).
    ///
    /// # Safety
    /// Nothing handed out since is used again.
    #[inline(never)]
    pub(crate) unsafe fn roll_back(&self) {
        macro_rules! roll_back {
            ($($pool:ident),*) => { $(self.$pool.used.set(self.$pool.kept.get());)* };
        }
        each_pool!(roll_back);
    }
}

impl<T: Copy + PartialEq + 'static, const N: usize> Pool<T, N> {
    fn slots(&self) -> *mut T {
        self.items.get().cast()
    }

    /// The items from one on.
    ///
    /// They are said to live for ever. They live as long as the shelf stands, which is as long as the home that
    /// holds it, and only that home and the report on it hold them.
    fn row(&self, from: usize, count: usize) -> &'static [T] {
        if from.checked_add(count).is_none_or(|end| end > self.used.get()) {
            return &[];
        }
        // SAFETY: that many are written, see `keep_row`, and are not written again while they are in use.
        unsafe { core::slice::from_raw_parts(self.slots().add(from), count) }
    }

    /// Keeps `count` items in a row, or finds them where they already are.
    pub(crate) fn keep_row(
        &self,
        count: usize,
        what: &'static str,
        mut item: impl FnMut(usize) -> Result<T, Fault>,
    ) -> Result<&'static [T], Fault> {
        if count == 0 {
            return Ok(&[]);
        }
        let used = self.used.get();
        let first = item(0)?;
        for (from, known) in self.row(0, used).iter().enumerate() {
            let row = self.row(from, count);
            if *known == first && !row.is_empty() && holds(row, &mut item)? {
                return Ok(row);
            }
        }
        if count > N.saturating_sub(used) {
            return Err(Fault::full(what));
        }
        for index in 0..count {
            let item = item(index)?;
            // SAFETY: below `N` by the test above, and beyond `used`, where nobody looks.
            unsafe { self.slots().add(used + index).write(item) };
        }
        self.used.set(used + count);
        Ok(self.row(used, count))
    }

    /// Keeps one item, or finds it where it already is: parts of one spec share what it costs.
    pub(crate) fn keep(&self, item: T, what: &'static str) -> Result<&'static T, Fault> {
        if let Some(known) = self.row(0, self.used.get()).iter().find(|known| **known == item) {
            return Ok(known);
        }
        let row = self.keep_row(1, what, |_| Ok(item))?;
        row.first().ok_or(Fault::full(what))
    }
}

/// Whether a row is what `item` says, number by number.
fn holds<T: PartialEq>(row: &[T], mut item: impl FnMut(usize) -> Result<T, Fault>) -> Result<bool, Fault> {
    for (index, known) in row.iter().enumerate() {
        if item(index)? != *known {
            return Ok(false);
        }
    }
    Ok(true)
}
