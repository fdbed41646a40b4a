//! What one axis is asked: unknown positions, the musts that bind them and the wishes that pull on them.

use crate::Length;

/// An unknown position on the axis, by its place in the order of [`AxisProblem::add_var`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct VarId(pub usize);

/// A must, by its place in [`AxisProblem::musts`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct MustId(pub usize);

/// A wish, by its place in [`AxisProblem::wishes`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct WishId(pub usize);

/// A face of a panel: an unknown position plus an offset, or a fixed position when there is no unknown.
///
/// A divider is one unknown for its low face; its high face is the same unknown with the thickness as offset.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Face {
    /// The unknown that carries the face; none for a face that stands still.
    pub var: Option<VarId>,
    /// The distance from the unknown to the face, or the fixed position.
    pub offset: Length,
}

impl Face {
    /// A face that stands still at `position`.
    #[must_use]
    pub const fn fixed(position: Length) -> Self {
        Self { var: None, offset: position }
    }

    /// The face at the unknown itself.
    #[must_use]
    pub const fn at(var: VarId) -> Self {
        Self { var: Some(var), offset: Length::ZERO }
    }

    /// The face `offset` further along the axis.
    #[must_use]
    pub fn plus(self, offset: Length) -> Self {
        Self { var: self.var, offset: self.offset + offset }
    }
}

/// A size: the position of the high face, less the position of the low face, plus a constant.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Span {
    /// The face at the low end.
    pub lo: Face,
    /// The face at the high end.
    pub hi: Face,
    /// What is added to the distance between the faces.
    pub constant: Length,
}

impl Span {
    /// The distance from `lo` up to `hi`.
    #[must_use]
    pub const fn between(lo: Face, hi: Face) -> Self {
        Self { lo, hi, constant: Length::ZERO }
    }

    /// The same size with `constant` added.
    #[must_use]
    pub fn plus(self, constant: Length) -> Self {
        Self { constant: self.constant + constant, ..self }
    }
}

/// What a must demands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum MustKind {
    /// The size is no smaller than the length.
    AtLeast(Span, Length),
    /// The size is no larger than the length.
    AtMost(Span, Length),
    /// The size is exactly the length.
    Exactly(Span, Length),
    /// Both sizes are the same. Before rounding exactly; after rounding within one step, because positions are
    /// rounded and sizes are their differences. Where the other musts already fix the difference of the sizes or tie
    /// the positions rigidly, equality stays exact.
    Equal(Span, Span),
    /// Both faces lie at the same position, exactly.
    InLine(Face, Face),
}

/// A hard demand.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Must {
    /// What is demanded.
    pub kind: MustKind,
    /// The caller's own mark; the solver hands it back and reads nothing into it.
    pub label: usize,
    /// Whether a mend may change it. The order of panels along the axis, for instance, may not be given up.
    pub relaxable: bool,
    /// Whether a conflict names it only where the others can hold together: what follows from a choice that could be
    /// another is not to blame for what cannot be built anyway.
    pub blamed_last: bool,
}

/// What a wish would like.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum WishKind {
    /// The size is near the target. Residual: size - target, in millimetres.
    Size {
        /// The size that is pulled.
        span: Span,
        /// Where to.
        target: Length,
    },
    /// The two sizes stand in the proportion `share_a : share_b`.
    /// Residual: (`share_b` a - `share_a` b) / (`share_a` + `share_b`), in millimetres. When a + b is fixed, that is how far the
    /// divider between them stands from its ideal place; it does not change when both shares are scaled.
    /// Two zero shares wish for nothing.
    Proportion {
        /// The first size.
        a: Span,
        /// Its share, zero or more.
        share_a: f64,
        /// The second size.
        b: Span,
        /// Its share, zero or more.
        share_b: f64,
    },
    /// The face is near the position. Residual: face - position, in millimetres.
    Position {
        /// The face that is pulled.
        face: Face,
        /// Where to.
        position: Length,
    },
}

/// A soft demand: it adds weight x residual² / 2 to the sum that the solver makes small.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Wish {
    /// What is wished.
    pub kind: WishKind,
    /// How much it counts, up to 1e12; below 1e-12 it wishes for nothing. A weight below a millionth of the heaviest counts
    /// as a millionth.
    pub weight: f64,
    /// The caller's own mark.
    pub label: usize,
}

/// Everything that is asked of one axis.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct AxisProblem {
    /// How many unknown positions there are.
    pub vars: usize,
    /// The hard demands.
    pub musts: Vec<Must>,
    /// The soft demands.
    pub wishes: Vec<Wish>,
    /// The step of the design's unit: where nothing forbids it, positions become whole multiples of it.
    pub step: Length,
}

impl AxisProblem {
    /// A problem without unknowns or demands.
    #[must_use]
    pub fn new(step: Length) -> Self {
        Self { step, ..Self::default() }
    }

    /// A further unknown position.
    pub fn add_var(&mut self) -> VarId {
        self.vars += 1;
        VarId(self.vars - 1)
    }

    /// A further must.
    pub fn must(&mut self, kind: MustKind, label: usize, relaxable: bool) -> MustId {
        self.musts.push(Must { kind, label, relaxable, blamed_last: false });
        MustId(self.musts.len() - 1)
    }

    /// A further must that a mend may change, named in conflicts only where the others can hold together.
    pub fn must_blamed_last(&mut self, kind: MustKind, label: usize) -> MustId {
        self.musts.push(Must { kind, label, relaxable: true, blamed_last: true });
        MustId(self.musts.len() - 1)
    }

    /// A further wish.
    pub fn wish(&mut self, kind: WishKind, weight: f64, label: usize) -> WishId {
        self.wishes.push(Wish { kind, weight, label });
        WishId(self.wishes.len() - 1)
    }
}
