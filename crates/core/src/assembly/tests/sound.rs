//! What must hold of whatever is built.

use std::collections::BTreeSet;

use super::*;
use crate::geometry::Axis;
use crate::layout::{Closing, LaidBay, Layout};

/// Panics with words if anything of the assembly is unsound.
pub(super) fn check_sound(layout: &Layout, assembly: &Assembly) {
    check_frames(assembly);
    check_overlaps(assembly);
    check_joints(assembly);
    check_connected(layout, assembly);
    check_movers(assembly);
}

/// The space of a groove in world axes, by the part's frame alone.
fn groove_space(part: &Part, groove: &Groove) -> Cuboid {
    let (w0, w1) = match groove.face {
        PartFace::Under => (Length::ZERO, groove.depth),
        PartFace::Over => (part.finished.thickness - groove.depth, part.finished.thickness),
        PartFace::Edge(_) => panic!("no grooves in edges"),
    };
    let frame = part.world_from_part;
    Cuboid::between(frame.to_world(groove.from.0, groove.from.1, w0), frame.to_world(groove.to.0, groove.to.1, w1))
}

fn check_frames(assembly: &Assembly) {
    let mut numbers = BTreeSet::new();
    for part in &assembly.parts {
        assert!(numbers.insert(&part.number), "{} twice", part.number);
        let (frame, size) = (part.world_from_part, part.finished);
        let far = frame.to_world(size.length, size.width, size.thickness);
        assert_eq!(Cuboid::between(frame.origin, far), part.cuboid, "{}", part.number);
        // Right-handed: the determinant of the three directions is 1.
        let unit =
            |direction: Direction| Axis::ALL.map(|axis| if axis == direction.axis { direction.sign() } else { 0 });
        let [a, b, c] = [frame.length, frame.width, frame.thickness].map(unit);
        let cross = [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];
        assert_eq!(cross, c, "{}", part.number);
        if part.grain == Grain::None {
            assert!(size.length >= size.width, "{}", part.number);
        }
        let bands = |edges: [PartEdge; 2]| -> Length {
            part.bands.iter().filter(|band| edges.contains(&band.edge)).map(|band| band.thickness).sum()
        };
        assert_eq!(size.length - part.cut.length, bands([PartEdge::Start, PartEdge::End]), "{}", part.number);
        assert_eq!(size.width - part.cut.width, bands([PartEdge::Near, PartEdge::Far]), "{}", part.number);
        assert!(part.cut.length > Length::ZERO && part.cut.width > Length::ZERO && part.mass_kg > 0.0);
    }
}

/// Nothing overlaps, but for what stands in a groove.
fn check_overlaps(assembly: &Assembly) {
    for (i, a) in assembly.parts.iter().enumerate() {
        for b in &assembly.parts[i + 1..] {
            if !a.cuboid.overlaps(&b.cuboid) {
                continue;
            }
            let mut space = a.cuboid;
            for axis in Axis::ALL {
                let (p, q) = (a.cuboid.range(axis), b.cuboid.range(axis));
                space = space.with_range(axis, (p.0.max(q.0), p.1.min(q.1)));
            }
            let cut_away = [a, b].iter().any(|part| {
                part.machining.iter().any(|it| match it {
                    Machining::Groove(groove) => groove_space(part, groove).contains(&space),
                    Machining::Hole(_) => false,
                })
            });
            assert!(cut_away, "{} and {} overlap in {space:?}: {a:#?} {b:#?}", a.number, b.number);
        }
        for thing in &assembly.things {
            let with_air = &thing.with_air;
            assert!(
                !a.cuboid.overlaps(with_air),
                "{} overlaps {} with its air: {a:#?} {with_air:?}",
                a.number,
                thing.name
            );
        }
    }
}

fn check_joints(assembly: &Assembly) {
    for joint in &assembly.joints {
        let (face_part, edge_part) = (&assembly.parts[joint.face_part], &assembly.parts[joint.edge_part]);
        let words = format!("{} and {}: {joint:?}", face_part.number, edge_part.number);
        let axis = joint.direction.axis;
        let (at, to) = joint.contact.range(axis);
        assert_eq!(at, to, "{words}");
        let end = |cuboid: &Cuboid, negative: bool| if negative { cuboid.range(axis).0 } else { cuboid.range(axis).1 };
        let depth = joint.kind.seat().unwrap_or_default();
        assert_eq!(end(&edge_part.cuboid, !joint.direction.negative), at, "{words}");
        assert_eq!(end(&face_part.cuboid, joint.direction.negative), at + depth * joint.direction.sign(), "{words}");
        for cuboid in [&face_part.cuboid, &edge_part.cuboid] {
            assert!(cuboid.contains(&joint.contact), "{words}");
        }
        for other in Axis::ALL.into_iter().filter(|&it| it != axis) {
            assert!(joint.contact.size(other) > Length::ZERO, "{words}");
        }
        assert_eq!(face_part.world_from_part.thickness_axis(), axis, "{words}");
        if joint.kind == JoinedBy::Screws && face_part.role == crate::design::Role::Front {
            panic!("a screw through a show face: {words}");
        }
    }
}

/// The panels of each shell, and the parts of each mover but its lid, hang together by joints.
fn check_connected(layout: &Layout, assembly: &Assembly) {
    let moving: BTreeSet<usize> = assembly.movers.iter().flat_map(|mover| mover.parts.iter().copied()).collect();
    let mut groups: Vec<Vec<usize>> = assembly.movers.iter().map(|mover| mover.parts.clone()).collect();
    // Where bays meet with nothing between them, a shelf of one may hang in the air: that is as designed.
    let meets_nothing = |bay: &LaidBay| bay.closed_by.iter().take(3).any(|it| *it == Closing::Nothing);
    for (shell, _) in layout.shells.iter().enumerate() {
        if layout.bays.iter().any(|bay| bay.shell == shell && meets_nothing(bay)) {
            continue;
        }
        let own = layout.panels.iter().filter(|panel| panel.shell == shell && !panel.loose);
        let own: Vec<Cuboid> = own.map(|panel| panel.cuboid).collect();
        let of_shell = |part: &Part| own.iter().any(|panel| part.cuboid.contains(panel));
        let parts = assembly.parts.iter().enumerate();
        groups.push(parts.filter(|(i, part)| !moving.contains(i) && of_shell(part)).map(|(i, _)| i).collect());
    }
    for group in groups {
        let Some(&first) = group.first() else { continue };
        let mut reached = BTreeSet::from([first]);
        loop {
            let before = reached.len();
            for joint in &assembly.joints {
                let ends = [joint.face_part, joint.edge_part];
                if ends.iter().any(|end| reached.contains(end)) {
                    reached.extend(ends);
                }
            }
            if reached.len() == before {
                break;
            }
        }
        let left: Vec<&str> =
            group.iter().filter(|&i| !reached.contains(i)).map(|&i| assembly.parts[i].number.as_str()).collect();
        assert!(left.is_empty(), "not joined to {}: {left:?}", assembly.parts[first].number);
    }
}

fn check_movers(assembly: &Assembly) {
    let mut seen = BTreeSet::new();
    for mover in &assembly.movers {
        assert!(!mover.parts.is_empty(), "{} moves nothing", mover.id);
        for &part in &mover.parts {
            assert!(part < assembly.parts.len() && seen.insert(part), "{}", mover.id);
        }
        assert!(mover.things.iter().all(|&thing| assembly.things[thing].name.starts_with("thing")));
    }
}
