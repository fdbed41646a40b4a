//! Saying texts in a language: strictly, so that what is not known whole stays whole, and is noted.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::{Mutex, MutexGuard, PoisonError};

use casewright_core::unit::DecimalMark;

use super::Language;
use super::book::{Book, Piece};
use super::figure::{is_figure, is_mark, with_commas};

/// What joins the items of a list, the weakest bond first, and the same in German.
const BONDS: [(&str, &str); 6] =
    [("; ", "; "), (", or ", ", oder "), (", ", ", "), (" and ", " und "), (" + ", " + "), ("–", "–")];
/// A pattern with so few bytes of fixed words says little.
const WEAK: usize = "above ".len();
/// How many texts are remembered; the same few are said again and again.
const REMEMBERED: usize = 20_000;

/// A language with the names that its speaker must leave as they are.
#[derive(Debug, Default)]
pub struct Speech {
    language: Language,
    names: BTreeSet<String>,
    /// What was said already.
    known: Mutex<BTreeMap<String, Option<String>>>,
    /// What the book did not know.
    unsaid: Mutex<BTreeSet<String>>,
}

impl Speech {
    /// A language in which these names are said as they are: what the user called things.
    #[must_use]
    pub fn new(language: Language, names: impl IntoIterator<Item = String>) -> Self {
        let names = names.into_iter().filter(|name| !name.trim().is_empty()).collect();
        Self { language, names, ..Self::default() }
    }

    /// The language.
    #[must_use]
    pub const fn language(&self) -> Language {
        self.language
    }

    /// The sign between whole numbers and decimals in sentences and lists. Drawings have a comma in both (ISO 129-1).
    #[must_use]
    pub const fn decimal_mark(&self) -> DecimalMark {
        self.language.decimal_mark()
    }

    /// A text of the program. What the book does not know stays as it is, and is noted (see [`Self::unsaid`]).
    #[must_use]
    pub fn say(&self, text: &str) -> String {
        if self.language == Language::English || text.is_empty() {
            return text.to_owned();
        }
        self.try_say(text).unwrap_or_else(|| {
            lock(&self.unsaid).insert(text.to_owned());
            text.to_owned()
        })
    }

    /// A text that may be the program's or a name of the user's. A name stays as it is.
    #[must_use]
    pub fn say_unless_named(&self, text: &str) -> String {
        if self.is_name(text) { text.to_owned() } else { self.say(text) }
    }

    /// The text in the language; nothing if the book does not know it, or the language is that of the source.
    #[must_use]
    pub fn try_say(&self, text: &str) -> Option<String> {
        if self.language == Language::English {
            return None;
        }
        if text.is_empty() {
            return None;
        }
        self.phrase(text).or_else(|| self.leaf(text))
    }

    /// The texts of the program that were left as they are because the book does not know them.
    #[must_use]
    pub fn unsaid(&self) -> Vec<String> {
        lock(&self.unsaid).iter().cloned().collect()
    }

    /// Whether a text is a name that the user gave, bare or in quotation marks.
    #[must_use]
    pub fn is_name(&self, text: &str) -> bool {
        if self.names.contains(text) {
            return true;
        }
        let quoted = text.strip_prefix('"').and_then(|it| it.strip_suffix('"'));
        // Quotation marks and the like within quoted names are written with a backslash.
        quoted.is_some_and(|it| self.names.contains(it) || self.names.iter().any(|name| format!("{name:?}") == text))
    }

    /// What needs no book: names, figures, marks.
    fn leaf(&self, text: &str) -> Option<String> {
        if self.is_name(text) || is_mark(text) {
            return Some(text.to_owned());
        }
        if is_figure(text) || !text.contains(char::is_alphanumeric) {
            return Some(with_commas(text));
        }
        None
    }

    /// What stands in a hole of a pattern or in a list.
    fn within(&self, text: &str) -> Option<String> {
        if text.is_empty() || text.starts_with(' ') || text.ends_with(' ') {
            return None;
        }
        self.leaf(text).or_else(|| self.phrase(text))
    }

    /// What stands in a hole of this name: `figure` takes nothing else.
    fn hole(&self, name: &str, text: &str) -> Option<String> {
        if name == "figure" && !is_figure(text) {
            return None;
        }
        self.within(text)
    }

    fn phrase(&self, text: &str) -> Option<String> {
        if let Some(said) = lock(&self.known).get(text) {
            return said.clone();
        }
        let book = Book::german();
        let entry = |entry: &super::book::Entry| {
            let mut holes = Vec::new();
            if !self.fit(&entry.pattern, text, &mut holes) {
                return None;
            }
            let words = entry.said.iter().map(|piece| match piece {
                Piece::Words(words) => words.as_str(),
                Piece::Hole(name) => holes.iter().find(|(hole, _)| hole == name).map_or("", |(_, said)| said.as_str()),
            });
            Some(words.collect::<String>())
        };
        // A pattern of little more than holes is the last to be tried: `CO bottom of tilt-out bin` is no `CO bottom` of anything.
        let is_weak = |it: &&super::book::Entry| it.fixed <= WEAK;
        let said = (book.candidates(text).filter(|it| !is_weak(it)).find_map(entry))
            .or_else(|| self.list(text))
            .or_else(|| self.called(text, &is_part_number))
            .or_else(|| book.candidates(text).filter(is_weak).find_map(entry))
            .or_else(|| self.called(text, &|_| true));
        let mut known = lock(&self.known);
        if known.len() >= REMEMBERED {
            known.clear();
        }
        known.insert(text.to_owned(), said.clone());
        said
    }

    /// A list of which every item can be said.
    fn list(&self, text: &str) -> Option<String> {
        BONDS.into_iter().find_map(|(bond, said)| {
            text.match_indices(bond).find_map(|(at, _)| {
                let head = self.within(text.get(..at)?)?;
                let tail = self.within(text.get(at + bond.len()..)?)?;
                Some(format!("{head}{said}{tail}"))
            })
        })
    }

    /// A name or mark, and what it is: `SL left side`, `machine 600 mm`.
    fn called(&self, text: &str, counts: &dyn Fn(&str) -> bool) -> Option<String> {
        text.match_indices(' ').find_map(|(at, _)| {
            let name = text.get(..at).filter(|it| (self.is_name(it) || is_mark(it)) && counts(it))?;
            Some(format!("{name} {}", self.within(text.get(at + 1..)?)?))
        })
    }

    /// Whether a text is of a pattern, with what is said in its holes. A hole takes as little as makes sense.
    fn fit<'p>(&self, pattern: &'p [Piece], text: &str, holes: &mut Vec<(&'p str, String)>) -> bool {
        match pattern {
            [] => text.is_empty(),
            [Piece::Words(words), rest @ ..] => {
                text.strip_prefix(words.as_str()).is_some_and(|text| self.fit(rest, text, holes))
            }
            [Piece::Hole(name)] => match self.hole(name, text) {
                Some(said) => {
                    holes.push((name, said));
                    true
                }
                None => false,
            },
            [Piece::Hole(name), rest @ ..] => {
                let [Piece::Words(next), ..] = rest else { return false };
                // What ends a hole may also stand in a name.
                for (at, _) in text.match_indices(next.as_str()) {
                    let (Some(hole), Some(after)) = (text.get(..at), text.get(at..)) else { continue };
                    let before = holes.len();
                    let Some(said) = self.hole(name, hole) else { continue };
                    holes.push((name, said));
                    if self.fit(rest, after, holes) {
                        return true;
                    }
                    holes.truncate(before);
                }
                false
            }
        }
    }
}

/// Whether a name begins as the number of a part does: `CO`, `CO-bin`, `LS-books.1`.
fn is_part_number(name: &str) -> bool {
    name.split(['-', '.']).next().is_some_and(is_mark)
}

/// What is remembered is whole even if another thread stopped while it held it.
fn lock<T>(mutex: &Mutex<T>) -> MutexGuard<'_, T> {
    mutex.lock().unwrap_or_else(PoisonError::into_inner)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn speech() -> Speech {
        let names =
            ["rear", "machine bay", "machine", "a", "Top 1.5 of all", "top", "box, large", "1.5", "shelf \"b\""];
        Speech::new(Language::German, names.map(str::to_owned))
    }

    #[track_caller]
    fn check(text: &str, expected: Option<&str>) {
        assert_eq!(speech().try_say(text).as_deref(), expected);
    }

    #[test]
    fn a_sentence_is_said_with_its_sizes_and_names() {
        check("13 mm too much over the height", Some("13 mm zu viel in der Höhe"));
        check(
            "make the width of the envelope 1012.5 mm instead of 900 mm",
            Some("die äußere Breite von 900 mm auf 1012,5 mm ändern"),
        );
        check(
            "what bay \"machine bay\" holds needs a width of 620 mm (air left of machine 10 mm + machine 600 mm)",
            Some(
                "was in Fach \"machine bay\" steht, braucht eine Breite von 620 mm (Luft links von machine 10 mm + machine 600 mm)",
            ),
        );
        check("width of \"a\": preferred size (87.5 mm)", Some("Breite von \"a\": Wunschmaß (87,5 mm)"));
        check("nothing that any book knows of", None);
        check("", None);
    }

    #[test]
    fn a_list_is_no_name_of_one_thing() {
        // `left 3` joins a page; a left edge is no page.
        check("left edge; seen on the rear face", Some("Kante links; Blick auf Fläche hinten"));
        check("left edge (a), rear edge (a)", Some("Kante links (a), Kante hinten (a)"));
        // A name is no part of what follows it.
        check("rear edge (a)", Some("Kante hinten (a)"));
        check("machine of a", Some("machine von a"));
        check("SL shelf over machine bay, SR right side", Some("SL Fachboden über machine bay, SR rechte Seite"));
        check("joins page left 1, right 3", Some("schließt an Seite links 1, rechts 3 an"));
    }

    #[test]
    fn a_part_is_called_by_its_number_and_what_it_is() {
        check("CO bottom of tilt-out a", Some("CO Boden des Kippfachs a"));
        check(
            "CO bottom of tilt-out a, CB rear of tilt-out a",
            Some("CO Boden des Kippfachs a, CB Rückwand des Kippfachs a"),
        );
    }

    #[test]
    fn names_are_left_as_they_are_to_the_letter() {
        check("door of Top 1.5 of all", Some("Tür von Top 1.5 of all"));
        check("door of top", Some("Tür von top"));
        check("door of 1.5", Some("Tür von 1.5"));
        check("air above box, large", Some("Luft über box, large"));
        check("in bay \"shelf \\\"b\\\"\", the width is 1.5 mm", Some("in Fach \"shelf \\\"b\\\"\": Breite 1,5 mm"));
        // The part, not the bay of that name.
        check("top", Some("Deckel"));
        assert_eq!(speech().say_unless_named("top"), "top");
        // A name that nobody gave makes no sentence.
        check("door of somebody", None);
    }

    #[test]
    fn what_is_not_known_stays_and_is_noted() {
        let speech = speech();
        assert_eq!(speech.say("Frobnicate 1.5 mm"), "Frobnicate 1.5 mm");
        assert_eq!(speech.say("12.5 mm"), "12,5 mm");
        assert_eq!(speech.unsaid(), ["Frobnicate 1.5 mm"]);
        let english = Speech::default();
        assert_eq!(english.say("13.5 mm too much over the height"), "13.5 mm too much over the height");
        assert!(english.unsaid().is_empty());
    }
}
