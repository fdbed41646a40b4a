//! The Layout: where everything lies once the sizes are solved. Panels, bays and things as boxes, still without joints,
//! banding or part numbers.

use serde::Serialize;

use crate::design::{Holding, Role};
use crate::geometry::Cuboid;
use crate::length::Length;
use crate::text::FieldPath;

/// Where everything lies. All boxes are in world axes.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Layout {
    /// The outside box: stand and worktop thickness included, worktop overhangs not.
    pub envelope: Cuboid,
    /// The shells: the carcass first, then each boxed bay in the order of the tree.
    pub shells: Vec<LaidShell>,
    /// The panels of all shells and divisions.
    pub panels: Vec<LaidPanel>,
    /// All bays in the order of the tree, each before what it is divided into.
    pub bays: Vec<LaidBay>,
    /// The things with their places.
    pub things: Vec<LaidThing>,
    /// Discrete choices that were taken.
    pub choices: Vec<Choice>,
}

impl Layout {
    /// The bay of this name.
    #[must_use]
    pub fn bay(&self, name: &str) -> Option<&LaidBay> {
        self.bays.iter().find(|bay| bay.name == name)
    }
}

/// One shell: sides, bottom, top and back round a bay.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct LaidShell {
    /// The name of the bay that it wraps.
    pub name: String,
    /// Where its construction stands in the file.
    pub construction: FieldPath,
    /// Outside of its panels, applied back included; no fronts, no stand, no worktop.
    pub outer: Cuboid,
    /// The clear space inside.
    pub inner: Cuboid,
}

/// A panel of a shell or of a division, as a box.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct LaidPanel {
    /// A stable id: the role and the bay that it belongs to, such as `shelf over drawer`.
    pub id: String,
    /// What it does.
    pub role: Role,
    /// Where it lies. A grooved back is given with its edges inside the grooves.
    pub cuboid: Cuboid,
    /// The name of its material.
    pub material: String,
    /// Index into [`Layout::shells`].
    pub shell: usize,
    /// The name of the bay that it belongs to: for a divider the bay before it (left of it or under it), for a loose
    /// shelf the bay that it lies in, for shell panels the bay inside.
    pub bay: String,
    /// Whether it lies loose on pins.
    pub loose: bool,
}

/// What closes a bay on one side.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub enum Closing {
    /// This panel, an index into [`Layout::panels`].
    Panel(usize),
    /// Nothing: another bay, the outside, or the room.
    Nothing,
}

/// A bay with its clear opening.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct LaidBay {
    /// Its name.
    pub name: String,
    /// Where it stands in the file.
    pub path: FieldPath,
    /// Index of the bay that it is a part of, into [`Layout::bays`].
    pub parent: Option<usize>,
    /// How many bays it is nested in.
    pub depth: usize,
    /// Index into [`Layout::shells`].
    pub shell: usize,
    /// The clear space: between the panels that close it, from the back to the front edge of the shell.
    pub clear: Cuboid,
    /// What closes it at the left, right, below and above.
    pub closed_by: [Closing; 4],
    /// Whether it is not divided further.
    pub is_leaf: bool,
}

/// A thing in its place.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct LaidThing {
    /// Its name.
    pub name: String,
    /// Index into [`Layout::bays`].
    pub bay: usize,
    /// The thing itself.
    pub cuboid: Cuboid,
    /// The thing with the air that it needs.
    pub with_air: Cuboid,
    /// Whether it stands turned by a quarter.
    pub turned: bool,
    /// What carries it.
    pub holding: Holding<Length>,
}

/// A discrete choice that the solver took.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Choice {
    /// What was to be chosen, in words.
    pub what: String,
    /// What was taken.
    pub taken: String,
    /// What came next, and why it was not taken.
    pub next: Option<String>,
}
