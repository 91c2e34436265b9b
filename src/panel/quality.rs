//! What a sheet would have to put up with to take a panel's shape.

use super::Surface;
use crate::geom::P3;

/// How nearly developable a panel is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Quality {
    /// Greatest warp of a ruling, radians.
    pub greatest_warp: f64,
    /// Middle of that ruling, mm.
    pub warp_at: P3,
    /// Greatest strain asked of the sheet's edges by the warp, a plain ratio.
    pub edge_stretch: f64,
}

/// Strain at the edges of a sheet that is twisted so that its normal turns by `warp`
/// radians over its width: warp²/12.
///
/// A long strip of width b twisted at the rate τ = warp/b has the Gaussian curvature -τ²;
/// lengthwise fibres at distance y from the middle would lengthen by τ²y²/2, and the sheet,
/// free of outer force, takes the mean out: τ²(y²/2 - b²/24), which is τ²b²/12 at the
/// edges and half as much shortening in the middle. Source: Timoshenko, *Strength of
/// Materials*, part II, on twist of thin strips (from memory).
pub fn edge_stretch(warp: f64) -> f64 {
    warp * warp / 12.0
}

impl Quality {
    /// Measures `surface`.
    pub fn of(surface: &Surface) -> Quality {
        let (greatest_warp, i) = surface.greatest_warp();
        let r = &surface.rulings[i];
        Quality {
            greatest_warp,
            warp_at: nalgebra::center(&r.lower, &r.upper),
            edge_stretch: edge_stretch(greatest_warp),
        }
    }
}
