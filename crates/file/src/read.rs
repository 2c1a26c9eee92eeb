//! Reading a premises file: the fast way, and, where that fails, the way that says why.

use bumpalo::Bump;

use crate::build::{Offer, build, offer};
use crate::home::Home;
use crate::problem::{Path, Problem, Problems, Step, nearest};
use crate::raw;
use crate::refusal::Refusal;
use crate::tree::{self, FaultKind, Node};

/// The largest file of one home, in bytes: a thousand parts need a tenth of it.
pub const LARGEST: usize = 8 << 20;

/// How a text is written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Syntax {
    /// TOML.
    Toml,
    /// JSON.
    Json,
}

/// A text and where it came from.
#[derive(Clone, Copy, Debug)]
pub struct Source<'t> {
    /// The file's name, for messages.
    pub name: &'t str,
    /// What it says.
    pub text: &'t str,
    /// How it is written.
    pub syntax: Syntax,
}

impl<'t> Source<'t> {
    /// A file: JSON if its name ends in `.json`, or, for standard input (`-`), if it begins with
    /// a brace; else TOML.
    ///
    /// # Errors
    /// A [`Refusal`] where it is too large or no text.
    pub fn new(name: &'t str, bytes: &'t [u8]) -> Result<Self, Box<Refusal>> {
        if bytes.len() > LARGEST {
            let says = format!("a premises file has at most {LARGEST} bytes");
            return Err(Refusal::whole(name, "", Problem::new(Path::default(), format!("{} bytes", bytes.len()), says)));
        }
        let text = std::str::from_utf8(bytes).map_err(|error| {
            let good = bytes.get(..error.valid_up_to()).and_then(|good| std::str::from_utf8(good).ok()).unwrap_or("");
            let bad = bytes.get(error.valid_up_to()).copied().unwrap_or(0);
            let says = "this byte is no text; save the file as UTF-8";
            Refusal::at_end(name, good, Problem::new(Path::default(), format!("byte 0x{bad:02x}"), says))
        })?;
        let text = text.strip_prefix('\u{feff}').unwrap_or(text);
        let json = match name {
            "-" => text.trim_ascii_start().starts_with('{'),
            _ => name.to_ascii_lowercase().ends_with(".json"),
        };
        Ok(Self { name, text, syntax: if json { Syntax::Json } else { Syntax::Toml } })
    }

    /// The plain values, if every key and shape is right.
    fn raw(&self) -> Option<raw::Premises<'t>> {
        match self.syntax {
            Syntax::Toml => toml::from_str(self.text).ok(),
            Syntax::Json => serde_json::from_str(self.text).ok(),
        }
    }
}

/// Reads a home. With `service`, that file's service and entry stand in place of its own.
///
/// # Errors
/// A [`Refusal`] that says what is wrong with which file, ten things at the most.
pub fn read<'b>(source: &Source<'_>, service: Option<&Source<'_>>, arena: &'b Bump) -> Result<Home<'b>, Box<Refusal>> {
    let offer = service.map(|source| read_offer(source, arena)).transpose()?;
    if let Some(raw) = source.raw()
        && let Ok(home) = build(&raw, offer, arena)
    {
        return Ok(home);
    }
    diagnose(source, |raw| build(raw, offer, arena))
}

fn read_offer<'b>(source: &Source<'_>, arena: &'b Bump) -> Result<Offer<'b>, Box<Refusal>> {
    if let Some(raw) = source.raw()
        && let Ok(offer) = offer(&raw, arena)
    {
        return Ok(offer);
    }
    diagnose(source, |raw| offer(raw, arena))
}

/// Reads a file again with places kept, and gathers what is wrong with it.
fn diagnose<T>(
    source: &Source<'_>,
    build: impl Fn(&raw::Premises<'_>) -> Result<T, Problems>,
) -> Result<T, Box<Refusal>> {
    let mut root = tree::read(source.text, source.syntax).map_err(|unreadable| {
        Refusal::at(source.name, source.text, unreadable.span, Problem::new(Path::default(), "", unreadable.says))
    })?;
    // Problems are placed in the tree as it was; what is wrong in shape is cut from a second one.
    let whole = tree::read(source.text, source.syntax).unwrap_or(Node { span: 0..0, kind: tree::Kind::Table(Vec::new()) });
    let mut problems = Problems::default();
    let mut lost = false;
    while problems.0.len() < Problems::MOST {
        let fault = match tree::deserialize::<raw::Premises<'_>>(&root) {
            Ok(raw) => {
                match build(&raw) {
                    Ok(built) if problems.is_empty() => return Ok(built),
                    Ok(_) => {}
                    Err(more) => {
                        // What was cut out takes others with it; they are not wrong themselves.
                        more.0
                            .into_iter()
                            .filter(|problem| !lost || !problem.may_follow)
                            .for_each(|problem| problems.push(problem));
                    }
                }
                break;
            }
            Err(fault) => fault,
        };
        let text = whole.written(&fault.path, source.text);
        let mut problem = Problem::new(Path(fault.path.clone()), text, fault.to_string());
        match &fault.kind {
            FaultKind::UnknownKey(known) => {
                problem = unknown_key(&fault.path, known);
            }
            FaultKind::DoubledKey => problem.about_key = true,
            FaultKind::Shape(_) => lost = true,
        }
        problems.push(problem);
        if root.prune(&fault.path).is_none() {
            break;
        }
    }
    if problems.is_empty() {
        problems.push(Problem::new(Path::default(), "", "this file can't be used"));
    }
    Err(Refusal::new(source.name, source.text, &whole, problems))
}

fn unknown_key(path: &[Step], known: &[&'static str]) -> Problem {
    let key = match path.last() {
        Some(Step::Key(key)) => key.as_str(),
        _ => "",
    };
    let says = format!("the key `{key}` is unknown here; known are {}", known.join(", "));
    let mut problem = Problem::new(Path(path.to_vec()), key, says);
    problem.about_key = true;
    if let Some(near) = nearest(key, known.iter().copied()) {
        problem = problem.help(format!("did you mean `{near}`?"));
    }
    problem
}
