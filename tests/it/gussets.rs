//! Gussets where they are screwed on: water gets through them, and no two lie in one place.

use chinewright::frames::pieces::to_port;
use chinewright::frames::section::closed_half;
use chinewright::frames::{Across, Frame, Gusset, Skin, SkinPanel, notch};
use chinewright::geom::P2;
use chinewright::geom::region::Region;
use chinewright::geom::ring::{from_ring, inside};
use chinewright::hull::{Joint, starters};
use chinewright::material::Materials;
use chinewright::model::{Model, derive};
use chinewright::part::LineId;

fn skin(model: &Model) -> Skin<'_> {
    Skin {
        lines: &model.lines,
        panels: model
            .panels
            .iter()
            .map(|p| SkinPanel {
                name: &p.name,
                surface: &p.surface,
                thickness: p.thickness,
                stiffness: p.stiffness,
            })
            .collect(),
    }
}

fn any_of<'a>(rings: impl Iterator<Item = &'a [P2]>) -> Region {
    rings.map(Region::of).fold(Region::default(), |all, r| all.or(&r))
}

/// What stands in the layer between two distances behind the pattern's face.
fn wood_in(f: &Frame, thickness: f64, gusset: f64) -> Vec<([f64; 2], Region)> {
    let boards =
        |at: f64| any_of(f.pieces.iter().filter(|p| p.face_at == at).map(|p| p.outline.as_slice()));
    let plates = |on_face: bool| {
        any_of(f.gussets.iter().filter(|g| g.on_face == on_face).map(|g| g.outline.as_slice()))
    };
    let mut out = vec![
        ([-gusset, 0.0], plates(true)),
        ([0.0, thickness], boards(0.0)),
        ([thickness, thickness + gusset], plates(false)),
    ];
    if f.second.is_some() {
        out[2] = ([thickness, 2.0 * thickness], boards(thickness));
    }
    out
}

/// Follows water along the bilge from one side of a frame to the other: within the reach of
/// each limber, the room between skin, members and wood on both faces of every layer, each
/// open to the next, and open at the bilge itself.
pub(crate) fn water_passes(model: &Model, f: &Frame) -> Result<usize, String> {
    let skin = skin(model);
    let framing = &model.hull.framing;
    let mut passed = 0;
    for (k, limber) in f.limbers.iter().enumerate() {
        let mut before: Option<Region> = None;
        for (between, wood) in wood_in(f, framing.sided_mm, framing.gusset_mm) {
            for by in between {
                let across = Across::station(f.x - f.face.sign() * by);
                let section = skin.section(across);
                let Some(bottom) = section.edge(0) else { continue };
                let sticks = notch::notches(&skin, &model.members, &section, across, 0.0);
                let whole: Vec<Vec<P2>> =
                    sticks.iter().flat_map(|n| [n.corners.to_vec(), to_port(&n.corners)]).collect();
                let sticks_there = any_of(whole.iter().map(Vec::as_slice));
                // Beside the stick that the limber belongs to, on the bottom.
                let own = if k == 0 { "keel" } else { "chine" };
                let edge_of = |n: &notch::Notch| {
                    let xs = n.corners.iter().map(|c| c.x);
                    if k == 0 { xs.fold(0.0, f64::max) } else { xs.fold(f64::INFINITY, f64::min) }
                };
                let y = sticks
                    .iter()
                    .find(|n| model.members[n.member].member.line.starts_with(own))
                    .map_or(0.0, edge_of);
                // Clear of a stick's clearance in its notch, which shuts as it swells.
                let y = y + if k == 0 { 3.0 } else { -3.0 };
                let at = bottom
                    .points
                    .windows(2)
                    .find(|w| w[0].at.x <= y && y <= w[1].at.x)
                    .map(|w| {
                        w[0].at
                            + (y - w[0].at.x) / (w[1].at.x - w[0].at.x).max(1e-9)
                                * (w[1].at - w[0].at)
                    })
                    .unwrap_or(limber.centre);
                let open = Region::of(&closed_half(&section.half()))
                    .and(&Region::disc(at, 1.5 * limber.radius, 24))
                    .minus(&sticks_there)
                    .minus(&wood);
                let bilge = at + chinewright::geom::V2::new(0.0, 1.0);
                let drop = Region::disc(bilge, 0.5, 8);
                if drop.minus(&wood).area() < 0.9 * drop.area() {
                    return Err(format!(
                        "frame {} limber {k} is dammed {by} mm behind its face at {at}",
                        f.station
                    ));
                }
                // A tenth of the bore's whole face, where half of it lies in the skin.
                let least = 0.1 * std::f64::consts::PI * limber.radius.powi(2);
                if let Some(b) = &before
                    && b.and(&open).area() < least
                {
                    return Err(format!(
                        "frame {} limber {k} is choked to {} of {least} mm² {by} mm behind its face",
                        f.station,
                        b.and(&open).area()
                    ));
                }
                before = Some(open);
            }
        }
        passed += 1;
    }
    Ok(passed)
}

/// No two plates of a face, or one and its neighbour's mirror image, lie in one place.
pub(crate) fn plates_lie_apart(f: &Frame) -> Result<(), String> {
    let on = |on_face: bool| f.gussets.iter().filter(move |g| g.on_face == on_face);
    let ring = |g: &Gusset| Region::of(&g.outline);
    let port = |g: &Gusset| Region::of(&to_port(&g.outline));
    for on_face in [true, false] {
        let all: Vec<&Gusset> = on(on_face).collect();
        for (i, a) in all.iter().enumerate() {
            if !a.whole && ring(a).and(&port(a)).area() > 1.0 {
                return Err(format!("frame {}: the {} plates meet", f.station, a.place()));
            }
            for b in &all[i + 1..] {
                let shared = ring(a).and(&ring(b)).area().max(ring(a).and(&port(b)).area());
                if shared > 1.0 {
                    return Err(format!(
                        "frame {}: {} and {} share {shared} mm²",
                        f.station,
                        a.place(),
                        b.place()
                    ));
                }
            }
        }
    }
    Ok(())
}

/// Fastenings go through the plate and into a board, clear of the edges of both, of limbers
/// and of what else is cut away.
pub(crate) fn fastenings_hold(f: &Frame) -> Result<(), String> {
    for g in &f.gussets {
        for p in &g.fastenings {
            let q = P2::new(p.x.abs(), p.y);
            let place = format!("frame {} {} {p}", f.station, g.place());
            if !inside(&g.outline, *p) || from_ring(*p, &g.outline) < 5.0 {
                return Err(format!("{place}: at the plate's edge"));
            }
            let into = |r: &[P2]| inside(r, *p) || inside(r, q);
            if !f.pieces.iter().any(|b| into(&b.outline)) {
                return Err(format!("{place}: into no board"));
            }
            if f.limbers.iter().any(|l| l.from_axis(q) < l.radius + 5.0) {
                return Err(format!("{place}: in a limber"));
            }
            if f.keep_clear.iter().any(|r| inside(r, q)) {
                return Err(format!("{place}: where wood is cut away"));
            }
        }
    }
    Ok(())
}

#[test]
fn water_runs_the_whole_length_of_every_starter() {
    for s in starters::STARTERS {
        for joint in [Joint::Gusset, Joint::Lap] {
            let mut hull = s.hull();
            hull.framing.joint = joint;
            let model = derive(&hull, &Materials::shipped()).expect("a starter");
            let passed: usize = model
                .woodwork
                .frames
                .iter()
                .map(|f| water_passes(&model, f).unwrap_or_else(|e| panic!("{}: {e}", s.name)))
                .sum();
            assert!(passed >= 4, "{} {joint:?}: {passed} limbers", s.name);
        }
    }
}

/// Screws of the two faces stand three diameters apart in the board, so that none meets another:
/// a no. 8 of 4.2 mm goes 13 mm into 19 from either side. `less` says how many could not.
fn screws_that_meet(f: &Frame) -> usize {
    let all = |on_face: bool| {
        let own = f.gussets.iter().filter(move |g| g.on_face == on_face);
        own.flat_map(|g| &g.fastenings).collect::<Vec<_>>()
    };
    let (near, far) = (all(true), all(false));
    near.iter().filter(|p| far.iter().any(|q| (**p - **q).norm() < 3.0 * 4.2 - 1e-6)).count()
}

#[test]
fn screws_of_both_faces_of_a_corner_do_not_meet_in_the_board() {
    for s in starters::STARTERS {
        let model = derive(&s.hull(), &Materials::shipped()).expect("a starter");
        for f in &model.woodwork.frames {
            assert_eq!(screws_that_meet(f), 0, "{} frame {}", s.name, f.station);
        }
    }
}

#[test]
fn no_two_gussets_of_a_starter_lie_in_one_place() {
    for s in starters::STARTERS {
        let model = derive(&s.hull(), &Materials::shipped()).expect("a starter");
        for f in &model.woodwork.frames {
            plates_lie_apart(f).unwrap_or_else(|e| panic!("{}: {e}", s.name));
            fastenings_hold(f).unwrap_or_else(|e| panic!("{}: {e}", s.name));
            for g in &f.gussets {
                // A plate that is screwed to one board only joins nothing.
                let held = f
                    .pieces
                    .iter()
                    .filter(|b| {
                        g.fastenings.iter().any(|p| {
                            inside(&b.outline, *p) || inside(&b.outline, P2::new(-p.x, p.y))
                        })
                    })
                    .count();
                let wants = if g.lines == [LineId::Keel] { 1 } else { 2 };
                assert!(held >= wants, "{} frame {} {}: {held}", s.name, f.station, g.place());
            }
        }
    }
}

/// Both kinds of plate that were in each other's way are there: one made over two corners,
/// and neighbours cut off where they meet.
#[test]
fn plates_in_a_narrow_bow_are_one_and_wider_ones_are_cut_off() {
    let model = derive(&starters::find("warden").expect("a starter").hull(), &Materials::shipped())
        .expect("a starter");
    let lines = |f: &Frame| f.gussets.iter().map(|g| g.place()).collect::<Vec<_>>();
    let first = &model.woodwork.frames[0];
    assert!(lines(first).contains(&"keel and chine".to_string()), "{:?}", lines(first));
    let amidships = &model.woodwork.frames[3];
    assert!(lines(amidships).contains(&"keel".to_string()), "{:?}", lines(amidships));
}
