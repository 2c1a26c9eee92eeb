//! What is wrong with a file, and where.

use std::fmt;

/// One step into a file: a key of a table, or a place in a list.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Step {
    /// A key.
    Key(String),
    /// A place in a list; the first is 0.
    Index(usize),
}

impl From<&str> for Step {
    fn from(key: &str) -> Self {
        Self::Key(key.to_owned())
    }
}

impl From<usize> for Step {
    fn from(index: usize) -> Self {
        Self::Index(index)
    }
}

/// A way into a file, as in `part[3].length`.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Path(pub Vec<Step>);

impl Path {
    /// With one more step.
    #[must_use]
    pub fn with(&self, step: impl Into<Step>) -> Self {
        let mut steps = self.0.clone();
        steps.push(step.into());
        Self(steps)
    }
}

impl fmt::Display for Path {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        for (number, step) in self.0.iter().enumerate() {
            match step {
                Step::Key(key) if number == 0 => f.write_str(key)?,
                Step::Key(key) => write!(f, ".{key}")?,
                Step::Index(index) => write!(f, "[{index}]")?,
            }
        }
        Ok(())
    }
}

/// Builds a [`Path`] from keys and numbers.
macro_rules! route {
    ($($step:expr),* $(,)?) => { $crate::problem::Path(vec![$($crate::problem::Step::from($step)),*]) };
}
pub(crate) use route;

/// One thing that is wrong with a file.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Problem {
    /// The field it is about.
    pub path: Path,
    /// What stands there, as written; empty where something is missing.
    pub value: String,
    /// What is wrong and what the field takes.
    pub says: String,
    /// What was probably meant.
    pub help: Option<String>,
    /// Another place that matters, and why.
    pub second: Option<(Path, String)>,
    /// Whether it is the key that is wrong, not its value.
    pub about_key: bool,
    /// Whether it may only follow from another: a name that is unknown.
    pub may_follow: bool,
    /// The keys of which one is missing, where that is what is wrong.
    pub missing: Vec<String>,
}

impl Problem {
    /// A problem with what stands at a path.
    #[must_use]
    pub fn new(path: Path, value: impl Into<String>, says: impl Into<String>) -> Self {
        let (value, says) = (value.into(), says.into());
        Self { path, value, says, help: None, second: None, about_key: false, may_follow: false, missing: Vec::new() }
    }

    /// With what was probably meant.
    #[must_use]
    pub fn help(mut self, help: impl Into<String>) -> Self {
        self.help = Some(help.into());
        self
    }

    /// With the word that was probably meant.
    #[must_use]
    pub fn suggest(self, near: Option<impl fmt::Display>) -> Self {
        match near {
            Some(near) => self.help(format!("did you mean `{near}`?")),
            None => self,
        }
    }

    /// With a second place.
    #[must_use]
    pub fn second(mut self, path: Path, says: impl Into<String>) -> Self {
        self.second = Some((path, says.into()));
        self
    }

    /// One that may only follow from another.
    #[must_use]
    pub const fn following(mut self) -> Self {
        self.may_follow = true;
        self
    }

    /// One about the want of a key, or of one of some.
    #[must_use]
    pub fn missing(mut self, keys: &[&str]) -> Self {
        self.missing = keys.iter().map(|key| (*key).to_owned()).collect();
        self
    }

    /// Whether it is about the want of this key.
    #[must_use]
    pub fn lacks(&self, key: &str) -> bool {
        self.missing.iter().any(|missing| missing == key)
    }
}

/// What is wrong with a file.
#[derive(Clone, Debug, Default)]
pub struct Problems(pub Vec<Problem>);

impl Problems {
    /// More than this helps nobody.
    pub const MOST: usize = 10;
    /// More than this are not gathered: of a hundred, ten are left that do not follow from others.
    const ROOM: usize = 100;

    /// Notes a problem.
    pub fn push(&mut self, problem: Problem) {
        if self.0.len() < Self::ROOM && !self.0.contains(&problem) {
            self.0.push(problem);
        }
    }

    /// Whether nothing is wrong.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.0.is_empty()
    }
}

/// A text as long as a line has room for.
pub(crate) fn shorten(text: String) -> String {
    const MOST: usize = 60;
    match text.char_indices().nth(MOST) {
        None => text,
        Some((end, _)) => format!("{}...", text.get(..end).unwrap_or_default()),
    }
}

/// The nearest of some words, if one is near enough to have been meant.
#[must_use]
pub fn nearest<'w>(word: &str, words: impl IntoIterator<Item = &'w str>) -> Option<&'w str> {
    // A word longer than any name of ours is no slip of the finger, and costs its square to measure.
    const LONGEST: usize = 64;
    if word.chars().count() > LONGEST {
        return None;
    }
    let folded = word.to_lowercase();
    let distance = |known: &str| strsim::damerau_levenshtein(&folded, &known.to_lowercase());
    words
        .into_iter()
        .filter(|known| !known.is_empty() && known.len() <= LONGEST) // what lacks its name is not meant
        .map(|known| (distance(known), known))
        .filter(|(distance, known)| *distance <= (known.chars().count().max(word.chars().count()) / 3).max(1))
        .min_by_key(|(distance, _)| *distance)
        .map(|(_, known)| known)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_problem_is_noted_once() {
        let mut problems = Problems::default();
        let problem = |says: &str| Problem::new(Path::default().with("name"), "", says);
        for says in ["one", "one", "other", "one"] {
            problems.push(problem(says));
        }
        assert_eq!(problems.0, [problem("one"), problem("other")]);
    }

    #[test]
    fn a_word_longer_than_any_name_is_no_slip() {
        let (known, slip) = ("a".repeat(64), "a".repeat(63));
        assert_eq!(nearest(&slip, [known.as_str()]), Some(known.as_str()));
        assert_eq!(nearest(&format!("{slip}b"), [known.as_str()]), Some(known.as_str()));
        assert_eq!(nearest(&format!("{known}b"), [known.as_str()]), None);
        assert_eq!(nearest(&format!("{known}bc"), [known.as_str()]), None);
        assert_eq!(nearest("b", [""]), None);
    }
}
