//! Resistance between floating and planing.
//!
//! Source: Mercier and Savitsky, report SIT-DL-73-1667 (1973), read second-hand: a formula
//! fitted to the tank tests of seven series of hulls with transoms, for a volume Froude number
//! F = V / √(g ∇^⅓) from 1.0 to 2.0, at a weight of 100 000 lb in sea water of 59 °F. Its
//! coefficients stand in `assets/hump.ron` with what is doubtful about them. For another size
//! the friction is corrected by Schoenherr's line:
//! R/W = (R/W)₁₀₀ + [(C_F + C_A) − C_F,₁₀₀] · ½ S/∇^⅔ · F². Ranges from memory; outside them no
//! number is given. Skiffs are small beside the tested hulls, so a band is told beside it.

use std::sync::LazyLock;

use serde::Deserialize;

use super::curves::{Sliced, waterline};
use super::equilibrium::Floating;
use super::planing::{GRAVITY, ROUGHNESS, plate_friction};
use crate::geom::P3;
use crate::geom::mesh::Mesh;

/// What the resistance may be off by, as a share. Our judgement; no source.
pub const BAND: f64 = 0.15;
/// Volume of 100 000 lb in sea water of 1025.9 kg/m³, m³, and that water's kinematic viscosity,
/// m²/s (59 °F; from memory).
const TESTED_VOLUME: f64 = 100_000.0 * crate::units::KG_PER_POUND / 1025.9;
const TESTED_VISCOSITY: f64 = 1.188e-6;

/// A row of the table.
#[derive(Debug, Clone, Copy, Deserialize)]
struct Coefficients {
    froude: f64,
    a: [f64; 14],
}

static TABLE: LazyLock<Vec<Coefficients>> =
    LazyLock::new(|| match ron::from_str(include_str!("../../assets/hump.ron")) {
        Ok(rows) => rows,
        Err(e) => panic!("assets/hump.ron: {e}"),
    });

/// A hull at rest, as far as the formula asks.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Form {
    /// Length on the water, m.
    pub length: f64,
    /// Greatest breadth on the water, m.
    pub beam: f64,
    /// From the water down to the lowest point, m.
    pub draft: f64,
    /// Displaced volume, m³.
    pub volume: f64,
    /// Half the angle at which the waterline enters at the bow, degrees; 90 for a blunt one.
    pub entrance: f64,
    /// What of the transom is under water over the greatest section under it.
    pub transom: f64,
    /// Wetted area, m².
    pub wetted: f64,
}

/// A ratio of her form that the tests cover a range of.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Ratio {
    /// Length over the cube root of her volume.
    Slenderness,
    /// Waterline over its breadth.
    LengthOverBeam,
    /// Breadth over draft.
    BeamOverDraft,
    /// Half the angle of her waterline at the bow, degrees.
    Entrance,
    /// Immersed transom over her greatest section.
    Transom,
}

/// Why there is no number between floating and planing.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum OutOfRange {
    /// Too slow or too fast.
    Speed {
        /// From this speed, knots.
        from: f64,
        /// To this one.
        upto: f64,
    },
    /// A ratio of her form.
    Form {
        /// The ratio.
        ratio: Ratio,
        /// Hers.
        value: f64,
        /// From.
        from: f64,
        /// To.
        upto: f64,
    },
}

/// Shares of the waterline from the bow between which its entrance is measured, and the share
/// of her half-breadth that she has at the first of them where she is blunt. Our judgement; no
/// source.
const ENTRANCE_AT: [f64; 2] = [0.01, 0.05];
const BLUNT: f64 = 0.15;
/// The transom is cut so far ahead of its foot, mm.
const AHEAD_MM: f64 = 1.0;

impl Form {
    /// The form of `mesh` (mm) as it floats, its bottom ending at `stern`; `None` where it has
    /// no waterline.
    pub fn of(mesh: &Mesh, floating: &Floating, stern: P3) -> Option<Form> {
        let water = &floating.water;
        let turned = |p: &P3| {
            P3::new(p.coords.dot(&water.aft), p.coords.dot(&water.abeam), water.plane.distance(*p))
        };
        let level = Mesh {
            vertices: mesh.vertices.iter().map(turned).collect(),
            triangles: mesh.triangles.clone(),
        };
        let ([bow, end], beam) = waterline(&level, 0.0);
        let (length, stern) = (end - bow, turned(&stern).x - AHEAD_MM);
        if !(length > 0.0 && beam > 0.0) {
            return None;
        }
        let sliced = Sliced::of(&level);
        let greatest = (1..SLICES)
            .map(|i| sliced.area(bow + length * i as f64 / SLICES as f64, 0.0))
            .fold(0.0, f64::max);
        let [near, far] = ENTRANCE_AT.map(|s| half_breadth(&level, bow + s * length));
        let run = (ENTRANCE_AT[1] - ENTRANCE_AT[0]) * length;
        let blunt = near > BLUNT * 0.5 * beam;
        let entrance = if blunt { 90.0 } else { ((far - near) / run).atan().to_degrees() };
        let lowest = level.vertices.iter().map(|v| v.z).fold(f64::INFINITY, f64::min);
        Some(Form {
            length: length / 1000.0,
            beam: beam / 1000.0,
            draft: -lowest / 1000.0,
            volume: floating.immersed.volume * 1e-9,
            entrance,
            transom: sliced.area(stern, 0.0) / greatest.max(1e-9),
            wetted: floating.immersed.wetted * 1e-6,
        })
    }

    /// Speed (m/s) of a volume Froude number of 1.
    pub fn unit_speed(&self) -> f64 {
        (GRAVITY * self.volume.cbrt()).sqrt()
    }

    /// The first ratio that lies outside the tested hulls.
    pub fn outside(&self) -> Option<OutOfRange> {
        let slender = self.length / self.volume.cbrt();
        [
            (Ratio::Slenderness, slender, 3.07, 12.4),
            (Ratio::LengthOverBeam, self.length / self.beam, 2.52, 18.3),
            (Ratio::BeamOverDraft, self.beam / self.draft, 1.7, 9.8),
            (Ratio::Entrance, self.entrance, 3.7, 28.6),
            (Ratio::Transom, self.transom, 0.0, 1.0),
        ]
        .into_iter()
        .find(|(_, value, from, upto)| !(from..=upto).contains(&value))
        .map(|(ratio, value, from, upto)| OutOfRange::Form { ratio, value, from, upto })
    }

    /// Resistance over weight at a volume Froude number, of a hull of this form and 100 000 lb;
    /// between the table's rows along a straight line. `None` outside 1.0 to 2.0.
    fn tested(&self, froude: f64) -> Option<f64> {
        let x = self.volume.cbrt() / self.length;
        let z = self.volume / self.beam.powi(3);
        let u = (2.0 * self.entrance).sqrt();
        let w = self.transom;
        let terms = [
            1.0,
            x,
            u,
            w,
            x * z,
            x * u,
            x * w,
            z * u,
            z * w,
            w * w,
            x * w * w,
            z * x * x,
            u * w * w,
            w * u * u,
        ];
        let at = |row: &Coefficients| row.a.iter().zip(terms).map(|(a, t)| a * t).sum::<f64>();
        TABLE.windows(2).find_map(|pair| {
            let (a, b) = (&pair[0], &pair[1]);
            let t = (froude - a.froude) / (b.froude - a.froude);
            (-1e-9..=1.0 + 1e-9).contains(&t).then(|| at(a) + t * (at(b) - at(a)))
        })
    }

    /// Resistance of the bare hull (N) at a speed (m/s), of a weight (N) in water of this
    /// kinematic viscosity (m²/s).
    ///
    /// # Errors
    /// What is outside the tests.
    pub fn resistance(&self, speed: f64, weight: f64, viscosity: f64) -> Result<f64, OutOfRange> {
        if let Some(why) = self.outside() {
            return Err(why);
        }
        let unit = self.unit_speed();
        let knots = |froude: f64| froude * unit / super::rules::KNOT;
        let too = OutOfRange::Speed { from: knots(FROUDE[0]), upto: knots(FROUDE[1]) };
        let froude = speed / unit;
        let tested = self.tested(froude).ok_or(too)?;
        let scale = (TESTED_VOLUME / self.volume).cbrt();
        let reynolds = speed * self.length / viscosity;
        // At the same Froude number speeds go with the root of the lengths.
        let large = speed * scale.sqrt() * self.length * scale / TESTED_VISCOSITY;
        let more = plate_friction(reynolds) + ROUGHNESS - plate_friction(large);
        let friction = more * 0.5 * self.wetted / self.volume.powf(2.0 / 3.0) * froude * froude;
        Ok(weight * (tested + friction))
    }
}

/// Volume Froude numbers of the tests.
pub const FROUDE: [f64; 2] = [1.0, 2.0];
/// Places along the waterline at which the greatest section is looked for.
const SLICES: usize = 60;

/// Half-breadth of the waterline z = 0 at `x`.
fn half_breadth(mesh: &Mesh, x: f64) -> f64 {
    let mut widest = 0.0f64;
    for t in mesh.corners() {
        let mut ends = [P3::origin(); 2];
        let mut n = 0;
        for (a, b) in [(t[0], t[1]), (t[1], t[2]), (t[2], t[0])] {
            if (a.z <= 0.0) != (b.z <= 0.0) {
                ends[n.min(1)] = a + a.z / (a.z - b.z) * (b - a);
                n += 1;
            }
        }
        let [p, q] = ends;
        if n == 2 && (p.x <= x) != (q.x <= x) {
            let y = p.y + (x - p.x) / (q.x - p.x) * (q.y - p.y);
            widest = widest.max(y.abs());
        }
    }
    widest
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::float::equilibrium::upward;
    use crate::float::swamped::block;
    use crate::float::volume::{Water, immersed};

    fn form() -> Form {
        Form {
            length: 4.2,
            beam: 1.4,
            draft: 0.2,
            volume: 0.4,
            entrance: 20.0,
            transom: 0.6,
            wetted: 4.6,
        }
    }

    /// Row 1.5 with X = 0.5, Z = 0.5, U = 4 (an entrance of 8°) and W = 0.5, by hand: 0.03163
    /// − 0.10543/2 − 0.20540/4 + 2 · 0.06007 + 0.58230/4 − 2 · 0.00372 + 0.04794/4 + 0.08317/4
    /// − 0.70895/8 + 1.19737/8; halfway to row 1.6 it is the mean of both.
    #[test]
    fn the_formula_by_hand() {
        let f = Form {
            volume: 1.0,
            length: 2.0,
            beam: 2f64.cbrt(),
            entrance: 8.0,
            transom: 0.5,
            ..form()
        };
        let want = 0.031_63 - 0.052_715 - 0.051_35 + 0.120_14 + 0.145_575 - 0.007_44
            + 0.011_985
            + 0.020_792_5
            - 0.088_618_75
            + 0.149_671_25;
        let at = |fr: f64| f.tested(fr).expect("in range");
        assert!((at(1.5) - want).abs() < 1e-12, "{} {want}", at(1.5));
        assert!((at(1.55) - 0.5 * (at(1.5) + at(1.6))).abs() < 1e-12);
        assert_eq!((f.tested(0.99), f.tested(2.01)), (None, None));
    }

    #[test]
    fn outside_the_tests_there_is_no_number() {
        let f = form();
        let at = |f: Form, froude: f64| f.resistance(froude * f.unit_speed(), 3924.0, 1.139e-6);
        assert!(at(f, 1.5).is_ok_and(|r| r > 200.0 && r < 1200.0), "{:?}", at(f, 1.5));
        assert!(matches!(at(f, 0.9), Err(OutOfRange::Speed { .. })));
        assert!(matches!(at(f, 2.1), Err(OutOfRange::Speed { .. })));
        for wrong in [
            Form { entrance: 30.0, ..f },
            Form { draft: 0.12, ..f },
            Form { beam: 1.8, draft: 0.25, ..f },
            Form { transom: 1.1, ..f },
            Form { volume: 3.0, ..f },
        ] {
            assert!(matches!(at(wrong, 1.5), Err(OutOfRange::Form { .. })), "{wrong:?}");
        }
    }

    /// Through the range resistance is positive and climbs from each row of the table to the
    /// next.
    #[test]
    fn resistance_is_positive_and_climbs() {
        for entrance in [10.0, 18.0, 26.0] {
            for transom in [0.2, 0.5, 0.8] {
                for volume in [0.25, 0.35, 0.5] {
                    let f = Form { entrance, transom, volume, ..form() };
                    let run: Vec<f64> = (0..=100)
                        .map(|i| (1.0 + 0.01 * f64::from(i)) * f.unit_speed())
                        .map(|v| f.resistance(v, volume * 9806.65, 1.139e-6).expect("in range"))
                        .collect();
                    assert!(run.iter().all(|r| *r > 0.0), "{f:?}");
                    assert!(run.windows(11).all(|w| w[10] > w[0]), "{f:?} {run:?}");
                }
            }
        }
    }

    /// A wedge-bowed box read off its mesh: a box is blunt, its transom its greatest section.
    #[test]
    fn a_box_read_off_its_mesh() {
        let mut mesh = Mesh::default();
        block(&mut mesh, P3::new(0.0, -500.0, 0.0), P3::new(4000.0, 500.0, 600.0));
        let water = Water::new(upward(0.0, 0.0), 200.0).expect("a plane");
        let found = immersed(&mesh, &water);
        let floating = Floating { trim: 0.0, heel: 0.0, water, immersed: found };
        let f = Form::of(&mesh, &floating, P3::new(4000.0, 0.0, 0.0)).expect("a waterline");
        assert!((f.length - 4.0).abs() < 1e-9 && (f.beam - 1.0).abs() < 1e-9);
        assert!((f.draft - 0.2).abs() < 1e-9 && (f.volume - 0.8).abs() < 1e-9);
        assert!((f.transom - 1.0).abs() < 1e-9 && f.entrance == 90.0, "{f:?}");
        assert!((f.wetted - (4.0 + 0.2 * 10.0)).abs() < 1e-9);
    }
}
