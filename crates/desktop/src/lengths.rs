//! Every length of a Design by its place in the file: as written and as it works out. Made once for each revision, so
//! that fields need not walk the Design.

use std::collections::BTreeMap;

use casewright_core::design::Design;
use casewright_core::design::resolve::{Sign, map_lengths};
use casewright_core::expr::{Dim, Scope};
use casewright_core::length::Length;
use casewright_core::text::FieldPath;
use casewright_core::unit::{DecimalMark, Unit};

/// A text that is no length, or none that may stand there.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Mistake {
    /// The text makes no sense.
    Text {
        /// What is wrong with it.
        cause: String,
        /// What would mend it.
        mend: Option<String>,
    },
    /// It must be above zero.
    NotAboveZero,
    /// It must not be below zero.
    BelowZero,
    /// It is beyond what can be built.
    TooLarge,
}

/// One length.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Written {
    /// As written.
    pub text: String,
    /// What it may be.
    pub sign: Sign,
    /// What it works out to.
    pub value: Result<Length, Mistake>,
}

/// Every length of a Design, and the scope that new ones are worked out in.
#[derive(Debug)]
pub struct Lengths {
    all: BTreeMap<FieldPath, Written>,
    scope: Scope,
    unit: Unit,
}

impl Lengths {
    /// The lengths of a Design.
    #[must_use]
    pub fn of(design: &Design) -> Self {
        let pairs = design.parameters.iter().map(|(name, text)| (name.as_str(), text.as_str()));
        let (scope, _reported_with_the_parameters) = Scope::new(pairs, design.unit);
        let mut all = BTreeMap::new();
        let _same = map_lengths(design, &mut |dim: &Dim, at, sign| {
            let text = dim.text().to_owned();
            let value = work_out(&scope, &text, sign);
            all.insert(at.clone(), Written { text, sign, value });
        });
        Self { all, scope, unit: design.unit }
    }

    /// The length at a place.
    #[must_use]
    pub fn get(&self, path: &FieldPath) -> Option<&Written> {
        self.all.get(path)
    }

    /// The lengths at and under a place, in the order of the file's field names.
    pub fn under<'l>(&'l self, path: &'l FieldPath) -> impl Iterator<Item = (&'l FieldPath, &'l Written)> {
        self.all.iter().filter(|(at, _)| at.segments().starts_with(path.segments()))
    }

    /// What a text works out to here.
    ///
    /// # Errors
    /// It is no length, or none of that sign.
    pub fn check(&self, text: &str, sign: Sign) -> Result<Length, Mistake> {
        work_out(&self.scope, text, sign)
    }

    /// What a named value works out to, in words; nothing if it is wrong.
    #[must_use]
    pub fn parameter(&self, name: &str) -> Option<casewright_core::expr::Quantity> {
        self.scope.get(name)
    }

    /// A length as the design's unit shows it.
    #[must_use]
    pub fn show(&self, length: Length, mark: DecimalMark) -> String {
        self.unit.format(length, mark)
    }

    /// A length as a text that reads back as exactly this.
    #[must_use]
    pub fn input(&self, length: Length) -> String {
        self.unit.input(length)
    }

    /// The unit.
    #[must_use]
    pub const fn unit(&self) -> Unit {
        self.unit
    }
}

fn work_out(scope: &Scope, text: &str, sign: Sign) -> Result<Length, Mistake> {
    let length = scope.length(text).map_err(|error| Mistake::Text { cause: error.cause, mend: error.mend })?;
    match sign {
        _ if length.abs() > Length::LIMIT => Err(Mistake::TooLarge),
        Sign::AboveZero if length <= Length::ZERO => Err(Mistake::NotAboveZero),
        Sign::ZeroOrMore if length < Length::ZERO => Err(Mistake::BelowZero),
        _ => Ok(length),
    }
}
