//! The register of parts: every piece that there is, made once in a pass from what the stages
//! made, and read by whoever lists pieces: weights, the boat full of water, the build order,
//! drawings, findings, the window.
//!
//! The stages' own results ([`crate::frames::Frame`], …) stay what they are; a part says of a
//! piece what all pieces have in common. Pieces come in the order in which they are listed
//! for people: panels, members, frames, ends, foam, the jig.

mod ends;
mod frames;
mod jig;
mod skin;

use super::ashore::Ashore;
use crate::geom::P3;
use crate::material::Materials;
use crate::part::{Amount, Bulk, Copies, CutFrom, Part, PartId, Shape};

/// Moisture of sawn lumber, percent: air-dried. Common practice, no source.
const SAWN_MOISTURE_PCT: f64 = 12.0;

/// All parts of a boat and of her jig.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Parts {
    all: Vec<Part>,
}

impl Parts {
    /// All parts of a boat of which everything sawn is known, in order.
    pub(super) fn of(boat: Ashore) -> Parts {
        let mut all = Vec::new();
        skin::panels(boat, &mut all);
        skin::members(boat, &mut all);
        frames::frames(boat, &mut all);
        ends::ends(boat, &mut all);
        skin::foam(boat, &mut all);
        jig::jig(boat, &mut all);
        let steps = boat.woodwork.steps(boat);
        for part in &mut all {
            let put_up =
                |ids: &Vec<PartId>| ids.contains(&part.id) || ids.contains(&part.id.assembly());
            part.step = steps.iter().position(put_up);
        }
        Parts { all }
    }

    /// The part of this name, if there is one.
    pub fn get(&self, id: PartId) -> Option<&Part> {
        self.all.iter().find(|p| p.id == id)
    }

    /// All of them, in order.
    pub fn all(&self) -> &[Part] {
        &self.all
    }

    /// Whether all that displaces water full of it is the same and lies at the same places.
    pub fn displace_alike(&self, other: &Parts) -> bool {
        self.displacing().eq(other.displacing())
    }

    fn displacing(&self) -> impl Iterator<Item = (PartId, &[Bulk])> {
        self.all.iter().filter(|p| !p.bulk.is_empty()).map(|p| (p.id, p.bulk.as_slice()))
    }

    /// Those that one is put together from.
    pub fn within(&self, id: PartId) -> impl Iterator<Item = &Part> {
        self.all.iter().filter(move |p| p.within == Some(id))
    }
}

/// A piece as its stage knows it, before it is weighed.
#[derive(Debug)]
struct Cut {
    id: PartId,
    name: String,
    copies: Copies,
    cut_from: CutFrom,
    amount: Amount,
    shape: Shape,
    /// Of the starboard one of a pair.
    centre: P3,
    /// All copies, mm³.
    volume: f64,
    bulk: Vec<Bulk>,
    within: Option<PartId>,
}

impl Cut {
    /// Weighed by the density of what it is cut from.
    fn weighed(self, materials: &Materials) -> Part {
        let (density, source) = materials.density_of(&self.cut_from).unwrap_or((1.0, ""));
        let mass = self.volume * density * 1e-9;
        Part {
            id: self.id,
            name: self.name,
            copies: self.copies,
            cut_from: self.cut_from,
            amount: self.amount,
            shape: self.shape,
            centre: self.centre,
            bulk: self.bulk,
            mass,
            solid: mass / density * 1e9,
            source: source.into(),
            within: self.within,
            step: None,
        }
    }
}

/// Lumber as frames and ends are sawn from, of this section.
fn sawn(boat: Ashore, section: [f64; 2]) -> CutFrom {
    CutFrom::Lumber {
        species: boat.hull.framing.species.clone(),
        moisture_pct: SAWN_MOISTURE_PCT,
        section,
    }
}

/// What is put together from the parts `of`: their mass, what they displace, and the centre
/// of them all.
fn together(id: PartId, name: String, of: &[Part], source: String) -> Part {
    let mass: f64 = of.iter().map(|p| p.mass).sum();
    let solid: f64 = of.iter().map(|p| p.solid).sum();
    let moment = of.iter().fold(crate::geom::V3::zeros(), |m, p| m + p.mass * p.middle().coords);
    Part {
        id,
        name,
        copies: Copies::One,
        cut_from: CutFrom::Pieces,
        amount: Amount::Volume(solid),
        shape: Shape::Solid,
        centre: if mass > 0.0 { P3::from(moment / mass) } else { P3::origin() },
        bulk: Vec::new(),
        mass,
        solid,
        source,
        within: None,
        step: None,
    }
}

#[cfg(test)]
mod tests {
    use crate::float::swamped::bodies;
    use crate::geom::mesh::Mesh;
    use crate::hull::Foam;
    use crate::hull::starters::STARTERS;
    use crate::material::Materials;
    use crate::model::ashore::Ashore;
    use crate::model::derive;
    use crate::part::{Amount, CutFrom, PartId, Shape};
    use std::collections::HashSet;

    /// Every name is one part's, every part has what people and scales ask for, and what is
    /// put together weighs what lies in it.
    #[test]
    fn every_part_is_named_once_and_weighs_what_it_is_made_of() {
        for starter in STARTERS {
            let model = derive(&starter.hull(), &Materials::shipped()).expect("a starter");
            let parts = model.parts.all();
            let ids: HashSet<PartId> = parts.iter().map(|p| p.id).collect();
            assert_eq!(ids.len(), parts.len(), "{}", starter.name);
            for p in parts {
                assert!(!p.name.is_empty() && p.mass > 0.0 && p.solid > 0.0, "{p:?}");
                let inside: f64 = model.parts.within(p.id).map(|q| q.mass).sum();
                if p.cut_from == CutFrom::Pieces {
                    assert!((inside / p.mass - 1.0).abs() < 1e-9, "{}: {inside}", p.name);
                } else {
                    assert_eq!(inside, 0.0, "{}", p.name);
                }
                if let (Shape::Flat(outline), Amount::Area(area)) = (&p.shape, p.amount) {
                    let flat = crate::geom::polyline::area(outline).abs();
                    let all = p.copies.count() as f64 * flat;
                    // A panel's outline has its laps on; everything else is what is cut.
                    let most = if matches!(p.id, PartId::Panel(_)) { 0.15 } else { 1e-9 };
                    assert!((all / area - 1.0).abs() <= most, "{}: {all} of {area}", p.name);
                }
                assert!(p.id.assembly() == p.id || ids.contains(&p.id.assembly()), "{}", p.name);
            }
            // Everything that a step puts up is a part, and nothing but foam has no step.
            for id in model.woodwork.steps(Ashore::of(&model)).into_iter().flatten() {
                assert!(ids.contains(&id), "{id:?}");
            }
            for p in parts.iter().filter(|p| p.step.is_none()) {
                assert!(matches!(p.id, PartId::Foam(_) | PartId::FoamBox(_)), "{}", p.name);
            }
        }
    }

    /// Foam and its box displace what they hold, on both sides, one at the place of the other.
    #[test]
    fn foam_and_its_box_displace_their_volume() {
        let mut hull = STARTERS[0].hull();
        hull.afloat.foam = vec![Foam {
            name: "side".into(),
            from: [900.0, 300.0, 150.0],
            to: [1500.0, 400.0, 300.0],
            both_sides: true,
            density_kg_m3: 32.0,
            box_ply_mm: 6.0,
        }];
        let model = derive(&hull, &Materials::shipped()).expect("a starter with foam");
        let f = &hull.afloat.foam[0];
        for (id, volume) in [(PartId::Foam(0), f.volume()), (PartId::FoamBox(0), f.box_volume())] {
            let mut mesh = Mesh::default();
            bodies(&mut mesh, model.parts.all(), |other| other == id);
            assert!(mesh.closed_faults().is_empty());
            assert!((mesh.volume() / volume - 1.0).abs() < 1e-9, "{id:?}");
            let part = model.parts.get(id).expect("a part");
            assert!((part.solid / volume - 1.0).abs() < 1e-9 && part.middle().y == 0.0);
            assert_eq!((part.centre.x, part.centre.z), (1200.0, 225.0));
        }
    }
}
