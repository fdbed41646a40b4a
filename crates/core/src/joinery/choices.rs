//! Whether the choices of a design for single joints have any effect.

use crate::assembly::{Assembly, JoinedBy, Joint};
use crate::design::{JointChoice, JointKind, Resolved};
use crate::finding::{Finding, Severity};
use crate::length::Length;
use crate::text::FieldPath;

/// Says which choices for joints speak of nothing that meets, or of what is joined otherwise all the same.
#[must_use]
pub fn check_choices(design: &Resolved, assembly: &Assembly) -> Vec<Finding> {
    let mut findings = Vec::new();
    for (index, choice) in design.carcass.joints.iter().enumerate() {
        let of = spoken_of(assembly, choice);
        let (what, mend) = if of.is_empty() {
            (
                format!("choice {} for joints speaks of parts that do not meet", index + 1),
                "name what meets: a shelf lies over its bay, an upright stands right of it",
            )
        } else if !of.iter().any(|joint| obeys(choice, joint)) {
            (
                format!("choice {} for joints changes nothing: what meets there is joined otherwise", index + 1),
                "leave it out: another choice holds, or these parts can be joined in one way only",
            )
        } else {
            continue;
        };
        let about = of.iter().flat_map(|joint| [joint.face_part, joint.edge_part]);
        let mut about: Vec<String> = about.filter_map(|it| Some(assembly.parts.get(it)?.number.clone())).collect();
        about.sort();
        about.dedup();
        findings.push(Finding {
            severity: Severity::Warning,
            check: "joinery.choice",
            what,
            measured: None,
            limit: None,
            source: None,
            mend: Some(mend.to_owned()),
            place: of.first().map(|joint| joint.contact),
            about,
            field: Some(FieldPath::root().field("carcass").field("joints").index(index)),
        });
    }
    findings
}

/// The joints of the parts that a choice speaks of.
fn spoken_of<'a>(assembly: &'a Assembly, choice: &JointChoice<Length>) -> Vec<&'a Joint> {
    let named = |part: usize| assembly.parts.get(part).map(|it| (it.role, it.bay.as_str()));
    let speaks = |joint: &&Joint| match (named(joint.face_part), named(joint.edge_part)) {
        (Some(a), Some(b)) => choice.speaks_of(a, b),
        _ => false,
    };
    assembly.joints.iter().filter(speaks).collect()
}

/// Whether a joint is what the choice asks for.
const fn obeys(choice: &JointChoice<Length>, joint: &Joint) -> bool {
    match (&choice.by, &joint.kind) {
        (None, JoinedBy::Dowels { .. } | JoinedBy::Screws)
        | (Some(JointKind::Screwed), JoinedBy::Screws)
        | (Some(JointKind::Housed { .. }), JoinedBy::Housing { .. })
        | (Some(JointKind::Rebated { .. }), JoinedBy::Rebate { .. } | JoinedBy::Housing { .. })
        | (Some(JointKind::Angled), JoinedBy::Angles) => true,
        (Some(JointKind::Dowelled(_)), JoinedBy::Dowels { with_screws, .. }) => !*with_screws,
        (Some(JointKind::DowelledAndScrewed(_)), JoinedBy::Dowels { with_screws, .. }) => *with_screws,
        _ => false,
    }
}
