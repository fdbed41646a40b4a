//! What of the library would hold a compartment or flap, found by trying and checked again with the same checks.

use super::context::Context;
use super::stays;
use crate::design::{Fitting, Usual};
use crate::fittings::{full, library};
use crate::length::Length;
use crate::moving::tilt::{Holder, Leaning, OutUp, Stay, TiltOut};

/// The steps in which the end on the carcass is tried, and how many of them to each side, mm (own choice).
const STEP_MM: f64 = 10.0;
const STEPS: i32 = 10;
/// How much further behind a flap its end is tried, on a plate that stands off, mm (own choice).
const FURTHER_MM: [f64; 2] = [0.0, 20.0];
/// The steps in which the other end is looked for, mm.
const LOOKED_MM: f64 = 20.0;
/// Ends are said to this, mm: no finer can be measured.
const SAID_MM: f64 = 0.1;

/// The first stay or strut of the library, the weakest first, one and then two of them, with which nothing is wrong; in
/// words, with the ends that it needs. None if there is none.
pub(super) fn usual(context: &Context<'_>, it: &TiltOut) -> Option<String> {
    let data = &library().ok()?.hinges;
    let stays = data.stays.iter().filter(|it| it.holds_nm.0 > 0.0).map(|it| it.name.as_str());
    let names: Vec<&str> = stays.chain(data.struts.iter().map(|it| it.name.as_str())).collect();
    for count in [1, 2] {
        for name in &names {
            let Ok(Some(fitting)) = full(&Usual::<Length>::plain(*name)) else { continue };
            // What pushes helps only where the weight shuts.
            if matches!(fitting, Fitting::Strut(_)) && !it.hangs {
                continue;
            }
            let Some(holder) = Holder::of(name, &fitting, count) else { continue };
            if let Some(stay) = ends(context, it, &holder) {
                return Some(words(context, it, name, count, &stay));
            }
        }
    }
    None
}

/// Ends with which it is sound and opens as far as now: those of the design, or the nearest that are found on the way.
fn ends(context: &Context<'_>, it: &TiltOut, holder: &Holder) -> Option<Stay> {
    let open = it.stops_at();
    let sound = |stay: Stay| {
        let length = holder.length.unwrap_or_else(|| stay.span(open));
        let tried = TiltOut { stay, length, holder: Some(holder.clone()), both_sides: holder.count == 2, ..it.clone() };
        // What costs little is asked first.
        let (shut, last) = (tried.leaning(&it.full, 0.0), tried.leaning(&it.full, open));
        let holds =
            if holder.pushes() { shut != Leaning::Opens && last != Leaning::Shuts } else { last == Leaning::Rests };
        (holds && tried.stops_at() >= open - 1e-2 && stays::is_sound(context, &tried)).then_some(stay)
    };
    let Some(length) = holder.length else { return sound(it.stay) };
    let carcass = it.stay.carcass;
    let places = (-STEPS..=STEPS).flat_map(|up| (-STEPS..=STEPS).map(move |back| (f64::from(up), f64::from(back))));
    let mut places: Vec<OutUp> = places
        .map(|(up, back)| [carcass[0] + back * STEP_MM, carcass[1] + up * STEP_MM])
        .filter(|at| stays::off(*at, it.spots[1]) <= 0.0)
        .collect();
    let far = |at: &OutUp| (at[0] - carcass[0]).hypot(at[1] - carcass[1]);
    places.sort_by(|a, b| far(a).total_cmp(&far(b)));
    let (least, most) = (it.spots[0].0[1], it.spots[0].1[1]);
    places.into_iter().find_map(|carcass| {
        FURTHER_MM.iter().filter(|further| it.is_flap || **further == 0.0).find_map(|further| {
            let at = |away: f64| Stay { carcass, front: [it.stay.front[0] - further, away] };
            away_for(|away| at(away).span(open) - length, least, most).into_iter().find_map(|away| sound(at(away)))
        })
    })
}

/// Where a function that is smooth changes its sign, rounded to what can be measured.
fn away_for(off: impl Fn(f64) -> f64, least: f64, most: f64) -> Vec<f64> {
    let steps = ((most - least) / LOOKED_MM).ceil().clamp(1.0, 200.0) as u32;
    let at = |i: u32| least + (most - least) * f64::from(i) / f64::from(steps);
    (0..steps)
        .filter_map(|i| {
            let (mut low, mut high) = (at(i), at(i + 1));
            let rises = off(low) < 0.0;
            if rises == (off(high) < 0.0) {
                return None;
            }
            for _ in 0..40 {
                let middle = f64::midpoint(low, high);
                if (off(middle) < 0.0) == rises { low = middle } else { high = middle }
            }
            Some((low / SAID_MM).round() * SAID_MM)
        })
        .collect()
}

fn words(context: &Context<'_>, it: &TiltOut, name: &str, count: u32, stay: &Stay) -> String {
    let what = if count == 2 { format!("the usual \"{name}\" at each side") } else { format!("one usual \"{name}\"") };
    if *stay == it.stay {
        return format!("{what} between the same ends, which holds when checked again");
    }
    let end = |at: OutUp| format!("{} behind and {} away", context.size(-at[0]), context.size(at[1]));
    let moved = if it.is_flap { "flap" } else { "compartment" };
    format!(
        "{what}, on the carcass {}, on the {moved} {}, which holds when checked again",
        end(stay.carcass),
        end(stay.front)
    )
}
