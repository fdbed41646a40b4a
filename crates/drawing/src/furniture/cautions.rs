//! The usual cautions in place: one short line in the title block of the sheets that they concern. The checks sheet says
//! them at length.

use casewright_core::design::ThingKind;
use casewright_core::mechanics::handling::people;

use super::scene::Scene;

/// Sawing, drilling and sanding.
const SAW: &str = "Guard on; eyes, ears, dust mask";
/// What a calculation is worth.
const CALCULATION: &str = "Calculation, no certificate";
/// Whose figures rule for hardware.
const FITTINGS: &str = "The fittings' own sheets rule";
/// Until it is fixed.
const TIPPING: &str = "Fix it first: open, it may tip";
/// Appliances.
const ELECTRIC: &str = "Heat, plugs: manuals rule";

/// What a sheet is about, as far as there are usual cautions for it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Concern {
    /// Nothing of the kind.
    Nothing,
    /// What was calculated.
    Checks,
    /// What is bought and mounted.
    Fittings,
    /// The place that the piece stands in.
    Site,
    /// What is sawn, drilled or banded.
    Workshop,
    /// The piece as a whole.
    Assembly {
        /// Whether its fronts are shown.
        fronts: bool,
        /// Whether its carcass is shown.
        carcass: bool,
    },
}

/// The caution for a sheet about this; none where nothing is usual.
pub(super) fn caution_for(scene: &Scene<'_>, concern: Concern) -> Option<String> {
    let mass: f64 = scene.assembly.parts.iter().map(|part| part.mass_kg).sum();
    let electric = || {
        let appliances = scene.design.things.values().any(|thing| thing.kind == ThingKind::Appliance);
        appliances.then(|| ELECTRIC.to_owned())
    };
    match concern {
        Concern::Nothing => None,
        Concern::Checks => Some(CALCULATION.to_owned()),
        Concern::Fittings => Some(FITTINGS.to_owned()),
        Concern::Site => electric(),
        Concern::Workshop => Some(SAW.to_owned()),
        Concern::Assembly { fronts: true, .. } if !scene.assembly.movers.is_empty() => Some(TIPPING.to_owned()),
        Concern::Assembly { carcass: true, .. } if people(mass) > 1 => {
            Some(format!("{mass:.0} kg empty: {} people lift it", people(mass)))
        }
        Concern::Assembly { .. } => electric(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::font::{HEIGHT_NOTE_MM, width_mm};
    use crate::language::Language;

    /// What the field of the title block takes.
    const FIELD_MM: f64 = 52.0;

    #[test]
    fn each_sheet_says_what_concerns_it_in_one_line() {
        let text = include_str!("../../../../demo/laundry-alcove.ron");
        let design = casewright_core::design::Design::from_ron(text).unwrap();
        let derived = casewright_core::pipeline::derive(&design).unwrap();
        let scene = Scene::from(&derived);
        let check = |concern: Concern, expected: Option<&str>| {
            let line = caution_for(&scene, concern);
            assert_eq!(
                line.as_deref().map(|it| it.trim_start_matches(|it: char| it.is_ascii_digit())),
                expected,
                "{concern:?}"
            );
            for language in Language::ALL {
                let said = line.as_deref().map(|it| language.say(it));
                assert!(said.is_none_or(|it| width_mm(&it, HEIGHT_NOTE_MM) <= FIELD_MM), "{concern:?} {language:?}");
            }
        };
        let assembly = |fronts, carcass| Concern::Assembly { fronts, carcass };
        check(Concern::Checks, Some(CALCULATION));
        check(Concern::Workshop, Some(SAW));
        check(Concern::Fittings, Some(FITTINGS));
        check(Concern::Site, Some(ELECTRIC));
        check(assembly(true, true), Some(TIPPING));
        check(assembly(false, false), Some(ELECTRIC));
        check(Concern::Nothing, None);
        let line = caution_for(&scene, assembly(false, true)).unwrap();
        assert!(line.ends_with("people lift it") && width_mm(&line, HEIGHT_NOTE_MM) <= FIELD_MM, "{line}");
        let line = Language::German.say(&line);
        assert!(line.ends_with("Personen heben") && width_mm(&line, HEIGHT_NOTE_MM) <= FIELD_MM, "{line}");
    }
}
