//! Transoms, stems and what goes with them, as parts.

use super::skin::heights;
use super::{Cut, Part, sawn, together};
use crate::frames::{Knee, Stem, Transom};
use crate::geom::polyline::area;
use crate::geom::ring::centroid;
use crate::geom::{P2, P3};
use crate::model::ashore::Ashore;
use crate::part::{Amount, AtEnd, Bulk, Copies, CutFrom, PartId, Shape};

/// Share of a stem's squared blank that is left when both its sides are planed to the bevel.
/// Our judgement; no source.
const STEM_LEFT: f64 = 0.8;

/// Transoms (the stern's first), the knee, stem and sternpost, each before what belongs to it.
pub(super) fn ends(boat: Ashore, out: &mut Vec<Part>) {
    let work = &boat.woodwork;
    for (end, t) in [(AtEnd::Stern, &work.transom), (AtEnd::Bow, &work.bow_transom)] {
        if let Some(t) = t {
            transom(boat, end, t, out);
        }
    }
    out.extend(work.knee.as_ref().map(|k| knee(boat, k).weighed(boat.materials)));
    for (end, s) in [(AtEnd::Bow, &work.stem), (AtEnd::Stern, &work.sternpost)] {
        if let Some(s) = s {
            out.push(stem(boat, end, s).weighed(boat.materials));
            let beside = outer(boat, end, s).into_iter().chain(joint(boat, end, s));
            out.extend(beside.map(|cut| cut.weighed(boat.materials)));
        }
    }
}

/// A transom, then its board, cleats and pad.
fn transom(boat: Ashore, end: AtEnd, t: &Transom, out: &mut Vec<Part>) {
    let plan = &boat.hull.transom;
    let ply = |thickness| CutFrom::Ply { thickness };
    let mut pieces = vec![
        Cut {
            id: PartId::TransomBoard(end),
            name: format!("{}, board", end.transom()),
            cut_from: ply(plan.thickness_mm),
            ..flat(end, t, &t.outline, true, plan.thickness_mm)
        }
        .weighed(boat.materials),
    ];
    for (k, p) in t.framing.iter().enumerate() {
        let thick = plan.framing_thickness_mm;
        let cut = Cut {
            id: PartId::Cleat(end, k),
            name: format!("{}, {}", end.transom(), p.name),
            cut_from: sawn(boat, [thick, p.board_width]),
            ..flat(end, t, &p.outline, p.whole, thick)
        };
        pieces.push(cut.weighed(boat.materials));
    }
    if let Some(c) = t.cut_out.filter(|c| c.pad_thickness > 0.0) {
        let cut = Cut {
            id: PartId::Pad,
            name: format!("{}, motor's pad", end.transom()),
            cut_from: ply(c.pad_thickness),
            // It is counted with what lies over the skin.
            bulk: Vec::new(),
            ..flat(end, t, &c.pad(boat.hull.motor.pad_width_mm), true, c.pad_thickness)
        };
        pieces.push(cut.weighed(boat.materials));
    }
    out.push(whole(boat, end, t, &pieces));
    out.append(&mut pieces);
}

/// A transom put together. Its centre is that of its board.
fn whole(boat: Ashore, end: AtEnd, t: &Transom, pieces: &[Part]) -> Part {
    let plan = &boat.hull.transom;
    let density = |of: &CutFrom| boat.materials.density_of(of).map_or((0.0, ""), |d| d);
    let (ply, source) = density(&CutFrom::Ply { thickness: plan.thickness_mm });
    let (lumber, _) = density(&sawn(boat, [0.0; 2]));
    let board = area(&t.outline).abs() * plan.thickness_mm;
    let framing: f64 = t.framing.iter().map(|p| p.count() as f64 * area(&p.outline).abs()).sum();
    let cleats = framing * plan.framing_thickness_mm;
    let width = boat.hull.motor.pad_width_mm;
    let pad = t.cut_out.map_or(0.0, |c| c.pad_thickness * area(&c.pad(width)).abs());
    let mass = ((board + pad) * ply + cleats * lumber) * 1e-9;
    let mean = (mass / (board + pad + cleats).max(1e-9) * 1e9).max(1.0);
    let middle = t.across.space(centroid(&t.outline));
    Part {
        mass,
        solid: mass / mean * 1e9,
        centre: P3::new(middle.x, 0.0, middle.z),
        ..together(PartId::Transom(end), end.transom().into(), pieces, source.into())
    }
}

/// A flat piece in a transom's plane.
fn flat(end: AtEnd, t: &Transom, outline: &[P2], whole: bool, thick: f64) -> Cut {
    let copies = Copies::of(whole);
    let area = copies.count() as f64 * area(outline).abs();
    let middle = t.across.space(centroid(outline));
    let ring: Vec<P3> = outline.iter().map(|p| t.across.space(*p)).collect();
    let x = ring.iter().map(|p| p.x).sum::<f64>() / ring.len().max(1) as f64;
    let across: Vec<P2> = ring.iter().map(|p| P2::new(p.y, p.z)).collect();
    Cut {
        id: PartId::Transom(end),
        name: String::new(),
        copies,
        cut_from: CutFrom::Pieces,
        amount: Amount::Area(area),
        shape: Shape::Flat(outline.to_vec()),
        centre: if whole { P3::new(middle.x, 0.0, middle.z) } else { middle },
        volume: area * thick,
        bulk: vec![Bulk::Board { outline: across, x, thick, both: !whole }],
        within: Some(PartId::Transom(end)),
    }
}

/// The knee behind the motor.
fn knee(boat: Ashore, k: &Knee) -> Cut {
    // As high as it stands, and as long as its volume asks for.
    let (low, high) = heights(&k.outline);
    let half = 0.5 * k.volume() / (k.sided * (high - low));
    let middle = P2::new(k.heel.x - half, 0.5 * (low + high));
    Cut {
        bulk: block(middle, half, (low, high), k.sided),
        ..in_centreplane(PartId::Knee, "knee".into(), &k.outline, k.volume(), k.sided, boat)
    }
}

/// A stem's blank, planed.
fn stem(boat: Ashore, end: AtEnd, s: &Stem) -> Cut {
    let sided = boat.hull.stem.sided_mm;
    // Its outline lies in the centreplane: a block as long as its area asks for.
    let (low, high) = heights(&s.outline);
    let area = area(&s.outline).abs();
    let x = s.outline.iter().map(|p| p.x).sum::<f64>() / s.outline.len().max(1) as f64;
    let half = 0.5 * STEM_LEFT * area / (high - low);
    let volume = STEM_LEFT * area * sided;
    let id = PartId::Stem(end);
    Cut {
        bulk: block(P2::new(x, 0.5 * (low + high)), half, (low, high), sided),
        ..in_centreplane(id, end.stem().into(), &s.outline, volume, sided, boat)
    }
}

fn outer(boat: Ashore, end: AtEnd, s: &Stem) -> Option<Cut> {
    let o = s.outer.as_ref()?;
    let width = o.volume / area(&o.outline).abs().max(1e-9);
    let name = format!("outer {}", end.stem());
    Some(cubic(PartId::OuterStem(end), name, &o.outline, o.volume, width, boat))
}

/// The knee behind a stem's heel, and the floor over heel and keelson.
fn joint(boat: Ashore, end: AtEnd, s: &Stem) -> Vec<Cut> {
    let Some((j, k)) = s.joint.as_ref().and_then(|j| Some((j, j.knee.as_ref()?))) else {
        return Vec::new();
    };
    let name = format!("{} knee", end.stem());
    let volume = k.area() * k.thickness;
    let knee = cubic(PartId::StemKnee(end), name, &k.outline, volume, k.thickness, boat);
    let mut out = vec![at(k.middle(), knee, k.thickness)];
    if j.floor {
        let name = if s.at_stern { "stern floor" } else { "bow floor" };
        let floor = Cut {
            shape: Shape::Solid,
            ..cubic(PartId::Floor(end), name.into(), &[], j.floor_volume(), j.width, boat)
        };
        // Its middle lies under the corner of heel and knee, near enough.
        out.push(at(k.outline[0], floor, j.width));
    }
    out
}

/// A piece that displaces water as a cube-like block of its volume.
fn cubic(id: PartId, name: String, outline: &[P2], volume: f64, width: f64, boat: Ashore) -> Cut {
    let cut = in_centreplane(id, name, outline, volume, width, boat);
    if outline.is_empty() { cut } else { at(centroid(outline), cut, width) }
}

/// The same with its middle there, in the centreplane.
fn at(middle: P2, cut: Cut, width: f64) -> Cut {
    let half = 0.5 * (cut.volume / width.max(1e-9)).sqrt();
    let bulk = block(middle, half, (middle.y - half, middle.y + half), width);
    Cut { centre: P3::new(middle.x, 0.0, middle.y), bulk, ..cut }
}

/// A piece sawn about the centreplane, by its profile (aft, up).
fn in_centreplane(
    id: PartId,
    name: String,
    outline: &[P2],
    volume: f64,
    sided: f64,
    boat: Ashore,
) -> Cut {
    let c = if outline.is_empty() { P2::origin() } else { centroid(outline) };
    Cut {
        id,
        name,
        copies: Copies::One,
        cut_from: sawn(boat, [sided, 0.0]),
        amount: Amount::Volume(volume),
        shape: Shape::Flat(outline.to_vec()),
        centre: P3::new(c.x, 0.0, c.y),
        volume,
        bulk: Vec::new(),
        within: None,
    }
}

/// A block about the centreplane: half as long as `half` each way from its middle.
fn block(middle: P2, half: f64, (low, high): (f64, f64), wide: f64) -> Vec<Bulk> {
    if low.is_nan() || high.is_nan() || high <= low {
        return Vec::new();
    }
    let out = 0.5 * wide;
    vec![Bulk::Block(P3::new(middle.x - half, -out, low), P3::new(middle.x + half, out, high))]
}
