//! What is to be minded of a worktop: radii against the router bit and the slab, strips beside cut-outs, banding, boards.

use kurbo::Shape;

use super::outline::{Outline, Side};
use crate::design::{Resolved, TopShape};
use crate::length::Length;

/// Diameter of the router bit where the design does not say (common practice).
const BIT: Length = Length::from_mm(12);
/// Least radius in the corner of a cut-out in a slab of solid wood or board (common practice, from memory).
const LEAST_CORNER: Length = Length::from_mm(6);
/// Least strip that is left beside a cut-out (common practice, from memory).
const LEAST_STRIP_MM: f64 = 50.0;

/// One thing to mind.
#[derive(Clone, Debug, PartialEq)]
pub struct TopFinding {
    /// What was found.
    pub what: String,
    /// What would mend it.
    pub mend: String,
}

/// Everything to mind about an outline.
#[must_use]
pub fn findings(shape: &TopShape<Length>, outline: &Outline) -> Vec<TopFinding> {
    let mut list = Vec::new();
    let bit = shape.router_bit.unwrap_or(BIT).mm() / 2.0;
    if let Some(radius) = outline.least_inner_radius()
        && radius < bit
    {
        list.push(TopFinding {
            what: format!("the hollow of the edge has a radius of {radius:.1} mm, the bit {bit:.1} mm"),
            mend: "take a thinner bit, or a longer transition".to_owned(),
        });
    }
    for (name, path, radius) in &outline.cut_outs {
        let needed = LEAST_CORNER.mm().max(bit);
        if *radius < needed {
            list.push(TopFinding {
                what: format!("the corners of the opening for {name} have a radius of {radius:.1} mm"),
                mend: format!("make it {needed:.1} mm or more: the bit leaves that, and sharper corners tear"),
            });
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
            list.push(TopFinding {
                what: format!("only {strip:.0} mm are left beside the opening for {name}"),
                mend: format!("keep {LEAST_STRIP_MM:.0} mm, or support the strip from below"),
            });
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

    /// The boards of the worktop's material out of which it can be cut in one piece, with the fitting ones' names.
    #[must_use]
    pub fn boards<'d>(&self, design: &'d Resolved) -> Vec<&'d str> {
        let Some(worktop) = &design.carcass.worktop else { return Vec::new() };
        let need = self.edge.bounding_box();
        let grain = design.materials.get(&worktop.board).is_some_and(|it| it.grain);
        let fits = |length: f64, width: f64| need.width() <= length && need.height() <= width;
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
