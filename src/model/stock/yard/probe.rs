//! Every choice by itself, the rest of the boat as she is: what rules it out whatever else is
//! chosen, and which of her warnings some choice takes away.

use super::Stopped;
use super::choices::{Choices, Sheet};
use super::verdict::{Family, Suffered, Why, is_grave, of_sheet, of_stick};
use crate::finding::Finding;
use crate::hull::{CheckedHull, Hull};
use crate::material::Materials;
use crate::model::{Model, derive_after};

/// What was found out.
#[derive(Debug)]
pub(super) struct Probed {
    /// The choices that are left, each list in its order.
    pub(super) left: Choices,
    /// What was ruled out, and why.
    pub(super) out: Vec<(Family, Why)>,
    /// Warnings that she has as she is and that no choice takes away.
    pub(super) suffered: Suffered,
    /// What stops her as she is, whatever is chosen.
    pub(super) stop: Option<Finding>,
}

/// A choice, the grave findings of the boat with it alone, and those of them that are its own.
struct Alone {
    family: Family,
    grave: Vec<Finding>,
    own: Vec<Finding>,
}

/// Tries each choice; `tell` is asked before each whether to go on.
///
/// # Errors
/// That it was stopped.
pub(super) fn probe(
    (base, hull): (&Model, &CheckedHull),
    materials: &Materials,
    choices: &Choices,
    tell: &mut dyn FnMut() -> bool,
) -> Result<Probed, Stopped> {
    let mut alone: Vec<Alone> = Vec::new();
    let mut of = |next: Option<Hull>| {
        if !tell() {
            return Err(Stopped);
        }
        let with = next.map(|next| findings_of(base, hull, materials, next));
        Ok(grave(&with.unwrap_or_else(|| base.findings.clone())))
    };
    for (p, choice) in choices.panels.iter().enumerate() {
        for (i, sheet) in choice.of.iter().enumerate() {
            let next = (*sheet != choice.now).then(|| choices.with_sheet(hull, p, i));
            let grave = of(next)?;
            let own = owned(&grave, |f| of_sheet(f, &choice.panel));
            let family = Family::Sheet { panel: choice.panel.clone(), sheet: sheet.clone() };
            alone.push(Alone { family, grave, own });
        }
    }
    for (m, choice) in choices.members.iter().enumerate() {
        for (i, species) in choice.of.iter().enumerate() {
            let next = (*species != choice.now).then(|| choices.with_species(hull, m, i));
            let grave = of(next)?;
            let own = owned(&grave, |f| of_stick(f, &choice.name));
            let family = Family::Species { member: choice.name.clone(), species: species.clone() };
            alone.push(Alone { family, grave, own });
        }
    }
    Ok(judged(&grave(&base.findings), alone, choices))
}

fn findings_of(
    base: &Model,
    hull: &CheckedHull,
    materials: &Materials,
    next: Hull,
) -> Vec<Finding> {
    match hull.changed(next) {
        Ok(next) => derive_after(Some(base), &next, materials).0.findings,
        Err(faults) => faults.into_iter().map(super::refused).collect(),
    }
}

fn grave(findings: &[Finding]) -> Vec<Finding> {
    findings.iter().filter(|f| is_grave(f)).cloned().collect()
}

fn owned(grave: &[Finding], own: impl Fn(&Finding) -> bool) -> Vec<Finding> {
    grave.iter().filter(|f| own(f)).cloned().collect()
}

fn judged(base: &[Finding], alone: Vec<Alone>, choices: &Choices) -> Probed {
    let has = |all: &[Finding], f: &Finding| all.iter().any(|g| g.alike(f));
    // A choice that brings trouble of its own mends nothing.
    let sound = |a: &&Alone| a.grave.iter().all(|f| has(base, f));
    let mended = |f: &Finding| alone.iter().filter(sound).any(|a| !has(&a.grave, f));
    let stays: Vec<Finding> = base.iter().filter(|f| !mended(f)).cloned().collect();
    let (stops, watches): (Vec<Finding>, Vec<Finding>) =
        stays.into_iter().partition(|f| f.severity == crate::finding::Severity::Stop);
    let suffered = Suffered(watches);
    let mut left = choices.clone();
    let mut out = Vec::new();
    for a in alone {
        let Some(why) = suffered.not_borne(&a.own) else {
            continue;
        };
        strike(&mut left, &a.family);
        out.push((a.family, Why::finding(why)));
    }
    // What stops her may be of a panel or a stick, of which every other choice is ruled out too:
    // that is told choice by choice.
    let own = |f: &Finding| {
        choices.panels.iter().any(|p| of_sheet(f, &p.panel))
            || choices.members.iter().any(|m| of_stick(f, &m.name))
    };
    let stop = stops.into_iter().find(|f| !own(f));
    Probed { left, out, suffered, stop }
}

fn strike(left: &mut Choices, family: &Family) {
    match family {
        Family::Sheet { panel, sheet } => {
            for p in left.panels.iter_mut().filter(|p| p.panel == *panel) {
                p.of.retain(|s: &Sheet| s != sheet);
            }
        }
        Family::Species { member, species } => {
            for m in left.members.iter_mut().filter(|m| m.name == *member) {
                m.of.retain(|s| s != species);
            }
        }
        Family::Boats => {}
    }
}
