//! Outlines of obstacles: within their box, and round some area. An outline that reached out of its box would stand
//! elsewhere than the box that is drawn and measured, so that a collision could go unseen.

use super::Check;
use crate::{
    Length,
    design::{ObstacleShape, Resolved},
    text::{FieldPath, Segment},
};

impl Check<'_, '_> {
    pub(super) fn outlines(&mut self, resolved: &Resolved) {
        for (i, obstacle) in resolved.site.obstacles.iter().enumerate() {
            let (width, height, depth) = obstacle.size;
            let (points, extent, axes) = match &obstacle.shape {
                ObstacleShape::Box => continue,
                ObstacleShape::Upright(points) => (points, (width, depth), ("width", "depth")),
                ObstacleShape::Lengthwise(points) => (points, (depth, height), ("depth", "height")),
            };
            let path = FieldPath::root().field("site").field("obstacles").index(i).field("shape");
            // A size or point that could not be read stands as zero and has a fault of its own.
            if self.has_fault_below(&FieldPath::root().field("site").field("obstacles").index(i)) {
                continue;
            }
            for (k, &(a, b)) in points.iter().enumerate() {
                let inside = |at: Length, most: Length| (Length::ZERO..=most).contains(&at);
                if !inside(a, extent.0) || !inside(b, extent.1) {
                    let cause = format!("this point lies outside the box of the obstacle {:?}", obstacle.name);
                    let mend = format!(
                        "write points from its corner: 0 to {} over the {}, 0 to {} over the {}; or make `size` larger",
                        self.say(extent.0),
                        axes.0,
                        self.say(extent.1),
                        axes.1,
                    );
                    self.fault(&path.index(k), cause, mend);
                }
            }
            if !encloses(points) {
                let cause = format!("the outline of the obstacle {:?} encloses no area", obstacle.name);
                self.fault(&path, cause, "write three points or more that are not in one line, or leave out `shape`");
            }
        }
    }

    fn has_fault_below(&self, path: &FieldPath) -> bool {
        let above: &[Segment] = path.segments();
        self.faults.iter().any(|it| it.path.as_ref().is_some_and(|it| it.segments().starts_with(above)))
    }
}

/// Whether some three of the points are not in one line.
fn encloses(points: &[(Length, Length)]) -> bool {
    let Some((&first, rest)) = points.split_first() else { return false };
    let from = |it: &(Length, Length)| (i128::from((it.0 - first.0).nm()), i128::from((it.1 - first.1).nm()));
    let Some(along) = rest.iter().map(from).find(|&it| it != (0, 0)) else { return false };
    rest.iter().map(from).any(|it| along.0 * it.1 != along.1 * it.0)
}
