//! Checks of what is built, on solved designs.

mod carried;
mod fronts;
mod handles;
mod joints;
mod numbers;
mod panels;
pub(crate) mod random;
mod sound;
mod whole;

use super::*;
use crate::design::Resolved;
use crate::layout::Layout;
use crate::sample::mm;
use crate::solve::solve;

/// The layout and what is built of it.
pub(crate) fn built(design: &Resolved) -> (Layout, Assembly) {
    let layout = solve(design).unwrap_or_else(|error| panic!("{error}")).layout;
    let assembly = build(design, &layout).unwrap_or_else(|error| panic!("{error}"));
    (layout, assembly)
}

pub(crate) fn part<'a>(assembly: &'a Assembly, number: &str) -> &'a Part {
    assembly.part(number).unwrap_or_else(|| panic!("no part {number} among {:?}", numbers(assembly)))
}

pub(super) fn numbers(assembly: &Assembly) -> Vec<&str> {
    assembly.parts.iter().map(|part| part.number.as_str()).collect()
}

/// A parts list as text.
pub(super) fn list(assembly: &Assembly) -> String {
    let line = |part: &Part| {
        let size = part.finished;
        format!("{}: {}, {} x {} x {}", part.number, part.name, size.length.mm(), size.width.mm(), size.thickness.mm())
    };
    assembly.parts.iter().map(line).collect::<Vec<_>>().join("\n")
}
/// The problems of a design that is solved but cannot be built.
pub(super) fn problems(design: &Resolved) -> String {
    let layout = solve(design).unwrap_or_else(|error| panic!("{error}")).layout;
    build(design, &layout).unwrap_err().to_string()
}
