//! What the builder prefers, whichever boat is in hand: kept in a small file of their own.

use std::path::{Path, PathBuf};

use bevy::prelude::*;
use serde::{Deserialize, Serialize};

use crate::drawing::compose::Paper;
use crate::files::{read_text, save_atomically};
use crate::units::Units;
use crate::viewer::session::Session;
use crate::viewer::theme::{Finish, Theme, size};

/// Documents remembered.
const MOST_RECENT: usize = 8;
/// Names a folder to keep preferences in, for tests and for trying things out.
pub const FOLDER_VARIABLE: &str = "CHINEWRIGHT_CONFIG";

/// How true a screen or a projector draws.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(default)]
pub struct Calibration {
    /// Pixels of the screen for each mm, from the ruler check; 0 before it was made.
    pub px_per_mm: f64,
    /// Width and height (mm) of the rectangle that the four corners are set to.
    pub rectangle_mm: [f64; 2],
    /// Where its corners are shown, as shares of the window: from the lower left one
    /// round against the clock. `None`: square-on, by the ruler check alone.
    pub corners: Option<[[f64; 2]; 4]>,
}

impl Default for Calibration {
    fn default() -> Self {
        Calibration { px_per_mm: 0.0, rectangle_mm: [1200.0, 600.0], corners: None }
    }
}

/// What is kept.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(default)]
pub struct Preferences {
    /// By lamplight.
    pub dark: bool,
    /// Size of text and everything with it; 1 is as drawn.
    pub text_size: f32,
    /// Height of the strip, points.
    pub strip: f32,
    /// Units that boats are shown in, once they were chosen; until then each boat's own.
    pub units: Option<Units>,
    /// Things glide to where they go.
    pub motion: bool,
    /// How the hull's outside looks.
    pub finish: Finish,
    /// The paper of patterns, once it was chosen; until then the one that goes with the units.
    pub paper: Option<Paper>,
    /// The last documents, newest first.
    pub recent: Vec<PathBuf>,
    /// The tour was seen, or waved off.
    pub toured: bool,
    /// The screen or projector for full-size work.
    pub calibration: Calibration,
}

impl Default for Preferences {
    fn default() -> Self {
        Preferences {
            dark: false,
            text_size: 1.0,
            strip: size::STRIP,
            units: None,
            motion: true,
            finish: Finish::Wood,
            paper: None,
            recent: Vec::new(),
            toured: false,
            calibration: Calibration::default(),
        }
    }
}

/// Sizes of text that can be chosen.
pub const TEXT_SIZES: [f32; 5] = [0.9, 1.0, 1.15, 1.3, 1.5];

impl Preferences {
    /// The paper that patterns are printed on, for a reader of `units`.
    pub fn paper(&self, units: Units) -> Paper {
        let usual = if units.imperial() { Paper::Letter } else { Paper::A4 };
        self.paper.unwrap_or(usual)
    }

    /// Puts a document at the head of the recent ones.
    pub fn remember(&mut self, path: &Path) {
        let path = std::path::absolute(path).unwrap_or_else(|_| path.to_path_buf());
        self.recent.retain(|p| *p != path);
        self.recent.insert(0, path);
        self.recent.truncate(MOST_RECENT);
    }

    /// Reads what a file holds; values that no window can have are brought into range.
    ///
    /// # Errors
    /// What is wrong with the text, and where.
    pub fn of_text(text: &str) -> Result<Preferences, String> {
        // An earlier file names its units without `Some`.
        let options = ron::Options::default()
            .with_default_extension(ron::extensions::Extensions::IMPLICIT_SOME);
        let mut p: Preferences = options.from_str(text).map_err(|e| e.to_string())?;
        p.text_size = if p.text_size.is_finite() { p.text_size.clamp(0.8, 2.0) } else { 1.0 };
        p.strip = if p.strip.is_finite() { p.strip.clamp(120.0, 900.0) } else { size::STRIP };
        p.recent.truncate(MOST_RECENT);
        let c = &mut p.calibration;
        if !(c.px_per_mm.is_finite() && (0.0..100.0).contains(&c.px_per_mm)) {
            c.px_per_mm = 0.0;
        }
        if !c.rectangle_mm.iter().all(|v| v.is_finite() && *v > 1.0) {
            c.rectangle_mm = Calibration::default().rectangle_mm;
        }
        Ok(p)
    }
}

/// A folder of our own: the system's (`None` where it names none), or the one in
/// [`FOLDER_VARIABLE`].
fn folder(of_system: fn(&directories::ProjectDirs) -> &Path) -> Option<PathBuf> {
    match std::env::var_os(FOLDER_VARIABLE) {
        Some(folder) => Some(PathBuf::from(folder)),
        None => {
            let dirs = directories::ProjectDirs::from("", "", "chinewright")?;
            Some(of_system(&dirs).to_path_buf())
        }
    }
}

/// Where preferences are kept.
pub fn place() -> Option<PathBuf> {
    Some(folder(directories::ProjectDirs::config_dir)?.join("preferences.ron"))
}

/// Where boats without a file are kept: a folder that outlives a power cut.
pub fn unsaved_folder() -> PathBuf {
    folder(directories::ProjectDirs::data_local_dir)
        .unwrap_or_else(std::env::temp_dir)
        .join("unsaved")
}

/// The preferences in use, and where they are kept.
#[derive(Resource, Debug, Clone, PartialEq, Default)]
pub struct Prefs {
    /// Now.
    pub now: Preferences,
    /// As in the file.
    written: Preferences,
    /// The file; `None` keeps nothing.
    file: Option<PathBuf>,
}

impl Prefs {
    /// The theme.
    pub fn theme(&self) -> Theme {
        if self.now.dark { Theme::Dark } else { Theme::Light }
    }

    /// Those in the file, or the plain ones; with what is wrong with the file, if anything.
    pub fn load(file: Option<PathBuf>) -> (Prefs, Option<String>) {
        let read = |file: &PathBuf| {
            let text = read_text(file).map_err(|e| e.to_string())?;
            Preferences::of_text(&text)
        };
        let there = file.as_ref().filter(|f| f.is_file());
        let why = match there.map(read) {
            None => return (Prefs { file, ..Prefs::default() }, None),
            Some(Ok(now)) => return (Prefs { written: now.clone(), now, file }, None),
            Some(Err(why)) => why,
        };
        let at = file.unwrap_or_default();
        // What cannot be read is somebody's work: it is not written over.
        let aside = at.with_extension("ron.not-read");
        let (kept, file) = match std::fs::rename(&at, &aside) {
            Ok(()) => (format!("the file is kept as {}", aside.display()), Some(at.clone())),
            Err(e) => (format!("and none are kept, as it cannot be set aside: {e}"), None),
        };
        let at = at.display();
        let wrong = format!("{at}: {why}; plain preferences are used, {kept}");
        (Prefs { file, ..Prefs::default() }, Some(wrong))
    }

    /// Writes what changed.
    ///
    /// # Errors
    /// Why it could not be written.
    pub fn keep(&mut self) -> Result<(), String> {
        if self.now == self.written {
            return Ok(());
        }
        // Tried once for each change.
        self.written = self.now.clone();
        let Some(file) = &self.file else {
            return Ok(());
        };
        if let Some(folder) = file.parent() {
            std::fs::create_dir_all(folder).map_err(|e| format!("{}: {e}", folder.display()))?;
        }
        let text = ron::ser::to_string_pretty(&self.now, ron::ser::PrettyConfig::default())
            .map_err(|e| e.to_string())?;
        save_atomically(file, text.as_bytes()).map_err(|e| e.to_string())
    }
}

/// Keeps the preferences' file in step.
#[derive(Debug)]
pub struct PrefsPlugin;

impl Plugin for PrefsPlugin {
    fn build(&self, app: &mut App) {
        app.init_resource::<Prefs>().add_systems(Update, keep);
    }
}

fn keep(
    mut prefs: ResMut<Prefs>,
    mut session: ResMut<Session>,
    buttons: Option<Res<ButtonInput<MouseButton>>>,
) {
    // Not at every step of something that is being dragged.
    if buttons.is_some_and(|b| b.get_pressed().next().is_some()) {
        return;
    }
    if let Err(why) = prefs.bypass_change_detection().keep() {
        session.warn(format!("preferences are not kept: {why}"));
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_preferred_is_there_again_next_time() {
        let folder = tempfile::tempdir().expect("a folder");
        let file = folder.path().join("deep/preferences.ron");
        let (mut prefs, wrong) = Prefs::load(Some(file.clone()));
        assert_eq!(wrong, None);
        prefs.now.dark = true;
        prefs.now.text_size = 1.3;
        prefs.now.units = Some(Units::FeetInchesEighths);
        prefs.now.paper = Some(Paper::Roll);
        prefs.now.remember(Path::new("/boats/reed.ron"));
        prefs.now.remember(Path::new("/boats/other.ron"));
        prefs.now.remember(Path::new("/boats/reed.ron"));
        prefs.keep().expect("written");
        let (again, wrong) = Prefs::load(Some(file));
        assert_eq!((&again.now, wrong), (&prefs.now, None));
        assert_eq!(again.now.recent.len(), 2);
        assert_eq!(again.now.recent[0], Path::new("/boats/reed.ron"));
    }

    #[test]
    fn a_spoilt_file_is_told_of_and_does_no_harm() {
        let folder = tempfile::tempdir().expect("a folder");
        let file = folder.path().join("preferences.ron");
        std::fs::write(&file, "(dark: maybe)").expect("a file");
        let (prefs, wrong) = Prefs::load(Some(file));
        assert_eq!(prefs.now, Preferences::default());
        let wrong = wrong.expect("it says so");
        assert!(wrong.contains("1:") && wrong.contains("plain preferences"), "{wrong}");
        let aside = folder.path().join("preferences.ron.not-read");
        assert_eq!(std::fs::read_to_string(aside).expect("set aside"), "(dark: maybe)");
        let before = Preferences::of_text("(units: Inch)").expect("as an earlier one wrote it");
        assert_eq!(before.units, Some(Units::Inch));
        let wild = Preferences::of_text("(text_size: 900.0, calibration: (px_per_mm: -3.0))");
        let wild = wild.expect("readable");
        assert_eq!((wild.text_size, wild.calibration.px_per_mm), (2.0, 0.0));
    }
}
