//! What the window remembers between runs: language, shade, size, recent files.

use std::path::{Path, PathBuf};

use serde::{Deserialize, Serialize};

use super::{FileError, read, write_quickly};
use crate::theme::Shade;
use crate::words::Language;

/// How many recent files are kept.
const RECENT: usize = 12;

/// What the window remembers between runs.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(default)]
pub struct Settings {
    /// The language; that of the environment if none.
    pub language: Option<Language>,
    /// Light or dark.
    pub shade: Shade,
    /// How much larger than usual everything is; as the system says if none.
    pub zoom: Option<f32>,
    /// Width and height of the window, in points.
    pub window: Option<(f32, f32)>,
    /// Left and top of the window, in points.
    pub corner: Option<(f32, f32)>,
    /// Files that were opened or saved, the latest first.
    pub recent: Vec<PathBuf>,
}

impl Settings {
    /// The settings kept in a folder; those of a first run if there are none or they are damaged.
    #[must_use]
    pub fn load(folder: &Path) -> Self {
        let text = read(&folder.join("settings.json")).unwrap_or_default();
        serde_json::from_str(&text).unwrap_or_default()
    }

    /// Keeps the settings in a folder.
    ///
    /// # Errors
    /// The folder cannot be made or written to.
    pub fn keep(&self, folder: &Path) -> Result<(), FileError> {
        std::fs::create_dir_all(folder).map_err(FileError::at(folder))?;
        let text = serde_json::to_string_pretty(self).map_err(std::io::Error::other).map_err(FileError::at(folder))?;
        write_quickly(&folder.join("settings.json"), &text)
    }

    /// Puts a file first among the recent ones.
    pub fn remember(&mut self, file: &Path) {
        let file = std::fs::canonicalize(file).unwrap_or_else(|_| file.to_owned());
        self.recent.retain(|other| *other != file);
        self.recent.insert(0, file);
        self.recent.truncate(RECENT);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn settings_come_back_and_damage_is_a_first_run() {
        let folder = tempfile::tempdir().unwrap();
        assert_eq!(Settings::load(folder.path()), Settings::default());
        let mut settings = Settings { language: Some(Language::German), shade: Shade::Dark, ..Settings::default() };
        for n in 0..20 {
            settings.remember(&folder.path().join(format!("{n}.ron")));
        }
        settings.remember(&folder.path().join("18.ron"));
        assert_eq!(settings.recent.len(), RECENT);
        assert!(settings.recent[0].ends_with("18.ron") && settings.recent[1].ends_with("19.ron"));
        settings.keep(folder.path()).unwrap();
        assert_eq!(Settings::load(folder.path()), settings);
        std::fs::write(folder.path().join("settings.json"), "{ \"shade\": ").unwrap();
        assert_eq!(Settings::load(folder.path()), Settings::default());
    }
}
