//! Where stations should stand: closer where the skin is flattest or the load highest.
//!
//! Between two frames a sheet is a strip built in at both, of span s, under a pressure p;
//! a flat one sags p s⁴ / 384 D in its middle, D = E t³ / 12 (1 − ν²) (Roark's *Formulas
//! for Stress and Strain*, beam with fixed ends and even load, per unit of width). Bent to
//! a radius R about the same span it carries as a shallow arch beside that, by hoop
//! tension p = E t w / R². A sheet narrower than the bay spans its width instead.
//!
//! Which head of water, and how much sag is too much, is our judgement; no source. This is
//! advice on spacing and no rule of scantlings.

use super::section::Skin;
use crate::geom::P3;

/// Stiffness of plywood in bending, mean of both directions, N/mm² (from memory).
const PLY_STIFFNESS: f64 = 7_000.0;
/// Poisson's ratio of plywood (from memory; hardly matters).
const POISSON: f64 = 0.1;
/// Weight of water over volume, N/mm³.
const WATER: f64 = 9.81e-6;
/// The bottom from half her length aft carries motor, crew and the sea's blows: twice the
/// still head. Our judgement.
const AFT_BOTTOM: f64 = 2.0;
/// Sides see about half the head. Our judgement.
const SIDES: f64 = 0.5;
/// Sag over span that is felt underfoot and seen from outside: 1/150. Our judgement.
const ALLOWED_SAG: f64 = 1.0 / 150.0;

/// The stretch of skin between two neighbouring supports.
#[derive(Debug, Clone, PartialEq)]
pub struct Bay {
    /// Its forward end, mm aft.
    pub from: f64,
    /// Its after end, mm aft.
    pub to: f64,
    /// The panel that sags most for its span.
    pub panel: usize,
    /// The span that bends: the bay's length or the panel's width, mm.
    pub span: f64,
    /// Mean radius of the panel there along the boat, mm; infinite if flat.
    pub radius: f64,
    /// Pressure that it was judged under, N/mm².
    pub pressure: f64,
    /// Sag in its middle, mm.
    pub sag: f64,
    /// Sag that we would accept over this span, mm.
    pub allowed: f64,
    /// Longest bay that keeps to that sag, mm; `None` where no bay would be too long,
    /// because the panel spans its width.
    pub longest: Option<f64>,
}

impl Bay {
    /// Whether the stations are close enough here.
    pub fn holds(&self) -> bool {
        self.sag <= self.allowed
    }
}

/// How a panel lies in a bay.
struct Lie {
    width: f64,
    curvature: f64,
}

fn lie(skin: &Skin, panel: usize, from: f64, to: f64) -> Option<Lie> {
    let rulings = &skin.panels[panel].surface.rulings;
    let middle = |a: P3, b: P3| P3::from(0.5 * (a.coords + b.coords));
    let inside: Vec<_> =
        rulings.iter().filter(|r| (from..=to).contains(&middle(r.lower, r.upper).x)).collect();
    let (first, last) = (inside.first()?, inside.last()?);
    let run = (middle(last.lower, last.upper) - middle(first.lower, first.upper)).norm();
    if inside.len() < 2 || run < 1.0 {
        return None;
    }
    let turned: f64 = inside
        .windows(2)
        .map(|w| crate::geom::angle_between(w[0].normal_lower, w[1].normal_lower))
        .sum();
    let width = inside.iter().map(|r| (r.upper - r.lower).norm()).fold(0.0, f64::max);
    Some(Lie { width, curvature: turned / run })
}

/// Sag (mm) of a strip of thickness `t` over `span` under `pressure`, bent to `curvature`
/// (1/mm) along it.
pub fn sag(t: f64, span: f64, pressure: f64, curvature: f64) -> f64 {
    let plate = PLY_STIFFNESS * t.powi(3) / (12.0 * (1.0 - POISSON * POISSON));
    let arch = PLY_STIFFNESS * t * curvature * curvature;
    pressure / (384.0 * plate / span.powi(4) + arch)
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

/// Every bay between the ends of the hull and its stations, each with its worst panel.
pub fn bays(skin: &Skin, stations: &[f64]) -> Vec<Bay> {
    let (fore, aft) = skin.lines.extent(|p| p.x);
    let depth = depth_amidships(skin);
    let mut ends = vec![fore];
    ends.extend(stations.iter().copied().filter(|x| *x > fore && *x < aft));
    ends.push(aft);
    ends.windows(2)
        .filter_map(|w| {
            let (from, to) = (w[0], w[1]);
            let worst = |panel: usize| -> Option<Bay> {
                let l = lie(skin, panel, from, to)?;
                let bottom = panel == 0 && skin.panels.len() > 1;
                let load = match (bottom, 0.5 * (from + to) > 0.5 * (fore + aft)) {
                    (true, true) => AFT_BOTTOM,
                    (true, false) => 1.0,
                    _ => SIDES,
                };
                let pressure = load * WATER * depth;
                let t = skin.panels[panel].thickness;
                let span = (to - from).min(l.width);
                let too_long = |s: f64| sag(t, s, pressure, l.curvature) > ALLOWED_SAG * s;
                let longest = (1..=400).map(|k| 10.0 * f64::from(k)).find(|s| too_long(*s));
                let longest = longest.map(|s| s - 10.0).filter(|s| *s < l.width);
                Some(Bay {
                    from,
                    to,
                    panel,
                    span,
                    radius: if l.curvature > 0.0 { 1.0 / l.curvature } else { f64::INFINITY },
                    pressure,
                    sag: sag(t, span, pressure, l.curvature),
                    allowed: ALLOWED_SAG * span,
                    longest,
                })
            };
            (0..skin.panels.len())
                .filter_map(worst)
                .max_by(|a, b| (a.sag / a.allowed).total_cmp(&(b.sag / b.allowed)))
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Roark's fixed-fixed beam: w = p s⁴ / 384 E I, here by hand for 6 mm over 300 mm.
    #[test]
    fn a_flat_strip_sags_as_a_built_in_beam() {
        let i = 6f64.powi(3) / 12.0 / (1.0 - 0.01);
        let by_hand = 0.005 * 300f64.powi(4) / (384.0 * 7_000.0 * i);
        assert!((sag(6.0, 300.0, 0.005, 0.0) - by_hand).abs() < 1e-9);
        assert!(sag(6.0, 300.0, 0.005, 1.0 / 3000.0) < by_hand);
    }
}
