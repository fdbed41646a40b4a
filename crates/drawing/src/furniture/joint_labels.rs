//! Labels of joints, the same on every sheet: J1, J2 ... in the order of the assembly, those without fixing passed over.

use casewright_core::assembly::{Assembly, JoinedBy};

/// The label of each joint by its index; none for mere contact.
pub(crate) fn joint_labels(assembly: &Assembly) -> Vec<Option<String>> {
    let mut number = 0;
    let label = |kind: &JoinedBy| {
        (*kind != JoinedBy::Loose).then(|| {
            number += 1;
            format!("J{number}")
        })
    };
    assembly.joints.iter().map(|joint| &joint.kind).map(label).collect()
}
