//! Everything that is tested from outside the crate, in one program (each test program
//! links the whole engine).

mod bends;
mod cli;
mod curves;
mod hulls;
mod layers;
mod meshes;
mod patterns;
mod properties;
mod reference;
mod regressions;
mod trimmed;
#[cfg(feature = "viewer")]
mod window;
