//! The window's own direction: inside `viewer`, and inside its panels, a module may use those
//! below it and none above, and no files name one another in a ring.

use std::collections::BTreeMap;

use crate::layers::{Source, sources};

/// The window, from the ground up.
const VIEWER: [&str; 26] = [
    "frame_order",
    "probe",
    "clock",
    "late_frames",
    "textures",
    "first_size",
    "paint2d",
    "theme",
    "session",
    "prefs",
    "state",
    "derive",
    "search",
    "stocktaking",
    "yard",
    "core",
    "camera",
    "pick",
    "drawings_on_show",
    "scene",
    "shot",
    "system",
    "ui",
    "screen",
    "frame_times",
    "frame_parts",
];

/// Its panels, from the ground up.
const PANELS: [&str; 14] = [
    "context",
    "widgets",
    "load_plan",
    "ducks",
    "sheet_hand",
    "dialogs",
    "strips",
    "cards",
    "table",
    "stage",
    "rail",
    "top",
    "panels",
    "run",
];

/// What a file in the module `under` names in it above its own place, in this order.
fn upward(source: &Source, under: &[&str], order: &[&str]) -> Vec<String> {
    let within = |path: &[String]| -> Option<String> {
        let below = path.len() > under.len() && path.iter().zip(under).all(|(a, b)| a == b);
        below.then(|| path[under.len()].clone())
    };
    let rank = |name: &str| order.iter().position(|o| *o == name);
    let Some(own) = within(&source.module) else {
        return Vec::new();
    };
    let Some(own) = rank(&own) else {
        return vec![format!("{own} itself, which has no place")];
    };
    let wrong = |path: &&Vec<String>| {
        within(path).is_some_and(|name| rank(&name).is_none_or(|theirs| theirs > own))
    };
    source.named.own.iter().filter(wrong).map(|path| path.join("::")).collect()
}

#[test]
fn the_window_is_built_from_the_ground_up() {
    let (mut read, mut wrong) = (0, Vec::new());
    for source in sources() {
        read += source.named.own.iter().filter(|p| p[0] == "viewer").count();
        for (under, order) in [(&["viewer"][..], &VIEWER[..]), (&["viewer", "ui"], &PANELS)] {
            let found = upward(&source, under, order);
            wrong.extend(found.iter().map(|f| format!("{} uses {f}", source.path.display())));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    assert!(read > 300, "the check read only {read} uses");
}

/// The file that a path leads into: the longest that it begins with.
fn file_of(path: &[String], files: &BTreeMap<Vec<String>, usize>) -> Option<usize> {
    (1..=path.len()).rev().find_map(|n| files.get(&path[..n]).copied())
}

/// A ring of files that name one another, if there is one, as indices.
fn ring(uses: &[Vec<usize>]) -> Option<Vec<usize>> {
    // What uses nothing that is left cannot be in a ring.
    let mut left: Vec<usize> = (0..uses.len()).collect();
    loop {
        let before = left.len();
        let kept = left.clone();
        left.retain(|i| uses[*i].iter().any(|j| kept.contains(j)));
        if left.len() == before {
            break;
        }
    }
    let mut at = *left.first()?;
    let mut way = Vec::new();
    while !way.contains(&at) {
        way.push(at);
        at = *uses[at].iter().find(|j| left.contains(j))?;
    }
    let from = way.iter().position(|i| *i == at)?;
    Some(way.split_off(from))
}

#[test]
fn no_files_of_the_window_name_one_another_in_a_ring() {
    let all: Vec<Source> = sources().into_iter().filter(|s| s.top() == "viewer").collect();
    let files: BTreeMap<Vec<String>, usize> =
        all.iter().enumerate().map(|(i, s)| (s.module.clone(), i)).collect();
    // A module and the files within it belong together.
    let kin = |a: &[String], b: &[String]| a.starts_with(b) || b.starts_with(a);
    let uses: Vec<Vec<usize>> = all
        .iter()
        .map(|s| {
            let to = s.named.own.iter().filter_map(|path| file_of(path, &files));
            to.filter(|j| !kin(&s.module, &all[*j].module)).collect()
        })
        .collect();
    let count: usize = uses.iter().map(Vec::len).sum();
    assert!(count > 250, "the check read only {count} uses between files");
    let found = ring(&uses)
        .map(|way| way.iter().map(|i| all[*i].module.join("::")).collect::<Vec<_>>().join(" → "));
    assert_eq!(found, None);
}

#[test]
fn rings_and_steps_upward_are_found() {
    assert_eq!(ring(&[vec![1], vec![2], vec![]]), None);
    assert_eq!(ring(&[vec![1], vec![2], vec![1]]), Some(vec![1, 2]));
    let source = |text: &str, module: &[&str]| {
        let module: Vec<String> = module.iter().map(ToString::to_string).collect();
        Source { path: "x.rs".into(), named: crate::paths::named(text, &module), module }
    };
    let card = ["viewer", "ui", "cards", "skin"];
    let up = source("use crate::viewer::ui::{stage::overlay, widgets};", &card);
    assert_eq!(upward(&up, &["viewer", "ui"], &PANELS), ["viewer::ui::stage::overlay"]);
    assert!(upward(&up, &["viewer"], &VIEWER).is_empty());
    let up = source("fn f() { super::super::super::screen::render(); }", &card);
    assert_eq!(upward(&up, &["viewer"], &VIEWER), ["viewer::screen::render"]);
    let lost = source("", &["viewer", "attic"]);
    assert_eq!(upward(&lost, &["viewer"], &VIEWER).len(), 1);
}
