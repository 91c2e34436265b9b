//! What there is to say of what the document puts aboard.

use crate::geom::P3;

/// What is the matter with a load, with foam or with something weighed.
#[derive(Debug, Clone, PartialEq)]
pub enum AboardFact {
    /// A load lies nowhere near the hull.
    OutsideTheBoat(P3),
    /// Nobody is among the loads.
    Nobody,
    /// What was weighed is far from what was computed.
    WeighedOddly {
        /// On the scales.
        weighed: f64,
        /// Computed.
        computed: f64,
    },
    /// Two loads have one name.
    LoadTwice {
        /// And one weight and place.
        same: bool,
    },
    /// Two blocks of foam have one name.
    FoamTwice,
    /// It was weighed with the whole hull.
    WholeWeighed,
    /// The hull has no such item; those that she has.
    NoSuchItem(Vec<String>),
    /// Two blocks of foam share so many litres.
    FoamShared(f64),
    /// A corner of a block lies outside the skin.
    FoamOutside(P3),
}
