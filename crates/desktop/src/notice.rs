//! What there is to say for a short while. It is kept as what it is, not as words, so that it changes with the language.

use crate::command::Refusal;
use crate::lengths::Mistake;
use crate::panels::field::say_mistake;
use crate::words::Words;

/// Something said in the bar for a short while.
#[derive(Clone, Debug, PartialEq)]
pub enum Notice {
    /// The words under a key, with at most one value put in.
    Key(&'static str, Option<(&'static str, String)>),
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

impl Notice {
    /// The words under a key.
    pub(crate) const fn of(key: &'static str) -> Self {
        Self::Key(key, None)
    }

    /// The words under a key, with a value put in.
    pub(crate) fn with(key: &'static str, name: &'static str, value: impl Into<String>) -> Self {
        Self::Key(key, Some((name, value.into())))
    }

    /// In the language of the window.
    pub(crate) fn say(&self, words: &Words) -> String {
        match self {
            Self::Key(key, None) => words.say(key),
            Self::Key(key, Some((name, value))) => words.say_with(key, &[(name, value)]),
            Self::Refused(refusal) => refusal.say(words),
            Self::Mistaken { text, mistake } => format!("{text}: {}", say_mistake(words, mistake)),
            Self::Plain(text) => text.clone(),
        }
    }
}
