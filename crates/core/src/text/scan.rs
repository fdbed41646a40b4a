//! The words of RON text: brackets, marks, quoted texts and everything else, with their places. Never fails on any text.

use std::{borrow::Cow, ops::Range};

/// What a word of RON text is.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Kind<'t> {
    Open(Bracket),
    Close(Bracket),
    Comma,
    Colon,
    /// A quoted text, with what it says.
    Text(Cow<'t, str>),
    /// A name, number, character or anything else that is one value.
    Plain,
    /// A quoted text or block comment that never ends; nothing follows.
    Unclosed,
}

/// A kind of bracket.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Bracket {
    Round,
    Square,
    Curly,
}

#[derive(Clone, Debug)]
pub(super) struct Word<'t> {
    pub(super) kind: Kind<'t>,
    pub(super) span: Range<usize>,
}

/// The words of one text, one after the other, without spaces and comments.
pub(super) struct Words<'t> {
    text: &'t str,
    at: usize,
    /// The comments that were skipped.
    comments: Vec<Range<usize>>,
}

impl<'t> Words<'t> {
    /// The words behind the attributes (`#![enable(...)]`) at the head of the text.
    pub(super) fn new(text: &'t str) -> Self {
        let mut words = Self { text, at: 0, comments: Vec::new() };
        while words.skip_space().is_none() && words.rest().starts_with('#') {
            if !words.skip_attribute() {
                break;
            }
        }
        words
    }

    /// All words and all comments; what never ends is not among the comments.
    pub(super) fn all(text: &'t str) -> (Vec<Word<'t>>, Vec<Range<usize>>) {
        let mut words = Self::new(text);
        let all = words.by_ref().collect();
        (all, words.comments)
    }

    fn rest(&self) -> &'t str {
        self.text.get(self.at..).unwrap_or_default()
    }

    fn skip_attribute(&mut self) -> bool {
        let before = self.at;
        self.at += 1;
        let mut depth = 0_usize;
        for word in self.by_ref() {
            match word.kind {
                Kind::Open(Bracket::Square) => depth += 1,
                Kind::Close(Bracket::Square) => {
                    depth = depth.saturating_sub(1);
                    if depth == 0 {
                        return true;
                    }
                }
                Kind::Unclosed => break,
                _ => {}
            }
        }
        self.at = before;
        self.comments.retain(|comment| comment.start < before);
        false
    }

    /// Skips spaces and comments; the start of a block comment that never ends.
    fn skip_space(&mut self) -> Option<usize> {
        loop {
            let rest = self.rest();
            let trimmed = rest.trim_start_matches(is_space);
            self.at += rest.len() - trimmed.len();
            let length = if trimmed.starts_with("//") {
                trimmed.find('\n').unwrap_or(trimmed.len())
            } else if trimmed.starts_with("/*") {
                match block_comment(trimmed) {
                    Some(length) => length,
                    None => return Some(self.at),
                }
            } else {
                return None;
            };
            self.comments.push(self.at..self.at + length);
            self.at += length;
        }
    }
}

impl<'t> Iterator for Words<'t> {
    type Item = Word<'t>;

    fn next(&mut self) -> Option<Word<'t>> {
        if let Some(start) = self.skip_space() {
            self.at = self.text.len();
            return Some(Word { kind: Kind::Unclosed, span: start..self.text.len() });
        }
        let (start, rest) = (self.at, self.rest());
        let first = rest.chars().next()?;
        let mark = match first {
            '(' => Some(Kind::Open(Bracket::Round)),
            '[' => Some(Kind::Open(Bracket::Square)),
            '{' => Some(Kind::Open(Bracket::Curly)),
            ')' => Some(Kind::Close(Bracket::Round)),
            ']' => Some(Kind::Close(Bracket::Square)),
            '}' => Some(Kind::Close(Bracket::Curly)),
            ',' => Some(Kind::Comma),
            ':' => Some(Kind::Colon),
            _ => None,
        };
        let (kind, length) = match mark {
            Some(kind) => (kind, 1),
            None => quoted(rest).or_else(|| character(rest)).unwrap_or_else(|| (Kind::Plain, plain_length(rest))),
        };
        self.at = if kind == Kind::Unclosed { self.text.len() } else { start + length };
        Some(Word { kind, span: start..self.at })
    }
}

/// Pattern_White_Space, which RON skips between words.
pub(super) fn is_space(c: char) -> bool {
    matches!(c, ' ' | '\t'..='\r' | '\u{85}' | '\u{200E}' | '\u{200F}' | '\u{2028}' | '\u{2029}')
}

/// The length of the block comment, which may hold others, at the start of `text`; `None` if it never ends.
pub(super) fn block_comment(text: &str) -> Option<usize> {
    let (mut depth, mut at) = (0_usize, 0);
    loop {
        let rest = text.get(at..)?;
        if rest.starts_with("/*") {
            depth += 1;
            at += 2;
        } else if rest.starts_with("*/") {
            depth -= 1;
            at += 2;
            if depth == 0 {
                return Some(at);
            }
        } else {
            at += rest.chars().next()?.len_utf8();
        }
    }
}

/// A quoted text, raw or not, bytes or not, at the start of `text`.
fn quoted(text: &str) -> Option<(Kind<'_>, usize)> {
    let without_byte = text.strip_prefix('b').unwrap_or(text);
    let prefix = text.len() - without_byte.len();
    if let Some(body) = without_byte.strip_prefix('"') {
        let mut escaped = false;
        for (at, c) in body.char_indices() {
            match c {
                _ if escaped => escaped = false,
                '\\' => escaped = true,
                '"' => {
                    let inside = body.get(..at).unwrap_or_default();
                    return Some((Kind::Text(unescaped(inside)), prefix + at + 2));
                }
                _ => {}
            }
        }
        return Some((Kind::Unclosed, text.len()));
    }
    let raw = without_byte.strip_prefix('r')?;
    let body = raw.trim_start_matches('#');
    let hashes = raw.len() - body.len();
    let body = body.strip_prefix('"')?;
    let ending = format!("\"{}", "#".repeat(hashes));
    let Some(end) = body.find(&ending) else {
        return Some((Kind::Unclosed, text.len()));
    };
    let inside = body.get(..end).unwrap_or_default();
    Some((Kind::Text(Cow::Borrowed(inside)), prefix + 1 + hashes + 1 + end + ending.len()))
}

/// A character (`'x'`, `'\n'`, `b'x'`) at the start of `text`, so that a bracket or quote in it is not read as one.
fn character(text: &str) -> Option<(Kind<'_>, usize)> {
    let body = text.strip_prefix("b'").or_else(|| text.strip_prefix('\''))?;
    let prefix = text.len() - body.len();
    let mut signs = body.char_indices();
    let length = match signs.next()?.1 {
        '\\' => {
            signs.next()?;
            signs.take(12).find(|(_, c)| *c == '\'').map(|(at, _)| at + 1)?
        }
        _ => signs.next().filter(|(_, c)| *c == '\'').map(|(at, _)| at + 1)?,
    };
    Some((Kind::Plain, prefix + length))
}

/// The length of a name, number or stray sign at the start of `text`, at least one character.
fn plain_length(text: &str) -> usize {
    let mut signs = text.char_indices();
    let first = signs.next().map_or(0, |(_, c)| c.len_utf8());
    let ends = |c: char| is_space(c) || matches!(c, '(' | ')' | '[' | ']' | '{' | '}' | ',' | ':' | '"' | '\'' | '/');
    signs.find(|(_, c)| ends(*c)).map_or(text.len(), |(at, _)| at).max(first)
}

/// What an escaped text says; a malformed escape stays as it is written.
fn unescaped(text: &str) -> Cow<'_, str> {
    if !text.contains('\\') {
        return Cow::Borrowed(text);
    }
    let mut plain = String::with_capacity(text.len());
    let mut rest = text;
    while let Some((before, after)) = rest.split_once('\\') {
        plain.push_str(before);
        let (said, used) = escape(after);
        plain.push_str(&said);
        rest = after.get(used..).unwrap_or_default();
    }
    plain.push_str(rest);
    Cow::Owned(plain)
}

/// What the escape says whose backslash stands before `after`, and its length in bytes.
fn escape(after: &str) -> (String, usize) {
    let Some(sign) = after.chars().next() else {
        return ("\\".to_owned(), 0);
    };
    let simple = match sign {
        'n' => Some('\n'),
        'r' => Some('\r'),
        't' => Some('\t'),
        '0' => Some('\0'),
        '\'' | '"' | '\\' => Some(sign),
        _ => None,
    };
    if let Some(c) = simple {
        return (c.to_string(), 1);
    }
    let digits = |text: &str| u32::from_str_radix(text, 16).ok().and_then(char::from_u32);
    match sign {
        '\n' | '\r' => (String::new(), after.len() - after.trim_start_matches([' ', '\t', '\n', '\r']).len()),
        'x' => match after.get(1..3).and_then(digits).filter(char::is_ascii) {
            Some(c) => (c.to_string(), 3),
            None => ("\\".to_owned(), 0),
        },
        'u' => {
            let inside = after.get(1..).and_then(|rest| rest.strip_prefix('{')).and_then(|rest| rest.split_once('}'));
            match inside.and_then(|(code, _)| digits(code).map(|c| (c, code.len()))) {
                Some((c, length)) => (c.to_string(), length + 3),
                None => ("\\".to_owned(), 0),
            }
        }
        _ => ("\\".to_owned(), 0),
    }
}
