//! Heights and reaches: notes.

use super::context::{Context, kg};
use super::report::{Found, Report};
use crate::design::{Role, Stand};
use crate::finding::Severity;
use crate::mechanics::ergonomics::{
    ABOVE_SHOULDER_KG, DRAWER_SIGHT, HIGHEST_REACH, SHOULDER, TOE_SPACE, WORKTOP_BAND, working_height,
};
use crate::mechanics::source::Source;
use crate::text::FieldPath;

pub(super) fn check(context: &Context<'_>, report: &mut Report) {
    let floor = context.floor().mm();
    worktop(context, floor, report);
    reach(context, floor, report);
    toes(context, report);
}

fn worktop(context: &Context<'_>, floor: f64, report: &mut Report) {
    let Some(part) = context.assembly.parts.iter().find(|it| it.role == Role::Worktop) else { return };
    let height = part.cuboid.max.y.mm() - floor;
    let (low, high, source) = WORKTOP_BAND;
    if let Some(body) = context.options.body_height {
        let suits = working_height(body.mm());
        if (height - suits).abs() > 50.0 {
            report.add(
                Found::new(Severity::Note, "ergo.worktop", format!("the worktop is {} high", context.size(height)))
                    .measured(context.size(height))
                    .limit(format!("about {} for somebody {} tall", context.size(suits), context.size(body.mm())))
                    .source(Source::published("100 to 200 mm below the bent elbow"))
                    .mend("another height, unless it must meet a neighbour")
                    .place(part.cuboid)
                    .usage((height / suits - 1.0).abs()),
            );
        }
    } else if !(low..=high).contains(&height) {
        report.add(
            Found::new(Severity::Note, "ergo.worktop", format!("the worktop is {} high", context.size(height)))
                .measured(context.size(height))
                .limit(format!("{} to {}", context.size(low), context.size(high)))
                .source(source)
                .mend("another height, unless it must meet a neighbour")
                .place(part.cuboid)
                .usage(0.2),
        );
    }
}

fn reach(context: &Context<'_>, floor: f64, report: &mut Report) {
    let shelf = context
        .still()
        .map(|(_, it)| it)
        .filter(|it| it.role == Role::Shelf && it.cuboid.max.y.mm() - floor > HIGHEST_REACH.value)
        .max_by_key(|it| it.cuboid.max.y);
    if let Some(part) = shelf {
        let height = part.cuboid.max.y.mm() - floor;
        report.add(
            Found::new(
                Severity::Note,
                "ergo.reach",
                format!("{} is {} high: out of reach without a step", part.name, context.size(height)),
            )
            .measured(context.size(height))
            .limit(context.size(HIGHEST_REACH.value))
            .source(HIGHEST_REACH.source)
            .mend("light and seldom used things there")
            .place(part.cuboid)
            .about(part.number.clone())
            .usage(height / HIGHEST_REACH.value - 1.0),
        );
    }
    for mover in &context.assembly.movers {
        let end =
            mover.parts.iter().filter_map(|&i| context.assembly.parts.get(i)).find(|it| it.role == Role::DrawerSide);
        let Some(part) = end else { continue };
        let height = part.cuboid.max.y.mm() - floor;
        if height > DRAWER_SIGHT.value {
            report.add(
                Found::new(Severity::Note, "ergo.drawer", format!("one cannot look into {}", mover.id))
                    .measured(context.size(height))
                    .limit(context.size(DRAWER_SIGHT.value))
                    .source(DRAWER_SIGHT.source)
                    .mend("a lower drawer, or open shelves there")
                    .place(part.cuboid)
                    .about(mover.id.clone())
                    .field(context.bay_field(&mover.bay))
                    .usage(height / DRAWER_SIGHT.value - 1.0),
            );
        }
    }
    for (index, thing) in context.assembly.things.iter().enumerate() {
        let (own, load) = context.thing_mass(index);
        let height = thing.cuboid.max.y.mm() - floor;
        if height > SHOULDER.value && own + load > ABOVE_SHOULDER_KG.value {
            report.add(
                Found::new(
                    Severity::Note,
                    "ergo.lift",
                    format!("{} ({}) is lifted above the shoulder", thing.name, kg(own + load)),
                )
                .measured(context.size(height))
                .limit(format!("{} above {}", kg(ABOVE_SHOULDER_KG.value), context.size(SHOULDER.value)))
                .source(ABOVE_SHOULDER_KG.source)
                .mend("a lower place")
                .place(thing.cuboid)
                .about(thing.name.clone())
                .usage((own + load) / ABOVE_SHOULDER_KG.value - 1.0),
            );
        }
    }
}

fn toes(context: &Context<'_>, report: &mut Report) {
    let Stand::Plinth { height, set_back, .. } = &context.design.carcass.stand else { return };
    let (least_height, least_depth, source) = TOE_SPACE;
    if context.design.carcass.worktop.is_some() && (height.mm() < least_height || set_back.mm() < least_depth) {
        report.add(
            Found::new(Severity::Note, "ergo.toes", "there is little room for the toes under the front")
                .measured(format!("{} high, {} deep", context.size(height.mm()), context.size(set_back.mm())))
                .limit(format!("{} high, {} deep", context.size(least_height), context.size(least_depth)))
                .source(source)
                .mend("a higher plinth, set further back")
                .field(Some(FieldPath::root().field("carcass").field("stand")))
                .usage(0.1),
        );
    }
}
