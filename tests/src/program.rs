//! The real program.

use std::path::{Path, PathBuf};
use std::sync::OnceLock;

/// Where the program is; the first to ask has it built, as this test was built.
///
/// # Panics
/// Where it does not build.
pub fn program() -> &'static Path {
    static PATH: OnceLock<PathBuf> = OnceLock::new();
    PATH.get_or_init(|| {
        // `target/PROFILE/deps/THIS`: built beside, so that nothing is compiled twice.
        let this = std::env::current_exe().expect("this test has a path");
        let target = this.ancestors().nth(3).expect("a target directory");
        let build = escargot::CargoBuild::new().package("legwork-cli").bin("legwork").target_dir(target);
        build.current_release().run().expect("the program builds").path().to_owned()
    })
}
