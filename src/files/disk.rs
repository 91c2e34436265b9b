//! What is done to a disk when something is saved, one small act at a time, so that a test
//! can fail or end a run at any of them.

use std::fs::{File, OpenOptions};
use std::io::{self, Write};
use std::path::Path;

/// The acts that saving is made of. Reading is not among them: it harms nothing.
pub trait Disk {
    /// Makes a new file of these bytes and holds its lock; fails where there is one already.
    ///
    /// # Errors
    /// What the system says.
    fn write(&self, path: &Path, bytes: &[u8]) -> io::Result<File>;

    /// Brings a file's bytes down to the disk.
    ///
    /// # Errors
    /// What the system says.
    fn sync(&self, file: &File) -> io::Result<()>;

    /// Moves a file over another of the same folder tree, or a folder to a free name.
    ///
    /// # Errors
    /// What the system says.
    fn rename(&self, from: &Path, to: &Path) -> io::Result<()>;

    /// Brings a folder's names down to the disk.
    ///
    /// # Errors
    /// What the system says.
    fn sync_folder(&self, folder: &Path) -> io::Result<()>;

    /// Makes a folder and those above it.
    ///
    /// # Errors
    /// What the system says.
    fn make_folder(&self, folder: &Path) -> io::Result<()>;

    /// Takes a file away.
    ///
    /// # Errors
    /// What the system says.
    fn remove(&self, file: &Path) -> io::Result<()>;

    /// Takes an empty folder away.
    ///
    /// # Errors
    /// What the system says; a folder that holds something stays.
    fn remove_folder(&self, folder: &Path) -> io::Result<()>;
}

/// The machine's own disk.
#[derive(Debug, Clone, Copy, Default)]
pub struct Machine;

impl Disk for Machine {
    fn write(&self, path: &Path, bytes: &[u8]) -> io::Result<File> {
        // The mode of a new file is the system's and the user's mask.
        let mut file = OpenOptions::new().write(true).create_new(true).open(path)?;
        // Held while it lives, so that what a killed run left is told from what one is at. A
        // file system without locks only loses that.
        let _ = file.try_lock();
        file.write_all(bytes)?;
        Ok(file)
    }

    fn sync(&self, file: &File) -> io::Result<()> {
        file.sync_all()
    }

    fn rename(&self, from: &Path, to: &Path) -> io::Result<()> {
        std::fs::rename(from, to)
    }

    fn sync_folder(&self, folder: &Path) -> io::Result<()> {
        // Only Unix opens folders.
        if cfg!(unix) { File::open(folder)?.sync_all() } else { Ok(()) }
    }

    fn make_folder(&self, folder: &Path) -> io::Result<()> {
        std::fs::create_dir_all(folder)
    }

    fn remove(&self, file: &Path) -> io::Result<()> {
        std::fs::remove_file(file)
    }

    fn remove_folder(&self, folder: &Path) -> io::Result<()> {
        std::fs::remove_dir(folder)
    }
}
