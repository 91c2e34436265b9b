//! Will she float right? What lies under water, how she comes to rest, how hard she comes
//! back from a heel, what the public rule lets her carry, and how she planes.
//!
//! [`volume`] is the exact arithmetic of a closed mesh under a plane of water;
//! [`equilibrium`] finds sinkage, trim and heel; [`curves`] the table over drafts;
//! [`righting`] the arm over heel with trim free; [`capacity`] the safe-loading rule, line
//! by line; [`savitsky`] planing. All of it is indicative: local law and licensed practice
//! decide.

pub mod capacity;
pub mod curves;
pub mod equilibrium;
pub mod righting;
pub mod savitsky;
pub mod volume;
