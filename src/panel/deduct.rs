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
use crate::hull::{CheckedHull, Hull, HullLines};
use crate::part::LineId;

/// Strips of a panel that distances are measured to: 7 mm each on a 4 m panel, which a
/// radius of half a metre leaves by a hundredth of a millimetre.
const STRIPS: usize = 600;
/// Steps towards a duck's place; each takes off all but what the panels bend on the way.
const STEPS: usize = 40;
/// The first so many go all the way, the others half of it.
const WHOLE_STEPS: usize = 8;
/// A duck this near (mm) its place is there.
const THERE_MM: f64 = 1e-6;
/// From strip to strip a duck may swing by this (mm) and no more: a tenth of what a plan is
/// read to.
const SWING_MM: f64 = 0.1;
/// Two faces that meet at under 3 degrees do not tell where across them a chine lies, at over
/// 6.3 they do: the lesser share of what both tell, a quarter of that angle squared. Between
/// the two it goes over smoothly, so that a line stays fair.
const HARDLY: f64 = 7e-4;
const WELL: f64 = 3e-3;
/// At a stem the lesser share under which the faces do not tell where along it an end lies.
const ALONG_STEM: f64 = 0.02;
/// A face nearer than this (sine of the angle) to square to what is free says nothing.
const LEAST_SAY: f64 = 0.02;
/// Ends of two lines nearer than this (mm) are one point, as on a stem drawn to the
/// nearest millimetre, and stay one.
const ONE_END_MM: f64 = 1.0;

/// How far the ducks of a line were moved, mm.
#[derive(Debug, Clone, PartialEq)]
pub struct Moved {
    /// The line.
    pub line: LineId,
    /// Least and greatest distance between a duck and where it was, ends not counted.
    pub between: (f64, f64),
    /// How far aft the first duck was moved.
    pub bow_aft: f64,
    /// How far a duck is off the depth asked under one of its faces, at most: two sheets of
    /// unlike thickness may ask for what no one place gives.
    pub off: f64,
}

/// A hull to the inside of its planking from one whose lines are to the outside of it;
/// thicknesses are those of her planking.
///
/// # Errors
/// The duck for which no place was found.
pub fn deduct(outer: &CheckedHull) -> Result<(Hull, Vec<Moved>), String> {
    let lines = outer.lines();
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
    let mut inner = outer.hull().clone();
    let mut moved: Vec<Moved> = Vec::new();
    // Ends that no face says where to put: (line, at the stern).
    let mut untold: Vec<(usize, bool)> = Vec::new();
    for (i, line) in inner.lines.iter_mut().enumerate() {
        let k = i + first_given;
        let last = line.ducks.len() - 1;
        let mut shifts = Vec::with_capacity(line.ducks.len());
        let mut off: f64 = 0.0;
        let id = lines.lines[k].id;
        for (j, duck) in line.ducks.iter_mut().enumerate() {
            let p = duck.point();
            let end = (j == 0).then_some(false).or((j == last).then_some(true));
            let mut places =
                Places { faces: faces_at(lines, &panels, k, p, end), fixed: Vec::new() };
            if id == LineId::Keel {
                places.fixed.push(V3::y());
            }
            if id == LineId::Sheer {
                places.fixed.push(V3::z());
            }
            if let Some(at_stern) = end {
                let transom = if at_stern { lines.transom } else { lines.bow_transom };
                places.fixed.push(transom.map_or_else(V3::y, |t| t.normal));
                let chine = id.is_chine();
                if transom.is_none() && chine && places.one_way(p) {
                    places.fixed.extend(along_stem(lines, k, at_stern));
                }
            }
            let told = places.told(p);
            if let Some(at_stern) = end.filter(|_| !told) {
                untold.push((i, at_stern));
            }
            let (q, deep) = places.inside(p).ok_or_else(|| {
                format!("duck {} of the {} finds no place inside the planking", j + 1, line.name)
            })?;
            // What is fixed stays to the bit: a stem's point does not cross the centreplane.
            let kept = |axis: V3, now: f64, was: f64| {
                if places.fixed.contains(&axis) { was } else { now }
            };
            (duck.x, duck.y, duck.z) = (q.x, kept(V3::y(), q.y, p.y), kept(V3::z(), q.z, p.z));
            shifts.push(q - p);
            if told {
                off = off.max(deep);
            }
        }
        let inside = if shifts.len() > 2 { &shifts[1..last] } else { &shifts[..] };
        let norms = inside.iter().map(V3::norm);
        moved.push(Moved {
            line: id,
            between: norms.fold((f64::INFINITY, 0.0), |(a, b), n| (a.min(n), f64::max(b, n))),
            bow_aft: shifts[0].x,
            off,
        });
    }
    for (i, at_stern) in untold {
        with_the_others(outer, &mut inner, i, at_stern);
        moved[i].bow_aft = inner.lines[i].ducks[0].x - outer.lines[i].ducks[0].x;
    }
    Ok((inner, moved))
}

/// The way along the stem from the end of line `k` to the nearest end; `None` for an end that
/// lines share, which all their faces tell.
fn along_stem(lines: &HullLines, k: usize, at_stern: bool) -> Option<V3> {
    let end = |i: usize| {
        let spline = &lines.lines[i].spline;
        spline.at(if at_stern { spline.end() } else { 0.0 })
    };
    let mut others: Vec<usize> = (0..lines.lines.len()).filter(|i| *i != k).collect();
    others.sort_by_key(|i| i.abs_diff(k));
    let given = others.into_iter().filter(|i| !lines.lines[*i].derived);
    let ways: Vec<V3> = given.map(|i| end(i) - end(k)).collect();
    let shared = ways.iter().any(|way| way.norm() < ONE_END_MM);
    let way = ways.first().filter(|_| !shared)?;
    unit(V3::new(way.x, 0.0, way.z))
}

/// Moves an end of line `i` as the other lines' ends at a stem move, in the centreplane, so
/// that what was straight stays so.
fn with_the_others(outer: &Hull, inner: &mut Hull, i: usize, at_stern: bool) {
    let end = |hull: &Hull, k: usize| {
        let ducks = &hull.lines[k].ducks;
        let duck = if at_stern { ducks.last() } else { ducks.first() };
        duck.map_or(P3::origin(), |d| d.point())
    };
    let others = (0..outer.lines.len()).filter(|k| *k != i);
    let shifts: Vec<V3> = others.map(|k| end(inner, k) - end(outer, k)).collect();
    // The nearest one along the stem: the next line up, or down from the topmost.
    let Some(shift) = shifts.get(i.min(shifts.len().saturating_sub(1))).copied() else {
        return;
    };
    let ducks = &mut inner.lines[i].ducks;
    let place = if at_stern { ducks.len() - 1 } else { 0 };
    let was = end(outer, i);
    (ducks[place].x, ducks[place].z) = (was.x + shift.x, was.z + shift.z);
}

struct Panel {
    surface: Surface,
    thickness: f64,
}

impl Panel {
    /// How far `p` lies inside the outer face, mm, and the face's outward normal there.
    fn depth(&self, p: P3) -> Option<(f64, V3)> {
        let nearest = self.surface.rulings.iter().filter_map(|r| {
            let along = r.upper - r.lower;
            let length = along.norm_squared();
            let t = if length > 0.0 { (p - r.lower).dot(&along) / length } else { 0.0 };
            let t = t.clamp(0.0, 1.0);
            let q = r.lower + t * along;
            // A ruling of no length, where lines share their end, faces nowhere.
            let n = unit(r.normal_lower.lerp(&r.normal_upper, t))?;
            Some(((q - p).norm_squared(), q, n))
        });
        let (_, q, n) = nearest.min_by(|a, b| a.0.total_cmp(&b.0))?;
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
    /// The place nearest to `p` that does (least squares where too much is asked), and how
    /// far (mm) it is from the depth asked under one of the faces.
    fn inside(&self, p: P3) -> Option<(P3, f64)> {
        let free = self.free();
        let mut q = p;
        let mut last = f64::INFINITY;
        for k in 0..STEPS {
            let mut matrix = Matrix3::zeros();
            let mut right = V3::zeros();
            for face in &self.faces {
                let (depth, n) = face.depth(q)?;
                // The whole way from `p` is asked for, so that what no face decides stays 0.
                let asked = n.dot(&(q - p)) - (face.thickness - depth);
                let n = free * n;
                matrix += n * n.transpose();
                right += asked * n;
            }
            let next = p + decided(&matrix, &right);
            // Swinging between two strips, it comes to rest at the fold between them.
            let share = if k < WHOLE_STEPS { 1.0 } else { 0.5 };
            last = (next - q).norm();
            q += share * (next - q);
            if last < THERE_MM {
                break;
            }
        }
        let off = self.faces.iter().filter_map(|f| Some((f.depth(q)?.0 - f.thickness).abs()));
        let off = off.fold(0.0, f64::max);
        (last < SWING_MM).then_some((q, off))
    }

    /// Projects onto the directions that are not fixed.
    fn free(&self) -> Matrix3<f64> {
        let mut free = Matrix3::identity();
        for n in &self.fixed {
            if let Some(n) = (free * n).try_normalize(1e-6) {
                free -= n * n.transpose();
            }
        }
        free
    }

    /// Whether the faces tell of one free direction alone: two sheets that end on one stem lie
    /// square to it, near enough, and neither says where along it a chine between them ends.
    fn one_way(&self, p: P3) -> bool {
        let free = self.free();
        let normals = self.faces.iter().filter_map(|f| f.depth(p));
        let matrix =
            normals.map(|(_, n)| free * n).fold(Matrix3::zeros(), |m, n| m + n * n.transpose());
        let mut values = matrix.symmetric_eigenvalues();
        values.as_mut_slice().sort_by(|a, b| b.total_cmp(a));
        values[1] < ALONG_STEM * values[0]
    }

    /// Whether the faces say at all where along the free directions `p` is to go: the outer
    /// face at the foot of a stem may lie in the centreplane.
    fn told(&self, p: P3) -> bool {
        let free = self.free();
        let normals = self.faces.iter().filter_map(|f| f.depth(p));
        normals.map(|(_, n)| (free * n).norm()).fold(0.0, f64::max) > LEAST_SAY
    }
}

/// The shift that `matrix` asks for: whole along what the faces tell well, nothing along what
/// they hardly tell, where a hair of thickness more would send a chine far off.
fn decided(matrix: &Matrix3<f64>, right: &V3) -> V3 {
    let eigen = matrix.symmetric_eigen();
    let most = eigen.eigenvalues.max();
    let mut out = V3::zeros();
    for (value, v) in eigen.eigenvalues.iter().zip(eigen.eigenvectors.column_iter()) {
        let share = ((value / most - HARDLY) / (WELL - HARDLY)).clamp(0.0, 1.0);
        let share = share * share * (3.0 - 2.0 * share);
        if share > 0.0 {
            out += v * (share * v.dot(right) / value);
        }
    }
    out
}
