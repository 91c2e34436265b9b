//! What a pass computed, and did not take over from the model before.
//!
//! Each stage says by plain comparison whether all that it reads is as it was. What is shared
//! (`Arc`) and the same thing is not looked into; what is a number that is none is never the
//! same, and is computed again.

/// How often each stage was computed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Recomputed {
    /// Sets of lines as splines.
    pub lines: usize,
    /// Panels cut out of the surface between their lines and laid flat.
    pub panels: usize,
    /// Panels whose sheet was judged.
    pub sheets: usize,
    /// Laps along all lines.
    pub laps: usize,
    /// Members bent, judged and seated.
    pub members: usize,
    /// Sets of battens.
    pub battens: usize,
    /// Sets of frames sawn.
    pub frames: usize,
    /// Transoms, stems, knee and strongback.
    pub ends: usize,
    /// Meshes to float on.
    pub float_meshes: usize,
    /// Load cases, the swamped ones aside.
    pub cases: usize,
    /// Righting curves.
    pub righting: usize,
    /// Tables over drafts.
    pub drafts: usize,
    /// Sets of steps aft.
    pub steps: usize,
    /// List tests.
    pub lists: usize,
    /// The boat full of water: her solids and how they float.
    pub swamped: usize,
    /// Tables of speeds.
    pub speeds: usize,
    /// Waterlines marked.
    pub marks: usize,
}
