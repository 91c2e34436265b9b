//! Nothing is lost and nothing is mixed: saving and packing on a disk that fails at any act.

use std::cell::Cell;
use std::collections::BTreeMap;
use std::fs::File;
use std::io;
use std::path::{Path, PathBuf};

use chinewright::files::disk::{Disk, Machine};
use chinewright::files::folder::{MANIFEST, Manifest, replace};
use chinewright::files::{Over, load_hull, may_write, save_hull_on, save_on};
use chinewright::hull::starters::find;

/// A disk whose act `at` fails: that one alone, as a full disk would, or from there on all,
/// as a run that is killed does no more.
pub(crate) struct Failing {
    at: usize,
    killed: bool,
    done: Cell<usize>,
}

impl Failing {
    pub(crate) fn new(at: usize, killed: bool) -> Failing {
        Failing { at, killed, done: Cell::new(0) }
    }

    /// Whether the act that fails was come to.
    pub(crate) fn failed(&self) -> bool {
        self.done.get() > self.at
    }

    fn act(&self) -> io::Result<()> {
        let n = self.done.get();
        self.done.set(n + 1);
        if n == self.at || self.killed && n > self.at {
            return Err(io::Error::other("the test's disk"));
        }
        Ok(())
    }
}

impl Disk for Failing {
    fn write(&self, path: &Path, bytes: &[u8]) -> io::Result<File> {
        if let Err(e) = self.act() {
            // The act that fails leaves half of the bytes.
            if self.done.get() == self.at + 1 {
                let _ = Machine.write(path, &bytes[..bytes.len() / 2]);
            }
            return Err(e);
        }
        Machine.write(path, bytes)
    }
    fn sync(&self, file: &File) -> io::Result<()> {
        self.act().and_then(|()| Machine.sync(file))
    }
    fn rename(&self, from: &Path, to: &Path) -> io::Result<()> {
        self.act().and_then(|()| Machine.rename(from, to))
    }
    fn sync_folder(&self, folder: &Path) -> io::Result<()> {
        self.act().and_then(|()| Machine.sync_folder(folder))
    }
    fn make_folder(&self, folder: &Path) -> io::Result<()> {
        self.act().and_then(|()| Machine.make_folder(folder))
    }
    fn remove(&self, file: &Path) -> io::Result<()> {
        self.act().and_then(|()| Machine.remove(file))
    }
    fn remove_folder(&self, folder: &Path) -> io::Result<()> {
        self.act().and_then(|()| Machine.remove_folder(folder))
    }
}

/// Every file below a folder with what is in it.
pub(crate) fn tree(folder: &Path) -> BTreeMap<PathBuf, Vec<u8>> {
    fn walk(at: &Path, from: &Path, out: &mut BTreeMap<PathBuf, Vec<u8>>) {
        for entry in std::fs::read_dir(at).into_iter().flatten().flatten() {
            let path = entry.path();
            if path.is_dir() {
                walk(&path, from, out);
            } else {
                let within = path.strip_prefix(from).expect("below").to_path_buf();
                out.insert(within, std::fs::read(&path).expect("a file"));
            }
        }
    }
    let mut out = BTreeMap::new();
    walk(folder, folder, &mut out);
    out
}

fn files(all: &[(&str, &str)]) -> Vec<(String, Vec<u8>)> {
    all.iter().map(|(n, b)| (n.to_string(), b.as_bytes().to_vec())).collect()
}

/// Cut or failed at every act in turn, a save leaves the old boat or the new one whole, and
/// the next save takes away what it left.
#[test]
fn a_save_cut_anywhere_leaves_the_old_or_the_new() {
    let (old, new) = (find("reed-skiff").expect("one"), find("warden").expect("another"));
    let (old, new) = (old.hull(), new.hull());
    let mut seen = [0, 0];
    for killed in [false, true] {
        for at in 0.. {
            let folder = tempfile::tempdir().expect("a folder");
            let path = folder.path().join("boat.ron");
            save_hull_on(&Machine, &path, &old).expect("saved");
            let disk = Failing::new(at, killed);
            let result = save_hull_on(&disk, &path, &new);
            let there = load_hull(&path).expect("a whole document");
            assert!(there == old || there == new, "act {at}, killed {killed}");
            seen[usize::from(there == new)] += 1;
            if result.is_ok() {
                assert!(there == new, "said to be saved");
                assert!(at >= 4, "too few acts were tried: {at}");
                break;
            }
            save_hull_on(&Machine, &path, &new).expect("saved after all");
            assert_eq!(tree(folder.path()).len(), 1, "act {at}, killed {killed}: leavings");
        }
    }
    assert!(seen[0] >= 4 && seen[1] >= 2, "{seen:?}");
}

/// Likewise a pack over an earlier one, with a stranger's files among it: the whole of one or
/// the other, never both, and what others wrote is there in the end.
#[test]
fn a_pack_cut_anywhere_is_the_old_or_the_new_and_keeps_what_others_wrote() {
    let first =
        files(&[("summary.txt", "old boat"), ("frames/frame-1.svg", "one"), ("gone.csv", "x")]);
    let second = files(&[("summary.txt", "new boat"), ("patterns/side.svg", "side")]);
    let stranger = [("notes.txt", "mine"), ("frames/photograph.jpg", "mine too")];
    let mut acts = 0;
    for killed in [false, true] {
        for at in 0.. {
            let above = tempfile::tempdir().expect("a folder");
            let folder = above.path().join("pack");
            let mark = "00000000";
            replace(&Machine, &folder, (mark, &first), Over::Refuse).expect("first");
            for (name, text) in stranger {
                std::fs::write(folder.join(name), text).expect("a stranger's file");
            }
            let disk = Failing::new(at, killed);
            let result = replace(&disk, &folder, (mark, &second), Over::Refuse);
            if folder.exists() {
                let there = tree(&folder);
                let whole = |all: &[(String, Vec<u8>)]| {
                    all.iter().all(|(n, b)| there.get(Path::new(n)) == Some(b))
                };
                let either = whole(&first) != whole(&second);
                assert!(either, "act {at}, killed {killed}: {:?}", there.keys());
            } else {
                // Between the two renames: the next run puts it back first.
                assert!(above.path().join(".pack.chinewright-old").is_dir(), "act {at}");
            }
            // Unless it ended there, a run that could not make the new pack takes away what it made.
            let half_made = above.path().join(".pack.chinewright-new").exists();
            assert!(killed || !half_made, "act {at}: the disk stays full");
            let done = result.is_ok();
            replace(&Machine, &folder, (mark, &second), Over::Refuse).expect("the next run");
            let there = tree(&folder);
            let mut want: Vec<&str> = vec!["summary.txt", "patterns/side.svg", MANIFEST];
            want.extend(stranger.map(|s| s.0));
            want.sort_unstable();
            let names: Vec<&str> = there.keys().filter_map(|p| p.to_str()).collect();
            assert_eq!(names, want, "act {at}, killed {killed}");
            assert_eq!(there[Path::new("notes.txt")], b"mine");
            assert_eq!(std::fs::read_dir(above.path()).expect("above").count(), 1, "act {at}");
            if done {
                acts = at;
                break;
            }
        }
    }
    assert!(acts > 15, "too few acts were tried: {acts}");
}

/// A folder of somebody else's, and a file of ours that was worked on, are left alone unless
/// that is forced.
#[test]
fn what_is_not_ours_is_not_written_over() {
    let above = tempfile::tempdir().expect("a folder");
    let folder = above.path().join("work");
    std::fs::create_dir(&folder).expect("a folder");
    let pack = files(&[("summary.txt", "a boat")]);
    let put = |over| replace(&Machine, &folder, ("00000000", &pack), over);
    put(Over::Refuse).expect("an empty folder is as good as none");
    let manifest = Manifest::read(&folder).expect("a manifest");
    assert_eq!(manifest.files.keys().collect::<Vec<_>>(), ["summary.txt"]);
    put(Over::Refuse).expect("our own");
    std::fs::write(folder.join("summary.txt"), "a boat, and what I measured").expect("worked on");
    let said = put(Over::Refuse).expect_err("it was worked on").to_string();
    assert!(said.contains("summary.txt") && said.contains("move it elsewhere"), "{said}");
    put(Over::Force).expect("forced");
    assert_eq!(tree(&folder)[Path::new("summary.txt")], b"a boat");
    std::fs::remove_file(folder.join(MANIFEST)).expect("taken away");
    let said = put(Over::Refuse).expect_err("not known as ours").to_string();
    assert!(said.contains("no build pack of this program"), "{said}");
}

/// A link stays a link, a mode stays a mode, and a device is no file.
#[cfg(unix)]
#[test]
fn links_are_followed_modes_kept_and_devices_refused() {
    use std::os::unix::fs::{PermissionsExt, symlink};
    let folder = tempfile::tempdir().expect("a folder");
    let (real, link) = (folder.path().join("real.ron"), folder.path().join("link.ron"));
    std::fs::write(&real, "old").expect("written");
    std::fs::set_permissions(&real, std::fs::Permissions::from_mode(0o640)).expect("a mode");
    symlink("real.ron", &link).expect("a link");
    save_on(&Machine, &link, b"new").expect("saved");
    assert!(std::fs::symlink_metadata(&link).expect("there").is_symlink());
    assert_eq!(std::fs::read(&real).expect("read"), b"new");
    assert_eq!(std::fs::metadata(&real).expect("there").permissions().mode() & 0o777, 0o640);
    for device in ["/dev/null", "/dev/full"] {
        let said = save_on(&Machine, Path::new(device), b"new").expect_err(device).to_string();
        assert!(said.contains("no regular file"), "{said}");
    }
    assert!(save_on(&Machine, folder.path(), b"new").is_err());
    symlink("ring.ron", folder.path().join("ring.ron")).expect("a ring");
    assert!(save_on(&Machine, &folder.path().join("ring.ron"), b"new").is_err());
}

#[test]
fn an_output_that_is_the_input_is_refused_whatever_is_forced() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("boat.ron");
    std::fs::write(&path, "a boat").expect("written");
    let dotted = folder.path().join(".").join("boat.ron");
    for over in [Over::Refuse, Over::Force] {
        let said = may_write(Some(&path), &dotted, over).expect_err("the same file").to_string();
        assert!(said.contains("is what is read"), "{said}");
    }
    assert!(may_write(None, &path, Over::Refuse).is_err());
    assert!(may_write(None, &path, Over::Force).is_ok());
    assert!(may_write(Some(&path), &folder.path().join("other.ron"), Over::Refuse).is_ok());
}

/// A table saved in an old code page says so, with the line.
#[test]
fn text_that_is_not_utf_8_says_what_to_do() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("boat.ron");
    std::fs::write(&path, b"(version: 1,\n name: \"Schl\xe4uche\")").expect("written");
    let said = load_hull(&path).expect_err("not UTF-8").to_string();
    assert!(said.contains("boat.ron:2") && said.contains("UTF-8"), "{said}");
}
