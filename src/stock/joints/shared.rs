//! An edge that two panels share, and how far apart on it their joints lie in the boat.
//!
//! Patterns of neighbours have nothing in common but that edge, so places along one pattern say
//! nothing of places along the other: both are brought to the distance along the edge in the boat.

/// A neighbour's joint, and how far from it another meets the edge that both panels share.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Apart {
    /// The neighbour's joint, by its place in [`SharedEdge::joints`].
    pub joint: usize,
    /// Between the two along the edge in the boat, mm.
    pub distance: f64,
}

impl Apart {
    /// The share of `least` mm that is missing between the two: 1 where they meet, 0 or less
    /// where nothing is. No distance is asked for by a `least` of 0.
    pub fn short_of(&self, least: f64) -> f64 {
        if least > 0.0 { 1.0 - self.distance / least } else { 0.0 }
    }
}

/// An edge that a panel shares with another.
#[derive(Debug, Clone, PartialEq)]
pub struct SharedEdge {
    /// Places along this panel's pattern (u, mm), rising, each with the distance along the edge
    /// in the boat, mm.
    pub along: Vec<(f64, f64)>,
    /// Where the neighbour's joints meet it, mm along it in the boat.
    pub joints: Vec<f64>,
}

impl SharedEdge {
    /// How far along the edge in the boat (mm) a joint across the pattern at `u` meets it: of a
    /// joint that crosses the panel beyond the edge's end, that end.
    pub fn met_at(&self, u: f64) -> Option<f64> {
        let (first, last) = (self.along.first()?, self.along.last()?);
        if u <= first.0 {
            return Some(first.1);
        }
        let within = self.along.windows(2).find(|w| u <= w[1].0);
        Some(within.map_or(last.1, |w| {
            let ((u0, s0), (u1, s1)) = (w[0], w[1]);
            if u1 > u0 { s0 + (u - u0) / (u1 - u0) * (s1 - s0) } else { s1 }
        }))
    }

    /// The neighbour's joint that lies nearest to one at `u`; `None` where it has none.
    pub fn nearest(&self, u: f64) -> Option<Apart> {
        let here = self.met_at(u)?;
        let all = self.joints.iter().enumerate();
        all.map(|(joint, there)| Apart { joint, distance: (there - here).abs() })
            .min_by(|a, b| a.distance.total_cmp(&b.distance))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A pattern on which 100 mm are 250 in the boat: joints 100 apart on paper are far enough.
    #[test]
    fn apart_is_what_the_boat_says() {
        let edge = SharedEdge {
            along: vec![(0.0, 40.0), (400.0, 1040.0), (400.0, 1060.0), (800.0, 2060.0)],
            joints: vec![290.0, 1560.0],
        };
        let near = edge.nearest(200.0).expect("two joints");
        assert_eq!(near, Apart { joint: 0, distance: 250.0 });
        assert!((near.short_of(300.0) - 1.0 / 6.0).abs() < 1e-12);
        assert!(near.short_of(250.0) <= 0.0 && near.short_of(0.0) <= 0.0);
        let beyond = edge.nearest(900.0).expect("two joints");
        assert_eq!(beyond, Apart { joint: 1, distance: 500.0 });
        assert_eq!(SharedEdge { joints: vec![], ..edge }.nearest(200.0), None);
    }
}
