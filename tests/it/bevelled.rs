//! Off which face a bevel comes: said once, shown on every sheet, and true to both faces.

use chinewright::drawing::compose::{ends, frame, panel, parts};
use chinewright::drawing::{Drawing, Shape};
use chinewright::frames::bevel::Off;
use chinewright::frames::section::whole;
use chinewright::frames::{BevelAt, Section, Transom};
use chinewright::geom::P2;
use chinewright::geom::region::Region;
use chinewright::geom::ring::{from_ring, inside};
use chinewright::hull::{GlueGroove, Hull, Joint, starters};
use chinewright::material::Materials;
use chinewright::model::{Model, derive};
use chinewright::units::Units;
use chinewright::words::bevels::CONVENTION;

fn model_of(hull: &Hull) -> Model {
    derive(hull, &Materials::shipped()).expect("a starter")
}

fn starter(name: &str) -> Model {
    model_of(&starters::find(name).expect("a starter").hull())
}

fn texts(d: &Drawing) -> Vec<&str> {
    let words = d.items.iter().filter_map(|i| match &i.shape {
        Shape::Text { text, .. } => Some(text.as_str()),
        Shape::Polyline { .. } => None,
    });
    words.collect()
}

/// Of each bevel that takes wood off, whether the face that it names is the smaller there:
/// the pattern's edge lies outside the far face's section, or inside it.
pub(crate) fn named_face_is_the_smaller(
    bevels: &[BevelAt],
    far: &Section,
) -> Result<usize, String> {
    let half = far.half();
    let (Some(foot), Some(head)) = (half.first(), half.last()) else { return Ok(0) };
    let body = whole(&half);
    let mut seen = 0;
    for b in bevels {
        // Over the far face's head, where it is closed level, nothing is to be compared; under
        // half a millimetre the chords of a curved section decide.
        let beside = foot.y + 2.0..head.y - 2.0;
        if !beside.contains(&b.at.y) || b.offset.abs() < 0.5 || from_ring(b.at, &body) < 0.3 {
            continue;
        }
        let far_is_smaller = !inside(&body, b.at);
        let named = b.off();
        let right = if far_is_smaller { Off::FarFace } else { Off::ThisFace };
        if named != Off::Neither && named != right {
            return Err(format!("{} {named:?} by {} mm", b.at, b.offset));
        }
        seen += 1;
    }
    Ok(seen)
}

/// Wood missing from `outline` sawn square where either face's edge lies, mm.
pub(crate) fn missing(outline: &[P2], faces: [&Section; 2], top: f64) -> f64 {
    faces
        .iter()
        .flat_map(|s| s.edges.iter().flat_map(|e| &e.points))
        .filter(|p| p.at.y <= top && !inside(outline, p.at))
        .map(|p| from_ring(p.at, outline))
        .fold(0.0, f64::max)
}

/// The mean of the pattern face's offsets by length along its planked edges: over nothing
/// where the pattern is the larger face.
pub(crate) fn larger_by(t: &Transom) -> f64 {
    let along = |w: &[BevelAt]| (w[1].at - w[0].at).norm();
    let on: Vec<_> = t.bevels.windows(2).filter(|w| w[0].panel == w[1].panel).collect();
    on.iter().map(|w| 0.5 * (w[0].offset + w[1].offset) * along(w)).sum()
}

#[test]
fn every_bevel_of_frames_transoms_and_cleats_names_the_smaller_face() {
    let mut seen = 0;
    for s in starters::STARTERS {
        let model = model_of(&s.hull());
        for f in &model.woodwork.frames {
            seen += named_face_is_the_smaller(&f.bevels, &f.far)
                .unwrap_or_else(|e| panic!("{} frame {}: {e}", s.name, f.station));
        }
        for t in [&model.woodwork.transom, &model.woodwork.bow_transom].into_iter().flatten() {
            // The crown and sides run on past the head: compare well below it.
            let below = |b: &&BevelAt| b.at.y < t.top - 40.0;
            let some = |all: &[BevelAt]| all.iter().filter(below).copied().collect::<Vec<_>>();
            seen += named_face_is_the_smaller(&some(&t.bevels), &t.far)
                .unwrap_or_else(|e| panic!("{} transom: {e}", s.name));
            seen += named_face_is_the_smaller(&some(&t.framing_bevels), &t.framing_far)
                .unwrap_or_else(|e| panic!("{} cleats: {e}", s.name));
        }
    }
    assert!(seen > 150, "{seen}");
}

/// Both faces of each transom lie inside its pattern sawn square, and the pattern is the face
/// that is the larger where the planking lands: on the warden that is the inner one.
#[test]
fn a_transom_s_pattern_is_its_larger_face_and_holds_both() {
    for s in starters::STARTERS {
        let mut hull = s.hull();
        hull.motor.fitted = false;
        let model = model_of(&hull);
        for t in [&model.woodwork.transom, &model.woodwork.bow_transom].into_iter().flatten() {
            let short = missing(&t.outline, [&t.section, &t.far], t.top);
            assert!(short < 0.05, "{}: {short} mm of wood is missing", s.name);
            assert!(larger_by(t) >= 0.0, "{}: {}", s.name, larger_by(t));
        }
    }
    let warden = starter("warden");
    let transom = warden.woodwork.transom.as_ref().expect("a transom");
    assert!(!transom.outside_larger);
    assert!(transom.bevels.iter().all(|b| b.offset > -0.05), "{:?}", transom.bevels);
    let sheet = ends::transom_pattern(&warden, transom, Units::Mm);
    assert!(sheet.subtitle.contains("inner face"), "{}", sheet.subtitle);
}

/// A flared side planed level at the sheer stands higher on its outer face, so wood comes off
/// the inner one, which is drawn; its lower edge under the bottom's lap the other way.
#[test]
fn a_panel_s_sheet_says_off_which_face() {
    let reed = starter("reed-skiff");
    let side = reed.panels.iter().find(|p| p.name == "side").expect("a side");
    let sheet = panel::panel_pattern(&reed, side, &[], Units::Mm);
    let all = texts(&sheet);
    let sheer = all.iter().find(|t| t.starts_with("sheer: ")).expect("the sheer's section");
    assert!(sheer.ends_with("off this face") && sheer.contains(" mm)"), "{sheer}");
    let chine = all.iter().find(|t| t.starts_with("chine: ")).expect("the chine's section");
    assert!(chine.ends_with("off the far face"), "{chine}");
}

/// Every sheet that has a bevel shows a section for each of its edges and says the
/// convention once.
#[test]
fn every_sheet_with_a_bevel_shows_which_side() {
    for (s, units) in starters::STARTERS.iter().zip([
        Units::Mm,
        Units::FeetInchesEighths,
        Units::InchFraction,
        Units::Inch,
    ]) {
        let model = model_of(&s.hull());
        let work = &model.woodwork;
        let mut sheets: Vec<(Drawing, usize)> = Vec::new();
        for f in &work.frames {
            sheets.push((frame::frame_assembly(&model, f, units), f.section.edges.len()));
            sheets.push((parts::frame_parts(&model, f, units), f.pieces.len()));
        }
        for t in [&work.transom, &work.bow_transom].into_iter().flatten() {
            sheets.push((ends::transom_pattern(&model, t, units), t.section.edges.len()));
            sheets.push((parts::transom_parts(&model, t, units), t.framing.len()));
        }
        for p in &model.panels {
            let edges = [&p.laps.lower, &p.laps.upper];
            let bevelled = edges.iter().filter(|e| !e.off_far_face(1.0).is_empty()).count();
            sheets.push((panel::panel_pattern(&model, p, &[], units), bevelled));
        }
        for (d, edges) in sheets {
            let all = texts(&d);
            let shown = all.iter().filter(|t| **t == "this face").count();
            assert!(shown >= edges, "{}: {shown} sections for {edges} edges", d.title);
            assert_eq!(d.notes.iter().filter(|n| *n == CONVENTION).count(), 1, "{}", d.title);
            let said = all
                .iter()
                .filter(|t| t.ends_with("off this face") || t.ends_with("off the far face"));
            for t in said {
                let unit = if units == Units::Mm {
                    " mm)"
                } else if units == Units::Inch {
                    " in)"
                } else {
                    "\")"
                };
                assert!(t.contains(unit), "{}: {t}", d.title);
            }
            assert!(!all.iter().any(|t| t.contains("bevels from the other")), "{}", d.title);
        }
    }
}

/// Grooves lie in faces that are glued together, clear of the edges of both boards.
#[test]
fn glue_grooves_lie_inside_their_joints() {
    for s in starters::STARTERS {
        for joint in [Joint::Gusset, Joint::Lap] {
            let mut hull = s.hull();
            hull.framing.joint = joint;
            hull.framing.glue_groove = Some(GlueGroove { width_mm: 6.0, depth_mm: 3.0 });
            let model = model_of(&hull);
            let mut seen = 0;
            for f in &model.woodwork.frames {
                for g in &f.grooves {
                    let piece = f
                        .pieces
                        .iter()
                        .find(|p| p.panel == g.panel)
                        .expect("the piece that it is in");
                    let clear = |r: &[P2], p: &P2| inside(r, *p) && from_ring(*p, r) > 12.0;
                    assert!(g.outline.iter().all(|p| clear(&piece.outline, p)), "{}", s.name);
                    let plates = f
                        .gussets
                        .iter()
                        .filter(|p| p.on_face == g.on_face)
                        .map(|p| &p.outline)
                        .chain(
                            f.pieces
                                .iter()
                                .filter(|p| p.face_at != piece.face_at)
                                .map(|p| &p.outline),
                        );
                    let glued = plates.filter(|r| g.outline.iter().all(|p| clear(r, p))).count();
                    assert_eq!(glued, 1, "{} frame {}: {:?}", s.name, f.station, g.outline);
                    assert!((Region::of(&g.outline).area() - 6.0 * g.length).abs() < 0.5);
                    seen += 1;
                }
                let sum: f64 = f.grooves.iter().map(|g| 2.0 * g.length).sum();
                assert!((f.groove_length() - sum).abs() < 1e-9);
            }
            assert!(seen >= 3, "{} {joint:?}: {seen}", s.name);
        }
    }
}
