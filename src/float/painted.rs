//! How much of her is painted: one figure for what paint weighs and how much is bought.

use crate::part::{Amount, CutFrom, Part};

/// What is painted, mm².
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Painted {
    /// The skin's outside.
    pub outside: f64,
    /// Its inside, and both faces of frames' boards, gussets and transoms.
    pub inside: f64,
}

impl Painted {
    /// Of these parts; sticks that are bent in are reckoned with the skin that they lie on.
    pub fn of(parts: &[Part]) -> Painted {
        let mut out = Painted::default();
        for p in parts.iter().filter(|p| !p.id.of_jig() && !p.id.of_foam()) {
            let Amount::Area(area) = p.amount else {
                continue;
            };
            match p.cut_from {
                CutFrom::Sheet { .. } => {
                    out.outside += area;
                    out.inside += area;
                }
                CutFrom::Ply { .. } | CutFrom::Lumber { .. } => out.inside += 2.0 * area,
                CutFrom::Foam { .. } | CutFrom::Pieces => {}
            }
        }
        out
    }
}
