//! What the system says of a file, in plain words.

use std::io::{Error, ErrorKind};

/// Why a file could not be read.
pub(super) fn reading(cause: &Error) -> String {
    match cause.kind() {
        ErrorKind::NotFound => "there is no such file".into(),
        ErrorKind::IsADirectory => "it is a folder: name a file in it".into(),
        _ => either(cause),
    }
}

/// Why a file could not be written.
pub(super) fn writing(cause: &Error) -> String {
    match cause.kind() {
        ErrorKind::NotFound => "there is no such folder: make it first, or name another".into(),
        ErrorKind::IsADirectory => "it is a folder: name a file".into(),
        _ => either(cause),
    }
}

fn either(cause: &Error) -> String {
    let plain = match cause.kind() {
        ErrorKind::PermissionDenied => "you have no permission for that",
        ErrorKind::NotADirectory => "part of its path is a file and no folder",
        ErrorKind::AlreadyExists => "a file of that name is in the way",
        ErrorKind::StorageFull => "the disk is full",
        ErrorKind::QuotaExceeded => "your share of the disk is full",
        ErrorKind::FileTooLarge => "the file would be larger than the disk takes",
        ErrorKind::ReadOnlyFilesystem => "the disk can only be read",
        ErrorKind::InvalidFilename => "its name is too long, or none that the disk takes",
        ErrorKind::DirectoryNotEmpty => "the folder is not empty",
        ErrorKind::ResourceBusy | ErrorKind::ExecutableFileBusy => "another program holds it",
        ErrorKind::CrossesDevices => "it lies on another disk",
        ErrorKind::TimedOut => "the disk does not answer",
        ErrorKind::Interrupted => "it was interrupted: try again",
        _ => return without_number(&cause.to_string()),
    };
    plain.into()
}

/// The system's own words without its number, which helps no one.
fn without_number(said: &str) -> String {
    match said.rsplit_once(" (os error") {
        Some((words, _)) => words.into(),
        None => said.into(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_system_number_is_said() {
        // Linux's numbers: no entry, no permission, is a folder, in the way, no folder, full,
        // read only, name too long; and one of which nothing is said here (5, in and out).
        for (number, read, written) in [
            (2, "no such file", "no such folder"),
            (13, "no permission", "no permission"),
            (21, "it is a folder", "it is a folder"),
            (17, "in the way", "in the way"),
            (20, "no folder", "no folder"),
            (28, "full", "full"),
            (30, "only be read", "only be read"),
            (36, "too long", "too long"),
            (5, "/output error", "/output error"),
        ] {
            let cause = Error::from_raw_os_error(number);
            let said = [reading(&cause), writing(&cause)];
            assert!(said[0].contains(read) && said[1].contains(written), "{said:?}");
            assert!(!said.iter().any(|s| s.contains("os error")), "{said:?}");
        }
        assert_eq!(writing(&Error::other("its links lead in a ring")), "its links lead in a ring");
    }
}
