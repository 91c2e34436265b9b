//! Where the joints of neighbouring panels meet the line between them, and how far apart they lie
//! there in the boat.

use super::ways::Ways;
use crate::model::{Model, PanelModel};
use crate::part::LineId;
use crate::stock::joints::{SharedEdge, Split};

/// Joints of neighbouring panels stay this far apart along the line between them, mm. Common
/// practice, no source.
pub(super) const STAGGER_MM: f64 = 300.0;

/// Two joints of neighbouring panels that lie nearer to each other than they should. Joints are
/// counted from the bow, from 1.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct TooNear {
    /// The upper panel and its joint.
    pub(super) above: (String, usize),
    /// The lower one and its.
    pub(super) below: (String, usize),
    /// The line between the two.
    pub(super) line: LineId,
    /// Along it in the boat, mm.
    pub(super) distance: f64,
}

/// Places along a panel's upper or lower edge: u on its pattern, rising, and mm along its line in
/// the boat.
fn along(model: &Model, p: &PanelModel, upper: bool) -> Vec<(f64, f64)> {
    let line = &model.lines.lines[p.lower_line + usize::from(upper)];
    let rulings = p.surface.rulings.iter().zip(&p.flat.rulings);
    let mut out: Vec<(f64, f64)> = Vec::new();
    for (r, f) in rulings {
        let (at, flat) = if upper { (r.upper, f.flat_upper) } else { (r.lower, f.flat_lower) };
        let Some(t) = line.spline.parameter_at_x(at.x) else {
            continue;
        };
        if out.last().is_none_or(|last| flat.x > last.0) {
            out.push((flat.x, line.arc.length_at(&line.spline, t)));
        }
    }
    out
}

/// The edge that panel `p` shares with another, and where the joints of that meet it when it is
/// split so; `None` where the two are no neighbours.
pub(super) fn shared(
    model: &Model,
    (other, split): (&PanelModel, &Split),
    p: &PanelModel,
) -> Option<SharedEdge> {
    let upper = match (other.lower_line + 1 == p.lower_line, p.lower_line + 1 == other.lower_line) {
        (true, _) => false,
        (_, true) => true,
        _ => return None,
    };
    let theirs = SharedEdge { along: along(model, other, !upper), joints: Vec::new() };
    let across = split.joints.iter().filter(|j| !j.lengthwise);
    let joints = across.filter_map(|j| theirs.met_at(j.at)).collect();
    Some(SharedEdge { along: along(model, p, upper), joints })
}

/// All pairs of joints that lie too near each other, as the panels are split now.
pub(super) fn too_near(model: &Model, ways: &[Ways]) -> Vec<TooNear> {
    let split = |w: &Ways| w.found.get(w.taken).cloned();
    let mut out = Vec::new();
    for (below, above) in ways.iter().zip(ways.iter().skip(1)) {
        let (Some(low), Some(high)) = (split(below), split(above)) else {
            continue;
        };
        out.extend(between(model, (below.panel, &low), (above.panel, &high)));
    }
    out
}

/// The pairs of two panels.
pub(super) fn between(
    model: &Model,
    (below, low): (&PanelModel, &Split),
    (above, high): (&PanelModel, &Split),
) -> Vec<TooNear> {
    if below.lower_line + 1 != above.lower_line {
        return Vec::new();
    }
    let Some(edge) = shared(model, (below, low), above) else {
        return Vec::new();
    };
    let across = high.joints.iter().filter(|j| !j.lengthwise).enumerate();
    let near = |(k, u): (usize, f64)| {
        let here = edge.met_at(u)?;
        let all = edge.joints.iter().enumerate().map(move |(i, there)| TooNear {
            above: (above.name.clone(), k + 1),
            below: (below.name.clone(), i + 1),
            line: model.line_below(above),
            distance: (there - here).abs(),
        });
        Some(all.filter(|n| n.distance < STAGGER_MM))
    };
    across.map(|(k, j)| (k, j.at)).filter_map(near).flatten().collect()
}
