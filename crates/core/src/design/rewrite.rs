//! Writing a design over the text that it was read from: what did not change stays as its author wrote it, layout,
//! comments, notation and fields that say no more than is usual among it.

use super::Design;
use crate::text::{Fault, kept, patched};

/// What the program does not take for text of the design.
const MARK: char = '\u{feff}';

impl Design {
    /// The text of a file that says this design, with as little changed of the text `before` as can be. Where the old
    /// text cannot be changed into one that says exactly this, the design is written anew, with the comments of the old
    /// text at the values that they belong to.
    ///
    /// # Errors
    /// None is known; a failure of RON's writer would be an internal error.
    pub fn to_ron_over(&self, before: &str) -> Result<String, Fault> {
        if let Some(text) = self.changed_in(before)? {
            return Ok(text);
        }
        let new = self.to_ron()?;
        let with = kept(&plain(before), &new);
        let text = if self.is_said_by(&with)? { with } else { new };
        Ok(in_manner_of(before, text))
    }

    /// The text `before` with what differs in this design changed in it; none where that would not say exactly this
    /// design.
    ///
    /// # Errors
    /// As [`Self::to_ron_over`].
    pub fn changed_in(&self, before: &str) -> Result<Option<String>, Fault> {
        let Ok((old, _)) = Self::read(before) else { return Ok(None) };
        let (old, new) = (old.to_pretty()?, self.to_pretty()?);
        if old == new {
            return Ok(Some(before.to_owned()));
        }
        let Some(text) = patched(&plain(before), &old, &new) else { return Ok(None) };
        let text = in_manner_of(before, text);
        Ok(self.is_said_by(&text)?.then_some(text))
    }

    /// Whether a text reads as this design: written again, it must be the same to the letter, because designs are equal
    /// too where the order of their names differs.
    fn is_said_by(&self, text: &str) -> Result<bool, Fault> {
        match Self::read(text) {
            Ok((read, _)) => Ok(read.to_pretty()? == self.to_pretty()?),
            Err(_) => Ok(false),
        }
    }
}

/// Whether every line of a text ends in carriage return and line feed.
fn has_returns(text: &str) -> bool {
    text.contains('\n') && text.split('\n').rev().skip(1).all(|line| line.ends_with('\r'))
}

/// The text with line feeds only, and without the mark of its encoding.
fn plain(text: &str) -> String {
    let text_only = text.strip_prefix(MARK).unwrap_or(text);
    if has_returns(text_only) { text_only.replace("\r\n", "\n") } else { text_only.to_owned() }
}

/// A text with line feeds only, with the ends of lines and the mark of the text `before`.
fn in_manner_of(before: &str, text: String) -> String {
    let text = if has_returns(before) { text.replace('\n', "\r\n") } else { text };
    if before.starts_with(MARK) { format!("{MARK}{text}") } else { text }
}
