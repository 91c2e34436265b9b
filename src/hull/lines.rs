//! A hull's lines as splines, from the keel up.

use nalgebra::Matrix3;

use super::document::{EndShape, Hull, Line, LineEnd};
use super::framing::DrainWedge;
use crate::curve::{ArcTable, End, Spline, SplineError};
use crate::geom::plane::Plane;
use crate::geom::{P3, V3};
use crate::part::LineId;
use crate::tol::SAME_POINT_MM;

/// One hull line, ready to compute with.
#[derive(Debug, Clone, PartialEq)]
pub struct HullLine {
    /// Which.
    pub id: LineId,
    /// The batten.
    pub spline: Spline,
    /// Its arc length.
    pub arc: ArcTable,
    /// Whether it was worked out rather than given: the keel of a flat bottom.
    pub derived: bool,
}

impl HullLine {
    /// Whether it is this line.
    pub fn is(&self, id: LineId) -> bool {
        self.id == id
    }

    /// A line of its own through these points, as a batten has; `None` where no spline
    /// passes through them.
    pub fn through(id: LineId, points: &[P3]) -> Option<HullLine> {
        let spline = Spline::through(points, &[], End::NotAKnot, End::NotAKnot).ok()?;
        Some(HullLine { id, arc: ArcTable::of(&spline), spline, derived: false })
    }
}

/// All lines of a hull from the keel up, the derived keel of a flat bottom included.
#[derive(Debug, Clone, PartialEq)]
pub struct HullLines {
    /// At least two.
    pub lines: Vec<HullLine>,
    /// Whether the bottom is flat athwartships.
    pub flat_bottom: bool,
    /// The fall from the sides to the keelson that a flat bottom was given, so that it is
    /// flat no more, at its steepest; 0 if none.
    pub drain_slope: f64,
    /// The plane of a bow transom; `None` for a stem.
    pub bow_transom: Option<Plane>,
    /// The plane of the transom, fitted to the lines' after ends; `None` for a stern as
    /// sharp as a stem.
    pub transom: Option<Plane>,
    /// Places close along all of them, from which it is told how far they reach.
    places: Vec<P3>,
}

/// Places along each line from which extents are told; less one.
const SAMPLES: usize = 200;

/// Places along a chine through which the keel over a drain wedge is drawn: a hand's breadth
/// apart, so close that its batten strays less than a tenth of a millimetre.
const WEDGE_PLACES: usize = 40;

fn spline_of(line: &Line) -> Result<Spline, SplineError> {
    let ducks: Vec<P3> = line.ducks.iter().map(|d| d.point()).collect();
    let knuckles: Vec<bool> = line.ducks.iter().map(|d| d.knuckle).collect();
    let end = |e: LineEnd| match e {
        LineEnd::RunsOn => End::NotAKnot,
        LineEnd::Free => End::Free,
        LineEnd::Along(x, y, z) => End::Tangent(V3::new(x, y, z)),
    };
    Spline::through(&ducks, &knuckles, end(line.bow), end(line.stern))
}

/// The keel of a bottom that falls by `slope` from `chine` to the centreplane: its chine's
/// profile, let down by the slope times the half-breadth. Its ends are moved fore and aft
/// onto the transoms' planes, and what lies between in proportion.
fn keel_under(chine: &Spline, slope: f64, bow: Option<Plane>, stern: Option<Plane>) -> Spline {
    let down = Matrix3::new(1.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, -slope, 1.0);
    let (first, last) = (down * chine.at(0.0), down * chine.at(chine.end()));
    // How far along x the transom's plane is from the let-down end, if the slope moved it.
    let shift = |p: P3, plane: Option<Plane>| match plane {
        Some(plane) if slope > 0.0 => -plane.distance(p) / plane.normal.x,
        _ => 0.0,
    };
    let (s0, s1) = (shift(first, bow), shift(last, stern));
    let stretch = (s1 - s0) / (last.x - first.x);
    let mut linear = down;
    linear[(0, 0)] += stretch;
    chine.mapped(&linear, V3::new(s0 - stretch * first.x, 0.0, 0.0))
}

/// The keel of a bottom with a drain wedge: a batten through places close along its chine's
/// profile, each let down by what the wedge takes at its half-breadth; its ends moved onto
/// the transoms' planes as in [`keel_under`].
fn keel_over_wedge(
    chine: &Spline,
    wedge: DrainWedge,
    bow: Option<Plane>,
    stern: Option<Plane>,
) -> Result<Spline, SplineError> {
    let mut places: Vec<P3> = (0..=WEDGE_PLACES)
        .map(|i| chine.at(chine.end() * i as f64 / WEDGE_PLACES as f64))
        .map(|p| P3::new(p.x, 0.0, p.z - wedge.drop(p.y)))
        .collect();
    let (first, last) = (places[0], places[WEDGE_PLACES]);
    let shift = |p: P3, plane: Option<Plane>| plane.map_or(0.0, |q| -q.distance(p) / q.normal.x);
    let (s0, s1) = (shift(first, bow), shift(last, stern));
    for p in &mut places {
        p.x += s0 + (s1 - s0) * (p.x - first.x) / (last.x - first.x);
    }
    Spline::through(&places, &[], End::NotAKnot, End::NotAKnot)
}

impl HullLines {
    /// Half-breadth (mm) at which the lines begin at a stem, or end at a sharp stern's post;
    /// the keel's is always nothing.
    pub fn half_siding(&self, at_stern: bool) -> f64 {
        let lines = self.lines.iter().filter(|l| !l.is(LineId::Keel));
        let end = |l: &HullLine| if at_stern { l.spline.end() } else { 0.0 };
        lines.map(|l| l.spline.at(end(l)).y).fold(f64::INFINITY, f64::min).max(0.0)
    }

    /// The splines of `hull`, which [`super::check`] found buildable.
    ///
    /// # Errors
    /// The name of the line and why no batten passes through its ducks.
    pub fn of(hull: &Hull) -> Result<HullLines, (String, SplineError)> {
        HullLines::after(None, hull)
    }

    /// Whether two documents have the same lines: all that [`HullLines::of`] reads.
    pub fn same(a: &Hull, b: &Hull) -> bool {
        a.lines == b.lines
            && a.framing.drain_slope == b.framing.drain_slope
            && a.framing.drain_wedge == b.framing.drain_wedge
    }

    /// As [`HullLines::of`]; lines that are drawn as they were in the document `before` are
    /// taken over from its lines.
    ///
    /// # Errors
    /// As there.
    pub fn after(
        before: Option<(&Hull, &HullLines)>,
        hull: &Hull,
    ) -> Result<HullLines, (String, SplineError)> {
        let mut lines = Vec::with_capacity(hull.lines.len() + 1);
        for (k, line) in hull.lines.iter().enumerate() {
            // Under a name that the check faults it counts as a chine.
            let id = LineId::of(&line.name).unwrap_or(LineId::NthChine(k));
            let drawn = |(b, of): (&Hull, &HullLines)| {
                b.line(&line.name)
                    .filter(|old| *old == line)
                    .and_then(|_| of.line(id).filter(|l| !l.derived).cloned())
            };
            if let Some(old) = before.and_then(drawn) {
                lines.push(old);
                continue;
            }
            let spline = spline_of(line).map_err(|e| (line.name.clone(), e))?;
            lines.push(HullLine { id, arc: ArcTable::of(&spline), spline, derived: false });
        }
        let ends = |at_bow: bool| -> Vec<P3> {
            lines.iter().map(|l| l.spline.at(if at_bow { 0.0 } else { l.spline.end() })).collect()
        };
        // A stem has every line's first point near the centreplane; a pram's first points
        // stand out from it. A sharp stern is a stem turned round.
        let athwartships = |ends: &[P3]| {
            let widest = ends.iter().map(|p| p.y).fold(0.0, f64::max);
            if widest > WIDEST_STEM_MM { Plane::athwartships_fit(ends) } else { None }
        };
        let bow_transom =
            athwartships(&ends(true)).map(|p| Plane { normal: -p.normal, offset: -p.offset });
        let transom = athwartships(&ends(false));
        // A bottom that falls to the keelson has a keel of its own below the chines' profile.
        let no_keel = hull.line_of(LineId::Keel).is_none() && hull.lines.len() >= 2;
        let wedge = hull.framing.drain_wedge.filter(|_| no_keel);
        let given = wedge.map_or(hull.framing.drain_slope, DrainWedge::slope);
        let drain_slope = if no_keel { given } else { 0.0 };
        if no_keel {
            let chine = &lines[0].spline;
            let spline = match wedge {
                Some(wedge) => keel_over_wedge(chine, wedge, bow_transom, transom)
                    .map_err(|e| (LineId::Keel.to_string(), e))?,
                None => keel_under(chine, drain_slope, bow_transom, transom),
            };
            let arc = ArcTable::of(&spline);
            lines.insert(0, HullLine { id: LineId::Keel, spline, arc, derived: true });
        }
        let flat_bottom = no_keel && drain_slope == 0.0;
        let places = lines
            .iter()
            .flat_map(|line| {
                let at =
                    move |i: usize| line.spline.at(line.spline.end() * i as f64 / SAMPLES as f64);
                (0..=SAMPLES).map(at)
            })
            .collect();
        Ok(HullLines { lines, flat_bottom, drain_slope, bow_transom, transom, places })
    }

    /// The line `id`.
    pub fn line(&self, id: LineId) -> Option<&HullLine> {
        self.lines.iter().find(|l| l.id == id)
    }

    /// The line that a document calls `name`.
    pub fn get(&self, name: &str) -> Option<&HullLine> {
        self.line(LineId::of(name)?)
    }

    /// Name of the panel between line `k` and line `k + 1`.
    pub fn panel_name(&self, k: usize) -> String {
        let panels = self.lines.len() - 1;
        match (k, panels) {
            (0, n) if n > 1 => "bottom".into(),
            (_, 1 | 2) => "side".into(),
            (k, _) => format!("strake-{k}"),
        }
    }

    /// The plane that trims panels at the bow if their ends are not straight: the stem's
    /// centreplane (shifted out by its half-siding) or the bow transom.
    pub fn bow_plane(&self, shape: EndShape) -> Option<Plane> {
        if shape.straight {
            return None;
        }
        self.bow_transom.or_else(|| Some(self.centreplane(|l| l.spline.at(0.0).y)))
    }

    /// The plane that trims panels at the stern if their ends are not straight: the
    /// transom, or the centreplane of a stern that is as sharp as a stem.
    pub fn stern_plane(&self, shape: EndShape) -> Option<Plane> {
        let sharp = || self.centreplane(|l| l.spline.at(l.spline.end()).y);
        (!shape.straight).then(|| self.transom.unwrap_or_else(sharp))
    }

    /// The centreplane shifted to starboard by half the siding of a post, which is the
    /// least half-breadth of the lines' ends there; the keel's is always none.
    fn centreplane(&self, half_breadth: impl Fn(&HullLine) -> f64) -> Plane {
        let lines = self.lines.iter().filter(|l| !l.is(LineId::Keel));
        let half_siding = lines.map(half_breadth).fold(f64::INFINITY, f64::min);
        Plane { normal: -V3::y(), offset: -half_siding.max(0.0) }
    }

    /// Greatest x of any line less the least: length overall, mm.
    pub fn length_overall(&self) -> f64 {
        let (low, high) = self.extent(|p| p.x);
        high - low
    }

    /// Twice the greatest half-breadth, mm.
    pub fn beam_overall(&self) -> f64 {
        2.0 * self.extent(|p| p.y).1
    }

    /// From the lowest point of any line to the highest, mm.
    pub fn depth(&self) -> f64 {
        let (low, high) = self.extent(|p| p.z);
        high - low
    }

    /// Least and greatest of a coordinate over all lines, sampled along each.
    pub fn extent(&self, coordinate: impl Fn(P3) -> f64) -> (f64, f64) {
        self.places
            .iter()
            .map(|p| coordinate(*p))
            .fold((f64::INFINITY, f64::NEG_INFINITY), |(l, h), c| (l.min(c), h.max(c)))
    }
}

/// First points within this (mm) of the centreplane lie on a stem (half its siding, which
/// is rarely over 25 mm on such boats); further out they lie on a bow transom.
pub const WIDEST_STEM_MM: f64 = 60.0 + SAME_POINT_MM;
