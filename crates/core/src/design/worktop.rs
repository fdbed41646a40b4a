//! The worktop: a slab, and what its outline follows where that is more than a rectangle.

use serde::{Deserialize, Serialize};

use crate::expr::Dim;

/// What the outline of a worktop follows beyond its overhangs.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct TopShape<L = Dim> {
    /// The wall behind, measured: stations along it from the left end of the site, each with how far the wall stands
    /// out from the straight line of the site there. The rear edge follows it as a smooth curve.
    #[serde(default = "Vec::new", skip_serializing_if = "Vec::is_empty")]
    pub wall: Vec<(L, L)>,
    /// How far the curve may be from the measured stations; 0.5 mm if not given.
    #[serde(default = "none", skip_serializing_if = "Option::is_none")]
    pub within: Option<L>,
    /// Radius of the left and of the right front corner; square where not given.
    #[serde(default = "two_nones", skip_serializing_if = "both_none")]
    pub corners: (Option<L>, Option<L>),
    /// Depth at the right end where it differs from the left one, with the length of the transition that blends them.
    #[serde(default = "two", skip_serializing_if = "Option::is_none")]
    pub step: Option<FrontStep<L>>,
    /// Openings in the slab.
    #[serde(default = "Vec::new", skip_serializing_if = "Vec::is_empty")]
    pub cut_outs: Vec<CutOut<L>>,
    /// Diameter of the router bit that follows the outline; 12 mm if not given.
    #[serde(default = "none", skip_serializing_if = "Option::is_none")]
    pub router_bit: Option<L>,
}

/// A front edge that changes its depth: straight, a smooth transition, straight again.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct FrontStep<L = Dim> {
    /// Where the transition begins, from the left end of the worktop.
    pub from: L,
    /// How far it takes along the front.
    pub length: L,
    /// How much further out the right part stands; negative if further in.
    pub out: L,
}

/// An opening in a worktop.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct CutOut<L = Dim> {
    /// What goes in.
    pub name: String,
    /// Its left rear corner: from the left end and from the rear edge line of the worktop.
    pub corner: (L, L),
    /// Its width and depth.
    pub size: (L, L),
    /// Radius of its corners: sharp inner corners tear.
    pub radius: L,
}

fn none<L>() -> Option<L> {
    None
}

fn two<L>() -> Option<FrontStep<L>> {
    None
}

fn two_nones<L>() -> (Option<L>, Option<L>) {
    (None, None)
}

fn both_none<L>(corners: &(Option<L>, Option<L>)) -> bool {
    corners.0.is_none() && corners.1.is_none()
}
