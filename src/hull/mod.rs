//! The hull document: what the builder decides, and nothing that can be computed.
//!
//! [`document`] is the data (with [`framing`], [`jig`], [`lumber`] and [`stock`]), [`read`] brings it in from RON (with the place of every
//! fault), [`check`] says what no boat can be and gives a [`CheckedHull`], [`edit`] changes it, [`dimension`] measures and
//! moves whole lines in a boatbuilder's words, [`offsets`] reads and
//! writes the trade's table of offsets, [`starters`] holds hulls to start from, and
//! [`lines`] makes the splines.

pub mod battens;
pub mod check;
mod checked;
pub mod dimension;
pub mod document;
pub mod edit;
mod edit_error;
pub mod edit_lines;
pub mod framing;
pub mod jig;
pub mod lines;
pub mod loads;
pub mod lumber;
mod mark;
mod matrix_label;
pub mod offsets;
mod offsets_matrix;
mod outside_of;
pub mod read;
pub mod starters;
pub mod stock;
pub mod stock_edits;
mod syntax;
mod table_header;
mod table_rows;
mod table_unit;

pub use battens::Battens;
pub use checked::CheckedHull;
pub use dimension::Dimension;
pub use document::{Duck, EndShape, Hull, Line, LineEnd, PanelPlanking, PatternSurface, Planking};
pub use edit_error::EditError;
pub use framing::{
    DrainWedge, Edges, Face, FrameChoice, Framing, GlueGroove, Joint, KneePlan, Motor, Shaft,
    StemPlan, StemSides, TransomPlan,
};
pub use jig::{Lap, LapAt, Measured, StrongbackPlan};
pub use lines::{HullLine, HullLines};
pub use loads::{AfloatPlan, Foam, Load, LoadKind, MarkedWith, WaterlineMark, Weighed};
pub use lumber::{Air, Member, MemberSide, Soak, StickTest, Stock};
pub use outside_of::OutsideOf;
pub use stock::StockPlan;
