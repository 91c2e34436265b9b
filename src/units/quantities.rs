//! What is no length, in the reader's units: masses, forces, areas, volumes, stresses.

use super::{
    KG_PER_POUND, LITRES_PER_GALLON, MM_PER_FOOT, MM_PER_INCH, STANDARD_GRAVITY, Units, inch_parts,
    tidy_zero, whole_mm,
};

impl Units {
    /// A mass: kilograms or pounds, to a tenth under 10.
    pub fn mass(self, kg: f64) -> String {
        if self.imperial() {
            to_tenth_under_ten(kg / KG_PER_POUND, "lb")
        } else {
            to_tenth_under_ten(kg, "kg")
        }
    }

    /// A force: what a hand or a spring balance feels, in newtons or pounds-force.
    pub fn force(self, newtons: f64) -> String {
        if self.imperial() {
            to_tenth_under_ten(newtons / (KG_PER_POUND * STANDARD_GRAVITY), "lbf")
        } else {
            to_tenth_under_ten(newtons, "N")
        }
    }

    /// A temperature in °C: degrees Celsius, or Fahrenheit.
    pub fn temperature(self, celsius: f64) -> String {
        if self.imperial() {
            format!("{:.0} °F", tidy_zero(1.8 * celsius + 32.0, 0))
        } else {
            format!("{:.0} °C", tidy_zero(celsius, 0))
        }
    }

    /// An area given in mm²: square metres, or square feet.
    pub fn area(self, mm2: f64) -> String {
        if self.imperial() {
            format!("{:.1} sq ft", mm2 / (MM_PER_FOOT * MM_PER_FOOT))
        } else {
            format!("{:.2} m²", mm2 * 1e-6)
        }
    }

    /// A volume of foam or water given in litres: litres, or cubic feet.
    pub fn volume(self, litres: f64) -> String {
        if self.imperial() {
            format!("{:.1} cu ft", litres * 1e6 / MM_PER_FOOT.powi(3))
        } else {
            format!("{litres:.0} litres")
        }
    }

    /// The volume of a stick given in mm³: litres, or cubic inches.
    pub fn small_volume(self, mm3: f64) -> String {
        if self.imperial() {
            format!("{:.0} cu in", mm3 / MM_PER_INCH.powi(3))
        } else {
            format!("{:.2} litres", mm3 * 1e-6)
        }
    }

    /// What is poured from cans, given in litres: litres, or US gallons, fluid ounces under half
    /// of one.
    pub fn liquid(self, litres: f64) -> String {
        let gallons = litres / LITRES_PER_GALLON;
        match self.imperial() {
            true if gallons < 0.5 => format!("{:.0} fl oz", 128.0 * gallons),
            true => format!("{:.2} gal", gallons),
            false => format!("{litres:.1} l"),
        }
    }

    /// Cloth and tape off a roll, given in metres: metres, or yards.
    pub fn cloth_length(self, metres: f64) -> String {
        match self.imperial() {
            true => format!("{:.1} yd", metres * 1000.0 / (3.0 * MM_PER_FOOT)),
            false => format!("{metres:.1} m"),
        }
    }

    /// The length of a screw, nail or bolt: whole millimetres, or inches to 1/8, as they are
    /// sold.
    pub fn fastening(self, mm: f64) -> String {
        match self.imperial() {
            true => format!("{}\"", inch_parts(mm, 8)),
            false => format!("{} mm", whole_mm(mm)),
        }
    }

    /// A density given in kg/m³: that, or pounds in a cubic foot.
    pub fn density(self, kg_m3: f64) -> String {
        if self.imperial() {
            let feet = MM_PER_FOOT * MM_PER_FOOT * MM_PER_FOOT * 1e-9;
            format!("{:.1} lb/cu ft", kg_m3 * feet / KG_PER_POUND)
        } else {
            format!("{kg_m3:.0} kg/m³")
        }
    }

    /// The weight of a cloth given in g/m²: that, or ounces in a square yard.
    pub fn cloth(self, g_m2: f64) -> String {
        if self.imperial() {
            let yards = (3.0 * MM_PER_FOOT / 1000.0).powi(2);
            format!("{:.1} oz/sq yd", g_m2 * 16e-3 * yards / KG_PER_POUND)
        } else {
            format!("{g_m2:.0} g/m²")
        }
    }

    /// What a coat leaves, given in kg/m²: that, or pounds on a square foot.
    pub fn coat(self, kg_m2: f64) -> String {
        if self.imperial() {
            let feet = (MM_PER_FOOT / 1000.0).powi(2);
            format!("{:.3} lb/sq ft", kg_m2 * feet / KG_PER_POUND)
        } else {
            format!("{kg_m2} kg/m²")
        }
    }

    /// A stress given in N/mm²: that, or pounds-force on a square inch.
    pub fn stress(self, n_mm2: f64) -> String {
        if self.imperial() {
            let inch = MM_PER_INCH * MM_PER_INCH;
            format!("{:.0} psi", n_mm2 * inch / (KG_PER_POUND * STANDARD_GRAVITY))
        } else {
            format!("{n_mm2:.1} N/mm²")
        }
    }

    /// A pressure given in N/mm²: kilopascals, or pounds-force on a square inch.
    pub fn pressure(self, n_mm2: f64) -> String {
        if self.imperial() {
            let inch = MM_PER_INCH * MM_PER_INCH;
            format!("{:.1} psi", n_mm2 * inch / (KG_PER_POUND * STANDARD_GRAVITY))
        } else {
            format!("{:.0} kPa", 1000.0 * n_mm2)
        }
    }
}

fn to_tenth_under_ten(value: f64, unit: &str) -> String {
    let places = if value.abs() < 9.95 { 1 } else { 0 };
    format!("{:.*} {unit}", places as usize, tidy_zero(value, places))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// NIST SP 811: a US gallon is 128 fluid ounces, a yard 0.9144 m.
    #[test]
    fn stores_are_told_as_shops_sell_them() {
        let (metric, feet) = (Units::Mm, Units::FeetInchesEighths);
        assert_eq!((metric.liquid(3.785), feet.liquid(3.785)), ("3.8 l".into(), "1.00 gal".into()));
        assert_eq!(
            (feet.liquid(0.29574), feet.liquid(0.946)),
            ("10 fl oz".into(), "32 fl oz".into())
        );
        assert_eq!(
            (metric.cloth_length(25.0), feet.cloth_length(9.144)),
            ("25.0 m".into(), "10.0 yd".into())
        );
        let screws = [16.0, 19.0, 25.0, 32.0, 38.0, 44.0, 51.0].map(|mm| feet.fastening(mm));
        assert_eq!(screws, ["5/8\"", "3/4\"", "1\"", "1 1/4\"", "1 1/2\"", "1 3/4\"", "2\""]);
        assert_eq!(metric.fastening(25.0), "25 mm");
    }
}
