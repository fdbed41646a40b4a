//! From trees and bodies to steps with all that the bench needs.

use std::collections::BTreeSet;

use super::blocking::Blocking;
use super::clamps::{clamps, is_screwed};
use super::finish::{Body, BodyKind, bodies, go_in, in_steps, is_set_later, kind_of, waits_for_front};
use super::glue::{GlueTime, Joining, OPEN_MINUTES, joining};
use super::mend::explain;
use super::order::{Tree, put_together};
use super::reach::before;
use super::{BuildPlan, Diagonal, Step, StepKind};
use crate::assembly::{Assembly, JoinedBy, Joint, Motion, Part};
use crate::design::{Resolved, Role};
use crate::geometry::{Axis, Cuboid, Direction};
use crate::layout::Layout;
use crate::length::Length;
use crate::routes::LeadRoute;

/// What is minded when a box is hung whose front comes later (common practice).
const HANG_NOTES: &[&str] =
    &["set the slides until it runs freely and stands level: its front is set to it afterwards"];
/// What is minded when a front is set (common practice).
const SET_NOTES: &[&str] = &[
    "hold it on shims as thick as its reveals and clamp it to the box; drive two screws, look at the reveals, then drive the rest",
];

/// The order of work of a piece whose leads go these ways.
#[must_use]
pub fn plan(design: &Resolved, layout: &Layout, assembly: &Assembly, leads: &[LeadRoute]) -> BuildPlan {
    let blocking = Blocking::new(assembly);
    let bodies = bodies(assembly);
    let (standing, goes_in) = go_in(&blocking, &bodies);
    let mut planner = Planner { design, layout, leads, blocking, plan: BuildPlan::default() };
    let together = planner.together(&bodies, &standing);
    let (carried, still): (Vec<usize>, Vec<usize>) =
        (0..bodies.len()).partition(|&at| bodies.get(at).is_some_and(|body| body.mover.is_some()));
    // What is shut in is made before what shuts it in.
    let (shut_in, later): (Vec<usize>, Vec<usize>) = carried.into_iter().partition(|at| standing.contains(at));
    let opened = together.as_ref().is_some_and(|it| it.opened);
    for at in shut_in.into_iter().chain(still.into_iter().filter(|at| !(opened && standing.contains(at)))) {
        bodies.get(at).into_iter().for_each(|body| planner.body(body));
    }
    if let Some(Together { tree, nodes, .. }) = &together {
        planner.tree(tree, nodes);
        planner.stuck(tree, nodes);
    }
    for at in later {
        bodies.get(at).into_iter().for_each(|body| planner.body(body));
    }
    let mut there: Vec<usize> =
        standing.iter().filter_map(|&at| bodies.get(at)).flat_map(|it| it.parts.clone()).collect();
    for step in in_steps(&planner.blocking, &bodies, goes_in) {
        let together: Vec<&Body> = step.bodies.iter().filter_map(|&at| bodies.get(at)).collect();
        planner.fit(&mut there, &together, step.direction);
    }
    planner.plan
}

/// How bodies of which none leaves alone come together.
struct Together {
    tree: Tree,
    nodes: Vec<Vec<usize>>,
    /// Whether still bodies are taken as their single parts.
    opened: bool,
}

struct Planner<'a> {
    design: &'a Resolved,
    layout: &'a Layout,
    leads: &'a [LeadRoute],
    blocking: Blocking<'a>,
    plan: BuildPlan,
}

impl Planner<'_> {
    /// The steps that make one body.
    fn body(&mut self, body: &Body) {
        let lid = body.parts.iter().copied().find(|&part| self.goes_in_last(part, &body.parts));
        let nodes: Vec<Vec<usize>> = body.parts.iter().filter(|it| Some(**it) != lid).map(|&part| vec![part]).collect();
        let tree = put_together(&self.blocking, &nodes);
        self.tree(&tree, &nodes);
        self.stuck(&tree, &nodes);
        if let Some(lid) = lid {
            self.lid(nodes.concat(), lid, Direction::UP);
        }
    }

    /// Whether a part is a lid that goes in from above when all else of its body is together.
    fn goes_in_last(&self, part: usize, body: &[usize]) -> bool {
        let rest: Vec<usize> = body.iter().copied().filter(|it| *it != part).collect();
        let joints = self.joints_between(&[rest.clone(), vec![part]]);
        !rest.is_empty() && self.is_lid(part, &joints) && !self.blocking.blocks(&[part], &rest, Direction::UP)
    }

    /// The step that puts a lid in.
    fn lid(&mut self, there: Vec<usize>, lid: usize, direction: Direction) {
        let title = format!("Put in {}, {}", self.name_of(&[lid]), from_words(direction));
        let groups = vec![there, vec![lid]];
        let joints = self.joints_between(&groups);
        let joining = joining(self.blocking.assembly, &joints);
        self.push(StepKind::Fit, title, groups, direction, joints, &joining);
    }

    /// Brings the bodies together of which none leaves alone. If need be the still ones among them are opened for it:
    /// then they are no bodies of their own, as when a loose shelf lies between a back and a fixed front.
    fn together(&self, bodies: &[Body], standing: &[usize]) -> Option<Together> {
        let all: Vec<&Body> = standing.iter().filter_map(|&at| bodies.get(at)).collect();
        if all.len() < 2 {
            return None;
        }
        let whole: Vec<Vec<usize>> = all.iter().map(|body| body.parts.clone()).collect();
        let tree = put_together(&self.blocking, &whole);
        if tree.stuck().is_empty() {
            return Some(Together { tree, nodes: whole, opened: false });
        }
        let opened: Vec<Vec<usize>> = all
            .iter()
            .flat_map(|body| match body.mover {
                Some(_) => vec![body.parts.clone()],
                None => body.parts.iter().map(|&part| vec![part]).collect(),
            })
            .collect();
        let tree = put_together(&self.blocking, &opened);
        Some(Together { tree, nodes: opened, opened: true })
    }

    fn stuck(&mut self, tree: &Tree, nodes: &[Vec<usize>]) {
        for group in tree.stuck() {
            let nodes: Vec<Vec<usize>> = group.iter().filter_map(|&node| nodes.get(node).cloned()).collect();
            let explained = explain(&self.blocking, &nodes);
            self.plan.stuck.push(explained);
        }
    }

    fn tree(&mut self, tree: &Tree, nodes: &[Vec<usize>]) {
        let Tree::Closed { direction, blocks } = tree else { return };
        for block in blocks {
            self.tree(block, nodes);
        }
        let groups: Vec<Vec<usize>> = blocks
            .iter()
            .map(|block| block.nodes().into_iter().filter_map(|node| nodes.get(node)).flatten().copied().collect())
            .collect();
        let joints = self.joints_between(&groups);
        let joining = joining(self.blocking.assembly, &joints);
        if let [there, [lid]] = groups.iter().map(Vec::as_slice).collect::<Vec<_>>()[..]
            && self.is_lid(*lid, &joints)
        {
            return self.lid(there.to_vec(), *lid, *direction);
        }
        let kind = if joining.is_glued() { StepKind::GlueUp } else { StepKind::Fasten };
        let title = self.title(kind, &groups, *direction);
        self.push(kind, title, groups, *direction, joints, &joining);
    }

    /// Puts a body on the standing piece, or several that are alike.
    fn fit(&mut self, there: &mut Vec<usize>, bodies: &[&Body], direction: Direction) {
        let Some((first, more)) = bodies.split_first() else { return };
        let assembly = self.blocking.assembly;
        let mut groups = vec![there.clone()];
        groups.extend(bodies.iter().map(|it| it.parts.clone()));
        let name = self.name_of(&first.parts);
        let from = from_words(direction);
        let title = match kind_of(assembly, first) {
            _ if !more.is_empty() => {
                let parts = bodies.iter().flat_map(|it| &it.parts);
                let numbers: Vec<&str> = parts.filter_map(|&part| self.number(part)).collect();
                format!("Lay {} shelves, all alike, on their pins, {from}: {}", bodies.len(), numbers.join(", "))
            }
            BodyKind::LooseShelf => format!("Lay {name} on its pins, {from}"),
            BodyKind::SetFront => format!("Set {name} with even reveals, {from}; screw it on from within"),
            BodyKind::Mover if waits_for_front(assembly, first) => {
                format!("Hang {name} in its slides, without its front, {from}")
            }
            BodyKind::Mover if self.slides(first) => format!("Hang {name} in its slides, {from}"),
            BodyKind::Mover => format!("Fit {name}, {from}"),
            BodyKind::Worktop => format!("Lay on {name}, {from}"),
            BodyKind::Plinth | BodyKind::Other => format!("Put in {name}, {from}"),
        };
        let joints = self.joints_between(&groups);
        let joining = joining(assembly, &joints);
        self.push(StepKind::Fit, title, groups, direction, joints, &joining);
        let notes = match kind_of(assembly, first) {
            BodyKind::SetFront => SET_NOTES,
            BodyKind::Mover if waits_for_front(assembly, first) => HANG_NOTES,
            _ => &[],
        };
        if let Some(step) = self.plan.steps.last_mut() {
            step.notes.extend(notes.iter().map(|it| (*it).to_owned()));
        }
        there.extend(bodies.iter().flat_map(|it| &it.parts).copied());
    }

    /// Whether a part is the lid of a compartment: it lies, and all that it meets leaves it free.
    fn is_lid(&self, part: usize, joints: &[usize]) -> bool {
        let assembly = self.blocking.assembly;
        let lies = |it: &Part| it.role == Role::BinPanel && it.world_from_part.thickness_axis() == Axis::Y;
        let mut joints = joints.iter().filter_map(|&joint| assembly.joints.get(joint));
        assembly.parts.get(part).is_some_and(lies) && joints.all(|it| !Blocking::holds(it))
    }

    /// Whether a body slides.
    fn slides(&self, body: &Body) -> bool {
        let mover = body.mover.and_then(|it| self.blocking.assembly.movers.get(it));
        mover.is_some_and(|it| matches!(it.motion, Motion::Slide { .. }))
    }

    fn push(
        &mut self,
        kind: StepKind,
        title: String,
        groups: Vec<Vec<usize>>,
        direction: Direction,
        joints: Vec<usize>,
        joining: &Joining,
    ) {
        let assembly = self.blocking.assembly;
        let parts: Vec<usize> = groups.iter().flatten().copied().collect();
        let is_glued = kind == StepKind::GlueUp;
        let pressed = is_glued.then(|| clamps(assembly, &parts, &joints, direction.axis)).filter(|it| it.count > 0);
        let count = pressed.as_ref().map_or(0, |it| it.count);
        let time = is_glued.then(|| self.time(&groups, count, joining, direction.axis));
        let id = |parts: &[usize]| {
            let numbers: Vec<&str> = parts.iter().filter_map(|&part| self.number(part)).collect();
            format!("{}:{}", word(kind), numbers.join("+"))
        };
        let moved = if kind == StepKind::Fit { groups.get(1..).unwrap_or_default() } else { groups.as_slice() };
        let ticks = match kind {
            StepKind::Fit => moved.iter().map(|it| id(it)).collect(),
            StepKind::GlueUp | StepKind::Fasten => vec![id(&parts)],
        };
        let id = id(&moved.concat());
        let closes_frame = kind != StepKind::Fit;
        let mut notes = Vec::new();
        if is_glued {
            notes.push("put it together dry first, with all clamps and cauls at hand".to_owned());
        }
        let screwed = |joint: &usize| assembly.joints.get(*joint).is_some_and(|it| is_screwed(assembly, *joint, it));
        if is_glued && joints.iter().any(screwed) {
            notes.push(
                "drive the screws between the dowels at once: they press their joints instead of clamps".to_owned(),
            );
        }
        let beside = joints.iter().filter_map(|&joint| assembly.joints.get(joint));
        let beside = beside.filter(|joint| Blocking::holds(joint) && joint.direction.axis != direction.axis);
        let (laid_in, slide): (Vec<&Joint>, Vec<&Joint>) = beside
            .partition(|joint| matches!(joint.kind, JoinedBy::Rebate { open, .. } if open.axis == direction.axis));
        let sliding = !slide.is_empty();
        if !laid_in.is_empty() && is_glued {
            notes.push(
                "what stands in rebates goes in from their open side and is pressed against their shoulders".to_owned(),
            );
        }
        if sliding && kind == StepKind::GlueUp {
            notes.push(
                "some tongues slide along their grooves: glue them sparingly, from the end that goes in".to_owned(),
            );
        }
        self.plan.steps.push(Step {
            id,
            ticks,
            kind,
            title,
            diagonals: if closes_frame { self.diagonals(&groups) } else { Vec::new() },
            first: before(self.design, self.layout, assembly, self.leads, &groups, &joints),
            groups,
            direction,
            joints,
            dowels: joining.dowels,
            screws: joining.screws,
            glue_area_mm2: joining.area_mm2,
            clamps: pressed,
            time,
            notes,
        });
    }

    fn number(&self, part: usize) -> Option<&str> {
        self.blocking.assembly.parts.get(part).map(|it| it.number.as_str())
    }

    /// Joints between different groups.
    fn joints_between(&self, groups: &[Vec<usize>]) -> Vec<usize> {
        let group_of = |part: usize| groups.iter().position(|group| group.contains(&part));
        let joints = self.blocking.assembly.joints.iter().enumerate();
        joints
            .filter(|(_, joint)| match (group_of(joint.face_part), group_of(joint.edge_part)) {
                (Some(a), Some(b)) => a != b,
                _ => false,
            })
            .map(|(index, _)| index)
            .collect()
    }

    /// What a group is called: its part, the step that made it, or what moves.
    fn name_of(&self, group: &[usize]) -> String {
        let assembly = self.blocking.assembly;
        if let [only] = group {
            return assembly.parts.get(*only).map_or_else(String::new, |part| format!("{} {}", part.number, part.name));
        }
        let set: BTreeSet<usize> = group.iter().copied().collect();
        let mover = assembly.movers.iter().find(|it| {
            let parts: BTreeSet<usize> = it.parts.iter().copied().collect();
            let left = || parts.difference(&set).all(|&part| is_set_later(assembly, it, part));
            // Without its front, which is set later, it is called the same.
            set.is_subset(&parts) && left()
        });
        if let Some(mover) = mover {
            return format!("the {}", mover.id);
        }
        let made = self.plan.steps.iter().position(|step| step.parts().collect::<BTreeSet<_>>() == set);
        match made {
            Some(at) => format!("what step {} made", at + 1),
            None => {
                let numbers: Vec<&str> = group.iter().filter_map(|&part| self.number(part)).collect();
                numbers.join(" + ")
            }
        }
    }

    fn title(&self, kind: StepKind, groups: &[Vec<usize>], direction: Direction) -> String {
        let names: Vec<String> = groups.iter().map(|group| self.name_of(group)).collect();
        let verb = match kind {
            StepKind::GlueUp => "Glue up",
            StepKind::Fasten => "Screw together",
            StepKind::Fit => "Fit",
        };
        let along = match direction.axis {
            Axis::X => "from side to side",
            Axis::Y => "from bottom to top",
            Axis::Z => "from rear to front",
        };
        format!("{verb} {along}: {}", names.join(", "))
    }

    /// The time of a glue-up; where it is too long, where to stop and let the first lot set.
    fn time(&self, groups: &[Vec<usize>], clamps: usize, all: &Joining, axis: Axis) -> GlueTime {
        let minutes = all.seconds(groups.len(), clamps) / 60.0;
        let mut warning = None;
        if minutes > OPEN_MINUTES {
            let assembly = self.blocking.assembly;
            let of = |groups: &[Vec<usize>]| {
                let joints = self.joints_between(groups);
                let parts: Vec<usize> = groups.iter().flatten().copied().collect();
                let count = super::clamps::clamps(assembly, &parts, &joints, axis).count;
                joining(assembly, &joints).seconds(groups.len(), count) / 60.0
            };
            // Whatever comes first along the direction can be closed alone, and the rest comes on to it afterwards.
            let splits = (2..groups.len()).filter_map(|at| {
                let first = groups.get(..at)?;
                let mut rest = vec![first.concat()];
                rest.extend(groups.get(at..)?.iter().cloned());
                let (one, two) = (of(first), of(&rest));
                Some((one.max(two), at, one, two))
            });
            let best = splits.min_by(|a, b| a.0.total_cmp(&b.0));
            let split = best.filter(|it| it.0 < minutes).and_then(|(_, at, one, two)| {
                let names: Vec<String> = groups.get(..at)?.iter().map(|group| self.name_of(group)).collect();
                let first = names.join(", ");
                Some(format!(
                    "close {first} alone first ({one:.0} min), the rest once that has set ({two:.0} min); or "
                ))
            });
            warning = Some(format!(
                "about {minutes:.0} min for one person, more than the {OPEN_MINUTES:.0} min that usual white glue stays open: {}take \
                 a slow glue, or a second person",
                split.unwrap_or_default()
            ));
        }
        GlueTime { minutes, open_minutes: OPEN_MINUTES, warning }
    }

    /// The outside of the frame that the groups make, if they make one, and the openings that they close.
    fn diagonals(&self, groups: &[Vec<usize>]) -> Vec<Diagonal> {
        let assembly = self.blocking.assembly;
        let parts: Vec<usize> = groups.iter().flatten().copied().collect();
        let boards: Vec<(Axis, &Cuboid)> = (parts.iter().filter_map(|&part| assembly.parts.get(part)))
            .filter(|part| !matches!(part.role, Role::Front | Role::Worktop | Role::Plinth))
            .map(|part| (part.world_from_part.thickness_axis(), &part.cuboid))
            .collect();
        let mut list = Vec::new();
        for normal in [Axis::Z, Axis::Y] {
            let [a, b] = match normal {
                Axis::Z => [Axis::X, Axis::Y],
                _ => [Axis::X, Axis::Z],
            };
            let count = |axis: Axis| boards.iter().filter(|(across, _)| *across == axis).count();
            if count(a) < 2 || count(b) < 2 {
                continue;
            }
            let frame = boards.iter().filter(|(across, _)| *across != normal).map(|(_, cuboid)| **cuboid);
            let Some(outside) = frame.clone().reduce(|whole, it| whole.union(&it)) else { continue };
            // The corners of the box must be corners of boards, or there is nothing to measure from.
            let corner = |x: Length, y: Length| {
                frame.clone().any(|it| {
                    let ends = |axis: Axis, at: Length| it.range(axis).0 == at || it.range(axis).1 == at;
                    ends(a, x) && ends(b, y)
                })
            };
            let (across, up) = (outside.range(a), outside.range(b));
            if [across.0, across.1].into_iter().all(|x| [up.0, up.1].into_iter().all(|y| corner(x, y))) {
                list.push(diagonal("outside, corner to corner", outside.size(a), outside.size(b)));
                break;
            }
        }
        for bay in self.layout.bays.iter().filter(|bay| bay.is_leaf) {
            let walls: Vec<Option<usize>> = bay
                .closed_by
                .iter()
                .map(|closing| match closing {
                    crate::layout::Closing::Panel(panel) => self.part_of_panel(*panel),
                    crate::layout::Closing::Nothing => None,
                })
                .collect();
            let group_of = |part: usize| groups.iter().position(|group| group.contains(&part));
            let at: Option<Vec<usize>> = walls.iter().map(|wall| wall.and_then(group_of)).collect();
            if let Some(at) = at
                && at.windows(2).any(|pair| pair.first() != pair.last())
            {
                let of = format!("opening {}", bay.name);
                list.push(diagonal(&of, bay.clear.size(Axis::X), bay.clear.size(Axis::Y)));
            }
        }
        list
    }

    fn part_of_panel(&self, panel: usize) -> Option<usize> {
        let panel = self.layout.panels.get(panel)?;
        let parts = self.blocking.assembly.parts.iter();
        parts.clone().position(|part| part.role == panel.role && part.cuboid.contains(&panel.cuboid))
    }
}

fn diagonal(of: &str, a: Length, b: Length) -> Diagonal {
    Diagonal { of: of.to_owned(), sides: (a, b), length: Length::from_mm_f64(a.mm().hypot(b.mm())) }
}

const fn word(kind: StepKind) -> &'static str {
    match kind {
        StepKind::GlueUp => "glue",
        StepKind::Fasten => "fasten",
        StepKind::Fit => "fit",
    }
}

fn from_words(direction: Direction) -> &'static str {
    match (direction.axis, direction.negative) {
        (Axis::X, false) => "from the right",
        (Axis::X, true) => "from the left",
        (Axis::Y, false) => "from above",
        (Axis::Y, true) => "from below",
        (Axis::Z, false) => "from the front",
        (Axis::Z, true) => "from the rear",
    }
}
