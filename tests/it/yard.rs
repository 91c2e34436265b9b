//! Only what the yard has, against full enumeration: every boat that small lists make, derived
//! and counted by the plain calls.

use chinewright::finding::{Fact, Finding, Severity, SkinFact};
use chinewright::hull::starters::STARTERS;
use chinewright::hull::stock::{
    JointRule, LumberPrice, LumberStock, PanelJoint, SheetStock, StorePrice,
};
use chinewright::hull::{CheckedHull, Hull};
use chinewright::material::Materials;
use chinewright::model::stock::yard::{
    Because, Besides, Change, Choices, End, Family, Found, How, NotListed, Pick, Why, choose,
};
use chinewright::model::stock::{SEED, StockList, stock};
use chinewright::model::{Model, derive};
use chinewright::part::{MemberId, PartId};
use chinewright::report::{json, text};
use chinewright::stock::nest::Effort;
use chinewright::words;

pub(crate) fn sheet(name: &str, count: Option<u32>, price: Option<f64>) -> SheetStock {
    SheetStock {
        sheet: name.into(),
        length_mm: 2440.0,
        width_mm: 1220.0,
        count,
        price,
        one_good_face: false,
        outline_mm: Vec::new(),
    }
}

fn lumber(species: &str, width_mm: f64, metre: f64) -> LumberStock {
    LumberStock {
        species: species.into(),
        thickness_mm: 19.0,
        width_mm,
        lengths_mm: vec![2400.0, 3600.0],
        price: Some(LumberPrice::PerMetre(metre)),
        count: None,
    }
}

/// The smallest starter; of the second lumber only the rub rail can be ripped. Her panels are
/// joined as they are.
pub(crate) fn pram(sheets: Vec<SheetStock>) -> Hull {
    let mut hull = STARTERS[3].hull();
    hull.stock.sheets = sheets;
    hull.stock.lumber =
        vec![lumber("Douglas-fir", 140.0, 6.0), lumber("eastern white pine", 34.0, 0.9)];
    let joined = |panel: &str| PanelJoint {
        panel: panel.into(),
        rule: JointRule::default(),
        at_mm: Vec::new(),
    };
    hull.stock.panel_joints = vec![joined("bottom"), joined("side")];
    hull
}

pub(crate) fn found(hull: &Hull) -> Result<Found, NotListed> {
    let hull = CheckedHull::of(hull.clone()).expect("no fault");
    choose(&hull, &Materials::shipped(), How::default(), &mut |_| true)
}

fn counted(hull: &Hull) -> (Model, StockList) {
    let model = derive(hull, &Materials::shipped()).expect("a model");
    let list = stock(&model, Effort::NONE, SEED, &mut |_, _| true);
    (model, list)
}

/// What of a list has no price, and what the rest costs.
fn paid(hull: &Hull, list: &StockList) -> (usize, f64) {
    let sheets = list
        .sheets
        .iter()
        .flat_map(|k| k.layout.sheets.iter().map(|s| k.problem.sheets[s.sheet].price));
    let own: usize = hull.stock.lumber.iter().map(|l| l.lengths_mm.len()).sum();
    let boards = list.lumber.plan.boards.iter().filter(|b| b.stock < own);
    let boards = boards.map(|b| list.lumber.lengths[b.stock].price);
    (sheets.chain(boards).filter(Option::is_none).count(), list.cost.known())
}

/// Whether a boat holds, told anew from her findings and her list: nothing graver than a note but
/// what is borne, and no member's stick from lumber off the list.
fn holds(model: &Model, list: &StockList, borne: &[Finding]) -> bool {
    let grave = |f: &&Finding| f.severity > Severity::Note && !borne.iter().any(|b| b.alike(f));
    let own: usize = model.hull.stock.lumber.iter().map(|l| l.lengths_mm.len()).sum();
    let boards = list.lumber.plan.boards.iter().filter(|b| b.stock >= own);
    let pieces = boards.flat_map(|b| &b.strips).flat_map(|s| &s.pieces);
    let off_list = pieces
        .map(|p| list.lumber.cuts[p.cut].1)
        .any(|id| matches!(id, PartId::Member(MemberId(i)) if model.members[i].path.is_none()));
    model.findings.iter().chain(&list.findings).find(grave).is_none() && !off_list
}

/// Every pick.
fn all(choices: &Choices) -> Vec<Pick> {
    let (panels, members) = (choices.panels.len(), choices.members.len());
    let lists: Vec<usize> = choices
        .panels
        .iter()
        .map(|p| p.of.len())
        .chain(choices.members.iter().map(|m| m.of.len()))
        .chain([choices.glues.len(), choices.joints.len()])
        .collect();
    (0..lists.iter().product::<usize>())
        .map(|mut n| {
            let mut at = lists.iter().map(|of| {
                let i = n % of;
                n /= of;
                i
            });
            Pick {
                panels: at.by_ref().take(panels).collect(),
                members: at.by_ref().take(members).collect(),
                glue: at.next().expect("a glue"),
                joint: at.next().expect("a joint"),
            }
        })
        .collect()
}

/// The least that any boat of these lists costs, and how many hold.
fn least(hull: &Hull, found: &Found) -> (Option<(usize, f64)>, usize) {
    let (model, _) = &found.before;
    let choices = Choices::of(model).expect("lists");
    let picks = all(&choices);
    assert_eq!(picks.len() as u128, found.possible);
    let mut costs: Vec<(usize, f64)> = picks
        .iter()
        .map(|p| choices.applied(hull, p))
        .filter_map(|hull| {
            let (model, list) = counted(&hull);
            holds(&model, &list, &found.suffered).then(|| paid(&hull, &list))
        })
        .collect();
    costs.sort_by(|a, b| a.0.cmp(&b.0).then(a.1.total_cmp(&b.1)));
    (costs.first().copied(), costs.len())
}

/// The answer is the least of all boats; its list is the plain one and its document differs by
/// what it says.
fn is_the_least(hull: &Hull) -> Found {
    let found = found(hull).expect("lists");
    assert_eq!(found.end, End::Proved);
    let (least, holding) = least(hull, &found);
    let answer = found.answer.as_ref().expect("a boat that holds");
    let own = paid(&answer.model.hull, &answer.list);
    let (unpriced, known) = least.expect("one holds by enumeration too");
    assert_eq!(own.0, unpriced);
    assert!((own.1 - known).abs() < 1e-6, "{own:?} of {least:?}, {holding} hold");
    let (model, list) = counted(&answer.model.hull);
    assert!(list == answer.list && model.findings == answer.model.findings);
    assert!(found.looked_at as u128 <= found.possible);
    found
}

/// Thick sheets break their bend, of the others the cheaper goes into both panels; the rail is of
/// the cheaper wood if that takes its bend.
#[test]
fn the_cheapest_that_holds_is_that_of_all_boats() {
    let hull = pram(vec![
        sheet("marine ply 6", None, Some(95.0)),
        sheet("yard ply 1/4", None, Some(60.0)),
        sheet("marine ply 18", None, Some(20.0)),
    ]);
    let found = is_the_least(&hull);
    let ruled_out = |panel: &str| {
        found.fallen.iter().any(|f| {
            let of = matches!(&f.family, Family::Sheet { panel: p, sheet }
                if p == panel && sheet.name == "marine ply 18");
            let bent = matches!(&f.why, Why::Finding(w)
                if matches!(w.fact, Fact::Skin(SkinFact::Radius { .. })));
            of && bent
        })
    };
    assert!(ruled_out("side") || ruled_out("bottom"), "{:?}", found.fallen);
    let told = text::yard(&found, hull.units);
    let said = json::yard(&found, hull.units);
    assert_eq!(said["proved"], true);
    let answer = found.answer.as_ref().expect("there");
    assert_eq!(said["after"]["known_cost"], answer.list.cost.known());
    assert_eq!(said["changes"].as_array().map(Vec::len), Some(answer.changes.len()));
    for c in &answer.changes {
        assert!(told.contains(&words::yard::change(c, hull.units)), "{told}");
    }
}

/// There is one of the cheap sheets, too few for her: at most one panel is of it.
#[test]
fn what_there_is_has_to_do() {
    let hull = pram(vec![
        sheet("marine ply 6", None, Some(95.0)),
        sheet("yard ply 1/4", Some(1), Some(30.0)),
    ]);
    let found = is_the_least(&hull);
    let answer = found.answer.as_ref().expect("there");
    let cheap = answer.model.panels.iter().filter(|p| p.sheet == "yard ply 1/4").count();
    assert!(cheap < 2);
    let fell = |f: &chinewright::model::stock::yard::Fallen| match &f.why {
        Why::Short { sheet, asks, has } => sheet == "yard ply 1/4" && asks > has,
        Why::Finding(w) => matches!(w.fact, Fact::Stock(_)),
        Why::OffList(_) => false,
    };
    assert!(found.fallen.iter().any(fell), "{:?}", found.fallen);
}

/// A sheet of no known price is not taken for free; where there is no other it is, and the cost
/// says so. Glues are compared by price, and the joint of the panels is free.
#[test]
fn a_missing_price_is_no_price_of_nothing() {
    let mut hull =
        pram(vec![sheet("marine ply 6", None, Some(95.0)), sheet("yard ply 1/4", None, None)]);
    let price = |store: &str, price: f64| StorePrice { store: store.into(), pack: None, price };
    hull.stock.prices =
        vec![price("epoxy glue", 60.0), price("polyurethane construction adhesive", 2.0)];
    hull.stock.lumber.truncate(1);
    let found = is_the_least(&hull);
    let answer = found.answer.as_ref().expect("there");
    assert!(answer.model.panels.iter().all(|p| p.sheet == "marine ply 6"));
    assert!(answer.changes.iter().any(|c| matches!(c, Change::Glue { .. })));
    hull.stock.sheets.remove(0);
    let found = self::found(&hull).expect("lists");
    let answer = found.answer.as_ref().expect("there");
    assert!(answer.model.panels.iter().all(|p| p.sheet == "yard ply 1/4"));
    assert!(paid(&answer.model.hull, &answer.list).0 > 0 && answer.list.cost.whole().is_none());
    assert!(text::yard(&found, hull.units).contains("without price"));
}

/// A pad of another sheet than the list has, and no price of a store: told, and not compared.
#[test]
fn what_is_on_no_list_is_told_of_the_boat_as_she_is() {
    let hull = pram(vec![sheet("yard ply 1/4", None, Some(60.0))]);
    let found = found(&hull).expect("lists");
    let off = |b: &Besides| matches!(b, Besides::Sheets { sheet, .. } if sheet == "marine ply 6");
    assert!(found.as_she_is_besides.iter().any(off), "{:?}", found.as_she_is_besides);
    let told = text::yard(&found, hull.units);
    assert!(!told.contains("-0.00") && told.contains("not known"), "{told}");
    if found.as_she_is.is_none() {
        let said = words::yard::as_she_is(&found, hull.units);
        assert!(said.contains("marine ply 6") && said.contains("not on the list"), "{said}");
    }
    let answer = found.answer.as_ref().expect("there");
    assert_eq!(answer.because.len(), answer.changes.len());
    let sheets = answer.changes.iter().zip(&answer.because);
    let sheets: Vec<_> = sheets.filter(|c| matches!(c.0, Change::Sheet { .. })).collect();
    assert!(sheets.len() == 2 && sheets.iter().all(|c| *c.1 == Some(Because::NotListed)));
    assert!(answer.because.iter().all(Option::is_some), "{:?}", answer.because);
}

/// Wood that is listed goes into the jig where it is as thick, whatever it is called; it is
/// bought besides where the list is used up.
#[test]
fn listed_wood_serves_the_jig() {
    let mut hull = pram(vec![sheet("marine ply 6", None, Some(95.0))]);
    let jig = LumberStock { thickness_mm: 38.0, ..lumber("Douglas-fir", 140.0, 5.0) };
    let of = |hull: &Hull| {
        let (_, list) = counted(hull);
        assert!(list.lumber.plan.missing.is_empty(), "{:?}", list.lumber.plan.missing);
        let rows: usize = hull.stock.lumber.iter().map(|l| l.lengths_mm.len()).sum();
        // Other wood as thick is a knee's or a stem's.
        let thick = |b: &&chinewright::stock::lumber::Board| {
            let mut cuts =
                b.strips.iter().flat_map(|s| &s.pieces).map(|p| &list.lumber.cuts[p.cut].0);
            list.lumber.lengths[b.stock].thickness == 38.0 && cuts.any(|c| c.species.is_empty())
        };
        let boards = list.lumber.plan.boards.iter().filter(thick);
        let (own, other): (Vec<_>, Vec<_>) = boards.partition(|b| b.stock < rows);
        (own.len(), other.len())
    };
    let (own, other) = of(&hull);
    assert!(own == 0 && other > 0, "{own} {other}");
    for name in ["Douglas-fir", "any", "any straight wood (jig)"] {
        hull.stock.lumber.truncate(2);
        hull.stock.lumber.push(LumberStock { species: name.into(), ..jig.clone() });
        let (own, other) = of(&hull);
        assert!(own > 0 && other == 0, "{name}: {own} {other}");
    }
    // The cheaper of two.
    hull.stock.lumber.push(LumberStock { price: Some(LumberPrice::PerMetre(2.0)), ..jig.clone() });
    let (_, list) = counted(&hull);
    let dear = list.lumber.plan.boards.iter().map(|b| &list.lumber.lengths[b.stock]);
    assert!(!dear.clone().any(|l| l.species.is_empty() && l.thickness == 38.0));
    assert!(dear.filter(|l| l.thickness == 38.0).count() > 0);
    hull.stock.lumber.truncate(2);
    hull.stock.lumber.push(LumberStock { count: Some(1), ..jig });
    let (own, other) = of(&hull);
    assert!(own > 0 && other > 0, "{own} {other}");
    is_the_least(&hull);
}

#[test]
fn where_nothing_holds_it_says_why() {
    let mut hull = pram(vec![sheet("marine ply 18", None, Some(20.0))]);
    let found = found(&hull).expect("lists");
    assert!(found.answer.is_none() && found.end == End::Proved);
    assert_eq!(least(&hull, &found).1, 0, "by enumeration none holds either");
    let told = text::yard(&found, hull.units);
    assert!(told.contains("none of them holds") && told.contains("marine ply 18"), "{told}");
    // Too little for her whatever is chosen.
    hull.stock.sheets = vec![sheet("marine ply 6", Some(1), Some(95.0))];
    let few = self::found(&hull).expect("lists");
    assert!(few.answer.is_none());
    let short = |w: &Why| match w {
        Why::Short { asks, has, .. } => asks > has,
        Why::Finding(w) => matches!(w.fact, Fact::Stock(_)),
        Why::OffList(_) => false,
    };
    assert!(few.fallen.iter().any(|f| short(&f.why)), "{:?}", few.fallen);
}

#[test]
fn empty_lists_are_told_with_a_row_to_write() {
    let mut hull = pram(Vec::new());
    let lacks = found(&hull).expect_err("no sheets");
    assert!(matches!(lacks, NotListed::Sheets(_)), "{lacks:?}");
    let said = words::yard::not_listed(&lacks, hull.units);
    assert!(said.contains("stock: (sheets: [(sheet: \"marine ply 6\""), "{said}");
    hull.stock.sheets = vec![sheet("marine ply 6", None, None)];
    hull.stock.lumber = vec![lumber("Douglas-fir", 30.0, 6.0)];
    assert!(matches!(found(&hull), Err(NotListed::Section(..))));
    hull.stock.lumber.clear();
    assert!(matches!(found(&hull), Err(NotListed::Lumber(..))));
}

/// Stopped at once it has nothing; stopped once a boat is found it has her.
#[test]
fn a_search_that_is_stopped_says_so() {
    let hull = CheckedHull::of(pram(vec![
        sheet("marine ply 6", None, Some(95.0)),
        sheet("yard ply 1/4", None, Some(94.0)),
    ]))
    .expect("no fault");
    let until = |stop: &dyn Fn(&chinewright::model::stock::yard::Progress) -> bool| {
        choose(&hull, &Materials::shipped(), How::default(), &mut |p| !stop(p)).expect("lists")
    };
    let none = until(&|_| true);
    assert!(none.answer.is_none() && none.end == End::Stopped && none.looked_at == 0);
    let some = until(&|p| p.best.is_some());
    let whole = until(&|_| false);
    let cost = |f: &Found| {
        let a = f.answer.as_ref().expect("a boat");
        paid(&a.model.hull, &a.list)
    };
    let (some_paid, least) = (cost(&some), cost(&whole));
    assert!(some.end == End::Stopped && whole.end == End::Proved);
    assert!(some_paid >= least, "{some_paid:?} of {least:?}");
}
