//! How long the long edges of a stick are as it lies: a stick that lies outside its line, or
//! inside of it, is longer or shorter than the line by its distance times the angle turned.

use super::member::BentMember;
use crate::geom::P3;

impl BentMember {
    /// Lengths of its four long edges over the whole of its line, mm, in the order of
    /// [`BentMember::corners`].
    ///
    /// Between two places an edge is taken for the arc of a circle over its chord, which turns
    /// as the stick does there: exact for a constant radius, and to the fourth power of the
    /// spacing else.
    pub fn edges(&self) -> [f64; 4] {
        let mut out = [0.0; 4];
        for w in self.along.windows(2) {
            let half = 0.5 * w[0].tangent.angle(&w[1].tangent);
            let over_chord = if half < 1e-6 { 1.0 } else { half / half.sin() };
            let (from, to) = (self.corners(&w[0]), self.corners(&w[1]));
            for (sum, (a, b)) in out.iter_mut().zip(from.iter().zip(to)) {
                *sum += over_chord * (b - a).norm();
            }
        }
        out
    }

    /// Corners of its section at the bow and at the stern end of its line; `None` for a stick
    /// without length.
    pub fn end_corners(&self) -> Option<[[P3; 4]; 2]> {
        Some([self.corners(self.along.first()?), self.corners(self.along.last()?)])
    }
}

#[cfg(test)]
mod tests {
    use crate::bend::member::{Along, BentMember, judge};
    use crate::geom::{P3, V3};
    use crate::hull::MemberSide;
    use crate::hull::lumber::default_members;
    use crate::material::Materials;

    /// A rail of 19 by 32 on a sheet of 6 mm, its line an arc in plan of 3 m radius that turns
    /// by half a radian.
    fn arc(side: MemberSide, thickness: f64) -> BentMember {
        let (radius, turn, places) = (3000.0, 0.5, 30);
        let member = crate::hull::Member { side, ..default_members()[3].clone() };
        let materials = Materials::shipped();
        let wood = materials.wood(&member.species).expect("Douglas-fir");
        let at = |i: usize| {
            let a = turn * i as f64 / places as f64;
            let outward = V3::new(-a.cos(), a.sin(), 0.0);
            let point = P3::from(radius * outward);
            let tangent = V3::new(a.sin(), a.cos(), 0.0);
            Along {
                at: radius * a,
                moulded: 1.0 / radius,
                sided: 0.0,
                twist: 0.0,
                fibre: 0.0,
                strain: 0.0,
                point,
                seat: point + thickness * outward,
                tangent,
                outward,
            }
        };
        judge(&member, wood, radius * turn, (0..=places).map(at).collect())
    }

    /// Its outer face is longer than the line by its distance from it times the angle turned:
    /// 25 mm by half a radian.
    #[test]
    fn edges_of_an_arc_by_hand() {
        let rail = arc(MemberSide::Outside, 6.0);
        let [inner, outer, outer_high, inner_high] = rail.edges();
        assert!((outer - (3000.0 + 6.0 + 19.0) * 0.5).abs() < 1e-9, "{outer}");
        assert!((inner - 3006.0 * 0.5).abs() < 1e-9, "{inner}");
        assert!((outer - outer_high).abs() < 1e-9 && (inner - inner_high).abs() < 1e-9);
        // One inside is shorter on its inner face.
        let clamp = arc(MemberSide::Inside, 0.0);
        let least = clamp.edges().into_iter().fold(f64::INFINITY, f64::min);
        assert!((least - 2981.0 * 0.5).abs() < 1e-9, "{least}");
    }
}
