//! What the work takes up: joints glued and fastened, seams taped, surfaces clothed and painted,
//! counted from the panels' edges, the frames and the register.

mod ends;

use std::f64::consts::{FRAC_PI_2, PI};

use super::{Laminated, PanelSplit};
use crate::float::painted::Painted;
use crate::geom::polyline::{area, bounds, length2};
use crate::geom::{P2, P3, V2, V3};
use crate::hull::MemberSide;
use crate::material::Immersion;
use crate::model::{Model, PanelModel};
use crate::panel::Ruling;
use crate::part::{Amount, LineId, PartId};
use crate::stock::stores::adhesive::{Fillet, GlueJoint};
use crate::stock::stores::cloth::Clothed;
use crate::stock::stores::fastenings::{Fastened, Number};
use crate::stock::stores::{Finish, Shop, Stores, Work, list};

/// Cloth runs past an edge by this, mm: two inches. Common practice, no source.
const CLOTH_LAP_MM: f64 = 50.0;
/// Radius of a fillet's hollow, mm: half an inch. Common practice, no source.
const FILLET_RADIUS_MM: f64 = 12.7;
/// A corner so open that its fillet would reach less than this from it (mm) is filled by the glue
/// that is squeezed out. Our judgement, no source.
const LEAST_LEG_MM: f64 = 5.0;
/// Of all coats so many are primer, at most. Common practice, no source.
const PRIMER_COATS: u32 = 2;
/// Coats of antifouling. Common practice, no source.
const FOUL_COATS: u32 = 2;

/// The list.
pub(super) fn stores(model: &Model, panels: &[PanelSplit], laminated: &[Laminated]) -> Stores {
    let plan = &model.hull.stock;
    let table = model.materials.stores.with_own_rows(&plan.stores);
    let shop = Shop { table: &table, plan };
    let mut work = Work::default();
    edges(model, &mut work);
    fillets(model, &mut work);
    frames(model, &mut work);
    battens(model, &mut work);
    joints(model, panels, &mut work);
    ends::ends(model, &mut work);
    ends::jig(model, &mut work);
    layers(model, laminated, &mut work);
    surfaces(model, &mut work);
    let afloat = &model.hull.afloat;
    let primer_coats = PRIMER_COATS.min(afloat.coats / 2);
    let finish = Finish {
        cloth_g_m2: afloat.cloth_g_m2,
        faired: afloat.cloth_g_m2 > 0.0,
        primer_coats,
        paint_coats: afloat.coats - primer_coats,
        // Who leaves her afloat all season keeps weed off; a boat that is hauled needs none.
        antifouling_coats: if plan.gluing.water == Immersion::Always { FOUL_COATS } else { 0 },
        temperature_c: plan.gluing.shop_c,
        ..Finish::default()
    };
    list(&shop, &work, &finish)
}

/// Panels on what runs along their edges, and on the boards at their ends; seams between them.
fn edges(model: &Model, work: &mut Work) {
    for p in &model.panels {
        for (line, length) in [(p.lower_line, p.edges.lower), (p.lower_line + 1, p.edges.upper)] {
            let Some(l) = model.lines.lines.get(line) else {
                continue;
            };
            let on_keel = l.is(LineId::Keel) || p.full_width && line == p.lower_line;
            // A flat bottom's middle is no edge; what lies along it is glued all the same.
            let rows = if p.full_width && on_keel { 1 } else { 2 };
            for b in model.members.iter().filter(|b| b.member.follows(l.id)) {
                // Two bottoms that meet on a keelson have half of it each.
                let half = if on_keel && !p.full_width { 0.5 } else { 1.0 };
                let name = format!("{} to {}", p.name, b.member.name);
                work.joints.push(laid_with(p, rows, length, half * b.member.sided_mm));
                // What lies outside is screwed through itself and the sheet into what lies inside.
                let within = |c: &&crate::bend::BentMember| {
                    c.member.side == MemberSide::Inside && c.member.follows(l.id)
                };
                let (thickness, into) = match b.member.side {
                    MemberSide::Inside => (p.thickness, b.member.moulded_mm),
                    MemberSide::Outside => {
                        let behind = model.members.iter().find(within);
                        let into = behind.map_or(0.0, |c| c.member.moulded_mm);
                        (p.thickness + b.member.moulded_mm, into)
                    }
                };
                for _ in 0..rows {
                    let number = Number::Along(length);
                    work.fastened.push(Fastened { name: name.clone(), number, thickness, into });
                }
            }
            // Every edge but the sheer and a flat bottom's middle is a seam outside.
            let seam = line + 1 < model.lines.lines.len() && !(p.full_width && on_keel);
            if seam && line == p.lower_line {
                work.seams.extend(std::iter::repeat_n(length, if on_keel { 1 } else { 2 }));
            }
        }
        let ends = [(p.edges.bow, model.woodwork.stem.is_some()), (p.edges.stern, false)];
        for (length, at_stem) in ends {
            let (into, what) = match at_stem {
                true => (model.hull.stem.sided_mm, "stem"),
                false => (model.hull.transom.framing_thickness_mm, "transom"),
            };
            if length > 1.0 {
                let name = format!("{} to {what}", p.name);
                work.joints.push(laid_with(p, 2, length, into));
                for _ in 0..2 {
                    work.fastened.push(Fastened {
                        name: name.clone(),
                        number: Number::Along(length),
                        thickness: p.thickness,
                        into,
                    });
                }
            }
        }
    }
}

/// A joint of a panel with what it lands on, `sides` of them on both hands together: a whole
/// bottom is laid with all of them in one go, a panel of each hand with its own.
fn laid_with(panel: &PanelModel, sides: u32, length: f64, width: f64) -> GlueJoint {
    let laid = panel.name.clone();
    match panel.full_width {
        true => GlueJoint { laid, length: f64::from(sides) * length, width, count: 1 },
        false => GlueJoint { laid, length, width, count: sides },
    }
}

/// Inside of every seam along which no stick lies: a fillet, ruling by ruling as open as the
/// corner is there.
fn fillets(model: &Model, work: &mut Work) {
    for p in &model.panels {
        let Some(line) = model.lines.lines.get(p.lower_line) else {
            continue;
        };
        let stick = |b: &crate::bend::BentMember| {
            b.member.follows(line.id) && b.member.side == MemberSide::Inside
        };
        // A flat bottom's middle is no seam; a keel's two sides are one.
        let copies = if p.lower_line == 0 { 1.0 } else { 2.0 };
        if p.full_width || model.members.iter().any(stick) {
            continue;
        }
        let at = |(r, open): (&Ruling, &f64)| {
            let angle = match p.lower_line {
                0 => corner_on_keel(r.normal_lower),
                _ => FRAC_PI_2 + open.atan(),
            };
            (r.lower, angle)
        };
        let edge: Vec<_> = p.surface.rulings.iter().zip(&p.laps.lower.open).map(at).collect();
        let open = |w: &&[(P3, f64)]| w.iter().all(|e| e.1.is_finite());
        let fillets = edge.windows(2).filter(open).map(|w| Fillet {
            name: format!("{} along the {}", p.name, line.id),
            length: copies * (w[1].0 - w[0].0).norm(),
            radius: FILLET_RADIUS_MM,
            angle: 0.5 * (w[0].1 + w[1].1),
        });
        work.fillets.extend(fillets.filter(|f| f.reach() >= LEAST_LEG_MM));
    }
}

/// Angle inside between a bottom of this outward normal and its mirror image, radians.
fn corner_on_keel(n: V3) -> f64 {
    PI - n.angle(&V3::new(n.x, -n.y, n.z))
}

/// The skin on the frames' edges, and gussets on their boards.
fn frames(model: &Model, work: &mut Work) {
    let framing = &model.hull.framing;
    for f in &model.woodwork.frames {
        for e in &f.section.edges {
            let Some(p) = model.panels.get(e.panel) else {
                continue;
            };
            let points: Vec<P2> = e.points.iter().map(|q| q.at).collect();
            let length = length2(&points);
            let name = format!("{} to frame {}", p.name, f.station);
            work.joints.push(laid_with(p, 2, length, framing.sided_mm));
            for _ in 0..2 {
                work.fastened.push(Fastened {
                    name: name.clone(),
                    number: Number::Along(length),
                    thickness: p.thickness,
                    into: framing.side_depth_mm.min(framing.bottom_depth_mm),
                });
            }
        }
        for g in &f.gussets {
            let copies = if g.whole { 1 } else { 2 };
            let laid = format!("gussets of frame {}", f.station);
            work.joints.push(GlueJoint::of_face(laid, area(&g.outline), copies));
            work.fastened.push(Fastened {
                name: format!("gussets of frame {}", f.station),
                number: Number::Pieces(copies * g.fastenings.len() as u32),
                thickness: framing.gusset_mm,
                into: framing.sided_mm,
            });
        }
        // One board of a lap on the other, on both sides of her.
        if !f.lap_fastenings.is_empty() {
            work.fastened.push(Fastened {
                name: format!("laps of frame {}", f.station),
                number: Number::Pieces(2 * f.lap_fastenings.len() as u32),
                thickness: framing.sided_mm,
                into: framing.sided_mm,
            });
        }
    }
}

/// Battens on the bottom, glued and screwed through the sheet.
fn battens(model: &Model, work: &mut Work) {
    for part in model.parts.all() {
        let (PartId::Member(id), Amount::Length(length)) = (part.id, part.amount) else {
            continue;
        };
        let Some(b) = model.members.get(id.0).filter(|b| b.path.is_some()) else {
            continue;
        };
        let sheet = model.panels.iter().find(|p| b.member.line == p.name);
        let name = format!("{} to the skin", part.name);
        let copies = part.copies.count();
        // They lie on the frames when the sheet comes down on them.
        let width = b.member.sided_mm;
        work.joints.push(match sheet {
            Some(p) => laid_with(p, copies as u32, length, width),
            None => GlueJoint { laid: name.clone(), length, width, count: copies as u32 },
        });
        for _ in 0..copies {
            work.fastened.push(Fastened {
                name: name.clone(),
                number: Number::Along(length),
                thickness: sheet.map_or(0.0, |p| p.thickness),
                into: b.member.moulded_mm,
            });
        }
    }
}

/// Boards glued up of layers, over all of their faces.
fn layers(model: &Model, laminated: &[Laminated], work: &mut Work) {
    for l in laminated {
        let Some(Amount::Area(square)) = model.parts.get(l.part).map(|p| p.amount) else {
            continue;
        };
        let laid = format!("layers of the {}", l.name);
        work.joints.push(GlueJoint::of_face(laid, square, (l.layers() - 1) as u32));
    }
}

/// Scarfs and butt blocks of the panels.
fn joints(model: &Model, panels: &[PanelSplit], work: &mut Work) {
    for split in panels {
        let thickness = model.panels[split.panel.0].thickness;
        for j in &split.split.joints {
            let name = format!("{} of the {}", j.kind.word(), split.name);
            let (across, copies) =
                (j.lines.first().map_or(0.0, |[a, b]| (b - a).norm()), split.copies.count() as u32);
            if j.blocks.is_empty() {
                let (laid, width) = (name.clone(), j.taken);
                work.joints.push(GlueJoint { laid, length: across, width, count: copies });
            }
            for block in &j.blocks {
                let square = area(block).abs();
                // What runs through between blocks has glue of its own.
                work.joints.push(GlueJoint::of_face(name.clone(), square, copies));
                // Two rows of screws on each side of the cut.
                let row = square / j.taken.max(1.0);
                for _ in 0..4 * split.copies.count() {
                    work.fastened.push(Fastened {
                        name: name.clone(),
                        number: Number::Along(row),
                        thickness,
                        into: thickness,
                    });
                }
            }
        }
    }
}

/// How far an outline reaches along a direction, mm.
fn extent(outline: &[P2], along: V2) -> f64 {
    let spread = outline.iter().map(|p| p.coords.dot(&along));
    let (low, high) =
        spread.fold((f64::INFINITY, f64::NEG_INFINITY), |(l, h), v| (l.min(v), h.max(v)));
    (high - low).max(0.0)
}

/// What is clothed and painted.
fn surfaces(model: &Model, work: &mut Work) {
    let painted = Painted::of(model.parts.all());
    (work.outside, work.inside) = (painted.outside, painted.inside);
    for part in model.parts.all() {
        let (PartId::Panel(id), Amount::Area(both)) = (part.id, part.amount) else {
            continue;
        };
        let p = &model.panels[id.0];
        let Some((low, high)) = bounds(p.finished_outline()) else {
            continue;
        };
        let copies = part.copies.count();
        for _ in 0..copies {
            work.clothed.push(Clothed {
                name: p.name.clone(),
                length: high.x - low.x,
                width: high.y - low.y,
                area: both / copies as f64,
                lap: CLOTH_LAP_MM,
            });
        }
    }
    for part in model.parts.all() {
        if let (PartId::Foam(_), Amount::Volume(all)) = (part.id, part.amount) {
            work.foam += all;
        }
    }
    let marked = model.afloat.as_deref().and_then(|a| a.marked.as_ref());
    work.below_water = marked.map_or(0.0, |m| m.below);
}
