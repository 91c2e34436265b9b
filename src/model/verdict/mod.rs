//! What is worth saying about a computed hull: findings, part by part.

mod aboard;
mod afloat;
mod bow;
mod drain;
mod ends;
mod frames;
mod limits;
mod motor;
mod setup;
mod spacing;

use super::Model;
use crate::bend::Along;
use crate::curve::View;
use crate::finding::{Finding, Severity};
use crate::geom::P3;
use crate::hull::HullLine;
use crate::part::{MemberId, PanelId, PartId, Question};
use crate::tol::{DEVELOPABLE_WARP, MATING_EDGE_MM, PATTERN_ERROR_MM, STOP_WARP, WATCH_WARP};

/// A jump of the curvature's slope at a duck, free of scale, that an eye sees as a hard
/// spot. Set by looking at hulls with one duck pushed out 10 mm. Our judgement; no source.
const HARD_SPOT: f64 = 60.0;

/// Lengths (mm) of the boats that this program's advice is for: rules of thumb for frames, ply,
/// strongback and people hold for dinghies and skiffs. Our judgement; no source.
const SIZES_MM: [f64; 2] = [2000.0, 8000.0];

/// A pattern that may be off by more than this (mm) is not to be cut: more than a saw wanders
/// and planing mends. Our judgement; no source.
const PATTERN_WRONG_MM: f64 = 1.0;

/// The forward-most point may lie this far (mm) aft of the origin without remark.
const FORE_OF_ORIGIN_MM: f64 = 5.0;

/// All findings of a model, with those `already` made while it was computed.
pub(super) fn findings(model: &Model, already: Vec<Finding>) -> Vec<Finding> {
    let mut out = already;
    shape(model, &mut out);
    skin(model, &mut out);
    bones(model, &mut out);
    frames::frames(model, &mut out);
    motor::motor(model, &mut out);
    setup::setup(model, &mut out);
    afloat::afloat(model, &mut out);
    out.sort_by_key(|f| std::cmp::Reverse(f.severity));
    out
}

/// The place on a line at a distance aft.
fn place_at(line: &HullLine, x: f64) -> Option<P3> {
    line.spline.parameter_at_x(x).map(|t| line.spline.at(t))
}

fn shape(model: &Model, out: &mut Vec<Finding>) {
    out.extend(model.lines.off_transom(model.hull.units));
    let length = model.lines.length_overall();
    if !(SIZES_MM[0]..=SIZES_MM[1]).contains(&length) {
        let units = model.hull.units;
        out.push(Finding::watch(
            Question::Shape,
            "the whole hull",
            format!(
                "she is {} long; what is advised here is for boats of {} to {}",
                units.show(length),
                units.show(SIZES_MM[0]),
                units.show(SIZES_MM[1])
            ),
            "look at the unit of her lines; if she is meant so, a designer must say how strong her parts are to be",
        ));
    }
    let foremost = model.lines.extent(|p| p.x).0;
    if foremost > FORE_OF_ORIGIN_MM {
        out.push(Finding::note(
            Question::Shape,
            "the whole hull",
            format!("she begins {} aft of where distances aft are measured from", model.hull.units.show(foremost)),
            "hook the tape at that mark ahead of her, not on her bow, or move all ducks forward by as much",
        ));
    }
    for (line, fair) in model.lines.lines.iter().zip(&model.fairness) {
        if line.derived {
            continue;
        }
        for (seen, f) in [(View::Plan, &fair.plan), (View::Profile, &fair.profile)] {
            let view = seen.word();
            // One change of curvature is a reverse that a designer may mean; more is a wave.
            if let [x] = f.inflections_x[..] {
                out.push(Finding::note(
                    Question::Shape,
                    format!("{} in {view}", line.id),
                    format!("it turns once from bending one way to the other, {} aft", model.hull.units.show(x)),
                    "leave it if it is meant so; if not, sight along the comb and pull the ducks there until it bends one way",
                )
                .at(place_at(line, x)));
            }
            if f.inflections_x.len() > 1 {
                let places: Vec<String> =
                    f.inflections_x.iter().map(|x| model.hull.units.show(*x)).collect();
                out.push(
                    Finding::watch(
                        Question::Shape,
                        format!("{} in {view}", line.id),
                        format!(
                            "its curvature changes sign {} times, {} aft",
                            places.len(),
                            places.join(", ")
                        ),
                        "sight along the comb and pull the ducks there until it bends one way",
                    )
                    .at(place_at(line, f.inflections_x[0])),
                );
            }
            for h in &f.hooks {
                let units = model.hull.units;
                let [left, right] =
                    if seen == View::Plan { ["outside", "inside"] } else { ["above", "below"] };
                out.push(Finding::watch(
                    Question::Shape,
                    format!("ducks {} to {} of the {} in {view}", h.from + 1, h.to + 1, line.id),
                    format!(
                        "a hook: they lie on one straight line, and the batten swings {} {left} it and {} {right} it, most {} aft",
                        units.fine(h.left),
                        units.fine(h.right),
                        units.show(h.at_x)
                    ),
                    "let the curve before it end gently: move the ducks ahead of the run until it stays straight, or make its first duck a knuckle",
                )
                .at(place_at(line, h.at_x)));
            }
            if let Some((duck, jump)) = f.hardest_duck.filter(|(_, jump)| *jump > HARD_SPOT) {
                out.push(Finding::watch(
                    Question::Shape,
                    format!("duck {} of the {} in {view}", duck + 1, line.id),
                    format!("a hard spot: the curvature breaks its slope there by {jump:.0} (over {HARD_SPOT:.0} shows)"),
                    "ease that duck towards the batten, or take it away",
                )
                .at(line.spline.knots().get(duck).map(|t| line.spline.at(*t))));
            }
        }
    }
}

fn skin(model: &Model, out: &mut Vec<Finding>) {
    let units = model.hull.units;
    for (k, end) in ["bow", "stern"].into_iter().enumerate() {
        if model.panels.iter().any(|p| p.kept_straight[k]) {
            out.push(Finding::note(
                Question::Skin,
                format!("all panels, at the {end}"),
                "their edges are kept straight: trimmed to a plane one of them would twist there",
                format!("have all edges straight at the {end}, or pull the lines' ends apart less"),
            ));
        }
    }
    for row in &model.hull.planking.panels {
        if !model.panels.iter().any(|p| p.name == row.panel) {
            let names: Vec<&str> = model.panels.iter().map(|p| p.name.as_str()).collect();
            out.push(Finding::watch(
                Question::Skin,
                format!("planking of {:?}", row.panel),
                "this hull has no panel of that name, so its sheet is not used",
                format!("her panels are {}", names.join(", ")),
            ));
        }
    }
    for row in &model.hull.planking.laps {
        let between = &model.lines.lines[1..model.lines.lines.len() - 1];
        if !between.iter().any(|l| l.id.is(&row.line)) {
            let names: Vec<String> = between.iter().map(|l| l.id.to_string()).collect();
            out.push(Finding::watch(
                Question::Skin,
                format!("lap along {:?}", row.line),
                "no two panels meet there, so it changes nothing",
                if names.is_empty() {
                    "this hull has one panel a side".to_string()
                } else {
                    format!("panels meet along {}", names.join(", "))
                },
            ));
        }
    }
    for (k, p) in model.panels.iter().enumerate() {
        let id = PartId::Panel(PanelId(k));
        let warp = p.quality.greatest_warp;
        let at = format!("{}, {} aft", p.name, units.show(p.quality.warp_at.x));
        if warp > DEVELOPABLE_WARP {
            let severity = match warp {
                w if w >= STOP_WARP => Severity::Stop,
                w if w >= WATCH_WARP => Severity::Watch,
                _ => Severity::Note,
            };
            out.push(Finding::new(
                severity,
                Question::Skin,
                at,
                format!(
                    "no flat sheet bends to fit between the {} and the {} there: it would twist by {:.1}°, which stretches its edges by {:.3} %",
                    model.line_below(p),
                    model.line_above(p),
                    warp.to_degrees(),
                    100.0 * p.quality.edge_stretch
                ),
                "pull one of the two lines there until the twist goes; a little twist a thin sheet will take",
            )
            .about(id)
            .at(p.quality.warp_at));
        }
        if p.bend.radius < p.bend.least_radius {
            let way = p.bend.options.iter().find(|o| o.holds);
            out.push(Finding::new(
                if way.is_some() { Severity::Watch } else { Severity::Stop },
                Question::Skin,
                format!("{}, {} aft", p.name, units.show(p.bend.at.x)),
                format!(
                    "the sheet is asked to bend to a radius of {}; {} of {} takes {} there",
                    units.radius(p.bend.radius),
                    p.sheet,
                    units.fine(p.thickness),
                    units.radius(p.bend.least_radius)
                ),
                way.map_or_else(
                    || {
                        "ease the lines there: no sheet of the table takes it, even in two layers"
                            .into()
                    },
                    |o| format!("{} would hold", o.what),
                ),
            )
            .about(id)
            .at(p.bend.at));
        }
        if p.pattern_error > PATTERN_ERROR_MM {
            let wrong = p.pattern_error > PATTERN_WRONG_MM;
            out.push(
                Finding::new(
                    if wrong { Severity::Stop } else { Severity::Watch },
                    Question::Skin,
                    p.name.clone(),
                    format!(
                        "its pattern may be off by {}",
                        match wrong {
                            true => units.fine(p.pattern_error),
                            false => units.accuracy(p.pattern_error),
                        }
                    ),
                    "ease the sharpest bend of its lines",
                )
                .about(id),
            );
        }
        if let Some(why) = p.unsound() {
            out.push(
                Finding::stop(
                    Question::Skin,
                    p.name.clone(),
                    format!("{why}: no pattern of it is written"),
                    "the lines fold the panel over or leave nothing of it: pull them apart there",
                )
                .about(id),
            );
        }
        if model.materials.sheet(&p.sheet).is_none() {
            out.push(Finding::watch(
                Question::Skin,
                p.name.clone(),
                format!(
                    "the sheet {:?} is not in the table; its measured thickness is used, and the density of other plywood",
                    p.sheet
                ),
                "add a row for it to the document's `sheets`, or name one of the table",
            )
            .about(id));
        }
    }
    for (k, w) in model.panels.windows(2).enumerate() {
        let difference = w[1].edges.lower - w[0].edges.upper;
        if difference.abs() > MATING_EDGE_MM {
            out.push(Finding::note(
                Question::Skin,
                format!("{} along the {}", w[1].name, model.line_below(&w[1])),
                format!(
                    "its edge is {} {} than the {}'s: the {} of the two sheets lie apart by their thickness",
                    units.fine(difference.abs()),
                    if difference > 0.0 { "longer" } else { "shorter" },
                    w[0].name,
                    w[0].pattern_surface.word()
                ),
                "start fastening amidships and let both ends run",
            )
            .about(PartId::Panel(PanelId(k + 1))));
        }
    }
}

/// Stiffness (N/mm²) outside of which no wood of the handbook's tables lies, green or dry, by
/// a factor of two either way (Wood Handbook, table 5-3b: 3 900 to 15 200 for softwoods and
/// hardwoods of the trade).
const NO_WOOD: std::ops::RangeInclusive<f64> = 2_000.0..=30_000.0;

fn bones(model: &Model, out: &mut Vec<Finding>) {
    for (i, bent) in model.members.iter().enumerate() {
        let id = PartId::Member(MemberId(i));
        let off = |a: &&Along| (a.at - bent.peak_at).abs();
        let peak = bent.along.iter().min_by(|a, b| off(a).total_cmp(&off(b)));
        let at = peak.map(|a| a.point);
        if let Some(test) = &bent.member.stick_test {
            let e = crate::bend::stick::stiffness(test);
            if !NO_WOOD.contains(&e) {
                out.push(Finding::stop(
                    Question::Bones,
                    format!("{}, the test of its stick", bent.member.name),
                    format!("it makes the wood's stiffness {}, and no wood has that", model.hull.units.stress(e)),
                    "measure span, section, weight and sag once more; without a test the handbook's figure is used",
                )
                .about(id));
            }
        }
        let place = format!(
            "{}, {} along from the bow",
            bent.member.name,
            model.hull.units.show(bent.peak_at)
        );
        let asked = format!(
            "it is bent to {:.2} % at its worst, mostly by {}; half of such sticks ({}) break at {:.2} %",
            100.0 * bent.peak_strain,
            bent.governs().word(),
            bent.member.stock.words(),
            100.0 * bent.limit.breaking
        );
        let dry = bent.advice.rungs.iter().find(|r| r.method == crate::bend::Method::Dry);
        let asked = match dry {
            // It would not break, but nobody can pull it there.
            Some(dry) if dry.strain <= dry.allowed => {
                format!("bent dry: {}", dry.how.trim_end_matches('.'))
            }
            _ => asked,
        };
        match bent.advice.best() {
            Some(best) if best.method == crate::bend::Method::Dry => {}
            Some(best) => out.push(
                Finding::watch(
                    Question::Bones,
                    place,
                    asked,
                    format!("{}: {}", best.method.word(), best.how),
                )
                .about(id)
                .at(at),
            ),
            None => out.push(
                Finding::stop(
                    Question::Bones,
                    place,
                    asked,
                    format!(
                        "no way of bending holds: give it {}, or ease the line there",
                        bent.governs().remedy()
                    ),
                )
                .about(id)
                .at(at),
            ),
        }
        if let Some(test) = &bent.member.stick_test {
            for doubt in crate::bend::stick::doubts(test) {
                out.push(
                    Finding::note(
                        Question::Bones,
                        format!("stick test of the {}", bent.member.name),
                        doubt,
                        "test again",
                    )
                    .about(id),
                );
            }
        }
    }
    for (i, m) in model.hull.members.iter().enumerate() {
        if model.lines.get(&m.line).is_none() {
            out.push(Finding::note(
                Question::Bones,
                m.name.clone(),
                format!("this hull has no {}: it is neither drawn nor weighed", m.line),
                "leave the member out, or name another line",
            ));
        } else if model.materials.wood(&m.species).is_none() {
            out.push(Finding::watch(
                Question::Bones,
                m.name.clone(),
                format!(
                    "the species {:?} is not in the wood table: it is weighed as other lumber, and neither its bend nor its notches are worked out",
                    m.species
                ),
                "name a species of the table or add a row to the document's `woods`",
            )
            .about(PartId::Unbent(i)));
        }
    }
}
