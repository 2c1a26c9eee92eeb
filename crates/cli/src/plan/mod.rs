//! `legwork plan` and `legwork mend`: what to take from the truck, and how to wire it.

mod human;
mod json;
mod search;

use std::path::Path;

use legwork_file::plan::{self, Planned};
use legwork_file::{Checker, Source};

use crate::args::{Answer, Mend, Plan};
use crate::{Failure, Outcome, input, output};
use search::What;

/// Plans one home.
pub(crate) fn run(options: &Plan) -> Result<Outcome, Failure> {
    may_answer(&options.answer)?;
    let bytes = input::read(&options.need)?;
    let source = Source::new(&options.need, &bytes)?;
    let planned = search::run(What::Plan, options.seconds, |go_on| plan::plan(&source, go_on))??;
    let text = if options.answer.json { json::plan(&planned) } else { human::plan(&planned, &options.need)? };
    finish(&planned, &text, &options.answer)
}

/// Mends one home.
pub(crate) fn mend(options: &Mend) -> Result<Outcome, Failure> {
    may_answer(&options.answer)?;
    input::only_one_is_stdin([("FILE", &options.file), ("STOCK", &options.stock)])?;
    let (bytes, stock) = (input::read(&options.file)?, input::read(&options.stock)?);
    let (source, stock) = (Source::new(&options.file, &bytes)?, Source::new(&options.stock, &stock)?);
    let most = usize::from(options.changes);
    let mending = search::run(What::Changes, options.seconds, |go_on| plan::mend(&source, &stock, most, go_on))??;
    let text = if options.answer.json { json::mend(&mending) } else { human::mend(&mending, &source, most)? };
    finish(&mending.planned, &text, &options.answer)
}

/// Says before the search that a file is in the way of its answer.
fn may_answer(answer: &Answer) -> Result<(), Failure> {
    answer.out.as_ref().map_or(Ok(()), |path| output::may_write(path, answer.force))
}

/// Writes the premises file, if one is wanted, and then the text, unless standard output has the file.
fn finish(planned: &Planned, text: &str, answer: &Answer) -> Result<Outcome, Failure> {
    let out = answer.out.as_ref().filter(|_| planned.feasible);
    if let Some(path) = out {
        output::write(path, planned.premises.as_bytes(), answer.force)?;
    }
    if out.is_none_or(|path| path != Path::new("-")) {
        output::print(text.as_bytes())?;
    }
    Ok(if planned.feasible { Outcome::Done } else { Outcome::BadNews })
}

/// Calls something with the check of a premises file that was written here.
fn checked<T>(
    premises: &str,
    then: impl FnOnce(&legwork_file::Home<'_>, &legwork::Report<'_, '_>) -> T,
) -> Result<T, Failure> {
    let source = Source::new("the plan", premises.as_bytes())?;
    let mut checker = Checker::new();
    let checked = checker.check_margins(&source)?;
    Ok(then(&checked.home, &checked.report))
}
