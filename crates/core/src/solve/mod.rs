//! Solving: from the Design to the Layout, or to the conflicts that stand in the way, in words.
//!
//! Each axis is one problem: [`model`](self) builds it from the bay tree, [`crate::axis`] solves it exactly. Nothing
//! here knows how a panel is joined, and nothing later computes where a panel lies.

mod choose;
mod conflict;
mod envelope;
mod lay;
mod model;
mod need;
mod notes;
mod reason;
mod shell;
mod stock;
mod ties;
mod tree;
mod why;

#[cfg(test)]
mod tests;

pub use conflict::{Change, Conflict, Entry, Mend};
pub use reason::size_word;
pub use why::{Decider, SizeRef, Why};

use std::collections::BTreeSet;

use thiserror::Error;

use crate::axis::{self, AxisError, AxisProblem, Solution};
use crate::design::{Bay, Construction, Inside, Resolved};
use crate::geometry::Axis;
use crate::holding::HoldingError;
use crate::layout::Layout;
use crate::length::Length;
use crate::text::{Fault, FieldPath, Segment};
use model::Model;

/// The deepest nesting of bays that is solved; reading a design allows less.
const DEEPEST: usize = 64;

/// A solved design: its layout, and what is needed to ask why.
pub struct Solved<'d> {
    /// Where everything lies.
    pub layout: Layout,
    model: Model<'d>,
    solutions: [Solution; 3],
}

/// Why a design has no layout.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum SolveError {
    /// Demands that cannot hold together.
    #[error("{} conflict(s): {}", .0.len(), .0.iter().map(|it| it.what.as_str()).collect::<Vec<_>>().join("; "))]
    Conflicts(Vec<Conflict>),
    /// Something that cannot be built as the design says.
    #[error("{}", .0.iter().map(ToString::to_string).collect::<Vec<_>>().join("; "))]
    Faults(Vec<Fault>),
    /// A fault of the program.
    #[error("internal error, please report: {0}")]
    Internal(String),
}

/// Solves a design: positions of all panels, bays and things, exactly.
///
/// # Errors
/// Conflicts between demands, each minimal and with mends that were solved again; holdings that cannot be built.
pub fn solve(design: &Resolved) -> Result<Solved<'_>, SolveError> {
    if nesting(&design.carcass.bay) > DEEPEST {
        return Err(SolveError::Faults(vec![Fault::at_path(
            FieldPath::root().field("carcass").field("bay"),
            format!("bays are nested more than {DEEPEST} deep"),
        )]));
    }
    choose::best(design)
}

/// The three axis problems of a design as it stands, with nothing turned: what the numeric solver is given along X, Y and Z.
///
/// # Errors
/// Holdings that cannot be built.
pub fn axis_problems(design: &Resolved) -> Result<[axis::AxisProblem; 3], SolveError> {
    let model = model(design, &BTreeSet::new());
    if model.faults.is_empty() { Ok(model.problems) } else { Err(SolveError::Faults(model.faults)) }
}

/// The least clear width, height and depth that a bay which is not divided needs for what it holds, in a shell built like
/// `construction`; none if it holds nothing. `turned` tells of each thing whether it stands turned.
///
/// # Errors
/// The holding cannot be made like this.
pub fn least_room(
    design: &Resolved,
    construction: &Construction<Length>,
    bay: &Bay<Length>,
    turned: &dyn Fn(&str) -> bool,
) -> Result<Option<[Length; 3]>, HoldingError> {
    Ok(need::of_bay(design, construction, bay, turned)?.map(|needs| Axis::ALL.map(|axis| needs.total(axis))))
}

/// How deep the bays are nested, counted without recursion.
fn nesting(bay: &Bay<Length>) -> usize {
    let mut deepest = 0;
    let mut open = vec![(bay, 1)];
    while let Some((bay, depth)) = open.pop() {
        deepest = deepest.max(depth);
        match &bay.inside {
            Inside::Across { bays, .. } | Inside::Up { bays, .. } => {
                open.extend(bays.iter().map(|bay| (bay, depth + 1)));
            }
            Inside::Boxed { bay, .. } => open.push((bay, depth + 1)),
            Inside::Open { .. } | Inside::Holds { .. } => {}
        }
    }
    deepest
}

/// The model of a design in which these things stand turned.
fn model<'d>(design: &'d Resolved, turned: &BTreeSet<&str>) -> Model<'d> {
    let mut model = Model::empty(design);
    envelope::ask(&mut model);
    let carcass = &design.carcass;
    let at = FieldPath::root().field("carcass");
    let [x, y, z] = model.envelope;
    let stand = match carcass.stand {
        crate::design::Stand::Floor => Length::ZERO,
        crate::design::Stand::Plinth { height, .. }
        | crate::design::Stand::Feet { height, .. }
        | crate::design::Stand::Castors { height, .. } => height,
    };
    let slab = carcass.worktop.as_ref().map(|it| model.thickness(&it.board)).unwrap_or_default();
    let fronts = envelope::overlay_thickness(&model);
    let outer = [x, (y.0.plus(stand), y.1.plus(-slab)), (z.0, z.1.plus(-fronts))];
    let path = at.field("construction");
    let within = if carcass.own_shell {
        shell::build(&mut model, &carcass.bay.name, "", path, &carcass.construction, outer)
    } else {
        shell::bare(&mut model, &carcass.bay.name, path, outer)
    };
    let place = tree::Place {
        path: at.field("bay"),
        parent: None,
        depth: 0,
        shell: within.shell,
        construction: &carcass.construction,
        faces: within.faces,
        closed_by: within.closed_by,
    };
    tree::add_bay(&mut model, &carcass.bay, &place, &|name| turned.contains(name));
    ties::ask(&mut model);
    stock::ask(&mut model);
    model
}

/// Solutions that are known already: most combinations of turned things differ along one axis only.
#[derive(Default)]
struct Known {
    solutions: [Vec<(AxisProblem, Solution)>; 3],
}

impl Known {
    fn solve(&mut self, axis: Axis, problem: &AxisProblem) -> Result<Solution, AxisError> {
        let known = &mut self.solutions[axis.index()];
        if let Some((_, solution)) = known.iter().find(|(other, _)| other == problem) {
            return Ok(solution.clone());
        }
        let solution = axis::solve(problem)?;
        known.push((problem.clone(), solution.clone()));
        Ok(solution)
    }
}

/// Whether the demands of a model can hold together, as far as can be told quickly.
fn may_be_solved(model: &Model<'_>) -> bool {
    model.faults.is_empty() && model.problems.iter().all(|problem| axis::feasible(problem).unwrap_or(true))
}

/// Solves a model along all three axes; conflicts of all axes are collected.
fn solve_model<'d>(mut model: Model<'d>, known: &mut Known) -> Result<Solved<'d>, SolveError> {
    if !model.faults.is_empty() {
        return Err(SolveError::Faults(model.faults));
    }
    let mut conflicts = Vec::new();
    let mut internal = None;
    let solved = Axis::ALL.map(|axis| match known.solve(axis, &model.problems[axis.index()]) {
        Ok(solution) => Some(solution),
        Err(AxisError::Infeasible(found)) => {
            conflicts.extend(found.iter().map(|it| conflict::in_words(&model, axis, it)));
            None
        }
        Err(error) => {
            internal = Some(format!("{} of the carcass: {error}", size_word(axis)));
            None
        }
    });
    if let Some(internal) = internal {
        return Err(SolveError::Internal(internal));
    }
    let [Some(x), Some(y), Some(z)] = solved else { return Err(SolveError::Conflicts(conflicts)) };
    let x = envelope::settle(&mut model, Axis::X, x, known);
    let y = envelope::settle(&mut model, Axis::Y, y, known);
    let z = envelope::settle(&mut model, Axis::Z, z, known);
    let layout = lay::layout(&model, [&x.positions, &y.positions, &z.positions]);
    Ok(Solved { layout, model, solutions: [x, y, z] })
}

/// The bay at a path of the design file.
#[must_use]
pub fn bay_at<'d, L>(design: &'d crate::design::Design<L>, path: &FieldPath) -> Option<&'d Bay<L>> {
    let mut steps = path.segments().iter();
    let is = |step: Option<&Segment>, name: &str| matches!(step, Some(Segment::Field(field)) if field == name);
    if !is(steps.next(), "carcass") || !is(steps.next(), "bay") {
        return None;
    }
    let mut bay = &design.carcass.bay;
    while let Some(step) = steps.next() {
        if !is(Some(step), "inside") {
            return None;
        }
        bay = match (&bay.inside, steps.next()) {
            (Inside::Boxed { bay, .. }, step) if is(step, "bay") => bay,
            (Inside::Across { bays, .. } | Inside::Up { bays, .. }, step) if is(step, "bays") => match steps.next() {
                Some(Segment::Index(index)) => bays.get(*index)?,
                _ => return None,
            },
            _ => return None,
        };
    }
    Some(bay)
}
