//! Where each value of a RON text stands, so that a fault found in a design can be shown in its file.
//!
//! RON's reader keeps no places, so this module scans the text a second time for its shape alone. The scan is a loop
//! over words with its own stack: no text, however deep or broken, can overflow or stop the program.
//!
//! Names of alternatives are transparent: in `Across([a, b])` the path `[1]` is `b`, in `Some((x: 1))` the path `x` is
//! `1`, and a single value in parentheses is also reached as `[0]`.

use std::{collections::BTreeMap, ops::Range};

use super::{
    field_path::{FieldPath, Segment},
    position::{LineIndex, Position},
    scan::{Bracket, Kind, Word, Words},
};

/// The deepest nesting of brackets that a design file may have.
pub const MAX_NESTING: usize = 80;

/// The values of one text with their places.
#[derive(Clone, Debug)]
pub struct SpanIndex<'t> {
    text: &'t str,
    lines: LineIndex,
    nodes: Vec<Node>,
    duplicates: Vec<Duplicate>,
    problem: Option<ScanProblem>,
}

/// A field or key that is given twice in one structure or map.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Duplicate {
    /// The way to the field or key.
    pub path: FieldPath,
    /// Where it stands first.
    pub first: Position,
    /// Where it stands again.
    pub second: Position,
}

/// Why the scan ended before the text did.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ScanProblem {
    /// Brackets are nested deeper than [`MAX_NESTING`].
    TooDeep(Position),
    /// A closing bracket does not fit the one that was opened.
    Unbalanced {
        /// Where the bracket was opened, if any was open.
        opened: Option<Position>,
        /// Where the wrong one closes, or the end of the text.
        closed: Position,
    },
    /// A quoted text or a comment never ends.
    Unclosed(Position),
}

/// One value of a text.
#[derive(Clone, Debug)]
pub(super) struct Node {
    /// With the name of its alternative.
    pub(super) span: Range<usize>,
    /// Its opening bracket; its end if it has none.
    pub(super) open: usize,
    pub(super) shape: Shape,
    pub(super) children: Vec<Child>,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Shape {
    Leaf,
    Within(Bracket),
}

/// A value inside another one.
#[derive(Clone, Debug)]
pub(super) struct Child {
    pub(super) segment: Segment,
    /// The name or key; the value itself for a place in a list.
    pub(super) label: Range<usize>,
    pub(super) node: usize,
    /// The comma behind it, if there is one.
    pub(super) comma: Option<usize>,
}

impl Node {
    /// The single value in parentheses, without a field name, if this is nothing but that.
    fn only_child(&self) -> Option<&Child> {
        match self.children.as_slice() {
            [only] if self.shape == Shape::Within(Bracket::Round) && only.segment == Segment::Index(0) => Some(only),
            _ => None,
        }
    }
}

/// An open bracket while scanning.
struct Frame {
    node: usize,
    bracket: Bracket,
    opened: usize,
    /// The last value that is complete but not yet known to be a value and not a key.
    last: Option<usize>,
    label: Option<(Segment, Range<usize>)>,
    positional: usize,
    seen: BTreeMap<Segment, usize>,
}

impl<'t> SpanIndex<'t> {
    /// Scans a text. A broken text gives what could be understood of it, and [`Self::problem`] says where it broke.
    #[must_use]
    pub fn scan(text: &'t str) -> Self {
        let mut scanner = Scanner {
            index: Self { text, lines: LineIndex::new(text), nodes: Vec::new(), duplicates: Vec::new(), problem: None },
            frames: Vec::new(),
        };
        scanner.run();
        scanner.index
    }

    /// The text that was scanned.
    #[must_use]
    pub fn text(&self) -> &'t str {
        self.text
    }

    /// Why the scan ended early, if it did.
    #[must_use]
    pub fn problem(&self) -> Option<ScanProblem> {
        self.problem
    }

    /// The fields and keys that are given more than once, in the order of the text.
    #[must_use]
    pub fn duplicates(&self) -> &[Duplicate] {
        &self.duplicates
    }

    /// All values, each before those inside it; the first is the whole, if there is any.
    pub(super) fn nodes(&self) -> &[Node] {
        &self.nodes
    }

    /// The position of a byte of the text.
    #[must_use]
    pub fn position(&self, byte: usize) -> Position {
        self.lines.position(self.text, byte)
    }

    /// The byte at a position.
    #[must_use]
    pub fn byte(&self, position: Position) -> usize {
        self.lines.byte(self.text, position)
    }

    /// The bytes of the value at `path`, with the name of its alternative; `None` if the text has no such value.
    #[must_use]
    pub fn span(&self, path: &FieldPath) -> Option<Range<usize>> {
        let (node, left) = self.walk(path);
        self.nodes.get(node?).filter(|_| left == 0).map(|node| node.span.clone())
    }

    /// Where the value at `path` begins; `None` if the text has no such value.
    #[must_use]
    pub fn locate(&self, path: &FieldPath) -> Option<Position> {
        self.span(path).map(|span| self.position(span.start))
    }

    /// Where the value at `path` begins, inside the names of alternatives round it (the number in `Fixed(600)`), or the
    /// nearest value around it that the text has.
    #[must_use]
    pub fn locate_near(&self, path: &FieldPath) -> Option<Position> {
        let (node, left) = self.walk(path);
        let node = if left == 0 { self.unwrapped(node?) } else { node? };
        self.nodes.get(node).map(|node| self.position(node.span.start))
    }

    /// The value inside the names of alternatives round it.
    fn unwrapped(&self, mut node: usize) -> usize {
        while let Some(inner) = self.nodes.get(node).and_then(Node::only_child) {
            node = inner.node;
        }
        node
    }

    /// Where the name or key of the value at `path` stands; for a place in a list where the value begins.
    #[must_use]
    pub fn locate_label(&self, path: &FieldPath) -> Option<Position> {
        let Some((last, before)) = path.segments().split_last() else {
            return self.locate(path);
        };
        let parent: FieldPath = before.iter().cloned().collect();
        let (node, left) = self.walk(&parent);
        let child = self.step(node.filter(|_| left == 0)?, last)?;
        Some(self.position(child.label.start))
    }

    /// Where byte `offset` of the quoted text at `path` stands. Exact if the text is written without escapes;
    /// otherwise, and for what is no text, where the value begins.
    #[must_use]
    pub fn locate_within(&self, path: &FieldPath, offset: usize) -> Option<Position> {
        let (node, left) = self.walk(path);
        let span = self.nodes.get(self.unwrapped(node.filter(|_| left == 0)?)).map(|node| node.span.clone())?;
        let value = self.text.get(span.clone())?;
        let quote = value
            .find('"')
            .filter(|quote| value.get(..*quote).is_some_and(|p| p.chars().all(|c| matches!(c, 'r' | '#'))));
        let raw = value.starts_with('r');
        let start = match quote {
            Some(quote) if raw || !value.contains('\\') => quote + 1,
            None => 0,
            Some(_) => return Some(self.position(span.start)),
        };
        Some(self.position((span.start + start + offset).min(span.end)))
    }

    /// The way to the innermost value around a byte, through names only as far as they are known.
    #[must_use]
    pub fn path_at(&self, byte: usize) -> FieldPath {
        let mut segments = Vec::new();
        let mut node = (!self.nodes.is_empty()).then_some(0);
        while let Some(here) = node.and_then(|node| self.nodes.get(node)) {
            let around = |child: &&Child| {
                let end = self.nodes.get(child.node).map_or(0, |node| node.span.end);
                child.label.start <= byte && byte < end
            };
            let Some(child) = here.children.iter().find(around) else {
                break;
            };
            if here.only_child().is_none() {
                segments.push(child.segment.clone());
            }
            node = Some(child.node);
        }
        segments.into_iter().collect()
    }

    /// The innermost existing value on the way to `path`, and the number of steps that the text does not have.
    fn walk(&self, path: &FieldPath) -> (Option<usize>, usize) {
        let mut node = if self.nodes.is_empty() {
            return (None, path.segments().len());
        } else {
            0
        };
        for (done, segment) in path.segments().iter().enumerate() {
            match self.step(node, segment) {
                Some(child) => node = child.node,
                None => return (Some(node), path.segments().len() - done),
            }
        }
        (Some(node), 0)
    }

    fn step(&self, mut node: usize, segment: &Segment) -> Option<&Child> {
        loop {
            let here = self.nodes.get(node)?;
            let own = here.children.iter().find(|child| child.segment == *segment);
            let Some(inner) = here.only_child() else { return own };
            // In `Across([a, b])` the place 0 is a, not the list.
            let inside = self.nodes.get(inner.node)?;
            if own.is_some() && (inside.shape == Shape::Leaf || inside.children.is_empty()) {
                return own;
            }
            let deeper = matches!(segment, Segment::Index(_))
                && !inside.children.iter().any(|child| matches!(child.segment, Segment::Index(_)));
            if own.is_some() && deeper {
                return own;
            }
            node = inner.node;
        }
    }
}

struct Scanner<'t> {
    index: SpanIndex<'t>,
    frames: Vec<Frame>,
}

impl Scanner<'_> {
    fn run(&mut self) {
        let text = self.index.text;
        let mut words = Words::new(text).peekable();
        while let Some(word) = words.next() {
            let done = match &word.kind {
                Kind::Open(bracket) => self.open(*bracket, word.span.start, word.span.start),
                Kind::Plain => match words.next_if(|next| next.kind == Kind::Open(Bracket::Round)) {
                    Some(next) => self.open(Bracket::Round, word.span.start, next.span.start),
                    None => self.leaf(word),
                },
                Kind::Text(_) => self.leaf(word),
                Kind::Colon => {
                    self.colon();
                    false
                }
                Kind::Comma => {
                    self.comma(word.span.start);
                    false
                }
                Kind::Close(bracket) => self.close(*bracket, &word),
                Kind::Unclosed => self.fail(ScanProblem::Unclosed(self.index.position(word.span.start))),
            };
            if done {
                break;
            }
        }
        self.end();
    }

    fn fail(&mut self, problem: ScanProblem) -> bool {
        self.index.problem = Some(problem);
        true
    }

    fn add(&mut self, span: Range<usize>, open: usize, shape: Shape) -> usize {
        self.index.nodes.push(Node { span, open, shape, children: Vec::new() });
        self.index.nodes.len() - 1
    }

    fn open(&mut self, bracket: Bracket, start: usize, opened: usize) -> bool {
        if self.frames.len() == MAX_NESTING {
            return self.fail(ScanProblem::TooDeep(self.index.position(opened)));
        }
        self.settle();
        let node = self.add(start..self.index.text.len(), opened, Shape::Within(bracket));
        self.frames.push(Frame {
            node,
            bracket,
            opened,
            last: None,
            label: None,
            positional: 0,
            seen: BTreeMap::new(),
        });
        false
    }

    fn leaf(&mut self, word: Word<'_>) -> bool {
        self.settle();
        let end = word.span.end;
        let node = self.add(word.span, end, Shape::Leaf);
        self.complete(node)
    }

    /// Answers whether the root is complete.
    fn complete(&mut self, node: usize) -> bool {
        match self.frames.last_mut() {
            Some(frame) => {
                frame.last = Some(node);
                false
            }
            None => true,
        }
    }

    /// What stands before a colon is a name or key.
    fn colon(&mut self) {
        let text = self.index.text;
        let Some(frame) = self.frames.last_mut() else {
            return;
        };
        let Some(node) = frame.last.take().and_then(|last| self.index.nodes.get(last)) else {
            return;
        };
        let source = text.get(node.span.clone()).unwrap_or_default();
        let segment = if frame.bracket == Bracket::Round {
            Segment::Field(source.strip_prefix("r#").unwrap_or(source).to_owned())
        } else {
            let said = Words::new(source).next().and_then(|word| match word.kind {
                Kind::Text(said) => Some(said.into_owned()),
                _ => None,
            });
            Segment::Key(said.unwrap_or_else(|| source.to_owned()))
        };
        frame.label = Some((segment, node.span.clone()));
    }

    /// The value before a comma is complete.
    fn comma(&mut self, at: usize) {
        self.settle();
        let node = self.frames.last().map(|frame| frame.node);
        if let Some(last) = node.and_then(|node| self.index.nodes.get_mut(node)?.children.last_mut()) {
            last.comma.get_or_insert(at);
        }
    }

    /// Hangs the last complete value below its parent.
    fn settle(&mut self) {
        let Some(frame) = self.frames.last_mut() else {
            return;
        };
        let Some(node) = frame.last.take() else {
            return;
        };
        let (segment, label) = frame.label.take().unwrap_or_else(|| {
            let place = Segment::Index(frame.positional);
            frame.positional += 1;
            (place, self.index.nodes.get(node).map_or(0..0, |node| node.span.clone()))
        });
        let parent = frame.node;
        let first = *frame.seen.entry(segment.clone()).or_insert(label.start);
        if first != label.start {
            let path = self.path_of(parent).with(segment.clone());
            let (first, second) = (self.index.position(first), self.index.position(label.start));
            self.index.duplicates.push(Duplicate { path, first, second });
        }
        if let Some(parent) = self.index.nodes.get_mut(parent) {
            parent.children.push(Child { segment, label, node, comma: None });
        }
    }

    /// The way to an open node: the labels that its open ancestors wait to fill.
    fn path_of(&self, node: usize) -> FieldPath {
        let mut segments = Vec::new();
        for (frame, inner) in self.frames.iter().zip(self.frames.iter().skip(1)) {
            match &frame.label {
                Some((segment, _)) => segments.push(segment.clone()),
                // A single value in parentheses is transparent; whether more follow is not known yet.
                None if frame.bracket == Bracket::Round && frame.positional == 0 => {}
                None => segments.push(Segment::Index(frame.positional)),
            }
            if inner.node == node {
                break;
            }
        }
        segments.into_iter().collect()
    }

    fn close(&mut self, bracket: Bracket, word: &Word<'_>) -> bool {
        let opened = self.frames.last().map(|frame| (frame.bracket, frame.opened));
        if opened.is_none_or(|(expected, _)| expected != bracket) {
            let opened = opened.map(|(_, at)| self.index.position(at));
            let closed = self.index.position(word.span.start);
            return self.fail(ScanProblem::Unbalanced { opened, closed });
        }
        self.settle();
        let Some(frame) = self.frames.pop() else {
            return true;
        };
        if let Some(node) = self.index.nodes.get_mut(frame.node) {
            node.span.end = word.span.end;
        }
        self.complete(frame.node)
    }

    /// Hangs what a broken text left open, so that its finished parts can still be found.
    fn end(&mut self) {
        if let (Some(frame), None) = (self.frames.last(), self.index.problem) {
            let opened = Some(self.index.position(frame.opened));
            let closed = self.index.position(self.index.text.len());
            self.index.problem = Some(ScanProblem::Unbalanced { opened, closed });
        }
        while !self.frames.is_empty() {
            self.settle();
            if let Some(frame) = self.frames.pop() {
                self.complete(frame.node);
            }
        }
    }
}
