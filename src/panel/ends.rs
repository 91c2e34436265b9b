//! How far to run the lines on past a trimmed end.
//!
//! Past its last duck a line is only the batten's run-on, and some way along it no
//! developable surface may follow the two lines any more. So the longest run-on is tried
//! first and shortened until the panel twists no more than the one ended by straight edges;
//! where none will do, that straight edge is kept and the caller is told.

use super::pair::{EndEdge, Pair};
use super::surface::Surface;
use super::{Matching, match_lines};
use crate::curve::Spline;
use crate::geom::plane::Plane;

/// Run-ons tried, as shares of the line, longest first: a third of a metre on 4 m down to
/// 20 mm, about the slant of an end's rulings across a sheet's edge.
const RUN_ONS: [f64; 4] = [0.08, 0.04, 0.02, 0.005];
/// Warp (radians) that trimming may add to the straight-ended panel's: a tenth of a degree,
/// below what a finding calls a twist worth watching.
const ADDED_WARP: f64 = 0.1 * std::f64::consts::PI / 180.0;
/// Strips of the panels that are tried.
const STRIPS: usize = 64;

/// The chosen ends.
#[derive(Debug, Clone)]
pub struct Ends<'a> {
    /// The lines with their ends.
    pub pair: Pair<'a>,
    /// Their matching.
    pub matching: Matching,
    /// The bow was to be trimmed and is straight.
    pub bow_kept_straight: bool,
    /// The stern was to be trimmed and is straight.
    pub stern_kept_straight: bool,
}

/// Chooses the ends of the panel between two lines; a plane asks for a trimmed end.
pub fn choose_ends<'a>(
    lower: &'a Spline,
    upper: &'a Spline,
    bow: Option<Plane>,
    stern: Option<Plane>,
) -> Ends<'a> {
    let mut pair = Pair { lower, upper, bow: EndEdge::Ruling, stern: EndEdge::Ruling };
    let mut matching = match_lines(&pair);
    if bow.is_none() && stern.is_none() {
        return Ends { pair, matching, bow_kept_straight: false, stern_kept_straight: false };
    }
    let warp =
        |pair: &Pair, matching: &Matching| Surface::of(pair, matching, STRIPS).greatest_warp().0;
    let allowed = warp(&pair, &matching) + ADDED_WARP;
    let mut kept = [bow.is_some(), stern.is_some()];
    for (at_stern, plane) in [(false, bow), (true, stern)] {
        let Some(plane) = plane else {
            continue;
        };
        for run_on in RUN_ONS {
            let mut tried = pair;
            let edge = EndEdge::Trim { plane, run_on };
            if at_stern {
                tried.stern = edge;
            } else {
                tried.bow = edge;
            }
            let its_matching = match_lines(&tried);
            if warp(&tried, &its_matching) <= allowed {
                (pair, matching) = (tried, its_matching);
                kept[usize::from(at_stern)] = false;
                break;
            }
        }
    }
    Ends { pair, matching, bow_kept_straight: kept[0], stern_kept_straight: kept[1] }
}
