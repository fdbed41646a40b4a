//! Both partners of a joint have the same holes in space.

use super::*;
use crate::assembly::{Hole, JoinedBy, Machining, PartFace};
use crate::design::Role;
use crate::geometry::Axis;

fn of_joint(assembly: &Assembly, part: usize, joint: usize) -> Vec<&Hole> {
    let hole = |it: &'_ Machining| matches!(it, Machining::Hole(hole) if hole.joint == Some(joint));
    let machining = assembly.parts[part].machining.iter().filter(|it| hole(it));
    machining.map(|it| if let Machining::Hole(hole) = it { hole } else { panic!() }).collect()
}

#[test]
fn holes_of_partners_coincide_and_take_the_dowel() {
    for_random_assemblies(120, |assembly| {
        for (index, joint) in assembly.joints.iter().enumerate() {
            let (faces, edges) =
                (of_joint(assembly, joint.face_part, index), of_joint(assembly, joint.edge_part, index));
            assert_eq!(faces.len(), edges.len());
            for (face, edge) in faces.iter().zip(&edges) {
                let of = |part: usize, hole| hole_in_world(&assembly.parts[part], hole);
                let (a, b) = (of(joint.face_part, face), of(joint.edge_part, edge));
                let axis = joint.direction.axis;
                assert_eq!((a.into.axis, b.into.axis), (axis, axis));
                for other in Axis::ALL.into_iter().filter(|&it| it != axis) {
                    assert_eq!(a.entry.along(other), b.entry.along(other), "{joint:?}");
                }
                // Both open onto the contact, and nothing lies outside the part.
                assert_eq!(b.entry.along(axis), joint.contact.range(axis).0);
                let onto = if a.through { a.end() } else { a.entry };
                assert_eq!(onto.along(axis), joint.contact.range(axis).0);
                assert!(joint.contact.contains(&crate::geometry::Cuboid::between(b.entry, b.entry)), "{joint:?}");
                assert!(matches!(face.face, PartFace::Under | PartFace::Over));
                if let JoinedBy::Dowels { with_screws, .. } = joint.kind {
                    assert_eq!(face.is_for_screw(), edge.is_for_screw());
                    assert!(with_screws || !face.is_for_screw());
                }
                if let JoinedBy::Dowels { diameter, length, .. } = joint.kind
                    && !face.is_for_screw()
                {
                    assert_eq!((face.diameter, edge.diameter), (diameter, diameter));
                    let depths = face.depth.unwrap() + edge.depth.unwrap();
                    assert!(depths <= length + crate::sample::mm(2));
                }
            }
        }
        for part in &assembly.parts {
            for machining in &part.machining {
                let Machining::Hole(hole) = machining else { continue };
                let world = hole_in_world(part, hole);
                assert!(part.cuboid.contains(&crate::geometry::Cuboid::between(world.entry, world.end())), "{hole:?}");
                if part.role == Role::Front {
                    assert!(hole.depth.is_some_and(|depth| depth < part.finished.thickness), "{hole:?}");
                    // Never from the face that shows.
                    assert!(world.into != crate::geometry::Direction::REAR, "{hole:?}");
                }
            }
        }
    });
}
