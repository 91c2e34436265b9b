//! The outside of the planking along a line: where its outer faces meet, and a stick that
//! lies on it begins.
//!
//! Square to the line let n be the outward normal of the panel that the stick lies on, t its
//! measured thickness, and w the way along its skin. Its outer face lies t along n; where it
//! ends there is said by what it meets: at a chine the outer face of the other panel (n', t'),
//! whichever of them laps the other, since the one that is lapped is planed flush and the one
//! that laps is cut flush; at the sheer the level of the line, to which the sheet is planed.
//! The corner lies s = (t' − t n·n') / (w·n') along w; for the sheer n' is up and t' nothing.
//! Two panels that turn too little to lap are both planed to the plane that halves their
//! corner, and the outer face ends there.
//! On the centreplane both outer faces of a V meet t / (n·n') along the line's own normal n',
//! and a flat bottom is moved by its thickness.

use super::laps::{MOST_THICKNESSES, Role, at_share, normals_along};
use crate::geom::{V3, unit};
use crate::hull::HullLines;
use crate::panel::Surface;

/// Outer faces along one line.
#[derive(Debug, Clone)]
pub struct Outside {
    thickness: f64,
    meets: Meets,
}

/// What the panel's outer face meets along the line.
#[derive(Debug, Clone)]
enum Meets {
    /// The level of the line.
    Level,
    /// Another panel: its normals along the line and its thickness.
    Panel(Vec<(f64, V3)>, f64),
    /// The plane that halves the corner with another panel, of these normals along the line.
    Half(Vec<(f64, V3)>),
    /// Its own mirror image, in the centreplane: the panel's normals along the line.
    Mirror(Vec<(f64, V3)>),
    /// Nothing: it runs on.
    Nothing,
}

impl Outside {
    /// Along line `k`; `surfaces` and `thicknesses` are those of all panels from the keel up,
    /// `role` is what the lower edge of the panel above the line does. The stick lies on that
    /// panel, at the sheer on the one below.
    pub fn of(
        lines: &HullLines,
        surfaces: &[&Surface],
        thicknesses: &[f64],
        k: usize,
        role: Option<Role>,
    ) -> Option<Outside> {
        let meets = match k {
            0 if lines.flat_bottom => Meets::Nothing,
            0 => Meets::Mirror(normals_along(surfaces.first()?, false)),
            k if k == surfaces.len() => Meets::Level,
            k if role == Some(Role::Halves) => {
                Meets::Half(normals_along(surfaces.get(k - 1)?, true))
            }
            k => Meets::Panel(normals_along(surfaces.get(k - 1)?, true), thicknesses[k - 1]),
        };
        let host = k.min(surfaces.len().checked_sub(1)?);
        Some(Outside { thickness: *thicknesses.get(host)?, meets })
    }

    /// From the line to the outer corner at this share of it, mm; `n` is the unit normal of
    /// the face that the stick lies on there, `tangent` the line's.
    pub fn from_line(&self, share: f64, n: V3, tangent: V3) -> V3 {
        let t = self.thickness;
        let most = MOST_THICKNESSES * t;
        let corner = |m: V3, cover: f64| {
            let w = unit(n.cross(&tangent))?;
            let m = unit(m - m.dot(&tangent) * tangent)?;
            let across = m.dot(&w);
            let s = (cover - t * m.dot(&n)) / across;
            // Where both run nearly on in one plane there is no corner.
            (across.abs() > 1e-6).then(|| t * n + s.clamp(-most, most) * w)
        };
        let found = match &self.meets {
            Meets::Level => corner(V3::z(), 0.0),
            Meets::Panel(other, cover) => at_share(other, share).and_then(|m| corner(m, *cover)),
            Meets::Half(other) => {
                at_share(other, share).and_then(|m| corner((n + m).cross(&tangent), 0.0))
            }
            Meets::Mirror(own) => {
                at_share(own, share).map(|m| (t / m.dot(&n).max(1.0 / MOST_THICKNESSES)) * n)
            }
            Meets::Nothing => None,
        };
        found.unwrap_or(t * n)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn outside(thickness: f64, meets: Meets) -> Outside {
        Outside { thickness, meets }
    }

    /// A side of 6 mm that flares by 20° over a level bottom of 9 mm, square to a straight
    /// line. At the sheer its outer face ends level with the line and t / cos φ out from it;
    /// at the chine both outer faces meet 9 mm below it and t / cos φ − 9 tan φ out.
    #[test]
    fn corners_of_a_flared_side_by_hand() {
        let flare = 20f64.to_radians();
        let side = V3::new(0.0, flare.cos(), -flare.sin());
        let sheer = outside(6.0, Meets::Level).from_line(0.5, side, V3::x());
        assert!((sheer - V3::new(0.0, 6.0 / flare.cos(), 0.0)).norm() < 1e-12, "{sheer}");
        let bottom = Meets::Panel(vec![(0.0, -V3::z()), (1.0, -V3::z())], 9.0);
        let chine = outside(6.0, bottom).from_line(0.5, side, V3::x());
        let out = 6.0 / flare.cos() - 9.0 * flare.tan();
        assert!((chine - V3::new(0.0, out, -9.0)).norm() < 1e-12, "{chine}");
    }

    /// Bottoms of 9 mm that rise by 15°: both outer faces meet 9 / cos 15° below the keel.
    #[test]
    fn on_the_centreplane_of_a_v_both_faces_meet() {
        let rise = 15f64.to_radians();
        let own = V3::new(0.0, rise.sin(), -rise.cos());
        let under = outside(9.0, Meets::Mirror(vec![(0.0, own)])).from_line(0.0, -V3::z(), V3::x());
        assert!((under - V3::new(0.0, 0.0, -9.0 / rise.cos())).norm() < 1e-12, "{under}");
        let flat = outside(9.0, Meets::Nothing).from_line(0.0, -V3::z(), V3::x());
        assert!((flat + 9.0 * V3::z()).norm() < 1e-12);
    }

    /// Two strakes that turn by 20°, planed to the halved corner: the upper, 6 mm thick, ends
    /// 6 tan 10° past the line on its outer face, however thick the lower is.
    #[test]
    fn a_halved_corner_ends_on_its_plane() {
        let turn = 20f64.to_radians();
        let lower = V3::new(0.0, turn.cos(), -turn.sin());
        let on = outside(6.0, Meets::Half(vec![(0.0, lower)])).from_line(0.0, V3::y(), V3::x());
        let past = 6.0 * (0.5 * turn).tan();
        assert!((on - V3::new(0.0, 6.0, -past)).norm() < 1e-12, "{on}");
    }

    /// Two panels in one plane have no corner: the outside is one thickness away.
    #[test]
    fn without_a_corner_it_is_one_thickness_away() {
        let n = V3::y();
        let on = outside(6.0, Meets::Panel(vec![(0.0, n)], 9.0)).from_line(0.0, n, V3::x());
        assert!((on - 6.0 * n).norm() < 1e-12);
    }
}
