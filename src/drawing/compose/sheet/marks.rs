//! What is struck on a piece of a panel before it leaves the sheet: the finished edge, stations,
//! the centreline, the ends of scarfs and the outlines of butt blocks, on the panel's pattern.

use crate::flat::marks;
use crate::geom::ring::{from_ring, kept_inside};
use crate::geom::segment::nearest;
use crate::geom::{P2, V2};
use crate::model::{Model, PanelModel};
use crate::stock::joints::PlacedJoint;

/// A line nearer (mm) to the edge that is cut is that edge.
const ON_EDGE_MM: f64 = 0.2;

/// A line on a piece, and what it is called there, if anything.
pub(super) struct Struck {
    pub(super) line: Vec<P2>,
    pub(super) name: Option<String>,
}

/// The lines on a piece of panel `p`, mm on its pattern.
pub(super) fn on_piece(
    model: &Model,
    p: &PanelModel,
    joints: &[PlacedJoint],
    piece: &[P2],
) -> Vec<Struck> {
    let mut lines: Vec<(Vec<P2>, Option<String>)> = Vec::new();
    if model.hull.planking.trim_allowance_mm > 0.0 {
        lines.push((closed(p.finished_outline()), None));
    }
    for (i, x) in model.stations.iter().enumerate() {
        let mark = marks::station(&p.flat, *x);
        if p.full_width {
            lines.push((mark.iter().map(|q| P2::new(q.x, -q.y)).collect(), None));
        }
        lines.push((mark, Some(format!("st {}", i + 1))));
    }
    if p.full_width {
        let ends = [p.flat.lower_edge().first().copied(), p.flat.lower_edge().last().copied()];
        lines.push((ends.into_iter().flatten().collect(), None));
    }
    for joint in joints {
        lines.extend(joint.lines.iter().map(|l| (l.to_vec(), None)));
        lines.extend(joint.blocks.iter().map(|b| (closed(b.clone()), None)));
    }
    let kept = |(line, name): (Vec<P2>, Option<String>)| {
        kept_inside(piece, &line)
            .into_iter()
            .filter(|l| !along_the_edge(l, piece))
            .map(move |line| Struck { line, name: name.clone() })
            .collect::<Vec<_>>()
    };
    lines.into_iter().flat_map(kept).collect()
}

fn closed(mut ring: Vec<P2>) -> Vec<P2> {
    ring.extend(ring.first().copied());
    ring
}

/// Whether a line is the edge itself: no middle of its pieces lies off it.
fn along_the_edge(line: &[P2], ring: &[P2]) -> bool {
    line.windows(2).all(|w| from_ring(w[0] + 0.5 * (w[1] - w[0]), ring) < ON_EDGE_MM)
}

/// Where on a line it lies nearest to `to`, and which way the line runs there.
pub(super) fn beside(line: &[P2], to: P2) -> Option<(P2, V2)> {
    let near = line.windows(2).map(|w| (nearest(to, w[0], w[1]), w[1] - w[0]));
    near.min_by(|a, b| (a.0 - to).norm().total_cmp(&(b.0 - to).norm()))
}
