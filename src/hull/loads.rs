//! What the builder decides about the boat afloat: the water, what is aboard and where,
//! what was weighed.

use serde::{Deserialize, Serialize};

use crate::part::CaseId;

/// What a load is, as far as load cases ask.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
pub enum LoadKind {
    /// Someone.
    Person,
    /// The outboard.
    Motor,
    /// Fuel with its tank.
    Fuel,
    /// A battery.
    Battery,
    /// Anything else.
    #[default]
    Gear,
}

impl LoadKind {
    /// All of them.
    pub const ALL: [LoadKind; 5] =
        [LoadKind::Person, LoadKind::Motor, LoadKind::Fuel, LoadKind::Battery, LoadKind::Gear];

    /// In words.
    pub fn word(self) -> &'static str {
        match self {
            LoadKind::Person => "person",
            LoadKind::Motor => "motor",
            LoadKind::Fuel => "fuel",
            LoadKind::Battery => "battery",
            LoadKind::Gear => "gear",
        }
    }
}

/// Something aboard.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Load {
    /// What the builder calls it.
    pub name: String,
    /// What it is.
    #[serde(default)]
    pub kind: LoadKind,
    /// kg.
    pub mass_kg: f64,
    /// Its centre: aft, to starboard, up, mm.
    pub x: f64,
    /// To starboard of the centreplane, mm; less than nothing is to port.
    #[serde(default)]
    pub y: f64,
    /// Above the baseline, mm.
    pub z: f64,
}

/// An item of the hull that was weighed, instead of computed.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Weighed {
    /// The item's name in the list of masses, or `hull` for all of it.
    pub item: String,
    /// kg.
    pub mass_kg: f64,
}

/// A block of flotation foam, its edges along the axes, mm.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Foam {
    /// Where it is: "under the after thwart".
    pub name: String,
    /// One corner: aft, to starboard, up.
    pub from: [f64; 3],
    /// The corner across from it.
    pub to: [f64; 3],
    /// There is another to port.
    #[serde(default)]
    pub both_sides: bool,
    /// kg/m³.
    #[serde(default = "foam_density")]
    pub density_kg_m3: f64,
    /// Thickness of the ply that boxes it in, mm; 0 for foam without a box.
    #[serde(default = "box_ply")]
    pub box_ply_mm: f64,
}

/// Two pounds a cubic foot, the usual flotation foam. Common practice, no source.
pub const FOAM_KG_M3: f64 = 32.0;

fn foam_density() -> f64 {
    FOAM_KG_M3
}

/// Foam is shut in under seats and decks of thin ply, mm. Common practice, no source.
pub const BOX_PLY_MM: f64 = 6.0;

fn box_ply() -> f64 {
    BOX_PLY_MM
}

impl Foam {
    /// Volume of all of it, mm³.
    pub fn volume(&self) -> f64 {
        let one: f64 = (0..3).map(|i| (self.to[i] - self.from[i]).abs()).product();
        if self.both_sides { 2.0 * one } else { one }
    }

    /// Volume of the ply of its boxes, mm³: five faces of each block, the sixth and largest
    /// being the hull's own skin. Our judgement; no source.
    pub fn box_volume(&self) -> f64 {
        let [a, b, c] = [0, 1, 2].map(|i| (self.to[i] - self.from[i]).abs());
        let faces = [a * b, b * c, c * a];
        let five = 2.0 * faces.iter().sum::<f64>() - faces.into_iter().fold(0.0, f64::max);
        let one = five * self.box_ply_mm;
        if self.both_sides { 2.0 * one } else { one }
    }

    /// Volume that lies in both this and `other`, mm³.
    pub fn shared(&self, other: &Foam) -> f64 {
        let blocks = |f: &Foam| {
            let mirrored = |[x, y, z]: [f64; 3]| [x, -y, z];
            let other_side = f.both_sides.then_some((mirrored(f.from), mirrored(f.to)));
            [Some((f.from, f.to)), other_side].into_iter().flatten().collect::<Vec<_>>()
        };
        let common = |(a, b): ([f64; 3], [f64; 3]), (c, d): ([f64; 3], [f64; 3])| -> f64 {
            (0..3)
                .map(|i| {
                    (a[i].max(b[i]).min(c[i].max(d[i])) - a[i].min(b[i]).max(c[i].min(d[i])))
                        .max(0.0)
                })
                .product()
        };
        blocks(self)
            .into_iter()
            .flat_map(|p| blocks(other).into_iter().map(move |q| common(p, q)))
            .sum()
    }
}

/// With whom aboard the waterline is marked.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
pub enum MarkedWith {
    /// Nothing and nobody.
    Empty,
    /// The builder alone, motor and gear aboard.
    BuilderAlone,
    /// Everyone.
    #[default]
    FullCrew,
}

impl MarkedWith {
    /// All of them.
    pub const ALL: [MarkedWith; 3] =
        [MarkedWith::Empty, MarkedWith::BuilderAlone, MarkedWith::FullCrew];

    /// The load case that it is.
    pub fn case(self) -> CaseId {
        match self {
            MarkedWith::Empty => CaseId::Empty,
            MarkedWith::BuilderAlone => CaseId::Alone,
            MarkedWith::FullCrew => CaseId::Full,
        }
    }

    /// In words, as the load case is called.
    pub fn word(self) -> &'static str {
        self.case().name()
    }
}

/// The waterline that is drawn on panels and frames.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct WaterlineMark {
    /// The load.
    pub with: MarkedWith,
    /// Parallel to the baseline at the same displacement, instead of as she floats.
    pub parallel: bool,
    /// Height of the boot-top's upper edge above it, square to the water, mm; 0 leaves it out.
    pub boot_top_mm: f64,
}

impl Default for WaterlineMark {
    fn default() -> Self {
        WaterlineMark { with: MarkedWith::FullCrew, parallel: false, boot_top_mm: 50.0 }
    }
}

/// The boat afloat.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct AfloatPlan {
    /// Salt water instead of fresh.
    pub salt: bool,
    /// Added to the computed mass of the hull, percent: thwarts, knees, oars and what else no
    /// list here counts, and boats come out heavy. Our judgement.
    pub margin_pct: f64,
    /// Glass cloth over the outside, g/m²; 0 leaves it out.
    pub cloth_g_m2: f64,
    /// Coats of paint or varnish, inside and out.
    pub coats: u32,
    /// What is aboard; empty is a builder, a passenger, motor, fuel and gear at their usual
    /// places.
    pub loads: Vec<Load>,
    /// What was weighed.
    pub weighed: Vec<Weighed>,
    /// Foam built in.
    pub foam: Vec<Foam>,
    /// The waterline that is marked.
    pub waterline: WaterlineMark,
}

impl Default for AfloatPlan {
    fn default() -> Self {
        AfloatPlan {
            salt: false,
            margin_pct: 10.0,
            cloth_g_m2: 200.0,
            coats: 3,
            loads: Vec::new(),
            weighed: Vec::new(),
            foam: Vec::new(),
            waterline: WaterlineMark::default(),
        }
    }
}

impl AfloatPlan {
    /// Density of the water, kg/m³: 1000 fresh, 1025 salt (Barrass and Derrett, *Ship
    /// Stability for Masters and Mates*).
    pub fn density(&self) -> f64 {
        if self.salt { 1025.0 } else { 1000.0 }
    }
}
