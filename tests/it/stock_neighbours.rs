//! Where joints lie in the boat: off those of neighbouring panels, off battens, where the sheet
//! takes the bend. Places are found anew on the panels' own surfaces.

use chinewright::finding::{Fact, Finding, Place, Severity, StockFact};
use chinewright::geom::segment::from_segment;
use chinewright::geom::{P2, P3};
use chinewright::hull::stock::{JointKind, JointRule, PanelJoint, SheetStock, Waste};
use chinewright::hull::{Hull, starters::STARTERS, starters::find};
use chinewright::material::Materials;
use chinewright::model::battens::on_pattern;
use chinewright::model::stock::{PanelSplit, SEED, StockList, stock};
use chinewright::model::{Model, PanelModel, derive};
use chinewright::stock::joints::JointError;
use chinewright::stock::nest::Effort;
use chinewright::units::Units;
use chinewright::words::finding::said;

const STAGGER: f64 = 300.0;

fn counted(hull: &Hull) -> (Model, StockList) {
    let model = derive(hull, &Materials::shipped()).expect("a model");
    let list = stock(&model, Effort::NONE, SEED, &mut |_, _| true);
    (model, list)
}

/// A panel's upper or lower edge: its places along the pattern, and in the boat.
fn edge(p: &PanelModel, upper: bool) -> Vec<(f64, P3)> {
    let rulings = p.flat.rulings.iter().zip(&p.surface.rulings);
    rulings
        .map(|(f, s)| if upper { (f.flat_upper.x, s.upper) } else { (f.flat_lower.x, s.lower) })
        .collect()
}

/// Where a joint across the pattern at `u` meets an edge, in the boat.
fn met(edge: &[(f64, P3)], u: f64) -> P3 {
    let within = edge.windows(2).find(|w| w[0].0 <= u && u <= w[1].0);
    let Some(w) = within else {
        return if u < edge[0].0 { edge[0].1 } else { edge[edge.len() - 1].1 };
    };
    let share = (u - w[0].0) / (w[1].0 - w[0].0).max(1e-9);
    w[0].1 + share * (w[1].1 - w[0].1)
}

fn across(p: &PanelSplit) -> impl Iterator<Item = f64> + '_ {
    p.split.joints.iter().filter(|j| !j.lengthwise).map(|j| j.at)
}

/// Straight from one joint to the other, of every pair of neighbours that both are joined.
fn apart(model: &Model, list: &StockList) -> Vec<f64> {
    let panel = |p: &PanelSplit| &model.panels[p.panel.0];
    let mut out = Vec::new();
    for below in &list.panels {
        for above in &list.panels {
            if panel(above).lower_line != panel(below).lower_line + 1 {
                continue;
            }
            let (low, high) = (edge(panel(below), true), edge(panel(above), false));
            for u in across(below) {
                out.extend(across(above).map(|v| (met(&low, u) - met(&high, v)).norm()));
            }
        }
    }
    out
}

fn beside(list: &StockList) -> Vec<(&Finding, f64)> {
    list.findings
        .iter()
        .filter_map(|f| match &f.fact {
            Fact::Stock(StockFact::JointsBeside { distance, .. }) => Some((f, *distance)),
            _ => None,
        })
        .collect()
}

/// Every starter, butted and scarfed: no two joints of neighbouring panels come nearer to each
/// other in the boat than they should, and nothing says they do.
#[test]
fn joints_of_neighbours_are_staggered_in_the_boat() {
    let mut pairs = 0;
    for starter in STARTERS {
        for kind in JointKind::ALL {
            let mut hull = starter.hull();
            hull.stock.joint = JointRule { kind, ..JointRule::default() };
            let (model, list) = counted(&hull);
            let all = apart(&model, &list);
            pairs += all.len();
            // Straight is a little shorter than along the chine.
            let near = all.iter().filter(|d| **d < 0.98 * STAGGER).count();
            assert_eq!(near, 0, "{} {kind:?}: {all:?}", starter.name);
            assert_eq!(beside(&list).len(), 0, "{} {kind:?}", starter.name);
        }
    }
    assert!(pairs >= 8, "{pairs} pairs of joints");
}

/// Joints that the builder sets beside each other are told of, with both panels and how far they
/// are apart.
#[test]
fn joints_that_lie_beside_each_other_are_told() {
    let mut hull = find("reed-skiff").expect("a starter").hull();
    let (model, list) = counted(&hull);
    let side = list.panels.iter().find(|p| p.name == "side").expect("a side");
    let bottom = list.panels.iter().find(|p| p.name == "bottom").expect("a bottom");
    let (low, high) =
        (edge(&model.panels[bottom.panel.0], true), edge(&model.panels[side.panel.0], false));
    // The side's joint where that of the bottom lies in the boat, and 100 mm along.
    let u = across(bottom).next().expect("a joint");
    let there = met(&low, u);
    let nearest = |to: P3| {
        let far = |e: &&(f64, P3)| (e.1 - to).norm();
        high.iter().min_by(|a, b| far(a).total_cmp(&far(b))).expect("an edge").0
    };
    let at = nearest(there) + 100.0;
    let rule = hull.stock.joint;
    let row = |panel: &str, at: f64| PanelJoint { panel: panel.into(), rule, at_mm: vec![at] };
    hull.stock.panel_joints = vec![row("side", at), row("bottom", u)];
    let (model, list) = counted(&hull);
    let told = beside(&list);
    let straight = apart(&model, &list);
    assert_eq!(told.len(), 1, "{straight:?}");
    let (finding, distance) = told[0];
    assert!((distance - straight[0]).abs() < 2.0, "{distance} {straight:?}");
    assert_eq!(finding.severity, Severity::Watch);
    let words = said(finding, Units::Mm);
    let message = format!("{}: {}", words.place, words.message);
    let figure = format!("{distance:.0}");
    for part in ["side", "bottom", "chine", figure.as_str()] {
        assert!(message.contains(part), "{part}: {message}");
    }
}

/// No block lies under a batten, whose middle line it keeps off by half of the batten's breadth,
/// and blocks lie on both sides of it.
#[test]
fn blocks_keep_clear_of_battens() {
    let mut seen = 0;
    for starter in STARTERS {
        if starter.hull().framing.battens.is_none() {
            continue;
        }
        let (model, list) = counted(&starter.hull());
        let battens: Vec<_> = model.members.iter().filter(|b| b.path.is_some()).collect();
        let bottom = list.panels.iter().find(|p| model.panels[p.panel.0].lower_line == 0);
        if let Some(split) = bottom {
            let p = &model.panels[split.panel.0];
            for (k, b) in battens.iter().enumerate() {
                let middle = on_pattern(&model, p, k, 0.0);
                let port = middle.iter().map(|q| P2::new(q.x, -q.y)).collect();
                let lines = if p.full_width { vec![middle, port] } else { vec![middle] };
                for line in &lines {
                    let (from, to) = (line[0].x, line[line.len() - 1].x);
                    for block in split.split.joints.iter().flat_map(|j| &j.blocks) {
                        let within = |q: &&P2| (from..=to).contains(&q.x);
                        for q in block.iter().filter(within) {
                            let off = line.windows(2).map(|w| from_segment(*q, w[0], w[1]));
                            let off = off.fold(f64::INFINITY, f64::min);
                            let half = 0.5 * b.member.sided_mm;
                            assert!(off > half - 0.1, "{}: {off} of {half}", starter.name);
                            seen += 1;
                        }
                        // All of it lies on one side.
                        let above = |q: &P2| {
                            let near = |w: &&[P2]| (w[0].x..=w[1].x).contains(&q.x);
                            line.windows(2)
                                .find(near)
                                .map(|w| (w[1] - w[0]).perp(&(q - w[0])) > 0.0)
                        };
                        let sides: Vec<bool> = block.iter().filter_map(above).collect();
                        assert!(sides.iter().all(|s| *s == sides[0]), "{}", starter.name);
                    }
                }
            }
        }
    }
    assert!(seen > 0, "no starter has a block beside a batten");
}

/// A scarf and a block set where the side is bent more than they take: a finding says so, with the
/// bend and what the joint takes; where all joints bend with their panels nothing is said.
#[test]
fn a_joint_in_a_tight_bend_is_told() {
    for kind in JointKind::ALL {
        let mut hull = find("reed-skiff").expect("a starter").hull();
        hull.stock.joint = JointRule { kind, ..JointRule::default() };
        let (model, list) = counted(&hull);
        let stiff = |list: &StockList| -> Vec<(f64, f64)> {
            let of = |f: &Finding| match &f.fact {
                Fact::Stock(StockFact::StiffJoint { bend, .. }) => {
                    Some((bend.radius, bend.least_radius))
                }
                _ => None,
            };
            list.findings.iter().filter_map(of).collect()
        };
        let bad = |list: &StockList| {
            let joints = list.panels.iter().flat_map(|p| &p.split.joints);
            joints.filter(|j| j.bend.radius < j.bend.least_radius).count()
        };
        assert_eq!(stiff(&list).len(), bad(&list), "{kind:?}");
        // The tightest place of the side, found by its own bending.
        let side = model.panels.iter().find(|p| p.name == "side").expect("a side");
        let rulings = side.surface.rulings.iter().zip(&side.flat.rulings);
        let far = |r: P3| (r - side.bend.at).norm();
        let (_, flat) = rulings
            .min_by(|a, b| {
                let (a, b) = (a.0, b.0);
                far(a.lower).min(far(a.upper)).total_cmp(&far(b.lower).min(far(b.upper)))
            })
            .expect("a ruling");
        let at = 0.5 * (flat.flat_lower.x + flat.flat_upper.x);
        let rule = hull.stock.joint;
        hull.stock.sheets = vec![sheet(&side.sheet, 6000.0)];
        hull.stock.panel_joints =
            vec![PanelJoint { panel: "side".into(), rule, at_mm: vec![at.max(450.0)] }];
        let (_, list) = counted(&hull);
        let told = stiff(&list);
        assert_eq!(told.len(), bad(&list), "{kind:?}");
        assert!(told.iter().all(|(radius, least)| radius < least));
    }
}

fn sheet(name: &str, length_mm: f64) -> SheetStock {
    SheetStock {
        sheet: name.into(),
        length_mm,
        width_mm: 1220.0,
        count: None,
        price: None,
        one_good_face: false,
        outline_mm: Vec::new(),
    }
}

/// From sheets of 550 by 300 she would be a patchwork: that is a stop for each panel, with a size
/// of sheet that would do, and does.
#[test]
fn sheets_that_are_too_small_are_a_stop_with_the_size_that_would_do() {
    let mut hull = find("reed-skiff").expect("a starter").hull();
    let (model, _) = counted(&hull);
    let mut names: Vec<String> = model.panels.iter().map(|p| p.sheet.clone()).collect();
    names.dedup();
    let small = |length_mm: f64, width_mm: f64| {
        names
            .iter()
            .map(|name| SheetStock { width_mm, ..sheet(name, length_mm) })
            .collect::<Vec<_>>()
    };
    let not_split = |hull: &Hull| -> Vec<String> {
        let (_, list) = counted(hull);
        let stops = list.findings.iter().filter(|f| f.severity == Severity::Stop);
        let of = |f: &Finding| match &f.fact {
            Fact::Stock(StockFact::NotSplit(_)) => Some(said(f, Units::Mm).message),
            _ => None,
        };
        stops.filter_map(of).collect()
    };
    for (length, width) in [(550.0, 300.0), (300.0, 300.0)] {
        hull.stock.sheets = small(length, width);
        let told = not_split(&hull);
        assert_eq!(told.len(), model.panels.len(), "{told:?}");
        let mut enough = (0.0f64, 0.0f64);
        for words in told {
            let size = words.split("; ").last().and_then(|s| s.split_once(" mm clear"));
            let (l, w) = size.and_then(|(s, _)| s.split_once(" by ")).expect("a size");
            let l = l.trim_end_matches(" mm");
            let (l, w): (f64, f64) = (l.parse().expect("mm"), w.parse().expect("mm"));
            enough = (enough.0.max(l), enough.1.max(w));
        }
        let around = 2.0 * hull.stock.sheet_margin_mm;
        hull.stock.sheets = small(enough.0 + around, enough.1 + around);
        assert_eq!(not_split(&hull), Vec::<String>::new(), "{enough:?}");
    }
}

/// Joints that the builder told on each other, next to each other or off the panel are refused, with
/// where they may lie; places that are well apart are taken.
#[test]
fn told_joints_that_cannot_be_are_refused() {
    let told = |at: &[f64]| -> Vec<JointError> {
        let mut hull = find("reed-skiff").expect("a starter").hull();
        let (rule, at_mm) = (JointRule::default(), at.to_vec());
        hull.stock.panel_joints = vec![PanelJoint { panel: "side".into(), rule, at_mm }];
        let (_, list) = counted(&hull);
        let of = |f: &Finding| match &f.fact {
            Fact::Stock(StockFact::NotSplit(why)) => Some(why.clone()),
            _ => None,
        };
        list.findings.iter().filter_map(of).collect()
    };
    for at in [-100.0, 4000.0, 19_999.0] {
        let why = told(&[at]);
        assert!(matches!(why[..], [JointError::OffPanel { at: a, .. }] if a == at), "{why:?}");
    }
    for at in [[2000.0, 2000.0, 2000.0].as_slice(), &[2000.0, 2010.0], &[2100.0, 1900.0]] {
        let why = told(at);
        assert!(matches!(why[..], [JointError::OnEachOther { .. }]), "{at:?}: {why:?}");
    }
    assert_eq!(told(&[2000.0]), []);
}

/// A row for a panel, a store or a sheet that she has not is told of, each by its name.
#[test]
fn rows_that_are_for_nothing_are_told() {
    let mut hull = find("reed-skiff").expect("a starter").hull();
    let joint = |panel: &str| PanelJoint {
        panel: panel.into(),
        rule: JointRule::default(),
        at_mm: Vec::new(),
    };
    hull.stock.panel_joints = vec![joint("botom"), joint("side")];
    let waste = |store: &str| Waste { store: store.into(), pct: 2.0 };
    hull.stock.waste = vec![waste("prmer"), waste("primer")];
    let (_, list) = counted(&hull);
    let unused = list.findings.iter().filter_map(|f| match (&f.fact, &f.place) {
        (Fact::Stock(StockFact::UnusedRow), Place::Stock(name)) => Some(name.clone()),
        _ => None,
    });
    assert_eq!(unused.collect::<Vec<_>>(), ["botom", "prmer"]);
}

/// Where there is no sheet at all, each kind says so once, with all that was to be cut from it.
#[test]
fn what_is_on_no_sheet_is_told_once_with_its_number() {
    let mut hull = find("reed-skiff").expect("a starter").hull();
    let (model, _) = counted(&hull);
    let mut names: Vec<String> = model.panels.iter().map(|p| p.sheet.clone()).collect();
    names.dedup();
    hull.stock.sheets =
        names.iter().map(|n| SheetStock { count: Some(0), ..sheet(n, 2440.0) }).collect();
    let (_, list) = counted(&hull);
    let unplaced: usize = list.sheets.iter().map(|k| k.layout.unplaced.len()).sum();
    let told: Vec<usize> = list
        .findings
        .iter()
        .filter_map(|f| match &f.fact {
            Fact::Stock(StockFact::OnNoSheet { parts, .. }) => {
                assert_eq!(f.severity, Severity::Stop);
                let words = said(f, Units::Mm);
                let all: usize = parts.iter().map(|(_, n)| n).sum();
                assert!(all < 2 || words.message.contains(&all.to_string()), "{words:?}");
                Some(all)
            }
            _ => None,
        })
        .collect();
    assert!(unplaced > 10, "{unplaced}");
    assert_eq!(told.iter().sum::<usize>(), unplaced);
    assert!(told.len() <= names.len(), "{told:?}");
}

/// Of a V bottom both hands are split alike, and meet at the keel: that is told, once for the panel
/// and with the number of its joints; of a flat one, and of sides, it is not.
#[test]
fn joints_of_both_hands_at_the_keel_are_told() {
    let mut told = 0;
    for starter in STARTERS {
        let (model, list) = counted(&starter.hull());
        let found: Vec<usize> = list
            .findings
            .iter()
            .filter_map(|f| match f.fact {
                Fact::Stock(StockFact::JointsOfHands { joints, .. }) => Some(joints),
                _ => None,
            })
            .collect();
        let lowest = &model.panels[0];
        let split = list.panels.iter().find(|p| p.panel.0 == 0).expect("a lowest panel");
        let wanted = across(split).count();
        let v = !lowest.full_width && wanted > 0;
        assert_eq!(found, if v { vec![wanted] } else { Vec::new() }, "{}", starter.name);
        told += found.len();
    }
    assert!(told > 0, "no starter has a V bottom that is joined");
}
