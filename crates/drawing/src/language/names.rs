//! The names that a user gives in a design: no language has words for them.

use std::collections::BTreeSet;

use casewright_core::design::{Bay, Design};

/// Every name and word of the user's own in a design: what bays, things, materials, boards and the rest are called, finishes,
/// and what the title block says.
#[must_use]
pub fn names_of<L>(design: &Design<L>) -> BTreeSet<String> {
    let notes = &design.sheet;
    let mut names: BTreeSet<String> =
        [&design.title, &notes.owner, &notes.number, &notes.revision, &notes.date, &notes.drawn_by, &notes.approved_by]
            .into_iter()
            .cloned()
            .collect();
    names.extend(design.parameters.keys().cloned());
    names.extend(design.site.obstacles.iter().map(|it| it.name.clone()));
    names.extend(design.site.niche.iter().filter_map(|it| it.above.clone()));
    names.extend(design.things.keys().cloned());
    names.extend(design.things.values().flat_map(|it| &it.pull_outs).map(|it| it.name.clone()));
    for (name, it) in &design.materials {
        names.extend([name.clone(), it.finish.clone()]);
    }
    for (name, it) in &design.banding {
        names.extend([name.clone(), it.finish.clone()]);
    }
    for it in &design.boards {
        names.extend([&it.name, &it.material, &it.family, &it.finish].map(Clone::clone));
    }
    names.extend(design.fittings.keys().cloned());
    if let Some(shape) = design.carcass.worktop.as_ref().and_then(|it| it.shape.as_ref()) {
        names.extend(shape.cut_outs.iter().map(|it| it.name.clone()));
    }
    bays(&design.carcass.bay, &mut names);
    names
}

fn bays<L>(bay: &Bay<L>, names: &mut BTreeSet<String>) {
    names.insert(bay.name.clone());
    for inner in bay.children() {
        bays(inner, names);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_kind_of_name_is_found() {
        let text = include_str!("../../../../demo/laundry-alcove.ron");
        let design = Design::from_ron(text).unwrap();
        let names = names_of(&design);
        let things = design.things.keys().chain(design.materials.keys()).chain(design.banding.keys());
        assert!(things.chain(design.fittings.keys()).chain([&design.title]).all(|it| names.contains(it)));
        assert!(design.boards.iter().all(|it| names.contains(&it.name)));
        assert!(design.carcass.bay.children().iter().all(|it| names.contains(&it.name)));
    }
}
