//! Unsaved work: where it is kept, and what was left over from runs that are over.
//!
//! A document's unsaved state lies beside it as `boat.ron.autosave`. Found when the
//! document is opened, it is set aside under a name of its own, so that keeping goes on
//! while the builder has not yet said what is to become of it. A boat without a file is
//! kept in the user's own data folder under a lock that its run holds while it lives.

use std::fs::File;
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicU32, Ordering};
use std::time::SystemTime;

use crate::cli::files::load_hull;
use crate::hull::Hull;

/// Ending of what is kept, and of what was set aside.
const KEPT: &str = "autosave";
const SET_ASIDE: &str = "left-over";
/// Ending of the lock beside a boat without a file.
const LOCK: &str = "lock";

/// Unsaved work of a run that is over: a crash, a power cut, a closed lid.
#[derive(Debug, Clone, PartialEq)]
pub struct LeftOver {
    /// Where it lies.
    pub place: PathBuf,
    /// The document that it is a state of, if any.
    pub of: Option<PathBuf>,
    /// The boat as it was.
    pub hull: Hull,
    /// When it was written.
    pub when: Option<SystemTime>,
}

/// Where the unsaved state of a document is kept.
pub fn autosave_path(path: &Path) -> PathBuf {
    with_ending(path, KEPT)
}

fn with_ending(path: &Path, ending: &str) -> PathBuf {
    let mut name = path.as_os_str().to_os_string();
    name.push(".");
    name.push(ending);
    name.into()
}

/// Whether a path is one of ours, and not a document.
pub fn is_kept(path: &Path) -> bool {
    let name = path.file_name().map_or(String::new(), |n| n.to_string_lossy().into_owned());
    name.ends_with(&format!(".{KEPT}")) || name.contains(&format!(".{SET_ASIDE}"))
}

/// Unsaved work beside a document, newest first. What says the same as the document is
/// cleared away.
pub fn beside(path: &Path, hull: &Hull) -> Vec<LeftOver> {
    let kept = autosave_path(path);
    if kept.is_file() {
        let aside =
            (1..100).map(|k| with_ending(path, &format!("{SET_ASIDE}-{k}"))).find(|p| !p.exists());
        if let Some(aside) = aside {
            let _ = std::fs::rename(&kept, aside);
        }
    }
    let mut found: Vec<LeftOver> = (1..100)
        .map(|k| with_ending(path, &format!("{SET_ASIDE}-{k}")))
        .filter_map(|place| {
            let work = read(place.clone(), Some(path.to_path_buf()))?;
            if work.hull == *hull {
                let _ = std::fs::remove_file(place);
                return None;
            }
            Some(work)
        })
        .collect();
    found.sort_by_key(|w| std::cmp::Reverse(w.when));
    found
}

fn read(place: PathBuf, of: Option<PathBuf>) -> Option<LeftOver> {
    let when = std::fs::metadata(&place).ok()?.modified().ok();
    // What cannot be read stays where it is: it may still be mended by hand.
    let hull = load_hull(&place).ok()?;
    Some(LeftOver { place, of, hull, when })
}

/// The place of this run's boat without a file, held by a lock while the run lives.
#[derive(Debug)]
pub struct Unsaved {
    place: PathBuf,
    lock: (PathBuf, File),
}

impl Unsaved {
    /// A place of its own in `folder`; `None` where nothing can be written there.
    pub fn in_folder(folder: &Path) -> Option<Unsaved> {
        std::fs::create_dir_all(folder).ok()?;
        let now = SystemTime::now().duration_since(SystemTime::UNIX_EPOCH).ok()?;
        // One process may hold several: tests do.
        static COUNT: AtomicU32 = AtomicU32::new(0);
        let count = COUNT.fetch_add(1, Ordering::Relaxed);
        let name = format!("{}-{}-{count}.ron", now.as_millis(), std::process::id());
        let place = with_ending(&folder.join(&name), KEPT);
        let lock = with_ending(&folder.join(&name), LOCK);
        let file = File::create(&lock).ok()?;
        file.try_lock().ok()?;
        Some(Unsaved { place, lock: (lock, file) })
    }

    /// Where it is kept.
    pub fn place(&self) -> &Path {
        &self.place
    }
}

impl Drop for Unsaved {
    fn drop(&mut self) {
        let _ = self.lock.1.unlock();
        let _ = std::fs::remove_file(&self.lock.0);
    }
}

/// Boats without a file, kept in `folder` by runs that are over, newest first.
pub fn orphans(folder: &Path) -> Vec<LeftOver> {
    let Ok(entries) = std::fs::read_dir(folder) else {
        return Vec::new();
    };
    let mut found: Vec<LeftOver> = entries
        .filter_map(|e| {
            let place = e.ok()?.path();
            if place.extension()? != KEPT || held(&place.with_extension(LOCK)) {
                return None;
            }
            read(place, None)
        })
        .collect();
    found.sort_by_key(|w| std::cmp::Reverse(w.when));
    found
}

/// Clears kept work away, with the lock that a run left beside it.
pub fn remove(place: &Path) {
    let _ = std::fs::remove_file(place);
    if place.extension().is_some_and(|e| e == KEPT) {
        let _ = std::fs::remove_file(place.with_extension(LOCK));
    }
}

/// Whether a living run holds the lock.
fn held(lock: &Path) -> bool {
    File::open(lock).is_ok_and(|f| f.try_lock().is_err())
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
