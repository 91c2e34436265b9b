//! The house's direction: a module may use those below it and none above.

use std::path::{Path, PathBuf};

use crate::paths::{Named, named};

/// From the ground up. A file may name only modules at or before its own place.
pub(crate) const ORDER: [&str; 27] = [
    "units",
    "tol",
    "geom",
    "part",
    "curve",
    "material",
    "hull",
    "panel",
    "flat",
    "bend",
    "frames",
    "setup",
    "float",
    "stock",
    "finding",
    "model",
    "solid",
    "words",
    "drawing",
    "typeset",
    "files",
    "report",
    "book",
    "mesh_files",
    "pack",
    "screen",
    "cli",
];

/// The libraries of the window.
const ENGINE: [&str; 7] = ["bevy", "bevy_egui", "egui", "egui_plot", "lyon", "wgpu", "rfd"];

/// Files, clocks, chance and the system around the program.
const EDGES: [&[&str]; 8] = [
    &["std", "fs"],
    &["std", "time"],
    &["std", "env"],
    &["std", "process"],
    &["std", "net"],
    &["SystemTime"],
    &["Instant"],
    &["rand"],
];

/// A source file: where it stands, its module from the root, what it names.
pub(crate) struct Source {
    pub(crate) path: PathBuf,
    pub(crate) module: Vec<String>,
    pub(crate) named: Named,
}

impl Source {
    /// The module under the root that it belongs to: `flat`, `lib`, `main`.
    pub(crate) fn top(&self) -> &str {
        self.module.first().map_or("lib", String::as_str)
    }
}

pub(crate) fn sources() -> Vec<Source> {
    fn walk(folder: &Path, out: &mut Vec<PathBuf>) {
        let mut entries: Vec<_> =
            std::fs::read_dir(folder).expect("src").flatten().map(|e| e.path()).collect();
        entries.sort();
        for path in entries {
            if path.is_dir() {
                walk(&path, out);
            } else if path.extension().is_some_and(|e| e == "rs") {
                out.push(path);
            }
        }
    }
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
    let mut files = Vec::new();
    walk(&root, &mut files);
    files
        .into_iter()
        .map(|path| {
            let under = path.strip_prefix(&root).expect("under src").with_extension("");
            let mut module: Vec<String> =
                under.iter().map(|name| name.to_string_lossy().into_owned()).collect();
            if module.last().is_some_and(|name| name == "mod" || name == "lib") {
                module.pop();
            }
            let text = std::fs::read_to_string(&path).expect("a source file");
            Source { named: named(&text, &module), path, module }
        })
        .collect()
}

/// What a file names that its place forbids, and how many uses of our own modules were read.
fn above(top: &str, named: &Named) -> (Vec<String>, usize) {
    let rank = |m: &str| ORDER.iter().position(|o| *o == m);
    let Some(own) = rank(top) else {
        return (Vec::new(), 0); // lib and main may use everything; the viewer has a test of its own
    };
    let wrong = named.own.iter().filter(|path| {
        // The root itself, all of it, or no module that is known: nobody could say what it is.
        path.first().and_then(|m| rank(m)).is_none_or(|theirs| theirs > own)
    });
    (wrong.map(|path| path.join("::")).collect(), named.own.len())
}

#[test]
fn no_module_uses_one_above_it() {
    let mut seen = 0;
    for source in sources() {
        let (wrong, read) = above(source.top(), &source.named);
        assert!(wrong.is_empty(), "{} uses {wrong:?}, above it", source.path.display());
        seen += read;
    }
    assert!(seen > 1000, "the check read only {seen} uses");
}

/// Each way in which a module above could be named is found, also below a test module, and
/// what only tests use is not.
#[test]
fn uses_that_point_upwards_are_found() {
    let module = ["flat", "laps"].map(String::from);
    let wrong = |text: &str| above("flat", &named(text, &module)).0;
    let below_tests = "#[cfg(test)] mod tests {} fn f() { crate::model::derive(); }";
    for (text, found) in [
        ("use crate::{geom::{P2, V2}, drawing::{self, Drawing}};", "drawing"),
        ("use super::super::cli::Job;", "cli::Job"),
        ("fn f() -> crate::viewer::App { todo!() }", "viewer::App"),
        ("fn f() { assert!(crate::float::ok()); }", "float::ok"),
        ("use crate::*;", "*"),
        ("use crate as everything;", ""),
        (below_tests, "model::derive"),
    ] {
        assert!(wrong(text).contains(&found.to_string()), "{text}: {:?}", wrong(text));
    }
    for fine in [
        "use crate::{geom::P2, panel::{Surface, pair}}; use super::develop;",
        "pub(in crate::flat) fn f() {} pub(super) fn g() {}",
        "#[cfg(test)] mod tests { use crate::model::derive; }",
    ] {
        assert!(wrong(fine).is_empty(), "{fine}: {:?}", wrong(fine));
    }
}

#[test]
fn only_the_viewer_knows_the_engine() {
    let mut inside = 0;
    for source in sources() {
        let names = |path: &&Vec<String>| ENGINE.contains(&path[0].as_str());
        let found: Vec<_> = source.named.other.iter().filter(names).collect();
        if source.top() == "viewer" {
            inside += found.len();
        } else {
            assert!(found.is_empty(), "{} names {found:?}", source.path.display());
        }
    }
    assert!(inside > 100, "the check finds the engine only {inside} times in the viewer itself");
}

/// `main` brings them together; the command line has the viewer above it, so the order above
/// keeps it from naming that.
#[test]
fn the_window_does_not_know_the_command_line() {
    let mut read = 0;
    for source in sources().iter().filter(|s| s.top() == "viewer") {
        let wrong: Vec<_> =
            source.named.own.iter().filter(|p| p.first().is_none_or(|m| m == "cli")).collect();
        assert!(wrong.is_empty(), "{} uses {wrong:?}", source.path.display());
        read += source.named.own.len();
    }
    assert!(read > 300, "the check read only {read} uses");
}

#[test]
fn only_the_edges_touch_files_and_clocks() {
    let mut at_edges = 0;
    for source in sources() {
        let touches = |path: &&Vec<String>| {
            EDGES.iter().any(|e| path.len() >= e.len() && path.iter().zip(*e).all(|(p, e)| p == e))
        };
        let found: Vec<_> = source.named.other.iter().filter(touches).collect();
        if matches!(source.top(), "files" | "viewer" | "main") {
            at_edges += found.len();
        } else {
            assert!(found.is_empty(), "{} touches {found:?}", source.path.display());
        }
    }
    assert!(at_edges > 20, "the check finds files and clocks only {at_edges} times at the edges");
}

#[test]
fn exporters_see_drawings_and_nothing_else() {
    let mut seen = 0;
    for source in sources() {
        if !source.module.join("/").starts_with("drawing/export") {
            continue;
        }
        seen += 1;
        for path in &source.named.own {
            let first = path.first().map_or("", String::as_str);
            let fine = matches!(first, "drawing" | "geom");
            assert!(fine, "{} uses {}", source.path.display(), path.join("::"));
        }
        for word in ["hull", "panel", "keel", "chine", "sheer", "station"] {
            let says = source.named.words.iter().any(|w| w == word);
            assert!(!says, "{} says {word}", source.path.display());
        }
    }
    assert!(seen >= 8, "only {seen} exporters were read");
}
