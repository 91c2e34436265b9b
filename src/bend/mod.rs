//! Will the wood take its bend? Curvature to strain to advice, for members and sheets.
//!
//! [`darboux`] splits a line's bending into what bends a member's moulded depth, its sided
//! width, and what twists it; [`strain`] turns these into the strain of the worst fibre;
//! [`member`] compares that with what the species bears; [`advice`] is the ladder from dry
//! to laminated, with numbers on every rung; [`sheet`] does the same for plywood, and
//! [`stick`] lets a builder test their own stick.

pub mod advice;
pub mod darboux;
pub mod member;
pub mod sheet;
pub mod stick;
pub mod strain;

pub use advice::{Advice, Figure, Method, Rung};
pub use member::{Along, BentMember};
pub use sheet::{SheetBend, SheetOption};
