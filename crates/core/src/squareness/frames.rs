//! All rectangles whose diagonals can be measured: boxes outside, drawers, and openings.

use std::collections::BTreeMap;

use serde::Serialize;

use super::diagonal;
use crate::assembly::Assembly;
use crate::design::Role;
use crate::geometry::{Axis, Cuboid};
use crate::layout::Layout;
use crate::length::Length;

/// A rectangle with its nominal diagonal.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Frame {
    /// What it is, such as `opening of linen`.
    pub name: String,
    /// The bay whose opening it is, if it is one.
    pub opening_of: Option<String>,
    /// From left to right.
    pub width: Length,
    /// From bottom to top; of a drawer, from rear to front.
    pub height: Length,
    /// Both diagonals, to a tenth of a millimetre.
    pub diagonal: Length,
}

impl Frame {
    fn of(name: String, cuboid: &Cuboid, axes: [Axis; 2]) -> Option<Self> {
        let [width, height] = axes.map(|axis| cuboid.size(axis));
        let is_frame = width > Length::ZERO && height > Length::ZERO;
        is_frame.then(|| Self { name, opening_of: None, width, height, diagonal: diagonal(width, height) })
    }

    /// How far the gap beside a front of the frame's height runs out for each millimetre by which its diagonals differ, mm.
    ///
    /// For small angles sin φ = 2 d Δ / 4wh with Δ the difference, so over the height h it is d Δ / 2w.
    #[must_use]
    pub fn runs_out_per_mm(&self) -> f64 {
        self.diagonal.mm() / (2.0 * self.width.mm())
    }
}

/// The outside of every box and drawer, and every undivided opening, in the order of the piece.
#[must_use]
pub fn frames(layout: &Layout, assembly: &Assembly) -> Vec<Frame> {
    let mut boxes: Vec<(String, Cuboid, [Axis; 2])> = Vec::new();
    let mut index: BTreeMap<String, usize> = BTreeMap::new();
    let shell = [Role::Side, Role::Bottom, Role::Top, Role::Rail];
    let drawer = [Role::DrawerSide, Role::DrawerEnd];
    for part in &assembly.parts {
        let (name, axes) = if shell.contains(&part.role) {
            (format!("{}, outside", part.bay), [Axis::X, Axis::Y])
        } else if drawer.contains(&part.role) {
            (format!("drawer {}, outside, from above", part.bay), [Axis::X, Axis::Z])
        } else {
            continue;
        };
        match index.get(&name).and_then(|&at| boxes.get_mut(at)) {
            Some((_, cuboid, _)) => *cuboid = cuboid.union(&part.cuboid),
            None => {
                index.insert(name.clone(), boxes.len());
                boxes.push((name, part.cuboid, axes));
            }
        }
    }
    let outside = boxes.into_iter().filter_map(|(name, cuboid, axes)| Frame::of(name, &cuboid, axes));
    let openings = layout.bays.iter().filter(|bay| bay.is_leaf);
    let inside = openings.filter_map(|bay| {
        let frame = Frame::of(format!("opening of {}", bay.name), &bay.clear, [Axis::X, Axis::Y])?;
        Some(Frame { opening_of: Some(bay.name.clone()), ..frame })
    });
    outside.chain(inside).collect()
}
