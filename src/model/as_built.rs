//! The boat as it stands on the real jig: measured corners in, panels and notches out.
//!
//! Planking is sprung over the frames as they stand. Each line is moved by a batten through
//! what was measured less what was drawn (nothing at its ends and where nothing was
//! measured), and the whole pass is run again on the moved lines.

use super::ashore::Ashore;
use super::{Model, derive_after};
use crate::curve::{End, Spline};
use crate::finding::{Finding, JigFact, Place};
use crate::geom::P3;
use crate::geom::ring::from_ring;
use crate::hull::{CheckedHull, Duck, Hull, Line};
use crate::part::LineId;

/// Ducks of a moved line stand at least this far (mm) from a station's point, so that two
/// of them never fight over one place.
const APART_MM: f64 = 120.0;
/// A measurement further off than this (mm) is a slip of the tape.
const SLIP_MM: f64 = 150.0;

/// One corner as it stands against the drawing.
#[derive(Debug, Clone, PartialEq)]
pub struct Deviation {
    /// Station, from 1.
    pub station: usize,
    /// The line.
    pub line: LineId,
    /// Measured less drawn half-breadth, mm.
    pub out: f64,
    /// Measured less drawn height (as she floats), mm.
    pub up: f64,
}

/// What the measurements change of a panel.
#[derive(Debug, Clone, PartialEq)]
pub struct PanelChange {
    /// The panel.
    pub name: String,
    /// Changes of its edges: lower, upper, bow, stern, mm.
    pub edges: [f64; 4],
    /// Greatest distance between the outlines, laid on each other along the lower edge, mm.
    pub outline: f64,
}

/// What they change of a notch.
#[derive(Debug, Clone, PartialEq)]
pub struct NotchChange {
    /// Station, from 1.
    pub station: usize,
    /// The member.
    pub member: String,
    /// Outward and upward shift, mm.
    pub shift: [f64; 2],
    /// Turn, radians.
    pub turn: f64,
}

/// The boat as built.
#[derive(Debug, Clone, PartialEq)]
pub struct AsBuilt {
    /// Everything computed for her as she stands.
    pub model: Model,
    /// Corners that were measured.
    pub deviations: Vec<Deviation>,
    /// Changes of the panels.
    pub panels: Vec<PanelChange>,
    /// Changes of the notches.
    pub notches: Vec<NotchChange>,
}

/// Recomputes the boat for what was measured, after the model `before` as she stood in it;
/// `None` if nothing was or nothing can be.
/// Measurements that cannot be used are told of in `findings`.
pub(super) fn as_built(
    drawn: Ashore,
    before: Option<&Model>,
    findings: &mut Vec<Finding>,
) -> Option<Box<AsBuilt>> {
    if drawn.hull.as_built.is_empty() {
        return None;
    }
    let deviations = deviations(drawn, findings);
    if deviations.is_empty() {
        return None;
    }
    let hull = moved(drawn, &deviations);
    let hull = match CheckedHull::of(hull) {
        Ok(hull) => hull,
        Err(mut faults) => {
            let no_boat = JigFact::NoBoatSo(faults.swap_remove(0));
            findings.push(Finding::stop(Place::AsBuilt, no_boat));
            return None;
        }
    };
    let stood = before.and_then(|b| b.as_built.as_deref()).map(|b| &b.model);
    let built = derive_after(stood, &hull, drawn.materials).0;
    let panels = drawn.panels.iter().zip(&built.panels).map(|(a, b)| panel_change(a, b)).collect();
    let notches = notch_changes(drawn, &built);
    Some(Box::new(AsBuilt { model: built, deviations, panels, notches }))
}

fn deviations(drawn: Ashore, findings: &mut Vec<Finding>) -> Vec<Deviation> {
    let mut refuse = |i: usize, why: JigFact| {
        findings.push(Finding::watch(Place::Measurement(i + 1), why));
    };
    let Some(jig) = &drawn.woodwork.strongback else {
        refuse(0, JigFact::NothingToMeasureFrom);
        return Vec::new();
    };
    let mut out = Vec::new();
    let mut seen: Vec<[Option<f64>; 2]> = Vec::new();
    for (i, m) in drawn.hull.as_built.iter().enumerate() {
        let Some(stand) = jig.stands.iter().find(|s| s.station == m.station) else {
            let stations = jig.stands.iter().map(|s| s.station).collect();
            refuse(i, JigFact::NoFrameAt { station: m.station, stations });
            continue;
        };
        let derived = drawn.lines.get(&m.line).is_some_and(|l| l.derived);
        let Some(corner) = stand.corners.iter().find(|c| c.line.is(&m.line)).filter(|_| !derived)
        else {
            let own = stand.corners.iter().filter(|c| drawn.hull.line_of(c.line).is_some());
            let lines = own.map(|c| c.line).collect();
            let (station, line) = (m.station, m.line.to_string());
            refuse(i, JigFact::NoCorner { station, line, lines });
            continue;
        };
        let out_by = m.half_breadth_mm.map_or(0.0, |b| b - corner.half_breadth);
        let up_by = m.above_floor_mm.map_or(0.0, |h| corner.above_floor - h);
        let by = out_by.abs().max(up_by.abs());
        if by > SLIP_MM {
            let (half_breadth, above_floor) = (corner.half_breadth, corner.above_floor);
            refuse(i, JigFact::Slip { by, half_breadth, above_floor });
            continue;
        }
        // A height and a half-breadth may stand in rows of their own.
        match out.iter().position(|d: &Deviation| d.station == m.station && d.line == corner.line) {
            None => {
                seen.push([m.half_breadth_mm, m.above_floor_mm]);
                out.push(Deviation {
                    station: m.station,
                    line: corner.line,
                    out: out_by,
                    up: up_by,
                });
            }
            Some(k) => {
                let twice = seen[k][0].and(m.half_breadth_mm).or(seen[k][1].and(m.above_floor_mm));
                if twice.is_some() {
                    let (station, line) = (m.station, m.line.to_string());
                    refuse(i, JigFact::MeasuredBefore { station, line });
                    continue;
                }
                seen[k] = [seen[k][0].or(m.half_breadth_mm), seen[k][1].or(m.above_floor_mm)];
                out[k].out += out_by;
                out[k].up += up_by;
            }
        }
    }
    out
}

/// The document with its lines moved to where the corners stand.
fn moved(drawn: Ashore, deviations: &[Deviation]) -> Hull {
    let mut hull = drawn.hull.clone();
    hull.as_built.clear();
    // Her stations and level line stay where they are, whatever her ends do.
    hull.framing.stations_mm = drawn.stations.to_vec();
    hull.strongback.level_mm = drawn.woodwork.strongback.as_ref().map(|s| s.level);
    for line in &mut hull.lines {
        let of_line: Vec<&Deviation> = deviations.iter().filter(|d| line.is(d.line)).collect();
        if of_line.iter().all(|d| d.out == 0.0 && d.up == 0.0) {
            continue;
        }
        if let Some(ducks) = moved_ducks(drawn, line, &of_line) {
            line.ducks = ducks;
        }
    }
    hull
}

fn moved_ducks(drawn: Ashore, line: &Line, deviations: &[&Deviation]) -> Option<Vec<Duck>> {
    let spline = &drawn.lines.get(&line.name)?.spline;
    let (first, last) = (spline.at(0.0), spline.at(spline.end()));
    let mut offsets = vec![P3::new(first.x, 0.0, 0.0)];
    let mut ducks: Vec<Duck> = Vec::new();
    for (i, x) in drawn.stations.iter().enumerate() {
        let Some(t) = spline.parameter_at_x(*x) else {
            continue;
        };
        if *x < first.x + 1.0 || *x > last.x - 1.0 {
            continue;
        }
        let p = spline.at(t);
        ducks.push(Duck::at(p.x, p.y, p.z));
        let here = deviations.iter().find(|d| d.station == i + 1);
        offsets.push(P3::new(*x, here.map_or(0.0, |d| d.out), here.map_or(0.0, |d| d.up)));
    }
    offsets.push(P3::new(last.x, 0.0, 0.0));
    let n = line.ducks.len();
    // Ends and knuckles stay; a station's own point next to one of them gives way.
    let stays = |i: usize| i == 0 || i == n - 1 || line.ducks[i].knuckle;
    ducks.retain(|s| !(0..n).any(|i| stays(i) && (s.x - line.ducks[i].x).abs() < 1.0));
    let stations = ducks.clone();
    ducks.extend(line.ducks.iter().enumerate().filter_map(|(i, d)| {
        let near = stations.iter().any(|s| (s.x - d.x).abs() < APART_MM);
        (stays(i) || !near).then_some(*d)
    }));
    ducks.sort_by(|a, b| a.x.total_cmp(&b.x));
    let shift = Spline::through(&offsets, &[], End::NotAKnot, End::NotAKnot).ok()?;
    for d in &mut ducks {
        let by = shift.parameter_at_x(d.x).map_or(P3::origin(), |t| shift.at(t));
        d.y = (d.y + by.y).max(0.0);
        d.z += by.z;
    }
    Some(ducks)
}

fn panel_change(drawn: &super::PanelModel, built: &super::PanelModel) -> PanelChange {
    let (a, b) = (&drawn.edges, &built.edges);
    let outline = |p: &super::PanelModel| crate::flat::outline::of_flat(&p.flat, p.full_width);
    let (from, to) = (outline(drawn), outline(built));
    PanelChange {
        name: drawn.name.clone(),
        edges: [b.lower - a.lower, b.upper - a.upper, b.bow - a.bow, b.stern - a.stern],
        outline: to.iter().map(|p| from_ring(*p, &from)).fold(0.0, f64::max),
    }
}

fn notch_changes(drawn: Ashore, built: &Model) -> Vec<NotchChange> {
    let mut out = Vec::new();
    for f in &drawn.woodwork.frames {
        let Some(g) = built.woodwork.frame(f.station) else {
            continue;
        };
        for n in &f.notches {
            if let Some(m) = g.notches.iter().find(|m| m.member == n.member) {
                let shift = m.at - n.at;
                out.push(NotchChange {
                    station: f.station,
                    member: n.name.clone(),
                    shift: [shift.y, shift.z],
                    turn: m.turn - n.turn,
                });
            }
        }
    }
    out
}
