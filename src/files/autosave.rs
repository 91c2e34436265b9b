//! Unsaved work: where it is kept, and what was left over from runs that are over.
//!
//! A document's unsaved state lies beside it as `boat.ron.autosave`. Found when the
//! document is opened, it is set aside under a name of its own, so that keeping goes on
//! while the builder has not yet said what is to become of it. A boat without a file is
//! kept in the user's own data folder under a lock that its run holds while it lives.

use std::ffi::OsStr;
use std::fs::{File, TryLockError};
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicU32, Ordering};
use std::time::SystemTime;

use super::disk::{Disk, Machine};
use super::{FileError, clear_leavings, folder_of, load_hull, save_hull_on};
use crate::hull::{CheckedHull, Hull};

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
    pub hull: CheckedHull,
    /// When it was written.
    pub when: Option<SystemTime>,
}

/// Where the unsaved state of a document is kept.
pub fn place_beside(path: &Path) -> PathBuf {
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

/// Keeps the unsaved state of a document at `place`; `own` says that this run has kept there
/// before. What another run kept there is set aside first, so that it is not lost.
///
/// # Errors
/// Names the file and what the system says.
pub fn keep(place: &Path, hull: &Hull, own: bool) -> Result<(), FileError> {
    keep_on(&Machine, place, hull, own)
}

/// [`keep`] on a disk that may fail.
///
/// # Errors
/// As there.
pub fn keep_on(disk: &dyn Disk, place: &Path, hull: &Hull, own: bool) -> Result<(), FileError> {
    if !own && place.is_file() {
        set_aside(disk, place).map_err(|cause| FileError::Write { path: place.into(), cause })?;
    }
    save_hull_on(disk, place, hull)
}

/// Moves what is kept at `place` to the next free name, so that keeping goes on.
fn set_aside(disk: &dyn Disk, place: &Path) -> std::io::Result<()> {
    let document = place.with_extension("");
    let last = set_aside_of(&document).into_iter().map(|(k, _)| k).max().unwrap_or(0);
    disk.rename(place, &with_ending(&document, &format!("{SET_ASIDE}-{}", last + 1)))?;
    disk.sync_folder(folder_of(place))
}

/// What was set aside of a document, with its number.
fn set_aside_of(document: &Path) -> Vec<(u64, PathBuf)> {
    let folder = folder_of(document);
    let Some(name) = document.file_name() else {
        return Vec::new();
    };
    let before = format!("{}.{SET_ASIDE}-", name.to_string_lossy());
    let entries = std::fs::read_dir(folder).into_iter().flatten().flatten();
    entries
        .filter_map(|e| {
            let name = e.file_name();
            let number = name.to_string_lossy().strip_prefix(&before)?.parse().ok()?;
            Some((number, folder.join(name)))
        })
        .collect()
}

/// Unsaved work beside a document, newest first. What says the same as the document is
/// cleared away.
pub fn beside(path: &Path, hull: &Hull) -> Vec<LeftOver> {
    beside_on(&Machine, path, hull)
}

/// [`beside`] on a disk that may fail.
pub fn beside_on(disk: &dyn Disk, path: &Path, hull: &Hull) -> Vec<LeftOver> {
    let kept = place_beside(path);
    clear_leavings(disk, folder_of(path), kept.file_name());
    if kept.is_file() {
        // What cannot be set aside now is, before anything is kept there: see [`keep`].
        let _ = set_aside(disk, &kept);
    }
    let mut found: Vec<LeftOver> = set_aside_of(path)
        .into_iter()
        .filter_map(|(_, place)| {
            let work = read(place.clone(), Some(path.to_path_buf()))?;
            if work.hull == *hull {
                let _ = disk.remove(&place);
                return None;
            }
            Some(work)
        })
        .collect();
    found.sort_by_key(|w| std::cmp::Reverse(w.when));
    found
}

/// When unsaved work beside a document was last written, if there is any; touches nothing, as
/// its run may be alive.
pub fn waiting(path: &Path) -> Option<SystemTime> {
    let aside = set_aside_of(path).into_iter().map(|(_, place)| place);
    let written = |place: PathBuf| std::fs::metadata(place).ok()?.modified().ok();
    aside.chain([place_beside(path)]).filter_map(written).max()
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
        Unsaved::in_folder_on(&Machine, folder)
    }

    /// [`Unsaved::in_folder`] on a disk that may fail.
    pub fn in_folder_on(disk: &dyn Disk, folder: &Path) -> Option<Unsaved> {
        disk.make_folder(folder).ok()?;
        let now = SystemTime::now().duration_since(SystemTime::UNIX_EPOCH).ok()?;
        // One process may hold several: tests do.
        static COUNT: AtomicU32 = AtomicU32::new(0);
        let count = COUNT.fetch_add(1, Ordering::Relaxed);
        let name = format!("{}-{}-{count}.ron", now.as_millis(), std::process::id());
        let place = with_ending(&folder.join(&name), KEPT);
        let lock = with_ending(&folder.join(&name), LOCK);
        match disk.write(&lock, b"") {
            Ok(file) => Some(Unsaved { place, lock: (lock, file) }),
            Err(_) => {
                // Not found where nothing was made.
                let _ = disk.remove(&lock);
                None
            }
        }
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

/// Boats without a file, kept in `folder` by runs that are over, newest first. What else such
/// runs left there is cleared away.
pub fn orphans(folder: &Path) -> Vec<LeftOver> {
    orphans_on(&Machine, folder)
}

/// [`orphans`] on a disk that may fail.
pub fn orphans_on(disk: &dyn Disk, folder: &Path) -> Vec<LeftOver> {
    clear_leavings(disk, folder, None);
    let entries = std::fs::read_dir(folder).into_iter().flatten().flatten();
    let places: Vec<PathBuf> = entries.map(|e| e.path()).collect();
    let ending = |p: &PathBuf, e: &str| p.extension() == Some(OsStr::new(e));
    // A run that ended before it kept anything left its lock.
    for lock in places.iter().filter(|p| ending(p, LOCK)) {
        if !lock.with_extension(KEPT).exists() && !held(lock) {
            let _ = disk.remove(lock);
        }
    }
    let mut found: Vec<LeftOver> = places
        .into_iter()
        .filter(|p| ending(p, KEPT) && !held(&p.with_extension(LOCK)))
        .filter_map(|place| read(place, None))
        .collect();
    found.sort_by_key(|w| std::cmp::Reverse(w.when));
    found
}

/// Clears kept work away, with the lock that a run left beside it.
pub fn remove(place: &Path) {
    remove_on(&Machine, place);
}

/// [`remove`] on a disk that may fail: what stays is offered again.
pub fn remove_on(disk: &dyn Disk, place: &Path) {
    let _ = disk.remove(place);
    if place.extension().is_some_and(|e| e == KEPT) && !place.exists() {
        let lock = place.with_extension(LOCK);
        if lock.exists() {
            let _ = disk.remove(&lock);
        }
    }
}

/// Takes away what this run kept at `place`; its lock stays.
pub fn forget(place: &Path) {
    // Not found where nothing was kept.
    let _ = Machine.remove(place);
}

/// Whether a living run holds the lock.
fn held(lock: &Path) -> bool {
    File::open(lock).is_ok_and(|f| matches!(f.try_lock(), Err(TryLockError::WouldBlock)))
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
