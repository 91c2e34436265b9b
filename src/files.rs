//! Reading and writing files, with errors that name them. All file access of the program is
//! here, but for what the window asks of the system.

pub mod autosave;
pub mod disk;
pub mod folder;
pub mod import;
mod plain;

use std::ffi::OsStr;
use std::fs::{File, Metadata};
use std::io;
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicU32, Ordering};

use self::disk::{Disk, Machine};
use crate::hull::{CheckedHull, Hull, read};

/// Why a file could not be read or written.
#[derive(Debug, thiserror::Error)]
pub enum FileError {
    /// It could not be read.
    #[error("cannot read {path}: {}", plain::reading(.cause))]
    Read {
        /// The file.
        path: PathBuf,
        /// What the system says.
        cause: io::Error,
    },
    /// It could not be written.
    #[error("cannot write {path}: {}", plain::writing(.cause))]
    Write {
        /// The file.
        path: PathBuf,
        /// What the system says.
        cause: io::Error,
    },
    /// It is there and would be lost, or is nothing that may be written over.
    #[error("{path} {why}")]
    Refused {
        /// The file or folder.
        path: PathBuf,
        /// Why it is left alone and what would be accepted.
        why: String,
        /// Whether [`Over::Force`] would write it.
        forced: bool,
    },
    /// Its content is not what it should be; the message carries file, line and column.
    #[error("{0}")]
    Content(String),
}

/// Whether what stands at the place to be written may be lost.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Over {
    /// What this program did not write there stays.
    #[default]
    Refuse,
    /// The one who asks has said that it may go.
    Force,
}

/// The text of a file.
///
/// # Errors
/// Names the file and what the system says; text that is not UTF-8 is told with what to do.
pub fn read_text(path: &Path) -> Result<String, FileError> {
    let fail = |cause| FileError::Read { path: path.into(), cause };
    let bytes = std::fs::read(path).map_err(fail)?;
    String::from_utf8(bytes).map_err(|e| {
        let valid = &e.as_bytes()[..e.utf8_error().valid_up_to()];
        let line = 1 + valid.iter().filter(|b| **b == b'\n').count();
        FileError::Content(format!(
            "{}:{line}: the text is not UTF-8 from there on; save it as UTF-8 in your editor or spreadsheet",
            path.display()
        ))
    })
}

/// In the names of files that are being written beside their place.
const BEING_WRITTEN: &str = ".chinewright-";

/// Writes a file so that a crash leaves the old content or the new, never half of it: a
/// temporary file beside the target, synced, then renamed over it. A symbolic link is
/// followed; a device, pipe or folder is refused.
///
/// # Errors
/// Names the file and what the system says, or why it is refused.
pub fn save_atomically(path: &Path, bytes: &[u8]) -> Result<(), FileError> {
    save_on(&Machine, path, bytes)
}

/// [`save_atomically`] on a disk that may fail.
///
/// # Errors
/// As there.
pub fn save_on(disk: &dyn Disk, path: &Path, bytes: &[u8]) -> Result<(), FileError> {
    let fail = |cause| FileError::Write { path: path.into(), cause };
    let target = followed(path).map_err(fail)?;
    let old = std::fs::metadata(&target).ok();
    if old.as_ref().is_some_and(|m| !m.is_file()) {
        return Err(FileError::Refused {
            path: path.into(),
            why: "is no regular file and is left alone: name a file".into(),
            forced: false,
        });
    }
    let folder = folder_of(&target);
    let name = target.file_name().ok_or_else(|| fail(io::ErrorKind::InvalidFilename.into()))?;
    clear_leavings(disk, folder, Some(name));
    static COUNT: AtomicU32 = AtomicU32::new(0);
    let count = COUNT.fetch_add(1, Ordering::Relaxed);
    let beside = folder.join(format!(
        ".{}{BEING_WRITTEN}{}-{count}",
        name.to_string_lossy(),
        std::process::id()
    ));
    let written = write_and_move(disk, &beside, &target, bytes, old.as_ref());
    if written.is_err() {
        // Not found where nothing was made.
        let _ = disk.remove(&beside);
    }
    written.map_err(fail)
}

fn write_and_move(
    disk: &dyn Disk,
    beside: &Path,
    target: &Path,
    bytes: &[u8],
    old: Option<&Metadata>,
) -> io::Result<()> {
    let file = disk.write(beside, bytes)?;
    // The target keeps what it had; a new file has what any new file has.
    if let Some(old) = old {
        file.set_permissions(old.permissions())?;
    }
    disk.sync(&file)?;
    disk.rename(beside, target)?;
    disk.sync_folder(folder_of(target))
}

/// Where a path leads: a symbolic link's own target, whether there is one yet or not.
fn followed(path: &Path) -> io::Result<PathBuf> {
    // As many as the system itself follows.
    const LINKS: usize = 40;
    let mut at = path.to_path_buf();
    for _ in 0..LINKS {
        match std::fs::read_link(&at) {
            Ok(to) => at = folder_of(&at).join(to),
            Err(_) => return Ok(at),
        }
    }
    Err(io::Error::other("its symbolic links lead in a ring"))
}

/// The folder that a path lies in.
fn folder_of(path: &Path) -> &Path {
    match path.parent() {
        Some(p) if !p.as_os_str().is_empty() => p,
        _ => Path::new("."),
    }
}

/// Takes away what killed runs were writing in a folder, for the file of this name or for any:
/// what no living run holds.
fn clear_leavings(disk: &dyn Disk, folder: &Path, of: Option<&OsStr>) {
    let Ok(entries) = std::fs::read_dir(folder) else {
        return;
    };
    let before = of.map_or(String::new(), |name| format!(".{}", name.to_string_lossy()));
    for entry in entries.flatten() {
        let name = entry.file_name();
        let ours = name.to_string_lossy().strip_prefix(&before).is_some_and(|rest| {
            rest.contains(BEING_WRITTEN) && (of.is_none() || rest.starts_with(BEING_WRITTEN))
        });
        if ours && File::open(entry.path()).is_ok_and(|f| f.try_lock().is_ok()) {
            let _ = disk.remove(&entry.path());
        }
    }
}

/// Whether two paths lead to the same file or folder.
fn same_place(a: &Path, b: &Path) -> bool {
    match (std::fs::canonicalize(a), std::fs::canonicalize(b)) {
        (Ok(a), Ok(b)) => a == b,
        _ => a == b,
    }
}

/// Refuses an output that is the input, whatever is forced, and one that exists unless that is
/// forced.
///
/// # Errors
/// Names the output and what would be accepted.
pub fn may_write(input: Option<&Path>, output: &Path, over: Over) -> Result<(), FileError> {
    let refused =
        |why: &str, forced| FileError::Refused { path: output.into(), why: why.into(), forced };
    if input.is_some_and(|i| same_place(i, output)) {
        return Err(refused("is what is read: name another file to write", false));
    }
    if over == Over::Refuse && std::fs::symlink_metadata(output).is_ok() {
        return Err(refused("exists and is left alone: name another file", true));
    }
    Ok(())
}

/// Reads and checks a hull document.
///
/// # Errors
/// The file, or its first fault with line and column.
pub fn load_hull(path: &Path) -> Result<CheckedHull, FileError> {
    let text = read_text(path)?;
    read::read(&text, &path.display().to_string()).map_err(|e| FileError::Content(e.to_string()))
}

/// Saves a hull document atomically.
///
/// # Errors
/// Names the file and what the system says.
pub fn save_hull(path: &Path, hull: &Hull) -> Result<(), FileError> {
    save_hull_on(&Machine, path, hull)
}

/// [`save_hull`] on a disk that may fail.
///
/// # Errors
/// As there.
pub fn save_hull_on(disk: &dyn Disk, path: &Path, hull: &Hull) -> Result<(), FileError> {
    let text = hull.to_ron().map_err(|e| FileError::Content(format!("{}: {e}", path.display())))?;
    save_on(disk, path, text.as_bytes())
}
