//! From the program's own types to those of the derived file.

use casewright_core::assembly as own;
use casewright_core::layout::Layout;

use super::shapes::{pair, point};
use super::{
    About, Band, Bay, Choice, Derived, FORMAT, Finding, Fitting, Joined, Joint, Machining, Motion, Mover, Part, Shell,
    Thing, VERSION,
};
use casewright_core::pipeline as stage;

/// Everything derived in `work`.
pub(crate) fn derived(work: &stage::Derived) -> Derived {
    let stage::Derived { design, layout, assembly, findings, .. } = work;
    Derived {
        format: FORMAT,
        version: VERSION,
        design: About {
            title: design.title.clone(),
            number: design.sheet.number.clone(),
            revision: design.sheet.revision.clone(),
            unit: design.unit.symbol(),
            step: design.unit.step().mm(),
        },
        envelope: (&layout.envelope).into(),
        mass_kg: grams(assembly.mass_kg()),
        shells: (layout.shells.iter())
            .map(|it| Shell { name: it.name.clone(), outer: (&it.outer).into(), inner: (&it.inner).into() })
            .collect(),
        bays: bays(layout),
        things: (assembly.things.iter())
            .map(|it| Thing {
                name: it.name.clone(),
                bay: layout.bays.get(it.bay).map(|bay| bay.name.clone()).unwrap_or_default(),
                turned: it.turned,
                solid: (&it.cuboid).into(),
                with_air: (&it.with_air).into(),
            })
            .collect(),
        choices: (layout.choices.iter())
            .map(|it| Choice { what: it.what.clone(), taken: it.taken.clone(), next: it.next.clone() })
            .collect(),
        parts: assembly.parts.iter().map(part).collect(),
        joints: assembly.joints.iter().map(|it| joint(it, assembly)).collect(),
        fittings: (assembly.fittings.iter())
            .map(|it| Fitting {
                name: it.name.clone(),
                what: it.what.clone(),
                remark: it.remark.clone(),
                bay: it.bay.clone(),
                count: it.count,
                solid: (&it.cuboid).into(),
            })
            .collect(),
        movers: assembly.movers.iter().map(|it| mover(it, assembly)).collect(),
        findings: findings.iter().map(finding).collect(),
    }
}

/// Kilograms rounded to the gram, so that no digit depends on the order of a sum.
fn grams(kg: f64) -> f64 {
    (kg * 1000.0).round() / 1000.0
}

/// A word of the design file, as it is written there.
fn word(value: impl serde::Serialize) -> String {
    match serde_json::to_value(value) {
        Ok(serde_json::Value::String(word)) => word,
        _ => String::new(),
    }
}

fn bays(layout: &Layout) -> Vec<Bay> {
    (layout.bays.iter())
        .map(|it| Bay {
            name: it.name.clone(),
            field: it.path.to_string(),
            parent: it.parent.and_then(|index| layout.bays.get(index)).map(|parent| parent.name.clone()),
            leaf: it.is_leaf,
            clear: (&it.clear).into(),
        })
        .collect()
}

fn face(face: own::PartFace) -> String {
    match face {
        own::PartFace::Under => "under".to_owned(),
        own::PartFace::Over => "over".to_owned(),
        own::PartFace::Edge(it) => it.word().to_owned(),
    }
}

fn size(size: own::PartSize) -> [f64; 3] {
    [size.length.mm(), size.width.mm(), size.thickness.mm()]
}

fn part(it: &own::Part) -> Part {
    Part {
        number: it.number.clone(),
        name: it.name.clone(),
        role: word(it.role),
        bay: it.bay.clone(),
        material: it.material.clone(),
        grain: match it.grain {
            own::Grain::AlongLength => "along length",
            own::Grain::None => "none",
        },
        finished: size(it.finished),
        cut: size(it.cut),
        bands: (it.bands.iter())
            .map(|it| Band { edge: it.edge.word(), name: it.name.clone(), thickness: it.thickness.mm() })
            .collect(),
        solid: (&it.cuboid).into(),
        frame: (&it.world_from_part).into(),
        machining: it.machining.iter().map(machining).collect(),
        mass_kg: grams(it.mass_kg),
    }
}

fn machining(it: &own::Machining) -> Machining {
    match it {
        own::Machining::Hole(it) => Machining::Hole {
            face: face(it.face),
            at: pair(it.at),
            diameter: it.diameter.mm(),
            depth: it.depth.map(|depth| depth.mm()),
            purpose: it.purpose.to_string(),
            joint: it.joint,
        },
        own::Machining::Groove(it) => Machining::Groove {
            face: face(it.face),
            from: pair(it.from),
            to: pair(it.to),
            depth: it.depth.mm(),
            purpose: it.purpose.to_string(),
        },
    }
}

fn number(assembly: &own::Assembly, index: usize) -> String {
    assembly.parts.get(index).map(|part| part.number.clone()).unwrap_or_default()
}

fn joint(it: &own::Joint, assembly: &own::Assembly) -> Joint {
    Joint {
        face_part: number(assembly, it.face_part),
        edge_part: number(assembly, it.edge_part),
        contact: (&it.contact).into(),
        direction: it.direction.into(),
        joined: match it.kind {
            own::JoinedBy::Dowels { diameter, length, with_screws } => {
                Joined::Dowels { diameter: diameter.mm(), length: length.mm(), with_screws }
            }
            own::JoinedBy::Screws => Joined::Screws,
            own::JoinedBy::Housing { depth } => Joined::Housing { depth: depth.mm() },
            own::JoinedBy::Rebate { depth, open } => Joined::Rebate { depth: depth.mm(), open: open.into() },
            own::JoinedBy::Angles => Joined::Angles,
            own::JoinedBy::Loose => Joined::Loose,
        },
    }
}

fn mover(it: &own::Mover, assembly: &own::Assembly) -> Mover {
    Mover {
        id: it.id.clone(),
        bay: it.bay.clone(),
        parts: it.parts.iter().map(|&index| number(assembly, index)).collect(),
        things: (it.things.iter())
            .map(|&index| assembly.things.get(index).map(|thing| thing.name.clone()).unwrap_or_default())
            .collect(),
        fittings: (it.fittings.iter())
            .map(|&index| assembly.fittings.get(index).map(|it| it.name.clone()).unwrap_or_default())
            .collect(),
        motion: match it.motion {
            own::Motion::Slide { direction, travel } => {
                Motion::Slide { direction: direction.into(), travel: travel.mm() }
            }
            own::Motion::Turn { pivot, axis, opens_deg } => {
                Motion::Turn { pivot: point(pivot), axis: axis.into(), opens_deg }
            }
        },
    }
}

fn finding(it: &casewright_core::finding::Finding) -> Finding {
    Finding {
        severity: it.severity.word(),
        check: it.check.to_owned(),
        what: it.what.clone(),
        measured: it.measured.clone(),
        limit: it.limit.clone(),
        source: it.source.clone(),
        mend: it.mend.clone(),
        place: it.place.as_ref().map(Into::into),
        about: it.about.clone(),
        field: it.field.as_ref().map(ToString::to_string),
    }
}
