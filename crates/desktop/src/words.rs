//! The words of the window, in English and German, by Fluent (projectfluent.org). Every sentence on screen that is not
//! the user's own comes from here, what the solver and the checks say by way of
//! [`casewright_drawing::language`], so that the language changes at run time.

use casewright_core::unit::DecimalMark;
pub use casewright_drawing::Language;
use casewright_drawing::Speech;
use fluent_bundle::{FluentArgs, FluentBundle, FluentResource, FluentValue};

/// The word list of a language.
const fn source(language: Language) -> &'static str {
    match language {
        Language::English => include_str!("../../../assets/desktop/en.ftl"),
        Language::German => include_str!("../../../assets/desktop/de.ftl"),
    }
}

/// The language that the environment asks for (`LC_ALL`, `LC_MESSAGES`, `LANG`); English if none of ours.
#[must_use]
pub fn language_of_environment() -> Language {
    let asked = ["LC_ALL", "LC_MESSAGES", "LANG"].iter().find_map(|name| std::env::var(name).ok());
    let asked = asked.and_then(|locale| Language::of_code(locale.get(..2)?));
    asked.unwrap_or_default()
}

/// The words in one language.
pub struct Words {
    language: Language,
    bundle: FluentBundle<FluentResource>,
    /// What the solver and the checks say, in this language.
    speech: Speech,
}

impl std::fmt::Debug for Words {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Words").field("language", &self.language).finish_non_exhaustive()
    }
}

impl Words {
    /// The words in a language. A damaged line of the word list is left out, and its key is shown in its place.
    #[must_use]
    pub fn new(language: Language) -> Self {
        let locales = language.code().parse().into_iter().collect();
        let mut bundle = FluentBundle::new(locales);
        // Marks of direction would be shown as boxes by fonts without them, and both languages run the same way.
        bundle.set_use_isolating(false);
        let resource = FluentResource::try_new(source(language).to_owned()).unwrap_or_else(|(whole, _)| whole);
        bundle.add_resource_overriding(resource);
        let speech = Speech::new(language, []);
        Self { language, bundle, speech }
    }

    /// The language.
    #[must_use]
    pub const fn language(&self) -> Language {
        self.language
    }

    /// The sign between whole numbers and decimals in the language.
    #[must_use]
    pub const fn decimal_mark(&self) -> DecimalMark {
        self.speech.decimal_mark()
    }

    /// A plain number with so many decimals, as the user reads it.
    #[must_use]
    pub fn number(&self, value: f64, decimals: usize) -> String {
        self.decimal_mark().put(&format!("{value:.decimals$}"))
    }

    /// Leaves these names as they are within sentences: what the user called things in the design on screen.
    pub fn leave(&mut self, names: impl IntoIterator<Item = String>) {
        self.speech = Speech::new(self.language, names);
    }

    /// A sentence of the solver or of a check in the language of the window; as it is if that is not known.
    #[must_use]
    pub fn sentence(&self, english: &str) -> String {
        self.speech.try_say(english).unwrap_or_else(|| english.to_owned())
    }

    /// The same for a sentence about what was written just now: these texts are left as they are.
    #[must_use]
    pub fn sentence_about(&self, english: &str, written: impl IntoIterator<Item = String>) -> String {
        Speech::new(self.language, written).try_say(english).unwrap_or_else(|| english.to_owned())
    }

    /// The words under a key; the key itself if there are none.
    #[must_use]
    pub fn say(&self, key: &str) -> String {
        self.format(key, None)
    }

    /// The words under a key, with values put in.
    #[must_use]
    pub fn say_with(&self, key: &str, values: &[(&str, &dyn Value)]) -> String {
        let args = values.iter().map(|(name, value)| (*name, value.fluent())).collect();
        self.format(key, Some(&args))
    }

    fn format(&self, key: &str, args: Option<&FluentArgs<'_>>) -> String {
        let Some(pattern) = self.bundle.get_message(key).and_then(|message| message.value()) else {
            return key.to_owned();
        };
        let mut errors = Vec::new();
        self.bundle.format_pattern(pattern, args, &mut errors).into_owned()
    }
}

/// What can be put into a sentence.
pub trait Value {
    /// As Fluent takes it: counts choose plural forms.
    fn fluent(&self) -> FluentValue<'static>;
}

impl Value for str {
    fn fluent(&self) -> FluentValue<'static> {
        FluentValue::String(self.to_owned().into())
    }
}

impl Value for &str {
    fn fluent(&self) -> FluentValue<'static> {
        (**self).fluent()
    }
}

impl Value for String {
    fn fluent(&self) -> FluentValue<'static> {
        self.as_str().fluent()
    }
}

impl Value for usize {
    fn fluent(&self) -> FluentValue<'static> {
        FluentValue::from(*self)
    }
}

impl Value for u32 {
    fn fluent(&self) -> FluentValue<'static> {
        FluentValue::from(*self)
    }
}

#[cfg(test)]
mod tests {
    use std::collections::{BTreeMap, BTreeSet};
    use std::path::Path;

    use super::*;

    /// The messages of a word list with the names of the values in each.
    fn messages(language: Language) -> BTreeMap<String, BTreeSet<String>> {
        let resource = FluentResource::try_new(source(language).to_owned());
        let resource = resource.unwrap_or_else(|(_, errors)| panic!("{language:?}: {errors:?}"));
        assert!(resource.entries().count() > 20);
        let mut all = BTreeMap::new();
        let mut key = String::new();
        for line in source(language).lines() {
            if let Some((name, _)) = line.split_once(" =").filter(|(name, _)| !name.contains([' ', '#', '['])) {
                key = name.to_owned();
                let before = all.insert(key.clone(), BTreeSet::new());
                assert!(before.is_none(), "{language:?}: {key} is there twice");
            }
            for piece in line.split('$').skip(1) {
                let name: String = piece.chars().take_while(|c| c.is_ascii_alphanumeric() || *c == '_').collect();
                all.get_mut(&key).unwrap().insert(name);
            }
        }
        all
    }

    fn rust_sources(folder: &Path, into: &mut String) {
        for entry in std::fs::read_dir(folder).unwrap() {
            let path = entry.unwrap().path();
            if path.is_dir() {
                rust_sources(&path, into);
            } else if path.extension().is_some_and(|extension| extension == "rs") {
                into.push_str(&std::fs::read_to_string(path).unwrap());
            }
        }
    }

    #[test]
    fn both_languages_say_the_same_things() {
        let (english, german) = (messages(Language::English), messages(Language::German));
        assert_eq!(english, german);
    }

    #[test]
    fn every_key_is_used_and_every_used_key_is_there() {
        let mut sources = String::new();
        rust_sources(&Path::new(env!("CARGO_MANIFEST_DIR")).join("src"), &mut sources);
        // Keys are written out in full wherever they are used, never put together: that is what makes them findable.
        let quoted: BTreeSet<&str> = sources.split('"').collect();
        let english = messages(Language::English);
        let unused: Vec<_> = english
            .keys()
            .filter(|key| {
                // A sketch and the sentence under it go by one name.
                !quoted.contains(key.as_str()) && !key.strip_prefix("help-").is_some_and(|name| quoted.contains(name))
            })
            .collect();
        assert!(unused.is_empty(), "said nowhere: {unused:?}");
        for opening in
            ["say(\"", "say_with(\"", "key: \"", "Name::new(\"", "Name::about(\"", "Notice::of(\"", "Notice::with(\""]
        {
            for piece in sources.split(opening).skip(1) {
                let key = piece.split('"').next().unwrap_or_default();
                let is_key =
                    !key.is_empty() && key.chars().all(|c| c.is_ascii_lowercase() || c == '-' || c.is_ascii_digit());
                assert!(!is_key || english.contains_key(key), "no words for {key}");
            }
        }
    }

    /// A sentence of the sheets or of the solver has its home in the book. What the window says in the same words, it says in
    /// the same German.
    #[test]
    fn what_the_window_and_the_sheets_both_say_is_the_same() {
        let speech = Speech::new(Language::German, ["Qq".to_owned()]);
        let german = Words::new(Language::German);
        let english = Words::new(Language::English);
        let (mut seen, mut other_words) = (0, Vec::new());
        for (key, values) in messages(Language::English) {
            let filled: Vec<(&str, &dyn Value)> = values.iter().map(|it| (it.as_str(), &"Qq" as &dyn Value)).collect();
            let (one, other) = (english.say_with(&key, &filled), german.say_with(&key, &filled));
            // Single words may have several meanings, and endings by what stands before them.
            if one.split_whitespace().count() < 4 {
                continue;
            }
            let mut start = one.chars();
            let lower: String = start.next().map(|it| it.to_lowercase().collect::<String>() + start.as_str()).unwrap();
            let Some(said) = speech.try_say(&one).or_else(|| speech.try_say(&lower)) else { continue };
            seen += 1;
            if other.to_lowercase() != said.to_lowercase() {
                other_words.push(format!("{key}: {one}: {other} / {said}"));
            }
        }
        assert!(seen > 0);
        assert!(other_words.is_empty(), "{other_words:#?}");
    }

    #[test]
    fn counts_choose_their_words() {
        let check = |language, count: usize, expected: &str| {
            assert_eq!(Words::new(language).say_with("findings-errors", &[("count", &count)]), expected);
        };
        check(Language::English, 1, "1 cannot be built");
        check(Language::English, 3, "3 cannot be built");
        check(Language::German, 1, "1 nicht baubar");
        let unknown = "no-such-key";
        assert_eq!(Words::new(Language::English).say(unknown), unknown);
    }
}
