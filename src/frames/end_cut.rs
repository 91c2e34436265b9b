//! How the sticks of the hull end: where chine logs and clamps land on the stem's sides and
//! on the transom's inner face, and how their ends are cut to lie there.
//!
//! A stick runs along t, its width along w in the skin, its depth against the outward normal
//! n. Cut by a plane whose normal is c, its end leaves square by atan(c·w / c·t) across the
//! face that lies on the skin and by atan(c·n / c·t) across its edge. On the stem c is
//! athwartships and the plane is the stem's side; on a transom c is its normal.

use super::section::{Across, Skin};
use crate::bend::{BentMember, Lie};
use crate::geom::plane::Plane;
use crate::geom::{P2, P3, V3};
use crate::hull::lumber::Member;
use crate::hull::{HullLine, MemberSide};

/// How one end of a stick is cut, and where it lands.
#[derive(Debug, Clone, PartialEq)]
pub struct EndCut {
    /// Index of the member among the model's members.
    pub member: usize,
    /// Its name.
    pub name: String,
    /// Where its end meets the plane, in the plane: (aft, up) on a stem's side, (out, up) on a
    /// transom, mm. Outer then inner face, each from the line's side on.
    pub corners: [P2; 4],
    /// Angle from square across the face that lies on the skin, radians: positive where the
    /// edge away from its line is the longer.
    pub across_face: f64,
    /// What that is over its width, mm.
    pub face_runs: f64,
    /// Angle from square across its edge, radians: positive where the face on the skin is the
    /// longer.
    pub across_edge: f64,
    /// What that is over its depth, mm.
    pub edge_runs: f64,
    /// How far short of the end of its line the stick's longest corner ends, mm along it;
    /// negative where it runs past.
    pub short: f64,
}

/// The cut of a stick in `plane`; `flat` lays a point of the plane out, `off_end` is the way off
/// the end, +1 along the line at the stern and −1 at the bow.
fn cut(
    lie: &Lie,
    (index, m): (usize, &Member),
    plane: Plane,
    flat: impl Fn(P3) -> P2,
    (off_end, to_end): (f64, f64),
) -> Option<EndCut> {
    let (t, c) = (lie.tangent, plane.normal);
    let square = c.dot(&t);
    if square.abs() < 1e-3 {
        return None;
    }
    // How far each corner still runs along the line to the plane.
    let run = |p: P3| -plane.distance(p) / square;
    let corners = lie.faces();
    let reach = corners.map(|p| off_end * run(p));
    // Over the width on the outer face, over the depth at the line's side.
    let (over_width, over_depth) = (reach[1] - reach[0], reach[0] - reach[3]);
    let longest = reach.into_iter().fold(f64::NEG_INFINITY, f64::max);
    Some(EndCut {
        member: index,
        name: m.name.clone(),
        corners: corners.map(|p| flat(p + run(p) * t)),
        across_face: (over_width / m.sided_mm).atan(),
        face_runs: over_width,
        across_edge: (over_depth / m.moulded_mm).atan(),
        edge_runs: over_depth,
        short: to_end - longest,
    })
}

/// Inside members along chines and sheer, with their line.
fn sticks<'a>(
    skin: &'a Skin,
    members: &'a [BentMember],
) -> impl Iterator<Item = (usize, &'a BentMember, &'a HullLine)> {
    members.iter().enumerate().filter_map(|(i, b)| {
        let k = skin.lines.lines.iter().position(|l| b.member.follows(l.id))?;
        (k > 0 && b.member.side == MemberSide::Inside).then_some((i, b, &skin.lines.lines[k]))
    })
}

/// Ends of the sticks on the starboard side of a stem `sided` mm wide.
pub fn on_stem(skin: &Skin, members: &[BentMember], sided: f64, at_stern: bool) -> Vec<EndCut> {
    let half = 0.5 * sided;
    let plane = Plane { normal: V3::y(), offset: half };
    let off_end = if at_stern { 1.0 } else { -1.0 };
    sticks(skin, members)
        .filter_map(|(i, bent, line)| {
            let m = &bent.member;
            let lie = |at: f64| bent.lie(line, line.arc.parameter_at(&line.spline, at));
            // From the end on, the first place where the stick's middle is so far out.
            let outside = |at: f64| lie(at).map(|l| l.middle().y - half);
            let mut places: Vec<f64> = bent.along.iter().map(|a| a.at).collect();
            if at_stern {
                places.reverse();
            }
            let mut before: Option<(f64, f64)> = None;
            for at in places {
                let here = outside(at)?;
                if here >= 0.0 {
                    // Linear between two places a few centimetres apart.
                    let at = match before {
                        Some((b, f)) if f < 0.0 => b + (at - b) * f / (f - here),
                        _ => at,
                    };
                    let to_end = if at_stern { bent.length - at } else { at };
                    let profile = |p: P3| P2::new(p.x, p.z);
                    return cut(&lie(at)?, (i, m), plane, profile, (off_end, to_end));
                }
                before = Some((at, here));
            }
            None
        })
        .collect()
}

/// Ends of the sticks on the inner face of a transom, whose plane is `inner`.
pub fn on_transom(
    skin: &Skin,
    members: &[BentMember],
    inner: &Across,
    at_bow: bool,
) -> Vec<EndCut> {
    let off_end = if at_bow { -1.0 } else { 1.0 };
    sticks(skin, members)
        .filter_map(|(i, bent, line)| {
            let end = if at_bow { 0.0 } else { line.spline.end() };
            let t = super::notch::line_at(line, inner).unwrap_or(end);
            let at = line.arc.length_at(&line.spline, t);
            let to_end = if at_bow { at } else { bent.length - at };
            let flat = |p: P3| inner.flat(p);
            cut(&bent.lie(line, t)?, (i, &bent.member), inner.plane, flat, (off_end, to_end))
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A stick along a straight line in plan at 30° to the centreplane, upright in section,
    /// ends on a stem's side: across its edge the cut leaves square by 60° (19 mm deep:
    /// 19 tan 60° = 32.9 mm), across its face not at all.
    #[test]
    fn a_level_stick_on_a_stem_by_hand() {
        let a = 30f64.to_radians();
        let (sin, cos) = a.sin_cos();
        let point = P3::new(60.0, 60.0 * sin / cos, 0.0);
        let lie = Lie {
            point,
            seat: point,
            tangent: V3::new(cos, sin, 0.0),
            outward: V3::new(-sin, cos, 0.0),
            up: V3::z(),
            spread: [0.0, 38.0],
            deep: [0.0, -19.0],
            twist: 0.0,
            let_down: 0.0,
            wanted_let_down: 0.0,
        };
        let log = &crate::hull::lumber::default_members()[1];
        let plane = Plane { normal: V3::y(), offset: 19.0 };
        let cut = cut(&lie, (0, log), plane, |p| P2::new(p.x, p.z), (-1.0, 60.0 / cos))
            .expect("it meets the stem");
        assert!((cut.across_edge.to_degrees() - 60.0).abs() < 1e-9);
        assert!((cut.edge_runs - 19.0 * 3f64.sqrt()).abs() < 1e-9);
        assert!(cut.face_runs.abs() < 1e-9);
        // The outer face meets y = 19 where the line has run 19 / sin 30° = 38 mm.
        assert!((cut.short - 38.0).abs() < 1e-9);
        assert!((cut.corners[0].x - 19.0 / a.tan()).abs() < 1e-9);
    }
}
