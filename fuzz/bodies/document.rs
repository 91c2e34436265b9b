//! Bytes as a hull document: refused with a place in the text, or a document that writes and
//! reads back the same.

use chinewright::hull::read::read;

use super::Reached;

/// Reads the bytes as a document.
///
/// # Panics
/// Where an error has no place or no words, or what was read does not come back.
pub fn run(data: &[u8]) -> Reached {
    let Ok(text) = std::str::from_utf8(data) else {
        return Reached::Nothing;
    };
    match read(text, "boat.ron") {
        Err(e) => {
            let lines = text.matches('\n').count() + 1;
            assert!((1..=lines).contains(&e.line), "line {} of {lines}: {e}", e.line);
            assert!(e.column >= 1 && !e.message.trim().is_empty(), "{e}");
            Reached::Refused
        }
        Ok(hull) => {
            let written = hull.to_ron().expect("what was read can be written");
            let back = read(&written, "written.ron").expect("what is written can be read");
            assert_eq!(back, hull);
            assert_eq!(back.mark(), hull.mark());
            assert_eq!(back.to_ron().expect("written again"), written);
            Reached::Through
        }
    }
}
