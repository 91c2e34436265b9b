//! Panels whose ends are trimmed to the stem or the transom instead of ending in a ruling.

use chinewright::geom::polyline::first_self_crossing;
use chinewright::hull::document::EndShape;
use chinewright::hull::starters::STARTERS;
use chinewright::material::Materials;
use chinewright::model::derive;
use chinewright::panel::EdgeKind;

#[test]
fn trimmed_ends_lie_on_their_planes_and_close_the_hull() {
    for starter in STARTERS {
        let mut hull = starter.hull();
        hull.stern = EndShape { straight: false };
        hull.bow = EndShape { straight: false };
        let model = derive(&hull, &Materials::shipped()).expect(starter.name);
        let mut on_plane = 0;
        for p in model.panels.iter().filter(|p| !p.full_width) {
            for r in &p.surface.rulings {
                for (end, kind) in [(r.lower, r.lower_on), (r.upper, r.upper_on)] {
                    let distance = match kind {
                        EdgeKind::Stern => model.lines.transom.map_or(end.y, |t| t.distance(end)),
                        EdgeKind::Bow => model.lines.bow_transom.map_or(end.y, |b| b.distance(end)),
                        EdgeKind::Line => continue,
                    };
                    on_plane += 1;
                    assert!(distance.abs() < 1e-6, "{} {}: {distance}", starter.name, p.name);
                }
            }
            let outline = chinewright::flat::outline::of_flat(&p.flat, false);
            assert_eq!(first_self_crossing(&outline), None, "{} {}", starter.name, p.name);
            assert!(
                p.quality.greatest_warp.to_degrees() < 1.0,
                "{} {}: {}",
                starter.name,
                p.name,
                p.quality.greatest_warp.to_degrees()
            );
        }
        assert!(on_plane > 0, "{}: nothing was trimmed", starter.name);
        let faults = model.mesh(false).closed_faults();
        assert!(faults.is_empty(), "{}: {} open edges", starter.name, faults.len());
        // Straight and trimmed patterns are the same board but for its ends.
        let straight = derive(&starter.hull(), &Materials::shipped()).expect(starter.name);
        for (a, b) in model.panels.iter().zip(&straight.panels) {
            assert!((a.edges.lower - b.edges.lower).abs() < 5.0, "{} {}", starter.name, a.name);
            assert!((a.edges.upper - b.edges.upper).abs() < 5.0, "{} {}", starter.name, a.name);
        }
    }
}
