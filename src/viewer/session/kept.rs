//! Unsaved work: where it is kept, and whether any was left over from before.

use std::path::{Path, PathBuf};
use std::time::SystemTime;

use crate::cli::files::load_hull;
use crate::hull::Hull;

/// Unsaved work found beside a document: a crash, or a power cut, or a closed lid.
#[derive(Debug, Clone, PartialEq)]
pub struct LeftOver {
    /// Where it lies.
    pub place: PathBuf,
    /// The boat as it was.
    pub hull: Hull,
    /// When it was written.
    pub when: Option<SystemTime>,
}

/// The work left over beside `path`, if it can be read and differs from `hull`.
pub fn left_over(path: Option<&Path>, hull: &Hull) -> Option<LeftOver> {
    let place = autosave_path(path);
    let when = std::fs::metadata(&place).ok()?.modified().ok();
    let found = load_hull(&place).ok()?;
    (found != *hull).then_some(LeftOver { place, hull: found, when })
}

/// Where an unsaved state is kept: `name.ron.autosave` beside the file, or in the user's
/// temporary folder for a boat without a file.
pub fn autosave_path(path: Option<&Path>) -> PathBuf {
    match path {
        Some(path) => {
            let mut name = path.as_os_str().to_os_string();
            name.push(".autosave");
            name.into()
        }
        None => std::env::temp_dir().join("chinewright-unsaved.ron.autosave"),
    }
}

/// "12 minutes ago", as one says it.
pub fn ago(when: SystemTime) -> String {
    let minutes = when.elapsed().map_or(0, |d| d.as_secs() / 60);
    match minutes {
        0 => "just now".into(),
        1 => "a minute ago".into(),
        m if m < 90 => format!("{m} minutes ago"),
        m if m < 48 * 60 => format!("{} hours ago", (m + 30) / 60),
        m => format!("{} days ago", m / (24 * 60)),
    }
}
