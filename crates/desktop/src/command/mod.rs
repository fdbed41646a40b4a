//! Edits as values. Each [`Command`] makes a new Design from the one before it and has a name for undo; nothing else in
//! the window changes a Design.

pub mod field;
mod referring;
mod structure;
#[cfg(test)]
mod tests;
pub mod tree;

use std::fmt;

use casewright_core::design::resolve::with_length;
use casewright_core::design::{Bay, Design, Holding, Thing};
use casewright_core::expr::Dim;
use casewright_core::text::FieldPath;
use casewright_core::unit::Unit;

use crate::words::Words;

/// One edit.
#[derive(Clone, Debug, PartialEq)]
pub enum Command {
    /// Writes a length that is there already.
    SetLength {
        /// Where it stands.
        path: FieldPath,
        /// A number or an expression.
        text: String,
    },
    /// Writes any other field, as the value that stands for it in a file.
    SetField {
        /// Where it stands.
        path: FieldPath,
        /// The new value.
        value: serde_json::Value,
        /// What was done, for undo.
        name: Name,
    },
    /// Writes a named value, or takes it away.
    SetParameter {
        /// Its name.
        name: String,
        /// A number or an expression; nothing takes it away.
        text: Option<String>,
    },
    /// Chooses the unit. Lengths stay what they are: bare numbers are written anew.
    SetUnit(Unit),
    /// Gives a bay another name, everywhere.
    RenameBay {
        /// The name before.
        from: String,
        /// The name after.
        to: String,
    },
    /// Gives a thing another name, everywhere.
    RenameThing {
        /// The name before.
        from: String,
        /// The name after.
        to: String,
    },
    /// Gives an obstacle another name, everywhere.
    RenameObstacle {
        /// The name before.
        from: String,
        /// The name after.
        to: String,
    },
    /// Takes an obstacle away.
    RemoveObstacle(String),
    /// Adds a thing to what must be housed.
    AddThing {
        /// Its name.
        name: String,
        /// The thing.
        thing: Box<Thing>,
    },
    /// Takes a thing away, from its bay too.
    RemoveThing(String),
    /// Divides a bay in two: across by an upright, or up by a shelf. What was in it stays in the left or lower one.
    Divide {
        /// The bay.
        bay: String,
        /// By an upright; else by a shelf.
        across: bool,
        /// Preferred size of the left or lower bay; equal halves if none.
        at: Option<Dim>,
    },
    /// Joins a bay with the next one to the right or above. What is in the bay stays; if it is open, what is in the
    /// next one does.
    Merge(String),
    /// Wraps a bay in a box of its own.
    Wrap(String),
    /// Takes the box of its own from round a bay.
    Unwrap(String),
    /// Puts a copy of a bay beside it, without its things.
    Duplicate(String),
    /// Takes a bay away; its neighbours take its place.
    Delete(String),
    /// Lets two bays change places.
    Swap(String, String),
    /// Has the fronts of bays cut from one board side by side, so that the grain runs on.
    MatchGrain(Vec<String>),
    /// Puts a thing into a bay.
    PutThing {
        /// The thing.
        thing: String,
        /// The bay.
        bay: String,
    },
    /// Chooses what carries the things in a bay.
    SetHolding {
        /// The bay.
        bay: String,
        /// What carries them.
        by: Holding,
    },
    /// Makes bays equally wide or equally high.
    MakeEqual {
        /// The bays.
        bays: Vec<String>,
        /// In width; else in height.
        width: bool,
    },
    /// Moves a divider: the bays of its row get the sizes that they have or are to have, as preferences where nothing
    /// firmer is asked of them, so that the other dividers stay where they are.
    DragDivider {
        /// The bay left of the divider or under it.
        bay: String,
        /// Along the width; else the height.
        width: bool,
        /// The sizes, by bay.
        sizes: Vec<(String, Dim)>,
    },
    /// Puts bays from the clipboard in the place of a bay's inside.
    Paste {
        /// The bay.
        into: String,
        /// What was copied.
        bay: Box<Bay>,
    },
    /// Puts another Design in the place of this one.
    Replace {
        /// The Design.
        design: Box<Design>,
        /// What was done, for undo.
        name: Name,
    },
}

/// What an edit is called: a key of the word list and what it was about.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Name {
    /// The key, with the value `about` if there is one.
    pub key: &'static str,
    /// The bay, thing or field concerned.
    pub about: String,
}

impl Name {
    /// A name that is about nothing in particular.
    #[must_use]
    pub const fn new(key: &'static str) -> Self {
        Self { key, about: String::new() }
    }

    /// A name that is about something.
    #[must_use]
    pub fn about(key: &'static str, about: impl Into<String>) -> Self {
        Self { key, about: about.into() }
    }

    /// The name in words.
    #[must_use]
    pub fn say(&self, words: &Words) -> String {
        // All but what a mend does is called by the user, or said already.
        let about = if self.key == "edit-mend" { words.sentence(&self.about) } else { self.about.clone() };
        words.say_with(self.key, &[("about", &about)])
    }
}

/// Why an edit cannot be made.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum Refusal {
    /// There is no such bay.
    #[error("there is no bay {0}")]
    NoBay(String),
    /// There is no such thing.
    #[error("there is no thing {0}")]
    NoThing(String),
    /// There is no such field.
    #[error("there is no field {0}")]
    NoField(FieldPath),
    /// The name is taken.
    #[error("the name {0} is taken")]
    NameTaken(String),
    /// The name is empty.
    #[error("a name is needed")]
    NameEmpty,
    /// The bay cannot be treated so.
    #[error("that cannot be done with {0}")]
    NotHere(String),
    /// The value does not fit the field.
    #[error("{path}: {cause}")]
    Misfit {
        /// The field.
        path: FieldPath,
        /// What the reader says.
        cause: String,
    },
}

impl Refusal {
    /// The refusal in words.
    #[must_use]
    pub fn say(&self, words: &Words) -> String {
        match self {
            Self::NoBay(name) => words.say_with("refusal-no-bay", &[("name", name)]),
            Self::NoThing(name) => words.say_with("refusal-no-thing", &[("name", name)]),
            Self::NoField(path) => words.say_with("refusal-no-field", &[("path", &path.to_string())]),
            Self::NameTaken(name) => words.say_with("refusal-name-taken", &[("name", name)]),
            Self::NameEmpty => words.say("refusal-name-empty"),
            Self::NotHere(name) => words.say_with("refusal-not-here", &[("name", name)]),
            Self::Misfit { path, cause } => {
                words.say_with("refusal-misfit", &[("path", &path.to_string()), ("cause", cause)])
            }
        }
    }
}

impl Command {
    /// The Design after the edit.
    ///
    /// # Errors
    /// The edit is about something that is not there, or cannot be made there; nothing is changed then.
    pub fn apply(&self, design: &Design) -> Result<Design, Refusal> {
        match self {
            Self::SetLength { path, text } => {
                with_length(design, path, &Dim::new(text)).ok_or_else(|| Refusal::NoField(path.clone()))
            }
            Self::SetField { path, value, .. } => field::with_value(design, path, value.clone()),
            Self::SetParameter { name, text } => parameter(design, name, text.as_deref()),
            Self::SetUnit(unit) => Ok(field::in_unit(design, *unit)),
            Self::Replace { design, .. } => Ok((**design).clone()),
            _ => {
                let mut after = design.clone();
                structure::apply(self, &mut after)?;
                Ok(after)
            }
        }
    }

    /// What the edit is called.
    #[must_use]
    pub fn name(&self) -> Name {
        match self {
            Self::SetLength { path, .. } => Name::about("edit-length", short(path)),
            Self::SetField { name, .. } | Self::Replace { name, .. } => name.clone(),
            Self::SetParameter { name, text: Some(_) } => Name::about("edit-parameter", name),
            Self::SetParameter { name, text: None } => Name::about("edit-remove-parameter", name),
            Self::SetUnit(_) => Name::new("edit-unit"),
            Self::RenameBay { to, .. } | Self::RenameThing { to, .. } | Self::RenameObstacle { to, .. } => {
                Name::about("edit-rename", to)
            }
            Self::AddThing { name, .. } => Name::about("edit-add-thing", name),
            Self::RemoveThing(name) | Self::RemoveObstacle(name) => Name::about("edit-remove-thing", name),
            Self::Divide { bay, across: true, .. } => Name::about("edit-divide-across", bay),
            Self::Divide { bay, across: false, .. } => Name::about("edit-divide-up", bay),
            Self::Merge(bay) => Name::about("edit-merge", bay),
            Self::Wrap(bay) => Name::about("edit-wrap", bay),
            Self::Unwrap(bay) => Name::about("edit-unwrap", bay),
            Self::Duplicate(bay) => Name::about("edit-duplicate", bay),
            Self::Delete(bay) => Name::about("edit-delete", bay),
            Self::Swap(a, b) => Name::about("edit-swap", format!("{a}, {b}")),
            Self::MatchGrain(bays) => Name::about("edit-match-grain", bays.join(", ")),
            Self::PutThing { thing, .. } => Name::about("edit-put-thing", thing),
            Self::SetHolding { bay, .. } => Name::about("edit-holding", bay),
            Self::MakeEqual { bays, .. } => Name::about("edit-make-equal", bays.join(", ")),
            Self::DragDivider { bay, .. } => Name::about("edit-drag-divider", bay),
            Self::Paste { into, .. } => Name::about("edit-paste", into),
        }
    }

    /// What two edits have in common that count as one for undo when they follow each other at once; nothing for edits
    /// that stand for themselves.
    #[must_use]
    pub fn gesture(&self) -> Option<String> {
        match self {
            Self::DragDivider { bay, width, .. } => Some(format!("divider {bay} {width}")),
            _ => None,
        }
    }
}

/// The last steps of a path, enough for a person to know the field by.
fn short(path: &FieldPath) -> String {
    use casewright_core::text::Segment;
    let mut words: Vec<String> = Vec::new();
    for segment in path.segments().iter().rev() {
        match segment {
            Segment::Field(name) => words.push(name.replace('_', " ")),
            Segment::Key(name) => {
                words.push(name.clone());
                break;
            }
            Segment::Index(index) if words.is_empty() => {
                words.push(["x", "y", "z"].get(*index).unwrap_or(&"").to_string());
            }
            Segment::Index(_) => break,
        }
        if words.len() == 2 {
            break;
        }
    }
    words.reverse();
    words.join(" ")
}

fn parameter(design: &Design, name: &str, text: Option<&str>) -> Result<Design, Refusal> {
    if name.trim().is_empty() {
        return Err(Refusal::NameEmpty);
    }
    let mut after = design.clone();
    match text {
        Some(text) => {
            after.parameters.insert(name.to_owned(), text.to_owned());
        }
        None => {
            after.parameters.shift_remove(name);
        }
    }
    Ok(after)
}

impl fmt::Display for Name {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} {}", self.key, self.about)
    }
}
