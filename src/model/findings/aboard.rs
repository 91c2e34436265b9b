//! Afloat, what the document puts aboard: loads and foam where they cannot be, items weighed
//! that there are not.

use super::Model;
use super::afloat::persons;
use crate::finding::{AboardFact, Finding, Place, Severity};
use crate::float::mass::ItemId;
use crate::frames::section::whole;
use crate::geom::plane::Plane;
use crate::geom::ring::inside;
use crate::geom::{P2, P3, V3};
use crate::hull::Foam;
use crate::model::afloat::Afloat;
use crate::panel::section;
use crate::part::PartId;

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
fn weighed_oddly(a: &Afloat, out: &mut Vec<Finding>) {
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
        let oddly = AboardFact::WeighedOddly { weighed: i.mass, computed };
        out.push(Finding::new(severity, Place::Weighed(i.name.clone()), oddly).about(about));
    }
}

/// Rows of the loads that look like one pasted twice.
fn twice(model: &Model, out: &mut Vec<Finding>) {
    let loads = &model.hull.afloat.loads;
    for (i, l) in loads.iter().enumerate() {
        if let Some(first) = loads[..i].iter().find(|o| o.name == l.name) {
            let same = first == l;
            let severity = if same { Severity::Watch } else { Severity::Note };
            let place = Place::Load(l.name.clone());
            out.push(Finding::new(severity, place, AboardFact::LoadTwice { same }));
        }
    }
    let foam = &model.hull.afloat.foam;
    for (i, f) in foam.iter().enumerate() {
        if foam[..i].iter().any(|o| o.name == f.name) {
            let found = Finding::note(Place::Foam(f.name.clone()), AboardFact::FoamTwice);
            out.push(found.about(PartId::Foam(i)));
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
            let at = P3::new(l.x, l.y, l.z);
            let outside = AboardFact::OutsideTheBoat(at);
            out.push(Finding::watch(Place::Load(l.name.clone()), outside).at(at));
        }
    }
    if persons(a) <= 0.0 {
        out.push(Finding::note(Place::Loads, AboardFact::Nobody));
    }
}

/// All of it.
pub(super) fn aboard(model: &Model, a: &Afloat, out: &mut Vec<Finding>) {
    loads_outside(model, a, out);
    weighed_oddly(a, out);
    twice(model, out);
    let weighed = &model.hull.afloat.weighed;
    let is_whole = |ids: &[ItemId]| ids == [ItemId::Whole];
    let whole = a.on_scales.iter().any(|ids| is_whole(ids));
    for (w, ids) in weighed.iter().zip(&a.on_scales).filter(|(_, ids)| !is_whole(ids)) {
        let place = Place::Weighed(w.item.clone());
        if whole {
            out.push(Finding::note(place, AboardFact::WholeWeighed));
        } else if ids.is_empty() {
            let names = a.items.iter().map(|i| i.name.clone()).collect();
            out.push(Finding::watch(place, AboardFact::NoSuchItem(names)));
        }
    }
    let blocks = &model.hull.afloat.foam;
    for (i, f) in blocks.iter().enumerate() {
        foam(model, i, f, &blocks[i + 1..], out);
    }
}

/// A block of foam, against those `after` it and against the skin.
fn foam(model: &Model, i: usize, f: &Foam, after: &[Foam], out: &mut Vec<Finding>) {
    for other in after {
        let litres = f.shared(other) * 1e-6;
        if litres > 0.1 {
            let place = Place::Foams(f.name.clone(), other.name.clone());
            let found = Finding::watch(place, AboardFact::FoamShared(litres));
            out.push(found.about(PartId::Foam(i)));
        }
    }
    if let Some(corner) = foam_outside(model, f).map(P3::from) {
        let place = Place::Foam(f.name.clone());
        let found = Finding::watch(place, AboardFact::FoamOutside(corner));
        out.push(found.about(PartId::Foam(i)).at(corner));
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
