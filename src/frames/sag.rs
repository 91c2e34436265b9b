//! How far a bay of the skin is pressed in, and when a curved one snaps through.
//!
//! Between its supports a sheet is taken as two crossed strips, each built in at both ends
//! and as wide as one millimetre: one fore and aft over the bay, one athwartships over the
//! panel's width. Each carries what bends it as far as the other, a flat strip 384 D w / s⁴
//! (Roark's *Formulas for Stress and Strain*, fixed ends, even load), D being its stiffness
//! across its span. Against a clamped plate with plywood's two stiffnesses that is within
//! 15 % (`tests/reference/sag.py`). The stretch of the sheet, which would hold a flat one to
//! less once it has sagged by more than its thickness, is not counted: edges draw in.
//!
//! A panel that bulges towards the water carries the more of it as a flat arch *in
//! compression*, until it snaps through. Method: Timoshenko and Gere, *Theory of Elastic
//! Stability*, chapter 7 (buckling of a flat curved bar), worked here for built-in ends with
//! one term, w = c (1 − cos 2πx/s) / 2 over the rise f = s²/8R:
//!
//! p(c) = k c + 2 E t / s⁴ · (4 f c − π² c²/4) (4 f − π² c/2)
//!
//! k being both strips' stiffness. It snaps at the first maximum of p, or before that goes
//! over to one side where its thrust reaches 80.76 D / s², the built-in bar's second load. A
//! panel that is hollow towards the water is pulled, and gets no credit for that.

use std::f64::consts::PI;

/// A built-in bar buckles in two half waves at this many D/s²: (2 · 4.4934)².
const SIDEWISE: f64 = 80.76;
/// A sag is found to this, mm.
const FOUND_TO_MM: f64 = 1e-5;

/// A bay of the skin, forces and stiffnesses for each millimetre of its width.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Plate {
    /// Its span fore and aft, mm.
    pub span: f64,
    /// Its span athwartships, mm.
    pub width: f64,
    /// Bending stiffness fore and aft, N mm.
    pub bending_along: f64,
    /// Bending stiffness athwartships, N mm.
    pub bending_across: f64,
    /// Stiffness against being pushed fore and aft, N/mm.
    pub pushed: f64,
    /// Curvature fore and aft, 1/mm; positive where it bulges towards the water.
    pub curvature: f64,
}

impl Plate {
    /// Pressure for each millimetre of sag that bending carries, N/mm³.
    fn flat(&self) -> f64 {
        384.0 * (self.bending_along / self.span.powi(4) + self.bending_across / self.width.powi(4))
    }

    /// Rise of its arch, mm; none where it is flat or hollow.
    fn rise(&self) -> f64 {
        0.125 * self.curvature.max(0.0) * self.span * self.span
    }

    /// Pressure (N/mm²) that it carries when its middle is pressed in by `c` mm.
    pub fn carries(&self, c: f64) -> f64 {
        self.carrying()(c)
    }

    /// The sag (mm) at which it snaps through, and the pressure (N/mm²) that does it; `None`
    /// for a panel so little curved that it gives way evenly.
    pub fn snaps(&self) -> Option<(f64, f64)> {
        let (f, s) = (self.rise(), self.span);
        let root = |disc: f64, middle: f64, scale: f64| {
            (disc > 0.0).then(|| (middle - disc.sqrt()) / scale)
        };
        let p2 = PI * PI;
        let limit = self.flat() * s.powi(4) / (2.0 * self.pushed);
        let through = root(
            36.0 * p2 * p2 * f * f - 1.5 * p2 * p2 * (16.0 * f * f + limit),
            6.0 * p2 * f,
            0.75 * p2 * p2,
        );
        let over = SIDEWISE * self.bending_along / self.pushed;
        let sideways = root(16.0 * f * f - p2 * over, 4.0 * f, 0.5 * p2);
        let c = through.into_iter().chain(sideways).reduce(f64::min)?;
        Some((c, self.carries(c)))
    }

    /// What it carries at any sag: what does not change with that is worked out once.
    fn carrying(&self) -> impl Fn(f64) -> f64 {
        let (f, flat) = (self.rise(), self.flat());
        let pushed = 2.0 * self.pushed / self.span.powi(4);
        move |c: f64| {
            // Pressed past flat its thrust would turn into pull, of which nothing is counted.
            let shorter = (4.0 * f * c - 0.25 * PI * PI * c * c).max(0.0);
            flat * c + pushed * shorter * (4.0 * f - 0.5 * PI * PI * c)
        }
    }

    /// The sag that `pressure` comes to, where it is past snapping; otherwise up to where the
    /// pressure rises all the way.
    fn rises_to(&self, pressure: f64) -> Result<f64, f64> {
        let flat = pressure / self.flat();
        let gone = 16.0 * self.rise() / (PI * PI);
        match self.snaps() {
            Some((_, most)) if pressure > most => Err(flat.max(gone)),
            Some((c, _)) => Ok(c),
            None => Ok(flat.max(gone)),
        }
    }

    /// Sag (mm) under `pressure` (N/mm²): past the pressure that snaps it, that of the panel
    /// without its arch.
    pub fn sag(&self, pressure: f64) -> f64 {
        let to = match self.rises_to(pressure) {
            Ok(to) => to,
            Err(sag) => return sag,
        };
        let carries = self.carrying();
        let (mut low, mut high) = (0.0, to);
        while high - low > FOUND_TO_MM {
            let middle = 0.5 * (low + high);
            if carries(middle) < pressure { low = middle } else { high = middle }
        }
        0.5 * (low + high)
    }

    /// Whether its sag under `pressure` is over `most` mm: told by what it carries there,
    /// but for a hair's breadth.
    pub fn sags_past(&self, most: f64, pressure: f64) -> bool {
        let to = match self.rises_to(pressure) {
            Ok(to) => to,
            Err(sag) => return sag / most > 1.0,
        };
        let carries = self.carrying();
        let (under, over) = (most - 2.0 * FOUND_TO_MM, most + 2.0 * FOUND_TO_MM);
        if under > to || under > 0.0 && carries(under) >= pressure {
            return false;
        }
        if over < to && carries(over) < pressure {
            return true;
        }
        self.sag(pressure) / most > 1.0
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn strip(curvature: f64) -> Plate {
        // 6 mm of five plies over 500 mm, far wider than long.
        Plate {
            span: 500.0,
            width: 1e6,
            bending_along: 119_502.0,
            bending_across: 36_900.0,
            pushed: 30_768.0,
            curvature,
        }
    }

    /// Roark's fixed-fixed beam: w = p s⁴ / 384 E I, here by hand.
    #[test]
    fn a_flat_strip_sags_as_a_built_in_beam() {
        let by_hand = 0.005 * 500f64.powi(4) / (384.0 * 119_502.0);
        assert!((strip(0.0).sag(0.005) - by_hand).abs() < 1e-4);
        assert!(strip(0.0).snaps().is_none());
        assert!(strip(1.0 / 2500.0).sag(0.005) < 0.5 * by_hand, "an arch carries");
        assert!((strip(-1.0 / 2500.0).sag(0.005) - by_hand).abs() < 1e-4, "hollow: no credit");
    }

    /// A square plate alike both ways sags 0.00126 p a⁴/D (Timoshenko and
    /// Woinowsky-Krieger, *Theory of Plates and Shells*, table 35); two crossed strips 1/768.
    #[test]
    fn a_square_plate_is_near_the_table() {
        let plate = Plate { width: 500.0, bending_across: 119_502.0, ..strip(0.0) };
        let table = 0.00126 * 0.005 * 500f64.powi(4) / 119_502.0;
        assert!((plate.sag(0.005) / table - 1.0).abs() < 0.04);
    }

    /// Told at a glance as by the whole sag, on either side of it and within a hair of it.
    #[test]
    fn whether_it_sags_past_is_what_its_sag_says() {
        for curvature in [-4e-4, 0.0, 5e-5, 4e-4] {
            let p = strip(curvature);
            for pressure in [1e-4, 2e-3, 0.01, 0.08] {
                let sag = p.sag(pressure);
                for off in [-1.0, -2.1e-5, -1e-5, -1e-9, 1e-9, 1e-5, 2.1e-5, 1.0] {
                    let most = sag + off;
                    if most > 0.0 {
                        assert_eq!(p.sags_past(most, pressure), sag > most, "{p:?} {off}");
                    }
                }
            }
        }
    }

    /// What carries the pressure is found again, and no sag is missed below the snap.
    #[test]
    fn sag_and_pressure_go_round() {
        let p = strip(1.0 / 2500.0);
        let (at, most) = p.snaps().expect("an arch of twice its thickness snaps");
        for share in [0.1, 0.5, 0.9, 0.999] {
            let sag = p.sag(share * most);
            assert!((p.carries(sag) / (share * most) - 1.0).abs() < 1e-4);
            assert!(sag < at);
        }
        assert!(p.sag(1.01 * most) >= 16.0 * 12.5 / (PI * PI) - 1e-9, "snapped");
        // Nowhere before does it carry more.
        let before = (0..1000).map(|i| p.carries(at * f64::from(i) / 1000.0));
        assert!(before.fold(0.0, f64::max) <= most + 1e-12);
    }
}
