//! What is to be minded of a worktop with a shape: radii, strips beside openings, joints.

use super::context::Context;
use super::report::{Found, Report};
use crate::design::Role;
use crate::finding::Severity;
use crate::mechanics::source::Source;
use crate::text::FieldPath;
use crate::worktop::findings;

pub(super) fn check(context: &Context<'_>, report: &mut Report) {
    let Some(shape) = context.design.carcass.worktop.as_ref().and_then(|it| it.shape.as_ref()) else { return };
    let Some(worktop) = &context.assembly.worktop else { return };
    let mut parts = context.assembly.parts.iter().filter(|it| it.role == Role::Worktop);
    let first = parts.next();
    let place = parts.map(|it| it.cuboid).fold(first.map(|it| it.cuboid), |all, it| all.map(|all| all.union(&it)));
    for found in findings(shape, &worktop.outline, &|mm| context.size(mm)) {
        let mut finding = Found::new(Severity::Warning, "worktop.shape", found.what)
            .measured(found.measured)
            .limit(format!("at least {}", found.limit))
            .source(Source::memory("router work on boards"))
            .mend(found.mend)
            .field(Some(FieldPath::root().field("carcass").field("worktop").field("shape")))
            .usage(1.0);
        if let (Some(part), Some(place)) = (first, place) {
            finding = finding.about(part.number.clone()).place(place);
        }
        report.add(finding);
    }
}
