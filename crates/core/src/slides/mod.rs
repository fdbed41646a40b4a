//! Slides that a design leaves to the program: which ones it takes, bay by bay, and what came next.
//!
//! A drawer or pull-out that names no slide, or one of the library without a length or load class, gets the longest usual
//! slide that its bay takes, in the least class that carries what is on it. The choice is made in three steps: the design
//! is solved with the shortest slides that take the things; in the depth that it then has, each bay gets its longest; and
//! it is solved again, which proves the choice. Of the masses, those of the parts are counted as built.

mod bays;
#[cfg(test)]
mod tests;

use crate::assembly::{Assembly, Motion, build};
use crate::checks::moved_mass_kg;
use crate::design::{Extension, Fitting, Holding, Inside, Resolved};
use crate::finding::{Finding, Severity};
use crate::fittings::{Library, SlideChoice, SlideSeries, SlideWish, choose_slide, figures, fill, library};
use crate::geometry::Axis;
use crate::holding;
use crate::layout::{Choice, Layout};
use crate::length::Length;
use crate::solve::{SolveError, solve};
use crate::text::FieldPath;
use crate::unit::DecimalMark;
use bays::{Lies, OpenBay, open_bays};

/// A design that leaves no slides open.
#[derive(Clone, Debug, PartialEq)]
pub struct Settled {
    /// The design; what was chosen stands among its fittings.
    pub design: Resolved,
    /// What was chosen, in the order of the tree.
    pub chosen: Vec<ChosenSlide>,
}

/// Slides that the program has chosen.
#[derive(Clone, Debug, PartialEq)]
pub struct ChosenSlide {
    /// The bay.
    pub bay: String,
    /// Where its holding stands in the file; the bay itself if it is not laid.
    pub field: Option<FieldPath>,
    /// What the library calls them.
    pub of: String,
    /// The name that they have among the fittings now.
    pub name: String,
    /// Nominal length.
    pub length: Length,
    /// Load class of the pair, kg.
    pub class_kg: f64,
    /// What they carry: the parts that move, the things with what they hold, or what an empty drawer is taken to hold, kg.
    pub carries_kg: f64,
    /// Depth of the opening that is left behind them.
    pub rest: Length,
    /// Whether partial extension would do to reach the rear of what is carried.
    pub partial_serves: bool,
    /// The next choice, and why it was not taken.
    pub next: String,
}

impl ChosenSlide {
    /// The choice in the words of the layout.
    #[must_use]
    pub fn choice(&self) -> Choice {
        Choice {
            what: format!("slides of bay {:?}", self.bay),
            taken: format!("{} of {} mm, class {} kg", self.of, self.length.mm(), self.class_kg),
            next: Some(self.next.clone()),
        }
    }

    /// The choice as a note.
    #[must_use]
    pub fn finding(&self, design: &Resolved, assembly: &Assembly) -> Finding {
        let size = |length: Length| design.unit.format_named(length, DecimalMark::Point);
        let place = assembly.fittings.iter().filter(|it| it.bay == self.bay && it.name == self.name);
        let partial = if self.partial_serves { "; partial extension would serve too" } else { "" };
        Finding {
            severity: Severity::Note,
            check: "slide.choice",
            what: format!(
                "bay {:?} gets a {} of {} mm, class {} kg, which leaves {} of the depth behind it",
                self.bay,
                self.of,
                self.length.mm(),
                self.class_kg,
                size(self.rest)
            ),
            measured: Some(format!("{:.1} kg to carry", self.carries_kg)),
            limit: Some(format!("{} kg", self.class_kg)),
            source: Some("common practice: the longest that fits, in the least class that carries".to_owned()),
            mend: Some(format!("as it is, or name another; next: {}{partial}", self.next)),
            place: place.map(|it| it.cuboid).reduce(|a, b| a.union(&b)),
            about: vec![self.bay.clone()],
            field: self.field.clone(),
        }
    }
}

/// Chooses all slides that a design leaves open. Where the design cannot be solved with the shortest slides that take the
/// things, whichever way round those lie that may turn, it comes back with the ones that leave the fewest
/// contradictions, and solving it says why.
#[must_use]
pub fn settle(design: &Resolved) -> Settled {
    let mut design = design.clone();
    // Faults are told where a design is read; an entry at fault stays and is refused by name.
    fill(&mut design);
    let open = open_bays(&design);
    let Some(library) = library().ok().filter(|_| !open.is_empty()) else {
        return Settled { design, chosen: Vec::new() };
    };
    // Where nothing may turn, all three are the same and are solved once.
    let mut tries: Vec<Vec<Length>> = Vec::new();
    for lies in [Lies::Shorter, Lies::AsGiven, Lies::Longer] {
        let lengths = open.iter().map(|it| it.least(&design, library, lies)).collect();
        if !tries.contains(&lengths) {
            tries.push(lengths);
        }
    }
    let mut solved = None;
    let mut fewest: Option<(usize, Resolved)> = None;
    for lengths in tries {
        let trial = with(&design, library, &open, &lengths, None);
        let contradictions = match solve(&trial) {
            Ok(found) => {
                solved = Some((lengths, found.layout));
                break;
            }
            Err(SolveError::Conflicts(all)) => all.len(),
            Err(_) => usize::MAX,
        };
        if fewest.as_ref().is_none_or(|(least, _)| contradictions < *least) {
            fewest = Some((contradictions, trial));
        }
    }
    let Some((shortest, layout)) = solved else {
        return Settled { design: fewest.map_or(design, |(_, trial)| trial), chosen: Vec::new() };
    };
    let longest: Vec<Length> = (open.iter().zip(&shortest))
        .map(|(bay, &least)| bay.longest(library, &layout).map_or(least, |it| it.max(least)))
        .collect();
    let proved = |lengths: Vec<Length>| {
        let trial = with(&design, library, &open, &lengths, None);
        let layout = solve(&trial).ok()?.layout;
        let assembly = build(&trial, &layout).ok();
        Some((lengths, layout, assembly))
    };
    let Some((lengths, layout, assembly)) = proved(longest).or_else(|| proved(shortest.clone())) else {
        return Settled { design: with(&design, library, &open, &shortest, None), chosen: Vec::new() };
    };
    let masses: Vec<f64> = open.iter().map(|it| mass(&design, it, assembly.as_ref())).collect();
    let classes: Vec<f64> = open.iter().zip(&masses).map(|(it, &mass)| it.class(library, mass)).collect();
    let settled = with(&design, library, &open, &lengths, Some(&classes));
    let chosen = (open.iter().zip(lengths).zip(classes).zip(masses))
        .filter_map(|(((bay, length), class), mass)| chosen(&settled, library, &layout, bay, length, class, mass))
        .collect();
    Settled { design: settled, chosen }
}

/// The design with slides of these lengths and classes, the highest class if none is given, in the bays that leave them open.
fn with(
    design: &Resolved,
    library: &Library,
    open: &[OpenBay],
    lengths: &[Length],
    classes: Option<&[f64]>,
) -> Resolved {
    let mut design = design.clone();
    for (index, (bay, &length)) in open.iter().zip(lengths).enumerate() {
        let series = SlideSeries::of(library, bay.mount);
        let highest = || bay.usual.load_kg.or(series.classes_kg.last().copied()).unwrap_or_default();
        let class = classes.and_then(|it| it.get(index).copied()).unwrap_or_else(highest);
        let slide = Fitting::Slide(series.slide(&bay.usual, length, class));
        let mut name = format!("{} {} mm, {class} kg", bay.entry, length.mm());
        while design.fittings.get(&name).is_some_and(|other| *other != slide) {
            name.push('\'');
        }
        if let Some(it) = design.carcass.bay.named_mut(&bay.name)
            && let Inside::Holds { by: Holding::PullOut { slide, .. } | Holding::Drawer { slide, .. }, .. } =
                &mut it.inside
        {
            *slide = Some(name.clone());
        }
        design.fittings.insert(name, slide);
    }
    design
}

/// All that moves with the holding of a bay, kg; the things alone if it cannot be built.
fn mass(design: &Resolved, bay: &OpenBay, assembly: Option<&Assembly>) -> f64 {
    let built = assembly.and_then(|it| {
        let mover = it.movers.iter().find(|it| it.bay == bay.name && matches!(it.motion, Motion::Slide { .. }))?;
        Some(moved_mass_kg(design, it, mover))
    });
    built.unwrap_or_else(|| {
        let things = bay.things.iter().filter_map(|it| design.things.get(it));
        things.map(|it| it.mass_kg + it.load_kg).sum()
    })
}

fn chosen(
    design: &Resolved,
    library: &Library,
    layout: &Layout,
    bay: &OpenBay,
    length: Length,
    class_kg: f64,
    carries_kg: f64,
) -> Option<ChosenSlide> {
    let laid = layout.bay(&bay.name)?;
    let holding = laid.path.field("inside").field("by");
    let Inside::Holds { by: Holding::PullOut { slide, .. } | Holding::Drawer { slide, .. }, .. } =
        &design.carcass.bay.named(&bay.name)?.inside
    else {
        return None;
    };
    let name = slide.clone()?;
    let slide = holding::slide_of(design, Some(&name)).ok()?;
    let depth = laid.clear.size(Axis::Z) - bay.inset;
    let rest = depth - figures().set_back - length;
    let series = SlideSeries::of(library, bay.mount);
    let next_of = |longer: bool| {
        let mut all = series.lengths.iter().copied().map(Length::from_mm_f64);
        if longer { all.find(|&it| it > length) } else { all.rfind(|&it| it < length) }
    };
    let size = |length: Length| design.unit.format_named(length, DecimalMark::Point);
    let next = match (bay.usual.length, next_of(true), next_of(false)) {
        (Some(_), ..) => "its length is that of the design".to_owned(),
        (None, Some(longer), _) => {
            let lacks = holding::least_depth(&series.slide(&bay.usual, longer, class_kg)) - depth;
            format!("{} mm would need {} more depth", longer.mm(), size(lacks))
        }
        (None, None, Some(shorter)) => {
            format!("{} mm would come out {} less; longer ones are not usual", shorter.mm(), size(length - shorter))
        }
        (None, None, None) => "no other length is usual".to_owned(),
    };
    let reach = bay.reach(design, slide);
    let wish = bay.wish(reach, carries_kg, depth + bay.inset);
    let wish = SlideWish { length: Some(length.mm()), load_class_kg: Some(class_kg), ..wish };
    let partial_serves = slide.extension == Extension::Full
        && choose_slide(&library.slides, &wish).is_some_and(|SlideChoice { full_extension, .. }| !full_extension);
    Some(ChosenSlide {
        bay: bay.name.clone(),
        field: Some(holding),
        of: bay.usual.of.clone(),
        name,
        length,
        class_kg,
        carries_kg,
        rest,
        partial_serves,
        next,
    })
}
