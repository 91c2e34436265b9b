//! Sheets of plywood and the least radius to which they bend.

use serde::{Deserialize, Serialize};

use crate::units::{MM_PER_FOOT, MM_PER_INCH};

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
    /// Where the figures are from.
    pub source: String,
}

/// A row of the least-radius table, in its source's units.
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

/// The sheet table with its bending radii.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SheetTable {
    /// Least radii by thickness, thin to thick.
    pub radii: Vec<RadiusRow>,
    /// Where the radii are from.
    pub radii_source: String,
    /// The sheets.
    pub sheets: Vec<Sheet>,
}

impl SheetTable {
    /// Least radii (mm) across and along the face grain for a thickness (mm).
    ///
    /// Between rows the radius is interpolated in thickness; outside the table the ratio
    /// of radius to thickness of the nearest row holds.
    pub fn least_radii(&self, thickness: f64) -> (f64, f64) {
        let t = thickness / MM_PER_INCH;
        let row = |r: &RadiusRow| (r.across_ft * MM_PER_FOOT, r.along_ft * MM_PER_FOOT);
        let scaled = |r: &RadiusRow| {
            let (across, along) = row(r);
            (across * t / r.thickness_in, along * t / r.thickness_in)
        };
        let (Some(first), Some(last)) = (self.radii.first(), self.radii.last()) else {
            return (0.0, 0.0);
        };
        if t <= first.thickness_in {
            return scaled(first);
        }
        for w in self.radii.windows(2) {
            if t <= w[1].thickness_in {
                let share = (t - w[0].thickness_in) / (w[1].thickness_in - w[0].thickness_in);
                let ((a0, b0), (a1, b1)) = (row(&w[0]), row(&w[1]));
                return (a0 + share * (a1 - a0), b0 + share * (b1 - b0));
            }
        }
        scaled(last)
    }

    /// Least radius (mm) of a bend whose ruling lies at `angle` radians to the face grain:
    /// 1/R = cos²θ / R_across + sin²θ / R_along. An engineering assumption of ours between
    /// the two published directions; no source.
    pub fn least_radius(&self, thickness: f64, angle: f64) -> f64 {
        let (across, along) = self.least_radii(thickness);
        let (sin, cos) = angle.sin_cos();
        1.0 / (cos * cos / across + sin * sin / along)
    }
}

#[cfg(test)]
mod tests {
    use crate::material::Materials;

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
            let (a, b) = table.least_radii(t * 25.4);
            assert!((a - across * 304.8).abs() < 1e-9 && (b - along * 304.8).abs() < 1e-9);
        }
        let (a, _) = table.least_radii(0.4375 * 25.4);
        assert!((a - 4.5 * 304.8).abs() < 1e-9, "half way between 3 and 6 ft");
        let thin = table.least_radii(4.0);
        assert!((thin.0 / 4.0 - 96.0).abs() < 1e-9 && (thin.1 / 4.0 - 240.0).abs() < 1e-9);
        assert!((table.least_radius(6.35, 0.0) - 609.6).abs() < 1e-9);
        assert!((table.least_radius(6.35, std::f64::consts::FRAC_PI_2) - 1524.0).abs() < 1e-9);
    }
}
