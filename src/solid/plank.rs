//! A sheet with its thickness: on the hull, flat on the floor, or anywhere on the way between
//! them.

use super::builder::{Builder, both_sides};
use super::{Corner, Face, Solid};
use crate::flat::unfold::{FloorPlace, Unfolding};
use crate::geom::polyline::bounds;
use crate::geom::{P3, V3, unit};
use crate::model::{Model, PanelModel};

/// Rows of corners between a panel's lower and upper edge, so that the map of bending,
/// which is not even along a ruling, is followed.
const ROWS: usize = 6;
/// Room between sheets laid on the floor, mm.
const APART: f64 = 90.0;
/// A sheet on its way is lifted by at most this share of its breadth, so that it swings
/// over the floor and not through it.
const LIFT: f64 = 0.5;

/// A ruling on the moulded surface of the sheet as it is shown.
struct Shown {
    lower: P3,
    upper: P3,
    normal_lower: V3,
    normal_upper: V3,
}

/// Where each panel's pattern lies on the floor, whose height is `floor` mm: from the
/// centreline outward, the starboard halves; inner faces up.
pub fn floor_places(model: &Model, floor: f64) -> Vec<FloorPlace> {
    let (x0, x1) = model.lines.extent(|p| p.x);
    let mut next = 0.5 * APART;
    model
        .panels
        .iter()
        .map(|p| {
            let corners = p.flat.rulings.iter().flat_map(|r| [r.flat_lower, r.flat_upper]);
            let (low, high) = bounds(corners).unwrap_or_default();
            // A whole bottom lies with its centreline on the boat's.
            let y = if p.full_width { 0.0 } else { next - low.y };
            next = y + high.y + APART;
            FloorPlace {
                x: 0.5 * (x0 + x1) - 0.5 * (low.x + high.x),
                y,
                z: floor + p.thickness - p.pattern_surface.offset(p.thickness),
            }
        })
        .collect()
}

/// The rulings of `p` opened by `share` towards `place`, or as built.
fn rulings(p: &PanelModel, share: f64, place: Option<FloorPlace>) -> Vec<Shown> {
    let Some(place) = place.filter(|_| share > 0.0) else {
        return p
            .surface
            .rulings
            .iter()
            .map(|r| Shown {
                lower: r.lower,
                upper: r.upper,
                normal_lower: r.normal_lower,
                normal_upper: r.normal_upper,
            })
            .collect();
    };
    let offset = p.pattern_surface.offset(p.thickness);
    let breadth = p.flat.rulings.iter().map(|r| (r.upper - r.lower).norm()).fold(0.0, f64::max);
    // A whole bottom stays under her bones.
    let high = if p.full_width { 0.0 } else { LIFT * breadth };
    let lift = high * (std::f64::consts::PI * share).sin() * V3::z();
    Unfolding::of(&p.flat, place)
        .at(share)
        .into_iter()
        .map(|o| {
            let shift = lift - offset * o.normal;
            let (lower, upper) = (o.lower + shift, o.upper + shift);
            Shown { lower, upper, normal_lower: o.normal, normal_upper: o.normal }
        })
        .collect()
}

/// A panel with its thickness: outer face, inner face, and the edge all round; both sides
/// of the boat. `share` is how far it is opened towards `place` on the floor.
pub fn panel(p: &PanelModel, share: f64, place: Option<FloorPlace>) -> Solid {
    let mut out = Builder::default();
    let rulings = rulings(p, share, place);
    let shares = crate::bend::sheet::shares(&p.surface, p.thickness, p.bend.least_radius);
    // The corners at share `t` up every ruling, `offset` mm outward.
    let row = |t: f64, offset: f64, face: Face| -> Vec<Corner> {
        rulings
            .iter()
            .zip(&shares)
            .map(|(r, share)| {
                let n = unit(r.normal_lower.lerp(&r.normal_upper, t)).unwrap_or(r.normal_lower);
                let at = r.lower + t * (r.upper - r.lower) + offset * n;
                let n = if face == Face::Inner { -n } else { n };
                Corner { p: at, n, uv: [share_between(*share, t), face.coordinate(t)] }
            })
            .collect()
    };
    let thick = p.thickness;
    for k in 0..ROWS {
        let (t0, t1) = (k as f64 / ROWS as f64, (k + 1) as f64 / ROWS as f64);
        both_sides(&mut out, &row(t0, thick, Face::Outer), &row(t1, thick, Face::Outer), false);
        both_sides(&mut out, &row(t0, 0.0, Face::Inner), &row(t1, 0.0, Face::Inner), true);
    }
    // The upper and lower edge, with normals along the ruling.
    for (t, flip) in [(1.0, false), (0.0, true)] {
        let (mut outer, mut inner) = (row(t, thick, Face::Edge), row(t, 0.0, Face::Edge));
        for ((a, b), r) in outer.iter_mut().zip(inner.iter_mut()).zip(&rulings) {
            let up = unit(r.upper - r.lower).unwrap_or_else(V3::z);
            a.n = if flip { -up } else { up };
            b.n = a.n;
        }
        both_sides(&mut out, &outer, &inner, flip);
    }
    // The forward and after edge.
    let n = rulings.len();
    for (k, sign) in [(0, -1.0), (n - 1, 1.0)] {
        let r = &rulings[k];
        let along = r.normal_lower.cross(&(r.upper - r.lower));
        let face = unit(along).unwrap_or_else(V3::x) * sign;
        let corner = |p: P3| Corner { p, n: face, uv: [0.0, Face::Edge.coordinate(0.5)] };
        let outer =
            [corner(r.lower + thick * r.normal_lower), corner(r.upper + thick * r.normal_upper)];
        let inner = [corner(r.lower), corner(r.upper)];
        both_sides(&mut out, &outer, &inner, sign > 0.0);
    }
    out.finish()
}

/// Share of the limit at `t` up a ruling: along a ruling the radius changes evenly.
fn share_between([lower, upper]: [f64; 2], t: f64) -> f64 {
    if lower <= 0.0 || upper <= 0.0 {
        return lower + t * (upper - lower);
    }
    1.0 / ((1.0 - t) / lower + t / upper)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::hull::starters::STARTERS;
    use crate::material::Materials;
    use crate::model::derive;

    #[test]
    fn sheets_on_the_floor_lie_side_by_side() {
        for starter in STARTERS {
            let model = derive(&starter.hull(), &Materials::shipped()).expect("a starter");
            let places = floor_places(&model, -50.0);
            let spans: Vec<(f64, f64)> = model
                .panels
                .iter()
                .zip(&places)
                .map(|(p, place)| {
                    let shown = rulings(p, 1.0, Some(*place));
                    assert!(shown.iter().all(|r| (r.lower.z - (-50.0 + p.thickness)).abs() < 1e-6));
                    let ys: Vec<f64> = shown.iter().flat_map(|r| [r.lower.y, r.upper.y]).collect();
                    let least = ys.iter().copied().fold(f64::INFINITY, f64::min);
                    (least, ys.into_iter().fold(f64::NEG_INFINITY, f64::max))
                })
                .collect();
            assert!(spans[0].0 > -1.0, "{}: over the centreline {spans:?}", starter.name);
            for w in spans.windows(2) {
                assert!(w[1].0 > w[0].1 + 0.5 * APART, "{}: {spans:?}", starter.name);
            }
        }
    }
}
