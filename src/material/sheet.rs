//! Sheets of plywood: the least radius to which they bend, and how stiff they are.

use serde::{Deserialize, Serialize};

use super::ply;
use crate::units::{MM_PER_FOOT, MM_PER_INCH};

/// How good a panel is, which decides how tightly it may be bent.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
pub enum Quality {
    /// As it comes from the mill: knots, patches and gaps inside are allowed.
    #[default]
    MillRun,
    /// Aircraft or clear marine panels: sound veneers all through.
    Clear,
}

impl Quality {
    /// In words.
    pub fn word(self) -> &'static str {
        match self {
            Quality::MillRun => "ordinary",
            Quality::Clear => "clear marine",
        }
    }
}

/// A row of the sheet table.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Sheet {
    /// What a document calls it.
    pub name: String,
    /// Thickness to expect, mm; a document holds the measured one.
    pub thickness_mm: f64,
    /// Mass over volume, kg/m³.
    pub density_kg_m3: f64,
    /// Length of a sheet along the face grain, mm.
    pub length_mm: f64,
    /// Width of a sheet, mm.
    pub width_mm: f64,
    /// Which table of least radii it is judged by.
    #[serde(default)]
    pub quality: Quality,
    /// Number of plies, an odd one; `None` takes what is usual for its thickness.
    #[serde(default)]
    pub plies: Option<u32>,
    /// Stiffness of its veneers along their grain, N/mm²; `None` takes a weak softwood's.
    #[serde(default)]
    pub veneer_n_mm2: Option<f64>,
    /// Where the figures are from.
    pub source: String,
}

/// A row of the mill-run table, in its source's units.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct RadiusRow {
    /// Nominal thickness, in.
    pub thickness_in: f64,
    /// Bent across the face grain (grain along the ruling), ft.
    pub across_ft: f64,
    /// Bent along the face grain (grain square to the ruling), ft.
    pub along_ft: f64,
}

/// A row of the table for clear panels, in its source's units: inches.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ClearRow {
    /// Thickness, in.
    pub thickness_in: f64,
    /// Number of plies.
    pub plies: u32,
    /// Cold, grain square to the bend's axis, in.
    pub cold_90: f64,
    /// Cold, grain at 0 to 45° to the bend's axis, in.
    pub cold_0_45: f64,
    /// Soaked in hot water, grain square to the bend's axis, in.
    pub soaked_90: f64,
    /// Soaked in hot water, grain at 0 to 45° to the bend's axis, in.
    pub soaked_0_45: f64,
}

/// A sheet as far as bending asks: its quality and measured thickness (mm), and whether it
/// was soaked in hot water.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bendable {
    /// Which table it is judged by.
    pub quality: Quality,
    /// Measured, mm.
    pub thickness: f64,
    /// Soaked in hot water before it is bent. The mill-run table has no figures for that.
    pub soaked: bool,
}

/// The sheet table with its bending radii.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SheetTable {
    /// Least radii of mill-run panels by thickness, thin to thick.
    pub radii: Vec<RadiusRow>,
    /// Where these radii are from.
    pub radii_source: String,
    /// Least radii of clear panels by thickness, thin to thick.
    pub clear_radii: Vec<ClearRow>,
    /// Where those are from.
    pub clear_radii_source: String,
    /// The sheets.
    pub sheets: Vec<Sheet>,
}

/// How the least radius of a panel thicker than every row grows with thickness: exponents of
/// mill-run panels across and along, of clear ones at 0 to 45° and at 90°, cold and soaked.
/// Least squares of the logarithms over the rows; the clear cold ones follow their rows
/// within 5 %. A radius in proportion to thickness would be too tight.
const MILL_GROWTH: (f64, f64) = (1.76, 1.31);
const CLEAR_GROWTH: (f64, f64) = (1.47, 1.39);
const SOAKED_GROWTH: (f64, f64) = (1.95, 1.59);

/// Radii at thickness `t` between rows of (thickness, across, along), in the rows' units.
fn between(rows: &[(f64, f64, f64)], t: f64, growth: (f64, f64)) -> (f64, f64) {
    let (Some(first), Some(last)) = (rows.first(), rows.last()) else {
        return (0.0, 0.0);
    };
    if t <= first.0 {
        return (first.1 * t / first.0, first.2 * t / first.0);
    }
    for w in rows.windows(2) {
        if t <= w[1].0 {
            let share = (t - w[0].0) / (w[1].0 - w[0].0);
            return (w[0].1 + share * (w[1].1 - w[0].1), w[0].2 + share * (w[1].2 - w[0].2));
        }
    }
    let over = t / last.0;
    (last.1 * over.powf(growth.0), last.2 * over.powf(growth.1))
}

impl SheetTable {
    /// Least radii (mm) across and along the face grain of a sheet.
    ///
    /// Between rows the radius is interpolated in thickness; below the table the ratio of
    /// radius to thickness of the thinnest row holds, above it the radius grows by the power
    /// of the thickness that fits the rows.
    pub fn least_radii(&self, sheet: Bendable) -> (f64, f64) {
        let t = sheet.thickness / MM_PER_INCH;
        let (rows, growth, unit): (Vec<_>, _, _) = match (sheet.quality, sheet.soaked) {
            (Quality::MillRun, _) => (
                self.radii.iter().map(|r| (r.thickness_in, r.across_ft, r.along_ft)).collect(),
                MILL_GROWTH,
                MM_PER_FOOT,
            ),
            (Quality::Clear, false) => (
                self.clear_radii.iter().map(|r| (r.thickness_in, r.cold_0_45, r.cold_90)).collect(),
                CLEAR_GROWTH,
                MM_PER_INCH,
            ),
            (Quality::Clear, true) => (
                self.clear_radii
                    .iter()
                    .map(|r| (r.thickness_in, r.soaked_0_45, r.soaked_90))
                    .collect(),
                SOAKED_GROWTH,
                MM_PER_INCH,
            ),
        };
        let (across, along) = between(&rows, t, growth);
        (unit * across, unit * along)
    }

    /// Least radius (mm) of a bend whose ruling lies at `angle` radians to the face grain.
    ///
    /// Mill-run: 1/R = cos²θ / R_across + sin²θ / R_along. Clear panels: one radius from 0 to
    /// 45°, as their table has it, and from there to 90° the same blend in 2θ, which meets
    /// both ends: 1/R = (1 − s) / R_0-45 + s / R_90, s = −cos 2θ. Both blends are engineering
    /// assumptions of ours; no source.
    pub fn least_radius(&self, sheet: Bendable, angle: f64) -> f64 {
        self.least_radius_of(sheet)(angle)
    }

    /// As [`SheetTable::least_radius`], for many angles of one sheet: the table is read once.
    pub fn least_radius_of(&self, sheet: Bendable) -> impl Fn(f64) -> f64 + use<> {
        let (across, along) = self.least_radii(sheet);
        move |angle: f64| {
            let share = match sheet.quality {
                Quality::MillRun => angle.sin().powi(2),
                Quality::Clear => (-(2.0 * angle).cos()).max(0.0),
            };
            1.0 / ((1.0 - share) / across + share / along)
        }
    }

    /// Where the radii of this quality are from.
    pub fn source_of_radii(&self, quality: Quality) -> &str {
        match quality {
            Quality::MillRun => &self.radii_source,
            Quality::Clear => &self.clear_radii_source,
        }
    }

    /// The sheet of that name.
    pub fn get(&self, name: &str) -> Option<&Sheet> {
        self.sheets.iter().find(|s| s.name == name)
    }

    /// The sheet called `name`, of this measured thickness (mm), as bending asks: a sheet
    /// that the table lacks is judged as mill-run.
    pub fn bendable(&self, name: &str, thickness: f64) -> Bendable {
        let quality = self.get(name).map_or(Quality::MillRun, |s| s.quality);
        Bendable { quality, thickness, soaked: false }
    }

    /// How stiff the sheet called `name` is at this measured thickness (mm).
    pub fn stiffness(&self, name: &str, thickness: f64) -> ply::Stiffness {
        let row = self.get(name);
        ply::Stiffness::of(
            row.and_then(|s| s.plies).unwrap_or_else(|| ply::usual_plies(thickness)),
            row.and_then(|s| s.veneer_n_mm2).unwrap_or(ply::WEAK_SOFTWOOD),
        )
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::material::Materials;
    use std::f64::consts::{FRAC_PI_2, FRAC_PI_4};

    fn mill(thickness: f64) -> Bendable {
        Bendable { quality: Quality::MillRun, thickness, soaked: false }
    }

    fn clear(thickness: f64) -> Bendable {
        Bendable { quality: Quality::Clear, ..mill(thickness) }
    }

    /// Every row of the published table, and a value between two rows.
    #[test]
    fn the_published_radii_come_back() {
        let table = Materials::shipped().sheets;
        // APA TT-003A: in, ft across, ft along.
        let rows = [
            (0.25, 2.0, 5.0),
            (0.3125, 2.0, 6.0),
            (0.375, 3.0, 8.0),
            (0.5, 6.0, 12.0),
            (0.625, 8.0, 16.0),
            (0.75, 12.0, 20.0),
        ];
        for (t, across, along) in rows {
            let (a, b) = table.least_radii(mill(t * 25.4));
            assert!((a - across * 304.8).abs() < 1e-9 && (b - along * 304.8).abs() < 1e-9);
        }
        let (a, _) = table.least_radii(mill(0.4375 * 25.4));
        assert!((a - 4.5 * 304.8).abs() < 1e-9, "half way between 3 and 6 ft");
        let thin = table.least_radii(mill(4.0));
        assert!((thin.0 / 4.0 - 96.0).abs() < 1e-9 && (thin.1 / 4.0 - 240.0).abs() < 1e-9);
        assert!((table.least_radius(mill(6.35), 0.0) - 609.6).abs() < 1e-9);
        assert!((table.least_radius(mill(6.35), FRAC_PI_2) - 1524.0).abs() < 1e-9);
    }

    /// FAA AC 43.13-1B: rows of three and five plies, cold and soaked, at both angles.
    #[test]
    fn the_radii_of_clear_panels_come_back() {
        let table = Materials::shipped().sheets;
        for (t, cold_90, cold_45, hot_90, hot_45) in [
            (0.035, 2.0, 1.1, 0.5, 0.1),
            (0.155, 16.0, 10.0, 5.3, 1.8),
            (0.16, 17.0, 11.0, 6.0, 2.0),
            (0.25, 31.0, 20.0, 12.0, 5.0),
            (0.375, 54.0, 36.0, 21.0, 10.0),
        ] {
            let sheet = clear(t * 25.4);
            let soaked = Bendable { soaked: true, ..sheet };
            for (s, angle, inches) in [
                (sheet, FRAC_PI_2, cold_90),
                (sheet, 0.0, cold_45),
                (sheet, FRAC_PI_4, cold_45),
                (sheet, 0.5 * FRAC_PI_4, cold_45),
                (soaked, FRAC_PI_2, hot_90),
                (soaked, 0.3, hot_45),
            ] {
                let r = table.least_radius(s, angle);
                assert!((r - inches * 25.4).abs() < 1e-9, "{t} in at {angle}: {r}");
            }
        }
        // From 45° to 90° it only grows; at 67.5° s is half of √2.
        let s = std::f64::consts::FRAC_1_SQRT_2;
        let by_hand = 25.4 / ((1.0 - s) / 20.0 + s / 31.0);
        let there = table.least_radius(clear(6.35), 1.5 * FRAC_PI_4);
        assert!((there - by_hand).abs() < 1e-9, "{there} {by_hand}");
    }

    /// Rows rise all the way, and beyond the last the fits go on: 214 t^1.39 in inches comes
    /// within 4 % of 12 mm's radius.
    #[test]
    fn a_thicker_sheet_never_bends_tighter() {
        let table = Materials::shipped().sheets;
        for quality in [Quality::MillRun, Quality::Clear] {
            for soaked in [false, true] {
                let mut before = (0.0, 0.0);
                for k in 1..300 {
                    let sheet = Bendable { quality, thickness: 0.1 * f64::from(k), soaked };
                    let (a, b) = table.least_radii(sheet);
                    // The soaked rows of three plies overlap those of five by 1 in 70.
                    let least = if soaked { 0.98 } else { 1.0 };
                    assert!(a >= least * before.0 && b > least * before.1, "{sheet:?}");
                    assert!(a <= b, "{sheet:?}");
                    before = (a, b);
                }
            }
        }
        let (_, along) = table.least_radii(clear(12.0));
        let fit = 214.0 * (12.0f64 / 25.4).powf(1.39) * 25.4;
        assert!((along / fit - 1.0).abs() < 0.04, "{along} {fit}");
    }
}
