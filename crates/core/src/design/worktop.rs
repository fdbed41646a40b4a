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
    #[serde(default = "Option::default", skip_serializing_if = "Option::is_none")]
    pub within: Option<L>,
    /// Radius of the left and of the right front corner; square where not given.
    #[serde(default = "two_nones", skip_serializing_if = "both_none")]
    pub corners: (Option<L>, Option<L>),
    /// Depth at the right end where it differs from the left one, with the length of the transition that blends them.
    #[serde(default = "Option::default", skip_serializing_if = "Option::is_none")]
    pub step: Option<FrontStep<L>>,
    /// The front edge from the left end to the right one where it is more than a step: points with straight lines or
    /// arcs between them. Where the first does not lie at the left end, or the last at the right one, the straight front
    /// goes on to there. Not beside `step`.
    #[serde(default = "Vec::new", skip_serializing_if = "Vec::is_empty")]
    pub front: Vec<FrontPoint<L>>,
    /// Where the slab is joined from several pieces, butted across its length: places from its left end.
    #[serde(default = "Vec::new", skip_serializing_if = "Vec::is_empty")]
    pub joints: Vec<L>,
    /// Openings in the slab.
    #[serde(default = "Vec::new", skip_serializing_if = "Vec::is_empty")]
    pub cut_outs: Vec<CutOut<L>>,
    /// Diameter of the router bit that follows the outline; 12 mm if not given.
    #[serde(default = "Option::default", skip_serializing_if = "Option::is_none")]
    pub router_bit: Option<L>,
}

impl<L> Default for TopShape<L> {
    fn default() -> Self {
        Self {
            wall: Vec::new(),
            within: None,
            corners: (None, None),
            step: None,
            front: Vec::new(),
            joints: Vec::new(),
            cut_outs: Vec::new(),
            router_bit: None,
        }
    }
}

/// A front edge that changes its depth: straight, a smooth transition, straight again.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct FrontStep<L = Dim> {
    /// Where the transition begins, from the left end of the worktop.
    pub from: L,
    /// How far it takes along the front; this or the radius.
    #[serde(default = "Option::default", skip_serializing_if = "Option::is_none")]
    pub length: Option<L>,
    /// The radius of its two arcs; this or the length.
    #[serde(default = "Option::default", skip_serializing_if = "Option::is_none")]
    pub radius: Option<L>,
    /// How much further out the right part stands; negative if further in.
    pub out: L,
}

/// A point of a front edge.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct FrontPoint<L = Dim> {
    /// From the left end of the worktop, and out from its straight front; negative if further in.
    pub at: (L, L),
    /// Radius of an arc that rounds the edge there, tangent to the lines on both sides.
    #[serde(default = "Option::default", skip_serializing_if = "Option::is_none")]
    pub round: Option<L>,
    /// How far the edge bows out between here and the next point, as an arc; negative if it is hollow. Straight if not
    /// given.
    #[serde(default = "Option::default", skip_serializing_if = "Option::is_none")]
    pub bow: Option<L>,
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

fn two_nones<L>() -> (Option<L>, Option<L>) {
    (None, None)
}

fn both_none<L>(corners: &(Option<L>, Option<L>)) -> bool {
    corners.0.is_none() && corners.1.is_none()
}
