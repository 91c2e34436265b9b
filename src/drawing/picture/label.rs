//! Names beside a picture, each with a line to what it names.

use super::Eye;
use crate::drawing::compose::Line;
use crate::drawing::face::width;
use crate::drawing::{Anchor, Drawing};
use crate::geom::P2;
use crate::geom::P3;

/// From the picture to its names, over the height of their capitals.
const APART: f64 = 3.0;
/// From name to name, over the same.
const LEAD: f64 = 2.2;

/// A picture with names at both its sides: each on the side that what it names is nearer to, in
/// the order in which they stand, none over another. `height` is that of capitals in mm of the
/// picture.
pub fn labelled(mut picture: Drawing, eye: &Eye, names: &[(P3, String)], height: f64) -> Drawing {
    let Some((low, high)) = picture.bounds() else {
        return picture;
    };
    let middle = 0.5 * (low.x + high.x);
    let places: Vec<(P2, &String)> = names.iter().map(|(p, n)| (eye.seen(*p).0, n)).collect();
    for left in [true, false] {
        let mut own: Vec<&(P2, &String)> =
            places.iter().filter(|(p, _)| (p.x < middle) == left).collect();
        own.sort_by(|a, b| b.0.y.total_cmp(&a.0.y));
        let heights = spread(own.iter().map(|o| o.0.y).collect(), LEAD * height);
        for ((at, name), y) in own.iter().zip(heights) {
            let long = width(name, height, false);
            let (x, from) = match left {
                true => (low.x - APART * height - long, low.x - 0.6 * APART * height),
                false => (high.x + APART * height, high.x + 0.6 * APART * height),
            };
            let begin = P2::new(from, y + 0.4 * height);
            picture.text(Line::Text, P2::new(x, y), height, 0.0, Anchor::Left, name.as_str());
            picture.line(Line::Dimension, begin, *at);
            picture.cross(Line::Dimension, *at, 0.8 * height);
        }
    }
    picture
}

/// Heights, falling, moved apart to `least` at least and as little as that takes: runs that are
/// too near are set evenly about their middle.
fn spread(wanted: Vec<f64>, least: f64) -> Vec<f64> {
    // Runs of names: the middle of what they want, and how many there are.
    let mut runs: Vec<(f64, usize)> = Vec::new();
    for y in wanted {
        runs.push((y, 1));
        while let [.., a, b] = runs.as_slice() {
            let (above, below) =
                (a.0 - 0.5 * least * (a.1 - 1) as f64, b.0 + 0.5 * least * (b.1 - 1) as f64);
            if above - below >= least {
                break;
            }
            let count = a.1 + b.1;
            let middle = (a.0 * a.1 as f64 + b.0 * b.1 as f64) / count as f64;
            runs.truncate(runs.len() - 2);
            runs.push((middle, count));
        }
    }
    runs.into_iter()
        .flat_map(|(middle, count)| {
            (0..count).map(move |k| middle + least * (0.5 * (count - 1) as f64 - k as f64))
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_are_moved_apart_and_no_further() {
        assert_eq!(spread(vec![90.0, 50.0, 10.0], 20.0), [90.0, 50.0, 10.0]);
        let close = spread(vec![52.0, 50.0, 48.0, 0.0], 20.0);
        assert_eq!(close, [70.0, 50.0, 30.0, 0.0]);
        for (a, b) in close.iter().zip(&close[1..]) {
            assert!(a - b >= 20.0 - 1e-9);
        }
    }
}
