//! The site: the measured place that the piece must stand in.

use serde::{Deserialize, Serialize};

use crate::expr::Dim;

/// The measured place. Site axes are the axes of everything: X from the left end of the wall, Y from the floor, Z from
/// the wall towards the person.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Site<L = Dim> {
    /// The recess that the piece stands in, if it stands in one.
    #[serde(default = "Option::default", skip_serializing_if = "Option::is_none")]
    pub niche: Option<Niche<L>>,
    /// Solid things in the room that moving parts must clear.
    #[serde(default = "Vec::new", skip_serializing_if = "Vec::is_empty")]
    pub obstacles: Vec<Obstacle<L>>,
    /// A neighbouring worktop that the piece should line up with.
    #[serde(default = "Option::default", skip_serializing_if = "Option::is_none")]
    pub neighbour_worktop: Option<NeighbourWorktop<L>>,
    /// Floor survey: heights at points.
    #[serde(default = "Vec::new", skip_serializing_if = "Vec::is_empty")]
    pub floor: Vec<FloorPoint<L>>,
    /// Survey of the walls: where they really stand, at points.
    #[serde(default = "Vec::new", skip_serializing_if = "Vec::is_empty")]
    pub walls: Vec<WallPoint<L>>,
}

/// Whether nothing is known of the site.
pub(super) fn is_bare<L>(site: &Site<L>) -> bool {
    let Site { niche, obstacles, neighbour_worktop, floor, walls } = site;
    niche.is_none() && obstacles.is_empty() && neighbour_worktop.is_none() && floor.is_empty() && walls.is_empty()
}

impl<L> Default for Site<L> {
    fn default() -> Self {
        Self { niche: None, obstacles: Vec::new(), neighbour_worktop: None, floor: Vec::new(), walls: Vec::new() }
    }
}

/// The recess that the piece stands in; its left rear floor corner is the origin of the site.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Niche<L = Dim> {
    /// Smallest clear width.
    pub width: L,
    /// Clear height, if something limits it.
    #[serde(default = "Option::default", skip_serializing_if = "Option::is_none")]
    pub height: Option<L>,
    /// What ends it above, if that is not the ceiling of the room: a window sill, a beam. In a niche lower than 2000 mm an
    /// obstacle whose underside is there needs no name here, if it runs across the niche or the piece and hangs 80 mm or more
    /// over it. What is no ceiling reaches as far out as the niche, or as the piece, is deep.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub above: Option<String>,
    /// Depth, if something limits it.
    #[serde(default = "Option::default", skip_serializing_if = "Option::is_none")]
    pub depth: Option<L>,
    /// Whether a wall closes the left end.
    #[serde(default = "yes", skip_serializing_if = "is_yes")]
    pub left_wall: bool,
    /// Whether a wall closes the right end.
    #[serde(default = "yes", skip_serializing_if = "is_yes")]
    pub right_wall: bool,
}

const fn yes() -> bool {
    true
}

fn is_yes(value: &bool) -> bool {
    *value
}

/// What kind of obstacle it is; decides words and drawing only.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum ObstacleKind {
    /// A room heater.
    Radiator,
    /// A valve or tap.
    Valve,
    /// A pipe, or the box round one.
    Pipe,
    /// A socket or switch.
    Socket,
    /// A window sill.
    Sill,
    /// A skirting board.
    Skirting,
    /// A door leaf or its frame.
    Door,
    /// Anything else.
    #[default]
    Other,
}

impl ObstacleKind {
    /// All of them.
    pub const ALL: [Self; 8] =
        [Self::Radiator, Self::Valve, Self::Pipe, Self::Socket, Self::Sill, Self::Skirting, Self::Door, Self::Other];
}

/// An obstacle in the room: a box, or a convex outline within it.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Obstacle<L = Dim> {
    /// Its name, unique among obstacles.
    pub name: String,
    /// What it is.
    #[serde(default, skip_serializing_if = "super::is_default")]
    pub kind: ObstacleKind,
    /// Its left, lower, rear corner in site axes.
    pub corner: (L, L, L),
    /// Its size along X, Y and Z.
    pub size: (L, L, L),
    /// Distance that moving parts keep from it.
    #[serde(default = "Option::default", skip_serializing_if = "Option::is_none")]
    pub keep_clear: Option<L>,
    /// What it is within that box, if it does not fill it.
    #[serde(default = "fills", skip_serializing_if = "is_filled")]
    pub shape: ObstacleShape<L>,
    /// How it swings, if it is the leaf of a door; corner and size are those of the shut leaf.
    #[serde(default = "Option::default", skip_serializing_if = "Option::is_none")]
    pub swing: Option<Swing<L>>,
}

fn fills<L>() -> ObstacleShape<L> {
    ObstacleShape::Box
}

fn is_filled<L>(shape: &ObstacleShape<L>) -> bool {
    matches!(shape, ObstacleShape::Box)
}

/// What an obstacle is within its box. Outlines are convex; what lies between their points is counted in.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub enum ObstacleShape<L = Dim> {
    /// All of it.
    #[default]
    Box,
    /// An outline in plan, as high as the box: points (X, Z) from its corner.
    Upright(Vec<(L, L)>),
    /// An outline in the side section, as wide as the box: points (Z, Y) from its corner.
    Lengthwise(Vec<(L, L)>),
}

/// How the leaf of a door swings.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Swing<L = Dim> {
    /// Its hinges in plan: (X, Z) in site axes.
    pub about: (L, L),
    /// How far it opens, degrees: positive from X towards Z, which is clockwise seen from above.
    pub opens_deg: f64,
}

/// A neighbouring worktop that the piece should line up with.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct NeighbourWorktop<L = Dim> {
    /// Height of its upper face above the floor.
    pub height: L,
    /// Its thickness.
    pub thickness: L,
    /// Its front edge, from the wall.
    pub depth: L,
    /// Whether it is at the left of the piece; else at the right.
    #[serde(default, skip_serializing_if = "super::is_default")]
    pub on_left: bool,
}

/// One point of the floor survey.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct FloorPoint<L = Dim> {
    /// Along the wall.
    pub x: L,
    /// Out from the wall.
    pub z: L,
    /// Height of the floor there; negative where it is low.
    pub height: L,
}

/// A wall of the site.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub enum SiteWall {
    /// At the left end.
    Left,
    /// At the right end.
    Right,
    /// Behind.
    Rear,
    /// Above: a ceiling, a soffit.
    Above,
}

/// One point of the survey of the walls: where the surface is, in site axes.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct WallPoint<L = Dim> {
    /// Which wall.
    pub wall: SiteWall,
    /// The point on its surface.
    pub at: (L, L, L),
}
