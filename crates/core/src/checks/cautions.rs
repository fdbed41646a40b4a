//! The usual cautions, short, each where it applies.

use super::context::{Context, listed};
use super::report::{Found, Report};
use crate::design::{MaterialKind, ThingKind};
use crate::finding::Severity;
use crate::mechanics::source::Source;

pub(super) fn check(context: &Context<'_>, report: &mut Report) {
    if !context.options.cautions {
        return;
    }
    let mut caution = |id: &'static str, what: String, source: Source, about: Vec<String>| {
        let found = Found::new(Severity::Note, id, what).source(source);
        report.add(about.into_iter().fold(found, Found::about));
    };
    let boards = context
        .assembly
        .parts
        .iter()
        .filter_map(|it| context.material(it))
        .any(|it| !matches!(it.kind, MaterialKind::Softwood));
    if boards {
        caution(
            "caution.saw",
            "Sawing and sanding: guard and riving knife on, push stick, eye and ear protection, extraction and a mask for fine dust."
                .to_owned(),
            Source::practice("workshop safety; the machine maker's manual goes first"),
            Vec::new(),
        );
    }
    let appliances: Vec<&str> = context
        .assembly
        .things
        .iter()
        .map(|it| it.name.as_str())
        .filter(|name| context.design.things.get(*name).is_some_and(|it| it.kind == ThingKind::Appliance))
        .collect();
    if !appliances.is_empty() {
        caution(
            "caution.electric",
            format!(
                "{}: the maker's manual goes before these figures. Each on a socket of its own, no cable pinched or coiled, no \
                 extension lead for good; unplug before work. Fixed wiring is for a qualified electrician, by local rules.",
                listed(&appliances)
            ),
            Source::practice("electrical and heat cautions"),
            appliances.iter().map(|&it| it.to_owned()).collect(),
        );
    }
    if (context.assembly.envelope.max.y - context.floor()).mm() > 600.0 && !context.assembly.movers.is_empty() {
        caution(
            "caution.tip",
            "Until it is fixed, it may tip when several parts are open or a child climbs on it. The results here are calculations, no \
             test."
                .to_owned(),
            Source::practice("fixing of tall and drawer furniture"),
            Vec::new(),
        );
    }
}
