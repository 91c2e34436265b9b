//! A pass after another one computes what its changes touch, and the model is the one from
//! nothing: counted stage by stage, and compared figure by figure.

use chinewright::hull::starters::{STARTERS, find};
use chinewright::hull::{CheckedHull, Duck, Hull, Load, LoadKind};
use chinewright::material::Materials;
use chinewright::model::{Model, Recomputed, derive_after, derive_checked};
use chinewright::part::LineId;
use chinewright::report::json::report;
use chinewright::units::Units;

fn checked(hull: &Hull) -> CheckedHull {
    CheckedHull::of(hull.clone()).expect("a hull")
}

/// The model of `hull` after `before`, which must be that from nothing, and what it took.
fn after(before: &Model, hull: &Hull) -> (Model, Recomputed) {
    let materials = Materials::shipped();
    let hull = checked(hull);
    let (model, count) = derive_after(Some(before), &hull, &materials);
    let anew = derive_checked(&hull, &materials);
    assert_eq!(report(&model, None), report(&anew, None), "{}: {count:?}", hull.name);
    (model, count)
}

fn each_starter(mut see: impl FnMut(&Model, &Hull)) {
    for starter in STARTERS {
        let hull = starter.hull();
        let model = derive_checked(&checked(&hull), &Materials::shipped());
        see(&model, &hull);
    }
}

const NOTHING: Recomputed = Recomputed {
    lines: 0,
    panels: 0,
    sheets: 0,
    laps: 0,
    members: 0,
    battens: 0,
    frames: 0,
    ends: 0,
    float_meshes: 0,
    cases: 0,
    righting: 0,
    drafts: 0,
    steps: 0,
    lists: 0,
    swamped: 0,
    speeds: 0,
    marks: 0,
};

/// From nothing each stage is computed: else nothing would be counted below.
#[test]
fn from_nothing_everything_is_computed() {
    let materials = Materials::shipped();
    for starter in STARTERS {
        let (model, count) = derive_after(None, &starter.checked(), &materials);
        assert_eq!((count.panels, count.sheets), (model.panels.len(), model.panels.len()));
        assert_eq!(count.members, model.members.iter().filter(|m| m.path.is_none()).count());
        assert_eq!([count.lines, count.laps, count.frames, count.ends, count.float_meshes], [1; 5]);
        let afloat = [count.righting, count.drafts, count.steps, count.lists, count.swamped];
        assert_eq!(afloat, [1; 5]);
        assert!(count.cases >= 5, "{count:?}");
        assert_eq!((count.speeds, count.marks), (1, 1));
    }
}

#[test]
fn a_name_touches_nothing() {
    each_starter(|model, hull| {
        let named =
            Hull { name: "Plain Jane".into(), notes: "for the lake".into(), ..hull.clone() };
        assert_eq!(after(model, &named).1, NOTHING);
    });
}

#[test]
fn units_touch_words_only() {
    each_starter(|model, hull| {
        for units in [Units::M, Units::FeetInchesEighths] {
            let shown = Hull { units, ..hull.clone() };
            assert_eq!(after(model, &shown).1, NOTHING);
        }
    });
}

#[test]
fn a_load_touches_how_she_floats_only() {
    each_starter(|model, hull| {
        let afloat = model.afloat.as_ref().expect("she floats");
        let mut loaded = hull.clone();
        loaded.afloat.loads = afloat.loads.clone();
        let (first, count) = after(model, &loaded);
        assert_eq!(count, NOTHING, "the usual loads, written down");
        let (x, z) = (0.4 * model.lines.length_overall(), 200.0);
        let (name, kind) = ("anchor".into(), LoadKind::Gear);
        loaded.afloat.loads.push(Load { name, kind, mass_kg: 8.0, x, y: 0.0, z });
        let (_, count) = after(&first, &loaded);
        // Empty she floats as she did; so does the marked number of persons.
        let (righting, steps, swamped) = (count.righting, count.steps, count.swamped);
        assert_eq!((righting, steps, swamped), (1, 1, 1), "{count:?}");
        assert!((4..=5).contains(&count.cases), "{count:?}");
        let rest = Recomputed {
            cases: 0,
            righting: 0,
            steps: 0,
            swamped: 0,
            speeds: 0,
            marks: 0,
            ..count
        };
        assert_eq!(rest, NOTHING);
    });
}

/// One duck of the sheer: only the panel under it, what is bent along the sheer, and what is
/// made from the whole skin.
#[test]
fn a_duck_touches_the_panels_beside_it() {
    each_starter(|model, hull| {
        let mut pulled = hull.clone();
        let sheer = pulled.lines.last_mut().expect("a sheer");
        let duck = sheer.ducks[2];
        sheer.ducks[2] = Duck { y: duck.y + 3.0, ..duck };
        let (next, count) = after(model, &pulled);
        assert_eq!((count.lines, count.panels, count.sheets), (1, 1, 1), "{}", hull.name);
        let on_it = |m: &chinewright::bend::BentMember| {
            let below = model.lines.lines[model.lines.lines.len() - 2].id;
            m.path.is_none() && (m.member.follows(LineId::Sheer) || m.member.follows(below))
        };
        assert_eq!(count.members, next.members.iter().filter(|m| on_it(m)).count());
        // And back: the model that it was.
        let (back, _) = after(&next, hull);
        assert_eq!(report(&back, None), report(model, None));
    });
}

#[test]
fn what_is_sawn_and_what_is_planked_do_not_wait_for_each_other() {
    each_starter(|model, hull| {
        let mut hung = hull.clone();
        hung.transom.thickness_mm += 6.0;
        let count = after(model, &hung).1;
        assert_eq!((count.panels, count.members, count.frames, count.ends), (0, 0, 0, 1));
        assert_eq!((count.float_meshes, count.drafts), (0, 0));
        let mut sheet = hull.clone();
        sheet.planking.thickness_mm -= 0.2;
        sheet.planking.pattern_surface = chinewright::hull::PatternSurface::Inside;
        let (inside, _) = after(model, &sheet);
        sheet.planking.thickness_mm -= 0.2;
        // Where every panel has its own sheet, of one of them.
        if let Some(own) = sheet.planking.panels.first_mut() {
            own.thickness_mm -= 0.2;
        }
        let (thinner, count) = after(&inside, &sheet);
        assert_eq!((count.panels, count.lines), (0, 0), "laid by their inside");
        let both = thinner.panels.iter().zip(&inside.panels);
        let others = both.filter(|(a, b)| a.thickness != b.thickness).count();
        assert!(others > 0, "{}", hull.name);
        assert_eq!((count.sheets, count.laps, count.frames), (others, 1, 1));
    });
}

/// A boat that was measured on her jig is computed twice, and taken over twice.
#[test]
fn a_boat_as_built_is_taken_over_too() {
    let mut hull = find("reed-skiff").expect("a starter").hull();
    let materials = Materials::shipped();
    let drawn = derive_checked(&checked(&hull), &materials);
    let jig = drawn.woodwork.strongback.as_ref().expect("a strongback");
    let stand = &jig.stands[1];
    let corner = stand.corners.iter().find(|c| c.line == LineId::Sheer).expect("the sheer");
    hull.as_built.push(chinewright::hull::Measured {
        station: stand.station,
        line: "sheer".into(),
        half_breadth_mm: Some(corner.half_breadth + 4.0),
        above_floor_mm: None,
    });
    let (measured, count) = after(&drawn, &hull);
    assert_eq!(count, NOTHING, "the drawing is what it was");
    let named = Hull { name: "Plain Jane".into(), ..hull.clone() };
    let (again, count) = after(&measured, &named);
    assert_eq!(count, NOTHING);
    assert!(again.as_built.is_some());
}
