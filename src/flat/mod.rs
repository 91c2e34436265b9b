//! Panels laid flat at full size.
//!
//! [`develop`] lays a surface's rulings into the plane strip by strip, keeping every
//! length; [`outline`] makes the cut and finished edges of it, [`marks`] the lines that a
//! builder wants on the board before it leaves the bench, [`laps`] what edges that cover
//! others add, [`outside`] where the outer faces meet, [`past_post`] what the ends at a stem add, [`sound`] whether
//! anything may be cut by it, [`unfold`] shows the sheet on its
//! way between hull and floor, [`error`] says how far off the
//! whole may be. [`ordinates`] lays any part on a base line to be plotted with a tape, by
//! its [`corners`] and by marks through which a [`batten`] is sprung.

pub mod batten;
mod choice;
pub mod corners;
pub mod develop;
pub mod error;
pub mod laps;
pub mod marks;
mod moved_edge;
pub mod ordinates;
pub mod outline;
pub mod outside;
pub mod past_post;
pub mod sound;
pub mod unfold;

pub use develop::{FlatPanel, FlatRuling, develop};
