//! How the sticks of the hull end: where chine logs and clamps land on the stem's sides and
//! on the transom's inner face, and how their ends are cut to lie there.
//!
//! A stick runs along t, its width along w in the skin, its depth against the outward normal
//! n. Cut by a plane whose normal is c, its end leaves square by atan(c·w / c·t) across the
//! face that lies on the skin and by atan(c·n / c·t) across its edge. On the stem c is
//! athwartships and the plane is the stem's side; on a transom c is its normal.

use super::notch::{Pose, let_down};
use super::section::{Across, Skin};
use crate::bend::BentMember;
use crate::geom::plane::Plane;
use crate::geom::{P2, P3, V3, unit};
use crate::hull::MemberSide;
use crate::hull::lumber::Member;

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

/// A stick where its line has run `at` mm from the bow.
struct Stick {
    pose: Pose,
    /// From and to along the skin.
    spread: [f64; 2],
}

impl Stick {
    fn at(skin: &Skin, bent: &BentMember, k: usize, at: f64) -> Option<Stick> {
        let i = bent.along.partition_point(|a| a.at <= at).clamp(1, bent.along.len().max(2) - 1);
        let (a, b) = (bent.along.get(i - 1)?, bent.along.get(i)?);
        let t = ((at - a.at) / (b.at - a.at).max(1e-9)).clamp(0.0, 1.0);
        let point = a.point + t * (b.point - a.point);
        let tangent = unit(a.tangent.lerp(&b.tangent, t))?;
        let n = a.outward.lerp(&b.outward, t);
        let n = unit(n - n.dot(&tangent) * tangent)?;
        let last = skin.lines.lines.len() - 1;
        let up = n.cross(&tangent) * if n.cross(&tangent).z >= 0.0 { 1.0 } else { -1.0 };
        let along_skin = if k == last { -up } else { up };
        let pose = Pose { point, tangent, along_skin, inward: -n, twist: 0.0 };
        let m = &bent.member;
        let below = (k > 0 && k < last).then(|| normal_below(skin, k - 1, point)).flatten();
        let wanted = below.map_or(0.0, |n| (-pose.reach_other(n, m.moulded_mm)).max(0.0));
        let down = let_down(wanted / m.moulded_mm, m.moulded_mm, m.sided_mm);
        Some(Stick { pose, spread: [-down, m.sided_mm - down] })
    }

    /// Outer then inner face, each from the line's side on.
    fn corners(&self, moulded: f64) -> [P3; 4] {
        let [from, to] = self.spread;
        [(from, 0.0), (to, 0.0), (to, moulded), (from, moulded)]
            .map(|(a, d)| self.pose.point + a * self.pose.along_skin + d * self.pose.inward)
    }

    fn middle(&self, moulded: f64) -> P3 {
        self.pose.point
            + 0.5 * (self.spread[0] + self.spread[1]) * self.pose.along_skin
            + 0.5 * moulded * self.pose.inward
    }

    /// The cut in `plane`; `flat` lays a point of the plane out, `forward` is the way off the
    /// end, +1 along the line at the stern and −1 at the bow.
    fn cut(
        &self,
        (index, m): (usize, &Member),
        plane: Plane,
        flat: impl Fn(P3) -> P2,
        (off_end, to_end): (f64, f64),
    ) -> Option<EndCut> {
        let (t, c) = (self.pose.tangent, plane.normal);
        let square = c.dot(&t);
        if square.abs() < 1e-3 {
            return None;
        }
        // How far each corner still runs along the line to the plane.
        let run = |p: P3| -plane.distance(p) / square;
        let corners = self.corners(m.moulded_mm);
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
}

/// Normal of the panel below a line, at the point of its upper edge nearest to `p`.
fn normal_below(skin: &Skin, panel: usize, p: P3) -> Option<V3> {
    skin.panels[panel]
        .surface
        .upper_edge()
        .min_by(|a, b| (a.upper - p).norm_squared().total_cmp(&(b.upper - p).norm_squared()))
        .map(|r| r.normal_upper)
}

/// Inside members along chines and sheer, with the index of their line.
fn sticks<'a>(
    skin: &'a Skin,
    members: &'a [BentMember],
) -> impl Iterator<Item = (usize, &'a BentMember, usize)> {
    members.iter().enumerate().filter_map(|(i, b)| {
        let k = skin.lines.lines.iter().position(|l| l.name == b.member.line)?;
        (k > 0 && b.member.side == MemberSide::Inside).then_some((i, b, k))
    })
}

/// Ends of the sticks on the starboard side of a stem `sided` mm wide.
pub fn on_stem(skin: &Skin, members: &[BentMember], sided: f64, at_stern: bool) -> Vec<EndCut> {
    let half = 0.5 * sided;
    let plane = Plane { normal: V3::y(), offset: half };
    let off_end = if at_stern { 1.0 } else { -1.0 };
    sticks(skin, members)
        .filter_map(|(i, bent, k)| {
            let m = &bent.member;
            // From the end on, the first place where the stick's middle is so far out.
            let outside =
                |at: f64| Stick::at(skin, bent, k, at).map(|s| s.middle(m.moulded_mm).y - half);
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
                    let stick = Stick::at(skin, bent, k, at)?;
                    let profile = |p: P3| P2::new(p.x, p.z);
                    return stick.cut((i, m), plane, profile, (off_end, to_end));
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
        .filter_map(|(i, bent, k)| {
            let line = &skin.lines.lines[k];
            let at = super::notch::line_at(line, inner)
                .map(|t| line.arc.length_at(&line.spline, t))
                .unwrap_or(if at_bow { 0.0 } else { bent.length });
            let to_end = if at_bow { at } else { bent.length - at };
            let stick = Stick::at(skin, bent, k, at)?;
            stick.cut((i, &bent.member), inner.plane, |p| inner.flat(p), (off_end, to_end))
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
        let pose = Pose {
            point: P3::new(60.0, 60.0 * sin / cos, 0.0),
            tangent: V3::new(cos, sin, 0.0),
            along_skin: V3::z(),
            inward: V3::new(sin, -cos, 0.0),
            twist: 0.0,
        };
        let stick = Stick { pose, spread: [0.0, 38.0] };
        let log = &crate::hull::lumber::default_members()[1];
        let plane = Plane { normal: V3::y(), offset: 19.0 };
        let cut = stick
            .cut((0, log), plane, |p| P2::new(p.x, p.z), (-1.0, 60.0 / cos))
            .expect("it meets the stem");
        assert!((cut.across_edge.to_degrees() - 60.0).abs() < 1e-9);
        assert!((cut.edge_runs - 19.0 * 3f64.sqrt()).abs() < 1e-9);
        assert!(cut.face_runs.abs() < 1e-9);
        // The outer face meets y = 19 where the line has run 19 / sin 30° = 38 mm.
        assert!((cut.short - 38.0).abs() < 1e-9);
        assert!((cut.corners[0].x - 19.0 / a.tan()).abs() < 1e-9);
    }
}
