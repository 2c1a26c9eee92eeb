//! `legwork draw`, `plot` and `sheet`: a home to look at.

use legwork::Report;
use legwork_file::{Checker, Home, Source};

use crate::args::Picture;
use crate::{Failure, Outcome, input, output};

/// Makes one picture of a home and writes it. The verdict is in the picture, not in the exit code.
pub(crate) fn run(
    options: &Picture,
    picture: impl Fn(&Home<'_>, &Report<'_, '_>) -> String,
) -> Result<Outcome, Failure> {
    output::may_write(&options.out, options.force)?;
    let bytes = input::read(&options.file)?;
    let source = Source::new(&options.file, &bytes)?;
    let mut checker = Checker::new();
    let checked = checker.check(&source, None)?;
    let mut picture = picture(&checked.home, &checked.report);
    picture.push('\n');
    output::write(&options.out, picture.as_bytes(), options.force)?;
    Ok(Outcome::Done)
}
