//! What a sheet's page calls its parts and their corners: names that tell apart what is not the
//! same, the letters of the pattern, edges from which a part can be set out, names on their parts.

use std::collections::BTreeMap;
use std::sync::LazyLock;

use chinewright::drawing::compose::panel::corners;
use chinewright::drawing::compose::{Paper, Subject, catalogue, sheet_layout};
use chinewright::drawing::export::pdf::on_one_page;
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

/// A starter, and what it is cut from.
struct Boat {
    name: &'static str,
    model: Model,
    list: StockList,
}

/// Every starter, counted once for all tests.
static BOATS: LazyLock<Vec<Boat>> = LazyLock::new(|| {
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
fn sheets(list: &StockList) -> impl Iterator<Item = (usize, usize, &SheetKind)> {
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
fn texts(d: &Drawing) -> Vec<(&str, P2)> {
    let text = |s: &'_ Shape| s.text_box().map(|b| b.low);
    let of = d.items.iter().filter_map(|i| match &i.shape {
        Shape::Text { text: t, .. } => Some((t.as_str(), text(&i.shape)?)),
        Shape::Polyline { .. } => None,
    });
    of.collect()
}

fn pair(text: &str) -> Option<P2> {
    let (x, y) = text.trim_matches(['(', ')']).split_once(" · ")?;
    Some(P2::new(x.parse().ok()?, y.parse().ok()?))
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
            for (text, _) in texts(&d) {
                let Some((label, at)) =
                    text.split_once(": ").and_then(|(l, p)| Some((l, pair(p)?)))
                else {
                    continue;
                };
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

/// From the page alone a transom's board with its cut-out, a pad and a block can be marked: straight
/// from point to point the edge keeps within a millimetre of the part's, and rounded figures.
#[test]
fn the_page_gives_the_whole_edge_of_boards_and_blocks() {
    let (mut boards, mut others) = (0, 0);
    for Boat { name: starter, model, list } in BOATS.iter() {
        let boat = Counted::with(model, list);
        for (i, n, kind) in sheets(list) {
            let d = sheet_layout(boat, i, n, Units::Mm).expect("a layout");
            let all = texts(&d);
            for (p, l) in kind.layout.sheets[n].placed.iter().zip(list.lying(kind, n)) {
                let wanted = match l.of {
                    Laid::Block(..) => true,
                    Laid::Part(id) => matches!(id, PartId::TransomBoard(_) | PartId::Pad),
                    Laid::Piece(..) => false,
                };
                if !wanted {
                    continue;
                }
                let from = format!("from {}.1: ", l.number);
                let at = all.iter().position(|(t, _)| t.starts_with(&from)).expect("its edge");
                let (_, first) = all[at].0.split_once(": ").expect("its points");
                let more = all[at + 1..].iter().map(|(t, _)| *t);
                let mut ring: Vec<P2> = Vec::new();
                for line in std::iter::once(first).chain(more) {
                    let points: Option<Vec<P2>> = line.split(", ").map(pair).collect();
                    let Some(points) = points else { break };
                    ring.extend(points);
                }
                // Half a millimetre of rounding either way.
                let off = p.outline.iter().map(|q| from_ring(*q, &ring)).fold(0.0, f64::max);
                assert!(off <= 1.75, "{}: {off} off, {ring:?}", starter);
                let back = ring.iter().map(|q| from_ring(*q, &p.outline)).fold(0.0, f64::max);
                assert!(back <= 0.75, "{}: {back} off", starter);
                match l.of {
                    Laid::Part(PartId::TransomBoard(_)) => boards += 1,
                    _ => others += 1,
                }
            }
        }
    }
    assert!(boards >= STARTERS.len() && others > 4, "{boards} boards, {others} others");
}

/// Every sheet of every starter is one page of A4.
#[test]
fn a_sheet_is_one_page_whatever_lies_on_it() {
    for Boat { name: starter, model, list } in BOATS.iter() {
        let boat = Counted::with(model, list);
        for (i, n, kind) in sheets(list) {
            let d = sheet_layout(boat, i, n, Units::Mm).expect("a layout");
            assert!(on_one_page(&d, Paper::A4.sheet()), "{starter}, {n} of {}", kind.sheet);
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
