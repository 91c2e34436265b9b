//! What fuzzing has found worth keeping, run again: the same bodies that the fuzz targets run
//! (`fuzz/bodies`), over `tests/corpus`. `fuzz/run` writes it.

use std::collections::BTreeMap;
use std::io::Write;
use std::path::Path;

#[allow(unreachable_pub, reason = "the fuzz crate's targets see them")]
#[path = "../../fuzz/bodies/mod.rs"]
mod bodies;

use bodies::Reached;

/// How many files of a target's corpus reached how far.
fn replay(target: &str, run: impl Fn(&[u8]) -> Reached) -> BTreeMap<Reached, usize> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/corpus").join(target);
    let mut reached = BTreeMap::new();
    let mut paths: Vec<_> =
        std::fs::read_dir(&folder).expect("a corpus").flatten().map(|e| e.path()).collect();
    paths.sort();
    for path in paths {
        let bytes = std::fs::read(&path).expect("a file of the corpus");
        // A test that fails says which file it was at.
        let _ = writeln!(std::io::stderr().lock(), "{}", path.display());
        *reached.entry(run(&bytes)).or_default() += 1;
    }
    reached
}

fn at_least(reached: &BTreeMap<Reached, usize>, how: Reached, least: usize) {
    let n = reached.get(&how).copied().unwrap_or_default();
    assert!(n >= least, "{n} files are {how:?}, of {reached:?}");
}

#[test]
fn documents_come_back_or_are_refused_with_a_place() {
    let reached = replay("document", bodies::document::run);
    at_least(&reached, Reached::Through, 3);
    at_least(&reached, Reached::Refused, 20);
}

#[test]
fn tables_come_back_or_are_refused_with_a_line() {
    let reached = replay("table", bodies::table::run);
    at_least(&reached, Reached::Through, 3);
    at_least(&reached, Reached::Refused, 20);
}

#[test]
fn changed_boats_have_whole_reports_and_sound_patterns() {
    let reached = replay("pass", bodies::pass::run);
    at_least(&reached, Reached::Through, 15);
    at_least(&reached, Reached::Refused, 3);
}

#[test]
fn drawings_of_anything_make_files_or_are_refused_by_name() {
    let reached = replay("drawing", bodies::drawing::run);
    at_least(&reached, Reached::Through, 15);
    at_least(&reached, Reached::Refused, 3);
}
