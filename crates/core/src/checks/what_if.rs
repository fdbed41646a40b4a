//! What if: the same built piece with another load, other parts open, another board, another limit. For sliders in the
//! window: nothing is solved or built again, and the design stays as it is.

use serde::Serialize;

use super::carry::{Lying, bend, board, carry, part_section};
use super::context::Context;
use super::options::CheckOptions;
use super::sag::{PanelBend, bend_of};
use super::tipping::piece;
use crate::assembly::{Assembly, Part};
use crate::design::{Material, Resolved};
use crate::geometry::Axis;
use crate::layout::Layout;
use crate::length::Length;
use crate::mechanics::GRAVITY;
use crate::mechanics::beam::{Load, Section};
use crate::mechanics::materials::properties;
use crate::mechanics::tipping::{ASTM_CARPET_LIFT, Balance, Force, Ground, Piece};

/// What is asked.
#[derive(Clone, Debug, PartialEq)]
pub struct WhatIf {
    /// How much of what things hold and open shelves are asked to carry is there: 0 for empty, 1 as designed, 2 for double.
    pub load: f64,
    /// The movers that stand open, by their ids ([`crate::assembly::Mover::id`]); unknown ones count for nothing.
    pub open: Vec<String>,
    /// How far these stand open, from 0 to 1.
    pub opened: f64,
    /// A force pressing down on the front of the part that is opened furthest forwards, or on the front of the top, N.
    pub hand: f64,
    /// Whether it stands on soft carpet: the rear raised as by the carpet block of ASTM F2057-23.
    pub on_carpet: bool,
    /// Another board for one lying panel.
    pub board: Option<OtherBoard>,
    /// What else the checks go by: limits, growth of sag, load of shelves.
    pub options: CheckOptions,
}

/// Another board for one lying panel.
#[derive(Clone, Debug, PartialEq)]
pub struct OtherBoard {
    /// The panel, an index into the assembly's parts.
    pub part: usize,
    /// Its material; the thickness in it counts.
    pub material: Material<Length>,
}

/// What then holds.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Then {
    /// How every lying panel bends, from the top down, as in [`super::bends`].
    pub bends: Vec<PanelBend>,
    /// How it stands; none if it has no free edge to tip over.
    pub stands: Option<Standing>,
}

/// How a piece stands.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Standing {
    /// The balance about the edge that has least left.
    pub balance: Balance,
    /// Whether it stands.
    pub stands: bool,
    /// The centre of all masses, with open parts where they are, mm in world axes.
    pub centre: [f64; 3],
    /// How far the centre of masses and forces lies inside that edge, mm; negative outside.
    pub inside: f64,
    /// The place that the hand presses on, mm in world axes.
    pub hand_at: [f64; 3],
    /// The whole force of the hand there that tips it over that edge, N; infinite if none does.
    pub tips_at: f64,
    /// The pull that a fixing at the top must hold, N; nothing while it stands.
    pub wall_pull: f64,
}

impl Default for WhatIf {
    fn default() -> Self {
        Self {
            load: 1.0,
            open: Vec::new(),
            opened: 1.0,
            hand: 0.0,
            on_carpet: false,
            board: None,
            options: CheckOptions::default(),
        }
    }
}

/// What holds if this were so. Takes about as long as the checks of sag: well below a frame of a window.
#[must_use]
pub fn what_if(design: &Resolved, layout: &Layout, assembly: &Assembly, ask: &WhatIf) -> Then {
    let load = if ask.load.is_finite() { ask.load.max(0.0) } else { 1.0 };
    let options = CheckOptions { load_share: load, ..ask.options.clone() };
    let context = Context::new(design, layout, assembly, &options);
    let mut carried = carry(&context);
    if let Some(other) = &ask.board {
        for lying in carried.lying.iter_mut().filter(|it| it.part == other.part) {
            exchange(&context, lying, other);
        }
    }
    let bends = carried.lying.iter().filter_map(|it| bend_of(&context, it, true)).collect();
    Then { bends, stands: standing(&piece(&context), ask) }
}

/// The same loads and supports with another board.
fn exchange(context: &Context<'_>, lying: &mut Lying, other: &OtherBoard) {
    let Some(part) = context.assembly.parts.get(lying.part) else { return };
    let (length, width) = (part.cuboid.size(Axis::X).mm(), part.cuboid.size(Axis::Z).mm());
    let it = properties(&other.material);
    let height = other.material.thickness.mm();
    let across = part.world_from_part.length.axis != Axis::X && other.material.grain;
    let mut sections = vec![Section::of_part(&board(&it, width, height, across))];
    sections.extend(lying.with.iter().filter_map(|&i| part_section(context, context.assembly.parts.get(i)?)));
    lying.section = Section::stacked(&sections);
    let heavier = width * height * length * 1e-9 * it.density.value - part.mass_kg;
    lying.loads.push(Load::uniform(0.0, length, heavier * GRAVITY / length));
    bend(length, lying);
}

fn standing(piece: &Piece, ask: &WhatIf) -> Option<Standing> {
    let open: Vec<bool> = piece.moving.iter().map(|it| ask.open.contains(&it.id)).collect();
    let share = if ask.opened.is_finite() { ask.opened.clamp(0.0, 1.0) } else { 1.0 };
    let ground = Ground { raised: if ask.on_carpet { ASTM_CARPET_LIFT } else { 0.0 } };
    let hand = if ask.hand.is_finite() { ask.hand.max(0.0) } else { 0.0 };
    // Loads are already in the masses of things; what drawers are filled with counts by the same share.
    let at = hand_place(piece, &open, share);
    let with = |force: f64| {
        let forces = [Force { at, down: force, out: 0.0 }];
        let all = piece.edges.iter().map(|edge| piece.balance(edge, ground, &open, share, 1.0, &forces));
        all.min_by(|a, b| a.margin().total_cmp(&b.margin()))
    };
    let balance = with(hand)?;
    let arm = balance.edge.outside(at[0], at[2]);
    let tips_at = if arm > 0.0 { (balance.margin() / arm + hand).max(0.0) } else { f64::INFINITY };
    let height = (piece.bounds.1[1] - piece.bounds.0[1]).max(1.0);
    Some(Standing {
        stands: balance.stands(),
        centre: piece.centre(&open, share, 1.0),
        inside: balance.distance(),
        hand_at: at,
        tips_at,
        wall_pull: balance.wall_pull(height),
        balance,
    })
}

/// 50 mm behind the front of the open part that reaches furthest forwards; of the top if none is open.
fn hand_place(piece: &Piece, open: &[bool], share: f64) -> [f64; 3] {
    let (low, high) = piece.bounds;
    let top = [(low[0] + high[0]) / 2.0, high[1], high[2]];
    let fronts = piece.moving.iter().zip(open).filter(|it| *it.1).map(|it| it.0.opening.moved(it.0.front, share));
    let mut at = fronts.max_by(|a, b| a[2].total_cmp(&b[2]).then(a[1].total_cmp(&b[1]))).unwrap_or(top);
    at[2] -= 50.0;
    at
}

/// The lying panels that a board can be exchanged in, from the top down.
#[must_use]
pub fn exchangeable(design: &Resolved, layout: &Layout, assembly: &Assembly, options: &CheckOptions) -> Vec<usize> {
    let context = Context::new(design, layout, assembly, options);
    let held = |part: &usize| context.assembly.parts.get(*part).is_some_and(|it: &Part| it.mass_kg > 0.0);
    carry(&context).lying.iter().filter(|it| it.bent.is_some()).map(|it| it.part).filter(held).collect()
}
