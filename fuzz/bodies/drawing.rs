//! A drawing of anything to the bytes of every format: refused by name, or a file that can be
//! read.

use arbitrary::{Result, Unstructured};
use chinewright::drawing::compose::{Paper, layers};
use chinewright::drawing::export::{dxf, pdf, svg};
use chinewright::drawing::{Anchor, Drawing};
use chinewright::geom::P2;

use super::Reached;

const MOST_SHAPES: usize = 60;

/// Draws what the bytes say and writes it.
///
/// # Panics
/// Where a file that was written is no file of its format.
pub fn run(data: &[u8]) -> Reached {
    let mut u = Unstructured::new(data);
    let Ok((drawing, paper)) = drawn(&mut u) else {
        return Reached::Nothing;
    };
    let mut reached = Reached::Through;
    let mut refused = |e: chinewright::drawing::export::ExportError| {
        assert!(e.to_string().contains(&format!("{:?}", drawing.title)), "{e}");
        reached = Reached::Refused;
    };
    match svg::write(&drawing) {
        Ok(text) => svg_is_well_formed(&text),
        Err(e) => refused(e),
    }
    match dxf::write(&drawing) {
        Ok(bytes) => dxf_is_well_formed(&bytes, drawing.items.len()),
        Err(e) => refused(e),
    }
    match pdf::write(&drawing, paper.pages()) {
        Ok(bytes) => pdf_is_well_formed(&bytes),
        Err(e) => refused(e),
    }
    reached
}

fn drawn(u: &mut Unstructured) -> Result<(Drawing, Paper)> {
    let paper = *u.choose(&[Paper::A4, Paper::Letter, Paper::Roll])?;
    let mut d = Drawing::new(text(u)?, text(u)?, layers());
    d.table = u.ratio(1, 8)?;
    d.reduced = *u.choose(&[1.0, 1.0, 1.0, 2.0, 20.0])?;
    d.mark = "mark 0123abcd".into();
    let count = d.layers.len();
    for _ in 0..MOST_SHAPES {
        if u.is_empty() {
            break;
        }
        let layer = usize::from(u.arbitrary::<u8>()?) % count;
        match u.arbitrary::<u8>()? % 8 {
            0 | 1 => {
                let n = u.arbitrary::<u8>()? % 12;
                let points = (0..n).map(|_| point(u)).collect::<Result<Vec<P2>>>()?;
                d.polyline(layer, points, u.arbitrary()?);
            }
            2 | 3 => {
                let anchor = if u.arbitrary()? { Anchor::Left } else { Anchor::Middle };
                let (at, height) = (point(u)?, number(u)?.abs().min(200.0));
                let angle = number(u)? / 100.0;
                d.text(layer, at, height, angle, anchor, text(u)?);
            }
            4 => d.note(text(u)?),
            5 => d.arrow(layer, point(u)?, point(u)?, 6.0),
            6 => d.dimension(layer, (point(u)?, point(u)?), number(u)?, 4.0, text(u)?),
            _ => d.cross(layer, point(u)?, number(u)?),
        }
    }
    if u.arbitrary()? {
        d.settle_words();
    }
    Ok((d, paper))
}

fn point(u: &mut Unstructured) -> Result<P2> {
    Ok(P2::new(number(u)?, number(u)?))
}

/// Mostly what a drawing of a boat has, now and then what no drawing should have.
fn number(u: &mut Unstructured) -> Result<f64> {
    let near: i16 = u.arbitrary()?;
    Ok(match u.arbitrary::<u8>()? {
        0 => f64::NAN,
        1 => f64::INFINITY,
        2 => u.arbitrary()?,
        3 => f64::from(near) * 1e6,
        4 => f64::from(near) * 1e-9,
        5..=9 => 0.0,
        _ => f64::from(near) / 16.0,
    })
}

fn text(u: &mut Unstructured) -> Result<String> {
    let n = u.arbitrary::<u8>()? % 24;
    (0..n)
        .map(|_| {
            Ok(match u.arbitrary::<u8>()? {
                c @ 0..=0x7f => char::from(c),
                0x80..=0x9f => '°',
                0xa0..=0xaf => ' ',
                0xb0..=0xbf => '\u{fffe}',
                _ => u.arbitrary()?,
            })
        })
        .collect()
}

/// A small check: XML by a parser, one root called `svg`, every figure a number.
///
/// # Panics
/// Where it is none.
pub fn svg_is_well_formed(text: &str) {
    let document = roxmltree::Document::parse(text).unwrap_or_else(|e| panic!("{e}: {text}"));
    assert_eq!(document.root_element().tag_name().name(), "svg");
    for node in document.descendants() {
        for a in node.attributes().filter(|a| a.name() != "id") {
            let none = a.value().split(|c: char| !c.is_alphabetic());
            let none = none.filter(|w| ["NaN", "inf"].contains(w)).count();
            assert_eq!(none, 0, "{}={}", a.name(), a.value());
        }
    }
}

/// Pairs of a code and a value up to the end of file, and the DXF library finds `shapes`
/// entities of finite figures in it, with the words below the drawing.
///
/// # Panics
/// Where it is none.
pub fn dxf_is_well_formed(bytes: &[u8], shapes: usize) {
    let text = std::str::from_utf8(bytes).expect("DXF of 2010 is UTF-8");
    let lines: Vec<&str> = text.lines().collect();
    assert_eq!(lines.len() % 2, 0, "a code without its value");
    for pair in lines.chunks(2) {
        let code: i32 = pair[0].trim().parse().unwrap_or_else(|_| panic!("code {:?}", pair[0]));
        // Group codes of floating-point values (DXF reference, group code value types).
        if matches!(code, 10..=59 | 110..=149 | 210..=239 | 460..=469 | 1010..=1059) {
            let value: f64 = pair[1].trim().parse().unwrap_or(f64::NAN);
            assert!(value.is_finite(), "code {code}: {:?}", pair[1]);
        }
    }
    assert_eq!(lines[lines.len() - 2..].iter().map(|l| l.trim()).collect::<Vec<_>>(), ["0", "EOF"]);
    let read = ::dxf::Drawing::load(&mut &*bytes).expect("the library reads its own");
    assert!(read.entities().count() >= shapes, "{} of {shapes}", read.entities().count());
}

/// A head, a trailer, and a last pointer that leads to a table of objects.
///
/// # Panics
/// Where it is none.
pub fn pdf_is_well_formed(bytes: &[u8]) {
    assert!(bytes.starts_with(b"%PDF-1."), "no head");
    let tail = String::from_utf8_lossy(&bytes[bytes.len().saturating_sub(64)..]).into_owned();
    let words: Vec<&str> = tail.split_whitespace().rev().take(3).collect();
    let [end, offset, start] = words[..] else { panic!("no trailer: {tail}") };
    assert_eq!((start, end), ("startxref", "%%EOF"));
    let offset: usize = offset.parse().expect("an offset");
    let there = &bytes[offset..];
    let object = there.starts_with(b"xref")
        || (there[0].is_ascii_digit()
            && there[..24.min(there.len())].windows(4).any(|w| w == b" obj"));
    assert!(object, "the pointer leads nowhere");
}
