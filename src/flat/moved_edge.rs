//! An edge of a pattern moved outward by a width that changes along it, and the edges of a
//! ring joined to one another again.
//!
//! Every corner of a moved edge lies where the edges before and after it would meet once
//! they are moved, so nothing gapes on the outside of a bend. Where a bend is hollow and
//! tighter than the width, the moved line would run back on itself: that loop is cut out.

use crate::geom::polyline::without_repeats;
use crate::geom::{P2, V2};

/// Points of an edge closer than this (mm) are taken as one; a corner of 60° that is missed
/// by as much is cut by a tenth of it.
const ONE_POINT: f64 = 0.2;
/// An edge shorter than this (mm) is a point: the panel has no end there.
const LEAST_EDGE: f64 = 1.0;
/// A width grows or falls by at most this for each mm along the edge: where the skin turns
/// about a standing point it would jump, and a saw does not.
const STEEPEST: f64 = 0.5;
/// Two edges that meet at less than this sine run on into one another: there is no corner to
/// carry on to (3°).
const RUNS_ON: f64 = 0.05;
/// A corner further out than this many widths is cut off: a needle of wood. A point of 10°
/// between two strips of one width reaches twelve of them.
const LONGEST_POINT: f64 = 12.0;
/// Least cosine of half a bend at which its corner is carried out to a point (a bend of 120°).
const SHARPEST_BEND: f64 = 0.5;

/// Cosine of a turn that no edge of a panel makes (150°).
const TURNS_BACK: f64 = -0.866;

/// An edge: its points, and how far (mm) it is to be moved to its right at each of them.
#[derive(Debug, Clone)]
pub(super) struct Edge(Vec<(P2, f64)>);

impl Edge {
    /// The edge through these points. A width that is no number takes that of the nearest
    /// point before it (at the start, after it) that has one; of points that are one, the
    /// widest counts.
    pub(super) fn of(points: impl IntoIterator<Item = (P2, f64)>) -> Edge {
        let mut all: Vec<(P2, f64)> = points.into_iter().collect();
        let mut before = all.iter().map(|p| p.1).find(|w| w.is_finite()).unwrap_or(0.0);
        for p in &mut all {
            if p.1.is_finite() {
                before = p.1.max(0.0);
            }
            p.1 = before;
        }
        let last = all.last().copied();
        let mut kept: Vec<(P2, f64)> = Vec::with_capacity(all.len());
        for (p, w) in all {
            match kept.last_mut() {
                Some(k) if (p - k.0).norm() < ONE_POINT => k.1 = k.1.max(w),
                _ => kept.push((p, w)),
            }
        }
        // Its very ends stay where they are.
        if let (Some(last), true, Some(k)) = (last, kept.len() > 1, kept.last_mut()) {
            k.0 = last.0;
        }
        for i in 1..kept.len() {
            let least = kept[i - 1].1 - STEEPEST * (kept[i].0 - kept[i - 1].0).norm();
            kept[i].1 = kept[i].1.max(least);
        }
        for i in (1..kept.len()).rev() {
            let least = kept[i].1 - STEEPEST * (kept[i].0 - kept[i - 1].0).norm();
            kept[i - 1].1 = kept[i - 1].1.max(least);
        }
        Edge(kept)
    }

    /// The same run the other way.
    pub(super) fn reversed(mut self) -> Edge {
        self.0.reverse();
        self
    }

    fn length(&self) -> f64 {
        self.0.windows(2).map(|w| (w[1].0 - w[0].0).norm()).sum()
    }

    fn widest(&self) -> f64 {
        self.0.iter().map(|p| p.1).fold(0.0, f64::max)
    }

    /// The way of piece `i`, before it is moved.
    fn way(&self, i: usize) -> Option<V2> {
        (self.0.get(i + 1)?.0 - self.0.get(i)?.0).try_normalize(1e-12)
    }

    /// The edge moved to its right.
    fn moved(&self) -> Vec<P2> {
        let n = self.0.len();
        let right = |i: usize| self.way(i).map(|e| V2::new(e.y, -e.x));
        let moved: Vec<P2> = (0..n)
            .map(|i| {
                let (p, w) = self.0[i];
                let (before, after) = (i.checked_sub(1).and_then(right), right(i));
                let out = match (before, after) {
                    (Some(a), Some(b)) => {
                        // Along the bisector, by the width over the cosine of half the bend.
                        let sum = a + b;
                        let cos = 0.5 * sum.norm();
                        sum.try_normalize(1e-9).map_or(b, |m| m / cos.max(SHARPEST_BEND))
                    }
                    (a, b) => a.or(b).unwrap_or_else(V2::zeros),
                };
                p + w * out
            })
            .collect();
        let runs_back =
            (1..n).any(|i| (moved[i] - moved[i - 1]).dot(&(self.0[i].0 - self.0[i - 1].0)) < 0.0);
        without_turning_back(if runs_back { without_loops(&moved) } else { moved })
    }

    /// The edges of a ring, in their order, moved to their right and each run on or back to
    /// where it meets the next; those that are points, and those that the edges beside them
    /// swallow, are left out. The last meets the first.
    pub(super) fn moved_and_joined(ring: &[Edge]) -> Vec<Vec<P2>> {
        let mut kept: Vec<bool> = ring.iter().map(|e| e.length() >= LEAST_EDGE).collect();
        loop {
            let out = joined(ring, &kept);
            let swallowed = (0..ring.len()).filter(|i| kept[*i]).find(|i| {
                let (Some(a), Some(b)) = (out[*i].first(), out[*i].last()) else {
                    return true;
                };
                let (Some(p), Some(q)) = (ring[*i].0.first(), ring[*i].0.last()) else {
                    return true;
                };
                (b - a).dot(&(q.0 - p.0)) <= 0.0
            });
            match swallowed {
                Some(i) if kept.iter().filter(|k| **k).count() > 2 => kept[i] = false,
                _ => return out,
            }
        }
    }
}

/// The edges of a ring that are kept, moved and joined; the others empty.
fn joined(ring: &[Edge], kept: &[bool]) -> Vec<Vec<P2>> {
    let n = ring.len();
    let mut out: Vec<Vec<P2>> =
        ring.iter().zip(kept).map(|(e, keep)| if *keep { e.moved() } else { Vec::new() }).collect();
    for i in (0..n).filter(|i| kept[*i]) {
        let Some(j) = (1..n).map(|k| (i + k) % n).find(|j| kept[*j]) else {
            continue;
        };
        let (from, to) = (&ring[i], &ring[j]);
        let (Some(e), Some(f)) = (from.way(from.0.len().saturating_sub(2)), to.way(0)) else {
            continue;
        };
        // What lies between them was left out: so much further may they meet.
        let gap = to.0[0].0 - from.0[from.0.len() - 1].0;
        let reach = LONGEST_POINT * from.widest().max(to.widest()) + gap.norm() + ONE_POINT;
        let (mut before, mut after) = (std::mem::take(&mut out[i]), std::mem::take(&mut out[j]));
        join((&mut before, e), (&mut after, f), from.0[from.0.len() - 1].0, reach);
        (out[i], out[j]) = (before, after);
    }
    out
}

/// Runs the end of one line, whose way there is `e`, and the start of the next, whose way is
/// `f`, on or back to the point where they meet; both are left as they are where that is
/// further than `reach` mm from the corner that they had before they were moved, or where
/// they run on into one another.
fn join((before, e): (&mut Vec<P2>, V2), (after, f): (&mut Vec<P2>, V2), corner: P2, reach: f64) {
    let (Some(b), Some(d)) = (before.last().copied(), after.first().copied()) else {
        return;
    };
    let cross = e.perp(&f);
    if cross.abs() < RUNS_ON {
        return;
    }
    let meet = b + (d - b).perp(&f) / cross * e;
    if (meet - corner).norm() > reach {
        return;
    }
    // What lies past the other line falls away.
    while before.len() > 1 && before.last().is_some_and(|p| (p - meet).dot(&e) >= 0.0) {
        before.pop();
    }
    before.push(meet);
    let past = after.iter().take_while(|p| (**p - meet).dot(&f) <= 0.0).count();
    after.drain(..past.min(after.len() - 1));
    after.insert(0, meet);
}

/// An open line without the points at which it turns back: what a hollow corner leaves where
/// its loop is too thin to cross itself.
fn without_turning_back(mut line: Vec<P2>) -> Vec<P2> {
    let mut i = 1;
    while i + 1 < line.len() {
        let (e, f) = (line[i] - line[i - 1], line[i + 1] - line[i]);
        if e.dot(&f) < TURNS_BACK * e.norm() * f.norm() {
            line.remove(i);
            i = i.saturating_sub(1).max(1);
        } else {
            i += 1;
        }
    }
    line
}

/// An open line with what lies between two places where it crosses itself taken out.
fn without_loops(line: &[P2]) -> Vec<P2> {
    let mut out: Vec<P2> = Vec::with_capacity(line.len());
    let mut start = match line.first() {
        Some(p) => *p,
        None => return out,
    };
    out.push(start);
    let mut i = 0;
    while i + 1 < line.len() {
        let end = line[i + 1];
        // The furthest later piece that crosses this one.
        let crossing = (i + 2..line.len().saturating_sub(1))
            .rev()
            .find_map(|k| Some((k, crossing(start, end, line[k], line[k + 1])?)));
        match crossing {
            Some((k, p)) => {
                start = p;
                i = k;
            }
            None => {
                start = end;
                i += 1;
            }
        }
        out.push(start);
    }
    without_repeats(out, 1e-9)
}

/// Where two pieces cross.
fn crossing(a: P2, b: P2, c: P2, d: P2) -> Option<P2> {
    let (e, f) = (b - a, d - c);
    let cross = e.perp(&f);
    if cross.abs() < 1e-12 {
        return None;
    }
    let (s, t) = ((c - a).perp(&f) / cross, (c - a).perp(&e) / cross);
    ((0.0..=1.0).contains(&s) && (0.0..=1.0).contains(&t)).then(|| a + s * e)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geom::polyline::{area, first_self_crossing};

    fn ring(edges: &[Edge]) -> Vec<P2> {
        without_repeats(Edge::moved_and_joined(edges).into_iter().flatten(), 1e-9)
    }

    /// A triangle with a strip on two of its sides, by hand: the point between the strips
    /// lies where both outer lines meet, width over the sine of half the angle from the corner.
    #[test]
    fn strips_meet_in_a_point_by_hand() {
        let half = 25f64.to_radians();
        let (l, w) = (1000.0, 10.0);
        let tip = P2::origin();
        let (low, high) =
            (P2::new(l * half.cos(), -l * half.sin()), P2::new(l * half.cos(), l * half.sin()));
        let line = |a: P2, b: P2, w: f64| {
            Edge::of((0..=20).map(|i| (a + f64::from(i) / 20.0 * (b - a), w)))
        };
        let out = ring(&[line(tip, low, w), line(low, high, 0.0), line(high, tip, w)]);
        let point = out.iter().map(|p| p.x).fold(f64::INFINITY, f64::min);
        assert!((point + w / half.sin()).abs() < 1e-9, "{point}");
        // A triangle still, of the height h = l cos + w / sin.
        let h = l * half.cos() + w / half.sin();
        assert!((area(&out) - h * h * half.tan()).abs() < 1e-6);
    }

    /// A hollow bend of less radius than the width: the loop is gone, and what is left is the
    /// meeting of both outer lines.
    #[test]
    fn a_hollow_bend_keeps_no_loop() {
        // Rightward of the line is inside of the bend: it turns right by 60° on 5 mm radius.
        let mut points = vec![P2::new(-100.0, 0.0)];
        for i in 0..=12 {
            let a = f64::from(i) * 5f64.to_radians();
            points.push(P2::new(5.0 * a.sin(), -5.0 * (1.0 - a.cos())));
        }
        let e = V2::new(60f64.to_radians().cos(), -60f64.to_radians().sin());
        points.push(points[points.len() - 1] + 100.0 * e);
        let width = 20.0;
        let moved = Edge::of(points.iter().map(|p| (*p, width))).moved();
        assert_eq!(first_self_crossing(&moved), None);
        // Both outer lines, parallel to the straight parts, meet on the bisector.
        let lines_meet = {
            let (a, c) =
                (points[0] + V2::new(0.0, -width), points[14] + width * V2::new(e.y, -e.x));
            let t = (c - a).perp(&e) / V2::x().perp(&e);
            a + t * V2::x()
        };
        let nearest = moved.iter().map(|p| (p - lines_meet).norm()).fold(f64::INFINITY, f64::min);
        assert!(nearest < 0.2, "{nearest}: {moved:?}");
    }
}
