//! Will the sheet take the panel's bend? Principal curvature against the least radius.
//!
//! A developable panel bends about its rulings only. The bend is felt over a length of
//! about a dozen thicknesses, so curvature is averaged over that: the point of a fan, whose
//! radius is nothing, then counts for the angle that it turns, which is what a sheet feels.

use crate::flat::FlatPanel;
use crate::geom::{P3, V3, unit};
use crate::material::{Bendable, Quality, Sheet, SheetTable};
use crate::panel::Surface;

/// Length over which a bend is averaged, in thicknesses of the sheet. Our judgement.
const FELT_OVER_THICKNESSES: f64 = 12.0;

/// A radius above this (mm) is flat: a sag of a third of a millimetre over a metre.
pub const FLAT_RADIUS_MM: f64 = 400_000.0;

/// A panel's sheet at its tightest.
#[derive(Debug, Clone, PartialEq)]
pub struct SheetBend {
    /// Tightest radius against what the sheet takes there, mm; infinite for a flat panel.
    pub radius: f64,
    /// Least radius of that sheet, with its grain as laid, at that place, mm.
    pub least_radius: f64,
    /// The place, on the moulded surface, mm.
    pub at: P3,
    /// Angle between ruling and face grain there, radians.
    pub grain_angle: f64,
    /// Which table of radii the sheet is judged by.
    pub quality: Quality,
    /// Other ways to plank the panel.
    pub options: Vec<SheetOption>,
}

/// Another way to plank a panel, and whether it would hold.
#[derive(Debug, Clone, PartialEq)]
pub struct SheetOption {
    /// What to do.
    pub way: SheetWay,
    /// Whether the tightest place is then within the least radius.
    pub holds: bool,
    /// Least radius then, mm, at the place that is tightest then.
    pub least_radius: f64,
}

/// Another way to plank a panel.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum SheetWay {
    /// The same sheet, its face grain turned.
    Turned {
        /// Across the panel; otherwise along it.
        across: bool,
        /// Joints between sheets now and then, where there would be more.
        joints: Option<[usize; 2]>,
    },
    /// A thinner sheet of the table.
    Thinner(String),
    /// A clear marine sheet as thick.
    Clear,
    /// Soaked in hot water before it is bent.
    Soaked,
    /// Two layers of half the thickness, glued.
    TwoLayers,
}

#[derive(Debug, Clone, Copy)]
struct Bend {
    curvature: f64,
    at: P3,
    /// Angle between ruling and the panel's length in the flat, radians, 0 to π/2.
    to_length: f64,
}

/// One edge's run: (distance square to the rulings, angle turned so far) at each ruling.
fn run_along(surface: &Surface, upper: bool) -> Vec<(f64, f64)> {
    let mut run: Vec<(f64, f64)> = Vec::with_capacity(surface.rulings.len());
    run.push((0.0, 0.0));
    for w in surface.rulings.windows(2) {
        let (a, b) = (&w[0], &w[1]);
        let ruling = unit((a.upper - a.lower) + (b.upper - b.lower)).unwrap_or_else(V3::z);
        let (p, q, n, m) = if upper {
            (a.upper, b.upper, a.normal_upper, b.normal_upper)
        } else {
            (a.lower, b.lower, a.normal_lower, b.normal_lower)
        };
        let step = q - p;
        let width = (step - step.dot(&ruling) * ruling).norm();
        let turned = n.cross(&m).dot(&ruling).atan2(n.dot(&m));
        let (s, angle) = run[run.len() - 1];
        run.push((s + width, angle + turned));
    }
    run
}

/// What is felt at a ruling, over a window before or behind it.
struct Felt {
    /// 1/mm.
    curvature: f64,
    /// The ruling in the middle of the window.
    middle: usize,
    /// The window's ends as places in the run: 2.25 is a quarter of the way from 2 to 3.
    from: f64,
    to: f64,
}

/// What is felt at each ruling over the `felt` mm behind and before it, whichever is more. The
/// angle is taken to change evenly between rulings; where an edge stands still (the point of a
/// fan) all of its turning lies inside the window.
fn felt_curvatures(run: &[(f64, f64)], felt: f64) -> Vec<Felt> {
    let last = run.len() - 1;
    let share = |j: usize, s: f64| {
        let (s0, s1) = (run[j].0, run[j + 1].0);
        if s1 > s0 { (s - s0) / (s1 - s0) } else { 0.0 }
    };
    let between = |j: usize, s: f64| run[j].1 + (run[j + 1].1 - run[j].1) * share(j, s);
    // Both windows only move aft, so each end is followed and not searched for.
    let (mut ahead, mut behind) = (0, 0);
    (0..run.len())
        .map(|i| {
            let (s, angle) = run[i];
            ahead = ahead.max(i);
            while ahead < last && run[ahead + 1].0 <= s + felt {
                ahead += 1;
            }
            while behind < i && run[behind].0 < s - felt {
                behind += 1;
            }
            let to = if ahead < last { between(ahead, s + felt) } else { run[last].1 };
            let from = if behind > 0 { between(behind - 1, s - felt) } else { run[0].1 };
            let (fore, aft) = ((to - angle).abs(), (angle - from).abs());
            if fore >= aft {
                let beyond = if ahead < last { share(ahead, s + felt) } else { 0.0 };
                let to = ahead as f64 + beyond;
                Felt { curvature: fore / felt, middle: (i + ahead) / 2, from: i as f64, to }
            } else {
                let before = if behind > 0 { 1.0 - share(behind - 1, s - felt) } else { 0.0 };
                let from = behind as f64 - before;
                Felt { curvature: aft / felt, middle: (i + behind) / 2, from, to: i as f64 }
            }
        })
        .collect()
}

/// How rulings lie to the panel's length on the mean over a window, each as it turns the sheet:
/// in a fan they differ by tens of degrees, and the sheet bends about all of them. Sums from
/// the first ruling on, so that a window that grows by a hair changes its mean by a hair.
struct Turned<'a> {
    run: &'a [(f64, f64)],
    to_length: &'a [f64],
    /// Angle turned, and that times the angle to the length, up to each ruling.
    sums: Vec<(f64, f64)>,
}

impl<'a> Turned<'a> {
    fn of(run: &'a [(f64, f64)], to_length: &'a [f64]) -> Turned<'a> {
        let mut sums = Vec::with_capacity(run.len());
        sums.push((0.0, 0.0));
        for k in 0..run.len() - 1 {
            let (turned, weighed) = sums[k];
            let by = (run[k + 1].1 - run[k].1).abs();
            let mean = 0.5 * (to_length[k] + to_length[k + 1]);
            sums.push((turned + by, weighed + by * mean));
        }
        Turned { run, to_length, sums }
    }

    fn up_to(&self, place: f64) -> (f64, f64) {
        let k = (place.floor() as usize).min(self.run.len() - 1);
        let t = place - k as f64;
        let (turned, weighed) = self.sums[k];
        if t <= 0.0 || k + 1 >= self.run.len() {
            return (turned, weighed);
        }
        let by = t * (self.run[k + 1].1 - self.run[k].1).abs();
        let here = self.to_length[k] + 0.5 * t * (self.to_length[k + 1] - self.to_length[k]);
        (turned + by, weighed + by * here)
    }

    /// `None` where nothing is turned.
    fn mean(&self, from: f64, to: f64) -> Option<f64> {
        let (a, b) = (self.up_to(from), self.up_to(to));
        let turned = b.0 - a.0;
        (turned > 1e-9).then(|| (b.1 - a.1) / turned)
    }
}

/// Curvatures along both edges of a panel, averaged over what a sheet of `thickness` feels;
/// `runs` are those of the lower and the upper edge, `to_length` is as in [`Bend`] for each
/// ruling.
fn bends(
    surface: &Surface,
    to_length: &[f64],
    runs: &[Vec<(f64, f64)>; 2],
    thickness: f64,
) -> Vec<Bend> {
    let felt = FELT_OVER_THICKNESSES * thickness;
    let mut out = Vec::with_capacity(2 * surface.rulings.len());
    for upper in [false, true] {
        let run = &runs[usize::from(upper)];
        let turned = Turned::of(run, to_length);
        for f in felt_curvatures(run, felt) {
            let r = &surface.rulings[f.middle];
            out.push(Bend {
                curvature: f.curvature,
                at: if upper { r.upper } else { r.lower },
                to_length: turned.mean(f.from, f.to).unwrap_or(to_length[f.middle]),
            });
        }
    }
    out
}

/// A panel as sheets of several thicknesses feel it: several ways to plank it are of one.
struct Shape<'a> {
    surface: &'a Surface,
    /// As [`bends`] has them.
    to_length: Vec<f64>,
    runs: [Vec<(f64, f64)>; 2],
    /// What a thickness (mm) feels.
    felt: Vec<(f64, Vec<Bend>)>,
}

impl<'a> Shape<'a> {
    fn of(surface: &'a Surface, flat: &FlatPanel) -> Shape<'a> {
        let to_length = flat.rulings.iter().map(|f| {
            let d = f.flat_upper - f.flat_lower;
            d.y.abs().atan2(d.x.abs())
        });
        Shape {
            surface,
            to_length: to_length.collect(),
            runs: [run_along(surface, false), run_along(surface, true)],
            felt: Vec::new(),
        }
    }

    /// What a sheet of `thickness` mm feels.
    fn felt(&mut self, thickness: f64) -> &[Bend] {
        let at = self.felt.iter().position(|f| f.0 == thickness).unwrap_or_else(|| {
            let bends = bends(self.surface, &self.to_length, &self.runs, thickness);
            self.felt.push((thickness, bends));
            self.felt.len() - 1
        });
        &self.felt[at].1
    }
}

/// Share of the bending limit (1 at `least_radius` mm) at the lower and upper end of each
/// ruling of a sheet of `thickness` mm.
pub fn shares(surface: &Surface, thickness: f64, least_radius: f64) -> Vec<[f64; 2]> {
    let felt = FELT_OVER_THICKNESSES * thickness;
    let lower = felt_curvatures(&run_along(surface, false), felt);
    let upper = felt_curvatures(&run_along(surface, true), felt);
    let share = |f: &Felt| f.curvature * least_radius;
    lower.iter().zip(&upper).map(|(l, u)| [share(l), share(u)]).collect()
}

/// The tightest of `bends` for a sheet: (share of the limit, index, least radius).
fn tightest(
    bends: &[Bend],
    table: &SheetTable,
    sheet: Bendable,
    across: bool,
) -> (f64, usize, f64) {
    let mut worst = (-1.0, 0, 0.0);
    let least_radius = table.least_radius_of(sheet);
    for (i, b) in bends.iter().enumerate() {
        let least = least_radius(grain_angle(b.to_length, across));
        let share = b.curvature * least;
        if share > worst.0 {
            worst = (share, i, least);
        }
    }
    worst
}

/// Angle between ruling and face grain, radians.
fn grain_angle(to_length: f64, grain_across: bool) -> f64 {
    if grain_across { std::f64::consts::FRAC_PI_2 - to_length } else { to_length }
}

/// Joints that the panel needs as its sheets lie, and with them turned: at least so many, its
/// length over theirs; `None` where turning them costs none.
fn joints(flat: &FlatPanel, sheet: Option<&Sheet>, grain_across: bool) -> Option<[usize; 2]> {
    let sheet = sheet?;
    let ends = flat.rulings.iter().flat_map(|r| [r.flat_lower.x, r.flat_upper.x]);
    let (from, to) =
        ends.fold((f64::INFINITY, f64::NEG_INFINITY), |(l, h), x| (l.min(x), h.max(x)));
    let needed = |length: f64| (((to - from) / length).ceil() as usize).saturating_sub(1);
    let mut both = [needed(sheet.length_mm), needed(sheet.width_mm)];
    if grain_across {
        both.reverse();
    }
    (both[0] != both[1]).then_some(both)
}

/// Judges the sheet called `name`, of measured `thickness` mm, on a panel.
pub fn bend(
    surface: &Surface,
    flat: &FlatPanel,
    table: &SheetTable,
    (name, thickness): (&str, f64),
    grain_across: bool,
) -> SheetBend {
    let mut shape = Shape::of(surface, flat);
    let sheet = table.bendable(name, thickness);
    let felt = shape.felt(thickness);
    let (_, i, least_radius) = tightest(felt, table, sheet, grain_across);
    let Bend { curvature, at, to_length } = felt[i];
    let radius = if curvature * FLAT_RADIUS_MM < 1.0 { f64::INFINITY } else { 1.0 / curvature };
    let mut options = Vec::new();
    // A thinner sheet feels a bend over less of its length.
    let mut as_planked =
        |s: Bendable, across: bool| tightest(shape.felt(s.thickness), table, s, across);
    let of = |s: &Sheet| table.bendable(&s.name, s.thickness_mm);
    let mut thinner: Vec<&Sheet> = table
        .sheets
        .iter()
        .filter(|s| s.quality == sheet.quality && s.thickness_mm < thickness - 0.25)
        .collect();
    thinner.sort_by(|a, b| b.thickness_mm.total_cmp(&a.thickness_mm));
    // The thickest thinner sheet that holds, or the thinnest there is.
    let holds = thinner.iter().find(|s| as_planked(of(s), grain_across).0 <= 1.0);
    let thinner = holds.or(thinner.last()).copied();
    let mut option = |way: SheetWay, sheet: Bendable, across: bool| {
        let (share, _, least) = as_planked(sheet, across);
        options.push(SheetOption { way, holds: share <= 1.0, least_radius: least });
    };
    let joints = joints(flat, table.get(name), grain_across);
    let turned = SheetWay::Turned { across: !grain_across, joints };
    option(turned, sheet, !grain_across);
    if let Some(s) = thinner {
        option(SheetWay::Thinner(s.name.clone()), of(s), grain_across);
    }
    match sheet.quality {
        // The mill-run table has no figures for a wetted sheet.
        Quality::MillRun => {
            option(SheetWay::Clear, Bendable { quality: Quality::Clear, ..sheet }, grain_across)
        }
        Quality::Clear => {
            option(SheetWay::Soaked, Bendable { soaked: true, ..sheet }, grain_across)
        }
    }
    option(SheetWay::TwoLayers, Bendable { thickness: 0.5 * thickness, ..sheet }, grain_across);
    SheetBend {
        radius,
        least_radius,
        at,
        grain_angle: grain_angle(to_length, grain_across),
        quality: sheet.quality,
        options,
    }
}
