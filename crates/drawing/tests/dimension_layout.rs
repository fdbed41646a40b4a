//! Property tests of dimension chains: whatever the sizes, no value overlaps another or is crossed by a line.

use casewright_core::Length;
use casewright_drawing::dimension::drop_repeats;
use casewright_drawing::dimension_layout::lay_out;
use casewright_drawing::kurbo::Rect;
use casewright_drawing::place::{Occupied, collisions};
use casewright_drawing::{Chain, DimensionStyle, Mark, Side};
use proptest::prelude::*;

fn format(length: Length) -> String {
    format!("{}", length.mm()).replace('.', ",")
}

/// Positions from 0 in steps of panels (3 to 40 mm) and openings (20 to 900 mm), in tenths of a millimetre.
fn positions() -> impl Strategy<Value = Vec<Length>> {
    let step = prop_oneof![3 => 30..400_i64, 1 => Just(180_i64), 4 => 200..9_000_i64];
    prop::collection::vec(step, 1..14).prop_map(|steps| {
        let mut at = 0;
        let mut all = vec![Length::ZERO];
        for step in steps {
            at += step;
            all.push(Length::from_um(at * 100));
        }
        all
    })
}

fn chains() -> impl Strategy<Value = (Vec<Chain>, Rect)> {
    (positions(), positions(), prop::collection::vec(any::<bool>(), 28)).prop_map(|(across, up, picks)| {
        let mut chains = Vec::new();
        for (positions, sides) in [(&across, [Side::Below, Side::Above]), (&up, [Side::Left, Side::Right])] {
            for (index, side) in sides.into_iter().enumerate() {
                let some: Vec<Length> = positions
                    .iter()
                    .zip(picks.iter().cycle().skip(index * 5))
                    .filter(|(_, pick)| **pick)
                    .map(|(position, _)| *position)
                    .collect();
                let ends = [positions[0], positions[positions.len() - 1]];
                if index == 0 {
                    chains.push(Chain::through(side, positions, format));
                    chains.push(Chain::through(side, &ends, format));
                } else {
                    chains.extend(Chain::baselines(side, positions[0], &some, format));
                }
                chains.push(Chain::through(side, &some, format));
            }
        }
        drop_repeats(&mut chains);
        let end = |positions: &[Length]| positions[positions.len() - 1].mm();
        (chains, Rect::new(0.0, 0.0, end(&across), end(&up)))
    })
}

fn on_paper(outline: Rect, scale: f64) -> Rect {
    Rect::new(outline.x0 * scale, outline.y0 * scale, outline.x1 * scale, outline.y1 * scale)
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    #[test]
    fn nothing_overlaps((chains, outline) in chains(), denominator in prop::sample::select(vec![5.0, 10.0, 20.0])) {
        let scale = 1.0 / denominator;
        let outline = on_paper(outline, scale);
        let display = lay_out(&chains, outline, outline, scale, &DimensionStyle::default(), &mut Occupied::new());
        prop_assert_eq!(collisions(&display), vec![]);
        let spans: usize = chains.iter().map(|chain| chain.spans.len()).sum();
        prop_assert_eq!(display.texts().count(), spans, "each dimension is printed once");
        for text in display.texts() {
            prop_assert!(outline.intersect(text.bounds()).is_zero_area(), "{:?} lies on the view", text);
        }
        let again = lay_out(&chains, outline, outline, scale, &DimensionStyle::default(), &mut Occupied::new());
        prop_assert_eq!(display, again, "the placement is deterministic");
    }
}

#[test]
fn levels_keep_their_distances_and_finer_chains_stand_nearer() {
    let at = [0, 400, 800, 1200].map(Length::from_mm);
    let chains = [Chain::through(Side::Below, &[at[0], at[3]], format), Chain::through(Side::Below, &at, format)];
    let outline = Rect::new(0.0, 0.0, 120.0, 80.0);
    let display = lay_out(&chains, outline, outline, 0.1, &DimensionStyle::default(), &mut Occupied::new());
    let line_of = |content: &str| {
        let text = display.texts().find(|text| text.content == content).unwrap();
        text.at.y - DimensionStyle::default().text_gap_mm
    };
    // Common school values: first line 10 mm from the outline, the next 7 to 8 mm further.
    assert!((line_of("400") - -10.0).abs() < 1e-9);
    assert!((line_of("1200") - -18.0).abs() < 1e-9);
    // ISO 129-1: extension lines pass the dimension line by about 8 line widths.
    assert!((display.bounds().unwrap().y0 - -20.0).abs() < 1e-9);
    let arrows = display.items.iter().filter(|item| matches!(item.mark, Mark::Arrow(_))).count();
    assert_eq!(arrows, 8);
}

#[test]
fn values_of_upright_chains_read_from_the_right() {
    let at = [0, 800].map(Length::from_mm);
    for side in [Side::Left, Side::Right] {
        let chains = [Chain::through(side, &at, format)];
        let outline = Rect::new(0.0, 0.0, 50.0, 80.0);
        let display = lay_out(&chains, outline, outline, 0.1, &DimensionStyle::default(), &mut Occupied::new());
        let text = display.texts().next().unwrap();
        assert!((text.rotation_rad - std::f64::consts::FRAC_PI_2).abs() < 1e-12);
        let line = if side == Side::Left { -10.0 } else { 60.0 };
        assert!(text.bounds().x1 < line && text.bounds().x1 > line - 2.0, "the value stands to the left of its line");
    }
}
