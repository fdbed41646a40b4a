//! What under-mounted slides need in a box, against the figures of the library.

use super::*;
use crate::assembly::tests::{built, part};
use crate::assembly::{Machining, PartFace, Purpose};
use crate::design::Opens;
use crate::geometry::Axis;
use crate::length::Length;
use crate::sample::{design_of, drawer, holds, mm, open, up};

#[test]
fn hooks_clips_and_notches_lie_where_the_library_says() {
    let mut bay = holds("odds", &[], drawer("under 450")).behind(Opens::WithHolding);
    bay.height = crate::design::Want::Fixed(mm(160));
    let (_, assembly) = built(&design_of(up("whole", vec![bay, open("rest", 0)])));
    let (left, right) = (part(&assembly, "DL-odds").cuboid, part(&assembly, "DR-odds").cuboid);
    let bottom = part(&assembly, "DO-odds").cuboid;
    let holes = |number: &str, purpose: Purpose| {
        let part = part(&assembly, number);
        let own = part.machining.iter().filter_map(|it| match it {
            Machining::Hole(hole) if hole.purpose == purpose => Some(hole),
            _ => None,
        });
        own.map(|it| (hole_in_world(part, it), it.face)).collect::<Vec<_>>()
    };
    // Hook: 6 mm wide, 10 deep, 7 from the inside of the side, 11 above the underside of the bottom (from memory), from
    // behind.
    let hooks = holes("DB-odds", Purpose::SlideHook);
    let rear = part(&assembly, "DB-odds").cuboid.min.z;
    for ((hook, face), x) in hooks.iter().zip([left.max.x + mm(7), right.min.x - mm(7)]) {
        assert_eq!((hook.entry.x, hook.entry.y - bottom.min.y, hook.entry.z), (x, mm(11), rear));
        assert_eq!((hook.diameter, hook.depth, hook.through), (mm(6), mm(10), false));
        assert!(matches!(face, PartFace::Over | PartFace::Under));
    }
    assert_eq!(hooks.len(), 2);
    let clips = holes("DF-odds", Purpose::SlideClip);
    assert_eq!(clips.len(), 2);
    assert!(clips.iter().all(|(it, _)| bottom.min.y - it.entry.y == Length::from_um(6_500)));
    // Notches 35 x 13 (from memory) in the lower corners of the rear end, right through.
    let end = part(&assembly, "DB-odds");
    let notches: Vec<_> = (end.machining.iter())
        .filter_map(|it| match it {
            Machining::Groove(it) if it.purpose == Purpose::SlideNotch => groove_in_world(end, it),
            _ => None,
        })
        .collect();
    let x = end.cuboid.range(Axis::X);
    let low = end.cuboid.min.y;
    let [one, other] = &notches[..] else { panic!("{notches:?}") };
    assert_eq!(one.range(Axis::Y), (low, low + mm(13)));
    assert_eq!(one.range(Axis::Z), end.cuboid.range(Axis::Z));
    assert_eq!([one.range(Axis::X), other.range(Axis::X)], [(x.0, x.0 + mm(35)), (x.1 - mm(35), x.1)]);
    // The groove for the bottom stops 3 mm before the hooks: 16 - 10 - 3.
    assert_eq!(bottom.min.z, end.cuboid.max.z - mm(3));
    assert_eq!(check(&assembly), Vec::new());
}
