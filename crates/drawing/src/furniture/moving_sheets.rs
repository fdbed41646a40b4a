//! The sheets about what moves, added to the pack: the piece from above and from the left with everything open, the
//! clearance sheet, and for each tilting compartment, and each flap with a stay, its balance over the angle.

use casewright_core::moving::tilt::tilt_outs;
use kurbo::Affine;

use super::cautions::Concern;
use super::moving::{clearance_list, of};
use super::moving_balance::tilt_list;
use super::moving_plot::tilt_plot;
use super::moving_views::open_view;
use super::pack::{Pack, PackOptions, title_block};
use super::scene::Scene;
use crate::compose::{ComposeError, Place, largest_scale_by, lay_all, titled_bounds};
use crate::sheet::{Format, Sheet};
use crate::title_block::{HEIGHT_MM, TitleBlock};
use crate::view::{Axes, View};

/// Clear space inside the frame, mm.
const MARGIN_MM: f64 = 4.0;
/// Height of a plot, mm.
const PLOT_MM: f64 = 92.0;

/// Adds the views with everything open, the clearance sheet, and for each tilting compartment its plot and table.
pub(super) fn add(pack: &mut Pack, scene: &Scene<'_>, options: &PackOptions) -> Result<(), ComposeError> {
    let Some(all) = of(scene) else { return Ok(()) };
    let style = options.style;
    let above = open_view(scene, &all, Axes::FROM_ABOVE, "open-plan", "From above, everything open");
    let left = open_view(scene, &all, Axes::FROM_LEFT, "open-side", "From the left, everything open");
    let scale_of = |views: &[(Place, &View)]| {
        let bounds = &mut |view: &View, scale| titled_bounds(view, scale, scale, &style);
        largest_scale_by(views, options.format, options.at_most, bounds)
    };
    // Both on one sheet, unless one alone may be larger.
    let alone = scale_of(&[(Place::Front, &above)]);
    let both = scale_of(&[(Place::Front, &above), (Place::Free, &left)]);
    let sheets = if both.is_some() && both == alone {
        vec![vec![(Place::Front, &above), (Place::Free, &left)]]
    } else {
        vec![vec![(Place::Front, &above)], vec![(Place::Front, &left)]]
    };
    for views in sheets {
        let scale = scale_of(&views).ok_or(ComposeError::TooLarge { format: options.format.name() })?;
        let names: Vec<&str> = views.iter().map(|(_, view)| view.title.as_str()).collect();
        // The titles of views are said already.
        let block = TitleBlock {
            supplementary_title: names.join("; "),
            ..title_block(scene, "Clearance drawing", "Clearance drawing", Concern::Nothing)
        };
        pack.add_drawn(lay_all(&views, scale, &style), options.format, block)?;
    }
    pack.add_list(scene, options, &clearance_list(scene, &all), ("Clearances", Concern::Nothing));
    for it in tilt_outs(scene.design, scene.assembly) {
        let name = format!("Balance of the {}", it.id);
        let format = Format::A4;
        let space = format.drawing_space();
        let (width, height) = (space.width() - 2.0 * MARGIN_MM, space.height() - HEIGHT_MM - 2.0 * MARGIN_MM);
        let mut sheet = Sheet::new(format, title_block(scene, &name, "Calculation", Concern::Nothing));
        let corner = |down: f64| Affine::translate((space.x0 + MARGIN_MM, space.y1 - MARGIN_MM - down));
        sheet.content.append_mapped(&tilt_plot(&it, width, PLOT_MM, &|text| scene.say(text)), corner(0.0));
        let mut pieces = tilt_list(scene, &it).lay_out(width, &[height - PLOT_MM], height).into_iter();
        if let Some(first) = pieces.next() {
            sheet.content.append_mapped(&first, corner(PLOT_MM));
        }
        pack.sheets.push(sheet);
        for piece in pieces {
            let mut sheet = Sheet::new(format, title_block(scene, &name, "Calculation", Concern::Nothing));
            sheet.content.append_mapped(&piece, corner(0.0));
            pack.sheets.push(sheet);
        }
    }
    Ok(())
}
