//! Bays as text for the clipboard, written as they stand in a design file.

use casewright_core::design::Bay;

/// A bay as text; nothing if it cannot be written, which no bay is known to be.
#[must_use]
pub fn to_text(bay: &Bay) -> Option<String> {
    bay.to_ron().ok()
}

/// The bay that a text says; nothing if it says none.
#[must_use]
pub fn from_text(text: &str) -> Option<Bay> {
    Bay::from_ron(text)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sample;

    #[test]
    fn a_bay_survives_the_clipboard_and_other_text_is_no_bay() {
        let bay = sample::design().carcass.bay;
        assert_eq!(from_text(&to_text(&bay).unwrap()), Some(bay));
        for text in ["", "hello", "(name: \"a\")", "{\"name\": 3}", &"(".repeat(5000)] {
            assert_eq!(from_text(text), None);
        }
    }
}
