//! A list in fixed storage that can be filled while compiling, too.

/// Up to `N` items, the first `len` of them filled.
///
/// A home that a program knows lies in flash as it is: so every step that builds one is a `const fn`, and those of
/// the general vectors are not.
#[derive(Clone, Debug)]
pub(super) struct List<T, const N: usize> {
    items: [T; N],
    len: u16,
}

impl<T: Copy, const N: usize> List<T, N> {
    /// Without an item; what is not filled yet holds `filler`.
    pub(super) const fn new(filler: T) -> Self {
        Self { items: [filler; N], len: 0 }
    }

    pub(super) const fn len(&self) -> usize {
        self.len as usize
    }

    /// Adds an item; false where there is no room for it.
    pub(super) const fn push(&mut self, item: T) -> bool {
        let Some((_, [slot, ..])) = self.items.split_at_mut_checked(self.len as usize) else { return false };
        *slot = item;
        self.len += 1;
        true
    }

    /// Lets go of all but so many.
    pub(super) const fn truncate(&mut self, len: u16) {
        if len < self.len {
            self.len = len;
        }
    }

    pub(super) const fn as_slice(&self) -> &[T] {
        match self.items.split_at_checked(self.len as usize) {
            Some((filled, _)) => filled,
            None => &[],
        }
    }

    pub(super) const fn get(&self, index: usize) -> Option<&T> {
        match self.as_slice().split_at_checked(index) {
            Some((_, [item, ..])) => Some(item),
            _ => None,
        }
    }

    pub(super) const fn get_mut(&mut self, index: usize) -> Option<&mut T> {
        match self.items.split_at_mut_checked(index) {
            Some((_, [item, ..])) if index < self.len as usize => Some(item),
            _ => None,
        }
    }
}
