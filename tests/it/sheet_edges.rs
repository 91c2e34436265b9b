//! From a sheet's page alone every part of it can be marked out in place: the edges that its table
//! gives, laid against the parts' own outlines, their marks in the picture, and the unit of the
//! figures.

use std::collections::BTreeSet;

use chinewright::drawing::compose::sheet_layout;
use chinewright::drawing::{Drawing, Shape};
use chinewright::flat::batten::Batten;
use chinewright::geom::P2;
use chinewright::geom::ring::from_ring;
use chinewright::model::stock::{Counted, Laid};
use chinewright::units::Units;

use crate::sheet_names::{BOATS, Boat, sheets, texts};

/// A step along an edge as the page tells it, mm on the sheet.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Told {
    /// A corner.
    Corner(P2),
    /// A place on a curve.
    Curve(P2),
    /// A round edge: its middle and radius.
    Round(P2, f64),
}

fn pair(text: &str) -> Option<P2> {
    let (x, y) = text.split_once(" · ")?;
    Some(P2::new(x.parse().ok()?, y.parse().ok()?))
}

/// One step with the label before it.
fn step(text: &str) -> Option<(Option<&str>, Told)> {
    if let Some(words) = text.strip_prefix("(radius ") {
        let (radius, middle) = words.strip_suffix(')')?.split_once(" from ")?;
        return Some((None, Told::Round(pair(middle)?, radius.parse().ok()?)));
    }
    if let Some(inner) = text.strip_prefix('(') {
        return Some((None, Told::Curve(pair(inner.strip_suffix(')')?)?)));
    }
    let (label, at) = text.split_once(": ").map_or((None, text), |(l, at)| (Some(l), at));
    Some((label, Told::Corner(pair(at)?)))
}

/// All steps of a line of figures; `None` for any other text.
pub(crate) fn steps(text: &str) -> Option<Vec<(Option<&str>, Told)>> {
    text.split(", ").map(step).collect()
}

/// The edge of the part of this number as the table of its page gives it, in millimetres: the
/// figures in its row and below that, down to the next row of its column.
pub(crate) fn told(d: &Drawing, number: usize) -> Vec<Told> {
    let all = texts(d);
    let rows: Vec<(usize, P2)> = all
        .iter()
        .filter(|(_, at)| at.y < -2.0)
        .filter_map(|(t, at)| Some((t.parse().ok()?, *at)))
        .collect();
    let row = rows.iter().find(|(n, _)| *n == number).expect("a row of its own").1;
    let below = rows.iter().filter(|(_, at)| at.y < row.y - 0.01 && (at.x - row.x).abs() < 0.01);
    let end = below.map(|(_, at)| at.y).fold(f64::NEG_INFINITY, f64::max);
    let beside = rows.iter().filter(|(_, at)| at.x > row.x + 0.01 && at.y <= row.y + 0.01);
    let right = beside.map(|(_, at)| at.x).fold(f64::INFINITY, f64::min);
    let own = |at: &P2| at.y <= row.y + 0.01 && at.y > end + 0.01 && at.x > row.x && at.x < right;
    let lines = all.iter().filter(|(_, at)| own(at)).filter_map(|(t, _)| steps(t));
    lines.flatten().map(|(_, s)| s).collect()
}

/// The edge as a builder marks it: straight from corner to corner, a batten through the places on
/// a curve, rounds with the compass the shorter way.
fn marked(told: &[Told]) -> Vec<P2> {
    let corner = |s: &Told| if let Told::Corner(p) = s { Some(*p) } else { None };
    let firsts: Vec<usize> = (0..told.len()).filter(|i| corner(&told[*i]).is_some()).collect();
    let mut out = Vec::new();
    for (k, i) in firsts.iter().enumerate() {
        let next = firsts[(k + 1) % firsts.len()];
        let to = if k + 1 < firsts.len() { next } else { told.len() };
        let (a, b) = (corner(&told[*i]).expect("one"), corner(&told[next]).expect("one"));
        match &told[i + 1..to] {
            [] => out.push(a),
            [Told::Round(c, r)] => {
                let (u, v) = (a - c, b - c);
                let turn = u.perp(&v).atan2(u.dot(&v));
                out.push(a);
                out.extend((1..16).map(|j| {
                    let t = turn * f64::from(j) / 16.0;
                    let (s, co) = t.sin_cos();
                    let e = u / u.norm();
                    c + *r * chinewright::geom::V2::new(co * e.x - s * e.y, s * e.x + co * e.y)
                }));
            }
            curve => {
                let mut nails = vec![a];
                nails.extend(curve.iter().map(|s| match s {
                    Told::Curve(p) => *p,
                    other => panic!("{other:?} on a curve"),
                }));
                nails.push(b);
                let batten = Batten::through(&nails).map(|b| b.points().to_vec());
                let line = batten.unwrap_or(nails);
                out.extend(&line[..line.len() - 1]);
            }
        }
    }
    out
}

/// From the page alone every part can be marked, or its pattern is named and two of its corners lay
/// that in its place: marked with straight-edge, batten and compass through the rounded figures an
/// edge keeps to that of the part by what a straight one may be out, and rounding.
#[test]
fn the_page_gives_the_whole_edge_of_every_part() {
    let (mut whole, mut sent, mut curved) = (0, 0, 0);
    for Boat { name: starter, model, list } in BOATS.iter() {
        let boat = Counted::with(model, list);
        for (i, n, kind) in sheets(list) {
            let d = sheet_layout(boat, i, n, Units::Mm).expect("a layout");
            let by_pattern: BTreeSet<usize> = d
                .notes
                .iter()
                .filter_map(|n| {
                    n.strip_prefix(
                        "By their full-size patterns, laid on by the corners that are given here: ",
                    )
                })
                .flat_map(|n| n.split_once(" (").expect("patterns").0.split(", "))
                .flat_map(|run| match run.split_once(" to ") {
                    Some((a, b)) => a.parse().expect("a number")..=b.parse().expect("a number"),
                    None => run.parse().expect("a number")..=run.parse().expect("a number"),
                })
                .collect();
            for (p, l) in kind.layout.sheets[n].placed.iter().zip(list.lying(kind, n)) {
                let told = told(&d, l.number);
                if by_pattern.contains(&l.number) {
                    assert!(told.len() > 1 && !matches!(l.of, Laid::Block(..)), "{l:?}");
                    sent += 1;
                    continue;
                }
                let ring = marked(&told);
                // Figures of what has curves are to half a millimetre, others to a whole one.
                let curves = told.iter().any(|s| matches!(s, Told::Curve(_)));
                let within = 0.5 + if curves { 0.36 } else { 0.72 };
                let off = p.outline.iter().map(|q| from_ring(*q, &ring)).fold(0.0, f64::max);
                assert!(off <= within, "{starter} {l:?}: {off} off, {told:?}");
                let back = ring.iter().map(|q| from_ring(*q, &p.outline)).fold(0.0, f64::max);
                assert!(back <= within, "{starter} {l:?}: {back} off, {told:?}");
                whole += 1;
                curved += usize::from(curves);
            }
        }
    }
    assert!(whole > 2 * sent && curved > 20, "{whole} whole, {curved} curved, {sent} by patterns");
}

/// The page says in which unit its figures are, once in the head of each table, and they are in
/// that: of the same sheet in feet they are those in millimetres.
#[test]
fn figures_are_in_the_unit_that_the_head_names() {
    let block = |b: &'static Boat| {
        sheets(&b.list).find_map(|(i, n, kind)| {
            let lying = b.list.lying(kind, n);
            let at = lying.iter().position(|l| matches!(l.of, Laid::Block(..)))?;
            Some((b, i, n, kind.layout.sheets[n].placed[at].outline.clone()))
        })
    };
    let (Boat { model, list, .. }, i, n, outline) =
        BOATS.iter().find_map(block).expect("a sheet with a block");
    let boat = Counted::with(model, list);
    for (units, unit) in [
        (Units::Mm, "mm"),
        (Units::Inch, "inches"),
        (Units::InchFraction, "inches"),
        (Units::FeetInchesEighths, "feet-inches-eighths"),
    ] {
        let d = sheet_layout(boat, i, n, units).expect("a layout");
        let all = texts(&d);
        let heads = all.iter().filter(|(t, _)| t.starts_with("along · across")).count();
        let named = all.iter().filter(|(t, _)| *t == format!("along · across, {unit}")).count();
        assert!(heads > 0 && heads == named, "{unit}: {heads} heads, {named} name it");
        assert!(d.notes[0].starts_with(&format!("Figures in {unit}: ")), "{}", d.notes[0]);
        // Every corner's figures as the units have them, to the half where it has curves.
        let is_told = |p: &P2| {
            let halves = format!("{} · {}", units.half_figure(p.x), units.half_figure(p.y));
            let whole = format!("{} · {}", units.figure(p.x), units.figure(p.y));
            all.iter().any(|(t, _)| t.contains(&halves) || t.contains(&whole))
        };
        assert!(outline.iter().filter(|p| is_told(p)).count() >= 4, "{units:?}");
    }
}

/// Every corner of a part that is not small is marked in the picture, those of its curves too: of a
/// transom's board each label that the table has and that has room stands on it.
#[test]
fn corners_and_places_on_curves_are_marked() {
    for Boat { name: starter, model, list } in BOATS.iter() {
        let boat = Counted::with(model, list);
        for (i, n, kind) in sheets(list) {
            let d = sheet_layout(boat, i, n, Units::Mm).expect("a layout");
            let k = 1.0 / d.reduced;
            let marks: Vec<P2> = d
                .items
                .iter()
                .filter_map(|item| match &item.shape {
                    Shape::Polyline { points, closed: true }
                        if d.layer(item.layer).name == "DIMENSION" && points.len() == 4 =>
                    {
                        Some(P2::from((points[0].coords + points[2].coords) * 0.5))
                    }
                    _ => None,
                })
                .collect();
            for l in list.lying(kind, n) {
                for s in told(&d, l.number) {
                    let (Told::Corner(p) | Told::Curve(p)) = s else { continue };
                    let off = marks.iter().map(|m| (m - p * k).norm()).fold(f64::MAX, f64::min);
                    assert!(off <= 0.75 * k, "{starter}, sheet {n}: {s:?} of {l:?} {off} off");
                }
            }
        }
    }
}
