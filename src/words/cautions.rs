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

/// Beside glues that set with formaldehyde.
pub const FORMALDEHYDE: &str = "Resin glue gives off formaldehyde while it is mixed and sets: gloves, fresh air, no dust of the dry powder or hardener; the maker's sheet goes first.";
/// Beside glues that set with isocyanate.
pub const ISOCYANATE: &str = "Polyurethane holds isocyanate: off the skin, fresh air, and never again for who is allergic to it; it skins over and then holds nothing; the maker's sheet goes first.";
/// Beside paint.
pub const PAINT: &str = "Paint: solvent harms and burns: fresh air, no flame or spark, rags laid out flat to dry; the maker's sheet goes first.";
/// Beside antifouling.
pub const ANTIFOULING: &str = "Antifouling is poison: gloves, sand it wet and keep the dust, and ask whether your water allows it.";

/// The caution beside a glue of that name.
pub fn beside_glue(name: &str) -> &'static str {
    match name {
        n if n.contains("epoxy") => EPOXY,
        n if n.contains("polyurethane") => ISOCYANATE,
        n if n.contains("resorcinol") || n.contains("plastic resin") => FORMALDEHYDE,
        _ => GLUE,
    }
}

/// The cautions beside stores of these names, each once.
pub fn beside_stores<'a>(names: impl Iterator<Item = &'a str> + Clone) -> Vec<&'static str> {
    let any = |word: &str| names.clone().any(|n| n.contains(word));
    let paint = any("paint") || any("primer");
    [(paint, PAINT), (any("antifouling"), ANTIFOULING)]
        .into_iter()
        .filter_map(|(there, words)| there.then_some(words))
        .collect()
}
