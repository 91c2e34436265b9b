//! Members: the lumber bent along a hull's lines, and what is known of it.

use serde::{Deserialize, Serialize};

use super::document::Hull;
use crate::material::equilibrium_moisture;
use crate::part::LineId;

/// Which side of the skin a member lies on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
pub enum MemberSide {
    /// Inside, as a chine log.
    #[default]
    Inside,
    /// Outside, as a rub rail.
    Outside,
}

/// A length of lumber bent along a line.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Member {
    /// What the builder calls it.
    pub name: String,
    /// The line that it follows.
    pub line: String,
    /// Depth square to the skin, measured, mm.
    pub moulded_mm: f64,
    /// Width along the skin, measured, mm.
    pub sided_mm: f64,
    /// Species by its name in the wood table.
    pub species: String,
    /// Moisture content, percent of dry weight; not used where `air` is given.
    #[serde(default = "default_moisture")]
    pub moisture_pct: f64,
    /// The air in which the wood has lain for a month or more, which tells its moisture.
    #[serde(default)]
    pub air: Option<Air>,
    /// What was picked from the rack.
    #[serde(default)]
    pub stock: Stock,
    /// How it would be soaked, if it has to be.
    #[serde(default)]
    pub soak: Soak,
    /// Inside or outside the skin.
    #[serde(default)]
    pub side: MemberSide,
    /// It must carry load, so weakening it by kerfs is warned of.
    #[serde(default = "yes")]
    pub carries_load: bool,
    /// A bend test of the builder's own stick: its stiffness replaces the handbook's, and its
    /// strength is judged by it.
    #[serde(default)]
    pub stick_test: Option<StickTest>,
}

impl Member {
    /// Moisture of its wood, percent of dry weight: as told, or what `air` brings it to.
    pub fn moisture(&self) -> f64 {
        self.air.map_or(self.moisture_pct, |a| {
            equilibrium_moisture(a.temperature_c, a.humidity_pct).max(LEAST_MOISTURE_PCT)
        })
    }

    /// A usual stick along a line of `hull`, with a name that none of her members has: of the
    /// section and wood of another there, or 19 by 38 mm of the frames' species.
    pub fn along(line: LineId, side: MemberSide, hull: &Hull) -> Member {
        let name = match (line, side) {
            (LineId::Keel, MemberSide::Inside) => "keelson".to_string(),
            (LineId::Sheer, MemberSide::Inside) => "sheer clamp".into(),
            (LineId::Sheer, MemberSide::Outside) => "rub rail".into(),
            (LineId::Chine, MemberSide::Inside) => "chine log".into(),
            (LineId::NthChine(n), MemberSide::Inside) => format!("chine log-{n}"),
            (l, MemberSide::Inside) => format!("stringer at the {l}"),
            (l, MemberSide::Outside) => format!("outer {l}"),
        };
        let taken = |n: &str| hull.members.iter().any(|m| m.name == n);
        let free = (2..).map(|k| format!("{name} {k}")).find(|n| !taken(n));
        let name = if taken(&name) { free.unwrap_or(name) } else { name };
        let like = hull.members.iter().find(|m| m.follows(line)).or(hull.members.first());
        let section = like.map_or((19.0, 38.0), |m| (m.moulded_mm, m.sided_mm));
        let species = like.map_or(hull.framing.species.as_str(), |m| m.species.as_str());
        Member::plain((&name, line, side), section, species)
    }

    /// A stick of a section (moulded and sided, mm) and a species along a line, of yard stock
    /// that is dry and was never tested; inside the skin it carries load.
    fn plain(
        (name, line, side): (&str, LineId, MemberSide),
        (moulded_mm, sided_mm): (f64, f64),
        species: &str,
    ) -> Member {
        Member {
            name: name.into(),
            line: line.to_string(),
            moulded_mm,
            sided_mm,
            species: species.into(),
            moisture_pct: default_moisture(),
            air: None,
            stock: Stock::default(),
            soak: Soak::default(),
            side,
            carries_load: side == MemberSide::Inside,
            stick_test: None,
        }
    }

    /// Whether it lies along this line.
    pub fn follows(&self, id: LineId) -> bool {
        id.is(&self.line)
    }

    /// How many sticks the boat needs of it: one on the centreline, else port and starboard.
    pub fn sticks(&self) -> u32 {
        if self.follows(LineId::Keel) { 1 } else { 2 }
    }
}

/// Driest wood that is computed with, percent: a heated room in frost, or a desert's shade.
pub const LEAST_MOISTURE_PCT: f64 = 3.0;
/// Wettest, percent: beyond the moisture at which any species stops changing.
pub const GREATEST_MOISTURE_PCT: f64 = 40.0;

/// Air in which wood lies.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Air {
    /// Its temperature, °C.
    pub temperature_c: f64,
    /// Its relative humidity, percent.
    pub humidity_pct: f64,
}

/// What stock a stick is sawn from: which figures of strength it may be judged by.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub enum Stock {
    /// Clear and straight-grained: no knot, and grain that runs out less than 1 in 20.
    Clear,
    /// From a yard's rack, without knots where it bends; its grain runs out 1 in this many.
    Graded {
        /// Length over run-out.
        one_in: f64,
    },
}

impl Default for Stock {
    /// The steepest grain that is still picked for bending: 1 in 15, after Peck, *Wood Bending
    /// in Ship Building*, Forest Products Laboratory R1430 (1943), as read from a poor scan.
    fn default() -> Stock {
        Stock::Graded { one_in: 15.0 }
    }
}

/// A soak in hot water before bending.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Soak {
    /// Temperature of the water at the wood, °C.
    pub water_c: f64,
    /// How long, hours.
    pub hours: f64,
}

impl Default for Soak {
    /// An hour in towels over which water off the boil is poured: some 80 °C at the wood.
    /// Our judgement.
    fn default() -> Soak {
        Soak { water_c: 80.0, hours: 1.0 }
    }
}

/// A three-point bend of a real stick: rested on two supports, a weight hung at the middle.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct StickTest {
    /// Between the supports, mm.
    pub span_mm: f64,
    /// Width of the stick, level, mm.
    pub width_mm: f64,
    /// Depth of the stick, upright, mm.
    pub depth_mm: f64,
    /// Weight hung at the middle, kg.
    pub weight_kg: f64,
    /// How much further the middle sagged when the weight was hung, mm.
    pub sag_mm: f64,
}

fn default_moisture() -> f64 {
    12.0
}

fn yes() -> bool {
    true
}

/// The members of a plain skiff; each follows its line if the hull has that line.
pub fn default_members() -> Vec<Member> {
    let member = |name: &str, line: LineId, moulded_mm: f64, sided_mm: f64, side: MemberSide| {
        Member::plain((name, line, side), (moulded_mm, sided_mm), "Douglas-fir")
    };
    vec![
        member("keelson", LineId::Keel, 19.0, 89.0, MemberSide::Inside),
        member("chine log", LineId::Chine, 19.0, 38.0, MemberSide::Inside),
        member("sheer clamp", LineId::Sheer, 19.0, 38.0, MemberSide::Inside),
        member("rub rail", LineId::Sheer, 19.0, 32.0, MemberSide::Outside),
    ]
}
