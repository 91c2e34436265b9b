//! Frames beside what was computed elsewhere.
//!
//! Truth: `tests/reference/frames.py`: sections by trimesh's cuts of the hull's mesh;
//! sections, bevels, offsets and crowns of sides that are quadric cylinders and cones, from
//! gradients of their equations and root finding.

use chinewright::finding::{Fact, Finding, FrameFact, Place};
use chinewright::frames::Section;
use chinewright::geom::P2;
use chinewright::hull::{Duck, Face, FrameChoice, Hull, Line, LineEnd, starters};
use chinewright::material::Materials;
use chinewright::model::{Model, derive};
use chinewright::part::AtEnd;
use serde::Deserialize;

use crate::reference::frozen;

#[derive(Deserialize)]
struct Table {
    thickness_mm: f64,
    hulls: Vec<MeshCuts>,
    closed_forms: Vec<ClosedForm>,
}

#[derive(Deserialize)]
struct MeshCuts {
    name: String,
    stations: Vec<MeshCut>,
}

#[derive(Deserialize)]
struct MeshCut {
    station_x_mm: f64,
    at: Vec<[f64; 2]>,
    ahead: Vec<[f64; 2]>,
    abaft: Vec<[f64; 2]>,
}

#[derive(Deserialize)]
struct ClosedForm {
    name: String,
    lines: Vec<ExactLine>,
    stations: Vec<ExactStation>,
}

#[derive(Deserialize)]
struct ExactLine {
    name: String,
    points: Vec<[f64; 3]>,
}

#[derive(Deserialize)]
struct ExactStation {
    station_x_mm: f64,
    side: Vec<ExactPoint>,
    bottom_bevel_deg: f64,
    bottom_offset_mm: f64,
    side_crown_mm: f64,
}

#[derive(Deserialize)]
struct ExactPoint {
    y: f64,
    z: f64,
    bevel_deg: f64,
    offset_mm: f64,
}

/// Distance from a polyline.
fn off(p: P2, line: &[P2]) -> f64 {
    line.windows(2)
        .map(|w| {
            let e = w[1] - w[0];
            let t = ((p - w[0]).dot(&e) / e.norm_squared().max(1e-12)).clamp(0.0, 1.0);
            (w[0] + t * e - p).norm()
        })
        .fold(f64::INFINITY, f64::min)
}

fn points(all: &[[f64; 2]]) -> Vec<P2> {
    all.iter().map(|p| P2::new(p[0], p[1])).collect()
}

/// Greatest distance of either polyline's points from the other.
fn apart(ours: &Section, theirs: &[[f64; 2]]) -> f64 {
    let (a, b) = (ours.half(), points(theirs));
    let one = |from: &[P2], to: &[P2]| from.iter().map(|p| off(*p, to)).fold(0.0, f64::max);
    one(&a, &b).max(one(&b, &a))
}

#[test]
fn both_faces_of_every_frame_lie_on_trimesh_s_cuts_of_the_mesh() {
    let table: Table = frozen("frames.json");
    assert_eq!(table.hulls.len(), starters::STARTERS.len());
    for hull in table.hulls {
        let starter = starters::find(&hull.name).expect("a starter");
        let model = derive(&starter.hull(), &Materials::shipped()).expect("a starter");
        assert_eq!(model.woodwork.frames.len(), hull.stations.len());
        for (frame, cut) in model.woodwork.frames.iter().zip(&hull.stations) {
            assert!((frame.x - cut.station_x_mm).abs() < 1e-3);
            let far = if frame.face == Face::Aft { &cut.ahead } else { &cut.abaft };
            // The issue asks for 0.2 mm.
            let (near, far) = (apart(&frame.section, &cut.at), apart(&frame.far, far));
            assert!(near < 0.08 && far < 0.08, "{} {}: {near} {far}", hull.name, frame.station);
        }
    }
}

fn model_of(form: &ClosedForm, face: Face) -> Model {
    let lines = form
        .lines
        .iter()
        .map(|l| Line {
            name: l.name.clone(),
            ducks: l.points.iter().map(|p| Duck::at(p[0], p[1], p[2])).collect(),
            bow: LineEnd::RunsOn,
            stern: LineEnd::RunsOn,
        })
        .collect();
    let mut hull = Hull::new(form.name.clone(), lines);
    hull.framing.stations_mm = form.stations.iter().map(|s| s.station_x_mm).collect();
    hull.framing.frames = (1..=form.stations.len())
        .map(|station| FrameChoice { station, face: Some(face), ..FrameChoice::default() })
        .collect();
    derive(&hull, &Materials::shipped()).expect("a closed form")
}

/// The nearest bevel to a height on the panel called "side", blended between its two
/// neighbours.
fn bevel_at(model: &Model, frame: usize, z: f64) -> (f64, f64) {
    let side = model.panels.iter().position(|p| p.name == "side").expect("a side");
    let all: Vec<_> =
        model.woodwork.frames[frame].bevels.iter().filter(|b| b.panel == side).collect();
    let w = all
        .windows(2)
        .find(|w| w[0].at.y - 1.0 <= z && z <= w[1].at.y + 1.0)
        .expect("a height on the side");
    let t = ((z - w[0].at.y) / (w[1].at.y - w[0].at.y)).clamp(0.0, 1.0);
    let blend = |a: f64, b: f64| a + t * (b - a);
    (blend(w[0].angle, w[1].angle).to_degrees(), blend(w[0].offset, w[1].offset))
}

#[test]
fn bevels_and_crowns_agree_with_closed_forms_on_cylinders_and_cones() {
    let table: Table = frozen("frames.json");
    let mut compared = 0;
    for form in &table.closed_forms {
        let model = model_of(form, Face::Aft);
        assert_eq!(model.hull.framing.sided_mm, table.thickness_mm);
        assert_eq!(model.woodwork.frames.len(), form.stations.len(), "{}", form.name);
        for (i, exact) in form.stations.iter().enumerate() {
            let frame = &model.woodwork.frames[i];
            let place = format!("{} at {}", form.name, exact.station_x_mm);
            for p in &exact.side {
                let away = off(P2::new(p.y, p.z), &frame.section.half());
                assert!(away < 0.06, "{place}: the section is {away} mm off");
                let (degrees, offset) = bevel_at(&model, i, p.z);
                // Blending between two places 100 mm apart costs a little over the 0.005°
                // that the bevels themselves are off.
                assert!((degrees - p.bevel_deg).abs() < 0.02, "{place}: {degrees} {}", p.bevel_deg);
                assert!((offset - p.offset_mm).abs() < 0.06, "{place}: {offset} {}", p.offset_mm);
                compared += 1;
            }
            let bottom = frame.bevels.iter().find(|b| b.panel == 0).expect("a bottom");
            assert!((bottom.angle.to_degrees() - exact.bottom_bevel_deg).abs() < 0.002, "{place}");
            assert!((bottom.offset - exact.bottom_offset_mm).abs() < 0.01, "{place}");
            let crown = frame.crowns.last().expect("a side").1;
            assert!((crown - exact.side_crown_mm).abs() < 0.04, "{place}: crown {crown}");
        }
        // A frame that lies abaft its station has the same bevels the other way.
        let turned = model_of(form, Face::Fore);
        for (a, b) in model.woodwork.frames.iter().zip(&turned.woodwork.frames) {
            for (p, q) in a.bevels.iter().zip(&b.bevels) {
                assert!((p.angle + q.angle).abs() < 1e-12);
            }
        }
    }
    assert!(compared > 90, "{compared}");
}

/// A keelson over 600 mm away must not count against a side piece: upright sides once gave
/// "a notch leaves 0 mm of its 64 mm".
#[test]
fn a_notch_counts_only_against_the_piece_that_it_cuts() {
    let table: Table = frozen("frames.json");
    let upright = table.closed_forms.iter().find(|f| f.name == "upright-cylinder").expect("it");
    let model = model_of(upright, Face::Aft);
    for f in &model.woodwork.frames {
        for p in &f.pieces {
            assert!(p.least_left > 0.3 * p.depth && p.least_left <= p.board_width, "{p:?}");
        }
    }
}

/// Straight-edged frames: the gap is the crown, and the board's edge is the chord.
#[test]
fn a_straight_edge_leaves_the_crown_as_its_gap() {
    let mut hull = starters::find("sluice-pram").expect("a starter").hull();
    hull.framing.edges = chinewright::hull::Edges::Straight;
    let straight = derive(&hull, &Materials::shipped()).expect("a starter");
    hull.framing.edges = chinewright::hull::Edges::Shaped;
    let shaped = derive(&hull, &Materials::shipped()).expect("a starter");
    for (s, c) in straight.woodwork.frames.iter().zip(&shaped.woodwork.frames) {
        assert_eq!(s.crowns, c.crowns);
        let (edge, piece) =
            (s.section.edges.last().expect("a side"), s.pieces.last().expect("one"));
        let chord = [edge.first().at, edge.last().at];
        // The middle of the piece's outer edge lies on the chord or outside it (its far
        // face's), never inside.
        let e = (chord[1] - chord[0]).normalize();
        let inward = |p: &P2| (p - chord[0]).dot(&chinewright::geom::V2::new(-e.y, e.x));
        assert!(piece.outline.iter().map(inward).fold(f64::INFINITY, f64::min) < 1e-3);
    }
}

/// The dory's stations set evenly put the first in the wood of her raked stem; as her document
/// sets them none is.
#[test]
fn a_frame_in_the_wood_of_a_stem_is_told_of() {
    let told = |hull: &Hull| -> Vec<Place> {
        let model = derive(hull, &Materials::shipped()).expect("a model");
        let in_stem =
            |f: &&Finding| matches!(f.fact, Fact::Frame(FrameFact::InStem { end: AtEnd::Bow, .. }));
        let found = model.findings.iter().filter(in_stem);
        found.map(|f| f.place.clone()).collect()
    };
    for starter in &chinewright::hull::starters::STARTERS {
        assert!(told(&starter.hull()).is_empty(), "{}", starter.name);
    }
    let mut dory = chinewright::hull::starters::find("mere-dory").expect("the dory").hull();
    dory.framing.stations_mm = vec![565.0, 1130.0, 2260.0, 3390.0, 4520.0];
    assert_eq!(told(&dory), [Place::Frame(1)]);
}
