//! The way to one value of a design file, such as `things["dryer"].size` or `carcass.bay.inside[2].width`.

use std::fmt;

use serde::{Serialize, Serializer};

/// One step of a [`FieldPath`].
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Segment {
    /// A named field of a structure.
    Field(String),
    /// A key of a map.
    Key(String),
    /// A place in a list or tuple, from 0.
    Index(usize),
}

/// The way from the root of a design to one value.
///
/// The names of alternatives (`Across(...)`, `Some(...)`) are no steps of their own.
#[derive(Clone, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct FieldPath {
    segments: Vec<Segment>,
}

impl FieldPath {
    /// The root.
    #[must_use]
    pub const fn root() -> Self {
        Self { segments: Vec::new() }
    }

    /// The steps from the root.
    #[must_use]
    pub fn segments(&self) -> &[Segment] {
        &self.segments
    }

    /// Whether this is the root.
    #[must_use]
    pub fn is_root(&self) -> bool {
        self.segments.is_empty()
    }

    /// Goes one step on.
    pub fn push(&mut self, segment: Segment) {
        self.segments.push(segment);
    }

    /// Goes one step back; the step that was taken back, if there was one.
    pub fn pop(&mut self) -> Option<Segment> {
        self.segments.pop()
    }

    /// The path one step further, to a field.
    #[must_use]
    pub fn field(&self, name: &str) -> Self {
        self.with(Segment::Field(name.to_owned()))
    }

    /// The path one step further, to a key of a map.
    #[must_use]
    pub fn key(&self, key: &str) -> Self {
        self.with(Segment::Key(key.to_owned()))
    }

    /// The path one step further, to a place in a list.
    #[must_use]
    pub fn index(&self, index: usize) -> Self {
        self.with(Segment::Index(index))
    }

    /// The path one step further.
    #[must_use]
    pub fn with(&self, segment: Segment) -> Self {
        let mut longer = self.clone();
        longer.push(segment);
        longer
    }

    /// The path one step shorter; `None` at the root.
    #[must_use]
    pub fn parent(&self) -> Option<Self> {
        self.segments.split_last().map(|(_, rest)| Self { segments: rest.to_vec() })
    }

    /// Whether this path is `other` or leads into it.
    #[must_use]
    pub fn starts_with(&self, other: &Self) -> bool {
        self.segments.starts_with(&other.segments)
    }
}

impl FromIterator<Segment> for FieldPath {
    fn from_iter<I: IntoIterator<Item = Segment>>(segments: I) -> Self {
        Self { segments: segments.into_iter().collect() }
    }
}

/// As the text that [`Display`](fmt::Display) gives.
impl Serialize for FieldPath {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_str(self)
    }
}

impl fmt::Display for FieldPath {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        for (at, segment) in self.segments.iter().enumerate() {
            match segment {
                Segment::Field(name) if at == 0 => f.write_str(name)?,
                Segment::Field(name) => write!(f, ".{name}")?,
                Segment::Key(key) => write!(f, "[{key:?}]")?,
                Segment::Index(index) => write!(f, "[{index}]")?,
            }
        }
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn reads_as_one_would_write_it() {
        let root = FieldPath::root();
        let inside = root.field("carcass").field("bay").field("inside").index(2).field("width");
        assert_eq!(inside.to_string(), "carcass.bay.inside[2].width");
        assert_eq!(root.field("things").key("dryer").field("size").to_string(), "things[\"dryer\"].size");
        assert_eq!(inside.parent().unwrap().to_string(), "carcass.bay.inside[2]");
        assert!(inside.starts_with(&root.field("carcass")) && !root.starts_with(&inside));
    }

    #[test]
    fn pushes_and_pops() {
        let mut path = FieldPath::root();
        path.push(Segment::Field("a".into()));
        path.push(Segment::Index(1));
        assert_eq!(path.to_string(), "a[1]");
        assert_eq!(path.pop(), Some(Segment::Index(1)));
        assert_eq!(path.to_string(), "a");
        assert_eq!((path.pop().is_some(), path.pop(), path.is_root()), (true, None, true));
    }
}
