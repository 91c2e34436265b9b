//! What hurts people at the bench, a line each. The maker's own sheet goes before all of it.
//! Common practice, no source.

/// Beside saws.
pub const SAW: &str = "Saws: support the sheet along the whole cut: a saw that binds kicks back; its own instructions go first.";
/// Beside sheets that are sawn and faired.
pub const DUST: &str = "Dust of plywood and of fairing compound: suction, and a mask (P2, N95); the makers' sheets go first.";
/// Beside epoxy.
pub const EPOXY: &str = "Epoxy: off the skin, its vapour out of the lungs; a full pot heats till it smokes; the maker's sheet goes first.";
/// Beside any other glue.
pub const GLUE: &str = "Glue: gloves and fresh air; nothing holds once it has skinned over; the maker's sheet goes first.";

/// The caution beside a glue of that name.
pub fn beside_glue(name: &str) -> &'static str {
    if name.contains("epoxy") { EPOXY } else { GLUE }
}
