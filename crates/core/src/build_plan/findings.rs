//! What comes together in no order, as findings.

use super::{BuildPlan, plan};
use crate::assembly::Assembly;
use crate::design::Resolved;
use crate::finding::{Finding, Severity};
use crate::geometry::Cuboid;
use crate::layout::Layout;
use crate::routes::LeadRoute;

/// Up to so many parts the order of work is looked for on every edit; beyond, that takes longer than a person waits, and
/// what is stuck stands in the order of work itself.
const MOST_PARTS: usize = 80;

/// The order of work where it is found while a person waits; none for pieces of very many parts.
#[must_use]
pub fn on_every_edit(
    design: &Resolved,
    layout: &Layout,
    assembly: &Assembly,
    leads: &[LeadRoute],
) -> Option<BuildPlan> {
    (assembly.parts.len() <= MOST_PARTS).then(|| plan(design, layout, assembly, leads))
}

/// Parts that no order brings together, each an error with what would mend it.
#[must_use]
pub fn findings(assembly: &Assembly, plan: &BuildPlan) -> Vec<Finding> {
    let finding = |stuck: &super::Stuck| {
        let parts = || stuck.parts.iter().filter_map(|&it| assembly.parts.get(it));
        Finding {
            severity: Severity::Error,
            check: "order.stuck",
            what: stuck.what.clone(),
            measured: None,
            limit: None,
            source: Some("straight moves along the joints, looked for in every order".to_owned()),
            mend: Some(stuck.mend.clone()),
            place: parts().map(|it| it.cuboid).reduce(|all: Cuboid, it| all.union(&it)),
            about: parts().map(|it| it.number.clone()).collect(),
            field: None,
        }
    };
    plan.stuck.iter().map(finding).collect()
}
