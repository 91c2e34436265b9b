//! Whole lines added to a hull and taken away: a keel under a flat bottom, one chine more in
//! the side. What names a line or its panels elsewhere in the document follows.

use super::check::Place;
use super::checked::CheckedHull;
use super::document::{Duck, Hull, Line};
use super::edit_error::EditError;
use super::lines::HullLines;
use crate::part::LineId;

/// Slope of the bottom under a keel that is added, from the chine: 6 degrees, a shallow V. Our
/// choice, to be pulled deeper.
const KEEL_SLOPE: f64 = 0.105;
/// How far a chine that is added stands out from half way between its neighbours, as a share
/// of their distance: so much that sheets meet there at an angle. Our choice.
const CHINE_OUT: f64 = 0.05;

/// The same hull with a keel under its flat bottom.
///
/// # Errors
/// She has one, or no batten passes through her lines.
pub fn with_keel(hull: &Hull) -> Result<Hull, EditError> {
    if hull.line_of(LineId::Keel).is_some() {
        return Err(EditError::refused(Place::Line(0), "she has a keel"));
    }
    let mut next = hull.clone();
    next.framing.drain_wedge = None;
    next.framing.drain_slope = KEEL_SLOPE;
    let lines = HullLines::of(&next).map_err(|e| EditError::no_batten(&next, e))?;
    next.framing.drain_slope = 0.0;
    let no_chine = || EditError::refused(Place::Document, "a flat bottom has a chine");
    let under = lines.line(LineId::Keel).ok_or_else(no_chine)?;
    let ducks = hull.lines.first().map_or(2, |l| l.ducks.len()).max(2);
    let at = |k: usize| {
        let p = under.spline.at(under.spline.end() * k as f64 / (ducks - 1) as f64);
        Duck::at((10.0 * p.x).round() / 10.0, 0.0, (10.0 * p.z).round() / 10.0)
    };
    let first = hull.lines.first().map(|l| (l.bow, l.stern)).unwrap_or_default();
    next.lines.insert(
        0,
        Line {
            name: LineId::Keel.to_string(),
            ducks: (0..ducks).map(at).collect(),
            bow: first.0,
            stern: first.1,
        },
    );
    Ok(next)
}

/// The same hull with a flat bottom on her lowest chine.
///
/// # Errors
/// She has no keel of her own.
pub fn without_keel(hull: &Hull) -> Result<Hull, EditError> {
    let mut next = hull.clone();
    next.lines.retain(|l| !l.is(LineId::Keel));
    if next.lines.len() == hull.lines.len() {
        return Err(EditError::refused(Place::Document, "her bottom is flat already"));
    }
    Ok(next)
}

/// Her chines, from the keel up.
fn chines(hull: &Hull) -> Vec<LineId> {
    let all = hull.lines.iter().filter_map(|l| LineId::of(&l.name));
    all.filter(|id| id.is_chine()).collect()
}

/// Names of the panels between chines and sheer where there are `count` chines.
fn side_panels(count: usize) -> Vec<String> {
    if count < 2 {
        vec!["side".into()]
    } else {
        (1..=count).map(|k| format!("strake-{k}")).collect()
    }
}

/// The same hull with a chine more, half way between her uppermost and the sheer, standing a
/// little out.
///
/// # Errors
/// She has no chine.
pub fn with_chine(hull: &CheckedHull) -> Result<Hull, EditError> {
    let lines = hull.lines();
    let no_chine = || EditError::refused(Place::Document, "she has no chine");
    let chines = chines(hull);
    let (top, sheer) = chines
        .last()
        .and_then(|top| Some((lines.line(*top)?, lines.line(LineId::Sheer)?)))
        .ok_or_else(no_chine)?;
    let place = hull.lines.iter().position(|l| l.is(top.id)).ok_or_else(no_chine)?;
    let below = &hull.lines[place];
    let n = below.ducks.len();
    let ducks = (0..n)
        .map(|k| {
            let share = k as f64 / (n - 1) as f64;
            let at = |l: &super::lines::HullLine| l.spline.at(l.spline.end() * share);
            let (p, q) = (at(top), at(sheer));
            let middle = p + 0.5 * (q - p);
            let out = CHINE_OUT * (q - p).norm() * (std::f64::consts::PI * share).sin();
            let whole = |v: f64| (10.0 * v).round() / 10.0;
            Duck::at(whole(middle.x), whole(middle.y + out), whole(middle.z))
        })
        .collect();
    let mut next = hull.hull().clone();
    let line = Line {
        name: LineId::NthChine(chines.len() + 1).to_string(),
        ducks,
        bow: below.bow,
        stern: below.stern,
    };
    next.lines.insert(place + 1, line);
    if chines.len() == 1 {
        rename_line(&mut next, LineId::Chine, LineId::NthChine(1));
    }
    let (old, new) = (side_panels(chines.len()), side_panels(chines.len() + 1));
    // The panel that is divided hands what was said of it to both.
    if let (Some(was), [.., lower, upper]) = (old.last(), &new[..]) {
        divide(&mut next, was, lower, upper);
    }
    Ok(next)
}

/// The same hull without her uppermost chine.
///
/// # Errors
/// It is her only one, or a member lies on it.
pub fn without_chine(hull: &Hull) -> Result<Hull, EditError> {
    let chines = chines(hull);
    let [.., _, top] = chines[..] else {
        return Err(EditError::refused(Place::Document, "she keeps one chine"));
    };
    if let Some(k) = hull.members.iter().position(|m| m.follows(top)) {
        let why = format!("the {} lies on the {top}: take it away first", hull.members[k].name);
        return Err(EditError::refused(Place::Member(k), why));
    }
    let mut next = hull.clone();
    next.lines.retain(|l| !l.is(top));
    next.planking.laps.retain(|l| !top.is(&l.line));
    next.as_built.retain(|m| !top.is(&m.line));
    let (old, new) = (side_panels(chines.len()), side_panels(chines.len() - 1));
    if let ([.., lower, upper], Some(now)) = (&old[..], new.last()) {
        join(&mut next, lower, upper, now);
    }
    if chines.len() == 2 {
        rename_line(&mut next, LineId::NthChine(1), LineId::Chine);
    }
    Ok(next)
}

/// A line of another name, and all that names it.
fn rename_line(hull: &mut Hull, from: LineId, to: LineId) {
    let names = (hull.lines.iter_mut().map(|l| &mut l.name))
        .chain(hull.members.iter_mut().map(|m| &mut m.line))
        .chain(hull.planking.laps.iter_mut().map(|l| &mut l.line))
        .chain(hull.as_built.iter_mut().map(|m| &mut m.line));
    names.filter(|n| from.is(n)).for_each(|n| *n = to.to_string());
}

/// The lists of panels whose edges are left straight.
fn straight(hull: &mut Hull) -> impl Iterator<Item = &mut Vec<String>> {
    let framing = &mut hull.framing;
    std::iter::once(&mut framing.straight).chain(framing.frames.iter_mut().map(|f| &mut f.straight))
}

/// What is said of panel `was` is said of `lower` and `upper`.
fn divide(hull: &mut Hull, was: &str, lower: &str, upper: &str) {
    let rows = &mut hull.planking.panels;
    if let Some(i) = rows.iter().position(|p| p.panel == was) {
        let mut second = rows[i].clone();
        (rows[i].panel, second.panel) = (lower.into(), upper.into());
        rows.insert(i + 1, second);
    }
    for list in straight(hull) {
        if let Some(i) = list.iter().position(|p| p == was) {
            list[i] = lower.into();
            list.insert(i + 1, upper.into());
        }
    }
}

/// What is said of `lower` is said of `now`, and nothing of `upper`.
fn join(hull: &mut Hull, lower: &str, upper: &str, now: &str) {
    let rows = &mut hull.planking.panels;
    rows.retain(|p| p.panel != upper);
    rows.iter_mut().filter(|p| p.panel == lower).for_each(|p| p.panel = now.into());
    for list in straight(hull) {
        list.retain(|p| p != upper);
        list.iter_mut().filter(|p| *p == lower).for_each(|p| *p = now.into());
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::hull::check::faults;
    use crate::hull::starters::STARTERS;
    use crate::material::Materials;
    use crate::model::derive;

    /// Every starter, with a side of its own and an edge left straight.
    fn hulls() -> Vec<CheckedHull> {
        STARTERS.iter().map(|s| s.checked()).collect()
    }

    #[test]
    fn a_chine_added_and_taken_away_gives_the_hull_back() {
        for hull in hulls() {
            let more = with_chine(&hull).expect("a chine more");
            assert!(faults(&more).is_empty(), "{}: {:?}", hull.name, faults(&more));
            assert_eq!(chines(&more).len(), chines(&hull).len() + 1);
            let model = derive(&more, &Materials::shipped()).expect("she is computed");
            assert_eq!(model.panels.len(), chines(&more).len() + 1, "{}", hull.name);
            assert_eq!(without_chine(&more).expect("one less"), *hull.hull(), "{}", hull.name);
        }
    }

    #[test]
    fn a_keel_under_a_flat_bottom_makes_a_v_that_is_computed() {
        for hull in hulls() {
            if hull.line_of(LineId::Keel).is_some() {
                assert!(with_keel(&hull).is_err());
                let flat = without_keel(&hull).expect("a flat bottom");
                assert!(faults(&flat).is_empty(), "{}: {:?}", hull.name, faults(&flat));
                continue;
            }
            let v = with_keel(&hull).expect("a keel");
            assert!(faults(&v).is_empty(), "{}: {:?}", hull.name, faults(&v));
            let model = derive(&v, &Materials::shipped()).expect("she is computed");
            let chine = &model.lines.lines[1].spline;
            let keel = &model.lines.lines[0].spline;
            let (p, q) = (chine.at(0.5 * chine.end()), keel.at(0.5 * keel.end()));
            let slope = ((p.z - q.z) / p.y).atan().to_degrees();
            assert!((slope - 6.0).abs() < 0.7, "{}: {slope}", hull.name);
            let back = without_keel(&v).expect("flat again");
            assert_eq!(back.lines, hull.lines);
        }
    }

    #[test]
    fn a_chine_that_carries_a_member_stays() {
        let dory = STARTERS.iter().map(|s| s.hull()).find(|h| chines(h).len() > 1);
        let mut dory = dory.expect("a hull of several chines");
        let top = chines(&dory).last().cloned().expect("a chine");
        dory.members[0].line = top.to_string();
        let why = without_chine(&dory).expect_err("it is in use");
        assert_eq!(why.place(), Place::Member(0));
        assert!(why.plain(dory.units).contains(&dory.members[0].name), "{why:?}");
        let one = STARTERS[0].hull();
        assert!(without_chine(&one).is_err(), "the last one stays");
    }
}
