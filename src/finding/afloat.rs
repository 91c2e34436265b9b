//! Will she float right? What there is to say of her in calm water and at speed.

use crate::float::power::NoFigure;

/// What is the matter with how she floats. Heel is to starboard, trim by the stern; both in
/// radians where nothing else is said.
#[derive(Debug, Clone, PartialEq)]
pub enum AfloatFact {
    /// Her lines enclose no space, but these litres.
    NoSpace(f64),
    /// Her figures may be off by this share.
    Inexact(f64),
    /// She does not come to rest.
    Lost {
        /// With this in all.
        mass: f64,
        /// She goes under; otherwise she turns over.
        sinks: bool,
    },
    /// Water comes in.
    WaterIn {
        /// In the motor's cut-out; otherwise over the sheer.
        cut_out: bool,
        /// Where, mm aft.
        at: f64,
        /// How far that is below the water.
        under: f64,
    },
    /// She does not stand upright by herself.
    Lolls {
        /// Metacentric height, held upright.
        gm: f64,
        /// How far she lies over.
        heel: f64,
    },
    /// She lists with the loads where they are.
    Lists(f64),
    /// She trims.
    Trims {
        /// By so much.
        trim: f64,
        /// The step of one load that changes it the most: its name, how far, and by how much.
        step: Option<(String, f64, f64)>,
    },
    /// She heels with everyone on one side.
    Heels {
        /// By so much.
        heel: f64,
        /// How far from flooding.
        freeboard: f64,
        /// What the standard for boats of her length would allow.
        standard: Option<f64>,
    },
    /// With everyone on one side she takes water in, or is lost.
    CrewTooMuch {
        /// How she is lost: she goes under (or turns over); `None` where water comes in.
        sinks: Option<bool>,
    },
    /// No planing speeds are given.
    NoPlaning {
        /// Why.
        why: NoFigure,
        /// Speed (knots) up to which she floats.
        hull_speed: f64,
        /// What was told for her motor by other hulls' tests, knots, where that is more.
        with_motor: Option<f64>,
    },
    /// There are no figures between two speeds, knots.
    NoHump {
        /// Why.
        why: NoFigure,
        /// The lower.
        from: f64,
        /// The higher.
        to: f64,
    },
    /// From a speed (knots) on she is past the porpoising chart.
    PastPorpoising(f64),
    /// She runs near to where she may porpoise.
    NearPorpoising {
        /// Speed, knots.
        speed: f64,
        /// Her trim then, degrees.
        trim: f64,
        /// The chart's, degrees.
        limit: f64,
    },
}
