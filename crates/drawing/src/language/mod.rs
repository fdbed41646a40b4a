//! What the program says, in the language of the reader. The texts are English in the source, once; a [`Speech`] says them
//! again from a book of patterns. It knows the names that the user gave, and hands them on as they are, to the letter.

mod book;
mod figure;
mod names;
mod speech;

pub(crate) use figure::with_commas;
pub use names::names_of;
pub use speech::Speech;

use casewright_core::unit::DecimalMark;
use serde::{Deserialize, Serialize};

/// A language of the window, of sheets and of lists.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum Language {
    /// English, British spelling.
    #[default]
    English,
    /// German.
    German,
}

impl Language {
    /// Every language, the one that the texts are written in first.
    pub const ALL: [Self; 2] = [Self::English, Self::German];

    /// The sign between whole numbers and decimals in sentences and lists.
    #[must_use]
    pub const fn decimal_mark(self) -> DecimalMark {
        match self {
            Self::English => DecimalMark::Point,
            Self::German => DecimalMark::Comma,
        }
    }

    /// Its code (ISO 639-1), as it stands in title blocks.
    #[must_use]
    pub const fn code(self) -> &'static str {
        match self {
            Self::English => "en",
            Self::German => "de",
        }
    }

    /// A text of the program without names in this language; as it is if that is not known.
    #[must_use]
    pub fn say(self, text: &str) -> String {
        Speech::new(self, []).try_say(text).unwrap_or_else(|| text.to_owned())
    }

    /// The language of a code; none if it is not one of ours.
    #[must_use]
    pub fn of_code(code: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|it| it.code() == code)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::display::Layer;

    #[test]
    fn texts_that_are_said_without_a_design_are_in_the_book() {
        let labels = [
            "Scale",
            "Unit",
            "Projection",
            "Language",
            "Document status",
            "Revision",
            "Date of issue",
            "Sheet",
            "Document type",
            "Legal owner",
            "Title",
            "Identification number",
            "Creator",
            "Approved by",
            "Note",
        ];
        let tiles = [
            "Full-size template",
            "page 2 of 4",
            "joins page left 1, right 3, below 4, above 5",
            "100 mm; print at actual size, then measure both",
        ];
        let layers = Layer::ALL.map(Layer::name);
        for text in labels.iter().chain(&tiles).chain(&layers).chain(&["isometric", "scale 1:20"]) {
            assert_ne!(Language::German.say(text), **text);
        }
        assert_eq!(Language::ALL.map(Language::code).map(Language::of_code), Language::ALL.map(Some));
    }
}
