//! One module for each thing that the program can be asked to do.

pub(crate) mod arrange;
pub(crate) mod check;
pub(crate) mod cut;
pub(crate) mod derive;
pub(crate) mod export;
pub(crate) mod new;
pub(crate) mod rescue;
pub(crate) mod square;
pub(crate) mod stock;
pub(crate) mod window;

use casewright_core::Length;
use casewright_core::expr::{Dim, Scope};
use casewright_core::unit::Unit;

use crate::failure::Failure;

/// A length as written behind an option, in the unit of a design.
fn length_option(option: &str, text: &str, unit: Unit) -> Result<Length, Failure> {
    let wrong = |cause: String| {
        Failure::usage(format!("`--{option} {text}`: {cause}"), format!("write for example `--{option} 1500.5`"))
    };
    Dim::new(text).eval(&Scope::empty(unit)).map_err(|error| wrong(error.cause))
}
