//! The boat in the words of someone who thinks in boats: length, beam, rocker, flare.
//!
//! Each [`Dimension`] can be measured on a hull and set to a value. Setting one moves the
//! ducks of whole lines together, by the one amount of the family of moves below that makes
//! the measured value the asked one; lines that were fair stay so, since every family is a
//! scaling or adds something smooth. The moves are ours; no source.

use super::check::Place;
use super::checked::CheckedHull;
use super::document::{Hull, Line, LineEnd};
use super::edit_error::EditError;
use super::lines::HullLines;
use super::loads::AfloatPlan;
use crate::geom::P3;
use crate::part::LineId;

/// A measure of the whole boat.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Dimension {
    /// Length overall, mm.
    Length,
    /// Greatest beam, mm.
    Beam,
    /// Greatest beam at the lowest chine, mm.
    ChineBeam,
    /// Height of the sheer over the lowest chine at half length, mm.
    SideHeight,
    /// How far the sheer sags below the straight line between its ends, mm.
    SheerSpring,
    /// How far the bottom's profile sags below the straight line between its ends, mm.
    Rocker,
    /// Lean of the side from upright at half length, radians.
    Flare,
    /// Slope of the bottom from level at half length, radians; a V-bottom has one.
    Deadrise,
    /// Lean of the stem from upright, its head forward, radians.
    StemRake,
    /// Lean of the transom from upright, its head aft, radians.
    TransomRake,
}

/// A value is right within this: mm, or radians times a thousand.
const CLOSE: f64 = 1e-6;
/// Over this share of its length from an end a line follows that end's rake.
const RAKE_REACH: f64 = 0.6;

/// Why a dimension was not brought to a value.
enum NotReached {
    /// No amount of its move gives the value.
    TooFar,
    /// A sentence.
    Other(String),
}

/// Steps by which the furthest that can be had is found: to a thousandth of the way.
const HALVINGS: usize = 10;

impl Dimension {
    /// All of them, as a builder would ask.
    pub const ALL: [Dimension; 10] = [
        Dimension::Length,
        Dimension::Beam,
        Dimension::ChineBeam,
        Dimension::SideHeight,
        Dimension::SheerSpring,
        Dimension::Rocker,
        Dimension::Flare,
        Dimension::Deadrise,
        Dimension::StemRake,
        Dimension::TransomRake,
    ];

    /// Its name.
    pub fn name(self) -> &'static str {
        match self {
            Dimension::Length => "length",
            Dimension::Beam => "beam",
            Dimension::ChineBeam => "beam at the chine",
            Dimension::SideHeight => "height of the side",
            Dimension::SheerSpring => "spring of the sheer",
            Dimension::Rocker => "rocker",
            Dimension::Flare => "flare",
            Dimension::Deadrise => "deadrise",
            Dimension::StemRake => "rake of the stem",
            Dimension::TransomRake => "rake of the transom",
        }
    }

    /// Whether it is an angle (radians) and not a length (mm).
    pub fn is_angle(self) -> bool {
        matches!(
            self,
            Dimension::Flare | Dimension::Deadrise | Dimension::StemRake | Dimension::TransomRake
        )
    }

    /// Its value on a hull; `None` where the hull has no such thing.
    pub fn measure(self, lines: &HullLines) -> Option<f64> {
        let sheer = lines.lines.last()?;
        let bottom = lines.lines.first()?;
        let chine = lines.lines.get(1).filter(|_| lines.lines.len() > 2);
        let middle = {
            let (low, high) = lines.extent(|p| p.x);
            0.5 * (low + high)
        };
        let at = |l: &super::HullLine| -> Option<P3> {
            l.spline.parameter_at_x(middle).map(|t| l.spline.at(t))
        };
        let bow = |l: &super::HullLine| l.spline.at(0.0);
        let stern = |l: &super::HullLine| l.spline.at(l.spline.end());
        match self {
            Dimension::Length => Some(lines.length_overall()),
            Dimension::Beam => Some(lines.beam_overall()),
            Dimension::ChineBeam => {
                let s = &chine?.spline;
                let ys = (0..=200).map(|i| s.at(s.end() * f64::from(i) / 200.0).y);
                Some(2.0 * ys.fold(0.0, f64::max))
            }
            Dimension::SideHeight => Some(at(sheer)?.z - at(chine.unwrap_or(bottom))?.z),
            Dimension::SheerSpring => Some(sag(sheer)),
            Dimension::Rocker => Some(sag(bottom)),
            Dimension::Flare => {
                let d = at(sheer)? - at(chine.unwrap_or(bottom))?;
                Some(d.y.atan2(d.z))
            }
            Dimension::Deadrise => {
                let d = at(chine.filter(|_| !lines.flat_bottom && lines.drain_slope == 0.0)?)?
                    - at(bottom)?;
                Some(d.z.atan2(d.y))
            }
            Dimension::StemRake => {
                let d = bow(bottom) - bow(sheer);
                Some(d.x.atan2(-d.z))
            }
            Dimension::TransomRake => {
                let d = stern(sheer) - stern(bottom);
                Some(d.x.atan2(d.z))
            }
        }
    }

    /// The hull with this dimension at `value` (mm or radians).
    ///
    /// # Errors
    /// Why it cannot be had: the hull has no such thing, or no amount of the move gives it.
    pub fn set(self, hull: &CheckedHull, value: f64) -> Result<Hull, EditError> {
        self.moved_to(hull, value).map_err(|why| match why {
            NotReached::Other(words) => EditError::refused(Place::Document, words),
            NotReached::TooFar => {
                EditError::TooFar { said: self.furthest(hull, value), fault: None }
            }
        })
    }

    /// How far towards `value` the hull can be brought, in a sentence.
    pub(super) fn furthest(self, hull: &CheckedHull, value: f64) -> String {
        let shown = |v: f64| match self.is_angle() {
            true => format!("{:.1}°", v.to_degrees()),
            false => hull.units.show(v),
        };
        let now = self.measure(hull.lines()).unwrap_or(value);
        // Between what can be had and what cannot, halved.
        let (mut had, mut not) = (now, value);
        for _ in 0..HALVINGS {
            let middle = 0.5 * (had + not);
            let can = self.moved_to(hull, middle).is_ok_and(|h| hull.changed(h).is_ok());
            if can { had = middle } else { not = middle }
        }
        let most = if value > now { "most" } else { "least" };
        format!(
            "her {} cannot be made {}; the {most} that her lines give is about {}",
            self.name(),
            shown(value),
            shown(had)
        )
    }

    fn moved_to(self, hull: &CheckedHull, value: f64) -> Result<Hull, NotReached> {
        let none = || NotReached::Other(format!("this hull has no {}", self.name()));
        let value_of = |h: &Hull| {
            HullLines::of(h).ok().and_then(|lines| self.measure(&lines)).filter(|v| v.is_finite())
        };
        let lines = hull.lines();
        let now = self.measure(lines).ok_or_else(none)?;
        let unreached = || NotReached::TooFar;
        // Secant steps from no move; every family is close to straight in its amount.
        let (mut k0, mut f0) = (0.0, now - value);
        if f0.abs() < CLOSE {
            return Ok(hull.hull().clone());
        }
        let mut k1 = self.first_guess(now, value);
        for _ in 0..40 {
            let moved = self.moved(hull, lines, k1);
            let f1 = value_of(&moved).ok_or_else(unreached)? - value;
            let scale = if self.is_angle() { 1e-3 } else { 1.0 };
            if f1.abs() < CLOSE * scale {
                return Ok(moved);
            }
            if (f1 - f0).abs() < 1e-15 {
                break;
            }
            let next = k1 - f1 * (k1 - k0) / (f1 - f0);
            (k0, f0, k1) = (k1, f1, next);
            if !k1.is_finite() {
                break;
            }
        }
        Err(unreached())
    }

    fn first_guess(self, now: f64, value: f64) -> f64 {
        match self {
            Dimension::Length | Dimension::Beam | Dimension::ChineBeam => {
                value / now.max(1.0) - 1.0
            }
            Dimension::SideHeight | Dimension::SheerSpring | Dimension::Rocker => value - now,
            _ => value.tan() - now.tan(),
        }
    }

    /// The hull moved by the amount `k`: a share, mm, or a slope.
    fn moved(self, hull: &Hull, lines: &HullLines, k: f64) -> Hull {
        let mut next = hull.clone();
        let (x0, x1) = lines.extent(|p| p.x);
        let count = hull.lines.len();
        let chines: Vec<usize> = (0..count)
            .filter(|i| LineId::of(&hull.lines[*i].name).is_some_and(LineId::is_chine))
            .collect();
        let sheer = count - 1;
        // How much of the sheer's move a line makes: 0 at the lowest chine, 1 at the sheer.
        let up = |i: usize| match chines.first() {
            _ if hull.lines[i].is(LineId::Keel) => 0.0,
            Some(&low) => (i.saturating_sub(low)) as f64 / (sheer - low).max(1) as f64,
            None => 1.0,
        };
        let lowest = chines.first().map_or(0, |i| *i);
        let curve_at = |i: usize, x: f64| {
            let spline = &lines.get(&hull.lines[i].name)?.spline;
            spline.parameter_at_x(x).map(|t| spline.at(t))
        };
        let half_beam = 0.5 * lines.beam_overall();
        let foot_fore = lines.lines[0].spline.at(0.0);
        let head_fore = lines.lines[lines.lines.len() - 1].spline.at(0.0);
        let foot_aft = lines.lines[0].spline.at(lines.lines[0].spline.end());
        // Nought at half length, one at the ends.
        let ends = |x: f64| (2.0 * (x - x0) / (x1 - x0) - 1.0).powi(2);
        for (i, line) in next.lines.iter_mut().enumerate() {
            let (first, last) = (line.ducks[0].x, line.ducks[line.ducks.len() - 1].x);
            for d in &mut line.ducks {
                let aft = ((d.x - first) / (last - first)).clamp(0.0, 1.0);
                match self {
                    Dimension::Length => d.x = x0 + (d.x - x0) * (1.0 + k),
                    Dimension::Beam => d.y *= 1.0 + k,
                    Dimension::ChineBeam if !hull.lines[i].is(LineId::Keel) => {
                        d.y *= 1.0 + k * (1.0 - up(i));
                    }
                    Dimension::SideHeight => d.z += k * up(i),
                    Dimension::SheerSpring if i == sheer => d.z += k * ends(d.x),
                    Dimension::Rocker if i != sheer => d.z += k * ends(d.x),
                    Dimension::Flare if up(i) > 0.0 => {
                        if let Some(foot) = curve_at(lowest, d.x) {
                            // Nothing at the stem, where both sides meet.
                            let room = (d.y / half_beam).clamp(0.0, 1.0);
                            d.y = (d.y + k * (d.z - foot.z) * room).max(0.0);
                        }
                    }
                    Dimension::Deadrise if chines.contains(&i) => {
                        d.z += k * d.y;
                    }
                    Dimension::StemRake => {
                        let near = (1.0 - aft / RAKE_REACH).max(0.0).powi(3);
                        d.x += k * (head_fore.z - d.z) * near;
                    }
                    Dimension::TransomRake => {
                        let near = (1.0 - (1.0 - aft) / RAKE_REACH).max(0.0).powi(3);
                        d.x += k * (d.z - foot_aft.z) * near;
                    }
                    _ => {}
                }
            }
            turn_ends(line, self, k);
        }
        if self == Dimension::Length {
            for x in &mut next.framing.stations_mm {
                *x = x0 + (*x - x0) * (1.0 + k);
            }
            inside(&mut next.afloat, 0, |x| x0 + (x - x0) * (1.0 + k));
        }
        if self == Dimension::Beam {
            inside(&mut next.afloat, 1, |y| y * (1.0 + k));
        }
        if self == Dimension::StemRake {
            // A foot pushed ahead of the head would lie ahead of the origin.
            let ahead = next.lines.iter().map(|l| l.ducks[0].x).fold(f64::INFINITY, f64::min)
                - foot_fore.x.min(head_fore.x);
            if ahead < 0.0 {
                for line in &mut next.lines {
                    line.ducks.iter_mut().for_each(|d| d.x -= ahead);
                }
                next.framing.stations_mm.iter_mut().for_each(|x| *x -= ahead);
                inside(&mut next.afloat, 0, |x| x - ahead);
            }
        }
        next
    }
}

/// A given direction at a line's end is stretched along with the line.
/// Moves what lies in her along with her, along an axis (0 aft, 1 out); blocks of foam keep
/// their size.
fn inside(plan: &mut AfloatPlan, axis: usize, moved: impl Fn(f64) -> f64) {
    for l in &mut plan.loads {
        let own = if axis == 0 { &mut l.x } else { &mut l.y };
        *own = moved(*own);
    }
    for f in &mut plan.foam {
        let middle = 0.5 * (f.from[axis] + f.to[axis]);
        let by = moved(middle) - middle;
        f.from[axis] += by;
        f.to[axis] += by;
    }
}

fn turn_ends(line: &mut Line, dimension: Dimension, k: f64) {
    for end in [&mut line.bow, &mut line.stern] {
        if let LineEnd::Along(aft, out, _) = end {
            match dimension {
                Dimension::Length => *aft *= 1.0 + k,
                Dimension::Beam => *out *= 1.0 + k,
                _ => {}
            }
        }
    }
}

/// How far (mm) a line's profile sags below the straight line between its ends, at most.
fn sag(line: &super::HullLine) -> f64 {
    let s = &line.spline;
    let (a, b) = (s.at(0.0), s.at(s.end()));
    let below = |p: P3| a.z + (b.z - a.z) * (p.x - a.x) / (b.x - a.x) - p.z;
    const PIECES: usize = 400;
    let sags = (0..=PIECES).map(|i| below(s.at(s.end() * i as f64 / PIECES as f64)));
    sags.fold(f64::NEG_INFINITY, f64::max)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::hull::starters::STARTERS;
    use crate::hull::{Foam, Load, LoadKind};

    fn measured(d: Dimension, hull: &Hull) -> Option<f64> {
        d.measure(&HullLines::of(hull).expect("good lines"))
    }

    #[test]
    fn every_dimension_of_every_starter_can_be_set_a_little_either_way() {
        for starter in STARTERS {
            let hull = starter.checked();
            for d in Dimension::ALL {
                let Some(now) = measured(d, &hull) else {
                    assert_eq!(d, Dimension::Deadrise, "{}", starter.name);
                    continue;
                };
                let step = if d.is_angle() { 0.03 } else { (0.04 * now).clamp(8.0, 120.0) };
                for target in [now + step, now - 0.5 * step] {
                    let name = format!("{} {} {now} → {target}", starter.name, d.name());
                    let moved = d.set(&hull, target).unwrap_or_else(|e| panic!("{name}: {e:?}"));
                    let found = measured(d, &moved).expect("still there");
                    assert!((found - target).abs() < 1e-5, "{name}: {found}");
                    assert!(crate::hull::check::faults(&moved).is_empty(), "{name}");
                }
            }
        }
    }

    #[test]
    fn a_rake_keeps_the_transom_plane_and_the_stem_straight() {
        for starter in STARTERS {
            let hull = starter.checked();
            for d in [Dimension::StemRake, Dimension::TransomRake] {
                let now = measured(d, &hull).expect("every hull has both");
                let moved = d.set(&hull, now + 0.05).expect("a little more rake");
                let off = |h: &Hull| {
                    crate::model::off_transom(&HullLines::of(h).expect("good lines")).len()
                };
                assert_eq!(off(&moved), off(&hull), "{} {}", starter.name, d.name());
            }
        }
    }

    #[test]
    fn what_lies_in_her_goes_with_her_and_keeps_its_size() {
        let mut hull = STARTERS[0].hull();
        hull.afloat.loads = vec![Load {
            name: "someone".into(),
            kind: LoadKind::Person,
            mass_kg: 80.0,
            x: 2000.0,
            y: 200.0,
            z: 400.0,
        }];
        hull.afloat.foam = vec![Foam {
            name: "foam".into(),
            from: [3000.0, 100.0, 150.0],
            to: [3400.0, 300.0, 300.0],
            both_sides: true,
            density_kg_m3: 32.0,
            box_ply_mm: 6.0,
        }];
        let hull = CheckedHull::of(hull).expect("a boat");
        let share = |h: &Hull, d: Dimension| {
            measured(d, h).expect("a measure") / measured(d, &hull).expect("a measure")
        };
        let long = Dimension::Length.set(&hull, 5000.0).expect("longer");
        let k = share(&long, Dimension::Length);
        assert!((long.afloat.loads[0].x - 2000.0 * k).abs() < 1.0, "{:?}", long.afloat.loads);
        let foam = &long.afloat.foam[0];
        assert!((foam.to[0] - foam.from[0] - 400.0).abs() < 1e-9);
        assert!((0.5 * (foam.to[0] + foam.from[0]) - 3200.0 * k).abs() < 1.0);
        assert!((foam.volume() / hull.afloat.foam[0].volume() - 1.0).abs() < 1e-9);
        let wide = Dimension::Beam.set(&hull, 1500.0).expect("wider");
        let k = share(&wide, Dimension::Beam);
        assert!((wide.afloat.loads[0].y - 200.0 * k).abs() < 0.5);
        assert_eq!(wide.afloat.loads[0].x, 2000.0);
    }

    #[test]
    fn beam_and_length_leave_the_other_alone() {
        let hull = STARTERS[0].checked();
        let wide = Dimension::Beam.set(&hull, 1500.0).expect("wider");
        assert_eq!(measured(Dimension::Length, &wide), measured(Dimension::Length, &hull));
        let long = Dimension::Length.set(&hull, 4300.0).expect("longer");
        let beam = |h: &Hull| measured(Dimension::Beam, h).expect("a beam");
        assert!((beam(&long) - beam(&hull)).abs() < 0.5, "{} {}", beam(&long), beam(&hull));
    }
}
