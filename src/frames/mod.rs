//! Frames, transoms and stems: what the skin asks of the wood under it.
//!
//! [`section`] cuts the moulded surface by a plane across the boat; [`bevel`] says how far
//! an edge departs from square; [`notch`] where members pass; [`pieces`] saws boards to the
//! larger outline of a frame's two faces, [`gusset`] joins them, [`limber`] lets water
//! through all of it, [`fasten`] says where fastenings go and where none may, [`groove`] where glue lies; [`frame`] puts one frame together
//! (its private carpenter saws). [`transom`] and
//! [`stem`] are the ends, [`outer_stem`] what covers the sides' edges, [`bow_joint`] what the
//! stem stands on, [`end_cut`] how logs and clamps end, [`stick_run`] how far every
//! stick runs, [`spacing`] advises on where stations
//! stand by how far the skin is pressed in ([`sag`]).
//!
//! Promised: the pattern of a piece is the larger outline of its two faces, so bevels only
//! remove wood; pieces joined under gussets meet on one line. Not promised: strength. No
//! rule of scantlings is applied; depths and thicknesses are the builder's.

pub mod battens;
pub mod bevel;
pub mod bow_joint;
mod carpenter;
pub mod end_cut;
pub mod fasten;
pub mod frame;
pub mod groove;
pub mod gusset;
pub mod limber;
pub mod motor_load;
pub mod notch;
pub mod outer_stem;
pub mod pieces;
pub mod sag;
pub mod section;
pub mod spacing;
pub mod stem;
pub mod stick_run;
pub mod transom;
pub mod transom_knee;

pub use bevel::BevelAt;
pub use bow_joint::BowJoint;
pub use end_cut::EndCut;
pub use frame::{Frame, Spall};
pub use gusset::Gusset;
pub use limber::Limber;
pub use notch::Notch;
pub use outer_stem::OuterStem;
pub use pieces::Piece;
pub use section::{Across, Section, Skin, SkinPanel};
pub use spacing::Bay;
pub use stem::Stem;
pub use stick_run::{EndsOf, Run};
pub use transom::Transom;
pub use transom_knee::Knee;
