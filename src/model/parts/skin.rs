//! Panels, what is bent along the lines, and foam, as parts.

use super::{Cut, Part};
use crate::bend::{Along, BentMember};
use crate::geom::{P2, P3, V3};
use crate::hull::{Foam, Member};
use crate::model::PanelModel;
use crate::model::ashore::Ashore;
use crate::part::{Amount, Bulk, Copies, CutFrom, PartId, Shape};

/// Places along a member at which its block is bent.
const PLACES: usize = 12;
/// Places along a line at which its middle is meant.
const LINE_PLACES: usize = 40;

/// Panels from the keel up.
pub(super) fn panels(boat: Ashore, out: &mut Vec<Part>) {
    for (i, p) in boat.panels.iter().enumerate() {
        let (area, centre) = surface(p);
        let cut = Cut {
            id: PartId::panel(i),
            name: p.name.clone(),
            copies: Copies::of(p.full_width),
            cut_from: CutFrom::Sheet { sheet: p.sheet.clone(), thickness: p.thickness },
            amount: Amount::Area(area),
            shape: Shape::Flat(p.finished_outline()),
            centre: if p.full_width { P3::new(centre.x, 0.0, centre.z) } else { centre },
            volume: area * p.thickness,
            // The planking is between the hull's two meshes, exactly.
            bulk: Vec::new(),
            within: None,
        };
        out.push(cut.weighed(boat.materials));
    }
}

/// Area (mm², both sides) and centre of a panel, on its moulded surface.
fn surface(p: &PanelModel) -> (f64, P3) {
    let (mut area, mut moment) = (0.0, V3::zeros());
    let mut add = |a: P3, b: P3, c: P3| {
        let s = 0.5 * (b - a).cross(&(c - a)).norm();
        area += s;
        moment += s / 3.0 * (a.coords + b.coords + c.coords);
    };
    for w in p.surface.rulings.windows(2) {
        add(w[0].lower, w[0].upper, w[1].lower);
        add(w[0].upper, w[1].upper, w[1].lower);
    }
    (2.0 * area, if area > 0.0 { P3::from(moment / area) } else { P3::origin() })
}

/// Members and battens, and those of a wood that no table has: these cannot be judged in
/// bending, but they weigh something.
pub(super) fn members(boat: Ashore, out: &mut Vec<Part>) {
    for (i, b) in boat.members.iter().enumerate() {
        // Places stand closer at the ducks: each counts for the stretch about it.
        let stretch = |w: &[Along]| {
            let half = 0.5 * (w[1].at - w[0].at);
            half * (b.middle(&w[0]).coords + b.middle(&w[1]).coords)
        };
        let middle = b.along.windows(2).map(stretch).sum::<V3>() / b.length;
        let length = boat.woodwork.run(boat, i).map_or(b.length, |run| run.length);
        let cut = member(PartId::member(i), &b.member, length, P3::from(middle));
        out.push(Cut { bulk: bent(b), ..cut }.weighed(boat.materials));
    }
    let unbent = |m: &Member| boat.materials.wood(&m.species).is_none();
    for (i, m) in boat.hull.members.iter().enumerate().filter(|(_, m)| unbent(m)) {
        let Some(line) = boat.lines.get(&m.line) else {
            continue;
        };
        let end = line.spline.end();
        let along = (0..=LINE_PLACES)
            .map(|i| line.spline.at(end * i as f64 / LINE_PLACES as f64).coords)
            .fold(V3::zeros(), |sum, p| sum + p);
        let middle = P3::from(along / (LINE_PLACES + 1) as f64);
        out.push(member(PartId::Unbent(i), m, line.arc.length(), middle).weighed(boat.materials));
    }
}

/// A member of this length.
fn member(id: PartId, m: &Member, length: f64, middle: P3) -> Cut {
    let copies = Copies::of(m.sticks() == 1);
    Cut {
        id,
        name: m.name.clone(),
        copies,
        cut_from: CutFrom::Lumber {
            species: m.species.clone(),
            moisture_pct: m.moisture(),
            section: [m.moulded_mm, m.sided_mm],
        },
        amount: Amount::Length(length),
        shape: Shape::Solid,
        centre: if copies == Copies::One { P3::new(middle.x, 0.0, middle.z) } else { middle },
        volume: copies.count() as f64 * length * m.moulded_mm * m.sided_mm,
        bulk: Vec::new(),
        within: None,
    }
}

/// A member as a bent block of its own section, where it lies on the skin.
fn bent(b: &BentMember) -> Vec<Bulk> {
    let every = (b.along.len() / PLACES).max(1);
    let last = b.along.len().saturating_sub(1);
    let kept = b.along.iter().enumerate().filter(|(i, _)| i % every == 0 || *i == last);
    let rings: Vec<[P3; 4]> = kept.map(|(_, a)| b.corners(a)).collect();
    if rings.len() < 2 {
        return Vec::new();
    }
    vec![Bulk::Bent { rings, both: b.member.sticks() > 1 }]
}

/// Blocks of foam, each with its box, of the ply of gussets and transoms.
pub(super) fn foam(boat: Ashore, out: &mut Vec<Part>) {
    for (i, f) in boat.hull.afloat.foam.iter().enumerate() {
        let middle = |i: usize| 0.5 * (f.from[i] + f.to[i]);
        let copies = Copies::of(!f.both_sides);
        let block = Cut {
            id: PartId::Foam(i),
            name: format!("foam {}", f.name),
            copies,
            cut_from: CutFrom::Foam { density: f.density_kg_m3 },
            amount: Amount::Volume(f.volume()),
            shape: Shape::Solid,
            centre: P3::new(middle(0), middle(1), middle(2)),
            volume: f.volume(),
            bulk: sides(f, 1.0),
            within: None,
        };
        let centre = block.centre;
        out.push(Part { solid: f.volume(), ..block.weighed(boat.materials) });
        let solid = f.box_volume();
        if solid <= 0.0 {
            continue;
        }
        let boxed = Cut {
            id: PartId::FoamBox(i),
            name: format!("box of {}", f.name),
            copies,
            cut_from: CutFrom::Ply { thickness: f.box_ply_mm },
            amount: Amount::Area(solid / f.box_ply_mm),
            shape: Shape::Solid,
            centre,
            volume: solid,
            // As high as the block and at its place, so much shorter as it is less.
            bulk: sides(f, solid / f.volume()),
            within: None,
        };
        out.push(boxed.weighed(boat.materials));
    }
}

/// A block of foam and its mirror image, by a share of its length about its middle.
fn sides(f: &Foam, share: f64) -> Vec<Bulk> {
    let [mut a, mut b] = [f.from, f.to].map(|[x, y, z]| P3::new(x, y, z));
    let (middle, half) = (0.5 * (a.x + b.x), 0.5 * share * (b.x - a.x));
    (a.x, b.x) = (middle - half, middle + half);
    let port = |p: P3| P3::new(p.x, -p.y, p.z);
    let mut out = vec![Bulk::Block(a, b)];
    out.extend(f.both_sides.then(|| Bulk::Block(port(a), port(b))));
    out
}

/// A ring's least and greatest height.
pub(super) fn heights(ring: &[P2]) -> (f64, f64) {
    ring.iter().fold((f64::INFINITY, f64::NEG_INFINITY), |(l, h), p| (l.min(p.y), h.max(p.y)))
}
