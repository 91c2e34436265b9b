//! The house's direction: a module may use those below it and none above.

use std::path::{Path, PathBuf};

/// From the ground up. A file may `use crate::` only modules at or before its own place.
const ORDER: [&str; 16] = [
    "units", "tol", "finding", "geom", "curve", "material", "hull", "panel", "flat", "bend",
    "frames", "setup", "float", "model", "drawing", "cli",
];

fn sources() -> Vec<(PathBuf, String)> {
    fn walk(folder: &Path, out: &mut Vec<(PathBuf, String)>) {
        let mut entries: Vec<_> =
            std::fs::read_dir(folder).expect("src").flatten().map(|e| e.path()).collect();
        entries.sort();
        for path in entries {
            if path.is_dir() {
                walk(&path, out);
            } else if path.extension().is_some_and(|e| e == "rs") {
                let text = std::fs::read_to_string(&path).expect("a source file");
                out.push((path, text));
            }
        }
    }
    let mut out = Vec::new();
    walk(&Path::new(env!("CARGO_MANIFEST_DIR")).join("src"), &mut out);
    out
}

/// The module that a file belongs to: the first part of its path under `src`.
fn module_of(path: &Path) -> String {
    let under =
        path.strip_prefix(Path::new(env!("CARGO_MANIFEST_DIR")).join("src")).expect("under src");
    let first = under.components().next().expect("a name").as_os_str().to_string_lossy();
    first.trim_end_matches(".rs").to_string()
}

/// Code without comments, and without what stands in the test module at a file's end.
fn code(text: &str) -> String {
    let shipped = text.split("#[cfg(test)]").next().unwrap_or_default();
    shipped.lines().filter(|l| !l.trim_start().starts_with("//")).collect::<Vec<_>>().join("\n")
}

fn named_modules(text: &str) -> Vec<String> {
    let code = code(text);
    let mut out = Vec::new();
    for (at, _) in code.match_indices("crate::") {
        let rest = &code[at + "crate::".len()..];
        let word: String = rest.chars().take_while(|c| c.is_alphanumeric() || *c == '_').collect();
        if !word.is_empty() {
            out.push(word);
        }
        if let Some(group) = rest.strip_prefix('{') {
            let inside = group.split('}').next().unwrap_or_default();
            out.extend(
                inside
                    .split(',')
                    .map(|w| w.trim().split(':').next().unwrap_or_default().to_string()),
            );
        }
    }
    out
}

#[test]
fn no_module_uses_one_above_it() {
    let rank = |m: &str| ORDER.iter().position(|o| *o == m);
    let mut seen = 0;
    for (path, text) in sources() {
        let Some(own) = rank(&module_of(&path)) else {
            continue; // lib, main and viewer may use everything
        };
        for used in named_modules(&text) {
            if used == "viewer" {
                panic!("{} uses the viewer", path.display());
            }
            if let Some(theirs) = rank(&used) {
                seen += 1;
                assert!(theirs <= own, "{} uses {used}, which lies above it", path.display());
            }
        }
    }
    assert!(seen > 60, "the check read only {seen} uses: has the style of `use` changed?");
}

#[test]
fn only_the_viewer_knows_the_engine() {
    for (path, text) in sources() {
        if module_of(&path) == "viewer" {
            continue;
        }
        for engine in ["bevy", "egui", "lyon", "wgpu", "rfd"] {
            let found = code(&text).contains(&format!("{engine}::"));
            assert!(!found, "{} names {engine}", path.display());
        }
    }
}

#[test]
fn only_the_edges_touch_files_and_clocks() {
    for (path, text) in sources() {
        if matches!(module_of(&path).as_str(), "cli" | "viewer" | "main") {
            continue;
        }
        for edge in ["std::fs", "std::time", "std::env::", "std::process", "SystemTime", "rand::"] {
            assert!(!code(&text).contains(edge), "{} touches {edge}", path.display());
        }
    }
}

#[test]
fn exporters_see_drawings_and_nothing_else() {
    for (path, text) in sources() {
        if !path.to_string_lossy().contains("drawing/export") {
            continue;
        }
        for used in named_modules(&text) {
            assert!(matches!(used.as_str(), "drawing" | "geom"), "{} uses {used}", path.display());
        }
        for word in ["hull", "panel", "keel", "chine", "sheer", "station"] {
            let lower = code(&text).to_lowercase();
            let says = lower.split(|c: char| !c.is_alphanumeric()).any(|w| w == word);
            assert!(!says, "{} says {word}", path.display());
        }
    }
}
