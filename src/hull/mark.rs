//! A short mark by which two states of a boat are told apart on the shop floor.

use super::{Hull, StockPlan};
use crate::units::Units;

/// Characters of a mark: of a million pairs of states two in ten thousand would share one.
const LENGTH: usize = 8;

impl Hull {
    /// The first eight hexadecimal digits of the BLAKE3 hash of all in the document that can
    /// change a part: everything but her name, the builder's notes, the units in which
    /// lengths are written and what the stores cost. What sheets cost chooses among them and
    /// so moves joints.
    pub fn mark(&self) -> String {
        let stock = StockPlan {
            glue: String::new(),
            fastening: String::new(),
            prices: Vec::new(),
            waste: Vec::new(),
            stores: Vec::new(),
            currency: String::new(),
            ..self.stock.clone()
        };
        let (name, notes) = (String::new(), String::new());
        let shaping = Hull { name, notes, units: Units::Mm, stock, ..self.clone() };
        let text = shaping.to_ron().unwrap_or_default();
        blake3::hash(text.as_bytes()).to_hex()[..LENGTH].to_string()
    }
}

#[cfg(test)]
mod tests {
    use crate::hull::starters::STARTERS;
    use crate::units::Units;

    #[test]
    fn what_shapes_a_part_changes_the_mark_and_nothing_else_does() {
        let mut seen: Vec<String> = Vec::new();
        for s in STARTERS {
            let hull = s.hull();
            let mark = hull.mark();
            assert_eq!(mark.len(), 8);
            let mut told = hull.clone();
            told.name.push_str(" II");
            told.notes = "seen by the wardens".into();
            told.units = Units::FeetInchesEighths;
            told.stock.currency = "kr".into();
            assert_eq!(told.mark(), mark);
            let mut other = hull.clone();
            other.lines[0].ducks[1].z += 0.1;
            seen.extend([mark, other.mark()]);
            let mut thicker = hull;
            thicker.planking.thickness_mm += 0.5;
            seen.push(thicker.mark());
        }
        let count = seen.len();
        seen.sort();
        seen.dedup();
        assert_eq!(seen.len(), count);
    }
}
