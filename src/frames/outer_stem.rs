//! The outer stem: where the sides run past the inner stem they are planed with it to a flat,
//! and a length of lumber is glued on to the flat.
//!
//! Square to the stem's line let α be the half angle, h the half-siding, t the planking's
//! thickness. On the line the outer faces of both sides stand h + t / cos α from the
//! centreplane. An outer stem of width W wants a flat of that width: it lies
//! (W/2 − h − t / cos α) / tan α behind the line. The outer stem's own sides run on in the
//! planking's faces, at α, until its front is as narrow as the builder asks, and from there
//! on they run parallel.

use super::pieces::{extent, half_plane};
use super::section::Skin;
use super::stem::StemBevel;
use crate::geom::plane::Plane;
use crate::geom::polyline::{area, length2};
use crate::geom::region::Region;
use crate::geom::{P2, P3, V2, V3};
use crate::hull::StemPlan;

/// The outer stem at one height.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct OuterSection {
    /// The place on the stem's line: (aft, up), mm.
    pub at: P2,
    /// How far behind that line the flat lies, mm.
    pub planed: f64,
    /// Width over both sides where they are planed, mm: more than the outer stem's where it is
    /// too narrow to cover their edges.
    pub flat_width: f64,
    /// Bevel of its sides from square, radians: the planking's half angle.
    pub bevel: f64,
    /// How far forward from its back that bevel runs, mm.
    pub bevel_runs: f64,
    /// Width of its front, mm.
    pub front: f64,
}

/// An outer stem.
#[derive(Debug, Clone, PartialEq)]
pub struct OuterStem {
    /// From the foot up.
    pub sections: Vec<OuterSection>,
    /// Its back, the flat, from foot to head: (aft, up), mm.
    pub back: Vec<P2>,
    /// Its blank: (aft, up), mm.
    pub outline: Vec<P2>,
    /// Length along its back, mm.
    pub length: f64,
    /// Width of the board for the blank, mm.
    pub board_width: f64,
    /// Length of board, mm.
    pub board_length: f64,
    /// Whether a board of the builder's is that wide.
    pub wide_enough: bool,
    /// Wood in it once it is bevelled, mm³.
    pub volume: f64,
}

impl OuterStem {
    /// The plane of its front beside a point of the stem's line, `moulded` mm ahead of its back:
    /// sticks that run out over its sides are sawn off there. `None` for a back without length.
    pub fn front(&self, near: P3, moulded: f64, at_stern: bool) -> Option<Plane> {
        let off = |p: &P2| (p.x - near.x).hypot(p.y - near.z);
        let pieces = self.back.windows(2);
        let beside = pieces.min_by(|a, b| {
            let of = |w: &[P2]| off(&w[0]) + off(&w[1]);
            of(a).total_cmp(&of(b))
        })?;
        let e = (beside[1] - beside[0]).try_normalize(1e-9)?;
        let aft = if at_stern { -1.0 } else { 1.0 };
        let square = V2::new(e.y, -e.x);
        let out = if square.x * aft >= 0.0 { -square } else { square };
        let at = beside[0] + moulded * out;
        Plane::through(P3::new(at.x, 0.0, at.y), V3::new(out.x, 0.0, out.y))
    }
}

/// The outer stem over `bevels`, those of the stem from its foot up; `keel` is the way of the
/// keel there and `bottom` how far below it the bottom's outside lies, mm.
pub(super) fn outer_stem(
    skin: &Skin,
    plan: &StemPlan,
    widths: &[f64],
    (bevels, half_siding): (&[StemBevel], f64),
    at_stern: bool,
    (keel, bottom): (V2, f64),
) -> Option<OuterStem> {
    if bevels.len() < 2 {
        return None;
    }
    let sections: Vec<OuterSection> = bevels
        .iter()
        .map(|b| section(plan, b, half_siding, skin.panels[b.panel].thickness))
        .collect();
    let n = sections.len();
    let aft = if at_stern { -1.0 } else { 1.0 };
    let way = |i: usize| {
        let (a, b) = (sections[i.saturating_sub(1)].at, sections[(i + 1).min(n - 1)].at);
        (b - a).try_normalize(1e-9).unwrap_or_else(V2::y)
    };
    let inward = |i: usize| {
        let e = way(i);
        let v = V2::new(e.y, -e.x);
        if v.x * aft >= 0.0 { v } else { -v }
    };
    let back: Vec<P2> = (0..n).map(|i| sections[i].at + sections[i].planed * inward(i)).collect();
    let front: Vec<P2> = (0..n).map(|i| back[i] - plan.outer_moulded_mm * inward(i)).collect();
    let over = plan.over_mm * way(n - 1);
    // The foot runs on below and is cut off level with the bottom's outside.
    let below = -(2.0 * plan.outer_moulded_mm + sections[0].planed + 2.0 * bottom) * way(0);
    let mut ring: Vec<P2> = vec![back[0] + below];
    ring.extend(&back);
    ring.push(back[n - 1] + over);
    ring.push(front[n - 1] + over);
    ring.extend(front.iter().rev());
    ring.push(front[0] + below);
    let whole = Region::of(&ring);
    let outline = match keel.try_normalize(1e-9) {
        Some(k) => {
            let up = V2::new(-k.y, k.x) * k.x.signum();
            whole.and(&half_plane(sections[0].at - bottom * up, up)).largest()
        }
        None => whole.largest(),
    };
    if outline.len() < 3 {
        return None;
    }
    let chord = (back[n - 1] - back[0]).try_normalize(1e-9)?;
    let needed = extent(&outline, V2::new(-chord.y, chord.x));
    let fits = super::stem::board_for(needed, widths);
    // The share of its squared blank that the bevels leave, weighted by length.
    let share = |s: &OuterSection| {
        let run = s.bevel_runs / plan.outer_moulded_mm;
        let front = s.front / plan.outer_sided_mm;
        0.5 * (1.0 + front) * run + front * (1.0 - run)
    };
    let (mut left, mut along) = (0.0, 0.0);
    for (i, w) in back.windows(2).enumerate() {
        let step = (w[1] - w[0]).norm();
        left += 0.5 * step * (share(&sections[i]) + share(&sections[i + 1]));
        along += step;
    }
    Some(OuterStem {
        length: length2(&back),
        board_width: fits.unwrap_or(needed),
        board_length: extent(&outline, chord),
        wide_enough: fits.is_some(),
        volume: area(&outline).abs() * plan.outer_sided_mm * left / along.max(1e-9),
        sections,
        back,
        outline,
    })
}

/// The outer stem where the planking, `thickness` mm thick, leaves at bevel `b`.
fn section(plan: &StemPlan, b: &StemBevel, half_siding: f64, thickness: f64) -> OuterSection {
    let tan = b.half_angle.tan().max(1e-3);
    let on_line = half_siding + thickness / b.half_angle.cos().max(1e-3);
    let half = 0.5 * plan.outer_sided_mm;
    // No more is planed away than there is of the stem behind the line.
    let planed = ((half - on_line) / tan).max(0.0).min(plan.moulded_mm);
    let nose = 0.5 * plan.outer_front_mm.min(plan.outer_sided_mm);
    let bevel_runs = ((half - nose) / tan).min(plan.outer_moulded_mm);
    OuterSection {
        at: b.at,
        planed,
        flat_width: 2.0 * (on_line + planed * tan),
        bevel: b.half_angle,
        bevel_runs,
        front: 2.0 * (half - bevel_runs * tan),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Sides 6 mm thick at 30°: on the line 6 / cos 30° = 6.93 mm out. A flat of 25 mm lies
    /// (12.5 − 6.93) / tan 30° = 9.65 mm behind it; a nose of 12 mm is reached
    /// 6.5 / tan 30° = 11.26 mm ahead of the back.
    #[test]
    fn a_flat_and_its_bevel_by_hand() {
        let plan = StemPlan {
            outer_sided_mm: 25.0,
            outer_moulded_mm: 19.0,
            outer_front_mm: 12.0,
            ..StemPlan::default()
        };
        let b = StemBevel {
            at: P2::origin(),
            half_angle: 30f64.to_radians(),
            land: 0.0,
            back: 0.0,
            panel: 0,
        };
        let s = section(&plan, &b, 0.0, 6.0);
        let tan = 30f64.to_radians().tan();
        assert!((s.planed - (12.5 - 6.0 / 30f64.to_radians().cos()) / tan).abs() < 1e-9);
        assert!((s.flat_width - 25.0).abs() < 1e-9);
        assert!((s.bevel_runs - 6.5 / tan).abs() < 1e-9 && (s.front - 12.0).abs() < 1e-9);
        // One too narrow for the sides' edges: nothing is planed behind the line.
        let narrow = StemPlan { outer_sided_mm: 10.0, ..plan };
        let s = section(&narrow, &b, 0.0, 6.0);
        assert_eq!(s.planed, 0.0);
        assert!((s.flat_width - 12.0 / 30f64.to_radians().cos()).abs() < 1e-9);
    }
}
