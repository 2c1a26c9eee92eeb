//! A file as a tree that remembers where everything stood: read only when something is wrong.

mod de;
mod json;
mod toml;

use std::ops::Range;

pub(crate) use de::{Fault, FaultKind, deserialize};

use crate::problem::Step;
use crate::read::Syntax;

/// A value and where it stands.
#[derive(Clone, Debug)]
pub(crate) struct Node {
    /// Its bytes in the source.
    pub(crate) span: Range<usize>,
    pub(crate) kind: Kind,
}

/// What a value is.
#[derive(Clone, Debug)]
pub(crate) enum Kind {
    Table(Vec<Entry>),
    List(Vec<Node>),
    Text(String),
    Number(f64),
    Bool(bool),
    /// JSON's `null`: as good as left out.
    Null,
    /// What no premises file has: a date.
    Other(&'static str),
}

/// A key of a table, where it stands, and its value.
#[derive(Clone, Debug)]
pub(crate) struct Entry {
    pub(crate) key: String,
    pub(crate) key_span: Range<usize>,
    pub(crate) value: Node,
}

/// What keeps a text from being read at all.
#[derive(Debug)]
pub(crate) struct Unreadable {
    pub(crate) span: Range<usize>,
    pub(crate) says: String,
}

/// Tables and lists may lie in each other this deep; a premises file needs six.
pub(crate) const DEEPEST: usize = 32;

/// More values than this are no home: one at capacity has some twenty thousand.
const MOST_VALUES: usize = 400_000;

/// What is said of more.
const TOO_MANY: &str = "there are more values in this file than any home has";

/// Reads a text as a tree.
pub(crate) fn read(text: &str, syntax: Syntax) -> Result<Node, Unreadable> {
    match syntax {
        Syntax::Toml => toml::read(text),
        Syntax::Json => json::read(text),
    }
}

impl Node {
    /// The node at a path, or the deepest one on the way to it; of several alike the last.
    pub(crate) fn find(&self, path: &[Step]) -> Found<'_> {
        self.follow(path, |entries, key| entries.iter().rfind(|entry| entry.key == *key))
    }

    /// The node at a path, or the deepest one on the way to it; of several alike the first.
    pub(crate) fn find_first(&self, path: &[Step]) -> Found<'_> {
        self.follow(path, |entries, key| entries.iter().find(|entry| entry.key == *key))
    }

    fn follow(&self, path: &[Step], pick: impl for<'e> Fn(&'e [Entry], &str) -> Option<&'e Entry>) -> Found<'_> {
        let mut found = Found { node: self, key_span: None };
        for step in path {
            let next = match (&found.node.kind, step) {
                (Kind::Table(entries), Step::Key(key)) => {
                    pick(entries, key).map(|entry| (&entry.value, Some(entry.key_span.clone())))
                }
                (Kind::List(items), Step::Index(index)) => items.get(*index).map(|item| (item, None)),
                _ => None,
            };
            match next {
                Some((node, key_span)) => found = Found { node, key_span },
                None => return found,
            }
        }
        found
    }

    /// Takes the node at a path out of the tree, so that what else is wrong comes to light.
    ///
    /// Answers the path of what was taken: all of a list of values where one item is wrong, while
    /// a table in a list of tables is only emptied, so that the others keep their numbers.
    pub(crate) fn prune(&mut self, path: &[Step]) -> Option<Vec<Step>> {
        let (last, before) = path.split_last()?;
        let parent = self.find_mut(before)?;
        match (&mut parent.kind, last) {
            (Kind::Table(entries), Step::Key(key)) => {
                // The last of several alike: with a doubled key it is the later one that is wrong.
                let index = entries.iter().rposition(|entry| entry.key == *key)?;
                entries.remove(index);
                Some(path.to_vec())
            }
            (Kind::List(items), Step::Index(index)) if items.iter().any(|item| matches!(item.kind, Kind::Table(_))) => {
                let item = items.get_mut(*index)?;
                match item.kind {
                    Kind::Table(_) => self.prune(before),
                    _ => {
                        item.kind = Kind::Table(Vec::new());
                        Some(path.to_vec())
                    }
                }
            }
            _ => self.prune(before),
        }
    }

    fn find_mut(&mut self, path: &[Step]) -> Option<&mut Self> {
        let mut node = self;
        for step in path {
            node = match (&mut node.kind, step) {
                (Kind::Table(entries), Step::Key(key)) => {
                    &mut entries.iter_mut().rev().find(|entry| entry.key == *key)?.value
                }
                (Kind::List(items), Step::Index(index)) => items.get_mut(*index)?,
                _ => return None,
            };
        }
        Some(node)
    }
}

/// Where a path leads.
pub(crate) struct Found<'t> {
    pub(crate) node: &'t Node,
    pub(crate) key_span: Option<Range<usize>>,
}

impl Node {
    /// What is written at a path, or as near to it as there is something; empty where that is too much to repeat.
    pub(crate) fn written(&self, path: &[Step], text: &str) -> String {
        let found = self.find(path);
        match &found.node.kind {
            Kind::Text(text) => text.clone(),
            _ => text.get(found.node.span.clone()).filter(|text| !text.contains('\n')).unwrap_or_default().to_owned(),
        }
    }
}
