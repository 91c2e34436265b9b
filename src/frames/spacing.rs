//! Where stations should stand, and how many battens the bottom wants: how far the skin
//! between its supports is pressed in ([`Plate`]) by the water at rest and by a slam.
//!
//! At rest it is pressed down to its sheer, aft by twice that. Forward a wave is struck: von
//! Kármán's greatest mean pressure on a wedge of deadrise β that meets the water at the speed
//! V, ½ ρ V² π cot β ("The impact on seaplane floats during landing", NACA Technical Note
//! 321, 1929), V being that of a fall of her bow. It acts on a whole bay here, which is on
//! the safe side.
//!
//! Which head of water, which fall, and how much sag is too much, is our judgement; no
//! source. This is advice on spacing and no rule of scantlings.

use super::sag::Plate;
use super::section::{Skin, SkinPanel};
use crate::geom::{P3, V3, unit};
use crate::part::Severity;

/// Weight of water over volume, N/mm³.
const WATER: f64 = 9.81e-6;
/// The bottom from half her length aft carries motor, crew and the sea's blows: twice the
/// still head. Our judgement.
const AFT_BOTTOM: f64 = 2.0;
/// Sides see about half the head. Our judgement.
const SIDES: f64 = 0.5;
/// Her bow falls onto a wave by this share of her length: the longer she is, the harder she
/// is driven. Our judgement.
const FALL: f64 = 1.0 / 40.0;
/// A bottom flatter than this (radians) traps air, which softens the blow: it is struck as
/// one of this deadrise. Our judgement.
const LEAST_DEADRISE: f64 = 15.0 * std::f64::consts::PI / 180.0;
/// Sag over span that is felt underfoot and seen from outside: 1/150. Our judgement.
const ALLOWED_SAG: f64 = 1.0 / 150.0;
/// From twice that on it is no matter of taste. Our judgement.
const TOO_SOFT: f64 = 2.0;
/// Sag over span at which fastenings draw and veneers part. Our judgement.
const MOST_SAG: f64 = 0.05;
/// A thin curved panel snaps through below the pressure of the perfect one, as its curve is
/// never true: it is to see no more than this share of it. Our judgement.
const SNAPS_AT: f64 = 0.5;
/// Longest bay that is looked at, mm.
const LONGEST_MM: f64 = 4000.0;

/// Battens inside the bottom, as far as they hold it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Battening {
    /// How many a side.
    pub count: usize,
    /// Where they begin, mm aft.
    pub from: f64,
    /// Bending stiffness of one, E I, N mm².
    pub stiffness: f64,
}

/// A blow on a bay.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Slam {
    /// N/mm².
    pub pressure: f64,
    /// How far it presses the bay in, mm.
    pub sag: f64,
}

/// The stretch of skin between two neighbouring supports.
#[derive(Debug, Clone, PartialEq)]
pub struct Bay {
    /// Its forward end, mm aft.
    pub from: f64,
    /// Its after end, mm aft.
    pub to: f64,
    /// The panel that sags most for its span.
    pub panel: usize,
    /// Battens a side that pass through it.
    pub battens: usize,
    /// The span that bends: the bay's length or what lies between keel, battens and chine,
    /// mm.
    pub span: f64,
    /// Mean radius of the panel there along the boat, mm; infinite if flat, negative where
    /// it is hollow towards the water.
    pub radius: f64,
    /// Pressure at rest that it was judged under, N/mm².
    pub pressure: f64,
    /// Sag in its middle, mm.
    pub sag: f64,
    /// Sag that we would accept over this span, mm.
    pub allowed: f64,
    /// A blow that it is to stand; `None` where none falls.
    pub slam: Option<Slam>,
    /// Pressure (N/mm²) at which the curved panel, in compression, snaps through, and its sag
    /// then, mm; `None` where it does not.
    pub snaps: Option<[f64; 2]>,
    /// Longest bay that keeps to that sag, mm; `None` where no bay would be too long.
    pub longest: Option<f64>,
    /// Battens a side that would keep to it as the frames stand; `None` on sides, or where no
    /// number up to six does.
    pub battens_wanted: Option<usize>,
}

/// More battens than this (a side) are no battens but a second bottom.
const MOST_BATTENS: usize = 6;

impl Bay {
    /// Whether the stations are close enough here.
    pub fn holds(&self) -> bool {
        self.gravity().is_none()
    }

    /// The greatest pressure on it, N/mm².
    pub fn worst_pressure(&self) -> f64 {
        self.slam.map_or(self.pressure, |s| s.pressure.max(self.pressure))
    }

    /// The greatest sag, mm.
    pub fn worst_sag(&self) -> f64 {
        self.slam.map_or(self.sag, |s| s.sag.max(self.sag))
    }

    /// Whether its pressure comes near to what snaps it through.
    pub fn may_snap(&self) -> bool {
        self.snaps.is_some_and(|[most, _]| self.worst_pressure() > SNAPS_AT * most)
    }

    /// How bad it is; `None` where it holds.
    pub fn gravity(&self) -> Option<Severity> {
        if self.worst_sag() > MOST_SAG * self.span {
            Some(Severity::Stop)
        } else if self.may_snap() || self.sag > TOO_SOFT * self.allowed {
            Some(Severity::Watch)
        } else if self.sag > self.allowed {
            Some(Severity::Note)
        } else {
            None
        }
    }

    /// For finding the worst of several: how bad, then how soft.
    fn order(&self) -> (Option<Severity>, f64) {
        (self.gravity(), (self.sag / self.allowed).max(self.worst_sag() / (MOST_SAG * self.span)))
    }

    /// Whether it is worse than `other`.
    pub fn worse_than(&self, other: &Bay) -> bool {
        let ((a, x), (b, y)) = (self.order(), other.order());
        a > b || (a == b && x > y)
    }
}

/// How a panel lies in a bay.
struct Lie {
    width: f64,
    curvature: f64,
    /// Tangent of its deadrise.
    deadrise: f64,
}

fn lie(skin: &Skin, panel: usize, from: f64, to: f64) -> Option<Lie> {
    let rulings = &skin.panels[panel].surface.rulings;
    let middle = |a: P3, b: P3| P3::from(0.5 * (a.coords + b.coords));
    let inside: Vec<_> =
        rulings.iter().filter(|r| (from..=to).contains(&middle(r.lower, r.upper).x)).collect();
    let (first, last) = (inside.first()?, inside.last()?);
    let run = middle(last.lower, last.upper) - middle(first.lower, first.upper);
    if inside.len() < 2 || run.norm() < 1.0 {
        return None;
    }
    // Where the skin bulges, its outward normal turns aft on the way aft.
    let turned: f64 = inside
        .windows(2)
        .map(|w| {
            let (n, m) = (w[0].normal_lower, w[1].normal_lower);
            crate::geom::angle_between(n, m).copysign((m - n).dot(&run))
        })
        .sum();
    // A bay that runs to a point is held the closer: its mean width counts.
    let width =
        inside.iter().map(|r| (r.upper - r.lower).norm()).sum::<f64>() / inside.len() as f64;
    let normals = inside.iter().fold(V3::zeros(), |v, r| v + r.normal_lower + r.normal_upper);
    let n = unit(normals)?;
    Some(Lie { width, curvature: turned / run.norm(), deadrise: n.y.abs() / n.z.abs().max(1e-9) })
}

/// From the keel to the sheer at half length, mm: the head when she is pressed down to her
/// sheer.
fn depth_amidships(skin: &Skin) -> f64 {
    let (fore, aft) = skin.lines.extent(|p| p.x);
    let middle = 0.5 * (fore + aft);
    let height = |line: usize| {
        let spline = &skin.lines.lines[line].spline;
        spline.parameter_at_x(middle).map(|t| spline.at(t).z)
    };
    match (height(0), height(skin.lines.lines.len() - 1)) {
        (Some(low), Some(high)) => high - low,
        _ => skin.lines.depth(),
    }
}

/// Pressure (N/mm²) of a fall of `fall` mm onto the water of a bottom whose deadrise has this
/// tangent.
pub fn slam_pressure(fall: f64, deadrise: f64) -> f64 {
    WATER * fall * std::f64::consts::PI / deadrise.max(LEAST_DEADRISE.tan())
}

/// What bends under the pressure: the sheet between its supports, and where battens part it
/// the whole of sheet and battens between the frames.
fn plates(p: &SkinPanel, l: &Lie, span: f64, battens: usize, batten: f64) -> Vec<Plate> {
    let cubed = p.thickness.powi(3) / 12.0;
    let part = l.width / (battens + 1) as f64;
    let sheet = Plate {
        span,
        width: part,
        bending_along: p.stiffness.along * cubed,
        bending_across: p.stiffness.across * cubed,
        pushed: p.stiffness.pushed_along * p.thickness,
        curvature: l.curvature,
    };
    let mut out = vec![sheet];
    if battens > 0 {
        // Glue would make one stiffer beam of both; they are taken as two that only touch.
        let bending_along = sheet.bending_along + batten / part;
        out.push(Plate { width: l.width, bending_along, ..sheet });
    }
    out
}

/// Sag over what is allowed, sag and span of the plate that is worst by that.
fn softest(plates: &[Plate], pressure: f64) -> (f64, f64, f64) {
    plates
        .iter()
        .map(|p| {
            let span = p.span.min(p.width);
            let sag = p.sag(pressure);
            (sag / (ALLOWED_SAG * span), sag, span)
        })
        .fold((-1.0, 0.0, 1.0), |worst, here| if here.0 > worst.0 { here } else { worst })
}

/// Whether one of them sags by more than is allowed.
fn too_soft(plates: &[Plate], pressure: f64) -> bool {
    plates.iter().any(|p| p.sags_past(ALLOWED_SAG * p.span.min(p.width), pressure))
}

/// Every bay between the ends of the hull and its stations, each with its worst panel.
pub fn bays(skin: &Skin, stations: &[f64], battening: Option<Battening>) -> Vec<Bay> {
    let (fore, aft) = skin.lines.extent(|p| p.x);
    let depth = depth_amidships(skin);
    let mut ends = vec![fore];
    ends.extend(stations.iter().copied().filter(|x| *x > fore && *x < aft));
    ends.push(aft);
    ends.windows(2)
        .filter_map(|w| {
            let (from, to) = (w[0], w[1]);
            let after_half = 0.5 * (from + to) > 0.5 * (fore + aft);
            let of_panel = |panel: usize| -> Option<Bay> {
                let l = lie(skin, panel, from, to)?;
                let p = &skin.panels[panel];
                let bottom = panel == 0 && skin.panels.len() > 1;
                let load = match (bottom, after_half) {
                    (true, true) => AFT_BOTTOM,
                    (true, false) => 1.0,
                    _ => SIDES,
                };
                let pressure = load * WATER * depth;
                let here = battening.filter(|b| bottom && from + 1.0 > b.from);
                let battens = here.map_or(0, |b| b.count);
                let stiffness = battening.map_or(0.0, |b| b.stiffness);
                let all = plates(p, &l, to - from, battens, stiffness);
                let (share, sag, span) = softest(&all, pressure);
                let slam = (bottom && !after_half).then(|| {
                    let pressure = slam_pressure(FALL * (aft - fore), l.deadrise);
                    Slam { pressure, sag: all[0].sag(pressure) }
                });
                let soft = |s: f64| too_soft(&plates(p, &l, s, battens, stiffness), pressure);
                let longest = (1..).map(|k| 10.0 * f64::from(k)).take_while(|s| *s <= LONGEST_MM);
                let longest = longest.into_iter().find(|s| soft(*s)).map(|s| s - 10.0);
                let with = |n: usize| softest(&plates(p, &l, to - from, n, stiffness), pressure).0;
                let battens_wanted = (bottom && share > 1.0)
                    .then(|| (battens + 1..=MOST_BATTENS).find(|n| with(*n) <= 1.0))
                    .flatten();
                let flat = l.curvature.abs() < 1e-9;
                Some(Bay {
                    from,
                    to,
                    panel,
                    battens,
                    span,
                    radius: if flat { f64::INFINITY } else { 1.0 / l.curvature },
                    pressure,
                    sag,
                    allowed: ALLOWED_SAG * span,
                    slam,
                    snaps: all[0].snaps().map(|(c, p)| [p, c]),
                    longest,
                    battens_wanted,
                })
            };
            let each = (0..skin.panels.len()).filter_map(of_panel);
            each.reduce(|worst, b| if b.worse_than(&worst) { b } else { worst })
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// ρ g h π cot β by hand: 150 mm of water at 1.4715 kPa, at 20° of deadrise 12.70 kPa; a
    /// flat bottom is struck as one of 15°.
    #[test]
    fn a_slam_by_hand() {
        let at = |degrees: f64| slam_pressure(150.0, degrees.to_radians().tan());
        assert!((at(20.0) - 0.012_701).abs() < 1e-5, "{}", at(20.0));
        assert!((at(0.0) - 0.017_253).abs() < 1e-5, "{}", at(0.0));
        assert_eq!(at(0.0), at(15.0));
    }
}
