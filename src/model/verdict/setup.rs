//! Setup: will it stand true upside down?

use super::Model;
use crate::curve::View;
use crate::finding::Finding;
use crate::part::{PartId, Question};
use crate::setup::Strongback;
use crate::setup::sensitivity::OUT_BY_MM;
use crate::setup::supports::UNDER_NOTCH_MM;

/// A strongback narrower than this (mm) rocks. Common practice, no source.
const NARROW_MM: f64 = 350.0;
/// Heights of the upside-down bottom (mm) at which one works without a stool or a bad back.
/// Our judgement.
const WORKING_MM: std::ops::RangeInclusive<f64> = 500.0..=1450.0;

pub(super) fn setup(model: &Model, out: &mut Vec<Finding>) {
    let units = model.hull.units;
    let work = &model.woodwork;
    let Some(jig) = &work.strongback else {
        out.push(Finding::watch(
            Question::Setup,
            "strongback",
            if model.woodwork.frames.is_empty() {
                "there is no frame to stand on it".to_string()
            } else {
                "the level line crosses no frame, so none can be stood on it".into()
            },
            "set stations inside the hull, and the strongback's level line between chines and sheer",
        ));
        return;
    };
    for station in &jig.missed {
        let head = model.woodwork.frame(*station).and_then(|f| f.section.half().last().copied());
        let way = if head.is_some_and(|p| p.y < jig.level) { "lower" } else { "higher" };
        out.push(
            Finding::watch(
                Question::Setup,
                format!("frame {station}"),
                format!(
                    "the level line, {} above the baseline, does not cross it",
                    units.show(jig.level)
                ),
                format!("stand it by its corners' heights, or put the level line {way}"),
            )
            .about(work.frame_id(*station)),
        );
    }
    for f in &model.woodwork.frames {
        let foot = f.section.half().first().map_or(0.0, |p| p.y);
        if let Some(s) = f.spall.filter(|s| s.low < foot) {
            out.push(
                Finding::watch(
                    Question::Setup,
                    format!("frame {}", f.station),
                    format!("its cross-spall hangs {} below its bottom", units.show(foot - s.low)),
                    "put the level line higher, or take a narrower spall",
                )
                .about(work.frame_id(f.station)),
            );
        }
    }
    let between = jig.rail_spacing - 2.0 * model.hull.strongback.rail_width_mm;
    if between < 100.0 {
        out.push(
            Finding::watch(
                Question::Setup,
                "strongback",
                format!(
                    "its rails leave {} between them, too little for rungs",
                    units.show(between.max(0.0))
                ),
                "take thinner rails, or let the frames be wider at the level line",
            )
            .about(PartId::Ladder),
        );
    }
    for s in jig.stands.iter().filter(|s| s.leg_at == 0.0) {
        out.push(
            Finding::note(
                Question::Setup,
                format!("frame {}", s.station),
                "it is too narrow for two legs: one stands in the middle",
                "plumb it and brace it both ways",
            )
            .about(work.frame_id(s.station)),
        );
    }
    if jig.rail_spacing < NARROW_MM {
        out.push(
            Finding::note(
                Question::Setup,
                "strongback",
                format!("its rails are only {} apart", units.show(jig.rail_spacing)),
                "bolt its feet to the floor or brace them to a wall",
            )
            .about(PartId::Ladder),
        );
    }
    ends(model, jig, out);
    let top = jig.above_floor(model.lines.extent(|p| p.z).0);
    if !WORKING_MM.contains(&top) {
        out.push(Finding::note(
            Question::Setup,
            "strongback",
            format!("upside down her bottom is {} above the floor", units.show(top)),
            "change the height of the rails' top until you can reach across her",
        ));
    }
    if let Some(s) =
        model.woodwork.sensitivities.iter().min_by(|a, b| a.allowed.total_cmp(&b.allowed))
        && s.allowed < OUT_BY_MM
    {
        out.push(Finding::note(
            Question::Setup,
            format!("frame {}, {}", s.station, s.line),
            format!(
                "it may be out {} by {} before the {} shows it; no other place of hers shows so much",
                way(s.view),
                units.fine(s.allowed),
                s.line
            ),
            "sight along the batten there before fastening, and trust the eye over the tape",
        )
        .about(work.frame_id(s.station)));
    }
    as_built(model, out);
}

/// Whether what holds the ends can hold them.
fn ends(model: &Model, jig: &Strongback, out: &mut Vec<Finding>) {
    let units = model.hull.units;
    for e in &jig.ends {
        let (word, head) = (e.end.word(), e.end.head_word());
        if let Some(c) = e.support.crosspiece.filter(|c| c.under_notch() < UNDER_NOTCH_MM) {
            out.push(Finding::watch(
                Question::Setup,
                word,
                format!(
                    "its {head} comes {} above the rails: the notch leaves {} of its crosspiece",
                    units.show(c.rest() - jig.rail_top),
                    units.show(c.under_notch())
                ),
                "give the strongback more room under the sheer",
            )
            .about(e.end.part()));
        }
        if e.support.post.is_none() {
            out.push(
                Finding::watch(
                    Question::Setup,
                    word,
                    "it lies so flat that no post can lean against it",
                    "hold it by its corners' heights with struts of your own",
                )
                .about(e.end.part()),
            );
        }
    }
}

/// Which way a frame is out in a view.
fn way(view: View) -> &'static str {
    match view {
        View::Plan => "sideways",
        View::Profile => "up or down",
    }
}

fn as_built(model: &Model, out: &mut Vec<Finding>) {
    let units = model.hull.units;
    let Some(built) = &model.as_built else {
        return;
    };
    for d in &built.deviations {
        for (view, by) in [(View::Plan, d.out), (View::Profile, d.up)] {
            let allowed = model
                .woodwork
                .sensitivities
                .iter()
                .find(|s| s.station == d.station && s.line == d.line && s.view == view)
                .map(|s| s.allowed);
            if let Some(allowed) = allowed.filter(|a| by.abs() > *a) {
                out.push(Finding::watch(
                    Question::Setup,
                    format!("frame {}, {}", d.station, d.line),
                    format!(
                        "it stands {} {}; more than {} shows",
                        units.fine(by.abs()),
                        match (view, by > 0.0) {
                            (View::Plan, true) => "too far out",
                            (View::Plan, false) => "too far in",
                            (View::Profile, true) => "too high (too near the floor)",
                            (View::Profile, false) => "too low (too far from the floor)",
                        },
                        units.fine(allowed),
                    ),
                    "shim or plane it fair, or plank her as she stands with the patterns as built",
                )
                .about(model.woodwork.frame_id(d.station)));
            }
        }
    }
    for f in built.model.findings.iter().filter(|f| {
        f.severity == crate::finding::Severity::Stop
            && !model.findings.iter().any(|g| g.place == f.place && g.message == f.message)
    }) {
        out.push(
            Finding::stop(
                Question::Setup,
                format!("as built: {}", f.place),
                f.message.clone(),
                f.hint.clone(),
            )
            .about(f.part)
            .at(f.at),
        );
    }
}
