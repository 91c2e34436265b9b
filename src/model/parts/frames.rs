//! Frames and what they are put together from, as parts.

use super::{Cut, Part, sawn, together};
use crate::frames::{Frame, Gusset};
use crate::geom::polyline::area;
use crate::geom::ring::centroid;
use crate::geom::{P2, P3};
use crate::hull::Face;
use crate::model::ashore::Ashore;
use crate::part::{Amount, Bulk, Copies, CutFrom, FrameId, PartId, Shape};

/// Each frame after its boards and gussets.
pub(super) fn frames(boat: Ashore, out: &mut Vec<Part>) {
    for (i, f) in boat.woodwork.frames.iter().enumerate() {
        let id = FrameId(i);
        let mut pieces = boards(boat, id, f);
        pieces.extend(gussets(boat, id, f));
        let source = boat.materials.density_of(&sawn(boat, [0.0; 2]));
        let source = source.map_or(String::new(), |s| s.1.into());
        let name = format!("frame {}", f.station);
        out.push(frame(together(PartId::Frame(id), name, &pieces, source)));
        out.append(&mut pieces);
    }
}

/// A frame displaces what its mean density says.
fn frame(f: Part) -> Part {
    if f.solid <= 0.0 {
        return f;
    }
    let mean = f.mass / f.solid * 1e9;
    Part { solid: f.mass / mean * 1e9, ..f }
}

fn boards(boat: Ashore, id: FrameId, f: &Frame) -> Vec<Part> {
    let framing = &boat.hull.framing;
    let cut = |(k, p): (usize, &crate::frames::Piece)| Cut {
        id: PartId::FrameBoard(id, k),
        name: format!("frame {}, {}", f.station, p.name),
        cut_from: sawn(boat, [framing.sided_mm, p.board_width]),
        ..flat(f, &p.outline, p.whole, framing.sided_mm, id)
    };
    f.pieces.iter().enumerate().map(|p| cut(p).weighed(boat.materials)).collect()
}

fn gussets(boat: Ashore, id: FrameId, f: &Frame) -> Vec<Part> {
    let thickness = boat.hull.framing.gusset_mm;
    let cut = |(k, g): (usize, &Gusset)| Cut {
        id: PartId::Gusset(id, k),
        name: format!("frame {}, gusset at the {}{}", f.station, g.place(), on_face(f, k)),
        cut_from: CutFrom::Ply { thickness },
        ..flat(f, &g.outline, g.whole, thickness, id)
    };
    f.gussets.iter().enumerate().map(|g| cut(g).weighed(boat.materials)).collect()
}

/// On which face a frame's gusset `k` lies, where another that is not sawn alike lies at the same
/// corners on the other one. Those of a pair are turned over to the other side.
fn on_face(f: &Frame, k: usize) -> String {
    let g = &f.gussets[k];
    let unlike = |other: &Gusset| other.on_face != g.on_face && !other.is_alike(g);
    let face = match (g.on_face, f.face) {
        (true, face) => face,
        (false, Face::Fore) => Face::Aft,
        (false, Face::Aft) => Face::Fore,
    };
    match f.gussets.iter().any(|o| o.lines == g.lines && unlike(o)) {
        true => format!(", {} face", face.word()),
        false => String::new(),
    }
}

/// A flat piece of a frame, `thick` mm, whole or one of a pair.
fn flat(f: &Frame, outline: &[P2], whole: bool, thick: f64, id: FrameId) -> Cut {
    let c = centroid(outline);
    let copies = Copies::of(whole);
    let area = copies.count() as f64 * area(outline).abs();
    Cut {
        id: PartId::Frame(id),
        name: String::new(),
        copies,
        cut_from: CutFrom::Pieces,
        amount: Amount::Area(area),
        shape: Shape::Flat(outline.to_vec()),
        centre: P3::new(f.x, if whole { 0.0 } else { c.x }, c.y),
        volume: area * thick,
        bulk: vec![Bulk::Board { outline: outline.to_vec(), x: f.x, thick, both: !whole }],
        within: Some(PartId::Frame(id)),
    }
}
