//! The path of a field in a design file.

use std::fmt;

use serde::Serialize;

/// One step of a [`FieldPath`].
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
pub enum Segment {
    /// A named field of a struct.
    Field(String),
    /// An entry of a map.
    Key(String),
    /// An item of a list or tuple.
    Index(usize),
}

/// Where a field stands in a design file; enum variants do not count as steps.
#[derive(Clone, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
pub struct FieldPath(Vec<Segment>);

impl FieldPath {
    /// The whole file.
    #[must_use]
    pub const fn root() -> Self {
        Self(Vec::new())
    }

    /// The steps from the root.
    #[must_use]
    pub fn segments(&self) -> &[Segment] {
        &self.0
    }

    fn then(&self, segment: Segment) -> Self {
        let mut path = self.clone();
        path.0.push(segment);
        path
    }

    /// The named field of the struct here.
    #[must_use]
    pub fn field(&self, name: &str) -> Self {
        self.then(Segment::Field(name.to_owned()))
    }

    /// The entry of the map here.
    #[must_use]
    pub fn key(&self, name: &str) -> Self {
        self.then(Segment::Key(name.to_owned()))
    }

    /// The item of the list here.
    #[must_use]
    pub fn index(&self, index: usize) -> Self {
        self.then(Segment::Index(index))
    }
}

impl fmt::Display for FieldPath {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        for (i, segment) in self.0.iter().enumerate() {
            match segment {
                Segment::Field(name) if i == 0 => write!(f, "{name}")?,
                Segment::Field(name) => write!(f, ".{name}")?,
                Segment::Key(name) => write!(f, "[{name:?}]")?,
                Segment::Index(index) => write!(f, "[{index}]")?,
            }
        }
        Ok(())
    }
}
