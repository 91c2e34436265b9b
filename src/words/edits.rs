//! What a change is called in the list of steps: with its figure, where it changed but one.

use serde::Serialize;
use serde_json::Value;

use crate::hull::check::words_of_field;
use crate::hull::edit::{Edit, Lines};
use crate::hull::{CheckedHull, Hull};
use crate::units::Units;

/// What undo calls a change: "move duck 3 of the sheer".
pub fn name(edit: &Edit, hull: &CheckedHull) -> String {
    let line = |i: &usize| hull.lines.get(*i).map_or("line", |l| l.name.as_str()).to_string();
    let member = |i: &usize| hull.members.get(*i).map_or("member", |m| m.name.as_str()).to_string();
    match edit {
        Edit::MoveDuck { line: l, duck, .. } => {
            format!("move duck {} of the {}", duck + 1, line(l))
        }
        Edit::AddDuck { line: l, .. } => format!("add a duck to the {}", line(l)),
        Edit::RemoveDuck { line: l, duck } => {
            format!("take duck {} off the {}", duck + 1, line(l))
        }
        Edit::SetKnuckle { line: l, duck, knuckle: true } => {
            format!("make duck {} of the {} a knuckle", duck + 1, line(l))
        }
        Edit::SetKnuckle { line: l, duck, .. } => {
            format!("make duck {} of the {} fair", duck + 1, line(l))
        }
        Edit::SetLineEnds { line: l, .. } => format!("ends of the {}", line(l)),
        Edit::SetLines(what) => lines(*what).into(),
        Edit::SetTrimAllowance(mm) => format!("trim allowance {}", hull.units.fine(*mm)),
        Edit::AddMember(m) => format!("add the {}", m.name),
        Edit::RemoveMember(m) => format!("take the {} away", member(m)),
        Edit::SetDimension { dimension, value } if dimension.is_angle() => {
            format!("{} {:.1}°", dimension.name(), value.to_degrees())
        }
        Edit::SetDimension { dimension, value } => {
            format!("{} {}", dimension.name(), hull.units.show(*value))
        }
        Edit::SetSheet { sheet, .. } => format!("plank with {sheet}"),
        Edit::SetPanelSheet { planking: p } => {
            format!("plank the {} with {}", p.panel, p.sheet)
        }
        Edit::SetPatternSurface(s) => format!("patterns of the {} of the sheet", s.word()),
        Edit::SetMember { member: m, .. } => told(edit, hull, |h| h.members.get(*m), &member(m)),
        Edit::SetMemberStock { member: m, .. } => format!("stock of the {}", member(m)),
        Edit::SetStickTest { member: m, .. } => format!("stick test of the {}", member(m)),
        Edit::SetFraming(_, what) => {
            let one = figure_of(edit, hull, |h| Some(&h.framing));
            format!("frames: {}", one.as_deref().unwrap_or(what))
        }
        Edit::SetTransom(_) => told(edit, hull, |h| Some(&h.transom), "transom"),
        Edit::SetStem(_) => told(edit, hull, |h| Some(&h.stem), "stem"),
        Edit::SetMotor(_) => told(edit, hull, |h| Some(&h.motor), "motor"),
        Edit::SetStrongback(_) => told(edit, hull, |h| Some(&h.strongback), "strongback"),
        Edit::SetMeasured(all) if all.is_empty() => "forget what was measured".into(),
        Edit::SetMeasured(_) => "measured on the jig".into(),
        Edit::SetAfloat(_, what) => {
            let one = figure_of(edit, hull, |h| Some(&h.afloat));
            format!("afloat: {}", one.as_deref().unwrap_or(what))
        }
        Edit::SetStock(_, what) => {
            let one = figure_of(edit, hull, |h| Some(&h.stock));
            format!("stock: {}", one.as_deref().unwrap_or(what))
        }
        Edit::OfOtherStock(_) => "of what the yard has".into(),
        Edit::SetLap { line, .. } => format!("lap along the {line}"),
        Edit::Rename(name) => format!("call her {name:?}"),
    }
}

/// What undo and the button call a line more or less.
pub fn lines(what: Lines) -> &'static str {
    match what {
        Lines::AddKeel => "add a keel",
        Lines::TakeKeel => "take the keel away",
        Lines::AddChine => "add a chine",
        Lines::TakeChine => "take the upper chine away",
    }
}

/// `crown 12.0 mm` where the edit changes but one figure of what `of` picks.
fn figure_of<T: Serialize>(
    edit: &Edit,
    hull: &CheckedHull,
    of: impl for<'a> Fn(&'a Hull) -> Option<&'a T>,
) -> Option<String> {
    let next = edit.made(hull).ok()?;
    let before = serde_json::to_value(of(hull.hull())?).ok()?;
    let after = serde_json::to_value(of(&next)?).ok()?;
    let mut changed = Vec::new();
    differing(&before, &after, &mut Vec::new(), &mut changed);
    match &changed[..] {
        // What is built of several figures is not told in one.
        [(path, value)] if !(value.is_object() || value.is_array() || value.is_null()) => {
            Some(said(path, value, hull.units))
        }
        _ => None,
    }
}

/// `transom: crown 12.0 mm`, or `change the transom` where more than one figure changed.
fn told<T: Serialize>(
    edit: &Edit,
    hull: &CheckedHull,
    of: impl for<'a> Fn(&'a Hull) -> Option<&'a T>,
    what: &str,
) -> String {
    match figure_of(edit, hull, of) {
        Some(figure) => format!("{what}: {figure}"),
        None => format!("change the {what}"),
    }
}

/// Leaves that differ, each with the names on the way to it; a list of another length is one.
fn differing(
    before: &Value,
    after: &Value,
    path: &mut Vec<String>,
    out: &mut Vec<(Vec<String>, Value)>,
) {
    match (before, after) {
        (Value::Object(b), Value::Object(a)) if b.len() == a.len() => {
            for (key, value) in a {
                path.push(key.clone());
                differing(b.get(key).unwrap_or(&Value::Null), value, path, out);
                path.pop();
            }
        }
        (Value::Array(b), Value::Array(a)) if b.len() == a.len() => {
            for (b, a) in b.iter().zip(a) {
                let name = a.get("name").and_then(Value::as_str).unwrap_or_default();
                path.push(name.to_string());
                differing(b, a, path, out);
                path.pop();
            }
        }
        _ if before != after => out.push((path.clone(), after.clone())),
        _ => {}
    }
}

/// The names on the way to a figure, and the figure, in the reader's units.
fn said(path: &[String], value: &Value, units: Units) -> String {
    let last = path.last().map_or("", String::as_str);
    // A list says nothing that the name of what stands in it does not.
    let on_the_way = path
        .iter()
        .take(path.len().saturating_sub(1))
        .filter(|p| !p.is_empty() && !LISTS.contains(&p.as_str()));
    let mut words: Vec<String> = on_the_way.map(|p| words_of_field(p)).collect();
    let axes = [("x", "aft"), ("y", "out"), ("z", "up")];
    let axis = axes.iter().find(|(axis, _)| *axis == last);
    words.push(axis.map_or_else(|| words_of_field(last), |(_, word)| (*word).into()));
    // A corner of a block of foam is three lengths without names.
    let corner = last.is_empty() && path.iter().any(|p| p == "from" || p == "to");
    let length = last.ends_with("_mm") || axis.is_some() || corner;
    words.push(match value {
        Value::Number(n) => match n.as_f64().unwrap_or_default() {
            v if length && v.abs() < FINE_BELOW_MM => units.fine(v),
            v if length => units.show(v),
            v if last.ends_with("_kg") => units.mass(v),
            v if last.ends_with("_hp") => format!("{v} hp"),
            v if last.ends_with("_pct") => format!("{v} %"),
            v => v.to_string(),
        },
        Value::Bool(yes) => if *yes { "yes" } else { "no" }.into(),
        // The word of a kind; a name stays as it was given.
        Value::String(text) if last == "kind" => text.to_lowercase(),
        Value::String(text) => text.clone(),
        _ => String::new(),
    });
    words.retain(|w| !w.is_empty());
    words.join(" ")
}

/// Lists of the document.
const LISTS: [&str; 4] = ["loads", "foam", "weighed", "frames"];
/// Lengths (mm) under this are said as finely as a thickness.
const FINE_BELOW_MM: f64 = 25.0;

#[cfg(test)]
mod tests {
    use super::name;
    use crate::hull::edit::Edit;
    use crate::hull::starters;

    #[test]
    fn a_step_is_called_by_the_one_figure_that_it_changes() {
        let hull = starters::STARTERS[0].checked();
        let mut transom = hull.transom.clone();
        transom.crown_mm = 60.0;
        assert_eq!(name(&Edit::SetTransom(transom.clone()), &hull), "transom: crown 60 mm");
        transom.thickness_mm = 21.0;
        assert_eq!(name(&Edit::SetTransom(transom), &hull), "change the transom");
        let mut motor = hull.motor.clone();
        motor.power_hp = 9.8;
        assert_eq!(name(&Edit::SetMotor(motor), &hull), "motor: power 9.8 hp");
        let mut framing = hull.framing.clone();
        framing.limber_mm = 14.0;
        let edit = Edit::SetFraming(Box::new(framing.clone()), "how they are made");
        assert_eq!(name(&edit, &hull), "frames: limber 14.0 mm");
        framing.stations_mm = vec![500.0, 1200.0];
        let edit = Edit::SetFraming(Box::new(framing), "by hand");
        assert_eq!(name(&edit, &hull), "frames: by hand");
        let mut plan = hull.afloat.clone();
        plan.foam[0].from[0] += 100.0;
        let said = name(&Edit::SetAfloat(Box::new(plan), "foam"), &hull);
        let [to, _, _] = hull.afloat.foam[0].from;
        assert_eq!(said, format!("afloat: {} from {:.0} mm", hull.afloat.foam[0].name, to + 100.0));
    }
}
