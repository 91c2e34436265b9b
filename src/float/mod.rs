//! Will she float right? What lies under water, how she comes to rest, how hard she comes
//! back from a heel, what the public rule lets her carry, and how she planes.
//!
//! [`volume`] is the exact arithmetic of a closed mesh under a plane of water;
//! [`body`] the same for many planes; [`mass`] weighs the hull;
//! [`equilibrium`] finds sinkage, trim and heel; [`curves`] the table over drafts;
//! [`righting`] the arm over heel with trim free; [`list`] the list test; [`swamped`] the
//! boat full of water; [`flotation`] the foam that the rule asks for; [`capacity`] the
//! safe-loading rule, line by line, with the weights of [`motors`]; [`power`] speed against
//! power: [`rules`] while she floats, tank tests over the [`hump`], planing by [`planing`],
//! air and leg in [`parasitic`], the rows in [`speed_table`]. All of it is indicative: local
//! law and licensed practice decide.

pub mod blocks;
pub mod body;
pub mod capacity;
pub mod curves;
pub mod equilibrium;
pub mod flotation;
pub mod hump;
pub mod list;
pub mod mass;
pub mod motors;
pub mod painted;
pub mod parasitic;
pub mod planing;
pub mod power;
pub mod righting;
pub mod rules;
pub mod speed_table;
pub mod swamped;
pub mod volume;
pub mod working;
