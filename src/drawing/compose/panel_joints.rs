//! The joints of a panel on its pattern: both ends of a scarf's slope or the line of a butt, the
//! block behind it, and in words what it is and which face it is on.

use super::{Line, SMALL};
use crate::drawing::{Anchor, Drawing, face};
use crate::geom::{P2, V2};
use crate::model::{Model, PanelModel};
use crate::stock::joints::PlacedJoint;
use crate::units::Units;
use crate::words::stock::joint_made;

/// Words stand this far (mm) in from the edge that is cut, and beside their line.
const IN: f64 = 14.0;
const BESIDE: f64 = 3.0;

/// Draws the joints of a panel at full size.
pub(super) fn draw(d: &mut Drawing, joints: &[PlacedJoint], units: Units) {
    let several = joints.len() > 1;
    for (i, joint) in joints.iter().enumerate() {
        for [a, b] in &joint.lines {
            d.line(Line::Joint, *a, *b);
        }
        for block in &joint.blocks {
            d.polyline(Line::Plate, block.clone(), true);
        }
        let name = if several { format!("joint {}: ", i + 1) } else { String::new() };
        let words = format!("{name}{}", joint_made(joint, units));
        if let Some([a, b]) = joint.lines.last() {
            beside(d, (*a, *b), &words);
        }
        if joint.slope.is_some() && joint.lines.len() > 1 {
            let [a, b] = joint.lines[0];
            beside(d, (a, b), "the slope of the piece nearer to the bow begins here");
        }
    }
}

/// Where a joint across the panel lies by a tape along its edges: of a scarf the end of its slope
/// that is nearer to the bow. Nothing of a joint along the boat.
pub(super) fn taped(model: &Model, p: &PanelModel, joint: &PlacedJoint, units: Units) -> String {
    let Some([a, _]) = joint.lines.first().filter(|_| !joint.lengthwise) else {
        return String::new();
    };
    let lower = (model.line_below(p), p.flat.lower_edge());
    let upper = (model.line_above(p), p.flat.upper_edge());
    let edges = [Some(lower).filter(|_| !p.full_width), Some(upper)];
    let each: Vec<String> = edges
        .into_iter()
        .flatten()
        .filter_map(|(line, edge)| Some((line, until(&edge, a.x)?)))
        .map(|(line, length)| format!("{} along the {line}", units.show(length)))
        .collect();
    if each.is_empty() { String::new() } else { format!(", from the bow {}", each.join(", ")) }
}

/// The length of a line from its first point until its `x`, mm.
fn until(line: &[P2], x: f64) -> Option<f64> {
    let mut length = 0.0;
    for w in line.windows(2) {
        let way = w[1] - w[0];
        let share = (x - w[0].x) / way.x;
        if (0.0..=1.0).contains(&share) {
            return Some(length + share * way.norm());
        }
        length += way.norm();
    }
    None
}

/// Words along a line, near the end that is the upper edge's or the starboard one, smaller where
/// they are longer than the line.
fn beside(d: &mut Drawing, (a, b): (P2, P2), words: &str) {
    let along = b - a;
    let Some(e) = along.try_normalize(1e-9) else {
        return;
    };
    let room = along.norm() - 2.0 * IN;
    let wide = face::width(words, SMALL, false);
    let height = if wide > room { (SMALL * room / wide).max(LEAST) } else { SMALL };
    let long = face::width(words, height, false);
    let from = (along.norm() - IN - long).max(IN);
    let at = a + from * e + BESIDE * V2::new(-e.y, e.x);
    d.text(Line::Text, at, height, e.y.atan2(e.x), Anchor::Left, words);
}

/// Smaller words (mm) are not read at the bench.
const LEAST: f64 = 4.0;

#[cfg(test)]
mod tests {
    use super::*;

    /// Two legs of 5 and 10: half way along the second.
    #[test]
    fn a_tape_along_an_edge_is_summed() {
        let edge = [(0.0, 0.0), (3.0, 4.0), (9.0, 12.0)].map(|(x, y)| P2::new(x, y));
        let taped = until(&edge, 6.0).expect("on it");
        assert!((taped - 10.0).abs() < 1e-12);
        assert_eq!(until(&edge, 9.5), None);
    }
}
