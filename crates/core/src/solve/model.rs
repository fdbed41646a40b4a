//! The model: one axis problem for each axis, with the faces of all panels and bays that are made of their unknowns.
//!
//! Along X, Y and Z the unknowns are the far face of the envelope and one face of each divider. Everything else (boards,
//! gaps, stands) is a fixed offset from one of these, so chains close by construction.

use super::need::Needs;
use super::reason::{Reason, ReasonKind};
use crate::axis::{AxisProblem, Face, MustKind, Span, WishKind};
use crate::design::{Construction, Resolved, Role};
use crate::geometry::Axis;
use crate::holding;
use crate::layout::Closing;
use crate::length::Length;
use crate::text::{Fault, FieldPath};

/// How much wishes count, heaviest first: the envelope's extent before preferred sizes, these before what fits snugly,
/// and that before shares. Own choice; the ratios keep the problem well scaled.
pub(super) mod weight {
    pub(in crate::solve) const ENVELOPE: f64 = 100.0;
    pub(in crate::solve) const PREFER: f64 = 1.0;
    pub(in crate::solve) const SNUG: f64 = 0.1;
    pub(in crate::solve) const SHARE: f64 = 0.01;
}

/// The faces of a box along the three axes: low and high.
pub(super) type Faces = [(Face, Face); 3];

/// A bay as the solver sees it.
pub(super) struct Node<'d> {
    pub(super) name: &'d str,
    pub(super) path: FieldPath,
    pub(super) parent: Option<usize>,
    pub(super) depth: usize,
    pub(super) shell: usize,
    pub(super) faces: Faces,
    pub(super) closed_by: [Closing; 4],
    pub(super) is_leaf: bool,
    pub(super) needs: Option<Needs<'d>>,
}

/// A panel as the solver sees it.
pub(super) struct PanelSpec {
    pub(super) id: String,
    pub(super) role: Role,
    pub(super) faces: Faces,
    pub(super) material: String,
    pub(super) shell: usize,
    pub(super) bay: String,
    pub(super) loose: bool,
}

/// A shell as the solver sees it.
pub(super) struct ShellSpec {
    pub(super) name: String,
    pub(super) path: FieldPath,
    pub(super) outer: Faces,
    pub(super) inner: Faces,
}

/// The three axis problems of a design, and what their unknowns mean.
pub(super) struct Model<'d> {
    pub(super) design: &'d Resolved,
    /// Along X, Y and Z.
    pub(super) problems: [AxisProblem; 3],
    /// By axis and label.
    pub(super) reasons: [Vec<Reason>; 3],
    /// Where the envelope begins and ends.
    pub(super) envelope: Faces,
    pub(super) nodes: Vec<Node<'d>>,
    pub(super) panels: Vec<PanelSpec>,
    pub(super) shells: Vec<ShellSpec>,
    /// What cannot be built as the design says.
    pub(super) faults: Vec<Fault>,
}

impl<'d> Model<'d> {
    /// A model without bays, with the envelope's unknowns.
    pub(super) fn empty(design: &'d Resolved) -> Self {
        let step = design.unit.step();
        let mut problems = [AxisProblem::new(step), AxisProblem::new(step), AxisProblem::new(step)];
        let begin = &design.carcass.envelope;
        let origin = [begin.from_left.unwrap_or_default(), Length::ZERO, begin.from_wall.unwrap_or_default()];
        let envelope = Axis::ALL.map(|axis| {
            let far = problems[axis.index()].add_var();
            (Face::fixed(origin[axis.index()]), Face::at(far))
        });
        Self {
            design,
            problems,
            reasons: [Vec::new(), Vec::new(), Vec::new()],
            envelope,
            nodes: Vec::new(),
            panels: Vec::new(),
            shells: Vec::new(),
            faults: Vec::new(),
        }
    }

    /// The demand on an axis that a label stands for.
    pub(super) fn reason(&self, axis: Axis, label: usize) -> Option<&Reason> {
        self.reasons[axis.index()].get(label)
    }

    fn label(&mut self, axis: Axis, reason: Reason) -> usize {
        let reasons = &mut self.reasons[axis.index()];
        reasons.push(reason);
        reasons.len() - 1
    }

    /// A must, with its reason.
    pub(super) fn must(&mut self, axis: Axis, kind: MustKind, reason: Reason) {
        let relaxable = !matches!(reason.kind, ReasonKind::Opening);
        // Other boards can be bought: they are not why something does not go into its envelope.
        let blamed_last = matches!(reason.kind, ReasonKind::Boards { .. });
        let label = self.label(axis, reason);
        let problem = &mut self.problems[axis.index()];
        if blamed_last {
            problem.must_blamed_last(kind, label)
        } else {
            problem.must(kind, label, relaxable)
        };
    }

    /// A wish, with its reason.
    pub(super) fn wish(&mut self, axis: Axis, kind: WishKind, weight: f64, reason: Reason) {
        let label = self.label(axis, reason);
        self.problems[axis.index()].wish(kind, weight, label);
    }

    /// The span between two faces.
    pub(super) const fn span(faces: (Face, Face)) -> Span {
        Span::between(faces.0, faces.1)
    }

    /// Thickness of a material; zero for an unknown name, which reading a design rules out.
    pub(super) fn thickness(&self, material: &str) -> Length {
        self.design.materials.get(material).map(|it| it.thickness).unwrap_or_default()
    }

    /// The material of a role in a construction.
    pub(super) fn board(construction: &Construction<Length>, role: Role) -> &str {
        holding::material_for(construction, role, None)
    }
}
