//! Where a plane cuts a panel: a section of the moulded surface.

use super::surface::{Ruling, Surface};
use crate::geom::plane::Plane;
use crate::geom::{P3, V3, unit};

/// A point of a section with the skin's outward normal there.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Crossing {
    /// The point, mm.
    pub point: P3,
    /// Unit outward normal of the moulded surface.
    pub normal: V3,
}

/// An end of a ruling: its place, the skin's normal, and how far it lies from the plane, mm.
type End = (P3, V3, f64);

/// The section of `surface` by `plane`, from its lower edge up, on the surface moved
/// outward by `offset` mm; empty if the plane misses it.
///
/// Crossings with rulings and with the straight pieces of the edges are exact on the
/// strips, so the section is as true as the surface.
pub fn section(surface: &Surface, plane: Plane, offset: f64) -> Vec<P3> {
    crossings(surface, plane, offset).into_iter().map(|c| c.point).collect()
}

/// As [`section`], with normals blended along each ruling and between neighbours.
pub fn crossings(surface: &Surface, plane: Plane, offset: f64) -> Vec<Crossing> {
    let ends = |r: &Ruling| {
        [(r.lower, r.normal_lower), (r.upper, r.normal_upper)].map(|(p, n)| {
            let p = p + offset * n;
            (p, n, plane.distance(p))
        })
    };
    let cross = |found: &mut Vec<Crossing>, (a, na, da): End, (b, nb, db): End| {
        if (da <= 0.0) != (db <= 0.0) {
            let t = da / (da - db);
            let normal = unit(na.lerp(&nb, t)).unwrap_or(na);
            found.push(Crossing { point: a + t * (b - a), normal });
        }
    };
    // Those with rulings first, then those with the edges; each end is looked at once.
    let (mut found, mut on_edges) = (Vec::new(), Vec::new());
    let mut mean = V3::zeros();
    let mut before: Option<[End; 2]> = None;
    for r in &surface.rulings {
        let here @ [lower, upper] = ends(r);
        cross(&mut found, lower, upper);
        if let Some([l, u]) = before {
            cross(&mut on_edges, l, lower);
            cross(&mut on_edges, u, upper);
        }
        before = Some(here);
        mean += r.upper - r.lower;
    }
    found.append(&mut on_edges);
    // In order up the panel: along the rulings' mean direction within the plane.
    let up = mean - mean.dot(&plane.normal) * plane.normal;
    found.sort_by(|a, b| up.dot(&a.point.coords).total_cmp(&up.dot(&b.point.coords)));
    found.dedup_by(|a, b| (a.point - b.point).norm() < crate::tol::SAME_POINT_MM);
    found
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::hull::starters::STARTERS;
    use crate::material::Materials;
    use crate::model::derive;

    /// The section meets the lines where the splines themselves cross the plane.
    #[test]
    fn a_section_runs_from_line_to_line() {
        for starter in STARTERS {
            let model = derive(&starter.hull(), &Materials::shipped()).expect("a starter");
            let middle = 0.5 * model.lines.length_overall();
            let plane = Plane::through(P3::new(middle, 0.0, 0.0), V3::x()).expect("a plane");
            for p in &model.panels {
                let cut = section(&p.surface, plane, 0.0);
                let on = |k: usize| {
                    let s = &model.lines.lines[k].spline;
                    s.at(s.parameter_at_x(middle).expect("amidships"))
                };
                let (first, last) = (cut.first().expect("cut"), cut.last().expect("cut"));
                // The edge between two rulings is a chord of the line: a few hundredths of a mm.
                let off =
                    (first - on(p.lower_line)).norm().max((last - on(p.lower_line + 1)).norm());
                assert!(off < 0.1, "{} {}: {off}", starter.name, p.name);
                assert!(cut.iter().all(|q| (q.x - middle).abs() < 1e-9));
            }
        }
    }
}
