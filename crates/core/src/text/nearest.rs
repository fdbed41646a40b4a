//! The nearest valid name to a mistyped one.

/// The name among `names` that is most likely meant by `word`, if any is near enough.
///
/// Near is a Damerau-Levenshtein distance (one insertion, deletion, replacement or exchange of neighbours counts 1) of
/// at most a third of the longer name, rounded up, and never the whole of the shorter one. Letter case counts nothing.
/// Of equally near names the first wins.
pub fn nearest<'n, N: AsRef<str> + ?Sized + 'n>(word: &str, names: impl IntoIterator<Item = &'n N>) -> Option<&'n str> {
    /// Longer words are not worth comparing: the time grows with the product of the lengths.
    const LONGEST: usize = 100;
    let folded = word.to_lowercase();
    let length = folded.chars().count();
    if length == 0 || length > LONGEST {
        return None;
    }
    let mut best: Option<(usize, &str)> = None;
    for name in names {
        let name = name.as_ref();
        let other = name.to_lowercase();
        let other_length = other.chars().count();
        if other_length == 0 || other_length > LONGEST {
            continue;
        }
        let allowed = length.max(other_length).div_ceil(3).min(length.min(other_length).saturating_sub(1));
        if length.abs_diff(other_length) > allowed && other != folded {
            continue;
        }
        let distance = strsim::damerau_levenshtein(&folded, &other);
        if (distance == 0 || distance <= allowed) && best.is_none_or(|(least, _)| distance < least) {
            best = Some((distance, name));
        }
    }
    best.map(|(_, name)| name)
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    fn check(word: &str, expected: Option<&str>) {
        let names = ["width", "height", "depth", "back", "joint", "ply", "m", "größe"];
        assert_eq!(nearest(word, names), expected, "{word}");
    }

    #[test]
    fn finds_what_is_meant() {
        check("widht", Some("width"));
        check("wdth", Some("width"));
        check("Width", Some("width"));
        check("hieght", Some("height"));
        check("backs", Some("back"));
        check("plyy", Some("ply"));
        check("grösse", Some("größe"));
        check("M", Some("m"));
    }

    #[test]
    fn stays_silent_where_nothing_is_near() {
        check("", None);
        check("x", None);
        check("q", None);
        check("zzzzz", None);
        check("transparency", None);
        check(&"width".repeat(1_000), None);
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(100))]
        #[test]
        fn never_panics(word in ".{0,40}", names in proptest::collection::vec(".{0,12}", 0..6)) {
            if let Some(found) = nearest(&word, &names) {
                prop_assert!(names.iter().any(|name| name == found));
            }
        }
    }
}
