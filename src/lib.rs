//! Chinewright takes a small plywood boat from its lines to wood.
//!
//! # The pass
//! A hull document is computed in one pass, each stage a function from the one before:
//!
//! document → [`hull`] lines → [`panel`] surfaces → [`flat`] patterns → [`bend`] members and
//! sheets → [`model::Model`] with findings → [`drawing`]s, [`report`]s and the
//! [`pack`], as the command line ([`cli`]) or the window (`viewer`, behind the feature of that
//! name) asks for them.
//!
//! # Units and axes
//! `f64` throughout; millimetres, radians, newtons, kilograms. x runs aft from the
//! forward-most point, y to starboard from the centreplane, z up from the baseline. A hull
//! is its starboard half, mirrored. The lines are drawn to the inside of the planking.
//!
//! # Example
//! ```
//! use chinewright::hull::starters;
//! use chinewright::material::Materials;
//! use chinewright::model::derive;
//!
//! let hull = starters::demonstration();
//! let model = derive(&hull, &Materials::shipped()).expect("the demonstration hull");
//! let side = &model.panels[1];
//! // Her sides are developable, and their patterns true to a tenth of a millimetre.
//! assert!(side.quality.greatest_warp.to_degrees() < 0.1);
//! assert!(side.pattern_error < 0.1);
//! ```

pub mod bend;
pub mod book;
pub mod cli;
pub mod curve;
pub mod drawing;
pub mod files;
pub mod finding;
pub mod flat;
pub mod float;
pub mod frames;
pub mod geom;
pub mod hull;
pub mod material;
pub mod mesh_files;
pub mod model;
pub mod pack;
pub mod panel;
pub mod part;
pub mod report;
pub mod screen;
pub mod setup;
pub mod solid;
pub mod stock;
pub mod tol;
pub mod typeset;
pub mod units;
#[cfg(feature = "viewer")]
pub mod viewer;
pub mod words;
