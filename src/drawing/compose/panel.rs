//! The pattern of one panel, with every mark that must be made before it leaves the bench.

use super::Line;
use super::bevel_section::{self, Bevelled};
use super::{SMALL, layers, panel_joints, panel_words};
use crate::bend::lie::let_down;
use crate::drawing::{Anchor, Drawing, Purpose, face};
use crate::flat::laps::Role;
use crate::flat::{corners as flat_corners, marks, outline};
use crate::geom::{P2, V2};
use crate::hull::{Member, MemberSide};
use crate::model::{Model, PanelModel};
use crate::part::LineId;
use crate::stock::joints::PlacedJoint;
use crate::units::Units;
use crate::words::bevels::CONVENTION;

/// Rulings drawn on a pattern: about one in a hand's breadth.
const RULINGS_DRAWN: usize = 24;
/// A lap of less than this (mm) is not drawn apart from its line.
pub(super) const LEAST_LAP: f64 = 0.3;
/// A station that departs from straight by less (mm) is struck with a straight-edge.
const LEAST_BEND: f64 = 0.25;
/// Sections of bevelled edges stand this far (mm) inside the edge.
const BEVEL_INSIDE: f64 = 14.0;
/// Corners' letters stand this far (mm) inside them.
const LETTER_IN: f64 = 34.0;
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

/// The full-size pattern of panel `p`, lengths written in `units`, with the joints that it is put
/// together at.
pub fn panel_pattern(
    model: &Model,
    p: &PanelModel,
    joints: &[PlacedJoint],
    units: Units,
) -> Drawing {
    let title = format!("{}: {}", model.hull.name, p.name);
    let subtitle = format!("{}, measured {}", p.sheet, units.gauge(p.thickness));
    let mut d = Drawing::new(title, subtitle, layers());
    // Members' edges run beside the cut line, and the notes give how far from it: they are no
    // reason to print a page.
    d.layer_mut(Line::Member).purpose = Purpose::Mark;
    let finished = p.finished_outline();
    let allowance = model.hull.planking.trim_allowance_mm;
    d.polyline(Line::Cut, outline::grown(&finished, allowance), true);
    if allowance > 0.0 {
        d.polyline(Line::Finished, finished.clone(), true);
    }
    panel_words::notes(&mut d, model, p, joints, units);
    draw_corner_lines(&mut d, p);
    super::bow::post_lines(&mut d, model, p, units);
    draw_rulings(&mut d, p);
    draw_stations(&mut d, model, p, units);
    draw_members(&mut d, model, p, units);
    super::battens::on_panel(&mut d, model, p, units);
    draw_level(&mut d, p, units);
    panel_joints::draw(&mut d, joints, units);
    draw_checks(&mut d, p, units);
    draw_bevels(&mut d, model, p, units);
    panel_words::on_the_part(&mut d, model, p);
    super::waterline::on_panel(&mut d, model, p);
    super::explain(&mut d, units);
    d.settle_words();
    d
}

/// The lines that the frames' corners touch, where a lap runs past them.
fn draw_corner_lines(d: &mut Drawing, p: &PanelModel) {
    for (edge, points) in
        [(&p.laps.lower, p.flat.lower_edge()), (&p.laps.upper, p.flat.upper_edge())]
    {
        if edge.most_added() > LEAST_LAP {
            for half in halves(p, points) {
                d.polyline(Line::Corner, half, false);
            }
        }
    }
}

fn draw_rulings(d: &mut Drawing, p: &PanelModel) {
    let every = (p.flat.rulings.len() / RULINGS_DRAWN).max(1);
    for [a, b] in marks::rulings(&p.flat, every) {
        for half in halves(p, vec![a, b]) {
            d.polyline(Line::Ruling, half, false);
        }
    }
}

fn draw_stations(d: &mut Drawing, model: &Model, p: &PanelModel, units: Units) {
    let mut bent: Option<(usize, f64)> = None;
    for (i, x) in model.stations.iter().enumerate() {
        let mark = marks::station(&p.flat, *x);
        let (Some(a), Some(b)) = (mark.first().copied(), mark.last().copied()) else {
            continue;
        };
        let along = b - a;
        if let Some(e) = along.try_normalize(1e-9) {
            let off = mark.iter().map(|q| (e.x * (q.y - a.y) - e.y * (q.x - a.x)).abs());
            let most = off.fold(0.0, f64::max);
            if bent.is_none_or(|(_, m)| most > m) {
                bent = Some((i + 1, most));
            }
        }
        if along.norm() > 6.0 * SMALL {
            station_label(d, (i + 1, *x), (a, along), p.full_width, units);
        }
        for half in halves(p, mark) {
            d.polyline(Line::Station, half, false);
        }
    }
    if let Some((station, most)) = bent {
        d.note(format!(
            "Stations (dashed) are struck from edge to edge; {}",
            if most < LEAST_BEND {
                "in the flat they are straight.".to_string()
            } else {
                format!(
                    "in the flat they are not quite straight, by {} at most (station {station}).",
                    units.fine(most)
                )
            }
        ));
    }
    if p.full_width {
        d.note(
            "\"Out\" at a station is the distance of its end from the centreline, square to it: \
             measure it before you cut.",
        );
    }
}

/// What is written at a station's line, beside it and clear of it, near the edge that is cut.
fn station_label(
    d: &mut Drawing,
    (number, x): (usize, f64),
    (a, along): (P2, V2),
    full_width: bool,
    units: Units,
) {
    let angle = along.y.atan2(along.x);
    let beside = V2::new(-angle.sin(), angle.cos()) * 2.5;
    let mut words = format!("station {number} · {}", units.show(x));
    if full_width {
        words.push_str(&format!(" · out {}", units.show((a + along).y)));
    }
    let from = if full_width {
        let length = face::width(&words, SMALL, false);
        (along.norm() - 14.0 - length).max(0.0) / along.norm()
    } else {
        (14.0 / along.norm()).min(0.08)
    };
    d.text(Line::Text, a + from * along + beside, SMALL, angle, Anchor::Left, words);
}

fn draw_members(d: &mut Drawing, model: &Model, p: &PanelModel, units: Units) {
    for m in members_on(model, p) {
        let [least, most] = m.width.map(|w| units.show(w));
        let wide = if least == most { least } else { format!("{least} to {most}") };
        let MemberOn { member, line, .. } = m;
        d.note(format!(
            "{}: its edge (thin, dashed) lies {wide} from the {}.",
            member.name, member.line
        ));
        for half in halves(p, line) {
            d.polyline(Line::Member, half, false);
        }
    }
}

/// A member that lies against a panel.
pub(super) struct MemberOn<'a> {
    pub(super) member: &'a Member,
    /// Along the panel's upper line, else its lower one.
    pub(super) on_upper: bool,
    /// Least and greatest distance of its inner edge from the line, mm.
    pub(super) width: [f64; 2],
    /// Its inner edge in the flat, mm.
    pub(super) line: Vec<P2>,
}

/// The members whose edges are marked on a panel.
pub(super) fn members_on<'a>(model: &'a Model, p: &PanelModel) -> Vec<MemberOn<'a>> {
    let mut out = Vec::new();
    for bent in &model.members {
        let m = &bent.member;
        if m.side == MemberSide::Outside {
            continue;
        }
        let on_upper = m.follows(model.line_above(p));
        // A chine log lies against the panel above its chine; a clamp below the sheer.
        let hosts_upper = on_upper && p.lower_line + 2 == model.lines.lines.len();
        let hosts_lower = m.follows(model.line_below(p));
        if !hosts_upper && !hosts_lower {
            continue;
        }
        // A keelson lies across the centreline, half on each side; a log at a chine that
        // opens is let down past it, to be planed flush.
        let width = |i: usize| match LineId::of(&m.line) {
            Some(LineId::Keel) => 0.5 * m.sided_mm,
            _ if hosts_lower => {
                let open = p.laps.lower.open.get(i).copied().filter(|o| o.is_finite());
                m.sided_mm - let_down(open.unwrap_or(0.0), m.moulded_mm, m.sided_mm)
            }
            _ => m.sided_mm,
        };
        let widths = (0..p.flat.rulings.len()).map(width);
        let (least, most) =
            widths.fold((f64::INFINITY, f64::NEG_INFINITY), |(l, h), w| (l.min(w), h.max(w)));
        let line = marks::member_edge(&p.flat, hosts_upper, width);
        out.push(MemberOn { member: m, on_upper: hosts_upper, width: [least, most], line });
    }
    out
}

/// The level mark: a line of one height on a side, the centreline on a flat bottom.
fn draw_level(d: &mut Drawing, p: &PanelModel, units: Units) {
    if p.full_width {
        let edge = p.flat.lower_edge();
        if let (Some(a), Some(b)) = (edge.first().copied(), edge.last().copied()) {
            d.line(Line::Level, a, b);
            let long = face::width("centreline", SMALL, false) + 14.0;
            d.text(Line::Text, b + V2::new(-long, 3.0), SMALL, 0.0, Anchor::Left, "centreline");
        }
        return;
    }
    let middle = &p.flat.rulings[p.flat.rulings.len() / 2];
    let height = 0.5 * (middle.lower.z + middle.upper.z);
    let z = (height / LEVEL_STEP).round() * LEVEL_STEP;
    let mark = marks::level(&p.flat, z);
    super::end_label(d, &mark, SMALL, format!("level {}", units.show(z)));
    d.polyline(Line::Level, mark, false);
}

/// The corners' letters, and two diagonals to tape from corner to corner.
fn draw_checks(d: &mut Drawing, p: &PanelModel, units: Units) {
    let all = corners(p);
    let middle = all.iter().fold(V2::zeros(), |v, (_, c)| v + c.coords) / all.len().max(1) as f64;
    for (letter, at) in &all {
        // Inside the corner, towards the middle, so that it stays on the wood.
        if let Some(e) = (P2::from(middle) - at).try_normalize(1e-9) {
            let at = at + LETTER_IN * e - V2::new(0.0, 0.5 * SMALL);
            d.text(Line::Check, at, SMALL, 0.0, Anchor::Middle, letter.to_string());
        }
    }
    for Diagonal { from, to, a, b } in diagonals(p) {
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
        d.line(Line::Check, a, a + 60.0 * e);
        d.line(Line::Check, b, b - 60.0 * e);
        let at = a + 75.0 * e - V2::new(-angle.sin(), angle.cos()) * (0.4 * SMALL);
        let words = format!("diagonal {from} to {to} {}", units.show(along.norm()));
        d.text(Line::Check, at, 0.8 * SMALL, angle, Anchor::Left, words);
    }
}

/// A length to tape from one lettered corner to another.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Diagonal {
    /// The letter of its first corner.
    pub from: char,
    /// The letter of its last one.
    pub to: char,
    /// The first corner, mm.
    pub a: P2,
    /// The last one, mm.
    pub b: P2,
}

/// The corners of a panel's finished edge with their letters: A at the foot of the bow, B at
/// the foot of the stern, C above it, D above A; on a panel that lies over both sides A and B
/// are to starboard and C and D to port. Corners that are one have the first letter.
pub fn corners(p: &PanelModel) -> Vec<(char, P2)> {
    let outline = p.finished_outline();
    let hard: Vec<P2> =
        flat_corners::runs(&outline, &[]).iter().map(|r| outline[r.points[0]]).collect();
    let (lower, upper) = (p.flat.lower_edge(), p.flat.upper_edge());
    let (Some(l0), Some(l1), Some(u0), Some(u1)) =
        (lower.first(), lower.last(), upper.first(), upper.last())
    else {
        return Vec::new();
    };
    let port = |q: &P2| P2::new(q.x, -q.y);
    let places = if p.full_width { [*u0, *u1, port(u1), port(u0)] } else { [*l0, *l1, *u1, *u0] };
    let mut out: Vec<(char, P2)> = Vec::new();
    for (letter, place) in ['A', 'B', 'C', 'D'].into_iter().zip(places) {
        let near = hard.iter().min_by(|a, b| (*a - place).norm().total_cmp(&(*b - place).norm()));
        if let Some(at) = near.filter(|at| out.iter().all(|(_, o)| (*o - **at).norm() > 1e-6)) {
            out.push((letter, *at));
        }
    }
    out
}

/// The diagonals of a panel's finished edge between lettered corners: A to C and D to B. From
/// a point at the bow to either corner of the stern they must be equal.
pub fn diagonals(p: &PanelModel) -> Vec<Diagonal> {
    let all = corners(p);
    let find = |l: char| all.iter().find(|(letter, _)| *letter == l).copied();
    [('A', 'C'), ('D', 'B')]
        .into_iter()
        .filter_map(|(from, to)| {
            // Where D is the same point as A it has A's letter.
            let (from, a) = find(from).or_else(|| find('A'))?;
            let (to, b) = find(to)?;
            Some(Diagonal { from, to, a, b })
        })
        .collect()
}

/// A small section inside either long edge that is bevelled. The face drawn goes inside.
fn draw_bevels(d: &mut Drawing, model: &Model, p: &PanelModel, units: Units) {
    let edges = [
        (&p.laps.lower, model.line_below(p), p.flat.lower_edge()),
        (&p.laps.upper, model.line_above(p), p.flat.upper_edge()),
    ];
    for (i, (edge, line, points)) in edges.into_iter().enumerate() {
        let Some(on) = points.get(3 * points.len() / 5).filter(|_| edge.role != Role::RunsOn)
        else {
            continue;
        };
        let inside = if i == 0 { BEVEL_INSIDE + bevel_section::HIGH } else { -BEVEL_INSIDE };
        let of = Bevelled { edge: &line.to_string(), bevels: edge.off_far_face(p.thickness) };
        bevel_section::draw(d, on + V2::new(0.0, inside), Some(*on), &of, units, 1.0);
    }
    d.note(CONVENTION);
}
