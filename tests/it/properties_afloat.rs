//! Properties of the boat afloat that hold on any plausible hull.

use chinewright::finding::{AfloatFact, Fact, Finding};
use chinewright::float::volume::immersed;
use chinewright::hull::Load;
use chinewright::material::Materials;
use chinewright::model::derive;
use chinewright::part::CaseId;
use proptest::prelude::*;

use crate::properties::{config, hull_of, wish};

proptest! {
    #![proptest_config(config())]

    /// Buoyancy equals weight, the centres line up, turning every triangle's corners round
    /// changes nothing, heavier never floats higher, and nothing is infinite.
    #[test]
    fn at_rest_weight_is_carried_and_centres_line_up(wish in wish(), extra in 5.0..120.0f64) {
        let mut hull = hull_of(&wish);
        let Ok(model) = derive(&hull, &Materials::shipped()) else {
            return Err(TestCaseError::reject("no hull"));
        };
        let Some(a) = model.afloat.as_deref() else {
            return Err(TestCaseError::reject("no room"));
        };
        // A tenth of a percent, or it is said.
        let inexact = |f: &Finding| matches!(f.fact, Fact::Afloat(AfloatFact::Inexact(_)));
        let told = model.findings.iter().any(inexact);
        prop_assert!(told == (a.mesh_error > 1e-3) && a.mesh_error < 0.01, "{}", a.mesh_error);
        prop_assert!(a.hull.mass > 5.0 && a.hull.mass.is_finite());
        prop_assert!(a.foam_needed.0.is_finite());
        let mesh = model.mesh(true);
        for name in [CaseId::Empty, CaseId::Alone, CaseId::Full, CaseId::Nobody, CaseId::OneSided] {
            let c = a.case(name).expect("a case");
            let Some(f) = c.floating else {
                // An empty hull displaces little of what it could: it floats.
                prop_assert!(name != CaseId::Empty, "{:?}", c.gm);
                continue;
            };
            // Upright by itself where GM is positive and the loads lie in the middle.
            if c.weight.centre.y.abs() < 1e-6 && f.heel.abs() > 0.01 {
                prop_assert!(c.lolls(), "{name:?}: {} {:?}", f.heel, c.gm);
            }
            let up = f.water.plane.normal;
            let gb = f.immersed.centroid - c.weight.centre;
            prop_assert!((gb - gb.dot(&up) * up).norm() < 1e-3, "{name:?}: B aside of G {gb:?}");
            let carried = f.immersed.volume * a.density * 1e-9;
            prop_assert!((carried / c.weight.mass - 1.0).abs() < 1e-6, "{name:?}");
            // The whole mesh, not the one that she was floated on.
            let fine = immersed(&mesh, &f.water);
            prop_assert!((fine.volume / f.immersed.volume - 1.0).abs() < 2e-3, "{name:?}");
            let mut turned = mesh.clone();
            turned.triangles.reverse();
            for t in &mut turned.triangles {
                t.rotate_left(1);
            }
            let again = immersed(&turned, &f.water);
            prop_assert!((again.volume / fine.volume - 1.0).abs() < 1e-9);
            prop_assert!((again.centroid - fine.centroid).norm() < 1e-4);
        }
        // Heavier, in the middle of what is aboard: never higher.
        let full = a.full().expect("a case");
        if let Some(f) = full.floating {
            let at = full.weight.centre;
            hull.afloat.loads = a.loads.clone();
            hull.afloat.loads.push(Load {
                name: "more".into(),
                kind: chinewright::hull::LoadKind::Gear,
                mass_kg: extra,
                x: at.x,
                y: at.y,
                z: at.z,
            });
            let heavier = derive(&hull, &Materials::shipped()).expect("as before");
            let b = heavier.afloat.as_deref().expect("as before");
            if let Some(g) = b.full().expect("a case").floating {
                let depth = |f: &chinewright::float::equilibrium::Floating| f.water.plane.distance(at);
                prop_assert!(depth(&g) < depth(&f) + 1e-6, "{} {}", depth(&g), depth(&f));
            }
        }
        // What is told of righting and drafts is in order.
        let heels: Vec<f64> = a.righting.points.iter().map(|p| p.heel).collect();
        prop_assert!(heels.windows(2).all(|w| w[1] > w[0]));
        prop_assert!(a.curves.windows(2).all(|w| w[1].displacement > w[0].displacement));
    }
}
