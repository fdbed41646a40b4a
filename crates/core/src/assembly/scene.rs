//! The parts while they are being drafted: boxes in world axes, with what the later steps need to know.

use std::collections::BTreeMap;

use super::build::{Cause, Problem};
use super::{Motion, MountedFitting, Purpose, Worktop};
use crate::design::{Bay, Construction, Inside, JointChoice, JointKind, Resolved, Role};
use crate::geometry::{Axis, Cuboid, Direction};
use crate::layout::{LaidBay, Layout};
use crate::length::Length;
use crate::text::FieldPath;
use crate::worktop::TopPiece;

/// A part before it gets its own frame.
#[derive(Clone, Debug)]
pub(super) struct Draft {
    pub(super) role: Role,
    pub(super) number: String,
    pub(super) name: String,
    pub(super) bay: String,
    pub(super) material: String,
    pub(super) cuboid: Cuboid,
    /// The axis of its thickness.
    pub(super) across: Axis,
    /// The axis that the grain runs along if the material has one.
    pub(super) grain: Axis,
    /// The shell whose construction it follows.
    pub(super) shell: usize,
    /// The mover that it belongs to; none for what stands still.
    pub(super) mover: Option<usize>,
    pub(super) loose: bool,
    /// Whether it lies on what is round it, as the lid of a tilting compartment does.
    pub(super) is_lid: bool,
    pub(super) grooves: Vec<DraftGroove>,
    /// Edges that take no banding whatever the rules say.
    pub(super) bare: Vec<Direction>,
    /// What of a worktop it is, if that has a shape.
    pub(super) top: Option<TopPiece>,
}

/// A groove as the space that it takes, in world axes.
#[derive(Clone, Debug)]
pub(super) struct DraftGroove {
    pub(super) space: Cuboid,
    /// Out of the groove, through its mouth.
    pub(super) mouth: Direction,
    pub(super) purpose: Purpose,
}

/// Something that moves, before parts have their final order.
#[derive(Clone, Debug)]
pub(super) struct DraftMover {
    pub(super) id: String,
    pub(super) bay: String,
    pub(super) things: Vec<usize>,
    pub(super) fittings: Vec<usize>,
    pub(super) motion: Motion,
}

/// Everything that has been drafted so far.
pub(super) struct Scene<'a> {
    pub(super) design: &'a Resolved,
    pub(super) layout: &'a Layout,
    constructions: Vec<(&'a Construction<Length>, FieldPath)>,
    /// How the panels of each shell are joined, and where that stands in the file.
    joints: Vec<(&'a JointKind<Length>, FieldPath)>,
    bays: BTreeMap<&'a str, &'a Bay<Length>>,
    pub(super) drafts: Vec<Draft>,
    pub(super) movers: Vec<DraftMover>,
    pub(super) fittings: Vec<MountedFitting>,
    /// Drafts of the fronts by index of their bay.
    pub(super) fronts: BTreeMap<usize, Vec<usize>>,
    pub(super) problems: Vec<Problem>,
    pub(super) worktop: Option<Worktop>,
}

impl<'a> Scene<'a> {
    pub(super) fn new(design: &'a Resolved, layout: &'a Layout) -> Self {
        let mut scene = Self {
            design,
            layout,
            constructions: vec![(&design.carcass.construction, construction_path(layout, 0))],
            joints: vec![(&design.carcass.construction.joint, construction_path(layout, 0).field("joint"))],
            bays: BTreeMap::new(),
            drafts: Vec::new(),
            movers: Vec::new(),
            fittings: Vec::new(),
            fronts: BTreeMap::new(),
            problems: Vec::new(),
            worktop: None,
        };
        // Bays in the order of the tree, each with the construction of the shell that it stands in.
        let mut waiting = vec![(&design.carcass.bay, &design.carcass.construction, 0)];
        while let Some((bay, construction, around)) = waiting.pop() {
            scene.bays.insert(&bay.name, bay);
            match &bay.inside {
                Inside::Across { bays, .. } | Inside::Up { bays, .. } => {
                    waiting.extend(bays.iter().rev().map(|bay| (bay, construction, around)));
                }
                Inside::Boxed { shell, bay } => {
                    let own = shell.construction.as_ref().unwrap_or(construction);
                    let within = scene.constructions.len();
                    let at = construction_path(layout, within);
                    let joint = match (&shell.joint, &shell.construction) {
                        (Some(joint), _) => (joint, joint_path(layout, within)),
                        (None, Some(own)) => (&own.joint, at.field("joint")),
                        (None, None) => match scene.joints.get(around) {
                            Some((joint, at)) => (*joint, at.clone()),
                            None => (&own.joint, at.field("joint")),
                        },
                    };
                    scene.constructions.push((own, at));
                    scene.joints.push(joint);
                    waiting.push((bay, own, within));
                }
                Inside::Open { .. } | Inside::Holds { .. } => {}
            }
        }
        if scene.constructions.len() != layout.shells.len() {
            scene.internal("the layout has another number of shells than the design");
        }
        scene
    }

    /// How the shell is built.
    pub(super) fn construction(&self, shell: usize) -> &'a Construction<Length> {
        self.constructions.get(shell).map_or(&self.design.carcass.construction, |(it, _)| *it)
    }

    /// Where the construction of the shell stands in the file.
    pub(super) fn construction_field(&self, shell: usize) -> Option<FieldPath> {
        self.constructions.get(shell).map(|(_, path)| path.clone())
    }

    /// How two parts are joined, of which the second stands in this shell, and where that stands in the file: as the last
    /// choice says that speaks of them, else as their shell says.
    pub(super) fn joint(&self, a: &Draft, b: &Draft) -> (&'a JointKind<Length>, FieldPath) {
        let choices = self.design.carcass.joints.iter().enumerate().rev();
        let mut chosen = choices.filter(|(_, it)| it.speaks_of((a.role, &a.bay), (b.role, &b.bay)));
        if let Some((index, kind)) = chosen.find_map(|(index, it)| Some((index, it.by.as_ref()?))) {
            return (kind, FieldPath::root().field("carcass").field("joints").index(index).field("by"));
        }
        match self.joints.get(b.shell) {
            Some((joint, at)) => (*joint, at.clone()),
            None => (&self.design.carcass.construction.joint, FieldPath::default()),
        }
    }

    /// Whether a choice of the design says how the two are joined.
    pub(super) fn is_chosen(&self, a: &Draft, b: &Draft) -> bool {
        let speaks = |it: &&JointChoice<Length>| it.speaks_of((a.role, &a.bay), (b.role, &b.bay));
        self.design.carcass.joints.iter().filter(speaks).any(|it| it.by.is_some())
    }

    /// The bay of this name in the design.
    pub(super) fn bay(&self, name: &str) -> Option<&'a Bay<Length>> {
        self.bays.get(name).copied()
    }

    /// What part numbers call a bay: its name with hyphens for blanks, unless another bay is then called the same.
    pub(super) fn tag(&self, bay: &str) -> String {
        let hyphened = |name: &str| name.split_whitespace().collect::<Vec<_>>().join("-");
        let tag = hyphened(bay);
        let shared = self.bays.keys().filter(|name| hyphened(name) == tag).count() > 1;
        if shared { bay.to_owned() } else { tag }
    }

    /// Adds a draft and gives its index.
    pub(super) fn add(&mut self, draft: Draft) -> usize {
        self.drafts.push(draft);
        self.drafts.len() - 1
    }

    /// Adds a mover and gives its index.
    pub(super) fn add_mover(&mut self, mover: DraftMover) -> usize {
        self.movers.push(mover);
        self.movers.len() - 1
    }

    /// Thickness of a material; a problem and nothing if there is none.
    pub(super) fn thickness(&mut self, material: &str) -> Option<Length> {
        let found = self.design.materials.get(material).map(|it| it.thickness);
        if found.is_none() {
            self.problem(Cause::UnknownMaterial { name: material.to_owned() }, None);
        }
        found
    }

    /// Notes a problem, once.
    pub(super) fn problem(&mut self, cause: Cause, field: Option<FieldPath>) {
        let problem = Problem { cause, field };
        if !self.problems.contains(&problem) {
            self.problems.push(problem);
        }
    }

    /// Notes that a bay lacks room.
    pub(super) fn no_room(&mut self, bay: &LaidBay, what: &str, missing: Length) {
        let missing = self.design.unit.written(missing);
        let cause = Cause::NoRoom { bay: bay.name.clone(), what: what.to_owned(), missing };
        self.problem(cause, Some(bay.path.clone()));
    }

    /// Notes a mistake of the program.
    pub(super) fn internal(&mut self, what: &str) {
        self.problem(Cause::Internal(what.to_owned()), None);
    }
}

fn construction_path(layout: &Layout, shell: usize) -> FieldPath {
    layout.shells.get(shell).map(|shell| shell.construction.clone()).unwrap_or_default()
}

/// Where the joint of a box stands in the file that has no construction of its own.
fn joint_path(layout: &Layout, shell: usize) -> FieldPath {
    let bay = layout.shells.get(shell).and_then(|shell| layout.bay(&shell.name));
    bay.map(|bay| bay.path.field("inside").field("shell").field("joint")).unwrap_or_default()
}
