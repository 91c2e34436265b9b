//! How wide the shipped face sets a text: by the font's own advance widths, so that words are
//! broken and kept apart by what will be printed and not by a guess.

use std::borrow::Cow;
use std::sync::OnceLock;

use crate::geom::{P2, V2};

/// The face that drawings are set in.
pub const REGULAR: &[u8] =
    include_bytes!("../../assets/fonts/AtkinsonHyperlegibleNext-Regular.ttf");
/// Its heavier sister, for titles.
pub const BOLD: &[u8] = include_bytes!("../../assets/fonts/AtkinsonHyperlegibleNext-SemiBold.ttf");
/// Height of capitals over font size of the shipped face (its OS/2 table: 668 of 1000).
pub const CAPITALS: f64 = 0.668;
/// How far below its baseline a text reaches, over its height of capitals: the tail of a `g`
/// (the face's own box puts it at 0.21 of the font size).
pub const BELOW: f64 = 0.32;
/// Width of a sign that the face lacks, over the font size: a wide capital's.
const UNKNOWN: f64 = 0.75;

/// Advance widths over the font size of the characters that text for people uses.
struct Advances {
    /// By code point up to [`Advances::MOST`]; nothing for what the face lacks.
    of: Vec<Option<f64>>,
}

impl Advances {
    /// Latin, punctuation and arrows; what lies above is measured as unknown.
    const MOST: u32 = 0x2300;

    fn read(bytes: &[u8]) -> Advances {
        let Ok(face) = ttf_parser::Face::parse(bytes, 0) else {
            return Advances { of: Vec::new() };
        };
        let per_em = f64::from(face.units_per_em()).max(1.0);
        let advance = |code: u32| {
            let glyph = face.glyph_index(char::from_u32(code)?)?;
            Some(f64::from(face.glyph_hor_advance(glyph)?) / per_em)
        };
        Advances { of: (0..Advances::MOST).map(advance).collect() }
    }

    fn width(&self, text: &str) -> f64 {
        text.chars().map(|c| self.of.get(c as usize).copied().flatten().unwrap_or(UNKNOWN)).sum()
    }

    fn has(&self, c: char) -> bool {
        self.of.get(c as usize).is_some_and(Option::is_some)
    }
}

/// Width (mm) of a text whose capitals are `height` mm high. Pairs drawn closer together by
/// the setter make it a little narrower, never wider.
pub fn width(text: &str, height: f64, bold: bool) -> f64 {
    face(bold).width(text) * height / CAPITALS
}

/// The text with a question mark for each sign that the face lacks.
pub fn drawable(text: &str, bold: bool) -> Cow<'_, str> {
    let face = face(bold);
    match text.chars().all(|c| face.has(c)) {
        true => text.into(),
        false => text.chars().map(|c| if face.has(c) { c } else { '?' }).collect(),
    }
}

fn face(bold: bool) -> &'static Advances {
    static FACES: OnceLock<[Advances; 2]> = OnceLock::new();
    let [regular, heavy] = FACES.get_or_init(|| [Advances::read(REGULAR), Advances::read(BOLD)]);
    if bold { heavy } else { regular }
}

/// A text broken at its spaces into lines no wider than `room` mm; a single word that is wider
/// stands on a line of its own.
pub fn broken(text: &str, height: f64, bold: bool, room: f64) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for word in text.split_whitespace() {
        if let Some(line) = lines.last_mut() {
            let longer = format!("{line} {word}");
            if width(&longer, height, bold) <= room {
                *line = longer;
                continue;
            }
        }
        lines.push(word.into());
    }
    lines
}

/// The box that a text takes on the sheet, turned with it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TextBox {
    /// Lower left corner, below the baseline.
    pub low: P2,
    /// Along the text, as long as it is.
    pub along: V2,
    /// Up the text, as high as it is.
    pub up: V2,
}

impl TextBox {
    /// The box of a text `height` mm high in capitals whose baseline's left end is `left`.
    pub fn of(left: P2, height: f64, angle: f64, length: f64) -> TextBox {
        let (sin, cos) = angle.sin_cos();
        let (along, up) = (V2::new(cos, sin), V2::new(-sin, cos));
        TextBox {
            low: left - BELOW * height * up,
            along: length * along,
            // Ascenders stand a little over the capitals.
            up: (1.1 + BELOW) * height * up,
        }
    }

    /// Its four corners.
    pub fn corners(&self) -> [P2; 4] {
        let TextBox { low, along, up } = *self;
        [low, low + along, low + along + up, low + up]
    }

    /// The same box elsewhere.
    pub fn moved(&self, by: V2) -> TextBox {
        TextBox { low: self.low + by, ..*self }
    }

    /// Whether two boxes overlap by more than `slack` mm: the axis of separation is along a
    /// side of one of them.
    pub fn meets(&self, other: &TextBox, slack: f64) -> bool {
        let axes = [self.along, self.up, other.along, other.up];
        axes.iter().filter_map(|a| a.try_normalize(1e-12)).all(|axis| {
            let span = |b: &TextBox| {
                let at = b.corners().map(|p| p.coords.dot(&axis));
                at.iter()
                    .fold((f64::INFINITY, f64::NEG_INFINITY), |(l, h), x| (l.min(*x), h.max(*x)))
            };
            let ((a, b), (c, d)) = (span(self), span(other));
            b.min(d) - a.max(c) > slack
        })
    }

    /// How much of a straight piece lies in it, mm.
    pub fn length_within(&self, [p, q]: &[P2; 2]) -> f64 {
        let (mut from, mut to) = (0.0_f64, 1.0_f64);
        for side in [self.along, self.up] {
            let Some(e) = side.try_normalize(1e-12) else {
                return 0.0;
            };
            let (a, b) = ((p - self.low).dot(&e), (q - self.low).dot(&e));
            let (room, step) = (side.norm(), b - a);
            if step.abs() < 1e-12 {
                if a <= 0.0 || a >= room {
                    return 0.0;
                }
                continue;
            }
            let (s, t) = (-a / step, (room - a) / step);
            from = from.max(s.min(t));
            to = to.min(s.max(t));
        }
        (to - from).max(0.0) * (q - p).norm()
    }

    /// Whether it lies in the upright box from `low` to `high`.
    pub fn within(&self, low: P2, high: P2) -> bool {
        self.corners()
            .iter()
            .all(|p| p.x >= low.x && p.y >= low.y && p.x <= high.x && p.y <= high.y)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Advance widths read from the font's hmtx table by a few lines of Python (units of
    /// 1000): H 694, i 252 in the regular face.
    #[test]
    fn widths_are_the_fonts_own() {
        let face = ttf_parser::Face::parse(REGULAR, 0).expect("the shipped font");
        assert_eq!(face.units_per_em(), 1000);
        let one = |c: char| width(&c.to_string(), CAPITALS, false);
        assert!((one('H') - 0.694).abs() < 1e-9, "{}", one('H'));
        assert!((one('i') - 0.252).abs() < 1e-9, "{}", one('i'));
        assert!((width("Hi", 2.0, false) - 2.0 * (0.694 + 0.252) / CAPITALS).abs() < 1e-9);
        assert!(width("Hi", 2.0, true) > width("Hi", 2.0, false));
    }

    #[test]
    fn what_the_face_lacks_is_told_by_a_question_mark() {
        assert_eq!(drawable("Méduse 5/8\" × 12°", false), "Méduse 5/8\" × 12°");
        assert_eq!(drawable("舟 of 40 µm", true), "? of 40 ?m");
    }

    #[test]
    fn lines_are_broken_where_they_must_be_and_lose_no_word() {
        let text = "bevels are degrees and the run in mm that is planed off the far face";
        let lines = broken(text, 2.5, false, 60.0);
        assert!(lines.len() > 1);
        assert!(lines.iter().all(|l| width(l, 2.5, false) <= 60.0));
        assert_eq!(lines.join(" "), text);
        for pair in lines.windows(2) {
            let first = pair[1].split(' ').next().expect("a word");
            assert!(width(&format!("{} {first}", pair[0]), 2.5, false) > 60.0, "broken too soon");
        }
    }

    #[test]
    fn a_line_is_measured_where_it_runs_through_a_box() {
        let b = TextBox { low: P2::origin(), along: V2::new(3.0, 4.0), up: V2::new(-4.0, 3.0) };
        // Across from side to side, through one corner's half, along outside, and ending inside.
        let across =
            [P2::origin() + 0.5 * b.along - 3.0 * b.up, P2::origin() + 0.5 * b.along + 4.0 * b.up];
        assert!((b.length_within(&across) - 5.0).abs() < 1e-12);
        let corner = [P2::origin() + 0.5 * b.along, P2::origin() + 0.5 * b.up];
        assert!((b.length_within(&corner) - 12.5_f64.sqrt()).abs() < 1e-12);
        let outside = [P2::origin() - 0.1 * b.up, P2::origin() - 0.1 * b.up + b.along];
        assert_eq!(b.length_within(&outside), 0.0);
        let inside =
            [P2::origin() + 0.5 * b.along + 0.5 * b.up, P2::origin() + 9.0 * b.along + 0.5 * b.up];
        assert!((b.length_within(&inside) - 2.5).abs() < 1e-12);
    }

    #[test]
    fn boxes_that_touch_at_a_slant_are_told_from_those_that_do_not() {
        let level = TextBox::of(P2::origin(), 5.0, 0.0, 40.0);
        let slanting = |x: f64, y: f64| TextBox::of(P2::new(x, y), 5.0, 0.6, 40.0);
        assert!(level.meets(&slanting(20.0, -5.0), 0.0));
        assert!(!level.meets(&slanting(44.0, -5.0), 0.0));
        // Their upright boxes overlap, they do not.
        assert!(!level.meets(&slanting(-8.0, 8.5), 0.0));
    }
}
