//! The planking's thickness deducted from lines that a plan draws to its outside.
//!
//! The program's lines are where the inner faces of neighbouring panels meet. Each duck is
//! moved so that it lies its panels' thicknesses inside their outer faces, measured square
//! to each face (not along the station). A chine so lies inside two panels, the sheer keeps
//! its height (the planking's edge is planed level there), ends stay in the transom's plane,
//! or as far from the centreplane as they were on a stem: there a sharp bow's inner faces
//! meet much further aft than the sheet is thick.
//!
//! Exact for flat panels. On curved ones a duck is exact too, to the strips that its panels
//! are cut into (under a fiftieth of a millimetre); between ducks the batten decides.

use nalgebra::Matrix3;

use super::{Surface, choose_ends};
use crate::geom::{P3, V3, unit};
use crate::hull::{Hull, HullLines};

/// Strips of a panel that distances are measured to: 7 mm each on a 4 m panel, which a
/// radius of half a metre leaves by a hundredth of a millimetre.
const STRIPS: usize = 600;
/// Steps towards a duck's place; each takes off all but what the panels bend on the way.
const STEPS: usize = 12;
/// A duck this near (mm) its place is there.
const THERE_MM: f64 = 1e-6;
/// From strip to strip a duck may swing by this (mm) and no more: a tenth of what a plan is
/// read to.
const SWING_MM: f64 = 0.1;
/// Keeps a step finite where two faces are nearly in one plane; small against 1, a face's
/// own weight. A rate, not an offset: it slows the last steps and moves no result.
const DAMPING: f64 = 1e-9;
/// Ends of two lines nearer than this (mm) are one point, as on a stem drawn to the
/// nearest millimetre, and stay one.
const ONE_END_MM: f64 = 1.0;

/// How far the ducks of a line were moved, mm.
#[derive(Debug, Clone, PartialEq)]
pub struct Moved {
    /// The line.
    pub line: String,
    /// Least and greatest distance between a duck and where it was, ends not counted.
    pub between: (f64, f64),
    /// How far aft the first duck was moved.
    pub bow_aft: f64,
}

/// A hull to the inside of its planking from one whose lines are to the outside of it;
/// thicknesses are those of her planking.
///
/// # Errors
/// The line through whose ducks no batten passes, or the duck for which no place was found.
pub fn deduct(outer: &Hull) -> Result<(Hull, Vec<Moved>), String> {
    let lines = HullLines::of(outer).map_err(|(line, e)| format!("the {line}: {e}"))?;
    let panels: Vec<Panel> = (0..lines.lines.len() - 1)
        .map(|k| {
            let (lower, upper) = (&lines.lines[k].spline, &lines.lines[k + 1].spline);
            let surface = if lines.flat_bottom && k == 0 {
                Surface::flat_bottom(upper, lower, STRIPS)
            } else {
                let ends = choose_ends(lower, upper, None, None);
                Surface::of(&ends.pair, &ends.matching, STRIPS)
            };
            let name = lines.panel_name(k);
            Panel { surface, thickness: outer.planking.of_panel(&name).1 }
        })
        .collect();
    // A keel that was worked out has no ducks in the document.
    let first_given = lines.lines.len() - outer.lines.len();
    let mut inner = outer.clone();
    let mut moved = Vec::new();
    for (i, line) in inner.lines.iter_mut().enumerate() {
        let k = i + first_given;
        let last = line.ducks.len() - 1;
        let mut shifts = Vec::with_capacity(line.ducks.len());
        for (j, duck) in line.ducks.iter_mut().enumerate() {
            let p = duck.point();
            let end = (j == 0).then_some(false).or((j == last).then_some(true));
            let mut places =
                Places { faces: faces_at(&lines, &panels, k, p, end), fixed: Vec::new() };
            if line.name == "keel" {
                places.fixed.push(V3::y());
            }
            if line.name == "sheer" {
                places.fixed.push(V3::z());
            }
            if let Some(at_stern) = end {
                let transom = if at_stern { lines.transom } else { lines.bow_transom };
                places.fixed.push(transom.map_or_else(V3::y, |t| t.normal));
            }
            let q = places.inside(p).ok_or_else(|| {
                format!("duck {} of the {} finds no place inside the planking", j + 1, line.name)
            })?;
            // What is fixed stays to the bit: a stem's point does not cross the centreplane.
            let kept = |axis: V3, now: f64, was: f64| {
                if places.fixed.contains(&axis) { was } else { now }
            };
            (duck.x, duck.y, duck.z) = (q.x, kept(V3::y(), q.y, p.y), kept(V3::z(), q.z, p.z));
            shifts.push(q - p);
        }
        let inside = if shifts.len() > 2 { &shifts[1..last] } else { &shifts[..] };
        let norms = inside.iter().map(V3::norm);
        moved.push(Moved {
            line: line.name.clone(),
            between: norms.fold((f64::INFINITY, 0.0), |(a, b), n| (a.min(n), f64::max(b, n))),
            bow_aft: shifts[0].x,
        });
    }
    Ok((inner, moved))
}

struct Panel {
    surface: Surface,
    thickness: f64,
}

impl Panel {
    /// How far `p` lies inside the outer face, mm, and the face's outward normal there.
    fn depth(&self, p: P3) -> Option<(f64, V3)> {
        let nearest = self.surface.rulings.iter().map(|r| {
            let along = r.upper - r.lower;
            let length = along.norm_squared();
            let t = if length > 0.0 { (p - r.lower).dot(&along) / length } else { 0.0 };
            let t = t.clamp(0.0, 1.0);
            let q = r.lower + t * along;
            ((q - p).norm_squared(), q, r.normal_lower.lerp(&r.normal_upper, t))
        });
        let (_, q, n) = nearest.min_by(|a, b| a.0.total_cmp(&b.0))?;
        let n = unit(n)?;
        Some((n.dot(&(q - p)), n))
    }
}

/// The panels whose outer faces bound a duck of line `k`; at an end that it shares with
/// other lines, theirs too.
fn faces_at<'a>(
    lines: &HullLines,
    panels: &'a [Panel],
    k: usize,
    p: P3,
    end: Option<bool>,
) -> Vec<&'a Panel> {
    let there = |l: &crate::hull::HullLine| {
        end.is_some_and(|stern| {
            let q = l.spline.at(if stern { l.spline.end() } else { 0.0 });
            (q - p).norm() < ONE_END_MM
        })
    };
    let touches = |i: usize| i == k || !lines.lines[i].derived && there(&lines.lines[i]);
    panels
        .iter()
        .enumerate()
        .filter(|(i, _)| touches(*i) || touches(i + 1))
        .map(|(_, p)| p)
        .collect()
}

/// What a duck must keep to: so deep inside some faces, and not along these directions.
struct Places<'a> {
    faces: Vec<&'a Panel>,
    fixed: Vec<V3>,
}

impl Places<'_> {
    /// The place nearest to `p` that does (least squares where too much is asked).
    fn inside(&self, p: P3) -> Option<P3> {
        let mut q = p;
        let mut last = f64::INFINITY;
        for _ in 0..STEPS {
            let mut matrix = Matrix3::identity() * DAMPING;
            let mut right = V3::zeros();
            for n in &self.fixed {
                matrix += n * n.transpose();
            }
            for face in &self.faces {
                let (depth, n) = face.depth(q)?;
                matrix += n * n.transpose();
                right -= (face.thickness - depth) * n;
            }
            let step = matrix.cholesky()?.solve(&right);
            q += step;
            last = step.norm();
            if last < THERE_MM {
                break;
            }
        }
        (last < SWING_MM).then_some(q)
    }
}
