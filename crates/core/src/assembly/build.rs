//! The way from a solved [`Layout`] to the [`Assembly`]: pure and deterministic.
//!
//! Panels, fronts, what runs on slides, stand and worktop are first drafted as boxes in world axes; then the faces that
//! touch become joints, parts that stand in grooves grow into them, and each draft is finished into a part with its
//! own frame, bands and sizes.

use thiserror::Error;

use super::scene::Scene;
use super::{Assembly, carried, finish, fronts, handles, holders, joints, panels, stand};
use crate::checks::Carried;
use crate::design::Resolved;
use crate::holding::HoldingError;
use crate::joinery;
use crate::layout::Layout;
use crate::text::FieldPath;
use crate::unit::Written;

/// What is in the way of building.
#[derive(Clone, Debug, PartialEq, Error)]
#[error("{}", .problems.iter().map(ToString::to_string).collect::<Vec<_>>().join("\n"))]
pub struct BuildError {
    /// Each independent problem, in the order of the tree.
    pub problems: Vec<Problem>,
}

/// One problem, and the field of the design that it comes from.
#[derive(Clone, Debug, PartialEq, Error)]
#[error("{cause}")]
pub struct Problem {
    /// What is wrong, and what would mend it.
    pub cause: Cause,
    /// Where, if one field is to blame.
    pub field: Option<FieldPath>,
}

/// What is wrong, and what would mend it.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum Cause {
    /// What carries the things of a bay cannot be made.
    #[error("bay {bay:?}: {source}")]
    Holding {
        /// The bay.
        bay: String,
        /// Why.
        source: HoldingError,
    },
    /// A dowel that is no dowel.
    #[error("{text:?} is no dowel: write its diameter x length in mm, such as \"8x40\"")]
    Dowel {
        /// What the design says.
        text: String,
    },
    /// A worktop that cannot be cut to its shape.
    #[error("the worktop cannot be cut: {why}")]
    WorktopShape {
        /// Why, and what would mend it.
        why: String,
    },
    /// A name that the design does not have.
    #[error("there is no edge banding {name:?}: add it to `banding` or name one that is there")]
    UnknownBanding {
        /// The name.
        name: String,
    },
    /// A name that the design does not have.
    #[error("there is no material {name:?}: add it to `materials` or name one that is there")]
    UnknownMaterial {
        /// The name.
        name: String,
    },
    /// A front that is to move with something that stands still.
    #[error(
        "the front of bay {bay:?} is to move with what the bay holds, but nothing there moves: let it hold a drawer, \
         a pull-out or a tilt-out, or let the front open by itself"
    )]
    NothingMoves {
        /// The bay.
        bay: String,
    },
    /// Two fronts in one place.
    #[error(
        "the front of bay {bay:?} and that of bay {over:?}, which it is a part of, take the same place: leave one out, \
         or make the inner one inset"
    )]
    FrontOverFront {
        /// The inner bay.
        bay: String,
        /// The outer bay.
        over: String,
    },
    /// A bay that is too small for what it must take.
    #[error("bay {bay:?} has no room for {what}: {missing} are missing; make the bay larger")]
    NoRoom {
        /// The bay.
        bay: String,
        /// For what.
        what: String,
        /// How much is missing.
        missing: Written,
    },
    /// A groove as deep as the panel, or deeper.
    #[error("a groove {depth} deep does not go into {part}, {thickness} thick: make it shallower")]
    GrooveTooDeep {
        /// The part.
        part: String,
        /// Depth of the groove.
        depth: Written,
        /// Thickness of the part.
        thickness: Written,
    },
    /// A rebate as deep as the panel, or deeper.
    #[error("a rebate {depth} deep does not go into {part}, {thickness} thick; make it shallower")]
    RebateTooDeep {
        /// The part.
        part: String,
        /// Depth of the rebate.
        depth: Written,
        /// Thickness of the part.
        thickness: Written,
    },
    /// Grooves or rebates from both faces of a panel that leave nothing between them.
    #[error(
        "grooves from both faces of {part}, {thickness} thick, are together {depth} deep and meet; make them shallower"
    )]
    GroovesMeet {
        /// The part.
        part: String,
        /// Depth of both together.
        depth: Written,
        /// Thickness of the part.
        thickness: Written,
    },
    /// A part of which nothing is left under its edge banding.
    #[error("{part} is no larger than its edge banding: leave the banding out or make the part larger")]
    OnlyBanding {
        /// The part.
        part: String,
    },
    /// A mistake of the program.
    #[error("internal error, please report: {0}")]
    Internal(String),
}

/// Everything that is built for a design whose sizes are solved.
///
/// # Errors
/// All independent problems together; see [`Cause`].
pub fn build(design: &Resolved, layout: &Layout) -> Result<Assembly, BuildError> {
    build_loaded(design, layout).map(|it| it.0)
}

/// As [`build`], with what its panels carry, which had to be reckoned for the drilling.
///
/// # Errors
/// As [`build`].
pub fn build_loaded(design: &Resolved, layout: &Layout) -> Result<(Assembly, Carried), BuildError> {
    let mut scene = Scene::new(design, layout);
    panels::draft(&mut scene);
    fronts::draft(&mut scene);
    carried::draft(&mut scene);
    handles::draft(&mut scene);
    holders::draft(&mut scene);
    stand::draft(&mut scene);
    let joints = joints::join(&mut scene);
    let mut assembly = finish::finish(&mut scene, joints);
    if !scene.problems.is_empty() {
        return Err(BuildError { problems: scene.problems });
    }
    joinery::cut_openings(design, layout, &mut assembly);
    let carried = joinery::drill(design, layout, &mut assembly);
    Ok((assembly, carried))
}
