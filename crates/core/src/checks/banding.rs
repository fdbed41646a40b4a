//! Banding against the edges that it is glued to: it is trimmed flush on both faces, so that it has to stand out past both.

use std::collections::BTreeMap;

use super::context::{Context, listed};
use super::report::{Found, Report};
use crate::assembly::Part;
use crate::finding::Severity;
use crate::length::Length;
use crate::mechanics::source::Source;
use crate::text::FieldPath;

/// What a banding is wider than its edge, both sides together, so that there is something to trim.
const TRIM: Length = Length::from_mm(2);
/// Where that comes from: 22 mm are sold for boards of 18 and 19 mm, 19 mm for those of 16.
const TRIM_SOURCE: Source = Source::practice("a banding stands out by 1 mm on each side, to be trimmed flush");

pub(super) fn check(context: &Context<'_>, report: &mut Report) {
    // For each banding its parts with edges that are too thick: those that it does not cover apart.
    let mut narrow: BTreeMap<(&str, bool), Vec<&Part>> = BTreeMap::new();
    for part in &context.assembly.parts {
        let edge = part.finished.thickness;
        let mut names: Vec<&str> = part.bands.iter().map(|band| band.name.as_str()).collect();
        names.sort_unstable();
        names.dedup();
        for name in names {
            let width = context.design.banding.get(name).and_then(|it| it.width);
            if let Some(width) = width.filter(|it| *it < edge + TRIM) {
                narrow.entry((name, width >= edge)).or_default().push(part);
            }
        }
    }
    for ((name, covers), parts) in narrow {
        tell(context, name, covers, &parts, report);
    }
}

fn tell(context: &Context<'_>, name: &str, covers: bool, parts: &[&Part], report: &mut Report) {
    let Some(width) = context.design.banding.get(name).and_then(|it| it.width) else { return };
    let Some(worst) = parts.iter().max_by_key(|it| it.finished.thickness) else { return };
    let edge = worst.finished.thickness;
    let needed = edge + TRIM;
    let size = |length: Length| context.size(length.mm());
    let names: Vec<&str> = parts.iter().map(|part| part.name.as_str()).collect();
    let of = listed(&names);
    let (severity, what) = if covers {
        (Severity::Warning, format!("the banding {name} leaves too little to trim on the edges of {of}"))
    } else {
        (Severity::Error, format!("the banding {name} is narrower than the edges of {of}"))
    };
    // One of the design that would do instead: as thick, and wide enough.
    let thickness = context.design.banding.get(name).map(|it| it.thickness);
    let wider = context
        .design
        .banding
        .iter()
        .find(|(_, it)| Some(it.thickness) == thickness && it.width.is_some_and(|width| width >= needed));
    let mend = match wider {
        Some((other, _)) => format!("the banding {other}, or one {} wide or more", size(needed)),
        None => format!("a banding {} wide or more, or a thinner board", size(needed)),
    };
    let mut found = Found::new(severity, "banding.width", what)
        .measured(size(width))
        .limit(format!("{}: edge {}, to trim {}", size(needed), size(edge), size(TRIM)))
        .source(TRIM_SOURCE)
        .mend(mend)
        .place(worst.cuboid)
        .field(Some(FieldPath::root().field("banding").key(name).field("width")))
        .usage(needed.mm() / width.mm().max(1.0));
    for part in parts {
        found = found.about(part.number.clone());
    }
    report.add(found);
}
