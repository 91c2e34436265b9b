//! The pattern of one panel, with every mark that must be made before it leaves the bench.

use super::bevel_section::{self, Bevelled};
use super::layer::{CHECK, CORNER, CUT, FINISHED, LEVEL, MEMBER, RULING, STATION, TEXT};
use super::{LARGE, SMALL, layers};
use crate::drawing::{Anchor, Drawing};
use crate::flat::laps::Role;
use crate::flat::outline::Past;
use crate::flat::{marks, outline};
use crate::frames::bevel::{self, CONVENTION};
use crate::frames::notch::let_down;
use crate::geom::{P2, V2};
use crate::hull::MemberSide;
use crate::model::{Model, PanelModel};
use crate::units::Units;

/// Rulings drawn on a pattern: about one in a hand's breadth.
const RULINGS_DRAWN: usize = 24;
/// A lap of less than this (mm) is not drawn apart from its line.
const LEAST_LAP: f64 = 0.3;
/// Sections of bevelled edges stand this far (mm) inside the edge.
const BEVEL_INSIDE: f64 = 14.0;
/// Height (mm) to which the level line is rounded, so that it can be said aloud.
const LEVEL_STEP: f64 = 50.0;

/// Both halves of a mark on a full-width panel; one on any other.
fn halves(p: &PanelModel, points: Vec<P2>) -> Vec<Vec<P2>> {
    if !p.full_width {
        return vec![points];
    }
    let mirrored: Vec<P2> = points.iter().map(|q| P2::new(q.x, -q.y)).collect();
    vec![points, mirrored]
}

/// The full-size pattern of panel `p`, lengths written in `units`.
pub fn panel_pattern(model: &Model, p: &PanelModel, units: Units) -> Drawing {
    let title = format!("{}: {}", model.hull.name, p.name);
    let subtitle = format!("{}, measured {:.1} mm", p.sheet, p.thickness);
    let mut d = Drawing::new(title, subtitle, layers());
    let finished = finished_outline(p);
    let allowance = model.hull.planking.trim_allowance_mm;
    d.polyline(CUT, outline::grown(&finished, allowance), true);
    if allowance > 0.0 {
        d.polyline(FINISHED, finished.clone(), true);
    }
    draw_corner_lines(&mut d, p);
    super::bow::post_lines(&mut d, model, p, units);
    draw_rulings(&mut d, p);
    draw_stations(&mut d, model, p, units);
    draw_members(&mut d, model, p);
    super::battens::on_panel(&mut d, model, p);
    draw_level(&mut d, p, units);
    super::waterline::on_panel(&mut d, model, p);
    draw_checks(&mut d, p, units);
    draw_bevels(&mut d, model, p, units);
    write_words(&mut d, model, p, units);
    d
}

/// The edge that the panel has on the boat: with what its laps add past its lines.
pub fn finished_outline(p: &PanelModel) -> Vec<P2> {
    let past = Past {
        lower: &p.laps.lower.added,
        upper: &p.laps.upper.added,
        bow: &p.past_posts[0],
        stern: &p.past_posts[1],
    };
    outline::with_laps(&p.flat, p.full_width, past)
}

/// The lines that the frames' corners touch, where a lap runs past them.
fn draw_corner_lines(d: &mut Drawing, p: &PanelModel) {
    for (edge, points) in
        [(&p.laps.lower, p.flat.lower_edge()), (&p.laps.upper, p.flat.upper_edge())]
    {
        if edge.most_added() > LEAST_LAP {
            for half in halves(p, points) {
                d.polyline(CORNER, half, false);
            }
        }
    }
}

fn draw_rulings(d: &mut Drawing, p: &PanelModel) {
    let every = (p.flat.rulings.len() / RULINGS_DRAWN).max(1);
    for [a, b] in marks::rulings(&p.flat, every) {
        for half in halves(p, vec![a, b]) {
            d.polyline(RULING, half, false);
        }
    }
}

fn draw_stations(d: &mut Drawing, model: &Model, p: &PanelModel, units: Units) {
    for (i, x) in model.stations.iter().enumerate() {
        let mark = marks::station(&p.flat, *x);
        let (Some(a), Some(b)) = (mark.first().copied(), mark.last().copied()) else {
            continue;
        };
        let along = b - a;
        if along.norm() > 6.0 * SMALL {
            let angle = along.y.atan2(along.x);
            // Beside the line, clear of it.
            let at = a + 0.08 * along + V2::new(-angle.sin(), angle.cos()) * 2.5;
            d.text(
                TEXT,
                at,
                SMALL,
                angle,
                Anchor::Left,
                format!("station {} · {}", i + 1, units.show(*x)),
            );
        }
        for half in halves(p, mark) {
            d.polyline(STATION, half, false);
        }
    }
}

fn draw_members(d: &mut Drawing, model: &Model, p: &PanelModel) {
    for bent in &model.members {
        let m = &bent.member;
        if m.side == MemberSide::Outside {
            continue;
        }
        let on_upper = m.line == model.upper_line_name(p);
        // A chine log lies against the panel above its chine; a clamp below the sheer.
        let hosts_upper = on_upper && p.lower_line + 2 == model.lines.lines.len();
        let hosts_lower = m.line == model.lower_line_name(p);
        if !hosts_upper && !hosts_lower {
            continue;
        }
        // A keelson lies across the centreline, half on each side; a log at a chine that
        // opens is let down past it, to be planed flush.
        let width = |i: usize| match m.line.as_str() {
            "keel" => 0.5 * m.sided_mm,
            _ if hosts_lower => {
                let open = p.laps.lower.open.get(i).copied().filter(|o| o.is_finite());
                m.sided_mm - let_down(open.unwrap_or(0.0), m.moulded_mm, m.sided_mm)
            }
            _ => m.sided_mm,
        };
        for half in halves(p, marks::member_edge(&p.flat, hosts_upper, width)) {
            d.polyline(MEMBER, half, false);
        }
    }
}

/// The level mark: a line of one height on a side, the centreline on a flat bottom.
fn draw_level(d: &mut Drawing, p: &PanelModel, units: Units) {
    if p.full_width {
        let edge = p.flat.lower_edge();
        if let (Some(a), Some(b)) = (edge.first().copied(), edge.last().copied()) {
            d.line(LEVEL, a, b);
            d.text(
                TEXT,
                a + 0.06 * (b - a) + V2::new(0.0, 3.0),
                SMALL,
                0.0,
                Anchor::Left,
                "centreline",
            );
        }
        return;
    }
    let middle = &p.flat.rulings[p.flat.rulings.len() / 2];
    let height = 0.5 * (middle.lower.z + middle.upper.z);
    let z = (height / LEVEL_STEP).round() * LEVEL_STEP;
    let mark = marks::level(&p.flat, z);
    if mark.len() < 2 {
        return;
    }
    // Beside the mark, well aft so that it does not meet the name in the middle.
    let at = mark[mark.len() * 4 / 5];
    let next = mark[(mark.len() * 4 / 5 + 1).min(mark.len() - 1)];
    let angle = (next.y - at.y).atan2((next.x - at.x).max(1e-9));
    d.text(
        TEXT,
        at + V2::new(0.0, 3.0),
        SMALL,
        angle,
        Anchor::Left,
        format!("level {}", units.show(z)),
    );
    d.polyline(LEVEL, mark, false);
}

/// Two diagonals to tape from corner to corner.
fn draw_checks(d: &mut Drawing, p: &PanelModel, units: Units) {
    for (name, a, b) in diagonals(p) {
        let along = b - a;
        if along.norm() < 20.0 * SMALL {
            continue;
        }
        let mut angle = along.y.atan2(along.x);
        if angle.cos() < 0.0 {
            angle += std::f64::consts::PI;
        }
        // Short ticks at the corners; the whole diagonal would run over the marks.
        let e = along.normalize();
        d.line(CHECK, a, a + 60.0 * e);
        d.line(CHECK, b, b - 60.0 * e);
        let at = a + 75.0 * e - V2::new(-angle.sin(), angle.cos()) * (0.4 * SMALL);
        d.text(
            CHECK,
            at,
            0.8 * SMALL,
            angle,
            Anchor::Left,
            format!("{name} {}", units.show(along.norm())),
        );
    }
}

/// The two diagonals of a panel's finished edge, corner to corner, in the flat.
pub fn diagonals(p: &PanelModel) -> Vec<(&'static str, P2, P2)> {
    let (lower, upper) = (p.flat.lower_edge(), p.flat.upper_edge());
    let (Some(l0), Some(l1), Some(u0), Some(u1)) =
        (lower.first(), lower.last(), upper.first(), upper.last())
    else {
        return Vec::new();
    };
    if p.full_width {
        // From the bow's corner to either corner of the transom: these must be equal.
        return vec![
            ("diagonal A", *u0, *u1),
            ("diagonal B", P2::new(u0.x, -u0.y), P2::new(u1.x, -u1.y)),
        ];
    }
    vec![("diagonal A", *l0, *u1), ("diagonal B", *u0, *l1)]
}

/// A small section inside either long edge that is bevelled. The face drawn goes inside.
fn draw_bevels(d: &mut Drawing, model: &Model, p: &PanelModel, units: Units) {
    let edges = [
        (&p.laps.lower, model.lower_line_name(p), p.flat.lower_edge()),
        (&p.laps.upper, model.upper_line_name(p), p.flat.upper_edge()),
    ];
    for (i, (edge, line, points)) in edges.into_iter().enumerate() {
        let Some(on) = points.get(3 * points.len() / 5).filter(|_| edge.role != Role::RunsOn)
        else {
            continue;
        };
        let inside = if i == 0 { BEVEL_INSIDE + bevel_section::HIGH } else { -BEVEL_INSIDE };
        let of = Bevelled { edge: line, bevels: edge.off_far_face(p.thickness) };
        bevel_section::draw(d, on + V2::new(0.0, inside), Some(*on), &of, units);
    }
    d.note(CONVENTION);
}

/// What each long edge does, and its bevel from square.
fn lap_words(model: &Model, p: &PanelModel, units: Units) -> String {
    let mut words = Vec::new();
    for (edge, line) in
        [(&p.laps.lower, model.lower_line_name(p)), (&p.laps.upper, model.upper_line_name(p))]
    {
        if edge.role != Role::RunsOn {
            let bevels = bevel::words(&edge.off_far_face(p.thickness), units);
            let said: Vec<String> = bevels.into_iter().map(|w| w.1).collect();
            words.push(format!(
                "{line} {}, bevel {}{}",
                edge.role.word(),
                said.join(" and "),
                if edge.most_added() > LEAST_LAP {
                    format!(", {} past the dashed line at most", units.fine(edge.most_added()))
                } else {
                    String::new()
                }
            ));
        }
    }
    words.join(" · ")
}

fn write_words(d: &mut Drawing, model: &Model, p: &PanelModel, units: Units) {
    // Above the level line or the centreline, both of which run through the middle.
    let middle = &p.flat.rulings[p.flat.rulings.len() / 2];
    let up = if p.full_width { 0.5 } else { 0.74 };
    let centre = middle.flat_lower + up * (middle.flat_upper - middle.flat_lower);
    let whose = if p.full_width {
        "cut one · this face goes inside".to_string()
    } else {
        "cut two, one of them turned over · this face goes inside on starboard".to_string()
    };
    let edges = format!(
        "edges: {} {}, {} {}, bow {}, stern {}",
        model.lower_line_name(p),
        units.show(p.edges.lower),
        model.upper_line_name(p),
        units.show(p.edges.upper),
        units.show(p.edges.bow),
        units.show(p.edges.stern)
    );
    let allowance = model.hull.planking.trim_allowance_mm;
    let cut = if allowance > 0.0 {
        format!(
            "cut on the heavy line; plane to the dash-dot line, {} inside it",
            units.show(allowance)
        )
    } else {
        "cut on the heavy line".into()
    };
    let laps = lap_words(model, p, units);
    let grain = if p.grain_across { "face grain across" } else { "face grain this way" };
    let lines = [
        (LARGE, format!("{} · {}", model.hull.name, p.name)),
        (SMALL, whose),
        (
            SMALL,
            format!(
                "{} · measured {:.1} mm · {} of the sheet developed",
                p.sheet,
                p.thickness,
                p.pattern_surface.word()
            ),
        ),
        (SMALL, edges),
        (SMALL, laps),
        (SMALL, cut),
    ];
    let mut y = centre.y + 2.6 * LARGE;
    for (height, text) in lines {
        d.text(TEXT, P2::new(centre.x - 160.0, y), height, 0.0, Anchor::Left, text);
        y -= 1.9 * height.max(SMALL);
    }
    let arrow_y = y - 0.4 * LARGE;
    let forward = P2::new(centre.x - 500.0, arrow_y);
    d.arrow(CHECK, P2::new(centre.x - 350.0, arrow_y), forward, 24.0);
    d.text(
        TEXT,
        P2::new(centre.x - 340.0, arrow_y - 0.5 * SMALL),
        SMALL,
        0.0,
        Anchor::Left,
        "forward",
    );
    if !p.full_width {
        let foot = P2::new(centre.x + 300.0, arrow_y - 10.0);
        d.arrow(CHECK, foot, foot + V2::new(0.0, 90.0), 24.0);
        d.text(TEXT, foot + V2::new(8.0, 0.0), SMALL, 0.0, Anchor::Left, "up");
    }
    let (a, b) = if p.grain_across {
        (P2::new(centre.x, arrow_y - 60.0), P2::new(centre.x, arrow_y + 20.0))
    } else {
        (P2::new(centre.x - 160.0, arrow_y), P2::new(centre.x + 40.0, arrow_y))
    };
    d.arrow(CHECK, a, b, 18.0);
    d.arrow(CHECK, b, a, 18.0);
    d.text(TEXT, P2::new(centre.x + 55.0, arrow_y - 0.5 * SMALL), SMALL, 0.0, Anchor::Left, grain);
}
