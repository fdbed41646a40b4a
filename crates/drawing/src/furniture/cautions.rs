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

/// The caution for a sheet of this name and type of document; none where nothing is usual.
pub(super) fn caution_for(scene: &Scene<'_>, name: &str, document_type: &str) -> Option<String> {
    let all = format!("{name} {document_type}").to_lowercase();
    let says = |word: &str| all.contains(word);
    let mass: f64 = scene.assembly.parts.iter().map(|part| part.mass_kg).sum();
    let appliances = scene.design.things.values().any(|thing| thing.kind == ThingKind::Appliance);
    if says("checks") {
        return Some(CALCULATION.to_owned());
    }
    if says("fittings list") {
        return Some(FITTINGS.to_owned());
    }
    if says("site") && appliances {
        return Some(ELECTRIC.to_owned());
    }
    if says("cutting") || says("part") || says("banding") || says("drilling") || says("template") {
        return Some(SAW.to_owned());
    }
    if says("fronts") && !scene.assembly.movers.is_empty() {
        return Some(TIPPING.to_owned());
    }
    if says("carcass") && people(mass) > 1 {
        return Some(format!("{mass:.0} kg empty: {} people lift it", people(mass)));
    }
    (says("assembly") && appliances).then(|| ELECTRIC.to_owned())
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
        let check = |name: &str, kind: &str, expected: Option<&str>| {
            let line = caution_for(&scene, name, kind);
            assert_eq!(
                line.as_deref().map(|it| it.trim_start_matches(|it: char| it.is_ascii_digit())),
                expected,
                "{name}"
            );
            for language in Language::ALL {
                let said = line.as_deref().map(|it| language.say(it));
                assert!(said.is_none_or(|it| width_mm(&it, HEIGHT_NOTE_MM) <= FIELD_MM), "{name} {language:?}");
            }
        };
        check("Checks", "Calculation", Some(CALCULATION));
        check("Parts list", "Parts list", Some(SAW));
        check("Cutting plan", "Cutting plan", Some(SAW));
        check("Fittings list", "Fittings list", Some(FITTINGS));
        check("Fronts", "Assembly drawing", Some(TIPPING));
        check("Isometric view", "Assembly drawing", Some(ELECTRIC));
        check("Order of work", "Plan", None);
        let line = caution_for(&scene, "Carcass, A-A", "Assembly drawing").unwrap();
        assert!(line.ends_with("people lift it") && width_mm(&line, HEIGHT_NOTE_MM) <= FIELD_MM, "{line}");
        let line = Language::German.say(&line);
        assert!(line.ends_with("Personen heben") && width_mm(&line, HEIGHT_NOTE_MM) <= FIELD_MM, "{line}");
    }
}
