//! What lies under the pointer: picking as plain geometry, in millimetres.

use crate::frames::Frame;
use crate::geom::ring::inside;
use crate::geom::{P2, P3, V3};
use crate::hull::Duck;
use crate::model::Model;
use crate::viewer::camera::Ray;
use crate::viewer::state::{AtEnd, PartId};

/// What a line of sight meets first.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Hit {
    /// The piece.
    pub piece: PartId,
    /// The nearest ruling, if it is a panel.
    pub ruling: Option<usize>,
    /// Where, on the side of the boat that was met.
    pub at: P3,
    /// Along the line of sight, mm.
    distance: f64,
}

/// What can be met: a hull of which parts may be hidden.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Shown {
    /// The skin.
    pub panels: bool,
    /// The lumber.
    pub members: bool,
    /// Frames and stem.
    pub frames: bool,
    /// The port side.
    pub port: bool,
    /// What lies forward of this x (mm) is cut away.
    pub cut: Option<f64>,
}

/// The piece that a line of sight meets first.
pub fn pick(model: &Model, ray: Ray, shown: Shown) -> Option<Hit> {
    let mut best: Option<Hit> = None;
    let sides: &[f64] = if shown.port { &[1.0, -1.0] } else { &[1.0] };
    for &side in sides {
        // The port half is the starboard half seen in a mirror.
        let mirrored = |p: P3| P3::new(p.x, side * p.y, p.z);
        let seen = Ray {
            from: mirrored(ray.from),
            along: V3::new(ray.along.x, side * ray.along.y, ray.along.z),
        };
        let mut take = |piece: PartId, ruling: Option<usize>, distance: f64| {
            let at = seen.from + distance * seen.along;
            let away = shown.cut.is_some_and(|x| at.x < x);
            if !away && best.is_none_or(|b| distance < b.distance) {
                best = Some(Hit { piece, ruling, at: mirrored(at), distance });
            }
        };
        if shown.panels {
            for (i, p) in model.panels.iter().enumerate() {
                for (k, w) in p.surface.rulings.windows(2).enumerate() {
                    for t in
                        [[w[0].lower, w[0].upper, w[1].lower], [w[1].lower, w[0].upper, w[1].upper]]
                    {
                        if let Some(d) = meets_triangle(&seen, t) {
                            let at = seen.from + d * seen.along;
                            let to = |r: &crate::panel::Ruling| off_line(at, r.lower, r.upper);
                            let nearest = if to(&w[0]) <= to(&w[1]) { k } else { k + 1 };
                            take(PartId::panel(i), Some(nearest), d);
                        }
                    }
                }
            }
        }
        for (there, piece, stern) in [
            (model.lines.transom.is_some(), PartId::Transom(AtEnd::Stern), true),
            (model.lines.bow_transom.is_some(), PartId::Transom(AtEnd::Bow), false),
        ] {
            let lines = model.lines.lines.iter().filter(|_| there);
            let end: Vec<P3> =
                lines.map(|l| l.spline.at(if stern { l.spline.end() } else { 0.0 })).collect();
            for w in end.windows(2) {
                let foot = |p: P3| P3::new(p.x, 0.0, p.z);
                for t in [[foot(w[0]), w[0], w[1]], [foot(w[0]), w[1], foot(w[1])]] {
                    if let Some(d) = meets_triangle(&seen, t) {
                        take(piece, None, d);
                    }
                }
            }
        }
        if shown.frames {
            for (i, f) in model.woodwork.frames.iter().enumerate() {
                if let Some(d) = meets_frame(&seen, f) {
                    take(PartId::frame(i), None, d);
                }
            }
            let stems = [
                (&model.woodwork.stem, PartId::Stem(AtEnd::Bow)),
                (&model.woodwork.sternpost, PartId::Stem(AtEnd::Stern)),
            ];
            for (s, piece) in stems {
                let Some(s) = s.as_ref().filter(|_| seen.along.y.abs() > 1e-9) else {
                    continue;
                };
                let d = -seen.from.y / seen.along.y;
                let at = seen.from + d * seen.along;
                if d > 0.0 && inside(&s.outline, P2::new(at.x, at.z)) {
                    take(piece, None, d);
                }
            }
        }
        if shown.members {
            for (i, m) in model.members.iter().enumerate() {
                let reach = 0.6 * m.member.moulded_mm.max(m.member.sided_mm);
                for w in m.along.windows(2) {
                    if let Some(d) = passes(&seen, m.middle(&w[0]), m.middle(&w[1]), reach) {
                        take(PartId::member(i), None, d);
                    }
                }
            }
        }
    }
    best
}

/// Distance along the ray to a frame's face on its station.
fn meets_frame(ray: &Ray, f: &Frame) -> Option<f64> {
    if ray.along.x.abs() < 1e-9 {
        return None;
    }
    let d = (f.x - ray.from.x) / ray.along.x;
    let at = ray.from + d * ray.along;
    let p = P2::new(at.y, at.z);
    let on = |ring: &[P2]| inside(ring, p);
    let met = f.pieces.iter().any(|b| on(&b.outline)) || f.gussets.iter().any(|g| on(&g.outline));
    (d > 0.0 && met).then_some(d)
}

/// Distance along the ray to a triangle. Moeller and Trumbore, JGT 2 (1997).
fn meets_triangle(ray: &Ray, [a, b, c]: [P3; 3]) -> Option<f64> {
    let (e, f) = (b - a, c - a);
    let h = ray.along.cross(&f);
    let det = e.dot(&h);
    if det.abs() < 1e-9 {
        return None;
    }
    let s = ray.from - a;
    let u = s.dot(&h) / det;
    let q = s.cross(&e);
    let v = ray.along.dot(&q) / det;
    let d = f.dot(&q) / det;
    (u >= 0.0 && v >= 0.0 && u + v <= 1.0 && d > 0.0).then_some(d)
}

/// Distance (mm) of `p` from the line through `a` and `b`.
fn off_line(p: P3, a: P3, b: P3) -> f64 {
    let e = crate::geom::unit(b - a).unwrap_or_else(V3::z);
    (p - a).cross(&e).norm()
}

/// Distance along the ray to where it passes a segment within `reach` mm.
fn passes(ray: &Ray, a: P3, b: P3, reach: f64) -> Option<f64> {
    let (u, w) = (b - a, a - ray.from);
    let (uu, ud, wd, wu) = (u.norm_squared(), u.dot(&ray.along), w.dot(&ray.along), w.dot(&u));
    let det = uu - ud * ud;
    let s = if det > 1e-9 { ((ud * wd - wu) / det).clamp(0.0, 1.0) } else { 0.0 };
    let on = a + s * u;
    let d = (on - ray.from).dot(&ray.along);
    let off = (on - (ray.from + d * ray.along)).norm();
    (d > 0.0 && off < reach).then_some(d)
}

/// Where a duck goes that is dragged on the stage: in the plane through `from` square to
/// hull axis `axis` (0 aft, 1 out, 2 up), which the eye faces most, so that the coordinate
/// along it stays. `None` if the line of sight runs along that plane.
pub fn drag_on_plane(ray: Ray, from: &Duck, axis: usize) -> Option<Duck> {
    let p = from.point();
    let slope = ray.along[axis];
    if slope.abs() < 0.05 {
        return None;
    }
    let d = (p[axis] - ray.from[axis]) / slope;
    let at = ray.from + d * ray.along;
    Some(Duck { x: at.x, y: at.y.max(0.0), z: at.z, ..*from })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::hull::MemberSide;
    use crate::hull::starters::demonstration;
    use crate::material::Materials;
    use crate::model::derive;
    use crate::part::MemberId;

    const ALL: Shown = Shown { panels: true, members: true, frames: false, port: true, cut: None };

    fn model() -> Model {
        derive(&demonstration(), &Materials::shipped()).expect("the demonstration hull")
    }

    #[test]
    fn looking_square_at_the_middle_of_a_ruling_meets_that_ruling() {
        let m = model();
        for (i, p) in m.panels.iter().enumerate() {
            for k in [p.surface.rulings.len() / 3, p.surface.rulings.len() / 2] {
                let r = &p.surface.rulings[k];
                let at = r.lower + 0.5 * (r.upper - r.lower);
                for side in [1.0, -1.0] {
                    let n = V3::new(r.normal_lower.x, side * r.normal_lower.y, r.normal_lower.z);
                    let eye = P3::new(at.x, side * at.y, at.z) + 3000.0 * n;
                    let hit =
                        pick(&m, Ray { from: eye, along: -n }, ALL).expect("the skin is there");
                    assert_eq!((hit.piece, hit.ruling), (PartId::panel(i), Some(k)), "side {side}");
                    assert!((hit.at.y * side) >= 0.0 && (hit.at.x - at.x).abs() < 1.0);
                    let half = Shown { port: false, ..ALL };
                    let other = pick(&m, Ray { from: eye, along: -n }, half);
                    assert_eq!(other.is_some_and(|h| h.at.y * side > 1.0), side > 0.0);
                }
            }
        }
    }

    #[test]
    fn a_member_is_not_met_through_the_planking() {
        let m = model();
        for p in &m.panels {
            // Just above the chine and just below the sheer, where lumber lies behind.
            let r = &p.surface.rulings[p.surface.rulings.len() / 2];
            for t in [0.03, 0.97] {
                let at = r.lower + t * (r.upper - r.lower);
                let n = r.normal_lower;
                let hit = pick(&m, Ray { from: at + 2000.0 * n, along: -n }, ALL);
                let met = hit.expect("something is there").piece;
                let outside = |i: usize| m.members[i].member.side == MemberSide::Outside;
                let fine = matches!(met, PartId::Panel(_))
                    || matches!(met, PartId::Member(MemberId(i)) if outside(i));
                assert!(fine, "{} at {t}: {met:?}", p.name);
            }
        }
    }

    #[test]
    fn the_transom_is_met_from_astern() {
        let m = model();
        let end = m.lines.lines[2].spline.at(m.lines.lines[2].spline.end());
        let from = P3::new(end.x + 3000.0, 0.3 * end.y, end.z - 120.0);
        let hit = pick(&m, Ray { from, along: -V3::x() }, ALL).expect("the transom");
        assert_eq!(hit.piece, PartId::Transom(AtEnd::Stern));
    }

    #[test]
    fn with_the_skin_away_the_members_are_met() {
        let m = model();
        let bones = Shown { panels: false, port: false, ..ALL };
        for (i, bent) in m.members.iter().enumerate() {
            let a = &bent.along[bent.along.len() / 2];
            // Inside ones from inside, as one stands in her; a rub rail from outside.
            let way = if bent.member.side == MemberSide::Inside { 1.0 } else { -1.0 };
            let along = way * a.outward;
            let ray = Ray { from: bent.middle(a) - 400.0 * along, along };
            assert_eq!(pick(&m, ray, bones).map(|h| h.piece), Some(PartId::member(i)));
        }
    }

    #[test]
    fn what_is_cut_away_is_not_met() {
        let m = model();
        let ray = Ray { from: P3::new(600.0, 3000.0, 300.0), along: -V3::y() };
        assert!(pick(&m, ray, Shown { port: false, ..ALL }).is_some());
        assert_eq!(pick(&m, ray, Shown { port: false, cut: Some(900.0), ..ALL }), None);
    }

    #[test]
    fn a_dragged_duck_keeps_the_coordinate_that_cannot_be_seen() {
        let duck = Duck::at(1500.0, 600.0, 400.0);
        let ray = Ray { from: P3::new(1600.0, 5000.0, 470.0), along: -V3::y() };
        let to = drag_on_plane(ray, &duck, 1).expect("square to it");
        assert!((to.point() - P3::new(1600.0, 600.0, 470.0)).norm() < 1e-9, "{to:?}");
        assert_eq!(drag_on_plane(ray, &duck, 0), None, "along the plane");
    }
}
