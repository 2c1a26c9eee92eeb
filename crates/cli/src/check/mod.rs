//! `legwork check`: homes in, verdicts out.

pub(crate) mod human;
mod lines;
pub(crate) mod table;

use legwork::Verdict;
use legwork_file::{Checker, Source, write_json};

use crate::args::Check;
use crate::{Failure, Outcome, input, output, screen};

/// Checks every file, or every line.
pub(crate) fn run(options: &Check) -> Result<Outcome, Failure> {
    let other = options.service.as_ref().map(|name| input::read(name).map(|bytes| (name, bytes))).transpose()?;
    let service = match &other {
        Some((name, bytes)) => Some(Source::new(name, bytes)?),
        None => None,
    };
    if options.lines {
        if let Some(name) = options.files.iter().find(|name| *name != "-") {
            let says = format!("--lines reads standard input, not `{name}`; write: legwork check --lines < {name}");
            return Err(Failure::Unusable(says));
        }
        return lines::run(service, options.strict);
    }
    // All files are read before anything is written: a file that can't be used leaves standard output empty.
    let mut inputs = Vec::with_capacity(options.files.len());
    for name in &options.files {
        inputs.push((name, input::read(name)?));
    }
    let mut checker = Checker::new();
    let mut out = Vec::new();
    let mut worst = Verdict::Pass;
    for (index, (name, bytes)) in inputs.iter().enumerate() {
        let source = Source::new(name, bytes)?;
        let checked = checker.check(&source, service.as_ref())?;
        worst = worst.max(checked.report.verdict());
        if options.json {
            let file = (inputs.len() > 1).then_some(name.as_str());
            write_json(&mut out, &checked.home, &checked.report, file);
            out.push(b'\n');
        } else {
            if index > 0 {
                out.push(b'\n');
            }
            if options.tree {
                let width = usize::from(screen::width());
                out.extend_from_slice(legwork_draw::tree(&checked.home, &checked.report, width).as_bytes());
                continue;
            }
            human::write(&mut out, &checked.home, &checked.report, name);
        }
    }
    output::print(&out)?;
    Ok(outcome(worst, options.strict))
}

/// What a verdict means for the exit code.
fn outcome(verdict: Verdict, strict: bool) -> Outcome {
    match verdict {
        Verdict::Fail => Outcome::BadNews,
        Verdict::Marginal if strict => Outcome::BadNews,
        _ => Outcome::Done,
    }
}
