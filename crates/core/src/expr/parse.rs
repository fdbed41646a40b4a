//! From words to steps: the grammar of length expressions, with a bound on length and nesting.
//!
//! ```text
//! sum      := product (('+' | '-') product)*
//! product  := signed (('*' | '/') signed)*
//! signed   := ('+' | '-') signed | value
//! value    := measure | name | '(' sum ')' [unit]
//! measure  := number [unit] | foot-measure inch-measure
//! number   := whole | decimal | whole whole'/'whole | whole '/' whole   (the last one only before a unit)
//! ```
//!
//! `22 1/16` is one mixed number, `22/16` a division, and `3/8"` a fraction of an inch. What the trade could read in
//! two ways (`22-1/16`, `a / 3/8"`, `1,250`) is refused with the two ways to write it.

use std::ops::Range;

use super::{
    ExprError,
    quantity::Quantity,
    rational::Rational,
    token::{Suffix, Token, Word, tokens},
};
use crate::text::nearest::nearest;

/// The longest expression, in characters.
pub const MAX_CHARS: usize = 1_000;
/// The deepest nesting of parentheses and signs.
pub const MAX_NESTING: usize = 32;

/// One step of a parsed expression, in the order in which a stack of values takes them.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Step {
    Value(Quantity),
    Name(String),
    /// Gives the number on the stack a unit of so many nanometres.
    Unit(i64),
    Negate,
    Add,
    Subtract,
    Multiply,
    Divide,
}

/// A parsed expression, not yet bound to parameters.
#[derive(Clone, Debug)]
pub struct Expr {
    pub(super) steps: Vec<(Step, Range<usize>)>,
}

impl Expr {
    /// Reads an expression of at most [`MAX_CHARS`] characters.
    ///
    /// # Errors
    /// The first mistake in the text, with its place, cause and mend.
    pub fn parse(text: &str) -> Result<Self, ExprError> {
        if let Some((end, _)) = text.char_indices().nth(MAX_CHARS) {
            return Err(ExprError::new(
                end..text.len(),
                format!("the expression is longer than {MAX_CHARS} characters"),
            )
            .mend("split it over several parameters"));
        }
        let words = tokens(text)?;
        let mut parser = Parser { text, words: &words, next: 0, nesting: 0, steps: Vec::new() };
        if words.is_empty() {
            return Err(ExprError::new(0..text.len(), "there is nothing here where a length is wanted")
                .mend("write a length such as 560 or 56 cm"));
        }
        parser.sum()?;
        match parser.peek() {
            None => Ok(Self { steps: parser.steps }),
            Some(Word::Close) => Err(ExprError::new(parser.place(), "a closing parenthesis has no opening one")
                .mend("delete the `)` or add the `(`")),
            Some(_) => Err(parser.missing_operator()),
        }
    }

    /// The names that the expression refers to, with their places, in the order of the text.
    pub fn names(&self) -> impl Iterator<Item = (&str, Range<usize>)> {
        self.steps.iter().filter_map(|(step, span)| match step {
            Step::Name(name) => Some((name.as_str(), span.clone())),
            _ => None,
        })
    }
}

struct Parser<'t> {
    text: &'t str,
    words: &'t [Token],
    next: usize,
    nesting: usize,
    steps: Vec<(Step, Range<usize>)>,
}

/// A number as written, without its unit.
struct Literal {
    value: Rational,
    span: Range<usize>,
    /// Written as `3/8` with a unit behind.
    fraction: bool,
}

impl Parser<'_> {
    fn word(&self, ahead: usize) -> Option<&Word> {
        self.words.get(self.next + ahead).map(|token| &token.word)
    }

    fn peek(&self) -> Option<&Word> {
        self.word(0)
    }

    /// The place of the next word, or the end of the text.
    fn place(&self) -> Range<usize> {
        self.words.get(self.next).map_or(self.text.len()..self.text.len(), |token| token.span.clone())
    }

    /// The byte where the word before the next one ends.
    fn end(&self) -> usize {
        self.next.checked_sub(1).and_then(|last| self.words.get(last)).map_or(0, |token| token.span.end)
    }

    /// Whether no space stands between the words `ahead` and `ahead + 1`.
    fn tight(&self, ahead: usize) -> bool {
        match (self.words.get(self.next + ahead), self.words.get(self.next + ahead + 1)) {
            (Some(one), Some(two)) => one.span.end == two.span.start,
            _ => false,
        }
    }

    fn source(&self, span: &Range<usize>) -> &str {
        self.text.get(span.clone()).unwrap_or_default()
    }

    fn missing_operator(&self) -> ExprError {
        let span = self.place();
        let last = self.next.checked_sub(1).and_then(|last| self.words.get(last));
        let before = last.map_or("", |token| self.source(&token.span));
        let after = self.source(&span);
        let follows_number = matches!(last.map(|token| &token.word), Some(Word::Integer(_) | Word::Decimal(_)));
        if let (Some(Word::Name(name)), true) = (self.peek(), follows_number) {
            let error = ExprError::new(span.clone(), format!("`{name}` is not a unit"));
            return match Suffix::meant(name).or_else(|| nearest(&name.to_lowercase(), Suffix::NAMES)) {
                Some(unit) => error.mend(format!("did you mean `{unit}`?")),
                None => error.mend(format!("units are mm, cm, m, in and ft; to multiply write `{before} * {name}`")),
            };
        }
        ExprError::new(span.clone(), format!("a sign is missing between `{before}` and `{after}`"))
            .mend("put +, -, * or / between them")
    }

    fn sum(&mut self) -> Result<(), ExprError> {
        self.product()?;
        loop {
            let step = match self.peek() {
                Some(Word::Plus) => Step::Add,
                Some(Word::Minus) => Step::Subtract,
                _ => return Ok(()),
            };
            self.refuse_hyphenated_fraction()?;
            let sign = self.place();
            self.next += 1;
            self.product()?;
            self.steps.push((step, sign));
        }
    }

    /// `22-1/16` is how some write 22 1/16, so it is not silently read as a subtraction.
    fn refuse_hyphenated_fraction(&self) -> Result<(), ExprError> {
        let Some(whole) = self.next.checked_sub(1).and_then(|last| self.words.get(last)) else {
            return Ok(());
        };
        let hyphenated = matches!(whole.word, Word::Integer(_))
            && matches!(
                (self.peek(), self.word(1), self.word(2), self.word(3)),
                (Some(Word::Minus), Some(Word::Integer(_)), Some(Word::Over), Some(Word::Integer(_)))
            )
            && whole.span.end == self.place().start
            && (0..3).all(|ahead| self.tight(ahead));
        if !hyphenated {
            return Ok(());
        }
        let (Some(from), Some(to)) = (self.words.get(self.next + 1), self.words.get(self.next + 3)) else {
            return Ok(());
        };
        let (left, right) = (self.source(&whole.span), self.source(&(from.span.start..to.span.end)));
        Err(ExprError::new(whole.span.start..to.span.end, format!("`{left}-{right}` can be read in two ways"))
            .mend(format!("write `{left} {right}` for the mixed number or `{left} - {right}` for the difference")))
    }

    fn product(&mut self) -> Result<(), ExprError> {
        self.signed()?;
        loop {
            let step = match self.peek() {
                Some(Word::Times) => Step::Multiply,
                Some(Word::Over) => Step::Divide,
                _ => return Ok(()),
            };
            let sign = self.place();
            self.next += 1;
            let start = self.place();
            let fraction = self.signed()?;
            if fraction && step == Step::Divide {
                return Err(ExprError::new(start.start..self.end(), "a fraction behind a `/` can be read in two ways")
                    .mend("put the fraction, or what comes before it, in parentheses"));
            }
            self.steps.push((step, sign));
        }
    }

    fn descend(&mut self) -> Result<(), ExprError> {
        self.nesting += 1;
        if self.nesting > MAX_NESTING {
            return Err(ExprError::new(
                self.place(),
                format!("signs and parentheses are nested more than {MAX_NESTING} deep"),
            )
            .mend("split the expression over several parameters"));
        }
        Ok(())
    }

    /// Answers whether what was read is a plain fraction with a unit, as `3/8"`.
    fn signed(&mut self) -> Result<bool, ExprError> {
        let sign = match self.peek() {
            Some(Word::Plus) => None,
            Some(Word::Minus) => Some(self.place()),
            _ => return self.value(),
        };
        self.descend()?;
        self.next += 1;
        let fraction = self.signed()?;
        self.nesting -= 1;
        if let Some(sign) = sign {
            self.steps.push((Step::Negate, sign));
        }
        Ok(fraction)
    }

    fn value(&mut self) -> Result<bool, ExprError> {
        let span = self.place();
        match self.peek() {
            Some(Word::Integer(_) | Word::Decimal(_)) => return self.measure(),
            Some(Word::Name(name)) => {
                let name = name.clone();
                self.next += 1;
                self.steps.push((Step::Name(name), span));
            }
            Some(Word::Open) => {
                self.descend()?;
                self.next += 1;
                self.sum()?;
                if self.peek() != Some(&Word::Close) {
                    return Err(match self.peek() {
                        None => ExprError::new(span, "this parenthesis is never closed").mend("add the `)`"),
                        Some(_) => self.missing_operator(),
                    });
                }
                self.next += 1;
                self.nesting -= 1;
                if let Some(Word::Unit(unit)) = self.peek() {
                    let (nm, unit_span) = (unit.nm(), self.place());
                    self.next += 1;
                    self.steps.push((Step::Unit(nm), unit_span));
                }
            }
            Some(Word::Unit(_)) => {
                let unit = self.source(&span);
                return Err(ExprError::new(
                    span.clone(),
                    format!("the unit `{unit}` stands without a number before it"),
                )
                .mend(format!("write the number, as in `1 {unit}`")));
            }
            Some(_) => {
                let sign = self.source(&span);
                return Err(ExprError::new(span.clone(), format!("a number or a name is wanted before `{sign}`"))
                    .mend("complete the expression"));
            }
            None => {
                return Err(ExprError::new(span, "the expression ends where a number or a name is wanted")
                    .mend("complete the expression, or delete the last sign"));
            }
        }
        Ok(false)
    }

    fn measure(&mut self) -> Result<bool, ExprError> {
        let first = self.literal()?;
        let Some(&Word::Unit(unit)) = self.peek() else {
            self.steps.push((Step::Value(Quantity::Number(first.value)), first.span));
            return Ok(false);
        };
        self.next += 1;
        let mut nm = scaled(&first, unit)?;
        let mut fraction = first.fraction;
        // 1' 10 1/16": inches that follow feet belong to them.
        if unit == Suffix::Foot && matches!(self.peek(), Some(Word::Integer(_) | Word::Decimal(_))) {
            let inches = self.literal()?;
            if self.peek() != Some(&Word::Unit(Suffix::Inch)) {
                return Err(ExprError::new(inches.span, "after feet only inches can follow without a sign")
                    .mend("add the inch mark, as in 1' 10\", or a + between"));
            }
            self.next += 1;
            nm = nm.plus(scaled(&inches, Suffix::Inch)?).ok_or_else(|| ExprError::too_large(inches.span))?;
            fraction = false;
        }
        self.steps.push((Step::Value(Quantity::Length(nm)), first.span.start..self.end()));
        Ok(fraction)
    }

    fn literal(&mut self) -> Result<Literal, ExprError> {
        let start = self.place().start;
        let mixed = !self.tight(0) && self.tight(1) && self.tight(2);
        let words = (self.word(0), self.word(1), self.word(2), self.word(3));
        let (parts, used, fraction) = match words {
            (
                Some(&Word::Integer(whole)),
                Some(&Word::Integer(upper)),
                Some(Word::Over),
                Some(&Word::Integer(lower)),
            ) if mixed => (Some((whole, upper, lower)), 4, false),
            (Some(&Word::Integer(upper)), Some(Word::Over), Some(&Word::Integer(lower)), Some(Word::Unit(_))) => {
                (Some((0, upper, lower)), 3, true)
            }
            _ => (None, 1, false),
        };
        let plain = match self.peek() {
            Some(&Word::Integer(value)) => Rational::whole(value),
            Some(&Word::Decimal(value)) => value,
            _ => Rational::ZERO,
        };
        self.next += used;
        let span = start..self.end();
        let Some((whole, upper, lower)) = parts else {
            return Ok(Literal { value: plain, span, fraction });
        };
        if lower == 0 {
            return Err(ExprError::new(span, "the fraction has a zero below the line").mend("write it as in 3/8"));
        }
        if !fraction && upper >= lower {
            return Err(ExprError::new(span, format!("`{upper}/{lower}` in a mixed number is not less than one"))
                .mend("write the fraction below one, as in 22 1/16"));
        }
        Rational::new(i128::from(upper), i128::from(lower))
            .and_then(|part| part.plus(Rational::whole(whole)))
            .map(|value| Literal { value, span: span.clone(), fraction })
            .ok_or_else(|| ExprError::too_large(span))
    }
}

fn scaled(literal: &Literal, unit: Suffix) -> Result<Rational, ExprError> {
    literal.value.times(Rational::whole(unit.nm())).ok_or_else(|| ExprError::too_large(literal.span.clone()))
}
