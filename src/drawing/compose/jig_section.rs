//! The strongback athwartships at one frame: post, rail, rung, leg, spall and brace together,
//! with their lengths, heights above the floor and places.

use super::Line;
use super::lines_plan::fitted;
use super::view::{FIGURES, Look, View, WORDS};
use crate::drawing::{Anchor, Drawing};
use crate::geom::V2;
use crate::model::Model;
use crate::part::Use;
use crate::setup::{Stand, Stick, Strongback};
use crate::units::Units;

/// The jig at its middle frame, seen from ahead.
pub fn jig_section(model: &Model, jig: &Strongback, units: Units) -> Drawing {
    fitted(|reduced| at_scale(model, jig, units, reduced))
}

/// The frame that is shown: the middle one, or the one nearest to it with two legs.
fn shown(jig: &Strongback) -> Option<&Stand> {
    let middle = jig.stands.len() / 2;
    let two = jig.stands.iter().enumerate().filter(|(_, s)| s.leg_at > 0.0);
    two.min_by_key(|(i, _)| i.abs_diff(middle)).map(|(_, s)| s).or(jig.stands.get(middle))
}

/// Sticks that stand at a frame: those of the ladder that pass it, its own leg, spall and
/// brace, and the nearest pair of posts.
fn at_frame<'a>(jig: &'a Strongback, s: &Stand) -> Vec<&'a Stick> {
    let near = |st: &Stick| {
        let [low, high] = st.extent()[0];
        // Of what touches the frame's line or the legs beside it.
        low - 25.0 <= s.x && s.x <= high + 25.0
    };
    let nearest =
        jig.posts.iter().copied().min_by(|a, b| (a - s.x).abs().total_cmp(&(b - s.x).abs()));
    jig.sticks
        .iter()
        .filter(|st| match st.purpose {
            Use::Post => {
                let [low, high] = st.extent()[0];
                nearest.is_some_and(|x| low <= x && x <= high)
            }
            Use::Rail | Use::Rung | Use::Leg => near(st),
            Use::Spall(station) => station == s.station,
            Use::Brace => {
                st.from_ahead && {
                    let [low, high] = st.extent()[0];
                    low - 60.0 <= s.x && s.x <= high + 60.0
                }
            }
            Use::End(..) => false,
        })
        .collect()
}

fn at_scale(model: &Model, jig: &Strongback, units: Units, reduced: f64) -> Drawing {
    let Some(s) = shown(jig) else {
        return View::new(model, "strongback, seen from ahead", reduced, "").d;
    };
    let whose = format!("at frame {}, from ahead: her starboard side is at the right", s.station);
    let mut v = View::new(model, "strongback, seen from ahead", reduced, &whose);
    let sticks = at_frame(jig, s);
    for stick in &sticks {
        v.stick(stick, Look::Ahead, (0.0, 0.0));
    }
    // The frame's section, upside down.
    let widest = s.corners.iter().map(|c| c.half_breadth).fold(0.0, f64::max);
    if let Some(f) = model.woodwork.frame(s.station) {
        for side in [1.0, -1.0] {
            let half: Vec<(f64, f64)> =
                f.section.half().iter().map(|p| (side * p.x, jig.above_floor(p.y))).collect();
            v.line(Line::Member, &half, false);
        }
    }
    let plan = &model.hull.strongback;
    let reach = widest.max(s.spall_half).max(0.5 * jig.rail_spacing) + 40.0;
    let level = jig.above_floor(jig.level);
    let top = s.corners.iter().map(|c| c.above_floor).fold(level, f64::max);
    v.line(Line::Outline, &[(-reach, 0.0), (reach, 0.0)], false);
    v.line(Line::Level, &[(0.0, 0.0), (0.0, top + 40.0)], false);
    v.line(Line::Level, &[(-reach, level), (reach, level)], false);
    let up = V2::new(0.0, 1.5 * FIGURES);
    let left = (Anchor::Left, FIGURES);
    v.label(
        (0.0, top + 40.0),
        (V2::new(0.0, 1.0), up),
        (Anchor::Middle, FIGURES),
        "over the string",
    );
    v.label((-reach, 0.0), (V2::new(0.5, 0.8), up), left, "floor");
    let between = (-0.35 * jig.rail_spacing * 0.5, level);
    v.label(between, (V2::new(0.0, 0.8), up), (Anchor::Middle, FIGURES), "level line");
    // Heights above the floor, at the right.
    let under = jig.rail_top - plan.rail_depth_mm;
    let heights = [
        (under, "under rails"),
        (jig.rail_top, "rails' top"),
        (level, "level line"),
        (jig.rail_top + jig.leg_length, "leg's top"),
    ];
    for (k, (z, what)) in heights.into_iter().enumerate() {
        let text = format!("{what} {}", units.show(z));
        v.dimension(((reach, 0.0), (reach, z)), -(4.0 + 5.5 * k as f64), text);
    }
    // Lengths, at the left.
    let over = [
        (0.0, under, "post", under),
        (jig.rail_top, jig.rail_top + jig.leg_length, "leg", jig.leg_length),
    ];
    for (k, (a, b, what, length)) in over.into_iter().enumerate() {
        let text = format!("{what} {}", units.show(length));
        v.dimension(((-reach, a), (-reach, b)), 4.0 + 5.5 * k as f64, text);
    }
    let text = format!("level line up the leg {}", units.show(jig.level_on_legs));
    v.dimension(((-reach, jig.rail_top), (-reach, level)), 4.0, text);
    // Places and lengths athwartships, below the floor.
    let half = 0.5 * jig.rail_spacing;
    let inner = half - plan.rail_width_mm;
    let text = format!("over rails {}", units.show(jig.rail_spacing));
    v.dimension(((-half, 0.0), (half, 0.0)), -11.0, text);
    let text = format!("rung {}", units.show(2.0 * inner));
    v.dimension(((-inner, 0.0), (inner, 0.0)), -5.0, text);
    let text = format!("spall {}", units.show(2.0 * s.spall_half));
    v.dimension(((-s.spall_half, 0.0), (s.spall_half, 0.0)), -17.0, text);
    if s.leg_at > 0.0 {
        let text = format!("middles of legs {}", units.show(2.0 * s.leg_at));
        v.dimension(((-s.leg_at, 0.0), (s.leg_at, 0.0)), -23.0, text);
    }
    names(&mut v, jig, &sticks, units);
    v.d.note("The rail stands on its edge, the post under it flush with its outer face; the rung lies between the rails with its upper edge at their top, under the legs.");
    if let Some(w) = jig.posts.windows(2).next() {
        v.d.note(format!(
            "A pair of posts every {} along the rails, the first {} from their forward end.",
            units.show(w[1] - w[0]),
            units.show(jig.posts[0] - jig.rails[0]),
        ));
    }
    v.d.note("Other frames stand the same way: their spalls' lengths are in the list to cut, their legs' places in the elevation's table.");
    v.finished(units)
}

/// The names and sections of the sticks, beside them.
fn names(v: &mut View, jig: &Strongback, sticks: &[&Stick], units: Units) {
    let step = V2::new(0.0, 1.5 * WORDS);
    let (middle, left) = ((Anchor::Middle, FIGURES), (Anchor::Left, FIGURES));
    let half = 0.5 * jig.rail_spacing;
    let level = jig.above_floor(jig.level);
    let mut named = |purpose: &dyn Fn(&Stick) -> bool,
                     word: &str,
                     at: &dyn Fn([[f64; 2]; 3]) -> (f64, f64),
                     (shift, step): (V2, V2),
                     anchor| {
        if let Some(s) = sticks.iter().find(|s| purpose(s)) {
            let text = format!("{word} {}", units.section(s.section[0], s.section[1]));
            v.label(at(s.extent()), (shift, step), anchor, text);
        }
    };
    let beside = (V2::new(1.0, 0.0), step);
    named(
        &|s| s.purpose == Use::Leg,
        "leg",
        &|[_, y, z]| (y[1], z[0] + 0.3 * (z[1] - z[0])),
        beside,
        left,
    );
    named(
        &|s| s.purpose == Use::Rail,
        "rail",
        &|[_, _, z]| (half, 0.5 * (z[0] + z[1])),
        beside,
        left,
    );
    named(
        &|s| s.purpose == Use::Post,
        "post",
        &|[_, _, z]| (half, 0.5 * (z[0] + z[1])),
        beside,
        left,
    );
    // Clear of the centreline.
    named(
        &|s| s.purpose == Use::Rung,
        "rung",
        &|[_, y, z]| (0.5 * y[0], 0.5 * (z[0] + z[1])),
        (V2::new(0.0, -0.5 * FIGURES), -step),
        middle,
    );
    named(
        &|s| matches!(s.purpose, Use::Spall(_)),
        "spall",
        &|[_, y, _]| (0.5 * (y[1] + half), level),
        (V2::new(0.0, 1.5), step),
        middle,
    );
    let brace = sticks.iter().find(|s| s.purpose == Use::Brace);
    let long = brace.map_or(String::new(), |s| format!("brace {} long,", units.show(s.length)));
    named(
        &|s| s.purpose == Use::Brace,
        &long,
        &|[_, y, z]| (0.5 * y[0], 0.5 * (z[0] + z[1])),
        (V2::new(0.0, 1.0), step),
        middle,
    );
}
