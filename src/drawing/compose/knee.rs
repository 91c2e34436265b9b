//! The knee behind a motor, full size: its shape in the centreplane and where it is bolted.

use super::Line;
use super::{LARGE, SMALL, layers};
use crate::drawing::{Anchor, Drawing};
use crate::frames::Knee;
use crate::frames::transom_knee::BOLT_IN_KNEE_MM;
use crate::frames::transom_knee::WASHERS_MM;
use crate::geom::V2;
use crate::model::Model;
use crate::part::LineId;
use crate::units::Units;

/// Diameter of its bolts, mm (5/16 in). Common practice, no source.
const BOLT_MM: f64 = 8.0;

/// The pattern of the knee, lengths written in `units`.
pub fn knee_pattern(model: &Model, k: &Knee, units: Units) -> Drawing {
    let (width, length) = k.board();
    let mut d = Drawing::new(
        format!("{}: transom knee", model.hull.name),
        format!("{} thick · seen from port, aft at the right", units.fine(k.sided)),
        layers(),
    );
    d.polyline(Line::Cut, k.outline.clone(), true);
    for (bolts, way) in [(&k.bolts[0], k.forward), (&k.bolts[1], k.up)] {
        // Square to the face that it passes.
        let along = if way == k.forward { k.up } else { k.forward };
        let square = V2::new(-along.y, along.x);
        let inward = if square.dot(&way) < 0.0 { -square } else { square };
        for b in bolts {
            d.line(Line::Fastening, *b, b + BOLT_IN_KNEE_MM * inward);
            d.cross(Line::Fastening, *b, 8.0);
        }
    }
    let size = 0.8 * SMALL;
    d.dimension(
        Line::Dimension,
        (k.heel + k.height * k.up, k.heel),
        24.0,
        size,
        units.show(k.height),
    );
    d.dimension(
        Line::Dimension,
        (k.heel, k.heel + k.arm * k.forward),
        24.0,
        size,
        units.show(k.arm),
    );
    let centre = k.outline.iter().fold(V2::zeros(), |v, p| v + p.coords) / k.outline.len() as f64;
    let at = crate::geom::P2::from(centre);
    d.text(Line::Text, at + V2::new(-60.0, 0.0), SMALL, 0.0, Anchor::Left, "knee");
    // Grain from head to toe: the long edge.
    let (head, toe) = (k.outline[2], k.outline[3]);
    let grain = (toe - head).normalize();
    let off = 14.0 * V2::new(-grain.y, grain.x);
    let off = if off.dot(&(k.heel - head)) < 0.0 { -off } else { off };
    let (a, b) = (head + 0.3 * (toe - head) + off, head + 0.7 * (toe - head) + off);
    d.arrow(Line::Check, a, b, 12.0);
    d.arrow(Line::Check, b, a, 12.0);
    d.text(
        Line::Text,
        at + V2::new(-60.0, -1.8 * SMALL),
        size,
        0.0,
        Anchor::Left,
        "grain along the arrow",
    );
    let top = k.outline.iter().map(|p| p.y).fold(f64::NEG_INFINITY, f64::max);
    let left = k.outline.iter().map(|p| p.x).fold(f64::INFINITY, f64::min);
    let title = format!("{} · transom knee", model.hull.name);
    let over = crate::geom::P2::new(left, top + 2.0 * LARGE);
    d.text(Line::Text, over, LARGE, 0.0, Anchor::Left, title);
    d.note(format!(
        "Cut one of a board {} x {}, {} thick. Its upright edge stands against the motor's pad in the centreplane, its level edge on the keelson.",
        units.show(width),
        units.show(length),
        units.fine(k.sided)
    ));
    d.note(format!(
        "Glue it and bolt it with {} bolts at the marks, {} through pad and transom, {} through keelson and bottom: each ends at its mark, {} inside the knee, with nut and washer in a pocket cut there from the side. Washers {} wide under the heads outside, {} in the pockets, all bedded. Where its heel meets a cleat, notch the knee.",
        units.fine(BOLT_MM),
        k.bolts[0].len(),
        k.bolts[1].len(),
        units.show(BOLT_IN_KNEE_MM),
        units.fine(WASHERS_MM[0]),
        units.fine(WASHERS_MM[1])
    ));
    let outside = model.hull.transom.thickness_mm
        + model.woodwork.transom.as_ref().and_then(|t| t.cut_out).map_or(0.0, |c| c.pad_thickness);
    let keelson = model.members.iter().map(|b| &b.member).filter(|m| m.follows(LineId::Keel));
    let keelson = keelson.map(|m| m.moulded_mm).fold(0.0, f64::max);
    let below = keelson + model.panels.first().map_or(0.0, |p| p.thickness);
    d.note(format!(
        "Bolts under the head: {} through the transom, {} through the keelson, and the nut.",
        units.show(outside + BOLT_IN_KNEE_MM),
        units.show(below + BOLT_IN_KNEE_MM)
    ));
    d.note(
        "Caution: what a transom carries is an estimate here; the maker's plate, local rules and licensed practice decide.",
    );
    super::explain(&mut d, units);
    d
}
