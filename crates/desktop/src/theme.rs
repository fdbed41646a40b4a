//! The only place with colours: light and dark, each pair of text and ground at least 4.5 to 1 (WCAG 2.1 AA, criterion
//! 1.4.3) and each pair of edge and ground at least 3 to 1 (criterion 1.4.11). What a colour says is always said by a
//! word or a shape as well.

use egui::{Color32, CornerRadius, FontData, FontDefinitions, FontFamily, FontId, Margin, Stroke, TextStyle, Visuals};
use serde::{Deserialize, Serialize};

use casewright_core::finding::Severity;

/// Light or dark.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum Shade {
    /// Dark lines on light paper.
    #[default]
    Light,
    /// Light lines on dark ground.
    Dark,
}

/// The colours of one shade.
#[derive(Clone, Copy, Debug)]
pub struct Palette {
    /// Where the drawing lies.
    pub paper: Color32,
    /// The columns and strips round the drawing.
    pub panel: Color32,
    /// Fields that take text.
    pub field: Color32,
    /// Buttons at rest.
    pub button: Color32,
    /// Buttons under the pointer.
    pub button_over: Color32,
    /// Text and visible outlines.
    pub ink: Color32,
    /// Text of less weight, and narrow lines.
    pub ink_soft: Color32,
    /// Edges of fields and buttons.
    pub edge: Color32,
    /// Lines between panels; decoration only.
    pub rule: Color32,
    /// What is selected: lines and edges.
    pub mark: Color32,
    /// What is selected: the ground under ink.
    pub mark_ground: Color32,
    /// Dimensions on the drawing.
    pub dimension: Color32,
    /// Fill of cut faces.
    pub tint: Color32,
    /// Things that are housed.
    pub thing: Color32,
    /// Walls, obstacles, neighbours.
    pub site: Color32,
    /// Words of an error, on panel and on paper.
    pub error: Color32,
    /// Ground of an error notice, under ink.
    pub error_ground: Color32,
    /// Words of a warning, on panel and on paper.
    pub warning: Color32,
    /// Words of a note, on panel and on paper.
    pub note: Color32,
}

const fn rgb(hex: u32) -> Color32 {
    Color32::from_rgba_premultiplied((hex >> 16) as u8, (hex >> 8) as u8, hex as u8, 255)
}

const LIGHT: Palette = Palette {
    paper: rgb(0x00FD_FCF8),
    panel: rgb(0x00EF_EBE2),
    field: rgb(0x00FF_FFFF),
    button: rgb(0x00E2_DCCF),
    button_over: rgb(0x00D6_CEBD),
    ink: rgb(0x0022_1F1A),
    ink_soft: rgb(0x0059_5347),
    edge: rgb(0x007F_7868),
    rule: rgb(0x00CF_C8B8),
    mark: rgb(0x0014_5A86),
    mark_ground: rgb(0x00CD_E1EE),
    dimension: rgb(0x0037_4F5E),
    tint: rgb(0x00E9_D9BC),
    thing: rgb(0x0047_6241),
    site: rgb(0x0070_6657),
    error: rgb(0x009A_1C14),
    error_ground: rgb(0x00F8_DEDA),
    warning: rgb(0x0074_4700),
    note: rgb(0x0034_5C4A),
};

const DARK: Palette = Palette {
    paper: rgb(0x001C_1D1E),
    panel: rgb(0x0027_282A),
    field: rgb(0x0014_1516),
    button: rgb(0x003A_3C3F),
    button_over: rgb(0x004B_4E52),
    ink: rgb(0x00EE_EBE3),
    ink_soft: rgb(0x00B9_B5AA),
    edge: rgb(0x0085_8479),
    rule: rgb(0x0045_4648),
    mark: rgb(0x008F_C9F0),
    mark_ground: rgb(0x001F_4A66),
    dimension: rgb(0x00A9_C3D2),
    tint: rgb(0x004D_4230),
    thing: rgb(0x00A5_C99B),
    site: rgb(0x00AE_A595),
    error: rgb(0x00FF_A79C),
    error_ground: rgb(0x005A_211C),
    warning: rgb(0x00F0_C36D),
    note: rgb(0x009C_D4B8),
};

impl Palette {
    /// The colours of a shade.
    #[must_use]
    pub const fn of(shade: Shade) -> &'static Self {
        match shade {
            Shade::Light => &LIGHT,
            Shade::Dark => &DARK,
        }
    }

    /// The colours that a part of the window is shown in.
    #[must_use]
    pub fn here(ui: &egui::Ui) -> &'static Self {
        Self::of(if ui.visuals().dark_mode { Shade::Dark } else { Shade::Light })
    }

    /// The colour of a finding's words.
    #[must_use]
    pub const fn severity(&self, severity: Severity) -> Color32 {
        match severity {
            Severity::Note => self.note,
            Severity::Warning => self.warning,
            Severity::Error => self.error,
        }
    }
}

/// Nothing painted.
pub const CLEAR: Color32 = Color32::TRANSPARENT;

/// The colour, thinned to `share` of itself over what lies below.
#[must_use]
pub fn thinned(colour: Color32, share: f32) -> Color32 {
    colour.gamma_multiply(share)
}

/// The text style of big numbers.
#[must_use]
pub fn figures() -> TextStyle {
    TextStyle::Name("figures".into())
}

/// Sets the fonts; once for each window.
pub fn set_fonts(ctx: &egui::Context) {
    let mut fonts = FontDefinitions::default();
    let name = casewright_drawing::font::FONT_FAMILY.to_owned();
    fonts.font_data.insert(name.clone(), FontData::from_static(casewright_drawing::font::FONT_BYTES).into());
    for family in [FontFamily::Proportional, FontFamily::Monospace] {
        fonts.families.entry(family).or_default().insert(0, name.clone());
    }
    ctx.set_fonts(fonts);
}

/// Sets colours, sizes and spacing of a window.
pub fn apply(ctx: &egui::Context, shade: Shade) {
    ctx.set_theme(match shade {
        Shade::Light => egui::Theme::Light,
        Shade::Dark => egui::Theme::Dark,
    });
    for (theme, palette) in [(egui::Theme::Light, &LIGHT), (egui::Theme::Dark, &DARK)] {
        ctx.style_mut_of(theme, |style| {
            style.visuals = visuals(theme, palette);
            let font = |size| FontId::new(size, FontFamily::Proportional);
            style.text_styles = [
                (TextStyle::Small, font(12.0)),
                (TextStyle::Body, font(14.0)),
                (TextStyle::Monospace, font(14.0)),
                (TextStyle::Button, font(14.0)),
                (TextStyle::Heading, font(18.0)),
                (figures(), font(22.0)),
            ]
            .into();
            style.spacing.item_spacing = egui::vec2(8.0, 6.0);
            style.spacing.button_padding = egui::vec2(8.0, 4.0);
            style.spacing.interact_size = egui::vec2(28.0, 26.0);
            style.spacing.window_margin = Margin::same(14);
            style.spacing.menu_margin = Margin::same(8);
            style.spacing.scroll = egui::style::ScrollStyle::solid();
            style.spacing.tooltip_width = 360.0;
        });
    }
}

fn visuals(theme: egui::Theme, palette: &Palette) -> Visuals {
    let mut visuals = match theme {
        egui::Theme::Light => Visuals::light(),
        egui::Theme::Dark => Visuals::dark(),
    };
    let radius = CornerRadius::same(2);
    visuals.panel_fill = palette.panel;
    visuals.window_fill = palette.panel;
    visuals.window_stroke = Stroke::new(1.0, palette.edge);
    visuals.window_corner_radius = CornerRadius::same(4);
    visuals.menu_corner_radius = CornerRadius::same(4);
    visuals.extreme_bg_color = palette.field;
    visuals.text_edit_bg_color = Some(palette.field);
    visuals.faint_bg_color = thinned(palette.rule, 0.35);
    visuals.code_bg_color = palette.button;
    visuals.hyperlink_color = palette.mark;
    visuals.warn_fg_color = palette.warning;
    visuals.error_fg_color = palette.error;
    visuals.weak_text_color = Some(palette.ink_soft);
    visuals.selection.bg_fill = palette.mark_ground;
    visuals.selection.stroke = Stroke::new(1.5, palette.ink);
    visuals.striped = false;
    visuals.indent_has_left_vline = false;
    let widgets = &mut visuals.widgets;
    for (widget, ground, edge) in [
        (&mut widgets.noninteractive, palette.panel, palette.rule),
        (&mut widgets.inactive, palette.button, palette.edge),
        (&mut widgets.hovered, palette.button_over, palette.ink),
        (&mut widgets.active, palette.mark_ground, palette.mark),
        (&mut widgets.open, palette.button_over, palette.edge),
    ] {
        widget.bg_fill = ground;
        widget.weak_bg_fill = ground;
        widget.bg_stroke = Stroke::new(1.0, edge);
        widget.fg_stroke = Stroke::new(1.0, palette.ink);
        widget.corner_radius = radius;
        widget.expansion = 0.0;
    }
    widgets.active.fg_stroke.width = 1.5;
    visuals
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Relative luminance as WCAG 2.1 defines it.
    fn luminance(colour: Color32) -> f64 {
        let linear = |channel: u8| {
            let share = f64::from(channel) / 255.0;
            if share <= 0.040_45 { share / 12.92 } else { ((share + 0.055) / 1.055).powf(2.4) }
        };
        0.2126 * linear(colour.r()) + 0.7152 * linear(colour.g()) + 0.0722 * linear(colour.b())
    }

    /// Contrast ratio as WCAG 2.1 defines it.
    fn contrast(a: Color32, b: Color32) -> f64 {
        let (a, b) = (luminance(a), luminance(b));
        (a.max(b) + 0.05) / (a.min(b) + 0.05)
    }

    #[test]
    fn the_contrast_formula_gives_the_published_ends() {
        // WCAG 2.1: black on white is 21 to 1; #767676 on white is the well-known 4.54 to 1.
        assert!((contrast(rgb(0), rgb(0x00FF_FFFF)) - 21.0).abs() < 1e-9);
        assert!((contrast(rgb(0x0076_7676), rgb(0x00FF_FFFF)) - 4.54).abs() < 0.005);
    }

    #[test]
    fn every_text_and_edge_is_seen() {
        for palette in [&LIGHT, &DARK] {
            let check = |name: &str, ink: Color32, ground: Color32, least: f64| {
                let got = contrast(ink, ground);
                assert!(got >= least, "{name}: {got:.2} is under {least} ({})", palette.paper.r());
            };
            let grounds = [palette.paper, palette.panel, palette.field, palette.button, palette.button_over];
            for ground in grounds.into_iter().chain([palette.mark_ground, palette.tint, palette.error_ground]) {
                check("ink", palette.ink, ground, 4.5);
            }
            for ground in [palette.paper, palette.panel, palette.field, palette.button, palette.mark_ground] {
                check("soft ink", palette.ink_soft, ground, 4.5);
            }
            for (name, ink) in [
                ("mark", palette.mark),
                ("dimension", palette.dimension),
                ("thing", palette.thing),
                ("site", palette.site),
                ("error", palette.error),
                ("warning", palette.warning),
                ("note", palette.note),
            ] {
                check(name, ink, palette.paper, 4.5);
                check(name, ink, palette.panel, 4.5);
            }
            check("error on its ground", palette.error, palette.error_ground, 4.5);
            for ground in [palette.panel, palette.paper, palette.field] {
                check("edge", palette.edge, ground, 3.0);
            }
        }
    }
}
