//! What the checks read beside the piece itself: reckoned once, for whatever else needs it too.

use super::carry::{Carried, carried_by};
use super::options::CheckOptions;
use crate::assembly::Assembly;
use crate::design::Resolved;
use crate::layout::Layout;
use crate::routes::{LeadRoute, routes};

/// What the checks read beside the piece itself.
#[derive(Clone, Debug, PartialEq)]
pub struct Known {
    /// What all panels carry.
    pub carried: Carried,
    /// The ways of all leads that have a socket.
    pub leads: Vec<LeadRoute>,
}

impl Known {
    /// All of it, reckoned anew.
    #[must_use]
    pub fn of(design: &Resolved, layout: &Layout, assembly: &Assembly, options: &CheckOptions) -> Self {
        Self { carried: carried_by(design, layout, assembly, options), leads: routes(design, layout, assembly) }
    }
}
