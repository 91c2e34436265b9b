//! The sticks of the jig, as parts.

use super::{Cut, Part, together};
use crate::geom::P3;
use crate::model::ashore::Ashore;
use crate::part::{Amount, Copies, CutFrom, PartId, Shape, Use};
use crate::setup::{Stick, Strongback};

/// Moisture of what lies about in a shop, percent. Common practice, no source.
const SHOP_MOISTURE_PCT: f64 = 12.0;

/// Rails with rungs and posts, legs with braces and what holds the ends, spalls.
pub(super) fn jig(boat: Ashore, out: &mut Vec<Part>) {
    let Some(jig) = &boat.woodwork.strongback else {
        return;
    };
    let sticks = jig.sticks.iter().enumerate();
    let all: Vec<Part> = sticks.map(|(i, s)| stick(boat, jig, i, s)).collect();
    for (id, name) in
        [(PartId::Ladder, "rails, rungs and posts"), (PartId::Legs, "legs and braces")]
    {
        let of: Vec<Part> = all.iter().filter(|p| p.within == Some(id)).cloned().collect();
        let source = of.first().map_or(String::new(), |p| p.source.clone());
        out.push(together(id, name.into(), &of, source));
    }
    out.extend(all);
}

fn stick(boat: Ashore, jig: &Strongback, i: usize, s: &Stick) -> Part {
    let frame = |station: usize| match boat.woodwork.frame_id(station) {
        Some(PartId::Frame(f)) => Some(PartId::Spall(f)),
        _ => None,
    };
    let spall = if let Use::Spall(station) = s.purpose { frame(station) } else { None };
    let id = spall.unwrap_or(PartId::Stick(s.purpose, i));
    let [x, y, z] = s.extent().map(|[low, high]| 0.5 * (low + high));
    let cut = Cut {
        id,
        name: s.name.clone(),
        copies: Copies::One,
        cut_from: CutFrom::Lumber {
            species: String::new(),
            moisture_pct: SHOP_MOISTURE_PCT,
            section: s.section,
        },
        amount: Amount::Length(s.length),
        shape: Shape::Flat(s.ring.clone()),
        // A spall is turned over with the hull.
        centre: P3::new(x, y, if id.stands_on_floor() { z } else { jig.datum - z }),
        volume: s.length * s.section[0] * s.section[1],
        bulk: Vec::new(),
        within: id.stands_on_floor().then(|| id.assembly()),
    };
    cut.weighed(boat.materials)
}
