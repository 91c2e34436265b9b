//! Sheets and lists as they reach the builder: what is drawn is what was laid, nothing else is
//! cut, figures lead to the corners that they name, words stand clear, lists are read by another
//! reader.

use std::collections::BTreeSet;

use chinewright::drawing::compose::card::{cards, page};
use chinewright::drawing::compose::{Extent, OnPaper, Paper, Subject, catalogue, sheet_layout};
use chinewright::drawing::export::tiling::page_plan;
use chinewright::drawing::face::TextBox;
use chinewright::drawing::{Drawing, Purpose, Shape};
use chinewright::geom::P2;
use chinewright::geom::polyline::area;
use chinewright::geom::ring::from_ring;
use chinewright::hull::stock::{JointKind, JointRule, SheetStock};
use chinewright::hull::{Hull, starters::find};
use chinewright::material::Materials;
use chinewright::model::stock::{Counted, Laid, SEED, SheetKind, Side, StockList, stock};
use chinewright::model::{Model, derive};
use chinewright::pack::pack_files;
use chinewright::part::{Copies, PartId};
use chinewright::report::lists::lists;
use chinewright::report::offcuts::document_rows;
use chinewright::stock::joints::SheetFace;
use chinewright::stock::nest::{Effort, SheetLayout, Supply};
use chinewright::units::{MM_PER_INCH, Units};

use crate::sheet_edges::{Told, told};

fn skiff() -> Hull {
    find("reed-skiff").expect("a starter").hull()
}

fn counted(hull: &Hull) -> (Model, StockList) {
    let model = derive(hull, &Materials::shipped()).expect("a model");
    let list = stock(&model, Effort::NONE, SEED, &mut |_, _| true);
    (model, list)
}

/// Closed rings of a drawing on the layers of a purpose; `None` if anything else lies there.
fn rings(d: &Drawing, purpose: Purpose) -> Option<Vec<&Vec<P2>>> {
    let on = d.items.iter().filter(|i| d.layer(i.layer).purpose == purpose);
    on.map(|i| match &i.shape {
        Shape::Polyline { points, closed: true } => Some(points),
        _ => None,
    })
    .collect()
}

fn texts(d: &Drawing) -> Vec<(&str, TextBox)> {
    let of = |s: &Shape| s.text_box();
    d.items
        .iter()
        .filter_map(|i| match &i.shape {
            Shape::Text { text, .. } => Some((text.as_str(), of(&i.shape)?)),
            Shape::Polyline { .. } => None,
        })
        .collect()
}

/// At full size the rings to cut are the parts as they were laid, one for each, and nothing else
/// lies on their layer; each is as large and lies where the layout has it.
#[test]
fn what_is_cut_is_what_was_laid() {
    let (model, list) = counted(&skiff());
    let boat = Counted::with(&model, &list);
    for (i, kind) in list.sheets.iter().enumerate() {
        for (n, laid) in kind.layout.sheets.iter().enumerate() {
            let d = sheet_layout(boat, i, n, Units::Mm).expect("a layout");
            let full = d.at_full_size();
            let cut = rings(&full, Purpose::Cut).expect("closed rings and nothing else");
            assert_eq!(cut.len(), laid.placed.len());
            for (ring, placed) in cut.into_iter().zip(&laid.placed) {
                let off = ring.iter().zip(&placed.outline).map(|(a, b)| (a - b).norm());
                assert!(ring.len() == placed.outline.len() && off.fold(0.0, f64::max) < 1e-6);
            }
            // What is struck lies on wood of its own part.
            let marks = full.items.iter().filter(|i| full.layer(i.layer).name == "MARK");
            for m in marks {
                let Shape::Polyline { points, .. } = &m.shape else {
                    panic!("words on the layer of marks");
                };
                let on = |p: &P2| {
                    laid.placed.iter().any(|q| {
                        chinewright::geom::ring::inside(&q.outline, *p)
                            || from_ring(*p, &q.outline) < 0.01
                    })
                };
                assert!(points.iter().all(on), "{points:?}");
            }
        }
    }
}

/// Every figure of the table is on the edge of the part in whose row it stands, in millimetres and
/// to a sixteenth of an inch; parts are numbered from 1 in the order of sawing.
#[test]
fn figures_lead_to_corners_of_their_parts() {
    let (model, list) = counted(&skiff());
    let boat = Counted::with(&model, &list);
    let mut read = 0;
    for (i, kind) in list.sheets.iter().enumerate() {
        for (n, laid) in kind.layout.sheets.iter().enumerate() {
            let d = sheet_layout(boat, i, n, Units::Mm).expect("a layout");
            let lying = list.lying(kind, n);
            let numbers: BTreeSet<usize> = lying.iter().map(|l| l.number).collect();
            assert_eq!(numbers, (1..=laid.placed.len()).collect());
            for (placed, l) in laid.placed.iter().zip(&lying) {
                let figures: Vec<(f64, f64)> = told(&d, l.number)
                    .iter()
                    .filter_map(|s| match s {
                        Told::Corner(p) | Told::Curve(p) => Some((p.x, p.y)),
                        Told::Round(..) => None,
                    })
                    .collect();
                assert!(figures.len() > 1, "{l:?}");
                for (x, y) in figures {
                    let p = P2::new(x, y);
                    let near = from_ring(p, &placed.outline);
                    assert!(near <= 0.5f64.hypot(0.5) + 1e-9, "{p:?} is {near} off its part");
                    read += 1;
                }
            }
        }
    }
    assert!(read >= 60, "{read} figures");
}

/// One page each on A4 and Letter besides its notes, in both kinds of units; no word over another,
/// and none of those engraved leaves its part.
#[test]
fn a_sheet_is_one_page_with_its_words_clear() {
    let (model, list) = counted(&skiff());
    let boat = Counted::with(&model, &list);
    for (units, paper) in [(Units::Mm, Paper::A4), (Units::FeetInchesEighths, Paper::Letter)] {
        for (i, kind) in list.sheets.iter().enumerate() {
            for (n, laid) in kind.layout.sheets.iter().enumerate() {
                let d = sheet_layout(boat, i, n, units).expect("a layout");
                let name = format!("{} {n}", kind.sheet);
                assert_eq!(page_plan(&d, paper.pages()).len(), 1, "{name}");
                let all = texts(&d);
                for (k, a) in all.iter().enumerate() {
                    let over = all[..k].iter().find(|b| a.1.meets(&b.1, 0.0));
                    assert!(over.is_none(), "{name}: {a:?} over {over:?}");
                }
                let full = 1.0 / d.reduced;
                for item in d.items.iter().filter(|i| d.layer(i.layer).name == "ENGRAVE") {
                    let b = item.shape.text_box().expect("words");
                    let within = laid.placed.iter().any(|p| {
                        let ring: Vec<P2> = p.outline.iter().map(|q| q * full).collect();
                        b.corners().iter().all(|c| chinewright::geom::ring::inside(&ring, *c))
                    });
                    assert!(within, "{name}: {:?}", item.shape);
                }
            }
        }
    }
}

/// Of a pair one becomes port and one starboard, and the face told up is that of the boat: laid
/// as drawn the starboard one has its inside up, turned over its outside.
#[test]
fn a_pair_becomes_port_and_starboard() {
    for one_good_face in [false, true] {
        let mut hull = skiff();
        let sheet = "marine ply 6";
        hull.stock.sheets = vec![sheet_of(sheet, 2440.0, 1220.0, one_good_face)];
        let (_, list) = counted(&hull);
        let mut seen = 0;
        for kind in list.sheets.iter().filter(|k| k.sheet == sheet) {
            let mut sides = Vec::new();
            for (n, laid) in kind.layout.sheets.iter().enumerate() {
                for (p, l) in laid.placed.iter().zip(list.lying(kind, n)) {
                    let Laid::Piece(panel, _) = l.of else {
                        assert_eq!((l.side, l.face_up), (None, None));
                        continue;
                    };
                    let pair = list.panels.iter().find(|q| q.panel == panel).expect("its panel");
                    assert_eq!(l.side.is_some(), pair.copies == Copies::Mirrored);
                    let starboard = l.side != Some(Side::Port);
                    let inside = starboard != p.attitude.mirrored;
                    assert_eq!(l.face_up == Some(SheetFace::Inside), inside);
                    // With one good face both have the same one up.
                    assert!(!one_good_face || inside, "{l:?}");
                    sides.extend(l.side.map(|s| (p.part, s.word())));
                }
            }
            let each: BTreeSet<_> = sides.iter().collect();
            assert_eq!(each.len(), sides.len(), "{sides:?}");
            seen += sides.len();
        }
        assert!(seen >= 2);
    }
}

fn sheet_of(sheet: &str, length_mm: f64, width_mm: f64, one_good_face: bool) -> SheetStock {
    SheetStock {
        sheet: sheet.into(),
        length_mm,
        width_mm,
        count: None,
        price: Some(50.0),
        one_good_face,
        outline_mm: Vec::new(),
    }
}

/// Pattern and card show each joint at its own place, with block or slope and the face in words.
#[test]
fn joints_are_drawn_on_pattern_and_card() {
    for kind in JointKind::ALL {
        let mut hull = skiff();
        hull.stock.joint = JointRule { kind, ..JointRule::default() };
        let (model, list) = counted(&hull);
        let boat = Counted::with(&model, &list);
        let all = cards(boat, Units::Mm);
        let mut drawn = 0;
        for subject in catalogue(boat) {
            let Some(split) =
                list.panels.iter().find(|p| subject == Subject::Part(PartId::Panel(p.panel)))
            else {
                continue;
            };
            let d = subject.drawn(boat, Units::Mm).expect("a pattern");
            let of = |name: &str| {
                let on = d.items.iter().filter(|i| d.layer(i.layer).name == name);
                on.filter_map(|i| match &i.shape {
                    Shape::Polyline { points, .. } => Some(points.clone()),
                    Shape::Text { .. } => None,
                })
                .collect::<Vec<_>>()
            };
            let card = all.iter().find(|c| c.file == split.name).expect("a card");
            let paper = page::drawing(card, Paper::A4, Units::Mm);
            for j in &split.split.joints {
                for line in &j.lines {
                    assert!(of("JOINT").iter().any(|l| l[..] == line[..]), "{}", split.name);
                    drawn += 1;
                }
                assert!(j.blocks.iter().all(|b| of("PLATE").contains(b)));
                let word = match kind {
                    JointKind::Scarf => "scarf of 8 in 1",
                    JointKind::ButtBlock => "butt block, ",
                };
                let said = |d: &Drawing| {
                    let notes = d.notes.iter().any(|n| n.contains(word) && n.contains("inside"));
                    notes && d.notes.iter().any(|n| n.contains("glue"))
                };
                assert!(texts(&d).iter().any(|(t, _)| t.contains(word) && t.contains("inside")));
                assert!(said(&d) && said(&paper), "{}: {:?}", split.name, paper.notes);
            }
            let rows = card.parts[0].lists.iter().find(|l| l.head == "joints");
            assert_eq!(rows.is_some(), !split.split.joints.is_empty());
        }
        assert!(drawn >= 2, "{drawn}");
    }
}

/// In the pack: a DXF, an SVG and a page of every sheet, and lists whose sums are the list's own.
#[test]
fn the_pack_has_sheets_and_lists() {
    let mut hull = skiff();
    hull.stock.sheets = vec![sheet_of("marine ply 6", 2440.0, 1220.0, false)];
    hull.stock.currency = "kr".into();
    let (model, list) = counted(&hull);
    let sheets =
        OnPaper { paper: Paper::A4, units: Units::FeetInchesEighths, extent: Extent::Half };
    let boat = Counted::with(&model, &list);
    let mut last = (0, 0);
    let files = pack_files(boat, &hull, sheets, |k, all, _| last = (k + 1, all)).expect("a pack");
    assert_eq!(last.0, last.1, "every file was counted beforehand");
    for n in 1..=list.sheet_count() {
        for ending in ["dxf", "svg", "pdf"] {
            let name = format!("sheets/sheet-{n}.{ending}");
            assert!(files.iter().any(|(f, b)| *f == name && !b.is_empty()), "{name}");
        }
    }
    let summary = files.iter().find(|(n, _)| n == "summary.txt").expect("a summary");
    let summary = String::from_utf8_lossy(&summary.1).replace('\n', " ");
    assert!(summary.contains("Stock: what do I buy") && summary.contains("kicks back"));
    assert!(!summary.contains(" 1 packs") && !summary.contains(".0 pieces"));
    for (name, bytes) in lists(&list, Units::FeetInchesEighths, "kr") {
        let packed = files.iter().find(|(f, _)| *f == format!("lists/{name}.csv"));
        assert!(packed.is_some_and(|f| f.1 == bytes), "{name}");
        let text = String::from_utf8(bytes).expect("text");
        assert_eq!(text.matches('\n').count(), text.matches("\r\n").count(), "{name}");
        let mut reader = csv::Reader::from_reader(text.as_bytes());
        let head = reader.headers().expect("a head").clone();
        let rows: Vec<csv::StringRecord> = reader.records().map(|r| r.expect("a row")).collect();
        let sum = |column: &str| -> f64 {
            let at = head.iter().position(|h| h == column).expect(column);
            rows.iter().map(|r| r[at].parse::<f64>().unwrap_or(0.0)).sum()
        };
        let near = |found: f64, wanted: f64| {
            assert!((found - wanted).abs() < 0.06 * (1.0 + rows.len() as f64), "{name}: {found}");
        };
        let parts = list.sheets.iter().flat_map(|k| &k.layout.sheets).map(|s| s.placed.len());
        match name {
            "sheets" => assert_eq!(rows.len(), parts.sum::<usize>()),
            "lumber" => {
                let boards = &list.lumber.plan.boards;
                let cut = boards.iter().flat_map(|b| &b.strips).flat_map(|s| &s.pieces);
                near(sum("cut_length_mm"), cut.map(|p| p.length).sum());
            }
            "costs" => near(sum("price"), list.cost.known()),
            "stores" => {
                near(sum("packs"), list.stores.bought.iter().map(|b| f64::from(b.packs)).sum())
            }
            "joints" => {
                let all = list.panels.iter().flat_map(|p| &p.split.joints);
                near(sum("length_mm"), all.map(|j| j.taken).sum());
            }
            _ => assert!(rows.len() > 10, "{name}"),
        }
    }
    // Two with parts on them, and those for the boxes round the foam.
    let boxes = list.boxes.iter().flat_map(|b| &b.sheets).filter(|s| s.price == Some(50.0));
    let boxes: usize = boxes.map(|s| s.count).sum();
    assert!((list.cost.sheets - 50.0 * (2 + boxes) as f64).abs() < 1e-9);
}

/// What is left goes into the next document as it is written, and is as large as the layout says.
#[test]
fn the_next_boat_is_cut_from_what_this_one_left() {
    let hull = skiff();
    let (_, list) = counted(&hull);
    let written = document_rows(&list, "reed skiff \"two\"");
    let mut next = hull.clone();
    next.stock.sheets = ron::from_str(&format!("[{written}]")).expect("rows of a document");
    let pieces = list.sheets.iter().flat_map(|k| k.layout.sheets.iter().map(move |s| (k, s)));
    let left: Vec<f64> = pieces.flat_map(|(k, s)| k.left_over(s)).map(|o| 1e-6 * o.area).collect();
    assert!(left.len() > 2 && next.stock.sheets.len() == left.len(), "{left:?}");
    for (row, left) in next.stock.sheets.iter().zip(&left) {
        let ring: Vec<P2> = row.outline_mm.iter().map(|(x, y)| P2::new(*x, *y)).collect();
        assert!((1e-6 * area(&ring).abs() - left).abs() < 1e-3, "{row:?}");
    }
    let (_, used) = counted(&next);
    let on_hand = |k: &SheetKind| {
        let of = |s: &SheetLayout| k.problem.sheets[s.sheet].supply != Supply::Bought;
        k.layout.sheets.iter().filter(|s| of(s)).count()
    };
    assert!(used.sheets.iter().map(on_hand).sum::<usize>() > 0, "none of it was used");
}

/// A boat none of whose panels can be had from her sheets is packed all the same, and the summary
/// says by how much they are too small.
#[test]
fn a_boat_whose_stock_cannot_be_had_is_packed_and_says_why() {
    let mut hull = skiff();
    let small = |sheet| sheet_of(sheet, 300.0, 10.0 * MM_PER_INCH, false);
    hull.stock.sheets = ["marine ply 6", "marine ply 9"].map(small).to_vec();
    let (model, list) = counted(&hull);
    let sheets = OnPaper { paper: Paper::A4, units: Units::Mm, extent: Extent::Half };
    let boat = Counted::with(&model, &list);
    let files = pack_files(boat, &hull, sheets, |_, _, _| {}).expect("a pack");
    let summary = files.iter().find(|(n, _)| n == "summary.txt").expect("a summary");
    let said = String::from_utf8_lossy(&summary.1).replace(['\n'], " ");
    let said = said.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(said.contains("Stock: what do I buy, and how do I cut it? stop"));
    assert!(said.contains("no sheet of 290 mm by 244 mm takes a piece of the bottom"), "{said}");
    assert!(files.iter().any(|(n, _)| n == "lists/stores.csv"));
    assert!(files.iter().any(|(n, _)| n.starts_with("patterns/")));
}
