//! Afloat, what the document puts aboard: loads and foam where they cannot be, items weighed
//! that there are not.

use super::Model;
use super::afloat::persons;
use crate::finding::{Finding, Severity};
use crate::float::mass::ItemId;
use crate::frames::section::whole;
use crate::geom::plane::Plane;
use crate::geom::ring::inside;
use crate::geom::{P2, P3, V3};
use crate::hull::Foam;
use crate::model::afloat::Afloat;
use crate::panel::section;
use crate::part::{PartId, Question};

/// A motor's centre may hang this far (mm) aft of her, and a load be this far above the sheer.
/// Our judgement; no source.
const ABAFT_MM: f64 = 600.0;
const ABOVE_MM: f64 = 1500.0;

/// Weighed at less or more than these shares of what was computed something is odd, beyond the
/// second pair it cannot be: then stability, draft and speed are of another boat. A pound taken
/// for a kilogram is 2.2 times. Our judgement; no source.
const ODD: [f64; 2] = [0.6, 1.6];
const WRONG: [f64; 2] = [1.0 / 3.0, 3.0];

/// What was weighed beside what was computed.
fn weighed_oddly(model: &Model, a: &Afloat, out: &mut Vec<Finding>) {
    let units = model.hull.units;
    for (i, computed) in a.items.iter().filter_map(|i| Some((i, i.computed?))) {
        let share = i.mass / computed.max(1e-9);
        if (ODD[0]..=ODD[1]).contains(&share) {
            continue;
        }
        let wrong = !(WRONG[0]..=WRONG[1]).contains(&share);
        // One small part hardly floats her otherwise.
        let severity =
            if wrong && i.id == ItemId::Whole { Severity::Stop } else { Severity::Watch };
        let about = match i.id {
            ItemId::Part(part) => Some(part),
            _ => None,
        };
        out.push(Finding::new(
            severity,
            Question::Afloat,
            format!("weighed {:?}", i.name),
            format!("it weighs {} on the scales; {} were computed", units.mass(i.mass), units.mass(computed)),
            "look at the unit and at what hung on the scales: trim, stability and speed are worked with it",
        )
        .about(about));
    }
}

/// Rows of the loads that look like one pasted twice.
fn twice(model: &Model, out: &mut Vec<Finding>) {
    let loads = &model.hull.afloat.loads;
    for (i, l) in loads.iter().enumerate() {
        if let Some(first) = loads[..i].iter().find(|o| o.name == l.name) {
            let same = first == l;
            out.push(Finding::new(
                if same { Severity::Watch } else { Severity::Note },
                Question::Afloat,
                format!("load {}", l.name),
                if same {
                    "two loads have this name, weight and place: one is counted twice"
                } else {
                    "two loads have this name"
                },
                if same { "take one of the two out" } else { "give each a name of its own" },
            ));
        }
    }
    let foam = &model.hull.afloat.foam;
    for (i, f) in foam.iter().enumerate() {
        if foam[..i].iter().any(|o| o.name == f.name) {
            out.push(
                Finding::note(
                    Question::Afloat,
                    format!("foam {}", f.name),
                    "two blocks have this name: a weight for one on the scales is taken for both",
                    "give each a name of its own",
                )
                .about(PartId::Foam(i)),
            );
        }
    }
}

/// A load lies nowhere near the hull: further out than her beam, under her, ahead of her, more
/// than a motor's reach astern or a standing person's height above the sheer.
fn loads_outside(model: &Model, a: &Afloat, out: &mut Vec<Finding>) {
    let (fore, aft) = model.lines.extent(|p| p.x);
    let (low, high) = model.lines.extent(|p| p.z);
    let half = 0.5 * model.lines.beam_overall();
    for l in &a.loads {
        let inside = (fore..=aft + ABAFT_MM).contains(&l.x)
            && l.y.abs() <= half
            && (low..=high + ABOVE_MM).contains(&l.z);
        if !inside {
            let u = model.hull.units;
            out.push(
                Finding::watch(
                    Question::Afloat,
                    format!("load {}", l.name),
                    format!(
                        "at {} aft, {} out, {} up it lies outside the boat",
                        u.show(l.x),
                        u.show(l.y),
                        u.show(l.z)
                    ),
                    "look at its place: her trim, list and stability are figured with it there",
                )
                .at(P3::new(l.x, l.y, l.z)),
            );
        }
    }
    if persons(a) <= 0.0 {
        out.push(Finding::note(
            Question::Afloat,
            "loads",
            "nobody is among them: `builder alone` and `full crew` are the boat with what is carried",
            "add a load of kind `Person`",
        ));
    }
}

/// All of it.
pub(super) fn aboard(model: &Model, a: &Afloat, out: &mut Vec<Finding>) {
    loads_outside(model, a, out);
    weighed_oddly(model, a, out);
    twice(model, out);
    let weighed = &model.hull.afloat.weighed;
    let is_whole = |ids: &[ItemId]| ids == [ItemId::Whole];
    let whole = a.on_scales.iter().any(|ids| is_whole(ids));
    for (w, ids) in weighed.iter().zip(&a.on_scales).filter(|(_, ids)| !is_whole(ids)) {
        if whole {
            out.push(Finding::note(
                Question::Afloat,
                format!("weighed {:?}", w.item),
                "the whole hull was weighed, so it changes nothing",
                "take one of the two out",
            ));
        } else if ids.is_empty() {
            let names: Vec<&str> = a.items.iter().map(|i| i.name.as_str()).collect();
            out.push(Finding::watch(
                Question::Afloat,
                format!("weighed {:?}", w.item),
                "the hull has no item of that name, so it changes nothing",
                format!("`hull` for all of it, or one of {}", names.join(", ")),
            ));
        }
    }
    let foam = &model.hull.afloat.foam;
    for (i, f) in foam.iter().enumerate() {
        for other in &foam[i + 1..] {
            let litres = f.shared(other) * 1e-6;
            if litres > 0.1 {
                out.push(
                    Finding::watch(
                        Question::Afloat,
                        format!("foam {} and {}", f.name, other.name),
                        format!("they lie in one place: {litres:.0} litres are counted twice"),
                        "move one of them, or take it out",
                    )
                    .about(PartId::Foam(i)),
                );
            }
        }
        if let Some(corner) = foam_outside(model, f) {
            out.push(
                Finding::watch(
                    Question::Afloat,
                    format!("foam {}", f.name),
                    format!(
                        "a corner of it, {} aft, {} out, {} up, lies outside the skin",
                        model.hull.units.show(corner[0]),
                        model.hull.units.show(corner[1]),
                        model.hull.units.show(corner[2])
                    ),
                    "make the block smaller or move it in; only what is inside lifts her",
                )
                .about(PartId::Foam(i))
                .at(P3::from(corner)),
            );
        }
    }
}

/// A corner of a block that lies outside the moulded skin or above the sheer.
fn foam_outside(model: &Model, f: &Foam) -> Option<[f64; 3]> {
    for x in [f.from[0], f.to[0]] {
        let plane = Plane::through(P3::new(x, 0.0, 0.0), V3::x())?;
        let half: Vec<P2> = model
            .panels
            .iter()
            .flat_map(|p| section(&p.surface, plane, 0.0))
            .map(|p| P2::new(p.y, p.z))
            .collect();
        let ring = whole(&half);
        for y in [f.from[1], f.to[1]] {
            for z in [f.from[2], f.to[2]] {
                if half.len() < 2 || !inside(&ring, P2::new(y, z)) {
                    return Some([x, y, z]);
                }
            }
        }
    }
    None
}
