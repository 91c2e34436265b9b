//! Where a plane cuts a panel: a section of the moulded surface.

use super::surface::Surface;
use crate::geom::plane::Plane;
use crate::geom::strips::{self, End};
use crate::geom::{P3, V3, unit};

/// A point of a section with the skin's outward normal there.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Crossing {
    /// The point, mm.
    pub point: P3,
    /// Unit outward normal of the moulded surface.
    pub normal: V3,
}

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
    let end = |(k, upper): End| {
        let r = &surface.rulings[k];
        let (p, n) = if upper { (r.upper, r.normal_upper) } else { (r.lower, r.normal_lower) };
        (p + offset * n, n)
    };
    let sides = |k| [false, true].map(|upper| plane.distance(end((k, upper)).0));
    // Of points that are the same those with rulings are kept.
    let (rungs, edges): (Vec<_>, Vec<_>) =
        strips::crossings(surface.rulings.len(), sides).into_iter().partition(|c| c.on_rung());
    let place = |c: strips::Crossing| {
        let [(a, na), (b, nb)] = c.ends.map(end);
        let normal = unit(na.lerp(&nb, c.share)).unwrap_or(na);
        Crossing { point: a + c.share * (b - a), normal }
    };
    let mut found: Vec<Crossing> = rungs.into_iter().chain(edges).map(place).collect();
    // In order up the panel: along the rulings' mean direction within the plane.
    let mean: V3 = surface.rulings.iter().map(|r| r.upper - r.lower).sum();
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
