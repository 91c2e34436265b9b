//! A folder that is written as a whole: built beside its place, then swapped for what stood
//! there. Its manifest names every file that was written and what was in it, so that the next
//! pack takes away its own stale files and no one else's.
//!
//! A run that is killed leaves the old folder or the new one. Between the two renames of the
//! swap the old one stands beside its place under a name of ours; the next run puts it back,
//! or goes on moving over what is not ours.

use std::collections::BTreeMap;
use std::io;
use std::path::{Path, PathBuf};

use serde::{Deserialize, Serialize};

use super::disk::Disk;
use super::{FileError, Over, folder_of, same_place};

/// Name of the manifest in the folder.
pub const MANIFEST: &str = "manifest.json";
/// Beside the folder while it is written and swapped.
const NEW: &str = "chinewright-new";
const OLD: &str = "chinewright-old";

/// What was written into a folder.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Manifest {
    /// Always `chinewright`.
    pub written_by: String,
    /// The mark of the document.
    pub mark: String,
    /// Path within the folder, with `/`, and the BLAKE3 hash of the file.
    pub files: BTreeMap<String, String>,
}

impl Manifest {
    /// Of files that are to be written.
    pub fn of(mark: &str, files: &[(String, Vec<u8>)]) -> Manifest {
        Manifest {
            written_by: "chinewright".into(),
            mark: mark.into(),
            files: files.iter().map(|(n, b)| (n.clone(), hash(b))).collect(),
        }
    }

    /// That of a folder, if it has one of ours.
    pub fn read(folder: &Path) -> Option<Manifest> {
        let text = std::fs::read_to_string(folder.join(MANIFEST)).ok()?;
        serde_json::from_str(&text).ok().filter(|m: &Manifest| m.written_by == "chinewright")
    }

    /// Whether a file of the folder is as it was written.
    fn unchanged(&self, folder: &Path, name: &str) -> bool {
        let bytes = std::fs::read(folder.join(name));
        matches!((self.files.get(name), bytes), (Some(h), Ok(b)) if *h == hash(&b))
    }
}

fn hash(bytes: &[u8]) -> String {
    blake3::hash(bytes).to_hex().to_string()
}

/// Writes `files` (paths within the folder, with `/`, and what is in them) as the whole of what
/// this program has in `folder`; what others put there stays.
///
/// # Errors
/// A folder that is not ours, or in which one of our files was changed, unless it is forced;
/// what the system says.
pub fn replace(
    disk: &dyn Disk,
    folder: &Path,
    (mark, files): (&str, &[(String, Vec<u8>)]),
    over: Over,
) -> Result<(), FileError> {
    let fail = |cause| FileError::Write { path: folder.into(), cause };
    // A link stays a link.
    let place = std::fs::canonicalize(folder).unwrap_or_else(|_| folder.to_path_buf());
    let (new, old) = (beside(&place, NEW), beside(&place, OLD));
    recover(disk, &place).map_err(fail)?;
    let there = Manifest::read(&place);
    refuse(folder, &place, there.as_ref(), files, over)?;
    let above = folder_of(&place);
    let missing: Vec<&Path> = above.ancestors().take_while(|p| !p.exists()).collect();
    disk.make_folder(above).map_err(fail)?;
    let manifest = serde_json::to_vec_pretty(&Manifest::of(mark, files))
        .map_err(|e| FileError::Content(e.to_string()))?;
    let own = (MANIFEST.to_string(), manifest);
    let made = files.iter().chain([&own]).try_for_each(|(name, bytes)| {
        write_in(disk, &new, name, bytes)
            .map_err(|cause| FileError::Write { path: folder.join(name), cause })
    });
    let swapped = made.and_then(|()| swap(disk, &new, &place, &old).map_err(fail));
    if swapped.is_err() {
        // What was made takes room on a disk that may be full.
        if new.is_dir() {
            let _ = remove_tree(disk, &new);
        }
        for made in missing.iter().filter(|p| p.is_dir()) {
            let _ = disk.remove_folder(made);
        }
    }
    swapped?;
    disk.sync_folder(above).map_err(fail)?;
    clear_old(disk, &place, &old).map_err(fail)
}

/// Puts the new folder where the old one stood; fails with the old one there, if the system
/// lets it.
fn swap(disk: &dyn Disk, new: &Path, place: &Path, old: &Path) -> io::Result<()> {
    disk.sync_folder(new)?;
    let before = place.exists();
    if before {
        disk.rename(place, old)?;
    }
    disk.rename(new, place).inspect_err(|_| {
        if before {
            let _ = disk.rename(old, place);
        }
    })
}

/// A name beside the folder's own.
fn beside(place: &Path, what: &str) -> PathBuf {
    let name = place.file_name().map_or_else(|| "pack".into(), |n| n.to_string_lossy());
    folder_of(place).join(format!(".{name}.{what}"))
}

fn write_in(disk: &dyn Disk, folder: &Path, name: &str, bytes: &[u8]) -> io::Result<()> {
    let path = folder.join(name);
    disk.make_folder(folder_of(&path))?;
    let file = disk.write(&path, bytes)?;
    disk.sync(&file)
}

/// Why a folder may not be replaced.
fn refuse(
    folder: &Path,
    place: &Path,
    there: Option<&Manifest>,
    files: &[(String, Vec<u8>)],
    over: Over,
) -> Result<(), FileError> {
    let refused = |path: PathBuf, why: &str, forced| {
        Err(FileError::Refused { path, why: why.into(), forced })
    };
    if !place.exists() {
        return Ok(());
    }
    if !place.is_dir() {
        return refused(folder.into(), "is no folder: name a folder for the pack", false);
    }
    if std::env::current_dir().is_ok_and(|here| same_place(&here, place)) {
        return refused(
            folder.into(),
            "is where you stand: name a folder of its own for the pack",
            false,
        );
    }
    if over == Over::Force {
        return Ok(());
    }
    let empty = std::fs::read_dir(place).is_ok_and(|mut d| d.next().is_none());
    let Some(there) = there else {
        if empty {
            return Ok(());
        }
        return refused(
            folder.into(),
            "holds files that are no build pack of this program: name a new or empty folder",
            true,
        );
    };
    let new = |n: &str| n != MANIFEST && place.join(n).exists();
    match files.iter().find(|(n, _)| new(n) && !there.unchanged(place, n)) {
        Some((name, _)) => refused(
            place.join(name),
            "is not as it was written: move it elsewhere to keep it",
            true,
        ),
        None => Ok(()),
    }
}

/// Brings a folder whose swap was cut short to its old or its new state.
fn recover(disk: &dyn Disk, place: &Path) -> io::Result<()> {
    let (new, old) = (beside(place, NEW), beside(place, OLD));
    if old.is_dir() {
        if place.exists() {
            clear_old(disk, place, &old)?;
        } else {
            disk.rename(&old, place)?;
        }
    }
    if new.is_dir() { remove_tree(disk, &new) } else { Ok(()) }
}

/// Moves what is not ours from the old folder into the new, and takes the rest away.
fn clear_old(disk: &dyn Disk, place: &Path, old: &Path) -> io::Result<()> {
    if !old.is_dir() {
        return Ok(());
    }
    let ours = Manifest::read(old);
    let mut within = Vec::new();
    list(old, Path::new(""), &mut within)?;
    // The manifest goes last: what is ours is told by it.
    let manifest = Path::new(MANIFEST);
    for path in within.iter().filter(|p| *p != manifest) {
        let (from, to) = (old.join(path), place.join(path));
        let name = path.to_str().map(|n| n.replace(std::path::MAIN_SEPARATOR, "/"));
        let written = ours.as_ref().zip(name).is_some_and(|(m, name)| m.unchanged(old, &name));
        if written || to.exists() {
            disk.remove(&from)?;
        } else {
            disk.make_folder(folder_of(&to))?;
            disk.rename(&from, &to)?;
        }
    }
    if within.iter().any(|p| p == manifest) {
        disk.remove(&old.join(manifest))?;
    }
    remove_folders(disk, old)
}

/// Files below a folder, by their paths within it.
fn list(folder: &Path, within: &Path, out: &mut Vec<PathBuf>) -> io::Result<()> {
    for entry in std::fs::read_dir(folder)? {
        let entry = entry?;
        let path = within.join(entry.file_name());
        if entry.file_type()?.is_dir() {
            list(&entry.path(), &path, out)?;
        } else {
            out.push(path);
        }
    }
    Ok(())
}

/// Takes away folders that hold nothing but folders.
fn remove_folders(disk: &dyn Disk, folder: &Path) -> io::Result<()> {
    for entry in std::fs::read_dir(folder)? {
        let entry = entry?;
        if entry.file_type()?.is_dir() {
            remove_folders(disk, &entry.path())?;
        }
    }
    disk.remove_folder(folder)
}

/// Takes away what only this program wrote.
fn remove_tree(disk: &dyn Disk, folder: &Path) -> io::Result<()> {
    for entry in std::fs::read_dir(folder)? {
        let entry = entry?;
        if entry.file_type()?.is_dir() {
            remove_tree(disk, &entry.path())?;
        } else {
            disk.remove(&entry.path())?;
        }
    }
    disk.remove_folder(folder)
}
