//! Chinewright takes a small plywood boat from its lines to wood.
pub mod bend;
pub mod cli;
pub mod curve;
pub mod drawing;
pub mod finding;
pub mod flat;
pub mod geom;
pub mod hull;
pub mod material;
pub mod model;
pub mod panel;
pub mod tol;
pub mod units;
#[cfg(feature = "viewer")]
pub mod viewer;
