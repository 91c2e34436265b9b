//! What do I buy, and how do I cut it?
//!
//! [`nest`] lays parts on sheets, [`joints`] splits panels that are longer or wider than a sheet, [`lumber`] cuts sticks out
//! of lengths that can be had, [`stores`] counts what is bought that is not wood, and [`glue`]
//! says what a glue bears. Each is a pure function of plain inputs.

pub mod glue;
pub mod joints;
pub mod lumber;
pub mod nest;
pub mod stores;
