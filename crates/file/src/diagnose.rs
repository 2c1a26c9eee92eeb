//! Reading a file again that could not be used: the slow way, which says why.

use crate::build::FORMAT;
use crate::problem::{Path, Problem, Problems, Step, nearest, shorten};
use crate::raw::{self, Kind};
use crate::read::{Source, Syntax};
use crate::refusal::Refusal;
use crate::tree::{self, Fault, FaultKind, Node};

/// Reads a file with places kept, and gathers what is wrong with it.
pub(crate) fn diagnose<R: raw::File, T>(
    source: &Source<'_>,
    build: impl Fn(&R::Of<'_>) -> Result<T, Problems>,
) -> Result<T, Box<Refusal>> {
    let whole = tree::read(source.text, source.syntax).map_err(|unreadable| {
        Refusal::at(source.name, source.text, unreadable.span, Problem::new(Path::default(), "", unreadable.says))
    })?;
    if let Some(problem) = other_format(&whole, source.text) {
        return Err(Refusal::new(source.name, source.text, &whole, Problems(vec![problem])));
    }
    // Problems are placed in the tree as it was; what is wrong in shape is cut from another one.
    let mut root = whole.clone();
    let mut problems = Problems::default();
    let mut gone = Gone::default();
    while problems.0.len() < Problems::MOST {
        let fault = match tree::deserialize::<R::Of<'_>>(&root) {
            Err(fault) => fault,
            Ok(raw) => {
                match build(&raw) {
                    Ok(built) if problems.is_empty() => return Ok(built),
                    Ok(_) => {}
                    Err(more) => gone.own(more).for_each(|problem| problems.push(problem)),
                }
                break;
            }
        };
        let (problem, meant) = shape(&fault, &whole, source);
        let path = problem.path.0.clone();
        problems.push(problem);
        let Some(cut) = root.prune(&path) else { break };
        gone.paths.push(meant.unwrap_or(cut));
    }
    if problems.is_empty() {
        problems.push(Problem::new(Path::default(), "", "this file can't be used"));
    }
    Err(Refusal::new(source.name, source.text, &whole, problems))
}

/// A file of another format is not held against the keys of this one.
fn other_format(whole: &Node, text: &str) -> Option<Problem> {
    let path = Path::default().with("format");
    let found = whole.find(&path.0);
    let other = matches!(found.node.kind, tree::Kind::Number(number) if number != 1.0);
    other.then(|| Problem::new(path.clone(), whole.written(&path.0, text), FORMAT))
}

/// The problem behind a fault of shape, and, for a key that is spelled wrong, the path that was meant.
fn shape(fault: &Fault, whole: &Node, source: &Source<'_>) -> (Problem, Option<Vec<Step>>) {
    let path = Path(fault.path.clone());
    let written = whole.written(&path.0, source.text);
    match fault.kind {
        FaultKind::UnknownKey(known) => {
            let key = match path.0.last() {
                Some(Step::Key(key)) => key.as_str(),
                _ => "",
            };
            let says = format!("the key `{}` is unknown here; known are {}", shorten(key.to_owned()), known.join(", "));
            let near = nearest(key, known.iter().copied());
            let meant = near.zip(path.0.split_last()).map(|(near, (_, table))| Path(table.to_vec()).with(near).0);
            let mut problem = Problem::new(path.clone(), written, says).suggest(near);
            problem.about_key = true;
            (problem, meant)
        }
        FaultKind::DoubledKey(key) => {
            let path = path.with(key);
            let problem = Problem::new(path.clone(), whole.written(&path.0, source.text), fault.to_string());
            let mut problem = problem.second(path, "it stands here first");
            problem.about_key = true;
            (problem, None)
        }
        FaultKind::Shape(_) => {
            let single = source.syntax == Syntax::Toml && matches!(whole.find(&path.0).node.kind, tree::Kind::Table(_));
            let help = match path.0.as_slice() {
                [Step::Key(key)] if single && matches!(key.as_str(), "part" | "outlet" | "supply") => {
                    Some(format!("write `[[{key}]]`, in double brackets"))
                }
                _ => None,
            };
            let mut problem = Problem::new(path, written, fault.to_string());
            problem.help = help;
            (problem, None)
        }
    }
}

/// What was cut from a file because of its shape. It takes others with it that are not wrong themselves.
#[derive(Default)]
struct Gone {
    paths: Vec<Vec<Step>>,
}

impl Gone {
    /// The problems that do not only follow from others.
    fn own(&self, problems: Problems) -> impl Iterator<Item = Problem> {
        let nameless =
            problems.0.iter().any(|problem| problem.path.0.last() == Some(&Step::from("id")) || problem.lacks("id"));
        let nameless = nameless || self.paths.iter().any(|path| names(path));
        problems.0.into_iter().filter(move |problem| {
            // A name that nothing comes near to may be one that was lost; a slip of the finger is one in any case.
            let follows = nameless && problem.may_follow && problem.help.is_none();
            let lacks = self.paths.iter().any(|path| is_missed(problem, path));
            !follows && !lacks
        })
    }
}

/// Whether others may call by name what stood at a path.
fn names(path: &[Step]) -> bool {
    let first = |key: &str| path.first() == Some(&Step::from(key));
    let whole = path.len() < 3 || path.last() == Some(&Step::from("id"));
    (first("part") || first("outlet") || first("supply")) && whole || first("spec") && path.len() < 4
}

/// Whether what a problem misses is what stood at a path.
fn is_missed(problem: &Problem, path: &[Step]) -> bool {
    if problem.missing.is_empty() {
        return false;
    }
    let table = match problem.path.0.split_last() {
        Some((Step::Key(key), table)) if problem.lacks(key) => table,
        _ => problem.path.0.as_slice(),
    };
    match path.strip_prefix(table) {
        Some([Step::Key(key), ..]) => {
            let is_kind = || key == "supply" || Kind::ALL.iter().any(|(_, kind)| kind == key);
            problem.lacks(key) || (problem.lacks("kind") && is_kind())
        }
        // Nothing less than the table was cut.
        _ => table.starts_with(path),
    }
}
