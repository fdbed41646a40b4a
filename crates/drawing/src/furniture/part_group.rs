//! Which parts are the same piece, and which are mirrored: each different piece is drawn once.

use casewright_core::Length;
use casewright_core::assembly::{Grain, Machining, Part, PartEdge, PartFace};

/// One piece to draw, with all parts that are made after it.
#[derive(Clone, Debug, PartialEq)]
pub struct PartGroup<'a> {
    /// The part that is drawn.
    pub drawn: &'a Part,
    /// Parts that are exactly the same.
    pub same: Vec<&'a Part>,
    /// Parts that are the same with both faces changed, measured from the same datum corner.
    pub mirrored: Vec<&'a Part>,
    /// Parts with drawings of their own whose length or width runs the other way.
    pub counterparts: Vec<&'a Part>,
}

impl PartGroup<'_> {
    /// How many pieces are made after the drawing.
    #[must_use]
    pub fn count(&self) -> usize {
        1 + self.same.len() + self.mirrored.len()
    }
}

/// All different pieces, in the order of the parts list.
#[must_use]
pub fn part_groups(parts: &[Part]) -> Vec<PartGroup<'_>> {
    let mut groups: Vec<(PartGroup<'_>, Shape, Shape)> = Vec::new();
    for part in parts {
        let shape = Shape::of(part, Mirror::None);
        if let Some((group, ..)) = groups.iter_mut().find(|(_, same, _)| *same == shape) {
            group.same.push(part);
        } else if let Some((group, ..)) = groups.iter_mut().find(|(.., mirrored)| *mirrored == shape) {
            group.mirrored.push(part);
        } else {
            let group = PartGroup { drawn: part, same: Vec::new(), mirrored: Vec::new(), counterparts: Vec::new() };
            groups.push((group, shape, Shape::of(part, Mirror::Faces)));
        }
    }
    let drawn: Vec<&Part> = groups.iter().map(|(group, ..)| group.drawn).collect();
    for (group, shape, _) in &mut groups {
        let is_counterpart = |part: &&&Part| {
            part.number != group.drawn.number
                && [Mirror::Length, Mirror::Width].into_iter().any(|mirror| Shape::of(part, mirror) == *shape)
        };
        group.counterparts = drawn.iter().filter(is_counterpart).copied().collect();
    }
    groups.into_iter().map(|(group, ..)| group).collect()
}

/// What is changed about a part before it is compared.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Mirror {
    None,
    /// Over and under change places.
    Faces,
    /// Start and end change places.
    Length,
    /// Near and far change places.
    Width,
}

/// All that makes one piece like another: sizes in nanometres, what is cut into it in a fixed order, its edges.
#[derive(PartialEq, Eq)]
struct Shape {
    material: String,
    along_grain: bool,
    size: [Length; 3],
    bands: Vec<(PartEdge, String)>,
    cuts: Vec<(PartFace, [Length; 6])>,
    /// A part that is no rectangle is like no other.
    outline_of: Option<String>,
}

impl Shape {
    fn of(part: &Part, mirror: Mirror) -> Self {
        let size = part.finished;
        let mut bands: Vec<(PartEdge, String)> =
            part.bands.iter().map(|band| (mirrored_edge(band.edge, mirror), band.name.clone())).collect();
        bands.sort();
        let mut cuts: Vec<(PartFace, [Length; 6])> =
            part.machining.iter().map(|machining| cut(part, machining, mirror)).collect();
        cuts.sort();
        Self {
            material: part.material.clone(),
            along_grain: part.grain == Grain::AlongLength,
            size: [size.length, size.width, size.thickness],
            bands,
            cuts,
            outline_of: part.outline.is_some().then(|| part.number.clone()),
        }
    }
}

/// A cut as a face and numbers: both corners of its rectangle, diameter and depth (less than nothing: through).
fn cut(part: &Part, machining: &Machining, mirror: Mirror) -> (PartFace, [Length; 6]) {
    let (face, from, to, diameter, depth) = match machining {
        Machining::Hole(hole) => (hole.face, hole.at, hole.at, hole.diameter, hole.depth),
        Machining::Groove(groove) => (groove.face, groove.from, groove.to, Length::ZERO, Some(groove.depth)),
    };
    let (face, from, to) = mirrored_place(part, (face, from, to), mirror);
    // A hole right through is the same from both faces.
    let (face, depth) = match (face, depth) {
        (PartFace::Under, None) => (PartFace::Over, Length::from_nm(-1)),
        (face, depth) => (face, depth.unwrap_or(Length::from_nm(-1))),
    };
    (face, [from.0, from.1, to.0, to.1, diameter, depth])
}

type Corner = (Length, Length);

fn mirrored_place(part: &Part, place: (PartFace, Corner, Corner), mirror: Mirror) -> (PartFace, Corner, Corner) {
    let (face, from, to) = place;
    let size = part.finished;
    // Whether each of the two coordinates on this face runs the other way, and over which length.
    let (first, second) = match face {
        PartFace::Under | PartFace::Over => {
            ((mirror == Mirror::Length).then_some(size.length), (mirror == Mirror::Width).then_some(size.width))
        }
        PartFace::Edge(PartEdge::Near | PartEdge::Far) => {
            ((mirror == Mirror::Length).then_some(size.length), (mirror == Mirror::Faces).then_some(size.thickness))
        }
        PartFace::Edge(PartEdge::Start | PartEdge::End) => {
            ((mirror == Mirror::Width).then_some(size.width), (mirror == Mirror::Faces).then_some(size.thickness))
        }
    };
    let turn = |from: Length, to: Length, over: Option<Length>| match over {
        Some(whole) => (whole - to, whole - from),
        None => (from, to),
    };
    let (u, v) = (turn(from.0, to.0, first), turn(from.1, to.1, second));
    let face = match face {
        PartFace::Under if mirror == Mirror::Faces => PartFace::Over,
        PartFace::Over if mirror == Mirror::Faces => PartFace::Under,
        PartFace::Edge(edge) => PartFace::Edge(mirrored_edge(edge, mirror)),
        other => other,
    };
    (face, (u.0, v.0), (u.1, v.1))
}

const fn mirrored_edge(edge: PartEdge, mirror: Mirror) -> PartEdge {
    match (edge, mirror) {
        (PartEdge::Start, Mirror::Length) => PartEdge::End,
        (PartEdge::End, Mirror::Length) => PartEdge::Start,
        (PartEdge::Near, Mirror::Width) => PartEdge::Far,
        (PartEdge::Far, Mirror::Width) => PartEdge::Near,
        (edge, _) => edge,
    }
}
