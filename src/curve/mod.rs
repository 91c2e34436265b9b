//! Curves that a batten makes: the spline through ducks, its arc length, its fairness.

mod arc;
mod equations;
mod fairness;
mod spline;

pub use arc::ArcTable;
pub use fairness::{CombTooth, Fairness, View, ViewFairness};
pub use spline::{End, Jet, Spline, SplineError};
