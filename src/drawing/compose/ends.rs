//! Transom and stem at full size.

use super::Line;
use super::frame::bevel_labels;
use super::{LARGE, SMALL, layers};
use crate::drawing::{Anchor, Drawing};
use crate::finding::{Fact, Finding, Severity};
use crate::frames::pieces::to_port;
use crate::frames::transom::CutOut;
use crate::frames::{Stem, Transom};
use crate::geom::ring::level_span;
use crate::geom::{P2, V2};
use crate::model::Model;
use crate::units::{Units, half_degrees};
use crate::words::bevels::CONVENTION;
use crate::words::finding::{on_its_transom, said};

/// The transom in its true plane, lengths written in `units`.
pub fn transom_pattern(model: &Model, t: &Transom, units: Units) -> Drawing {
    let name = if t.at_bow { "bow transom" } else { "transom" };
    let plan = &model.hull.transom;
    let face = if t.outside_larger { "outer" } else { "inner" };
    let mut d = Drawing::new(
        format!("{}: {name}", model.hull.name),
        format!(
            "{} thick · pattern of its {face} face · raked {}",
            units.fine(plan.thickness_mm),
            half_degrees(t.rake)
        ),
        layers(),
    );
    d.polyline(Line::Cut, t.outline.clone(), true);
    for (layer, half) in [(Line::Finished, t.section.half()), (Line::Far, t.far.half())] {
        d.polyline(layer, to_port(&half), false);
        d.polyline(layer, half, false);
    }
    for p in &t.framing {
        d.polyline(Line::Plate, p.outline.clone(), true);
        if !p.whole {
            d.polyline(Line::Plate, to_port(&p.outline), true);
        }
    }
    for l in &t.landings {
        for ring in [l.corners.to_vec(), to_port(&l.corners)] {
            d.polyline(Line::Member, ring, true);
        }
        let at = l.corners.iter().fold(V2::zeros(), |v, p| v + p.coords) / 4.0;
        // On port, inside the corner, where no bevel is written.
        let at = P2::new(-at.x + if at.x > 1.0 { 16.0 } else { 50.0 }, at.y);
        d.text(Line::Text, at, 4.0, 0.0, Anchor::Left, format!("{} lands here", l.name));
    }
    let whole = crate::frames::section::whole(&t.section.half());
    super::waterline::across(&mut d, model, &t.section.across, &whole, 1.0);
    let half = t.section.half();
    let low = half[0].y;
    let widest = half.iter().map(|p| p.x).fold(0.0, f64::max);
    d.line(Line::Level, P2::new(0.0, low - 30.0), P2::new(0.0, t.top + 30.0));
    d.text(Line::Text, P2::new(3.0, low - 26.0), SMALL, 0.0, Anchor::Left, "centreline");
    for e in &t.ends {
        d.note(super::bow::end_cut_words(model, e, &format!("{name}'s inner face"), units));
    }
    bevel_labels(&mut d, &t.bevels, units, 1.0);
    d.note(CONVENTION);
    motor(&mut d, model, t, units);
    for (i, e) in t.section.edges.iter().enumerate() {
        let at = e.last().at;
        let y = low - 45.0 - 16.0 * i as f64;
        let line = model.lines.lines[e.panel + 1].id;
        d.dimension(
            Line::Dimension,
            (P2::new(0.0, y), P2::new(at.x, y)),
            0.0,
            0.7 * SMALL,
            format!("{line} {}", units.show(at.x)),
        );
        let x = -widest - 30.0 - 16.0 * i as f64;
        d.dimension(
            Line::Dimension,
            (P2::new(x, low), P2::new(x, at.y)),
            0.0,
            0.7 * SMALL,
            format!("{line} {}", units.show(at.y - low)),
        );
    }
    let top = t.top + 50.0;
    d.text(
        Line::Text,
        P2::new(-widest, top),
        LARGE,
        0.0,
        Anchor::Left,
        format!("{} · {name}", model.hull.name),
    );
    d.note(format!("Pattern of its {face} face, the larger: cut on the heavy line, then bevel."));
    d.note(format!(
        "{} wide in all, {} high, measured in its own slope, not upright.",
        units.show(t.width()),
        units.show(t.height())
    ));
    d.note("Dashed: cleats on the inner face, and where members land.");
    let foot = P2::new(-0.6 * widest, low + 0.55 * (t.top - low));
    d.arrow(Line::Check, foot, foot + V2::new(0.0, 70.0), 18.0);
    d.text(Line::Text, foot + V2::new(5.0, 8.0), SMALL, 0.0, Anchor::Left, "up");
    super::bevel_section::beside_edges(&mut d, model, &t.section, &t.bevels, units, 1.0);
    super::explain(&mut d, units);
    d
}

/// What whoever saws the cut-out must know of the motor, and what is found against it.
pub(super) fn motor_words(model: &Model, c: &CutOut, units: Units) -> Vec<String> {
    let m = &model.hull.motor;
    let mut out = vec![format!(
        "{} motor: {} from seat to plate. Pad {} thick inside: {} for the clamps. Measure your own motor before you cut.",
        crate::words::capital(m.shaft.word()),
        units.show(m.shaft.length()),
        units.fine(c.pad_thickness),
        units.fine(m.clamped_mm)
    )];
    let hung = |f: &&Finding| matches!(f.fact, Fact::Hung(_));
    let found = model.findings.iter().filter(hung);
    out.extend(found.filter(|f| f.severity != Severity::Note).map(|f| {
        let said = said(f, units);
        let place = on_its_transom(&f.place).unwrap_or(&said.place);
        let grave = if f.severity == Severity::Stop { "Do not hang it so" } else { "Mind" };
        format!("{grave}, {place}: {}.", said.message)
    }));
    out
}

/// The clamps' pad, and how the seat stands to the bottom.
fn motor(d: &mut Drawing, model: &Model, t: &Transom, units: Units) {
    let Some(c) = &t.cut_out else {
        return;
    };
    let m = &model.hull.motor;
    let x = 0.5 * m.pad_width_mm;
    d.polyline(Line::Plate, c.pad(m.pad_width_mm).to_vec(), true);
    let right = 0.5 * c.width + 25.0;
    d.dimension(
        Line::Dimension,
        (P2::new(right, c.bottom), P2::new(right, c.seat)),
        0.0,
        0.7 * SMALL,
        format!("bottom's outside to seat {}", units.show(c.seat - c.bottom)),
    );
    for sentence in motor_words(model, c, units) {
        d.note(sentence);
    }
    d.text(
        Line::Text,
        P2::new(-x + 6.0, c.seat - 2.5 * SMALL),
        0.8 * SMALL,
        0.0,
        Anchor::Left,
        "pad",
    );
    if c.depth > 0.0 {
        d.dimension(
            Line::Dimension,
            (P2::new(-0.5 * c.width - 18.0, c.seat), P2::new(-0.5 * c.width - 18.0, t.top)),
            0.0,
            0.7 * SMALL,
            units.show(c.depth),
        );
        d.dimension(
            Line::Dimension,
            // From the centreline, so that the figure is the line's own length on a half too.
            (P2::new(0.0, c.seat), P2::new(0.5 * c.width, c.seat)),
            12.0,
            0.7 * SMALL,
            format!("half {}", units.show(0.5 * c.width)),
        );
    }
}

/// Height of capitals of the words at a stem's heights, mm.
const HEIGHTS: f64 = 5.0;
/// A stem's front narrower than twice this (mm) is called sharp.
const SHARP_MM: f64 = 0.5;

/// Where the two parts of a stem lap: half of its thickness is taken from each, between two
/// lines square to its chord about the middle.
fn lap_lines(d: &mut Drawing, s: &Stem) {
    let (foot, head) = (s.profile[0], s.profile[s.profile.len() - 1]);
    let Some(e) = (head - foot).try_normalize(1e-9) else {
        return;
    };
    let across = V2::new(e.y, -e.x);
    let middle = foot + 0.5 * (head - foot);
    for way in [-0.5, 0.5] {
        let at = middle + way * s.lap * e;
        d.line(Line::Plate, at - s.board_width * across, at + s.board_width * across);
    }
    d.text(Line::Text, middle, 5.0, 0.0, Anchor::Left, "lap: half of the thickness from each part");
}

/// To what the inner stem is planed before the sides go on.
fn front_words(s: &Stem, units: Units) -> String {
    let front = if s.half_siding < SHARP_MM {
        "a sharp front edge".to_string()
    } else {
        format!("a front {} wide", units.fine(2.0 * s.half_siding))
    };
    let then = if s.outer.is_some() {
        "; the flat for the outer stem is planed once the sides are glued"
    } else {
        ""
    };
    format!("plane both sides from the dashed line to {front}, where they land{then}")
}

/// A stem's blank with its rolling bevel, lengths written in `units`.
pub fn stem_pattern(model: &Model, s: &Stem, units: Units) -> Drawing {
    let name = if s.at_stern { "sternpost" } else { "stem" };
    let plan = &model.hull.stem;
    let mut d = Drawing::new(
        format!("{}: {name}", model.hull.name),
        format!("sided {}, moulded {}", units.show(plan.sided_mm), units.show(plan.moulded_mm)),
        layers(),
    );
    d.polyline(Line::Cut, s.outline.clone(), true);
    d.polyline(Line::Finished, s.profile.clone(), false);
    let aft = if s.at_stern { -1.0 } else { 1.0 };
    // The bearding line: where the bevel ends on the side's face.
    let n = s.bevels.len();
    let normal = |i: usize| {
        let (a, b) = (s.bevels[i.saturating_sub(1)].at, s.bevels[(i + 1).min(n - 1)].at);
        let e = (b - a).try_normalize(1e-9).unwrap_or_else(V2::y);
        let v = V2::new(e.y, -e.x);
        if v.x * aft >= 0.0 { v } else { -v }
    };
    let beard: Vec<P2> = (0..n)
        .map(|i| s.bevels[i].at + s.bevels[i].back.min(plan.moulded_mm) * normal(i))
        .collect();
    d.polyline(Line::Member, beard.clone(), false);
    for (i, b) in s.bevels.iter().enumerate() {
        d.line(Line::Check, b.at, beard[i]);
        let text = format!(
            "{} up · half angle {} · plane {} back, {} land",
            units.show(b.at.y),
            half_degrees(b.half_angle),
            units.fine(b.back),
            units.fine(b.land)
        );
        // Always at the right and at its mark's own height: behind a stem, aft of a
        // sternpost's profile; a thin level line leads to it.
        let wood = level_span(&s.outline, b.at.y).map_or(b.at.x, |[_, right]| right.x);
        let mut at = P2::new(wood.max(b.at.x) + 14.0, b.at.y - 0.5 * HEIGHTS);
        // Clear of the knee, which stands where the lowest would be written.
        if let Some(k) = s.joint.as_ref().and_then(|j| j.knee.as_ref())
            && aft > 0.0
            && at.y < k.outline[2].y + 8.0
        {
            at.x = at.x.max(k.outline[1].x + 8.0);
        }
        d.line(Line::Check, P2::new(b.at.x.max(beard[i].x), b.at.y), P2::new(at.x - 3.0, b.at.y));
        d.text(Line::Text, at, HEIGHTS, 0.0, Anchor::Left, text);
    }
    super::waterline::on_stem(&mut d, model, &s.outline);
    super::bow::landings_on_stem(&mut d, s);
    super::bow::knee_on_stem(&mut d, s);
    super::bow::flat_on_stem(&mut d, s);
    for e in &s.ends {
        d.note(super::bow::end_cut_words(model, e, &format!("{name}'s side"), units));
    }
    for sentence in super::bow::joint_words(s, units) {
        d.note(sentence);
    }
    d.note(super::bow::sides_words(model, s, units));
    if s.parts > 1 {
        lap_lines(&mut d, s);
    }
    let head = s.profile[s.profile.len() - 1];
    d.line(Line::Level, head, head + plan.moulded_mm * 1.3 * V2::new(aft, 0.0));
    d.text(Line::Text, head + V2::new(aft * 6.0, 4.0), 5.0, 0.0, Anchor::Left, "sheer");
    let left = s.outline.iter().map(|p| p.x).fold(f64::INFINITY, f64::min);
    let top = s.outline.iter().map(|p| p.y).fold(f64::NEG_INFINITY, f64::max);
    d.note(format!(
        "From a board {} x {}; cut one, {} too long at the head to trim.",
        units.show(s.board_width),
        units.show(s.board_length),
        units.show(plan.over_mm)
    ));
    d.note(format!("{}.", crate::words::capital(&front_words(s, units))));
    d.note(CONVENTION);
    d.note("Beside each height: half the angle between the sides, how far back from the front the side's face is planed, and the breadth on which the side lands.");
    if s.parts > 1 {
        d.note(format!("No board is so wide: two parts lapped {}.", units.show(s.lap)));
    }
    let at = P2::new(left, top + 25.0);
    d.text(Line::Text, at, LARGE, 0.0, Anchor::Left, format!("{} · {name}", model.hull.name));
    let foot = P2::new(left - 20.0, 0.5 * (s.profile[0].y + head.y));
    d.arrow(Line::Check, foot, foot + V2::new(0.0, 60.0), 16.0);
    d.text(Line::Text, foot + V2::new(4.0, 6.0), 5.0, 0.0, Anchor::Left, "up");
    let forward = P2::new(left - 20.0, 0.5 * (s.profile[0].y + head.y) - 20.0);
    d.arrow(Line::Check, forward, forward - V2::new(60.0, 0.0), 16.0);
    d.text(Line::Text, forward + V2::new(-58.0, -10.0), 5.0, 0.0, Anchor::Left, "forward");
    super::explain(&mut d, units);
    d
}
