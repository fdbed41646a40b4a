//! What is selected. One selection for all views, lists and panels.

use casewright_core::design::Design;

use crate::command::{Command, tree};

/// What is selected.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub enum Selection {
    /// The carcass as a whole.
    #[default]
    Carcass,
    /// Bays, by name, in the order in which they were taken; never none.
    Bays(Vec<String>),
    /// A thing, by name.
    Thing(String),
    /// A part, by number.
    Part(String),
    /// The room.
    Site,
    /// What the piece is cut from: boards in stock, materials, banding.
    Stock,
}

impl Selection {
    /// One bay.
    #[must_use]
    pub fn bay(name: impl Into<String>) -> Self {
        Self::Bays(vec![name.into()])
    }

    /// The bay, if it is one alone.
    #[must_use]
    pub fn one_bay(&self) -> Option<&str> {
        match self {
            Self::Bays(bays) if bays.len() == 1 => bays.first().map(String::as_str),
            _ => None,
        }
    }

    /// All selected bays.
    #[must_use]
    pub fn bays(&self) -> &[String] {
        match self {
            Self::Bays(bays) => bays,
            _ => &[],
        }
    }

    /// Whether a bay is selected.
    #[must_use]
    pub fn has_bay(&self, name: &str) -> bool {
        self.bays().iter().any(|bay| bay == name)
    }

    /// The selection with a bay added, or taken out if it was in.
    #[must_use]
    pub fn with_toggled(&self, name: &str) -> Self {
        let mut bays = self.bays().to_vec();
        if self.has_bay(name) {
            bays.retain(|bay| bay != name);
        } else {
            bays.push(name.to_owned());
        }
        if bays.is_empty() { Self::Carcass } else { Self::Bays(bays) }
    }

    /// The selection after an edit: what was given another name stays selected.
    #[must_use]
    pub fn renamed(self, by: &Command) -> Self {
        match (self, by) {
            (Self::Bays(mut bays), Command::RenameBay { from, to }) => {
                for bay in bays.iter_mut().filter(|bay| *bay == from) {
                    to.clone_into(bay);
                }
                Self::Bays(bays)
            }
            (Self::Thing(name), Command::RenameThing { from, to }) if name == *from => Self::Thing(to.clone()),
            (other, _) => other,
        }
    }

    /// The selection without what is no longer in the Design.
    #[must_use]
    pub fn still_there(self, design: &Design) -> Self {
        match self {
            Self::Bays(mut bays) => {
                bays.retain(|bay| design.carcass.bay.named(bay).is_some());
                if bays.is_empty() { Self::Carcass } else { Self::Bays(bays) }
            }
            Self::Thing(name) if !design.things.contains_key(&name) => Self::Carcass,
            other => other,
        }
    }

    /// The bay `step` places on in the order of the tree, round the end.
    #[must_use]
    pub fn stepped(&self, design: &Design, step: isize) -> Self {
        let names = tree::names(design);
        let here = self.bays().last().and_then(|bay| names.iter().position(|name| name == bay));
        let count = isize::try_from(names.len()).unwrap_or(1).max(1);
        let next = match here {
            Some(here) => (isize::try_from(here).unwrap_or(0) + step).rem_euclid(count),
            None if step < 0 => count - 1,
            None => 0,
        };
        let name = usize::try_from(next).ok().and_then(|next| names.into_iter().nth(next));
        name.map_or(Self::Carcass, Self::bay)
    }

    /// The bay around the selected one; the carcass around the outermost.
    #[must_use]
    pub fn outer(&self, design: &Design) -> Self {
        let around = self.bays().last().and_then(|bay| tree::parent(&design.carcass.bay, bay));
        around.map_or(Self::Carcass, |(around, _)| Self::bay(&around.name))
    }

    /// The first bay inside the selected one, if it is divided; else the same.
    #[must_use]
    pub fn inner(&self, design: &Design) -> Self {
        let inside = match self.bays().last() {
            Some(bay) => design.carcass.bay.named(bay).and_then(|bay| bay.children().first()),
            None => Some(&design.carcass.bay),
        };
        inside.map_or_else(|| self.clone(), |inside| Self::bay(&inside.name))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sample;

    #[test]
    fn the_keyboard_reaches_every_bay() {
        let design = sample::design();
        let mut here = Selection::Carcass;
        let mut seen = Vec::new();
        for _ in 0..5 {
            here = here.stepped(&design, 1);
            seen.push(here.one_bay().unwrap().to_owned());
        }
        assert_eq!(seen, ["whole", "left", "right", "crates", "upper"]);
        assert_eq!(here.stepped(&design, 1), Selection::bay("whole"));
        assert_eq!(here.outer(&design), Selection::bay("right"));
        assert_eq!(Selection::bay("right").inner(&design), Selection::bay("crates"));
        assert_eq!(Selection::bay("whole").outer(&design), Selection::Carcass);
        assert_eq!(Selection::Carcass.inner(&design), Selection::bay("whole"));
    }

    #[test]
    fn what_is_gone_is_not_selected() {
        let design = sample::design();
        let both = Selection::bay("left").with_toggled("gone");
        assert_eq!(both.bays().len(), 2);
        assert_eq!(both.still_there(&design), Selection::bay("left"));
        assert_eq!(Selection::Thing("boat".into()).still_there(&design), Selection::Carcass);
        assert_eq!(Selection::bay("left").with_toggled("left"), Selection::Carcass);
    }
}
