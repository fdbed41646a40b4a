//! The named parameters of a design, evaluated in the order in which they depend on each other.

use std::{
    collections::{BTreeMap, BTreeSet},
    ops::Range,
};

use indexmap::IndexMap;

use super::{
    ExprError,
    parse::{Expr, Step},
    quantity::{Mismatch, Quantity},
    rational::Rational,
    token::{Suffix, begins_name, continues_name},
};
use crate::{Length, text::nearest::nearest, unit::Unit};

/// The most parameters of one design.
pub const MAX_PARAMETERS: usize = 1_000;

/// The unit and the parameters that expressions are evaluated with.
#[derive(Clone, Debug)]
pub struct Scope {
    unit: Unit,
    /// `None` for a parameter whose own expression is at fault.
    values: IndexMap<String, Option<Quantity>>,
}

/// A parameter that is being worked out.
struct Entry<'p> {
    name: &'p str,
    expr: Expr,
    /// Indices of the parameters that it refers to, each once, with the place of the first mention.
    needs: BTreeMap<usize, Range<usize>>,
}

/// Whether `name` can be a parameter: letters, digits and `_`, not beginning with a digit, and not a unit.
#[must_use]
pub fn is_parameter_name(name: &str) -> bool {
    name.starts_with(begins_name) && name.chars().all(continues_name) && Suffix::named(name).is_none()
}

impl Scope {
    /// A scope without parameters.
    #[must_use]
    pub fn empty(unit: Unit) -> Self {
        Self { unit, values: IndexMap::new() }
    }

    /// The scope of these parameters (name, expression), and everything that is wrong with them.
    ///
    /// A parameter at fault stays known by name, so that expressions which use it are marked as
    /// [consequences](ExprError::consequence) and not as faults of their own.
    pub fn new<'p>(parameters: impl IntoIterator<Item = (&'p str, &'p str)>, unit: Unit) -> (Self, Vec<ExprError>) {
        let mut errors = Vec::new();
        let mut texts: IndexMap<&str, &str> = IndexMap::new();
        for (name, text) in parameters {
            let refused = if texts.contains_key(name) {
                Some(
                    ExprError::new(0..text.len(), format!("there are two parameters called `{name}`"))
                        .mend("rename or delete one of them"),
                )
            } else if texts.len() == MAX_PARAMETERS {
                Some(
                    ExprError::new(0..text.len(), format!("there are more than {MAX_PARAMETERS} parameters"))
                        .mend("use fewer parameters"),
                )
            } else {
                None
            };
            if let Some(error) = refused {
                errors.push(in_parameter(error, name));
                continue;
            }
            texts.insert(name, text);
            if !is_parameter_name(name) {
                errors.push(in_parameter(bad_name(name, text.len()), name));
            }
        }
        let mut scope = Self { unit, values: texts.keys().map(|&name| (name.to_owned(), None)).collect() };
        let mut entries = BTreeMap::new();
        for (index, (&name, &text)) in texts.iter().enumerate() {
            match Expr::parse(text) {
                Ok(expr) => {
                    let needs = scope.needs(&expr);
                    entries.insert(index, Entry { name, expr, needs });
                }
                Err(error) => errors.push(in_parameter(error, name)),
            }
        }
        scope.evaluate_all(&entries, &mut errors);
        errors.sort_by_key(|error| {
            error.parameter.as_deref().and_then(|name| scope.values.get_index_of(name)).unwrap_or(usize::MAX)
        });
        (scope, errors)
    }

    /// The design's unit.
    #[must_use]
    pub fn unit(&self) -> Unit {
        self.unit
    }

    /// The names of all parameters, in the order of the file.
    pub fn names(&self) -> impl Iterator<Item = &str> {
        self.values.keys().map(String::as_str)
    }

    /// The value of a parameter; `None` if there is none of that name or it is at fault.
    #[must_use]
    pub fn get(&self, name: &str) -> Option<Quantity> {
        self.values.get(name).copied().flatten()
    }

    /// The value of an expression.
    ///
    /// # Errors
    /// The first mistake, with its place in `text`.
    pub fn quantity(&self, text: &str) -> Result<Quantity, ExprError> {
        self.evaluate(&Expr::parse(text)?)
    }

    /// The value of an expression as a length, rounded to a whole nanometre.
    ///
    /// # Errors
    /// The first mistake, with its place in `text`, or a length beyond [`Length::LIMIT`].
    pub fn length(&self, text: &str) -> Result<Length, ExprError> {
        self.quantity(text)?.length(self.unit).ok_or_else(|| ExprError::too_large(0..text.len()))
    }

    fn needs(&self, expr: &Expr) -> BTreeMap<usize, Range<usize>> {
        let mut needs = BTreeMap::new();
        for (name, span) in expr.names() {
            if let Some(index) = self.values.get_index_of(name) {
                needs.entry(index).or_insert(span);
            }
        }
        needs
    }

    /// Evaluates what depends on nothing open, again and again; what is left over then goes in circles.
    fn evaluate_all(&mut self, entries: &BTreeMap<usize, Entry<'_>>, errors: &mut Vec<ExprError>) {
        let mut open: BTreeSet<usize> = entries.keys().copied().collect();
        let mut users: BTreeMap<usize, Vec<usize>> = BTreeMap::new();
        let mut waits: BTreeMap<usize, usize> = BTreeMap::new();
        for (&index, entry) in entries {
            let waiting = entry.needs.keys().filter(|need| entries.contains_key(need)).count();
            waits.insert(index, waiting);
            for &need in entry.needs.keys() {
                users.entry(need).or_default().push(index);
            }
        }
        let mut ready: BTreeSet<usize> = waits.iter().filter(|(_, n)| **n == 0).map(|(&index, _)| index).collect();
        while let Some(index) = ready.pop_first() {
            open.remove(&index);
            if let Some(entry) = entries.get(&index) {
                match self.evaluate(&entry.expr) {
                    Ok(value) => {
                        if let Some((_, slot)) = self.values.get_index_mut(index) {
                            *slot = Some(value);
                        }
                    }
                    Err(error) if error.consequence => {}
                    Err(error) => errors.push(in_parameter(error, entry.name)),
                }
            }
            for user in users.get(&index).into_iter().flatten() {
                if let Some(waiting) = waits.get_mut(user) {
                    *waiting = waiting.saturating_sub(1);
                    if *waiting == 0 {
                        ready.insert(*user);
                    }
                }
            }
        }
        report_cycles(entries, open, errors);
    }

    fn evaluate(&self, expr: &Expr) -> Result<Quantity, ExprError> {
        let mut stack: Vec<(Quantity, Range<usize>)> = Vec::new();
        for (step, span) in &expr.steps {
            let result = match step {
                Step::Value(value) => (*value, span.clone()),
                Step::Name(name) => (self.named(name, span)?, span.clone()),
                Step::Negate => {
                    let (value, place) = pop(&mut stack)?;
                    let whole = span.start..place.end;
                    (value.neg().map_err(|mismatch| mismatch_error(mismatch, &whole, &place))?, whole)
                }
                Step::Unit(nm) => {
                    let (value, place) = pop(&mut stack)?;
                    let whole = place.start..span.end;
                    let Quantity::Number(number) = value else {
                        return Err(ExprError::new(span.clone(), "this unit follows what is already a length")
                            .mend("delete the unit"));
                    };
                    let length =
                        number.times(Rational::whole(*nm)).ok_or_else(|| ExprError::too_large(whole.clone()))?;
                    (Quantity::Length(length), whole)
                }
                Step::Add | Step::Subtract | Step::Multiply | Step::Divide => {
                    let (right, right_place) = pop(&mut stack)?;
                    let (left, left_place) = pop(&mut stack)?;
                    let whole = left_place.start..right_place.end;
                    let value = match step {
                        Step::Add => left.add(right, self.unit),
                        Step::Subtract => left.sub(right, self.unit),
                        Step::Multiply => left.mul(right),
                        _ => left.div(right),
                    };
                    (value.map_err(|mismatch| mismatch_error(mismatch, &whole, &right_place))?, whole)
                }
            };
            stack.push(result);
        }
        pop(&mut stack).map(|(value, _)| value)
    }

    fn named(&self, name: &str, span: &Range<usize>) -> Result<Quantity, ExprError> {
        match self.values.get(name) {
            Some(Some(value)) => Ok(*value),
            Some(None) => {
                let mut error = ExprError::new(span.clone(), format!("the parameter `{name}` has no value yet"))
                    .mend(format!("mend the parameter `{name}` first"));
                error.consequence = true;
                Err(error)
            }
            None => {
                let error = ExprError::new(span.clone(), format!("there is no parameter called `{name}`"));
                Err(match nearest(name, self.names()) {
                    Some(other) => error.mend(format!("did you mean `{other}`?")),
                    None if self.values.is_empty() => error.mend("the design has no parameters; write a number"),
                    None => error.mend("add it to the parameters, or write a number"),
                })
            }
        }
    }
}

fn pop(stack: &mut Vec<(Quantity, Range<usize>)>) -> Result<(Quantity, Range<usize>), ExprError> {
    stack.pop().ok_or_else(|| ExprError::new(0..0, "internal error in an expression, please report it"))
}

fn mismatch_error(mismatch: Mismatch, whole: &Range<usize>, right: &Range<usize>) -> ExprError {
    match mismatch {
        Mismatch::TooLarge => ExprError::too_large(whole.clone()),
        Mismatch::ByZero => ExprError::new(right.clone(), "this divides by zero").mend("divide by something else"),
        Mismatch::Area => ExprError::new(whole.clone(), "a length times a length is an area, not a length")
            .mend("leave the unit of one of them out"),
        Mismatch::PerLength => ExprError::new(whole.clone(), "a number divided by a length is not a length")
            .mend("leave the unit of the divisor out, or give the number one"),
    }
}

fn in_parameter(mut error: ExprError, name: &str) -> ExprError {
    error.parameter = Some(name.to_owned());
    error
}

fn bad_name(name: &str, length: usize) -> ExprError {
    if Suffix::named(name).is_some() {
        return ExprError::new(0..length, format!("`{name}` is a unit and cannot be a parameter's name"))
            .mend("choose a longer name");
    }
    ExprError::new(0..length, format!("`{name}` cannot be a parameter's name"))
        .mend("use letters, digits and _, beginning with a letter")
}

/// Reports each circle among the parameters that are left `open`, once, beginning with its first one in the file.
fn report_cycles(entries: &BTreeMap<usize, Entry<'_>>, open: BTreeSet<usize>, errors: &mut Vec<ExprError>) {
    let mut left = open;
    // What nothing open refers to only hangs on a circle; take it away until the rest is circles and paths between.
    loop {
        let used: BTreeSet<usize> =
            left.iter().filter_map(|index| entries.get(index)).flat_map(|entry| entry.needs.keys().copied()).collect();
        let before = left.len();
        left.retain(|index| used.contains(index));
        if left.len() == before {
            break;
        }
    }
    let mut seen: BTreeSet<usize> = BTreeSet::new();
    for &start in &left {
        let mut walk: Vec<usize> = Vec::new();
        let mut here = start;
        while seen.insert(here) {
            walk.push(here);
            let Some(next) = entries.get(&here).and_then(|e| e.needs.keys().find(|need| left.contains(need))) else {
                break;
            };
            here = *next;
        }
        let Some(first) = walk.iter().position(|&index| index == here) else {
            continue;
        };
        let mut circle: Vec<usize> = walk.into_iter().skip(first).collect();
        if circle.len() == 1 && !entries.get(&here).is_some_and(|entry| entry.needs.contains_key(&here)) {
            continue;
        }
        let lowest = circle.iter().enumerate().min_by_key(|(_, index)| **index).map_or(0, |(place, _)| place);
        circle.rotate_left(lowest);
        let names: Vec<&str> = circle.iter().filter_map(|index| entries.get(index)).map(|entry| entry.name).collect();
        let (Some(&head), Some(entry)) = (names.first(), circle.first().and_then(|index| entries.get(index))) else {
            continue;
        };
        let next = circle.get(1).or_else(|| circle.first());
        let place = next.and_then(|next| entry.needs.get(next)).cloned().unwrap_or(0..0);
        let error =
            ExprError::new(place, format!("the parameters go round in a circle: {} -> {head}", names.join(" -> ")))
                .mend("give one of them a value of its own");
        errors.push(in_parameter(error, head));
    }
}
