//! `legwork draw`, `plot` and `sheet`: a home in, a file to look at out.

use std::io::{self, Write};

use legwork::Report;
use legwork_file::{Checker, Home, Source};

use crate::args::Picture;
use crate::{Failure, Outcome, input, output};

/// Draws one home, whatever its verdict.
pub(crate) fn run(
    options: &Picture,
    draw: impl FnOnce(&Home<'_>, &Report<'_, '_>) -> String,
) -> Result<Outcome, Failure> {
    output::may_write(&options.out, options.force)?;
    let bytes = input::read(&options.file)?;
    let source = Source::new(&options.file, &bytes)?;
    let mut checker = Checker::new();
    let checked = checker.check(&source, None)?;
    output::write(&options.out, draw(&checked.home, &checked.report).as_bytes(), options.force)?;
    io::stdout().flush()?;
    Ok(Outcome::Done)
}
