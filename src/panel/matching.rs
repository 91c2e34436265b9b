//! The whole matching of two lines: a shortest path over the grid of possible rulings.
//!
//! Nodes are rulings (u, v) of an even grid; a step moves along the lower line (a fan
//! about a point of the upper), along the upper line, or along both (a strip). A step
//! costs the energy of bending and twisting a thin plate so; going over from a fan to
//! anything else costs the fold, which equals the warp of the ruling in between. Hence a
//! fan that ends on the zero curve of the warp is free of twist and of fold, and where
//! there is no zero curve the warp is borne by strips rather than by one crease.

use super::pair::{Bridge, Pair, bridge_between, least_across};
use crate::curve::Jet;
use crate::geom::V3;

/// Cells of the grid along each line: at 4 m a cell is 125 mm, a third of the shortest
/// feature of a hull line with ducks half a metre apart. Finer grids give the same path.
const CELLS: usize = 32;

/// Warp (as a sine) that a ruling is charged with where it runs along a line or its planes
/// face opposite ways: worse than any sound ruling, yet finite, so that a path exists.
const UNSOUND: f64 = 3.0;

/// Share of a strip's bending stiffness that resists twist: 2(1 - ν) with ν = 0.3
/// (Timoshenko and Woinowsky-Krieger, *Theory of Plates and Shells*, eq. 49).
const TWIST_STIFFNESS: f64 = 1.4;

/// Charged to a fan step so that of two paths equal in energy (a flat panel) the one with
/// evenly spread rulings wins. Far below any energy that matters.
const EVEN_SPREAD: f64 = 1e-9;

/// A monotone matching of two lines on the coarse grid.
#[derive(Debug, Clone, PartialEq)]
pub struct Matching {
    /// Shares (u, v) from corner to corner, neither ever decreasing.
    pub path: Vec<(f64, f64)>,
}

/// Cell size of the grid as a share of a line.
pub(super) const CELL: f64 = 1.0 / CELLS as f64;

#[derive(Clone, Copy, PartialEq, Eq)]
enum Step {
    /// Along the lower line, about a point of the upper.
    Lower,
    /// Along the upper line, about a point of the lower.
    Upper,
    /// Along both.
    Both,
}

const STEPS: [(Step, usize, usize); 3] =
    [(Step::Lower, 1, 0), (Step::Upper, 0, 1), (Step::Both, 1, 1)];

#[derive(Debug, Clone, Copy)]
struct Node {
    normal_lower: Option<V3>,
    normal_upper: Option<V3>,
    length: f64,
    warp: f64,
}

impl Node {
    fn of(bridge: Bridge) -> Node {
        let Bridge { normal_lower, normal_upper, length, .. } = bridge;
        let warp = if bridge.sound { bridge.sin_warp } else { UNSOUND };
        Node { normal_lower, normal_upper, length, warp }
    }
}

/// How far each line goes from one of its places to the next, mm; nothing after the last.
struct Along {
    lower: Vec<f64>,
    upper: Vec<f64>,
}

impl Along {
    fn of(jets: &[Jet]) -> Vec<f64> {
        jets.windows(2).map(|w| (w[1].p - w[0].p).norm()).chain([0.0]).collect()
    }

    /// What a step from (i, j) goes along the lower and the upper line, mm.
    fn of_step(&self, (i, j): (usize, usize), step: Step) -> (f64, f64) {
        match step {
            Step::Lower => (self.lower[i], 0.0),
            Step::Upper => (0.0, self.upper[j]),
            Step::Both => (self.lower[i], self.upper[j]),
        }
    }
}

/// Finds the matching of least energy from the first corner to the last.
pub fn match_lines(pair: &Pair) -> Matching {
    let side = CELLS + 1;
    let (low, high) = pair.range();
    let share = |i: usize| low + (high - low) * i as f64 * CELL;
    let lower: Vec<_> = (0..side).map(|i| pair.lower_jet(share(i))).collect();
    let upper: Vec<_> = (0..side).map(|j| pair.upper_jet(share(j))).collect();
    let along = Along { lower: Along::of(&lower), upper: Along::of(&upper) };
    let with_across = |jets: &[Jet]| -> Vec<(Jet, f64)> {
        jets.iter().map(|jet| (*jet, least_across(jet))).collect()
    };
    let (lower, upper) = (with_across(&lower), with_across(&upper));
    let node = |k: usize| {
        let ((a, across_a), (b, across_b)) = (&lower[k / side], &upper[k % side]);
        Node::of(bridge_between((a, *across_a), (b, *across_b)))
    };
    let mut nodes: Vec<Option<Node>> = (0..side * side).map(|_| None).collect();
    // No ruling to which it costs more than straight along the diagonal is on the best path.
    let straight = diagonal_energy(side, &along, |k| *nodes[k].insert(node(k)));

    // cost[node][step that led here], with the step before that for walking back.
    let mut cost = vec![[f64::INFINITY; 3]; side * side];
    let mut before = vec![[0u8; 3]; side * side];
    for k in 0..side * side {
        if k > 0 && cost[k].iter().all(|c| *c > straight) {
            continue;
        }
        let (i, j) = (k / side, k % side);
        let here = *nodes[k].get_or_insert_with(|| node(k));
        for (s, &(step, di, dj)) in STEPS.iter().enumerate() {
            if i + di >= side || j + dj >= side {
                continue;
            }
            let next = k + di * side + dj;
            let there = nodes[next].get_or_insert_with(|| node(next));
            let width = width_of(along.of_step((i, j), step));
            let energy = step_energy(step, &here, there, width);
            if k == 0 {
                cost[next][s] = energy;
                before[next][s] = s as u8;
                continue;
            }
            let fold = fold_energy(&here, width);
            for (p, &(previous, _, _)) in STEPS.iter().enumerate() {
                let total = cost[k][p] + energy + fold_share(previous, step) * fold;
                if total < cost[next][s] {
                    cost[next][s] = total;
                    before[next][s] = p as u8;
                }
            }
        }
    }
    walk_back(&cost, &before, side, share)
}

/// Width (mm) of a strip that goes so far along its two lines.
fn width_of((lower, upper): (f64, f64)) -> f64 {
    (0.5 * (lower + upper)).max(1e-9)
}

/// What strips alone cost from corner to corner, each ruling between like shares.
fn diagonal_energy(side: usize, along: &Along, mut node: impl FnMut(usize) -> Node) -> f64 {
    let mut total = 0.0;
    let mut from = node(0);
    for i in 0..side - 1 {
        let to = node((i + 1) * (side + 1));
        total += step_energy(Step::Both, &from, &to, width_of(along.of_step((i, i), Step::Both)));
        from = to;
    }
    total
}

fn walk_back(
    cost: &[[f64; 3]],
    before: &[[u8; 3]],
    side: usize,
    share: impl Fn(usize) -> f64,
) -> Matching {
    let mut k = side * side - 1;
    let mut s = (0..3).min_by(|&a, &b| cost[k][a].total_cmp(&cost[k][b])).unwrap_or(2);
    let mut path = vec![(share(k / side), share(k % side))];
    while k != 0 {
        let (_, di, dj) = STEPS[s];
        let previous = before[k][s] as usize;
        k -= di * side + dj;
        s = previous;
        path.push((share(k / side), share(k % side)));
    }
    path.reverse();
    Matching { path }
}

/// Bending and twisting of one strip, in units of the plate's stiffness.
/// `width` mm is what it goes along both lines, on average.
fn step_energy(step: Step, from: &Node, to: &Node, width: f64) -> f64 {
    let (a, b) = (from, to);
    let length = 0.5 * (a.length + b.length);
    if length <= 0.0 {
        return 0.0;
    }
    let turn = |n: Option<V3>, m: Option<V3>| match (n, m) {
        (Some(n), Some(m)) => (m - n).norm_squared(),
        _ => 0.0,
    };
    let unsound = if from.warp.abs() > 1.0 || to.warp.abs() > 1.0 { UNSOUND } else { 0.0 };
    match step {
        Step::Lower => {
            0.5 * turn(a.normal_lower, b.normal_lower) * length / width + EVEN_SPREAD + unsound
        }
        Step::Upper => {
            0.5 * turn(a.normal_upper, b.normal_upper) * length / width + EVEN_SPREAD + unsound
        }
        Step::Both => {
            let turned =
                0.5 * (turn(a.normal_lower, b.normal_lower) + turn(a.normal_upper, b.normal_upper));
            let twist = 0.5 * (from.warp.powi(2) + to.warp.powi(2));
            0.5 * turned * length / width + TWIST_STIFFNESS * twist * width / length + unsound
        }
    }
}

/// The crease where one fan meets another: its fold is the warp of that ruling; `width` mm is
/// that of the step from there.
fn fold_energy(node: &Node, width: f64) -> f64 {
    0.5 * node.warp.powi(2) * node.length / width
}

/// The share of it where other steps meet: where one side is a strip, that bears half of the
/// warp as twist, and a fold costs as its square.
fn fold_share(previous: Step, step: Step) -> f64 {
    match (previous, step) {
        _ if previous == step => 0.0,
        (Step::Both, _) | (_, Step::Both) => 0.25,
        _ => 1.0,
    }
}
