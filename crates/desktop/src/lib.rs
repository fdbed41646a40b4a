//! The window: all of the UI as a library. It edits only the Design and runs the pipeline again.
//!
//! Conventions: model and paper millimetres as in the drawing crate; sizes on screen are egui points. Colours live in
//! [`theme`], words in [`words`], and every edit is a [`command::Command`].

mod act;
mod app;
pub mod arranging;
pub mod background;
mod bar;
pub mod clipboard;
pub mod command;
pub mod cutting;
pub mod dialogs;
pub mod document;
pub mod export;
pub mod files;
pub mod help;
pub mod keys;
pub mod labels;
pub mod lengths;
pub mod notice;
pub mod panels;
pub mod pipeline;
mod reins;
#[cfg(test)]
mod sample;
pub mod selection;
pub mod start;
mod status;
pub mod theme;
pub mod view;
pub mod words;

use std::path::PathBuf;

pub use app::App;

/// Why the window could not be opened.
#[derive(Debug, thiserror::Error)]
#[error("the window cannot be opened: {0}; check that there is a display, or use a subcommand that needs none")]
pub struct WindowError(#[from] eframe::Error);

/// What the window calls itself to the system (the app id of Wayland, the class of X11): the name of the desktop entry in
/// `assets/packaging`, so that the two are brought together.
const APP_ID: &str = "casewright";

/// The picture in the bar of windows; none if it cannot be read, which is no reason to open no window.
fn icon() -> egui::IconData {
    let png = include_bytes!("../../../assets/packaging/casewright.png");
    eframe::icon_data::from_png_bytes(png).unwrap_or_default()
}

/// Opens the window, with a design file or with a new design, and returns when it is closed.
///
/// # Errors
/// There is no display, or it cannot draw.
pub fn run(path: Option<PathBuf>) -> Result<(), WindowError> {
    let state_folder = files::state_folder();
    let settings = state_folder.as_deref().map(files::settings::Settings::load).unwrap_or_default();
    let size = settings.window.unwrap_or((1440.0, 900.0));
    let mut viewport = egui::ViewportBuilder::default()
        .with_title("Casewright")
        .with_app_id(APP_ID)
        .with_icon(icon())
        .with_inner_size([size.0.max(760.0), size.1.max(520.0)])
        .with_min_inner_size([760.0, 520.0]);
    if let Some((left, top)) = settings.corner {
        viewport = viewport.with_position([left.max(0.0), top.max(0.0)]);
    }
    let options = eframe::NativeOptions { viewport, ..eframe::NativeOptions::default() };
    eframe::run_native(
        APP_ID,
        options,
        Box::new(move |creation| {
            let app = App::new(&creation.egui_ctx, path.as_deref(), state_folder);
            Ok(Box::new(Window(app)))
        }),
    )?;
    Ok(())
}

/// The window as the system's event loop sees it.
struct Window(App);

impl eframe::App for Window {
    fn ui(&mut self, ui: &mut egui::Ui, _frame: &mut eframe::Frame) {
        self.0.show(ui);
    }

    fn on_exit(&mut self, _gl: Option<&eframe::glow::Context>) {
        self.0.end();
    }
}

#[cfg(test)]
mod tests {
    #[test]
    fn the_icon_can_be_read_and_is_not_blank() {
        let icon = super::icon();
        assert_eq!((icon.width, icon.height), (128, 128));
        let seen = icon.rgba.chunks(4).filter(|pixel| pixel.last() == Some(&255)).count();
        assert!((2000..16_000).contains(&seen), "{seen} of 16384 pixels are covered");
    }
}
