//! Members along the hull's lines: bent on the skin, and seated inside or outside of it.

use super::panels::Panels;
use super::{Model, PanelModel, Recomputed};
use crate::bend::darboux::{self, Curvatures, NormalsAlong};
use crate::bend::{BentMember, member};
use crate::flat::outside::Outside;
use crate::geom::{V3, unit};
use crate::hull::{Hull, HullLines, MemberSide};
use crate::material::Materials;
use crate::tol::SAME_POINT_MM;

/// Places along a keel at which its own normal is taken; a twentieth of a degree apart.
const KEEL_NORMALS: usize = 200;

/// Every member that follows a line which the hull has, bent, judged and seated on the skin;
/// one that lies as it did in the model `before` is taken over from it.
pub(super) fn members(
    hull: &Hull,
    lines: &HullLines,
    Panels { panels, same }: &Panels,
    materials: &Materials,
    before: Option<&Model>,
    count: &mut Recomputed,
) -> Vec<BentMember> {
    // Several members may follow one line: its curvatures are found once.
    let mut found: Vec<Option<Vec<Curvatures>>> = vec![None; lines.lines.len()];
    hull.members
        .iter()
        .filter_map(|m| {
            let k = lines.lines.iter().position(|l| m.follows(l.id))?;
            let wood = materials.wood(&m.species)?;
            let line = &lines.lines[k];
            let lies_as_before = |b: &Model| {
                // One outside lies where the outer faces of both neighbours meet, one inside is
                // let down as far as their corner opens.
                let host = k.saturating_sub(1)..(k + 1).min(panels.len());
                b.lines.lines.get(k) == Some(line)
                    && b.lines.flat_bottom == lines.flat_bottom
                    && b.panels.len() == panels.len()
                    && same[host].iter().all(|s| *s)
                    && b.hull.planking.laps == hull.planking.laps
                    && b.materials.wood(&m.species) == Some(wood)
            };
            let old = before
                .filter(|b| lies_as_before(b))
                .and_then(|b| b.members.iter().find(|o| o.path.is_none() && o.member == *m));
            if let Some(old) = old {
                return Some(old.clone());
            }
            count.members += 1;
            let length = line.arc.length();
            let curvatures = found[k].get_or_insert_with(|| {
                let normals = host_normals(lines, panels, k);
                darboux::along(&line.spline, &line.arc, &normals, member::pieces(length))
            });
            let mut bent = member::bend(m, wood, length, curvatures);
            match m.side {
                MemberSide::Outside => seat_outside(&mut bent, lines, panels, k),
                MemberSide::Inside => seat_inside(&mut bent, lines, panels, k),
            }
            Some(bent)
        })
        .collect()
}

/// Whether members lie alike: all that what is sawn and weighed asks of them.
pub(super) fn lie_alike(a: &[BentMember], b: &[BentMember]) -> bool {
    a.len() == b.len()
        && a.iter().zip(b).all(|(a, b)| {
            a.member == b.member && a.along == b.along && a.path == b.path && a.open == b.open
        })
}

/// Moves a stick that lies outside from line `k` to the outer corner of the planking there.
fn seat_outside(bent: &mut BentMember, lines: &HullLines, panels: &[PanelModel], k: usize) {
    let surfaces: Vec<_> = panels.iter().map(|p| &*p.surface).collect();
    let thicknesses: Vec<f64> = panels.iter().map(|p| p.thickness).collect();
    let role = panels.get(k).map(|p| p.laps.lower.role);
    let Some(outside) = Outside::of(lines, &surfaces, &thicknesses, k, role) else {
        return;
    };
    let line = &lines.lines[k];
    for a in &mut bent.along {
        let share = line.arc.parameter_at(&line.spline, a.at) / line.spline.end();
        a.seat = a.point + outside.from_line(share, a.outward, a.tangent);
    }
}

/// Lets a stick that lies inside on a chine down to where the corner of its panels asks it.
fn seat_inside(bent: &mut BentMember, lines: &HullLines, panels: &[PanelModel], k: usize) {
    let (line, Some(above)) = (&lines.lines[k], panels.get(k).filter(|_| k > 0)) else {
        return;
    };
    let open = above.surface.rulings.iter().zip(&above.laps.lower.open);
    bent.open = open
        .filter(|(_, open)| open.is_finite())
        .map(|(r, open)| (line.arc.length_at(&line.spline, r.u * line.spline.end()), *open))
        .collect();
    for i in 0..bent.along.len() {
        let a = bent.along[i];
        bent.along[i].seat = a.point - bent.let_down(a.at) * a.up();
    }
}

/// The skin's normals along line `k`: those of the panel above it, at the sheer of the one
/// below. On the keel of a V-bottom the member lies in the centreplane between both
/// bottoms, so its normal is the line's own, square to it and downward.
fn host_normals(lines: &HullLines, panels: &[PanelModel], k: usize) -> NormalsAlong {
    let line = &lines.lines[k];
    if k == 0 && !lines.flat_bottom {
        let spline = &line.spline;
        return (0..=KEEL_NORMALS)
            .filter_map(|i| {
                let t = spline.end() * i as f64 / KEEL_NORMALS as f64;
                let d = spline.jet(t).d1;
                Some((line.arc.length_at(spline, t), unit(V3::new(d.z, 0.0, -d.x))?))
            })
            .collect();
    }
    let edge: Vec<(f64, V3)> = match panels.get(k) {
        Some(above) => above.surface.lower_edge().map(|r| (r.u, r.normal_lower)).collect(),
        None => panels[k - 1].surface.upper_edge().map(|r| (r.v, r.normal_upper)).collect(),
    };
    let mut normals: NormalsAlong = Vec::with_capacity(edge.len());
    for (share, n) in edge {
        let s = line.arc.length_at(&line.spline, share * line.spline.end());
        match normals.last_mut() {
            // A fan about this point turns the skin while the member stands still: at an
            // end the member takes the direction in which it leaves, elsewhere the middle.
            Some((before, kept)) if s - *before < SAME_POINT_MM => {
                if *before < SAME_POINT_MM {
                    *kept = n;
                } else if s < line.arc.length() - SAME_POINT_MM {
                    *kept += n;
                }
            }
            _ => normals.push((s, n)),
        }
    }
    for (_, n) in &mut normals {
        *n = unit(*n).unwrap_or(*n);
    }
    normals
}
