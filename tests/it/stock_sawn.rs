//! Lumber that the list asks for can be had and stands where it is joined: rails of a jig over
//! their posts, a stem that no board is wide enough for as its parts.

use chinewright::hull::Hull;
use chinewright::hull::starters::STARTERS;
use chinewright::hull::stock::SoldBy;
use chinewright::material::Materials;
use chinewright::model::stock::{SEED, StockList, stock};
use chinewright::model::{Model, derive};
use chinewright::part::{PartId, Use};
use chinewright::stock::nest::Effort;

fn model(hull: &Hull) -> Model {
    derive(hull, &Materials::shipped()).expect("a model")
}

fn listed(model: &Model) -> StockList {
    stock(model, Effort::NONE, SEED, &mut |_, _| true)
}

/// Where a jig's rail is butted both pieces bear on a post under it, by a quarter of its width at
/// least; posts as the jig itself has them, the joint as far along as the list says.
#[test]
fn rails_are_butted_over_posts() {
    let mut joints = 0;
    for starter in STARTERS {
        for sold_by in SoldBy::ALL {
            let mut hull = starter.hull();
            hull.stock.sold_by = sold_by;
            let model = model(&hull);
            let Some(jig) = &model.woodwork.strongback else { continue };
            let list = listed(&model);
            for s in &list.lumber.plan.scarfs {
                let (cut, id) = &list.lumber.cuts[s.cut];
                if !matches!(id, PartId::Stick(Use::Rail, _)) {
                    continue;
                }
                for at in &s.at {
                    let x = jig.rails[0] + at;
                    let off = jig.posts.iter().map(|p| (p - x).abs()).fold(f64::INFINITY, f64::min);
                    let reach = 0.25 * hull.strongback.leg_width_mm;
                    assert!(off <= reach + 1e-6, "{}: {} {off} off", starter.name, cut.name);
                    joints += 1;
                }
            }
        }
    }
    assert!(joints >= 4, "{joints} joints of rails");
}

/// A stem that no board is wide enough for is listed as its two parts, from boards that there are,
/// each long enough for half of the stem and of the lap.
#[test]
fn a_lapped_stem_is_listed_as_its_parts() {
    let mut seen = 0;
    for starter in STARTERS {
        let mut hull = starter.hull();
        let plain = model(&hull);
        let Some(stem) = &plain.woodwork.stem else { continue };
        // Boards a little too narrow for the blank in one.
        let narrow = stem.board_width - 8.0;
        if narrow < hull.stem.moulded_mm {
            continue;
        }
        hull.framing.widths_mm = vec![narrow];
        let m = model(&hull);
        let stem = m.woodwork.stem.as_ref().expect("a stem");
        if stem.parts != 2 {
            continue;
        }
        let list = listed(&m);
        let own: Vec<_> = list
            .lumber
            .cuts
            .iter()
            .filter(|(_, id)| matches!(id, PartId::Stem(_)))
            .map(|(cut, _)| cut)
            .collect();
        assert_eq!(own.len(), 2, "{}", starter.name);
        let long: f64 = own.iter().map(|c| c.length).sum();
        assert!(long >= stem.board_length - 1.0, "{long} of {}", stem.board_length);
        for cut in own {
            assert!(cut.section.1 <= stem.board_width + 1e-9, "{cut:?}");
            assert!(cut.name.contains("of 2"), "{}", cut.name);
        }
        seen += 1;
    }
    assert!(seen > 0, "no starter's stem is lapped with narrow boards");
}
