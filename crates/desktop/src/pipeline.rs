//! The pipeline, from a Design to everything that the window shows. Pure: the same Design gives the same result.

use std::collections::BTreeMap;
use std::sync::{Arc, OnceLock};

use casewright_core::assembly::Assembly;
use casewright_core::build_plan::BuildPlan;
use casewright_core::design::{Design, Resolved};
use casewright_core::finding::Finding;
use casewright_core::geometry::Axis;
use casewright_core::jigs::JigPlan;
use casewright_core::layout::Layout;
use casewright_core::length::Length;
use casewright_core::pipeline::{DeriveError, derive_and_ask};
use casewright_core::routes::LeadRoute;
use casewright_core::slides::settle;
use casewright_core::solve::{Change, Conflict, SizeRef, Why, solve};
use casewright_core::text::{Fault, FieldPath, Segment};
use casewright_drawing::furniture::{
    PackOptions, Scene, StepCard, finding_diagrams, front_elevation, front_elevation_with_fronts, isometric_view, pack,
    plan_section, side_section, step_cards,
};
use casewright_drawing::{Display, Language, Sheet, View};

use crate::command::{Command, Name};
use crate::cutting::Planned;
use crate::view::plain;

/// Which view of the carcass.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum ViewKind {
    /// From the front, without fronts.
    #[default]
    Front,
    /// From the front, with fronts.
    Fronts,
    /// A section from the side.
    Section,
    /// A section from above.
    Plan,
    /// In space.
    Isometric,
}

impl ViewKind {
    /// Every view, in the order of the switches.
    pub const ALL: [Self; 5] = [Self::Front, Self::Fronts, Self::Section, Self::Plan, Self::Isometric];
}

/// Something that cannot be: a text that makes no sense, or demands that contradict each other.
#[derive(Clone, Debug, PartialEq)]
pub struct Trouble {
    /// What is wrong, in one sentence.
    pub what: String,
    /// What it comes from, each with its field.
    pub because: Vec<(String, Option<FieldPath>)>,
    /// What would mend it.
    pub mends: Vec<Mend>,
}

/// An edit that would mend a trouble.
#[derive(Clone, Debug, PartialEq)]
pub struct Mend {
    /// What it does, in words.
    pub words: String,
    /// The edit; nothing where the user has to choose.
    pub command: Option<Command>,
}

/// Everything that is derived from one Design.
#[derive(Clone, Debug)]
pub struct Derived {
    /// The number of the request.
    pub serial: u64,
    /// The revision of the document that it was derived from.
    pub revision: u64,
    /// The Design.
    pub design: Arc<Design>,
    /// What cannot be.
    pub troubles: Vec<Trouble>,
    /// Where everything lies; none while demands contradict each other.
    pub layout: Option<Layout>,
    /// Everything that is built; none while there is trouble.
    pub assembly: Option<Assembly>,
    /// What the checks found, worst first.
    pub findings: Vec<Finding>,
    /// The small diagram of each finding, where there is one; only where the assembly is built.
    pub diagrams: Vec<Option<Display>>,
    /// The design with all lengths evaluated; none while there is trouble.
    pub resolved: Option<Resolved>,
    /// The views that could be drawn.
    pub views: BTreeMap<ViewKind, Arc<View>>,
    /// Why the bay in focus has the size that it has.
    pub why: Whys,
    /// The ways of the leads.
    pub leads: Vec<LeadRoute>,
    /// The order of work, once somebody has asked for it: sheets and steps have the same one.
    pub order: OnceLock<BuildPlan>,
    /// The drilling blocks.
    pub jigs: JigPlan,
    /// The steps of the work, said in a language; none if they were not asked for.
    pub steps: Option<(Language, Vec<StepCard>)>,
    /// The pack of sheets, or why it cannot be put together; none if it was not asked for.
    pub sheets: Option<Result<Vec<Sheet>, String>>,
}

/// Why one bay has the size that it has.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Whys {
    /// The bay; empty if none was asked about.
    pub bay: String,
    /// One entry for each size.
    pub lines: Vec<WhyLine>,
}

/// Why one size is what it is.
#[derive(Clone, Debug, PartialEq)]
pub struct WhyLine {
    /// Along which axis.
    pub axis: Axis,
    /// The size.
    pub size: Length,
    /// What decides it, strongest first.
    pub reasons: Vec<String>,
    /// The least that it could be, all demands kept.
    pub least: Option<Length>,
    /// The most that it could be.
    pub most: Option<Length>,
}

impl WhyLine {
    /// The key of the word for the size.
    #[must_use]
    pub const fn axis_key(&self) -> &'static str {
        match self.axis {
            Axis::X => "field-width",
            Axis::Y => "field-height",
            Axis::Z => "field-depth",
        }
    }
}

/// The pack of sheets that is wanted.
#[derive(Clone, Debug, Default)]
pub struct SheetsWanted {
    /// What is drawn, and on what.
    pub options: PackOptions,
    /// The cutting plan that is to be among them, if there is one.
    pub plan: Option<Arc<Planned>>,
}

impl PartialEq for SheetsWanted {
    fn eq(&self, other: &Self) -> bool {
        // A plan is made once and handed on: another one is another place in memory.
        let plan = |it: &Self| it.plan.as_ref().map(Arc::as_ptr);
        self.options == other.options && plan(self) == plan(other)
    }
}

impl SheetsWanted {
    fn drawn(&self, scene: &Scene<'_>) -> Result<Vec<Sheet>, String> {
        let cutting = self.plan.as_ref().map(|it| it.plan.clone());
        let options = PackOptions { cutting, ..self.options.clone() };
        pack(scene, &options).map(|pack| pack.sheets).map_err(|error| error.to_string())
    }
}

/// What is asked of the background work.
#[derive(Clone, Debug)]
pub struct Request {
    /// A number of its own.
    pub serial: u64,
    /// The revision of the document.
    pub revision: u64,
    /// The Design.
    pub design: Arc<Design>,
    /// The bay whose sizes are to be explained.
    pub focus: Option<String>,
    /// The pack of sheets that is wanted, if it is.
    pub sheets: Option<SheetsWanted>,
    /// Whether the steps of the work are wanted.
    pub steps: bool,
    /// The language of views, sheets and steps.
    pub language: Language,
}

impl Derived {
    fn nothing(request: &Request) -> Self {
        Self {
            serial: request.serial,
            revision: request.revision,
            design: request.design.clone(),
            troubles: Vec::new(),
            layout: None,
            assembly: None,
            findings: Vec::new(),
            diagrams: Vec::new(),
            resolved: None,
            views: BTreeMap::new(),
            why: Whys::default(),
            leads: Vec::new(),
            order: OnceLock::new(),
            jigs: JigPlan::default(),
            steps: None,
            sheets: None,
        }
    }

    /// What is shown when the pipeline itself failed.
    #[must_use]
    pub fn broken(request: &Request, words: &str) -> Self {
        let what = format!("internal error, please report: {words}");
        let trouble = Trouble { what, because: Vec::new(), mends: Vec::new() };
        Self { troubles: vec![trouble], ..Self::nothing(request) }
    }

    /// What is built, to be drawn; none while there is trouble.
    #[must_use]
    pub fn scene(&self) -> Option<Scene<'_>> {
        Some(Scene {
            design: self.resolved.as_ref()?,
            layout: self.layout.as_ref()?,
            assembly: self.assembly.as_ref()?,
            leads: &self.leads,
            order: &self.order,
            jigs: &self.jigs,
            findings: &self.findings,
            speech: None,
        })
    }
}

/// What a panic said.
#[must_use]
pub fn panic_words(panic: &(dyn std::any::Any + Send)) -> String {
    let text = panic.downcast_ref::<&str>().map(|text| (*text).to_owned());
    text.or_else(|| panic.downcast_ref::<String>().cloned()).unwrap_or_else(|| "no words".to_owned())
}

/// As [`run`], but a panic of the pipeline becomes a trouble: it is a defect, but one that must cost neither the window
/// nor the user's edits.
#[must_use]
pub fn run_safely(request: &Request) -> Arc<Derived> {
    let derived = std::panic::catch_unwind(|| run(request));
    Arc::new(derived.unwrap_or_else(|panic| Derived::broken(request, &panic_words(&*panic))))
}

/// Derives everything from a Design.
#[must_use]
pub fn run(request: &Request) -> Derived {
    let mut derived = Derived::nothing(request);
    let bay = request.focus.clone().unwrap_or_default();
    let axes = [Axis::X, Axis::Y];
    let sizes = axes.map(|axis| SizeRef::Bay(bay.clone(), axis));
    let sizes: &[SizeRef] = if bay.is_empty() { &[] } else { &sizes };
    match derive_and_ask(&request.design, sizes) {
        Ok((whole, whys)) => {
            let lines = axes.into_iter().zip(whys).filter_map(|(axis, why)| Some(why_line(axis, &why?))).collect();
            derived.why = Whys { bay, lines };
            let scene = Scene::from(&whole);
            let speech = scene.speech_of(request.language);
            let said = scene.in_language(&speech);
            derived.views = views(&said, &derived.why.bay);
            derived.steps = request.steps.then(|| (request.language, step_cards(&said)));
            derived.sheets = request.sheets.as_ref().map(|wanted| wanted.drawn(&said));
            derived.diagrams = finding_diagrams(&said);
            derived.leads = whole.leads;
            derived.order = whole.order;
            derived.jigs = whole.jigs;
            derived.findings = whole.findings;
            derived.resolved = Some(whole.design);
            derived.assembly = Some(whole.assembly);
            derived.layout = Some(whole.layout);
        }
        Err(error) => {
            derived.troubles = troubles(&request.design, &error);
            // What is solved but cannot be built is still worth seeing.
            let resolved = request.design.resolve().ok();
            derived.layout = resolved.and_then(|resolved| Some(solve(&settle(&resolved).design).ok()?.layout));
        }
    }
    if let Some(layout) = derived.layout.as_ref().filter(|_| derived.assembly.is_none()) {
        for kind in ViewKind::ALL {
            if let Some(view) = plain::view(layout, kind, request.design.unit) {
                derived.views.insert(kind, Arc::new(view));
            }
        }
    }
    derived
}

/// The views of what is built; the sections go through the bay in focus, else through the widest undivided one.
fn views(scene: &Scene<'_>, focus: &str) -> BTreeMap<ViewKind, Arc<View>> {
    let mut views = BTreeMap::from([
        (ViewKind::Front, front_elevation(scene)),
        (ViewKind::Fronts, front_elevation_with_fronts(scene)),
        (ViewKind::Isometric, isometric_view(scene, true)),
    ]);
    let widest = || scene.layout.bays.iter().filter(|bay| bay.is_leaf).max_by_key(|bay| bay.clear.size(Axis::X));
    if let Some(bay) = scene.layout.bay(focus).or_else(widest) {
        views.insert(ViewKind::Section, side_section(scene, bay, "A").0);
        views.insert(ViewKind::Plan, plan_section(scene, bay, "B").0);
    }
    views.into_iter().map(|(kind, view)| (kind, Arc::new(view))).collect()
}

fn fault(fault: &Fault) -> Trouble {
    let mends = fault.mend.iter().map(|words| Mend { words: words.clone(), command: None }).collect();
    let place = fault.path.as_ref().map(ToString::to_string).unwrap_or_default();
    let because = fault.path.iter().map(|path| (place.clone(), Some(path.clone()))).collect();
    Trouble { what: fault.cause.clone(), because, mends }
}

fn troubles(design: &Design, error: &DeriveError) -> Vec<Trouble> {
    match error {
        DeriveError::Conflicts(conflicts) => conflicts.iter().map(|it| conflict(design, it)).collect(),
        DeriveError::Faults(faults) => faults.iter().map(fault).collect(),
        DeriveError::Internal(_) => {
            vec![Trouble { what: error.to_string(), because: Vec::new(), mends: Vec::new() }]
        }
    }
}

fn conflict(design: &Design, conflict: &Conflict) -> Trouble {
    let because = conflict.entries.iter().map(|entry| (entry.words.clone(), Some(entry.field.clone()))).collect();
    let more = conflict.mends.is_empty() && !conflict.first_steps.is_empty();
    let more = more.then(|| Mend { words: "more than one change is needed; to begin with:".to_owned(), command: None });
    let offered = conflict.mends.iter().chain(&conflict.first_steps).map(|mend| Mend {
        words: mend.words.clone(),
        command: mend.change.as_ref().and_then(|change| command(design, change, &mend.words)),
    });
    let mends = more.into_iter().chain(offered);
    // The whole sentence repeats the entries, which are listed under it.
    Trouble { what: conflict.short.clone(), because, mends: mends.collect() }
}

/// The edit that a mend asks for.
fn command(design: &Design, change: &Change, words: &str) -> Option<Command> {
    let name = Name::about("edit-mend", words);
    match change {
        Change::Length { field, to } => {
            let after = casewright_core::design::resolve::with_length(design, field, to)?;
            Some(Command::Replace { design: Box::new(after), name })
        }
        Change::DropTie { field } => {
            let Some(Segment::Index(index)) =
                field.segments().iter().find(|segment| matches!(segment, Segment::Index(_)))
            else {
                return None;
            };
            let mut after = design.clone();
            if *index >= after.carcass.ties.len() {
                return None;
            }
            after.carcass.ties.remove(*index);
            Some(Command::Replace { design: Box::new(after), name })
        }
    }
}

fn why_line(axis: Axis, why: &Why) -> WhyLine {
    WhyLine {
        axis,
        size: why.size,
        reasons: why.deciders.iter().map(|decider| decider.words.clone()).collect(),
        least: why.least.as_ref().map(|(length, _)| *length),
        most: why.most.as_ref().map(|(length, _)| *length),
    }
}
