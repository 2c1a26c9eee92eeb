//! Statics that are written to: handed out once, whole.

use core::cell::UnsafeCell;
use core::sync::atomic::{AtomicBool, Ordering};

/// A static that one part of the program may take for itself.
pub struct Room<T> {
    taken: AtomicBool,
    content: UnsafeCell<T>,
}

// SAFETY: `take` hands the content out at most once, and nothing else reaches it. Load and store are two
// steps (a Cortex-M0 has no swap), so this holds for programs of one thread: all programs here.
unsafe impl<T> Sync for Room<T> {}

impl<T> Room<T> {
    /// With this in it at the start.
    pub const fn new(content: T) -> Self {
        Self { taken: AtomicBool::new(false), content: UnsafeCell::new(content) }
    }

    /// The content, the first time.
    #[allow(clippy::mut_from_ref, reason = "at most once, as the flag sees to")]
    pub fn take(&'static self) -> Option<&'static mut T> {
        if self.taken.load(Ordering::Relaxed) {
            return None;
        }
        self.taken.store(true, Ordering::Relaxed);
        // SAFETY: the only reference there will ever be, see above.
        Some(unsafe { &mut *self.content.get() })
    }
}
