//! Reading and writing files, with errors that name them.

use std::io::Write;
use std::path::{Path, PathBuf};

/// Why a file could not be read or written.
#[derive(Debug, thiserror::Error)]
pub enum FileError {
    /// It could not be read.
    #[error("cannot read {path}: {cause}")]
    Read {
        /// The file.
        path: PathBuf,
        /// What the system says.
        cause: std::io::Error,
    },
    /// It could not be written.
    #[error("cannot write {path}: {cause}")]
    Write {
        /// The file.
        path: PathBuf,
        /// What the system says.
        cause: std::io::Error,
    },
    /// Its content is not what it should be; the message carries file, line and column.
    #[error("{0}")]
    Content(String),
}

/// The text of a file.
///
/// # Errors
/// Names the file and what the system says.
pub fn read_text(path: &Path) -> Result<String, FileError> {
    std::fs::read_to_string(path).map_err(|cause| FileError::Read { path: path.into(), cause })
}

/// Writes a file so that a crash leaves the old content or the new, never half of it: a
/// temporary file beside the target, synced, then renamed over it.
///
/// # Errors
/// Names the file and what the system says.
pub fn save_atomically(path: &Path, bytes: &[u8]) -> Result<(), FileError> {
    let fail = |cause| FileError::Write { path: path.into(), cause };
    let folder = match path.parent() {
        Some(p) if !p.as_os_str().is_empty() => p,
        _ => Path::new("."),
    };
    let mut file = tempfile::NamedTempFile::new_in(folder).map_err(fail)?;
    file.write_all(bytes).map_err(fail)?;
    file.as_file().sync_all().map_err(fail)?;
    keep_permissions(path, file.as_file()).map_err(fail)?;
    file.persist(path).map_err(|e| fail(e.error))?;
    Ok(())
}

/// A temporary file is private; the target keeps what it had, a new file gets what any
/// new file would.
fn keep_permissions(path: &Path, file: &std::fs::File) -> std::io::Result<()> {
    match std::fs::metadata(path) {
        Ok(old) => file.set_permissions(old.permissions()),
        Err(_) => {
            #[cfg(unix)]
            {
                use std::os::unix::fs::PermissionsExt;
                file.set_permissions(std::fs::Permissions::from_mode(0o644))?;
            }
            Ok(())
        }
    }
}

/// Reads and checks a hull document.
///
/// # Errors
/// The file, or its first fault with line and column.
pub fn load_hull(path: &Path) -> Result<crate::hull::Hull, FileError> {
    let text = read_text(path)?;
    crate::hull::read::read(&text, &path.display().to_string())
        .map_err(|e| FileError::Content(e.to_string()))
}

/// Saves a hull document atomically.
///
/// # Errors
/// Names the file and what the system says.
pub fn save_hull(path: &Path, hull: &crate::hull::Hull) -> Result<(), FileError> {
    let text = hull.to_ron().map_err(|e| FileError::Content(format!("{}: {e}", path.display())))?;
    save_atomically(path, text.as_bytes())
}
