//! What is to be minded of a worktop: radii against the router bit and the slab, strips beside cut-outs, banding, boards.

use kurbo::Shape;

use super::outline::{Outline, Side};
use super::pieces::TopPiece;
use crate::design::{Resolved, TopShape};
use crate::length::Length;

/// Diameter of the router bit where the design does not say (common practice).
const BIT: Length = Length::from_mm(12);
/// Least radius in the corner of a cut-out in a slab of solid wood or board (common practice, from memory).
const LEAST_CORNER: Length = Length::from_mm(6);
/// Least strip that is left beside a cut-out (common practice, from memory).
const LEAST_STRIP_MM: f64 = 50.0;

/// Least distance of a joint from a cut-out (common practice, from memory).
const JOINT_CLEAR_MM: f64 = 100.0;

/// One thing to mind.
#[derive(Clone, Debug, PartialEq)]
pub struct TopFinding {
    /// What was found.
    pub what: String,
    /// What it measures.
    pub measured: String,
    /// What it should at least measure.
    pub limit: String,
    /// What would mend it.
    pub mend: String,
}

/// Everything to mind about an outline; `say` writes a length in millimetres.
#[must_use]
pub fn findings(shape: &TopShape<Length>, outline: &Outline, say: &dyn Fn(f64) -> String) -> Vec<TopFinding> {
    let mut list = Vec::new();
    let mut add = |what: String, measured: f64, limit: f64, mend: &str| {
        list.push(TopFinding { what, measured: say(measured), limit: say(limit), mend: mend.to_owned() });
    };
    let bit = shape.router_bit.unwrap_or(BIT).mm() / 2.0;
    if let Some(radius) = outline.least_inner_radius()
        && radius < bit
    {
        let what = "a hollow of the worktop's edge is tighter than the router bit".to_owned();
        add(what, radius, bit, "take a thinner bit, or a longer transition");
    }
    for (name, path, radius) in &outline.cut_outs {
        let needed = LEAST_CORNER.mm().max(bit);
        if *radius < needed {
            let what = format!("the corners of the opening for {name} are tighter than a bit leaves them");
            add(what, *radius, needed, "a larger radius: sharper corners tear");
        }
        let hole = path.bounding_box();
        // A strip is as narrow as the slab's outline is near: walk along the edge.
        let strip = outline
            .edge
            .segments()
            .flat_map(|segment| (0..=16).map(move |step| kurbo::ParamCurve::eval(&segment, f64::from(step) / 16.0)))
            .map(|point| {
                let dx = (hole.x0 - point.x).max(point.x - hole.x1).max(0.0);
                let dy = (hole.y0 - point.y).max(point.y - hole.y1).max(0.0);
                dx.hypot(dy)
            })
            .fold(f64::MAX, f64::min);
        if strip < LEAST_STRIP_MM {
            let what = format!("little is left of the worktop beside the opening for {name}");
            add(what, strip, LEAST_STRIP_MM, "move the opening, or support the strip from below");
        }
        for joint in &shape.joints {
            let x = outline.slab.x0 + joint.mm();
            let clear = (hole.x0 - x).max(x - hole.x1);
            if clear < JOINT_CLEAR_MM {
                let what = format!("a joint of the worktop comes near the opening for {name}");
                add(what, clear.max(0.0), JOINT_CLEAR_MM, "join the worktop elsewhere");
            }
        }
    }
    list
}

impl Outline {
    /// Length of edge banding: the front, and the ends that no wall or neighbour covers, millimetres.
    #[must_use]
    pub fn banding(&self, design: &Resolved) -> f64 {
        let site = &design.site;
        let (mut left, mut right) = match &site.niche {
            Some(niche) => (niche.left_wall, niche.right_wall),
            None => (false, false),
        };
        if let Some(neighbour) = &site.neighbour_worktop {
            left |= neighbour.on_left;
            right |= !neighbour.on_left;
        }
        let end = |covered: bool, side: Side| if covered { 0.0 } else { self.length(side) };
        self.length(Side::Front) + end(left, Side::Left) + end(right, Side::Right)
    }
}

impl TopPiece {
    /// The boards of the worktop's material out of which it can be cut, by name.
    #[must_use]
    pub fn boards<'d>(&self, design: &'d Resolved) -> Vec<&'d str> {
        let Some(worktop) = &design.carcass.worktop else { return Vec::new() };
        let grain = design.materials.get(&worktop.board).is_some_and(|it| it.grain);
        let fits = |length: f64, width: f64| self.blank.width() <= length && self.blank.height() <= width;
        let boards = design.boards.iter().filter(|board| board.material == worktop.board);
        boards
            .filter(|board| {
                let (length, width) = (board.size.0.mm(), board.size.1.mm());
                fits(length, width) || (!grain && fits(width, length))
            })
            .map(|board| board.name.as_str())
            .collect()
    }
}
