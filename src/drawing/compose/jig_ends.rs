//! An end as it stands upside down, from the side and a transom from outside: heights
//! above the floor, distances along the rails, rake, corners, tapes, and what holds them.

use super::Line;
use super::lines_plan::fitted;
use super::view::{FIGURES, Look, View, WORDS};
use crate::drawing::{Anchor, Drawing};
use crate::geom::{P2, V2};
use crate::model::Model;
use crate::part::{Holds, Use};
use crate::setup::{EndStand, Strongback};
use crate::units::{Units, half_degrees};

/// Room between two views, mm of paper, and rows of a table below them.
const APART: f64 = 26.0;
const ROW: f64 = 4.2;
/// Columns of the table of corners, mm of paper: the first and the others.
const FIRST: f64 = 22.0;
const COLUMN: f64 = 28.0;
/// The rails are shown this far (mm) past what stands on them.
const RAIL_SHOWN_MM: f64 = 120.0;
/// Anchors and steps of labels.
const UPWARD: V2 = V2::new(0.0, 1.5 * FIGURES);

/// Where an end stands and what it stands on, in words.
pub fn sentence(jig: &Strongback, e: &EndStand, units: Units) -> String {
    let first = jig.stands.first().map_or(1, |s| s.station);
    let along = |x: f64| {
        let by = jig.from_first(x);
        let way = if by < 0.0 { "ahead of" } else { "aft of" };
        format!("{} {way} the line of frame {first}", units.show(by.abs()))
    };
    let (word, head) = (e.end.word(), e.end.head_word());
    let mut out = format!(
        "{}: foot {}, {} above the floor; {head} {}, {} above the floor",
        crate::words::capital(word),
        along(e.foot.x),
        units.show(e.foot.z),
        along(e.head.x),
        units.show(e.head.z),
    );
    let leans = if e.plumb() < 0.5 {
        "; plumb".to_string()
    } else {
        format!(
            "; rake {}, so that a plumb-bob from the foot hangs {} {} the {head}",
            half_degrees(e.rake.abs()),
            units.show(e.plumb()),
            if e.head.x < e.foot.x { "aft of" } else { "ahead of" }
        )
    };
    out.push_str(&leans);
    if e.end.is_transom() {
        out.push_str(". All to its outer face, bevelled");
    }
    if let Some(c) = &e.support.crosspiece {
        let face = if e.end.at_stern() { c.faces[0] } else { c.faces[1] };
        let blocked = if c.blocks > 0.0 {
            format!("on blocks {} high", units.show(c.blocks))
        } else {
            "on the rails".into()
        };
        out.push_str(&format!(
            ". Its {head} stands in a notch {} wide and {} deep of a crosspiece {blocked}, the face towards the frames {}",
            units.show(c.notch_width),
            units.show(c.notch_depth),
            along(face),
        ));
    }
    if let Some(p) = &e.support.post {
        let many = if p.count() == 2 {
            format!("Two posts {} either side of the string lean", units.show(p.at))
        } else {
            "A post in the middle leans".into()
        };
        let against = if e.end.is_transom() { "its outer face" } else { "its back" };
        out.push_str(&format!(
            ". {many} against {against}: {} on the longer edge, foot cut {} from square, its holding edge {} on the rails' top",
            units.show(p.length),
            half_degrees(p.foot_cut),
            along(p.side_view[0].x),
        ));
        if let Some(mark) = p.mark {
            out.push_str(&format!(
                "; the line between the sheer corners comes to a mark {} up that edge",
                units.show(mark)
            ));
        }
    }
    out.push('.');
    out
}

/// An end on a sheet of its own.
pub fn jig_end(model: &Model, jig: &Strongback, e: &EndStand, units: Units) -> Drawing {
    fitted(|reduced| at_scale(model, jig, e, units, reduced))
}

fn at_scale(model: &Model, jig: &Strongback, e: &EndStand, units: Units, reduced: f64) -> Drawing {
    let name = format!("{} on the strongback", e.end.word());
    let mut v = View::new(model, &name, reduced, "upside down: heights are above the shop floor");
    let from = side(&mut v, jig, e, units, 0.0) + APART * reduced;
    if e.end.is_transom() {
        outside(&mut v, jig, e, units, from);
    } else {
        notched(&mut v, jig, e, units, from);
    }
    corners(&mut v, jig, e, units);
    v.d.note(sentence(jig, e, units));
    v.d.note(format!(
        "Tapes run from the marks of frame {}'s line on the outer top edges of the rails, {} over both: to the corner on the same side and to the one on the other. Port and starboard must agree.",
        e.taped_from,
        units.show(jig.rail_spacing)
    ));
    if !e.end.is_transom() {
        let work = &model.woodwork;
        let stem = if e.end.at_stern() { &work.sternpost } else { &work.stem };
        let past = stem.as_ref().map_or(0.0, |s| s.heel_to_foot());
        v.d.note(format!("Foot is where the stem's line, run on {} past the corner of its heel, meets the keel's. Head is the sheer's mark on the stem, not the end of the blank.", units.show(past)));
    }
    v.d.note("Screw through the posts into the end and plug the holes. Nothing is finished until a batten lies fair over the end and three frames.");
    v.finished(units)
}

/// One end from the side, its leftmost wood at `from`; where the view ends, mm.
fn side(v: &mut View, jig: &Strongback, e: &EndStand, units: Units, from: f64) -> f64 {
    let stern = e.end.at_stern();
    let station = jig.stands.iter().find(|s| s.station == e.taped_from);
    let line_at = station.map_or(e.foot.x, |s| s.x);
    let xs = e
        .side_view
        .iter()
        .map(|p| p.x)
        .chain([line_at])
        .chain(e.support.post.iter().flat_map(|p| p.side_view.iter().map(|q| q.x)));
    let low = xs.clone().fold(f64::INFINITY, f64::min) - RAIL_SHOWN_MM;
    let high = xs.fold(f64::NEG_INFINITY, f64::max) + RAIL_SHOWN_MM;
    let by = (from - low, 0.0);
    let x = |x: f64| x + by.0;
    let word = e.end.word();
    // The rails between breaks, the rung and what holds it.
    let rail = jig.sticks.iter().find(|s| s.purpose == Use::Rail).map(|s| s.extent()[2]);
    let under = rail.map_or(jig.rail_top, |z| z[0]);
    for z in [under, jig.rail_top] {
        v.line(Line::Outline, &[(from, z), (x(high), z)], false);
    }
    v.line(Line::Outline, &[(from, 0.0), (x(high), 0.0)], false);
    for s in &jig.sticks {
        if matches!(s.purpose, Use::End(at, _) if at == e.end.at()) {
            v.stick(s, Look::Side, by);
        }
    }
    if let Some(rung) = e.support.rung {
        let stick = jig.sticks.iter().find(|s| s.purpose == Use::Rung && s.extent()[0] == rung);
        if let Some(s) = stick {
            v.stick(s, Look::Side, by);
        }
    }
    let ring: Vec<(f64, f64)> = e.side_view.iter().map(|p| (x(p.x), p.y)).collect();
    v.line(Line::Outline, &ring, true);
    let top = e.foot.z.max(e.head.z) + 60.0;
    v.line(Line::Station, &[(x(line_at), 0.0), (x(line_at), top)], false);
    let named = format!("line of frame {}", e.taped_from);
    let anchor = (Anchor::Middle, FIGURES);
    v.label((x(line_at), top), (V2::new(0.0, 0.8), UPWARD), anchor, named);
    let middle = 0.5 * (from + x(high));
    let title = format!("{word}, from the side");
    v.label((middle, top), (V2::new(0.0, 9.0), UPWARD), (Anchor::Middle, WORDS), title);
    // Along the rails, from the nearest frame's line; heights at the outer side.
    let mut places = vec![(e.head.x, e.end.head_word()), (e.foot.x, "foot")];
    if let Some(c) = &e.support.crosspiece {
        places.push((if stern { c.faces[0] } else { c.faces[1] }, "crosspiece"));
    }
    if let Some(p) = &e.support.post {
        places.push((p.side_view[0].x, "post"));
    }
    places.sort_by(|a, b| (a.0 - line_at).abs().total_cmp(&(b.0 - line_at).abs()));
    for (k, (at, what)) in places.into_iter().enumerate() {
        let ends = if at < line_at { (at, line_at) } else { (line_at, at) };
        let text = format!("{what} {}", units.show((at - line_at).abs()));
        let ends = ((x(ends.0), 0.0), (x(ends.1), 0.0));
        v.dimension_past(ends, -5.0 - 5.0 * k as f64, text, stern);
    }
    let edge = if stern { x(high) } else { from };
    let way = if stern { -1.0 } else { 1.0 };
    let heights = [(jig.rail_top, "rails"), (e.head.z, e.end.head_word()), (e.foot.z, "foot")];
    for (k, (z, what)) in heights.into_iter().enumerate() {
        let text = format!("{what} {}", units.show(z));
        let aside = way * (3.0 + 5.0 * k as f64);
        v.dimension_past(((edge, 0.0), (edge, z)), aside, text, true);
    }
    // The plumb-bob.
    v.line(Line::Check, &[(x(e.foot.x), e.foot.z), (x(e.foot.x), e.head.z)], false);
    if e.plumb() >= 0.5 {
        let (a, b) = (e.foot.x.min(e.head.x), e.foot.x.max(e.head.x));
        let ends = ((x(a), e.head.z), (x(b), e.head.z));
        v.dimension_past(ends, -3.0, format!("plumb {}", units.show(e.plumb())), stern);
    }
    if let Some(p) = &e.support.post {
        let [_, top, over, under] = p.side_view;
        let aside = if over.x > top.x { -2.5 } else { 2.5 };
        let text = format!("post {}, foot cut {}", units.show(p.length), half_degrees(p.foot_cut));
        v.dimension(((x(under.x), under.y), (x(over.x), over.y)), aside, text);
    }
    x(high) + if stern { 16.0 * v.d.reduced } else { 0.0 }
}

/// A transom from outside, its widest corner at `from`; where the view ends, mm.
fn outside(v: &mut View, jig: &Strongback, e: &EndStand, units: Units, from: f64) -> f64 {
    let wide = e.corners.iter().map(|c| c.half_breadth).fold(0.0, f64::max);
    let wide = wide.max(0.5 * jig.rail_spacing);
    let middle = from + wide;
    let ring: Vec<(f64, f64)> = e
        .corners
        .iter()
        .map(|c| (middle + c.half_breadth, c.above_floor))
        .chain(e.corners.iter().rev().map(|c| (middle - c.half_breadth, c.above_floor)))
        .collect();
    v.line(Line::Outline, &ring, true);
    let ends = [(from, 0.0), (middle + wide, 0.0)];
    v.line(Line::Outline, &ends, false);
    let word = e.end.word();
    for s in &jig.sticks {
        if s.purpose == Use::Rail || s.purpose == Use::End(e.end.at(), Holds::Post) {
            v.stick(s, Look::Ahead, (middle, 0.0));
        }
    }
    let rung = jig.sticks.iter().find(|s| s.purpose == Use::Rung);
    if let Some(s) = rung {
        v.stick(s, Look::Ahead, (middle, 0.0));
    }
    let top = e.foot.z.max(e.head.z) + 60.0;
    v.line(Line::Level, &[(middle, 0.0), (middle, top)], false);
    let title = format!("{word}, from outside");
    v.label((middle, top), (V2::new(0.0, 9.0), UPWARD), (Anchor::Middle, WORDS), title);
    for c in e.corners.iter().filter(|c| c.half_breadth > 0.0) {
        let text = format!("{} {}", c.place, units.show(c.half_breadth));
        v.dimension_past(((middle, 0.0), (middle + c.half_breadth, 0.0)), -5.0, text, true);
    }
    if let Some(p) = e.support.post.as_ref().filter(|p| p.at > 0.0) {
        let text = format!("posts {} from the middle", units.show(p.at));
        v.dimension(((middle - p.at, 0.0), (middle, 0.0)), -5.0, text);
    }
    middle + wide
}

/// The crosspiece of a stem, seen along the rails, its wider end at `from`; where the view
/// ends, mm.
fn notched(v: &mut View, jig: &Strongback, e: &EndStand, units: Units, from: f64) -> f64 {
    let Some(c) = &e.support.crosspiece else {
        return from;
    };
    let half = 0.5 * c.length;
    let middle = from + half;
    let (low, high, rest) = (c.low, c.low + c.width, c.rest());
    let notch = 0.5 * c.notch_width;
    let ring = [
        (-half, low),
        (half, low),
        (half, high),
        (notch, high),
        (notch, rest),
        (-notch, rest),
        (-notch, high),
        (-half, high),
    ];
    let ring: Vec<(f64, f64)> = ring.iter().map(|(y, z)| (middle + y, *z)).collect();
    v.line(Line::Outline, &ring, true);
    let block = Use::End(e.end.at(), Holds::Block);
    for s in jig.sticks.iter().filter(|s| s.purpose == Use::Rail || s.purpose == block) {
        v.stick(s, Look::Ahead, (middle, 0.0));
    }
    v.line(Line::Outline, &[(from, 0.0), (from + c.length, 0.0)], false);
    v.line(Line::Level, &[(middle, 0.0), (middle, high + 60.0)], false);
    let title = format!("{}'s crosspiece", e.end.word());
    v.label((middle, high + 60.0), (V2::new(0.0, 9.0), UPWARD), (Anchor::Middle, WORDS), title);
    let text = format!("notch {} wide", units.show(c.notch_width));
    v.dimension_past(((middle - notch, high), (middle + notch, high)), 4.0, text, true);
    let text = format!("{} deep", units.show(c.notch_depth));
    v.dimension(((middle + notch, high), (middle + notch, rest)), 4.0, text);
    let text = format!("notch's bottom {}", units.show(rest));
    v.dimension(((from + c.length, 0.0), (from + c.length, rest)), -4.0, text);
    let text = format!("crosspiece {}", units.show(c.length));
    v.dimension(((from, 0.0), (from + c.length, 0.0)), -5.0, text);
    from + c.length + 10.0 * v.d.reduced
}

/// The table of corners below the views.
fn corners(v: &mut View, jig: &Strongback, e: &EndStand, units: Units) {
    let low = v.d.bounds().map_or(0.0, |(low, _)| low.y);
    let mut at = P2::new(0.0, low - 2.0 * ROW);
    let heads = [
        "along the rails",
        "from the string",
        "above the floor",
        "tape, same side",
        "tape, across",
    ];
    let mut row = |name: &str, cells: [String; 5]| {
        v.d.text(Line::Text, at, FIGURES, 0.0, Anchor::Left, name);
        for (j, cell) in cells.into_iter().enumerate() {
            let place = at + V2::new(FIRST + COLUMN * (j as f64 + 0.5), 0.0);
            v.d.text(Line::Text, place, FIGURES, 0.0, Anchor::Middle, cell);
        }
        at -= V2::new(0.0, ROW);
    };
    row("corner", heads.map(String::from));
    for c in &e.corners {
        let figures = [jig.from_first(c.x), c.half_breadth, c.above_floor, c.near, c.far];
        row(&c.place.to_string(), figures.map(|mm| units.show(mm)));
    }
}
