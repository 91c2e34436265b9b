//! What the builder decides about frames, transom, stem and the motor that hangs there.
//!
//! Lengths are mm. Board widths are measured ones, whatever the yard calls them.

use serde::{Deserialize, Serialize};

use super::battens::Battens;

/// Where stations stand and what the frames on them are made of.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct Framing {
    /// Stations as distances aft, mm. Empty: evenly, by `count` or `spacing_mm`.
    pub stations_mm: Vec<f64>,
    /// How many evenly set stations; 0 sets them `spacing_mm` apart or less.
    pub count: usize,
    /// Greatest spacing of evenly set stations, mm.
    pub spacing_mm: f64,
    /// Thickness of the frames' lumber, fore and aft, mm.
    pub sided_mm: f64,
    /// Least depth of a bottom piece (floor timber), square to its edge, mm.
    pub bottom_depth_mm: f64,
    /// Least depth of a side piece, mm.
    pub side_depth_mm: f64,
    /// Widths of boards that the builder can get, mm.
    pub widths_mm: Vec<f64>,
    /// Species by its name in the wood table.
    pub species: String,
    /// Whether edges follow the skin or are left straight.
    pub edges: Edges,
    /// Panels along which edges are left straight whatever `edges` says.
    pub straight: Vec<String>,
    /// How pieces are joined at the chines.
    pub joint: Joint,
    /// Thickness of the plywood gussets, mm.
    pub gusset_mm: f64,
    /// Thickness of the cross-spalls that hold the frames while setting up, mm.
    pub spall_thickness_mm: f64,
    /// Width of the cross-spalls, mm.
    pub spall_width_mm: f64,
    /// Room left around a member in its notch, on each side, mm.
    pub notch_clearance_mm: f64,
    /// Radius of the limber holes, mm; 0 leaves them out.
    pub limber_mm: f64,
    /// Fall of a flat bottom from the sides to the keelson, so that water runs there: 1/14
    /// is 1 in over 14 in. 0 leaves the bottom flat.
    pub drain_slope: f64,
    /// The same as a wedge of one height under every frame, instead of one slope.
    pub drain_wedge: Option<DrainWedge>,
    /// Grooves in the boards' faces where they are glued to gussets or to each other.
    pub glue_groove: Option<GlueGroove>,
    /// Battens inside the bottom; none unless asked for.
    pub battens: Option<Battens>,
    /// Frames that differ.
    pub frames: Vec<FrameChoice>,
}

impl Default for Framing {
    fn default() -> Self {
        Framing {
            stations_mm: Vec::new(),
            count: 0,
            spacing_mm: 600.0,
            sided_mm: 19.0,
            bottom_depth_mm: 60.0,
            side_depth_mm: 42.0,
            // Dressed widths of 1x2 to 1x12 boards: American Softwood Lumber Standard
            // PS 20 (from memory).
            widths_mm: vec![38.0, 64.0, 89.0, 114.0, 140.0, 184.0, 235.0, 286.0],
            species: "Douglas-fir".into(),
            edges: Edges::Shaped,
            straight: Vec::new(),
            joint: Joint::Gusset,
            gusset_mm: 6.0,
            spall_thickness_mm: 19.0,
            spall_width_mm: 89.0,
            notch_clearance_mm: 1.0,
            limber_mm: 12.0,
            drain_slope: 0.0,
            drain_wedge: None,
            glue_groove: None,
            battens: None,
            frames: Vec::new(),
        }
    }
}

impl Framing {
    /// The stations of a hull that reaches from `fore` to `aft` (mm): those given, or evenly
    /// set ones strictly inside it.
    pub fn stations(&self, (fore, aft): (f64, f64)) -> Vec<f64> {
        if !self.stations_mm.is_empty() {
            return self.stations_mm.clone();
        }
        let length = aft - fore;
        let bays = match self.count {
            0 => (length / self.spacing_mm).ceil().max(1.0),
            n => n as f64 + 1.0,
        };
        (1..bays as usize).map(|i| fore + length * i as f64 / bays).collect()
    }

    /// What the builder chose for the frame on station `station`, counted from 1.
    pub fn choice(&self, station: usize) -> Option<&FrameChoice> {
        self.frames.iter().find(|f| f.station == station)
    }

    /// Whether the frame on station `station` has its edge along `panel` shaped or straight.
    pub fn edge_of(&self, station: usize, panel: &str) -> Edges {
        let named = |all: &[String]| all.iter().any(|p| p == panel);
        match self.choice(station) {
            Some(c) if named(&c.straight) => Edges::Straight,
            Some(FrameChoice { edges: Some(edges), .. }) => *edges,
            _ if named(&self.straight) => Edges::Straight,
            _ => self.edges,
        }
    }
}

/// What a frame's edge does where the skin is not straight.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
pub enum Edges {
    /// Sawn to the skin's true curve.
    #[default]
    Shaped,
    /// Left straight from knuckle to knuckle; the gap is accepted.
    Straight,
}

/// How a frame's pieces are joined.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
pub enum Joint {
    /// Butted in one plane under plywood gussets on both faces.
    #[default]
    Gusset,
    /// The sides lie on the face of the bottom piece.
    Lap,
}

/// Which way a face looks.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub enum Face {
    /// Towards the bow.
    Fore,
    /// Towards the stern.
    Aft,
}

impl Face {
    /// The word in files and on drawings.
    pub fn word(self) -> &'static str {
        match self {
            Face::Fore => "fore",
            Face::Aft => "aft",
        }
    }

    /// The direction in which it looks along x.
    pub fn sign(self) -> f64 {
        match self {
            Face::Fore => -1.0,
            Face::Aft => 1.0,
        }
    }
}

/// A wedge under a flat bottom's frames that lets it fall to the keelson.
///
/// Where the bottom is well over `length_mm` to a side it falls by the whole height, so that
/// the keelson runs level with the chines; in the narrower ends it falls by the wedge's own
/// slope, and by less and less to nothing at a stem.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct DrainWedge {
    /// At the keelson, mm.
    pub height_mm: f64,
    /// From the keelson to its thin end, mm.
    pub length_mm: f64,
}

impl DrainWedge {
    /// The wedge's slope: the most by which the bottom falls.
    pub fn slope(self) -> f64 {
        self.height_mm / self.length_mm
    }

    /// How far the bottom falls from a chine at half-breadth `y` mm to the keelson, mm: y
    /// times the slope near the stem, the height where it is wide. Between the two it passes
    /// without a corner, as a sheet of plywood does: y h / (y⁴ + l⁴)^¼.
    pub fn drop(self, y: f64) -> f64 {
        let blend = (y.powi(4) + self.length_mm.powi(4)).sqrt().sqrt();
        self.height_mm * y / blend
    }
}

/// A groove in a face that is glued.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct GlueGroove {
    /// Across it, mm.
    pub width_mm: f64,
    /// Into the face, mm.
    pub depth_mm: f64,
}

/// One frame that differs from the rest.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct FrameChoice {
    /// Its station, counted from 1 at the bow.
    pub station: usize,
    /// The face that stands on the station's plane, instead of the larger one.
    #[serde(default)]
    pub face: Option<Face>,
    /// All its edges.
    #[serde(default)]
    pub edges: Option<Edges>,
    /// Panels along which its edges are left straight.
    #[serde(default)]
    pub straight: Vec<String>,
}

/// A transom: at the stern, and at the bow of a pram.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct TransomPlan {
    /// Thickness of the transom's board, mm.
    pub thickness_mm: f64,
    /// Width of the framing inside its edges, mm.
    pub framing_width_mm: f64,
    /// Thickness of that framing, fore and aft, mm.
    pub framing_thickness_mm: f64,
    /// How far its top edge is crowned above the sheers, mm.
    pub crown_mm: f64,
    /// The knee behind a motor.
    pub knee: KneePlan,
}

impl Default for TransomPlan {
    fn default() -> Self {
        TransomPlan {
            thickness_mm: 18.0,
            framing_width_mm: 64.0,
            framing_thickness_mm: 19.0,
            crown_mm: 0.0,
            knee: KneePlan::default(),
        }
    }
}

/// The knee that stands on the keelson behind a motor's transom.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct KneePlan {
    /// Whether there is one; only a transom with a motor has it.
    pub fitted: bool,
    /// Its width athwartships, mm.
    pub sided_mm: f64,
    /// Length of its arm on the keelson, mm; 0 makes it to its height.
    pub arm_mm: f64,
}

impl Default for KneePlan {
    fn default() -> Self {
        KneePlan { fitted: true, sided_mm: 38.0, arm_mm: 0.0 }
    }
}

/// How the sides end at the stem.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
pub enum StemSides {
    /// They run past it and are planed with it to a flat, which an outer stem covers.
    #[default]
    RunPast,
    /// They meet in a mitre ahead of it; there is no outer stem.
    Mitred,
}

impl StemSides {
    /// Both ways.
    pub const ALL: [StemSides; 2] = [StemSides::RunPast, StemSides::Mitred];

    /// In words.
    pub fn word(self) -> &'static str {
        match self {
            StemSides::RunPast => "run past, outer stem",
            StemSides::Mitred => "mitred",
        }
    }
}

/// The inner stem that the sides are fastened to, and how they end there.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct StemPlan {
    /// Its width athwartships, mm.
    pub sided_mm: f64,
    /// Its depth, square to its profile, mm.
    pub moulded_mm: f64,
    /// Left on above the sheer, to be trimmed, mm.
    pub over_mm: f64,
    /// How the sides end there.
    pub sides: StemSides,
    /// Width of the outer stem at its back, and of the flat that it is glued on, mm.
    pub outer_sided_mm: f64,
    /// Depth of the outer stem, square to the flat, mm.
    pub outer_moulded_mm: f64,
    /// Width to which its front is bevelled, mm.
    pub outer_front_mm: f64,
}

impl Default for StemPlan {
    fn default() -> Self {
        StemPlan {
            sided_mm: 38.0,
            moulded_mm: 89.0,
            over_mm: 50.0,
            sides: StemSides::RunPast,
            // Common practice, no source: a board on the flat, its nose wide enough for a
            // strip of half-round.
            outer_sided_mm: 25.0,
            outer_moulded_mm: 19.0,
            outer_front_mm: 12.0,
        }
    }
}

/// The nominal length of an outboard's leg.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Default, Serialize, Deserialize)]
pub enum Shaft {
    /// 15 in.
    #[default]
    Short,
    /// 20 in.
    Long,
    /// 25 in.
    ExtraLong,
}

impl Shaft {
    /// All of them.
    pub const ALL: [Shaft; 3] = [Shaft::Short, Shaft::Long, Shaft::ExtraLong];

    /// From the clamp's seat to the anti-ventilation (cavitation) plate, mm: nominal 15, 20
    /// and 25 in, as motor dealers' tables have them (from memory).
    pub fn length(self) -> f64 {
        match self {
            Shaft::Short => 381.0,
            Shaft::Long => 508.0,
            Shaft::ExtraLong => 635.0,
        }
    }

    /// In words.
    pub fn word(self) -> &'static str {
        match self {
            Shaft::Short => "short (15 in)",
            Shaft::Long => "long (20 in)",
            Shaft::ExtraLong => "extra-long (25 in)",
        }
    }
}

/// The outboard that the transom is cut for.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct Motor {
    /// Whether there is one.
    pub fitted: bool,
    /// Its leg.
    pub shaft: Shaft,
    /// Rated power at the propeller's shaft, horsepower (745.7 W).
    pub power_hp: f64,
    /// Steered from a wheel, not by a tiller.
    pub remote_steering: bool,
    /// Width of the cut-out in the transom's top, mm.
    pub cut_out_mm: f64,
    /// How far the plate is to lie above the bottom at the keel, mm.
    pub plate_above_mm: f64,
    /// Thickness that its clamps want to hold, mm.
    pub clamped_mm: f64,
    /// Width of the clamps' pad, mm.
    pub pad_width_mm: f64,
    /// Least depth of the pad below the seat, mm; it goes on down to the framing.
    pub pad_depth_mm: f64,
}

impl Default for Motor {
    fn default() -> Self {
        Motor {
            fitted: true,
            shaft: Shaft::Short,
            power_hp: 6.0,
            remote_steering: false,
            cut_out_mm: 420.0,
            plate_above_mm: 0.0,
            // Common practice, no source: small motors clamp 35 to 50 mm.
            clamped_mm: 42.0,
            pad_width_mm: 300.0,
            pad_depth_mm: 200.0,
        }
    }
}
