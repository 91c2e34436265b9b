//! What holds an end until the planking does: a crosspiece on the rails, notched for the
//! stem's head, and posts that lean at its rake, behind a stem and outside a transom.
//!
//! A post's edge lies along the wood it holds, so that a rake is one cut: the foot's, from
//! square by the rake, as it stands on the rails' top.

use super::ends::{Ground, down_the_face};
use crate::frames::{Section, Transom};
use crate::geom::ring::edges;
use crate::geom::{P2, P3, V2};

/// A post stops this far (mm) short of the planking, clear of keelson and laps. Common
/// practice, no source.
const SHORT_OF_SKIN_MM: f64 = 40.0;
/// A transom is held over this much of its height below its cut-out, mm; less where it is
/// lower. Common practice, no source.
const HELD_MM: f64 = 300.0;
/// Posts stand at least this far (mm) inside a transom's upper corners, clear of clamps and
/// of the planks' ends.
const INSIDE_CORNER_MM: f64 = 60.0;
/// Depth of the notch for a stem's head where the crosspiece is blocked up, mm.
const NOTCH_MM: f64 = 40.0;
/// Wood that a notch should leave below it, mm. Common practice, no source.
pub const UNDER_NOTCH_MM: f64 = 25.0;
/// A stem's corner this far through its depth belongs to its back: a bent back bows.
const IN_ITS_BACK: f64 = 0.6;
/// Room between the crosspiece and the post behind it, mm.
const BESIDE_POST_MM: f64 = 5.0;

/// A leaning post.
#[derive(Debug, Clone, PartialEq)]
pub struct EndPost {
    /// Distance of its middle from the centreline, mm; 0 for one in the middle.
    pub at: f64,
    /// Its width athwartships, mm.
    pub width: f64,
    /// From the side, (aft, above the floor), mm: foot and top of the edge that holds, then
    /// top and foot of the other.
    pub side_view: [P2; 4],
    /// What is cut off its foot from square, radians.
    pub foot_cut: f64,
    /// Length of its longer edge, mm.
    pub length: f64,
    /// Up the holding edge from the foot to the mark that the end is set to (mm): the line
    /// between a transom's sheer corners; `None` for a stem, which its crosspiece sets.
    pub mark: Option<f64>,
}

impl EndPost {
    /// How many: one in the middle or one either side.
    pub fn count(&self) -> usize {
        if self.at > 0.0 { 2 } else { 1 }
    }

    /// A post whose holding edge runs from the rails' top through `through` along `e` to
    /// `top`, its wood on the side of `wood`, `depth` mm deep.
    fn leaning(through: P2, e: V2, top: P2, (wood, depth): (V2, f64), rail_top: f64) -> EndPost {
        let on_rail = |p: P2| p + (rail_top - p.y) / e.y * e;
        let foot = on_rail(through);
        let back = depth * wood;
        let side_view = [foot, top, top + back, on_rail(through + back)];
        let edge = |a: usize, b: usize| (side_view[a] - side_view[b]).norm();
        EndPost {
            at: 0.0,
            width: 0.0,
            side_view,
            foot_cut: e.x.atan2(e.y).abs(),
            length: edge(0, 1).max(edge(2, 3)),
            mark: None,
        }
    }
}

/// A piece on edge across the rails, notched for a stem's head.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Crosspiece {
    /// Its fore and after faces, mm aft.
    pub faces: [f64; 2],
    /// Its lower edge above the floor, mm: the rails' top unless it is blocked up.
    pub low: f64,
    /// Its width, upright, mm.
    pub width: f64,
    /// Its length: the rails' spacing, mm.
    pub length: f64,
    /// Width of its notch: the stem's siding, mm.
    pub notch_width: f64,
    /// Depth of its notch from the upper edge, mm.
    pub notch_depth: f64,
    /// Height of the blocks under its ends, mm; 0 for none.
    pub blocks: f64,
}

impl Crosspiece {
    /// The bottom of its notch above the floor, where the stem's head rests, mm.
    pub fn rest(&self) -> f64 {
        self.low + self.width - self.notch_depth
    }

    /// Wood left below the notch, mm.
    pub fn under_notch(&self) -> f64 {
        self.width - self.notch_depth
    }
}

/// What holds an end.
#[derive(Debug, Clone, PartialEq)]
pub struct Support {
    /// The crosspiece of a stem.
    pub crosspiece: Option<Crosspiece>,
    /// Its post or posts; `None` where there is no room for one.
    pub post: Option<EndPost>,
    /// Fore and after faces of the rung that the posts stand over, mm aft.
    pub rung: Option<[f64; 2]>,
}

impl Support {
    /// For a stem whose wood from the side is `view`, its profile's (foot, head).
    pub(super) fn of_stem(
        view: &[P2],
        (foot, head): (P3, P3),
        sided: f64,
        ground: &Ground,
    ) -> Support {
        let none = Support { crosspiece: None, post: None, rung: None };
        let (foot, head) = (P2::new(foot.x, foot.z), P2::new(head.x, head.z));
        // Up it, upside down, and into the boat.
        let Some(e) = (foot - head).try_normalize(1e-9).filter(|e| e.y > 0.1) else {
            return none;
        };
        let inside = |p: &P2, n: V2| (p - head).dot(&n);
        let square = V2::new(e.y, -e.x);
        let most = |n: V2| view.iter().map(|p| inside(p, n)).fold(f64::NEG_INFINITY, f64::max);
        // The wood lies behind its profile: on that side it reaches farther.
        let n = if most(square) >= most(-square) { square } else { -square };
        // The straight edge that touches its back.
        let back = head + most(n) * n;
        let heel = view
            .iter()
            .filter(|p| inside(p, n) > IN_ITS_BACK * most(n))
            .map(|p| (p - back).dot(&e))
            .fold(f64::NEG_INFINITY, f64::max);
        let depth = ground.stock[1];
        let top = back + (heel - SHORT_OF_SKIN_MM) * e;
        let post = EndPost {
            width: ground.stock[0],
            ..EndPost::leaning(back, e, top, (n, depth), ground.rail_top)
        };
        let lowest = view.iter().map(|p| p.y).fold(f64::INFINITY, f64::min) - ground.rail_top;
        let across = |height: f64| back.x + (ground.rail_top + height - back.y) / e.y * e.x;
        let out = -n.x.signum();
        let [thick, width] = ground.stock;
        let (mut low, mut faces, mut rest) = (0.0, [0.0; 2], lowest);
        // Blocked up, it stands a little further along the leaning post: a few rounds settle.
        for _ in 0..3 {
            low = if rest <= width - UNDER_NOTCH_MM { 0.0 } else { rest + NOTCH_MM - width };
            let (a, b) = (across(low), across(low + width));
            let beside = if out < 0.0 { a.min(b) } else { a.max(b) } + out * BESIDE_POST_MM;
            let other = beside + out * thick;
            faces = [beside.min(other), beside.max(other)];
            rest = lowest_between(view, faces).map_or(lowest, |z| z - ground.rail_top);
        }
        let [a, b] = [post.side_view[0].x, post.side_view[3].x];
        let middle = 0.5 * (a + b);
        Support {
            crosspiece: Some(Crosspiece {
                faces,
                low: ground.rail_top + low,
                width,
                length: ground.rail_spacing,
                notch_width: sided,
                notch_depth: (low + width - rest).clamp(0.0, width),
                blocks: low,
            }),
            rung: Some([middle - 0.5 * thick, middle + 0.5 * thick]),
            post: Some(post),
        }
    }

    /// For a transom whose outer face is `outer`.
    pub(super) fn of_transom(t: &Transom, outer: &Section, ground: &Ground) -> Support {
        let none = Support { crosspiece: None, post: None, rung: None };
        let half = outer.half();
        let (Some(sheer), Some(keel)) = (half.last(), half.first()) else {
            return none;
        };
        let side = |v: f64| {
            let p = t.across.space(P2::new(0.0, v));
            P2::new(p.x, ground.datum - p.z)
        };
        // As she floats `down` runs up the face.
        let e = -down_the_face(t);
        if e.y < 0.1 {
            return none;
        }
        let [thick, width] = ground.stock;
        let cut_out = t.cut_out.map_or(0.0, |c| c.depth.max(0.0));
        let reach = sheer.y - (HELD_MM + cut_out).min(0.75 * (sheer.y - keel.y));
        // The narrowest place that it reaches.
        let room = outer.half_breadth_at(reach).unwrap_or(sheer.x).min(sheer.x) - INSIDE_CORNER_MM;
        let at = (0.5 * ground.rail_spacing).min(room) - 0.5 * width;
        let at = if at > 0.5 * width { at } else { 0.0 };
        // The bottom's edge over the post, where it comes lowest.
        let over =
            bottom_at(&half, at + 0.5 * width).max(bottom_at(&half, (at - 0.5 * width).max(0.0)));
        let top = side(reach.max(over + SHORT_OF_SKIN_MM).min(sheer.y));
        let n = t.across.plane.normal;
        let outward = V2::new(n.x, -n.z);
        let mark = side(sheer.y);
        let leaning = EndPost::leaning(mark, e, top, (outward, thick), ground.rail_top);
        let feet = [leaning.side_view[0].x, leaning.side_view[3].x];
        let middle = 0.5 * (feet[0] + feet[1]);
        Support {
            crosspiece: None,
            rung: Some([middle - 0.5 * thick, middle + 0.5 * thick]),
            post: Some(EndPost {
                at,
                width,
                mark: Some((mark - leaning.side_view[0]).norm()),
                ..leaning
            }),
        }
    }

    /// Everything it takes up along the rails, mm aft.
    pub(super) fn along(&self) -> impl Iterator<Item = f64> + '_ {
        let post = self.post.iter().flat_map(|p| p.side_view.iter().map(|q| q.x));
        let rung = self.rung.iter().flatten().copied();
        post.chain(rung).chain(self.crosspiece.iter().flat_map(|c| c.faces))
    }
}

/// The lowest point of a ring between two distances aft, mm above the floor.
fn lowest_between(ring: &[P2], [from, to]: [f64; 2]) -> Option<f64> {
    let mut least: Option<f64> = None;
    let mut take = |z: f64| least = Some(least.map_or(z, |l: f64| l.min(z)));
    for (a, b) in edges(ring) {
        if (from..=to).contains(&a.x) {
            take(a.y);
        }
        for x in [from, to] {
            if (a.x - x) * (b.x - x) < 0.0 {
                take(a.y + (x - a.x) / (b.x - a.x) * (b.y - a.y));
            }
        }
    }
    least
}

/// Height of the lowest edge of a section's half at half-breadth `y`, mm up its plane.
fn bottom_at(half: &[P2], y: f64) -> f64 {
    let lowest = half.first().map_or(0.0, |p| p.y);
    half.windows(2)
        .filter(|w| w[0].x <= y && y <= w[1].x && w[1].x > w[0].x)
        .map(|w| w[0].y + (y - w[0].x) / (w[1].x - w[0].x) * (w[1].y - w[0].y))
        .next()
        .unwrap_or(lowest)
}
