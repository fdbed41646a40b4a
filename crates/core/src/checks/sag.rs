//! Sag of shelves, tops, bottoms, rails and worktops, of drawer bottoms and platforms; and whether they break.

use serde::Serialize;

use super::carry::{self, Carried, Lying, carry, part_board, part_section};
use super::context::{Context, kg, listed, newtons, trimmed};
use super::options::CheckOptions;
use super::report::{Found, Report};
use crate::assembly::{Assembly, Part};
use crate::design::{Resolved, Role};
use crate::finding::Severity;
use crate::geometry::Axis;
use crate::layout::Layout;
use crate::mechanics::GRAVITY;
use crate::mechanics::beam::cases::Case;
use crate::mechanics::beam::{Load, Section, SectionPart, SpanRule, longest_span, thinnest_board};
use crate::mechanics::limits::ShelfUse;
use crate::mechanics::plate;
use crate::mechanics::source::Source;

/// The force of somebody leaning or sitting on a top, N.
const ON_TOP: (f64, Source) = (750.0, Source::published("EN 16121:2013 Table 3, 750 N on the top"));

/// Overhangs up to this length, mm, are not judged by their sag.
const SHORT_OVERHANG: f64 = 100.0;

/// How one lying panel bends, for lists and diagrams.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct PanelBend {
    /// The part, an index into the assembly's.
    pub part: usize,
    /// The stretch that is nearest to its limit: its length, mm.
    pub span: f64,
    /// Whether that stretch hangs over.
    pub hangs_over: bool,
    /// Deflection of that stretch after years, mm.
    pub deflection: f64,
    /// What is allowed, mm.
    pub limit: f64,
    /// How much of the bending strength is used, 1 being all that may be used for years.
    pub strength_used: f64,
    /// Whole load, N.
    pub load: f64,
    /// The part of it that is assumed, N.
    pub assumed: f64,
    /// The places of its supports from the left end, mm.
    pub supports: Vec<f64>,
    /// Points of the curve: from the left end and down, mm, first day.
    pub curve: Vec<(f64, f64)>,
}

/// How every lying panel bends, from the top down.
#[must_use]
pub fn bends(design: &Resolved, layout: &Layout, assembly: &Assembly, options: &CheckOptions) -> Vec<PanelBend> {
    let context = Context::new(design, layout, assembly, options);
    carry(&context).lying.iter().filter_map(|it| bend_of(&context, it, true)).collect()
}

/// The bend of one panel; none if it is not held or lies on the floor.
pub(super) fn bend_of(context: &Context<'_>, lying: &Lying, with_curve: bool) -> Option<PanelBend> {
    let bent = lying.bent.as_ref()?;
    let part = context.assembly.parts.get(lying.part)?;
    let growth = growth(context, part);
    let limit = &context.options.deflection;
    let worst = bent
        .stretches()
        .into_iter()
        .filter(|it| !it.1 || it.0 > SHORT_OVERHANG)
        .map(|(length, over, deepest)| (length, over, growth * deepest.value.abs(), limit.allows(length, over)))
        .max_by(|a, b| (a.2 / a.3).total_cmp(&(b.2 / b.3)))?;
    let length = part.cuboid.size(Axis::X).mm();
    let curve = if with_curve {
        (0..=40).map(|i| length * f64::from(i) / 40.0).map(|x| (x, bent.deflection(x))).collect()
    } else {
        Vec::new()
    };
    Some(PanelBend {
        part: lying.part,
        span: worst.0,
        hangs_over: worst.1,
        deflection: worst.2,
        limit: worst.3,
        strength_used: bent.max_moment().value.abs() / lying.section.moment_capacity,
        load: lying.loads.iter().map(Load::total).sum(),
        assumed: lying.assumed,
        supports: if with_curve { lying.supports.iter().map(|it| it.at).collect() } else { Vec::new() },
        curve,
    })
}

fn growth(context: &Context<'_>, part: &Part) -> f64 {
    context.options.growth.factor(context.properties(part).map_or(0.0, |it| it.kdef.value))
}

const fn id(role: Role) -> &'static str {
    match role {
        Role::Bottom => "sag.bottom",
        Role::Top => "sag.top",
        Role::Rail => "sag.rail",
        Role::Worktop => "sag.worktop",
        Role::DrawerBottom => "sag.drawer-bottom",
        Role::Platform => "sag.platform",
        _ => "sag.shelf",
    }
}

pub(super) fn check(context: &Context<'_>, carried: &Carried, report: &mut Report) {
    let mut best: Option<(f64, String)> = None;
    let mut count = 0;
    for lying in &carried.lying {
        let Some(part) = context.assembly.parts.get(lying.part) else { continue };
        if !lying.on_floor && lying.supports.len() < 2 {
            unsupported(context, lying, part, report);
            continue;
        }
        let Some(bend) = bend_of(context, lying, false) else {
            if !lying.on_floor {
                report.add(
                    Found::new(
                        Severity::Warning,
                        "sag.support",
                        format!("internal error, please report: {} could not be computed", part.name),
                    )
                    .source(Source::derived("beam over its supports"))
                    .measured("nothing")
                    .limit("a deflection")
                    .mend("judge this board by hand")
                    .place(part.cuboid)
                    .about(part.number.clone())
                    .usage(1.0),
                );
            }
            continue;
        };
        count += 1;
        let usage = bend.deflection / bend.limit;
        if usage > 1.0 {
            report.add(too_soft(context, lying, part, &bend));
        }
        if bend.strength_used > 1.0 {
            report.add(too_weak(context, lying, part, &bend));
        }
        if best.as_ref().is_none_or(|it| usage > it.0) {
            best = Some((usage, part.name.clone()));
        }
        if matches!(part.role, Role::Worktop | Role::Top) || lying.with.iter().any(|&i| is_worktop(context, i)) {
            somebody_on_it(context, lying, part, report);
        }
    }
    small_spans(context, report);
    if let Some((usage, name)) = best.filter(|it| it.0 <= 1.0) {
        report.add(
            Found::new(
                Severity::Note,
                "sag.summary",
                format!("{count} boards checked for sag; nearest to its limit: {name}"),
            )
            .measured(format!("{:.0} % of the limit", usage * 100.0))
            .limit(format!("L/{}", trimmed(context.options.deflection.denominator, 0)))
            .source(context.options.deflection.source)
            .source(context.options.growth.source())
            .usage(usage),
        );
    }
}

fn is_worktop(context: &Context<'_>, part: usize) -> bool {
    context.assembly.parts.get(part).is_some_and(|it| it.role == Role::Worktop)
}

/// The whole load and what it is, in words.
fn load_words(context: &Context<'_>, lying: &Lying) -> String {
    let load: f64 = lying.loads.iter().map(Load::total).sum();
    let mut words = kg(load / GRAVITY);
    if !lying.things.is_empty() {
        let names: Vec<&str> = lying.things.iter().map(String::as_str).collect();
        words = format!("{words} with {}", listed(&names));
    }
    if lying.assumed > 0.0 {
        let what = match context.options.shelf_use {
            ShelfUse::Storage => "household storage",
            ShelfUse::General => "general use",
            ShelfUse::Books => "books",
        };
        words = format!("{words}, {} of it assumed for {what}", kg(lying.assumed / GRAVITY));
    }
    words
}

fn too_soft(context: &Context<'_>, lying: &Lying, part: &Part, bend: &PanelBend) -> Found {
    let usage = bend.deflection / bend.limit;
    let stretch = if bend.hangs_over { "overhang" } else { "span" };
    let severity = if usage > 2.0 { Severity::Error } else { Severity::Warning };
    let what = format!(
        "{} sags by {} over a {stretch} of {} under {}",
        part.name,
        context.size(bend.deflection),
        context.size(bend.span),
        load_words(context, lying)
    );
    let mut found = Found::new(severity, id(part.role), what)
        .measured(context.size(bend.deflection))
        .limit(format!("{} (L/{})", context.size(bend.limit), trimmed(context.options.deflection.denominator, 0)))
        .source(context.options.deflection.source)
        .source(context.options.growth.source())
        .place(part.cuboid)
        .about(part.number.clone())
        .about(part.bay.clone())
        .field(context.bay_field(&part.bay))
        .usage(usage);
    if let Some(it) = context.properties(part) {
        found = found.source(it.modulus.source);
    }
    if let Some(mend) = mend(context, part, bend) {
        found = found.mend(mend);
    }
    found
}

/// The longest span and the thinnest board that would pass, for the same load spread evenly over a simple span.
fn mend(context: &Context<'_>, part: &Part, bend: &PanelBend) -> Option<String> {
    let it = context.properties(part)?;
    let board = SectionPart { height: it.thickness, ..part_board(context, part)? };
    let length = part.cuboid.size(Axis::X).mm();
    // The even load that bends a simple span of this board just as far stands for the loads that there are.
    let section = part_section(context, part)?;
    let growth = growth(context, part);
    let even = bend.deflection / growth / Case::SimpleUniform.deflection(1.0, bend.span, &section) / bend.span;
    let rule =
        SpanRule { case: Case::SimpleUniform, load: even, limit: 1.0 / context.options.deflection.denominator, growth };
    if bend.hangs_over {
        return Some(format!(
            "support it nearer to its end, or use a stiffer board ({:.1} times as stiff)",
            bend.deflection / bend.limit
        ));
    }
    let span = longest_span(&rule, &section, length.max(bend.span));
    let own = board.width * it.density.value * 1e-9 * GRAVITY;
    let bare = SpanRule { load: (even - own * it.thickness).max(0.0), ..rule };
    let thick = thinnest_board(&bare, bend.span, &board, own, 100.0);
    let span = context.size(span.floor());
    let stiff = trimmed((bend.deflection / bend.limit * 10.0).ceil() / 10.0, 1);
    let along = carry::board(it, board.width, it.thickness, false);
    let rail = rail_height(&rule, bend.span, &board, &along).map_or_else(
        || "a rail under it".to_owned(),
        |height| format!("a front rail of the same board under it, {} high", context.size(height)),
    );
    Some(match thick {
        Some(thick) => format!(
            "an upright or support so that it spans at most {span}, or a board of {} of the same material, or {rail}, or a material \
             {stiff} times as stiff",
            context.size((thick * 2.0).ceil() / 2.0)
        ),
        None => format!("an upright or support so that it spans at most {span}"),
    })
}

/// The lowest rail of the same board, its grain `along` its length, standing under the front edge and fixed to it along its length, with which the span
/// passes, mm in steps of 5; none up to 150.
fn rail_height(rule: &SpanRule, span: f64, board: &SectionPart, along: &SectionPart) -> Option<f64> {
    (4..=30).map(|i| f64::from(i) * 5.0).find(|&height| {
        let rail = SectionPart { width: along.height, height, bottom: -height, ..*along };
        rule.usage(span, &Section::composite(&[*board, rail])) <= 1.0
    })
}

fn too_weak(context: &Context<'_>, lying: &Lying, part: &Part, bend: &PanelBend) -> Found {
    let usage = bend.strength_used;
    // Past k_mod / 1.3 a warning; past the bare strength for lasting load an error.
    let severity = if usage > 1.3 { Severity::Error } else { Severity::Warning };
    let mut found = Found::new(
        severity,
        "strength.board",
        format!("{} may break in time under {}", part.name, load_words(context, lying)),
    )
    .measured(format!("{:.0} % of its lasting bending strength", usage * 100.0))
    .limit("100 %")
    .mend(format!("a shorter span, a support, or a board of {}", {
        let thickness = part.cuboid.size(Axis::Y).mm();
        context.size((thickness * usage.sqrt()).ceil())
    }))
    .place(part.cuboid)
    .about(part.number.clone())
    .field(context.bay_field(&part.bay))
    .usage(usage);
    if let Some(it) = context.properties(part) {
        found = found.source(it.bending_strength.source).source(it.kmod_long.source);
    }
    found
}

fn unsupported(context: &Context<'_>, lying: &Lying, part: &Part, report: &mut Report) {
    let what = match lying.supports.len() {
        0 => format!("nothing was found that {} lies on", part.name),
        _ => format!("{} is held at one place only", part.name),
    };
    report.add(
        Found::new(Severity::Warning, "sag.support", what)
            .measured(format!("{} supports", lying.supports.len()))
            .limit("2 supports")
            .source(Source::derived("faces that touch"))
            .mend("let it end at an upright or lie on one")
            .place(part.cuboid)
            .about(part.number.clone())
            .field(context.bay_field(&part.bay))
            .usage(1.0),
    );
}

/// A person's weight at the middle of the longest span, for a short time.
fn somebody_on_it(context: &Context<'_>, lying: &Lying, part: &Part, report: &mut Report) {
    let Some(bent) = &lying.bent else { return };
    let top = (part.cuboid.max.y - context.floor()).mm();
    if top > 1100.0 {
        return;
    }
    let Some((span, _, _)) = bent.stretches().into_iter().filter(|it| !it.1).max_by(|a, b| a.0.total_cmp(&b.0)) else {
        return;
    };
    let simple = Section { ..lying.section };
    let sag = Case::SimpleCentre.deflection(ON_TOP.0, span, &simple);
    // For a short load k_mod is nearly twice that of a lasting one (0.85 and 0.45 for board); 1.5 is on the safe side.
    let strength = ON_TOP.0 * span / 4.0 / (lying.section.moment_capacity * 1.5);
    let limit = context.options.deflection.allows(span, false);
    if sag > limit || strength > 1.0 {
        report.add(
            Found::new(
                match strength {
                    s if s > 1.5 => Severity::Error,
                    s if s > 1.0 => Severity::Warning,
                    _ => Severity::Note,
                },
                "sag.person",
                format!(
                    "{} gives by {} when somebody sits or leans on the middle of its {} span",
                    part.name,
                    context.size(sag),
                    context.size(span)
                ),
            )
            .measured(format!("{}, {:.0} % of its strength", context.size(sag), strength * 100.0))
            .limit(format!("{}, {}", context.size(limit), newtons(ON_TOP.0)))
            .source(ON_TOP.1)
            .source(context.options.deflection.source)
            .mend("an upright or rail under the middle, or a thicker top")
            .place(part.cuboid)
            .about(part.number.clone())
            .field(context.bay_field(&part.bay))
            .usage((sag / limit).max(strength)),
        );
    }
}

/// Drawer bottoms and platforms: simple strips across the shorter way.
fn small_spans(context: &Context<'_>, report: &mut Report) {
    let movers = &context.assembly.movers;
    for mover in movers {
        for &index in &mover.parts {
            let Some(part) = context.assembly.parts.get(index) else { continue };
            if !matches!(part.role, Role::DrawerBottom | Role::Platform) {
                continue;
            }
            let Some(it) = context.properties(part) else { continue };
            let (x, z) = (part.cuboid.size(Axis::X).mm(), part.cuboid.size(Axis::Z).mm());
            let things: f64 = mover.things.iter().map(|&t| context.thing_mass(t)).map(|(a, b)| a + b).sum();
            let assumed = if things > 0.0 {
                0.0
            } else {
                ShelfUse::Storage.load().value * 1e-6 * x * z * context.options.load_share
            };
            let weight = (things + part.mass_kg) * GRAVITY + assumed;
            let thickness = part.cuboid.size(Axis::Y).mm();
            // A bottom is held on all sides, a platform on its slides only.
            let (span, first) = if part.role == Role::DrawerBottom {
                let sag = plate::deflection(weight, x, z, thickness, it.modulus.value, it.modulus_across.value);
                (x.min(z), sag)
            } else {
                (x, part_section(context, part).map_or(0.0, |it| Case::SimpleUniform.deflection(weight, x, &it)))
            };
            let sag = growth(context, part) * first;
            let limit = context.options.deflection.allows(span, false);
            if sag > limit {
                let usage = sag / limit;
                report.add(
                    Found::new(
                        if usage > 3.0 { Severity::Error } else { Severity::Warning },
                        id(part.role),
                        format!(
                            "{} sags by {} over {} under {}",
                            part.name,
                            context.size(sag),
                            context.size(span),
                            kg(weight / GRAVITY)
                        ),
                    )
                    .measured(context.size(sag))
                    .limit(context.size(limit))
                    .source(context.options.deflection.source)
                    .source(it.modulus.source)
                    .mend(format!(
                        "a board of {} or a strip under its middle",
                        context.size((thickness * usage.cbrt()).ceil())
                    ))
                    .place(part.cuboid)
                    .about(part.number.clone())
                    .about(mover.id.clone())
                    .field(context.bay_field(&mover.bay))
                    .usage(usage),
                );
            }
        }
    }
}
