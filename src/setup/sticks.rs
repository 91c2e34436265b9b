//! Every stick of the jig in its place. The list to cut, the drawings and the stage are all
//! made from these, so that none of them can show or count another jig.

use super::ends::EndStand;
use super::strongback::{Stand, Strongback};
use crate::geom::{P2, V2};
use crate::hull::{Framing, StrongbackPlan};
use crate::part::{Holds, Use};

/// Width of a brace, mm; it is as thick as a spall.
pub const BRACE_WIDTH_MM: f64 = 64.0;
/// A hand's breadth (mm) at either end of a brace to fasten by.
const BRACE_PAST_MM: f64 = 50.0;
/// Braces are cut to whole multiples of this, mm.
const BRACE_STEP_MM: f64 = 10.0;
/// An end's post lower than this (mm) above the rails at its brace stands without one.
const LEAST_BRACED_MM: f64 = 150.0;
/// A post of an end is braced at this share of the height at which it first touches.
const BRACED_AT: f64 = 0.8;

/// A straight stick: a ring seen from one side and how far it reaches the other way.
#[derive(Debug, Clone, PartialEq)]
pub struct Stick {
    /// What it is for.
    pub purpose: Use,
    /// What the list calls it.
    pub name: String,
    /// Section: thickness and width, mm.
    pub section: [f64; 2],
    /// Length to cut, mm.
    pub length: f64,
    /// What is cut off one end from square, radians; 0 for two square ends.
    pub end_cut: f64,
    /// Its corners, heights above the floor: from the side as (aft, up), or, where it runs
    /// across the boat at a slant, from ahead as (starboard, up). mm.
    pub ring: Vec<P2>,
    /// Whether the ring is seen from ahead.
    pub from_ahead: bool,
    /// From where to where it reaches square to the ring: starboard, or aft, mm.
    pub reach: [f64; 2],
}

impl Stick {
    /// The box around it: aft, starboard and up, (low, high), mm.
    pub fn extent(&self) -> [[f64; 2]; 3] {
        let span = |of: fn(&P2) -> f64| {
            let all = self.ring.iter().map(of);
            [all.clone().fold(f64::INFINITY, f64::min), all.fold(f64::NEG_INFINITY, f64::max)]
        };
        let (first, up) = (span(|p| p.x), span(|p| p.y));
        if self.from_ahead { [self.reach, first, up] } else { [first, self.reach, up] }
    }
}

/// A ring of four corners.
fn upright([x0, x1]: [f64; 2], [z0, z1]: [f64; 2]) -> Vec<P2> {
    vec![P2::new(x0, z0), P2::new(x1, z0), P2::new(x1, z1), P2::new(x0, z1)]
}

/// A flat bar about the line from `a` to `b`, run on for its fastenings; its ring and the
/// length to cut.
fn bar(a: P2, b: P2) -> (Vec<P2>, f64) {
    let long = (b - a).norm();
    let length = ((long + 2.0 * BRACE_PAST_MM) / BRACE_STEP_MM).ceil() * BRACE_STEP_MM;
    let e = (b - a) / long.max(1e-9);
    let side = 0.5 * BRACE_WIDTH_MM * V2::new(-e.y, e.x);
    let on = 0.5 * (length - long) * e;
    (vec![a - on - side, b + on - side, b + on + side, a - on + side], length)
}

/// All sticks of the jig, from the rails up.
pub fn sticks(jig: &Strongback, plan: &StrongbackPlan, framing: &Framing) -> Vec<Stick> {
    let mut out = Vec::new();
    ladder(&mut out, jig, plan);
    let leg = [plan.leg_thickness_mm, plan.leg_width_mm];
    let stick = |purpose, name: String, section, length, ring, reach| Stick {
        purpose,
        name,
        section,
        length,
        end_cut: 0.0,
        ring,
        from_ahead: false,
        reach,
    };
    let top = jig.rail_top + jig.leg_length;
    for s in &jig.stands {
        for side in sides(s.leg_at) {
            let y = side * s.leg_at;
            let reach = [y - 0.5 * leg[1], y + 0.5 * leg[1]];
            let ring = upright(s.leg_faces(leg[0]), [jig.rail_top, top]);
            out.push(stick(Use::Leg, "leg".into(), leg, jig.leg_length, ring, reach));
        }
    }
    let level = jig.above_floor(jig.level);
    let spall = [framing.spall_thickness_mm, framing.spall_width_mm];
    for s in &jig.stands {
        let ring = upright(s.spall_faces(spall[0]), [level, level + spall[1]]);
        let (name, reach) =
            (format!("cross-spall of frame {}", s.station), [-s.spall_half, s.spall_half]);
        out.push(stick(Use::Spall(s.station), name, spall, 2.0 * s.spall_half, ring, reach));
    }
    for end in &jig.ends {
        holding(&mut out, end, leg);
    }
    braces(&mut out, jig, plan, framing.spall_thickness_mm);
    out.retain(|s| s.length > 0.0);
    out
}

/// Rails, the rungs between them and the posts under them.
fn ladder(out: &mut Vec<Stick>, jig: &Strongback, plan: &StrongbackPlan) {
    let half = 0.5 * jig.rail_spacing;
    let inner = half - plan.rail_width_mm;
    let under = jig.rail_top - plan.rail_depth_mm;
    let leg = [plan.leg_thickness_mm, plan.leg_width_mm];
    let mut add = |purpose, name: &str, section, length, ring: Vec<P2>, reach: [f64; 2]| {
        out.push(Stick {
            purpose,
            name: name.into(),
            section,
            length,
            end_cut: 0.0,
            ring,
            from_ahead: false,
            reach: [reach[0].min(reach[1]), reach[0].max(reach[1])],
        });
    };
    for side in [1.0, -1.0] {
        let ring = upright(jig.rails, [under, jig.rail_top]);
        let section = [plan.rail_width_mm, plan.rail_depth_mm];
        add(
            Use::Rail,
            "rail",
            section,
            jig.rails[1] - jig.rails[0],
            ring,
            [side * half, side * inner],
        );
    }
    for faces in &jig.rungs {
        let ring = upright(*faces, [jig.rail_top - leg[1], jig.rail_top]);
        add(Use::Rung, "rung between the rails", leg, 2.0 * inner, ring, [-inner, inner]);
    }
    let thick = leg[0].min(plan.rail_width_mm);
    for x in &jig.posts {
        let (a, b) = (x - 0.5 * leg[1], x + 0.5 * leg[1]);
        for side in [1.0, -1.0] {
            let ring = upright([a, b], [0.0, under]);
            add(
                Use::Post,
                "post under a rail",
                leg,
                under,
                ring,
                [side * half, side * (half - thick)],
            );
        }
    }
}

/// One side and the other, or the middle alone.
fn sides(at: f64) -> &'static [f64] {
    if at > 0.0 { &[1.0, -1.0] } else { &[0.0] }
}

/// Crosspiece, blocks and posts of an end.
fn holding(out: &mut Vec<Stick>, end: &EndStand, leg: [f64; 2]) {
    let word = end.end.word();
    let mut add = |holds, name: String, length, end_cut, ring: Vec<P2>, reach: [f64; 2]| {
        out.push(Stick {
            purpose: Use::End(end.end.at(), holds),
            name,
            section: leg,
            length,
            end_cut,
            ring,
            from_ahead: false,
            reach,
        });
    };
    if let Some(c) = &end.support.crosspiece {
        let half = 0.5 * c.length;
        let ring = upright(c.faces, [c.low, c.low + c.width]);
        add(
            Holds::Crosspiece,
            format!("crosspiece of the {word}, notched"),
            c.length,
            0.0,
            ring,
            [-half, half],
        );
        if c.blocks > 0.0 {
            for side in [-1.0, 1.0] {
                let y = side * (half - 0.5 * leg[1]);
                let ring = upright(c.faces, [c.low - c.blocks, c.low]);
                let reach = [y - 0.5 * leg[1], y + 0.5 * leg[1]];
                add(
                    Holds::Block,
                    format!("block under the {word}'s crosspiece"),
                    c.blocks,
                    0.0,
                    ring,
                    reach,
                );
            }
        }
    }
    if let Some(p) = &end.support.post {
        for side in sides(p.at) {
            let y = side * p.at;
            let reach = [y - 0.5 * p.width, y + 0.5 * p.width];
            add(
                Holds::Post,
                format!("post of the {word}"),
                p.length,
                p.foot_cut,
                p.side_view.to_vec(),
                reach,
            );
        }
    }
}

/// Braces against racking: athwartships on every stand with two legs, fore and aft on the
/// first, the middle and the last, and on the posts of the ends.
fn braces(out: &mut Vec<Stick>, jig: &Strongback, plan: &StrongbackPlan, thick: f64) {
    let (low, high) = (jig.rail_top, jig.rail_top + jig.level_on_legs);
    let section = [thick, BRACE_WIDTH_MM];
    let mut add = |name: &str, (ring, length): (Vec<P2>, f64), from_ahead, reach| {
        out.push(Stick {
            purpose: Use::Brace,
            name: name.into(),
            section,
            length,
            end_cut: 0.0,
            ring,
            from_ahead,
            reach,
        });
    };
    for s in jig.stands.iter().filter(|s| s.leg_at > 0.0) {
        let far = s.x + s.leg_side.sign() * plan.leg_thickness_mm;
        let face = far + s.leg_side.sign() * thick;
        let bar = bar(P2::new(-s.leg_at, low), P2::new(s.leg_at, high));
        add("brace across", bar, true, [far.min(face), far.max(face)]);
    }
    let half_leg = 0.5 * plan.leg_width_mm;
    // On the outer faces of legs that stand on the rails, on the inner ones of narrower ones.
    let beside = |at: f64, wide: f64, side: f64| {
        let outer = at + wide;
        let flush = outer > 0.5 * jig.rail_spacing - 1.0;
        let a = if flush { outer } else { (at - wide - thick).max(0.5 * wide) };
        let (a, b) = (side * a, side * (a + thick));
        [a.min(b), a.max(b)]
    };
    let n = jig.stands.len();
    let mut chosen = vec![0, n / 2, n - 1];
    chosen.dedup();
    for i in chosen {
        let s: &Stand = &jig.stands[i];
        // Down towards the middle of the boat, at 45° or to the rail's end.
        let towards = if 2 * i < n { 1.0 } else { -1.0 };
        let [a, b] = s.leg_faces(plan.leg_thickness_mm);
        let top = 0.5 * (a + b);
        let foot = (top + towards * jig.level_on_legs).clamp(jig.rails[0], jig.rails[1]);
        for side in if s.leg_at > 0.0 { &[1.0, -1.0][..] } else { &[1.0][..] } {
            let bar = bar(P2::new(foot, low), P2::new(top, high));
            add("brace fore and aft", bar, false, beside(s.leg_at, half_leg, *side));
        }
    }
    for end in &jig.ends {
        let Some(p) = &end.support.post else {
            continue;
        };
        let height = (BRACED_AT * (end.head.z - low)).min(jig.level_on_legs);
        let height = if end.end.is_transom() { height } else { jig.level_on_legs };
        if height < LEAST_BRACED_MM {
            continue;
        }
        let [foot, top, _, under] = p.side_view;
        let middle = |t: f64| (foot + t * (top - foot)) + 0.5 * (under - foot);
        let rise = (top.y - low).max(1.0);
        let from = middle((height / rise).min(0.9));
        let towards = if end.end.at_stern() { -1.0 } else { 1.0 };
        let to =
            P2::new((from.x + towards * (from.y - low)).clamp(jig.rails[0], jig.rails[1]), low);
        for side in if p.at > 0.0 { &[1.0, -1.0][..] } else { &[1.0][..] } {
            add("brace fore and aft", bar(to, from), false, beside(p.at, 0.5 * p.width, *side));
        }
    }
}

/// Pieces to cut.
#[derive(Debug, Clone, PartialEq)]
pub struct Cut {
    /// What it is.
    pub name: String,
    /// How many.
    pub count: usize,
    /// Section: thickness and width, mm.
    pub section: [f64; 2],
    /// Length, mm; of its longer edge where an end is cut off square.
    pub length: f64,
    /// What is cut off one end from square, radians; 0 for two square ends.
    pub end_cut: f64,
}

/// The list to cut: equal sticks together, in the order in which they stand.
pub fn cuts(sticks: &[Stick]) -> Vec<Cut> {
    let mut out: Vec<Cut> = Vec::new();
    for s in sticks {
        let same = |c: &&mut Cut| {
            c.name == s.name
                && c.section == s.section
                && (c.length - s.length).abs() < 0.5
                && (c.end_cut - s.end_cut).abs() < 1e-6
        };
        match out.iter_mut().find(same) {
            Some(c) => c.count += 1,
            None => out.push(Cut {
                name: s.name.clone(),
                count: 1,
                section: s.section,
                length: s.length,
                end_cut: s.end_cut,
            }),
        }
    }
    out
}
