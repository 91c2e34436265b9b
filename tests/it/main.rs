//! Everything that is tested from outside the crate, in one program (each test program
//! links the whole engine).

mod bends;
mod patterns;
mod reference;
