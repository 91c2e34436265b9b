//! How long sticks are cut and where every piece of wood is bought: rails that lie outside the
//! sheet, what is left long to trim, boards without much to spare, jigs longer than a yard's
//! lengths. Truth: edges summed in short steps, planes met by hand, arithmetic.

use chinewright::bend::BentMember;
use chinewright::finding::{Fact, Severity, StockFact};
use chinewright::geom::P3;
use chinewright::hull::stock::{LumberPrice, LumberStock};
use chinewright::hull::{Hull, MemberSide, StemSides, starters::STARTERS};
use chinewright::material::Materials;
use chinewright::model::stock::{Laid, LumberList, SEED, StockList, stock};
use chinewright::model::{Model, derive};
use chinewright::part::{CutFrom, PartId, Shape, Use};
use chinewright::report::text;
use chinewright::stock::lumber::check::faults;
use chinewright::stock::nest::Effort;

use crate::jig::{model as derived, punt};

fn model(hull: &Hull) -> Model {
    derive(hull, &Materials::shipped()).expect("a model")
}

fn listed(model: &Model) -> StockList {
    stock(model, Effort::NONE, SEED, &mut |_, _| true)
}

fn named(model: &Model, name: &str) -> usize {
    model.members.iter().position(|b| b.member.name == name).expect("a member of that name")
}

/// Length of the edge at the corner `k`, in steps of a tenth of the places' spacing.
fn edge(model: &Model, bent: &BentMember, k: usize) -> f64 {
    let line = model.lines.get(&bent.member.line).expect("its line");
    let steps = 10 * (bent.along.len() - 1);
    let at = |i: usize| {
        let s = bent.length * i as f64 / steps as f64;
        let t = line.arc.parameter_at(&line.spline, s);
        bent.lie(line, t).expect("a place").faces()[k]
    };
    (0..steps).map(|i| (at(i + 1) - at(i)).norm()).sum()
}

/// Every starter's sticks outside are as long as the longest of their edges, summed in short
/// steps, with what they run past their line's ends: to both planes no corner is short.
#[test]
fn a_rail_is_as_long_as_its_outer_face_and_reaches_both_ends() {
    let mut rails = 0;
    for starter in STARTERS {
        let m = model(&starter.hull());
        for (i, bent) in m.members.iter().enumerate() {
            if bent.member.side == MemberSide::Inside {
                continue;
            }
            rails += 1;
            let run = m.run_of(i).expect("a member");
            let longest = (0..4).map(|k| edge(&m, bent, k)).fold(0.0, f64::max);
            let along = run.length - run.past_bow - run.past_stern;
            assert!((along - longest).abs() < 0.5, "{}: {along} of {longest}", starter.name);
            assert!(along > bent.length, "{}: {along} of a line of {}", starter.name, bent.length);
            let [first, last] = [bent.along.first(), bent.along.last()].map(|a| *a.expect("one"));
            if let Some(plane) = m.lines.transom {
                let ends = bent.corners(&last).map(|p| p + run.past_stern * last.tangent);
                let least =
                    ends.map(|p| plane.distance(p)).into_iter().fold(f64::INFINITY, f64::min);
                assert!(least.abs() < 1e-6, "{}: {least} from the transom", starter.name);
            }
            if let Some(plane) = m.lines.bow_transom {
                let ends = bent.corners(&first).map(|p| p - run.past_bow * first.tangent);
                let least =
                    ends.map(|p| plane.distance(p)).into_iter().fold(f64::INFINITY, f64::min);
                assert!(least.abs() < 1e-6, "{}: {least} from the bow transom", starter.name);
            }
            let part = m.parts.get(PartId::member(i)).expect("a part");
            assert_eq!(part.amount, chinewright::part::Amount::Length(run.length));
        }
    }
    assert!(rails >= 3, "{rails}");
}

/// Where sides are mitred the rails are: every corner of the longest stick comes to the
/// centreplane, and one of them just does.
#[test]
fn mitred_rails_meet_on_the_centreplane() {
    let mut hull = STARTERS[0].hull();
    hull.stem.sides = StemSides::Mitred;
    let m = model(&hull);
    let i = named(&m, "rub rail");
    let (run, first) = (m.run_of(i).expect("it"), m.members[i].along[0]);
    let ends = m.members[i].corners(&first).map(|p| p - run.past_bow * first.tangent);
    let most = ends.iter().map(|p: &P3| p.y).fold(f64::NEG_INFINITY, f64::max);
    assert!(most.abs() < 1e-6, "{ends:?}");
    // About 25 mm out at the half angle of entrance.
    let tan = first.tangent.y / first.tangent.x;
    assert!((run.past_bow * tan / 25.0 - 1.0).abs() < 0.3, "{run:?} {tan}");
}

/// The punt is 3000 long and straight, her transoms 18 thick and upright: a rail is flush with
/// both, a log and a keelson lie between them.
#[test]
fn a_straight_punts_sticks_by_hand() {
    let m = derived(&punt());
    for (name, length) in
        [("rub rail", 3000.0), ("chine log", 2964.0), ("sheer clamp", 2964.0), ("keelson", 2964.0)]
    {
        let run = m.run_of(named(&m, name)).expect("a stick");
        assert!((run.length - length).abs() < 1e-6, "{name}: {run:?}");
    }
    let list = listed(&m);
    let trim = m.hull.stock.stick_trim_mm;
    assert_eq!(trim, 25.0);
    let cut = |of: &LumberList, name: &str| {
        of.cuts.iter().find(|c| c.0.name == name).expect("a cut").0.clone()
    };
    let rail = cut(&list.lumber, "rub rail, port");
    assert!((rail.length - 3050.0).abs() < 1e-6 && rail.trim == trim, "{rail:?}");
    // No stick of the jig is left long.
    assert!(list.lumber.cuts.iter().filter(|c| c.1.of_jig()).all(|c| c.0.trim == 0.0));
    let told = text::stock(&list, m.hull.units, &m.hull.stock);
    let told = told.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(told.contains("rub rail, port 3050 mm (finished 3000 mm)"), "{told}");
    let mut whole = punt();
    whole.stock.stick_trim_mm = 0.0;
    let list = listed(&derived(&whole));
    assert!((cut(&list.lumber, "rub rail, port").length - 3000.0).abs() < 1e-6);
}

/// Pieces of a scarfed stick are trimmed at the stick's own two ends, and finished are together
/// as long as it is, with a scarf for each joint.
#[test]
fn a_scarfed_sticks_pieces_finish_as_long_as_it_is() {
    let mut found = 0;
    for starter in STARTERS {
        let m = model(&starter.hull());
        let list = listed(&m).lumber;
        let alone = list.plan.boards.iter().filter(|b| {
            let mut pieces = b.strips.iter().flat_map(|s| &s.pieces);
            pieces.all(|p| list.joints(p.cut) > 0 && b.strips.iter().all(|s| s.pieces.len() == 1))
        });
        for board in alone {
            assert!(list.spare(board) >= 10.0 - 1e-6, "{}: {board:?}", starter.name);
        }
        for s in list.plan.scarfs.iter().filter(|s| s.cleat == 0.0) {
            let PartId::Member(id) = list.cuts[s.cut].1 else { panic!("{:?}", list.cuts[s.cut]) };
            let pieces = list.plan.boards.iter().flat_map(|b| &b.strips).flat_map(|s| &s.pieces);
            let finished: f64 = pieces.filter(|p| p.cut == s.cut).map(|p| list.finished(p)).sum();
            let run = m.run_of(id.0).expect("a stick");
            let wanted = run.length + s.at.len() as f64 * s.length;
            assert!((finished - wanted).abs() < 1e-6, "{}: {finished} of {wanted}", starter.name);
            found += 1;
        }
    }
    assert!(found > 0, "no starter is longer than a yard's lengths");
}

fn of_one_length(length: f64) -> Hull {
    let mut hull = punt();
    let lumber = |species: &str, width_mm| LumberStock {
        species: species.into(),
        thickness_mm: 19.0,
        width_mm,
        lengths_mm: vec![length],
        price: Some(LumberPrice::Each(10.0)),
        count: None,
    };
    hull.stock.lumber = vec![lumber("Douglas-fir", 286.0)];
    hull
}

/// A rail of 3000 with 25 at each end comes out of a board of 3050 + 30 to be trimmed and 4 more;
/// out of one of 3100 with 20 to spare nobody is told.
#[test]
fn a_board_with_little_to_spare_is_told() {
    for (length, little) in [(3084.0, true), (3100.0, false)] {
        let list = listed(&derived(&of_one_length(length)));
        let told: Vec<f64> = list
            .findings
            .iter()
            .filter_map(|f| match f.fact {
                Fact::Stock(StockFact::LittleToSpare(spare)) => Some(spare),
                _ => None,
            })
            .collect();
        assert_eq!(told.iter().any(|s| (s - 4.0).abs() < 1e-6), little, "{length}: {told:?}");
        for b in &list.lumber.plan.boards {
            assert!(list.lumber.spare(b) >= -1e-6);
        }
    }
}

/// What no yard has stops her: a species of which the list says that there is none.
#[test]
fn lumber_of_which_there_is_none_stops_her() {
    let mut hull = of_one_length(4000.0);
    hull.stock.lumber[0].count = Some(0);
    let list = listed(&derived(&hull));
    let none =
        |f: &&chinewright::finding::Finding| matches!(f.fact, Fact::Stock(StockFact::NoLumber(_)));
    let found: Vec<_> = list.findings.iter().filter(none).collect();
    assert!(found.len() > 5 && found.iter().all(|f| f.severity == Severity::Stop), "{found:?}");
}

/// A jig's rails longer than any length are butted: the pieces make up the rail, and each joint
/// has a cleat of its section four times as long as the rail is wide.
#[test]
fn rails_of_a_long_jig_are_butted_under_cleats() {
    let mut hull = punt();
    for line in &mut hull.lines {
        for d in &mut line.ducks {
            d.x *= 2.0;
        }
    }
    hull.framing.stations_mm = vec![1200.0, 2800.0, 4800.0];
    let m = model(&hull);
    let jig = m.woodwork.strongback.as_ref().expect("a jig");
    let length = jig.rails[1] - jig.rails[0];
    assert!(length > 4800.0);
    let list = listed(&m).lumber;
    assert!(list.plan.missing.is_empty(), "{:?}", list.plan.missing);
    let wrong = faults(
        &list.plan,
        &list.cuts.iter().map(|c| c.0.clone()).collect::<Vec<_>>(),
        &list.lengths,
        &list.rules,
    );
    assert!(wrong.is_empty(), "{wrong:?}");
    let rails: Vec<usize> = (0..list.cuts.len())
        .filter(|i| matches!(list.cuts[*i].1, PartId::Stick(Use::Rail, _)))
        .collect();
    assert_eq!(rails.len(), 2);
    for rail in rails {
        let joined = list.plan.scarfs.iter().find(|s| s.cut == rail).expect("a joint");
        assert_eq!((joined.at.len(), joined.length, joined.cleat), (1, 0.0, 560.0));
        let pieces = list.plan.boards.iter().flat_map(|b| &b.strips).flat_map(|s| &s.pieces);
        let mut own: Vec<f64> = pieces.filter(|p| p.cut == rail).map(|p| p.length).collect();
        own.sort_by(f64::total_cmp);
        assert_eq!((own.len(), own[0]), (3, 560.0), "{own:?}");
        assert!((own[1] + own[2] - length).abs() < 1e-6, "{own:?} of {length}");
    }
    let told = text::stock(&listed(&m), hull.units, &hull.stock);
    assert!(told.contains("cleat 1"), "{told}");
}

/// Every piece of wood of the register is bought once: cut of lumber, or laid on a sheet. What
/// is on neither is told with its reason.
#[test]
fn every_piece_of_wood_is_bought() {
    let (mut cut_pieces, mut floors) = (0, 0);
    for starter in STARTERS {
        let m = model(&starter.hull());
        let list = listed(&m);
        let boxes = list
            .findings
            .iter()
            .any(|f| matches!(f.fact, Fact::Stock(StockFact::BoxesOnNoSheet { .. })));
        for part in m.parts.all() {
            let cuts = list.lumber.cuts.iter().filter(|c| c.1 == part.id).count();
            let laid = list.sheets.iter().flat_map(|k| &k.of).filter(|l| match l {
                Laid::Part(id) => *id == part.id,
                Laid::Piece(panel, _) => PartId::Panel(*panel) == part.id,
                _ => false,
            });
            let laid = laid.count();
            match &part.cut_from {
                CutFrom::Lumber { .. } => {
                    assert_eq!(cuts, part.copies.count(), "{}: {}", starter.name, part.name);
                    cut_pieces += cuts;
                    floors += usize::from(matches!(part.id, PartId::Floor(_)));
                }
                CutFrom::Sheet { .. } => assert!(laid > 0, "{}: {}", starter.name, part.name),
                // Cut to what they lie against, of what is left: told with their area.
                CutFrom::Ply { .. } if matches!(part.shape, Shape::Solid) => {
                    assert!(matches!(part.id, PartId::FoamBox(_)) && boxes, "{}", part.name);
                }
                // Layers of a board may come from several kinds of sheet.
                CutFrom::Ply { .. } => assert!(laid > 0, "{}: {}", starter.name, part.name),
                CutFrom::Foam { .. } | CutFrom::Pieces => assert_eq!(cuts + laid, 0),
            }
        }
        let missing = &list.lumber.plan.missing;
        assert!(missing.is_empty(), "{}: {missing:?}", starter.name);
    }
    assert!(cut_pieces > 100 && floors > 0, "{cut_pieces} {floors}");
}

/// Butt blocks are weighed by the fewest that can do while she floats, and by those of the layout
/// on the list; what is painted is one figure for scales and tins.
#[test]
fn blocks_and_paint_are_weighed_as_they_are_bought() {
    let (mut joined, mut same) = (0, 0);
    for starter in STARTERS {
        let m = model(&starter.hull());
        let list = listed(&m);
        let a = m.afloat.as_deref().expect("she floats");
        let weighed = a.items.iter().find(|i| i.name == "butt blocks").map_or(0.0, |i| i.mass);
        let of_panel = |p: &chinewright::model::stock::PanelSplit| {
            let panel = &m.panels[p.panel.0];
            let density = m.materials.sheet(&panel.sheet).expect("its sheet").density_kg_m3;
            let blocks = p.split.joints.iter().flat_map(|j| &j.blocks);
            let area: f64 = blocks.map(|b| chinewright::geom::polyline::area(b).abs()).sum();
            p.copies.count() as f64 * area * panel.thickness * density * 1e-9
        };
        let built: f64 = list.panels.iter().map(of_panel).sum();
        // The layout may take joints more than the fewest, where that saves a sheet or keeps
        // neighbours' joints apart; never fewer, but where a panel is narrower.
        let more = built - weighed;
        let off = more.abs();
        assert!(more >= -0.25 * built && more < 1.0, "{}: {weighed} of {built}", starter.name);
        assert_eq!(built > 0.0, weighed > 0.0, "{}: {weighed} of {built}", starter.name);
        same += usize::from(built > 0.0 && off < 0.2 * built);
        let margin = 1.0 + 0.01 * m.hull.afloat.margin_pct;
        let told = a.hull.mass + (built - weighed) * margin;
        assert!((list.mass - told).abs() < 1e-9, "{}: {} and {told}", starter.name, list.mass);
        joined += usize::from(built > 0.5);
        let paint = a.items.iter().find(|i| i.name == "paint").expect("paint");
        let chinewright::float::mass::Basis::Paint { area, .. } = paint.basis else {
            panic!("{:?}", paint.basis)
        };
        let primer = list.stores.lines.iter().find(|l| l.name == "primer").expect("primer");
        let chinewright::stock::stores::CountedFrom::Paint { area: bought, .. } = primer.from
        else {
            panic!("{:?}", primer.from)
        };
        assert!((area - bought).abs() < 1.0, "{}: {area} and {bought}", starter.name);
    }
    assert!(joined >= 2 && same >= 1, "{joined} {same}");
}

/// Antifouling goes up to the boot-top's upper edge: on the punt 50 mm of her outside more all
/// round, up slanting sides and two upright ends.
#[test]
fn antifouling_goes_up_to_the_boot_top() {
    let below = |boot_top: f64| {
        let mut hull = punt();
        hull.afloat.waterline.boot_top_mm = boot_top;
        hull.afloat.waterline.parallel = true;
        let m = derived(&hull);
        let marked = m.afloat.as_deref().expect("she floats").marked.clone().expect("a mark");
        (marked.below, marked.stations[0].at)
    };
    let ((bare, at), (painted, _)) = (below(0.0), below(50.0));
    let slant = 17f64.sqrt() / 4.0;
    // The ends are as wide as the outside at the band's middle, 25 above the water.
    let wide = 2.0 * (at.y + 25.0 / 4.0);
    let band = 2.0 * 3000.0 * 50.0 * slant + 2.0 * 50.0 * wide;
    assert!(((painted - bare) / band - 1.0).abs() < 0.01, "{painted} {bare} {band}");
}
