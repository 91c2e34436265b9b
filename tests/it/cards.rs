//! Layout cards: marks on closed forms, on random hulls, and on the page.

use chinewright::drawing::compose::card::{Card, CardPart, cards, csv, page};
use chinewright::drawing::compose::{Paper, panel};
use chinewright::drawing::export::room_below;
use chinewright::drawing::export::tiling::page_plan;
use chinewright::drawing::{Drawing, Shape};
use chinewright::flat::batten::Batten;
use chinewright::flat::ordinates::{ALLOWED_MM, Mirror, Plotted, Seat};
use chinewright::geom::segment::from_polyline;
use chinewright::geom::{P2, V2};
use chinewright::hull::starters::STARTERS;
use chinewright::material::Materials;
use chinewright::model::{Model, derive};
use chinewright::units::{Units, parse_length};
use proptest::prelude::*;

use crate::properties::{config, hull_of, wish};

/// Hulls whose cards are made: each takes as long as ten passes.
const HULLS: u32 = 64;
/// One unit in which a tape shows millimetres, and one of sixteenths.
const TAPES: [Units; 2] = [Units::Mm, Units::FeetInchesEighths];

/// Marks of one edge, both corners included, as they are printed.
fn printed(p: &Plotted, edge: usize) -> Vec<P2> {
    let e = &p.edges[edge];
    let mut out = vec![p.corners[e.from].printed];
    out.extend(e.marks.iter().map(|m| m.printed));
    out.push(p.corners[e.to].printed);
    out
}

/// A panel between two circles about one centre, 3 m and 3.5 m in radius, turned by 0.2:
/// the batten through the printed marks stays within what it says of the exact circles.
#[test]
fn arcs_of_circles_are_plotted_within_a_millimetre() {
    let (near, far, half) = (3000.0, 3500.0, 0.4);
    let at = |r: f64, k: i32| {
        let a = 0.2 + half * f64::from(k) / 200.0 - std::f64::consts::FRAC_PI_2;
        P2::new(r * a.cos(), r * a.sin())
    };
    let mut ring: Vec<P2> = (-200..=200).map(|k| at(far, k)).collect();
    ring.extend((-200..=200).rev().map(|k| at(near, k)));
    for units in TAPES {
        let seat = Seat::Beside { along: V2::x() };
        let p = Plotted::lay(&ring, &[], seat, units).expect("a panel");
        assert_eq!(p.corners.len(), 4);
        assert!(p.error() <= ALLOWED_MM, "{} {}", units.word(), p.error());
        let centre = p.place(P2::origin());
        let mut curved = 0;
        for i in 0..p.edges.len() {
            if p.edges[i].marks.is_empty() {
                // The ends are rulings.
                assert!(p.edges[i].error < ALLOWED_MM);
                continue;
            }
            curved += 1;
            assert!(p.edges[i].marks.len() <= 16, "{}", p.edges[i].marks.len());
            let batten = Batten::through(&printed(&p, i)).expect("a batten");
            let radius = if (p.edges[i].points[50] - centre).norm() < 3200.0 { near } else { far };
            for q in batten.points() {
                let off = ((q - centre).norm() - radius).abs();
                assert!(off <= p.edges[i].error + 0.02 && off <= ALLOWED_MM, "{off}");
            }
        }
        assert_eq!(curved, 2);
    }
}

/// A sheet with straight edges needs its corners and nothing else, whichever way it lies.
#[test]
fn straight_edges_need_two_ends() {
    for turn in [0.0, 0.1, -0.4] {
        let r = nalgebra::Rotation2::new(turn);
        let ring: Vec<P2> = [(0.0, 0.0), (2400.0, 130.0), (2310.0, 700.0), (60.0, 520.0)]
            .iter()
            .map(|(x, y)| r * P2::new(*x, *y))
            .collect();
        for units in TAPES {
            let seat = Seat::Beside { along: V2::x() };
            let p = Plotted::lay(&ring, &[], seat, units).expect("a sheet");
            assert!(p.edges.iter().all(|e| e.marks.is_empty() && e.error <= ALLOWED_MM));
            let low = p.outline.iter().map(|q| q.y).fold(f64::INFINITY, f64::min);
            assert!((10.0..12.0).contains(&low), "clear of its base line by {low}");
            // Places of the pattern and of the base line are the same places.
            for (a, b) in ring.iter().zip(&p.outline) {
                assert!((p.place(*a) - b).norm() < 1e-6);
            }
        }
    }
}

/// An edge that is itself a sprung batten (the free elastica over three nails, rising by a
/// fifth of its half span) is met by few marks.
#[test]
fn a_sprung_edge_is_sprung_again() {
    let nails = [P2::new(0.0, 0.0), P2::new(900.0, -180.0), P2::new(1800.0, 0.0)];
    let edge = Batten::through(&nails).expect("a batten");
    let mut ring = edge.points().to_vec();
    ring.extend([P2::new(1800.0, 400.0), P2::new(0.0, 400.0)]);
    let p = Plotted::lay(&ring, &[], Seat::Beside { along: V2::x() }, Units::Mm).expect("a part");
    let curved: Vec<_> = p.edges.iter().filter(|e| !e.marks.is_empty()).collect();
    assert_eq!(curved.len(), 1);
    assert!(curved[0].marks.len() <= 4, "{} marks", curved[0].marks.len());
    assert!(p.error() <= ALLOWED_MM);
}

/// The parts of a card's CSV: figures read back from text, and the sides that they hold for.
fn from_csv(card: &Card, units: Units) -> Vec<(String, Vec<(String, String, P2)>)> {
    let text = csv::csv(card, units);
    let mut reader = csv_reader(&text);
    let mut out: Vec<(String, Vec<(String, String, P2)>)> = Vec::new();
    for row in reader.records() {
        let row = row.expect("a row");
        if out.last().is_none_or(|l| l.0 != row[0]) {
            out.push((row[0].into(), Vec::new()));
        }
        if matches!(&row[1], "edge" | "across") {
            let figure = |i: usize| parse_length(&row[i], units).expect("a length");
            let point = P2::new(figure(4), figure(5));
            out.last_mut().expect("a part").1.push((row[1].into(), row[2].into(), point));
        }
    }
    out
}

fn csv_reader(text: &str) -> ::csv::Reader<&[u8]> {
    ::csv::ReaderBuilder::new().has_headers(true).from_reader(text.as_bytes())
}

/// Every figure of the table is the printed one, and the page says the same.
fn table_and_page_agree(card: &Card, page: &Drawing, units: Units) -> Result<(), TestCaseError> {
    let words: Vec<&str> = page
        .items
        .iter()
        .filter_map(|i| match &i.shape {
            Shape::Text { text, .. } => Some(text.as_str()),
            Shape::Polyline { .. } => None,
        })
        .collect();
    let tables = from_csv(card, units);
    prop_assert_eq!(tables.len(), card.parts.len());
    for (part, (name, rows)) in card.parts.iter().zip(&tables) {
        prop_assert_eq!(&part.name, name);
        let p = &part.plotted;
        let mut rows = rows.iter();
        for i in (0..p.edges.len()).filter(|i| p.edges[*i].round.is_none()) {
            for at in printed(p, i) {
                let (_, _, read) = rows.next().expect("a row");
                prop_assert!((read - at).norm() < 1e-6, "{name}: {read} and {at}");
                for figure in [units.figure(at.x), units.figure(at.y)] {
                    prop_assert!(words.contains(&figure.as_str()), "{name}: {figure}");
                }
            }
        }
        prop_assert!(rows.next().is_none());
    }
    Ok(())
}

/// Nothing hangs off the page, no words lie over others, and the page is one.
fn page_is_sound(card: &Card, d: &Drawing, paper: Paper) -> Result<(), TestCaseError> {
    let (low, high) = d.bounds().expect("something on it");
    let (w, h) = room_below(d, paper.sheet());
    prop_assert!(high.x - low.x <= w + 1e-6, "{}: {} wide", card.file, high.x - low.x);
    prop_assert!(high.y - low.y <= h + 1e-6, "{}: {} high", card.file, high.y - low.y);
    prop_assert_eq!(page_plan(d, paper.pages()).len(), 1);
    let boxes: Vec<_> =
        d.items.iter().filter_map(|i| Some((i.shape.text_box()?, &i.shape))).collect();
    for (i, (one, shape)) in boxes.iter().enumerate() {
        for (other, under) in &boxes[..i] {
            prop_assert!(!one.meets(other, 0.0), "{}: {shape:?} over {under:?}", card.file);
        }
    }
    Ok(())
}

/// The batten through the printed marks, sprung again here, against the whole true outline.
fn battens_stay(part: &CardPart) -> Result<f64, TestCaseError> {
    let p = &part.plotted;
    let other = |q: &P2| match p.mirror {
        Mirror::Base => P2::new(q.x, -q.y),
        _ => P2::new(-q.x, q.y),
    };
    let mut truth: Vec<Vec<P2>> = vec![p.outline.clone()];
    if p.mirror != Mirror::None {
        truth.push(p.outline.iter().map(other).collect());
    }
    truth.iter_mut().for_each(|ring| ring.push(ring[0]));
    let mut worst = 0.0f64;
    for (i, e) in p.edges.iter().enumerate().filter(|(_, e)| e.round.is_none()) {
        let mut nails = printed(p, i);
        if e.across {
            let (first, last) = (nails[0], nails[nails.len() - 1]);
            if (other(&last) - last).norm() < 1e-9 {
                nails.extend(nails.clone().iter().rev().skip(1).map(other));
            } else {
                prop_assert!((other(&first) - first).norm() < 1e-9, "meets the middle");
                let mut all: Vec<P2> = nails.iter().skip(1).rev().map(other).collect();
                all.extend(nails);
                nails = all;
            }
        }
        if nails.len() == 2 && (nails[1] - nails[0]).norm() < 1e-9 {
            // Two corners with the same figures: one mark.
            continue;
        }
        let batten = Batten::through(&nails);
        prop_assert!(batten.is_some(), "{}: no batten goes through {nails:?}", part.name);
        let batten = batten.expect("just seen");
        let off = |q: &P2| truth.iter().map(|r| from_polyline(*q, r)).fold(f64::INFINITY, f64::min);
        let off = batten.points().iter().map(off).fold(0.0, f64::max);
        prop_assert!(off <= e.error + 0.02, "{}: {off}, said {}", part.name, e.error);
        worst = worst.max(off);
    }
    Ok(worst)
}

fn model_of(hull: &chinewright::hull::Hull) -> Result<Model, TestCaseError> {
    derive(hull, &Materials::shipped()).map_err(|_| TestCaseError::reject("no hull"))
}

/// The starters: within a millimetre everywhere, in either unit; one page each, sound; the
/// table is what is printed.
#[test]
fn cards_of_the_starters_are_within_a_millimetre_and_on_one_page() {
    for starter in STARTERS {
        let model = derive(&starter.hull(), &Materials::shipped()).expect(starter.name);
        for units in TAPES {
            let all = cards(&model, units);
            let work = &model.woodwork;
            assert!(all.len() > model.panels.len() + work.frames.len(), "{}", starter.name);
            for card in &all {
                for part in &card.parts {
                    let name = format!("{} {} {}", starter.name, card.file, part.name);
                    let worst = battens_stay(part).expect(&name);
                    // Both figures of a corner rounded to a sixteenth leave 1.12 mm at most.
                    let corner = units.step() * 0.5f64.sqrt();
                    let panel = model.panels.iter().any(|p| p.name == card.file);
                    let most = match (panel, part.name.starts_with("gusset")) {
                        (true, _) => ALLOWED_MM,
                        (false, false) => ALLOWED_MM.max(corner),
                        // An edge over two or three knuckles of a few degrees, in sixteenths.
                        (false, true) => ALLOWED_MM.max(1.25 * corner),
                    };
                    assert!(worst <= most, "{name} {}: {worst}", units.word());
                    let told = page::drawing(card, Paper::A4, units).items.iter().any(
                        |i| matches!(&i.shape, Shape::Text { text, .. } if text.contains("strays")),
                    );
                    assert!(worst <= ALLOWED_MM || told, "{name}: {worst} untold");
                    let marks: usize = part.plotted.edges.iter().map(|e| e.marks.len()).sum();
                    assert!(marks <= 60, "{name}: {marks} marks");
                }
                for paper in [Paper::A4, Paper::Letter] {
                    let d = page::drawing(card, paper, units);
                    page_is_sound(card, &d, paper).expect(starter.name);
                    table_and_page_agree(card, &d, units).expect(starter.name);
                }
            }
        }
    }
}

/// Diagonals run between the corners whose letters they name, on card and pattern alike.
/// Which side a bevel comes off is drawn beside the words, on every card that has one.
#[test]
fn a_card_shows_each_bevel_as_a_section() {
    for s in STARTERS {
        let model = model_of(&s.hull()).expect("a starter");
        for (units, paper) in [(Units::Mm, Paper::A4), (Units::FeetInchesEighths, Paper::Letter)] {
            for card in cards(&model, units) {
                let d = page::drawing(&card, paper, units);
                let edges: usize = card.parts.iter().map(|p| p.bevels.len()).sum();
                let drawn = d.items.iter().filter(
                    |i| matches!(&i.shape, Shape::Text { text, .. } if text == "this face"),
                );
                let drawn = drawn.count();
                assert!(drawn >= edges, "{} {}: {drawn} of {edges}", s.name, card.file);
            }
        }
    }
}

#[test]
fn diagonals_name_their_corners() {
    for starter in STARTERS {
        let model = derive(&starter.hull(), &Materials::shipped()).expect(starter.name);
        for p in &model.panels {
            let outline = p.finished_outline();
            let lettered = panel::corners(p);
            let d = panel::panel_pattern(&model, p, &[], Units::Mm);
            for (letter, at) in &lettered {
                assert!(outline.iter().any(|q| (q - at).norm() < 1e-9), "{letter} is no corner");
                let drawn = d.items.iter().any(|i| match &i.shape {
                    Shape::Text { at: place, text, .. } => {
                        *text == letter.to_string() && (place - at).norm() < 60.0
                    }
                    Shape::Polyline { .. } => false,
                });
                assert!(drawn, "{} {}: no {letter} at its corner", starter.name, p.name);
            }
            let card = chinewright::drawing::compose::card::panel_card(&model, p, &[], Units::Mm)
                .expect("a card");
            let diagonals = panel::diagonals(p);
            assert_eq!(diagonals.len(), 2, "{} {}", starter.name, p.name);
            for g in diagonals {
                let find = |l: char| lettered.iter().find(|x| x.0 == l).expect("its letter").1;
                assert!(g.from != g.to && (find(g.from) - g.a).norm() < 1e-9);
                assert!((find(g.to) - g.b).norm() < 1e-9);
                let name = format!("{} to {}", g.from, g.to);
                let on_card = card.parts[0].checks.iter().find(|c| c.name == name);
                assert!((on_card.expect("on the card").length - (g.b - g.a).norm()).abs() < 1e-9);
            }
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: HULLS, ..config() })]

    /// On any plausible hull: panels are plotted within a millimetre, everything else is
    /// too or the card says what it reached; marks are few; every card is one sound page.
    #[test]
    fn any_hull_can_be_plotted(w in wish(), imperial in any::<bool>()) {
        let model = model_of(&hull_of(&w))?;
        let units = TAPES[usize::from(imperial)];
        let paper = if imperial { Paper::Letter } else { Paper::A4 };
        for card in cards(&model, units) {
            let d = page::drawing(&card, paper, units);
            page_is_sound(&card, &d, paper)?;
            for part in &card.parts {
                let worst = battens_stay(part)?;
                let told = worst <= ALLOWED_MM + 0.05
                    || d.items.iter().any(|i| matches!(&i.shape,
                        Shape::Text { text, .. } if text.contains("strays")));
                prop_assert!(told, "{} {}: {worst} untold", card.file, part.name);
                // A corner whose two figures are rounded to sixteenths is out by 1.12 mm at most.
                let corner = units.step() * 0.5f64.sqrt();
                if model.panels.iter().any(|p| p.name == card.file) {
                    prop_assert!(worst <= ALLOWED_MM.max(corner) + 0.05, "{}: {worst}", card.file);
                }
                for e in &part.plotted.edges {
                    prop_assert!(e.marks.len() <= 24, "{}: {} marks", part.name, e.marks.len());
                }
            }
        }
    }
}

/// The flat for the outer stem is on the card as it is on the page, and no half angle is plotted
/// off the wood.
#[test]
fn a_stem_s_card_has_its_flat_and_no_mark_off_the_wood() {
    let mut stems = 0;
    for s in STARTERS {
        let model = model_of(&s.hull()).expect("a starter");
        let Some(stem) = &model.woodwork.stem else { continue };
        let all = cards(&model, Units::Mm);
        let card = all.iter().find(|c| c.file == "stem").expect("a card");
        let told = card.notes.join(" ");
        if let Some(o) = &stem.outer {
            let wide = Units::Mm.fine(model.hull.stem.outer_sided_mm);
            assert!(told.contains(&format!("a flat {wide} wide")), "{}: {told}", s.name);
            assert!(!told.contains("sharp front") && !o.sections.is_empty(), "{told}");
            stems += 1;
        }
        let marks: usize = card.parts.iter().flat_map(|p| &p.lists).map(|l| l.rows.len()).sum();
        let on = |p: P2| {
            chinewright::geom::ring::inside(&stem.outline, p)
                || chinewright::geom::ring::from_ring(p, &stem.outline) < 1.0
        };
        assert_eq!(marks, stem.bevels.iter().filter(|b| on(b.at)).count(), "{}", s.name);
        assert!(marks >= 3 && marks + 1 >= stem.bevels.len(), "{}: {marks}", s.name);
    }
    assert!(stems > 0);
}
