//! Which words stand on which tile: whole or not at all, so that nobody reads half a figure.

use super::tiling::{CROSS, Tiling};
use crate::drawing::face::TextBox;
use crate::drawing::settle::{near, pieces, struck};
use crate::drawing::{Drawing, LayerId, Shape};
use crate::geom::{P2, V2};

/// A text farther (mm) from every printed tile than this would lose what it explains: it is
/// told on the first page instead.
const TOO_FAR: f64 = 60.0;
/// A text is made smaller to fit a tile down to this height of capitals (mm), or its own.
const SMALLEST: f64 = 2.4;
/// Room between a moved text and its neighbours and the window's edge, mm.
const CLEAR: f64 = 0.6;
/// Places tried on a tile for a text that has to move, each way along it and across.
const TRIES: i32 = 12;

/// The words of every printed tile, and those that found no place on any.
pub(super) struct Labels {
    /// By printed tile, in the order of [`Tiling::filled`]: texts as they stand there.
    pub(super) on: Vec<Vec<(LayerId, Shape)>>,
    /// Their words, each once, in the order of the drawing.
    pub(super) off: Vec<String>,
}

/// Lower left and upper right corner.
type Window = (P2, P2);

impl Labels {
    pub(super) fn of(drawing: &Drawing, tiling: &Tiling) -> Labels {
        let (w, h) = Tiling::window(tiling.page);
        let windows: Vec<Window> = tiling
            .filled
            .iter()
            .map(|&(c, r)| tiling.corner(c, r))
            .map(|c| (c, P2::new(c.x + w, c.y + h)))
            .collect();
        // A moved text keeps off the drawing's lines and its tile's registration crosses.
        let mut lines = pieces(drawing);
        for &(c, r) in &tiling.filled {
            for p in tiling.crosses(c, r) {
                let (x, y) = (V2::new(CROSS, 0.0), V2::new(0.0, CROSS));
                lines.extend([[p - x, p + x], [p - y, p + y]]);
            }
        }
        let mut on: Vec<Vec<(LayerId, Shape)>> = vec![Vec::new(); windows.len()];
        let mut taken: Vec<Vec<TextBox>> = vec![Vec::new(); windows.len()];
        let mut homeless: Vec<usize> = Vec::new();
        for (i, item) in drawing.items.iter().enumerate() {
            let Some(own) = item.shape.text_box() else {
                continue;
            };
            let mut somewhere = false;
            for (k, window) in windows.iter().enumerate() {
                if own.within(window.0, window.1) {
                    somewhere = true;
                    on[k].push((item.layer, item.shape.clone()));
                    taken[k].push(own);
                }
            }
            if !somewhere {
                homeless.push(i);
            }
        }
        let mut off: Vec<String> = Vec::new();
        for i in homeless {
            let item = &drawing.items[i];
            let mut order: Vec<usize> = (0..windows.len()).collect();
            let Some(own) = item.shape.text_box() else {
                continue;
            };
            order.sort_by(|a, b| away(&own, &windows[*a]).total_cmp(&away(&own, &windows[*b])));
            let placed = order
                .into_iter()
                .take(3)
                .filter(|k| away(&own, &windows[*k]) < TOO_FAR)
                .find_map(|k| Some((k, fitted(&item.shape, &windows[k], &taken[k], &lines)?)));
            match (placed, &item.shape) {
                (Some((k, shape)), _) => {
                    taken[k].extend(shape.text_box());
                    on[k].push((item.layer, shape));
                }
                (None, Shape::Text { text, .. }) if !off.contains(text) => off.push(text.clone()),
                _ => {}
            }
        }
        Labels { on, off }
    }
}

/// How far the middle of a box lies outside a window, mm; inside, by how much less than
/// nothing its tile suits it better than a neighbour.
fn away(b: &TextBox, (low, high): &Window) -> f64 {
    let m = b.low + 0.5 * (b.along + b.up);
    let dx = (low.x - m.x).max(m.x - high.x);
    let dy = (low.y - m.y).max(m.y - high.y);
    if dx > 0.0 && dy > 0.0 { dx.hypot(dy) } else { dx.max(dy) }
}

/// The text moved, and made smaller where it must be, so that it stands whole in a window and
/// clear of what stands there.
fn fitted(shape: &Shape, window: &Window, taken: &[TextBox], lines: &[[P2; 2]]) -> Option<Shape> {
    let Shape::Text { height, .. } = shape else {
        return None;
    };
    let least = SMALLEST.min(*height);
    let mut size = *height;
    loop {
        let mut smaller = shape.clone();
        if let Shape::Text { height, .. } = &mut smaller {
            *height = size;
        }
        if let Some(by) = place(&smaller.text_box()?, size, window, taken, lines) {
            if let Shape::Text { at, .. } = &mut smaller {
                *at += by;
            }
            return Some(smaller);
        }
        if size <= least {
            return None;
        }
        size = (0.85 * size).max(least);
    }
}

/// The least move of a box that brings it inside a window, clear of others and, where it can,
/// of lines.
fn place(
    b: &TextBox,
    height: f64,
    (low, high): &Window,
    taken: &[TextBox],
    lines: &[[P2; 2]],
) -> Option<V2> {
    let corners = b.corners();
    let (min, max) = corners.iter().fold(
        (P2::new(f64::INFINITY, f64::INFINITY), P2::new(f64::NEG_INFINITY, f64::NEG_INFINITY)),
        |(l, h), p| (P2::new(l.x.min(p.x), l.y.min(p.y)), P2::new(h.x.max(p.x), h.y.max(p.y))),
    );
    let into = |min: f64, max: f64, low: f64, high: f64| {
        let (low, high) = (low + CLEAR, high - CLEAR);
        (max - min <= high - low).then(|| (low - min).max(0.0) + (high - max).min(0.0))
    };
    let home = V2::new(into(min.x, max.x, low.x, high.x)?, into(min.y, max.y, low.y, high.y)?);
    let e = b.along.try_normalize(1e-12).unwrap_or_else(V2::x);
    let n = V2::new(-e.y, e.x);
    let mut moves: Vec<V2> = (-TRIES..=TRIES)
        .flat_map(|i| (-TRIES..=TRIES).map(move |j| (i, j)))
        .map(|(i, j)| home + height * (f64::from(i) * e + 0.8 * f64::from(j) * n))
        .collect();
    moves.sort_by(|a, b| (a - home).norm().total_cmp(&(b - home).norm()));
    let lines = near(lines, &b.moved(home), 2.0 * f64::from(TRIES) * height);
    let mut best: Option<(f64, V2)> = None;
    for by in moves {
        let far = (by - home).norm() / height;
        if best.is_some_and(|(cost, _)| far >= cost) {
            break;
        }
        let there = b.moved(by);
        if !there.within(*low, *high) || taken.iter().any(|t| t.meets(&there, -CLEAR)) {
            continue;
        }
        let cost = far + struck(&lines, &there, height);
        if best.is_none_or(|(least, _)| cost < least) {
            best = Some((cost, by));
        }
    }
    best.map(|b| b.1)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drawing::export::tiling::{PageSize, Pages, choose_tiling};
    use crate::drawing::{Anchor, Dash, Layer, Purpose};

    fn strip(words: &[(f64, f64, &str)]) -> (Drawing, Tiling) {
        let layer = Layer {
            name: "CUT",
            width: 0.5,
            dash: Dash::Solid,
            colour: [0; 3],
            purpose: Purpose::Cut,
        };
        let mut d = Drawing::new("a strip", "", vec![layer]);
        d.line(0, P2::origin(), P2::new(1500.0, 0.0));
        for (x, y, text) in words {
            d.text(0, P2::new(*x, *y), 7.0, 0.0, Anchor::Left, *text);
        }
        let a4 = PageSize { width: 210.0, height: 297.0 };
        let tiling = choose_tiling(&d, Pages::Sheets(a4));
        (d, tiling)
    }

    /// Wherever a text begins, it stands whole on some tile, and near where it was put.
    #[test]
    fn a_text_over_a_joint_is_moved_onto_one_tile() {
        for x in (0..1350).step_by(37) {
            let words = "frame 4 stands on this line";
            let (d, tiling) = strip(&[(f64::from(x), 4.0, words)]);
            let labels = Labels::of(&d, &tiling);
            assert!(labels.off.is_empty(), "at {x}");
            let (w, h) = Tiling::window(tiling.page);
            let mut seen = 0;
            for (k, texts) in labels.on.iter().enumerate() {
                let (c, r) = tiling.filled[k];
                let low = tiling.corner(c, r);
                for (_, t) in texts {
                    seen += 1;
                    let b = t.text_box().expect("a text");
                    assert!(b.within(low, P2::new(low.x + w, low.y + h)), "at {x}");
                    assert!((b.low.x - f64::from(x)).abs() < 150.0);
                }
            }
            assert!(seen >= 1, "at {x}");
        }
    }

    #[test]
    fn two_texts_that_must_move_do_not_land_on_each_other() {
        let (d, tiling) = strip(&[
            (250.0, 4.0, "frame 4 stands on this line"),
            (252.0, 4.0, "level line 600 mm above base"),
        ]);
        let labels = Labels::of(&d, &tiling);
        for texts in &labels.on {
            for (i, (_, a)) in texts.iter().enumerate() {
                for (_, b) in &texts[..i] {
                    let (a, b) = (a.text_box().expect("text"), b.text_box().expect("text"));
                    assert!(!a.meets(&b, 0.0));
                }
            }
        }
    }

    #[test]
    fn a_text_far_from_all_paper_is_told_elsewhere() {
        let (d, tiling) = strip(&[(700.0, 900.0, "far away")]);
        assert_eq!(Labels::of(&d, &tiling).off, ["far away"]);
    }
}
