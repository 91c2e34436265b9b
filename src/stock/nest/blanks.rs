//! Outlines made ready once and kept: layouts that are weighed against each other share most of
//! their parts.

use std::collections::HashMap;
use std::sync::Arc;

use geo::Area;
use geo::algorithm::buffer::{Buffer, BufferStyle};

use super::bench::girth;
use super::check::polygon;
use super::form::Blank;
use super::poles::Discs;
use crate::geom::P2;

/// Outlines that layouts were made of, as the search sees them. Given to
/// [`nest_with`](super::nest_with) again and again, it saves making the same outline ready
/// twice; what comes out is the same without it.
#[derive(Debug, Default)]
pub struct Blanks {
    known: HashMap<Key, Arc<Ready>>,
}

/// An outline and half a saw cut, to the last bit.
#[derive(Debug, PartialEq, Eq, Hash)]
struct Key {
    corners: Vec<(u64, u64)>,
    by: u64,
}

/// An outline made ready.
#[derive(Debug, Clone)]
pub(super) struct Ready {
    pub(super) blank: Blank,
    /// Its area with half a saw cut around it, mm²; never more than that: arcs are chords.
    pub(super) area: f64,
}

impl Blanks {
    /// An outline grown by `by` mm, with so many discs.
    pub(super) fn ready(&mut self, outline: &[P2], by: f64, discs: Discs) -> Arc<Ready> {
        let corners = outline.iter().map(|p| (p.x.to_bits(), p.y.to_bits())).collect();
        let known = self.known.entry(Key { corners, by: by.to_bits() }).or_insert_with(|| {
            let (blank, area) = (Blank::grown(outline, by, discs), grown_area(outline, by));
            Arc::new(Ready { blank, area })
        });
        if !known.blank.has(discs) {
            Arc::make_mut(known).blank.fill(discs);
        }
        known.clone()
    }
}

fn grown_area(ring: &[P2], by: f64) -> f64 {
    let own = polygon(ring).unsigned_area();
    if by == 0.0 {
        return own;
    }
    let style = BufferStyle::new(by);
    let grown = polygon(ring).buffer_with_style(style).unsigned_area();
    // A ring's band is never wider than its length times half the cut and the corners' disc.
    grown.min(own + by * girth(ring) + std::f64::consts::PI * by * by)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A square of 100 grown by 1.5: four bands, and no more than a disc at the corners.
    #[test]
    fn the_grown_area_is_that_of_bands_and_corners() {
        let square: Vec<P2> = [(0.0, 0.0), (100.0, 0.0), (100.0, 100.0), (0.0, 100.0)]
            .map(|(x, y)| P2::new(x, y))
            .to_vec();
        let bands = 10_000.0 + 4.0 * 150.0;
        let area = grown_area(&square, 1.5);
        assert!(area > bands && area <= bands + std::f64::consts::PI * 2.25, "{area}");
    }

    /// Asked for few discs first and for all then, it has those that it has when asked at once.
    #[test]
    fn discs_are_added_to_those_that_are_there() {
        let ring: Vec<P2> =
            [(0.0, 0.0), (900.0, 0.0), (900.0, 100.0), (100.0, 100.0), (0.0, 700.0)]
                .map(|(x, y)| P2::new(x, y))
                .to_vec();
        let mut blanks = Blanks::default();
        let few = blanks.ready(&ring, 1.5, Discs::Few);
        let later = blanks.ready(&ring, 1.5, Discs::All);
        let at_once = Blanks::default().ready(&ring, 1.5, Discs::All);
        assert!(!few.blank.has(Discs::All) && later.blank.has(Discs::Few));
        assert_eq!(later.blank.poles(), at_once.blank.poles());
        assert!(later.blank.poles().len() > few.blank.poles().len());
    }
}
