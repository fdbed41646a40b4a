//! The whole way through in one call: a Design is resolved, solved and built, and the result is checked.

use std::sync::OnceLock;

use thiserror::Error;

use crate::as_built::{self, Applied};
use crate::assembly::{self, Assembly, BuildError};
use crate::build_plan::{self, BuildPlan};
use crate::checks::{self, CheckOptions, Known};
use crate::design::{Design, Resolved};
use crate::finding::Finding;
use crate::jigs::{self, JigPlan};
use crate::joinery;
use crate::layout::Layout;
use crate::routes::{LeadRoute, routes};
use crate::slides::{self, ChosenSlide, Settled};
use crate::solve::{self, Conflict, SizeRef, SolveError, Why};
use crate::text::Fault;

/// Everything that is derived from one design.
#[derive(Clone, Debug)]
pub struct Derived {
    /// The design with all lengths evaluated.
    pub design: Resolved,
    /// Where everything lies.
    pub layout: Layout,
    /// Everything that is built.
    pub assembly: Assembly,
    /// The ways of its leads.
    pub leads: Vec<LeadRoute>,
    /// The order of work. Of a piece of very many parts it is looked for when it is first asked for
    /// ([`Derived::order_of_work`]), and then kept.
    pub order: OnceLock<BuildPlan>,
    /// The drilling blocks that serve it, and how each is set up.
    pub jigs: JigPlan,
    /// What the checks found, worst first.
    pub findings: Vec<Finding>,
}

impl Derived {
    /// The order of work, looked for now if nobody has asked for it yet.
    #[must_use]
    pub fn order_of_work(&self) -> &BuildPlan {
        self.order.get_or_init(|| build_plan::plan(&self.design, &self.layout, &self.assembly, &self.leads))
    }
}

/// Why nothing can be derived from a design.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum DeriveError {
    /// The design says something that makes no sense or cannot be built; every fault is listed.
    #[error("{}", .0.iter().map(ToString::to_string).collect::<Vec<_>>().join("\n"))]
    Faults(Vec<Fault>),
    /// Demands that cannot hold together.
    #[error("{}", .0.iter().map(|it| it.what.as_str()).collect::<Vec<_>>().join("\n"))]
    Conflicts(Vec<Conflict>),
    /// A fault of the program.
    #[error("internal error, please report: {0}")]
    Internal(String),
}

impl From<SolveError> for DeriveError {
    fn from(error: SolveError) -> Self {
        match error {
            SolveError::Conflicts(conflicts) => Self::Conflicts(conflicts),
            SolveError::Faults(faults) => Self::Faults(faults),
            SolveError::Internal(what) => Self::Internal(what),
        }
    }
}

impl From<BuildError> for DeriveError {
    fn from(error: BuildError) -> Self {
        Self::Faults(
            error
                .problems
                .iter()
                .map(|it| match &it.field {
                    Some(field) => Fault::at_path(field.clone(), it.to_string()),
                    None => Fault::new(it.to_string()),
                })
                .collect(),
        )
    }
}

/// Derives everything from a design.
///
/// # Errors
/// Faults of the design, conflicts between its demands with mends, or a fault of the program.
pub fn derive(design: &Design) -> Result<Derived, DeriveError> {
    derive_and_ask(design, &[]).map(|(derived, _)| derived)
}

/// Derives everything from a design, and says of some sizes why they are what they are; none for bays that do not exist.
///
/// # Errors
/// As [`derive()`].
pub fn derive_and_ask(design: &Design, sizes: &[SizeRef]) -> Result<(Derived, Vec<Option<Why>>), DeriveError> {
    let Settled { design: settled, chosen } = slides::settle(&design.resolve().map_err(DeriveError::Faults)?);
    let Applied { design: resolved, differences } = as_built::apply(&settled);
    let solved = solve::solve(&resolved)?;
    let why = sizes.iter().map(|size| solved.why(size)).collect::<Result<Vec<_>, _>>()?;
    let mut findings = solved.notes();
    let mut layout = solved.layout;
    layout.choices.extend(chosen.iter().map(ChosenSlide::choice));
    let (mut assembly, mut carried) = assembly::build_loaded(&resolved, &layout)?;
    let options = CheckOptions::of(&resolved);
    if as_built::freeze(&resolved, &mut assembly) {
        carried = checks::carried_by(&resolved, &layout, &assembly, &options);
    }
    let known = Known { carried, leads: routes(&resolved, &layout, &assembly) };
    findings.extend(differences.iter().map(|it| it.finding(resolved.unit)));
    findings.extend(chosen.iter().map(|it| it.finding(&resolved, &assembly)));
    findings.extend(joinery::check_and_mend(&resolved, &layout, &assembly));
    findings.extend(joinery::check_choices(&resolved, &assembly));
    let jigs = jigs::plan(&assembly);
    findings.extend(jigs::check(&assembly, &jigs));
    let order = build_plan::on_every_edit(&resolved, &layout, &assembly, &known.leads);
    let order = order.map_or_else(OnceLock::new, OnceLock::from);
    findings.extend(order.get().into_iter().flat_map(|it| build_plan::findings(&assembly, it)));
    findings.extend(checks::all_knowing(&known, &resolved, &layout, &assembly, &options));
    findings.sort_by_key(|it| std::cmp::Reverse(it.severity));
    let leads = known.leads;
    Ok((Derived { design: resolved, layout, assembly, leads, order, jigs, findings }, why))
}
