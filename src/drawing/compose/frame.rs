//! A frame at full size as it is put together: everything in its place, nothing to cut.

use super::bevel_section::{self, Bevelled};
use super::layer::{
    CHECK, CLEAR, DIMENSION, FAR, FASTENING, LEVEL, MEMBER, OUTLINE, PLATE, STATION, TEXT,
};
use super::{LARGE, SMALL, layers};
use crate::drawing::{Anchor, Drawing};
use crate::frames::bevel::CONVENTION;
use crate::frames::pieces::to_port;
use crate::frames::{BevelAt, Frame};
use crate::geom::{P2, V2};
use crate::hull::Face;
use crate::model::Model;
use crate::units::{Units, half_degrees};

/// Bevels are written this far (mm) outside the edge.
const BESIDE: f64 = 12.0;
/// Size of the cross that marks a fastening, mm.
const MARK: f64 = 5.0;

/// The frame put together, lengths written in `units`.
pub fn frame_assembly(model: &Model, f: &Frame, units: Units) -> Drawing {
    let title = format!("{}: frame {}", model.hull.name, f.station);
    let subtitle = format!(
        "{} aft · drawn on its {} face · {:.0} mm thick",
        units.show(f.x),
        f.face.word(),
        model.hull.framing.sided_mm
    );
    let mut d = Drawing::new(title, subtitle, layers());
    both(&mut d, OUTLINE, f.pieces.iter().map(|p| (p.outline.as_slice(), p.whole)));
    both(
        &mut d,
        PLATE,
        f.gussets.iter().filter(|g| g.on_face).map(|g| (g.outline.as_slice(), g.whole)),
    );
    both(&mut d, CLEAR, f.keep_clear.iter().map(|r| (r.as_slice(), false)));
    // The skin on either face: the pattern's face full, the far one dashed.
    for (layer, half) in [(STATION, f.section.half()), (FAR, f.far.half())] {
        d.polyline(layer, to_port(&half), false);
        d.polyline(layer, half, false);
    }
    for n in &f.notches {
        for side in [n.corners.to_vec(), to_port(&n.corners)] {
            d.polyline(MEMBER, side, true);
        }
        for side in [n.far_corners.to_vec(), to_port(&n.far_corners)] {
            d.polyline(FAR, side, true);
        }
    }
    for g in f.gussets.iter().filter(|g| g.on_face) {
        for p in &g.fastenings {
            d.cross(FASTENING, *p, MARK);
            if !g.whole {
                d.cross(FASTENING, P2::new(-p.x, p.y), MARK);
            }
        }
    }
    for p in &f.lap_fastenings {
        for x in [p.x, -p.x] {
            d.cross(FASTENING, P2::new(x, p.y), MARK);
        }
    }
    for l in &f.limbers {
        for bit in if l.is_round() { vec![l.centre] } else { vec![l.centre, l.far] } {
            for x in [bit.x, -bit.x] {
                d.cross(FASTENING, P2::new(x, bit.y), 2.0 * MARK);
            }
        }
    }
    bevel_labels(&mut d, &f.bevels, units);
    bevel_section::inside_edges(&mut d, model, &f.section, &f.bevels, units);
    let whole = crate::frames::section::whole(&f.section.half());
    super::waterline::across(&mut d, model, &f.section.across, &whole);
    lines(&mut d, model, f, units);
    words(&mut d, model, f, units);
    d.note(CONVENTION);
    if let Some(l) = f.limbers.first() {
        d.note(format!(
            "limbers: bore {} at the large crosses, through the frame and all that lies on it",
            units.show(2.0 * l.radius)
        ));
        if let Some(rain) = crate::model::Rain::of(model) {
            d.note(format!("limbers: {}", rain.told(model, units)));
        }
    }
    d
}

/// Rings on starboard and, unless whole, on port.
fn both<'a>(d: &mut Drawing, layer: usize, rings: impl Iterator<Item = (&'a [P2], bool)>) {
    for (ring, is_whole) in rings {
        d.polyline(layer, ring.to_vec(), true);
        if !is_whole {
            d.polyline(layer, to_port(ring), true);
        }
    }
}

/// Bevels beside the starboard edge: degrees, run over the thickness, and off which face.
pub(super) fn bevel_labels(d: &mut Drawing, all: &[BevelAt], units: Units) {
    for (i, b) in all.iter().enumerate() {
        // The neighbour on the same edge gives its direction.
        let same = |j: &usize| all[*j].panel == b.panel;
        let Some(j) = [i + 1, i.wrapping_sub(1)].into_iter().filter(|j| *j < all.len()).find(same)
        else {
            continue;
        };
        let near = &all[j];
        let Some(e) = (near.at - b.at).try_normalize(1e-9) else {
            continue;
        };
        let e = if e.y + 0.2 * e.x < 0.0 { -e } else { e };
        let out = V2::new(e.y, -e.x);
        d.line(CHECK, b.at, b.at + 0.6 * BESIDE * out);
        let text = b.label(units);
        let level = e.y.abs() < e.x.abs();
        let at = b.at + BESIDE * out - if level { V2::new(0.0, 0.6 * SMALL) } else { V2::zeros() };
        let anchor = if level { Anchor::Middle } else { Anchor::Left };
        d.text(TEXT, at, 0.7 * SMALL, 0.0, anchor, text);
    }
}

/// Centreline, level line, cross-spall, half-breadths and heights.
fn lines(d: &mut Drawing, model: &Model, f: &Frame, units: Units) {
    let half = f.section.half();
    let (Some(low), Some(head)) = (half.first(), half.last()) else {
        return;
    };
    let widest = half.iter().map(|p| p.x).fold(0.0, f64::max);
    d.line(LEVEL, P2::new(0.0, low.y - 40.0), P2::new(0.0, head.y + 40.0));
    d.text(TEXT, P2::new(3.0, head.y + 32.0), SMALL, 0.0, Anchor::Left, "centreline");
    if let Some(s) = f.spall {
        let corner = |x: f64, y: f64| P2::new(x, y);
        d.polyline(
            PLATE,
            vec![
                corner(-s.half_length, s.level),
                corner(s.half_length, s.level),
                corner(s.half_length, s.low),
                corner(-s.half_length, s.low),
            ],
            true,
        );
        d.line(LEVEL, P2::new(-widest - 20.0, s.level), P2::new(widest + 20.0, s.level));
        d.text(
            TEXT,
            P2::new(12.0, s.level - 1.6 * SMALL),
            SMALL,
            0.0,
            Anchor::Left,
            format!(
                "level line {} · cross-spall {}",
                units.show(s.level),
                units.show(2.0 * s.half_length)
            ),
        );
    }
    // Half-breadths to starboard and heights to port of every corner.
    let corners: Vec<(String, P2)> = f
        .section
        .edges
        .iter()
        .map(|e| (model.lines.lines[e.panel + 1].name.clone(), e.last().at))
        .collect();
    for (i, (name, at)) in corners.iter().enumerate() {
        let y = low.y - 40.0 - 16.0 * i as f64;
        let text = format!("{name} {}", units.show(at.x));
        d.dimension(DIMENSION, (P2::new(0.0, y), P2::new(at.x, y)), 0.0, 0.7 * SMALL, text);
        d.line(DIMENSION, P2::new(at.x, y - 3.0), P2::new(at.x, at.y - 4.0));
        let x = -widest - 40.0 - 16.0 * i as f64;
        let text = format!("{name} {}", units.show(at.y - low.y));
        d.dimension(DIMENSION, (P2::new(x, low.y), P2::new(x, at.y)), 0.0, 0.7 * SMALL, text);
        d.line(DIMENSION, P2::new(x - 3.0, at.y), P2::new(-at.x - 4.0, at.y));
    }
    if corners.len() > 1 {
        let (a, b) = (corners[0].1, corners[corners.len() - 1].1);
        let a = P2::new(-a.x, a.y);
        let e = (b - a).try_normalize(1e-9).unwrap_or_else(V2::x);
        d.line(CHECK, a + 30.0 * e, a + 90.0 * e);
        d.line(CHECK, b - 30.0 * e, b - 90.0 * e);
        d.text(
            CHECK,
            a + 95.0 * e,
            0.8 * SMALL,
            e.y.atan2(e.x),
            Anchor::Left,
            format!("both diagonals {}", units.show((b - a).norm())),
        );
    }
}

fn words(d: &mut Drawing, model: &Model, f: &Frame, units: Units) {
    let half = f.section.half();
    let (Some(low), Some(head)) = (half.first(), half.last()) else {
        return;
    };
    let behind = match f.face {
        Face::Aft => "ahead of it",
        Face::Fore => "abaft it",
    };
    let mut lines = vec![
        format!(
            "seen on its {} face, the larger: it stands on the station's line, the wood {behind}",
            f.face.word()
        ),
        "dashed thin: the far face · dotted: no fastening there, it is cut or planed away".into(),
    ];
    for p in &f.pieces {
        lines.push(format!(
            "{}: {} of board {} x {}",
            p.name,
            p.count(),
            units.show(p.board_width),
            units.show(p.board_length)
        ));
    }
    for n in &f.notches {
        let m = &model.members[n.member].member;
        lines.push(format!(
            "{}: {:.0} x {:.0} mm, saw leaning {}",
            n.name,
            m.moulded_mm,
            m.sided_mm,
            half_degrees(n.lean)
        ));
    }
    let top = head.y + 60.0 + 1.7 * SMALL * lines.len() as f64 + 2.0 * LARGE;
    let left = -half.iter().map(|p| p.x).fold(0.0, f64::max);
    d.text(
        TEXT,
        P2::new(left, top),
        LARGE,
        0.0,
        Anchor::Left,
        format!("{} · frame {} · {}", model.hull.name, f.station, units.show(f.x)),
    );
    d.words(TEXT, P2::new(left, top - 2.0 * LARGE), SMALL, &lines);
    let foot = P2::new(left - 10.0, low.y + 0.3 * (head.y - low.y));
    d.arrow(CHECK, foot, foot + V2::new(0.0, 80.0), 20.0);
    d.text(TEXT, foot + V2::new(6.0, 10.0), SMALL, 0.0, Anchor::Left, "up");
    let out = P2::new(0.35 * -left, low.y + 0.5 * (head.y - low.y));
    d.arrow(CHECK, out, out + V2::new(80.0, 0.0), 20.0);
    d.text(
        TEXT,
        out + V2::new(0.0, 6.0),
        SMALL,
        0.0,
        Anchor::Left,
        match f.face {
            Face::Aft => "starboard",
            Face::Fore => "this drawing looks aft: port is at the right",
        },
    );
}
