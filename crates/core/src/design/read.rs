//! Designs from text and back: the file layout, its version, and every fault that can be told from the text.
//!
//! Reading goes in two steps. First the shape: brackets, field names and types, where RON's reader stops at the first
//! mistake. Then the meaning, where all faults are collected together. A design knows nothing of the layout of its file and
//! of the comments in it: `rewrite` keeps them.

use std::borrow::Cow;

use ron::{Options, extensions::Extensions, ser::PrettyConfig};

use super::{Design, SCHEMA, validate};
use crate::text::{Fault, FieldPath, SpanIndex, fold::folded, spans::ScanProblem};

/// The longest file that is read, in bytes; far above any piece of furniture.
pub const MAX_BYTES: usize = 4_000_000;

/// RON's own bound on nesting; [`crate::text::spans::MAX_NESTING`] brackets never reach it.
const RECURSION: usize = 512;

/// Rewrites the text of a file of one schema into the next one.
type Migration = fn(&str) -> Result<String, Fault>;

/// The rewriting of schema 1 into 2, of 2 into 3, and so on; as many as there are schemas before [`SCHEMA`].
const MIGRATIONS: &[Migration] = &[];

impl Design {
    /// Reads and validates a design.
    ///
    /// # Errors
    /// Everything that is wrong with it, in the order of the text; only the shape if that is broken.
    pub fn from_ron(text: &str) -> Result<Self, Vec<Fault>> {
        let (design, faults) = Self::read(text)?;
        if faults.is_empty() { Ok(design) } else { Err(faults) }
    }

    /// Reads a design and says what is wrong with its meaning, so that it can be opened and mended.
    ///
    /// # Errors
    /// What is wrong with the shape of the text.
    pub fn read(text: &str) -> Result<(Self, Vec<Fault>), Vec<Fault>> {
        let text = text.strip_prefix('\u{feff}').unwrap_or(text);
        if text.len() > MAX_BYTES {
            let fault = Fault::new(format!("the file is larger than {} MB", MAX_BYTES / 1_000_000));
            return Err(vec![fault.mend("check that it is a design file")]);
        }
        if text.trim().is_empty() {
            return Err(vec![Fault::new("the file is empty").mend("begin with `casewright new FILE`")]);
        }
        let index = SpanIndex::scan(text);
        if let Some(problem @ ScanProblem::TooDeep(_)) = index.problem() {
            return Err(vec![Fault::shape(problem)]);
        }
        let schema = schema_of(&index).map_err(|fault| vec![fault])?;
        let current = migrated(text, schema, SCHEMA, MIGRATIONS).map_err(|fault| vec![fault])?;
        // A migrated file has other places than the one on disk, but they still help.
        let index = if matches!(current, Cow::Owned(_)) { SpanIndex::scan(&current) } else { index };
        let design: Self = options().from_str(&current).map_err(|error| {
            let fault = Fault::from_ron(&error, &index);
            let shape = index.problem().map(Fault::shape);
            match shape {
                // Where the brackets are wrong, the reader only stumbles over what follows.
                Some(shape) if shape.at <= fault.at || is_end(&error.code) => vec![shape],
                // A quote that is missing far above leaves one too many at the end.
                Some(_) if matches!(index.problem(), Some(ScanProblem::Unclosed(_))) => vec![fault],
                shape => std::iter::once(fault).chain(shape).collect(),
            }
        })?;
        let faults = validate::faults(&design, Some(&index));
        Ok((design, faults))
    }

    /// The design as the text of a file: pretty, with the fields in a fixed order, the same on every machine.
    ///
    /// # Errors
    /// None is known; a failure of RON's writer would be an internal error.
    pub fn to_ron(&self) -> Result<String, Fault> {
        self.to_pretty().map(|text| folded(&text))
    }

    /// As [`Self::to_ron`], each value on a line of its own.
    pub(super) fn to_pretty(&self) -> Result<String, Fault> {
        let style = PrettyConfig::new().new_line("\n").indentor("    ").struct_names(false);
        options()
            .to_string_pretty(self, style)
            .map_err(|error| Fault::new(format!("internal error in writing the design, please report it ({error})")))
    }
}

impl super::Board {
    /// The board as an entry of a design file, on one line.
    ///
    /// # Errors
    /// None is known; a failure of RON's writer would be an internal error.
    pub fn to_ron(&self) -> Result<String, Fault> {
        options()
            .to_string(self)
            .map_err(|error| Fault::new(format!("internal error in writing a board, please report it ({error})")))
    }
}

impl super::Bay {
    /// The bay that a text says, written as in a design file; none if it says none, or has a `NaN` somewhere.
    #[must_use]
    pub fn from_ron(text: &str) -> Option<Self> {
        let bay: Self = options().from_str(text).ok()?;
        // A `NaN` is equal to nothing, so that such a bay would count as changed for ever.
        (bay.clone() == bay).then_some(bay)
    }

    /// The bay as text, written as in a design file.
    ///
    /// # Errors
    /// None is known; a failure of RON's writer would be an internal error.
    pub fn to_ron(&self) -> Result<String, Fault> {
        options()
            .to_string_pretty(self, PrettyConfig::new().new_line("\n").struct_names(false))
            .map_err(|error| Fault::new(format!("internal error in writing a bay, please report it ({error})")))
    }
}

/// Options of design files: `Some(...)` need not be written, nor the inner parentheses of `Slide((...))`.
fn options() -> Options {
    Options::default()
        .with_default_extension(Extensions::IMPLICIT_SOME)
        .with_default_extension(Extensions::UNWRAP_VARIANT_NEWTYPES)
        .with_recursion_limit(RECURSION)
}

fn is_end(error: &ron::Error) -> bool {
    matches!(error, ron::Error::Eof | ron::Error::ExpectedStringEnd | ron::Error::UnclosedBlockComment)
}

/// The schema number of the file, from its text alone, because any other schema may have other fields.
fn schema_of(index: &SpanIndex<'_>) -> Result<u32, Fault> {
    let path = FieldPath::root().field("schema");
    let Some(span) = index.span(&path) else {
        let start = index.locate(&FieldPath::root());
        let fault = Fault { at: start, ..Fault::new("the file does not say which schema it has") };
        return Err(fault.mend(format!("begin it with `(schema: {SCHEMA},`")));
    };
    let number = index.text().get(span).and_then(|text| text.parse::<u32>().ok());
    let fault = |cause: String| Fault::at_path(path.clone(), cause).located(index);
    match number {
        Some(schema) if schema > SCHEMA => {
            Err(fault(format!("the file has schema {schema}, this program reads schemas up to {SCHEMA}"))
                .mend("open it with a newer version of the program"))
        }
        Some(schema) if schema > 0 => Ok(schema),
        _ => {
            Err(fault("the schema is no whole number above zero".to_owned()).mend(format!("write `schema: {SCHEMA}`")))
        }
    }
}

/// The text rewritten step by step from schema `from` to schema `to`.
fn migrated<'t>(text: &'t str, from: u32, to: u32, migrations: &[Migration]) -> Result<Cow<'t, str>, Fault> {
    let mut current = Cow::Borrowed(text);
    for schema in from..to {
        let step = usize::try_from(schema).ok().and_then(|schema| migrations.get(schema.checked_sub(1)?));
        let Some(step) = step else {
            return Err(Fault::new(format!("files of schema {schema} can no longer be read"))
                .mend("save the file with an older version of the program first"));
        };
        current = Cow::Owned(step(&current)?);
    }
    Ok(current)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn migrations_run_one_after_the_other() {
        let steps: &[Migration] = &[|text| Ok(format!("{text} two")), |text| Ok(format!("{text} three"))];
        for (from, expected) in [(1, "one two three"), (2, "one three"), (3, "one")] {
            assert_eq!(migrated("one", from, 3, steps).unwrap(), expected);
        }
        assert!(migrated("one", 1, 4, steps).is_err());
    }

    #[test]
    fn every_older_schema_has_its_migration() {
        assert_eq!(MIGRATIONS.len() + 1, usize::try_from(SCHEMA).unwrap());
    }
}
