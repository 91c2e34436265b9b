//! A panel on its way from the hull to the floor: every shape in between is the same
//! sheet, bent a little less about each of its rulings.
//!
//! The panel is the strip of triangles that [`super::develop`] lays flat. Between two
//! neighbouring triangles lies a fold; opening the panel by a share turns every fold back
//! by that share and moves no length. At 0 the panel is as on the hull, at 1 it is flat.
//! Source: folding a triangle strip about its edges is rigid origami in its plainest form
//! (do Carmo, Differential Geometry of Curves and Surfaces, 4-2, for the isometry).

use nalgebra::{Isometry3, Matrix3, Rotation3, Translation3, UnitQuaternion};

use super::develop::FlatPanel;
use crate::geom::{P2, P3, V3, unit};
use crate::tol::NO_RULING_MM;

/// A ruling of a panel that is partly opened.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct OpenRuling {
    /// Lower end, mm.
    pub lower: P3,
    /// Upper end, mm.
    pub upper: P3,
    /// Unit normal of the panel there, away from the boat's inside.
    pub normal: V3,
}

/// One triangle of the strip, laid against the edge that it shares with the one before.
#[derive(Debug, Clone, Copy)]
struct Fold {
    /// Indices (2 · ruling for its lower, + 1 for its upper end) of the shared edge.
    edge: [usize; 2],
    /// Index of the corner that this triangle adds.
    corner: usize,
    /// The corner along the edge from its first end, and off it, mm.
    along: f64,
    off: f64,
    /// Signed fold about the edge from the triangle before, radians.
    angle: f64,
}

/// A panel that can be opened to any share.
#[derive(Debug, Clone)]
pub struct Unfolding {
    rulings: usize,
    /// Corners of the first triangle: index and place.
    first: Vec<(usize, P3)>,
    first_normal: V3,
    folds: Vec<Fold>,
    /// Corners that no triangle adds, as they lie on another: (corner, the other).
    twins: Vec<(usize, usize)>,
    /// The ruling that carries the panel.
    carried: usize,
    on_hull: Isometry3<f64>,
    on_floor: Isometry3<f64>,
}

/// Where a pattern lies on the floor: (u, v) is at (x + u, y + v, z), inner face up.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FloorPlace {
    /// Of the pattern's origin, mm.
    pub x: f64,
    /// Of the pattern's origin, mm.
    pub y: f64,
    /// The floor, mm.
    pub z: f64,
}

impl FloorPlace {
    fn of(&self, p: P2) -> P3 {
        P3::new(self.x + p.x, self.y + p.y, self.z)
    }
}

impl Unfolding {
    /// The panel `flat`, to be opened onto the floor at `place`.
    pub fn of(flat: &FlatPanel, place: FloorPlace) -> Unfolding {
        let n = flat.rulings.len();
        let at = |corner: usize| {
            let r = &flat.rulings[corner / 2];
            if corner.is_multiple_of(2) { r.lower } else { r.upper }
        };
        let mut out = Unfolding {
            rulings: n,
            first: Vec::new(),
            first_normal: V3::z(),
            folds: Vec::with_capacity(2 * n),
            twins: Vec::new(),
            carried: n / 2,
            on_hull: Isometry3::identity(),
            on_floor: Isometry3::identity(),
        };
        let mut normal: Option<V3> = None;
        let mut placed = vec![false; 2 * n];
        let mut known: Vec<V3> = vec![V3::z(); n];
        for (k, known) in known.iter_mut().enumerate().skip(1) {
            let (a, b, c, d) = (2 * k - 2, 2 * k - 1, 2 * k, 2 * k + 1);
            // The shorter diagonal, as the development has it.
            let over_lower = (at(c) - at(b)).norm_squared() <= (at(d) - at(a)).norm_squared();
            let triangles =
                if over_lower { [[a, b, c], [c, b, d]] } else { [[a, b, d], [a, d, c]] };
            for [p, q, new] in triangles {
                // At a pointed bow the first ruling has no length: no triangle starts there.
                let Some(e) = (at(q) - at(p)).try_normalize(NO_RULING_MM) else {
                    continue;
                };
                let reach = at(new) - at(p);
                let along = reach.dot(&e);
                let square = reach - along * e;
                let off = square.norm();
                let has_area = off >= NO_RULING_MM;
                // Outward: up the ruling across aft.
                let m = unit(e.cross(&square)).unwrap_or_else(V3::z);
                let Some(before) = normal else {
                    if has_area {
                        out.first = vec![(p, at(p)), (q, at(q)), (new, at(new))];
                        out.first_normal = m;
                        normal = Some(m);
                        for i in [p, q, new] {
                            placed[i] = true;
                        }
                    }
                    continue;
                };
                placed[new] = true;
                // Where a fan's point stands still there is no triangle and no fold.
                let angle = if has_area {
                    normal = Some(m);
                    before.cross(&m).dot(&e).atan2(before.dot(&m))
                } else {
                    0.0
                };
                out.folds.push(Fold { edge: [p, q], corner: new, along, off, angle });
            }
            *known = normal.unwrap_or_else(V3::z);
        }
        for corner in (0..2 * n).filter(|i| !placed[*i]) {
            let near = |j: &usize| placed[*j] && (at(corner) - at(*j)).norm() < 2.0 * NO_RULING_MM;
            let window = corner.saturating_sub(4)..(corner + 5).min(2 * n);
            out.twins.extend(window.clone().find(near).map(|j| (corner, j)));
        }
        out.carry(flat, &known, place);
        out
    }

    /// Chooses the ruling that carries the panel and where it stands at both ends.
    fn carry(&mut self, flat: &FlatPanel, normals: &[V3], place: FloorPlace) {
        let n = self.rulings;
        // The middle one that has a length.
        let length = |k: usize| (flat.rulings[k].upper - flat.rulings[k].lower).norm();
        let by_distance = |k: &usize| k.abs_diff(n / 2);
        self.carried = (1..n).filter(|k| length(*k) > 1.0).min_by_key(by_distance).unwrap_or(n - 1);
        let r = &flat.rulings[self.carried];
        self.on_hull = frame(r.lower, r.upper, normals[self.carried]);
        self.on_floor = frame(place.of(r.flat_lower), place.of(r.flat_upper), -V3::z());
    }

    /// The panel opened by `share`: 0 as on the hull, 1 flat on the floor.
    pub fn at(&self, share: f64) -> Vec<OpenRuling> {
        let kept = 1.0 - share.clamp(0.0, 1.0);
        let mut places = vec![P3::origin(); 2 * self.rulings];
        let mut normals = vec![self.first_normal; self.rulings];
        let mut sums = vec![V3::zeros(); self.rulings];
        for (corner, p) in &self.first {
            places[*corner] = *p;
        }
        let mut normal = self.first_normal;
        for fold in &self.folds {
            let (p, q) = (places[fold.edge[0]], places[fold.edge[1]]);
            if let Some(e) = unit(q - p) {
                let axis = nalgebra::Unit::new_unchecked(e);
                normal = Rotation3::from_axis_angle(&axis, kept * fold.angle) * normal;
                let square = normal.cross(&e);
                places[fold.corner] = p + fold.along * e + fold.off * square;
            }
            // The triangle touches these rulings; the wide ones count for more.
            for corner in [fold.edge[0], fold.edge[1], fold.corner] {
                sums[corner / 2] += fold.off * normal;
            }
            normals[fold.corner / 2] = normal;
        }
        for (corner, twin) in &self.twins {
            places[*corner] = places[*twin];
        }
        let (lower, upper) = (places[2 * self.carried], places[2 * self.carried + 1]);
        let built = frame(lower, upper, normals[self.carried]);
        let stands = Isometry3::from_parts(
            Translation3::from(
                self.on_hull.translation.vector.lerp(&self.on_floor.translation.vector, 1.0 - kept),
            ),
            self.on_hull.rotation.slerp(&self.on_floor.rotation, 1.0 - kept),
        );
        let move_there = stands * built.inverse();
        (0..self.rulings)
            .map(|k| OpenRuling {
                lower: move_there * places[2 * k],
                upper: move_there * places[2 * k + 1],
                normal: move_there * unit(sums[k]).unwrap_or(normals[k]),
            })
            .collect()
    }
}

/// The frame at a ruling: its origin the lower end, x up the ruling, z along the normal.
fn frame(lower: P3, upper: P3, normal: V3) -> Isometry3<f64> {
    let x = unit(upper - lower).unwrap_or_else(V3::x);
    let z = unit(normal - normal.dot(&x) * x).unwrap_or_else(V3::z);
    let y = z.cross(&x);
    let turned = Rotation3::from_matrix_unchecked(Matrix3::from_columns(&[x, y, z]));
    Isometry3::from_parts(Translation3::from(lower.coords), UnitQuaternion::from(turned))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::flat::develop;
    use crate::hull::starters::STARTERS;
    use crate::material::Materials;
    use crate::model::derive;
    use crate::panel::{EdgeKind, Ruling, Surface};

    /// At a pointed bow rulings shorter than `NO_RULING_MM` have no direction: what hangs on
    /// them is a few thousandths off.
    const CLOSE_MM: f64 = 0.01;

    const PLACE: FloorPlace = FloorPlace { x: 30.0, y: 400.0, z: -20.0 };

    #[test]
    fn every_shape_in_between_keeps_every_length() {
        for starter in STARTERS {
            let model = derive(&starter.hull(), &Materials::shipped()).expect("a starter");
            for p in &model.panels {
                let unfolding = Unfolding::of(&p.flat, PLACE);
                for share in [0.0, 0.13, 0.5, 0.9, 1.0] {
                    let open = unfolding.at(share);
                    for (k, (r, o)) in p.flat.rulings.iter().zip(&open).enumerate() {
                        let same = |a: P3, b: P3, c: P3, d: P3| {
                            let off = ((b - a).norm() - (d - c).norm()).abs();
                            assert!(
                                off < 1e-6,
                                "{} {} {k} at {share}: {off}",
                                starter.name,
                                p.name
                            );
                        };
                        same(r.lower, r.upper, o.lower, o.upper);
                        if let (Some(s), Some(t)) = (p.flat.rulings.get(k + 1), open.get(k + 1)) {
                            same(r.lower, s.lower, o.lower, t.lower);
                            same(r.upper, s.upper, o.upper, t.upper);
                        }
                    }
                }
            }
        }
    }

    #[test]
    fn it_starts_on_the_hull_and_ends_as_the_pattern() {
        for starter in STARTERS {
            let model = derive(&starter.hull(), &Materials::shipped()).expect("a starter");
            for p in &model.panels {
                let unfolding = Unfolding::of(&p.flat, PLACE);
                for (r, o) in p.flat.rulings.iter().zip(unfolding.at(0.0)) {
                    let off = (r.lower - o.lower).norm().max((r.upper - o.upper).norm());
                    assert!(off < CLOSE_MM, "{} {}: {off} from the hull", starter.name, p.name);
                }
                for (r, o) in p.flat.rulings.iter().zip(unfolding.at(1.0)) {
                    let (a, b) = (PLACE.of(r.flat_lower), PLACE.of(r.flat_upper));
                    let off = (a - o.lower).norm().max((b - o.upper).norm());
                    assert!(off < CLOSE_MM, "{} {}: {off} from the pattern", starter.name, p.name);
                    assert!(o.normal.z < -0.999, "inner face up: {}", o.normal);
                }
            }
        }
    }

    /// A cylinder of radius R opened half way is a cylinder of radius 2R: closed form.
    #[test]
    fn a_cylinder_opened_by_half_has_twice_the_radius() {
        let (radius, count) = (800.0, 90);
        let rulings = (0..=count)
            .map(|k| {
                let a = 0.9 * f64::from(k) / f64::from(count);
                let (x, z) = (radius * a.sin(), -radius * a.cos());
                let normal = V3::new(a.sin(), 0.0, -a.cos());
                Ruling {
                    u: 0.0,
                    v: 0.0,
                    lower: P3::new(x, 0.0, z),
                    upper: P3::new(x, 500.0, z),
                    lower_on: EdgeKind::Line,
                    upper_on: EdgeKind::Line,
                    normal_lower: normal,
                    normal_upper: normal,
                    warp: 0.0,
                }
            })
            .collect();
        let flat = develop(&Surface { rulings }, 0.0);
        let open = Unfolding::of(&flat, PLACE).at(0.5);
        // Three points of the lower edge give the radius of the circle through them.
        let (a, b, c) = (open[0].lower, open[45].lower, open[90].lower);
        let (p, q, r) = ((b - a).norm(), (c - b).norm(), (c - a).norm());
        let area = 0.5 * (b - a).cross(&(c - a)).norm();
        let found = p * q * r / (4.0 * area);
        assert!((found - 2.0 * radius).abs() < 0.1, "{found}");
        // And every ruling stays square to the edge.
        for o in &open {
            assert!((o.upper - o.lower).dot(&(c - a)).abs() < 1e-6 * 500.0 * r);
        }
    }
}
