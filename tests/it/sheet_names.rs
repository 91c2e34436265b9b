//! What a sheet's page calls its parts and their corners: names that tell apart what is not the
//! same, the letters of the pattern, names on their parts.

use std::collections::BTreeMap;
use std::sync::LazyLock;

use chinewright::drawing::compose::panel::corners;
use chinewright::drawing::compose::{Paper, Subject, catalogue, sheet_layout};
use chinewright::drawing::export::tiling::page_plan;
use chinewright::drawing::{Drawing, Purpose, Shape};
use chinewright::geom::P2;
use chinewright::geom::polyline::{area, length2};
use chinewright::geom::ring::{centroid, from_ring, inside};
use chinewright::hull::starters::{STARTERS, Starter};
use chinewright::material::Materials;
use chinewright::model::stock::{Counted, Laid, SEED, SheetKind, StockList, stock};
use chinewright::model::{Model, derive};
use chinewright::part::PartId;
use chinewright::stock::nest::{Effort, Placed};
use chinewright::units::Units;
use chinewright::words::stock::part_name;

use crate::sheet_edges::{Told, steps};

/// A starter, and what it is cut from.
pub(crate) struct Boat {
    pub(crate) name: &'static str,
    pub(crate) model: Model,
    pub(crate) list: StockList,
}

/// Every starter, counted once for all tests.
pub(crate) static BOATS: LazyLock<Vec<Boat>> = LazyLock::new(|| {
    let counted = |starter: &Starter| {
        let model = derive(&starter.hull(), &Materials::shipped()).expect("a model");
        let list = stock(&model, Effort::NONE, SEED, &mut |_, _| true);
        Boat { name: starter.name, model, list }
    };
    STARTERS.iter().map(counted).collect()
});

/// Area, way round, and how far the corners lie off the middle on the mean: alike for a part and
/// its mirror image, however it is turned.
fn shape(outline: &[P2]) -> [f64; 3] {
    let mut ring = outline.to_vec();
    ring.push(outline[0]);
    let middle = centroid(outline);
    let off: f64 = ring.windows(2).map(|w| (w[1] - w[0]).norm() * (w[0] - middle).norm()).sum();
    [area(outline).abs(), length2(&ring), off / length2(&ring)]
}

/// Each sheet with its kind and its parts as they lie.
pub(crate) fn sheets(list: &StockList) -> impl Iterator<Item = (usize, usize, &SheetKind)> {
    let kinds = list.sheets.iter().enumerate();
    kinds.flat_map(|(i, k)| (0..k.layout.sheets.len()).map(move |n| (i, n, k)))
}

/// Of every starter, two parts of one name are the same part twice or mirror images; gussets that
/// differ between the faces of a frame say which face they lie on.
#[test]
fn parts_of_one_name_are_alike() {
    let mut faces = 0;
    for Boat { name: starter, list, .. } in BOATS.iter() {
        let mut named: BTreeMap<String, Vec<[f64; 3]>> = BTreeMap::new();
        for (_, n, kind) in sheets(list) {
            for (p, l) in kind.layout.sheets[n].placed.iter().zip(list.lying(kind, n)) {
                let name = part_name(list, kind, p.part, &l);
                faces += usize::from(name.ends_with(" face"));
                named.entry(format!("{} {name}", kind.sheet)).or_default().push(shape(&p.outline));
            }
        }
        for (name, shapes) in named {
            for s in &shapes {
                let off = (0..3).map(|i| (s[i] / shapes[0][i] - 1.0).abs()).fold(0.0, f64::max);
                assert!(off < 1e-6, "{}: {name}: {shapes:?}", starter);
            }
        }
    }
    assert!(faces > 0, "no gusset says its face");
}

/// Texts of a drawing in their order, with where they begin.
pub(crate) fn texts(d: &Drawing) -> Vec<(&str, P2)> {
    let text = |s: &'_ Shape| s.text_box().map(|b| b.low);
    let of = d.items.iter().filter_map(|i| match &i.shape {
        Shape::Text { text: t, .. } => Some((t.as_str(), text(&i.shape)?)),
        Shape::Polyline { .. } => None,
    });
    of.collect()
}

/// A letter in the table is that corner of the part's own pattern, wherever the part lies; any
/// other point has the part's number before its own.
#[test]
fn letters_are_those_of_the_pattern() {
    let (mut letters, mut numbers) = (0, 0);
    for Boat { name: starter, model, list } in BOATS.iter() {
        let boat = Counted::with(model, list);
        for (i, n, kind) in sheets(list) {
            let d = sheet_layout(boat, i, n, Units::Mm).expect("a layout");
            let laid = &kind.layout.sheets[n];
            let lying = list.lying(kind, n);
            // What is sawn is outside the finished corner by what is left to trim.
            let reach = 4.0 * model.hull.planking.trim_allowance_mm;
            let all = texts(&d);
            let lines = all.iter().filter_map(|(t, _)| Some((t, steps(t)?)));
            let labelled = lines.flat_map(|(t, steps)| {
                steps.into_iter().filter_map(move |s| match s {
                    (Some(label), Told::Corner(at)) => Some((*t, label, at)),
                    _ => None,
                })
            });
            for (text, label, at) in labelled {
                if let Some((number, _)) = label.split_once('.') {
                    let own = lying.iter().position(|l| l.number.to_string() == number);
                    let outline = &laid.placed[own.expect("a part of that number")].outline;
                    assert!(from_ring(at, outline) < 0.75, "{text}");
                    numbers += 1;
                    continue;
                }
                let corner = |(p, l): (&Placed, &chinewright::model::stock::Lying)| {
                    let Laid::Piece(panel, _) = l.of else {
                        return false;
                    };
                    let all = corners(&model.panels[panel.0]);
                    let own = all.into_iter().find(|(c, _)| c.to_string() == label);
                    own.is_some_and(|(_, c)| {
                        (p.attitude.of(c) + p.shift - at).norm() < 0.75 + reach
                    })
                };
                assert!(laid.placed.iter().zip(&lying).any(corner), "{}: {text}", starter);
                letters += 1;
            }
        }
    }
    assert!(letters > 8 && numbers > 8, "{letters} letters and {numbers} numbers");
}

/// Every sheet of every starter is one page of A4, or one behind that of its notes.
#[test]
fn a_sheet_is_one_page_whatever_lies_on_it() {
    for Boat { name: starter, model, list } in BOATS.iter() {
        let boat = Counted::with(model, list);
        for (i, n, kind) in sheets(list) {
            let d = sheet_layout(boat, i, n, Units::Mm).expect("a layout");
            let pages = page_plan(&d, Paper::A4.pages()).len();
            assert_eq!(pages, 1, "{starter}, {n} of {}", kind.sheet);
        }
    }
}

/// Every part's number stands on it alone, or a line leads to it from where it stands on none.
#[test]
fn a_part_is_named_on_itself_or_by_a_line() {
    for Boat { name: starter, model, list } in BOATS.iter() {
        let boat = Counted::with(model, list);
        for (i, n, kind) in sheets(list) {
            let d = sheet_layout(boat, i, n, Units::Mm).expect("a layout");
            let k = 1.0 / d.reduced;
            let rings: Vec<Vec<P2>> = kind.layout.sheets[n]
                .placed
                .iter()
                .map(|p| p.outline.iter().map(|q| q * k).collect())
                .collect();
            for (ring, l) in rings.iter().zip(list.lying(kind, n)) {
                let begins = |t: &str| t.split("  ").next() == Some(l.number.to_string().as_str());
                let words = d.items.iter().filter_map(|item| match &item.shape {
                    Shape::Text { text, .. } if begins(text) => item.shape.text_box(),
                    _ => None,
                });
                let on_it = |b: &chinewright::drawing::face::TextBox| {
                    // A number has no tails below its line.
                    let tail = 0.6;
                    b.corners().iter().all(|c| inside(ring, *c) || from_ring(*c, ring) < tail)
                };
                let on_none = |b: &chinewright::drawing::face::TextBox| {
                    b.low.y > -0.5
                        && rings.iter().all(|r| b.corners().iter().all(|c| !inside(r, *c)))
                };
                let led = d.items.iter().any(|item| match &item.shape {
                    Shape::Polyline { points, closed: false } => {
                        d.layer(item.layer).name == "DIMENSION" && inside(ring, points[0])
                    }
                    _ => false,
                });
                let words: Vec<_> = words.collect();
                let named = words.iter().any(on_it) || led && words.iter().any(on_none);
                assert!(named, "{starter}, sheet {n} of {}: {l:?} {ring:?} {words:?}", kind.sheet);
            }
        }
    }
}

/// A motor's pad has a drawing of its own wherever there is a pad: one ring to cut, as it is.
#[test]
fn a_pad_has_its_own_drawing() {
    let mut pads = 0;
    for Boat { name: starter, model, list } in BOATS.iter() {
        let boat = Counted::with(model, list);
        let subject = Subject::Part(PartId::Pad);
        let part = model.parts.get(PartId::Pad);
        assert_eq!(catalogue(boat).contains(&subject), part.is_some(), "{}", starter);
        let Some(chinewright::part::Shape::Flat(outline)) = part.map(|p| &p.shape) else {
            continue;
        };
        let d = subject.drawn(boat, Units::Mm).expect("a drawing");
        let cut = d.items.iter().filter(|i| d.layer(i.layer).purpose == Purpose::Cut);
        let rings: Vec<&Vec<P2>> = cut
            .filter_map(|i| match &i.shape {
                Shape::Polyline { points, closed: true } => Some(points),
                _ => None,
            })
            .collect();
        assert_eq!(rings, [outline], "{}", starter);
        let laminated = list.laminated.iter().any(|l| l.part == PartId::Pad);
        assert_eq!(d.notes.iter().any(|n| n.contains("laminated of")), laminated);
        pads += 1;
    }
    assert!(pads > 0);
}
