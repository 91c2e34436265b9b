//! Glue along joints, and fillets in corners.

use super::{CountedFrom, Line, Shop};
use crate::material::{Figure, Glue};
use crate::stock::glue::time_factor;

/// A glued joint.
#[derive(Debug, Clone, PartialEq)]
pub struct GlueJoint {
    /// What is laid when it is closed, and with it all joints that are spread for that: "side".
    pub laid: String,
    /// Along one of them, mm.
    pub length: f64,
    /// Across what touches, mm.
    pub width: f64,
    /// How many there are, each closed by itself: on both hands, one layer after the other.
    pub count: u32,
}

/// A broad face takes a bead for each of these, mm. Our judgement, no source.
const BEAD_EVERY_MM: f64 = 50.0;

impl GlueJoint {
    /// A face of `area` mm² as a joint of equal sides.
    pub fn of_face(laid: String, area: f64, count: u32) -> GlueJoint {
        let side = area.abs().sqrt();
        GlueJoint { laid, length: side, width: side, count }
    }

    /// Along all of them, mm.
    fn along(&self) -> f64 {
        f64::from(self.count) * self.length
    }

    /// Of bead on all of them, mm: side by side on a broad face.
    fn beads(&self) -> f64 {
        self.along() * (self.width / BEAD_EVERY_MM).round().max(1.0)
    }
}

/// A fillet in a corner.
#[derive(Debug, Clone, PartialEq)]
pub struct Fillet {
    /// Where.
    pub name: String,
    /// Along it, mm.
    pub length: f64,
    /// Radius of its hollow, mm.
    pub radius: f64,
    /// Angle between the two faces, radians.
    pub angle: f64,
}

impl Fillet {
    /// How far it reaches from the corner along either face, mm: r / tan(θ/2).
    pub fn reach(&self) -> f64 {
        self.radius / (0.5 * self.angle).tan()
    }

    /// Section, mm²: what the corner holds below a circle that touches both faces,
    /// r² (1 / tan(θ/2) − (π − θ) / 2); (1 − π/4) r² in a right angle.
    pub fn section(&self) -> f64 {
        let half = 0.5 * self.angle;
        let r = self.radius;
        (r * r * (1.0 / half.tan() - (std::f64::consts::FRAC_PI_2 - half))).max(0.0)
    }
}

/// Joint that two people spread, close and fasten in a minute, mm. Our judgement; no source.
pub const CLOSED_A_MINUTE_MM: f64 = 1000.0;

/// What is laid in one go against the time for which its glue stays open.
#[derive(Debug, Clone, PartialEq)]
pub struct Closing {
    /// What is laid.
    pub name: String,
    /// What closing it takes, minutes.
    pub minutes: f64,
    /// How long the glue stays open, minutes.
    pub open: f64,
}

/// What takes longer to lay, with all joints of one go, than the glue stays open at this
/// temperature (°C).
pub fn too_long(joints: &[GlueJoint], glue: &Glue, temperature_c: f64) -> Vec<Closing> {
    let open = glue.open_min * time_factor(temperature_c);
    let mut out: Vec<Closing> = Vec::new();
    for j in joints {
        let minutes = j.length / CLOSED_A_MINUTE_MM;
        match out.iter_mut().find(|c| c.name == j.laid) {
            Some(c) => c.minutes += minutes,
            None => out.push(Closing { name: j.laid.clone(), minutes, open }),
        }
    }
    out.retain(|c| c.minutes > c.open);
    out
}

/// The line for the glue of all these joints.
///
/// # Errors
/// The name of a glue or of its store that no table has.
pub fn glue_line(shop: &Shop, joints: &[GlueJoint]) -> Result<Line, String> {
    let glue = shop.table.glue(&shop.plan.glue).ok_or_else(|| shop.plan.glue.clone())?;
    let row = shop.row(&glue.store)?;
    let rate = row.value;
    let (taken, from) = match row.figure {
        Figure::Bead => {
            let length: f64 = joints.iter().map(GlueJoint::beads).sum();
            let litres = length * rate * 1e-6;
            (litres, CountedFrom::Bead { length, section: rate })
        }
        _ => {
            let area: f64 = joints.iter().map(|j| j.along() * j.width).sum();
            (area * 1e-6 * rate, CountedFrom::Spread { area, rate })
        }
    };
    Ok(shop.line(row, &row.name, taken, from))
}

/// The line for fillets.
///
/// # Errors
/// The name of the store, where the table has none.
pub fn fillet_line(shop: &Shop, fillets: &[Fillet]) -> Result<Line, String> {
    let row = shop.row("epoxy in fillets")?;
    let litres: f64 = fillets.iter().map(|f| f.section() * f.length * 1e-6).sum();
    let length: f64 = fillets.iter().map(|f| f.length).sum();
    let mean = if length > 0.0 { litres * 1e6 / length } else { 0.0 };
    Ok(shop.line(row, &row.name, litres, CountedFrom::Fillets { length, mean }))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::hull::StockPlan;
    use crate::material::{Measure, StoreTable};
    use crate::stock::stores::bought::bought;
    use crate::units::{MM_PER_FOOT, MM_PER_INCH};

    const IN3_PER_LITRE: f64 = 61.023_744_094_732_28;

    fn joint(length: f64, width: f64) -> GlueJoint {
        GlueJoint { laid: "seam".into(), length, width, count: 1 }
    }

    fn with_glue(name: &str, joints: &[GlueJoint]) -> Line {
        let table = StoreTable::shipped();
        let plan = StockPlan { glue: name.into(), ..StockPlan::default() };
        glue_line(&Shop { table: &table, plan: &plan }, joints).expect("there")
    }

    /// Common practice on a 14 ft flat-bottomed skiff: two cartridges a side, three for the
    /// bottom, half as many again. Over the joints of three computed hulls of that size.
    #[test]
    fn two_cartridges_a_side_and_three_for_the_bottom() {
        let (mut side, mut bottom) = (0.0, 0.0);
        for (s, b) in [(13_000.0, 19_600.0), (13_500.0, 20_900.0)] {
            let of = |l: f64| with_glue("construction adhesive", &[joint(l, 19.0)]);
            side += of(s).quantity / of(s).pack;
            bottom += of(b).quantity / of(b).pack;
            let packs = bought(&[of(s)])[0].packs;
            assert_eq!(packs.abs_diff(2), u32::from(s > 13_400.0));
        }
        assert!((0.5 * side - 2.0).abs() < 0.05, "{side}");
        assert!((0.5 * bottom - 3.0).abs() < 0.1, "{bottom}");
        assert!((bottom / side - 1.5).abs() < 0.05, "{}", bottom / side);
    }

    /// Feet of bead from cartridges by volume, 1 US fl oz = 231/128 in³: a round bead of 1/4 in
    /// from 10.1 oz is 30.94 ft, a square one 24.30 ft, a flat fillet of 1/4 in legs 48.61 ft;
    /// of 3/8 in from 28 oz, 38.13 ft. By geometry.
    #[test]
    fn feet_of_bead_from_a_cartridge() {
        let q = MM_PER_INCH / 4.0;
        let round = |d: f64| 0.25 * std::f64::consts::PI * d * d;
        for (ounces, section, feet) in [
            (10.1, round(q), 30.94),
            (10.1, q * q, 24.30),
            (10.1, 0.5 * q * q, 48.61),
            (10.0, round(0.5 * q), 122.55),
            (28.0, round(1.5 * q), 38.13),
        ] {
            let litres = ounces * 231.0 / 128.0 / IN3_PER_LITRE;
            let mut table = StoreTable::shipped();
            let row = table.stores.iter_mut().find(|r| r.name == "construction adhesive");
            let row = row.expect("there");
            (row.value, row.pack) = (section, litres);
            let plan = StockPlan { glue: row.name.clone(), ..StockPlan::default() };
            let shop = Shop { table: &table, plan: &plan };
            let packs = |ft: f64| {
                let line = glue_line(&shop, &[joint(ft * MM_PER_FOOT, 19.0)]).expect("there");
                bought(&[line])[0].packs
            };
            assert_eq!((packs(feet - 0.02), packs(feet + 0.02)), (1, 2), "{ounces} oz");
        }
    }

    /// (1 - π/4) r² in a right angle: 0.160952 in³ a foot for 1/4 in, 2.575222 for 1 in.
    #[test]
    fn fillets_by_their_formula() {
        let fillet = |inches: f64, angle: f64| Fillet {
            name: "chine".into(),
            length: MM_PER_FOOT,
            radius: inches * MM_PER_INCH,
            angle,
        };
        let right = std::f64::consts::FRAC_PI_2;
        for (r, in3) in [(0.25, 0.160_952), (0.375, 0.362_141), (0.5, 0.643_806), (1.0, 2.575_222)]
        {
            let f = fillet(r, right);
            let found = f.section() * f.length / MM_PER_INCH.powi(3);
            assert!((found - in3).abs() < 1e-6, "{found}");
        }
        // A flat seam takes none; an angle of 60° (√3 - π/3) r².
        assert!(fillet(1.0, std::f64::consts::PI).section() < 1e-9);
        let sixty = fillet(1.0, std::f64::consts::FRAC_PI_3).section();
        let r2 = MM_PER_INCH * MM_PER_INCH;
        assert!((sixty - (3f64.sqrt() - std::f64::consts::FRAC_PI_3) * r2).abs() < 1e-9);
    }

    #[test]
    fn a_spread_glue_counts_by_area_and_a_long_joint_is_told() {
        let line = with_glue("resorcinol", &[joint(4000.0, 25.0), joint(6000.0, 25.0)]);
        assert!(
            (line.quantity - 0.25 * 0.3 * 1.15).abs() < 1e-12 && line.unit == Measure::Kilograms
        );
        let table = StoreTable::shipped();
        let glue = table.glue("resorcinol").expect("there");
        // A side on two hands is laid twice; a bottom with all that touches it in one go.
        let on = |laid: &str, length, count| GlueJoint {
            laid: laid.into(),
            count,
            ..joint(length, 25.0)
        };
        let joints = [on("side", 9000.0, 2), on("bottom", 9000.0, 1), on("bottom", 9000.0, 1)];
        let late = too_long(&joints, glue, 20.0);
        assert!(late.len() == 1 && late[0].name == "bottom", "{late:?}");
        assert!((late[0].minutes - 18.0).abs() < 1e-12);
        assert!(too_long(&joints, glue, 15.0).is_empty());
        // A face of 200 by 200 takes four beads, a batten's one.
        let beads = |width| with_glue("construction adhesive", &[joint(200.0, width)]).quantity;
        assert!((beads(200.0) - 4.0 * beads(25.0)).abs() < 1e-12);
    }
}
