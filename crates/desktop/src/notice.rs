//! What there is to say for a short while. It is kept as what it is, not as words, so that it changes with the language.

use crate::command::Refusal;
use crate::lengths::Mistake;
use crate::panels::field::say_mistake;
use crate::words::{Value, Words};

/// Something said in the bar for a short while.
#[derive(Clone, Debug, PartialEq)]
pub enum Notice {
    /// The words under a key, with values put in. A `file` is a path, which is shortened where there is no room; an `error`
    /// is said in the language of the window where that is known.
    Key(&'static str, Vec<(&'static str, Filling)>),
    /// Why an edit was not made.
    Refused(Refusal),
    /// A text that is no length, and what is wrong with it.
    Mistaken {
        /// The text.
        text: String,
        /// What is wrong with it.
        mistake: Mistake,
    },
    /// What the system says, in its own words.
    Plain(String),
}

/// What is put into the words of a notice.
#[derive(Clone, Debug, PartialEq)]
pub enum Filling {
    /// A text.
    Text(String),
    /// How many.
    Count(usize),
}

impl Value for Filling {
    fn fluent(&self) -> fluent_bundle::FluentValue<'static> {
        match self {
            Self::Text(text) => text.fluent(),
            Self::Count(count) => count.fluent(),
        }
    }
}

impl Notice {
    /// The words under a key.
    pub(crate) const fn of(key: &'static str) -> Self {
        Self::Key(key, Vec::new())
    }

    /// The words under a key, with a value put in.
    pub(crate) fn with(key: &'static str, name: &'static str, value: impl Into<String>) -> Self {
        Self::of(key).and(name, Filling::Text(value.into()))
    }

    /// With one more value put in.
    pub(crate) fn and(mut self, name: &'static str, value: Filling) -> Self {
        if let Self::Key(_, values) = &mut self {
            values.push((name, value));
        }
        self
    }

    /// The path that is in it.
    pub(crate) fn path(&self) -> Option<&str> {
        let Self::Key(_, values) = self else { return None };
        values.iter().find_map(|(name, value)| match value {
            Filling::Text(path) if *name == "file" => Some(path.as_str()),
            _ => None,
        })
    }

    /// In the language of the window.
    pub(crate) fn say(&self, words: &Words) -> String {
        match self {
            Self::Key(key, values) => {
                let said: Vec<(&str, Filling)> = values
                    .iter()
                    .map(|(name, value)| match value {
                        Filling::Text(text) if *name == "error" => (*name, Filling::Text(words.sentence(text))),
                        value => (*name, value.clone()),
                    })
                    .collect();
                let filled: Vec<(&str, &dyn Value)> = said.iter().map(|(name, it)| (*name, it as &dyn Value)).collect();
                words.say_with(key, &filled)
            }
            Self::Refused(refusal) => refusal.say(words),
            Self::Mistaken { text, mistake } => format!("{text}: {}", say_mistake(words, mistake)),
            Self::Plain(text) => text.clone(),
        }
    }
}
