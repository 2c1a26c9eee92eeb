//! What readings say, for people.

use legwork_file::Located;

/// The whole answer.
pub(super) fn page(located: &Located<'_>) -> String {
    located.json() + "\n"
}
